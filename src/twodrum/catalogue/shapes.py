"""Worksheet functions of shapes and the take-off."""

from __future__ import annotations

from ..core import heads, sections, takeoff
from .declaration import Function, arguments

CATEGORY = "Shapes"

# The same formulas as in core, in the words of a spreadsheet, in the order of SHAPE_NAMES.
NATIVE_SHAPES = {
    "known area": "{known_area}",
    "rectangle": "{length}*{width}",
    "triangle": "{length}*{height}/2",
    "trapezium": "({length}+{other_size})*{height}/2",
    "four walls": "2*({length}+{width})*{height}",
    "pit": "{length}*{width}+2*({length}+{width})*{height}",
    "sloped pit": "{length}*{width}+2*({length}+{width}+2*{other_size})"
    "*SQRT({height}^2+{other_size}^2)",
    "bund walls": "2*({length}+{width})*{height}+2*({length}+{width}+4*{other_size})*{height}"
    "+2*{other_size}*({length}+{width}+2*{other_size})",
    "circle": "PI()*{diameter}^2/4",
    "ring": "PI()*({diameter}^2-{other_size}^2)/4/({other_size}<{diameter})",
    "pipe": "PI()*{diameter}*{length}",
    "tank shell": "PI()*{diameter}*{height}",
    "tank shell and floor": "PI()*{diameter}*{height}+PI()*{diameter}^2/4",
    "cone": "PI()*{diameter}/2*SQRT(({diameter}/2)^2+{height}^2)",
    "frustum": "PI()*({diameter}+{other_size})/2*SQRT((({diameter}-{other_size})/2)^2+{height}^2)",
    "sphere": "PI()*{diameter}^2",
    "hemispherical head": "PI()*{diameter}^2/2",
    "2:1 ellipsoidal head": "PI()*{diameter}^2/4*(1+LN(2+SQRT(3))/(2*SQRT(3)))",
    "torispherical head": (
        "(2*PI()*{other_size}^2*(1-COS({phi}))"
        "+2*PI()*{corner_radius}*(({diameter}/2-{corner_radius})*(PI()/2-{phi})"
        "+{corner_radius}*COS({phi})))"
        "/AND({other_size}>={diameter}/2,{corner_radius}<{diameter}/2)"
    ).replace(
        "{phi}", "ASIN(MIN(1,({diameter}/2-{corner_radius})/({other_size}-{corner_radius})))"
    ),
    "I or H section": "(2*{height}+4*{width}-2*{other_size}-(8-2*PI())*{corner_radius})*{length}"
    "/AND({other_size}<{width},{corner_radius}<=({width}-{other_size})/2,"
    "{corner_radius}<={height}/2)",
    "hollow section": "(2*({height}+{width})-(8-2*PI())*{corner_radius})*{length}"
    "/({corner_radius}<=MIN({height},{width})/2)",
    "manhole": "PI()*{diameter}*{length}",
}

SIZES = "known_area:area? length:length? width:length? height:length? diameter:length?"

FUNCTIONS: tuple[Function, ...] = (
    Function(
        "TD_SURFACE_AREA",
        CATEGORY,
        takeoff.surface_area,
        arguments(f"shape:shape {SIZES} other_size:length? corner_radius:length?"),
        "area",
        "CHOOSE(MATCH({shape},shape_list,0)"
        "/(INDEX(shape_list,MATCH({shape},shape_list,0))={shape}),"
        + ",".join(NATIVE_SHAPES[name] for name in takeoff.SHAPE_NAMES)
        + ")",
        # A refused size refuses the row even where its shape does not use it.
        guards=(
            "ISNUMBER(SUM({known_area},{length},{width},{height},{diameter},{other_size},"
            "{corner_radius}))",
        ),
        example=(("pit", "", "6 m", "4 m", "2 m"), "64 m²"),
    ),
    Function(
        "TD_SIZES_NEEDED",
        CATEGORY,
        takeoff.sizes_needed,
        arguments("shape:shape"),
        "text",
        "INDEX(shape_sizes,MATCH({shape},shape_list,0)"
        "/(INDEX(shape_list,MATCH({shape},shape_list,0))={shape}))",
        example=(("pit",), "Length, Width, Height: depth"),
    ),
    Function(
        "TD_MEASURED_AREA",
        CATEGORY,
        takeoff.measured_area,
        arguments("unit_area:area opening_area:area piece_count:count profile_factor:factor"),
        "area",
        "MAX(0,{unit_area}-{opening_area})*{piece_count}*{profile_factor}",
        guards=("{opening_area}<={unit_area}",),
        example=(("60 m²", "5.04 m²", "1", "1"), "54.96 m²"),
    ),
    Function(
        "TD_TORISPHERICAL_HEAD_DEPTH",
        CATEGORY,
        heads.torispherical_head_depth,
        arguments("diameter:length other_size:length corner_radius:length"),
        "length",
        "{other_size}-SQRT(MAX(0,({other_size}-{corner_radius})^2"
        "-({diameter}/2-{corner_radius})^2))",
        guards=("{other_size}>={diameter}/2", "{corner_radius}<{diameter}/2"),
        example=(("1 m", "1 m", "60 mm"), "169.337613708193 mm"),
    ),
    Function(
        "TD_TRAPEZOIDAL_SHEET_FACTOR",
        CATEGORY,
        sections.trapezoidal_sheet_factor,
        arguments("pitch:length top:length bottom:length depth:length"),
        "factor",
        "({top}+{bottom}+2*SQRT({depth}^2+(({pitch}-{top}-{bottom})/2)^2))/{pitch}",
        guards=("{top}+{bottom}<={pitch}",),
        example=(("200 mm", "60 mm", "60 mm", "40 mm"), "1.16568542494924 ×"),
    ),
    Function(
        "TD_SINUSOIDAL_SHEET_FACTOR",
        CATEGORY,
        sections.sinusoidal_sheet_factor,
        arguments("pitch:length depth:length"),
        "factor",
        example=(("76 mm", "18 mm"), "1.12660503960222 ×"),
    ),
    Function(
        "TD_DEDUCTED_AREA",
        CATEGORY,
        takeoff.deducted_area,
        arguments("opening_area:area opening_count:number deduction_threshold:area"),
        "area",
        "IF({opening_area}>{deduction_threshold},{opening_area}*{opening_count},0)",
        example=(("2 m²", "3", "0.5 m²"), "6 m²"),
    ),
)
