"""Charts of a study's block: for print and for colour-blind eyes, told in words too."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING
from xml.sax.saxutils import quoteattr

from openpyxl.chart import Reference, ScatterChart
from openpyxl.chart.axis import ChartLines
from openpyxl.chart.series_factory import SeriesFactory
from openpyxl.chart.shapes import GraphicalProperties
from openpyxl.drawing.line import LineProperties
from openpyxl.drawing.spreadsheet_drawing import AnchorMarker, TwoCellAnchor

from ..model import Chart, Study
from .layout import CHART_ROWS

if TYPE_CHECKING:
    from .build import Builder

# Colours after Okabe and Ito; each line has its own mark and dash as well.
LOOKS = (
    ("0072B2", "solid", "circle"),
    ("D55E00", "dash", "triangle"),
    ("009E73", "sysDot", "square"),
)
LIMIT = ("1F2933", "lgDash", "none")


def add_charts(builder: Builder, study: Study) -> None:
    """Draw the charts of a study above its block."""
    top = builder.layout.chart_tops[study.name]
    for index, chart in enumerate(study.charts):
        drawn = _drawn(builder, study, chart)
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
    drawn.y_axis.number_format = "0"
    drawn.x_axis.delete = drawn.y_axis.delete = False
    drawn.x_axis.majorGridlines = None
    pale = GraphicalProperties(ln=LineProperties(solidFill="D9DEE3", w=6350))
    drawn.y_axis.majorGridlines = ChartLines(spPr=pale)
    if clock:
        drawn.x_axis.majorUnit = 1 / 24
    # Below the drawing, also where values are negative.
    drawn.x_axis.tickLblPos = "low"
    x = Reference(sheet, min_col=1, min_row=header + 1, max_row=last)
    looks = dict(zip(chart.lines, LOOKS)) | dict.fromkeys(chart.limits, LIMIT)
    for name, (colour, dash, mark) in looks.items():
        column = columns[name]
        y = Reference(sheet, min_col=column, min_row=header, max_row=last)
        series = SeriesFactory(y, x, title_from_data=True)
        series.graphicalProperties = GraphicalProperties(
            ln=LineProperties(solidFill=colour, prstDash=dash, w=22000)
        )
        series.smooth = False
        series.marker.symbol = mark
        if mark != "none":
            series.marker.size = 6
            series.marker.graphicalProperties = GraphicalProperties(solidFill=colour)
        drawn.series.append(series)
    return drawn


def with_words(drawing: bytes, words: list[str]) -> bytes:
    """A drawing with alternative texts for its charts, which openpyxl 3.1 cannot write."""
    texts = iter(words)

    def told(match: re.Match[str]) -> str:
        return f"{match.group(0)} descr={quoteattr(next(texts))}"

    found = re.sub(r'<cNvPr id="\d+" name="Chart \d+"', told, drawing.decode("utf-8"))
    return found.encode("utf-8")
