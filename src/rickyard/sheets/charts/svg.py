"""Elements of SVG as text: each function returns one element, escaped, and the same every time."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from html import escape
from typing import Final

from rickyard.display import Display, clean

_ANCHORS: Final = {"left": "start", "center": "middle", "right": "end"}

#: From the middle of a capital to the line it stands on, as a share of the letters' size.
_HALF_CAPITAL: Final = 0.343

#: Added to every space between words: that of the narrow font is lean. [pt]
WORD_SPACING_PT: Final = 0.7


def number(value: float) -> str:
    """Return a length in as few letters as a hundredth of a point needs.

    Examples
    --------
    >>> number(12.0), number(0.456), number(-0.001)
    ('12', '0.46', '0')
    """
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def rect(
    x: float,
    y: float,
    width: float,
    height: float,
    fill: str,
    edge: str = "",
    edge_width: float = 0.0,
) -> str:
    """Return a rectangle. [pt]."""
    stroke = f' stroke="{edge}" stroke-width="{number(edge_width)}"' if edge_width > 0 else ""
    place = f'x="{number(x)}" y="{number(y)}"'
    size = f'width="{number(width)}" height="{number(height)}"'
    return f'<rect {place} {size} fill="{fill}"{stroke}/>'


def line(
    x: float, y: float, x2: float, y2: float, ink: str, thickness: float, dashed: bool = False
) -> str:
    """Return a straight line. [pt]."""
    ends = f'x1="{number(x)}" y1="{number(y)}" x2="{number(x2)}" y2="{number(y2)}"'
    dash = ' stroke-dasharray="3 2"' if dashed else ""
    return f'<line {ends} stroke="{ink}" stroke-width="{number(thickness)}"{dash}/>'


def path(steps: str, fill: str = "none", ink: str = "", thickness: float = 0.0) -> str:
    """Return a path from its steps, which ``outline`` and its like write."""
    stroke = f' stroke="{ink}" stroke-width="{number(thickness)}"' if thickness > 0 else ""
    return f'<path d="{steps}" fill="{fill}"{stroke}/>'


def outline(points: Sequence[tuple[float, float]], closed: bool = True) -> str:
    """Return the steps of a path through points.

    Examples
    --------
    >>> outline([(0, 0), (4, 0), (4, 3)])
    'M0 0L4 0L4 3Z'
    """
    steps = "L".join(f"{number(x)} {number(y)}" for x, y in points)
    return f"M{steps}Z" if closed else f"M{steps}"


def circle(x: float, y: float, radius: float) -> str:
    """Return the steps of a path around a circle.

    Examples
    --------
    >>> circle(5, 5, 2)
    'M3 5a2 2 0 1 0 4 0a2 2 0 1 0 -4 0Z'
    """
    r, across = number(radius), number(2 * radius)
    start = f"M{number(x - radius)} {number(y)}"
    return f"{start}a{r} {r} 0 1 0 {across} 0a{r} {r} 0 1 0 -{across} 0Z"


def text(
    x: float, y: float, words: str, size: float, ink: str, align: str = "left", bold: bool = False
) -> str:
    """Return words whose capitals have their middle at height ``y``. [pt].

    Examples
    --------
    >>> text(0, 10, "R&D", 10, "#111111")
    '<text x="0" y="13.43" font-size="10px" fill="#111111">R&amp;D</text>'
    """
    anchor = "" if align == "left" else f' text-anchor="{_ANCHORS[align]}"'
    weight = ' font-weight="bold"' if bold else ""
    place = f'x="{number(x)}" y="{number(y + _HALF_CAPITAL * size)}"'
    look = f'font-size="{number(size)}px" fill="{ink}"{anchor}{weight}'
    return f"<text {place} {look}>{escape(clean(words), quote=False)}</text>"


def document(
    width: float, height: float, description: str, font: str, elements: Iterable[str]
) -> str:
    """Return a whole drawing; ``description`` is read out to those who do not see it."""
    size = f'width="{number(width)}" height="{number(height)}"'
    box = f'viewBox="0 0 {number(width)} {number(height)}"'
    label = f'role="img" aria-label={_quoted(clean(description))}'
    body = "\n".join(elements)
    family = f'font-family={_quoted(font)} word-spacing="{WORD_SPACING_PT}"'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} {box} {label} {family}>\n{body}\n</svg>\n'
    )


def _quoted(words: str) -> str:
    return f'"{escape(words, quote=False).replace(chr(34), "&quot;")}"'


def span_words(start: date, end: date, display: Display) -> str:
    """Return the days from ``start`` to the day before ``end``, in little room.

    Parameters
    ----------
    start, end : date
        The first day, and the day after the last.
    display : Display
        The style of dates.

    Returns
    -------
    str
        The days.

    Examples
    --------
    >>> us = Display("us")
    >>> span_words(date(2026, 12, 7), date(2026, 12, 14), us)
    'Dec 7–13'
    >>> span_words(date(2026, 11, 30), date(2026, 12, 14), us)
    'Nov 30–Dec 13'
    >>> span_words(date(2026, 11, 7), date(2026, 11, 21), Display("metric"))
    '7–20 Nov'
    """
    last = end - timedelta(days=1)
    if last <= start:
        return display.day_text(start)
    if (last.year, last.month) != (start.year, start.month):
        return f"{display.day_text(start)}–{display.day_text(last)}"
    if display.system == "us":
        return f"{display.day_text(start)}–{last.day}"
    return f"{start.day}–{display.day_text(last)}"
