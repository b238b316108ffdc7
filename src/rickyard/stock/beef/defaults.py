"""What is taken for granted about a group when its row does not say, and in which words.

Every default that is used is told as an ``Assumption`` with its source.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Any, Final

from rickyard.evidence import COMMON_PRACTICE
from rickyard.farm import AnimalClass, Assumption, Group, Sex
from rickyard.quantities import KG_PER_LB
from rickyard.stock.common import SHRUNK_PER_FULL, read_rows, shrunk_from_full_kg
from rickyard.stock.equations import (
    ACTIVITY_HAY_OUTDOORS,
    BIRTH_WEIGHT_KG,
    FIRST_CALF_PEAK_FACTOR,
    HEIFER_BIRTH_WEIGHT_FACTOR,
    LEAST_PEAK_MILK_KG,
    MOST_PEAK_MILK_KG,
    PEAK_MILK_KG,
    cross_of,
)

NRC: Final = "NRC 2000, Nutrient Requirements of Beef Cattle, 7th rev. ed., Update"
FROM_MEMORY: Final = f"{NRC}; from memory"

GESTATION_DAYS: Final = 283  # 281 to 283, common practice
WEANING_DAYS: Final = 213  # calf weaned at 7 months, as in the printed cow tables

COWS: Final = (AnimalClass.COW, AnimalClass.FIRST_CALF_HEIFER, AnimalClass.BRED_HEIFER)
HEIFERS_IN_CALF: Final = (AnimalClass.FIRST_CALF_HEIFER, AnimalClass.BRED_HEIFER)

#: What is taken for granted, by name: each sentence with its source.
SAID: Final = MappingProxyType(
    {
        row["name"]: Assumption(
            row["sentence"].format(
                shrunk_pct=100.0 * SHRUNK_PER_FULL, activity=ACTIVITY_HAY_OUTDOORS
            ),
            row["source"],
        )
        for row in read_rows("beef_assumptions")
    }
)


@dataclass(frozen=True, slots=True)
class Settings:
    """What a group is computed with, everything filled in.

    ``final_shrunk_weight_kg`` is ``None`` for stock that does not grow. ``peak_milk_kg`` is
    that of a mature cow; ``first_birth_weight_kg`` is of a heifer's first calf.
    """

    shrunk_weight_kg: float
    final_shrunk_weight_kg: float | None
    breed_factor: float
    activity_factor: float
    intact_male: bool
    peak_milk_kg: float
    birth_weight_kg: float
    first_birth_weight_kg: float
    assumptions: tuple[Assumption, ...]


def settings_of(group: Group) -> Settings:
    """Return what a group is computed with, and what had to be taken for granted.

    Parameters
    ----------
    group : Group
        The group.

    Returns
    -------
    Settings
        Values filled in, and one assumption for each that the group did not give.

    Examples
    --------
    >>> cows = Group("g1", "Cows", AnimalClass.COW, head=40, weight_kg=550.0)
    >>> settings = settings_of(cows)
    >>> settings.shrunk_weight_kg, settings.activity_factor
    (528.0, 1.1)
    """
    said: list[Assumption] = [SAID["condition"], SAID["cp_from_mp"]]
    if not group.weight_is_shrunk:
        said.append(SAID["weight_shrunk"])
    if group.breed_factor is None:
        said.append(SAID["breed"])
    if group.activity_factor is None:
        said.append(SAID["activity"])
    if group.sex is None and group.animal_class is AnimalClass.STOCKER:
        said.append(SAID["sex_unknown"])
    final = group.finish_weight_kg
    if group.animal_class is not AnimalClass.STOCKER:
        final = group.mature_weight_kg
    birth_weight = _or(group.calf_birth_weight_kg, BIRTH_WEIGHT_KG)
    first = _or(group.calf_birth_weight_kg, BIRTH_WEIGHT_KG * HEIFER_BIRTH_WEIGHT_FACTOR)
    return Settings(
        shrunk_weight_kg=shrunk_kg(group, group.weight_kg),
        final_shrunk_weight_kg=None if final is None else shrunk_kg(group, final),
        breed_factor=_or(group.breed_factor, 1.0),
        activity_factor=_or(group.activity_factor, ACTIVITY_HAY_OUTDOORS),
        intact_male=group.animal_class is AnimalClass.BULL or group.sex is Sex.INTACT_MALE,
        peak_milk_kg=_held_peak_kg(_or(group.peak_milk_kg_per_day, PEAK_MILK_KG)),
        birth_weight_kg=birth_weight,
        first_birth_weight_kg=first,
        assumptions=tuple(said),
    )


def with_breed(group: Group) -> tuple[Group, tuple[Assumption, ...]]:
    """Return a group with what its breed tells, and the assumption that it does.

    What it gives itself stands; the factor on maintenance, the birth weight of calves and the peak
    milk are filled in, and told in one assumption. A cross counts as the mean of its two breeds.

    The printed requirement tables use none of it: a factor of 1 and calves of 40 kg. A group
    without a breed is told as they are.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, Table 10-1; from memory.

    >>> from rickyard.farm import AnimalClass, BeefBreed
    >>> cows = Group("g1", "Cows", AnimalClass.COW, 40, 550.0, breed=BeefBreed.ANGUS,
    ...     crossed_with=BeefBreed.SIMMENTAL)
    >>> filled, _ = with_breed(cows)
    >>> filled.breed_factor, filled.calf_birth_weight_kg, filled.peak_milk_kg_per_day
    (1.1, 35.0, 10.0)
    """
    names = [one.value for one in (group.breed, group.crossed_with) if one is not None]
    if not names:
        return group, ()
    breed = cross_of(*names)
    own: dict[str, Any] = {
        "breed_factor": breed.maintenance_factor,
        "calf_birth_weight_kg": breed.birth_weight_kg,
        "peak_milk_kg_per_day": breed.peak_milk_kg_per_day,
    }
    filled = {name: value for name, value in own.items() if getattr(group, name) is None}
    if not filled:
        return group, ()
    called = " x ".join(name.replace("_", " ").title() for name in names)
    sentence = f"What {group.name} do not say of maintenance, calves and milk is as in {called}."
    return replace(group, **filled), (Assumption(sentence, f"{FROM_MEMORY}, Table 10-1"),)


def shrunk_kg(group: Group, weight_kg: float) -> float:
    """Return a weight written for a group as a shrunk weight [kg].

    ``group``: the group, which says whether its weights are shrunk.

    >>> steers = Group("g1", "Steers", AnimalClass.STOCKER, 40, 250.0, weight_is_shrunk=True)
    >>> shrunk_kg(steers, 250.0)
    250.0
    """
    return weight_kg if group.weight_is_shrunk else float(shrunk_from_full_kg(weight_kg))


def pregnancy_assumptions(group: Group) -> tuple[Assumption, ...]:
    """Return what is taken for granted about a pregnancy of the group.

    ``group``: A group that is pregnant on some day.

    >>> cows = Group("g1", "Cows", AnimalClass.COW, head=40, weight_kg=550.0)
    >>> pregnancy_assumptions(cows)[1].sentence
    'Calves weigh 88 lb (40 kg) at birth.'
    """
    if group.calf_birth_weight_kg is not None:
        return (SAID["gestation"],)
    if group.animal_class is AnimalClass.COW:
        calf = Assumption(
            f"Calves weigh {_mass(BIRTH_WEIGHT_KG)} at birth.",
            "Univ. of Nebraska-Lincoln cow table (NRC 1996)",
        )
    else:
        first = BIRTH_WEIGHT_KG * HEIFER_BIRTH_WEIGHT_FACTOR
        calf = Assumption(
            f"First calves weigh {_mass(first)} at birth, later ones {_mass(BIRTH_WEIGHT_KG)}.",
            COMMON_PRACTICE,
        )
    return (SAID["gestation"], calf)


def milk_assumptions(group: Group) -> tuple[Assumption, ...]:
    """Return what is taken for granted about the milk of the group.

    >>> cows = Group("g1", "Cows", AnimalClass.COW, head=40, weight_kg=550.0)
    >>> milk_assumptions(cows)[1].sentence
    'Mature cows peak at 18 lb (8 kg) of milk a day.'
    """
    said = [SAID["milk"]]
    given = group.peak_milk_kg_per_day
    if given is None:
        said.append(
            Assumption(
                f"Mature cows peak at {_mass(PEAK_MILK_KG)} of milk a day.",
                "Univ. of Nebraska-Lincoln cow table (NRC 1996)",
            )
        )
    elif given != _held_peak_kg(given):
        said.append(
            Assumption(
                f"The peak milk of {group.name} is counted as {_mass(_held_peak_kg(given))} a day, "
                "the end of the range seen in beef cows.",
                f"{NRC}, p.45",
            )
        )
    if group.animal_class in HEIFERS_IN_CALF:
        said.append(
            Assumption(
                f"First-calf heifers peak at {100 * FIRST_CALF_PEAK_FACTOR:.0f}% of the peak milk "
                "of a mature cow; a peak given for them is read as the mature one.",
                "Univ. of Arkansas 2018, Beef Cattle Nutrition Series Part 3",
            )
        )
    if group.weaning_on is None:
        said.append(SAID["weaning"])
    return tuple(said)


def _held_peak_kg(peak_milk_kg: float) -> float:
    return min(max(peak_milk_kg, LEAST_PEAK_MILK_KG), MOST_PEAK_MILK_KG)


def _or(value: float | None, otherwise: float) -> float:
    return otherwise if value is None else value


def _mass(kg: float) -> str:
    return f"{kg / KG_PER_LB:.0f} lb ({kg:.0f} kg)"
