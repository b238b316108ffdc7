"""A small drawing board: boxes, lines, marks and words placed in points, out comes SVG.

Everything is placed by hand, so that nothing moves with the fonts of the machine that draws.
Words are set in a font that ships with the sheets.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Final, Literal

from rickyard.sheets.charts import svg

#: Ships with the sheets; what it lacks is set in what comes after it.
FONT: Final = "Archivo, Franklin Gothic, Arial, Libertinus Serif, sans-serif"

#: Pictures for the screen are set in the reader's own sans serif.
SCREEN_FONT: Final = "Helvetica, Arial, Liberation Sans, DejaVu Sans, sans-serif"

#: The release of Vega-Lite in which charts are written. Another one may place words elsewhere.
VEGA_LITE: Final = "v6_4"

INK: Final = "#141414"
DARK: Final = "#3a3a3a"
MIDDLE: Final = "#6e6e6e"
LIGHT: Final = "#bdbdbd"
PALE: Final = "#e6e6e6"
PAPER: Final = "#ffffff"

#: The smallest letters that are read at arm's length in a barn. [pt]
SMALLEST_PT: Final = 7.5

Align = Literal["left", "center", "right"]


@dataclass
class Canvas:
    """A board of ``width`` by ``height`` points; y runs downward from the top."""

    width: float
    height: float
    description: str
    _behind: list[str] = field(default_factory=list)
    _boxes: list[str] = field(default_factory=list)
    _lines: list[str] = field(default_factory=list)
    _words: list[str] = field(default_factory=list)

    def box(
        self,
        x: float,
        y: float,
        width: float,
        height: float,
        fill: str,
        edge: str = INK,
        edge_width: float = 0.0,
    ) -> None:
        """Draw a rectangle."""
        self._boxes.append(svg.rect(x, y, width, height, fill, edge, edge_width))

    def hatched_box(
        self, x: float, y: float, width: float, height: float, step: float = 4.0
    ) -> None:
        """Draw a white rectangle with an outline and slanted lines."""
        self.box(x, y, width, height, PAPER, edge_width=0.6)
        strokes = []
        along = step
        while along < width + height:
            start, rest = min(along, width), max(along - width, 0.0)
            end, drop = max(along - height, 0.0), min(along, height)
            strokes.append(svg.outline([(x + start, y + rest), (x + end, y + drop)], closed=False))
            along += step
        self._boxes.append(svg.path("".join(strokes), ink=INK, thickness=0.5))

    def line(
        self,
        x: float,
        y: float,
        x2: float,
        y2: float,
        thickness: float = 0.6,
        ink: str = INK,
        dashed: bool = False,
        behind: bool = False,
    ) -> None:
        """Draw a straight line, over or behind the boxes."""
        place = self._behind if behind else self._lines
        place.append(svg.line(x, y, x2, y2, ink, thickness, dashed))

    def area(self, points: list[tuple[float, float]], floor: float) -> None:
        """Fill what lies between a line through ``points`` and ``floor``, behind everything."""
        around = [(points[0][0], floor), *points, (points[-1][0], floor)]
        self._behind.insert(0, svg.path(svg.outline(around), PALE))

    def shape(self, steps: str, fill: str = "none", ink: str = INK, thickness: float = 0.0) -> None:
        """Draw a path, over the boxes."""
        self._lines.append(svg.path(steps, fill, ink, thickness))

    def danger(self, x: float, y: float, size: float) -> None:
        """Draw the mark of a danger, its middle at ``y``: a full triangle, a bar cut out."""
        half, top = size / 2, y - 0.46 * size
        self.shape(svg.outline([(x, y + half), (x + half, top), (x + size, y + half)]), INK)
        bar, middle = 0.075 * size, x + half
        for upper, lower in ((y - 0.12 * size, y + 0.2 * size), (y + 0.27 * size, y + 0.39 * size)):
            corners = ((middle - bar, upper), (middle + bar, upper))
            under = ((middle + bar, lower), (middle - bar, lower))
            self.shape(svg.outline([*corners, *under]), PAPER)

    def text(
        self,
        x: float,
        y: float,
        words: str,
        size: float = 8.0,
        align: Align = "left",
        bold: bool = False,
        ink: str = INK,
    ) -> None:
        """Write words, their middle at height ``y``."""
        if size < SMALLEST_PT:
            raise ValueError(f"letters of {size} pt are too small to read on a barn door")
        self._words.append(svg.text(x, y, words, size, ink, align, bold))

    def svg(self) -> str:
        """Return the drawing as SVG."""
        elements = (*self._behind, *self._boxes, *self._lines, *self._words)
        return svg.document(self.width, self.height, self.description, FONT, elements)


def finished(drawing: Mapping[str, Any], title: str, subtitle: list[str], description: str) -> str:
    """Return a Vega-Lite drawing for the screen as SVG, with its title and the answer under it."""
    import vl_convert

    whole = {
        **drawing,
        "title": {
            "text": title,
            "subtitle": subtitle,
            "anchor": "start",
            "fontSize": 14,
            "subtitleFontSize": 11,
            "offset": 14,
        },
        "background": "white",
        "padding": 14,
        "description": description,
        "config": {
            "font": SCREEN_FONT,
            "view": {"stroke": None},
            "axis": {
                "labelFontSize": 10,
                "titleFontSize": 11,
                "labelColor": INK,
                "gridColor": "#eeeeee",
            },
        },
    }
    return str(vl_convert.vegalite_to_svg(whole, vl_version=VEGA_LITE))


def marks(rows: list[dict[str, Any]], mark: Mapping[str, Any], **encoding: Any) -> dict[str, Any]:
    """Return a layer of a Vega-Lite drawing: rows of data, a mark, and what places it."""
    return {"data": {"values": rows}, "mark": dict(mark), "encoding": encoding}
