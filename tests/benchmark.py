"""Microseconds of one call of every worksheet function's formula, with its example.

Run it as ``python -m tests.benchmark`` from the top folder; nothing is asserted.
"""

import inspect
import sys
from pathlib import Path
from timeit import Timer

ROOT = Path(__file__).parents[1]
sys.path[:0] = [str(ROOT), str(ROOT / "src")]

# Closed forms are to take less than 10 µs, what is solved or integrated less than 1,000.
CLOSED, SOLVED = 10.0, 1000.0


def microseconds(timer: Timer) -> float:
    """Best of five runs of about 20 ms each."""
    count, taken = timer.autorange()
    count = max(1, round(count * 0.02 / taken))
    return min(timer.repeat(5, count)) / count * 1e6


def main() -> None:
    from tests.catalogue.test_functions import example
    from twodrum.catalogue import FUNCTIONS

    times = []
    for function in FUNCTIONS:
        empty = [name for name, value in example(function).items() if value is None]
        left_out = inspect.signature(function.call).parameters
        given = {
            name: value
            for name, value in example(function).items()
            if name not in empty or left_out[name].default is inspect.Parameter.empty
        }
        call = function.call
        times.append((microseconds(Timer(lambda call=call, given=given: call(**given))), function))
    for taken, function in sorted(times, key=lambda pair: -pair[0]):
        print(f"{taken:10.2f} µs  {function.formula_name}")
    above = [pair for pair in times if pair[0] > CLOSED]
    slow = [pair for pair in times if pair[0] > SOLVED]
    print(f"{len(times)} functions, {len(above)} above {CLOSED:g} µs, {len(slow)} above {SOLVED:g}")


if __name__ == "__main__":
    main()
