"""What is taken for granted about a group when its row does not say, and in which words.

Every default that is used is told as an ``Assumption`` with its source.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from rickyard.evidence import COMMON_PRACTICE
from rickyard.farm import AnimalClass, Assumption, Group, Sex
from rickyard.quantities import KG_PER_LB
from rickyard.stock.common import SHRUNK_PER_FULL, shrunk_from_full_kg
from rickyard.stock.equations import (
    ACTIVITY_HAY_OUTDOORS,
    BIRTH_WEIGHT_KG,
    FIRST_CALF_PEAK_FACTOR,
    HEIFER_BIRTH_WEIGHT_FACTOR,
    LEAST_PEAK_MILK_KG,
    MOST_PEAK_MILK_KG,
    PEAK_MILK_KG,
)

NRC: Final = "NRC 2000, Nutrient Requirements of Beef Cattle, 7th rev. ed., Update"
FROM_MEMORY: Final = f"{NRC}; from memory"

GESTATION_DAYS: Final = 283  # 281 to 283, common practice
WEANING_DAYS: Final = 213  # calf weaned at 7 months, as in the printed cow tables

COWS: Final = (AnimalClass.COW, AnimalClass.FIRST_CALF_HEIFER, AnimalClass.BRED_HEIFER)
HEIFERS_IN_CALF: Final = (AnimalClass.FIRST_CALF_HEIFER, AnimalClass.BRED_HEIFER)
GROWERS: Final = (AnimalClass.REPLACEMENT_HEIFER, AnimalClass.STOCKER)

WEIGHT_SHRUNK: Final = Assumption(
    f"Weights are full weights; the equations use {100 * SHRUNK_PER_FULL:.0f}% of them.",
    "Univ. of Arkansas MP391 (1996-based edition)",
)
BREED: Final = Assumption(
    "The breed does not change maintenance (factor 1.00).",
    "the printed requirement tables of NRC 1996 assume it; breed factors from memory",
)
ACTIVITY: Final = Assumption(
    f"Walking about a small pasture where hay is fed raises maintenance by a factor of "
    f"{ACTIVITY_HAY_OUTDOORS:.2f}.",
    COMMON_PRACTICE,
)
CONDITION: Final = Assumption(
    "Needs are those of moderate condition (score 5), whatever the score.",
    "the printed requirement tables of NRC 1996 assume it",
)
NO_WEATHER: Final = Assumption(
    "Last month's temperature does not change maintenance (counted as 68 °F (20 °C)).",
    "the printed requirement tables of NRC 1996 assume it",
)
WEATHER_HELD: Final = Assumption(
    "Last month's temperature counts as -4 °F (-20 °C) where it was colder and as 95 °F (35 °C) "
    "where it was warmer.",
    FROM_MEMORY,
)
GESTATION: Final = Assumption("Pregnancy lasts 283 days.", COMMON_PRACTICE)
WEANING: Final = Assumption(
    "Calves are weaned 213 days (7 months) after calving.",
    "Univ. of Nebraska-Lincoln cow table (NRC 1996)",
)
WEANED_BEFORE: Final = Assumption(
    "Cows are dry before calving; to count a calf still nursing, give its weaning date.",
    COMMON_PRACTICE,
)
REBREEDING: Final = Assumption(
    "Cows are bred again 82 days after calving, so that they calve every 365 days.", COMMON_PRACTICE
)
MILK: Final = Assumption(
    "Milk holds 4.0% fat, 3.4% protein and 8.3% other solids, and peaks 8.5 weeks after calving.",
    f"{NRC}, p.45",
)
CP_FROM_MP: Final = Assumption(
    "Metabolizable protein is 67% of crude protein.",
    "Univ. of Arkansas MP391 (1996-based edition)",
)
CALIBRATED: Final = Assumption(
    "Cows eat more than the intake equations say: 20% more in milk, 6% more when dry and past "
    "the first third of pregnancy.",
    "Gross et al. 2024, Oklahoma State Univ., doi 10.1093/tas/txae001",
)
HEIFER_INTAKE: Final = Assumption("Bred heifers eat by the intake equations of cows.", FROM_MEMORY)
HEIFER_GAIN: Final = Assumption(
    "Bred heifers gain a quarter of their mature weight over the 280 days to calving.",
    "Univ. of Arkansas 2018, Beef Cattle Nutrition Series Part 3",
)
FIRST_CALF_GAIN: Final = Assumption(
    "First-calf heifers gain 7% of their mature weight in the year after calving, and no more "
    "is counted after their second calving.",
    "Iowa State Univ.; Univ. of Arkansas 2018",
)
STATED_GAIN_UNTIL_CALVING: Final = Assumption(
    "The wanted gain of heifers holds until their next calving.", COMMON_PRACTICE
)
COW_GAIN_UNUSED: Final = Assumption(
    "A gain wanted of mature cows is not counted as growth; condition comes from energy above "
    "the need.",
    FROM_MEMORY,
)
SEX_UNKNOWN: Final = Assumption(
    "Growing stock without a sex is counted as steers or heifers, not bulls.", COMMON_PRACTICE
)
GAIN_CONTINUES: Final = Assumption(
    "Growing stock keeps its pace after the day of its target weight.", COMMON_PRACTICE
)

CONDITION_COUNTED: Final = Assumption(
    "Maintenance is 5% less for each condition score under 5 and 5% more for each above; a group "
    "without a score counts as 5.",
    FROM_MEMORY,
)
CALVING_SPREAD: Final = Assumption(
    "Equal numbers calve on each day from the first calving to the last; needs are means over "
    "all animals, and calves are weaned on one day.",
    COMMON_PRACTICE,
)
CONDITION_GAINED: Final = Assumption(
    "The wanted condition is fed evenly up to its day; each unit of net energy above the need is "
    "kept.",
    FROM_MEMORY,
)
CONDITION_LOST: Final = Assumption(
    "The condition to be lost is drawn evenly up to its day; a unit of it replaces 0.80 of feed.",
    FROM_MEMORY,
)
INTAKE_BY_WEATHER: Final = Assumption(
    "Appetite follows the temperature of the day and the depth of the mud.",
    f"{NRC}, Table 10-4; from memory",
)
COLD_WITHOUT_WEATHER: Final = Assumption(
    "No weather is given, so no day of cold is counted.", COMMON_PRACTICE
)
COLD_BY_PERCENT: Final = Assumption(
    "Cold adds 1% of maintenance for each °F under the critical temperature of the coat, 2% on "
    "days when rain wets it.",
    "Oklahoma State Univ. (Selk); critical temperatures D. R. Ames, Kansas State University",
)
COLD_BY_FACTORS: Final = Assumption(
    "Cold is told from the heat an animal makes and the insulation of its tissue and coat.",
    f"{NRC}, ch. 1 and 10; coefficients cross-checked",
)
STORM: Final = Assumption(
    "At most 25% of a day's energy is added for a storm; the rest is fed in the days after.",
    "common practice; reason and example Oklahoma State Univ. (Selk)",
)
COAT: Final = Assumption("Cattle wear a dry winter coat.", COMMON_PRACTICE)
WET_COAT: Final = Assumption(
    "Rain of 0.2 in (5 mm) or more on a day above freezing wets the coat; snow does not.",
    COMMON_PRACTICE,
)
NORMALS_HIDE_COLD: Final = Assumption(
    "Where weather.csv has only a month's normal, cold spells inside the month are not seen: "
    "give days for them.",
    COMMON_PRACTICE,
)
NO_TEMPERATURE: Final = Assumption(
    "Days whose temperature is not known count as mild.", COMMON_PRACTICE
)
NO_WIND: Final = Assumption("Days whose wind is not known count as calm.", COMMON_PRACTICE)
COLD_BEYOND_METHOD: Final = Assumption(
    "Some days are windier than 20 mph (32 km/h) or colder than -40 °F (-40 °C), beyond the "
    "method of cold: read their needs with care.",
    f"{NRC}, ch. 1 and 10",
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
    said: list[Assumption] = [CONDITION, CP_FROM_MP]
    if not group.weight_is_shrunk:
        said.append(WEIGHT_SHRUNK)
    if group.breed_factor is None:
        said.append(BREED)
    if group.activity_factor is None:
        said.append(ACTIVITY)
    if group.sex is None and group.animal_class is AnimalClass.STOCKER:
        said.append(SEX_UNKNOWN)
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
        return (GESTATION,)
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
    return (GESTATION, calf)


def milk_assumptions(group: Group) -> tuple[Assumption, ...]:
    """Return what is taken for granted about the milk of the group.

    >>> cows = Group("g1", "Cows", AnimalClass.COW, head=40, weight_kg=550.0)
    >>> milk_assumptions(cows)[1].sentence
    'Mature cows peak at 18 lb (8 kg) of milk a day.'
    """
    said = [MILK]
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
        said.append(WEANING)
    return tuple(said)


def _held_peak_kg(peak_milk_kg: float) -> float:
    return min(max(peak_milk_kg, LEAST_PEAK_MILK_KG), MOST_PEAK_MILK_KG)


def _or(value: float | None, otherwise: float) -> float:
    return otherwise if value is None else value


def _mass(kg: float) -> str:
    return f"{kg / KG_PER_LB:.0f} lb ({kg:.0f} kg)"
