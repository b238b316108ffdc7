"""Daily needs of goats by NRC 1981: equations for energy and protein, steps for minerals."""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.evidence import MEMORY, SEEN
from rickyard.quantities import Numeric, OutOfRange, as_given, within
from rickyard.stock.common import (
    GOAT_1981_DE_PER_TDN,
    GOAT_1981_ME_PER_DE,
    RuminantNeed,
    all_along,
    column,
    find_row,
    goat_de_from_me_mcal,
    goat_tdn_from_me_kg,
    read_rows,
)
from rickyard.types import FloatArray

EDITION: Final = "NRC 1981 goats"

# NRC 1981, Nutrient Requirements of Goats, p. 10 (seen).
ME_MAINTENANCE_MCAL: Final = 0.10138
CP_G_PER_MCAL_DE: Final = 32.0
DP_G_PER_MCAL_DE: Final = 22.0
ME_GAIN_KCAL_PER_G: Final = 7.25
CP_GAIN_G_PER_G: Final = 0.28
ME_MILK_MCAL: Final = 1.24612
ME_MILK_PER_FAT_PCT: Final = 0.03256
MILK_FAT_REFERENCE_PCT: Final = 4.0
LATE_PREGNANCY_ME_MCAL: Final = 1.42

#: Days before kidding from which the addition for pregnancy holds.
LATE_PREGNANCY_DAYS: Final = 56

#: Walking about; from memory.
ACTIVITY: Final = {"stable": 1.0, "light": 1.25, "medium": 1.5}


def goat_me_maintenance_mcal(
    weight_kg: Numeric, activity_factor: Numeric = ACTIVITY["stable"]
) -> Numeric:
    """Return the energy that keeps a goat [Mcal/d].

    ``activity_factor``: of ``ACTIVITY``, and up to 1.75 on mountains. Raises
    ``OutOfRange`` if a weight is not positive.

    Source: NRC (1981), Nutrient Requirements of Goats, No. 15, p. 10 (seen); activity from memory.

    >>> round(goat_me_maintenance_mcal(50.0), 3)
    1.906
    """
    weight = within(weight_kg, "The weight of a goat is above zero.", positive=True)
    energy = ME_MAINTENANCE_MCAL * weight**0.75 * np.asarray(activity_factor)
    return as_given(energy, weight_kg, activity_factor)


def goat_me_gain_mcal(gain_g: Numeric) -> Numeric:
    """Return the energy for growth [Mcal/d].

    >>> round(goat_me_gain_mcal(100.0), 3)
    0.725
    """
    return as_given(ME_GAIN_KCAL_PER_G * np.asarray(gain_g) / 1000.0, gain_g)


def goat_me_milk_mcal(milk_kg: Numeric, fat_pct: Numeric = MILK_FAT_REFERENCE_PCT) -> Numeric:
    """Return the energy for actual milk, not corrected for fat [Mcal/d].

    ``fat_pct``: fat, 2.5 to 6.0.

    Source: NRC (1981), Nutrient Requirements of Goats, No. 15, p. 10 (seen).

    >>> round(goat_me_milk_mcal(1.0, 4.0), 5)
    1.24612
    """
    per_kg = ME_MILK_MCAL + ME_MILK_PER_FAT_PCT * (np.asarray(fat_pct) - MILK_FAT_REFERENCE_PCT)
    return as_given(np.asarray(milk_kg) * per_kg, milk_kg, fat_pct)


def goat_tdn_late_pregnancy_kg() -> float:
    """Return the TDN that the last eight weeks of pregnancy add, at any size [kg/d].

    >>> round(goat_tdn_late_pregnancy_kg(), 3)
    0.395
    """
    return float(goat_tdn_from_me_kg(LATE_PREGNANCY_ME_MCAL))


def goat_protein_g(me_mcal: Numeric, *, digestible: bool = False) -> Numeric:
    """Return the protein that goes with an amount of energy for maintenance [g/d].

    ``digestible``: whether to return digestible rather than total protein.

    >>> round(goat_protein_g(1.906))
    75
    """
    per_mcal = DP_G_PER_MCAL_DE if digestible else CP_G_PER_MCAL_DE
    return as_given(per_mcal * np.asarray(goat_de_from_me_mcal(me_mcal)), me_mcal)


def goat_1981(
    weight_kg: Numeric,
    *,
    activity_factor: Numeric = ACTIVITY["stable"],
    late_pregnancy: Numeric = False,
    gain_g: Numeric = 0.0,
    milk_kg: Numeric = 0.0,
    fat_pct: Numeric = MILK_FAT_REFERENCE_PCT,
    fleece_kg_per_year: Numeric = 0.0,
    density_mcal_per_kg: float = 2.0,
) -> RuminantNeed:
    """Return the daily need of a goat: maintenance and what is added to it; no vitamin E.

    The activity factor multiplies maintenance, minerals too; late pregnancy is the last eight
    weeks; milk is actual, its fat counted as 2.5 or 6.0 % outside that range, and flagged; the
    fleece is greasy mohair. Dry matter is told at a metabolizable energy of the diet, 2.0 or 2.4
    Mcal/kg DM in the table. A weight or density that is not positive or a negative amount raises
    ``OutOfRange``.

    Source: NRC (1981), Nutrient Requirements of Goats, No. 15, p. 10 (constants seen); copy of its
    table in Alabama A&M and Auburn Extension ANR-812, Table 3.

    Examples
    --------
    >>> need = goat_1981(60.0, late_pregnancy=True)
    >>> round(need.tdn_kg, 2), round(need.cp_g), round(need.ca_g)
    (1.0, 168, 5)
    """
    given: tuple[Numeric, ...] = (weight_kg, activity_factor, late_pregnancy, gain_g)
    given = (*given, milk_kg, fat_pct, fleece_kg_per_year)
    gain, milk, fleece = (np.asarray(one, float) for one in (gain_g, milk_kg, fleece_kg_per_year))
    if any(np.any(one < 0.0) for one in (gain, milk, fleece)) or not density_mcal_per_kg > 0.0:
        raise OutOfRange("Gain, milk and fleece are not negative, and the diet holds energy.")
    fat = np.clip(fat_pct, 2.5, 6.0)
    activity = np.asarray(activity_factor, float)
    kept = np.asarray(goat_me_maintenance_mcal(weight_kg, activity))
    late = np.asarray(late_pregnancy, float)
    me = kept + late * LATE_PREGNANCY_ME_MCAL + goat_me_gain_mcal(gain)
    me = me + goat_me_milk_mcal(milk, fat) + fleece * _per_fleece("tdn_g") * _ME_PER_TDN_G
    protein = goat_protein_g(kept) + CP_GAIN_G_PER_G * gain + fleece * _per_fleece("cp_g")
    protein = protein + late * _addition("cp_g") + milk * _milk("cp_g", fat)

    def mineral(name: str) -> Numeric:
        amount = activity * _by_weight(name, weight_kg) + late * _addition(name)
        amount = amount + _growth(name, gain) + milk * _milk(name, fat)
        return as_given(amount, *given)

    flags = [] if np.all(fat == np.asarray(fat_pct)) else ["milk fat counted as 2.5 or 6.0%"]
    if np.any((np.asarray(weight_kg) < 10.0) | (np.asarray(weight_kg) > 100.0)):
        flags.append("minerals carried on past the rows of 10 to 100 kg")
    if np.any(gain > 150.0):
        flags.append("minerals for growth carried on past 150 g a day")
    remembered = bool(np.any(activity != 1.0) or np.any(fleece > 0.0))
    return RuminantNeed(
        evidence=MEMORY if remembered else SEEN,
        dm_kg=as_given(me / density_mcal_per_kg, *given),
        tdn_kg=as_given(np.asarray(goat_tdn_from_me_kg(me)), *given),
        me_mcal=as_given(me, *given),
        de_mcal=as_given(np.asarray(goat_de_from_me_mcal(me)), *given),
        cp_g=as_given(protein, *given),
        ca_g=mineral("ca_g"),
        p_g=mineral("p_g"),
        vitamin_a_iu=mineral("vitamin_a_iu"),
        vitamin_d_iu=mineral("vitamin_d_iu"),
        flags=tuple(flags),
    )


_ME_PER_TDN_G: Final = GOAT_1981_DE_PER_TDN * GOAT_1981_ME_PER_DE / 1000.0


def _by_weight(name: str, weight_kg: Numeric) -> FloatArray:
    rows = read_rows("goat_1981_maintenance")
    scale, source = (1000.0, "vitamin_a_1000iu") if name == "vitamin_a_iu" else (1.0, name)
    values = scale * column(rows, source)
    found = all_along(weight_kg, column(rows, "bw_kg"), {name: values})
    return np.maximum(found[name], 0.0)


def _addition(name: str) -> float:
    return float(find_row("goat_1981_additions", addition="late_pregnancy")[name])


def _growth(name: str, gain_g: FloatArray) -> FloatArray:
    """Return a constituent for growth: along the rows from nothing, past the last in proportion."""
    rows = read_rows("goat_1981_additions")[1:]
    values = np.concatenate([[0.0], column(rows, name)])
    points = np.array([0.0, 50.0, 100.0, 150.0])
    return np.asarray(np.interp(gain_g, points, values) * np.maximum(gain_g / points[-1], 1.0))


def _milk(name: str, fat_pct: FloatArray) -> FloatArray:
    rows = read_rows("goat_1981_milk")
    return np.asarray(np.interp(fat_pct, column(rows, "fat_pct"), column(rows, name)))


def _per_fleece(name: str) -> float:
    rows = read_rows("goat_1981_mohair")
    return float(np.mean(column(rows, name) / column(rows, "fleece_kg_per_year")))
