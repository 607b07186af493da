"""Check tables: rows of outside values, read for every host."""

import csv
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True)
class Row:
    """One outside value."""

    id: str
    function: str
    arguments: dict[str, str]
    expected: float
    unit: str
    tolerance: float
    source: str
    provenance: str


def rows(name: str) -> list[Row]:
    """Every row of one table."""
    with (Path(__file__).parent / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return [
            Row(
                line["id"],
                line["function"],
                dict(part.split("=", 1) for part in line["arguments"].split("; ")),
                float(line["expected"]),
                line["unit"],
                float(line["tolerance"]),
                line["source"],
                line["provenance"],
            )
            for line in csv.DictReader(file)
        ]
