"""What a person types into a real window: taken or refused, and what is there afterwards."""

import os
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import openpyxl
import pytest

from tests import made
from tests.office import an_office
from tests.window.screen import Screen, Window, missing
from twodrum.cli import main
from twodrum.commands.fill import check_file, fill_file
from twodrum.xlsx.book import Book, CellRead
from twodrum.xlsx.scan import column_letters

LACKS = missing()
pytestmark = [
    pytest.mark.skipif(
        bool(LACKS) and os.environ.get("TWODRUM_NEEDS_LIBREOFFICE") != "1",
        reason=f"no window system here, without {', '.join(LACKS)}",
    ),
]

REFUSED = "Not possible here"
Open = Callable[[Path], Window]


@pytest.fixture
def show() -> Iterator[Open]:
    """Opens books on a screen of its own that ends with the test, whatever happens."""
    screen = Screen()
    windows: list[Window] = []

    def opened(path: Path) -> Window:
        windows.append(Window(screen, path))
        return windows[-1]

    try:
        yield opened
    finally:
        screen.close()


def run(*words: object) -> int:
    return main([str(word) for word in words])


@pytest.fixture(scope="module")
def priced(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A job with an office whose prices, rates and times were typed."""
    return made.demo(tmp_path_factory.mktemp("typed") / "demo") / "job-metric.xlsx"


def named(path: Path, name: str) -> CellRead:
    cell = Book.open(path).named(name)
    assert cell is not None
    return cell


def test_a_first_quote_key_by_key__readme(tmp_path: Path, show: Open) -> None:
    office, job = tmp_path / "office.xlsx", tmp_path / "tank.xlsx"
    an_office(office)
    window = show(office)
    # Prices, rates and the habits of the crew, which no job then asks for again.
    for row in (7, 8):
        assert window.type(f"Materials.{_column(office, 'materials', 'Price')}{row}", "9.5") == ""
    for head, text in (("Non-spraying", "6"), ("Trigger-on", "50"), ("Loss", "25")):
        assert window.type(f"Crews.{_starting(office, 'crews', head)}7", text) == ""
    for head, text in (("Name", "Usual rates"), ("Labour rate", "40"), ("Margin", "30")):
        assert window.type(f"Rates.{_starting(office, 'rates', head)}7", text) == ""
    window.save()
    window.close()
    assert run("new", job, "--office", office) == 0
    window = show(job)
    for place, text in (
        ("job_title", "Basin 7"),
        ("customer", "Example Works"),
        ("site", "Anytown"),
        ("quote_date", "2026-11-28"),
        ("film_thickness", "2.5"),
        ("Areas.A7", "Floor"),
        ("Areas.B7", "rectangle"),
        ("Areas.D7", "12"),
        ("Areas.E7", "5.5"),
    ):
        assert window.type(place, text) == "", place
    window.save()
    shown = named(job, "total_price").value
    window.close()
    checked = check_file(job)
    assert checked.problem_count == 0
    engine = checked.values.names["total_price"].si
    assert isinstance(shown, float) and shown > 0
    assert shown == pytest.approx(float(engine), abs=1e-9)
    assert str(named(job, "beside_said").value).startswith("Never filled")
    assert fill_file(job).state == "OK"
    assert named(job, "beside_said").value == ""


def _column(path: Path, table: str, head: str) -> str:
    from twodrum.xlsx.scan import column_letters

    return column_letters(Book.open(path).tables[table].columns[head])


def _starting(path: Path, table: str, head: str) -> str:
    from twodrum.xlsx.scan import column_letters

    columns = Book.open(path).tables[table].columns
    known = [column for name, column in columns.items() if name.startswith(head)]
    return column_letters(known[0]) if known else "A"


# Typed into a filled job; whether the window refuses it; what the cell then holds.
TYPED = (
    ("film_thickness", "0.049", True, 2.032),
    ("film_thickness", "0.05", False, 0.05),
    ("film_thickness", "50", False, 50.0),
    ("film_thickness", "50.1", True, 50.0),
    ("film_thickness", "80 mil", True, 50.0),
    ("film_thickness", "2.5", False, 2.5),
    ("film_thickness", "1,5", True, 2.5),
    ("loss_share", "20%", True, 28.0),
    ("loss_share", "0.5", True, 28.0),
    ("loss_share", "91", True, 28.0),
    ("loss_share", "0", False, 0.0),
    ("loss_share", "20", False, 20.0),
    ("preparation_time", "16:00", True, 30.0),
    ("preparation_time", "1.25", False, 1.25),
    ("preparation_time", "16", False, 16.0),
    ("crew_size", "2.5", True, 3.0),
    ("crew_size", "0", True, 3.0),
    ("crew_size", "4", False, 4.0),
    ("quote_date", "1999-12-31", True, None),
    ("quote_date", "2026-12-01", False, 46357.0),
    ("quote_date", "12/02/26", False, 46358.0),
    ("quote_date", "tomorrow", True, 46358.0),
    ("film_basis", "thick", True, "nominal"),
    ("film_basis", "minimum", False, "minimum"),
    ("film_thickness_unit", "furlong", True, "mm"),
    ("air_temperature", "-45.1", True, 15.0),
    ("air_temperature", "-45", False, -45.0),
    ("air_temperature", "13:30", False, 0.5625),  # shown as 0.5625: what is seen counts
    ("customer", "x" * 201, True, "Example Waterworks (invented)"),
    ("ready_time", "25", True, None),
    ("ready_time", "08:45", False, 0.364583333333333),
    # What is picked on the sheets that show it, and what is seldom typed.
    ("shown_date", "soon", True, None),
    ("shown_date", "2026-11-24", False, 46350.0),
    ("planned_date", "2026-11-26", False, 46352.0),
    ("coats_apart", "perhaps", True, None),
    ("coats_apart", "yes", False, "yes"),
    ("rework_time", "3", False, 3.0),
)


def test_limits_lists_and_dates_as_typed(priced: Path, tmp_path: Path, show: Open) -> None:
    job = tmp_path / "job.xlsx"
    shutil.copy(priced, job)
    window = show(job)
    got: list[tuple[str, str, bool]] = []
    unit = Book.open(job).area("film_thickness_unit")
    assert unit is not None
    at = f"{unit.sheet}.{column_letters(unit.first_column)}{unit.first_row}"
    for place, text, _, _ in TYPED:
        # The cell of a unit has no name of its own.
        refused = window.type(at if place == "film_thickness_unit" else place, text)
        got.append((place, text, bool(refused)))
    window.save()
    assert got == [(place, text, refused) for place, text, refused, _ in TYPED]
    book = Book.open(job)
    last = {place: holds for place, _, _, holds in TYPED}
    for place, holds in last.items():
        cell = book.named(place)
        assert cell is not None
        expected = pytest.approx(holds, rel=1e-12) if isinstance(holds, float) else holds
        assert cell.value == expected, place
    # A number that was typed as a percentage or a date left no format behind.
    for place in ("loss_share", "film_thickness", "air_temperature"):
        cell = book.named(place)
        assert cell is not None and book.look(cell).shape == "plain", place


def test_a_list_a_delete_an_undo_and_a_link(priced: Path, tmp_path: Path, show: Open) -> None:
    job = tmp_path / "job.xlsx"
    book_of_theirs = openpyxl.load_workbook(priced)
    book_of_theirs.create_sheet("Take-off")["C12"] = 2
    book_of_theirs.save(job)
    before = named(job, "film_thickness").value
    window = show(job)
    # Alt and arrow down opens the list of words; Home goes to its first.
    window.go("substrate")
    window.key("alt+Down", "Home", "Return")
    window.go("profile_fill")
    window.key("Delete")
    window.go("film_thickness")
    window.keys("3")
    window.key("Return", "ctrl+z")
    assert window.type("crew_size", "=$'Take-off'.C12") == ""
    # An option is typed into the first free row; its price is there at once.
    assert window.type("Options.A10", "option 4") == ""
    assert window.type("Options.D10", "3.2") == ""
    assert window.type("Options.F10", "many") == REFUSED
    window.save()
    book = Book.open(job)
    options = book.tables["options"]
    live = book.cell("Options", 10, options.columns["Price before tax"])
    assert named(job, "substrate").value == "steel"
    assert named(job, "profile_fill").kind == "blank"
    assert named(job, "film_thickness").value == before
    link = named(job, "crew_size")
    assert (link.value, link.formula) == (2.0, True)
    assert book.look(named(job, "profile_fill")).locked is False
    window.close()
    filled = fill_file(job)
    assert filled.values.names["crew_size"].si == 2
    assert filled.values.names["profile_fill"].assumed
    typed = filled.values.tables["options"].rows[3]
    assert typed["option"].si == "option 4" and typed["option_film"].si == 0.0032
    assert live.formula and live.value == pytest.approx(float(typed["option_price"].si), abs=1e-9)


def cut_and_pasted(window: Window, job: Path) -> object:
    """The area that a job shows when the length of one surface, and the film, were cut away."""
    # The length of the basin is cut onto the sump's, and typed anew.
    window.go("Areas.D7")
    window.key("ctrl+x")
    window.go("Areas.D8")
    window.key("ctrl+v", "Escape")
    assert window.type("Areas.D7", "5") == ""
    # The film is cut onto another input, a blank one: its name, lock and rule go with it.
    window.go("film_thickness")
    window.key("ctrl+x")
    window.go("profile_fill")
    window.key("ctrl+v", "Escape")
    window.save()
    area = named(job, "measured_area_total").value
    window.close()
    return area


def test_cut_and_paste_of_inputs_leaves_no_wrong_number(
    priced: Path, tmp_path: Path, show: Open
) -> None:
    job = tmp_path / "job.xlsx"
    onto = named(priced, "profile_fill").where
    area: object = None
    for _ in range(2):
        # On a busy machine a key may come before the window is ready: once more, as a person does.
        if not isinstance(area, float):
            shutil.copy(priced, job)
            area = cut_and_pasted(show(job), job)
    assert isinstance(area, float)
    filled = fill_file(job)
    told = "\n".join(str(problem) for problem in filled.problems)
    assert f"Job!B17: the cell of Dry film thickness had been moved to {onto}" in told
    assert "Job!B17: Dry film thickness is blank" in told
    assert filled.values.names["measured_area_total"].si == pytest.approx(area, abs=1e-9)
    window = show(job)
    assert window.type("film_thickness", "2.5") == ""
    assert window.type("profile_fill", "160") == REFUSED
    window.save()
    shown = named(job, "total_price").value
    window.close()
    assert named(job, "film_thickness").where == "Job!B17"
    again = fill_file(job)
    assert again.problem_count == 0
    price = again.values.names["total_price"].si
    assert shown == pytest.approx(float(price), abs=1e-9)


def test_a_day_of_readings_and_a_pasted_list_of_films(
    priced: Path, tmp_path: Path, show: Open
) -> None:
    job = tmp_path / "job.xlsx"
    office = priced.with_name("office.xlsx")
    assert run("new", job, "--office", office, "--with", "day,proof") == 0
    window = show(job)
    assert window.type("film_thickness", "2") == ""
    for row, words in enumerate(
        (
            ("2026-11-23", "08:00", "warming", "", "60", "60", "40", "40"),
            ("", "09:00", "spraying", "test panel", "150", "148", "70", "70"),
            ("", "09:30", "spraying", "", "151", "149", "70", "71"),
            ("", "10:00", "spraying", "", "150", "120", "70", "70"),
            ("2026-11-24", "07:30", "spraying", "", "150", "148", "70", "70"),
        ),
        7,
    ):
        for letter, text in zip("ABCDEFGH", words):
            if text:
                assert window.type(f"Readings.{letter}{row}", text) == "", (row, letter)
    window.paste("Film.A7", ["Floor\t\t2.1", "Floor\t\t1.9", "Floor\t\t2,71", "Floor\t\t2.3"])
    # More of them below the last row of the table: the next fill takes them in.
    for row, text in ((207, "2.2"), (208, "2.4")):
        assert window.type(f"Film.A{row}", "Floor") == ""
        assert window.type(f"Film.C{row}", text) == ""
    window.save()
    before = str(named(job, "beside_said").value)
    window.close()
    assert before.startswith("Never filled")
    filled = fill_file(job)
    rows = filled.values.tables["readings"].rows
    assert len(rows) == 5
    # A morning before the evening above: its date says that a day began.
    assert [one.each_readings for one in filled.values.studies["usage"]] == [4, 1]
    assert all(row["iso_pressure"].si for row in rows)
    assert "Film!" in "\n".join(str(p) for p in filled.problems if "2,71" in str(p))
    assert [row["reading_1"].si for row in filled.values.tables["film"].rows][:2] == [
        pytest.approx(0.0021),
        pytest.approx(0.0019),
    ]
    assert [row["reading_1"].si for row in filled.values.tables["film"].rows][-2:] == [
        pytest.approx(0.0022),
        pytest.approx(0.0024),
    ]
    assert Book.open(job).tables["film"].area.last_row == 208
    window = show(job)
    window.save()
    window.close()
    assert Book.open(job).named("overall_state").value == filled.state  # type: ignore[union-attr]
