"""Whether a test is worth its price, at the season program's own marginal values."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from rickyard.farm import Farm, Lot
from rickyard.forage.energy import nem_from_tdn
from rickyard.forage.plausibility import LotProfile, lot_profile
from rickyard.hay.precision import Spread, composite_variance, core_sd, spread_of, value_of_test
from rickyard.hay.sampling import (
    Protocol,
    SamplePlan,
    cheapest_order,
    lot_spread,
    protocols_for,
    purpose_of,
    wanted_tests,
)
from rickyard.program.problem import UNTESTED_CP_FRAC, UNTESTED_TDN_FRAC
from rickyard.program.result import FeedingRow, LotTestWorth, SeasonProgram
from rickyard.quantities import is_some

#: What too little costs for each dollar of too much: common practice, no published
#: source.
UNDER_PER_OVER: Final = 4.0

#: A basic forage test where labs.csv names none (list price of the University of Georgia).
COMMON_FEE_USD: Final = 15.0
COMMON_FEE_SOURCE: Final = "a basic forage test is listed at $15 (University of Georgia)"

#: A lot with any of these was tested.
COMPOSITION: Final = ("cp", "adf", "ndf", "tdn")

_CP_LIMITS: Final = ("cp", "cp_floor")
_ENERGY_LIMITS: Final = ("nem", "gain_energy")
_TDN_LIMITS: Final = ("tdn",)


@dataclass(frozen=True, slots=True)
class WorthOfTest:
    """What testing a lot saves over the season, against what it costs. [$]."""

    lot_id: str
    protein_usd: float
    energy_usd: float
    price_usd: float
    sentence: str

    @property
    def saved_usd(self) -> float:
        """Return what knowing protein and energy saves together."""
        return self.protein_usd + self.energy_usd


@dataclass(frozen=True, slots=True)
class Errors:
    """Standard errors of a test. [% DM]."""

    protein: float
    energy: float


def worths_of_tests(
    farm: Farm, program: SeasonProgram, plans: Sequence[SamplePlan]
) -> tuple[WorthOfTest, ...]:
    """Say for every lot that is to be sampled whether its test is worth its price.

    A point of protein or energy is priced at what the season program would pay for it in the
    weeks and groups that the lot is fed to; where neither decides a ration, a point is worth
    nothing. Too little is taken to cost four times as much as too much. A test for a hazard is
    never a matter of money.

    Parameters
    ----------
    farm : Farm
        The farm.
    program : SeasonProgram
        Its season program.
    plans : sequence of SamplePlan
        The sampling pages; those whose test still holds are passed over.

    Returns
    -------
    tuple of WorthOfTest
        One for each lot to sample, in the order of the pages.

    References
    ----------
    .. [1] Derived, see `rickyard.hay.precision.testing.value_of_test`.
    """
    to_sample = [plan for plan in plans if plan.dates.status != "tested"]
    # Where labs.csv names no laboratory a page is without its fee: here it counts, as in the plan.
    lots = [farm.lot(plan.lot_id) for plan in to_sample]
    return tuple(_worth(farm, program, lot, _way(farm, lot)[0]) for lot in lots)


def worths_of_untested(farm: Farm, program: SeasonProgram) -> tuple[LotTestWorth, ...]:
    """Say for every lot without any test of composition what one would save the program."""
    start = {one.lot_id: one.start_t for one in program.lots}
    found = []
    for lot in farm.lots:
        reports = farm.reports_of(lot.lot_id)
        tested = any(one.get(name) for one in reports for name in COMPOSITION)
        if not is_some(start[lot.lot_id]) or tested:
            continue
        way, source = _way(farm, lot)
        worth = _worth(farm, program, lot, way)
        sentence = f"{lot.name} is untested. {worth.sentence}"
        found.append(LotTestWorth(lot.lot_id, worth.saved_usd, way.price_usd, source, sentence))
    return tuple(found)


def _way(farm: Farm, lot: Lot) -> tuple[Protocol, str]:
    """Return how a lot would be sampled, and where the fee comes from."""
    wanted = wanted_tests(lot, {purpose_of(group.animal_class.value) for group in farm.groups})
    order = cheapest_order(farm.labs, wanted)
    fee, source = COMMON_FEE_USD, COMMON_FEE_SOURCE
    if order is not None:
        fee, source = order.price_usd, f"labs.csv, {order.lab}"
    ways = protocols_for(
        max(1, int(lot.bales)),
        lot_spread(lot, farm.reports),
        fee_usd=fee,
        patchy=any(one.test == "nitrate" for one in wanted),
    )
    return ways[0], f"{source}; postage and the time of coring are in the price"


def errors_of_test(farm: Farm, lot: Lot) -> Errors:
    """Return the standard errors with which a test of a lot would tell protein and energy.

    Parameters
    ----------
    farm : Farm
        The farm.
    lot : Lot
        The lot.

    Returns
    -------
    Errors
        Standard errors of protein and TDN. [points of DM]
    """
    way, _ = _way(farm, lot)
    return Errors(
        _error(way, lot_spread(lot, farm.reports)),
        _error(way, spread_of("tdn")),
    )


def _worth(farm: Farm, program: SeasonProgram, lot: Lot, way: Protocol) -> WorthOfTest:
    profile = lot_profile(lot, farm.reports_of(lot.lot_id))
    rows = [row for row in program.feeding if row.source_id == lot.lot_id]
    cp_point = _per_point(program, rows, _CP_LIMITS) * 0.01
    energy_point = _per_point(program, rows, _ENERGY_LIMITS) * _nem_per_tdn_point(profile)
    energy_point += _per_point(program, rows, _TDN_LIMITS) * 0.01
    protein = _saved(
        way, profile.cp_pct * UNTESTED_CP_FRAC, lot_spread(lot, farm.reports), cp_point
    )
    energy = _saved(way, profile.tdn_pct * UNTESTED_TDN_FRAC, spread_of("tdn"), energy_point)
    price = way.price_usd
    return WorthOfTest(
        lot.lot_id,
        protein,
        energy,
        price,
        worth_sentence(protein + energy, price, fed=bool(rows), short=_is_short(program, rows)),
    )


def _per_point(
    program: SeasonProgram, rows: Sequence[FeedingRow], nutrients: Sequence[str]
) -> float:
    """Return dollars for one unit of a nutrient more in each kilogram of the lot that is eaten."""
    head = {(one.group_id, one.period): one.head for one in program.groups}
    total = 0.0
    for row in rows:
        price = sum(
            limit.usd_per_unit
            for limit in program.limits
            if limit.nutrient in nutrients
            and limit.group_id == row.group_id
            and limit.start <= row.start < limit.end
        )
        eaten = row.eaten_kg_dm_per_head_day * row.days * head[(row.group_id, row.period)]
        total += price * eaten
    return total


def _nem_per_tdn_point(profile: LotProfile) -> float:
    high, low = (float(nem_from_tdn(profile.tdn_pct + step)) for step in (0.5, -0.5))
    return high - low


def _saved(way: Protocol, prior_sd: float, spread: Spread, usd_per_point: float) -> float:
    if not is_some(usd_per_point):
        return 0.0
    error = _error(way, spread)
    return value_of_test(prior_sd, error, usd_per_point, UNDER_PER_OVER * usd_per_point).saved


def _error(way: Protocol, spread: Spread) -> float:
    core = core_sd(spread.observed, spread.repeat)
    variance = composite_variance(core, 0.0, spread.one_lab, way.bales, lab_bias_sd=spread.bias)
    return math.sqrt(variance)


def _is_short(program: SeasonProgram, rows: Sequence[FeedingRow]) -> bool:
    """Say whether cash is short, or protein or energy where the lot is fed: no price holds then."""
    deciding = (*_CP_LIMITS, *_ENERGY_LIMITS, *_TDN_LIMITS)
    return any(
        one.nutrient == "cash"
        or (
            one.nutrient in deciding
            and any(
                one.group_id == row.group_id and one.start <= row.start < one.end for row in rows
            )
        )
        for one in program.shortages
    )


def worth_sentence(saved: float, price: float, *, fed: bool, short: bool = False) -> str:
    """Say whether a test is worth its price.

    Parameters
    ----------
    saved, price : float
        What knowing saves, and what the test costs. [US dollars]
    fed : bool
        Whether the program feeds the lot.
    short : bool
        Whether needs stay unmet where it is fed, or cash runs out: nothing that is saved can be
        told in dollars then.

    Returns
    -------
    str
        One sentence.

    Examples
    --------
    >>> worth_sentence(0.0, 39.0, fed=True, short=True)
    'What its test ($39) saves cannot be priced while needs stay unmet; knowing it is \
worth more then, not less. Test it.'
    """
    if short:
        return (
            f"What its test (${price:.0f}) saves cannot be priced while needs stay unmet; "
            "knowing it is worth more then, not less. Test it."
        )
    if not fed:
        return (
            f"The season program does not feed this lot, so its test (${price:.0f}) saves no feed; "
            "test it before a sale or when the program changes."
        )
    if not is_some(saved):
        return (
            f"Neither protein nor energy of this lot decides a ration, so its test (${price:.0f}) "
            "saves no feed; hazards must be tested all the same."
        )
    verdict = "worth it" if saved > price else "not worth it for the feed alone"
    return f"Knowing it saves about ${saved:,.0f} of feed against ${price:.0f}: {verdict}."
