"""Why each group is fed the hay it is fed, against the next best it could have.

At the optimum every amount that is fed pays for itself: its own price and what its hay would be
worth elsewhere equal what its energy, its protein and the room it leaves are worth. For a hay
that is not fed the two differ, by just what a kilogram of it would add to the cost. The same sum
taken apart by kinds says what speaks most for the hay that is fed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

import numpy as np

from rickyard.display import Display
from rickyard.nutrients import NUTRIENTS
from rickyard.program.model import BUYING, RULES, STOCK, Model, Prices
from rickyard.program.problem import Problem
from rickyard.program.result import LotReason
from rickyard.quantities import is_some
from rickyard.types import BoolArray, FloatArray, IntArray

#: A difference below this, US dollars per tonne of dry matter, makes two hays as good.
SAME_USD_PER_T: Final = 0.05

#: What the rows charge a hay for, in the kinds a person would name. Other rows are ``rules``.
KINDS: Final[dict[str, str]] = {
    **{one.key: one.kind for one in NUTRIENTS.values()},
    STOCK: "scarcity",
    BUYING: "scarcity",
    RULES: "rules",
}

#: What speaks for the hay that is fed. {hay}, {other} and {group} are filled in.
_BECAUSE: Final = {
    "energy": "it has the energy {group} need",
    "protein": "its protein saves buying some",
    "minerals": "it has minerals that would have to be bought",
    "room": "{group} can eat enough of it",
    "hazards": "it is safer in quantity than {other}",
    "scarcity": "{other} is worth more to other stock",
    "price": "it is the cheaper hay for what it supplies",
    "rules": "ration rules leave less room for {other}",
}

#: Where nothing speaks for it in money.
_WHY: Final = {
    "same": "{other} would do as well at the same cost",
    "steady": (
        "a little of {other} would be cheaper, but it is left out to keep the ration steady and "
        "the hays few"
    ),
}


@dataclass(frozen=True, slots=True)
class _Run:
    """A hay fed to a group in neighbouring periods, the last included."""

    group: int
    source: int
    first: int
    last: int


def reasons(
    problem: Problem, model: Model, prices: Prices, eaten: FloatArray, display: Display
) -> tuple[LotReason, ...]:
    """Say of each run of a hay in a group's ration what speaks for it.

    ``eaten``: what is fed [kg DM per head and day].
    """
    look = _Look(problem, model, prices, eaten, display)
    found = [look.reason(run) for run in _runs(eaten, look.is_hay)]
    order = {group.group_id: g for g, group in enumerate(problem.needs.groups)}
    return tuple(sorted(found, key=lambda one: (order[one.group_id], one.start, one.source_id)))


def _runs(eaten: FloatArray, is_hay: BoolArray) -> Iterator[_Run]:
    fed = is_some(eaten)
    for g, i in np.argwhere(fed.any(axis=2) & is_hay[None, :]).tolist():
        edges = np.flatnonzero(np.diff(np.concatenate(([0], fed[g, i].astype(np.int8), [0]))))
        for first, end in edges.reshape(-1, 2).tolist():
            yield _Run(g, i, first, end - 1)


class _Look:
    """Everything about the amounts as tensors of shape (groups, sources, periods)."""

    def __init__(
        self,
        problem: Problem,
        model: Model,
        prices: Prices,
        eaten: FloatArray,
        display: Display,
    ) -> None:
        self.problem, self.display, self.eaten = problem, display, eaten
        self.is_hay = problem.sources.is_hay
        columns = model.columns
        self._at = columns.group, columns.source, columns.period
        head_days = problem.needs.head_days[columns.group, columns.period]
        amounts = len(columns.group)
        self.usd = self._tensor(prices.column / head_days)
        kinds: dict[str, FloatArray] = {"price": model.cost[:amounts] / head_days}
        for family, charge in prices.charged.items():
            kind = KINDS.get(family, "rules")
            kinds[kind] = kinds.get(kind, np.zeros(amounts)) + charge / head_days
        self.by_kind = {kind: self._tensor(value) for kind, value in kinds.items()}

    def _tensor(self, value: FloatArray) -> FloatArray:
        whole = np.full(self.problem.shape, np.nan)
        whole[self._at] = value
        return whole

    def reason(self, run: _Run) -> LotReason:
        """Compare a hay over a run with the best that is not fed then."""
        g, when = run.group, slice(run.first, run.last + 1)
        others = self._others(run)
        start, end = self._dates(run)
        if not len(others):
            return self._beside(run, start, end)
        weight = self._weight(run)
        usd = self.usd[g][:, when]
        money = np.isfinite(usd[others]).all(axis=1) & np.isfinite(usd[run.source]).all()
        if money.any():
            dearer = (usd[others[money]] - usd[run.source]) @ weight
            others = others[money]
        else:
            total = sum(value[g][:, when] for value in self.by_kind.values())
            dearer = (total[others] - total[run.source]) @ weight
        best = int(np.argmin(dearer))
        decides, for_money = self._decides(run, int(others[best]), weight), bool(money.any())
        usd_per_t = 1000.0 * float(dearer[best])
        if usd_per_t < -SAME_USD_PER_T:
            decides = "steady"
        elif usd_per_t <= SAME_USD_PER_T:
            decides = "same"
        return self._told(
            run, int(others[best]), usd_per_t if for_money else None, decides, start, end
        )

    def _others(self, run: _Run) -> IntArray:
        """Return hays that the group could be fed in the whole run and is fed in none of it."""
        g, when = run.group, slice(run.first, run.last + 1)
        allowed = self.problem.sources.allowed[g, :, when].all(axis=1)
        fed = is_some(self.eaten[g, :, when]).any(axis=1)
        return np.flatnonzero(self.is_hay & allowed & ~fed)

    def _weight(self, run: _Run) -> FloatArray:
        """Return the share of the run's hay that is eaten in each of its periods."""
        g, when = run.group, slice(run.first, run.last + 1)
        eaten = self.eaten[g, run.source, when] * self.problem.needs.head_days[g, when]
        return np.asarray(eaten / eaten.sum())

    def _decides(self, run: _Run, other: int, weight: FloatArray) -> str:
        g, when = run.group, slice(run.first, run.last + 1)
        counted = is_some(weight)
        for_it = {}
        for kind, value in self.by_kind.items():
            better = value[g, other, when] - value[g, run.source, when]
            for_it[kind] = float(better[counted] @ weight[counted])
        return max(for_it, key=lambda kind: for_it[kind])

    def _dates(self, run: _Run) -> tuple[date, date]:
        last = self.problem.needs.periods[run.last]
        first = self.problem.needs.periods[run.first]
        return first.start, last.start + timedelta(days=last.days)

    def _beside(self, run: _Run, start: date, end: date) -> LotReason:
        """Compare a hay with the hay it is fed beside, where there is no other to be had."""
        group = self.problem.needs.groups[run.group]
        values = self.problem.sources.values
        hay = values[run.source]
        opening = f"{group.name} are fed {hay.name} {self.display.during_text(start, end)}"
        g, when = run.group, slice(run.first, run.last + 1)
        here = is_some(self.eaten[g, run.source, when]) & self.problem.needs.here[g, when]
        beside = np.where(self.is_hay, (self.eaten[g, :, when] * here).sum(axis=1), 0.0)
        beside[run.source] = 0.0
        partner, decides = int(np.argmax(beside)), "only"
        why = "no other hay may be fed to them in that time"
        if is_some(beside[partner]):
            fed = is_some(self.eaten[g, partner, when])
            weight = np.where(fed, self._weight(run), 0.0)
            decides = self._decides(run, partner, weight)
            names = {"hay": hay.name, "other": values[partner].name, "group": group.name}
            because = _BECAUSE[decides].format(**names)
            opening, why = f"{opening} along with {values[partner].name}", because
        where = group.group_id, hay.source_id, start, end
        return LotReason(*where, "", None, decides, f"{opening}: {why}.")

    def _told(
        self,
        run: _Run,
        other: int,
        usd_per_t: float | None,
        decides: str,
        start: date,
        end: date,
    ) -> LotReason:
        group = self.problem.needs.groups[run.group]
        hay = self.problem.sources.values[run.source]
        next_best = self.problem.sources.values[other]
        names = {"hay": hay.name, "other": next_best.name, "group": group.name}
        why = _WHY[decides].format(**names) if decides in _WHY else ""
        if not why:
            why = (
                f"{_BECAUSE[decides].format(**names)}; next best is {next_best.name}, which would "
            )
            if usd_per_t is None:
                why += "leave more short, or cost more"
            else:
                price = self.display.price_a_ton(usd_per_t / 1000.0)
                why += f"cost at least {price} of dry matter more"
        sentence = f"{group.name} are fed {hay.name} {self.display.during_text(start, end)}: {why}."
        return LotReason(
            group.group_id,
            hay.source_id,
            start,
            end,
            next_best.source_id,
            usd_per_t,
            decides,
            sentence,
        )
