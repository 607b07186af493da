"""Areas of round things: tanks, cones, pipes, manholes."""

from __future__ import annotations

import math

from .inputs import require


def circle_area(diameter: float) -> float:
    """Circle, or the flat floor of a round tank.

        A = π D² / 4

    Parameters
    ----------
    diameter : float
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
    >>> round(circle_area(2.0), 6)
    3.141593
    """
    require("diameter", diameter, above=0)
    return math.pi * diameter**2 / 4


def ring_area(diameter: float, other_size: float) -> float:
    """Flat ring between an outer and an inner diameter.

        A = π (D² - x²) / 4

    Parameters
    ----------
    diameter : float
        Outer diameter, above 0. [m]
    other_size : float
        Inner diameter, 0 or more, less than the outer one. [m]

    Returns
    -------
    float
        Area. [m²]

    Source
    ------
    Plane geometry.

    Example
    -------
    >>> round(ring_area(2.0, 1.0), 6)
    2.356194
    """
    require("diameter", diameter, above=0)
    require("other_size", other_size, at_least=0, below=diameter)
    return math.pi * (diameter**2 - other_size**2) / 4


def pipe_area(diameter: float, length: float) -> float:
    """Side of a cylinder: a pipe, a tank shell or the neck of a manhole.

        A = π D L

    Parameters
    ----------
    diameter : float
        Diameter of the coated side, above 0. [m]
    length : float
        Length or height, above 0. [m]

    Returns
    -------
    float
        Area. [m²]

    Source
    ------
    Plane geometry of the unrolled side.

    Example
    -------
    219.1 mm pipe, 1 m:

    >>> round(pipe_area(0.2191, 1.0), 6)
    0.688323
    """
    require("diameter", diameter, above=0)
    require("length", length, above=0)
    return math.pi * diameter * length


def tank_shell_area(diameter: float, height: float) -> float:
    """Shell of an upright round tank.

        A = π D H

    Parameters
    ----------
    diameter : float
        Above 0. [m]
    height : float
        Above 0. [m]

    Returns
    -------
    float
        Area. [m²]

    Source
    ------
    Plane geometry of the unrolled side.

    Example
    -------
    >>> round(tank_shell_area(10.0, 8.0), 6)
    251.327412
    """
    require("diameter", diameter, above=0)
    require("height", height, above=0)
    return math.pi * diameter * height


def tank_inside_area(diameter: float, height: float) -> float:
    """Shell and flat floor of an upright round tank.

        A = π D H + π D² / 4

    Parameters
    ----------
    diameter : float
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
    >>> round(tank_inside_area(10.0, 8.0), 6)
    329.867229
    """
    return tank_shell_area(diameter, height) + circle_area(diameter)


def cone_area(diameter: float, height: float) -> float:
    """Side of a cone: a conical roof or bottom.

        A = π (D/2) sqrt((D/2)² + H²)

    Parameters
    ----------
    diameter : float
        Above 0. [m]
    height : float
        Rise, above 0. [m]

    Returns
    -------
    float
        Area. [m²]

    Source
    ------
    Solid geometry.

    Example
    -------
    >>> round(cone_area(10.0, 5.0 / 6.0), 6)
    79.623175
    """
    require("diameter", diameter, above=0)
    require("height", height, above=0)
    return math.pi * diameter / 2 * math.sqrt((diameter / 2) ** 2 + height**2)


def frustum_area(diameter: float, other_size: float, height: float) -> float:
    """Side of a cut cone between two diameters.

        A = π (D + x)/2 sqrt(((D - x)/2)² + H²)

    Parameters
    ----------
    diameter : float
        One end, above 0. [m]
    other_size : float
        Diameter of the other end, 0 or more. [m]
    height : float
        Above 0. [m]

    Returns
    -------
    float
        Area. [m²]

    Source
    ------
    Solid geometry.

    Example
    -------
    >>> round(frustum_area(3.0, 0.8, 1.2), 6)
    9.71687
    """
    require("diameter", diameter, above=0)
    require("other_size", other_size, at_least=0)
    require("height", height, above=0)
    slant = math.sqrt(((diameter - other_size) / 2) ** 2 + height**2)
    return math.pi * (diameter + other_size) / 2 * slant


def manhole_area(diameter: float, length: float) -> float:
    """What a manhole adds to the wall it stands in: neck plus cover less opening.

        A = π D L + π D²/4 - π D²/4

    Parameters
    ----------
    diameter : float
        Inside diameter, above 0. [m]
    length : float
        Length of the neck, above 0. [m]

    Returns
    -------
    float
        Area to add to the full wall. [m²]

    Source
    ------
    Plane geometry; the opening is as large as the inside of the cover.

    Example
    -------
    >>> round(manhole_area(0.6, 0.25), 6)
    0.471239
    """
    return pipe_area(diameter, length)
