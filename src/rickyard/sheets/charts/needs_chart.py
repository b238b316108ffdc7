"""The picture that explains a feeding program: a group's need, and what each lot alone gives.

Told apart in black and white: the need is a thick line, what is enough all season a line with
its own dashes, what falls short a thin gray one, each with its name at the end.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import Any, Final

import numpy as np

from rickyard.display import Display
from rickyard.program.explain import LotAlone, NeedPicture
from rickyard.quantities import DAYS_PER_WEEK
from rickyard.sheets.charts.canvas import INK, LIGHT, finished, marks
from rickyard.sheets.charts.letters import truncate
from rickyard.types import BoolArray, FloatArray

_WIDTH: Final = 560
_HEIGHT: Final = 190
_NAMES: Final = 240
_LABEL_PT: Final = 9.0
_LINE_PT: Final = 12.0
_MOST_LOTS: Final = 12
_SAFETY: Final = (
    "This counts energy and protein only. Hay that is enough can still harm: see what "
    "rickyard read says of it first."
)

#: Lines and words of what falls short: words still stand out five to one.
_SHORT_LINE: Final = "#9a9a9a"
_SHORT_WORDS: Final = "#5c5c5c"

#: Room for the figures beside an axis, the same in both panels so that titles stand in line.
_AXIS_ROOM: Final = 34

#: A month that the season only touches with its first days is not named.
_LEAST_DAYS_NAMED: Final = 12

#: Colours that people with any colour sight tell apart (Okabe & Ito 2008), each with its dashes.
_INKS: Final = ("#0072B2", "#D55E00", "#009E73", "#CC79A7", "#56B4E9", "#8C6D00")
_DASHES: Final = ([1, 0], [6, 3], [2, 2], [8, 3, 2, 3])


def needs_chart_svg(picture: NeedPicture, display: Display) -> str:
    """Draw what a group needs through the season beside what each lot alone could supply.

    Parameters
    ----------
    picture : NeedPicture
        Need and supply by week.
    display : Display
        The reader's units.

    Returns
    -------
    str
        SVG with a panel for energy and one for protein.
    """
    panels = [
        _panel(
            picture,
            display,
            _energy_title(picture, display),
            *_energy_values(picture, display),
            True,
        ),
        _panel(
            picture,
            display,
            f"Protein, {display.mass_unit} a day",
            display.mass(1.0) * picture.protein_kg,
            [display.mass(1.0) * lot.protein_kg for lot in _shown(picture)],
            False,
        ),
    ]
    apart = {"color": "independent", "strokeDash": "independent", "y": "independent"}
    drawing = {"vconcat": panels, "spacing": 26, "resolve": {"scale": apart}}
    title = f"{picture.group.name}: what one head needs, and what each lot alone would give"
    return finished(drawing, title, _answer(picture), _answer(picture)[0])


def _shown(picture: NeedPicture) -> Sequence[LotAlone]:
    return picture.lots[:_MOST_LOTS]


def _energy_title(picture: NeedPicture, display: Display) -> str:
    return {
        "net energy": "Energy, Mcal NEm a day",
        "gain": f"Gain, {display.mass_unit} a day",
        "TDN": f"Energy, {display.mass_unit} TDN a day",
    }[picture.energy_word]


def _energy_values(picture: NeedPicture, display: Display) -> tuple[FloatArray, list[FloatArray]]:
    factor = 1.0 if picture.energy_word == "net energy" else display.mass(1.0)
    return factor * picture.energy, [factor * lot.energy for lot in _shown(picture)]


def _answer(picture: NeedPicture) -> list[str]:
    """Return the answer first: which lots are enough alone, which fall short of what and when."""
    enough = [lot.name for lot in picture.lots if lot.enough and not lot.dangerous]
    if not picture.lots:
        return ["There is no hay in the yard to set beside the need."]
    if len(enough) == len(picture.lots):
        lines = ["Every lot alone is enough in energy and protein all season."]
    elif not enough:
        lines = ["No lot alone is enough in energy and protein all season."]
    else:
        lines = [f"Enough alone in energy and protein, all season: {', '.join(enough)}."]
    hidden = len(picture.lots) - _MOST_LOTS
    if hidden > 0:
        lines.append(f"{hidden} more lots are not drawn.")
    lines.append(_SAFETY)
    return [truncate(line, 11.0, 780.0) for line in lines]


def _panel(
    picture: NeedPicture,
    display: Display,
    title: str,
    need: FloatArray,
    supplies: list[FloatArray],
    energy: bool,
) -> dict[str, Any]:
    starts = [day.isoformat() for day in picture.days]
    low, high = _range(need, supplies)
    first, last = picture.days[0], picture.days[-1] + timedelta(days=DAYS_PER_WEEK)
    x = _across(first, last)
    y = {
        "field": "value",
        "type": "quantitative",
        "title": None,
        "scale": {"domain": [low, high], "nice": False, "zero": False},
        "axis": {"tickCount": 5, "minExtent": _AXIS_ROOM, "maxExtent": _AXIS_ROOM},
    }
    layers: list[Any] = []
    inks = _line_inks(picture, energy)
    for at, (values, ink) in enumerate(zip(supplies, inks, strict=True)):
        short = ink == _SHORT_LINE
        line = {
            "type": "line",
            "color": ink,
            "strokeWidth": 1.0 if short else 2.0,
            "strokeDash": [1, 0] if short else _dash(at),
        }
        layers.append(marks(_rows(starts, values, last), line, x=x, y=y))
    thick = {"type": "line", "color": INK, "strokeWidth": 4}
    layers.append(marks(_rows(starts, need, last), thick, x=x, y=y))
    layers += _labels(picture, display, need, supplies, (low, high), energy)
    if energy:
        layers += _stages(picture, x)
    offset = 22 if energy else 8
    return {
        "layer": layers,
        "width": _WIDTH,
        "height": _HEIGHT,
        "title": {"text": title, "anchor": "start", "fontSize": 12, "offset": offset},
    }


def _across(first: date, last: date) -> dict[str, Any]:
    """Return how a day is placed from left to right."""
    return {
        "field": "day",
        "type": "temporal",
        "title": None,
        "scale": {"domain": [first.isoformat(), last.isoformat()], "nice": False},
        "axis": {
            "format": "%b",
            "values": _months(first, last),
            "grid": False,
            "labelAlign": "left",
            "ticks": True,
        },
    }


def _months(first: date, last: date) -> list[dict[str, int]]:
    """Return where months are named: from the first day of the season on, if it is of a month."""
    found = []
    day = first
    while day < last:
        following = (day.replace(day=1) + timedelta(days=32)).replace(day=1)
        if (min(following, last) - day).days >= _LEAST_DAYS_NAMED:
            found.append({"year": day.year, "month": day.month, "date": day.day})
        day = following
    return found


def _short(lot: LotAlone, energy: bool) -> BoolArray:
    return lot.energy_short if energy else lot.protein_short


def _line_inks(picture: NeedPicture, energy: bool) -> list[str]:
    """Return a colour for each lot that is enough in one of the panels, gray where it is not."""
    useful = [
        lot for lot in _shown(picture) if not (lot.energy_short.any() and lot.protein_short.any())
    ]
    colour = {lot.lot_id: _INKS[at % len(_INKS)] for at, lot in enumerate(useful)}
    return [
        _SHORT_LINE if _short(lot, energy).any() else colour[lot.lot_id] for lot in _shown(picture)
    ]


def _dash(at: int) -> list[int]:
    return _DASHES[(at // len(_INKS) + at) % len(_DASHES)]


def _rows(starts: Sequence[str], values: FloatArray, last: date) -> list[dict[str, Any]]:
    rows = [{"day": day, "value": float(value)} for day, value in zip(starts, values, strict=True)]
    return [*rows, {"day": last.isoformat(), "value": float(values[-1])}]


def _range(need: FloatArray, supplies: list[FloatArray]) -> tuple[float, float]:
    everything = np.concatenate([need, *supplies])
    low, high = float(np.nanmin(everything)), float(np.nanmax(everything))
    room = 0.08 * (high - low) or 1.0
    return max(low - room, 0.0), high + room


def _labels(
    picture: NeedPicture,
    display: Display,
    need: FloatArray,
    supplies: list[FloatArray],
    span: tuple[float, float],
    energy: bool,
) -> list[Any]:
    """Write a name at the end of each line, apart from each other, tied to its line."""
    ends = [float(need[-1]), *(float(values[-1]) for values in supplies)]
    wanted = "wanted" if energy and picture.energy_word == "gain" else "need"
    names = [wanted, *(_name(lot, picture, display, energy) for lot in _shown(picture))]
    inks = [INK, *_line_inks(picture, energy)]
    pixels = [_HEIGHT * (span[1] - end) / (span[1] - span[0]) for end in ends]
    spots = _inside(_apart(pixels))
    rows: list[dict[str, Any]] = [
        {
            "x": _WIDTH + 3,
            "x2": _WIDTH + 16,
            "from": at,
            "to": spot,
            "name": name,
            "ink": ink,
            "weight": "normal" if ink == _SHORT_LINE else "bold",
            "words": _SHORT_WORDS if ink == _SHORT_LINE else INK,
        }
        for at, spot, name, ink in zip(pixels, spots, names, inks, strict=True)
    ]
    layers: list[Any] = []
    for row in rows:
        rule = {"type": "rule", "color": row["ink"], "strokeWidth": 1.5, "clip": False}
        ends_at = {one: {"value": row[of]} for one, of in _TIES.items()}
        layers.append(marks([row], rule, **ends_at))
        text = {
            "type": "text",
            "align": "left",
            "baseline": "middle",
            "color": row["words"],
            "fontSize": _LABEL_PT + 1,
            "fontWeight": row["weight"],
            "clip": False,
        }
        place = {"x": {"value": row["x2"] + 3}, "y": {"value": row["to"]}}
        layers.append(marks([row], text, **place, text=_words_of("name")))
    return layers


#: From where to where the line from a curve to its name goes: channels, and what places them.
_TIES: Final = {"x": "x", "x2": "x2", "y": "from", "y2": "to"}


def _words_of(field: str) -> dict[str, str]:
    return {"field": field, "type": "nominal"}


def _name(lot: LotAlone, picture: NeedPicture, display: Display, energy: bool) -> str:
    short = _short(lot, energy)
    weeks = int(short.sum())
    if weeks == 0:
        told = "enough"
    elif weeks == len(short):
        told = "short all season"
    else:
        first = picture.days[int(short.argmax())]
        told = f"short {weeks} of {len(short)} weeks, from {display.day_text(first)}"
    danger = " (danger, read it)" if lot.dangerous else ""
    return f"{truncate(lot.name, _LABEL_PT, _NAMES - 110.0)}{danger}, {told}"


def _apart(pixels: Sequence[float]) -> list[float]:
    """Return heights at least a line apart, in the same order, as near as may be.

    >>> _apart([50.0, 51.0, 100.0])
    [44.5, 56.5, 100.0]
    """
    order = sorted(range(len(pixels)), key=lambda at: pixels[at])
    groups: list[list[float]] = []  # middle, count
    for at in order:
        groups.append([pixels[at], 1.0])
        while len(groups) > 1:
            (upper, more), (lower, less) = groups[-2], groups[-1]
            if lower - upper >= 0.5 * _LINE_PT * (more + less):
                break
            groups[-2:] = [[(upper * more + lower * less) / (more + less), more + less]]
    spots = [
        middle + _LINE_PT * (place - (count - 1.0) / 2.0)
        for middle, count in groups
        for place in range(int(count))
    ]
    found = [0.0] * len(pixels)
    for at, spot in zip(order, spots, strict=True):
        found[at] = spot
    return found


def _inside(spots: Sequence[float]) -> list[float]:
    """Return heights with those under the panel moved up, still a line apart.

    >>> _inside([100.0, 185.0, 199.0])
    [100.0, 178.0, 190.0]
    """
    found = list(spots)
    room = float(_HEIGHT)
    for at in sorted(range(len(found)), key=lambda at: -found[at]):
        found[at] = min(found[at], room)
        room = found[at] - _LINE_PT
    return found


def _stages(picture: NeedPicture, x: dict[str, Any]) -> list[Any]:
    """Write what the animals are doing above the energy, where it begins."""
    begins: list[dict[str, Any]] = []
    for day, stage in zip(picture.days, picture.stage, strict=True):
        word = stage.partition(",")[0]
        if not begins or begins[-1]["word"] != word:
            begins.append({"day": day.isoformat(), "word": word})
    text = {
        "type": "text",
        "align": "left",
        "baseline": "bottom",
        "dx": 2,
        "fontSize": _LABEL_PT + 1,
        "fontStyle": "italic",
        "color": INK,
        "clip": False,
    }
    return [
        marks(begins, {"type": "rule", "color": LIGHT, "strokeWidth": 0.8}, x=x),
        marks(begins, text, x=x, y={"value": -4}, text=_words_of("word")),
    ]
