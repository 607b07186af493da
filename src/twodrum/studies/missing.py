"""What is missing before a job can be held against its quote."""

from __future__ import annotations

from typing import Any, NamedTuple

from ..core.mix import LINING
from ..engine.evaluate import Reader
from .words import rounded

SOURCE = "Accepted quote, litres used, billed area"
CAPACITY = 5
READS = (
    *("accepted_lining_volume", "accepted_billed_area_total", "used_volume"),
    *("second_volume", "second_used", "iso_used", "resin_used"),
    *("volume_over_quote", "use_over_quote"),
)


class Missing(NamedTuple):
    """What is missing before a job can be held against its quote."""

    missing_what: Any
    missing_words: Any


def missing(reader: Reader) -> list[Missing]:
    """Rows of (what, in words)."""
    values = {name: reader.cell(name) for name in READS}
    rows = []
    if values["accepted_lining_volume"].si is None:
        words = "No quote was accepted: run twodrum accept when the customer says yes."
        rows.append(Missing("Accepted quote", words))
    first = [values[f"{side}_used"].si for side in LINING]
    if values["used_volume"].si is None and None in first:
        words = "Nothing is known of the litres used: type levels on Readings, or weights on Job."
        rows.append(Missing("Litres used", words))
    second = values["second_volume"]
    if second.si:
        words = "Litres of both linings stand together below, each at its own price; what is off "
        words += "the ratio is that of iso and resin, Mix has the second one."
        if values["second_used"].si is None:
            words = "Litres used of the second lining are not known: weigh its drums, on Drums, or "
            words += "type its levels on Readings."
        rows.append(Missing("Second lining", words))
    over, share = values["volume_over_quote"], values["use_over_quote"]
    if over.si is not None and share.si is not None:
        more = "more" if over.si > 0 else "less"
        words = f"{rounded(abs(over.si), over)} {more} than quoted was drawn; for each billed area "
        more = "more" if share.si > 0 else "less"
        words += f"that is {abs(share.si) * 100:.1f} % {more}. Litres of an unfinished job say "
        words += "nothing yet."
        rows.append(Missing("Against the quote", words))
    return rows
