"""Systems of linear equations, small ones."""

from __future__ import annotations

import math
from collections.abc import Sequence

from .inputs import InputError, require


def solution(matrix: Sequence[Sequence[float]], right: Sequence[float]) -> list[float]:
    """Unknowns of as many linear equations.

        A x = b

    Parameters
    ----------
    matrix : sequence of sequence of float
        n rows of n. [any]
    right : sequence of float
        n. [any]

    Returns
    -------
    list of float
        The n unknowns. [any]

    Errors
    ------
    InputError where the equations do not tell the unknowns apart.

    Valid for
    ---------
    Up to about a hundred unknowns.

    Source
    ------
    Gauss elimination with partial pivoting.

    Example
    -------
    >>> [round(x, 12) for x in solution([[2.0, 1.0], [1.0, 3.0]], [3.0, 5.0])]
    [0.8, 1.4]
    """
    count = len(right)
    require("number of rows", len(matrix), at_least=count, at_most=count)
    rows = []
    for line, value in zip(matrix, right):
        require("number of columns", len(line), at_least=count, at_most=count)
        for number in (*line, value):
            require("coefficient", number)
        # Each equation over its largest coefficient, so that its unit plays no part.
        scale = max(map(abs, line)) or 1.0
        rows.append([number / scale for number in (*line, value)])
    for column in range(count):
        pivot = max(range(column, count), key=lambda n: abs(rows[n][column]))
        if abs(rows[pivot][column]) <= 1e-14:
            raise InputError("coefficient", rows[pivot][column], "independent of the others")
        rows[column], rows[pivot] = rows[pivot], rows[column]
        head = rows[column]
        for line in rows[column + 1 :]:
            factor = line[column] / head[column]
            if factor:
                for n in range(column, count + 1):
                    line[n] -= factor * head[n]
    found = [0.0] * count
    for n in range(count - 1, -1, -1):
        rest = rows[n][count] - math.fsum(rows[n][k] * found[k] for k in range(n + 1, count))
        found[n] = rest / rows[n][n]
    return found
