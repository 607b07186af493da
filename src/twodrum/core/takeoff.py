"""A take-off row: the area of its shape, its pieces, and what the customer pays."""

from __future__ import annotations

from collections.abc import Callable

from . import heads, sections, shapes, vessels
from .inputs import InputError, require, require_one_of

KNOWN_AREA = "known area"

# shape: (function, the sizes that it needs, what each of them is)
SHAPES: dict[str, tuple[Callable[..., float], dict[str, str]]] = {
    "rectangle": (shapes.rectangle_area, {"length": "length", "width": "width"}),
    "triangle": (shapes.triangle_area, {"length": "base", "height": "height"}),
    "trapezium": (
        shapes.trapezium_area,
        {"length": "long side", "other_size": "short side", "height": "height"},
    ),
    "four walls": (
        shapes.four_walls_area,
        {"length": "length", "width": "width", "height": "height"},
    ),
    "pit": (shapes.pit_area, {"length": "length", "width": "width", "height": "depth"}),
    "sloped pit": (
        shapes.sloped_pit_area,
        {
            "length": "floor length",
            "width": "floor width",
            "height": "depth",
            "other_size": "setback of the wall top",
        },
    ),
    "bund walls": (
        shapes.bund_area,
        {
            "length": "inside length",
            "width": "inside width",
            "height": "height",
            "other_size": "wall thickness",
        },
    ),
    "circle": (vessels.circle_area, {"diameter": "diameter"}),
    "ring": (vessels.ring_area, {"diameter": "outside", "other_size": "inside diameter"}),
    "pipe": (vessels.pipe_area, {"diameter": "diameter", "length": "length"}),
    "tank shell": (vessels.tank_shell_area, {"diameter": "diameter", "height": "height"}),
    "tank shell and floor": (
        vessels.tank_inside_area,
        {"diameter": "diameter", "height": "height"},
    ),
    "cone": (vessels.cone_area, {"diameter": "diameter", "height": "rise"}),
    "frustum": (
        vessels.frustum_area,
        {"diameter": "one end", "other_size": "diameter of the other end", "height": "height"},
    ),
    "sphere": (heads.sphere_area, {"diameter": "diameter"}),
    "hemispherical head": (heads.hemispherical_head_area, {"diameter": "diameter"}),
    "2:1 ellipsoidal head": (heads.ellipsoidal_head_area, {"diameter": "diameter"}),
    "torispherical head": (
        heads.torispherical_head_area,
        {
            "diameter": "diameter",
            "other_size": "crown radius",
            "corner_radius": "knuckle radius",
        },
    ),
    "I or H section": (
        sections.i_section_area,
        {
            "height": "section height",
            "width": "flange width",
            "other_size": "web thickness",
            "corner_radius": "root radius",
            "length": "length",
        },
    ),
    "hollow section": (
        sections.hollow_section_area,
        {
            "height": "section height",
            "width": "section width",
            "corner_radius": "corner radius",
            "length": "length",
        },
    ),
    "manhole": (vessels.manhole_area, {"diameter": "diameter", "length": "neck length"}),
}

SHAPE_NAMES = (KNOWN_AREA, *SHAPES)


def surface_area(
    shape: str,
    known_area: float | None = None,
    length: float | None = None,
    width: float | None = None,
    height: float | None = None,
    diameter: float | None = None,
    other_size: float | None = None,
    corner_radius: float | None = None,
) -> float:
    """Area of one piece of a take-off row; sizes that its shape does not use may be absent.

        A = the formula of the shape

    Parameters
    ----------
    shape : str
        One of `SHAPE_NAMES`.
    known_area : float or None
        Area, for the shape "known area", above 0. [m²]
    length : float or None
        Above 0. [m]
    width : float or None
        Above 0. [m]
    height : float or None
        Height, depth or rise, above 0. [m]
    diameter : float or None
        Above 0. [m]
    other_size : float or None
        The further size that `sizes_needed` names, 0 or more. [m]
    corner_radius : float or None
        Knuckle, root or corner radius, 0 or more. [m]

    Returns
    -------
    float
        Area of one piece. [m²]

    Source
    ------
    Plane and solid geometry.

    Example
    -------
    >>> surface_area("pit", length=6.0, width=4.0, height=2.0)
    64.0
    """
    require_one_of("shape", shape, SHAPE_NAMES)
    given = {
        "length": length,
        "width": width,
        "height": height,
        "diameter": diameter,
        "other_size": other_size,
        "corner_radius": corner_radius,
    }
    if shape == KNOWN_AREA:
        if known_area is None:
            raise InputError("known_area", None, "given", "for a known area")
        require("known_area", known_area, above=0)
        return known_area
    area, sizes = SHAPES[shape]
    for size, meaning in sizes.items():
        if given[size] is None:
            raise InputError(size, None, "given", f"for the shape {shape}: {meaning}")
    return area(**{size: given[size] for size in sizes})


def sizes_needed(shape: str) -> str:
    """Which sizes a shape asks for, in words.

        a list of words

    Parameters
    ----------
    shape : str
        One of `SHAPE_NAMES`.

    Returns
    -------
    str
        The sizes, and what each means where its name does not say it.

    Source
    ------
    The declarations of the shapes.

    Example
    -------
    >>> sizes_needed("torispherical head")
    'Diameter, Other size: crown radius, Corner radius: knuckle radius'
    """
    require_one_of("shape", shape, SHAPE_NAMES)
    if shape == KNOWN_AREA:
        return "Known area"
    words = []
    for size, meaning in SHAPES[shape][1].items():
        label = size.replace("_", " ").capitalize()
        words.append(label if meaning == size.replace("_", " ") else f"{label}: {meaning}")
    return ", ".join(words)


def deducted_area(opening_area: float, opening_count: float, deduction_threshold: float) -> float:
    """Area of openings that is taken off, where small ones are not.

        A n, 0 where A <= A_threshold

    Parameters
    ----------
    opening_area : float
        Of one opening, 0 or more. [m²]
    opening_count : float
        0 or more. [1]
    deduction_threshold : float
        Openings up to this size are not taken off, 0 or more. [m²]

    Returns
    -------
    float
        Area to take off. [m²]

    Valid for
    ---------
    The rule of measurement that the contract names; 0 takes every opening off.

    Source
    ------
    Common practice, no source: the threshold is the contract's.

    Example
    -------
    >>> deducted_area(0.4, 3.0, 0.5), deducted_area(2.0, 3.0, 0.5)
    (0.0, 6.0)
    """
    require("opening_area", opening_area, at_least=0)
    require("opening_count", opening_count, at_least=0)
    require("deduction_threshold", deduction_threshold, at_least=0)
    return opening_area * opening_count if opening_area > deduction_threshold else 0.0


def measured_area(
    unit_area: float, opening_area: float, piece_count: float, profile_factor: float
) -> float:
    """Area of all pieces of one take-off row, openings taken off.

        A = (A_1 - A_openings) n F

    Parameters
    ----------
    unit_area : float
        Area of one piece, 0 or more. [m²]
    opening_area : float
        Openings in one piece, 0 or more, at most the piece. [m²]
    piece_count : float
        Number of equal pieces, 0 or more. [1]
    profile_factor : float
        Developed over flat area, at least 1. [1]

    Returns
    -------
    float
        Measured area. [m²]

    Source
    ------
    Plane geometry.

    Example
    -------
    12 m by 5 m less two openings of 1.2 m by 2.1 m:

    >>> round(measured_area(60.0, 5.04, 1, 1.0), 6)
    54.96
    """
    require("unit_area", unit_area, at_least=0)
    require("opening_area", opening_area, at_least=0, at_most=unit_area)
    require("piece_count", piece_count, at_least=0)
    require("profile_factor", profile_factor, at_least=1)
    return max(0.0, unit_area - opening_area) * piece_count * profile_factor
