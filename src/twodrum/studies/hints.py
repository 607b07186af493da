"""Notes on inputs that are possible but worth a second look; nothing is refused for them."""

from __future__ import annotations

from typing import Any

from ..core.takeoff import KNOWN_AREA, SHAPES
from ..engine.evaluate import Reader, Value
from ..problems import sentence
from ..units import shown
from .words import rounded, said

SOURCE = "ISO 8502-4:2017, from memory; MIL-HDBK-1110 (1995), 9.6.8 for the overlap"
USUAL_DEW_MARGIN = 3.0
USUAL_OVERLAP = 0.5
# From here on a value is told as one that may be a slip; our choices, no source.
MANY_FILMS, LITTLE_LOSS = 5.0, 0.05
# Sizes of things that are never so large, in m: millimetres typed beside m.
LARGEST = {
    ("manhole", "diameter"): 3.0,
    ("manhole", "length"): 3.0,
    ("pipe", "diameter"): 10.0,
    **{
        (shape, size): 3.0
        for shape in ("I or H section", "hollow section")
        for size in ("height", "width")
    },
}
SIZES = ("known_area", "length", "width", "height", "diameter", "other_size", "corner_radius")
# Data of a material that a job takes from its office.
OF_MATERIAL = (
    *("ratio_part", "volume_solids", "coat_film", "coat_loss", "coat_pace"),
    *("density", "density_temperature"),
    *("thermal_expansion", "spray_temperature", "spray_low", "spray_high"),
    *("drum_volume", "residue", "volume_price"),
)
READS = (
    *(f"{table}.{name}" for table in ("materials", "shelf") for name in ("material", *OF_MATERIAL)),
    *("film_basis", "film_thickness", "loss_share", "round_to", "price_of_lines"),
    *("rework_share", "rework_litres"),
    "areas.film_override",
    "areas.system_most",
    "areas.shape",
    *(f"areas.{size}" for size in SIZES),
)
DAY_READS = ("dew_margin", "overlap")


def hints(reader: Reader) -> list[Any]:
    """No rows; every hint is a warning at the cell that raised it."""
    basis = reader.cell("film_basis")
    if basis.si == "minimum":
        found = "the film asked for is a minimum"
        told = sentence(found, "the litres are for a mean of just that film; allow for spread")
        reader.warn("unusual", basis, told)
    own_films = reader.cells("areas", "film_override")
    for own, most in zip(own_films, reader.cells("areas", "system_most")):
        if most.si is not None and own.si is not None and own.si > most.si * (1 + 1e-12):
            found = f"the film of this surface is {said(own)}"
            reader.warn(
                "outside-data-sheet",
                own,
                sentence(found, f"it may never be more than {said(own, most.si)}"),
            )
    money, litres = reader.cell("rework_share"), reader.cell("rework_litres")
    if money.si and litres.si:
        found = f"rework is in the price twice, as {said(money)} in money and {said(litres)} more"
        told = sentence(f"{found} litres", "see whether both are meant")
        reader.warn("unusual", litres, told)
    step, price = reader.cell("round_to"), reader.cell("price_of_lines")
    if price.si is not None and step.si is not None and step.si > price.si:
        found = f"it is above the price of the lines, {price.si:,}"
        reader.warn("unusual", step, sentence(found, "nothing is taken off"))
    _unused_sizes(reader)
    _slips(reader)
    _materials(reader)
    _shelf(reader)
    return []


def day_hints(reader: Reader) -> list[Any]:
    """The same for the day at the machine."""
    margin = reader.cell("dew_margin")
    if margin.si is not None and margin.si < USUAL_DEW_MARGIN:
        how = "above" if margin.si >= 0 else "below"
        found = f"the surface is {rounded(abs(margin.si), margin)} {how} the dew point"
        usual = shown(USUAL_DEW_MARGIN, margin.kind, margin.unit)
        reader.warn("unusual", margin, sentence(found, f"{usual} is usual; the data sheet decides"))
    overlap = reader.cell("overlap")
    if overlap.si is not None and overlap.si < USUAL_OVERLAP:
        found = f"the overlap is {rounded(overlap.si, overlap)}"
        reader.warn("unusual", overlap, sentence(found, "half is usual; the data sheet decides"))
    return []


def _unused_sizes(reader: Reader) -> None:
    shapes = reader.cells("areas", "shape")
    columns = {size: reader.cells("areas", size) for size in SIZES}
    for index, shape in enumerate(shapes):
        if shape.si is None:
            continue
        wanted: tuple[str, ...] = (KNOWN_AREA.replace(" ", "_"),)
        if shape.si != KNOWN_AREA:
            wanted = tuple(SHAPES[shape.si][1])
        for size, cells in columns.items():
            if cells[index].si is not None and size not in wanted:
                found = f"{cells[index].label} is given"
                reader.warn(
                    "unused-size",
                    cells[index],
                    sentence(found, f"the shape {shape.si} does not use it"),
                )


def _slips(reader: Reader) -> None:
    """Values that are possible and far from what is usual."""
    film, loss = reader.cell("film_thickness"), reader.cell("loss_share")
    for own in reader.cells("areas", "film_override"):
        if own.si is not None and film.si is not None and own.si >= MANY_FILMS * film.si:
            found = f"the film of this surface is {own.si / film.si:.3g} times that of the job"
            reader.warn("unusual", own, sentence(found, "see whether its unit is meant"))
    if loss.si is not None and loss.si < LITTLE_LOSS and not loss.blank:
        found = f"a loss of {said(loss)} leaves little for overspray, hose and gun"
        reader.warn("unusual", loss, sentence(found, "what your own jobs took is the best guess"))
    shapes = reader.cells("areas", "shape")
    columns = {
        size: reader.cells("areas", size) for size in ("length", "width", "height", "diameter")
    }
    for index, shape in enumerate(shapes):
        for size, cells in columns.items():
            most, cell = LARGEST.get((str(shape.si), size)), cells[index]
            if most is not None and cell.si is not None and cell.si > most:
                found = f"{cell.label} of this {shape.si} is {said(cell)}"
                reader.warn("unusual", cell, sentence(found, "see whether its unit is meant"))


def _materials(reader: Reader) -> None:
    sprays = reader.cells("materials", "spray_temperature")
    lows = reader.cells("materials", "spray_low")
    highs = reader.cells("materials", "spray_high")
    for spray, low, high in zip(sprays, lows, highs):
        if spray.si is None:
            continue
        outside = (low.si is not None and spray.si < low.si) or (
            high.si is not None and spray.si > high.si
        )
        if outside:
            found = f"Spray at is {shown(spray.si, spray.kind, spray.unit)}"
            reader.warn(
                "outside-data-sheet",
                spray,
                sentence(found, "it lies outside the window of its own row"),
            )


def _shelf(reader: Reader) -> None:
    """A material of the office whose data are other ones here is told, with what differs."""
    names = ("material", *OF_MATERIAL)
    own, shelf = (reader.rows(table, names) for table in ("materials", "shelf"))
    known = {str(row["material"].si).casefold(): row for row in shelf if row["material"].si}
    for row in own:
        found = known.get(str(row["material"].si or "").casefold())
        if found is None:
            continue
        other = [row[name].label for name in OF_MATERIAL if _differs(row[name], found[name])]
        if other:
            said = f"'{row['material'].si}' has other data on Shelf: {', '.join(other)}"
            reader.warn(
                "unlike-shelf",
                row["material"],
                sentence(said, "copy them from there if it is meant"),
            )


def _differs(here: Value, there: Value) -> bool:
    if here.refused or there.refused or there.si is None:
        return False
    return here.blank or abs(here.si - there.si) > 1e-9 * abs(there.si)
