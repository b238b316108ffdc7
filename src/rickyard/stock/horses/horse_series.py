"""Horses, donkeys and mules through the season: work, foaling, milk, growth, cold."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Final

import numpy as np

from rickyard.evidence import FROM_MEMORY, MEMORY, PRACTICE
from rickyard.farm import AnimalClass, Assumption, ColdRule, Group, Sex, Work
from rickyard.quantities import OutOfRange
from rickyard.stock.common import (
    GESTATION_DAYS,
    NO_DATES,
    Conditions,
    HorseNeed,
    NeedArrays,
    NeedSeries,
    mean_mother,
    mothers,
    ordinals,
    practice,
    ruminant_tdn_for_horse_kg,
    series_of,
    stage_words,
    steady_weight,
    weakest,
    weighing_day,
)
from rickyard.stock.horses import donkey
from rickyard.stock.horses.horse import (
    EDITION,
    gestation_month,
    horse_work,
    mare_in_milk,
    mare_milk_kg,
    mare_pregnant,
    stallion,
)
from rickyard.stock.horses.horse import Work as WorkWord
from rickyard.stock.horses.horse_diet import (
    LEAST_FORAGE_PCT_BW,
    LOWER_CRITICAL_ADAPTED_C,
    MOST_INTAKE_PCT_BW,
    WANTED_FORAGE_PCT_BW,
    horse_cold_mcal,
)
from rickyard.stock.horses.horse_growth import horse_gain_at_kg, horse_weight_at_kg, young_horse
from rickyard.types import BoolArray, FloatArray, IntArray

GESTATION: Final = GESTATION_DAYS["horse"]
MONTH_DAYS: Final = 30.0
MILK_MONTHS: Final = 6
WEANING_DAYS: Final = 180  # six months, the length of the table
GROWTH_DAYS_PER_MONTH: Final = 30.4
GROWN_MONTHS: Final = 24.0

#: What is told of horses beside energy, protein, calcium and phosphorus.
MORE: Final = (
    "lysine_g", "mg_g", "k_g", "na_g", "cl_g", "s_g", "cu_mg", "zn_mg", "mn_mg", "fe_mg", "se_mg",
    "i_mg", "co_mg", "vitamin_a_iu", "vitamin_d_iu", "vitamin_e_iu",
)  # fmt: skip

TDN_OF_HAY: Final = Assumption(
    "Energy of horses is digestible energy; as TDN it is counted 10% higher, because the TDN of a "
    "hay report is that of ruminants.",
    "from memory; Kentucky Equine Research for 4.4 Mcal per kg of TDN",
)


def missing_horse_inputs(group: Group) -> tuple[str, ...]:
    """Return the fields of a group of horses that are needed and not given.

    Parameters
    ----------
    group : Group
        The group.

    Returns
    -------
    tuple of str
        Names of fields of ``Group``.

    Examples
    --------
    >>> missing_horse_inputs(Group("y", "Yearlings", AnimalClass.YOUNG_HORSE, 4, 320.0))
    ('age_months', 'mature_weight_kg')
    """
    if group.animal_class is not AnimalClass.YOUNG_HORSE:
        return ()
    return tuple(
        name for name in ("age_months", "mature_weight_kg") if getattr(group, name) is None
    )


def horse_needs(group: Group, days: Sequence[date], conditions: Conditions) -> NeedSeries:
    """Return what one horse, donkey or mule of a group needs on each day.

    Parameters
    ----------
    group : Group
        Horses, mares, young horses, donkeys or mules. ``calving_on`` is the day of foaling,
        ``work`` the work they do; an intact male is a stallion.
    days : sequence of date, length T
        The days asked for.
    conditions : Conditions
        What the days are like; cold counts when a rule of cold is chosen and weather is given.

    Returns
    -------
    NeedSeries
        Needs per head and day, energy as digestible energy.

    Raises
    ------
    OutOfRange
        If young horses are under four months old.

    References
    ----------
    .. [1] NRC (2007), Nutrient Requirements of Horses, 6th rev. ed.

    Examples
    --------
    >>> mares = Group("m", "Mares", AnimalClass.MARE, 3, 500.0, calving_on=date(2027, 4, 1))
    >>> needs = horse_needs(mares, [date(2027, 3, 15), date(2027, 4, 15)], Conditions())
    >>> needs.energy_mcal.round(1).tolist(), needs.stage[1]
    ([21.4, 31.7], 'nursing, week 3')
    """
    asked = ordinals(days)
    start = weighing_day(group, days, conditions)
    if group.animal_class in (AnimalClass.DONKEY, AnimalClass.MULE):
        told = _donkey(group, asked)
    elif group.animal_class is AnimalClass.YOUNG_HORSE:
        told = _young(group, asked, start)
    elif group.animal_class is AnimalClass.MARE:
        told = _mare(group, asked)
    else:
        told = _adult(group, asked)
    _add_cold(told, days, conditions)
    told.tdn_kg = np.asarray(ruminant_tdn_for_horse_kg(told.energy_mcal))
    told.least["forage_pct_bw"] = LEAST_FORAGE_PCT_BW
    told.assumptions.append(TDN_OF_HAY)
    return series_of(group, asked, told)


class _Days:
    """Needs of N horses on T days, filled class by class."""

    def __init__(self, weight: FloatArray) -> None:
        self.weight = weight
        names = ("de_mcal", "cp_g", "ca_g", "p_g", "dm_kg", *MORE)
        self.values = {name: np.zeros(weight.shape) for name in names}
        self.evidence: list[str] = []
        self.flags: list[str] = []

    def put(self, where: BoolArray, need: HorseNeed) -> None:
        """Set the needs of some days."""
        for name, values in self.values.items():
            values[where] = getattr(need, name)
        self.evidence.append(need.evidence)
        self.flags.extend(need.flags)

    def told(self, group: Group, stage: tuple[str, ...]) -> NeedArrays:
        values, shape = self.values, self.weight.shape
        none = np.zeros(shape, dtype=np.bool_)
        flags = dict.fromkeys(self.flags)
        return NeedArrays(
            energy_basis="de",
            edition=EDITION,
            evidence=weakest(*self.evidence),
            weight_kg=self.weight,
            energy_mcal=values["de_mcal"],
            tdn_kg=np.zeros(shape),
            cp_g=values["cp_g"],
            ca_g=values["ca_g"],
            p_g=values["p_g"],
            dm_kg=values["dm_kg"],
            most_dm_kg=MOST_INTAKE_PCT_BW / 100.0 * self.weight,
            least_dm_kg=WANTED_FORAGE_PCT_BW / 100.0 * self.weight,
            milk_kg=np.zeros(shape),
            gain_kg=np.zeros(shape),
            pregnant=none,
            nursing=none,
            stage=stage,
            more={name: values[name] for name in MORE},
            assumptions=[practice(f"{group.name}: {flag}.") for flag in flags],
        )


def _work(group: Group) -> WorkWord:
    return "none" if group.work is None else group.work.value


def _adult(group: Group, asked: IntArray) -> NeedArrays:
    days = _Days(steady_weight(group, (1, len(asked))))
    everywhere = np.ones(days.weight.shape, dtype=np.bool_)
    work = Work.NONE if group.work is None else group.work
    if group.sex is Sex.INTACT_MALE:
        breeding = work is not Work.NONE
        days.put(everywhere, stallion(days.weight[everywhere], breeding=breeding))
        words = "breeding" if breeding else "stallion, not breeding"
    else:
        days.put(everywhere, horse_work(days.weight[everywhere], _work(group)))
        words = "idle" if work is Work.NONE else f"{work.value.replace('_', ' ')} work"
    told = days.told(group, (words,) * len(asked))
    if group.work is None:
        told.assumptions.append(practice(f"{group.name} are not worked."))
    return told


def _mare(group: Group, asked: IntArray) -> NeedArrays:
    year = mothers(group, asked, GESTATION, WEANING_DAYS)
    days = _Days(steady_weight(group, year.day_pregnant.shape))
    weight = days.weight
    pregnant = year.pregnant & ~year.nursing
    idle = ~(pregnant | year.nursing)
    work = _work(group)
    if np.any(idle):
        days.put(idle, horse_work(weight[idle], work))
    if np.any(pregnant):
        month = np.asarray(gestation_month(np.maximum(year.day_pregnant[pregnant], 1.0)))
        days.put(pregnant, mare_pregnant(weight[pregnant], month))
    milk = np.zeros(weight.shape)
    if np.any(year.nursing):
        month = np.floor(year.days_since_birth[year.nursing] / MONTH_DAYS) + 1.0
        month = np.minimum(month, float(MILK_MONTHS))
        days.put(year.nursing, mare_in_milk(weight[year.nursing], month))
        from_month = np.asarray(mare_milk_kg(weight[year.nursing], month))
        milk[year.nursing] = from_month
    stage = stage_words(mean_mother(group, asked, GESTATION, WEANING_DAYS), "foaling")
    told = days.told(group, stage)
    told.pregnant, told.nursing, told.milk_kg = year.pregnant, year.nursing, milk
    if group.calving_on is None and group.breeding_on is None:
        told.assumptions.append(practice(f"{group.name}: {NO_DATES}"))
        return told
    told.assumptions.append(Assumption(f"Mares carry {GESTATION} days.", FROM_MEMORY))
    if group.weaning_on is None:
        told.assumptions.append(practice("Foals are weaned at six months."))
    return told


def _young(group: Group, asked: IntArray, start: int) -> NeedArrays:
    mature, age_now = group.mature_weight_kg, group.age_months
    if mature is None or age_now is None:
        raise OutOfRange(f"{group.name}: young horses need an age and a mature weight.")
    age = age_now + (asked - start) / GROWTH_DAYS_PER_MONTH
    grown = age > GROWN_MONTHS
    held = np.minimum(age, GROWN_MONTHS)
    # A weight as measured, the gain of the curve from there on.
    now = float(horse_weight_at_kg(mature, min(age_now, GROWN_MONTHS)))
    weight = group.weight_kg + np.asarray(horse_weight_at_kg(mature, held)) - now
    days = _Days(weight[np.newaxis, :])
    work = _work(group)
    growing = ~grown[np.newaxis, :]
    if np.any(growing):
        days.put(growing, young_horse(mature, age[~grown], work, weight_kg=weight[~grown]))
    if np.any(grown):
        days.put(~growing, horse_work(weight[grown], work))
    stage = tuple(
        "grown" if is_grown else f"growing, {months:.0f} months old"
        for is_grown, months in zip(grown, age, strict=True)
    )
    told = days.told(group, stage)
    gain = np.where(grown, 0.0, np.asarray(horse_gain_at_kg(mature, held)))
    told.gain_kg = gain[np.newaxis, :]
    # Weanlings eat up to 3.5 % of weight (Virginia Tech 406-473, seen), air-dry.
    told.most_dm_kg = np.maximum(told.most_dm_kg, told.dm_kg)
    return told


def _donkey(group: Group, asked: IntArray) -> NeedArrays:
    """Return donkeys and mules: their own energy and protein, the horse's minerals per kg."""
    days = _Days(steady_weight(group, (1, len(asked))))
    everywhere = np.ones(days.weight.shape, dtype=np.bool_)
    days.put(everywhere, horse_work(days.weight[everywhere]))
    told = days.told(group, ("holding weight",) * len(asked))
    mule = group.animal_class is AnimalClass.MULE
    told.energy_mcal = np.asarray(
        donkey.donkey_de_mcal(told.weight_kg, "mule" if mule else "donkey")
    )
    low, high = donkey.DM_PCT_BW
    if not mule:
        told.cp_g = np.asarray(donkey.donkey_cp_g(told.weight_kg))
        told.dm_kg = (low + high) / 200.0 * told.weight_kg
        told.least_dm_kg, told.most_dm_kg = (
            share / 100.0 * told.weight_kg for share in (low, high)
        )
    told.edition, told.evidence = donkey.EDITION, PRACTICE
    told.assumptions.append(
        Assumption(
            "Donkeys need 0.75 and mules 0.90 of a horse's energy per kg; minerals are a horse's.",
            "usual planning figure; mules and minerals common practice",
        )
    )
    return told


def _add_cold(told: NeedArrays, days: Sequence[date], conditions: Conditions) -> None:
    if conditions.weather is None or conditions.cold_rule is ColdRule.NONE:
        return
    weather = conditions.weather
    air = weather.temperature_c[weather.places(days)]
    cold = np.asarray(
        horse_cold_mcal(told.weight_kg, np.where(np.isnan(air), np.inf, air), adapted=True)
    )
    told.energy_mcal = told.energy_mcal + cold
    if np.any(cold > 0.0):
        told.evidence = weakest(told.evidence, MEMORY)
        told.assumptions.append(
            Assumption(
                "Horses in winter coat feel cold below "
                f"{1.8 * LOWER_CRITICAL_ADAPTED_C + 32.0:.0f} °F "
                f"({LOWER_CRITICAL_ADAPTED_C:.0f} °C).",
                f"{EDITION}; from memory",
            )
        )
