"""Every workbook of ours against the schema of Open XML, by a validator that is not ours."""

from datetime import date
from pathlib import Path

import pytest
from openxml_audit import OpenXmlValidator, ValidationSeverity

from tests import made
from tests.workbook.day import day_cells
from tests.workbook.typing import accept_on, typed
from twodrum.commands.fill import fill_file
from twodrum.commands.month import roll_up
from twodrum.resources import resource


def errors(path: Path) -> list[str]:
    """What the validator finds wrong; its remark that texts stand in their cells is none."""
    found = OpenXmlValidator().validate(str(path)).errors
    return [
        f"{error.part_uri}: {error.description}"
        for error in found
        if error.severity is not ValidationSeverity.WARNING
    ]


@pytest.mark.parametrize("name", ["job", "office", "functions"])
def test_a_template_is_valid_open_xml__openxml_audit(name: str) -> None:
    assert errors(resource("workbook_templates", f"{name}.xlsx")) == []


def test_a_job_filled_by_functions_is_valid_open_xml__openxml_audit(tmp_path: Path) -> None:
    job = typed(day_cells(), tmp_path / "job.xlsx")
    fill_file(job, by_functions=True)
    assert errors(job) == []


def test_the_validator_finds_a_rule_that_is_none(tmp_path: Path) -> None:
    from twodrum.xlsx.package import Package

    package = Package.open(resource("workbook_templates", "office.xlsx"))
    for name in package.names():
        if "worksheets/sheet" in name and name.endswith(".xml"):
            data = package.read(name)
            package.replace(name, data.replace(b'type="decimal"', b'type="number"'))
    (tmp_path / "office.xlsx").write_bytes(package.to_bytes())
    assert errors(tmp_path / "office.xlsx") != []


def test_a_month_with_an_accepted_quote_is_valid__openxml_audit(tmp_path: Path) -> None:
    made.demo(tmp_path)
    (tmp_path / "job-to-mend.xlsx").unlink()
    job = tmp_path / "job-us.xlsx"
    assert not fill_file(job, deal=accept_on(date(2026, 11, 28))).refused
    target = tmp_path / "month.xlsx"
    roll_up(tmp_path, target)
    assert errors(target) == []
