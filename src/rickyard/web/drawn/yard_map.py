"""The yard from above, to scale: each stack with its bales, its flag, and what it says."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from html import escape
from typing import Final

from rickyard.hay.yard import Stack
from rickyard.quantities import M_PER_FT
from rickyard.web.drawn.flags import Flag, flag_shapes
from rickyard.web.drawn.marks import mark_shapes

#: The least of a yard that is drawn, and the ground around the outermost stack. [ft]
LEAST_WIDE: Final = 260.0
LEAST_DEEP: Final = 140.0
AROUND: Final = 24.0
#: More piles than this in a stack are drawn as one block.
MOST_SPOTS: Final = 1500
#: Lengths that a scale bar may have. [ft, m]
BARS_FT: Final = (50, 100, 200, 500, 1000, 2000)
BARS_M: Final = (20, 50, 100, 200, 500, 1000)


@dataclass(frozen=True, slots=True)
class OnMap:
    """A stack on the drawing. ``east`` and ``north`` are of its middle. [ft].

    ``said`` is what a script is told of it; ``is_guess`` says that nobody drew it here, and
    ``is_chosen`` that its handles are shown. ``roof`` is full for a barn and broken for a cover.
    """

    href: str
    name: str
    says: str
    flag: Flag
    stack: Stack
    east: float
    north: float
    turn: float
    said: Sequence[tuple[str, str]]
    danger: bool = False
    is_guess: bool = False
    is_chosen: bool = False
    roof: str = ""


def extent(one: OnMap) -> tuple[float, float]:
    """Return half of how wide and deep a stack is, turned as it is.

    Parameters
    ----------
    one : OnMap
        The stack.

    Returns
    -------
    tuple of (float, float)
        East and west of its middle, and north and south of it. [ft]
    """
    wide, deep = one.stack.across_m / M_PER_FT / 2.0, one.stack.along_m / M_PER_FT / 2.0
    turn = math.radians(one.turn)
    side, up = abs(math.cos(turn)), abs(math.sin(turn))
    return wide * side + deep * up, wide * up + deep * side


def yard_map(stacks: Iterable[OnMap], label: str, *, metric: bool = False) -> str:
    """Return the drawing of a yard.

    Parameters
    ----------
    stacks : iterable of OnMap
        What stands in it.
    label : str
        What it shows, in words.
    metric : bool
        Whether the scale is of meters.

    Returns
    -------
    str
        SVG, a unit a foot; each stack is a link.
    """
    every = list(stacks)
    sides = [(one, extent(one)) for one in every]
    wide = max([LEAST_WIDE, *(one.east + x + AROUND for one, (x, _) in sides)])
    # A name stands over each stack.
    deep = max([LEAST_DEEP, *(one.north + y + wide / 20.0 + 8.0 for one, (_, y) in sides)])
    size = wide / 66.0
    drawn = "".join(_stack(one, half, deep, size, wide) for one, half in sides)
    per = "0.3048" if metric else "1"
    return (
        f'<svg class="yardmap" viewBox="0 0 {wide:.0f} {deep:.0f}" role="group" '
        f'aria-label="{escape(label)}" data-deep="{deep:.0f}" data-per="{per}">'
        f'<rect class="ground" width="{wide:.0f}" height="{deep:.0f}"/>{drawn}'
        f"{_scale(wide, deep, size, metric=metric)}</svg>"
    )


def _stack(one: OnMap, half: tuple[float, float], deep: float, size: float, wide_ft: float) -> str:
    x, y = one.east, deep - one.north
    wide, long = one.stack.across_m / M_PER_FT, one.stack.along_m / M_PER_FT
    body = "".join(
        f'<path class="{css}" d="{path}"/>'
        for css, path in (_paths(one.stack) if len(one.stack.spots) <= MOST_SPOTS else _block(one))
        if path
    )
    edge = 3.0
    frame = (
        f'x="{-wide / 2 - edge:.1f}" y="{-long / 2 - edge:.1f}" '
        f'width="{wide + 2 * edge:.1f}" height="{long + 2 * edge:.1f}"'
    )
    around = f'<rect class="grab" {frame}/>'
    if one.roof:
        around += f'<rect class="{one.roof}" {frame}/>'
    if one.danger:
        around += f'<rect class="hot" {frame}/>'
    if one.is_guess:
        around += f'<rect class="guess" {frame}/>'
    if one.is_chosen:
        around += f'<rect class="chosen" {frame}/>{_handles(wide, long, size)}'
    said = "".join(f' data-{word}="{escape(told)}"' for word, told in one.said)
    left = min(max(x - half[0], 2.0), max(2.0, wide_ft - _long(one) * size))
    top = y - half[1] - 6.0
    # The older name of the attribute: what asks a drawn link for its href gets an object, no words.
    return (
        f'<a xlink:href="{escape(one.href)}"{said} '
        f'aria-label="{escape(f"{one.name}: {one.says}")}">'
        f'<g class="stack" transform="translate({x:.1f} {y:.1f}) rotate({one.turn:g})">'
        f"{around}{body}</g>{_name(one, left, top, size)}</a>"
    )


def _long(one: OnMap) -> float:
    """Return about how long the words over a stack are, flag and all, in heights of a letter."""
    return 4.2 + max(0.58 * len(one.name), 0.46 * len(one.says))


def _name(one: OnMap, left: float, top: float, size: float) -> str:
    """Return flag, name and words over a stack."""
    scale = size / 13.0
    at = left + 34.0 * scale
    danger = ""
    if one.danger:
        danger = (
            f'<g class="m-danger" transform="translate({at:.1f} {top - 2.1 * size:.1f}) '
            f'scale({size / 24.0:.3f})">{mark_shapes("danger")}</g>'
        )
        at += 1.3 * size
    return (
        f'<g class="label"><g transform="translate({left:.1f} {top - 2.2 * size:.1f}) '
        f'scale({scale:.3f})">{flag_shapes(one.flag)}</g>{danger}'
        f'<text class="tx" x="{at:.1f}" y="{top - 1.2 * size:.1f}" font-size="{size:.1f}" '
        f'font-weight="700">{escape(one.name)}</text>'
        f'<text class="txs" x="{at:.1f}" y="{top - 0.15 * size:.1f}" '
        f'font-size="{0.86 * size:.1f}">{escape(one.says)}</text></g>'
    )


def _paths(stack: Stack) -> list[tuple[str, str]]:
    """Return the bales of a stack by what became of them; rows run up the page."""
    wide, long = stack.bale_across_m / M_PER_FT, stack.bale_along_m / M_PER_FT
    kinds: dict[str, list[str]] = {"spent": [], "bale": [], "bale near": []}
    for one in stack.spots:
        kind = "bale near" if one.reach else "bale"
        if one.gone == one.bales:
            kind = "spent"
        x, y = one.across_m / M_PER_FT, -one.along_m / M_PER_FT
        kinds[kind].append(f"M{x:.1f} {y:.1f}h{wide - 0.4:.1f}v{0.4 - long:.1f}h{0.4 - wide:.1f}z")
    return [(kind, "".join(paths)) for kind, paths in kinds.items()]


def _block(one: OnMap) -> list[tuple[str, str]]:
    wide, long = one.stack.across_m / M_PER_FT, one.stack.along_m / M_PER_FT
    return [("bale", f"M{-wide / 2:.1f} {-long / 2:.1f}h{wide:.1f}v{long:.1f}h{-wide:.1f}z")]


def _handles(wide: float, long: float, size: float) -> str:
    """Return what a stack is turned and widened by."""
    top, side, big = -long / 2 - 2.2 * size, wide / 2 + 3.0, 0.55 * size
    return (
        f'<path class="chosen" d="M0 {-long / 2 - 3:.1f}V{top:.1f}"/>'
        f'<circle class="handle" data-handle="turn" cx="0" cy="{top:.1f}" r="{big:.1f}"/>'
        f'<rect class="handle" data-handle="wide" x="{side - big:.1f}" y="{-big:.1f}" '
        f'width="{2 * big:.1f}" height="{2 * big:.1f}"/>'
    )


def _scale(wide: float, deep: float, size: float, *, metric: bool) -> str:
    """Return a bar of a round length, and where north is."""
    bars = BARS_M if metric else BARS_FT
    ft = 1.0 / M_PER_FT if metric else 1.0
    fits = [one for one in bars if one * ft <= wide / 3.0]
    many = fits[-1] if fits else bars[0]
    unit = "m" if metric else "ft"
    x, y, long = wide - many * ft - 8.0, deep - 6.0, many * ft
    north = f"M{wide - 14:.1f} {y - 1.6 * size:.1f}v{-2.6 * size:.1f}"
    tip = y - 4.2 * size
    return (
        f'<g class="scalebar"><path d="M{x:.1f} {y - 3:.1f}v3h{long:.1f}v-3"/>'
        f'<text class="tx" x="{x:.1f}" y="{y - 4.5:.1f}" font-size="{0.9 * size:.1f}">'
        f"{many} {unit}</text>"
        f'<path d="{north}M{wide - 14 - size / 2:.1f} {tip + size:.1f}L{wide - 14:.1f} {tip:.1f}'
        f'L{wide - 14 + size / 2:.1f} {tip + size:.1f}"/>'
        f'<text class="tx" x="{wide - 14:.1f}" y="{tip - 0.3 * size:.1f}" text-anchor="middle" '
        f'font-size="{size:.1f}" font-weight="700">N</text></g>'
    )
