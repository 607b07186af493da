"""Areas of steel sections and profiled sheets."""

from __future__ import annotations

import math

from .inputs import require


def i_section_area(
    height: float, width: float, other_size: float, corner_radius: float, length: float
) -> float:
    """Outside of a rolled I or H section.

        A = (2 h + 4 b - 2 t - (8 - 2π) r) L

    Parameters
    ----------
    height : float
        Section height h, above 0. [m]
    width : float
        Flange width b, above 0. [m]
    other_size : float
        Web thickness t, 0 or more, less than the width. [m]
    corner_radius : float
        Root radius r between web and flange, 0 or more, at most (b - t)/2 and h/2. [m]
    length : float
        Above 0. [m]

    Returns
    -------
    float
        Area without the cut ends. [m²]

    Source
    ------
    Plane geometry of the outline; sharp flange edges.

    Example
    -------
    190 mm by 200 mm, web 6.5 mm, root radius 18 mm, 1 m long:

    >>> round(i_section_area(0.190, 0.200, 0.0065, 0.018, 1.0), 6)
    1.136097
    """
    require("height", height, above=0)
    require("width", width, above=0)
    require("other_size", other_size, at_least=0, below=width)
    room = min((width - other_size) / 2, height / 2)
    require("corner_radius", corner_radius, at_least=0, at_most=room)
    require("length", length, above=0)
    outline = 2 * height + 4 * width - 2 * other_size - (8 - 2 * math.pi) * corner_radius
    return outline * length


def hollow_section_area(height: float, width: float, corner_radius: float, length: float) -> float:
    """Outside of a rectangular hollow section.

        A = (2 (h + b) - (8 - 2π) r) L

    Parameters
    ----------
    height : float
        Outside height h, above 0. [m]
    width : float
        Outside width b, above 0. [m]
    corner_radius : float
        Outside corner radius r, 0 or more, at most h/2 and b/2. [m]
    length : float
        Above 0. [m]

    Returns
    -------
    float
        Area without the cut ends. [m²]

    Source
    ------
    Plane geometry of the outline.

    Example
    -------
    40 mm by 20 mm, corner radius 4 mm, 1 m long:

    >>> round(hollow_section_area(0.040, 0.020, 0.004, 1.0), 4)
    0.1131
    """
    require("height", height, above=0)
    require("width", width, above=0)
    require("corner_radius", corner_radius, at_least=0, at_most=min(height, width) / 2)
    require("length", length, above=0)
    return (2 * (height + width) - (8 - 2 * math.pi) * corner_radius) * length


def trapezoidal_sheet_factor(pitch: float, top: float, bottom: float, depth: float) -> float:
    """Developed width of a trapezoidal sheet over its flat width, one side.

        F = (t + b + 2 sqrt(h² + ((p - t - b)/2)²)) / p

    Parameters
    ----------
    pitch : float
        Rib spacing p, above 0. [m]
    top : float
        Flat of the crown t, 0 or more. [m]
    bottom : float
        Flat of the valley b, 0 or more; t + b at most p. [m]
    depth : float
        Rib depth h, 0 or more. [m]

    Returns
    -------
    float
        Profile factor, 1 or more. [1]

    Source
    ------
    Plane geometry with sharp corners; laps and edges left out.

    Example
    -------
    >>> round(trapezoidal_sheet_factor(0.2, 0.06, 0.06, 0.04), 8)
    1.16568542
    """
    require("pitch", pitch, above=0)
    require("top", top, at_least=0, at_most=pitch)
    require("bottom", bottom, at_least=0, at_most=pitch - top)
    require("depth", depth, at_least=0)
    web = math.sqrt(depth**2 + ((pitch - top - bottom) / 2) ** 2)
    return (top + bottom + 2 * web) / pitch


def sinusoidal_sheet_factor(pitch: float, depth: float) -> float:
    """Developed width of a sine-shaped sheet over its flat width, one side.

        F = (2/π) sqrt(1 + k²) E(m),  k = π h / p,  m = k² / (1 + k²)

    Parameters
    ----------
    pitch : float
        Wave length p, above 0. [m]
    depth : float
        Wave height h from crown to valley, 0 or more. [m]

    Returns
    -------
    float
        Profile factor, 1 or more. [1]

    Source
    ------
    Arc length of a sine; E(m) by the arithmetic-geometric mean,
    Abramowitz and Stegun, "Handbook of Mathematical Functions," 17.6.

    Example
    -------
    >>> round(sinusoidal_sheet_factor(0.076, 0.018), 8)
    1.12660504
    """
    require("pitch", pitch, above=0)
    require("depth", depth, at_least=0, at_most=1000 * pitch)
    k = math.pi * depth / pitch
    return 2 / math.pi * math.hypot(1, k) * _elliptic_integral(k * k / (1 + k * k))


def _elliptic_integral(m: float) -> float:
    a, b, c = 1.0, math.sqrt(1 - m), math.sqrt(m)
    total, power = 0.0, 0.5
    # What is left out is about c² times power: below the last digit.
    while c > 1e-9:
        total += power * c * c
        a, b, c, power = (a + b) / 2, math.sqrt(a * b), (a - b) / 2, power * 2
    return math.pi / (2 * a) * (1 - total)
