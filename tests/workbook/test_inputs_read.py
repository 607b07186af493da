"""What the office types is read by something, or is known to be kept for people only."""

from twodrum.books.month import MONTH
from twodrum.books.whole import JOB
from twodrum.engine.model import Model
from twodrum.engine.reads import reads

# Words for people, and names by which a month or the office groups and finds.
KEPT = {
    *(
        "substrate",
        "crew_name",
        "machine_name",
        "shelf.component",
        "shelf.priced_on",
        "drums.received",
        "crew_days.crew_date",
        "crew_days.remark",
        "areas.sketch",
        # How pages are set: a fill reads it when all is worked out.
        "paper",
        "date_order",
    ),
    *(f"{table}.remark" for table in ("materials", "shelf", "readings", "drums", "film", "pulls")),
    "pulls.pull_place",
    *("folder", "batches.drawn", "batches.last_job", "jobs.problem_count", "unread.unread_size"),
}


def read(model: Model) -> set[str]:
    found = {name for names in reads(model).values() for name in names}
    for table in model.tables:
        for order in table.orders:
            found.update((f"{table.name}.{order.low}", f"{table.name}.{order.high}"))
    return found


def typed(model: Model) -> set[str]:
    found = {item.name for item in model.fields()}
    tables = [table for table in model.tables if not table.keys]
    return found | {f"{table.name}.{item.name}" for table in tables for item in table.fields}


def test_every_input_is_read_or_kept_for_people() -> None:
    unread = (typed(JOB) - read(JOB)) | (typed(MONTH) - read(MONTH))
    assert unread == KEPT
