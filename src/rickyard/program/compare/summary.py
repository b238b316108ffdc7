"""What of a season program is set beside another one: money, hay, purchases, who eats what.

A program that was written to a file before and one just made are both read into this form.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, fields
from datetime import date, timedelta
from itertools import pairwise

from rickyard.program.result import Costs, SeasonProgram
from rickyard.quantities import is_some


@dataclass(frozen=True, slots=True)
class Fed:
    """What a group is given of a source over a period. Masses as fed."""

    group_id: str
    source_id: str
    start: date
    days: int
    offered_kg: float


@dataclass(frozen=True, slots=True)
class Missing:
    """A need that is not met, with the sentence about it; of the whole farm without a group."""

    group_id: str
    nutrient: str
    unit: str
    start: date
    end: date
    most_per_head_day: float | None
    total: float
    sentence: str


@dataclass(frozen=True, slots=True)
class Facts:
    """A season program as far as it is compared.

    ``costs`` holds money by kind, ``names`` the name of each lot and feed, ``hays`` those that
    count as hay: lots and bought forage. ``dm_frac`` is their dry matter and ``usd_per_kg`` their
    price or value as fed. ``left_t`` is dry matter by lot in metric tonnes, ``bought_kg`` feed as
    fed.
    """

    label: str
    farm_name: str
    start: date
    end: date
    status: str
    cost: float
    gap: float
    costs: Mapping[str, float]
    names: Mapping[str, str]
    hays: frozenset[str]
    lots: tuple[str, ...]
    dm_frac: Mapping[str, float]
    usd_per_kg: Mapping[str, float]
    left_t: Mapping[str, float]
    bought_kg: Mapping[str, float]
    bought_usd: Mapping[str, float]
    missing: tuple[Missing, ...]
    feeding: tuple[Fed, ...]

    def main_hay(self, group_id: str, day: date) -> str | None:
        """Return the hay of which a group is given most on a day, ``None`` where it gets none."""
        there = {
            row.source_id: row.offered_kg / row.days
            for row in self.feeding
            if row.group_id == group_id
            and row.source_id in self.hays
            and row.start <= day < row.start + timedelta(days=row.days)
        }
        return max(there, key=lambda one: (there[one], one)) if there else None

    def change_days(self, group_id: str) -> tuple[date, ...]:
        """Return the days on which another hay is begun for a group, once for each hay."""
        begun: dict[date, set[str]] = {}
        for row in self.feeding:
            if row.group_id == group_id and row.source_id in self.hays:
                begun.setdefault(row.start, set()).add(row.source_id)
        pairs = pairwise(sorted(begun))
        return tuple(now for before, now in pairs for _ in begun[now] - begun[before])

    def changes(self, group_id: str) -> int:
        """Return how often another hay is begun for a group after its first ones."""
        return len(self.change_days(group_id))

    def put_out_kg(self, start: date, end: date) -> dict[str, float]:
        """Return what is put out of each lot and feed from one day to the day before another.

        Days of a period that reach beyond the span count by their share. [kg as fed]
        """
        found: dict[str, float] = defaultdict(float)
        for row in self.feeding:
            last = row.start + timedelta(days=row.days)
            days = (min(end, last) - max(start, row.start)).days
            if is_some(days):
                found[row.source_id] += row.offered_kg * days / row.days
        return dict(found)

    @property
    def groups(self) -> tuple[str, ...]:
        """Return the groups that are fed, in the order in which they are told."""
        return tuple(dict.fromkeys(row.group_id for row in self.feeding))


def cost_kinds() -> tuple[str, ...]:
    """Return the kinds of cost that a program has, in the order in which they are told.

    >>> cost_kinds()[0]
    'hay_eaten'
    """
    return tuple(field.name for field in fields(Costs))


def facts_of(label: str, program: SeasonProgram) -> Facts:
    """Return what of a program is compared.

    Parameters
    ----------
    label : str
        What the program is called in the comparison.
    program : SeasonProgram
        The program.

    Returns
    -------
    Facts
        Costs in US dollars, hay in metric tonnes of dry matter, feed in kilograms as fed.
    """
    return Facts(
        label=label,
        farm_name=program.farm_name,
        start=program.start,
        end=program.end,
        status=program.status,
        cost=program.cost,
        gap=program.gap,
        costs={kind: getattr(program.costs, kind) for kind in cost_kinds()},
        names={one.source_id: one.name for one in program.sources},
        hays=frozenset(one.source_id for one in program.sources if one.is_hay),
        lots=tuple(lot.lot_id for lot in program.lots),
        dm_frac={one.source_id: one.dm_pct / 100.0 for one in program.sources},
        usd_per_kg={
            one.source_id: one.usd_per_kg_dm * one.dm_pct / 100.0 for one in program.sources
        },
        left_t={lot.lot_id: lot.left_t for lot in program.lots},
        bought_kg={one.feed_id: one.as_fed_kg for one in program.purchases},
        bought_usd={one.feed_id: one.cost_usd for one in program.purchases},
        missing=tuple(
            Missing(
                one.group_id,
                one.nutrient,
                one.unit,
                one.start,
                one.end,
                one.most_per_head_day,
                one.total,
                one.sentence,
            )
            for one in program.shortages
        ),
        feeding=tuple(
            Fed(row.group_id, row.source_id, row.start, row.days, row.offered_kg)
            for row in program.feeding
        ),
    )
