"""Hostile files end in one sentence and a status of ours, and keep their bytes."""

import re
from collections.abc import Callable

import pytest

from tests.hostile import FILES, LARGE, answered
from tests.workbook.typing import small_job


@pytest.fixture(scope="module")
def job(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    path = tmp_path_factory.mktemp("hostile") / "job.xlsx"
    return small_job(path).read_bytes()


@pytest.mark.parametrize(
    ("name", "make", "expected"),
    [file for file in FILES if file[0] not in LARGE],
    ids=[file[0] for file in FILES if file[0] not in LARGE],
)
def test_a_hostile_file_ends_in_its_sentence(
    name: str, make: Callable[[bytes], bytes], expected: str, job: bytes
) -> None:
    status, _, _, words, same = answered(make(job))
    assert re.search(expected, words), words
    assert status in (0, 2) and same == (status == 2)
    if status == 2:
        # What was found, and how to mend it; then nothing more.
        assert "; " in words and "Traceback" not in words
        assert words.count("job.xlsx") == 0
