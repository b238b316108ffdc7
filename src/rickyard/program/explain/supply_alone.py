"""What each lot could supply to a group if it were all they ate, beside what they need."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

import numpy as np

from rickyard.farm import Farm, Group, Lot
from rickyard.forage.plausibility import LotProfile, lot_profile
from rickyard.forage.reading import hazard_cautions
from rickyard.match import gain_from_intake
from rickyard.program.inputs import season_days
from rickyard.quantities import DAYS_PER_WEEK, is_some
from rickyard.safety import bindings
from rickyard.stock.beef import settings_of
from rickyard.stock.common import NeedSeries, period_means, size_scaled_weight_kg
from rickyard.stock.equations import appetite_kg, cp_with_floor_kg, ndf_cap_kg
from rickyard.types import BoolArray, FloatArray, IntArray

#: A lot counts as enough down to this share of a need: less is smaller than any test tells.
ENOUGH: Final = 0.995


@dataclass(frozen=True, slots=True)
class LotAlone:
    """What one lot alone would give each head, arrays of shape (weeks,).

    ``energy`` is in the unit of the need it stands beside. ``energy_short`` and
    ``protein_short`` mark the weeks in which it is not enough. ``dangerous`` says that the lot
    has a caution of danger or is kept from such animals, so that enough of it is not yet safe.
    """

    lot_id: str
    name: str
    energy: FloatArray
    protein_kg: FloatArray
    energy_short: BoolArray
    protein_short: BoolArray
    dangerous: bool

    @property
    def enough(self) -> bool:
        """Return whether it meets energy and protein in every week."""
        return not (np.any(self.energy_short) or np.any(self.protein_short))


@dataclass(frozen=True, slots=True)
class NeedPicture:
    """The need of a group through the season and what each lot alone could supply, by week.

    ``energy_word`` says what ``energy`` is: ``net energy`` [Mcal/d], ``gain`` [kg/d] for stock
    that is to grow, or ``TDN`` [kg/d]. ``protein_kg`` is crude protein without the floor of 7 %
    of what is eaten, which a lot must meet too.
    """

    group: Group
    days: tuple[date, ...]
    stage: tuple[str, ...]
    energy_word: str
    energy: FloatArray
    protein_kg: FloatArray
    lots: tuple[LotAlone, ...]


def need_picture(farm: Farm, group: Group) -> NeedPicture:
    """Return the need of a group beside what each lot alone could supply, week by week.

    Cattle eat a lot to appetite, or to the fibre that fills them if that is less; other stock up
    to the most dry matter that is published for it. Cattle that are to grow are shown by their
    gain, because net energy for maintenance and for gain never add.

    Parameters
    ----------
    farm : Farm
        Its season, weather, lots and reports are read.
    group : Group
        A group of it.

    Returns
    -------
    NeedPicture
        One entry for each week on which the group is here.
    """
    daily = season_days(farm, group)
    count = len(daily.stage)
    lengths = [DAYS_PER_WEEK] * (count // DAYS_PER_WEEK)
    lengths += [count % DAYS_PER_WEEK] if count % DAYS_PER_WEEK else []
    weekly = period_means(daily, lengths)
    starts = np.concatenate(([0], np.cumsum(lengths)[:-1]))
    here = np.flatnonzero(weekly.present)
    days = tuple(farm.season.start + timedelta(days=int(starts[at])) for at in here)
    need = _Need(group, weekly, here)
    barred = {
        one.source_id for one in bindings(farm) if one.bars and one.group_id == group.group_id
    }
    profiles = [(lot, lot_profile(lot, farm.reports_of(lot.lot_id))) for lot in farm.lots]
    return NeedPicture(
        group=group,
        days=days,
        stage=tuple(weekly.stage[at] for at in here),
        energy_word=need.word,
        energy=need.energy,
        protein_kg=need.protein,
        lots=tuple(need.alone(lot, one, barred=lot.lot_id in barred) for lot, one in profiles),
    )


class _Need:
    """A group's need by week in the currency that its picture is drawn in."""

    def __init__(self, group: Group, series: NeedSeries, here: IntArray) -> None:
        self.series, self.here = series, here
        self.shrunk = series.shrunk_weight_kg[here]
        self.full = series.full_weight_kg[here]
        self.cp = series.cp_kg[here]
        self.by_tdn = series.energy_basis != "ne"
        self.grows = not self.by_tdn and bool(np.all(is_some(series.gain_kg[here])))
        if self.by_tdn:
            tdn = series.tdn_kg
            self.word = "TDN"
            self.energy = np.full(len(here), np.nan) if tdn is None else tdn[here]
        elif self.grows:
            self.word, self.energy = "gain", series.gain_kg[here]
            final = settings_of(group).final_shrunk_weight_kg
            self.scaled = np.asarray(
                size_scaled_weight_kg(self.shrunk, self.shrunk if final is None else final)
            )
        else:
            self.word, self.energy = "net energy", series.nem_mcal[here]
        self.protein = self.cp

    def alone(self, lot: Lot, profile: LotProfile, *, barred: bool) -> LotAlone:
        """Return what one lot would give each head."""
        eaten = self._eaten_kg(profile)
        if self.by_tdn:
            energy = eaten * profile.tdn_pct / 100.0
        elif self.grows:
            gain = gain_from_intake(
                eaten,
                self.series.nem_mcal[self.here],
                profile.nem_mcal_per_kg,
                profile.neg_mcal_per_kg,
                self.scaled,
            )
            energy = np.asarray(gain.gain_kg)
        else:
            energy = eaten * profile.nem_mcal_per_kg
        protein = eaten * profile.cp_pct / 100.0
        floor = self.cp if self.by_tdn else np.asarray(cp_with_floor_kg(self.cp, eaten))
        dangerous = barred or any(one.level == "danger" for one in hazard_cautions(lot, profile))
        return LotAlone(
            lot_id=lot.lot_id,
            name=lot.name,
            energy=energy,
            protein_kg=protein,
            energy_short=energy < ENOUGH * self.energy,
            protein_short=protein < ENOUGH * floor,
            dangerous=dangerous,
        )

    def _eaten_kg(self, profile: LotProfile) -> FloatArray:
        if self.by_tdn:
            most = self.series.most.get("dm_kg", self.series.dry_matter_kg)
            return np.full(len(self.here), np.nan) if most is None else most[self.here]
        filled = np.asarray(ndf_cap_kg(self.full, profile.ndf_pct))
        wanted = [
            appetite_kg(
                self.series.intake_rule[at],
                float(self.series.shrunk_weight_kg[at]),
                profile.nem_mcal_per_kg,
                float(self.series.milk_kg[at]),
                float(self.series.intake_factor[at]),
            )
            for at in self.here
        ]
        return np.asarray(np.minimum(np.array(wanted), filled), dtype=np.float64)
