"""Season programs side by side: what each costs, feeds, buys and leaves short, and who eats what.

The first program is the one the others are set against.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import pairwise
from typing import Final

import numpy as np

from rickyard.program.compare.summary import Facts, cost_kinds, facts_of
from rickyard.program.result import SeasonProgram, distance_usd
from rickyard.tables import Table, Tabular

#: An amount below this is nothing: money in US dollars, hay in metric tonnes, feed in kilograms.
DUST: Final = 1e-6


@dataclass(frozen=True, slots=True)
class ComparedRow:
    """One line of a comparison: a value for each program, ``None`` where it has no such thing."""

    key: str
    values: tuple[float | None, ...]


@dataclass(frozen=True, slots=True)
class ShortageDiff:
    """What a group lacks in each program: the sum over the season in ``unit``, 0 where nothing."""

    group_id: str
    nutrient: str
    unit: str
    totals: tuple[float, ...]
    sentences: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Differs:
    """Days on which a group is mostly fed another hay in one program than in the first.

    ``end`` is the first day on which that no longer holds. ``hays`` holds the id of the main hay
    for each program, ``None`` where it is fed no hay.
    """

    group_id: str
    start: date
    end: date
    hays: tuple[str | None, ...]


@dataclass(frozen=True, slots=True, repr=False)
class Comparison(Tabular):
    """Programs side by side, the first one first.

    ``distances_usd`` is how far each may be from the least possible cost. ``cost`` holds money by
    kind and ``total`` in US dollars, ``left_t`` dry matter by lot in metric tonnes, ``bought_kg``
    feed as fed, ``changes`` how often a group's hay changes.
    ``same_days`` is the span that all of them plan, ``None`` where there is none; over it
    ``fed_t`` is the dry matter put out by lot, ``fed_kg`` the bought feed put out as fed, and
    ``put_out_usd`` what all of it is worth.
    """

    labels: tuple[str, ...]
    spans: tuple[tuple[date, date], ...]
    same_days: tuple[date, date] | None
    statuses: tuple[str, ...]
    distances_usd: tuple[float, ...]
    total: ComparedRow
    cost: tuple[ComparedRow, ...]
    put_out_usd: ComparedRow
    fed_t: tuple[ComparedRow, ...]
    fed_kg: tuple[ComparedRow, ...]
    left_t: tuple[ComparedRow, ...]
    bought_kg: tuple[ComparedRow, ...]
    lacks: tuple[ShortageDiff, ...]
    changes: tuple[ComparedRow, ...]
    differs: tuple[Differs, ...]
    names: Mapping[str, str]

    def _facts(self) -> tuple[tuple[str, str], ...]:
        return tuple(
            (label, "no cost" if usd is None else f"${usd:,.0f}")
            for label, usd in zip(self.labels, self.total.values, strict=True)
        )

    def _parts(self) -> dict[str, Sequence[object] | Table]:
        parts: dict[str, Sequence[object] | Table] = {
            name: self._side_by_side(getattr(self, name))
            for name in ("cost", "fed_t", "fed_kg", "left_t", "bought_kg", "changes")
        }
        return {**parts, "lacks": self.lacks, "differs": self.differs}

    def _side_by_side(self, rows: Sequence[ComparedRow]) -> Table:
        """Return one row for each thing compared, and a column for each program."""
        keys = Table(key=np.array([row.key for row in rows], dtype=np.str_))
        values = np.array([row.values for row in rows], dtype=np.float64)
        values = values.reshape(len(rows), len(self.labels))
        return Table({**keys, **{label: values[:, at] for at, label in enumerate(self.labels)}})


def compare(programs: Sequence[tuple[str, SeasonProgram]]) -> Comparison:
    """Set season programs side by side.

    Raises ``ValueError`` if there is no program.

    Parameters
    ----------
    programs : sequence of (str, SeasonProgram)
        A label and a program each; the first is the one that the others are set against.

    Returns
    -------
    Comparison
        Cost by kind, hay by lot, purchases, shortages, changes, and who eats another hay when.
    """
    return compare_facts([facts_of(label, program) for label, program in programs])


def differs_from_first(found: Comparison, at: int) -> tuple[Differs, ...]:
    """Return the days on which one program mostly feeds another hay than the first.

    Parameters
    ----------
    found : Comparison
        The programs side by side.
    at : int
        Which of them.

    Returns
    -------
    tuple of Differs
        With the main hay of the first and of that program.
    """
    runs: list[Differs] = []
    for one in found.differs:
        pair = (one.hays[0], one.hays[at])
        if pair[0] == pair[1]:
            continue
        last = runs[-1] if runs else None
        follows = last is not None and (last.group_id, last.end, last.hays) == (
            one.group_id,
            one.start,
            pair,
        )
        if last is not None and follows:
            runs[-1] = replace(last, end=one.end)
        else:
            runs.append(Differs(one.group_id, one.start, one.end, pair))
    return tuple(runs)


def compare_facts(facts: Sequence[Facts]) -> Comparison:
    """Set programs side by side of which some were read from files; see `compare`.

    Parameters
    ----------
    facts : sequence of Facts
        What is compared of each program; the first is the one the others are set against.

    Returns
    -------
    Comparison
        Cost in US dollars, hay in metric tonnes of dry matter.
    """
    if not facts:
        raise ValueError("There is no program to compare.")

    def rows(
        pick: Callable[[Facts], Mapping[str, float]], keys: Iterable[str]
    ) -> tuple[ComparedRow, ...]:
        return tuple(ComparedRow(key, tuple(pick(one).get(key) for one in facts)) for key in keys)

    def all_of(pick: Callable[[Facts], Iterable[str]]) -> list[str]:
        return list(dict.fromkeys(key for one in facts for key in pick(one)))

    groups = all_of(lambda one: one.groups)
    cost = rows(lambda one: one.costs, [*cost_kinds(), *all_of(lambda one: one.costs)])
    same = _same_days(facts)
    put_out = [one.put_out_kg(*same) if same else {} for one in facts]
    lots = all_of(lambda one: one.lots)
    feeds = [key for key in all_of(lambda one: one.names) if key not in lots]
    names: dict[str, str] = {}
    for one in reversed(facts):
        names.update(one.names)
    return Comparison(
        labels=tuple(one.label for one in facts),
        spans=tuple((one.start, one.end) for one in facts),
        statuses=tuple(one.status for one in facts),
        distances_usd=tuple(distance_usd(one.cost, one.gap) for one in facts),
        total=ComparedRow("total", tuple(one.cost for one in facts)),
        cost=tuple(row for row in dict.fromkeys(cost) if _is_something(row)),
        same_days=same,
        put_out_usd=ComparedRow(
            "put_out", tuple(_worth(one, out) for one, out in zip(facts, put_out, strict=True))
        ),
        fed_t=_put_out(facts, put_out, lots, tonnes_of_dry_matter=True),
        fed_kg=_put_out(facts, put_out, feeds, tonnes_of_dry_matter=False),
        left_t=rows(lambda one: one.left_t, all_of(lambda one: one.left_t)),
        bought_kg=rows(lambda one: one.bought_kg, all_of(lambda one: one.bought_kg)),
        lacks=tuple(_lacks(facts)),
        changes=tuple(
            ComparedRow(
                group,
                tuple(float(one.changes(group)) if group in one.groups else None for one in facts),
            )
            for group in groups
        ),
        differs=tuple(run for group in groups for run in _differing(facts, group)),
        names=names,
    )


def _same_days(facts: Sequence[Facts]) -> tuple[date, date] | None:
    """Return the span that all of them plan."""
    first, last = max(one.start for one in facts), min(one.end for one in facts)
    return (first, last) if first < last else None


def _put_out(
    facts: Sequence[Facts],
    put_out: Sequence[Mapping[str, float]],
    keys: Sequence[str],
    *,
    tonnes_of_dry_matter: bool,
) -> tuple[ComparedRow, ...]:
    """Return what is put out of lots or feeds, ``None`` where a program does not know them."""

    def amount(one: Facts, out: Mapping[str, float], key: str) -> float | None:
        if key not in one.names:
            return None
        each = one.dm_frac[key] / 1000.0 if tonnes_of_dry_matter else 1.0
        return out.get(key, 0.0) * each

    pairs = list(zip(facts, put_out, strict=True))
    rows = (ComparedRow(key, tuple(amount(one, out, key) for one, out in pairs)) for key in keys)
    return tuple(row for row in rows if tonnes_of_dry_matter or _is_something(row))


def _worth(facts: Facts, out: Mapping[str, float]) -> float:
    return sum(kg * facts.usd_per_kg[key] for key, kg in out.items())


def _is_something(row: ComparedRow) -> bool:
    return any(value is not None and abs(value) > DUST for value in row.values)


def _lacks(facts: Sequence[Facts]) -> Iterator[ShortageDiff]:
    found = [(one.group_id, one.nutrient, one.unit) for each in facts for one in each.missing]
    for group, nutrient, unit in dict.fromkeys(found):
        mine = [
            [one for one in each.missing if (one.group_id, one.nutrient) == (group, nutrient)]
            for each in facts
        ]
        yield ShortageDiff(
            group,
            nutrient,
            unit,
            tuple(sum(one.total for one in each) for each in mine),
            tuple(" ".join(one.sentence for one in each) for each in mine),
        )


def _differing(facts: Sequence[Facts], group: str) -> Iterator[Differs]:
    """Tell the runs of days on which the main hay of a group is not the same in all programs."""
    edges = sorted(
        {day for each in facts for day in _edges(each, group)}
        | {day for each in facts for day in (each.start, each.end)}
    )
    first, last = max(one.start for one in facts), min(one.end for one in facts)
    open_run: Differs | None = None
    for start, end in pairwise(edges):
        if start < first or end > last:
            continue
        hays = tuple(one.main_hay(group, start) for one in facts)
        if open_run is not None and open_run.hays == hays and open_run.end == start:
            open_run = Differs(group, open_run.start, end, hays)
            continue
        if open_run is not None and len(set(open_run.hays)) > 1:
            yield open_run
        open_run = Differs(group, start, end, hays)
    if open_run is not None and len(set(open_run.hays)) > 1:
        yield open_run


def _edges(facts: Facts, group: str) -> Iterator[date]:
    for row in facts.feeding:
        if row.group_id == group:
            yield row.start
            yield row.start + timedelta(days=row.days)
