"""The invented demo: an office, one job in metric and in US units, and a job to mend."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

from ..books.office import OFFICE
from ..books.whole import JOB
from ..engine.model import Model
from ..resources import resource
from ..units import KINDS, from_si, to_si
from ..xlsx.package import PackageError
from .fill import fill_file
from .new import Typed, new_job, new_office, typed_from_texts

# Only a folder with this file in it has its workbooks replaced.
MARK = "made-by-the-demo.txt"
MARKED = "Workbooks of the demo here are made anew each time.\n"


def scenario() -> dict[str, Any]:
    """The invented job and office, as written down."""
    with resource("demo", "scenario.toml").open("rb") as file:
        return tomllib.load(file)


def _rows(model: Model, table: str, records: list[dict[str, Any]]) -> list[dict[str, Any]]:
    fields = {item.name: item for item in model.table(table).fields}
    return [typed_from_texts(record, fields) for record in records]


def office_typed() -> Typed:
    """The rows of the invented office."""
    tables = scenario()["office"]
    return Typed(rows={name: _rows(OFFICE, name, records) for name, records in tables.items()})


def job_typed(system: str) -> Typed:
    """What the invented office types into the job itself."""
    story = scenario()
    fields = {item.name: item for item in JOB.fields()}
    rows = {name: _rows(JOB, name, story[name]) for name in ("areas", "options")}
    for name in ("readings", "drums", "film", "pulls"):
        rows[name] = [_as_read(name, row, system) for row in _rows(JOB, name, story[name])]
    names = typed_from_texts(story["job"], fields)
    return Typed(names=names, rows=rows)


def _as_read(table: str, row: dict[str, Any], system: str) -> dict[str, Any]:
    """A row as a gauge of the system shows it: whole numbers, temperatures to a half."""
    found = {}
    for name, value in row.items():
        item = JOB.column_item(table, name)
        if table in ("film", "pulls") and item.kind in KINDS:
            # Gauges of film and of adhesion show three digits.
            unit = item.unit(system)
            found[name] = to_si(float(f"{from_si(value, item.kind, unit):.3g}"), item.kind, unit)
        elif item.kind in ("pressure", "temperature", "volume"):
            unit = item.unit(system)
            halves = 2 if item.kind == "temperature" else 1
            number = round(from_si(value, item.kind, unit) * halves) / halves
            found[name] = to_si(number, item.kind, unit)
        else:
            found[name] = value
    return found


def spoiled() -> Typed:
    """The same job with mistakes as people make them."""
    typed = job_typed("metric")
    typed.names["relative_humidity"] = 1.7
    typed.names["loss_share"] = "0,2"
    typed.rows["areas"][1]["height"] = -1.524
    typed.rows["areas"][2]["shape"] = "tube"
    return typed


def make_demo(out: Path) -> list[str]:
    """Make and fill the demo in a folder; returns what to say about it."""
    out.mkdir(parents=True, exist_ok=True)
    names = ("office.xlsx", "job-metric.xlsx", "job-us.xlsx", "job-to-mend.xlsx")
    mark = out / MARK
    for name in names:
        if (out / name).exists() and not mark.exists():
            raise PackageError(f"{out / name} is not of the demo; choose another folder")
        (out / name).unlink(missing_ok=True)
    mark.write_text(MARKED, encoding="utf-8")
    office, metric, us, mend = (out / name for name in names)
    new_office(office, "metric", office_typed())
    new_job(metric, office, None, "metric", job_typed("metric"), cached=False)
    new_job(us, office, None, "us", job_typed("us"), cached=False)
    new_job(mend, office, None, "metric", spoiled(), cached=False)
    lines = ["Everything here is invented.", f"{office}: materials, machine, crew and rates"]
    for path, what in (
        (metric, "the job in metric units"),
        (us, "the same job in US customary units"),
        (mend, "the same job with mistakes in it"),
    ):
        filled = fill_file(path)
        count = filled.problem_count
        notes = len(filled.problems) - count
        said = f", {count} problems told on Start" if count else ", no problem in what was typed"
        said += f", {notes} notes to read"
        lines.append(f"{path}: {what}, state {filled.state}{said}")
    sheets = "Start, Quote, Options, Film and loss, Day sheet, Cautions, Warm-up, Readings, Balance"
    return [*lines, f"Open {metric}, sheets {sheets}; then sheet Start of {mend}."]
