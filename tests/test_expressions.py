"""Arithmetic as a line of text: what it gives, refuses and says, live and in the engine."""

import ast
from decimal import Decimal
from typing import Any

import pint
import pytest

from tests.grouped import of_each
from twodrum.books.month import MONTH
from twodrum.books.whole import JOB
from twodrum.catalogue import BY_CALL
from twodrum.core.inputs import InputError
from twodrum.engine.expressions import Expression, expression, is_expression
from twodrum.engine.order import function_of
from twodrum.engine.references import Agg, Lookup, Name, Row
from twodrum.units import UNIT_TABLE


def run(text: str, kind: str = "number", **values: Any) -> Any:
    line = expression(text, kind)
    names = [reference.name for reference in line.references if isinstance(reference, Name)]
    return line.run(
        {a.name: values.get(name) for a, name in zip(line.arguments, names, strict=True)}
    )


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("a + b * c", 2 + 3 * 4),
        ("(a + b) * c", (2 + 3) * 4),
        ("c - (b - a)", 4 - (3 - 2)),
        ("c - b - a", 4 - 3 - 2),
        ("c / b / a", 4 / 3 / 2),
        ("c / (b / a)", 4 / (3 / 2)),
        ("-a * b", -2 * 3),
        ("max(0, a - b)", 0),
        ("min(a, b, c)", 2),
        ("mean(a, b)", 2.5),
        ("1 - a / c", 0.5),
        ("round_up(c / b)", 2),
        ("zero_if_blank(nothing) + a", 2),
        ("first_known(nothing, b)", 3),
    ],
)
def test_arithmetic_is_that_of_python(text: str, expected: float) -> None:
    found = run(text, a=2.0, b=3.0, c=4.0, ceiling_guard=1e-9)
    assert found == pytest.approx(expected, rel=1e-15)


@pytest.mark.parametrize(
    ("text", "native"),
    [
        ("(a + b) * c", "({a0}+{a1})*{a2}"),
        ("a - (b - c)", "{a0}-({a1}-{a2})"),
        ("a - b - c", "{a0}-{a1}-{a2}"),
        ("a / (b * c)", "{a0}/({a1}*{a2})"),
        ("a * (1 + b)", "{a0}*(1+{a1})"),
        ("round_money(a * b)", "ROUND({a0}*{a1},{a2})"),
        ("max(0, round_up(a / b))", "MAX(0,(-INT({a2}-{a0}/{a1})))"),
        ("round_up(a - b)", "(-INT({a2}-({a0}-{a1})))"),
        ('a if rule == "by volume" else b', 'CHOOSE(1+({a0}<>"by volume"),{a1},{a2})'),
        ("first_known(a, b)", "CHOOSE(1+COUNTBLANK({a0}),{a0},{a1})"),
        ("zero_if_blank(a) + b", "N({a0})+{a1}"),
    ],
)
def test_the_live_formula_keeps_what_holds_together(text: str, native: str) -> None:
    assert expression(text, "number").native == native


def test_references_are_read_from_the_text() -> None:
    text = 'row.need * order["iso"].drums + materials[row.component].price + sum(areas.film) + a'
    assert expression(text, "number").references == (
        Row("need"),
        Lookup("order", "iso", "drums"),
        Lookup("materials", Row("component"), "price"),
        Agg("areas", "film"),
        Name("a"),
    )
    part = expression('sum(areas.film, blank="film_override")', "volume").references
    assert part == (Agg("areas", "film", blank="film_override"),)


@pytest.mark.parametrize(
    "text",
    [
        *("a + 2", "a ** b", "a // b", "open(a)", "lambda: a", "a.b", "[a]", "a < b"),
        *("a if b else c", "a if b == c else d", "first_known(a)"),
        *("a if b >= a else refuse", "a if b + 1 <= a else refuse", "refuse if b <= a else a"),
        *("sum(areas.film, blank=b)", 'sum(areas.film, of="b", by="c")', "sum(areas.film, of=b)"),
        *('{"a": b}[c + d]', "{a: b}[c]", "{**a}[b]", "[a, b][c + d]", "[a][0]"),
    ],
)
def test_what_is_not_of_the_grammar_is_refused_when_it_is_read(text: str) -> None:
    assert is_expression(text)
    with pytest.raises(ValueError, match="is no part of an expression"):
        expression(text, "number")


def test_a_value_above_its_bound_is_refused_and_named__live_and_in_the_engine() -> None:
    line = expression("(a - b) / c if b <= a else refuse", "number")
    assert (line.native, line.guards) == ("({a1}-{a0})/{a2}", ("{a0}<={a1}",))
    assert line.references == (Name("b"), Name("a"), Name("c"))
    assert line.run({"a0": 1.0, "a1": 4.0, "a2": 2.0}) == 1.5
    with pytest.raises(InputError) as refused:
        line.run({"a0": 5.0, "a1": 4.0, "a2": 2.0})
    error = refused.value
    assert (error.argument, error.requirement, error.bound) == ("a0", "at most", 4.0)
    strict = expression("a if b < a else refuse", "number")
    with pytest.raises(InputError):
        strict.run({"a0": 4.0, "a1": 4.0})


def test_money_is_exact_and_all_else_a_float() -> None:
    # In floats 0.1 + 0.2 is 0.30000000000000004.
    found = run("a + b", "money", a=Decimal("0.1"), b=Decimal("0.2"))
    assert found == Decimal("0.3")
    share = run("1 - a / b", "share", a=Decimal("1"), b=Decimal("4"))
    assert type(share) is float and share == 0.75
    # Half a cent goes away from zero, as in a worksheet.
    rounded = run("round_money(a * b)", "money", a=2.675, b=1.0, money_decimals=2)
    assert rounded == Decimal("2.68")


@pytest.mark.parametrize(
    ("table", "column", "given", "expected"),
    [
        # Reference MIX-05g, n*(drum-residue)-V, and REC-02a, m/rho with the package uncertainties.
        (
            "order",
            "left_over",
            {"stock_volume": 0, "drums_to_buy": 3, "usable_volume": 0.2, "needed_volume": 0.5},
            0.1,
        ),
        ("order", "usable_volume", {"drum_volume": 0.205, "residue": 0.005}, 0.2),
        ("drums", "by_weight", {"drum_mass": 450, "drum_density": 1100}, 0.409090909090909),
    ],
)
def test_lines_of_the_job__reference_values(
    table: str, column: str, given: dict[str, float], expected: float
) -> None:
    line = function_of(JOB.column_item(table, column))  # type: ignore[arg-type]
    assert isinstance(line, Expression)
    names = [reference.column for reference in line.references if isinstance(reference, Row)]
    values = {a.name: given[name] for a, name in zip(line.arguments, names, strict=True)}
    assert line.run(values) == pytest.approx(expected, rel=1e-8)


def lines() -> list[tuple[str, Any, Expression]]:
    found = []
    for model in (JOB, MONTH):
        for item in model.outcomes():
            line = function_of(item)
            if isinstance(line, Expression):
                found.append((f"{model.name} {item.name}", (model, item), line))
    return found


LINES = lines()
# The unit in which each kind is reckoned; counts have none.
MONEY_KINDS = {
    "money": "money",
    "price_per_volume": "money/m**3",
    "price_per_time": "money/s",
    "price_per_area": "money/m**2",
}
PLAIN = {
    # Words.
    "pricing_basis": "",
    "days": "",
    "drums": "",
    "sets": "",
    "count": "",
    "people": "",
    "date": "",
    "fixed": "",
    "decimals": "",
}


def unit_of(kind: str) -> str:
    """The unit in which a kind is reckoned, in words of the library of units."""
    if kind in MONEY_KINDS or kind in PLAIN:
        return MONEY_KINDS.get(kind, "")
    by_si = [text for text, (add, times) in UNIT_TABLE[kind].items() if (add, times) == (0.0, 1.0)]
    return SI.get(kind, by_si[0] if by_si else "")


SI = {
    "temperature": "kelvin",
    "temperature_difference": "kelvin",
    "volume": "m**3",
    "area": "m**2",
    "length": "m",
    "thickness": "m",
    "mass": "kg",
    "time": "s",
    "pressure": "Pa",
    "power": "W",
    "energy": "J",
    "density": "kg/m**3",
    "viscosity": "Pa*s",
    "volume_flow": "m**3/s",
    "volume_per_area": "m",
    "specific_heat": "J/kg/K",
    "heat_capacity": "J/K",
    "heat_rate": "W/K",
    "power_per_length": "W/m",
    "share": "",
    "ratio": "",
    "factor": "",
    "number": "",
}


def kind_of(model: Any, item: Any, reference: Any) -> str:
    if isinstance(reference, Name):
        constant = [one for one in model.constants if one.name == reference.name]
        return "number" if constant else str(model.item(reference.name).kind)
    table = item.table if isinstance(reference, Row) else reference.table
    return str(model.column_item(table, reference.column).kind)


UNITS = pint.UnitRegistry()
UNITS.define("money = [money]")
# What an amount is rounded, picked or taken for is of the same kind as itself.
ALIKE = ("round_money", "round_up", "zero_if_blank", "max", "min", "mean", "first_known")


def reckoned(node: ast.expr, kinds: list[str]) -> Any:
    """The unit of a line, its references taken in their order; None where any will do."""
    if isinstance(node, ast.Constant):
        return None if node.value == 0 else UNITS.Unit("")
    if isinstance(node, ast.UnaryOp):
        return reckoned(node.operand, kinds)
    if isinstance(node, ast.IfExp):
        then = reckoned(node.body, kinds)
        if isinstance(node.orelse, ast.Name) and node.orelse.id == "refuse":
            # What is compared is of one kind.
            same([UNITS.Unit(unit_of(kinds.pop(0))) for _ in range(2)], node)
            return then
        kinds.pop(0)
        return same([then, reckoned(node.orelse, kinds)], node)
    if isinstance(node, ast.Subscript) and isinstance(node.value, (ast.Dict, ast.List)):
        several = node.value
        values = several.values if isinstance(several, ast.Dict) else several.elts
        found = same([reckoned(one, kinds) for one in values], node)
        kinds.pop(0)
        return found
    if isinstance(node, ast.BinOp):
        left, right = reckoned(node.left, kinds), reckoned(node.right, kinds)
        if isinstance(node.op, (ast.Add, ast.Sub)):
            return same([left, right], node)
        return left * right if isinstance(node.op, ast.Mult) else left / right
    if isinstance(node, ast.Call) and getattr(node.func, "id", "") in ALIKE:
        return same([reckoned(one, kinds) for one in node.args], node)
    if isinstance(node, ast.Call) and getattr(node.func, "id", "") in BY_CALL:
        function = BY_CALL[node.func.id]  # type: ignore[attr-defined]
        for argument, one in zip(function.arguments, node.args):
            same([UNITS.Unit(unit_of(argument.kind)), reckoned(one, kinds)], node)
        return UNITS.Unit(unit_of(function.kind))
    return UNITS.Unit(unit_of(kinds.pop(0)))


def same(found: list[Any], node: ast.expr) -> Any:
    known = [one for one in found if one is not None]
    assert len({str(one.dimensionality) for one in known}) == 1, ast.unparse(node)
    return known[0]


def in_order(text: str, where: Any) -> list[str]:
    """Kinds of the references as they stand in the text, each as often as it is read."""
    model, item = where
    found = []
    nodes = list(ast.walk(ast.parse(text, mode="eval")))
    called = [node.func for node in nodes if isinstance(node, ast.Call)]
    for node in nodes:
        inner = isinstance(node, ast.Name) and node.id not in ("row", "refuse")
        inner = inner and node not in called
        if inner or isinstance(node, ast.Attribute):
            found.append(node)
    texts = sorted(
        found, key=lambda node: (node.lineno, node.col_offset, -(node.end_col_offset or 0))
    )
    kinds, end = [], -1
    for node in texts:
        if node.col_offset < end:
            continue
        end = node.end_col_offset or 0
        if text[: node.col_offset].endswith("sum("):
            reference: Any = Agg(node.value.id, node.attr)  # type: ignore[attr-defined]
        else:
            reference = expression(f"{ast.unparse(node)} + 0", "number").references[0]
        kinds.append(kind_of(model, item, reference))
    return kinds


@of_each(LINES, lambda one: one[0].split()[0], lambda one: one[0], spread=True)
def test_no_line_adds_what_is_unlike__units_reckoned_by_pint(
    name: str, where: Any, line: Expression
) -> None:
    kinds = in_order(line.text, where)
    found = reckoned(ast.parse(line.text, mode="eval").body, kinds)
    assert not kinds
    # Days and sets are counted: they have no unit of their own.
    if where[1].kind not in ("date",):
        assert found.dimensionality == UNITS.Unit(unit_of(where[1].kind)).dimensionality, name


def test_a_line_that_adds_litres_and_money_would_be_found() -> None:
    cost = next(item for item in JOB.cells if item.name == "cost_total")
    line = expression("lining_cost + lining_volume", "money")
    kinds = in_order(line.text, (JOB, cost))
    with pytest.raises(AssertionError, match="lining_cost \\+ lining_volume"):
        reckoned(ast.parse(line.text, mode="eval").body, kinds)
