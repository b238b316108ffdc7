"""What comes next on a farm, and what each group eats today: beside the dangers of its yard."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Final
from urllib.parse import quote

from rickyard.display import Display, clean, display_for, listed
from rickyard.farm import Farm
from rickyard.service import Planned
from rickyard.service.sections import FarmTests
from rickyard.sheets.paper import day_list
from rickyard.sheets.wording import dangerous_to, group_name, group_order
from rickyard.web.drawn import ear_tag, mark

#: So many things to come are told.
_MOST: Final = 4


@dataclass(frozen=True, slots=True)
class ToCome:
    """What is to be done: when, in words, and the lot to core, empty where it is no coring."""

    when: str
    late: str
    words: str
    core: str


@dataclass(frozen=True, slots=True)
class Eats:
    """A group and what it is fed on the day; ``mark`` is that of danger."""

    tag: str
    name: str
    head: str
    mark: str
    words: str


@dataclass(frozen=True, slots=True)
class TodayShown:
    """What comes next, and who eats what."""

    to_come: tuple[ToCome, ...]
    eats: tuple[Eats, ...]


def today_shown(farm: Farm, tests: FarmTests, planned: Planned | None, day: date) -> TodayShown:
    """Return what comes next on a farm and what its groups eat.

    Parameters
    ----------
    farm : Farm
        The farm.
    tests : FarmTests
        What of it is to be cored, and what is under way.
    planned : Planned, optional
        The program that is fed by.
    day : date
        The day on the farm.

    Returns
    -------
    TodayShown
        The soonest first; nothing is eaten where there is no program for the day.
    """
    display = display_for(farm.units)
    found = [*_cores(tests, day, display), *_late(tests, display)]
    if planned is not None:
        found += _changes(planned, day, display)
    to_come = tuple(one for _, one in sorted(found, key=lambda pair: pair[0])[:_MOST])
    return TodayShown(to_come, _eats(planned, day))


def _cores(tests: FarmTests, day: date, display: Display) -> list[tuple[date, ToCome]]:
    return [
        (
            one.due_on,
            ToCome(
                display.day_text(one.due_on),
                "late" if one.due_on < day else "",
                f"Core {clean(one.name)}",
                quote(one.lot_id, safe=""),
            ),
        )
        for one in (*tests.now, *tests.later)
    ]


def _late(tests: FarmTests, display: Display) -> list[tuple[date, ToCome]]:
    return [
        (
            one.expected_on,
            ToCome(
                display.day_text(one.expected_on),
                "late",
                f"Call the lab: {clean(one.lot.name)}",
                "",
            ),
        )
        for one in tests.under_way
        if one.is_late and one.expected_on is not None
    ]


def _changes(planned: Planned, day: date, display: Display) -> list[tuple[date, ToCome]]:
    """Return the days on which rations change, each with the groups and their hay from then on."""
    program, farm = planned.program, planned.farm
    names = {one.source_id: clean(one.name) for one in program.sources if one.is_forage}
    by_day: dict[date, list[str]] = {}
    for group_id in group_order(program):
        for one in program.rations:
            if one.group_id == group_id and one.start > day:
                hay = listed([names[it.source_id] for it in one.things if it.source_id in names])
                told = f"{clean(group_name(farm, group_id))}: {hay or 'no hay'}"
                by_day.setdefault(one.start, []).append(told)
    return [
        (when, ToCome(display.day_text(when), "", f"Rations change. {'; '.join(told)}.", ""))
        for when, told in by_day.items()
    ]


def _eats(planned: Planned | None, day: date) -> tuple[Eats, ...]:
    if planned is None or not planned.program.start <= day < planned.program.end:
        return ()
    program, farm = planned.program, planned.farm
    order, heads = group_order(program), _heads(planned)
    found = []
    for one in sorted(day_list(program, farm, day), key=lambda one: order.index(one.group_id)):
        sign = mark("danger") if one.sources & dangerous_to(program, farm, one.group_id) else ""
        words = "; ".join(part for part in (one.hay, one.feeds) if part)
        head = heads.get(one.group_id, 0)
        tag = ear_tag(head, clean(one.name))
        found.append(Eats(tag, clean(one.name), f"{head:,} head", sign, words))
    return tuple(found)


def _heads(planned: Planned) -> Mapping[str, int]:
    return {one.group_id: one.head for one in planned.program.groups}
