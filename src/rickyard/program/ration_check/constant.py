"""Second look at rations: constant amounts, every week once, few things, needs met on the mean."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from datetime import timedelta
from typing import Final

from rickyard.farm import Farm, FeedKind, Group
from rickyard.program.result import GroupPeriod, Ration, SeasonProgram

#: Where a single week may lack a little while the mean of its ration is met.
ON_THE_MEAN: Final = frozenset({"nem", "gain_energy", "tdn", "cp"})

#: Amounts of a ration are measured, so that less than this share of a need is nothing.
MEASURED: Final = 1.1e-5

#: Things in a ration beside mineral.
MOST_THINGS: Final = 4

#: Two amounts are the same to this, kg per head and day.
SAME_KG: Final = 1e-6

#: What is wrong, what the program says and what is found.
Found = tuple[str, float, float]


def week_may_lack(
    program: SeasonProgram, farm: Farm, group: Group, nutrient: str, otherwise: float
) -> float:
    """Return the share of a need that a single week may lack without being short.

    Parameters
    ----------
    program : SeasonProgram
        The program.
    farm : Farm
        The farm it is of.
    group : Group
        The group.
    nutrient : str
        The need.
    otherwise : float
        What it is where amounts may change every week. [-]

    Returns
    -------
    float
        The share. [-]
    """
    if not program.rations:
        return otherwise
    if nutrient not in ON_THE_MEAN:
        return MEASURED
    lack = farm.season.week_may_lack_pct
    if group.week_may_lack_pct is not None:
        lack = group.week_may_lack_pct
    return lack / 100.0 + MEASURED


def ration_breaches(program: SeasonProgram, farm: Farm) -> Iterator[Found]:
    """Look for rations that change inside, leave weeks out, or do not meet the mean of a need.

    Parameters
    ----------
    program : SeasonProgram
        The program.
    farm : Farm
        The farm it is of.

    Yields
    ------
    tuple of (str, float, float)
        What is wrong, what the program says and what is found.
    """
    if program.rations:
        yield from _Look(program, farm).breaches()


class _Look:
    def __init__(self, program: SeasonProgram, farm: Farm) -> None:
        self.program = program
        self.cells = {(cell.group_id, cell.period): cell for cell in program.groups}
        self.names = {group.group_id: group.name for group in farm.groups}
        self.minerals = {one.feed_id for one in farm.feeds if one.kind is FeedKind.MINERAL}
        usual = farm.season.things_in_ration or MOST_THINGS
        self.most_things = {
            group.group_id: group.things_in_ration or usual for group in farm.groups
        }
        self.eaten: dict[tuple[str, int], dict[str, float]] = defaultdict(dict)
        self.offered: dict[tuple[str, int], dict[str, float]] = defaultdict(dict)
        for row in program.feeding:
            at = (row.group_id, row.period)
            self.eaten[at][row.source_id] = row.eaten_kg_dm_per_head_day
            self.offered[at][row.source_id] = row.offered_kg

    def breaches(self) -> Iterator[Found]:
        for group_id in dict.fromkeys(group_id for group_id, _ in self.cells):
            mine = [one for one in self.program.rations if one.group_id == group_id]
            weeks = sorted(at for other, at in self.cells if other == group_id)
            told = [cell.period for one in mine for cell in self._cells(one)]
            if told != weeks:
                yield f"{self.names[group_id]}, weeks with a ration", len(told), len(weeks)
                continue
            for one in mine:
                yield from self._same(one)
                yield from self._means(one)

    def _cells(self, ration: Ration) -> list[GroupPeriod]:
        """Return the group in each period that shares a day with a ration."""
        return [
            self.cells[ration.group_id, one.index]
            for one in self.program.periods
            if (ration.group_id, one.index) in self.cells
            and one.start < ration.end
            and one.start + timedelta(days=one.days) > ration.start
        ]

    def _same(self, ration: Ration) -> Iterator[Found]:
        name = f"{self.names[ration.group_id]}, ration {ration.number}"
        told = {one.source_id: one for one in ration.things}
        count = len(told.keys() - self.minerals)
        if count > self.most_things[ration.group_id]:
            yield f"{name}, things", self.most_things[ration.group_id], count
        for cell in self._cells(ration):
            at = (cell.group_id, cell.period)
            for source_id in sorted({*self.eaten[at], *told}):
                where = f"{name}, {source_id}, period {cell.period}"
                one, amount = told.get(source_id), self.eaten[at].get(source_id, 0.0)
                said = 0.0 if one is None else one.eaten_kg_dm_per_head_day
                if abs(amount - said) > SAME_KG:
                    yield where, said, amount
                each = self.offered[at].get(source_id, 0.0) / (cell.head * cell.days)
                said = 0.0 if one is None else one.put_out_kg_per_head_day
                if abs(each - said) > SAME_KG:
                    yield f"{where}, put out", said, each
                said = 0.0 if one is None else one.put_out_kg_per_day / cell.head
                if abs(each - said) > SAME_KG:
                    yield f"{where}, put out for the group", said * cell.head, each * cell.head

    def _means(self, ration: Ration) -> Iterator[Found]:
        cells = {cell.period: cell for cell in self._cells(ration)}
        for need in sorted(ON_THE_MEAN):
            rows = [
                (row, cells[row.period].head * cells[row.period].days)
                for row in self.program.needs
                if row.group_id == ration.group_id and row.nutrient == need and row.period in cells
            ]
            days = sum(weight for _, weight in rows)
            if not days:
                continue
            wanted = sum(row.need * weight for row, weight in rows) / days
            given = sum((row.supplied + row.shortage) * weight for row, weight in rows) / days
            if wanted - given > MEASURED * max(abs(wanted), 1e-3):
                name = f"{self.names[ration.group_id]}, mean {need} of ration {ration.number}"
                yield name, wanted, given
