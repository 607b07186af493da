"""Arithmetic as one readable line: parsed once, run by the engine, written as a live formula.

    lining_cost + surface_cost             names of single values, + - * / and 0, 1
    row.gun_time + preparation_time        a column of the same row
    order["iso"].drums_opened              a row found by its key, or by row.component
    sum(areas.film_volume)                 a column taken together, of the rows in which
                                           typed="film_override" or blank="..." is so, or a
                                           column says a word, system="system 2"
    max(0, a), min(a, b), mean(a, b)       least, most, middle
    round_money(a * b)                     to the decimals of an amount, as a worksheet rounds
    round_up(a / b)                        to a whole number, unless it is one but for noise
    film_volume(a, b, c)                   a function of the catalogue, by all its arguments
    zero_if_blank(a)                       a value that may stay blank
    first_known(a, b)                      alone: the second counts where the first is blank
    a if tax_rule == "on the total" else b
                                           alone, of two references: the other is not looked at
    {"system 2": a, None: b}[row.system]   the value of a word, None for that of a blank
    [a, b][row.place]                      the first where it is 0, the second where it is 1
    a - b if b <= a else refuse            refused at b, which must be at most a

Every other name is needed: a blank one leaves the result blank, else a refused one refuses it.
Amounts of money are kept exact; all else is a float.
"""

from __future__ import annotations

import ast
import operator
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from typing import Any

from ..catalogue import BY_CALL, Argument, Function
from ..core.inputs import InputError, ceiling
from ..core.rounding import EXACT, exact, worksheet_round
from .references import Agg, Lookup, Name, Reference, Row

Run = Callable[[Sequence[Any]], Any]
DECIMALS, GUARD = Name("money_decimals"), Name("ceiling_guard")
MONEY = "money"
SIGNS: dict[type[ast.operator], tuple[str, str]] = {
    ast.Add: ("+", "+"),
    ast.Sub: ("-", "−"),
    ast.Mult: ("*", "×"),
    ast.Div: ("/", "÷"),
}


@dataclass(frozen=True)
class Expression:
    """A line of arithmetic in the place of a function of the catalogue.

    ``native`` and ``words`` hold ``{a0}``, ``{a1}`` ... where its references go.
    """

    text: str
    kind: str
    references: tuple[Reference, ...]
    arguments: tuple[Argument, ...]
    steps: Run
    native: str
    words: str
    guards: tuple[str, ...] = ()
    # Whether the first that is known is the result: with none at all there is none.
    by_turns: bool = False
    # The word on which the first of two references is the result, else the second: the other one
    # is not looked at.
    picks: str = ""
    # It has no name of its own among the worksheet functions.
    name: str = ""

    @property
    def source(self) -> str:
        """Where its result comes from: the line itself."""
        return f"= {self.text}"

    def run(self, given: Mapping[str, Any]) -> Any:
        """The result on SI values by argument; an optional one may be None."""
        return self.run_on([given.get(argument.name) for argument in self.arguments])

    def run_on(self, given: Sequence[Any]) -> Any:
        """The same on values in the order of the arguments."""
        found = self.steps(given)
        if self.kind == MONEY:
            return exact("amount", found)
        return found if isinstance(found, str) else float(found)


def is_expression(text: str) -> bool:
    """Whether a text is arithmetic and not the name of a function."""
    return bool(text) and not text.isidentifier()


@cache
def expression(text: str, kind: str) -> Expression:
    """The expression that a text says; ValueError where it is none of the closed grammar."""
    return _Parser(text).parsed(kind)


# What needs no brackets anywhere.
ALONE = 9


@dataclass(frozen=True)
class _Part:
    """A piece of an expression: how it runs, its live formula, its words, how it binds."""

    run: Run
    native: str
    words: str
    binds: int = ALONE
    # The same for its words, where they hold together less.
    said: int = ALONE
    # The argument that it is, where it is one alone.
    alone: str = ""

    def held(self, words: bool, least: int = ALONE) -> str:
        """Its live formula or its words, in brackets where it binds less than that."""
        text, binds = (
            (self.words, min(self.binds, self.said)) if words else (self.native, self.binds)
        )
        return text if binds >= least else f"({text})"


class _Parser:
    def __init__(self, text: str) -> None:
        self.text = text
        self.references: list[Reference] = []
        self.optional: set[int] = set()
        self.guards: list[str] = []

    def parsed(self, kind: str) -> Expression:
        root = ast.parse(self.text.strip(), mode="eval").body
        by_turns = isinstance(root, ast.Call) and getattr(root.func, "id", "") == "first_known"
        picks = self._picks(root)
        if by_turns or picks:
            part = self._turns(root) if by_turns else self._picked(root)
        else:
            part = self._part(root)
        arguments = tuple(
            Argument(f"a{place}", "", place in self.optional)
            for place in range(len(self.references))
        )
        return Expression(
            self.text,
            kind,
            tuple(self.references),
            arguments,
            part.run,
            part.native,
            part.words,
            tuple(self.guards),
            by_turns,
            picks,
        )

    def _wrong(self, node: ast.AST) -> ValueError:
        return ValueError(f"{ast.unparse(node)} in '{self.text}' is no part of an expression")

    def _part(self, node: ast.expr) -> _Part:
        if isinstance(node, ast.Constant) and type(node.value) is int and node.value in (0, 1):
            number = node.value
            return _Part(lambda _: number, str(number), str(number))
        if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
            inner = self._part(node.operand)
            return _Part(
                lambda a: -inner.run(a), f"(-{inner.held(False)})", f"(−{inner.held(True)})"
            )
        if isinstance(node, ast.BinOp) and type(node.op) in SIGNS:
            return self._operation(node)
        if isinstance(node, ast.IfExp):
            return self._choice(node)
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
            return self._call(node, node.func.id)
        if isinstance(node, ast.Subscript) and isinstance(node.value, ast.Dict):
            return self._by_word(node.value, node.slice)
        if isinstance(node, ast.Subscript) and isinstance(node.value, ast.List):
            return self._by_place(node.value, node.slice)
        return self._leaf(self._reference(node))

    def _leaf(self, reference: Reference, optional: bool = False) -> _Part:
        if reference not in self.references:
            self.references.append(reference)
            if optional:
                self.optional.add(self.references.index(reference))
        place = self.references.index(reference)
        if not optional:
            self.optional.discard(place)
        mark = f"{{a{place}}}"
        return _Part(lambda given: given[place], mark, mark, alone=f"a{place}")

    def _reference(self, node: ast.expr) -> Reference:
        if isinstance(node, ast.Name):
            return Name(node.id)
        of = node.value if isinstance(node, ast.Attribute) else node
        if isinstance(node, ast.Attribute) and isinstance(of, ast.Name) and of.id == "row":
            return Row(node.attr)
        if (
            isinstance(node, ast.Attribute)
            and isinstance(of, ast.Subscript)
            and isinstance(of.value, ast.Name)
        ):
            word = _word(of.slice)
            key = word if word is not None else self._reference(of.slice)
            if isinstance(key, (str, Row)):
                return Lookup(of.value.id, key, node.attr)
        raise self._wrong(node)

    def _operation(self, node: ast.BinOp) -> _Part:
        left, right = self._part(node.left), self._part(node.right)
        sign, said = SIGNS[type(node.op)]
        binds = 1 if sign in "+-" else 2
        step = _STEPS[sign]
        divisor = right.alone if sign == "/" else ""

        def run(given: Sequence[Any]) -> Any:
            under = right.run(given)
            if divisor and under == 0:
                raise InputError(divisor, under, "more than", 0)
            return step(left.run(given), under)

        # What is taken off or divided by holds together.
        tight = binds if sign in "+*" else binds + 1
        native = f"{left.held(False, binds)}{sign}{right.held(False, tight)}"
        words = f"{left.held(True, binds)} {said} {right.held(True, tight)}"
        return _Part(run, native, words, binds)

    def _choice(self, node: ast.IfExp) -> _Part:
        test = node.test
        if isinstance(node.orelse, ast.Name) and node.orelse.id == "refuse":
            return self._bounded(node)
        if not isinstance(test, ast.Compare) or [type(op) for op in test.ops] != [ast.Eq]:
            raise self._wrong(test)
        word = _word(test.comparators[0])
        if word is None:
            raise self._wrong(test)
        says, then, other = self._part(test.left), self._part(node.body), self._part(node.orelse)
        self._all_known(then, other)

        def run(given: Sequence[Any]) -> Any:
            both = then.run(given), other.run(given)
            return both[0] if says.run(given) == word else both[1]

        return _Part(
            run,
            f'CHOOSE(1+({says.native}<>"{word}"),{then.native},{other.native})',
            f"{then.words} where {says.words} is '{word}', else {other.words}",
            said=0,
        )

    def _all_known(self, *parts: _Part) -> None:
        """Live only one of several is looked at: all have to be numbers, as the engine asks."""
        asked = list(dict.fromkeys(p.native for p in parts if not p.native.isdecimal()))
        if asked:
            self.guards.append(f"ISNUMBER({'+'.join(asked)})")

    def _by_word(self, values: ast.Dict, of: ast.expr) -> _Part:
        """The value that belongs to a word; every other word is refused."""
        words = [None if _is_none(key) else _word(key) for key in values.keys if key]
        if len(words) < len(values.keys) or words.count(None) > sum(map(_is_none, values.keys)):
            raise self._wrong(values)
        says = self._leaf(self._reference(of), optional=None in words)
        parts = dict(zip(words, map(self._part, values.values)))
        self._all_known(*parts.values())
        if None in parts:
            # Typed words may be others; keys of rows are ours.
            self.guards.append("+".join(f'({says.native}="{word or ""}")' for word in parts))
        # Words of one value stand together.
        alike: dict[str, list[str]] = {}
        for word, part in parts.items():
            alike.setdefault(part.native, []).append(f'({says.native}<>"{word or ""}")')
        *first, native = alike
        for text in reversed(first):
            native = f"CHOOSE(1+{'*'.join(alike[text])},{text},{native})"

        def run(given: Sequence[Any]) -> Any:
            word = says.run(given)
            if word not in parts:
                raise InputError(says.alone, word, "one of", tuple(parts))
            return parts[word].run(given)

        told = [f"{p.words} where it is {word or 'blank'}" for word, p in parts.items()]
        return _Part(run, native, f"{', '.join(told)} by {says.words}", said=0)

    def _by_place(self, values: ast.List, of: ast.expr) -> _Part:
        """The value at a place, from 0 on."""
        parts, place = [self._part(one) for one in values.elts], self._leaf(self._reference(of))
        self._all_known(*parts)

        def run(given: Sequence[Any]) -> Any:
            at = place.run(given)
            if at not in range(len(parts)):
                raise InputError(place.alone, at, "one of", tuple(range(len(parts))))
            return parts[int(at)].run(given)

        native = f"CHOOSE(1+{place.native},{','.join(part.native for part in parts)})"
        told = ", ".join(part.words for part in parts)
        return _Part(run, native, f"of {told} the one at {place.words}, from 0 on", said=0)

    def _bounded(self, node: ast.IfExp) -> _Part:
        """A value that is refused where one that it reads stands above another."""
        test = node.test
        if not isinstance(test, ast.Compare) or type(test.ops[0]) not in _BOUNDS:
            raise self._wrong(test)
        wanted, said, holds = _BOUNDS[type(test.ops[0])]
        what, most = (self._leaf(self._reference(one)) for one in (test.left, *test.comparators))
        part = self._part(node.body)
        self.guards.append(f"{what.native}{said}{most.native}")

        def run(given: Sequence[Any]) -> Any:
            found, bound = what.run(given), most.run(given)
            if not holds(found, bound):
                raise InputError(what.alone, found, wanted, bound)
            return part.run(given)

        return _Part(run, part.native, part.words, part.binds, part.said)

    def _call(self, node: ast.Call, name: str) -> _Part:
        if name == "sum" and len(node.args) == 1 and isinstance(node.args[0], ast.Attribute):
            column = node.args[0]
            if isinstance(column.value, ast.Name):
                rows = {str(one.arg): _word(one.value) for one in node.keywords}
                if None in rows.values():
                    raise self._wrong(node)
                which = {arg: str(rows.pop(arg, "")) for arg in ("typed", "blank")}
                if len(rows) > 1:
                    raise self._wrong(node)
                where = next(((of, str(word)) for of, word in rows.items()), ("", ""))
                return self._leaf(
                    Agg(
                        *(column.value.id, column.attr),
                        where=where,
                        typed=which["typed"],
                        blank=which["blank"],
                        or_none=bool(rows),
                    )
                )
        if name == "zero_if_blank" and len(node.args) == 1:
            inner = self._leaf(self._reference(node.args[0]), optional=True)
            return _Part(lambda a: inner.run(a) or 0, f"N({inner.native})", inner.words)
        parts = [self._part(one) for one in node.args]
        if name in _ROUNDED and len(parts) == 1:
            rounded, how, native, said = _ROUNDED[name]
            (part,), by = parts, self._leaf(how)
            return _Part(
                lambda a: rounded(part.run(a), by.run(a)),
                native.format(part=part.native, held=part.held(False, 2), by=by.native),
                f"{part.held(True, 1)}, {said}",
                said=0,
            )
        if name in _OF_SEVERAL and len(parts) > 1:
            of, word, said = _OF_SEVERAL[name]
            return _Part(
                lambda a: of([part.run(a) for part in parts]),
                f"{word}({','.join(part.native for part in parts)})",
                f"the {said} of {', '.join(part.held(True) for part in parts)}",
                said=0,
            )
        function = BY_CALL.get(name)
        if function and function.native and len(parts) == len(function.arguments):
            return self._of_catalogue(function, parts)
        raise self._wrong(node)

    def _of_catalogue(self, function: Function, parts: list[_Part]) -> _Part:
        named = {argument.name: part for argument, part in zip(function.arguments, parts)}
        texts = {name: part.held(False) for name, part in named.items()}
        self.guards += [guard.format(**texts) for guard in function.guards]

        def run(given: Sequence[Any]) -> Any:
            try:
                return function.run({name: part.run(given) for name, part in named.items()})
            except InputError as error:
                of = named[error.argument].alone if error.argument in named else ""
                raise InputError(of, error.value, error.requirement, error.bound) from None

        words = f"{function.formula_name.replace('_', ' ')} ({', '.join(p.words for p in parts)})"
        return _Part(run, f"({function.native.format(**texts)})", words)

    def _turns(self, node: ast.expr) -> _Part:
        if not isinstance(node, ast.Call) or len(node.args) != 2:
            raise self._wrong(node)
        first, second = (self._leaf(self._reference(one), optional=True) for one in node.args)

        def run(given: Sequence[Any]) -> Any:
            return second.run(given) if first.run(given) is None else first.run(given)

        native = f"CHOOSE(1+COUNTBLANK({first.native}),{first.native},{second.native})"
        return _Part(run, native, f"{first.words}, or else {second.words}")

    def _picks(self, node: ast.expr) -> str:
        """The word by which a whole line picks one of two references; "" where it is none such."""
        if not isinstance(node, ast.IfExp) or not isinstance(node.test, ast.Compare):
            return ""
        plain = all(isinstance(one, (ast.Name, ast.Attribute)) for one in (node.body, node.orelse))
        refuses = isinstance(node.orelse, ast.Name) and node.orelse.id == "refuse"
        return _word(node.test.comparators[0]) or "" if plain and not refuses else ""

    def _picked(self, node: ast.expr) -> _Part:
        assert isinstance(node, ast.IfExp)
        assert isinstance(node.test, ast.Compare)
        if [type(op) for op in node.test.ops] != [ast.Eq]:
            raise self._wrong(node.test)
        word, says = self._picks(node), self._leaf(self._reference(node.test.left))
        then, other = (
            self._leaf(self._reference(one), optional=True) for one in (node.body, node.orelse)
        )

        def run(given: Sequence[Any]) -> Any:
            return then.run(given) if says.run(given) == word else other.run(given)

        return _Part(
            run,
            f'CHOOSE(1+({says.native}<>"{word}"),{then.native},{other.native})',
            f"{then.words} where {says.words} is '{word}', else {other.words}",
        )


def _word(node: ast.expr) -> str | None:
    """A word in quotes; None where it is something else."""
    is_word = isinstance(node, ast.Constant) and isinstance(node.value, str)
    return str(node.value) if is_word else None  # type: ignore[attr-defined]


def _is_none(node: ast.expr | None) -> bool:
    """Whether it stands for a blank."""
    return isinstance(node, ast.Constant) and node.value is None


def _both(step: Callable[[Any, Any], Any], exactly: Callable[[Decimal, Decimal], Decimal]) -> Any:
    """A step that is exact where an amount of money takes part."""

    def run(left: Any, right: Any) -> Any:
        if isinstance(left, Decimal) or isinstance(right, Decimal):
            return exactly(exact("amount", left), exact("amount", right))
        return step(left, right)

    return run


_STEPS: dict[str, Callable[[Any, Any], Any]] = {
    "+": _both(lambda a, b: a + b, EXACT.add),
    "-": _both(lambda a, b: a - b, EXACT.subtract),
    "*": _both(lambda a, b: a * b, EXACT.multiply),
    "/": _both(lambda a, b: a / b, EXACT.divide),
}
# What a value must be against its bound: in words, in a live formula, for the engine.
_BOUNDS: dict[type[ast.cmpop], tuple[str, str, Callable[[Any, Any], bool]]] = {
    ast.LtE: ("at most", "<=", operator.le),
    ast.Lt: ("less than", "<", operator.lt),
}
# How a value is rounded, by which other value, its live formula and its words.
_ROUNDED: dict[str, tuple[Callable[[Any, Any], Any], Name, str, str]] = {
    "round_money": (worksheet_round, DECIMALS, "ROUND({part},{by})", "rounded as amounts are"),
    "round_up": (ceiling, GUARD, "(-INT({by}-{held}))", "rounded up"),
}
_OF_SEVERAL: dict[str, tuple[Callable[[list[Any]], Any], str, str]] = {
    "max": (max, "MAX", "largest"),
    "min": (min, "MIN", "least"),
    "mean": (lambda values: sum(values[1:], values[0]) / len(values), "AVERAGE", "mean"),
}
