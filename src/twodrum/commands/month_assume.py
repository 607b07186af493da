"""What a month workbook says a new job should assume."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from pathlib import Path

from ..books.month import MONTH
from ..studies.assume import ANY
from ..workbook.version import is_month
from ..xlsx.book import Book
from ..xlsx.package import PackageError
from .fill import read_file
from .month_store import complete


@dataclass(frozen=True)
class Assumed:
    """What a month says of a crew on a surface, and in words where it comes from."""

    names: dict[str, float]
    words: str


def assumed(path: Path, crew: str, surface: str) -> Assumed:
    """What a new job should assume; PackageError says why a month workbook does not tell."""
    try:
        book = Book.open(path)
    except PackageError as error:
        raise PackageError(f"{path}: {error}") from None
    if not is_month(book):
        raise PackageError(f"{path} is not a month workbook; make one with twodrum month FOLDER")
    filled = read_file(path, MONTH, partial(complete, path))
    if filled.refused:
        raise PackageError(filled.refused)
    if filled.problem_count:
        raise PackageError(f"{path}: {filled.first_problem}; mend it, or make the month anew")
    rows = {
        (str(row.assume_crew).casefold(), str(row.assume_surface).casefold()): row
        for row in filled.values.studies["month_assume"]
    }
    wanted = [(crew, surface), (crew, ANY), (ANY, surface), (ANY, ANY)]
    found = next(
        (rows[key] for one in wanted if (key := _key(*one)) in rows and rows[key][3] is not None),
        None,
    )
    if found is None:
        raise PackageError(f"{path} tells too little to assume anything; it needs more jobs")
    _, _, jobs, loss, low, high, uncertainty, _, spread, _, _, _ = found
    names = {
        "loss_share": round(loss, 4),
        "loss_uncertainty": round(min(0.3, max(0.01, uncertainty)), 4),
    }
    words = f"loss {loss * 100:.1f} % ({low * 100:.1f} to {high * 100:.1f} %) "
    if spread is not None:
        names["film_spread"] = round(min(0.3, max(0.01, spread)), 4)
        words += f"and film spread {spread * 100:.0f} % "
    who = "all crews" if found[0] == ANY else str(found[0])
    on = "all surfaces" if found[1] == ANY else str(found[1])
    return Assumed(names, f"{words}of {who} on {on}, by {jobs:.0f} jobs")


def _key(crew: str, surface: str) -> tuple[str, str]:
    return crew.casefold(), surface.casefold()
