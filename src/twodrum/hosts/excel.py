"""Excel through xlwings: every worksheet function as a user-defined function of this module.

xlwings reads the module's objects that its decorators marked; what they do stands in
`twodrum.worksheet.call`. A refused number leaves here as a marked text, which the wrapper in
`excel_wrapper` turns into a true error value.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable
from typing import Any

import xlwings

from ..catalogue import FUNCTIONS, Function
from ..worksheet.call import Refused, Rows, answer, in_unit
from ..worksheet.call import why as say_why
from ..worksheet.cells import ErrorValue
from .excel_wrapper import ERRORS, MARK, Declared, declared


def taken(raw: Any, series: bool) -> Any:
    """An argument as xlwings hands it over, rows of cells, as `worksheet` takes it.

    A cell by itself that is blank is 0, as in every formula of a spreadsheet; LibreOffice
    hands it over so too.
    """
    if raw is None:
        return None
    rows = [[ErrorValue(cell) if cell in ERRORS else cell for cell in row] for row in raw]
    if series or len(rows) > 1 or len(rows[0]) > 1:
        return rows
    return 0.0 if rows[0][0] is None else rows[0][0]


def given_error(arguments: list[Any]) -> str:
    """The error that a call passes on: that of a cell, #VALUE! for one inside a range."""
    for argument in arguments:
        if isinstance(argument, ErrorValue):
            return argument.text
        if isinstance(argument, list) and any(
            isinstance(cell, ErrorValue) for row in argument for cell in row
        ):
            return "#VALUE!"
    return ""


def returned(rows: Rows) -> list[list[Any]]:
    """Cells as xlwings takes them: a refused one is the mark of #N/A."""
    return [[f"{MARK}#N/A" if isinstance(cell, Refused) else cell for cell in row] for row in rows]


def _called(function: Function) -> Callable[..., list[list[Any]]]:
    series = [item.series for item in function.arguments]

    def called(*given: Any) -> list[list[Any]]:
        arguments = [taken(raw, many) for raw, many in zip(given, [*series, False])]
        error = given_error(arguments)
        return [[f"{MARK}{error}"]] if error else returned(answer(function.name, arguments))

    return called


def _parameter(name: str, optional: bool) -> inspect.Parameter:
    default = None if optional else inspect.Parameter.empty
    return inspect.Parameter(name, inspect.Parameter.POSITIONAL_OR_KEYWORD, default=default)


def user_defined(one: Declared, call: Callable[..., Any]) -> Callable[..., Any]:
    """A function that xlwings can register: names, help texts, which may be left out."""

    def function(*given: Any) -> Any:
        return call(*given, *[None] * (len(one.arguments) - len(given)))

    function.__name__ = function.__qualname__ = one.name
    function.__doc__ = one.help
    function.__module__ = __name__
    function.__signature__ = inspect.Signature(  # type: ignore[attr-defined]
        [_parameter(key, optional) for key, _, optional in one.arguments]
    )
    marked: Any = function
    for key, text, _ in one.arguments:
        marked = xlwings.arg(key, doc=text, ndim=2, err_to_str=True)(marked)
    # xlwings.func comes last: xlwings.arg resets the category (xlwings 0.37).
    registered: Callable[..., Any] = xlwings.func(category=one.category)(marked)
    return registered


def _why(name: Any, *given: Any) -> str:
    """The reason of a call; series and single values are told apart by the function's own list."""
    wanted = str(taken(name, False))
    function = next((one for one in FUNCTIONS if one.name == wanted.upper()), None)
    series = [item.series for item in function.arguments] if function else []
    last = max((n for n, raw in enumerate(given, 1) if raw is not None), default=0)
    arguments = [taken(raw, n < len(series) and series[n]) for n, raw in enumerate(given[:last])]
    return say_why(wanted, arguments)


def _convert(value: Any, unit: Any, wanted: Any) -> list[list[Any]]:
    arguments = [taken(one, False) for one in (value, unit, wanted)]
    error = given_error(arguments)
    return [[f"{MARK}{error}"]] if error else returned(in_unit(*arguments))


CALLS: dict[str, Callable[..., Any]] = {
    **{function.name: _called(function) for function in FUNCTIONS},
    "TD_WHY": _why,
    "TD_CONVERT": _convert,
}
for _one in declared():
    globals()[_one.name] = user_defined(_one, CALLS[_one.name])
del _one
