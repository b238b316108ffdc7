"""Sheep through the season: which row of the table holds on which day."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from typing import Final

import numpy as np

from rickyard.farm import AnimalClass, Assumption, Group
from rickyard.stock.common import (
    GESTATION_DAYS,
    BirthWords,
    Conditions,
    Mothers,
    NeedArrays,
    NeedSeries,
    check_young,
    column,
    find_row,
    find_rows,
    mean_mother,
    mothers,
    ordinals,
    practice,
    say_births,
    series_of,
    stage_words,
    steady_weight,
    wanted_gain_kg,
    weakest,
    weighing_day,
    weight_path,
)
from rickyard.stock.sheep.printed_cells import raise_calcium_of_twins
from rickyard.stock.sheep.sheep import (
    EDITION,
    LATE_SPLIT_PCT,
    MOST_BEYOND_KG,
    Condition,
    condition_weight_kg,
    late_pregnancy_class,
    printed_gain_g,
    ram_1985,
)
from rickyard.stock.sheep.sheep_rows import MORE, Rows
from rickyard.types import BoolArray, FloatArray, IntArray

GESTATION: Final = GESTATION_DAYS["sheep"]
#: Weaning when no day is given: common practice; ewe lambs as their rows say.
WEANING_DAYS: Final = 90
EWE_LAMB_WEANING_DAYS: Final = 56
LAMBING: Final = BirthWords("lamb", "ewe", "lambing", GESTATION, WEANING_DAYS)
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

SAFE_COPPER_PPM: Final = float(find_row("copper", animal="sheep", kind="safe_upper")["high_ppm"])


def missing_sheep_inputs(group: Group) -> tuple[str, ...]:
    """Return the fields of a group of sheep that are needed and not given: none.

    Parameters
    ----------
    group : Group
        The group.

    Returns
    -------
    tuple of str
        Empty.

    Examples
    --------
    >>> missing_sheep_inputs(Group("e", "Ewes", AnimalClass.EWE, 10, 70.0))
    ()
    """
    return ()


def sheep_needs(group: Group, days: Sequence[date], conditions: Conditions) -> NeedSeries:
    """Return what one head of a group of sheep needs on each day.

    Parameters
    ----------
    group : Group
        Ewes, ewe lambs, rams or feeder lambs. ``calving_on`` is the day of lambing and ``young``
        the lambs that a ewe bears and raises.
    days : sequence of date, length T
        The days asked for.
    conditions : Conditions
        What the days are like.

    Returns
    -------
    NeedSeries
        Needs per head and day, energy as TDN.

    Raises
    ------
    OutOfRange
        If a weight lies too far past the rows of its class.

    References
    ----------
    .. [1] NRC (1985), Nutrient Requirements of Sheep, 6th rev. ed., Table 1.

    Examples
    --------
    >>> ewes = Group("e", "Ewes", AnimalClass.EWE, 40, 70.0, calving_on=date(2027, 3, 1), young=2.0)
    >>> needs = sheep_needs(ewes, [date(2026, 12, 1), date(2027, 2, 20)], Conditions())
    >>> needs.stage
    ('pregnant, 90 days to lambing', 'pregnant, 9 days to lambing')
    >>> needs.tdn_kg.round(2).tolist()
    [0.77, 1.24]
    """
    asked = ordinals(days)
    start = weighing_day(group, days, conditions)
    if group.animal_class is AnimalClass.RAM:
        told = _ram(group, asked, start)
    elif group.animal_class is AnimalClass.FEEDER_LAMB:
        told = _growing(group, asked, start, lamb_class(group), "lamb")
    elif group.animal_class is AnimalClass.EWE_LAMB:
        told = _ewe_lamb(group, asked, start)
    else:
        told = _ewe(group, asked)
    told.most["cu_ppm"] = SAFE_COPPER_PPM
    return series_of(group, asked, told)


def lamb_class(group: Group) -> str:
    """Return the class of the table whose gain comes nearest to the one wanted of lambs.

    ``group``: feeder lambs. Without a wanted gain the weight decides: finishing from 30 kg on.

    >>> lambs = Group("l", "Lambs", AnimalClass.FEEDER_LAMB, 60, 32.0)
    >>> lamb_class(lambs)
    'lamb_finishing'
    """
    weight = group.weight_kg
    usual = LAMB_CLASSES[0] if weight >= FINISHING_FROM_KG else LAMB_CLASSES[1]
    fits = [name for name in LAMB_CLASSES if _in_reach(name, weight)]
    if not fits or (group.gain_kg_per_day is None and usual in fits):
        return usual
    wanted = 1000.0 * (group.gain_kg_per_day or 0.0)
    return min(fits, key=lambda name: abs(printed_gain_g(name, weight) - wanted))


def _in_reach(sheep_class: str, weight: float) -> bool:
    points = column(find_rows("sheep_1985", **{"class": sheep_class}), "bw_kg")
    return bool(points[0] - MOST_BEYOND_KG <= weight <= points[-1] + MOST_BEYOND_KG)


def _told(group: Group, rows: Rows, stage: tuple[str, ...], mother: Mothers | None) -> NeedArrays:
    values, shape = rows.values, rows.weight.shape
    none = np.zeros(shape, dtype=np.bool_)
    weight = rows.weight
    said = [practice(f"{group.name}: {flag}.") for flag in dict.fromkeys(rows.flags)]
    table = Assumption("Sheep are fed by the table of 1985, without a margin of safety.", EDITION)
    return NeedArrays(
        energy_basis="tdn",
        edition=EDITION,
        evidence=weakest(*rows.evidence),
        weight_kg=weight,
        energy_mcal=values["me_mcal"],
        tdn_kg=values["tdn_kg"],
        cp_g=values["cp_g"],
        ca_g=values["ca_g"],
        p_g=values["p_g"],
        dm_kg=values["dm_kg"],
        most_dm_kg=np.maximum(rows.most_pct_bw / 100.0 * weight, values["dm_kg"]),
        least_dm_kg=np.full(shape, np.nan),
        milk_kg=np.zeros(shape),
        gain_kg=np.zeros(shape),
        pregnant=none if mother is None else mother.pregnant,
        nursing=none if mother is None else mother.nursing,
        stage=stage,
        more={name: values[name] for name in MORE},
        assumptions=[table, *said],
    )


def _pregnancy(year: Mothers) -> tuple[BoolArray, BoolArray, BoolArray]:
    """Return where dry mothers are in the first 15 weeks, in the last 4, and in between."""
    dry = year.pregnant & ~year.nursing
    early = dry & (year.day_pregnant <= EARLY_PREGNANCY_DAYS)
    late = dry & (year.days_to_birth <= LATE_PREGNANCY_DAYS)
    return early, late, dry & ~early & ~late


def _flushed(year: Mothers) -> BoolArray:
    """Return where dry mothers are in the two weeks before breeding or the three after it."""
    bred = year.days_to_breeding
    return ~year.nursing & (bred <= FLUSH_BEFORE_DAYS) & (bred > -FLUSH_AFTER_DAYS)


def _ewe(group: Group, asked: IntArray) -> NeedArrays:
    year = mothers(group, asked, GESTATION, WEANING_DAYS)
    weight = steady_weight(group, year.day_pregnant.shape)
    rows = Rows(_read_at(group, weight))
    young = check_young(YOUNG_PER_EWE if group.young is None else group.young)
    flushed = _flushed(year)
    early, late, between = _pregnancy(year)
    idle = ~(year.pregnant | year.nursing | flushed)
    late_class = late_pregnancy_class(young)
    rows.row(idle, "ewe_maintenance")
    rows.row(flushed, "ewe_flushing")
    rows.row(early & ~flushed, "ewe_early_gest")
    rows.late(late, late_class, young)
    rows.row(between, "ewe_early_gest", 0.5)
    rows.late(between, late_class, young, 0.5)
    first = year.nursing & (year.days_since_birth < EARLY_MILK_DAYS)
    later = year.nursing & ~first
    rows.litter(first, young, ("ewe_lact_single", "ewe_lact_twin"))
    # Later weeks: singles as in late pregnancy, twins as singles in their first weeks.
    rows.litter(later, young, ("ewe_late_gest_130_150", "ewe_lact_single"))
    rows.cap(idle, "ewe_maintenance")
    rows.cap(early | flushed, "ewe_early_gestation")
    rows.cap(late | between, "ewe_late_gestation")
    rows.cap(year.nursing, "ewe_lactation_twin" if young > 1.0 else "ewe_lactation_single")
    mean = mean_mother(group, asked, GESTATION, WEANING_DAYS)
    words = stage_words(mean, "lambing")
    at_breeding = _flushed(mean)[0]
    stage = tuple(
        "flushed for breeding" if flush else word
        for flush, word in zip(at_breeding, words, strict=True)
    )
    told = _told(group, rows, stage, year)
    told.weight_kg = weight
    _calcium_of_twins(told, year, young)
    told.assumptions += say_births(group, young, LAMBING)
    return told


def _read_at(group: Group, weight: FloatArray) -> FloatArray:
    """Return the weight at which rows are read for condition, held where the table ends."""
    condition = _condition(group)
    read_at = np.asarray(condition_weight_kg(weight, condition))
    if condition == "moderate":
        return read_at
    points = column(find_rows("sheep_1985", **{"class": "ewe_maintenance"}), "bw_kg")
    least, most = points[0] - MOST_BEYOND_KG, points[-1] + MOST_BEYOND_KG
    inside = (weight >= least) & (weight <= most)
    return np.where(inside, np.clip(read_at, least, most), weight)


def _condition(group: Group) -> Condition:
    score = group.condition_score
    if score is None or THIN_BELOW <= score <= FAT_ABOVE:
        return "moderate"
    return "thin" if score < THIN_BELOW else "fat"


def _calcium_of_twins(told: NeedArrays, year: Mothers, young: float) -> None:
    """Raise calcium to that of the newer edition, which is printed for ewes with twins."""
    if 100.0 * young < LATE_SPLIT_PCT:
        return
    late = year.pregnant & (year.days_to_birth <= LATE_PREGNANCY_DAYS)
    first = year.nursing & (year.days_since_birth < EARLY_MILK_DAYS)
    stages = [
        (year.pregnant & ~late & ~year.nursing, "early_gestation"),
        (late & ~year.nursing, "late_gestation"),
        (first, "early_lactation"),
        (year.nursing & ~first, "mid_lactation"),
    ]
    raise_calcium_of_twins(told, "sheep", "Ewes", stages)


def _path(
    group: Group, asked: IntArray, start: int, sheep_class: str, stop: int | None = None
) -> tuple[FloatArray, FloatArray]:
    """Return weight and gain of growing sheep by the gain of their rows, or the one wanted."""
    points = column(find_rows("sheep_1985", **{"class": sheep_class}), "bw_kg")
    most = points[-1] + MOST_BEYOND_KG
    if group.mature_weight_kg is not None:
        most = min(most, group.mature_weight_kg)
    wanted, assumed = wanted_gain_kg(group, start, 0.0)

    def gain(weight: float, day: int) -> float:
        if stop is not None and day >= stop:
            return 0.0
        return float(printed_gain_g(sheep_class, weight)) / 1000.0 if assumed else wanted

    return weight_path(group.weight_kg, start, asked, gain, float(most))


def _growing(
    group: Group, asked: IntArray, start: int, sheep_class: str, hay_rate: str
) -> NeedArrays:
    weight, gain = _path(group, asked, start, sheep_class)
    rows = Rows(weight[np.newaxis, :])
    everywhere = np.ones(rows.weight.shape, dtype=np.bool_)
    rows.row(everywhere, sheep_class)
    rows.cap(everywhere, hay_rate)
    stage = tuple("growing" if one > 0.0 else "holding weight" for one in gain)
    told = _told(group, rows, stage, None)
    told.gain_kg = gain[np.newaxis, :]
    told.assumptions.append(
        Assumption(
            f"{group.name} are fed by the row {sheep_class}, whose gain goes with its weight.",
            EDITION,
        )
    )
    return told


def _ewe_lamb(group: Group, asked: IntArray, start: int) -> NeedArrays:
    if group.calving_on is None and group.breeding_on is None:
        return _growing(group, asked, start, "replacement_ewe_lamb", "lamb")
    year = mothers(group, asked, GESTATION, EWE_LAMB_WEANING_DAYS)
    mean = mean_mother(group, asked, GESTATION, EWE_LAMB_WEANING_DAYS)
    at_start = mean_mother(group, np.array([start]), GESTATION, EWE_LAMB_WEANING_DAYS)
    lambing = start + int(at_start.days_to_birth[0, 0])
    grown = lambing - LATE_PREGNANCY_DAYS if at_start.births[0, 0] == 0.0 else start
    weight, gain = _path(group, asked, start, "replacement_ewe_lamb", grown)
    rows = Rows(np.broadcast_to(weight, year.day_pregnant.shape).copy())
    young = check_young(YOUNG_PER_EWE_LAMB if group.young is None else group.young)
    early, late, between = _pregnancy(year)
    late_class = late_pregnancy_class(young, ewe_lambs=True)
    idle = ~(year.pregnant | year.nursing)
    rows.row(idle, "replacement_ewe_lamb")
    rows.row(early, "ewelamb_early_gest")
    rows.late(late, late_class, young)
    rows.row(between, "ewelamb_early_gest", 0.5)
    rows.late(between, late_class, young, 0.5)
    rows.litter(year.nursing, young, ("ewelamb_lact_single", "ewelamb_lact_twin"))
    rows.cap(idle | early, "lamb")
    rows.cap(late | between, "ewe_late_gestation")
    rows.cap(year.nursing, "ewe_lactation_twin")
    stage = stage_words(mean, "lambing", "growing")
    told = _told(group, rows, stage, year)
    told.gain_kg = np.broadcast_to(gain, rows.weight.shape)
    words = replace(LAMBING, weaning_days=EWE_LAMB_WEANING_DAYS)
    told.assumptions += say_births(group, young, words)
    return told


def _ram(group: Group, asked: IntArray, start: int) -> NeedArrays:
    if group.age_months is not None and group.age_months < RAM_LAMB_MONTHS:
        return _growing(group, asked, start, "replacement_ram_lamb", "lamb")
    rows = Rows(steady_weight(group, (1, len(asked))))
    fed_up = np.zeros((1, len(asked)), dtype=np.bool_)
    if group.breeding_on is not None:
        fed_up = np.abs(asked - group.breeding_on.toordinal())[np.newaxis, :] <= RAM_DAYS
    for where, breeding in ((fed_up, True), (~fed_up, False)):
        if np.any(where):
            rows.put(where, ram_1985(rows.weight[where], breeding=breeding))
    rows.cap(np.ones_like(fed_up), "ewe_early_gestation")
    words = ("breeding, and the six weeks before", "holding weight")
    return _told(group, rows, tuple(words[0] if up else words[1] for up in fed_up[0]), None)
