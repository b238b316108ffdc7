"""Horses, donkeys and mules through the season: work, foaling, milk, growth, cold."""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.evidence import FROM_MEMORY, MEMORY, PRACTICE
from rickyard.farm import AnimalClass, Assumption, ColdRule, Group, Sex
from rickyard.quantities import OutOfRange
from rickyard.stock.common import (
    GESTATION_DAYS,
    NO_DATES,
    Asked,
    Births,
    NeedArrays,
    NeedSeries,
    practice,
    ruminant_tdn_for_horse_kg,
)
from rickyard.stock.horses import donkey
from rickyard.stock.horses.horse import (
    EDITION,
    Work,
    gestation_month,
    horse_work,
    mare_in_milk,
    mare_milk_kg,
    mare_pregnant,
    stallion,
)
from rickyard.stock.horses.horse_diet import (
    LEAST_FORAGE_PCT_BW,
    LOWER_CRITICAL_ADAPTED_C,
    MOST_INTAKE_PCT_BW,
    WANTED_FORAGE_PCT_BW,
    horse_cold_mcal,
)
from rickyard.stock.horses.horse_growth import (
    DAYS_PER_MONTH,
    MOST_GROWTH_MONTHS,
    horse_gain_at_kg,
    horse_weight_at_kg,
    young_horse,
)
from rickyard.types import FloatArray

MONTH_DAYS: Final = 30.0
MILK_MONTHS: Final = 6
#: Weaned at six months, the length of the table.
FOALING: Final = Births("foal", "mare", "foaling", GESTATION_DAYS["horse"], 180)

TDN_OF_HAY: Final = Assumption(
    "Energy of horses is digestible energy; as TDN it is counted 10% higher, because the TDN of a "
    "hay report is that of ruminants.",
    "from memory; Kentucky Equine Research for 4.4 Mcal per kg of TDN",
)


def horse_needs(asked: Asked) -> NeedSeries:
    """Return what one horse, donkey or mule of a group needs on each day.

    Source: NRC (2007), Nutrient Requirements of Horses, 6th rev. ed.

    Parameters
    ----------
    asked : Asked
        Horses, mares, young horses, donkeys or mules. ``calving_on`` is the day of foaling,
        ``work`` the work they do; an intact male is a stallion. Cold counts when a rule of cold is
        chosen and weather is given. Young horses are four months old or more.

    Returns
    -------
    NeedSeries
        Needs per head and day, energy as digestible energy.

    Examples
    --------
    >>> from datetime import date
    >>> mares = Group("m", "Mares", AnimalClass.MARE, 3, 500.0, calving_on=date(2027, 4, 1))
    >>> needs = horse_needs(Asked.of(mares, [date(2027, 3, 15), date(2027, 4, 15)]))
    >>> needs.energy_mcal.round(1).tolist(), needs.stage[1]
    ([21.4, 31.7], 'nursing, week 3')
    """
    tell = {
        AnimalClass.DONKEY: _donkey,
        AnimalClass.MULE: _donkey,
        AnimalClass.YOUNG_HORSE: _young,
        AnimalClass.MARE: _mare,
    }.get(asked.group.animal_class, _adult)
    told = tell(asked)
    _add_cold(told)
    told.values["tdn_kg"] = np.asarray(ruminant_tdn_for_horse_kg(told.values["de_mcal"]))
    told.least["forage_pct_bw"] = LEAST_FORAGE_PCT_BW
    told.assumptions.append(TDN_OF_HAY)
    return told.series()


def _horses(asked: Asked, weight: FloatArray) -> NeedArrays:
    return NeedArrays(
        asked,
        weight,
        EDITION,
        "de",
        most_dm_kg=MOST_INTAKE_PCT_BW / 100.0 * weight,
        least_dm_kg=WANTED_FORAGE_PCT_BW / 100.0 * weight,
    )


def _work(group: Group) -> Work:
    return "none" if group.work is None else group.work.value


def _adult(asked: Asked) -> NeedArrays:
    group, work = asked.group, _work(asked.group)
    told, idle = _horses(asked, asked.weight()), work == "none"
    if group.sex is Sex.INTACT_MALE:
        told.add(stallion(told.weight_kg, breeding=not idle))
        words = "stallion, not breeding" if idle else "breeding"
    else:
        told.add(horse_work(told.weight_kg, work))
        words = "idle" if idle else f"{work.replace('_', ' ')} work"
    told.stage = (words,) * len(asked.days)
    if group.work is None:
        told.assumptions.append(practice(f"{group.name} are not worked."))
    return told


def _mare(asked: Asked) -> NeedArrays:
    group, year = asked.group, asked.year(FOALING)
    told = _horses(asked, asked.weight(year.nursing.shape))
    pregnant, milking = year.pregnant & ~year.nursing, year.nursing
    carried = gestation_month(np.maximum(year.day_pregnant[pregnant], 1.0))
    milked = np.floor(year.days_since_birth[milking] / MONTH_DAYS) + 1.0
    milked = np.minimum(milked, float(MILK_MONTHS))
    told.put(~(pregnant | milking), lambda weight: horse_work(weight, _work(group)))
    told.put(pregnant, lambda weight: mare_pregnant(weight, carried))
    told.put(milking, lambda weight: mare_in_milk(weight, milked))
    told.milk_kg = np.zeros(milking.shape)
    told.milk_kg[milking] = mare_milk_kg(told.weight_kg[milking], milked)
    told.stage = asked.stages(FOALING)
    told.pregnant, told.nursing = year.pregnant, milking
    if not asked.dated:
        told.assumptions.append(practice(f"{group.name}: {NO_DATES}"))
        return told
    carry = f"Mares carry {FOALING.gestation_days} days."
    told.assumptions.append(Assumption(carry, FROM_MEMORY))
    if group.weaning_on is None:
        told.assumptions.append(practice("Foals are weaned at six months."))
    return told


def _young(asked: Asked) -> NeedArrays:
    group = asked.group
    mature, age_now = group.mature_weight_kg, group.age_months
    if mature is None or age_now is None:
        raise OutOfRange(f"{group.name}: young horses need an age and a mature weight.")
    age = age_now + (asked.days - asked.start) / DAYS_PER_MONTH
    grown, held = age > MOST_GROWTH_MONTHS, np.minimum(age, MOST_GROWTH_MONTHS)
    # A weight as measured, the gain of the curve from there on.
    now = float(horse_weight_at_kg(mature, min(age_now, MOST_GROWTH_MONTHS)))
    weight = group.weight_kg + np.asarray(horse_weight_at_kg(mature, held)) - now
    told, work = _horses(asked, weight[np.newaxis, :]), _work(group)
    told.put(
        ~grown[np.newaxis, :],
        lambda weight: young_horse(mature, age[~grown], work, weight_kg=weight),
    )
    told.put(grown[np.newaxis, :], lambda weight: horse_work(weight, work))
    told.stage = tuple(
        "grown" if is_grown else f"growing, {months:.0f} months old"
        for is_grown, months in zip(grown, age, strict=True)
    )
    told.gain_kg = np.where(grown, 0.0, np.asarray(horse_gain_at_kg(mature, held)))
    # Weanlings eat up to 3.5 % of weight (Virginia Tech 406-473, seen), air-dry.
    told.most_dm_kg = np.maximum(told.most_dm_kg, told.values["dm_kg"])
    return told


def _donkey(asked: Asked) -> NeedArrays:
    """Return donkeys and mules: their own energy and protein, the horse's minerals per kg."""
    told = _horses(asked, asked.weight())
    told.add(horse_work(told.weight_kg))
    told.stage = ("holding weight",) * len(asked.days)
    mule, weight = asked.group.animal_class is AnimalClass.MULE, told.weight_kg
    energy = donkey.donkey_de_mcal(weight, "mule" if mule else "donkey")
    told.values["de_mcal"] = np.asarray(energy)
    if not mule:
        told.least_dm_kg, told.most_dm_kg = (end / 100.0 * weight for end in donkey.DM_PCT_BW)
        told.values["cp_g"] = np.asarray(donkey.donkey_cp_g(weight))
        told.values["dm_kg"] = sum(donkey.DM_PCT_BW) / 200.0 * weight
    told.edition = donkey.EDITION
    told.evidence.append(PRACTICE)
    told.assumptions.append(
        Assumption(
            "Donkeys need 0.75 and mules 0.90 of a horse's energy per kg; minerals are a horse's.",
            "usual planning figure; mules and minerals common practice",
        )
    )
    return told


def _add_cold(told: NeedArrays) -> None:
    conditions = told.asked.conditions
    weather = conditions.weather
    if weather is None or conditions.cold_rule is ColdRule.NONE:
        return
    air = weather.temperature_c[weather.places(told.asked.dates)]
    air = np.where(np.isnan(air), np.inf, air)
    cold = np.asarray(horse_cold_mcal(told.weight_kg, air, adapted=True))
    told.values["de_mcal"] = told.values["de_mcal"] + cold
    if np.any(cold > 0.0):
        told.evidence.append(MEMORY)
        critical = LOWER_CRITICAL_ADAPTED_C
        said = f"below {1.8 * critical + 32.0:.0f} °F ({critical:.0f} °C)."
        source = f"{EDITION}; from memory"
        told.assumptions.append(Assumption(f"Horses in winter coat feel cold {said}", source))
