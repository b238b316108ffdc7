"""The season's page: the answer of a program, what is short, who gets what, what it costs."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from rickyard.display import Display, clean, display_for, money_text
from rickyard.farm import Farm
from rickyard.program.result import STANDING_NOTE, SeasonProgram
from rickyard.service import Planned
from rickyard.sheets.paper import day_list
from rickyard.sheets.wording import (
    answer_of,
    dangerous_to,
    feeding_lines,
    group_name,
    group_order,
    proof_of,
    without_traces,
    words,
    yard_line,
    yard_totals,
)
from rickyard.web.drawn import hay_curve, mark
from rickyard.web.shown.care import VERDICTS, Care, care_of


@dataclass(frozen=True, slots=True)
class RationShown:
    """What a group is fed for a while, and why it begins."""

    span: str
    hay: str
    feeds: str
    why: str


@dataclass(frozen=True, slots=True)
class Now:
    """What a group is fed on a day; ``mark`` is that of danger where one is to be read first."""

    name: str
    mark: str
    hay: str
    feeds: str


@dataclass(frozen=True, slots=True)
class GroupShown:
    """A group and its rations; ``left_out`` says what is too little to be told."""

    title: str
    rations: tuple[RationShown, ...]
    left_out: str


@dataclass(frozen=True, slots=True)
class Bought:
    """A feed to buy."""

    name: str
    amount: str
    price: str
    cost: str


@dataclass(frozen=True, slots=True)
class SeasonShown:
    """All that stands on the page of a season that has a program."""

    answer: str
    verdict: str
    lede: str
    cost: str
    now_title: str
    now: tuple[Now, ...]
    care: Care
    short: tuple[str, ...]
    groups: tuple[GroupShown, ...]
    buy: tuple[Bought, ...]
    costs: tuple[tuple[str, str], ...]
    curve: str
    curve_words: str
    proof: str
    assumptions: tuple[str, ...]
    warnings: tuple[str, ...]
    note: str


def season_shown(planned: Planned, day: date) -> SeasonShown:
    """Return what stands on the page of a season.

    Parameters
    ----------
    planned : Planned
        The program with its farm.
    day : date
        The day on the farm.

    Returns
    -------
    SeasonShown
        Words.
    """
    program, farm = planned.program, planned.farm
    display = display_for(farm.units)
    told = answer_of(program, farm, display)
    care = care_of(program.cautions, farm)
    # Enough hay is no green roof where some of it may kill: the danger is the answer's mark then.
    verdict = "danger" if care.dangers else VERDICTS.get(told.kind, "")
    now_title, now = _now(program, farm, display, day)
    return SeasonShown(
        display.local(told.sentence),
        mark(verdict) if verdict else "",
        display.local(told.detail),
        money_text(program.costs.total),
        now_title,
        now,
        care,
        tuple(dict.fromkeys(display.local(one.sentence) for one in program.shortages)),
        _groups(program, farm, display),
        _bought(program, display),
        tuple((label, money_text(usd)) for label, usd in words.cost_rows(program.costs)),
        *_curve(program, display),
        proof_of(program),
        tuple(dict.fromkeys(display.local(one.sentence) for one in program.assumptions)),
        planned.warnings,
        display.local(STANDING_NOTE),
    )


def _curve(program: SeasonProgram, display: Display) -> tuple[str, str]:
    """Return how the hay of the yard goes through the season, drawn and said."""
    points, totals = yard_line(program), yard_totals(program)
    if len(points) < 2 or not totals.start_t > 0.0:
        return "", ""
    first, last = points[0].day, points[-1].day
    marks = ((totals.start_t, first), (totals.left_t, last))
    ends = [(display.tons_text(tons), display.day_text(day)) for tons, day in marks]
    told = "; ".join(f"{tons} on {day}" for tons, day in ends)
    words = f"Dry matter in the yard: {told}."
    # What is sold goes on the first day: the line begins with all that stood that morning.
    along = [(0.0, totals.start_t)]
    along += [((one.day - first).days / (last - first).days, one.left_t) for one in points]
    return hay_curve(along, ends, words), words


def _now(
    program: SeasonProgram, farm: Farm, display: Display, day: date
) -> tuple[str, tuple[Now, ...]]:
    """Return what to put out for each group: before the season on its first day, after it nothing.

    Of that day, as the week's list has it: hay with nitrate begins with less than its week's mean.
    """
    when = max(day, program.start)
    title = "What to put out today" if when == day else f"To begin on {display.weekday_text(when)}"
    order = group_order(program)
    found = []
    for one in sorted(day_list(program, farm, when), key=lambda one: order.index(one.group_id)):
        dangerous = dangerous_to(program, farm, one.group_id)
        sign = mark("danger") if one.sources & dangerous else ""
        found.append(Now(clean(one.name), sign, one.hay, one.feeds))
    return title, tuple(found)


def _groups(program: SeasonProgram, farm: Farm, display: Display) -> tuple[GroupShown, ...]:
    shown, left_out = without_traces(program)
    names = {one.source_id: one.name for one in program.sources}
    found = []
    for group_id in group_order(program):
        head = next((one.head for one in program.groups if one.group_id == group_id), 0)
        rations = tuple(
            RationShown(row.span, row.hay, row.feeds, display.local(row.why))
            for row in feeding_lines(shown, farm, group_id, display)
        )
        traces = [names[one] for one in left_out.get(group_id, ())]
        found.append(
            GroupShown(
                words.group_title(clean(group_name(farm, group_id)), head),
                rations,
                words.left_out(traces) if traces else "",
            )
        )
    return tuple(found)


def _bought(program: SeasonProgram, display: Display) -> tuple[Bought, ...]:
    rows = []
    for one in sorted(program.purchases, key=lambda one: -one.cost_usd):
        each = one.cost_usd / one.as_fed_kg if one.as_fed_kg > 0.0 else 0.0
        rows.append(
            Bought(
                clean(one.name),
                display.amount_text(one.as_fed_kg),
                display.price_per_ton_text(each),
                money_text(one.cost_usd),
            )
        )
    return tuple(rows)
