"""The values that a cell may hold, each with its source.

Limits are in the unit of the field they guard. They catch typing, not poor hay or thin
cattle: outside them a value is a slip of the pen, a swapped column or a wrong unit.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from rickyard.animals import CLASSES
from rickyard.kinds import AnimalClass
from rickyard.quantities import KG_M3_PER_LB_FT3, KG_PER_LB, M_PER_FT

COMMON_PRACTICE: Final = "common practice, no published source"
BY_DEFINITION: Final = "by definition"


@dataclass(frozen=True, slots=True)
class ColumnLimit:
    """The least and most a field may hold, and how to speak of what lies outside.

    ``usual`` is the span in which a slip of the decimal point is guessed back.
    ``too_low`` and ``too_high`` end the sentence "... is under 5 %, ". ``advice`` follows the
    guess, ``advice_high`` above the most if it differs. ``fraction_trap`` refuses a value
    between 0 and 1: a fraction where a percentage is expected.
    """

    least: float
    most: float
    source: str
    usual: tuple[float, float] | None = None
    too_low: str = ""
    too_high: str = ""
    advice: str = ""
    advice_high: str = ""
    fraction_trap: bool = False


# Bales. Round bales of 3 to 6.5 ft and densities of 6 to 20 lb/ft3 (baleage to 45) are the
# limits in common use; the weights follow from them and from the smallest and largest bales
# of the published size tables.
ROUND_LEAST_M: Final = 3.0 * M_PER_FT
ROUND_MOST_M: Final = 6.5 * M_PER_FT
DENSITY_LEAST_KG_M3: Final = 6.0 * KG_M3_PER_LB_FT3
DENSITY_USUAL_MOST_KG_M3: Final = 20.0 * KG_M3_PER_LB_FT3
DENSITY_DRY_MOST_KG_M3: Final = 25.0 * KG_M3_PER_LB_FT3
DENSITY_WET_MOST_KG_M3: Final = 45.0 * KG_M3_PER_LB_FT3

BALES: Final = ColumnLimit(
    0.0, 100_000.0, COMMON_PRACTICE, advice="Write how many bales the lot has."
)
ROUND_SIZE: Final = ColumnLimit(
    ROUND_LEAST_M,
    ROUND_MOST_M,
    COMMON_PRACTICE,
    usual=(ROUND_LEAST_M, ROUND_MOST_M),
    too_low="too small for a round bale",
    too_high="too large for a round bale",
    advice="Check the unit at the end of the header.",
)
BALE_SIDE: Final = ColumnLimit(
    0.2,
    3.5,
    COMMON_PRACTICE,
    usual=(0.25, 2.6),
    too_low="too small for a bale",
    too_high="too large for a bale",
    advice="Check the unit at the end of the header.",
)
_TICKET: Final = "Otherwise write the weight of one bale, from a weigh ticket."
ROUND_WEIGHT: Final = ColumnLimit(
    120.0 * KG_PER_LB,
    4300.0 * KG_PER_LB,
    COMMON_PRACTICE,
    usual=(400.0 * KG_PER_LB, 2400.0 * KG_PER_LB),
    too_low="too light for a round bale",
    too_high="too heavy for a round bale",
    advice=_TICKET,
)
LARGE_SQUARE_WEIGHT: Final = ColumnLimit(
    250.0 * KG_PER_LB,
    3000.0 * KG_PER_LB,
    COMMON_PRACTICE,
    usual=(500.0 * KG_PER_LB, 2100.0 * KG_PER_LB),
    too_low="too light for a large square bale",
    too_high="too heavy for a large square bale",
    advice=_TICKET,
)
SMALL_SQUARE_WEIGHT: Final = ColumnLimit(
    25.0 * KG_PER_LB,
    180.0 * KG_PER_LB,
    COMMON_PRACTICE,
    usual=(40.0 * KG_PER_LB, 145.0 * KG_PER_LB),
    too_low="too light for a small square bale",
    too_high="too heavy for a small square bale",
    advice=_TICKET,
)
BALEAGE_WEIGHT: Final = ColumnLimit(
    120.0 * KG_PER_LB,
    5000.0 * KG_PER_LB,
    COMMON_PRACTICE,
    usual=(600.0 * KG_PER_LB, 2600.0 * KG_PER_LB),
    too_low="too light for a wrapped bale",
    too_high="too heavy for a wrapped bale",
    advice=_TICKET,
)
LOAD_WEIGHT: Final = ColumnLimit(
    1.0,
    40_000.0,
    COMMON_PRACTICE,
    too_low="too light for a load",
    too_high="too heavy for a load",
    advice="Write the weight of one load.",
)
ANY_BALE_WEIGHT: Final = ColumnLimit(0.0, 1e9, COMMON_PRACTICE, advice=_TICKET)

# Water. Under 5 % or over 70 % is refused, 25-40 % in dry hay is questioned.
MOISTURE: Final = ColumnLimit(
    5.0,
    80.0,
    COMMON_PRACTICE,
    usual=(8.0, 25.0),
    too_low="too dry for stored hay",
    too_high="too wet for any forage that is stored",
    advice="If the hay really is that dry, write the dry matter in dm_pct instead.",
    advice_high="If this is the dry matter, write it in dm_pct instead.",
)
LOT_DM: Final = ColumnLimit(
    5.0,
    98.0,
    COMMON_PRACTICE,
    usual=(35.0, 95.0),
    too_low="too wet for any forage",
    too_high="drier than any hay that stood in air",
    advice="Write the dry matter in percent of the weight as fed.",
    fraction_trap=True,
)
DRY_HAY_LEAST_DM_PCT: Final = 60.0
DRY_HAY_USUAL_LEAST_DM_PCT: Final = 75.0
WET_LEAST_DM_PCT: Final = 30.0

PRICE: Final = ColumnLimit(
    0.0,
    20.0,
    COMMON_PRACTICE,
    usual=(0.03, 2.0),
    too_high="dearer than any feed",
    advice="Check the unit at the end of the header.",
)
HAY_VALUE: Final = ColumnLimit(
    0.0,
    2.0,
    COMMON_PRACTICE,
    usual=(0.03, 0.6),
    too_high="dearer than any hay",
    advice="Check the unit at the end of the header.",
)
VALUE_PER_BALE: Final = ColumnLimit(
    0.0, 2000.0, COMMON_PRACTICE, too_high="dearer than any bale", advice="Write dollars per bale."
)
# Hay is on fire or about to be at 200-212 degF; 120 degC leaves room for a reading of a fire.
HAY_TEMPERATURE: Final = ColumnLimit(
    -40.0,
    120.0,
    "Penn State and other extension fire tables; room above the last step",
    usual=(10.0, 100.0),
    too_low="colder than hay can be",
    too_high="hotter than hay that is not burning",
    advice="Check the unit at the end of the header.",
)
CUTTING: Final = ColumnLimit(1.0, 12.0, COMMON_PRACTICE, advice="Write 1 for the first cutting.")

# Cattle. 50 to 1100 kg is the span in which the equations for energy hold.
_ONE_HEAD: Final = "Otherwise write the mean weight of one head."
ANY_HEAD_WEIGHT: Final = ColumnLimit(0.0, 1e9, COMMON_PRACTICE, advice=_ONE_HEAD)
HEAD_WEIGHT: Final = ColumnLimit(
    50.0,
    1100.0,
    "NRC 2000, range of the maintenance equation",
    usual=(120.0, 1000.0),
    too_low="too light for cattle on hay",
    too_high="too heavy for cattle",
    advice=_ONE_HEAD,
)
TARGET_WEIGHT: Final = ColumnLimit(
    5.0,
    1100.0,
    COMMON_PRACTICE,
    usual=(10.0, 1000.0),
    too_high="too heavy for cattle",
    advice=_ONE_HEAD,
)
YOUNG: Final = ColumnLimit(
    1.0,
    3.0,
    COMMON_PRACTICE,
    advice="Write the mean of what mothers bear and raise; make barren ones a group of their own.",
)


def weight_limit(animal_class: AnimalClass) -> ColumnLimit:
    """Return what one head of a class can weigh."""
    facts = CLASSES[animal_class]
    if facts.weight_kg == (HEAD_WEIGHT.least, HEAD_WEIGHT.most):
        return HEAD_WEIGHT
    return ColumnLimit(
        *facts.weight_kg,
        COMMON_PRACTICE,
        usual=facts.usual_kg,
        too_low=f"too light for a {facts.word}",
        too_high=f"too heavy for a {facts.word}",
        advice=_ONE_HEAD,
    )


GROWN_WEIGHT: Final = ColumnLimit(
    200.0,
    1200.0,
    COMMON_PRACTICE,
    usual=(350.0, 1000.0),
    too_low="too light for grown cattle",
    too_high="too heavy for cattle",
    advice="Write the weight of one head, full grown or finished.",
)
HEAD: Final = ColumnLimit(
    1.0, 100_000.0, BY_DEFINITION, advice="Leave the row out if the group is gone."
)
CONDITION: Final = ColumnLimit(
    1.0, 9.0, "body condition scale 1 to 9", advice="Score from 1 (thin) to 9 (fat)."
)
AGE: Final = ColumnLimit(0.0, 300.0, COMMON_PRACTICE, advice="Write the age in months.")
# Reported peaks are 4-20 kg a day (NRC 2000 p. 45); the science narrows this to 3-20.
PEAK_MILK: Final = ColumnLimit(
    0.0,
    30.0,
    "NRC 2000 p. 45, reported peaks 4-20 kg, with room",
    usual=(3.0, 20.0),
    too_high="more milk than a beef cow gives",
    advice="Write the milk of one cow on her best day.",
)
BIRTH_WEIGHT: Final = ColumnLimit(
    10.0,
    80.0,
    COMMON_PRACTICE,
    usual=(25.0, 55.0),
    too_low="too light for a calf",
    too_high="too heavy for a calf at birth",
    advice="Write the weight of one calf at birth.",
)
GAIN: Final = ColumnLimit(
    -1.5,
    3.0,
    COMMON_PRACTICE,
    usual=(0.1, 1.6),
    too_low="a loss that no plan should aim for",
    too_high="more than cattle gain on hay",
    advice="Write the gain of one head in a day.",
)
FACTOR: Final = ColumnLimit(
    0.5,
    2.0,
    COMMON_PRACTICE,
    usual=(0.8, 1.5),
    advice="Write 1 for no change, 1.1 for 10 % more.",
)
FORAGE_SHARE: Final = ColumnLimit(
    0.0,
    4.0,
    COMMON_PRACTICE,
    too_high="more than cattle eat",
    advice="Write kilograms of forage dry matter per 100 kg of live weight.",
)

# Feeds.
FEED_DM: Final = ColumnLimit(
    5.0,
    100.0,
    COMMON_PRACTICE,
    usual=(20.0, 100.0),
    too_low="too wet for a feed",
    advice="Write the dry matter in percent of the weight as fed.",
    fraction_trap=True,
)
_SHARE: Final = "Write percent of dry matter."
PERCENT: Final = ColumnLimit(0.0, 100.0, BY_DEFINITION, usual=(0.0, 100.0), advice=_SHARE)
FIBER: Final = ColumnLimit(
    0.0, 100.0, BY_DEFINITION, usual=(5.0, 100.0), advice=_SHARE, fraction_trap=True
)
# Fats reach about 180 % because they are counted at 2.25 times their digestible part.
FEED_TDN: Final = ColumnLimit(
    0.0, 200.0, COMMON_PRACTICE, usual=(30.0, 100.0), advice=_SHARE, fraction_trap=True
)
# Urea counts as 281-292 % crude protein (6.25 times its 45-46.7 % nitrogen).
FEED_CP: Final = ColumnLimit(
    0.0,
    295.0,
    "6.25 times the nitrogen of pure urea",
    usual=(3.0, 100.0),
    too_high="more than pure urea holds",
    advice=_SHARE,
    fraction_trap=True,
)
FEED_NPN: Final = ColumnLimit(
    0.0,
    295.0,
    "6.25 times the nitrogen of pure urea",
    too_high="more than pure urea",
    advice=_SHARE,
)
PPM: Final = ColumnLimit(0.0, 1_000_000.0, BY_DEFINITION, advice="Write parts per million.")
MOST: Final = ColumnLimit(
    0.0, 1e8, COMMON_PRACTICE, advice="Leave the cell empty if there is no limit."
)
MOST_PER_HEAD: Final = ColumnLimit(
    0.0,
    60.0,
    COMMON_PRACTICE,
    too_high="more than one head eats in a day",
    advice="Write the weight for one head and one day.",
)
LEAST_PER_HEAD: Final = ColumnLimit(
    0.0,
    0.25,
    COMMON_PRACTICE,
    too_high="more than a mineral that is always on offer",
    advice="Write what one head takes of the mineral in one day: two to four ounces.",
)
LOSS: Final = ColumnLimit(
    0.0,
    99.0,
    COMMON_PRACTICE,
    usual=(1.0, 60.0),
    too_high="so that nothing would be eaten",
    advice="Write the percentage of what is offered that is wasted.",
)
LOSS_QUESTION_PCT: Final = 60.0

# Needs of one head in one day.
NEED_ENERGY: Final = ColumnLimit(
    0.0, 60.0, COMMON_PRACTICE, too_high="more than one head needs", advice="Write Mcal per head."
)
NEED_FEED: Final = ColumnLimit(
    0.0,
    40.0,
    COMMON_PRACTICE,
    too_high="more than one head eats in a day",
    advice="Write the weight for one head and one day.",
)
NEED_MINERAL: Final = ColumnLimit(
    0.0,
    0.5,
    COMMON_PRACTICE,
    too_high="more than one head needs in a day",
    advice="Write the weight for one head and one day; grams go under a header that ends in _g.",
)

# Weather and what was fed.
AIR_TEMPERATURE: Final = ColumnLimit(
    -60.0,
    55.0,
    COMMON_PRACTICE,
    usual=(-35.0, 40.0),
    too_low="colder than a farm gets",
    too_high="hotter than a farm gets",
    advice="Check the unit at the end of the header.",
)
WIND: Final = ColumnLimit(
    0.0, 200.0, COMMON_PRACTICE, too_high="a hurricane", advice="Write the mean wind."
)
RAIN: Final = ColumnLimit(
    0.0,
    2000.0,
    COMMON_PRACTICE,
    too_high="more rain than falls in a month",
    advice="Check the unit at the end of the header.",
)
RAIN_YEAR: Final = ColumnLimit(
    0.0, 12_000.0, COMMON_PRACTICE, too_high="more rain than falls anywhere", advice=""
)
FED_MASS: Final = ColumnLimit(0.0, 1e7, COMMON_PRACTICE, advice="Write what was fed, as fed.")
CORES: Final = ColumnLimit(
    1.0, 100.0, COMMON_PRACTICE, advice="Write how many cores went into the bag."
)

# The season.
LONGEST_SEASON_DAYS: Final = 400
CALVING_SPREAD: Final = ColumnLimit(
    0.0, 180.0, COMMON_PRACTICE, advice="Write the days from the first calving to the last."
)
MUD_DEPTH: Final = ColumnLimit(
    0.0,
    100.0,
    COMMON_PRACTICE,
    too_high="deeper than any lot that stock can stand in",
    advice="Check the unit at the end of the header.",
)
PERIOD: Final = ColumnLimit(1.0, 62.0, COMMON_PRACTICE, advice="Write 7 for weeks.")
CARRY_OVER: Final = ColumnLimit(
    0.0,
    200.0,
    COMMON_PRACTICE,
    usual=(10.0, 100.0),
    advice="Write 100 if hay left over keeps its value.",
    fraction_trap=True,
)
RATIO: Final = ColumnLimit(
    0.0, 20.0, COMMON_PRACTICE, advice="Write calcium divided by phosphorus."
)
SIMPLER: Final = ColumnLimit(0.0, 50.0, COMMON_PRACTICE, advice="Write 1 for one percent dearer.")

# The yard's book and the laboratories; common practice.
BALES_MOVED: Final = ColumnLimit(-1e5, 1e5, COMMON_PRACTICE, advice="Write how many bales.")
MASS_MOVED: Final = ColumnLimit(-1e7, 1e7, COMMON_PRACTICE, advice="Write the weight as fed.")
WEIGHED: Final = ColumnLimit(1.0, 1e5, COMMON_PRACTICE, advice="Write how many bales were weighed.")
WEIGHT_SD: Final = ColumnLimit(
    0.0, 500.0, COMMON_PRACTICE, advice="Write the standard deviation of the weights."
)
TEST_PRICE: Final = ColumnLimit(
    0.0, 1000.0, COMMON_PRACTICE, advice="Write dollars for one sample."
)
LAB_DAYS: Final = ColumnLimit(0.0, 90.0, COMMON_PRACTICE, advice="Write working days.")
