"""The season as plain arrays: what may be eaten, by whom, when, and what it must supply.

Nothing here knows a matrix or a solver. Axes are g (groups), i (sources: lots first, then
feeds) and t (periods).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from rickyard.farm import Assumption, Farm
from rickyard.nutrients import FLOORS, NUTRIENTS, SUPPLIES, Supply
from rickyard.program.inputs import (
    FillTable,
    NeedTable,
    SourceTable,
    needs_of,
    open_before,
    sources_of,
    water_no3n_mg,
)
from rickyard.program.problem.assurance import Assurance, assurance_of
from rickyard.program.problem.diet_ceilings import Ceiling, ceilings_of
from rickyard.program.problem.no_fall import Descent, Hold, descents_of, holds_of
from rickyard.program.problem.step_schedule import (
    Begin,
    Beside,
    Step,
    besides_of,
    mixes_of,
    shared_limits,
    steps_of,
)
from rickyard.program.problem.transition_schedule import change_limits
from rickyard.safety import places_of
from rickyard.types import BoolArray, FloatArray

#: A kilogram of dry matter that a person wishes and does not get: above any shortage that
#: feeding it could cause, so that a wish is given up only where it cannot be kept. [USD]
UNKEPT_USD: Final = 400.0

#: Prices of one missing unit per head and day, by nutrient. [USD]
SHORTAGE_USD: Final[dict[str, float]] = {
    one.key: one.shortage_usd for one in NUTRIENTS.values() if one.shortage_usd is not None
} | {"unkept": UNKEPT_USD}

#: The shortages whose price is higher for stock that goes short later.
BY_ORDER: Final = frozenset(one.key for one in NUTRIENTS.values() if one.by_order)

#: Hay to be left at the end is counted at this much dry matter a day, percent of full live weight:
#: what a cow eats. Common practice, no published source.
RESERVE_PCT_BW: Final = 2.5

#: The price above which shortages cost more, so that a dear feed is still bought first.
ORDINARY_USD_PER_KG_DM: Final = 1.0

#: A need missed by less than this share counts as met.
MET_WITHIN: Final = 1e-6

#: Units of the constrained nutrients, per head and day.
UNITS: Final = {one.key: one.unit for one in NUTRIENTS.values()}


@dataclass(frozen=True, slots=True)
class Problem:
    """A season to be solved.

    ``per_kg`` holds, per nutrient, what one kilogram of dry matter of each source supplies, in
    the units of ``UNITS``.
    ``use_usd`` is the cost of withdrawing one kilogram of dry matter of a source in a period,
    shape (i, t): for a lot its value, counted at what it would still be worth at the end.
    ``fixed_usd`` is the part of the cost that no decision changes. ``keep`` is the share of a
    lot's opening dry matter still there in each period if none were fed, shape (lots, t).
    ``must`` marks what a person wants in use, ``wished_kg_dm`` how much of it a head is to get at
    least as far as that can be done (0 where nothing is wished), both (g, i, t); ``open_before``
    what a group was fed in the days before the first, (g, i).
    ``load_usd`` is what a load costs beyond what its feed would keep of its price if none of it
    were fed, (i,), and ``load_price_usd`` what is paid for it; ``sold_usd`` is what selling a
    kilogram of dry matter adds to the cost, (lots,), mostly negative. NaN where there is none.
    ``reserve_kg_dm`` is what should be left of all lots on the last day, ``change_share`` how much
    of a period's hay may be new, (g, t), NaN where that is free.
    ``water_no3n_mg`` is the nitrate-nitrogen that a head drinks, (g, t), nothing where it is not
    known. ``steps``, ``begins``, ``besides``, ``holds`` and ``descents`` are the rules of safety
    that tie a period to the next and one feed to another.
    ``assurance`` says how surely needs are to be met, ``None`` where means are counted on; a need
    missed by less than the share ``met_within`` of it counts as met. ``fill`` says who has free
    access and what fills them, ``None`` where appetite is a ceiling for all. ``harm`` is what a
    shortage of energy or protein weighs by group and period, (g, t), 1 for whom it harms least;
    ``spread`` counts what is missing more the deeper it goes.
    """

    needs: NeedTable
    sources: SourceTable
    per_kg: dict[str, FloatArray]
    use_usd: FloatArray
    fixed_usd: float
    keep: FloatArray
    shortage_usd: dict[str, float]
    must: BoolArray
    wished_kg_dm: FloatArray
    open_before: BoolArray
    ceilings: tuple[Ceiling, ...]
    load_usd: FloatArray
    load_price_usd: FloatArray
    sold_usd: FloatArray
    cash_limit_usd: float | None
    reserve_kg_dm: float
    change_share: FloatArray
    assumptions: tuple[Assumption, ...]
    assurance: Assurance | None = None
    met_within: float = MET_WITHIN
    steps: tuple[Step, ...] = ()
    begins: tuple[Begin, ...] = ()
    besides: tuple[Beside, ...] = ()
    holds: tuple[Hold, ...] = ()
    descents: tuple[Descent, ...] = ()
    water_no3n_mg: FloatArray | float = 0.0
    fill: FillTable | None = None
    harm: FloatArray | float = 1.0
    spread: bool = False

    @property
    def shape(self) -> tuple[int, int, int]:
        """Return the numbers of groups, sources and periods."""
        return len(self.needs.groups), len(self.sources.values), len(self.needs.periods)


def problem_of(farm: Farm) -> Problem:
    """Return the season problem of a farm.

    Parameters
    ----------
    farm : Farm
        A farm as the folder reader gives it.

    Returns
    -------
    Problem
        Plain arrays, ready for the model.
    """
    needs = needs_of(farm)
    sources = sources_of(farm, needs)
    keep = np.asarray(np.cumprod(sources.kept, axis=1), dtype=np.float64)
    end_worth = farm.season.carry_over_value_pct / 100.0
    use_usd, fixed_usd = _use_costs(sources, keep, end_worth)
    ceilings, assumptions = ceilings_of(farm, needs, sources)
    steps, begins = steps_of(farm, needs, sources)
    water, _ = water_no3n_mg(farm, needs)
    price = np.array([value.usd_per_kg_dm for value in sources.values])
    load_price = price * sources.load_kg_dm
    own_value = price[: sources.lot_count]
    dearest = max((value.usd_per_kg_dm for value in sources.values), default=0.0)
    scale = max(1.0, dearest / ORDINARY_USD_PER_KG_DM)
    shape = (len(needs.groups), len(sources.values), len(needs.periods))
    per_kg = _per_kg(sources)
    return Problem(
        needs=replace(needs, floors=_floors_in_reach(needs, sources, per_kg)),
        sources=sources,
        per_kg=per_kg,
        use_usd=use_usd,
        fixed_usd=fixed_usd,
        keep=keep,
        must=np.zeros(shape, dtype=bool),
        wished_kg_dm=np.zeros(shape),
        open_before=open_before(farm, sources),
        shortage_usd={name: missing * scale for name, missing in SHORTAGE_USD.items()},
        ceilings=ceilings,
        load_usd=load_price * (1.0 - feed_left_share(end_worth)),
        load_price_usd=load_price,
        sold_usd=end_worth * own_value * _kept_to_the_end(keep) - sources.sale_usd_per_kg_dm,
        cash_limit_usd=farm.season.cash_limit_usd,
        reserve_kg_dm=_reserve_kg_dm(farm, needs),
        change_share=change_limits(farm, needs.days),
        assumptions=assumptions,
        assurance=assurance_of(farm, sources.values),
        steps=steps,
        begins=begins,
        besides=(
            *besides_of(farm, sources),
            *shared_limits(needs, sources),
            *mixes_of(needs, sources),
        ),
        holds=holds_of(farm, needs, steps),
        descents=descents_of(needs, sources),
        water_no3n_mg=0.0 if water is None else water,
        harm=_harm(farm, needs),
    )


def _harm(farm: Farm, needs: NeedTable) -> FloatArray:
    """Return what a shortage weighs, by group and period, from the table of the order."""
    starts, lengths = [one.start for one in needs.periods], [one.days for one in needs.periods]
    weights = [
        [one.weight for one in places_of(farm, group, starts, lengths)] for group in needs.groups
    ]
    return np.array(weights, dtype=np.float64).reshape(len(needs.groups), len(starts))


def _floors_in_reach(
    needs: NeedTable, sources: SourceTable, per_kg: dict[str, FloatArray]
) -> dict[str, FloatArray]:
    """Return the shares asked of a diet, but for those that nothing a group may eat falls below."""
    found = {}
    for one in FLOORS:
        floor = needs.floors[one.key]
        held, among = per_kg[one.floor_of], per_kg[one.floor_among]
        poor = sources.allowed & (held[:, None] < floor[:, None, :] * among[:, None])
        found[one.key] = np.where(poor.any(axis=1), floor, np.nan)
    return found


def feed_left_share(end_worth: float) -> float:
    """Return the share of its price that bought feed keeps when it is left at the end.

    Hay in the yard may gain value; feed is never bought to be kept for a gain.

    Parameters
    ----------
    end_worth : float
        What hay left at the end is worth, as a share of its value now. [-]

    Returns
    -------
    float
        At most 1. [-]

    Examples
    --------
    >>> feed_left_share(0.8), feed_left_share(1.2)
    (0.8, 1.0)
    """
    return min(1.0, end_worth)


def _kept_to_the_end(keep: FloatArray) -> FloatArray:
    """Return what storage leaves of each lot's opening dry matter on the last day, (lots,)."""
    return keep[:, -1] if keep.shape[1] else np.ones(len(keep))


def _reserve_kg_dm(farm: Farm, needs: NeedTable) -> float:
    days = farm.season.reserve_days
    if not (days and needs.head_days.shape[1]):
        return 0.0
    last = needs.here[:, -1]
    weight = needs.head[last, -1] * needs.full_weight_kg[last, -1]
    return float(days * RESERVE_PCT_BW / 100.0 * weight.sum())


def _use_costs(
    sources: SourceTable, keep: FloatArray, end_worth: float
) -> tuple[FloatArray, float]:
    """Price withdrawals so that the total is value used, lost and discounted at the end.

    The stock obeys ``S_t = S_(t-1) kept_t - w_t``, so what is left at the end is
    ``K_T (S_0 - v - sum_t w_t / K_t)`` with ``K_t`` the product of ``kept`` up to t and ``v`` what
    is sold on the first day. The cost of a lot is its opening value less ``end_worth`` times the
    value of what is left. A load is paid when it comes, and what of it is not fed keeps
    ``end_worth`` of its price, so that feeding it costs that share.
    """
    price = np.array([value.usd_per_kg_dm for value in sources.values])
    periods = keep.shape[1]
    use = np.repeat(price[:, None], periods, axis=1)
    use[np.isfinite(sources.load_kg_dm)] *= feed_left_share(end_worth)
    lots = sources.lot_count
    if not lots:
        return use, 0.0
    use[:lots] = end_worth * price[:lots, None] * keep[:, -1:] / keep
    opening_value = price[:lots] * sources.start_kg_dm
    fixed = float(np.sum(opening_value * (1.0 - end_worth * keep[:, -1])))
    return use, fixed


def _per_kg(sources: SourceTable) -> dict[str, FloatArray]:
    """Return what is counted of each supply; what nobody knows is not counted on."""
    forage = np.array([float(value.is_forage) for value in sources.values])

    def column(one: Supply) -> FloatArray:
        amount = np.ones(len(sources.values))
        if one.field:
            known = [getattr(value, one.field) for value in sources.values]
            amount = np.array([(value or 0.0) * one.scale for value in known])
        return amount * forage if one.of_forage else amount

    return {name: column(one) for name, one in SUPPLIES.items()}
