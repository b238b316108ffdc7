"""What to put out this week: the helper's list as plain text, for paper and terminal alike."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from rickyard.display import Display, display_for, listed, number_text
from rickyard.farm import Caution, Farm, Package
from rickyard.program.days import weighed_out
from rickyard.program.feedout import change_cautions
from rickyard.program.result import ChangeOver, Delivery, SeasonProgram
from rickyard.quantities import is_some
from rickyard.safety import rule_of
from rickyard.sheets.paper.on_farm import KeptAway, grazed_by, is_here, kept_away
from rickyard.sheets.paper.week_days import DAYS, shares_by_day
from rickyard.sheets.wording import (
    LEVEL_MARKS,
    LEVEL_ORDER,
    concerns,
    group_name,
    least_load_kg,
    quarters_text,
    subjects,
    words,
    work_of_offering,
)
from rickyard.tables import Tabular, counted

#: Rules of what hurts people first, whoever is fed from the stack or not.
PEOPLE_FIRST: Final = frozenset({"hot-now"})

#: Rules of what is done once by whoever runs the farm, and not by whoever feeds this week.
NOT_FOR_HELPERS: Final = frozenset({"water-salts-unknown"})


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
    """What one group gets in a week, how its feed changes, and what to watch for.

    ``never`` says what is on the farm and kept from it.
    """

    name: str
    head: int
    lines: tuple[WeekLine, ...]
    says: tuple[str, ...]
    cautions: tuple[Caution, ...]
    never: str = ""


@dataclass(frozen=True, slots=True, repr=False)
class WeekList(Tabular):
    """One week of a season program; ``days`` are its headings, one for each day.

    ``cautions`` are for the whole farm, and ``never`` says what no animal on it may have.
    """

    farm: str
    start: date
    title: str
    days: tuple[str, ...]
    groups: tuple[WeekGroup, ...]
    cautions: tuple[Caution, ...]
    never: str = ""

    def _facts(self) -> tuple[tuple[str, str], ...]:
        return (
            ("farm", self.farm),
            ("", self.title),
            ("", counted(len(self.groups), "group")),
            ("", counted(len(self.cautions), "caution")),
        )


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
    kept = kept_away(program, farm, days)
    nobody = {one for one in kept.everybody if one}
    groups = tuple(
        _Group(program, farm, days, group.group_id, told, kept).told()
        for group in farm.groups
        if is_here(program, group.group_id, days)
    )
    last = days[-1] if days else start
    return WeekList(
        farm=program.farm_name,
        start=start,
        title=words.title(display.day_text(start), display.day_year_text(last)),
        days=tuple(display.weekday_text(day) for day in days),
        groups=groups,
        cautions=tuple(_of_farm(program, farm, days, told)),
        never=words.for_nobody(kept.names(nobody)) if nobody else "",
    )


def _of_farm(
    program: SeasonProgram, farm: Farm, days: Sequence[date], told: Collection[Caution]
) -> Iterator[Caution]:
    """Yield what holds for the whole farm: a stack that may burn, then what is of no one lot."""
    if not days:
        return
    after = days[-1] + timedelta(days=1)
    here = {one.group_id for one in farm.groups if is_here(program, one.group_id, days)}
    out = {(one.group_id, one.source_id) for one in program.deliveries if one.day in days} | {
        (group, one) for group in here for one in grazed_by(program, farm, group, days)
    }
    for one in program.cautions:
        if PEOPLE_FIRST & set(one.rules):
            if one.level != "note" and one not in told:
                yield one
            continue
        if one.about or subjects(one, program, farm) or not one.holds(days[0], after):
            continue
        if set(one.rules) & NOT_FOR_HELPERS:
            continue
        whom = here & set(one.groups or here)
        # What can kill is told to those who do not get it too: it is put out within their reach.
        near = here if one.level == "danger" else whom
        within_reach = any(group in near and source in one.sources for group, source in out)
        if whom and (within_reach or not one.sources):
            yield one


def first_sentence(text: str) -> str:
    """Return the first sentence of several.

    >>> first_sentence("Step up corn, 0 to 1.5 lb a head. Too much kills. Stop.")
    'Step up corn, 0 to 1.5 lb a head.'
    """
    return f"{text.split('. ')[0].removesuffix('.')}."


def _is_of_a_rise(caution: Caution) -> bool:
    return bool(caution.rules) and all(rule_of(one).demand == "step" for one in caution.rules)


class _Group:
    """One group's week."""

    def __init__(
        self,
        program: SeasonProgram,
        farm: Farm,
        days: Sequence[date],
        group_id: str,
        told: dict[Caution, str],
        kept: KeptAway,
    ) -> None:
        self.program, self.farm, self.days = program, farm, days
        self.group_id, self.told_before, self.kept = group_id, told, kept
        self.display: Display = display_for(farm.units)
        self.hays = {one.source_id for one in program.sources if one.is_hay}
        self.in_bales = {
            one.source_id for one in program.sources if one.bale_weight_kg is not None
        } & self.hays
        self.names = {one.source_id: one.name for one in program.sources}
        self.mine = [
            one for one in program.deliveries if one.group_id == group_id and one.day in days
        ]
        self.grazed = grazed_by(program, farm, group_id, days)
        self.traces = self._too_little()
        self.small = {lot.lot_id for lot in farm.lots if lot.package is Package.SMALL_SQUARE}
        mine = (one for one in program.feeding if one.group_id == group_id)
        self.ever = {one.source_id for one in mine}
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
        # Of what is weighed and mixed the pounds of each day stand above, and no share is needed.
        for one in self.changes:
            if self._stands_in_pounds(one):
                lines += self._by_weight(one) if self._is_by_hand(one) else [self._shares(one)]
        return WeekGroup(
            name=group_name(self.farm, self.group_id),
            head=head,
            lines=tuple(lines),
            says=(*self._says(nothing=not lines), *self._told_above()),
            cautions=tuple(self._cautions()),
            never=self._never(),
        )

    def _never(self) -> str:
        """Say what is on the farm and kept from them, but not from all."""
        mine = set(self.kept.by_group.get(self.group_id, ())) - self.kept.everybody
        mine -= {one.source_id for one in self.mine} | set(self.grazed)
        return words.kept_from(self.kept.names(mine, self.group_id)) if mine else ""

    def _order(self) -> list[str]:
        forage = {one.source_id for one in self.program.sources if one.is_forage}
        place = {one.source_id: number for number, one in enumerate(self.program.sources)}
        fed = {one.source_id for one in self.mine}
        return sorted(fed, key=lambda one: (one not in forage, place[one]))

    def _too_little(self) -> set[str]:
        """Return what is put out in no load that can be weighed."""
        most: dict[str, float] = {}
        for one in self.mine:
            share = 1.0 if one.bales else one.mass_kg / least_load_kg(one.for_days)
            most[one.source_id] = max(most.get(one.source_id, 0.0), share)
        return {source_id for source_id, share in most.items() if share < 1.0}

    def _line(self, source_id: str) -> WeekLine:
        loads = [one for one in self.mine if one.source_id == source_id]
        in_bales = any(one.bales is not None for one in loads)
        scale = self._scale(loads)
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
                self._cell([one for one in loads if one.day == day], scale, in_bales=in_bales)
                for day in self.days
            ),
            is_bought=source_id in bought,
            planned=self._cell(loads, scale, in_bales=in_bales),
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
        return source_id in weighed_out(self.program, self.farm.group(self.group_id))

    def _unit(self, loads: Sequence[Delivery], *, mixed: bool) -> str:
        first = loads[0]
        if mixed:
            return words.weighed(self._scale(loads)[1])
        whole = [one for one in loads if one.bales]
        if not whole:
            if first.source_id in self.in_bales and first.for_days == 1:
                return words.forked(self._scale(loads)[1])
            once = len(loads) == 1 and first.for_days > 1
            return words.by_mass(self._scale(loads)[1], first.for_days if once else 1)
        mean = sum(one.mass_kg for one in whole) / sum(one.bales or 0 for one in whole)
        return words.by_bale(self.display.mass_text(mean))

    def _by_flake(self) -> Iterator[str]:
        """Yield how much a day small bales are for, of which one is not opened every day."""
        asked = self._asked(self.days)
        by_hand = {
            source_id
            for one in self.changes
            if one.from_sources and self._is_by_hand(one)
            for source_id in (one.to_source, *one.from_sources)
        }
        for source_id in self._order():
            loads = [one for one in self.mine if one.source_id == source_id and one.bales]
            if source_id not in self.small or source_id in by_hand or not loads:
                continue
            daily = self.display.mass_text(asked.get(source_id, 0.0))
            yield words.by_flake(self.names[source_id], daily)

    def _still_fed(self) -> Iterator[str]:
        """Yield which bales of earlier weeks are still being fed, where no new one comes."""
        loaded = {one.source_id for one in self.mine}
        for source_id in sorted(self.in_bales & self._asked(self.days).keys() - loaded):
            theirs = (self.group_id, source_id)
            bales = [
                one.day
                for one in self.program.deliveries
                if (one.group_id, one.source_id) == theirs and one.bales
            ]
            before = [day for day in bales if day < self.days[0]]
            after = [self.display.day_text(day) for day in bales if day > self.days[-1]]
            if before:
                last = self.display.day_text(max(before))
                yield words.still_fed(self.names[source_id], last, after[0] if after else "")

    def _asked(self, days: Sequence[date]) -> dict[str, float]:
        """Return the most that one of some days is to get of each source. [kg]."""
        most: dict[str, float] = {}
        for one in self.program.feeding:
            ends = one.start + timedelta(days=one.days)
            mine = one.group_id == self.group_id and one.start <= days[-1]
            if mine and days[0] < ends and is_some(one.offered_kg):
                daily = one.offered_kg / max(one.days, 1)
                most[one.source_id] = max(most.get(one.source_id, 0.0), daily)
        return most

    def _scale(self, loads: Sequence[Delivery]) -> tuple[float, str]:
        """Return what a kilogram is in the unit of a line, by the most that it says of one day."""
        most = max(
            sum(one.mass_kg for one in loads if one.day == day)
            for day in {one.day for one in loads}
        )
        return self.display.scale(most)

    def _cell(self, loads: Sequence[Delivery], scale: tuple[float, str], *, in_bales: bool) -> str:
        """Say whole bales, and with its unit what is weighed out of an opened one beside them."""
        whole = sum(one.bales or 0 for one in loads)
        loose = sum(one.mass_kg for one in loads if one.bales is None)
        said = [f"{whole:,}"] if whole else []
        if loose > 0.0:
            mass = self.display.mass_text(loose)
            said.append(mass if in_bales else number_text(scale[0] * loose))
        return " + ".join(said)

    def _stands_in_pounds(self, change: ChangeOver) -> bool:
        """Say whether a change of hay has lines of its own, beside what is weighed and mixed."""
        return bool(change.from_sources) and not self._is_mixed(change.to_source)

    def _is_by_hand(self, change: ChangeOver) -> bool:
        """Say whether a hay is mixed in by weight: the bales of the list do not do it."""
        return not change.in_program or change.to_source in self.small

    def _by_weight(self, change: ChangeOver) -> Iterator[WeekLine]:
        """Yield what to feed of the new hay and of the old on each day of a change by hand."""
        dry = {one.source_id: one.dm_pct / 100.0 for one in self.program.sources}
        shares, old = shares_by_day(change), change.from_sources
        whole = {
            day: sum(kg * dry[one] for one, kg in self._asked([day]).items() if one in self.hays)
            for day in self.days
            if day in shares
        }
        new = {day: shares[day] * kg / dry[change.to_source] for day, kg in whole.items()}
        mean = sum(dry[one] for one in old) / len(old)
        rest = {day: (1.0 - shares[day]) * kg / mean for day, kg in whole.items()}
        for sources, amounts in (((change.to_source,), new), (old, rest)):
            yield WeekLine(
                name=listed([self.names[one] for one in sources]),
                flag=sources[0],
                mark="",
                unit=words.by_hand(self.display.mass_unit),
                cells=tuple(
                    number_text(self.display.mass(amounts[day]))
                    if is_some(amounts.get(day, 0.0))
                    else ""
                    for day in self.days
                ),
                is_bought=False,
                is_share=True,
            )

    def _shares(self, change: ChangeOver) -> WeekLine:
        shares = shares_by_day(change)
        return WeekLine(
            name=self.names[change.to_source],
            flag=change.to_source,
            mark="",
            unit=words.SHARE_IN_PROGRAM,
            cells=tuple(
                self.display.percent_text(100.0 * shares[day], 0) if day in shares else ""
                for day in self.days
            ),
            is_bought=False,
            is_share=True,
        )

    def _says(self, *, nothing: bool) -> Iterator[str]:
        yield from work_of_offering(self.farm, self.group_id)
        if self.grazed:
            yield words.grazing([self.names[one] for one in self.grazed])
        elif nothing and not any(self._still_fed()):
            yield words.NOTHING
        yield from self._still_fed()
        for one in self.changes:
            if self._stands_in_pounds(one) and self._is_by_hand(one):
                old = [self.names[source_id] for source_id in one.from_sources]
                yield words.mixed_by_hand(
                    old, self.names[one.to_source], self.display.day_text(one.start), one.days
                )
                continue
            # What a rise does when it is too fast stands in the caution of its rule, below.
            rises = not one.from_sources and one.to_source in self._raised()
            yield first_sentence(one.sentence) if rises else one.sentence
        yield from self._by_flake()
        mixed = change_cautions(self.program, self.farm, self.days, (self.group_id,))
        yield from (one.sentence for one in mixed)
        if self.traces:
            yield words.left_out([self.names[one] for one in sorted(self.traces)])

    def _cautions(self) -> Iterator[Caution]:
        """Yield what is about the group, then about what it is given and was not told yet."""
        last = self.days[-1]
        for short in self.program.shortages:
            if short.group_id == self.group_id and short.start <= last and self.days[0] < short.end:
                yield Caution("warning", self.group_id, short.sentence, "")
        fed = self._fed()
        told_by_day = change_cautions(self.program, self.farm, groups=(self.group_id,))
        after = last + timedelta(days=1)
        for caution in self.program.cautions:
            if caution in told_by_day or not caution.holds(self.days[0], after):
                continue
            if self._is_past(caution):
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

    def _fed(self) -> set[str]:
        """Return what they get this week in amounts that can be weighed."""
        return ({one.source_id for one in self.mine} - self.traces) | set(self.grazed)

    def _raised(self) -> set[str]:
        """Return the feeds that are raised this week and whose rule has words of its own."""
        risen = {one.to_source for one in self.changes if not one.from_sources}
        told = {one.about for one in self.program.cautions if _is_of_a_rise(one)}
        return risen & told

    def _is_past(self, caution: Caution) -> bool:
        """Say whether a caution is about a rise that is over, or has not begun; not of urea."""
        if caution.level == "danger" or not _is_of_a_rise(caution):
            return False
        return caution.about not in self._raised()

    def _told_above(self) -> Iterator[str]:
        """Yield under which group dangers and warnings of what this one is given too stand."""
        fed = self._fed()
        above: dict[tuple[bool, str], set[str]] = {}
        for caution, group_id in self.told_before.items():
            here = subjects(caution, self.program, self.farm) & fed
            is_other = group_id != self.group_id and caution.level != "note"
            if here and is_other and concerns(caution, self.farm, self.group_id):
                danger = caution.level == "danger"
                above.setdefault((danger, group_id), set()).update(here)
        for (danger, group_id), named in sorted(above.items(), key=lambda one: not one[0][0]):
            # Who reads the danger of a hay there reads its warnings with it.
            new = named if danger else named - above.get((True, group_id), set())
            hays = [self.names[one] for one in self._order() + self.grazed if one in new]
            if hays:
                yield words.read_above(hays, group_name(self.farm, group_id), danger=danger)

    def _concerns(self, caution: Caution, fed: set[str]) -> bool:
        """Return whether a caution tells of nothing that they get in another week alone.

        What they are never fed is told in every week: it is kept from them, or within their reach.
        """
        other = set(caution.sources) & self.ever
        return not other or bool(other & fed)
