"""Codes of problems: each is used, told in the docs, and no other can be given."""

import ast
import re
from pathlib import Path

import pytest

from twodrum.problems import CODES, PROBLEM, Problem

ROOT = Path(__file__).parents[1]
# The functions that word a problem, and the place of the code among what they are given.
TELL = {"Problem": 0, "warn": 0, "refuse": 0, "problem": 0, "_refuse": 0, "note": 0}


def given() -> set[str]:
    """Every text that stands in the place of a code, in all of the source."""
    found = set()
    for path in (ROOT / "src" / "twodrum").rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not isinstance(node, ast.Call):
                continue
            name = getattr(node.func, "attr", getattr(node.func, "id", ""))
            first = node.args[0] if node.args and name in TELL else None
            if isinstance(first, ast.Constant) and isinstance(first.value, str):
                found.add(first.value)
    return found


def test_every_code_is_given_somewhere_and_no_other() -> None:
    assert given() == set(CODES)


def test_the_docs_list_every_code_with_what_it_stands_for() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    listed = dict(re.findall(r"^\| `([a-z-]+)` \| (.+) \|$", text, re.MULTILINE))
    assert listed == CODES


def test_a_code_that_is_not_listed_is_refused() -> None:
    with pytest.raises(AssertionError, match="invented"):
        Problem("invented", "Job!B17", "text")
    assert Problem("missing", "Job!B17", "text").severity == PROBLEM
