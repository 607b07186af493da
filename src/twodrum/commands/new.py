"""Make a job from the template, with the office's materials, machine, crew and rates."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import time
from pathlib import Path
from typing import Any

from ..books.job import BASE
from ..books.office import OFFICE
from ..books.parts import PARTS, job_of
from ..core.mix import LINING, SECOND
from ..core.reconcile import combined
from ..engine.evaluate import Value, Values
from ..engine.model import Field, Model
from ..problems import PROBLEM, WARNING, Problem, in_order, sentence
from ..resources import resource
from ..studies.linings import LININGS
from ..units import KINDS, UnitError, parse
from ..workbook.brought import Brought, brought_writes
from ..workbook.grow import lengthened
from ..workbook.in_units import in_unit
from ..workbook.layout import units_picked
from ..workbook.read import Inputs
from ..workbook.version import is_office, know_former
from ..xlsx.book import Book
from ..xlsx.files import refuse_target, write_whole
from ..xlsx.formats import PLAIN
from ..xlsx.package import Package, PackageError
from ..xlsx.pictures import Picture
from ..xlsx.restyle import Styles
from ..xlsx.write import Address, Content, Write, write_cells
from .fill import with_cached_values
from .logo import logo_of, put_logo

PICKS = {"machines": "machine", "crews": "crew", "rates": "rates_name"}
# Where the job keeps the name of what was picked.
KEPT_NAMES = {"machines": "machine_name", "crews": "crew_name"}


@dataclass
class Typed:
    """What goes into the input cells of a job: SI values, texts, dates."""

    names: dict[str, Any] = field(default_factory=dict)
    rows: dict[str, list[dict[str, Any]]] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    picked: list[str] = field(default_factory=list)
    brought: list[Brought] = field(default_factory=list)
    logo: Picture | None = None


class PickError(ValueError):
    """A name that the office workbook does not have, with those that it has."""


def template(model: Model) -> Book:
    """The template of a model, in memory."""
    book = Book.open(resource("workbook_templates", f"{model.name}.xlsx"))
    know_former(book, model)
    return book


def new_job(
    target: Path,
    office: Path | None = None,
    picks: Mapping[str, str] | None = None,
    system: str = "metric",
    also: Typed | None = None,
    parts: tuple[str, ...] = PARTS,
    cached: bool = True,
) -> Typed:
    """Write a new job of these parts; PackageError or PickError says why not.

    Returns what was typed. Not ``cached`` its live formulas have no values before it is filled.
    """
    refuse_target(target)
    book, typed = made_job(office, picks, system, also, parts, cached)
    write_whole(target, book.package.to_bytes())
    return typed


def made_job(
    office: Path | None = None,
    picks: Mapping[str, str] | None = None,
    system: str = "metric",
    also: Typed | None = None,
    parts: tuple[str, ...] = PARTS,
    cached: bool = True,
) -> tuple[Book, Typed]:
    """A new job of these parts in memory, and what was typed into it."""
    typed = pick(office, picks or {}) if office else Typed()
    if also is not None:
        typed.names.update(also.names)
        for table, rows in also.rows.items():
            typed.rows[table] = [*typed.rows.get(table, []), *rows]
    if system == "us":
        typed.names.setdefault("paper", "Letter")
    model = job_of(parts)
    book = template(model)
    book = lengthened(book, model, {name: len(rows) for name, rows in typed.rows.items()})
    writes = dict(typed_writes(book, model, typed, system))
    here = {item.name for item in model.fields()}
    writes |= dict(brought_writes(book, [one for one in typed.brought if one.key in here]))
    problems = write_cells(book, shown_shorter(book, writes))
    typed.problems += problems
    if typed.logo is not None:
        put_logo(book, model, typed.logo)
    book = Book(Package(book.package.to_bytes()))
    if cached:
        # A program that must not calculate yet, as one that protects its user, shows them.
        with_cached_values(book, model)
    return book, typed


def new_office(target: Path, system: str = "metric", typed: Typed | None = None) -> None:
    """Write a new office workbook, with rows of its own or none."""
    refuse_target(target)
    book = template(OFFICE)
    content = typed or Typed()
    write_cells(book, shown_shorter(book, dict(typed_writes(book, OFFICE, content, system))))
    write_whole(target, book.package.to_bytes())


def pick(
    office: Path, picks: Mapping[str, str], tables: Sequence[str] = ("materials", *PICKS)
) -> Typed:
    """The rows that were picked from an office workbook, as SI values.

    ``tables`` are those of which one row is picked, or the rows of one system.
    """
    try:
        book = Book.open(office)
    except PackageError as error:
        raise PickError(str(error)) from None
    if not is_office(book):
        raise PickError("it is not an office workbook; make one with twodrum office")
    inputs = Inputs(OFFICE, book)
    values = inputs.read()
    typed = Typed(problems=in_order(values.problems), logo=logo_of(book))
    materials = values.tables["materials"].rows
    shelf = BASE.table("shelf").fields
    named = {str(row["material"].si).casefold(): row for row in materials if row["material"].si}
    typed.rows["shelf"] = [_kept(row, shelf) for row in named.values()]
    if "materials" in tables:
        _systems(typed, values, picks)
    for table, key in PICKS.items():
        if table not in tables:
            continue
        rows = values.tables[table].rows
        option = "rates" if table == "rates" else key
        name = _picked(rows, key, picks.get(option, ""), option)
        if name:
            typed.problems += _twice([row for row in rows if _is(row, key, name)], key)
            row = next(row for row in rows if row[key].si == name)
            own = _kept(row, tuple(BASE.fields()))
            typed.names.update(own)
            _remember(typed, own, option, name)
            if table in KEPT_NAMES:
                typed.names[KEPT_NAMES[table]] = name
            if table == "machines":
                _learned(typed, values.tables["learned"].rows, name)
            typed.picked.append(f"{option} {name}")
    return typed


def _systems(typed: Typed, values: Values, picks: Mapping[str, str]) -> None:
    """The materials and processing data of a system, and the materials of a second one."""
    materials = values.tables["materials"].rows
    system = _picked(materials, "system", picks.get("system", ""), "system")
    if system:
        chosen = [row for row in materials if row["system"].si == system]
        typed.rows["materials"] = [_kept(row, BASE.table("materials").fields) for row in chosen]
        typed.problems += _twice(chosen, "component")
        _processing(typed, values.tables["processing"].rows, system, chosen)
        _between_coats(typed, chosen)
        typed.picked.append(f"system {system}")
    second = picks.get("second", "")
    if second:
        second = _picked(materials, "system", second, "system")
        if second == system:
            raise PickError(f"'{second}' is the system of the job already; --second wants another")
        chosen = [row for row in materials if row["system"].si == second]
        _second(typed, second, chosen)
        _processing(typed, values.tables["processing"].rows, second, chosen, SECOND)
        _between_coats(typed, chosen, "second_")


def _processing(
    typed: Typed,
    processing: Sequence[Mapping[str, Value]],
    system: str,
    materials: Sequence[Mapping[str, Value]],
    fed: tuple[str, ...] = LINING,
) -> None:
    """What data sheets say of a system's iso and resin, as that of the components of a job."""
    rows = [row for row in processing if _is(row, "system", system)]
    typed.problems += _twice(rows, "component")
    materials_of = {str(row["component"].si): row["material"].si for row in materials}
    components = dict(zip(LINING, fed))
    for side, row in {row["component"].si: row for row in rows}.items():
        if side is not None:
            own = _of_side(row, components[side])
            typed.names.update(own)
            _remember(typed, own, components[side], materials_of.get(side))
    if processing and not rows:
        where = materials[0]["system"]
        text = sentence(
            f"Processing has no row for the system '{system}'",
            "its temperatures, pressures and viscosities are left blank",
        )
        typed.problems.append(Problem("no-processing", where.where, text, WARNING, where.position))


# What stands on Materials of an office when another coat may follow, by what the job calls it.
COATED = {"iso": "lining", "primer": "primer"}


def _between_coats(typed: Typed, rows: Sequence[Mapping[str, Value]], which: str = "") -> None:
    """After and within how long another coat may follow on the lining and on the primer."""
    for row in rows:
        coat = COATED.get(str(row["component"].si))
        for end in ("recoat_from", "recoat_to"):
            if coat and row[end].si is not None:
                typed.names[f"{which}{coat}_{end}"] = row[end].si


def _second(typed: Typed, system: str, rows: Sequence[Mapping[str, Value]]) -> None:
    """Another system of the office as system 2: its lining and its coats beside the first ones."""
    fields = BASE.table("materials").fields
    first = {row.get("component") for row in typed.rows.get("materials", [])}
    called = dict(zip((*LINING, "primer", "top coat"), (*SECOND, "second primer", "top coat")))
    typed.problems += _twice(list(rows), "component")
    for row in rows:
        component = str(row["component"].si)
        if component not in called or (component == "top coat" and component in first):
            left = f"system '{system}' has {component}, and a job has room for one: it is left out"
            told = sentence(left, "type it by hand where it is needed")
            where = row["component"]
            problem = Problem("left-out", where.where, told, WARNING, where.position)
            typed.problems.append(problem)
            continue
        kept = {**_kept(row, fields), "component": called[component]}
        typed.rows.setdefault("materials", []).append(kept)
        if component == "primer":
            typed.names["system_2_primer"] = kept["component"]
        elif component == "top coat":
            # It is of the second system alone.
            typed.names |= {"system_2_top_coat": component, "system_1_top_coat": "none"}
        else:
            typed.names["system_2_lining"] = LININGS[1]
    typed.names["system_2_words"] = system
    typed.picked.append(f"system 2 {system}, for the areas that name it")


def _remember(typed: Typed, names: Mapping[str, Any], what: str, name: Any) -> None:
    """Keep what came with a name, so that another name can be told what is not its own."""
    if name is None:
        return
    for key, si in names.items():
        if isinstance(si, (int, float)):
            typed.brought.append(Brought(key, what, str(name), float(si)))


def _learned(typed: Typed, rows: Sequence[Mapping[str, Value]], machine: str) -> None:
    """What the warm-ups of a machine taught, where its own row leaves that blank."""
    own = [row for row in rows if _is(row, "learned_machine", machine)]
    power, of_power = _together(own, "power")
    rated = [typed.names.get(f"{side}_heater_power") for side in LINING]
    known = [value for value in rated if value]
    if power and known and "heating_efficiency" not in typed.names:
        share = min(1.0, max(0.1, power / (sum(known) / len(known))))
        typed.names["heating_efficiency"] = share
        typed.picked.append(f"power learned from {of_power} of {len(own)} drums that were warmed")
    loss, of_loss = _together(own, "heat_loss")
    if loss and loss > 0 and "drum_heat_loss" not in typed.names:
        typed.names["drum_heat_loss"] = loss
        typed.picked.append(f"heat lost learned from {of_loss} of {len(own)} drums")


# An interval wider than so much of its value is left out.
TOO_WIDE = 0.5


def _together(rows: Sequence[Mapping[str, Value]], name: str) -> tuple[float | None, int]:
    """Mean of what several warm-ups taught, by their intervals, and of how many that say enough."""
    found = []
    for row in rows:
        if any(value.refused for value in row.values()):
            continue
        value, low, high = (row[f"{name}{end}"].si for end in ("", "_low", "_high"))
        if None not in (value, low, high) and 0 < (high - low) / 2 < TOO_WIDE * value:
            found.append((value, (high - low) / 2))
    if len(found) < 2:
        return (found[0][0], 1) if found else (None, 0)
    mean = combined([value for value, _ in found], [half for _, half in found]).value
    return mean, len(found)


def _of_side(row: Mapping[str, Value], component: str) -> dict[str, Any]:
    """A row of processing data as fields of the job: the component stands before each."""
    prefix = component.replace(" ", "_")
    fields = {item.name for item in BASE.fields()}
    named = {f"{prefix}_{name}": value.si for name, value in row.items() if value.si is not None}
    return {name: si for name, si in named.items() if name in fields}


def _is(row: Mapping[str, Value], key: str, name: str) -> bool:
    return str(row[key].si or "").casefold() == name.casefold()


def _twice(rows: Sequence[Mapping[str, Value]], key: str) -> list[Problem]:
    """A problem at every row whose key stands in an earlier one too."""
    found: list[Problem] = []
    seen: dict[str, Value] = {}
    for row in rows:
        value = row[key]
        first = seen.setdefault(str(value.si).casefold(), value)
        if first is not value and value.si is not None:
            text = sentence(
                f"{value.label} is '{value.si}' a second time",
                "each may stand in one row only",
                f"the first is in {first.where}",
            )
            found.append(Problem("repeated", value.where, text, PROBLEM, value.position))
    return found


def _picked(rows: Sequence[Mapping[str, Value]], key: str, wanted: str, option: str) -> str:
    names = list(dict.fromkeys(str(row[key].si) for row in rows if row[key].si is not None))
    if wanted:
        for name in names:
            if name.casefold() == wanted.casefold():
                return name
        raise PickError(sentence(f"the office workbook has no {option} '{wanted}'", _choose(names)))
    if len(names) > 1:
        found = f"the office workbook has several: {', '.join(names)}"
        raise PickError(sentence(found, f"one is wanted, name it with --{option}"))
    return names[0] if names else ""


def _choose(names: list[str]) -> str:
    return f"it has: {', '.join(names)}" if names else "its table is empty"


def _kept(row: Mapping[str, Value], fields: tuple[Field, ...]) -> dict[str, Any]:
    return {
        item.name: row[item.name].si
        for item in fields
        if item.name in row and row[item.name].si is not None
    }


def typed_from_texts(record: Mapping[str, Any], fields: Mapping[str, Field]) -> dict[str, Any]:
    """A mapping of plain numbers and texts such as "80 mil" as SI values.

    Raises UnitError naming the key of a text that is not what its field wants.
    """
    found = {}
    for name, value in record.items():
        kind = fields[name].kind
        if kind == "clock" and isinstance(value, time):
            found[name] = (value.hour * 60 + value.minute) / 1440
        elif kind in KINDS and isinstance(value, str):
            try:
                found[name] = parse(value, kind)
            except UnitError as error:
                raise UnitError(f"{name}: {error.found}", error.expected, error.mend) from None
        else:
            found[name] = value
    return found


def typed_writes(
    book: Book, model: Model, typed: Typed, system: str
) -> list[tuple[Address, Write]]:
    """Writes that put SI values into input cells, in the units of the system."""
    know_former(book, model)
    writes: list[tuple[Address, Write]] = []

    def put(name: str, content: Content) -> None:
        area = book.area(name)
        assert area is not None, name
        writes.append((area.first, Write(content)))

    for name, item in units_picked(model):
        put(f"{name}_unit", item.unit(system))
    for item in model.fields():
        if item.name in typed.names:
            put(item.name, in_unit(item, typed.names[item.name], system))
    for name, rows in typed.rows.items():
        if name not in book.tables:
            # Of a part that is not here.
            continue
        read = book.tables[name]
        room = read.area.last_row - read.area.first_row + 1
        if len(rows) > room:
            found = f"{len(rows)} rows are picked for {model.table(name).label}"
            raise PickError(sentence(found, f"there is room for {room}"))
        for index, row in enumerate(rows):
            for item in model.table(name).fields:
                if item.name in row:
                    address = (
                        read.area.sheet,
                        read.area.first_row + index,
                        read.columns[item.label],
                    )
                    writes.append((address, Write(in_unit(item, row[item.name], system))))
    return writes


# Digits of a converted number that are shown; all of them are kept.
SHOWN_DIGITS = 4


def shown_shorter(book: Book, writes: Mapping[Address, Write]) -> dict[Address, Write]:
    """The same writes, with a number format for numbers that no person would type so long."""
    styles = Styles(book)
    found = {}
    for address, write in writes.items():
        found[address] = write
        if book.look(book.cell(*address)).shape != PLAIN:
            # A time of day or a date is shown as one.
            continue
        if isinstance(write.value, float) and write.value != float(f"{write.value:.6g}"):
            whole = len(str(int(abs(write.value)))) if abs(write.value) >= 1 else 0
            if abs(write.value) < SMALLEST_SHOWN:
                continue
            code = "0." + "0" * max(1, SHOWN_DIGITS - whole)
            style = styles.like(book.cell(*address).style, code)
            found[address] = write._replace(style=style)
    styles.keep()
    return found


# A smaller number would show no digit that counts.
SMALLEST_SHOWN = 0.1
