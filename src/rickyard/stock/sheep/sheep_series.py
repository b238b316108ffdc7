"""Sheep through the season: which row of the table holds on which day."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from typing import Final

import numpy as np

from rickyard.farm import AnimalClass, Assumption, Group
from rickyard.stock.common import (
    GESTATION_DAYS,
    Asked,
    Births,
    Cycle,
    NeedArrays,
    NeedSeries,
    column,
    find_rows,
)
from rickyard.stock.sheep.printed_cells import raise_calcium_of_twins
from rickyard.stock.sheep.sheep import (
    EDITION,
    LATE_SPLIT_PCT,
    MOST_BEYOND_KG,
    TWIN_ROWS,
    Condition,
    condition_weight_kg,
    late_pregnancy_class,
    printed_gain_g,
    ram_1985,
    sheep_1985,
    with_triplets,
)
from rickyard.types import BoolArray, FloatArray

#: Weaning when no day is given: common practice; ewe lambs as their rows say.
LAMBING: Final = Births("lamb", "ewe", "lambing", GESTATION_DAYS["sheep"], 90)
LAMBING_OF_EWE_LAMBS: Final = replace(LAMBING, weaning_days=56)
#: Days of milk that the first rows of lactation stand for, six to eight weeks.
EARLY_MILK_DAYS: Final = 56
EARLY_PREGNANCY_DAYS: Final = 105  # 15 weeks
LATE_PREGNANCY_DAYS: Final = 28  # last 4 weeks
FLUSH_BEFORE_DAYS: Final = 14
FLUSH_AFTER_DAYS: Final = 21
#: Rams are fed up six weeks before breeding; as long at it is common practice.
RAM_DAYS: Final = 42
RAM_LAMB_MONTHS: Final = 12.0

#: Lambs born and raised by a ewe, and by a ewe lamb, when nothing is said. Common practice.
YOUNG_PER_EWE: Final = 1.5
YOUNG_PER_EWE_LAMB: Final = 1.1

#: Body condition, of nine, at which a ewe counts as thin or fat. Common practice.
THIN_BELOW: Final = 4.0
FAT_ABOVE: Final = 7.0

#: Lambs lighter than this are early-weaned lambs of the table, heavier ones finishing lambs.
FINISHING_FROM_KG: Final = 30.0
LAMB_CLASSES: Final = ("lamb_finishing", "lamb_early_weaned_moderate", "lamb_early_weaned_rapid")


def sheep_needs(asked: Asked) -> NeedSeries:
    """Return what one head of a group of sheep needs on each day.

    Source: NRC (1985), Nutrient Requirements of Sheep, 6th rev. ed., Table 1.

    Parameters
    ----------
    asked : Asked
        Ewes, ewe lambs, rams or feeder lambs. ``calving_on`` is the day of lambing and ``young``
        the lambs that a ewe bears and raises. A weight too far past the rows of the class raises
        ``OutOfRange``.

    Returns
    -------
    NeedSeries
        Needs per head and day, energy as TDN.

    Examples
    --------
    >>> from datetime import date
    >>> ewes = Group("e", "Ewes", AnimalClass.EWE, 40, 70.0, calving_on=date(2027, 3, 1), young=2.0)
    >>> needs = sheep_needs(Asked.of(ewes, [date(2026, 12, 1), date(2027, 2, 20)]))
    >>> needs.stage
    ('pregnant, 90 days to lambing', 'pregnant, 9 days to lambing')
    >>> needs.tdn_kg.round(2).tolist()
    [0.77, 1.24]
    """
    group = asked.group
    if group.animal_class is AnimalClass.RAM:
        told = _ram(asked)
    elif group.animal_class is AnimalClass.FEEDER_LAMB:
        told = _growing(asked, lamb_class(group))
    elif group.animal_class is AnimalClass.EWE_LAMB:
        told = _ewe_lamb(asked) if asked.dated else _growing(asked, "replacement_ewe_lamb")
    else:
        told = _ewe(asked)
    told.limit_copper("sheep")
    return told.series()


def lamb_class(group: Group) -> str:
    """Return the class of the table whose gain comes nearest to the one wanted of lambs.

    Without a wanted gain the weight decides: finishing from 30 kg on.

    >>> lambs = Group("l", "Lambs", AnimalClass.FEEDER_LAMB, 60, 32.0)
    >>> lamb_class(lambs)
    'lamb_finishing'
    """
    weight = group.weight_kg
    usual = LAMB_CLASSES[0] if weight >= FINISHING_FROM_KG else LAMB_CLASSES[1]
    fits = [name for name in LAMB_CLASSES if np.all(_in_reach(name, weight))]
    if not fits or (group.gain_kg_per_day is None and usual in fits):
        return usual
    wanted = 1000.0 * (group.gain_kg_per_day or 0.0)
    return min(fits, key=lambda name: abs(printed_gain_g(name, weight) - wanted))


def _sheep(asked: Asked, weight: FloatArray, gain: FloatArray | float = 0.0) -> NeedArrays:
    said = "Sheep are fed by the table of 1985, without a margin of safety."
    table = [Assumption(said, EDITION)]
    return NeedArrays(asked, weight, EDITION, gain_kg=gain, assumptions=table)


def _reach(sheep_class: str) -> tuple[float, float]:
    points = column(find_rows("sheep_1985", **{"class": sheep_class}), "bw_kg")
    return float(points[0]) - MOST_BEYOND_KG, float(points[-1]) + MOST_BEYOND_KG


def _in_reach(sheep_class: str, weight: FloatArray | float) -> BoolArray:
    least, most = _reach(sheep_class)
    return np.asarray((weight >= least) & (weight <= most))


def _rows(
    told: NeedArrays,
    where: BoolArray,
    young: float,
    single: str,
    twin: str | None = None,
    share: float = 1.0,
) -> None:
    """Add the rows of mothers of so many young: singles, twins, and triplets fed as more of twins.

    Where one row holds for all, it is raised for the triplets if it is a row of twins.
    """
    twins, triplets = min(max(young - 1.0, 0.0), 1.0), min(max(young - 2.0, 0.0), 1.0)
    if twin is None:
        twin, twins, triplets = single, 1.0, triplets if single in TWIN_ROWS else 0.0
    told.put(where, partial(sheep_1985, single), share * (1.0 - twins))
    told.put(where, partial(sheep_1985, twin), share * (twins - triplets))
    told.put(where, lambda weight: with_triplets(sheep_1985(twin, weight)), share * triplets)


def _pregnancy(
    told: NeedArrays, year: Cycle, early_row: str, young: float, but: BoolArray | None = None
) -> tuple[BoolArray, BoolArray]:
    """Add the rows of pregnancy: the first 15 weeks, the last 4, and half of each in between.

    Returns where dry mothers are in the first weeks, and where in the others.
    """
    dry = year.pregnant & ~year.nursing
    early = dry & (year.day_pregnant <= EARLY_PREGNANCY_DAYS)
    late = dry & (year.days_to_birth <= LATE_PREGNANCY_DAYS)
    between = dry & ~early & ~late
    late_row = late_pregnancy_class(young, ewe_lambs=early_row.startswith("ewelamb"))
    told.put(early if but is None else early & ~but, partial(sheep_1985, early_row))
    told.put(between, partial(sheep_1985, early_row), 0.5)
    for where, share in ((late, 1.0), (between, 0.5)):
        _rows(told, where, young, late_row, share=share)
    return early, late | between


def _ewe(asked: Asked) -> NeedArrays:
    year, young = asked.year(LAMBING), asked.young(YOUNG_PER_EWE)
    weight = asked.weight(year.nursing.shape)
    told = _sheep(asked, _read_at(asked.group, weight))
    flushed = _flushed(year)
    first: BoolArray = year.nursing & (year.days_since_birth < EARLY_MILK_DAYS)
    idle, later = ~(year.pregnant | year.nursing | flushed), year.nursing & ~first
    told.put(idle, partial(sheep_1985, "ewe_maintenance"))
    told.put(flushed, partial(sheep_1985, "ewe_flushing"))
    early, late = _pregnancy(told, year, "ewe_early_gest", young, flushed)
    _rows(told, first, young, "ewe_lact_single", "ewe_lact_twin")
    # Later weeks: singles as in late pregnancy, twins as singles in their first weeks.
    _rows(told, later, young, "ewe_late_gest_130_150", "ewe_lact_single")
    told.cap(idle, "ewe_maintenance")
    told.cap(early | flushed, "ewe_early_gestation")
    told.cap(late, "ewe_late_gestation")
    told.cap(year.nursing, "ewe_lactation_twin" if young > 1.0 else "ewe_lactation_single")
    at_breeding = _flushed(asked.year(LAMBING, spread=False))[0]
    told.stage = tuple(
        "flushed for breeding" if flush else word
        for flush, word in zip(at_breeding, asked.stages(LAMBING), strict=True)
    )
    told.weight_kg, told.pregnant, told.nursing = weight, year.pregnant, year.nursing
    if 100.0 * young >= LATE_SPLIT_PCT:
        last, dry = year.days_to_birth <= LATE_PREGNANCY_DAYS, year.pregnant & ~year.nursing
        stages = [(dry & ~last, "early_gestation"), (dry & last, "late_gestation")]
        stages += [(first, "early_lactation"), (later, "mid_lactation")]
        raise_calcium_of_twins(told, "sheep", "Ewes", stages)
    told.assumptions += asked.say_births(young, LAMBING)
    return told


def _flushed(year: Cycle) -> BoolArray:
    """Return where dry mothers are in the two weeks before breeding or the three after it."""
    bred = year.days_to_birth - LAMBING.gestation_days
    return ~year.nursing & (bred <= FLUSH_BEFORE_DAYS) & (bred > -FLUSH_AFTER_DAYS)


def _read_at(group: Group, weight: FloatArray) -> FloatArray:
    """Return the weight at which rows are read for condition, held where the table ends."""
    score = group.condition_score
    condition: Condition = "moderate"
    if score is not None and not THIN_BELOW <= score <= FAT_ABOVE:
        condition = "thin" if score < THIN_BELOW else "fat"
    read_at = np.asarray(condition_weight_kg(weight, condition))
    if condition == "moderate":
        return read_at
    held = np.clip(read_at, *_reach("ewe_maintenance"))
    return np.where(_in_reach("ewe_maintenance", weight), held, weight)


def _path(asked: Asked, sheep_class: str, stop: float = np.inf) -> tuple[FloatArray, FloatArray]:
    """Return weight and gain of growing sheep by the gain of their rows, or the one wanted."""
    most, mature = _reach(sheep_class)[1], asked.group.mature_weight_kg
    wanted = asked.wanted_gain_kg()

    def gain(weight: float, day: int) -> float:
        if day >= stop:
            return 0.0
        return float(printed_gain_g(sheep_class, weight)) / 1000.0 if wanted is None else wanted

    return asked.path(gain, most if mature is None else min(most, mature))


def _growing(asked: Asked, sheep_class: str) -> NeedArrays:
    weight, gain = _path(asked, sheep_class)
    told = _sheep(asked, weight[np.newaxis, :], gain)
    told.add(sheep_1985(sheep_class, told.weight_kg))
    told.cap(True, "lamb")
    told.stage = tuple("growing" if one > 0.0 else "holding weight" for one in gain)
    said = f"{asked.group.name} are fed by the row {sheep_class}, whose gain goes with its weight."
    told.assumptions.append(Assumption(said, EDITION))
    return told


def _ewe_lamb(asked: Asked) -> NeedArrays:
    births, young = LAMBING_OF_EWE_LAMBS, asked.young(YOUNG_PER_EWE_LAMB)
    year, at_start = asked.year(births), asked.year(births, spread=False, start=True)
    stop = float(asked.start)
    if at_start.births[0, 0] == 0.0:
        stop += int(at_start.days_to_birth[0, 0]) - LATE_PREGNANCY_DAYS
    weight, gain = _path(asked, "replacement_ewe_lamb", stop)
    told = _sheep(asked, np.broadcast_to(weight, year.nursing.shape), gain)
    idle = ~(year.pregnant | year.nursing)
    told.put(idle, partial(sheep_1985, "replacement_ewe_lamb"))
    early, late = _pregnancy(told, year, "ewelamb_early_gest", young)
    _rows(told, year.nursing, young, "ewelamb_lact_single", "ewelamb_lact_twin")
    told.cap(idle | early, "lamb")
    told.cap(late, "ewe_late_gestation")
    told.cap(year.nursing, "ewe_lactation_twin")
    told.stage = asked.stages(births, "growing")
    told.pregnant, told.nursing = year.pregnant, year.nursing
    told.assumptions += asked.say_births(young, births)
    return told


def _ram(asked: Asked) -> NeedArrays:
    months = asked.group.age_months
    if months is not None and months < RAM_LAMB_MONTHS:
        return _growing(asked, "replacement_ram_lamb")
    told, fed_up = _sheep(asked, asked.weight()), asked.near_breeding(RAM_DAYS)
    told.put(fed_up, partial(ram_1985, breeding=True))
    told.put(~fed_up, ram_1985)
    told.cap(True, "ewe_early_gestation")
    words = ("breeding, and the six weeks before", "holding weight")
    told.stage = tuple(words[0] if up else words[1] for up in fed_up[0])
    return told
