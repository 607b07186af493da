"""What is kept of one workbook of many, when it was checked or filled: a few words.

Each command imports what it alone needs when it is run, so that a job is filled at once.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import partial
from io import StringIO
from pathlib import Path
from typing import NamedTuple

from ..engine.evaluate import Values
from ..plainly import plain
from ..xlsx.files import at_work, refuse_open_file
from ..xlsx.package import PackageError
from .already import UNCHANGED, already, asks_more
from .deal import LATEST, Deal
from .fill import Filled, check_file, fill_file
from .refusals import MONTHLY, OF_OFFICE
from .report import as_json, print_filled

CHECKED, FILLED = "checked, nothing written", "filled"
ISSUE, ACCEPT, CHOOSE = QUOTED = "issue", "accept", "choose"


class Done(NamedTuple):
    """One workbook: what was done, what to print of it, how many problems it has."""

    file: Path
    did: str
    text: str = ""
    data: str = ""
    first: str = ""
    problems: int = 0
    refused: bool = False
    left_alone: str = ""

    @property
    def brief(self) -> str:
        """One line of a workbook with problems; "" where there is nothing to tell."""
        if self.refused:
            return self.first
        if not self.problems:
            return ""
        more = f" and {self.problems - 1} more" if self.problems > 1 else ""
        return f"{plain(self.file)}: {self.first}{more}"


@dataclass(frozen=True)
class Task:
    """What to do with each workbook."""

    command: str
    out: Path | None = None
    live: bool = False
    # Of accept: which revision, or that it is withdrawn.
    revision: int = LATEST
    withdraw: bool = False
    # Of choose: which option.
    option: str = ""
    # Of issue: the office workbook that counts the numbers of quotes.
    office: Path | None = None
    as_json: bool = False
    # Workbooks that were named themselves; others come from a folder.
    named: frozenset[Path] = frozenset()

    def __call__(self, file: Path) -> Done:
        """Check or fill one workbook."""
        did = CHECKED
        more = asks_more(self.command, self.out, self.as_json)
        known = None if more else already(file, self.live)
        if known is not None:
            return Done(file, UNCHANGED, f"{known}\n")
        if self.command == "check":
            filled = check_file(file)
            if filled.left_alone == OF_OFFICE and file in self.named:
                from ..books.office import OFFICE

                filled = check_file(file, OFFICE)
        elif self.command in QUOTED:
            filled = self._dealt(file)
            did = filled.said
        else:
            target = self.out
            if target is not None and target.is_dir():
                target /= file.name
            filled = fill_file(file, target, by_functions=self.live)
            if filled.left_alone == MONTHLY and file in self.named:
                return self._month(file, target)
            did = FILLED if filled.changed else UNCHANGED
        if filled.left_alone and file not in self.named:
            return Done(file, "", left_alone=filled.left_alone)
        said, data = StringIO(), ""
        if self.as_json:
            told = as_json(filled)
            if self.command in QUOTED:
                told |= {"revision": filled.revision, "said": filled.said}
            data = json.dumps(told)
        else:
            print_filled(filled, did, said)
        wrong = [plain(p) for p in filled.problems if p.severity == "problem"]
        first = plain(filled.refused) if filled.refused else next(iter(wrong), "")
        refused = bool(filled.refused)
        return Done(file, did, said.getvalue(), data, first, len(wrong), refused)

    def _month(self, file: Path, target: Path | None) -> Done:
        """Fill a workbook of the month with what its store beside it has."""
        from ..books.month import MONTH
        from .month_store import complete

        filled = fill_file(file, target, model=MONTH, complete=partial(complete, file))
        data = json.dumps(as_json(filled)) if self.as_json else ""
        text = f"{plain(file)}: filled, state {filled.state}\n"
        return Done(file, FILLED, text, data, problems=filled.problem_count)

    def _dealt(self, file: Path) -> Filled:
        """Issue or accept the quote of one workbook, or choose an option."""
        today = date.today()
        if self.command == ISSUE:
            from .paper import printed

            filled = self._issued(file, Deal(today, issue=True))
            if not filled.refused:
                filled.said += f"; {printed(file, filled.revision, self.out or file.parent)}"
            return filled
        if self.command == CHOOSE:
            return fill_file(file, deal=Deal(today, option=self.option))
        accept = None if self.withdraw else self.revision
        return fill_file(file, deal=Deal(today, accept=accept, withdraw=self.withdraw))

    def _issued(self, file: Path, deal: Deal) -> Filled:
        """Issue the quote of one workbook, numbered by the office where it is named."""
        if self.office is None:
            return fill_file(file, deal=deal)
        from .register import Register

        try:
            refuse_open_file(self.office)
            with at_work(self.office):
                quotes = Register(self.office)
                number = quotes.next(deal.on)
                return fill_file(file, deal=replace(deal, number=number, enter=quotes.enter))
        except PackageError as error:
            return Filled(file, Values(), [], "REFUSED", refused=f"{self.office}: {error}")


def died(file: Path) -> Done:
    """What to say of a workbook that ended its process twice."""
    text = f"{plain(file)}: its process ended twice while it was worked on; it is as it was before"
    return Done(file, "", f"{text}\n", "", text, refused=True)


def summary(done: Sequence[tuple[str, int, bool]], seconds: float) -> str:
    """How many workbooks became what."""
    well = [did for did, _, refused in done if not refused]
    counts = {
        "filled": sum(did.startswith(FILLED) for did in well),
        "issued": sum(did.startswith(("quote ", "revision ")) for did in well),
        "already filled": sum(did.startswith(UNCHANGED) for did in well),
        "checked": well.count(CHECKED),
        "with problems": sum(problems > 0 and not refused for _, problems, refused in done),
        "refused": sum(refused for _, _, refused in done),
    }
    said = ", ".join(f"{count} {word}" for word, count in counts.items() if count)
    return f"{len(done)} workbooks in {seconds:.0f} s: {said or 'nothing to do'}"
