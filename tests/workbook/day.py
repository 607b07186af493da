"""A small job with a day at the machine, in the template's metric units."""

from pathlib import Path
from typing import Any
from zlib import crc32

from tests.workbook.job_values import checked, model_template
from tests.workbook.typing import Cells, address, plain_cells, typed
from twodrum.books.parts import DAY, PROOF, QUOTE, job_of
from twodrum.books.whole import JOB
from twodrum.commands.fill import Filled, check_file
from twodrum.engine.model import Model
from twodrum.xlsx.book import Book

# What a day at the machine needs; the account and the what-ifs would only be reckoned beside it.
OF_THE_DAY = job_of((QUOTE, DAY, PROOF))
# The side of the machine as in the reference example of pressures: two liquids of 800 and
# 600 mPa s at 25 °C, 60 m of 3/8 in hose, an orifice of 0.6 mm.
NAMES: dict[str, Any] = {
    "air_temperature": 15,
    "relative_humidity": 60,
    "surface_temperature": 16,
    "ready_time": 0.375,
    "confined_space": "no",
    "exposure_country": "United States",
    "cleaning_solvent": "none",
    "iso_heater_power": 6,
    "iso_set_point": 75,
    "resin_set_point": 75,
    "iso_drum_target": 50,
    "resin_drum_target": 50,
    "stirring_time": 60,
    "set_up_time": 30,
    "panel_time": 15,
    "hose_length": 60,
    "whip_length": 3,
    "hose_set_point": 65,
    "port_diameter": 0.6,
    "port_length": 1.5,
    "heating_efficiency": 90,
    "recirculation_flow": 4,
    "hose_bore": 9.525,
    "whip_bore": 6.35,
    "hose_heating": 40,
    "hose_heat_loss": 0.6,
    "hose_wall": 0.7,
    "discharge_coefficient": 75,
    "ratio_tolerance": 5,
    "difference_limit": 30,
    "change_limit": 7,
    "iso_drum_low": 20,
    "iso_drum_high": 55,
    "resin_drum_low": 20,
    "resin_drum_high": 55,
    "iso_heat_limit": 80,
    "resin_heat_limit": 80,
    "iso_pressure_low": 120,
    "iso_pressure_high": 240,
    "resin_pressure_low": 120,
    "resin_pressure_high": 240,
    "iso_temperature_1": 25,
    "iso_viscosity_1": 800,
    "iso_temperature_2": 65,
    "iso_viscosity_2": 80,
    "resin_temperature_1": 25,
    "resin_viscosity_1": 600,
    "resin_temperature_2": 65,
    "resin_viscosity_2": 45,
}
MATERIALS: list[dict[str, Any]] = [
    {
        "density": density,
        "density_temperature": 25,
        "thermal_expansion": 0,
        "spray_temperature": 65,
        "spray_low": 50,
        "spray_high": 75,
    }
    for density in (1120, 1010)
]
SPRAYING = {
    "phase": "spraying",
    "iso_pressure": 160,
    "resin_pressure": 140,
    "iso_temperature": 65,
    "resin_temperature": 65,
}
WEATHER = {"air": 15, "humidity": 60, "surface_reading": 16}
READINGS: list[dict[str, Any]] = [
    {
        "time": 0.375,
        **SPRAYING,
        **WEATHER,
        "event": "test panel",
        "iso_left": 200,
        "resin_left": 200,
    },
    {"time": 0.400, **SPRAYING},
    {"time": 0.425, **SPRAYING, "iso_left": 150, "resin_left": 150},
    {"time": 0.450, **SPRAYING},
]


# One in so many goes by a file.
ON_FILES = 24


def day_cells(
    names: dict[str, Any] | None = None,
    readings: list[dict[str, Any]] | None = None,
    model: Model = JOB,
    **tables: list[dict[str, Any]],
) -> Cells:
    """Cells of the job, with some names typed otherwise, other readings, rows of tables."""
    book = model_template(model)
    cells = plain_cells(book)
    for name, value in {**NAMES, **(names or {})}.items():
        cells[address(book, *_split(name), model)] = value
    for index, row in enumerate(MATERIALS):
        for name, value in row.items():
            if f"materials.{name}@{index}" not in (names or {}):
                cells[address(book, f"materials.{name}", index, model)] = value
    rows = {"readings": READINGS if readings is None else readings, **tables}
    for table, records in rows.items():
        for index, row in enumerate(records):
            for name, value in row.items():
                cells[address(book, f"{table}.{name}", index, model)] = value
    return cells


def _split(key: str) -> tuple[str, int]:
    name, _, row = key.partition("@")
    return name, int(row or 0)


def day(
    folder: Path,
    names: dict[str, Any] | None = None,
    readings: list[dict[str, Any]] | None = None,
    model: Model = OF_THE_DAY,
    **tables: list[dict[str, Any]],
) -> Filled:
    """The job checked in memory, and one in so many as a file that has to say the same."""
    cells = day_cells(names, readings, model, **tables)
    found = checked(cells, model)
    if crc32(repr(sorted(cells.items(), key=str)).encode()) % ON_FILES == 0:
        by_file = check_file(typed(cells, folder / "job.xlsx", model))
        assert told(by_file) == told(found)
        assert by_file.values.studies == found.values.studies
        return by_file
    return found


def told(filled: Filled) -> list[str]:
    return [str(problem) for problem in filled.problems]


def si(filled: Filled, name: str) -> Any:
    return filled.values.names[name].si


def readings_of(filled: Filled, column: str) -> list[Any]:
    return [row[column].si for row in filled.values.tables["readings"].rows]


def cell_of(key: str, model: Model = OF_THE_DAY) -> str:
    """Where a key stands in the template, such as "Equipment!B9"."""
    sheet, row, column = address(model_template(model), *_split(key), model)
    letter = chr(64 + column)
    return f"{sheet}!{letter}{row}"


def opened(path: Path) -> Book:
    return Book.open(path)


def whole_day(
    folder: Path,
    names: dict[str, Any] | None = None,
    readings: list[dict[str, Any]] | None = None,
    **tables: list[dict[str, Any]],
) -> Filled:
    """The same of a job with all its parts."""
    return day(folder, names, readings, JOB, **tables)
