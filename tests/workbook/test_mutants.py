"""Spoiled bytes end in a sentence; the script beside it does many more."""

from pathlib import Path

from tests.mutants import run
from tests.workbook.typing import small_job
from twodrum.commands.fill import fill_file


def test_every_mutant_of_a_job_ends_with_a_status_of_ours(tmp_path: Path) -> None:
    path = small_job(tmp_path / "job.xlsx")
    fill_file(path)
    found = run(36, path.read_bytes(), every=2)
    assert set(found) <= {"0", "1", "2"}, found
    # Some changes are harmless, most are not.
    assert found["2"] > 6
