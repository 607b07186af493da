"""Units: closed lists, exact factors, texts read as people type them."""

from fractions import Fraction

import pint
import pytest

from tests.grouped import of_each
from twodrum import unit_table, units
from twodrum.units import KINDS, UNIT_TABLE, UnitError, from_si, parse, shown, to_si

# Kinds by their first letter: a few at a time.
every_kind = of_each(KINDS.values(), lambda kind: kind.name[0], lambda kind: kind.name)


def test_committed_factor_table_is_what_pint_computes_today() -> None:
    text = units.make_unit_table()
    namespace: dict[str, object] = {}
    exec(text, namespace)
    assert namespace["UNIT_TABLE"] == unit_table.UNIT_TABLE


@every_kind
def test_unit_texts_of_a_kind_are_unique_ignoring_case_and_hold_no_wildcard(
    kind: units.Kind,
) -> None:
    spellings = [s.casefold() for unit in kind.units for s in (unit.text, *unit.spellings)]
    assert len(set(spellings)) == len(spellings)
    assert not any(character in text for text in kind.unit_texts for character in "*?~")
    assert kind.metric in kind.unit_texts
    assert kind.us in kind.unit_texts


@every_kind
def test_si_symbol_of_a_kind_has_factor_one_or_is_money(kind: units.Kind) -> None:
    if kind.si in kind.unit_texts:
        assert UNIT_TABLE[kind.name][kind.si] == (0.0, 1.0)
    else:
        # A film is never typed in metres; m²/m³ is 1/m; nobody types a litre in cubic metres.
        assert kind.si in (
            *("1", "m", "m²/m³", "money/m³", "money/m²", "money/s"),
            *("kg/m³", "kg/mol", "kg/kg", "m²", "m³/J"),
        )


@pytest.mark.parametrize(
    ("value", "kind", "unit", "si"),
    [
        (1, "volume", "US gal", Fraction(231) * Fraction(254, 10000) ** 3),
        (1, "volume", "imp gal", Fraction(454609, 100000000)),
        (1, "thickness", "mil", Fraction(254, 10000000)),
        (1, "length", "ft", Fraction(3048, 10000)),
        (1, "mass", "lb", Fraction(45359237, 100000000)),
        (32, "temperature", "°F", Fraction(27315, 100)),
        (9, "temperature_difference", "Δ°F", Fraction(5)),
    ],
)
def test_to_si__legal_definition__nist_sp_811_appendix_b(
    value: float, kind: str, unit: str, si: Fraction
) -> None:
    assert to_si(value, kind, unit) == pytest.approx(float(si), rel=1e-15)


def test_psi__legal_pound_and_standard_gravity__nist_sp_811_appendix_b() -> None:
    pound_force = Fraction(45359237, 100000000) * Fraction(980665, 100000)
    psi = pound_force / Fraction(254, 10000) ** 2
    assert to_si(1, "pressure", "psi") == pytest.approx(float(psi), rel=1e-15)


@pytest.mark.parametrize(
    ("text", "kind", "si"),
    [
        ("2 mm", "thickness", 0.002),
        ("80 mil", "thickness", 0.002032),
        ("80 thou", "thickness", 0.002032),
        ("500 um", "thickness", 0.0005),
        ("2,500 psi", "pressure", 17236893.232920904),
        ("65 degC", "temperature", 338.15),
        ("150 degF", "temperature", 338.70555555555563),
        ("-5 °C", "temperature", 268.15),
        ("70 %", "share", 0.7),
        ("0.15", "share", 0.15),
        ("1 US gal", "volume", 0.003785411784),
        ("1 imp gal", "volume", 0.00454609),
        ("1e3 m", "length", 1000.0),
        ("7e-4 1/K", "expansion", 7e-4),
        ("3", "count", 3.0),
    ],
)
def test_parse_reads_what_people_type(text: str, kind: str, si: float) -> None:
    assert parse(text, kind) == pytest.approx(si, rel=1e-14)


def test_mil_is_a_thousandth_of_an_inch_and_not_the_angle_that_pint_means() -> None:
    registry: pint.UnitRegistry = pint.UnitRegistry()  # type: ignore[type-arg]
    assert registry("mil").check("[]")
    assert parse("1 mil", "thickness") == 2.54e-5


@pytest.mark.parametrize(
    ("text", "kind", "message"),
    [
        ("0,5 mm", "thickness", "'0,5' has a decimal comma; a decimal point is wanted; write 0.5"),
        ("1,5", "ratio", "'1,5' has a decimal comma; a decimal point is wanted; write 1.5"),
        ("15", "share", "the share is 15; a share from 0 to 1 is wanted; write 15 % or 0.15"),
        ("1e400 mm", "thickness", "'1e400' is too large a number; a finite number is wanted"),
        (
            "5 °C",
            "temperature_difference",
            "'5 °C' has the unit '°C'; a temperature difference is wanted: K, Δ°C, Δ°F",
        ),
        (
            "5 Δ°C",
            "temperature",
            "'5 Δ°C' has the unit 'Δ°C'; a temperature is wanted: °C, °F, K",
        ),
        (
            "3 gal",
            "volume",
            "'3 gal' has the unit 'gal'; a volume is wanted: L, mL, m³, US gal, imp gal",
        ),
        (
            "80",
            "thickness",
            "'80' has no unit; a thickness is wanted: mm, µm, mil, in; write 80 mm or 80 mil",
        ),
        ("abc", "length", "'abc' is not a number; a number is wanted"),
        ("", "length", "'' is not a number; a number is wanted"),
        ("nan m", "length", "'nan m' is not a number; a number is wanted"),
        ("inf m", "length", "'inf m' is not a number; a number is wanted"),
    ],
)
def test_parse_refuses_with_found_expected_and_mend(text: str, kind: str, message: str) -> None:
    with pytest.raises(UnitError) as refused:
        parse(text, kind)
    assert str(refused.value) == message


@every_kind
def test_every_unit_goes_to_si_and_back(kind: units.Kind) -> None:
    for unit in kind.unit_texts:
        for value in (0.0, 1.0, -3.5, 1234.5):
            assert from_si(to_si(value, kind.name, unit), kind.name, unit) == pytest.approx(
                value, rel=1e-12, abs=1e-12
            )


def test_shown_says_number_and_unit_without_float_noise() -> None:
    assert shown(0.002032, "thickness", "mil") == "80 mil"
    assert shown(0.1 + 0.2, "length", "m") == "0.3 m"
    assert shown(1e-9, "volume", "L") == "1e-06 L"
