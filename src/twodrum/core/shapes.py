"""Areas of flat and box shapes."""

from __future__ import annotations

import math

from .inputs import require


def rectangle_area(length: float, width: float) -> float:
    """Flat rectangle.

        A = L W

    Parameters
    ----------
    length : float
        Above 0. [m]
    width : float
        Above 0. [m]

    Returns
    -------
    float
        Area. [m²]

    Source
    ------
    Plane geometry.

    Example
    -------
    >>> rectangle_area(12.0, 5.0)
    60.0
    """
    require("length", length, above=0)
    require("width", width, above=0)
    return length * width


def triangle_area(length: float, height: float) -> float:
    """Flat triangle of base L.

        A = L H / 2

    Parameters
    ----------
    length : float
        Base, above 0. [m]
    height : float
        Height over the base, above 0. [m]

    Returns
    -------
    float
        Area. [m²]

    Source
    ------
    Plane geometry.

    Example
    -------
    >>> triangle_area(4.0, 3.0)
    6.0
    """
    require("length", length, above=0)
    require("height", height, above=0)
    return length * height / 2


def trapezium_area(length: float, other_size: float, height: float) -> float:
    """Flat trapezium with the parallel sides L and x.

        A = (L + x) H / 2

    Parameters
    ----------
    length : float
        One parallel side, above 0. [m]
    other_size : float
        The other parallel side, 0 or more. [m]
    height : float
        Distance of the parallel sides, above 0. [m]

    Returns
    -------
    float
        Area. [m²]

    Source
    ------
    Plane geometry.

    Example
    -------
    >>> trapezium_area(4.0, 2.0, 3.0)
    9.0
    """
    require("length", length, above=0)
    require("other_size", other_size, at_least=0)
    require("height", height, above=0)
    return (length + other_size) * height / 2


def four_walls_area(length: float, width: float, height: float) -> float:
    """Four upright walls of a rectangular room, inside.

        A = 2 (L + W) H

    Parameters
    ----------
    length : float
        Above 0. [m]
    width : float
        Above 0. [m]
    height : float
        Above 0. [m]

    Returns
    -------
    float
        Area. [m²]

    Source
    ------
    Plane geometry.

    Example
    -------
    >>> four_walls_area(6.0, 4.0, 2.0)
    40.0
    """
    require("length", length, above=0)
    require("width", width, above=0)
    require("height", height, above=0)
    return 2 * (length + width) * height


def pit_area(length: float, width: float, height: float) -> float:
    """Rectangular pit: floor and four upright walls.

        A = L W + 2 (L + W) H

    Parameters
    ----------
    length : float
        Inside, above 0. [m]
    width : float
        Inside, above 0. [m]
    height : float
        Depth, above 0. [m]

    Returns
    -------
    float
        Area. [m²]

    Source
    ------
    Plane geometry.

    Example
    -------
    >>> pit_area(6.0, 4.0, 2.0)
    64.0
    """
    return rectangle_area(length, width) + four_walls_area(length, width, height)


def sloped_pit_area(length: float, width: float, height: float, other_size: float) -> float:
    """Pit with a rectangular floor and four walls that lean out by a setback x.

        A = L W + 2 (L + W + 2 x) sqrt(H² + x²)

    Parameters
    ----------
    length : float
        Floor length, above 0. [m]
    width : float
        Floor width, above 0. [m]
    height : float
        Depth, above 0. [m]
    other_size : float
        Setback of each wall top, 0 or more. [m]

    Returns
    -------
    float
        Area. [m²]

    Source
    ------
    Plane geometry: floor and four trapezia.

    Example
    -------
    Floor 6 m by 4 m, top 10 m by 8 m, 2 m deep:

    >>> round(sloped_pit_area(6.0, 4.0, 2.0, 2.0), 6)
    103.195959
    """
    require("length", length, above=0)
    require("width", width, above=0)
    require("height", height, above=0)
    require("other_size", other_size, at_least=0)
    slant = math.sqrt(height**2 + other_size**2)
    return length * width + 2 * (length + width + 2 * other_size) * slant


def bund_area(length: float, width: float, height: float, other_size: float) -> float:
    """Bund walls inside, outside and on top, without the floor.

        A = 2 (L + W) H + 2 (L + W + 4 x) H + 2 x (L + W + 2 x)

    Parameters
    ----------
    length : float
        Inside length, above 0. [m]
    width : float
        Inside width, above 0. [m]
    height : float
        Wall height, above 0. [m]
    other_size : float
        Wall thickness, 0 or more. [m]

    Returns
    -------
    float
        Area. [m²]

    Source
    ------
    Plane geometry.

    Example
    -------
    >>> round(bund_area(20.0, 15.0, 1.2, 0.2), 6)
    184.08
    """
    require("length", length, above=0)
    require("width", width, above=0)
    require("height", height, above=0)
    require("other_size", other_size, at_least=0)
    sides = 2 * (length + width) * height + 2 * (length + width + 4 * other_size) * height
    return sides + 2 * other_size * (length + width + 2 * other_size)
