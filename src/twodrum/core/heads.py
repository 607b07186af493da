"""Areas of spheres and of the heads of pressure vessels."""

from __future__ import annotations

import math

from .inputs import require


def sphere_area(diameter: float) -> float:
    """Whole sphere.

        A = π D²

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
    Solid geometry.

    Example
    -------
    >>> round(sphere_area(12.0), 6)
    452.389342
    """
    require("diameter", diameter, above=0)
    return math.pi * diameter**2


def hemispherical_head_area(diameter: float) -> float:
    """Half a sphere.

        A = π D² / 2

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
    Solid geometry.

    Example
    -------
    >>> round(hemispherical_head_area(2.0), 6)
    6.283185
    """
    require("diameter", diameter, above=0)
    return math.pi * diameter**2 / 2


def ellipsoidal_head_area(diameter: float) -> float:
    """2:1 semi-ellipsoidal head (depth D/4), without a straight flange.

        A = π D²/4 (1 + ln(2 + √3) / (2 √3))

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
    Oblate spheroid of eccentricity √3/2, solid geometry.

    Example
    -------
    >>> round(ellipsoidal_head_area(1.0), 10)
    1.0839853379
    """
    require("diameter", diameter, above=0)
    root = math.sqrt(3)
    return math.pi * diameter**2 / 4 * (1 + math.log(2 + root) / (2 * root))


def torispherical_head_area(diameter: float, other_size: float, corner_radius: float) -> float:
    """Dished head of a spherical crown (radius R) and a knuckle (radius r), no flange.

        c = D/2 - r,  sin φ = c / (R - r)
        A = 2π R² (1 - cos φ) + 2π r (c (π/2 - φ) + r cos φ)

    Parameters
    ----------
    diameter : float
        Above 0. [m]
    other_size : float
        Crown radius R, at least D/2. [m]
    corner_radius : float
        Knuckle radius r, 0 or more, less than D/2. [m]

    Returns
    -------
    float
        Area. [m²]

    Source
    ------
    Solid geometry: a sphere cap and a part of a torus.

    Example
    -------
    Crown radius D, knuckle radius D/10:

    >>> round(torispherical_head_area(2.5, 2.5, 0.25), 6)
    6.187419
    """
    _require_head(diameter, other_size, corner_radius)
    c = diameter / 2 - corner_radius
    phi = math.asin(min(1.0, c / (other_size - corner_radius)))
    crown = 2 * math.pi * other_size**2 * (1 - math.cos(phi))
    knuckle = c * (math.pi / 2 - phi) + corner_radius * math.cos(phi)
    return crown + 2 * math.pi * corner_radius * knuckle


def torispherical_head_depth(diameter: float, other_size: float, corner_radius: float) -> float:
    """Inside depth of a dished head, without a straight flange.

        h = R - sqrt((R - r)² - (D/2 - r)²)

    Parameters
    ----------
    diameter : float
        Above 0. [m]
    other_size : float
        Crown radius R, at least D/2. [m]
    corner_radius : float
        Knuckle radius r, 0 or more, less than D/2. [m]

    Returns
    -------
    float
        Depth. [m]

    Source
    ------
    Solid geometry.

    Example
    -------
    >>> round(torispherical_head_depth(1.0, 1.0, 0.06), 8)
    0.16933761
    """
    _require_head(diameter, other_size, corner_radius)
    c = diameter / 2 - corner_radius
    return other_size - math.sqrt(max(0.0, (other_size - corner_radius) ** 2 - c**2))


def _require_head(diameter: float, other_size: float, corner_radius: float) -> None:
    require("diameter", diameter, above=0)
    require("other_size", other_size, at_least=diameter / 2)
    require("corner_radius", corner_radius, at_least=0, below=diameter / 2)
