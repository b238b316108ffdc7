"""Several winters as one linear program: what is decided in autumn is the same in all of them.

Each winter is a season problem of its own. The amounts fed before the winter is known, the hay
sold and the feed bought in autumn are one set of variables for all; everything later is each
winter's own, and its cost counts by its chance. Feed bought in autumn is stock: feeding it costs
what it would still be worth at the end, and the rest of its price is paid whether it is fed or
not. A later purchase is a feed of its own, a copy at another price.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from rickyard.program.model import (
    KG_PER_ROW_UNIT,
    USD_PER_ROW_UNIT,
    Model,
    Prices,
    Tangents,
    build_model,
    prices_of,
)
from rickyard.program.problem import Problem
from rickyard.program.solver import (
    MOVING_ROUNDS,
    NOWHERE,
    Optimum,
    Session,
    SparseRows,
    is_placed,
    nowhere,
    placed,
    settle,
)
from rickyard.quantities import is_some
from rickyard.types import BoolArray, FloatArray, IntArray

#: Buying in autumn is counted dearer by this share, so that nothing is bought then that could as
#: well be bought later.
LEAST_HOLDING: Final = 1e-5

#: Shared amounts may differ by this much when each winter is solved again, kg DM a head and day.
SHARED_KG: Final = 1e-7

#: Less than this of a lot is not sold, kg DM.
DUST_KG: Final = 1e-3

#: A load that is needed for less than this share of itself is rounding.
LOAD_DUST: Final = 1e-6


@dataclass(frozen=True, slots=True)
class Scenario:
    """A winter: its problem and its chance, a fraction."""

    problem: Problem
    chance: float


@dataclass(frozen=True, slots=True)
class StageSplit:
    """What is decided when.

    ``early`` counts the periods fed before the winter is known. ``autumn`` holds the sources that
    can be bought in autumn and kept, ``late`` for each of them its copy that can be bought later,
    -1 where there is none. ``end_worth`` is the share of its price that feed keeps to the end.
    ``cash_limit_usd`` is what may be spent on feed less what hay sold brings, in each winter.
    """

    early: int
    autumn: IntArray
    late: IntArray
    end_worth: float
    cash_limit_usd: float | None = None


@dataclass(frozen=True, slots=True)
class FirstStage:
    """What is decided before the winter is known, the same in every winter.

    ``eaten`` has shape (groups, sources, early periods), kg DM per head and day; ``sold_kg`` is
    by lot, ``bought_kg_dm`` by feed of ``Split.autumn`` and ``spent_usd`` what that is paid.
    ``expected_usd`` is the expected cost, shortages at their prices, and ``bound`` a proven lower
    limit of it, but for a share of ``LEAST_HOLDING`` of what is bought.
    """

    eaten: FloatArray
    sold_kg: FloatArray
    bought_kg_dm: FloatArray
    spent_usd: float
    expected_usd: float
    bound: float


@dataclass(frozen=True, slots=True)
class SecondStage:
    """The best that can be done in one winter after the decisions of autumn.

    ``cash_short_usd`` is what is spent beyond the cash limit, ``cash_penalty_usd`` what that was
    priced at.
    """

    model: Model
    optimum: Optimum
    prices: Prices
    cash_short_usd: float
    cash_penalty_usd: float


class _Part:
    """One winter within the program of all: a session whose columns stand elsewhere."""

    def __init__(self, session: Session, column: IntArray) -> None:
        self._session, self._column = session, column

    def add_rows(self, rows: SparseRows) -> int:
        return self._session.add_rows(replace(rows, column=self._column[rows.column]))

    def change(self, row: IntArray, column: IntArray, value: FloatArray) -> None:
        self._session.change(row, self._column[column], value)


def two_stages(
    scenarios: Sequence[Scenario], split: StageSplit, say: Callable[[str], None]
) -> FirstStage:
    """Find what to do in autumn so that the expected cost of all winters is least.

    Raises ``SolveError`` if the solver fails, or the curved rows do not settle.
    """
    models = [build_model(_as_stock(one.problem, split)) for one in scenarios]
    places, count = _places(models, split)
    cost, lower, upper = np.zeros(count), np.full(count, -np.inf), np.full(count, np.inf)
    for model, place, one in zip(models, places, scenarios, strict=True):
        np.add.at(cost, place, one.chance * model.cost)
        np.maximum.at(lower, place, model.lower)
        np.minimum.at(upper, place, model.upper)
    _hold_strangers(models, places, split, upper)
    lower = np.minimum(lower, upper)
    bought = np.arange(count, count + len(split.autumn))
    price, in_loads = _prices(models[0].problem, split)
    holding = (1.0 - split.end_worth + LEAST_HOLDING) * price * KG_PER_ROW_UNIT
    most = np.where(in_loads, 0.0, np.inf)
    session = Session(
        np.concatenate([cost, np.where(in_loads, 0.0, holding)]),
        np.concatenate([lower, np.zeros(len(bought))]),
        np.concatenate([upper, most]),
        replace(models[0].rows, column=places[0][models[0].rows.column]),
    )
    parts = [_Part(session, place) for place in places]
    for model, part in zip(models[1:], parts[1:], strict=True):
        part.add_rows(model.rows)
    for model, place in zip(models, places, strict=True):
        for rows in (*_stock_rows(model, split, place, bought), *_pair_rows(model, split, place)):
            session.add_rows(rows)
    if split.cash_limit_usd is not None:
        paid = (bought, np.where(in_loads, 0.0, price))
        for model, place, one in zip(models, places, scenarios, strict=True):
            _hold_cash(session, model, split, place, one.chance, split.cash_limit_usd, [paid])
    tangents = [Tangents(model, part) for model, part in zip(models, parts, strict=True)]
    optimum = _settled(session, list(zip(tangents, places, strict=True)), say)
    fixed = sum(one.chance * one.problem.fixed_usd for one in scenarios)
    return _autumn(models[0], split, optimum, (places[0], bought), fixed)


def later(
    problem: Problem, split: StageSplit, autumn: FirstStage, say: Callable[[str], None]
) -> SecondStage:
    """Solve one winter after the decisions of autumn.

    Raises ``SolveError`` if what was decided cannot be kept to in this winter, or the solver fails.
    """
    model = build_model(problem)
    columns = model.columns
    lower, upper = model.lower.copy(), model.upper.copy()
    at = np.flatnonzero(columns.period < split.early)
    fed = autumn.eaten[columns.group[at], columns.source[at], columns.period[at]]
    fed[fed <= SHARED_KG] = 0.0
    # The room for rounding must not eat into a mineral that is always on offer.
    least = np.where(is_some(fed), np.maximum(fed - SHARED_KG, lower[at]), 0.0)
    lower[at] = np.minimum(least, upper[at])
    upper[at] = np.maximum(np.minimum(upper[at], fed + SHARED_KG), lower[at])
    upper[at[fed == 0.0]] = 0.0
    sold = np.flatnonzero(placed(columns.sold))
    lower[columns.sold[sold]] = autumn.sold_kg[sold] / KG_PER_ROW_UNIT
    upper[columns.sold[sold]] = lower[columns.sold[sold]]
    session = Session(model.cost, lower, upper, model.rows)
    own = np.arange(columns.count)
    for rows in _pair_rows(model, split, own):
        session.add_rows(rows)
    over = None
    if split.cash_limit_usd is not None:
        left = split.cash_limit_usd - autumn.spent_usd
        over = _hold_cash(session, model, split, own, 1.0, left)
    tangents = Tangents(model, session)
    # What is fed in autumn is settled, so its appetite must be written at its own diet at once.
    start = np.zeros(columns.count)
    start[at] = fed
    tangents.improve(start, move=True)
    optimum = _settled(session, [(tangents, own)], say)
    prices = prices_of(model, session, tangents, optimum)
    short = 0.0 if over is None else max(0.0, float(optimum.x[over])) * USD_PER_ROW_UNIT
    count = columns.count
    optimum = replace(optimum, x=optimum.x[:count], reduced_cost=optimum.reduced_cost[:count])
    return SecondStage(model, optimum, prices, short, short * problem.shortage_usd["cash"])


def _settled(
    session: Session, parts: list[tuple[Tangents, IntArray]], say: Callable[[str], None]
) -> Optimum:
    def improve(x: FloatArray, *, move: bool) -> int:
        return sum(one.improve(x[place], move=move) for one, place in parts)

    return settle(session.minimise, improve, moving=range(2, MOVING_ROUNDS), say=say)[0]


def _as_stock(problem: Problem, split: StageSplit) -> Problem:
    """Count feed bought in autumn by weight at what it is worth at the end; loads are already."""
    use = problem.use_usd.copy()
    by_weight = split.autumn[np.isnan(problem.sources.load_kg_dm[split.autumn])]
    use[by_weight] *= split.end_worth
    return replace(problem, use_usd=use)


def _prices(problem: Problem, split: StageSplit) -> tuple[FloatArray, BoolArray]:
    """Return the price of each feed that can be bought in autumn, and whether it comes in loads."""
    price = np.array([problem.sources.values[i].usd_per_kg_dm for i in split.autumn.tolist()])
    return price.astype(np.float64), np.isfinite(problem.sources.load_kg_dm[split.autumn])


def _shared(model: Model, split: StageSplit) -> dict[tuple[str, int, int, int], int]:
    """Return the variables of autumn by what they are, and where they stand in a model."""
    columns = model.columns
    found: dict[tuple[str, int, int, int], int] = {}
    for at in np.flatnonzero(columns.period < split.early).tolist():
        key = ("fed", int(columns.group[at]), int(columns.source[at]), int(columns.period[at]))
        found[key] = at
    for i in np.flatnonzero(placed(columns.sold)).tolist():
        found["sold", 0, i, 0] = int(columns.sold[i])
    for i in split.autumn.tolist():
        if is_placed(columns.loads[i]):
            found["loads", 0, i, 0] = int(columns.loads[i])
    return found


def _places(models: Sequence[Model], split: StageSplit) -> tuple[list[IntArray], int]:
    """Return where each model's variables stand in the program of all, and how many there are."""
    first = _shared(models[0], split)
    count = models[0].columns.count
    places = [np.arange(count)]
    for model in models[1:]:
        place = nowhere(model.columns.count)
        for key, at in _shared(model, split).items():
            if key in first:
                place[at] = first[key]
        own = np.flatnonzero(~placed(place))
        place[own] = np.arange(count, count + len(own))
        count += len(own)
        places.append(place)
    return places, count


def _hold_strangers(
    models: Sequence[Model], places: list[IntArray], split: StageSplit, upper: FloatArray
) -> None:
    """Feed nothing in autumn that one of the winters does not allow then."""
    times = np.bincount(np.concatenate(places), minlength=len(upper))
    for model, place in zip(models, places, strict=True):
        own = place[: model.columns.amounts]
        lone = (model.columns.period < split.early) & (times[own] < len(models))
        upper[own[lone]] = 0.0


def _drawn_t(model: Model, source: int) -> tuple[IntArray, FloatArray]:
    """Return the variables of a source and the tonnes of it that one unit of each takes."""
    at = np.flatnonzero(model.columns.source == source)
    return at, model.columns.offered_kg(model.problem)[at] / KG_PER_ROW_UNIT


def _stock_rows(
    model: Model, split: StageSplit, place: IntArray, bought: IntArray
) -> list[SparseRows]:
    """Feed no more than was bought in autumn, and buy no more than can be bought in all."""
    found = []
    sources = model.problem.sources
    for number, (i, copy) in enumerate(
        zip(split.autumn.tolist(), split.late.tolist(), strict=True)
    ):
        at, drawn = _drawn_t(model, i)
        loads = int(model.columns.loads[i])
        stock = [(place[at], drawn), (bought[[number]], np.array([-1.0]))]
        if not is_placed(loads):
            found.append(_row(stock, 0.0))
        most = float(sources.most_buy_kg_dm[i - sources.lot_count]) / KG_PER_ROW_UNIT
        if not is_placed(copy) or not np.isfinite(most):
            continue
        late_at, late_drawn = _drawn_t(model, copy)
        have = [(bought[[number]], np.ones(1))]
        if is_placed(loads):
            load_t = sources.load_kg_dm[i] / KG_PER_ROW_UNIT
            have = [(place[[loads]], np.array([load_t]))]
        found.append(_row([*have, (place[late_at], late_drawn)], most))
    return found


def _pair_rows(model: Model, split: StageSplit, place: IntArray) -> list[SparseRows]:
    """Hold a feed and its later copy together to what a head may eat of the feed."""
    found = []
    columns, sources = model.columns, model.problem.sources
    periods = model.problem.shape[2]
    at = {
        (int(columns.group[c]), int(columns.source[c]), int(columns.period[c])): c
        for c in np.flatnonzero(np.isin(columns.source, [*split.autumn, *split.late])).tolist()
    }
    twins = {
        int(i): int(copy)
        for i, copy in zip(split.autumn, split.late, strict=True)
        if is_placed(copy)
    }
    for (g, i, t), column in at.items():
        twin = at.get((g, twins.get(i, NOWHERE), t))
        if twin is None:
            continue
        both = place[[column, twin]]
        most = float(sources.most_kg_dm[g, i, t])
        if np.isfinite(most):
            found.append(_row([(both, np.ones(2))], most))
        share = float(sources.share_limit[g, i, t])
        total = int(columns.total[g * periods + t])
        if share < 1.0 and is_placed(total):
            found.append(_row([(both, np.ones(2)), (place[[total]], np.array([-share]))], 0.0))
    return found


def _hold_cash(
    session: Session,
    model: Model,
    split: StageSplit,
    place: IntArray,
    chance: float,
    limit_usd: float,
    bought: Sequence[tuple[IntArray, FloatArray]] = (),
) -> int:
    """Keep what is paid within a limit, and return the variable that says by how much it is not.

    Feed of ``Split.autumn`` that is bought by weight is paid for in ``bought``, or was already.
    """
    columns, sources = model.columns, model.problem.sources
    paid = list(bought)
    for i in range(sources.lot_count, len(sources.values)):
        if is_placed(columns.loads[i]):
            load = np.array([model.problem.load_price_usd[i] / USD_PER_ROW_UNIT])
            paid.append((place[[int(columns.loads[i])]], load))
        elif i not in split.autumn:
            at, drawn = _drawn_t(model, i)
            per_t = sources.values[i].usd_per_kg_dm * KG_PER_ROW_UNIT / USD_PER_ROW_UNIT
            paid.append((place[at], drawn * per_t))
    sold = columns.sold[placed(columns.sold)]
    brings = sources.sale_usd_per_kg_dm[placed(columns.sold)] * KG_PER_ROW_UNIT / USD_PER_ROW_UNIT
    price = chance * model.problem.shortage_usd["cash"] * USD_PER_ROW_UNIT
    over = session.add_columns(np.array([price]), np.zeros(1), np.array([np.inf]))
    parts = [*paid, (place[sold], -brings), (over, np.array([-1.0]))]
    session.add_rows(_row(parts, limit_usd / USD_PER_ROW_UNIT))
    return int(over[0])


def _row(parts: Sequence[tuple[IntArray, FloatArray]], most: float) -> SparseRows:
    return SparseRows.of(-np.inf, most, *((0, column, value) for column, value in parts))


def _autumn(
    model: Model,
    split: StageSplit,
    optimum: Optimum,
    where: tuple[IntArray, IntArray],
    fixed_usd: float,
) -> FirstStage:
    place, bought_at = where
    x = optimum.x[place]
    columns, sources = model.columns, model.problem.sources
    bought = optimum.x[bought_at] * KG_PER_ROW_UNIT
    price, stored = _prices(model.problem, split)[0], bought.copy()
    for number, i in enumerate(split.autumn.tolist()):
        if is_placed(columns.loads[i]):
            loads = np.ceil(x[columns.loads[i]] - LOAD_DUST)
            bought[number] = max(0.0, loads) * sources.load_kg_dm[i]
    sold = np.zeros(sources.lot_count)
    for_sale = placed(columns.sold)
    sold[for_sale] = np.maximum(x[columns.sold[for_sale]], 0.0) * KG_PER_ROW_UNIT
    sold[sold < DUST_KG] = 0.0
    return FirstStage(
        eaten=np.maximum(model.eaten(x)[:, :, : split.early], 0.0),
        sold_kg=sold,
        bought_kg_dm=np.maximum(bought, 0.0),
        spent_usd=float(price @ np.maximum(bought, 0.0)),
        expected_usd=optimum.objective + fixed_usd,
        bound=optimum.bound + fixed_usd - LEAST_HOLDING * float(price @ stored),
    )
