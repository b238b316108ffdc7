"""The ribbon: which hay and feed goes to which group in which week.

Told apart in black and white: steps of grey, figures on them, names beside them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from rickyard.display import Display, short_daily_text
from rickyard.farm import Farm
from rickyard.program.result import SeasonProgram
from rickyard.sheets.charts.canvas import (
    DARK,
    INK,
    LIGHT,
    MIDDLE,
    PALE,
    PAPER,
    Canvas,
    text_width,
    truncate,
)
from rickyard.sheets.charts.timeline import ROW, WIDTH, Timeline, draw_months
from rickyard.sheets.wording import (
    daily_by_period,
    group_name,
    group_order,
    runs_of,
    source_order,
    words,
)

_GROUP_NAME: Final = 98.0
_SOURCE_NAME: Final = 108.0
_BAND_LEFT: Final = 212.0
_RIBBON_TOP: Final = 16.0
_RIBBON_FOOT: Final = 18.0
_GROUP_GAP: Final = 5.0

#: Steps of grey by the share of the largest daily amount of the group, with ink that is read
#: on them.
_GREYS: Final = ((0.1, PALE, INK), (0.33, LIGHT, INK), (0.67, MIDDLE, PAPER), (2.0, DARK, PAPER))


def ribbon_svg(
    program: SeasonProgram, farm: Farm, display: Display, most_height: float = 400.0
) -> str:
    """Draw who gets what in which week: a block for each group, a row for each source.

    Parameters
    ----------
    program : SeasonProgram
        The program.
    farm : Farm
        Gives the groups their names.
    display : Display
        The reader's units.
    most_height : float
        Rows are left out, and counted in words, where the picture would be higher. [pt]

    Returns
    -------
    str
        SVG, 526 points wide.
    """
    blocks, unseen = _ribbon_blocks(program, most_height)
    gaps = _GROUP_GAP * max(len(blocks) - 1, 0)
    rows = sum(block.rows for block in blocks) + (1 if unseen else 0)
    bottom = _RIBBON_TOP + rows * ROW + gaps
    canvas = Canvas(WIDTH, bottom + _RIBBON_FOOT, "Which hay and feed goes to which group, by week")
    timeline = Timeline(program.start, program.end, _BAND_LEFT, WIDTH)
    draw_months(canvas, timeline, _RIBBON_TOP - 10.0, _RIBBON_TOP - 4.0, bottom)
    for period in program.periods:
        x = timeline.x(period.start)
        canvas.line(x, _RIBBON_TOP - 4.0, x, _RIBBON_TOP - 1.5, thickness=0.4)
    y = _RIBBON_TOP
    for block in blocks:
        _draw_block(canvas, timeline, program, farm, display, block, y)
        y += block.rows * ROW + _GROUP_GAP
    if unseen:
        canvas.text(0, bottom - ROW / 2, words.more_in_json(unseen, "groups"), italic=True)
    _draw_ribbon_key(canvas, display, bottom + 10.0)
    return canvas.svg()


@dataclass(frozen=True, slots=True)
class _Block:
    group_id: str
    sources: tuple[str, ...]
    unseen: int

    @property
    def rows(self) -> int:
        return max(len(self.sources), 1)


def _ribbon_blocks(program: SeasonProgram, most_height: float) -> tuple[list[_Block], int]:
    """Choose the rows that fit: every group keeps its hay and feeds as long as there is room."""
    groups = group_order(program)
    sources = {group: source_order(program, group) for group in groups}
    room = most_height - _RIBBON_TOP - _RIBBON_FOOT
    blocks = [_block(group, sources[group], 1) for group in groups]
    if _blocks_height(blocks) > room:
        while len(blocks) > 1 and _blocks_height(blocks) + ROW > room:
            blocks.pop()
        return blocks, len(groups) - len(blocks)
    most_each = max((len(one) for one in sources.values()), default=0)
    for each in range(2, most_each + 1):
        for index, group in enumerate(groups):
            longer = list(blocks)
            longer[index] = _block(group, sources[group], each)
            if _blocks_height(longer) <= room:
                blocks = longer
    return blocks, 0


def _block(group_id: str, sources: tuple[str, ...], most: int) -> _Block:
    return _Block(group_id, sources[:most], max(len(sources) - most, 0))


def _blocks_height(blocks: Sequence[_Block]) -> float:
    return sum(block.rows * ROW for block in blocks) + _GROUP_GAP * (len(blocks) - 1)


def _draw_block(
    canvas: Canvas,
    timeline: Timeline,
    program: SeasonProgram,
    farm: Farm,
    display: Display,
    block: _Block,
    top: float,
) -> None:
    head = next((one.head for one in program.groups if one.group_id == block.group_id), 0)
    name = group_name(farm, block.group_id)
    more = words.more_on_page_2(block.unseen) if block.unseen else ""
    if block.rows > 1:
        canvas.text(0, top + 5, truncate(name, 9.5, _GROUP_NAME), 9.0, bold=True)
        under = f"{head:,} head, {more}" if more else f"{head:,} head"
        canvas.text(0, top + 5 + ROW, under, 8.0)
    else:
        canvas.text(0, top + 5, truncate(f"{name}, {head:,}", 9.5, _GROUP_NAME), 9.0, bold=True)
    if top > _RIBBON_TOP:
        y = top - _GROUP_GAP / 2 - 0.5
        canvas.line(0, y, WIDTH, y, thickness=0.4, ink=MIDDLE, behind=True)
    names = {source.source_id: source for source in program.sources}
    daily = daily_by_period(program, block.group_id)
    most = max((value for one in daily.values() for value in one.values()), default=0.0)
    for index, source_id in enumerate(block.sources):
        y = top + index * ROW
        source = names.get(source_id)
        label = source.name if source else source_id
        bought = source is not None and source.kind == "feed"
        if more and block.rows == 1:
            label = f"{truncate(label, 8.0, _SOURCE_NAME - 55.0)}, {more}"
        label = truncate(label, 8.0, _SOURCE_NAME)
        canvas.text(_BAND_LEFT - 5, y + 5, label, 8.0, "right", italic=bought)
        _draw_band(canvas, timeline, program, daily[source_id], most, y)
        inks = {at: _grey(value, most)[1] for at, value in daily[source_id].items()}
        _draw_amounts(canvas, timeline, program, display, (block.group_id, source_id), inks, y)


def _draw_band(
    canvas: Canvas,
    timeline: Timeline,
    program: SeasonProgram,
    daily: dict[int, float],
    most: float,
    y: float,
) -> None:
    """Draw the weeks of one source; neighbours of one grey are drawn as one box."""
    spans: list[tuple[date, date, str]] = []
    for period in program.periods:
        if period.index not in daily:
            continue
        fill, _ = _grey(daily[period.index], most)
        end = period.start + timedelta(days=period.days)
        if spans and spans[-1][1:] == (period.start, fill):
            spans[-1] = (spans[-1][0], end, fill)
        else:
            spans.append((period.start, end, fill))
    for start, end, fill in spans:
        x = timeline.x(start)
        canvas.box(x, y, timeline.x(end) - x, 10.0, fill)


def _draw_amounts(
    canvas: Canvas,
    timeline: Timeline,
    program: SeasonProgram,
    display: Display,
    who_what: tuple[str, str],
    inks: dict[int, str],
    y: float,
) -> None:
    """Write the amount at the start of each run in which it differs from the one before.

    ``inks`` is what can be read on the grey of each period: a run may begin lighter than its mean.
    """
    group_id, source_id = who_what
    period_at = {period.start: period.index for period in program.periods}
    before = ""
    for run in runs_of(program, group_id):
        mass = next(
            (one.put_out_kg_per_head_day for one in run.amounts if one.source_id == source_id), 0.0
        )
        label = short_daily_text(display.mass(mass)) if mass > 0 else ""
        x, x2 = timeline.x(run.start), timeline.x(run.end)
        if label and label != before and text_width(label, 7.5, bold=True) + 1.5 <= x2 - x:
            ink = inks[period_at[run.start]]
            canvas.text(x + 1.5, y + 5.2, label, 7.5, bold=True, ink=ink)
        before = label


def _grey(mass: float, most: float) -> tuple[str, str]:
    share = mass / most if most > 0 else 0.0
    return next((fill, ink) for up_to, fill, ink in _GREYS if share <= up_to)


def _draw_ribbon_key(canvas: Canvas, display: Display, y: float) -> None:
    unit = display.mass_unit_words
    canvas.text(
        0,
        y,
        f"Figures are {unit} to put out per head and day, as fed, from that week on. "
        "Names in italics are bought.",
        8.0,
    )
    x = WIDTH - 64.0
    canvas.text(x - 4, y, "less", 8.0, "right")
    for index, (_, fill, _) in enumerate(_GREYS):
        canvas.box(x + index * 10.0, y - 4.0, 9.5, 8.0, fill)
    canvas.text(WIDTH - 1.0, y, "more", 8.0, "right")
