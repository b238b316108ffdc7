"""Questions to a season: what if, wishes, remedies with what they would do, why this hay."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Final
from urllib.parse import urlencode
from uuid import UUID

from rickyard.book.taking import Takable
from rickyard.book.working import Answered
from rickyard.display import Display, clean, display_for, money_text
from rickyard.farm import Farm, Wanted, WishRow
from rickyard.program.result import Remedy, SeasonProgram
from rickyard.service import Planned, held_by_object
from rickyard.sheets.wording import answer_of, group_name, group_order
from rickyard.web.drawn import cost_bar, rung_bar
from rickyard.web.shown import (
    Care,
    care_of,
)

#: How a fault begins that speaks of the option of a command.
_OPTION: Final = re.compile(r"^--[a-z]+( [^:]*)?: ")
#: What a remedy writes of a group that is said with one word or day.
_WRITES: Final = {
    "feeder": "Writes that {who} eat from a {then}. Have it there before they do.",
    "offered": "Writes that {who} get their hay by the day, and no more than they need.",
    "weaning_on": "Writes that the calves of {who} are weaned on {then}.",
}
_WINTERS: Final = (("mild", "mild"), ("normal", "usual"), ("severe", "severe"))


@dataclass(frozen=True, slots=True)
class Blanks:
    """The choices for the blanks of what-if sentences, each a name in the book and its words."""

    groups: tuple[tuple[str, str], ...]
    lots: tuple[tuple[str, str], ...]
    priced: tuple[tuple[str, str], ...]
    winters: tuple[tuple[str, str], ...]
    ends: str
    mass_unit: str


def blanks_of(farm: Farm) -> Blanks:
    """Return what can stand in the blanks of a farm's questions.

    Parameters
    ----------
    farm : Farm
        The farm.

    Returns
    -------
    Blanks
        Names and words.
    """
    lots = tuple((one.lot_id, clean(one.name)) for one in farm.lots)
    feeds = tuple((one.feed_id, clean(one.name)) for one in farm.feeds)
    return Blanks(
        tuple((one.group_id, f"{clean(one.name)} ({one.head})") for one in farm.groups),
        lots,
        (*feeds, *lots),
        _WINTERS,
        farm.season.end.isoformat(),
        display_for(farm.units).mass_unit,
    )


@dataclass(frozen=True, slots=True)
class Row:
    """A row of two programs side by side."""

    words: str
    now: str
    then: str


@dataclass(frozen=True, slots=True)
class WhatIfShown:
    """What a question makes of a season. ``care`` holds the dangers of the season as asked."""

    answer: str
    is_under_way: bool
    fault: str
    sentence: str
    rows: tuple[Row, ...]
    care: Care


def what_if_shown(found: Answered) -> WhatIfShown:
    """Return what stands on the page of a question.

    Parameters
    ----------
    found : Answered
        How far it is.

    Returns
    -------
    WhatIfShown
        Words.
    """
    display = display_for(found.farm.units)
    if found.answer is None or found.base is None:
        fault = _OPTION.sub("", found.fault)
        answer = "It is being worked out." if found.is_under_way else "This cannot be worked out."
        return WhatIfShown(answer, found.is_under_way, fault, "", (), care_of((), found.farm))
    then = found.answer.program
    more = found.answer.cost_usd
    dearer = "cheaper" if more < 0.0 else "dearer"
    answer = (
        "No clear change in cost."
        if found.answer.unclear
        else f"The season is {money_text(abs(more))} {dearer}."
    )
    return WhatIfShown(
        answer,
        False,
        "",
        display.local(found.answer.sentence),
        (
            Row("Cost", money_text(found.base.costs.total), money_text(then.costs.total)),
            Row(
                "Is there enough?",
                display.local(answer_of(found.base, found.farm, display).sentence),
                display.local(answer_of(then, found.farm, display).sentence),
            ),
            Row("What is short", _short(found.base, display), _short(then, display)),
        ),
        care_of(then.cautions, found.farm),
    )


def _short(program: SeasonProgram, display: Display) -> str:
    told = dict.fromkeys(display.local(one.sentence) for one in program.shortages)
    return " ".join(told) or "Nothing"


@dataclass(frozen=True, slots=True)
class RemedyShown:
    """What would remove a shortage; ``effect`` leads to what it would make of the season.

    ``words`` name it and ``told`` says how it is done, where that is more. ``figures`` are of a
    rung: what it takes off and what is left. ``writes`` says what taking it writes into the farm,
    empty where it cannot be taken here; ``place`` and ``seen`` are what its form sends. ``state``
    says that it is taken.
    """

    words: str
    cost: str
    effect: str
    writes: str = ""
    place: int = 0
    seen: int = 0
    state: str = ""
    can_undo: bool = False
    bar: str = ""
    told: str = ""
    figures: str = ""


@dataclass(frozen=True, slots=True)
class RemediesShown:
    """What would help where something is short.

    ``ladder`` adds up to the hay that is lacking, in an adviser's order, and ``lacking`` says how
    much that is. ``instead`` would do in place of buying hay; ``each`` is of one shortage by
    itself.
    """

    lacking: str
    ladder: tuple[RemedyShown, ...]
    instead: tuple[RemedyShown, ...]
    each: tuple[RemedyShown, ...]

    @property
    def some(self) -> bool:
        """Return whether there is any."""
        return bool(self.ladder or self.instead or self.each)


def remedies_shown(planned: Planned, can: Sequence[Takable] = ()) -> RemediesShown:
    """Return what would help where something is short.

    Parameters
    ----------
    planned : Planned
        The program with its farm.
    can : sequence of Takable
        Those that can be taken.

    Returns
    -------
    RemediesShown
        In the order in which the program found them, each sentence once.
    """
    farm, at = planned.farm, {one.place: one for one in can}
    display, remedies = display_for(farm.units), planned.program.remedies
    most = max((abs(one.usd or 0.0) for one in remedies), default=0.0)
    whole = sum(one.removes_kg or 0.0 for one in remedies if one.left_kg is not None)
    lacking = display.amount_text(whole) if whole else ""
    ladder: list[RemedyShown] = []
    instead: list[RemedyShown] = []
    each: dict[str, RemedyShown] = {}
    covered = 0.0
    for place, one in enumerate(remedies):
        words = display.local(one.sentence)
        if words in each:
            continue
        if one.rung is None:
            shown = _by_itself(one, words, most)
        else:
            shown = _on_ladder(one, words, covered, whole, display)
        asked = _question(one, farm, display)
        shown = replace(shown, effect=urlencode(asked) if asked else "")
        if place in at:
            shown = _with_taking(shown, at[place], farm, display)
        if one.rung is None:
            each[words] = shown
        elif one.left_kg is None and one.removes_kg is not None:
            instead.append(shown)
        else:
            ladder.append(shown)
            # What is in place of buying stands on what is done before hay is bought.
            covered += 0.0 if one.kind == "better_hay" else one.removes_kg or 0.0
    return RemediesShown(lacking, tuple(ladder), tuple(instead), tuple(each.values()))


def _by_itself(one: Remedy, words: str, most: float) -> RemedyShown:
    cost = "" if one.usd is None else money_text(one.usd)
    return RemedyShown(words, cost, "", bar=cost_bar(one.usd, most) if one.usd else "")


def _on_ladder(
    one: Remedy, words: str, covered: float, whole: float, display: Display
) -> RemedyShown:
    title = display.local(f"{one.rung}. {one.title}")
    if one.removes_kg is None or not whole:
        return RemedyShown(title, "", "", told=words)
    removes = display.amount_text(one.removes_kg)
    figures = f"{removes} of {display.amount_text(whole)}"
    if one.left_kg is not None and one.left_kg > 0.0:
        figures += f", {display.amount_text(one.left_kg)} left"
    bar = rung_bar(covered, one.removes_kg, whole, figures)
    cost = ""
    if one.usd is not None:
        less = "less" if one.usd < 0.0 else "more"
        cost = money_text(one.usd) if one.kind == "better_hay" else ""
        cost = cost or f"the season costs {money_text(abs(one.usd))} {less}"
    return RemedyShown(title, cost, "", bar=bar, told=words, figures=figures)


def _with_taking(shown: RemedyShown, can: Takable, farm: Farm, display: Display) -> RemedyShown:
    change = can.change
    if change.column == "most_kg":
        name = clean(_source(farm, change.name))
        more = display.amount_text(change.after)
        writes = (
            f"Writes that {more} of {name} can be bought this season, instead of "
            f"{display.amount_text(change.before)}. Ask the seller first."
        )
    elif change.column in _WRITES:
        who = clean(group_name(farm, change.name))
        day = display.day_text(change.after) if isinstance(change.after, date) else ""
        then = day or change.after.replace("_", " ")
        writes = _WRITES[change.column].format(who=who, then=then)
    elif change.column == "head":
        who = clean(group_name(farm, change.name))
        writes = f"Writes {change.after} head of {who} from today on, instead of {change.before}."
    else:
        who = clean(group_name(farm, change.name))
        day = display.day_text(change.after)
        writes = f"Writes that from {day} on {who} get no feed here: sold, or on grass."
    state = ""
    if can.is_taken:
        state = "Taken. Work the program out again to see what it makes of the season."
    return replace(
        shown,
        writes=writes,
        place=can.place,
        seen=can.seen,
        state=state,
        can_undo=can.can_undo,
    )


def _question(one: Remedy, farm: Farm, display: Display) -> dict[str, str]:
    """Return the question that says what a remedy would do, where one says just that."""
    if one.kind in ("feed", "hay") and one.amount_kg is not None:
        tons = one.amount_kg / display.kg_per_ton
        return {"of": "buy", "buy": one.source_id, "tons": f"{tons:.1f}"}
    if one.kind == "fewer_head" and one.head is not None:
        now = farm.group(one.group_id).head
        return {"of": "head", "group": one.group_id, "head": f"{max(0, now - one.head)}"}
    return {}


@dataclass(frozen=True, slots=True)
class WishShown:
    """A wish, and what the newest program made of it."""

    id: UUID
    words: str
    became: str


def wishes_shown(
    lines: Sequence[tuple[UUID, WishRow]], farm: Farm, planned: Planned | None
) -> tuple[WishShown, ...]:
    """Return the wishes of a season.

    Parameters
    ----------
    lines : sequence of (UUID, WishRow)
        The wishes in the book.
    farm : Farm
        The farm.
    planned : Planned, optional
        The newest program.

    Returns
    -------
    tuple of WishShown
        Words.
    """
    display = display_for(farm.units)
    became: dict[tuple[str, str, str], str] = {}
    for one in () if planned is None else planned.program.wishes:
        key = (str(one.wish.kind), one.wish.source_id, one.wish.group_id)
        became[key] = display.local(one.sentence)
    found = []
    for line, row in lines:
        key = (row.wish.value, row.source_id, row.group_id)
        found.append(WishShown(line, _wish(row, farm, display), became.get(key, "")))
    return tuple(found)


def _wish(row: WishRow, farm: Farm, display: Display) -> str:
    who = group_name(farm, row.group_id) if row.group_id else "every group"
    what = _source(farm, row.source_id)
    many = "Some of " if row.wish is Wanted.FEED else "None of "
    each = ""
    if row.as_fed_kg_per_head_day is not None:
        many = f"{display.mass(row.as_fed_kg_per_head_day):.1f} {display.mass_unit} of "
        each = " a head and day"
    return f"{many}{clean(what)}{each} to {clean(who)}{_days(row.start, row.end, display)}"


def _days(start: date | None, end: date | None, display: Display) -> str:
    first = "" if start is None else f" from {display.day_text(start)}"
    return first + ("" if end is None else f" until {display.day_text(end)}")


def _source(farm: Farm, source_id: str) -> str:
    names = {one.lot_id: one.name for one in farm.lots}
    names |= {one.feed_id: one.name for one in farm.feeds}
    return names.get(source_id, source_id)


@held_by_object(64)
def reasons_shown(planned: Planned) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Return for each group why it is fed these hays and not others.

    Parameters
    ----------
    planned : Planned
        The program with its farm.

    Returns
    -------
    tuple of (str, tuple of str)
        The group and its reasons.
    """
    display = display_for(planned.farm.units)
    found = []
    for group_id in group_order(planned.program):
        told = tuple(
            dict.fromkeys(
                display.local(one.sentence)
                for one in planned.program.reasons
                if one.group_id == group_id
            )
        )
        if told:
            found.append((clean(group_name(planned.farm, group_id)), told))
    return tuple(found)
