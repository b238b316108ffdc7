"""A small drawing board on Altair: boxes, lines and words placed in points, out comes SVG.

Everything is placed by hand, so that nothing moves with the fonts of the machine that draws.
Text is set in a font that the paper sheets carry with them.
"""

from __future__ import annotations

import io
from dataclasses import dataclass, field
from typing import Any, Final, Literal

from rickyard.display import clean

#: Carried by the program that sets the sheets; a browser falls back to its own serif.
FONT: Final = "Libertinus Serif"

INK: Final = "#111111"
DARK: Final = "#3a3a3a"
MIDDLE: Final = "#6e6e6e"
LIGHT: Final = "#bdbdbd"
PALE: Final = "#e6e6e6"
PAPER: Final = "#ffffff"

#: The smallest letters that are read at arm's length in a barn. [pt]
SMALLEST_PT: Final = 7.5

Align = Literal["left", "center", "right"]

# Mean advance of the letters of the sheet font, as a share of its size, by rough class.
_NARROW: Final = frozenset("iljtfrI.,:;'!|()[] -")
_WIDE: Final = frozenset("mwMWQOGD%@&…—")
_ADVANCE_NARROW: Final = 0.32
_ADVANCE_WIDE: Final = 0.82
_ADVANCE_CAPITAL: Final = 0.66
_ADVANCE_OTHER: Final = 0.50
_ADVANCE_FULL_WIDTH: Final = 1.0
_BOLD: Final = 1.08
_FIRST_FULL_WIDTH: Final = 0x2E80


@dataclass
class Canvas:
    """A board of ``width`` by ``height`` points; y runs downward from the top."""

    width: float
    height: float
    description: str
    _behind: list[dict[str, Any]] = field(default_factory=list)
    _areas: list[list[dict[str, Any]]] = field(default_factory=list)
    _boxes: list[dict[str, Any]] = field(default_factory=list)
    _lines: list[dict[str, Any]] = field(default_factory=list)
    _words: dict[tuple[Align, str, str], list[dict[str, Any]]] = field(default_factory=dict)

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
        self._boxes.append(
            {
                "x": x,
                "x2": x + width,
                "y": y,
                "y2": y + height,
                "fill": fill,
                "edge": edge,
                "edge_width": edge_width,
            }
        )

    def hatched_box(
        self, x: float, y: float, width: float, height: float, step: float = 4.0
    ) -> None:
        """Draw a white rectangle with an outline and slanted lines."""
        self.box(x, y, width, height, PAPER, edge_width=0.6)
        along = step
        while along < width + height:
            start, rest = min(along, width), max(along - width, 0.0)
            end, drop = max(along - height, 0.0), min(along, height)
            self.line(x + start, y + rest, x + end, y + drop, thickness=0.5)
            along += step

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
        dash = [3, 2] if dashed else [1, 0]
        place.append(
            {"x": x, "y": y, "x2": x2, "y2": y2, "thickness": thickness, "ink": ink, "dash": dash}
        )

    def area(self, points: list[tuple[float, float]], floor: float) -> None:
        """Fill what lies between a line through ``points`` and ``floor``, behind everything."""
        self._areas.append([{"x": x, "y": y, "y2": floor} for x, y in points])

    def text(
        self,
        x: float,
        y: float,
        words: str,
        size: float = 8.0,
        align: Align = "left",
        bold: bool = False,
        italic: bool = False,
        ink: str = INK,
    ) -> None:
        """Write words, their middle at height ``y``.

        Raises
        ------
        ValueError
            If the letters are too small to be read.
        """
        if size < SMALLEST_PT:
            raise ValueError(f"letters of {size} pt are too small to read on a barn door")
        style = (align, "bold" if bold else "normal", "italic" if italic else "normal")
        self._words.setdefault(style, []).append(
            {"x": x, "y": y, "words": words, "size": size, "ink": ink}
        )

    def svg(self) -> str:
        """Return the drawing as SVG."""
        import altair as alt

        across = alt.Scale(domain=[0, self.width], nice=False, zero=False)
        down = alt.Scale(domain=[self.height, 0], nice=False, zero=False)
        x = alt.X("x:Q", scale=across, axis=None)
        y = alt.Y("y:Q", scale=down, axis=None)
        layers: list[Any] = []

        def chart(rows: list[dict[str, Any]]) -> Any:
            return alt.Chart(alt.InlineData(values=rows))

        def rules(rows: list[dict[str, Any]]) -> Any:
            return (
                chart(rows)
                .mark_rule()
                .encode(
                    x=x,
                    y=y,
                    x2="x2:Q",
                    y2="y2:Q",
                    strokeWidth=alt.StrokeWidth("thickness:Q", scale=None, legend=None),
                    stroke=alt.Stroke("ink:N", scale=None, legend=None),
                    strokeDash=alt.StrokeDash("dash:N", scale=None, legend=None),
                )
            )

        layers.extend(
            chart(rows).mark_area(color=PALE).encode(x=x, y=y, y2="y2:Q") for rows in self._areas
        )
        if self._behind:
            layers.append(rules(self._behind))
        if self._boxes:
            layers.append(
                chart(self._boxes)
                .mark_rect()
                .encode(
                    x=x,
                    y=y,
                    x2="x2:Q",
                    y2="y2:Q",
                    fill=alt.Fill("fill:N", scale=None, legend=None),
                    stroke=alt.Stroke("edge:N", scale=None, legend=None),
                    strokeWidth=alt.StrokeWidth("edge_width:Q", scale=None, legend=None),
                )
            )
        if self._lines:
            layers.append(rules(self._lines))
        for (align, weight, style), rows in self._words.items():
            layers.append(
                chart(rows)
                .mark_text(
                    align=align, baseline="middle", font=FONT, fontWeight=weight, fontStyle=style
                )
                .encode(
                    x=x,
                    y=y,
                    text="words:N",
                    size=alt.Size("size:Q", scale=None, legend=None),
                    fill=alt.Fill("ink:N", scale=None, legend=None),
                )
            )
        drawing = (
            alt.layer(*layers)
            .properties(
                width=self.width,
                height=self.height,
                padding=0,
                autosize=alt.AutoSizeParams(type="none"),
                description=self.description,
            )
            .configure_view(stroke=None)
        )
        out = io.StringIO()
        drawing.save(out, format="svg")
        return out.getvalue()


def text_width(words: str, size: float, bold: bool = False) -> float:
    """Return about how wide words are when set, on the generous side. [pt].

    Examples
    --------
    >>> text_width("ill", 10.0) < text_width("mow", 10.0)
    True
    """
    return size * (_BOLD if bold else 1.0) * sum(_advance(letter) for letter in words)


def truncate(words: str, size: float, width: float) -> str:
    """Return words cut with an ellipsis where they would be wider than ``width``.

    Examples
    --------
    >>> truncate("Tarp", 8.0, 100.0), truncate("Creek bottom alfalfa-grass", 8.0, 50.0)
    ('Tarp', 'Creek botto…')
    """
    words = clean(words)
    if text_width(words, size) <= width:
        return words
    while words and text_width(words + "…", size) > width:
        words = words[:-1]
    return words.rstrip() + "…"


def _advance(letter: str) -> float:
    if ord(letter) >= _FIRST_FULL_WIDTH:
        return _ADVANCE_FULL_WIDTH
    if letter in _NARROW:
        return _ADVANCE_NARROW
    if letter in _WIDE:
        return _ADVANCE_WIDE
    return _ADVANCE_CAPITAL if letter.isupper() else _ADVANCE_OTHER
