"""Dairy heifers and dry cows through the season."""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.evidence import PRACTICE
from rickyard.farm import AnimalClass, Assumption
from rickyard.quantities import KG_PER_LB
from rickyard.stock.common import (
    GESTATION_DAYS,
    Asked,
    Births,
    NeedArrays,
    NeedSeries,
    practice,
)
from rickyard.stock.dairy.dairy import (
    CLOSE_UP_DAYS,
    DM_PCT_BW,
    EDITION,
    EDITION_2001,
    MOST_K_PCT_BEFORE_CALVING,
    dairy_1989,
    dry_cow_by_day,
    heifer_class,
    predicted_dm_kg,
)
from rickyard.types import FloatArray

DAYS_PER_MONTH: Final = 30.4
#: A cow in milk is not told here; her calf is no reason to count her as nursing.
CALVING: Final = Births("calf", "cow", "calving", GESTATION_DAYS["cattle"], 0)

#: Gain of Holstein heifers after weaning, about 1.7 lb a day (Virginia Tech material, seen).
HEIFER_GAIN_KG: Final = 1.7 * KG_PER_LB
MOST_HEIFER_KG: Final = 700.0
#: A heifer of this age counts as in calf where no day of calving or breeding is written: they are
#: bred at 13 to 15 months. Common practice, no published source.
BRED_MONTHS: Final = 15

#: Dry matter of dry cows, between the ends of the range. Common practice.
DRY_COW_PCT_BW: Final = 2.0

SHARES_OF_DRY_MATTER: Final = Assumption(
    "Dairy stock is fed shares of its dry matter.", f"{EDITION}; from memory"
)


def dairy_needs(asked: Asked) -> NeedSeries:
    """Return what one head of a group of dairy heifers or dry cows needs on each day.

    Source: NRC (1989), Nutrient Requirements of Dairy Cattle, 6th rev. ed.; from memory.

    Parameters
    ----------
    asked : Asked
        Heifers by age, or dry cows; a cow is dry until she calves.

    Returns
    -------
    NeedSeries
        Needs per head and day, energy as TDN: shares of the dry matter they are predicted to
        eat.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import AnimalClass, Group
    >>> cows = Group("d", "Dry cows", AnimalClass.DRY_DAIRY_COW, 12, 650.0)
    >>> dairy_needs(Asked.of(cows, [date(2027, 1, 1)])).tdn_kg.round(2).tolist()
    [7.28]
    """
    dry = asked.group.animal_class is AnimalClass.DRY_DAIRY_COW
    return (_dry_cow(asked) if dry else _heifer(asked)).series()


def _told(asked: Asked, classes: list[str], weight: FloatArray, dm: FloatArray) -> NeedArrays:
    """Return needs of one animal by the class of each day, all arrays of shape (1, T)."""
    told = NeedArrays(asked, weight, EDITION)
    for one in dict.fromkeys(classes):
        where = np.array([[word == one for word in classes]])
        told.add(dairy_1989(one, dm[where]), where)
    told.most_dm_kg = np.maximum(DM_PCT_BW[1] / 100.0 * weight, dm)
    told.assumptions.append(SHARES_OF_DRY_MATTER)
    return told


def _heifer(asked: Asked) -> NeedArrays:
    group, wanted = asked.group, asked.wanted_gain_kg()
    pace = HEIFER_GAIN_KG if wanted is None else wanted
    most = MOST_HEIFER_KG if group.mature_weight_kg is None else group.mature_weight_kg
    weight, gain = asked.path(lambda _weight, _day: pace, most)
    months = (group.age_months or 0.0) + (asked.days - asked.start) / DAYS_PER_MONTH
    classes = [heifer_class(float(one)) for one in months]
    density = {one: dairy_1989(one, 1.0).me_mcal for one in dict.fromkeys(classes)}
    dm = np.asarray(predicted_dm_kg(weight, np.array([density[one] for one in classes])))
    told = _told(asked, classes, weight[np.newaxis, :], dm[np.newaxis, :])
    told.gain_kg = gain
    in_calf = np.any(asked.year(CALVING).pregnant, axis=0)
    if not asked.dated:
        in_calf = months >= BRED_MONTHS
        if np.any(in_calf):
            told.assumptions.append(
                practice(
                    f"{group.name} are counted as in calf from {BRED_MONTHS} months of age, as no "
                    "day of calving or breeding is written: write calving_on or breeding_on."
                )
            )
    told.stage = [
        f"growing, {one:.0f} months old{', in calf' if bred else ''}"
        for one, bred in zip(months, in_calf, strict=True)
    ]
    told.pregnant = in_calf[np.newaxis, :]
    source = f"{EDITION_2001}; from memory"
    told.assumptions.append(Assumption("Dairy heifers eat by the equation of 2001.", source))
    if wanted is None:
        said = f"{group.name} gain 1.7 lb ({HEIFER_GAIN_KG:.2f} kg) a day, as Holsteins do."
        told.assumptions.append(Assumption(said, "Virginia Tech material"))
    return told


def _dry_cow(asked: Asked) -> NeedArrays:
    group, year = asked.group, asked.year(CALVING, spread=False)
    weight = asked.weight()
    calved = year.births > 0.0
    dry = ~calved & np.isfinite(year.days_to_birth)
    told = NeedArrays(asked, weight, EDITION)
    told.put(dry, lambda heavy: dry_cow_by_day(heavy, year.days_to_birth[dry]))
    # Without a day of calving, and after it, by share of weight.
    told.put(~dry, lambda heavy: dairy_1989("dry_cow", DRY_COW_PCT_BW / 100.0 * heavy))
    most = np.maximum(DM_PCT_BW[1] / 100.0 * weight, told.values["dm_kg"])
    told.most_dm_kg = np.where(dry, told.values["dm_kg"], most)
    told.stage = tuple(
        "calved: no longer dry" if gone else words
        for gone, words in zip(calved[0], asked.stages(CALVING, "dry"), strict=True)
    )
    told.pregnant = year.pregnant | np.isinf(year.days_to_birth)
    told.evidence.append(PRACTICE)
    if np.any(dry):
        told.assumptions.append(
            Assumption(
                f"{group.name} are fed by the day before calving, and eat ever less to it.",
                f"{EDITION_2001}; from memory",
            )
        )
    if not np.all(dry):
        told.assumptions.append(practice(f"Dry cows eat {DRY_COW_PCT_BW:g}% of their weight."))
        told.assumptions.append(SHARES_OF_DRY_MATTER)
    if np.any(calved):
        told.assumptions.append(
            practice(
                f"{group.name} are counted as dry after calving too: take them out of the group "
                "on that day, as the needs of milking dairy cows are not worked out here."
            )
        )
    if np.any((year.days_to_birth <= CLOSE_UP_DAYS) & ~calved):
        told.most["k_pct"] = MOST_K_PCT_BEFORE_CALVING
    return told
