"""The film held against what was asked for: each reading, each surface, what is still owed."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Any, NamedTuple

from ..core import acceptance, spots
from ..core.adhesion import (
    THICK_FROM,
    THIN_UP_TO,
    spark_voltage_by_root,
    spark_voltage_by_thickness,
    spark_voltage_of_line_pipe,
    spark_voltage_of_pipeline,
)
from ..core.comparison import sample_deviation
from ..engine.evaluate import Reader, Value, waits_for
from ..problems import with_capital
from .systems import FURTHER
from .words import NOTHING, name_key, rounded, said

SINGLE_READINGS = "single readings, as ISO 19840"
SPOT_MEANS = "spots, as SSPC-PA 2"
NINE_TENTHS = "nine tenths, as IMO PSPC"
RULES = (SINGLE_READINGS, SPOT_MEANS, NINE_TENTHS)
FEWER, AT_MOST = "fewer than a fifth", "at most a fifth"
LOW_READINGS = (FEWER, AT_MOST)
LEVEL_WORDS = tuple(f"level {level}" for level in spots.LEVELS)
NO_PROFILE = "none"
GRADES = (NO_PROFILE, *acceptance.PROFILE_GRADES)

SOURCE = "ISO 19840 and SSPC-PA 2 as read second-hand: check the edition that is specified"
CAPACITY = 300
SPRAY_AGAIN_CAPACITY = 100
READINGS = ("reading_1", "reading_2", "reading_3")
COLUMNS = ("film_surface", "film_place", *READINGS, "spot")
AREAS = ("surface", "measured_area", "film_here", "system_most")
READS = (
    *(f"film.{name}" for name in COLUMNS),
    *(f"areas.{name}" for name in AREAS),
    *("film_rule", "low_readings", "restriction_level", "profile_grade", "film_basis"),
)


class Checked(NamedTuple):
    """The film of one surface against its rule."""

    checked_surface: Any
    checked_words: Any
    checked_count: Any
    checked_mean: Any
    checked_low: Any
    checked_high: Any
    checked_spread: Any
    checked_owed: Any


class Again(NamedTuple):
    """One place that asks for work."""

    again_surface: Any
    again_words: Any
    again_place: Any


class Voltage(NamedTuple):
    """One published rule for the voltage of a holiday test."""

    voltage_rule: Any
    voltage_film: Any
    voltage_words: Any
    voltage: Any


@dataclass(frozen=True)
class Rule:
    """How readings are judged."""

    name: str
    strict: bool
    level: str
    correction: float
    most: float | None
    basis: str

    def least(self, film: float) -> float:
        """The lowest value that may stand at all."""
        if self.name == SPOT_MEANS:
            return spots.lowest_spot(film, self.level)
        if self.name == NINE_TENTHS:
            return 0.9 * film
        return film if self.basis == "minimum" else acceptance.SMALLEST_SHARE * film

    def highest(self) -> float | None:
        """The highest value that may stand, where there is a limit."""
        if self.most is None or self.name != SPOT_MEANS:
            return self.most
        if spots.LEVEL_HIGH[self.level] is None:
            return None
        return spots.highest_spot(self.most, self.level)

    def values(self, row: dict[str, Value]) -> list[float]:
        """What a row adds: its spot, or each of its readings, less the correction."""
        names = ("spot",) if self.name == SPOT_MEANS else READINGS
        typed = [row[name].si for name in names]
        return [value - self.correction for value in typed if value is not None]

    def owed(self, count: int, area: float | None, metric: bool) -> int | None:
        """Readings or spots that are still to be taken."""
        if area is None or area <= 0 or self.name == NINE_TENTHS:
            return None
        wanted = acceptance.reading_count(area)
        if self.name == SPOT_MEANS:
            wanted = spots.SPOTS * spots.spot_area_count(area, metric)
        return max(0, int(wanted) - count)

    def wrong(self, value: float, film: float) -> bool:
        """Whether one value may not stand, whatever the others are."""
        most = self.highest()
        thick = most is not None and value > most * (1 + 1e-12)
        return thick or value < self.least(film) * (1 - 1e-12)

    def whole_areas(self, values: list[float]) -> list[list[float]]:
        """Spots by fives, each an area of about 10 m²; an unfinished one is left out."""
        count = len(values) // spots.SPOTS
        return [values[n * spots.SPOTS : (n + 1) * spots.SPOTS] for n in range(count)]

    def accepts(self, values: list[float], film: float) -> bool:
        """Whether the values of one surface pass."""
        if self.name == NINE_TENTHS:
            passed = acceptance.film_keeps_nine_tenths(values, film)
            return passed and (self.most is None or max(values) <= self.most * (1 + 1e-12))
        if self.name == SPOT_MEANS:
            return not any(self.wrong(value, film) for value in values) and all(
                spots.spots_are_accepted(group, film, self.most, self.level)
                for group in self.whole_areas(values)
            )
        if self.basis == "minimum":
            high = self.most is None or max(values) <= self.most * (1 + 1e-12)
            return min(values) >= film * (1 - 1e-12) and high
        return acceptance.film_is_accepted(values, film, self.most, self.strict)


def film_check(reader: Reader) -> list[Checked]:
    """Rows of (surface, words, count, mean, lowest, highest, spread, owed).

    A verdict stands beside each row of Film.
    """
    rows = reader.rows("film", COLUMNS)
    surfaces = reader.rows("areas", AREAS)
    values = {name: reader.cell(name) for name in READS if "." not in name}
    refused = waits_for(*values.values())
    if refused:
        reader.give("film.verdict", [refused for _ in rows])
        return []
    rule = Rule(
        str(values["film_rule"].si),
        values["low_readings"].si == FEWER,
        str(values["restriction_level"].si).split()[-1],
        correction(values["profile_grade"]),
        None,
        str(values["film_basis"].si),
    )
    known = _known(reader, surfaces, {name_key(row["film_surface"]) for row in rows})
    verdicts: list[Any] = []
    groups: dict[str, list[dict[str, Value]]] = {}
    for row in rows:
        name = row["film_surface"]
        area = known.get(name_key(name))
        verdicts.append(_verdict(reader, row, rule, area))
        if area is not None:
            groups.setdefault(str(area["surface"].si), []).append(row)
    reader.give("film.verdict", verdicts)
    return [
        _surface(reader, known[name.strip().casefold()], own, rule) for name, own in groups.items()
    ]


def correction(grade: Value) -> float:
    """What the profile takes off every reading."""
    if grade.si in (None, NO_PROFILE):
        return 0.0
    return acceptance.profile_correction(str(grade.si))


def _known(
    reader: Reader, surfaces: list[dict[str, Value]], read: set[str]
) -> dict[str, dict[str, Value]]:
    """The surfaces of Areas by their names; one that stands twice counts as its first row."""
    known: dict[str, dict[str, Value]] = {}
    for area in surfaces:
        name = area["surface"]
        if name.si is None:
            continue
        first = known.setdefault(name_key(name), area)
        if first is not area and name_key(name) in read:
            told = f"{name.si} stands here a second time; its film is judged by the row of "
            reader.warn("repeated", name, told + first["surface"].where)
    return known


def _verdict(
    reader: Reader, row: dict[str, Value], rule: Rule, area: dict[str, Value] | None
) -> Any:
    name = row["film_surface"]
    refused = waits_for(*row.values(), *([area["system_most"]] if area else []))
    if refused:
        return refused
    if area is None:
        words = f"Areas has no surface '{name.si}': not judged"
        reader.warn("unknown-surface", name, words)
        return with_capital(words)
    film = area["film_here"]
    if film.si is None:
        return waits_for(film) or "Film of this surface is not known: not judged"
    rule = _of_area(rule, area)
    if rule.most is not None and rule.most < film.si:
        return "Asked for is more than the film may ever be, see Areas: not judged"
    values = rule.values(row)
    if min(values) < 0:
        return "Less than what the profile takes off: not a film"
    like = row["reading_1"]
    if rule.name == SPOT_MEANS and any(row[reading].si is None for reading in READINGS):
        return f"{_judged(values, film.si, rule, like)}. A spot is the mean of three readings"
    return _judged(values, film.si, rule, like)


def _of_area(rule: Rule, area: dict[str, Value]) -> Rule:
    """The rule with the most that the data sheet of a surface's system allows."""
    return replace(rule, most=area["system_most"].si)


def _judged(values: list[float], film: float, rule: Rule, like: Value) -> str:
    low, high = min(values), max(values)
    least, most = rule.least(film), rule.highest()
    if low < least * (1 - 1e-12):
        return f"Too thin: {rounded(low, like)}, {rounded(least, like)} is the least; spray again"
    if most is not None and high > most * (1 + 1e-12):
        return f"Too thick: {rounded(high, like)}, {rounded(most, like)} is the most; ask"
    if low < film * (1 - 1e-12):
        return f"{NOTHING}; counts among the low ones"
    return NOTHING


def _surface(
    reader: Reader, area: dict[str, Value], rows: list[dict[str, Value]], rule: Rule
) -> Checked:
    name, film, size = (area[key] for key in ("surface", "film_here", "measured_area"))
    rule = _of_area(rule, area)
    usable = [row for row in rows if not waits_for(*row.values())]
    values = [value for row in usable for value in rule.values(row)]
    above = film.si is not None and rule.most is not None and rule.most < film.si
    unknown = film.si is None or area["system_most"].refused
    if not values or unknown or above or min(values, default=0.0) < 0:
        return Checked(name.si, "Not judged: see the rows on Film.", len(values), *[None] * 5)
    like = rows[0]["reading_1"]
    mean = math.fsum(values) / len(values)
    spread = None
    if len(values) > 1 and mean > 0:
        spread = sample_deviation(values) / mean
    owed = rule.owed(len(values), size.si, size.unit == "m²")
    left_out = len(rows) - len(usable)
    words = _said(values, mean, film, rule, like)
    wrong = sum(rule.wrong(value, film.si) for value in values)
    what = "spots" if rule.name == SPOT_MEANS else "readings"
    if left_out:
        words = f"Not fully judged, {left_out} rows have something to mend. {with_capital(words)}"
    elif wrong or (not owed and not rule.accepts(values, film.si)):
        words = f"Fails: {words}"
        where = "where to spray again is told" if wrong else "Film check says why"
        reader.warn("film-fails", name, f"the film of {name.si} fails its rule; {where}")
    elif not rule.accepts(values, film.si):
        words = f"Not yet: {words}"
    elif owed:
        words = f"Passes so far: {words}"
    else:
        words = f"Passes: {words}"
    if owed:
        words += f" {owed} {what} are still to be taken."
    return Checked(name.si, words, len(values), mean, min(values), max(values), spread, owed)


def _said(values: list[float], mean: float, film: Value, rule: Rule, like: Value) -> str:
    """What speaks against the film of a surface, or that nothing does."""
    told = []
    if rule.name == SPOT_MEANS:
        told += _areas_said(values, film, rule, like)
    elif mean < film.si * (1 - 1e-12):
        told.append(f"the mean {rounded(mean, like)} is below the {said(like, film.si)} asked for")
    least, most = rule.least(film.si), rule.highest()
    thin = sum(value < least * (1 - 1e-12) for value in values)
    if thin:
        told.append(f"{thin} of {len(values)} are below {rounded(least, like)}")
    low = sum(value < film.si * (1 - 1e-12) for value in values)
    if rule.name == SINGLE_READINGS and rule.basis != "minimum":
        allowed = acceptance.allowed_low_readings(len(values), rule.strict)
        if low > allowed:
            told.append(f"{low} of {len(values)} are below nominal, {allowed} may be")
    if rule.name == NINE_TENTHS and low > len(values) / 10 + 1e-9:
        told.append(f"{low} of {len(values)} are below nominal, a tenth may be")
    if most is not None and max(values) > most * (1 + 1e-12):
        told.append(f"the thickest {rounded(max(values), like)} is above {rounded(most, like)}")
    if not told:
        told.append(f"mean {rounded(mean, like)}, {low} of {len(values)} below the film asked for")
    return "; ".join(told) + "."


def _areas_said(values: list[float], film: Value, rule: Rule, like: Value) -> list[str]:
    """Areas of five spots whose mean leaves the range."""
    told = []
    for number, group in enumerate(rule.whole_areas(values), 1):
        mean = math.fsum(group) / len(group)
        spots_said = f"the mean of spots {(number - 1) * spots.SPOTS + 1} to {number * spots.SPOTS}"
        if mean < film.si * (1 - 1e-12):
            told.append(f"{spots_said}, {rounded(mean, like)}, is below {said(like, film.si)}")
        elif rule.most is not None and mean > rule.most * (1 + 1e-12):
            told.append(f"{spots_said}, {rounded(mean, like)}, is above {said(like, rule.most)}")
    return told


def spray_again(reader: Reader) -> list[Again]:
    """Rows of (surface, words, place): where the film is too thin or too thick."""
    columns = {
        name: reader.cells("film", name) for name in ("film_surface", "film_place", "verdict")
    }
    found = []
    for surface, place, verdict in zip(*columns.values()):
        if str(verdict.si or "").startswith(("Too thin", "Too thick")):
            found.append(Again(surface.si, f"{verdict.si}.", place.si))
    return found


AGAIN_READS = ("film.film_surface", "film.film_place", "film.verdict")
OF_SYSTEM = {f"system {n}": f"system_{n}_film" for n in FURTHER}
VOLTAGE_READS = ("film_thickness", *OF_SYSTEM.values(), "areas.system", "volts_per_thickness")
# Four rules at each film, and the danger.
VOLTAGE_CAPACITY = 4 * (1 + len(FURTHER)) + 1
VOLTAGE_SOURCE = "Each rule is named in its row; none is an instruction"
CONFIRM = "A candidate to confirm in the specification, below the supplier's limit."
UNKNOWN = "Type the volts that the specification gives for each thickness."
DANGER = (
    "High voltage: trained people, the film cured and dry, the work earthed, nobody touching it, "
    "no solvent vapour."
)


def voltages(reader: Reader) -> list[Voltage]:
    """Rows of (rule, film, words, voltage): candidates of a holiday test at each system's film."""
    of_job, volts = reader.value("film_thickness"), reader.value("volts_per_thickness")
    named = set(reader.column("areas", "system"))
    others = {system: reader.value(name) for system, name in OF_SYSTEM.items()}
    films = [of_job, *(film for system, film in others.items() if system in named)]
    known = dict.fromkeys(film for film in films if film is not None)
    found = [row for film in known for row in _candidates(film, volts)]
    return [*found, Voltage("Before any of them", None, DANGER, None)] if found else []


def _candidates(film: float, volts: float | None) -> list[Voltage]:
    each = None if volts is None else spark_voltage_by_thickness(film, volts)
    pipeline = None
    if not THIN_UP_TO < film < THICK_FROM:
        pipeline = spark_voltage_of_pipeline(film)
    nothing = "Between 1.016 and 1.041 mm this rule says nothing."
    return [
        Voltage("Root of the film, as SP0274", film, CONFIRM, spark_voltage_by_root(film)),
        Voltage(
            "Older pipelines, as ASTM G62",
            film,
            CONFIRM if pipeline is not None else nothing,
            pipeline,
        ),
        Voltage("Volts for each thickness", film, UNKNOWN if each is None else CONFIRM, each),
        Voltage("Practice for line pipe", film, CONFIRM, spark_voltage_of_line_pipe(film)),
    ]
