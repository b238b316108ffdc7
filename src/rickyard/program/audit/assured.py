"""A second look at what a program promises: each assured supply, worked out again.

The spread of every lot and feed is found again from the reports, and what a mix supplies with the
promised chance is added up in plain loops. Nothing of the program's arrays is used.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from math import sqrt
from statistics import NormalDist
from typing import Final

from rickyard.farm import Farm, Group
from rickyard.forage.energy import neg_from_tdn, nem_from_tdn
from rickyard.forage.plausibility import lot_profile
from rickyard.forage.uncertainty import lot_measured
from rickyard.program.audit.view import Breach, compare, is_over
from rickyard.program.inputs import season_series
from rickyard.program.ration_check import week_may_lack
from rickyard.program.result import NeedRow, SeasonProgram, SourceValues
from rickyard.quantities import is_some
from rickyard.stock.herd import with_stated_needs

#: Spread of what nobody tested: half of 15 % for protein, half of 10 % for energy (Preston, Beef
#: magazine, feed composition).
UNTESTED_CP: Final = 0.15 / 2.0
UNTESTED_TDN: Final = 0.10 / 2.0

#: A chance may miss the promise by half a point; a little more here, for the curve of gain.
MISSED_POINTS: Final = 0.6

#: A step in TDN over which the slope of an energy equation is taken. [% DM]
STEP: Final = 1e-3

_SUMS: Final = ("cp", "cp_floor", "nem", "tdn")


@dataclass(frozen=True, slots=True)
class _Spread:
    """Standard deviations of what a kilogram of dry matter supplies."""

    cp: float
    tdn: float
    nem: float
    neg: float


def assured_breaches(program: SeasonProgram, farm: Farm) -> Iterator[Breach]:
    """Yield every claim about assured supplies that does not hold."""
    promised = {group.group_id: _promised(group, farm) for group in farm.groups}
    rows: dict[str, list[NeedRow]] = defaultdict(list)
    for row in program.needs:
        rows[row.group_id].append(row)
        if row.assured is not None and promised[row.group_id] is None:
            yield Breach(f"{row.group_id}, {row.nutrient}, promised nothing", row.assured, 0.0)
    if all(chance is None for chance in promised.values()):
        return
    work = _Work(program, farm)
    for group in farm.groups:
        chance = promised[group.group_id]
        if chance is not None:
            yield from work.group(group, chance, rows[group.group_id])


def _promised(group: Group, farm: Farm) -> float | None:
    chance = farm.season.assurance_pct if group.assurance_pct is None else group.assurance_pct
    return None if chance is None or chance <= 50.0 else chance


class _Work:
    def __init__(self, program: SeasonProgram, farm: Farm) -> None:
        self.program, self.farm = program, farm
        self.sources = {value.source_id: value for value in program.sources}
        self.spread = {
            name: _spread(UNTESTED_CP * one.cp_pct, UNTESTED_TDN * one.tdn_pct, one.tdn_pct)
            for name, one in self.sources.items()
        }
        for lot in farm.lots:
            reports = farm.reports_of(lot.lot_id)
            profile = lot_profile(lot, reports)
            measured = lot_measured(lot, reports, profile)
            tested = profile.origins
            cp, tdn = UNTESTED_CP * profile.cp_pct, UNTESTED_TDN * profile.tdn_pct
            self.spread[lot.lot_id] = _spread(
                measured["cp_pct"].sd if tested["cp_pct"] != "book" else cp,
                measured["tdn_pct"].sd if tested["tdn_pct"] != "book" else tdn,
                profile.tdn_pct,
            )
        self.eaten: dict[tuple[str, int], dict[str, float]] = defaultdict(dict)
        for row in program.feeding:
            amounts = self.eaten[row.group_id, row.period]
            amounts[row.source_id] = amounts.get(row.source_id, 0.0) + row.eaten_kg_dm_per_head_day

    def group(self, group: Group, chance: float, rows: list[NeedRow]) -> Iterator[Breach]:
        z = NormalDist().inv_cdf(chance / 100.0)
        low_z = max(0.0, NormalDist().inv_cdf(max(chance - MISSED_POINTS, 50.0) / 100.0))
        wanted = self._for_gain(group, rows)
        for row in rows:
            if row.nutrient in _SUMS:
                part = "cp" if row.nutrient == "cp_floor" else row.nutrient
                assured, least = (self._low(row, part, one) for one in (z, low_z))
            elif row.nutrient == "gain_energy":
                need = wanted[row.period]
                assured, least = (self._gain(row, need, one) for one in (z, low_z))
            else:
                continue
            what = f"{group.name}, {row.nutrient}, from {row.start}"
            may_lack = week_may_lack(self.program, self.farm, group, row.nutrient, 0.0)
            yield from _judge(what, row, assured, least, may_lack)

    def _low(self, row: NeedRow, what: str, z: float) -> float:
        """Return what the diet of a row supplies, less ``z`` standard deviations."""
        mean, variance = 0.0, 0.0
        for source_id, kilograms in self.eaten[row.group_id, row.period].items():
            mean += kilograms * _per_kg(self.sources[source_id], what)
            variance += (kilograms * getattr(self.spread[source_id], what)) ** 2
        return float(mean - z * sqrt(variance))

    def _gain(self, row: NeedRow, need: tuple[float, float], z: float) -> float:
        """Return the share of maintenance and gain that is met, times the need of the row."""
        maintenance, retained = need
        nem, neg = self._low(row, "nem", z), self._low(row, "neg", z)
        if not is_some(nem) or not is_some(neg):
            return 0.0
        return row.need / (maintenance / nem + retained / neg)

    def _for_gain(self, group: Group, rows: list[NeedRow]) -> dict[int, tuple[float, float]]:
        if not any(row.nutrient == "gain_energy" for row in rows):
            return {}
        periods = self.program.periods
        series = season_series(with_stated_needs(self.farm), group, periods)
        pairs = zip(series.nem_mcal.tolist(), series.retained_energy_mcal.tolist(), strict=True)
        return dict(enumerate(pairs))


def _judge(
    what: str, row: NeedRow, assured: float, least: float, may_lack: float
) -> Iterator[Breach]:
    """Judge a row: of a ration the mean is promised, of a week all but what it may lack."""
    if row.assured is None:
        yield Breach(f"{what}, assured", 0.0, assured)
        return
    size = max(abs(row.need), abs(row.supplied))
    yield from compare(f"{what}, assured", row.assured, assured, size)
    lack = may_lack * abs(row.need)
    if is_some(row.shortage):
        missing = row.need - assured - row.shortage
        if is_over(missing, lack, size) or (is_over(-missing, 0.0, size) and not may_lack):
            yield Breach(f"{what}, short of the promise", row.shortage, row.need - assured)
    elif is_over(row.need - lack, least, size):
        yield Breach(f"{what}, promise kept", row.need, assured)


def _per_kg(value: SourceValues, what: str) -> float:
    return {
        "cp": value.cp_pct / 100.0,
        "tdn": value.tdn_pct / 100.0,
        "nem": value.nem_mcal_per_kg,
        "neg": value.neg_mcal_per_kg,
    }[what]


def _spread(cp_sd: float, tdn_sd: float, tdn_pct: float) -> _Spread:
    if not is_some(tdn_pct):
        return _Spread(cp_sd / 100.0, tdn_sd / 100.0, 0.0, 0.0)
    above, below = tdn_pct + STEP, tdn_pct - STEP
    nem = float(nem_from_tdn(above) - nem_from_tdn(below)) / (2.0 * STEP)
    neg = float(neg_from_tdn(above) - neg_from_tdn(below)) / (2.0 * STEP)
    return _Spread(cp_sd / 100.0, tdn_sd / 100.0, abs(nem) * tdn_sd, abs(neg) * tdn_sd)
