"""What was read of the jobs of a month, kept beside it: only new or changed ones are read again.

A table of Parquet, one row for each job, which pandas reads; it is made anew with the month, and
nothing is lost with it but time. Without the package pyarrow there is none.
"""

from __future__ import annotations

import io
import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from importlib import import_module
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from .. import __version__
from ..engine.evaluate import Values
from ..problems import PROBLEM, Problem, sentence
from ..studies.month_jobs import ELSEWHERE
from ..xlsx.files import write_whole
from .month_read import JobRead, mark_of
from .month_stock import Seen

NAME = "month-store.parquet"
# Columns of the store beside those of the jobs.
SIZE, CHANGED, VERSION, REST = "file_size", "file_changed", "read_by", "kept_beside"
# Whether it is a job of the month: a copy of another one is not.
COUNTED = "counted"


def can_keep() -> bool:
    return find_spec("pyarrow") is not None


def _pandas() -> Any:
    # It takes long to load, and only a month needs it.
    return import_module("pandas")


@dataclass
class Store:
    """The rows of one store, by the name of the file."""

    path: Path
    rows: dict[str, dict[str, Any]] = field(default_factory=dict)

    def known(self, name: str, file: Path) -> JobRead | None:
        """What was read of a file by this version, where it is the same file still."""
        row = self.rows.get(name)
        mark = mark_of(file)
        if row is None or (row.get(VERSION), row.get(SIZE), row.get(CHANGED)) != (
            __version__,
            *mark,
        ):
            return None
        try:
            rest = json.loads(row[REST])
            drums = tuple(Seen(*one) for one in rest.pop("drums"))
            return JobRead(name, drums=drums, mark=mark, **rest)
        except (KeyError, TypeError, ValueError):
            # Written by somebody else: the file is read.
            return None

    def keep(
        self,
        read: Iterable[JobRead],
        columns: Sequence[str],
        counted: Mapping[str, Mapping[str, Any]],
    ) -> str:
        """Write the store anew, whole or not at all; "", or why it can't be.

        ``counted`` are the rows of the jobs of the month by their files, as they count.
        """
        rows = []
        for one in read:
            size, changed = one.mark
            rest = {
                "row": one.row,
                "currency": one.currency,
                "digest": one.digest,
                "told": one.told,
                "left_alone": one.left_alone,
                "drums": one.drums,
            }
            marks = {SIZE: size, CHANGED: changed, VERSION: __version__}
            row = counted.get(one.name, one.row)
            shown = {key: row.get(key) for key in columns}
            is_one = {COUNTED: one.name in counted}
            rows.append({**shown, "file": one.name, **is_one, **marks, REST: json.dumps(rest)})
        data = io.BytesIO()
        try:
            _pandas().DataFrame(rows).to_parquet(data, index=False)
            before = self.path.read_bytes() if self.path.is_file() else None
            write_whole(self.path, data.getvalue(), before)
        except (OSError, TypeError, ValueError) as error:
            return f"{self.path}: not kept, all jobs are read the next time ({error})"
        return ""


def store_beside(month: Path) -> Store:
    """The store of a month; without rows where there is none, or none that can be read."""
    store = Store(month.parent / NAME)
    if store.path.is_file() and can_keep():
        try:
            table = _pandas().read_parquet(store.path).astype(object)
            # What is not known is no number that is none.
            rows = table.where(table.notna(), None).to_dict("records")
            store.rows = {str(row["file"]): dict(row) for row in rows if REST in row}
        except (OSError, ValueError, KeyError):
            # Of another kind or damaged: all jobs are read, and it is made anew.
            store.rows = {}
    return store


def complete(month: Path, values: Values) -> None:
    """Add to the rows of a month those that only its store has; tell where it has them not.

    The store is read only where the month says that there are some.
    """
    beside = values.names[ELSEWHERE]
    if not beside.si:
        return
    store = store_beside(month)
    there = {row["file"].si for row in values.tables["jobs"].rows}
    counted = {name: row for name, row in store.rows.items() if row.get(COUNTED)}
    more = [row for name, row in counted.items() if name not in there]
    if len(more) == beside.si:
        values.more["jobs"] = more
        return
    text = sentence(
        f"{len(more)} jobs are only in {store.path.name} beside it",
        f"{beside.si:.0f} are wanted",
        "put its store beside it again, or make the month anew with twodrum month",
    )
    problem = Problem("store-differs", beside.where, text, PROBLEM, beside.position)
    values.problems.append(problem)
    values.names[ELSEWHERE] = beside.but(si=None, why=str(problem), roots=(beside.where,))
