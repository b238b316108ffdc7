"""What a farm has learned, drawn: what its records say, how sure, and what was believed before."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from rickyard.book.looking import FedTold, LookBack, Told
from rickyard.display import Display, clean, count_text, display_for
from rickyard.web.drawn import doubt, two_bars

#: The scale of the drawing goes so far to either side, as a share of the value.
_REACH: Final = 0.2


@dataclass(frozen=True, slots=True)
class Learned:
    """A thing that records say: of what, by how much of it, its value and range, what it was."""

    what: str
    by: str
    value: str
    span: str
    drawing: str
    was: str


def learned_shown(look: LookBack) -> tuple[Learned, ...]:
    """Return what the records of a farm say of its bales, its hay and its stock.

    Parameters
    ----------
    look : LookBack
        The season looked back at.

    Returns
    -------
    tuple of Learned
        Bale weights, dry matter by repeat tests, then appetite.
    """
    return tuple(_rows(look, display_for(look.farm.units)))


def _rows(look: LookBack, display: Display) -> Iterator[Learned]:
    for one in look.weights:
        before = one.said_kg if one.known_kg is None else one.known_kg
        yield _row(
            f"{clean(one.lot.name)}: a bale weighs",
            f"{count_text(one.bales, 'bale')} on tickets",
            [display.mass_text(kg) for kg in (one.kg, one.low_kg, one.high_kg, before)],
            (one.kg, one.low_kg, one.high_kg, before),
            _ORIGINS[one.origin],
        )
    for its in look.dry_matter:
        four = (its.pct, its.low_pct, its.high_pct, its.counted_pct)
        tests = f"{its.tests} tests"
        said = [display.percent_text(pct) for pct in four]
        yield _row(f"{clean(its.lot.name)}: dry matter", tests, said, four, "counted")
    ate = look.appetite
    if ate is not None:
        four = (ate.pct, ate.low_pct, ate.high_pct, ate.counted_pct)
        said = [display.percent_text(pct, 0) for pct in four]
        by = f"{count_text(len(ate.groups), 'group')}, of what the equations give"
        yield _row("The stock eat", by, said, four, "counted")


_ORIGINS: Final = {"written": "written", "size": "by its size", "package": "usual"}


def _row(
    what: str,
    by: str,
    said: list[str],
    four: tuple[float, float, float, float],
    origin: str,
) -> Learned:
    value, low, high, before = four
    span = f"90% range {said[1]} to {said[2]}"
    label = f"{said[0]}, {span}; before: {said[3]}"
    drawing = doubt(value, low, high, label, before, _REACH) if value > 0.0 else ""
    return Learned(what, by, said[0], span, drawing, f"{said[3]} {origin}")


def true_minus(text: str) -> str:
    """Return an amount with a true minus, which is as wide as a figure, in place of a hyphen.

    Examples
    --------
    >>> true_minus("-3"), true_minus("")
    ('−3', '')
    """
    return text.replace("-", "\u2212", 1)


def fed_drawn(told: Told) -> tuple[tuple[FedTold, str], ...]:
    """Return what was fed against the program, each with its two bars.

    Parameters
    ----------
    told : Told
        The season looked back at, in words.

    Returns
    -------
    tuple of (FedTold, str)
        No drawing where it is not known what was fed, or nothing was planned at all.
    """
    most = max((max(one.planned_kg, one.fed_kg or 0.0) for one in told.fed), default=0.0)
    is_planned = any(one.planned_kg for one in told.fed)
    return tuple(
        (
            one,
            ""
            if one.fed_kg is None or not most or not is_planned
            else two_bars(
                one.planned_kg, one.fed_kg, most, f"planned {one.planned}, fed {one.fed}"
            ),
        )
        for one in told.fed
    )
