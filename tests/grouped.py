"""Tests of many like items: each group is one test, and tells every item that fails."""

import inspect
from collections.abc import Callable, Iterable
from typing import Any

import pytest

Test = Callable[..., None]


def of_each(
    items: Iterable[Any],
    group: Callable[[Any], str],
    named: Callable[[Any], str] = str,
    spread: bool = False,
) -> Callable[[Test], Test]:
    """Run a test with each item as its first argument; ``spread`` gives a tuple as several.

    Thousands of tests of a millisecond each would take longer to tell than to run.
    """
    groups: dict[str, list[Any]] = {}
    for item in items:
        groups.setdefault(group(item), []).append(item)
    assert groups

    def grouped(test: Test) -> Test:
        def of_group(group: str, **fixtures: Any) -> None:
            failed = []
            for item in groups[group]:
                try:
                    test(*(item if spread else (item,)), **fixtures)
                except (Exception, pytest.fail.Exception) as error:
                    failed.append(f"{named(item)}: {type(error).__name__}: {error}")
            assert not failed, "\n".join(failed)

        own = list(inspect.signature(test).parameters.values())
        of_group.__signature__ = inspect.Signature(  # type: ignore[attr-defined]
            [
                inspect.Parameter("group", inspect.Parameter.POSITIONAL_OR_KEYWORD),
                *own[len(next(iter(groups.values()))[0]) if spread else 1 :],
            ]
        )
        of_group.__name__, of_group.__doc__ = test.__name__, test.__doc__
        of_group.__module__ = test.__module__
        return pytest.mark.parametrize("group", list(groups))(of_group)

    return grouped
