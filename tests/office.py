"""An office with one lining, one machine and one crew, in the template's metric units."""

from pathlib import Path
from typing import Any

from tests.workbook.typing import address, typed
from twodrum.books.office import OFFICE
from twodrum.commands.new import new_office, template

ROWS: dict[str, list[dict[str, Any]]] = {
    "materials": [
        {
            "system": "Lining A (invented)",
            "component": component,
            "material": f"Lining A {component} (invented)",
            "ratio_part": 1,
            "volume_solids": 100,
            "density": density,
            "density_temperature": 25,
            "thermal_expansion": 0.0007,
            "spray_temperature": spray,
            "spray_low": spray - 10,
            "spray_high": spray + 10,
            "drum_volume": 205,
            "residue": 5,
        }
        for component, density, spray in (("iso", 1110, 65), ("resin", 1020, 65))
    ],
    "processing": [
        {
            "system": "Lining A (invented)",
            "component": component,
            "specific_heat": heat,
            "drum_low": 20,
            "drum_high": 55,
            "heat_limit": 80,
            "pressure_low": 140,
            "pressure_high": 240,
            "temperature_1": 25,
            "viscosity_1": thick,
            "temperature_2": 65,
            "viscosity_2": thin,
        }
        for component, heat, thick, thin in (("iso", 1.8, 800, 80), ("resin", 2.0, 600, 45))
    ],
    "machines": [
        {
            "machine": "Machine A (invented)",
            "pump_output": 4,
            "iso_heater_power": 6,
            "hose_length": 60,
            "port_diameter": 0.55,
        }
    ],
    "crews": [{"crew": "Crew A (invented)", "crew_size": 3, "day_length": 8}],
}
SYSTEM = "Lining A (invented)"
MACHINE = "Machine A (invented)"


def an_office(path: Path, system: str = "metric") -> Path:
    """The office, typed into a new workbook."""
    new_office(path, system)
    book = template(OFFICE)
    cells = {
        address(book, f"{table}.{name}", index, OFFICE): value
        for table, rows in ROWS.items()
        for index, row in enumerate(rows)
        for name, value in row.items()
    }
    return typed(cells, path, source=path)
