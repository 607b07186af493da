"""Charts of a study's block: for print and for colour-blind eyes, told in words too."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING
from xml.sax.saxutils import quoteattr

from openpyxl.chart import BarChart, Reference, ScatterChart
from openpyxl.chart.axis import ChartLines
from openpyxl.chart.series_factory import SeriesFactory
from openpyxl.chart.shapes import GraphicalProperties
from openpyxl.drawing.fill import ColorChoice, PatternFillProperties
from openpyxl.drawing.line import LineProperties
from openpyxl.drawing.spreadsheet_drawing import AnchorMarker, TwoCellAnchor

from ..engine.model import Chart, Study
from ..workbook.layout import CHART_ROWS

if TYPE_CHECKING:
    from .builder import Builder

# Colours that no hose is marked with, told apart by any eye; each line has its own mark and dash.
LOOKS = (
    ("762A83", "solid", "circle"),
    ("1B7837", "dash", "triangle"),
    ("4D4D4D", "sysDot", "square"),
)
POINTS = (("762A83", "solid", "circle"), ("1B7837", "solid", "triangle"))
DARK = "1F2933"
LIMIT_DASHES = ("lgDash", "sysDashDot")
UPRIGHT = (DARK, "solid", "none")


def add_charts(builder: Builder, study: Study) -> None:
    """Draw the charts of a study above its block."""
    top = builder.layout.chart_tops[study.name]
    for index, chart in enumerate(study.charts):
        draw = _bars if chart.look == "bars" else _drawn
        drawn = draw(builder, study, chart)
        builder.words[study.sheet].append(chart.words)
        first = top + index * CHART_ROWS
        drawn.anchor = TwoCellAnchor(
            "twoCell",
            _from=AnchorMarker(col=0, row=first - 1),
            to=AnchorMarker(col=5, row=first + CHART_ROWS - 3),
        )
        builder.sheets[study.sheet].add_chart(drawn)


def _drawn(builder: Builder, study: Study, chart: Chart) -> ScatterChart:
    sheet = builder.sheets[study.sheet]
    header = builder.layout.study_tops[study.name] + 2
    last = header + study.capacity
    columns = {c.name: number for number, c in enumerate(study.columns, 1)}
    drawn = ScatterChart()
    drawn.style = 2
    drawn.scatterStyle = "lineMarker"
    drawn.title = chart.title
    drawn.width, drawn.height = 26, 11
    drawn.legend.position = "b"
    drawn.x_axis.title, drawn.y_axis.title = chart.x_title, chart.y_title
    clock = study.columns[0].kind == "clock"
    drawn.x_axis.number_format = "hh:mm" if clock else "0.0"
    drawn.y_axis.number_format = f"{0:.{chart.decimals}f}"
    drawn.x_axis.delete = drawn.y_axis.delete = False
    drawn.x_axis.majorGridlines = None
    pale = GraphicalProperties(ln=LineProperties(solidFill="D9DEE3", w=6350))
    drawn.y_axis.majorGridlines = ChartLines(spPr=pale)
    if clock:
        drawn.x_axis.majorUnit = 1 / 24
    # Below the drawing, also where values are negative.
    drawn.x_axis.tickLblPos = "low"
    x = Reference(sheet, min_col=1, min_row=header + 1, max_row=last)
    looks = dict(zip(chart.lines, LOOKS)) | _limits(chart)
    looks |= dict(zip(chart.points, POINTS)) | dict.fromkeys(chart.uprights, UPRIGHT)
    if chart.by_tens:
        drawn.y_axis.scaling.logBase = 10
    for name, (colour, dash, mark) in looks.items():
        column = columns[name]
        y = Reference(sheet, min_col=column, min_row=header, max_row=last)
        series = SeriesFactory(y, x, title_from_data=True)
        # A line has one fill or none: both at once is no valid chart.
        line = LineProperties(solidFill=colour, prstDash=dash, w=22000)
        if name in chart.points:
            line = LineProperties(noFill=True, w=22000)
        series.graphicalProperties = GraphicalProperties(ln=line)
        series.smooth = False
        # A curve of many places has no mark at each of them.
        series.marker.symbol = "none" if chart.points and name in chart.lines else mark
        if mark != "none":
            series.marker.size = 11 if name in chart.points else 6
            series.marker.graphicalProperties = GraphicalProperties(solidFill=colour)
        drawn.series.append(series)
    return drawn


def _limits(chart: Chart) -> dict[str, tuple[str, str, str]]:
    """How each limit looks: dark where there is one line, else in the colour of its own."""
    count = len(chart.lines)
    looks = {}
    for index, name in enumerate(chart.limits):
        colour = LOOKS[index % count][0] if count > 1 else DARK
        looks[name] = (colour, LIMIT_DASHES[index // 2], "none")
    return looks


def _bars(builder: Builder, study: Study, chart: Chart) -> BarChart:
    """Level bars of two columns, named by the first column."""
    sheet = builder.sheets[study.sheet]
    header = builder.layout.study_tops[study.name] + 2
    last = header + study.capacity
    columns = {c.name: number for number, c in enumerate(study.columns, 1)}
    drawn = BarChart()
    drawn.style, drawn.type = 2, "bar"
    drawn.title = chart.title
    drawn.legend.position = "b"
    drawn.overlap, drawn.gapWidth = 100, 40
    # Names stand beside the drawing, also where bars go to the left.
    drawn.x_axis.tickLblPos = "low"
    # Rows of a level bar chart begin at the bottom.
    drawn.x_axis.scaling.orientation = "maxMin"
    drawn.x_axis.title, drawn.y_axis.title = chart.y_title, chart.x_title
    drawn.y_axis.number_format = "#,##0"
    drawn.x_axis.delete = drawn.y_axis.delete = False
    pale = GraphicalProperties(ln=LineProperties(solidFill="D9DEE3", w=6350))
    drawn.y_axis.majorGridlines = ChartLines(spPr=pale)
    names = Reference(sheet, min_col=1, min_row=header + 1, max_row=last)
    for name, (colour, _, _), pattern in zip(chart.lines, LOOKS, (None, "wdUpDiag")):
        y = Reference(sheet, min_col=columns[name], min_row=header, max_row=last)
        series = SeriesFactory(y, title_from_data=True)
        series.graphicalProperties = GraphicalProperties(solidFill=colour)
        if pattern:
            # Told apart in grey print too.
            fill = PatternFillProperties(prst=pattern)
            fill.foreground, fill.background = (
                ColorChoice(srgbClr=colour),
                ColorChoice(srgbClr="FFFFFF"),
            )
            series.graphicalProperties = GraphicalProperties(pattFill=fill)
        series.invertIfNegative = False
        drawn.series.append(series)
    drawn.set_categories(names)
    return drawn


def with_words(drawing: bytes, words: list[str]) -> bytes:
    """A drawing with alternative texts for its charts, which openpyxl 3.1 cannot write."""
    texts = iter(words)

    def told(match: re.Match[str]) -> str:
        return f"{match.group(0)} descr={quoteattr(next(texts))}"

    found = re.sub(r'<cNvPr id="\d+" name="Chart \d+"', told, drawing.decode("utf-8"))
    return found.encode("utf-8")
