"""What the diet of stock that is counted in TDN is held to, by its class.

Cattle have it by the same table; theirs may be moved by the farm.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta
from typing import Final

import numpy as np

from rickyard.animals import IN_TDN, SMALL_RUMINANTS
from rickyard.farm import Assumption, Farm, Group
from rickyard.program.inputs.said import assumed
from rickyard.program.result import Period
from rickyard.safety import amount_of, diet_spans
from rickyard.stock.common import NeedSeries
from rickyard.stock.equations import NDF_CAP_PCT_BW
from rickyard.stock.fill import access_frac, floors_of, ndf_cap_pct_bw
from rickyard.types import BoolArray, FloatArray

#: Most of a free-choice mineral that one sheep, goat or llama takes, kg as fed a day: an ounce.
#: Common practice, no published source.
SMALL_MINERAL_KG: Final = 0.028350


def least_ca_to_p(group: Group, of_farm: float) -> float:
    """Return calcium to phosphorus of a group at least: the farm's, or more where its class asks.

    Examples
    --------
    >>> from rickyard.farm import AnimalClass
    >>> least_ca_to_p(Group("r", "Rams", AnimalClass.RAM, 2, 90.0), 1.0)
    2.0
    """
    return max(of_farm, floors_of(group).ca_to_p) if group.animal_class in IN_TDN else of_farm


def least_cp_frac(group: Group) -> float:
    """Return the protein of the dry matter at least, NaN where the class has no rumen. [-]."""
    return floors_of(group).cp_pct / 100.0


def least_forage_kg(group: Group, full_weight_kg: FloatArray, share: float | None) -> FloatArray:
    """Return long forage a head and day at least, where a group states a share or its class has.

    ``share``: percent of body weight that the group states itself. [kg DM]
    """
    pct = floors_of(group).forage_pct_bw if share is None else share
    return pct / 100.0 * full_weight_kg


def most_ndf_kg(group: Group, series: NeedSeries) -> FloatArray:
    """Return the fiber of forage that fills a head in each period, NaN where nothing is known."""
    if group.animal_class not in IN_TDN:
        return access_frac(group) * NDF_CAP_PCT_BW / 100.0 * series.full_weight_kg
    caps = np.array([ndf_cap_pct_bw(rule) for rule in series.intake_rule])
    return np.where(np.isfinite(caps), caps / 100.0 * series.full_weight_kg, np.nan)


#: The rules of safety that ask a share of the diet, by the nutrient that they hold.
FLOOR_RULES: Final = {
    "ca_floor": ("milk-fever-calcium",),
    "mg": ("magnesium-sheep", "tetany-magnesium-ewes"),
    "forage_share": ("forage-half",),
}

#: What one percent of a kilogram is, of minerals in grams and of forage in kilograms.
_OF_A_PCT: Final = {"ca_floor": 10.0, "mg": 10.0, "forage_share": 0.01}


def floors_g_per_kg(
    farm: Farm, periods: Sequence[Period], series: Sequence[NeedSeries], own: BoolArray
) -> dict[str, FloatArray]:
    """Return what is asked of each kilogram of the diet, by nutrient [g/kg DM; forage kg/kg].

    Arrays of shape (groups, periods), NaN where nothing is. Where the folder states needs of its
    ``own``, only what keeps a birth safe is asked.
    """
    magnesium = [_magnesium_g_per_kg(one) for one in series]
    found = {
        "ca_floor": np.full(own.shape, np.nan),
        "mg": np.where(own, np.nan, np.array(magnesium).reshape(own.shape)),
        "forage_share": np.full(own.shape, np.nan),
    }
    for name, rule_ids in FLOOR_RULES.items():
        for rule_id in rule_ids:
            binds = bound_in(rule_id, farm, periods) & ((name == "ca_floor") | ~own)
            found[name][binds] = np.fmax(found[name][binds], _OF_A_PCT[name] * amount_of(rule_id))
    return found


def _magnesium_g_per_kg(series: NeedSeries) -> FloatArray:
    """Return the magnesium of a class by the dry matter it is told at, NaN where it is not told."""
    need = series.constituent("mg_g")
    at = series.more.get("usual_hay_dm_kg", series.dry_matter_kg)
    return np.full(len(series.stage), np.nan) if need is None or at is None else need / at


def bound_in(rule_id: str, farm: Farm, periods: Sequence[Period]) -> BoolArray:
    """Return where a rule of the whole diet binds on any day.

    Parameters
    ----------
    rule_id : str
        The rule, such as ``milk-fever-ewes``.
    farm : Farm
        The farm: its groups.
    periods : sequence of Period
        The periods of the season.

    Returns
    -------
    bool array, shape (groups, periods)
        Where it binds.
    """
    found = np.zeros((len(farm.groups), len(periods)), dtype=bool)
    for g, group in enumerate(farm.groups):
        spans = diet_spans(rule_id, group, farm)
        for t, period in enumerate(periods):
            end = period.start + timedelta(days=period.days)
            found[g, t] = spans is not None and (
                not spans or any(first < end and period.start < last for first, last in spans)
            )
    return found


def mineral_kg(group: Group, stated_kg: float) -> float:
    """Return what one head takes of a mineral on offer of which a farm states an amount [kg].

    Examples
    --------
    >>> from rickyard.farm import AnimalClass
    >>> mineral_kg(Group("e", "Ewes", AnimalClass.EWE, 40, 70.0), 0.1)
    0.02835
    """
    return min(stated_kg, SMALL_MINERAL_KG) if group.animal_class in SMALL_RUMINANTS else stated_kg


def class_notes(farm: Farm, computed: BoolArray, series: Sequence[NeedSeries]) -> list[Assumption]:
    """Return what is taken for granted of groups in TDN whose needs are computed."""
    notes = []
    for g, group in enumerate(farm.groups):
        if group.animal_class not in IN_TDN or not computed[g].any():
            continue
        caps = sorted({ndf_cap_pct_bw(rule) for rule in series[g].intake_rule})
        if np.isfinite(caps[-1]):
            span = " to ".join(f"{one:g}" for one in (caps[:1] + caps[1:][-1:]))
            notes.append(assumed("class_fiber", group=group.name, caps=span))
        floors = floors_of(group)
        if floors.ca_to_p > 1.0:
            notes.append(assumed("class_calcium", group=group.name, ratio=floors.ca_to_p))
    return notes
