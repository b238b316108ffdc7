"""What the engines of small stock and horses have in common: amounts by mother, told by group."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date
from types import MappingProxyType
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rickyard.evidence import COMMON_PRACTICE, FLAG_OF, FROM_MEMORY
from rickyard.farm import Assumption, Group
from rickyard.quantities import OutOfRange
from rickyard.stock.common.births import BoolArray
from rickyard.stock.common.series import Conditions, EnergyBasis, NeedSeries
from rickyard.stock.common.tables import FloatArray

#: The appetite of these animals is no equation but a range: see ``most_dm_kg``. A season
#: program that looks for an equation of this name is refused, so that it states needs instead.
INTAKE_RULE: Final = "by published range"

NO_DATES: Final = "no day of birth or breeding, so counted open and dry."


@dataclass(slots=True)
class NeedArrays:
    """Needs of N mothers on T days, arrays of shape (N, T), on their way to a series.

    ``most_dm_kg`` is the most they can eat and ``least_dm_kg`` the least they should, NaN where
    nothing is published. ``evidence`` and ``edition`` are those of energy and protein.
    """

    energy_basis: EnergyBasis
    edition: str
    evidence: str
    weight_kg: FloatArray
    energy_mcal: FloatArray
    tdn_kg: FloatArray
    cp_g: FloatArray
    ca_g: FloatArray
    p_g: FloatArray
    dm_kg: FloatArray
    most_dm_kg: FloatArray
    least_dm_kg: FloatArray
    milk_kg: FloatArray
    gain_kg: FloatArray
    pregnant: BoolArray
    nursing: BoolArray
    stage: Sequence[str]
    more: dict[str, FloatArray] = field(default_factory=dict)
    most: dict[str, float] = field(default_factory=dict)
    least: dict[str, float] = field(default_factory=dict)
    assumptions: list[Assumption] = field(default_factory=list)


def practice(sentence: str) -> Assumption:
    """Return an assumption that rests on common practice.

    Examples
    --------
    >>> practice("Lambs are weaned at 90 days.").source
    'common practice, no published source'
    """
    return Assumption(sentence, COMMON_PRACTICE)


def ordinals(days: Sequence[date]) -> NDArray[np.int64]:
    """Return days as ordinals.

    Examples
    --------
    >>> ordinals([date(1, 1, 2)]).tolist()
    [2]
    """
    return np.array([day.toordinal() for day in days], dtype=np.int64)


def weighing_day(group: Group, days: Sequence[date], conditions: Conditions) -> int:
    """Return the day of a group's weight and age, as an ordinal.

    Examples
    --------
    >>> from rickyard.farm import AnimalClass
    >>> ewes = Group("e", "Ewes", AnimalClass.EWE, 10, 70.0, from_on=date(1, 1, 5))
    >>> weighing_day(ewes, [date(1, 1, 2)], Conditions())
    5
    """
    weighed = (conditions.weighed_on or days[0]).toordinal()
    return weighed if group.from_on is None else max(weighed, group.from_on.toordinal())


def steady_weight(group: Group, shape: tuple[int, ...]) -> FloatArray:
    """Return the weight of grown stock, the same on every day.

    Examples
    --------
    >>> from rickyard.farm import AnimalClass
    >>> steady_weight(Group("e", "Ewes", AnimalClass.EWE, 10, 70.0), (1, 2)).tolist()
    [[70.0, 70.0]]
    """
    return np.full(shape, group.weight_kg)


def wanted_gain_kg(group: Group, start: int, otherwise: float) -> tuple[float, bool]:
    """Return the gain of growing stock, and whether it had to be taken for granted.

    Parameters
    ----------
    group : Group
        A gain, or a target weight and its day, are read.
    start : int
        Day of the present weight, as an ordinal.
    otherwise : float
        The gain when neither is given. [kg/d]

    Returns
    -------
    tuple
        Gain and whether it is the assumed one. [kg/d]

    Raises
    ------
    OutOfRange
        If the day of the target weight is not after that of the weight, or a gain is negative.

    Examples
    --------
    >>> from rickyard.farm import AnimalClass
    >>> kids = Group("k", "Kids", AnimalClass.KID, 10, 20.0, gain_kg_per_day=0.12)
    >>> wanted_gain_kg(kids, 1, 0.1)
    (0.12, False)
    """
    gain = group.gain_kg_per_day
    if gain is None and group.target_weight_kg is not None and group.target_on is not None:
        span = group.target_on.toordinal() - start
        if span <= 0:
            raise OutOfRange(f"{group.name}: the target weight comes before the weighing.")
        gain = (group.target_weight_kg - group.weight_kg) / span
    if gain is None:
        return otherwise, True
    if gain < 0.0:
        raise OutOfRange(f"{group.name}: a need is told for a gain of zero or more.")
    return gain, False


def check_young(young: float) -> float:
    """Return the young that a mother bears and raises, when it can be.

    Raises
    ------
    OutOfRange
        If there are fewer than one or more than three.

    Examples
    --------
    >>> check_young(1.8)
    1.8
    """
    if not 1.0 <= young <= 3.0:
        raise OutOfRange(
            "A mother raises one to three young; barren ones are a group of their own."
        )
    return young


def series_of(group: Group, days: NDArray[np.int64], told: NeedArrays) -> NeedSeries:
    """Return needs by mother as needs of one head of the group.

    Parameters
    ----------
    group : Group
        The group.
    days : array of int, shape (T,)
        The days asked for, as ordinals.
    told : NeedArrays
        Needs of N mothers.

    Returns
    -------
    NeedSeries
        Means over the mothers; net energies are NaN.
    """

    def mean(values: FloatArray | BoolArray) -> FloatArray:
        whole = np.asarray(values, dtype=np.float64)
        return np.asarray(np.broadcast_to(whole, (whole.shape[0], len(days))).mean(axis=0))

    unknown, nothing = np.full(len(days), np.nan), np.zeros(len(days))
    weight = mean(told.weight_kg)
    first = -np.inf if group.from_on is None else group.from_on.toordinal()
    last = np.inf if group.to_on is None else group.to_on.toordinal()
    pregnant, nursing = mean(told.pregnant), mean(told.nursing)
    flag = f"{FLAG_OF[told.evidence].value}: {told.edition}"
    names = ("tdn_kg", "energy_mcal", "cp_kg", "ca_kg", "p_kg", *told.more)
    return NeedSeries(
        stage=tuple(told.stage),
        present=(days >= first) & (days < last),
        shrunk_weight_kg=weight,
        full_weight_kg=weight,
        milk_kg=mean(told.milk_kg),
        nem_maintenance_mcal=unknown,
        nem_lactation_mcal=unknown,
        nem_pregnancy_mcal=unknown,
        nem_mcal=unknown,
        gain_kg=mean(told.gain_kg),
        retained_energy_mcal=nothing,
        mp_g=unknown,
        cp_kg=mean(told.cp_g) / 1000.0,
        ca_kg=mean(told.ca_g) / 1000.0,
        p_kg=mean(told.p_g) / 1000.0,
        intake_rule=(INTAKE_RULE,) * len(days),
        intake_factor=np.ones(len(days)),
        pregnant=pregnant > 0.0,
        lactating=nursing > 0.0,
        assumptions=(*told.assumptions, *_of_the_scale(group)),
        energy_basis=told.energy_basis,
        energy_mcal=mean(told.energy_mcal),
        tdn_kg=mean(told.tdn_kg),
        dry_matter_kg=mean(told.dm_kg),
        pregnant_share=pregnant,
        nursing_share=nursing,
        more=MappingProxyType({name: mean(values) for name, values in told.more.items()}),
        least=MappingProxyType(
            {
                "dm_kg": mean(told.least_dm_kg),
                **{name: np.full(len(days), value) for name, value in told.least.items()},
            }
        ),
        most=MappingProxyType(
            {
                "dm_kg": mean(told.most_dm_kg),
                **{name: np.full(len(days), value) for name, value in told.most.items()},
            }
        ),
        evidence=MappingProxyType(dict.fromkeys(names, flag)),
    )


def _of_the_scale(group: Group) -> tuple[Assumption, ...]:
    if not group.weight_is_shrunk:
        return ()
    return (practice(f"The shrunk weight of {group.name} is taken as their full weight."),)


@dataclass(frozen=True, slots=True)
class BirthWords:
    """How births of a species are spoken of, and its days of pregnancy and to weaning."""

    young: str
    mother: str
    birth: str
    gestation_days: int
    weaning_days: int


def say_births(group: Group, young: float, words: BirthWords, milk: str = "") -> list[Assumption]:
    """Return what is taken of the births of a group where it says nothing itself.

    Parameters
    ----------
    group : Group
        The mothers.
    young : float
        Young of one mother. [-]
    words : BirthWords
        How her births are spoken of.
    milk : str
        What is taken of her milk, if anything is.

    Returns
    -------
    list of Assumption
        Each in a sentence.

    Examples
    --------
    >>> from rickyard.farm import AnimalClass
    >>> ewes = Group("e", "Ewes", AnimalClass.EWE, 9, 70.0, calving_on=date(2027, 3, 1))
    >>> say_births(ewes, 1.5, BirthWords("lamb", "ewe", "lambing", 147, 90))[0].sentence
    'Ewes raise 1.5 lambs per ewe.'
    """
    if group.calving_on is None and group.breeding_on is None:
        return [practice(f"{group.name}: {NO_DATES}")]
    said = []
    if group.young is None:
        said.append(practice(f"{group.name} raise {young:g} {words.young}s per {words.mother}."))
    if milk:
        said.append(practice(milk))
    if group.weaning_on is None:
        weaned = f"{words.young.capitalize()}s are weaned {words.weaning_days} days"
        said.append(practice(f"{weaned} after {words.birth}."))
    days = f"Pregnancy of {words.mother}s lasts {words.gestation_days} days."
    return [*said, Assumption(days, FROM_MEMORY)]
