"""Rations as short lines that terminal and paper share: from when until when, what, and why."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from math import floor
from typing import Final

from rickyard.display import (
    Display,
    count_text,
    daily_range_text,
    daily_text,
    listed,
    money_text,
    number_text,
)
from rickyard.farm import Farm, FeedKind
from rickyard.program.days import weighed_out
from rickyard.program.result import Ration, RationThing, SeasonProgram
from rickyard.quantities import KG_PER_LB, is_some
from rickyard.sheets.wording import words
from rickyard.sheets.wording.runs import RunAmount, bales_text, short_story

#: A group with more runs of weeks than this is told by its changes of feed.
MOST_RUNS: Final = 12

#: What a head gets is told in ounces below this, where the farm counts in pounds. [kg]
LEAST_SAID_KG: Final = 0.1 * KG_PER_LB

#: Bales of some whole weeks are told where they are so near to what is meant, as a share of it.
_NEAR_ENOUGH: Final = 0.04
_MOST_WEEKS: Final = 4

#: Of fewer bales than this a week the pounds are told: a part of one is given by hand.
_LEAST_A_WEEK: Final = 0.45

#: Fewer bales than this at a feeding are told by the week.
_LEAST_A_FEEDING: Final = 0.95


@dataclass(frozen=True, slots=True)
class RationLine:
    """One ration: its days, its hay with bales or pounds, its feeds in pounds, and why.

    It holds from ``start`` until the day before ``end``, of ``sources``.
    """

    span: str
    hay: str
    feeds: str
    why: str
    start: date
    end: date
    sources: frozenset[str]


def ration_lines(
    program: SeasonProgram, farm: Farm, group_id: str, display: Display
) -> list[RationLine]:
    """Return the rations of a group, one line each.

    Parameters
    ----------
    program : SeasonProgram
        A program with rations.
    farm : Farm
        The farm it is of.
    group_id : str
        The group.
    display : Display
        Units and dates.

    Returns
    -------
    list of RationLine
        In the order of their days.
    """
    names = {one.source_id: one.name for one in program.sources}
    hays = {one.source_id for one in program.sources if one.is_hay}
    grazed = {one.feed_id for one in farm.feeds if one.kind is FeedKind.GRAZING}
    every = farm.group(group_id).feed_every_days or 1
    weighed = weighed_out(program, farm.group(group_id))
    loads = [one for one in program.deliveries if one.group_id == group_id]
    whole = {one.source_id for one in loads if one.bales}
    forked = {one.source_id for one in loads} - whole

    def put_out(thing: RationThing) -> str:
        name = names[thing.source_id]
        if thing.source_id in grazed:
            return f"{name} (grazed)"
        by_bale = thing.bales_per_feeding and thing.source_id not in forked
        bales = _bales(thing.bales_per_feeding or 0.0, every) if by_bale else None
        return (
            f"{name}, {bales}" if bales else f"{name} {_all_and_each(thing, display, daily_text)}"
        )

    def hay_of(ration: Ration) -> str:
        forage = [one for one in ration.things if one.source_id in hays | grazed]
        mixed = [put_out(one) for one in forage if one.source_id in weighed]
        alone = [put_out(one) for one in forage if one.source_id not in weighed]
        if len(mixed) > 1:
            mixed = [listed(mixed) + words.MIXED_TOGETHER]
        return "; ".join(mixed + alone)

    def line(ration: Ration) -> RationLine:
        feeds = [
            f"{names[one.source_id]} {_all_and_each(one, display, measure_text)}{_in_measures(one)}"
            for one in ration.things
            if one.source_id not in hays | grazed
        ]
        span = display.span_text(ration.start, ration.end)
        sources = frozenset(one.source_id for one in ration.things)
        return RationLine(
            span,
            hay_of(ration),
            ", ".join(feeds),
            ration.why,
            ration.start,
            ration.end,
            sources,
        )

    return [line(one) for one in program.rations if one.group_id == group_id]


def _all_and_each(thing: RationThing, display: Display, each_text: Callable[[float], str]) -> str:
    """Return what all of them get a day, which is what is weighed out, and a head's part of it."""
    whole, each = thing.put_out_kg_per_day, thing.put_out_kg_per_head_day
    scale, unit = display.scale(whole)
    told = f"{number_text(scale * whole)} {unit}"
    if whole <= each * 1.001:
        return told
    if each < LEAST_SAID_KG:
        small, ounces = display.scale(each)
        same = "" if ounces == unit else f" {ounces}"
        return f"{told} ({number_text(small * each)}{same} a head)"
    return f"{told} ({each_text(display.mass(each))} a head)"


def feeding_lines(
    program: SeasonProgram, farm: Farm, group_id: str, display: Display
) -> list[RationLine]:
    """Return what a group is fed, one line each: rations, or weeks in which it is fed alike.

    Parameters
    ----------
    program : SeasonProgram
        A program of either kind.
    farm : Farm
        The farm it is of.
    group_id : str
        The group.
    display : Display
        Units and dates.

    Returns
    -------
    list of RationLine
        In the order of their days; weeks say no reason.
    """
    if program.rations:
        return ration_lines(program, farm, group_id, display)
    hays = {one.source_id for one in program.sources if one.is_forage}
    grazed = {one.feed_id for one in farm.feeds if one.kind is FeedKind.GRAZING}
    period_days = max((period.days for period in program.periods), default=7)

    def told(one: RunAmount) -> str:
        if one.source_id in grazed:
            return f"{one.name} (grazed)"
        if one.bales is not None:
            return f"{one.name}, {bales_text(one.bales, period_days)}"
        if one.is_steady:
            each = daily_text(display.mass(one.put_out_kg_per_head_day))
        else:
            each = daily_range_text(
                display.mass(one.least_kg_per_head_day), display.mass(one.most_kg_per_head_day)
            )
        if one.source_id in hays:
            return f"{one.name}, {each} {display.mass_unit} a head and day"
        return f"{one.name} {each} {display.mass_unit} a head"

    return [
        RationLine(
            display.span_text(run.start, run.end),
            "; ".join(told(one) for one in run.amounts if one.source_id in hays | grazed),
            ", ".join(told(one) for one in run.amounts if one.source_id not in hays | grazed),
            "",
            run.start,
            run.end,
            frozenset(one.source_id for one in run.amounts),
        )
        for run in short_story(program, group_id, MOST_RUNS)
    ]


def proof_of(program: SeasonProgram) -> str:
    """Return how near a program is to the least cost, and what steadiness and free choice cost.

    Parameters
    ----------
    program : SeasonProgram
        The program.

    Returns
    -------
    str
        One sentence, and of a program of rations another: what steadiness costs, or of one that
        is short how near it is to the least money beside how near to the least that is short.
    """
    if program.short_gap is not None and program.money_gap is not None:
        return words.proof_apart(program.short_gap, program.money_gap)
    proof = words.proof(program.gap, short=program.status == "short")
    steady, free = program.steadiness_usd, program.free_choice_usd
    if steady is None or free is None:
        return proof
    eaten = (
        f", and that stock at free hay eat their fill about {money_text(free)}"
        if is_some(free)
        else ""
    )
    return (
        f"{proof} Feeding the same for weeks costs at least {money_text(steady)} of this{eaten}, "
        "against amounts that change every week."
    )


def measure_text(amount: float) -> str:
    """Return an amount that is measured out, to the hundredth and no further.

    >>> measure_text(3.25), measure_text(2.0), measure_text(0.1875)
    ('3.25', '2', '0.19')
    """
    return f"{amount:.2f}".rstrip("0").rstrip(".")


def in_measures(count: float, measure: str) -> str:
    """Return how many measures an amount is, with the name of the measure.

    >>> in_measures(3.9, "scoop"), in_measures(1.0, "sack"), in_measures(2.5, "box")
    ('3.75 scoops', '1 sack', '2.5 boxes')
    """
    ending = "es" if measure.endswith(("s", "x", "ch", "sh")) else "s"
    return f"{quarters_text(count)} {measure}{ending if count > 1.0 + 1e-6 else ''}"


def quarters_text(count: float) -> str:
    """Return how many full measures and quarters of one an amount is, and never more than it is.

    Parameters
    ----------
    count : float
        How many measures the amount is. [measures]

    Returns
    -------
    str
        Rounded down to a quarter.

    Examples
    --------
    >>> quarters_text(4.0), quarters_text(3.9), quarters_text(0.2)
    ('4', '3.75', '<0.25')
    """
    quarters = floor(4.0 * count + 1e-6) / 4.0
    return measure_text(quarters) if is_some(quarters) else "<0.25"


def _in_measures(thing: RationThing) -> str:
    if thing.measures_per_day is None:
        return ""
    return f" ({in_measures(thing.measures_per_day, thing.measure)} a day)"


def _bales(count: float, every: int) -> str | None:
    """Say what is put out of a hay by the bale, and nothing where one lasts for weeks."""
    if 7.0 * count / every < _LEAST_A_WEEK:
        return None
    if count < _LEAST_A_FEEDING:
        # Nobody puts out a third of a bale: a bale is put out every third day.
        return weekly_text(7.0 * count / every)
    return f"{count:.1f} bales {'a day' if every == 1 else f'every {every} days'}"


def weekly_text(weekly: float) -> str:
    """Return how many whole bales come in how many days or weeks.

    Examples
    --------
    >>> weekly_text(0.6), weekly_text(2.02), weekly_text(5.4), weekly_text(1.33)
    ('a bale every 12 days', '2 bales a week', '11 bales in 2 weeks', '4 bales in 3 weeks')
    """
    if weekly < 1.0 - _NEAR_ENOUGH:
        return f"a bale every {7.0 / weekly:.0f} days"
    off = {
        weeks: abs(round(weeks * weekly) / weeks - weekly) for weeks in range(1, _MOST_WEEKS + 1)
    }
    near = [weeks for weeks, by in off.items() if by <= _NEAR_ENOUGH * weekly]
    weeks = near[0] if near else min(off, key=lambda one: off[one])
    bales = count_text(round(weeks * weekly), "bale")
    return f"{bales} a week" if weeks == 1 else f"{bales} in {weeks} weeks"
