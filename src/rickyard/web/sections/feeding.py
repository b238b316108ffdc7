"""The page of a day: what to load, what each group gets, what was noted, and the other amounts."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final
from uuid import UUID

from rickyard.book.acting import zone_of
from rickyard.book.noting import FedLine
from rickyard.display import Display, clean, count_text, display_for, listed, number_text
from rickyard.farm import Farm, FedRow, FeedKind
from rickyard.program.result import Delivery, SeasonProgram
from rickyard.service import Held
from rickyard.sheets.paper import (
    WeekGroup,
    WeekLine,
    WeekList,
    is_here,
    last_day,
    week_list,
    week_start_of,
)
from rickyard.sheets.wording import LEAST_LOAD_KG, LEVEL_MARKS, least_load_kg
from rickyard.web.drawn import Part, flag, flags_of, key_mark, mark, wall
from rickyard.web.shown import Care, care_of

#: More bales than two such rows are not counted by eye.
_ROLLS_IN_A_ROW: Final = 12


@dataclass(frozen=True, slots=True)
class Load:
    """One thing to put out: its flag or sign, its name, what is to be known of it, how much."""

    flag: str
    name: str
    mark: str
    note: str
    amount: str
    unit: str


@dataclass(frozen=True, slots=True)
class OtherField:
    """A field for another amount than that of the list; ``name`` is that of the field."""

    name: str
    words: str
    unit: str
    listed: str


@dataclass(frozen=True, slots=True)
class GroupOfDay:
    """What a group gets on a day, its dangers, what was noted, and who noted it."""

    group_id: str
    anchor: str
    name: str
    head: str
    care: Care
    loads: tuple[Load, ...]
    says: tuple[str, ...]
    never: str
    fed: tuple[str, ...]
    noted: str
    lines: tuple[UUID, ...]
    others: tuple[OtherField, ...]


@dataclass(frozen=True, slots=True)
class DayShown:
    """All that stands on the page of a day. ``before`` and ``after`` are the days beside it.

    ``rolls`` is a drawing of the bales to haul, which the answer says in words.
    """

    day: date
    title: str
    answer: str
    rolls: str
    is_to_come: bool
    care: Care
    loads: tuple[Load, ...]
    groups: tuple[GroupOfDay, ...]
    never: str
    before: date | None
    before_words: str
    after: date | None
    after_words: str
    sources: tuple[tuple[str, str], ...]
    mass_unit: str


def day_in(program: SeasonProgram, today: date) -> date:
    """Return a day, or the nearest one that is fed by a program.

    Parameters
    ----------
    program : SeasonProgram
        The program.
    today : date
        Any day.

    Returns
    -------
    date
        A day of its season.
    """
    return min(max(today, program.start), last_day(program))


def rows_listed(program: SeasonProgram, farm: Farm, day: date, group_id: str) -> list[FedRow]:
    """Return what a day's list says for a group, as lines of the ledger of feedings.

    Parameters
    ----------
    program : SeasonProgram
        The program that is fed by.
    farm : Farm
        Its farm.
    day : date
        The day.
    group_id : str
        The group.

    Returns
    -------
    list of FedRow
        Whole bales and masses as fed. [kg]
    """
    week, at = _week(program, farm, day)
    found = []
    for group, one in zip(week.groups, _here(program, farm, week), strict=True):
        if one == group_id:
            for line in _lines(group, at):
                found += [_row(each) for each in _of(program, day, one, line.flag)]
    return found


def day_shown(
    program: SeasonProgram,
    farm: Farm,
    day: date,
    today: date,
    fed: Sequence[FedLine],
    time_zone: str,
) -> DayShown:
    """Return what stands on the page of a day: a column of the week's list, and what was noted.

    Parameters
    ----------
    program : SeasonProgram
        The program that is fed by.
    farm : Farm
        Its farm.
    day : date
        A day of its season.
    today : date
        The day on the farm.
    fed : sequence of FedLine
        What was noted for that day.
    time_zone : str
        The farm's.

    Returns
    -------
    DayShown
        Words.
    """
    display = display_for(farm.units)
    week, at = _week(program, farm, day)
    signs = _signs(farm)
    groups: list[GroupOfDay] = []
    every: list[tuple[WeekLine, list[Delivery]]] = []
    for group, group_id in zip(week.groups, _here(program, farm, week), strict=True):
        lines = [(one, _of(program, day, group_id, one.flag)) for one in _lines(group, at)]
        every += lines
        noted = [one for one in fed if one.row.group_id == group_id]
        groups.append(
            GroupOfDay(
                group_id,
                f"g{len(groups) + 1}",
                clean(group.name),
                f"{group.head:,} head",
                care_of(group.cautions, farm),
                tuple(
                    _load(line, loads, signs, display, _beside(group, line, at))
                    for line, loads in lines
                ),
                (*_no_hay(program, group_id, day, display), *map(clean, group.says)),
                clean(group.never),
                tuple(_fed(one.row, farm, display) for one in noted),
                _noted(noted, day, time_zone, display),
                tuple(one.id for one in noted),
                tuple(each for line, loads in lines for each in _others(line, loads, display)),
            )
        )
    before, after = day - timedelta(days=1), day + timedelta(days=1)
    loads = [one for _, its in every for one in its]
    return DayShown(
        day,
        display.weekday_text(day),
        _answer(program, loads, display),
        _rolls(loads),
        day > today,
        care_of(week.cautions, farm),
        _loads(every, signs, display),
        tuple(groups),
        clean(week.never),
        before if before >= program.start else None,
        display.weekday_text(before),
        after if after <= last_day(program) else None,
        display.weekday_text(after),
        _sources(farm),
        display.mass_unit,
    )


def _signs(farm: Farm) -> dict[str, str]:
    """Return the flag of each lot, and for each feed a sack, a tub of mineral or a bale."""
    found = {name: flag(one) for name, one in flags_of(farm.lots).items()}
    for one in farm.feeds:
        if one.kind is FeedKind.FORAGE:
            found[one.feed_id] = key_mark("rolled")
        elif one.kind is not FeedKind.GRAZING:
            found[one.feed_id] = mark("tub" if one.kind is FeedKind.MINERAL else "sack")
    return found


def _rolls(loads: Iterable[Delivery]) -> str:
    """Return the bales to haul, to be counted from the cab; none where they are too many."""
    whole = sum(one.bales or 0 for one in loads)
    rows = 1 if whole <= _ROLLS_IN_A_ROW else 2
    if not 0 < whole <= rows * _ROLLS_IN_A_ROW:
        return ""
    return wall([Part("rolled", whole)], rows, count_text(whole, "bale"), "haul", "haul")


def _week(program: SeasonProgram, farm: Farm, day: date) -> tuple[WeekList, int]:
    """Return the week of a day, and which of its columns the day is.

    Its cautions are those of the whole week: what was put out yesterday is still being eaten.
    """
    start = week_start_of(program, day) or day
    key = (id(program), id(farm), start)
    found = _weeks.of([key])
    if key not in found:
        # Program and farm are kept beside, so that their numbers are no others'.
        found = {key: (program, farm, week_list(program, farm, start))}
        _weeks.hold(found)
    return found[key][2], (day - start).days


#: Weeks as they were worked out. They can be dropped at any time.
_weeks: Final = Held[tuple[int, int, date], tuple[SeasonProgram, Farm, WeekList]](128)


def _here(program: SeasonProgram, farm: Farm, week: WeekList) -> list[str]:
    """Return the short names of the groups of a week, in its order."""
    days = [week.start + timedelta(days=number) for number in range(len(week.days))]
    return [one.group_id for one in farm.groups if is_here(program, one.group_id, days)]


def _lines(group: WeekGroup, at: int) -> list[WeekLine]:
    """Return the lines of a group that say something of one day, and are no share or measure."""
    return [one for one in group.lines if one.cells[at] and not one.is_share]


def _of(program: SeasonProgram, day: date, group_id: str, source_id: str) -> list[Delivery]:
    asked = (day, group_id, source_id)
    return [one for one in program.deliveries if (one.day, one.group_id, one.source_id) == asked]


def _row(one: Delivery) -> FedRow:
    if one.bales is not None:
        return FedRow(one.day, one.source_id, one.group_id, bales=float(one.bales))
    return FedRow(one.day, one.source_id, one.group_id, mass_kg=one.mass_kg)


def _beside(group: WeekGroup, line: WeekLine, at: int) -> str:
    """Return the same amount in the farm's own measure, and the share of a hay that is new."""
    same = (one for one in group.lines if one.is_share and one.flag == line.flag and one.cells[at])
    return "; ".join(f"{one.cells[at]} {one.unit}" for one in same)


def _load(
    line: WeekLine, loads: Sequence[Delivery], signs: Mapping[str, str], display: Display, note: str
) -> Load:
    whole = sum(one.bales or 0 for one in loads)
    amount, unit = _amount(loads, display)
    about = line.unit.partition(", ")[2] if whole or line.unit != display.mass_unit else ""
    return Load(
        signs.get(line.flag, ""),
        clean(line.name),
        mark("danger") if line.mark == LEVEL_MARKS["danger"] else "",
        "; ".join(one for one in (about, note) if one),
        amount,
        unit,
    )


def _amount(loads: Iterable[Delivery], display: Display) -> tuple[str, str]:
    """Return the figure that is read at arm's length, and what it counts."""
    loads = tuple(loads)
    whole = sum(one.bales or 0 for one in loads)
    loose = sum(one.mass_kg for one in loads if one.bales is None)
    if not whole:
        return number_text(display.mass(loose)), display.mass_unit
    beside = f" and {display.mass_text(loose)}" if loose >= LEAST_LOAD_KG else ""
    return f"{whole:,}", f"bale{'' if whole == 1 else 's'}{beside}"


def _loads(
    every: Sequence[tuple[WeekLine, list[Delivery]]], signs: Mapping[str, str], display: Display
) -> tuple[Load, ...]:
    """Return what is to be loaded for all groups together: hay first, in the order of the farm."""
    lines: dict[str, WeekLine] = {}
    loads: dict[str, list[Delivery]] = {}
    for line, its in every:
        lines.setdefault(line.flag, line)
        loads.setdefault(line.flag, []).extend(its)
    order = sorted(lines, key=lambda one: lines[one].is_bought)
    return tuple(_load(lines[one], loads[one], signs, display, "") for one in order)


def week_answer(program: SeasonProgram, farm: Farm, week: WeekList) -> str:
    """Return what is hauled and weighed in a week.

    Parameters
    ----------
    program : SeasonProgram
        The program that is fed by.
    farm : Farm
        Its farm.
    week : WeekList
        The week's list.

    Returns
    -------
    str
        Sentences.
    """
    end = week.start + timedelta(days=len(week.days))
    loads = [one for one in program.deliveries if week.start <= one.day < end]
    return _answer(program, loads, display_for(farm.units))


def flags_of_lines(farm: Farm, group: WeekGroup) -> tuple[tuple[WeekLine, str], ...]:
    """Return the lines of a group's week, each with the flag of its hay or the sign of its feed.

    Parameters
    ----------
    farm : Farm
        The farm.
    group : WeekGroup
        The group's list.

    Returns
    -------
    tuple of (WeekLine, str)
        SVG; empty for what has neither.
    """
    signs = _signs(farm)
    return tuple((one, signs.get(one.flag, "")) for one in group.lines)


def _answer(program: SeasonProgram, loads: Sequence[Delivery], display: Display) -> str:
    forage = {one.source_id for one in program.sources if one.is_forage}
    whole = sum(one.bales or 0 for one in loads)
    loose = [one for one in loads if one.bales is None]
    hay = sum(one.mass_kg for one in loose if one.source_id in forage)
    feed = sum(one.mass_kg for one in loose if one.source_id not in forage)
    said = [f"Haul {count_text(whole, 'bale')}."] if whole else []
    weighed = [f"{display.mass_text(hay)} of hay"] if hay >= LEAST_LOAD_KG else []
    weighed += [f"{display.mass_text(feed)} of feed"] if feed >= LEAST_LOAD_KG else []
    said += [f"Weigh {listed(weighed)}."] if weighed else []
    return " ".join(said) or "Nothing is to be put out."


def _no_hay(program: SeasonProgram, group_id: str, day: date, display: Display) -> tuple[str, ...]:
    """Say when hay is next put out, where none is on this day."""
    forage = {one.source_id for one in program.sources if one.is_forage}
    mine = [one for one in program.deliveries if one.group_id == group_id]
    days = {one.day for one in mine if one.source_id in forage}
    later = [one for one in days if one > day]
    if day in days or not later:
        return ()
    return (f"No hay today. The next is on {display.weekday_text(min(later))}.",)


def _fed(row: FedRow, farm: Farm, display: Display) -> str:
    amount = display.mass_text(row.mass_kg or 0.0)
    if row.bales is not None:
        amount = count_text(row.bales, "bale")
    return f"{amount} of {clean(dict(_sources(farm)).get(row.source_id, row.source_id))}"


def _noted(lines: Sequence[FedLine], day: date, time_zone: str, display: Display) -> str:
    """Return when it was noted, and by whom, of the newest line."""
    if not lines:
        return ""
    newest = max(lines, key=lambda one: one.at)
    at = newest.at.astimezone(zone_of(time_zone))
    when = "" if at.date() == day else f"{display.weekday_text(at.date())}, "
    who = f" by {clean(newest.who)}" if newest.who else ""
    return f"Fed. Noted {when}{at.hour}:{at:%M}{who}"


def _others(line: WeekLine, loads: Sequence[Delivery], display: Display) -> tuple[OtherField, ...]:
    """Return a field for the bales of a source, and one for what is weighed out of it."""
    whole = sum(one.bales or 0 for one in loads)
    loose = sum(one.mass_kg for one in loads if one.bales is None)
    name = clean(line.name)
    found = []
    if whole:
        found.append(OtherField(f"bales:{line.flag}", f"{name}, bales", "bales", f"{whole}"))
    least = least_load_kg(max((one.for_days for one in loads if one.bales is None), default=1))
    if loose >= least:
        unit, amount = display.mass_unit, number_text(display.mass(loose))
        found.append(OtherField(f"mass_kg:{line.flag}", f"{name}, {unit}", unit, amount))
    return tuple(found)


def _sources(farm: Farm) -> tuple[tuple[str, str], ...]:
    """Return all that can be put out, by its short name."""
    lots = [(one.lot_id, clean(one.name)) for one in farm.lots]
    feeds = [
        (one.feed_id, clean(one.name)) for one in farm.feeds if one.kind is not FeedKind.GRAZING
    ]
    return (*lots, *feeds)
