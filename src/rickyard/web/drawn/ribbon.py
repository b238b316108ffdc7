"""The ribbon of rations: a band a hay, cut where the ration changes, and steps of feed bought."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape
from typing import Final

from rickyard.display import shorten
from rickyard.web.drawn.flags import Flag, flag_shapes
from rickyard.web.drawn.marks import mark_shapes

_WIDE, _LEFT = 1106.0, 196.0
_DATES, _LANE, _FEED, _BETWEEN = 22.0, 42.0, 27.0, 16.0

#: The height of the largest step.
_STEP: Final = 13.0

#: A month that begins later than this has no room for its name.
_LAST_MONTH: Final = 0.96

#: The mean width of a letter of 14 px, and the fewest letters that say something.
_LETTER, _LEAST = 7.6, 4


@dataclass(frozen=True, slots=True)
class Band:
    """A hay of a ration, from and until so far along the season, from 0 to 1.

    ``cut`` is the date that stands over its beginning, of the first lane alone.
    """

    start: float
    end: float
    name: str
    amount: str
    cut: str
    flag: Flag | None
    is_grazed: bool
    is_dangerous: bool


@dataclass(frozen=True, slots=True)
class Step:
    """A feed of a ration: how far along the season, its share of the most, and its figure."""

    start: float
    end: float
    share: float
    figure: str


@dataclass(frozen=True, slots=True)
class Strip:
    """A group: its lanes of bands, and each of its feeds with its steps."""

    name: str
    head: str
    lanes: tuple[tuple[Band, ...], ...]
    feeds: tuple[tuple[str, tuple[Step, ...]], ...]

    @property
    def tall(self) -> float:
        """Return its height."""
        return _DATES + _LANE * len(self.lanes) + _FEED * len(self.feeds) + _BETWEEN


def ration_ribbon(
    strips: Sequence[Strip],
    months: Sequence[tuple[float, str]],
    today: tuple[float, str] | None,
    label: str,
) -> str:
    """Return which hay and feed goes to which group, and when.

    Parameters
    ----------
    strips : sequence of Strip
        The groups, from the top.
    months : sequence of tuple of float and str
        How far along the season a month begins, from 0 to 1, and its name.
    today : tuple of float and str, optional
        How far along the season it is, and what that is called.
    label : str
        What it shows, in words.

    Returns
    -------
    str
        SVG.
    """
    tall = _DATES + sum(one.tall for one in strips)
    drawn = "".join(
        f'<path class="axs" d="M{_x(at):.1f} 0V{tall:.0f}"/>'
        f'<text class="txs" x="{_x(at) + 4.0:.1f}" y="14" font-size="14">{escape(name)}</text>'
        for at, name in months
        if at < _LAST_MONTH
    )
    top = _DATES
    for one in strips:
        drawn += _strip(one, top)
        top += one.tall
    if today is not None:
        at, word = today
        drawn += (
            f'<path class="today" stroke-dasharray="2 3" d="M{_x(at):.1f} 18V{tall:.0f}"/>'
            f'<text class="tx" x="{_x(at) - 4.0:.1f}" y="14" font-size="13" font-weight="700" '
            f'text-anchor="end">{escape(word)}</text>'
        )
    return (
        f'<svg class="ribbon" viewBox="0 0 {_WIDE:.0f} {tall:.0f}" role="img" '
        f'aria-label="{escape(label)}">{drawn}</svg>'
    )


def _x(along: float) -> float:
    return _LEFT + min(max(along, 0.0), 1.0) * (_WIDE - _LEFT - 1.0)


def _fitting(text: str, wide: float) -> str:
    """Return as much of a text as has room, and nothing where that says nothing.

    An amount leaves off of what it is first, and is never cut within its figure; a name is cut
    between its words where one of them fits.
    """
    letters = int(wide / _LETTER)
    if text[:1].isdigit() and len(text) > letters:
        text = text.partition(" a ")[0]
        return escape(text) if len(text) <= letters else ""
    if letters < _LEAST:
        return ""
    some = text
    while len(some) > letters and " " in some:
        some = some.rpartition(" ")[0]
        if len(some) < letters:
            return escape(f"{some}…")
    return escape(shorten(text, letters))


def _strip(one: Strip, top: float) -> str:
    drawn = (
        f'<text class="tx" x="0" y="{top + _DATES + 18.0:.1f}" font-size="16" '
        f'font-weight="700">{_fitting(one.name, _LEFT - 8.0)}</text>'
        f'<text class="txs" x="0" y="{top + _DATES + 36.0:.1f}" font-size="13">'
        f"{escape(one.head)}</text>"
    )
    y = top + _DATES
    for lane in one.lanes:
        drawn += "".join(_band(band, y) for band in lane)
        y += _LANE
    for name, steps in one.feeds:
        drawn += _steps(name, steps, y + _FEED - 5.0)
        y += _FEED
    return drawn


def _band(one: Band, y: float) -> str:
    x, end = _x(one.start), _x(one.end)
    wide, tall = max(end - x - 1.0, 1.0), _LANE - 2.0
    drawn = (
        f'<rect class="{"graze" if one.is_grazed else "hay"}" x="{x:.1f}" y="{y:.1f}" '
        f'width="{wide:.1f}" height="{tall:.1f}"/>'
    )
    if one.cut:
        drawn += f'<text class="txs" x="{x:.1f}" y="{y - 5.0:.1f}" font-size="13">'
        drawn += f"{escape(one.cut)}</text>"
    at = x + 4.0
    for shapes, has in (
        (flag_shapes(one.flag) if one.flag is not None else "", one.flag is not None),
        (f'<g class="m-danger on-band">{mark_shapes("danger")}</g>', one.is_dangerous),
    ):
        if has and wide > 40.0:
            drawn += f'<g transform="translate({at:.1f} {y + 8.0:.1f}) scale(.78)">{shapes}</g>'
            at += 26.0
    ink = "tx" if one.is_grazed else "on-straw"
    for text, down, weight in ((one.name, 17.0, 700), (one.amount, 34.0, 400)):
        fits = _fitting(text, end - at - 4.0)
        if fits:
            drawn += (
                f'<text class="t {ink}" x="{at:.1f}" y="{y + down:.1f}" font-size="14" '
                f'font-weight="{weight}">{fits}</text>'
            )
    return drawn


def _steps(name: str, steps: Sequence[Step], floor: float) -> str:
    drawn = (
        f'<text class="txs" x="{_LEFT - 8.0:.1f}" y="{floor:.1f}" font-size="13" '
        f'text-anchor="end">{_fitting(name, _LEFT - 8.0)}</text>'
        f'<path class="axs" d="M{_LEFT:.1f} {floor:.1f}H{_WIDE:.1f}"/>'
    )
    for one in steps:
        x, end, tall = _x(one.start), _x(one.end), max(_STEP * one.share, 1.5)
        drawn += (
            f'<rect class="feedstep" x="{x:.1f}" y="{floor - tall:.1f}" '
            f'width="{max(end - x - 1.0, 1.0):.1f}" height="{tall:.1f}"/>'
            f'<text class="tx" x="{x + 3.0:.1f}" y="{floor - tall - 2.0:.1f}" font-size="12" '
            f'font-weight="700">{escape(one.figure)}</text>'
        )
    return drawn
