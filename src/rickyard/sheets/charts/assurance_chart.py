"""What a surer supply costs: the price of assurance as one rising line.

Told apart in black and white: a promise that can be kept is a full dot on the line, one that
cannot is an open diamond on the floor, with words beside it.
"""

from __future__ import annotations

from typing import Any, Final

from rickyard.display import money_text
from rickyard.program.ask import AssuranceCurve, assurance_answer
from rickyard.sheets.charts.canvas import DARK, INK, MIDDLE, finished, marks

_WIDTH: Final = 520
_HEIGHT: Final = 240
#: Less than this is the cost of means and rounding.
_LEAST_LABEL_USD: Final = 0.5
_NOTE: Final = (
    "Assurance: the chance that protein, and energy, of every group are enough, given how "
    "exactly tests, tables and tags are known."
)


def assurance_chart_svg(curve: AssuranceCurve) -> str:
    """Draw what each assurance costs above counting on means.

    Parameters
    ----------
    curve : AssuranceCurve
        The season at one chance after another.

    Returns
    -------
    str
        SVG with a title that gives the answer and a label for every point.
    """
    rows = _rows(curve)
    kept = [row for row in rows if row["kept"]]
    lost = [row for row in rows if not row["kept"]]
    most = max((row["more"] for row in rows), default=0.0)
    place = {
        "x": {
            "field": "chance",
            "type": "quantitative",
            "title": "assurance, % of seasons",
            "scale": {"domain": _span(curve), "nice": False},
            "axis": {"grid": False},
        },
        "y": {
            "field": "more",
            "type": "quantitative",
            "title": "added cost over averages, $",
            "scale": {"domain": [0, max(most * 1.15, 1.0)], "nice": False},
            "axis": {"tickCount": 5, "format": ",.0f"},
        },
    }
    words = {"field": "label", "type": "nominal"}
    text = {"type": "text", "align": "right"}
    told = {**text, "dy": -14, "dx": -4, "fontSize": 11, "color": INK}
    never = {**text, "dy": -16, "fontSize": 11, "color": MIDDLE, "fontStyle": "italic"}
    dot = {"type": "point", "shape": "circle", "filled": True, "size": 70, "color": INK}
    diamond = {"type": "point", "shape": "diamond", "size": 90, "color": INK, "fill": "white"}
    layers = [
        marks(kept, {"type": "line", "color": DARK, "strokeWidth": 2.5}, **place),
        marks(kept, dot, **place),
        marks(kept, told, **place, text=words),
        marks(lost, diamond, **place),
        marks(lost, never, **place, text=words),
    ]
    answer = assurance_answer(curve)
    title = f"{curve.farm_name}: what a surer supply costs"
    subtitle = [*_sentences(answer), _NOTE]
    drawing = {"layer": layers, "width": _WIDTH, "height": _HEIGHT}
    return finished(drawing, title, subtitle, answer)


def _rows(curve: AssuranceCurve) -> list[dict[str, Any]]:
    """Return a row for each point; one label will do for all promises that cannot be kept."""
    first_lost = next((one.chance_pct for one in curve.points if not one.kept), None)
    rows = []
    for one in curve.points:
        label = money_text(one.more_usd) if one.more_usd >= _LEAST_LABEL_USD else ""
        if not one.kept:
            label = "cannot be promised" if one.chance_pct == first_lost else ""
        more = max(0.0, one.more_usd) if one.kept else 0.0
        rows.append({"chance": one.chance_pct, "more": more, "kept": one.kept, "label": label})
    return rows


def _sentences(answer: str) -> list[str]:
    """Return an answer with a line for each sentence."""
    return [part if part.endswith(".") else f"{part}." for part in answer.split(". ")]


def _span(curve: AssuranceCurve) -> list[float]:
    least = min((one.chance_pct for one in curve.points), default=50.0)
    return [least - 2.0, 100.0]
