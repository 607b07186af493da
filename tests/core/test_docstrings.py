"""Every public formula says its symbols, units, validity and source, and has an example."""

import importlib
import inspect
import pkgutil
import re
from collections.abc import Callable, Iterator
from typing import Any

from tests.grouped import of_each
from twodrum import core
from twodrum.catalogue.declaration import docstring_section

# Guards and conversions of numbers, which are no formulas.
TOOLS = ("require", "require_one_of", "require_series", "ceiling", "exact")


def public_functions() -> Iterator[Callable[..., Any]]:
    for found in pkgutil.iter_modules(core.__path__):
        module = importlib.import_module(f"twodrum.core.{found.name}")
        for name, function in vars(module).items():
            own = inspect.isfunction(function) and function.__module__ == module.__name__
            if own and not name.startswith("_") and name not in TOOLS:
                yield function


FUNCTIONS = list(public_functions())
every_function = of_each(
    FUNCTIONS, lambda function: function.__module__, lambda function: function.__name__
)
# A range in words or numbers, a choice of words in quotes, or a function.
RANGE = re.compile(
    r'\d|²|[Aa]bove|[Bb]elow|[Aa]ny|or more|[Aa]t least|[Aa]s many|"|As in|One of|function|bool'
)


def described(function: Callable[..., Any]) -> dict[str, str]:
    """The text of each parameter."""
    text = docstring_section(function, "Parameters")
    names = list(inspect.signature(function).parameters)
    pieces = re.split(r"((?:\b\w+, )?\b(?:" + "|".join(names) + r")) : ", f" {text}")[1:]
    found: dict[str, str] = {}
    for heads, body in zip(pieces[::2], pieces[1::2], strict=True):
        for name in heads.split(", "):
            found[name] = body
    return found


@every_function
def test_docstring_has_its_sections_in_order(function: Callable[..., Any]) -> None:
    text = inspect.getdoc(function) or ""
    needed = ["Returns", "Source", "Example"]
    if inspect.signature(function).parameters:
        needed.insert(0, "Parameters")
    places = [text.index(f"\n{section}\n---") for section in needed]
    assert places == sorted(places)
    assert ">>> " in docstring_section(function, "Example")
    # The equation stands indented under the first sentence.
    assert re.search(r"\A[^\n]+\.\n\n    \S", text)


@every_function
def test_every_parameter_says_which_values_it_takes(function: Callable[..., Any]) -> None:
    texts = described(function)
    for name in inspect.signature(function).parameters:
        assert name in texts, name
        assert RANGE.search(texts[name]), f"{name}: {texts[name]}"


@every_function
def test_every_number_says_its_unit(function: Callable[..., Any]) -> None:
    texts = described(function)
    parameters = inspect.signature(function, eval_str=False).parameters
    for name, parameter in parameters.items():
        if re.match(r"float|Sequence\[float", str(parameter.annotation)):
            assert re.search(r"\[[^\]]+\]", texts[name]), name
    if str(inspect.signature(function).return_annotation).startswith("float"):
        assert re.search(r"\[[^\]]+\]", docstring_section(function, "Returns"))
