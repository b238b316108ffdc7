"""The ribbon: which hay and feed goes to which group in which week.

Told apart in black and white: steps of gray to one scale of pounds, figures on them, names and
the mark of a danger beside them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from math import floor, log10
from typing import Final

from rickyard.display import MONTHS, Display, number_text, short_daily_text
from rickyard.farm import Farm
from rickyard.program.result import SeasonProgram
from rickyard.sheets.charts.canvas import DARK, INK, LIGHT, MIDDLE, PALE, PAPER, Canvas
from rickyard.sheets.charts.letters import text_width, truncate
from rickyard.sheets.wording import (
    daily_by_period,
    dangerous_to,
    group_name,
    group_order,
    source_order,
)

#: The width of the text on a letter page. [pt]
WIDTH: Final = 526.0

#: The height of a row of a picture. [pt]
ROW: Final = 12.0


@dataclass(frozen=True, slots=True)
class Timeline:
    """Days from ``start`` to ``end`` laid out from ``left`` to ``right``."""

    start: date
    end: date
    left: float
    right: float

    def x(self, day: date) -> float:
        """Return where a day stands. [pt]."""
        share = (day - self.start).days / max((self.end - self.start).days, 1)
        return self.left + (self.right - self.left) * min(max(share, 0.0), 1.0)


def draw_months(
    canvas: Canvas,
    timeline: Timeline,
    label_y: float,
    top: float,
    bottom: float,
    ink: str = LIGHT,
    named: bool = True,
) -> None:
    """Draw a thin line where each month begins, and name the months that have room."""
    first = timeline.start
    while first < timeline.end:
        following = (first.replace(day=1) + timedelta(days=32)).replace(day=1)
        x, x2 = timeline.x(first), timeline.x(min(following, timeline.end))
        name = MONTHS[first.month - 1]
        if named and x2 - x > text_width(name, 8.5):
            canvas.text((x + x2) / 2, label_y, name, 8.5, "center")
        if first > timeline.start:
            canvas.line(x, top, x, bottom, thickness=0.5, ink=ink, behind=ink == LIGHT)
        first = following


_GROUP_NAME: Final = 104.0
_BAND_LEFT: Final = 230.0
_MARK_LEFT: Final = 220.0
_SOURCE_RIGHT: Final = 216.0
_SOURCE_NAME: Final = 112.0
_MONTHS_HEIGHT: Final = 15.0
_KEY_HEIGHT: Final = 14.0
_GROUP_GAP: Final = 5.0
_BAND_HEIGHT: Final = 10.0
_FIGURE_PT: Final = 7.5
#: Name over head count: no block is lower.
_LEAST_ROWS: Final = 2
#: More would not fit on a page under its heading.
_MOST_ROWS: Final = 48

#: An amount is written anew where it differs by more than this from the one written before.
_TOLD_ANEW_FRAC: Final = 0.07

#: Steps of gray, with ink that is read on them, and where they end as shares of the most hay a
#: head is given a day.
_GRAYS: Final = ((PALE, INK), (LIGHT, INK), (MIDDLE, PAPER), (DARK, PAPER))
_STEPS_FRAC: Final = (0.05, 0.25, 0.6)


@dataclass(frozen=True, slots=True)
class _Block:
    """Some or all sources of a group, drawn one under another."""

    group_id: str
    sources: tuple[str, ...]

    @property
    def height(self) -> float:
        return ROW * max(len(self.sources), _LEAST_ROWS) + _GROUP_GAP


@dataclass(frozen=True, slots=True)
class _Span:
    """Weeks of one source in one gray."""

    start: date
    end: date
    step: int
    amounts: tuple[tuple[date, float], ...]


@dataclass(frozen=True, slots=True)
class Ribbon:
    """The ribbon in pieces as wide as the page, so that it may run on over several.

    ``months`` goes on top of every page, ``groups`` under it, and ``key`` at the end.
    """

    months: str
    groups: tuple[str, ...]
    key: str


def ribbon_svgs(program: SeasonProgram, farm: Farm, display: Display) -> Ribbon:
    """Draw who gets what in which week: a block for each group, a row for each source.

    Parameters
    ----------
    program : SeasonProgram
        The program.
    farm : Farm
        Gives the groups their names.
    display : Display
        The reader's units.

    Returns
    -------
    Ribbon
        SVG, each 526 points wide. Nothing is left out.
    """
    steps = _steps(program, display)
    timeline = Timeline(program.start, program.end, _BAND_LEFT, WIDTH)
    return Ribbon(
        _months_svg(program, timeline),
        tuple(
            _block_svg(timeline, (program, farm, display), block, steps)
            for block in _blocks(program)
        ),
        _key_svg(display, steps),
    )


def _blocks(program: SeasonProgram) -> Iterator[_Block]:
    """Yield the groups; one with more sources than a page has rows is cut between them."""
    for group in group_order(program):
        sources = _in_order(program, group)
        for at in range(0, max(len(sources), 1), _MOST_ROWS):
            yield _Block(group, sources[at : at + _MOST_ROWS])


def _months_svg(program: SeasonProgram, timeline: Timeline) -> str:
    canvas = Canvas(WIDTH, _MONTHS_HEIGHT, "Months of the season")
    draw_months(canvas, timeline, 6.0, _MONTHS_HEIGHT - 4.0, _MONTHS_HEIGHT)
    for period in program.periods:
        x = timeline.x(period.start)
        canvas.line(x, _MONTHS_HEIGHT - 4.0, x, _MONTHS_HEIGHT - 1.5, thickness=0.4)
    return canvas.svg()


def _in_order(program: SeasonProgram, group_id: str) -> tuple[str, ...]:
    """Return a group's sources: hay and grazing by the day they begin, then feeds by amount."""
    daily = daily_by_period(program, group_id)
    forage = {one.source_id for one in program.sources if one.is_forage}
    sources = source_order(program, group_id)
    hays = sorted((one for one in sources if one in forage), key=lambda one: min(daily[one]))
    return (*hays, *(one for one in sources if one not in forage))


def _block_svg(
    timeline: Timeline,
    season: tuple[SeasonProgram, Farm, Display],
    block: _Block,
    steps: Sequence[float],
) -> str:
    program, farm, display = season
    head = next((one.head for one in program.groups if one.group_id == block.group_id), 0)
    name = group_name(farm, block.group_id)
    canvas = Canvas(WIDTH, block.height, f"What {name} are given, by week")
    draw_months(canvas, timeline, 0.0, 0.0, block.height, named=False)
    canvas.line(0, block.height - 2.5, WIDTH, block.height - 2.5, 0.4, MIDDLE, behind=True)
    canvas.text(0, 5, truncate(name, 9.5, _GROUP_NAME, bold=True), 9.5, bold=True)
    canvas.text(0, 5 + ROW, f"{head:,} head", 8.5)
    sources = {source.source_id: source for source in program.sources}
    daily = daily_by_period(program, block.group_id)
    dangers = dangerous_to(program, farm, block.group_id)
    for index, source_id in enumerate(block.sources):
        y = index * ROW
        source = sources.get(source_id)
        label = source.name if source else source_id
        own = source is not None and source.kind == "lot"
        label = truncate(label, 8.5, _SOURCE_NAME, own)
        canvas.text(_SOURCE_RIGHT, y + 5, label, 8.5, "right", bold=own)
        if source_id in dangers:
            canvas.danger(_MARK_LEFT, y + 5, 8.0)
        amounts = {at: display.mass(kg) for at, kg in daily.get(source_id, {}).items()}
        for band in _bands(program, amounts, steps):
            _draw_band(canvas, timeline, band, y)
    return canvas.svg()


def _bands(
    program: SeasonProgram, amounts: dict[int, float], steps: Sequence[float]
) -> Iterator[tuple[_Span, ...]]:
    """Yield the unbroken runs of weeks of one source, each cut where its gray changes."""
    band: list[_Span] = []
    for period in program.periods:
        if period.index not in amounts:
            continue
        amount = amounts[period.index]
        step = sum(amount > one for one in steps)
        span = _Span(
            period.start,
            period.start + timedelta(days=period.days),
            step,
            ((period.start, amount),),
        )
        if band and band[-1].end != span.start:
            yield tuple(band)
            band = []
        if band and band[-1].step == step:
            before = band.pop()
            span = _Span(before.start, span.end, step, (*before.amounts, *span.amounts))
        band.append(span)
    if band:
        yield tuple(band)


def _draw_band(canvas: Canvas, timeline: Timeline, band: Sequence[_Span], y: float) -> None:
    """Draw a run of weeks, and its amount wherever it is new and there is room for it."""
    told, free_from = 0.0, 0.0
    for at, span in enumerate(band):
        fill, ink = _GRAYS[span.step]
        x, x2 = timeline.x(span.start), timeline.x(span.end)
        canvas.box(x, y, x2 - x, _BAND_HEIGHT, fill)
        for start, amount in span.amounts:
            if abs(amount - told) <= _TOLD_ANEW_FRAC * told:
                continue
            left, figure = timeline.x(start) + 1.0, short_daily_text(amount)
            width = text_width(figure, _FIGURE_PT, bold=True)
            if left >= free_from and left + width <= x2:
                canvas.text(left, y + 5.0, figure, _FIGURE_PT, bold=True, ink=ink)
                told, free_from = amount, left + width + 2.0
        if told == 0.0 and at == len(band) - 1 and x2 + 14.0 < WIDTH:
            # A band of a week or two is too short for its figure, which stands behind it.
            figure = short_daily_text(span.amounts[-1][1])
            canvas.text(x2 + 1.5, y + 5.0, figure, _FIGURE_PT, bold=True)


def _steps(program: SeasonProgram, display: Display) -> tuple[float, ...]:
    """Return where the grays end, one scale for all groups. [display's unit a head and day]."""
    hay = {one.source_id for one in program.sources if one.is_hay}
    most, most_hay = 0.0, 0.0
    for group in group_order(program):
        for source_id, amounts in daily_by_period(program, group).items():
            largest = display.mass(max(amounts.values(), default=0.0))
            most = max(most, largest)
            most_hay = max(most_hay, largest if source_id in hay else 0.0)
    top = most_hay or most
    return tuple(_round_number(one * top) for one in _STEPS_FRAC)


def _round_number(value: float) -> float:
    """Return the nearest of 1, 2, 5, 10, 20, 50 and so on.

    >>> _round_number(1.96), _round_number(9.8), _round_number(23.5), _round_number(0.0)
    (2.0, 10.0, 20.0, 0.0)
    """
    if value <= 0.0:
        return 0.0
    ten = 10.0 ** floor(log10(value))
    return min((one * ten for one in (1.0, 2.0, 5.0, 10.0)), key=lambda one: abs(one - value))


def _key_svg(display: Display, steps: Sequence[float]) -> str:
    canvas, y = Canvas(WIDTH, _KEY_HEIGHT, "What the figures and grays mean"), _KEY_HEIGHT / 2
    unit = display.mass_unit
    words = f"Figures: {unit} a head and day to put out, as fed. Bold names: hay in the yard."
    canvas.text(0, y, words, 8.5)
    low, middle, high = (number_text(one) for one in steps)
    names = (f"to {low}", f"to {middle}", f"to {high}", f"over {high} {unit}")
    x = WIDTH
    for (fill, _), name in reversed(list(zip(_GRAYS, names, strict=True))):
        x -= text_width(name, 8.5)
        canvas.text(x, y, name, 8.5)
        x -= 13.0
        canvas.box(x, y - 4.0, 10.0, 8.0, fill)
        x -= 9.0
    return canvas.svg()
