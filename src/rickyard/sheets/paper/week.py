"""What to put out this week: the helper's list as plain text, for paper and terminal alike."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from rickyard.display import Display, display_for, number_text
from rickyard.farm import Caution, Farm, FeedKind
from rickyard.program.feedout import change_cautions, weighed_out
from rickyard.program.result import ChangeOver, Delivery, SeasonProgram
from rickyard.quantities import is_some
from rickyard.sheets.wording import (
    LEAST_LOAD_KG,
    LEVEL_MARKS,
    LEVEL_ORDER,
    concerns,
    group_name,
    quarters_text,
    subjects,
    words,
)
from rickyard.tables import Tabular, counted

DAYS: Final = 7


@dataclass(frozen=True, slots=True)
class WeekLine:
    """One lot or feed of a group's week: an amount for each day, empty where none is put out.

    ``mark`` is that of the gravest caution about it, ``unit`` says what the figures count,
    ``planned`` is what they come to, and ``is_share`` marks the share of a new hay, which nobody
    weighs.
    """

    name: str
    flag: str
    mark: str
    unit: str
    cells: tuple[str, ...]
    is_bought: bool
    planned: str = ""
    is_share: bool = False


@dataclass(frozen=True, slots=True)
class WeekGroup:
    """What one group gets in a week, how its feed changes, and what to watch for."""

    name: str
    head: int
    lines: tuple[WeekLine, ...]
    says: tuple[str, ...]
    cautions: tuple[Caution, ...]


@dataclass(frozen=True, slots=True, repr=False)
class WeekList(Tabular):
    """One week of a season program; ``days`` are its headings, one for each day."""

    farm: str
    start: date
    title: str
    days: tuple[str, ...]
    groups: tuple[WeekGroup, ...]
    cautions: tuple[Caution, ...]

    def _facts(self) -> tuple[tuple[str, str], ...]:
        return (
            ("farm", self.farm),
            ("", self.title),
            ("", counted(len(self.groups), "group")),
            ("", counted(len(self.cautions), "caution")),
        )


def week_starts(program: SeasonProgram) -> tuple[date, ...]:
    """Return the first day of every week of the season."""
    count = (program.end - program.start).days
    return tuple(program.start + timedelta(days=day) for day in range(0, count, DAYS))


def week_start_of(program: SeasonProgram, day: date) -> date | None:
    """Return the first day of the week that a day is in; ``None`` outside the season.

    Parameters
    ----------
    program : SeasonProgram
        The program; its weeks begin on the weekday of its start.
    day : date
        The day.

    Returns
    -------
    date or None
        The first day of that week.
    """
    if not program.start <= day < program.end:
        return None
    return day - timedelta(days=(day - program.start).days % DAYS)


def last_day(program: SeasonProgram) -> date:
    """Return the last day of the season on which anything is fed.

    Parameters
    ----------
    program : SeasonProgram
        A program.

    Returns
    -------
    date
        The last day that is fed.
    """
    return program.end - timedelta(days=1)


def week_list(program: SeasonProgram, farm: Farm, start: date) -> WeekList:
    """Return what to put out in the seven days from a day on.

    Parameters
    ----------
    program : SeasonProgram
        The program, with its deliveries.
    farm : Farm
        Gives names and display units.
    start : date
        The first day.

    Returns
    -------
    WeekList
        Groups in the order of the farm; a caution about a lot or feed stands with the first group
        that is given it, and where it is a danger the groups after it are told where to read it.
    """
    days = [start + timedelta(days=number) for number in range(DAYS)]
    days = [day for day in days if program.start <= day < program.end]
    display = display_for(farm.units)
    told: dict[Caution, str] = {}
    groups = tuple(
        _Group(program, farm, days, group.group_id, told).told()
        for group in farm.groups
        if _is_here(program, group.group_id, days)
    )
    last = days[-1] if days else start
    display = display_for(farm.units)
    return WeekList(
        farm=program.farm_name,
        start=start,
        title=words.title(display.day_text(start), display.day_year_text(last)),
        days=tuple(display.weekday_text(day) for day in days),
        groups=groups,
        cautions=tuple(
            one for one in program.cautions if not one.about and not subjects(one, program, farm)
        ),
    )


def _is_here(program: SeasonProgram, group_id: str, days: Sequence[date]) -> bool:
    return bool(days) and any(
        one.group_id == group_id
        and one.start <= days[-1]
        and days[0] < one.start + timedelta(days=program.periods[one.period].days)
        for one in program.groups
    )


class _Group:
    """One group's week."""

    def __init__(
        self,
        program: SeasonProgram,
        farm: Farm,
        days: Sequence[date],
        group_id: str,
        told: dict[Caution, str],
    ) -> None:
        self.program, self.farm, self.days = program, farm, days
        self.group_id, self.told_before = group_id, told
        self.display: Display = display_for(farm.units)
        self.names = {one.source_id: one.name for one in program.sources}
        self.mine = [
            one for one in program.deliveries if one.group_id == group_id and one.day in days
        ]
        self.grazed = self._grazed()
        self.traces = self._too_little()
        self.changes = [
            one
            for one in program.change_overs
            if one.group_id == group_id
            and one.start <= days[-1]
            and days[0] < one.start + timedelta(days=one.days)
        ]

    def told(self) -> WeekGroup:
        head = next((one.head for one in self.farm.groups if one.group_id == self.group_id), 0)
        weighed = [one for one in self._order() if one not in self.traces]
        lines = [line for one in weighed for line in (self._line(one), *self._in_measures(one))]
        lines += [self._shares(one) for one in self.changes if one.from_sources]
        return WeekGroup(
            name=group_name(self.farm, self.group_id),
            head=head,
            lines=tuple(lines),
            says=(*self._says(nothing=not lines), *self._told_above()),
            cautions=tuple(self._cautions()),
        )

    def _order(self) -> list[str]:
        forage = {one.source_id for one in self.program.sources if one.is_forage}
        place = {one.source_id: number for number, one in enumerate(self.program.sources)}
        fed = {one.source_id for one in self.mine}
        return sorted(fed, key=lambda one: (one not in forage, place[one]))

    def _grazed(self) -> list[str]:
        """Return what they are on this week, which nobody puts out."""
        grazing = {feed.feed_id for feed in self.farm.feeds if feed.kind is FeedKind.GRAZING}
        return list(
            dict.fromkeys(
                row.source_id
                for row in self.program.feeding
                if row.group_id == self.group_id
                and row.source_id in grazing
                and row.start <= self.days[-1]
                and self.days[0] < row.start + timedelta(days=row.days)
            )
        )

    def _too_little(self) -> set[str]:
        """Return what is put out in no load that can be weighed."""
        most: dict[str, float] = {}
        for one in self.mine:
            mass = LEAST_LOAD_KG if one.bales else one.mass_kg
            most[one.source_id] = max(most.get(one.source_id, 0.0), mass)
        return {source_id for source_id, mass in most.items() if mass < LEAST_LOAD_KG}

    def _line(self, source_id: str) -> WeekLine:
        loads = [one for one in self.mine if one.source_id == source_id]
        in_bales = any(one.bales is not None for one in loads)
        levels = [
            one.level
            for one in self.program.cautions
            if source_id in subjects(one, self.program, self.farm)
            and concerns(one, self.farm, self.group_id)
        ]
        gravest = min(levels, key=lambda one: LEVEL_ORDER[one], default=None)
        bought = {feed.feed_id for feed in self.farm.feeds}
        return WeekLine(
            name=self.names[source_id],
            flag=source_id,
            mark="" if gravest in (None, "note") else LEVEL_MARKS[gravest or "note"],
            unit=self._unit(loads, mixed=self._is_mixed(source_id)),
            cells=tuple(
                self._cell([one for one in loads if one.day == day], in_bales=in_bales)
                for day in self.days
            ),
            is_bought=source_id in bought,
            planned=self._planned(loads),
        )

    def _in_measures(self, source_id: str) -> Iterator[WeekLine]:
        """Yield the same in the farm's own measure, rounded down so that no rise is exceeded."""
        feed = next((one for one in self.farm.feeds if one.feed_id == source_id), None)
        if feed is None or feed.measure_kg is None or self._is_mixed(source_id):
            return
        loads = [one for one in self.mine if one.source_id == source_id]
        counts = [sum(one.mass_kg for one in loads if one.day == day) for day in self.days]
        yield WeekLine(
            name=words.the_same_in(self.names[source_id]),
            flag=source_id,
            mark="",
            unit=words.by_measure(feed.measure, self.display.mass_text(feed.measure_kg)),
            cells=tuple(
                quarters_text(kg / feed.measure_kg) if is_some(kg) else "" for kg in counts
            ),
            is_bought=True,
            is_share=True,
        )

    def _is_mixed(self, source_id: str) -> bool:
        return source_id in weighed_out(self.program, self.group_id)

    def _unit(self, loads: Sequence[Delivery], *, mixed: bool) -> str:
        first = loads[0]
        if mixed:
            return words.weighed(self.display.mass_unit)
        whole = [one for one in loads if one.bales]
        if not whole:
            once = len(loads) == 1 and first.for_days > 1
            return words.by_mass(self.display.mass_unit, first.for_days if once else 1)
        mean = sum(one.mass_kg for one in whole) / sum(one.bales or 0 for one in whole)
        return words.by_bale(self.display.mass_text(mean))

    def _planned(self, loads: Sequence[Delivery]) -> str:
        return self._cell(loads, in_bales=any(one.bales is not None for one in loads))

    def _cell(self, loads: Sequence[Delivery], *, in_bales: bool) -> str:
        """Say whole bales, and with its unit what is weighed out of an opened one beside them."""
        whole = sum(one.bales or 0 for one in loads)
        loose = sum(one.mass_kg for one in loads if one.bales is None)
        said = [f"{whole:,}"] if whole else []
        if loose > 0.0:
            mass = self.display.mass_text(loose)
            said.append(mass if in_bales else number_text(self.display.mass(loose)))
        return " + ".join(said)

    def _shares(self, change: ChangeOver) -> WeekLine:
        shares = {
            change.start + timedelta(days=number): share
            for number, share in enumerate(change.shares)
        }
        return WeekLine(
            name=self.names[change.to_source],
            flag=change.to_source,
            mark="",
            unit=words.SHARE_IN_PROGRAM if change.in_program else words.SHARE_BY_HAND,
            cells=tuple(
                self.display.percent_text(100.0 * shares[day], 0) if day in shares else ""
                for day in self.days
            ),
            is_bought=False,
            is_share=True,
        )

    def _says(self, *, nothing: bool) -> Iterator[str]:
        if self.grazed:
            yield words.grazing([self.names[one] for one in self.grazed])
        elif nothing:
            yield words.NOTHING
        yield from (one.sentence for one in self.changes)
        mixed = change_cautions(self.program, self.farm, self.days)
        yield from (one.sentence for one in mixed if one.about == self.group_id)
        if self.traces:
            yield words.left_out([self.names[one] for one in sorted(self.traces)])

    def _cautions(self) -> Iterator[Caution]:
        """Yield what is about the group, then about what it is given and was not told yet."""
        last = self.days[-1]
        for short in self.program.shortages:
            if short.group_id == self.group_id and short.start <= last and self.days[0] < short.end:
                yield Caution("warning", self.group_id, short.sentence, "")
        fed = {one.source_id for one in self.mine} | set(self.grazed)
        told_by_day = change_cautions(self.program, self.farm)
        for caution in self.program.cautions:
            if caution in told_by_day:
                continue
            if caution.about == self.group_id:
                if self._concerns(caution, fed):
                    yield caution
                continue
            mine = subjects(caution, self.program, self.farm) & fed
            if not mine or not concerns(caution, self.farm, self.group_id):
                continue
            if caution not in self.told_before and (
                caution.level != "note" or mine & set(self.grazed)
            ):
                self.told_before[caution] = self.group_id
                yield caution

    def _told_above(self) -> Iterator[str]:
        """Yield under which group the dangers of what this one is given too stand."""
        fed = {one.source_id for one in self.mine} | set(self.grazed)
        above: dict[str, set[str]] = {}
        for caution, group_id in self.told_before.items():
            here = subjects(caution, self.program, self.farm) & fed
            is_other = group_id != self.group_id and caution.level == "danger"
            if here and is_other and concerns(caution, self.farm, self.group_id):
                above.setdefault(group_id, set()).update(here)
        for group_id, named in above.items():
            hays = [self.names[one] for one in self._order() + self.grazed if one in named]
            yield words.read_above(hays, group_name(self.farm, group_id))

    def _concerns(self, caution: Caution, fed: set[str]) -> bool:
        """Return whether a caution names nothing, or something that is put out this week."""
        named = {one for one, name in self.names.items() if name and name in caution.sentence}
        return not named or bool(named & fed)
