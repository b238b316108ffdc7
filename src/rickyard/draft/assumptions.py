"""What stands in where nobody knows: common practice, no published source, and marked as such."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import Final

from rickyard.farm import AnimalClass, Package
from rickyard.quantities import KG_PER_LB

#: Countries where the winter falls into the middle of the calendar's year.
SOUTHERN: Final = frozenset(("AU", "NZ", "ZA", "AR", "UY", "CL", "BR", "PY", "BO", "NA", "LS"))


@dataclass(frozen=True, slots=True)
class UsualStock:
    """What is usual of a class: mean weights, and what its equations ask for beside."""

    weight_lb: float
    more: dict[str, str] = field(default_factory=dict)
    birth: tuple[int, int] | None = None


_BEEF_HEIFER: Final = {"mature_weight_lb": "1200"}
#: Weights in pounds, months of age, wanted gain and days of birth.
USUAL_STOCK: Final = {
    AnimalClass.COW: UsualStock(1200, birth=(3, 15)),
    AnimalClass.FIRST_CALF_HEIFER: UsualStock(1000, _BEEF_HEIFER, (3, 1)),
    AnimalClass.BRED_HEIFER: UsualStock(950, _BEEF_HEIFER, (3, 1)),
    AnimalClass.REPLACEMENT_HEIFER: UsualStock(
        550, {**_BEEF_HEIFER, "age_months": "8", "gain_lb_per_day": "1.25"}
    ),
    AnimalClass.STOCKER: UsualStock(
        550, {"finish_weight_lb": "1250", "age_months": "8", "gain_lb_per_day": "1.5"}
    ),
    AnimalClass.BULL: UsualStock(1800),
    AnimalClass.EWE: UsualStock(160, birth=(3, 15)),
    AnimalClass.EWE_LAMB: UsualStock(100),
    AnimalClass.RAM: UsualStock(220),
    AnimalClass.FEEDER_LAMB: UsualStock(80),
    AnimalClass.DOE: UsualStock(130, birth=(3, 15)),
    AnimalClass.KID: UsualStock(45),
    AnimalClass.BUCK: UsualStock(180),
    AnimalClass.HORSE: UsualStock(1100),
    AnimalClass.MARE: UsualStock(1100),
    AnimalClass.YOUNG_HORSE: UsualStock(700, {"mature_weight_lb": "1100", "age_months": "12"}),
    AnimalClass.DONKEY: UsualStock(400),
    AnimalClass.MULE: UsualStock(900),
    AnimalClass.DAIRY_HEIFER: UsualStock(700, {"age_months": "12"}),
    AnimalClass.DRY_DAIRY_COW: UsualStock(1450),
    AnimalClass.LLAMA: UsualStock(300),
    AnimalClass.ALPACA: UsualStock(140),
}
#: Mean weight of a bale as fed where neither weight nor size is known. [lb]
USUAL_BALE_LB: Final = {
    Package.ROUND: 1000,
    Package.LARGE_SQUARE: 1200,
    Package.SMALL_SQUARE: 55,
    Package.BALEAGE: 1400,
    Package.LOOSE: 2000,
}
#: Day of a cutting by its number; later ones as the last.
CUTTINGS: Final = {1: (6, 5), 2: (7, 20), 3: (8, 25), 4: (9, 25)}
#: Winter feeding: the days between which hay is fed.
WINTER: Final = ((11, 1), (4, 15))
SOUTHERN_WINTER: Final = ((5, 1), (9, 30))
SOUTHERN_BIRTH: Final = (8, 15)

HAY_USD_PER_TON: Final = 90
RAIN_IN: Final = 40
#: Dollars a short ton of a feed whose price is not known, by its class in the feed table.
PRICE_USD_PER_TON: Final = {
    "mineral": 900,
    "mineral_mix": 1000,
    "npn": 800,
    "residue": 70,
    "silage": 60,
    "protein_meal": 450,
    "mixed": 420,
    "liquid": 350,
}
OTHER_PRICE_USD_PER_TON: Final = 260


def is_southern(country: str) -> bool:
    """Say whether a country's winter is in the middle of the year.

    Examples
    --------
    >>> is_southern("NZ"), is_southern("US-KY"), is_southern("")
    (True, False, False)
    """
    return country.strip().upper().split("-")[0] in SOUTHERN


def usual_season(today: date, country: str) -> tuple[date, date]:
    """Return the feeding season that is under way or comes next; the end is the first day after.

    Examples
    --------
    >>> usual_season(date(2026, 8, 3), "US")
    (datetime.date(2026, 11, 1), datetime.date(2027, 4, 15))
    >>> usual_season(date(2027, 1, 20), "US")
    (datetime.date(2027, 1, 20), datetime.date(2027, 4, 15))
    """
    first, last = SOUTHERN_WINTER if is_southern(country) else WINTER
    for year in (today.year - 1, today.year, today.year + 1):
        start = date(year, *first)
        end = date(year + (last < first), *last)
        # So late in a winter that next to nothing is left, the next one is meant.
        if (end - today).days >= 28:
            return max(start, today), end
    raise AssertionError("one of three winters in a row is always to come")


def pounds_or_kilograms(pounds: float, units: str) -> str:
    """Return a weight as the farm's tables have it.

    Examples
    --------
    >>> pounds_or_kilograms(1200, "us"), pounds_or_kilograms(1200, "metric")
    ('1200', '544')
    """
    return f"{pounds:g}" if units == "us" else f"{pounds * KG_PER_LB:.3g}"
