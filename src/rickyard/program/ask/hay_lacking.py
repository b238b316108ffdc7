"""How much hay to buy so that nobody is short of what hay gives, checked by buying it.

It is the hay of the cheapest season that could buy any amount of it at the yard's mean value: not
the least with which dear feed could still be stretched.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import timedelta
from math import ceil
from typing import Final

import numpy as np

from rickyard.farm import Analyte, Basis, Farm, Forage, Lot, Package, Report, Storage, Wrap
from rickyard.program.ask.sensitivity import Inquiry
from rickyard.program.problem import Problem
from rickyard.program.result import NEEDS_OF_HAY, HayToBuy, SeasonProgram
from rickyard.program.solver import nowhere, placed
from rickyard.quantities import KG_PER_SHORT_TON, KG_PER_TONNE, is_some
from rickyard.types import FloatArray, IntArray

#: Hay that is looked for where there is no yard to be like: dry grass hay of middling quality.
#: Common practice, no published source. [% DM; dry matter % as fed]
LACKING_DM_PCT: Final = 88.0
USUAL: Final = {"tdn": 55.0, "cp": 10.0}

#: What it is taken to cost where no hay here has a price. Common practice, no published source.
#: [US dollars a kilogram of dry matter]
USUAL_USD: Final = 0.12

#: What hay is worth here it costs as it is fed. Hay that is bought because there is too little
#: costs so much of that again: the haul, and what sellers ask in a short year. Common practice, no
#: published source. [-]
DEARER: Final = 1.0

#: Less than this is no hay to speak of. [t DM]
LEAST_T: Final = 0.02

#: Whole bales and whole weeks of a hay take more than amounts split at will: so much more is
#: tried, one after the other, until a season planned with it is short of nothing.
MORE: Final = (1.0, 1.05, 1.15)

#: Prices of what is missing may differ by so much and be the same, share and US dollars.
SAME_SHARE: Final = 1e-4
SAME_USD: Final = 1.0

#: What hay leaves short of all that was is nothing when it is no more than this share.
NOTHING_LEFT_SHARE: Final = 0.01

#: Nor may any one need of a group in a week stay short by more than this share of what it was.
HARDLY_SHARE: Final = 0.05

_ID: Final = "hay to buy"
_BALE_KG: Final = 500.0
_DAYS_OLD: Final = 120


@dataclass(frozen=True, slots=True)
class _Lacking:
    """Tonnes of dry matter that help, the price of what is missing without and even so.

    ``helps_each``: whether it helps each group in each week with each need that was short.
    """

    tonnes: float
    helps_each: bool
    before_usd: float
    left_usd: float


def lacking_hay(
    farm: Farm,
    program: SeasonProgram,
    problem_of: Callable[[Farm], Problem],
    short_usd: Callable[[Farm], float],
) -> HayToBuy | None:
    """Return how much hay to buy, or ``None`` where hay is not what is lacking.

    Parameters
    ----------
    farm : Farm
        The farm.
    program : SeasonProgram
        Its program.
    problem_of : callable
        Returns the season of a farm, wishes included.
    short_usd : callable
        Plans a farm with all its rules, and returns what is missing of the needs of hay, at its
        price.

    Returns
    -------
    HayToBuy or None
        As fed, rounded up as it is told.
    """
    if not any(one.nutrient in NEEDS_OF_HAY and one.proven for one in program.shortages):
        return None
    hay = hay_like(farm, program)
    inquiry = Inquiry(problem_of(with_hay(farm, hay, 0.0)))
    found = _lacking(inquiry, len(farm.lots), hay_usd(program))
    if found is None or found.tonnes < LEAST_T:
        return None
    # What a season planned with such hay may still miss, for rounding, is no reason to buy more.
    if found.before_usd <= (1.0 + SAME_SHARE) * found.left_usd + SAME_USD:
        return None
    for more in MORE:
        as_fed = _rounded_up(farm, more * found.tonnes * KG_PER_TONNE * 100.0 / LACKING_DM_PCT)
        short = short_usd(with_hay(farm, hay, as_fed))
        checked = short <= (1.0 + SAME_SHARE) * found.left_usd + SAME_USD
        if checked:
            break
    gives_all = found.left_usd <= NOTHING_LEFT_SHARE * found.before_usd + SAME_USD
    gives_all = gives_all and found.helps_each
    return HayToBuy(as_fed, LACKING_DM_PCT, hay["tdn"], hay["cp"], checked, gives_all)


def short_of_hay(problem: Problem, shortage: dict[str, IntArray]) -> IntArray:
    """Return the variables of what is missing of the needs of hay.

    Parameters
    ----------
    problem : Problem
        The season.
    shortage : dict
        The variables of each need by group and period, -1 where there is none.

    Returns
    -------
    array of int
        The columns of the variables.
    """
    size = problem.needs.head_days.size
    none = nowhere(size)
    every = np.concatenate([shortage.get(name, none) for name in sorted(NEEDS_OF_HAY)])
    return every[placed(every)]


def hay_usd(program: SeasonProgram) -> float:
    """Return what hay is worth on a farm on the mean.

    Parameters
    ----------
    program : SeasonProgram
        Its program.

    Returns
    -------
    float
        The price, or a usual one where no hay has any. [USD/kg DM]
    """
    stood = {lot.lot_id: lot.start_t for lot in program.lots if is_some(lot.start_t)}
    hays = [one for one in program.sources if one.is_hay and is_some(one.usd_per_kg_dm)]
    lots = [one for one in hays if one.source_id in stood]
    if lots:
        whole = sum(stood[one.source_id] for one in lots)
        return sum(stood[one.source_id] * one.usd_per_kg_dm for one in lots) / whole
    return min((one.usd_per_kg_dm for one in hays), default=USUAL_USD)


def _lacking(inquiry: Inquiry, lot: int, usd_per_kg: float) -> _Lacking | None:
    """Return the hay that the cheapest season buys; ``None`` where nothing is missing without."""
    base, extra = inquiry.base.optimum.x, int(inquiry.extra[lot])
    short = short_of_hay(inquiry.problem, inquiry.model.columns.shortage)
    cost = inquiry.cost
    before = float(cost[short] @ base[short])
    if before <= SAME_USD:
        return None
    priced = cost.copy()
    priced[extra] = DEARER * usd_per_kg * KG_PER_TONNE
    with inquiry.at_most(np.array([extra]), np.array([np.inf])), inquiry.costing(priced):
        x: FloatArray = inquiry.ask().optimum.x
    without, even_so = cost[short] * base[short], cost[short] * x[short]
    helps_each = bool(np.all(even_so <= HARDLY_SHARE * without + SAME_USD))
    return _Lacking(float(x[extra]), helps_each, before, float(even_so.sum()))


def _rounded_up(farm: Farm, kg: float) -> float:
    """Return a mass rounded up as it is told: whole tons, tenths of them below ten."""
    ton = KG_PER_SHORT_TON if farm.units == "us" else KG_PER_TONNE
    step = 1.0 if kg >= 10.0 * ton else 0.1
    return step * ceil(kg / ton / step - 1e-9) * ton


def hay_like(farm: Farm, program: SeasonProgram) -> dict[str, float]:
    """Return the mean analysis of a yard.

    Parameters
    ----------
    farm : Farm
        The farm.
    program : SeasonProgram
        Its program.

    Returns
    -------
    dict
        ``tdn`` and ``cp``, those of usual hay where there is no yard. [% DM]
    """
    stood = {lot.lot_id: lot.start_t for lot in program.lots}
    whole = sum(stood.values())
    if not is_some(whole):
        return dict(USUAL)
    lots = [one for one in program.sources if one.source_id in stood]
    return {
        name: round(
            sum(stood[one.source_id] * float(getattr(one, f"{name}_pct")) for one in lots) / whole,
            1,
        )
        for name in USUAL
    }


def with_hay(farm: Farm, hay: dict[str, float], as_fed_kg: float) -> Farm:
    """Return a farm with so much more hay in its yard on the first day, tested and safe.

    Parameters
    ----------
    farm : Farm
        The farm.
    hay : dict
        The analysis of the hay, as `hay_like` gives it. [% DM]
    as_fed_kg : float
        How much of it. [kg]

    Returns
    -------
    Farm
        With one lot more, its last, and a report on it.
    """
    start = farm.season.start
    stores = [lot.storage for lot in farm.lots if lot.package is not Package.LOOSE]
    storage = max(stores, key=stores.count) if stores else Storage.COVERED_ELEVATED
    lot = Lot(
        _ID,
        _ID,
        Forage.COOL_GRASS,
        Package.ROUND,
        storage,
        as_fed_kg / _BALE_KG,
        start - timedelta(days=_DAYS_OLD),
        start,
        wrap=Wrap.NET,
        bale_weight_kg=_BALE_KG,
        dm_pct=LACKING_DM_PCT,
    )
    values = [Analyte("dm", LACKING_DM_PCT, "pct", Basis.AS_RECEIVED)]
    # Energy and protein are told to whoever buys it: fiber and minerals are those of the book.
    values += [Analyte(name, hay[name], "pct", Basis.DRY_MATTER) for name in USUAL]
    values.append(Analyte("nitrate_no3n", 0.0, "ppm", Basis.DRY_MATTER))
    report = Report(_ID, _ID, tuple(values), start)
    return replace(farm, lots=(*farm.lots, lot), reports=(*farm.reports, report))
