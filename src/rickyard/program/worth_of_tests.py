"""Whether a test is worth its price, at the season program's own marginal values."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from rickyard.farm import Farm
from rickyard.forage.energy import nem_from_tdn
from rickyard.forage.profile import LotProfile, lot_profile
from rickyard.hay.precision import composite_se
from rickyard.hay.sampling_plan import SamplePlan, lot_spread
from rickyard.hay.spreads import Spread, spread_of
from rickyard.hay.testing import value_of_test
from rickyard.program.assurance import UNTESTED_CP_FRAC, UNTESTED_TDN_FRAC
from rickyard.program.result import FeedingRow, Limit, SeasonProgram
from rickyard.program.season import plan_season

#: What too little costs for each dollar of too much: the ratio of the handbook's example
#: (feeds handbook, section 5.4; common practice, no published source).
UNDER_PER_OVER: Final = 4.0

_CP_LIMITS: Final = ("cp", "cp_floor")
_ENERGY_LIMITS: Final = ("nem", "gain_energy")


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


def worths_of_tests(farm: Farm, plans: Sequence[SamplePlan]) -> tuple[WorthOfTest, ...]:
    """Say for every lot that is to be sampled whether its test is worth its price.

    Parameters
    ----------
    farm : Farm
        The farm; its season is planned first.
    plans : sequence of SamplePlan
        The sampling pages; those whose test still holds are passed over.

    Returns
    -------
    tuple of WorthOfTest
        One for each lot to sample, in the order of the pages.

    Raises
    ------
    rickyard.program.solve.SolveError
        If the season cannot be planned.

    Notes
    -----
    A point of protein or energy is priced at what the season program would pay for it in the
    weeks and groups that the lot is fed to; where neither decides a ration, a point is worth
    nothing. Too little is taken to cost four times as much as too much. A test for a hazard is
    never a matter of money.

    References
    ----------
    .. [1] Feeds handbook, section 5.4 (derived).
    """
    to_sample = [plan for plan in plans if plan.dates.status != "tested"]
    if not to_sample:
        return ()
    program = plan_season(farm)
    return tuple(_worth(farm, program, plan) for plan in to_sample)


def _worth(farm: Farm, program: SeasonProgram, plan: SamplePlan) -> WorthOfTest:
    lot = farm.lot(plan.lot_id)
    profile = lot_profile(lot, farm.reports_of(lot.lot_id))
    rows = [row for row in program.feeding if row.source_id == lot.lot_id]
    cp_point = _per_point(program, rows, _CP_LIMITS) * 0.01
    energy_point = _per_point(program, rows, _ENERGY_LIMITS) * _nem_per_tdn_point(profile)
    protein = _saved(
        plan, profile.cp_pct * UNTESTED_CP_FRAC, lot_spread(lot, farm.reports), cp_point
    )
    energy = _saved(plan, profile.tdn_pct * UNTESTED_TDN_FRAC, spread_of("tdn"), energy_point)
    price = plan.protocols[0].price_usd
    return WorthOfTest(
        lot.lot_id, protein, energy, price, _sentence(protein + energy, price, bool(rows))
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
            if limit.nutrient in nutrients and _covers(limit, row)
        )
        eaten = row.eaten_kg_dm_per_head_day * row.days * head[(row.group_id, row.period)]
        total += price * eaten
    return total


def _covers(limit: Limit, row: FeedingRow) -> bool:
    return limit.group_id == row.group_id and limit.start <= row.start < limit.end


def _nem_per_tdn_point(profile: LotProfile) -> float:
    high, low = (float(nem_from_tdn(profile.tdn_pct + step)) for step in (0.5, -0.5))
    return high - low


def _saved(plan: SamplePlan, prior_sd: float, spread: Spread, usd_per_point: float) -> float:
    if usd_per_point <= 0.0:
        return 0.0
    error = composite_se(
        spread.observed, spread.repeat, plan.protocols[0].bales, lab_bias_sd=spread.bias
    )
    return value_of_test(
        prior_sd, float(error), usd_per_point, UNDER_PER_OVER * usd_per_point
    ).saved


def _sentence(saved: float, price: float, fed: bool) -> str:
    if not fed:
        return (
            f"The season program does not feed this lot, so its test (${price:.0f}) saves no feed; "
            "test it before a sale or when the program changes."
        )
    if saved <= 0.0:
        return (
            f"Neither protein nor energy of this lot decides a ration, so its test (${price:.0f}) "
            "saves no feed; hazards must be tested all the same."
        )
    verdict = "worth it" if saved > price else "not worth it for the feed alone"
    return f"Knowing it saves about ${saved:,.0f} of feed against ${price:.0f}: {verdict}."
