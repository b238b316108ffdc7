"""The values that the rules of a season program may hold: lots in use, reserve, cash, winters.

They are common practice without a published source, and as wide as a slip of the pen allows.
"""

from __future__ import annotations

from typing import Final

from rickyard.evidence import COMMON_PRACTICE
from rickyard.folder.tables.limits import BY_DEFINITION, ColumnLimit

INTAKE: Final = ColumnLimit(50.0, 150.0, COMMON_PRACTICE, advice="Write 110 for a tenth more.")
HAYS_AT_ONCE: Final = ColumnLimit(
    1.0, 20.0, COMMON_PRACTICE, advice="Write how many hays a group may be fed at one time."
)
RUN: Final = ColumnLimit(1.0, 180.0, COMMON_PRACTICE, advice="Write days: 14 for two weeks.")
CHANGE: Final = ColumnLimit(
    0.0,
    1000.0,
    COMMON_PRACTICE,
    usual=(1.0, 200.0),
    too_high="dearer than any change of hay",
    advice="Write what it costs to begin another hay once, in dollars.",
)
SERVING: Final = ColumnLimit(
    0.0,
    2.0,
    COMMON_PRACTICE,
    usual=(0.05, 1.0),
    too_high="near all that stock eats",
    advice="Write kilograms of dry matter in a day per 100 kg of live weight.",
)
RESERVE: Final = ColumnLimit(
    0.0,
    365.0,
    COMMON_PRACTICE,
    usual=(7.0, 90.0),
    too_high="more than a year of hay",
    advice="Write for how many days hay is to be left.",
)
CASH: Final = ColumnLimit(0.0, 1e9, COMMON_PRACTICE, advice="Leave it out if there is no limit.")
# 50 % is what the means give; beyond 99 % the spread of a few cores promises nothing.
ASSURANCE: Final = ColumnLimit(
    50.0,
    99.0,
    COMMON_PRACTICE,
    usual=(50.0, 99.0),
    too_low="less than the means alone give",
    too_high="more than a few cores can promise",
    advice="Write a chance in percent, such as 90.",
    fraction_trap=True,
)
SULFATE: Final = ColumnLimit(
    0.0,
    10_000.0,
    COMMON_PRACTICE,
    usual=(5.0, 5000.0),
    too_high="saltier than stock will drink",
    advice="Write milligrams of sulfate per litre; three times what is given as sulfur.",
)
CHANCE: Final = ColumnLimit(
    0.0,
    100.0,
    BY_DEFINITION,
    usual=(5.0, 90.0),
    advice="Write a chance in percent, such as 25.",
    fraction_trap=True,
)
LATE_PRICE: Final = ColumnLimit(
    0.0,
    200.0,
    COMMON_PRACTICE,
    usual=(5.0, 100.0),
    too_high="more than three times the price",
    advice="Write how many percent more feed costs then.",
    fraction_trap=True,
)
EVERY: Final = ColumnLimit(
    1.0,
    14.0,
    COMMON_PRACTICE,
    advice="Write 1 for every day, 7 for once a week.",
)
CHANGE_OVER: Final = ColumnLimit(
    0.0, 21.0, COMMON_PRACTICE, advice="Write days; cattle take a week."
)
LOAD: Final = ColumnLimit(
    0.0,
    50_000.0,
    COMMON_PRACTICE,
    usual=(200.0, 30_000.0),
    too_high="more than a truck carries",
    advice="Write the weight of one load.",
)
WANTED_AMOUNT: Final = ColumnLimit(
    0.0,
    60.0,
    COMMON_PRACTICE,
    too_high="more than one head eats in a day",
    advice="Write the weight as fed for one head and one day.",
)
