"""Dairy replacement heifers and dry cows: shares of the diet, and the heifer's equations."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from rickyard.evidence import MEMORY
from rickyard.quantities import Numeric, OutOfRange, as_given, not_negative, within
from rickyard.stock.common import (
    RuminantNeed,
    all_along,
    column,
    find_row,
    me_from_tdn_mcal,
    read_rows,
)
from rickyard.stock.equations import (
    PROTEIN_G_PER_KG_GAIN,
    PROTEIN_G_PER_MCAL,
    mp_maintenance_g,
    retained_energy_mcal,
)
from rickyard.stock.fill import dry_dairy_intake_kg
from rickyard.types import FloatArray

EDITION: Final = "NRC 1989 dairy"
EDITION_2001: Final = "NRC 2001 dairy"

#: Class of the table from an age on, in months.
HEIFER_CLASSES: Final = (
    (3.0, "heifer_3_to_6"),
    (6.0, "heifer_6_to_12"),
    (12.0, "heifer_over_12"),
)

# NRC 2001, Nutrient Requirements of Dairy Cattle, 7th rev. ed.; from memory.
SHRUNK_PER_FULL: Final = 0.96
NEM_MAINTENANCE: Final = 0.086
REFERENCE_KG: Final = 478.0
EFFICIENCY_PCT: Final = 83.4
EFFICIENCY_PCT_PER_KG: Final = 0.114
INTAKE: Final = (0.2435, -0.0466, -0.1128)

# Diet NEm and NEg from ME: NRC 2000, Nutrient Requirements of Beef Cattle (seen).
NEM_OF_ME: Final = (-1.12, 1.37, -0.138, 0.0105)
NEG_OF_ME: Final = (-1.65, 1.42, -0.174, 0.0122)
ME_RANGE_MCAL: Final = (1.5, 3.5)

#: The rows of 2001 stand for a cow of 680 kg that carries so much more: 730, 751 and 757 kg at 40,
#: 10 and 1 days before calving; her pregnancy is counted as 280 days.
CONCEPTUS_DAYS: Final = (1.0, 10.0, 40.0)
WITH_CONCEPTUS: Final = (757.0 / 680.0, 751.0 / 680.0, 730.0 / 680.0)
DRY_COW_GESTATION_DAYS: Final = 280.0

#: Net energy for lactation from TDN, NRC 1989, from memory. [Mcal/kg and percent]
NEL_PER_TDN: Final = 0.0245
NEL_LESS: Final = 0.12

#: Dry matter of dry cows and heifers when no energy balance is run. Common practice.
DM_PCT_BW: Final = (1.8, 2.5)

#: Potassium of a dry cow's diet in the last three weeks (from memory).
MOST_K_PCT_BEFORE_CALVING: Final = 1.3
CLOSE_UP_DAYS: Final = 21


@dataclass(frozen=True, slots=True)
class HeiferNeed:
    """What a growing heifer needs a day by the equations, and what she is predicted to eat."""

    evidence: str
    dm_kg: Numeric
    me_mcal: Numeric
    mp_g: Numeric
    predicted_dm_kg: Numeric


def heifer_class(age_months: float) -> str:
    """Return the class of a dairy heifer by age.

    A class of the table ``dairy_1989``. ``age_months``: age, 3 or more. Raises ``OutOfRange`` if
    she is younger than three months.

    >>> heifer_class(9.0)
    'heifer_6_to_12'
    """
    fits = [name for start, name in HEIFER_CLASSES if age_months >= start]
    if not fits:
        raise OutOfRange("The table of dairy heifers begins at three months of age.")
    return fits[-1]


def dairy_1989(dairy_class: str, dm_kg: Numeric) -> RuminantNeed:
    """Return the daily need of dairy heifers and dry cows: shares of the dry matter they eat.

    ``dairy_class``: ``heifer_3_to_6``, ``heifer_6_to_12``, ``heifer_over_12`` or ``dry_cow``.

    Source: NRC (1989), Nutrient Requirements of Dairy Cattle, 6th rev. ed.; from memory; the fall
    from 16 to 12 % protein with age seen in a Virginia Tech text.

    >>> need = dairy_1989("dry_cow", 13.0)
    >>> round(need.tdn_kg, 2), round(need.cp_g)
    (7.28, 1560)
    """
    dm = np.asarray(dm_kg, dtype=np.float64)
    not_negative("Dry matter eaten is not below zero.", dm)
    row = find_row("dairy_1989", **{"class": dairy_class})
    return RuminantNeed(
        evidence=MEMORY,
        dm_kg=as_given(dm, dm_kg),
        tdn_kg=as_given(float(row["tdn_pct"]) / 100.0 * dm, dm_kg),
        me_mcal=as_given(float(row["me_mcal_per_kg"]) * dm, dm_kg),
        de_mcal=None,
        cp_g=as_given(10.0 * float(row["cp_pct"]) * dm, dm_kg),
        ca_g=as_given(10.0 * float(row["ca_pct"]) * dm, dm_kg),
        p_g=as_given(10.0 * float(row["p_pct"]) * dm, dm_kg),
    )


@dataclass(frozen=True, slots=True)
class DryCowNeed:
    """What a dry cow needs a day by NRC 2001, and what her diet must hold of its dry matter.

    ``mp_g`` is ``None`` past day 240, for which alone it is known.
    """

    evidence: str
    dm_kg: float
    nel_mcal: float
    cp_pct: float
    ca_pct: float
    p_pct: float
    mp_g: float | None


def dry_cow_2001(day_pregnant: float) -> DryCowNeed:
    """Return the need of a dry cow of 680 kg on day 240 to 279 of pregnancy.

    Along straight lines between days 240, 270 and 279; outside raises ``OutOfRange``. She eats less
    and less while her need of energy rises, so the diet must grow denser.

    Source: NRC (2001), Nutrient Requirements of Dairy Cattle, 7th rev. ed.; from memory.

    >>> dry_cow_2001(270.0).dm_kg
    13.7
    """
    rows = read_rows("dairy_2001_dry_cow")
    days = column(rows, "day_pregnant")
    if not days[0] <= day_pregnant <= days[-1]:
        raise OutOfRange(f"Dry cows are covered from day {days[0]:.0f} to {days[-1]:.0f}.")
    names = ("dm_kg", "nel_mcal", "cp_pct", "ca_pct", "p_pct")
    told = all_along(day_pregnant, days, {name: column(rows, name) for name in names})
    return DryCowNeed(
        evidence=MEMORY,
        mp_g=float(rows[0]["mp_g"]) if day_pregnant == days[0] else None,
        **{name: float(value) for name, value in told.items()},
    )


def dry_cow_by_day(weight_kg: Numeric, days_to_calving: Numeric) -> RuminantNeed:
    """Return the daily need of dry cows by weight without the conceptus [kg] and days to calving.

    The rows of `dry_cow_2001`, held before day 240 and after day 279, with energy by the power 0.75
    of weight and the rest by the dry matter that she is predicted to eat (derived). TDN from net
    energy for lactation: ``NEL = 0.0245 TDN - 0.12``. A weight that is not positive or days below
    zero raise ``OutOfRange``.

    Source: NRC (2001), Nutrient Requirements of Dairy Cattle, 7th rev. ed.; from memory.

    >>> [round(dry_cow_by_day(680.0, days).dm_kg, 1) for days in (40.0, 10.0, 1.0)]
    [14.4, 13.7, 10.1]
    """
    given = (weight_kg, days_to_calving)
    weight = within(weight_kg, "Weights are above zero.", positive=True)
    days = within(days_to_calving, "Days to calving are not below zero.", least=0.0)
    with_calf = weight * np.interp(days, CONCEPTUS_DAYS, WITH_CONCEPTUS)
    dm = np.asarray(dry_dairy_intake_kg(with_calf, days))
    rows = read_rows("dairy_2001_dry_cow")
    points = column(rows, "day_pregnant")
    at = np.clip(DRY_COW_GESTATION_DAYS - days, points[0], points[-1])
    names = ("bw_kg", "nel_mcal", "cp_pct", "ca_pct", "p_pct")
    told = all_along(at, points, {name: column(rows, name) for name in names})
    nel = told["nel_mcal"] * (weight / told["bw_kg"]) ** 0.75
    tdn = (nel + NEL_LESS * dm) / NEL_PER_TDN / 100.0
    return RuminantNeed(
        evidence=MEMORY,
        dm_kg=as_given(dm, *given),
        tdn_kg=as_given(tdn, *given),
        me_mcal=as_given(np.asarray(me_from_tdn_mcal(tdn)), *given),
        de_mcal=None,
        cp_g=as_given(10.0 * told["cp_pct"] * dm, *given),
        ca_g=as_given(10.0 * told["ca_pct"] * dm, *given),
        p_g=as_given(10.0 * told["p_pct"] * dm, *given),
    )


def heifer_2001(
    weight_kg: Numeric, gain_kg: Numeric, mature_kg: Numeric, diet_me_mcal_per_kg: Numeric
) -> HeiferNeed:
    """Return the daily need of a growing dairy heifer by the equations of NRC 2001, and her intake.

    Full body weights; the diet holds 1.5 to 3.5 Mcal of metabolizable energy per kg of dry matter.
    A weight that is not positive or a diet outside raises ``OutOfRange``.

    Source: NRC (2001), Nutrient Requirements of Dairy Cattle, 7th rev. ed.; from memory.

    >>> need = heifer_2001(300.0, 0.8, 650.0, 2.3)
    >>> round(need.dm_kg, 1), round(need.me_mcal, 1), round(need.mp_g)
    (7.0, 16.2, 499)
    """
    given = (weight_kg, gain_kg, mature_kg, diet_me_mcal_per_kg)
    weight, mature = (
        within(one, "Weights are above zero.", positive=True) for one in (weight_kg, mature_kg)
    )
    gain, diet = np.asarray(gain_kg, dtype=np.float64), _diet(diet_me_mcal_per_kg)
    shrunk, shrunk_gain = SHRUNK_PER_FULL * weight, SHRUNK_PER_FULL * gain
    scaled = shrunk * REFERENCE_KG / (SHRUNK_PER_FULL * mature)
    retained = np.asarray(retained_energy_mcal(shrunk_gain, scaled))
    nem, neg = _cubic(NEM_OF_ME, diet), _cubic(NEG_OF_ME, diet)
    dm = NEM_MAINTENANCE * shrunk**0.75 / nem + retained / neg
    kept = PROTEIN_G_PER_KG_GAIN * shrunk_gain - PROTEIN_G_PER_MCAL * retained
    efficiency = (EFFICIENCY_PCT - EFFICIENCY_PCT_PER_KG * scaled) / 100.0
    predicted = np.asarray(predicted_dm_kg(weight, diet))
    return HeiferNeed(
        evidence=MEMORY,
        dm_kg=as_given(dm, *given),
        me_mcal=as_given(dm * diet, *given),
        mp_g=as_given(np.asarray(mp_maintenance_g(shrunk)) + kept / efficiency, *given),
        predicted_dm_kg=as_given(predicted, *given),
    )


def predicted_dm_kg(weight_kg: Numeric, diet_me_mcal_per_kg: Numeric) -> Numeric:
    """Return the dry matter that a dairy heifer is predicted to eat [kg/d].

    ``diet_me_mcal_per_kg``: metabolizable energy of the diet, 1.5 to 3.5. Raises ``OutOfRange`` if
    the diet lies outside the range.

    Source: NRC (2001), Nutrient Requirements of Dairy Cattle, 7th rev. ed.; from memory.

    >>> round(predicted_dm_kg(300.0, 2.3), 2)
    7.06
    """
    diet = _diet(diet_me_mcal_per_kg)
    nem = _cubic(NEM_OF_ME, diet)
    share = (INTAKE[0] * nem + INTAKE[1] * nem**2 + INTAKE[2]) / nem
    return as_given(np.asarray(weight_kg) ** 0.75 * share, weight_kg, diet_me_mcal_per_kg)


def _diet(me_mcal_per_kg: Numeric) -> FloatArray:
    said = "The diet holds 1.5 to 3.5 Mcal of metabolizable energy per kg."
    return within(me_mcal_per_kg, said, *ME_RANGE_MCAL)


def _cubic(coefficients: tuple[float, ...], energy: FloatArray) -> FloatArray:
    return np.asarray(np.polynomial.polynomial.polyval(energy, coefficients))
