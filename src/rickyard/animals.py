"""The classes of animals, one row each: what stock they are, what they weigh, what must be known.

To add a class, name it in ``kinds.AnimalClass`` and give it a row here; the engine of its stock
tells its needs.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType
from typing import Final, TypeAlias

from rickyard.kinds import AnimalClass

#: Parts that must be known; of each the ways to know it; of each way the fields it takes.
Parts: TypeAlias = tuple[tuple[tuple[str, ...], ...], ...]


class Stock(StrEnum):
    """The kinds of stock, each with an engine of its own."""

    BEEF = "beef"
    SHEEP = "sheep"
    GOATS = "goats"
    HORSES = "horses"  # donkeys and mules too
    DAIRY = "dairy"
    CAMELIDS = "camelids"


@dataclass(frozen=True, slots=True)
class ClassFacts:
    """One class of animals.

    Attributes
    ----------
    stock : Stock
        What kind of stock it is.
    weight_kg : tuple of float
        The least and the most one head can weigh. [kg]
    usual_kg : tuple of float
        The span in which a slip of the decimal point is guessed back. [kg]
    word : str
        Its name in "too light for a ...".
    known : Parts
        What must be known of a group beside head and weight.
    in_calf : bool
        Whether it can be pregnant.
    nurses_before : bool
        Whether the young of the year before may still be with it.
    grown_cattle : bool
        Whether it is mature by the published limits of whole cottonseed.
    """

    stock: Stock
    weight_kg: tuple[float, float]
    usual_kg: tuple[float, float]
    word: str
    known: Parts = ()
    in_calf: bool = True
    nurses_before: bool = False
    grown_cattle: bool = False


_MATURE: Final = (("mature_weight_kg",),)
_IN_CALF: Final = (("calving_on",), ("breeding_on",))
_AGE: Final = (("age_months",),)
_PACE: Final = (("gain_kg_per_day",), ("target_weight_kg", "target_on"))
_FINISH: Final = (("finish_weight_kg",),)

#: What must be known of a young bull that is to gain.
YOUNG_BULL_KNOWN: Final[Parts] = (_MATURE,)

_CATTLE: Final = (50.0, 1100.0), (120.0, 1000.0), "cattle on hay"
_HEIFER: Final = (180.0, 900.0), (250.0, 650.0), "heifer in calf"
_HORSE: Final = (50.0, 1200.0), (100.0, 900.0), "horse"

#: Weights: 50 to 1100 kg is the span of the maintenance equation of cattle (NRC 2000); all
#: others are common practice, within the tables of their needs.
CLASSES: Final[Mapping[AnimalClass, ClassFacts]] = MappingProxyType({
    AnimalClass.COW: ClassFacts(
        Stock.BEEF, (200.0, 1100.0), (350.0, 900.0), "cow", nurses_before=True, grown_cattle=True
    ),
    AnimalClass.FIRST_CALF_HEIFER: ClassFacts(Stock.BEEF, *_HEIFER, (_MATURE, _IN_CALF)),
    AnimalClass.BRED_HEIFER: ClassFacts(Stock.BEEF, *_HEIFER, (_MATURE, _IN_CALF)),
    AnimalClass.REPLACEMENT_HEIFER: ClassFacts(Stock.BEEF, *_CATTLE, (_MATURE, _AGE, _PACE)),
    AnimalClass.STOCKER: ClassFacts(
        Stock.BEEF, *_CATTLE, (_FINISH, _AGE, _PACE), in_calf=False
    ),
    AnimalClass.BULL: ClassFacts(
        Stock.BEEF, (120.0, 1200.0), (250.0, 1100.0), "bull", in_calf=False, grown_cattle=True
    ),
    AnimalClass.EWE: ClassFacts(
        Stock.SHEEP, (40.0, 100.0), (45.0, 95.0), "ewe", nurses_before=True
    ),
    AnimalClass.EWE_LAMB: ClassFacts(Stock.SHEEP, (20.0, 80.0), (25.0, 70.0), "ewe lamb"),
    AnimalClass.RAM: ClassFacts(
        Stock.SHEEP, (40.0, 160.0), (45.0, 140.0), "ram", in_calf=False
    ),
    AnimalClass.FEEDER_LAMB: ClassFacts(
        Stock.SHEEP, (8.0, 70.0), (10.0, 60.0), "feeder lamb", in_calf=False
    ),
    AnimalClass.DOE: ClassFacts(
        Stock.GOATS, (15.0, 130.0), (20.0, 100.0), "doe", nurses_before=True
    ),
    AnimalClass.KID: ClassFacts(Stock.GOATS, (5.0, 100.0), (8.0, 60.0), "kid", in_calf=False),
    AnimalClass.BUCK: ClassFacts(
        Stock.GOATS, (20.0, 160.0), (25.0, 120.0), "buck", in_calf=False
    ),
    AnimalClass.HORSE: ClassFacts(Stock.HORSES, *_HORSE),
    AnimalClass.MARE: ClassFacts(Stock.HORSES, *_HORSE, nurses_before=True),
    AnimalClass.YOUNG_HORSE: ClassFacts(
        Stock.HORSES, *_HORSE, (_MATURE, _AGE), in_calf=False
    ),
    AnimalClass.DONKEY: ClassFacts(Stock.HORSES, (50.0, 500.0), (80.0, 400.0), "donkey"),
    AnimalClass.MULE: ClassFacts(
        Stock.HORSES, (80.0, 800.0), (120.0, 600.0), "mule", in_calf=False
    ),
    AnimalClass.DAIRY_HEIFER: ClassFacts(
        Stock.DAIRY, (60.0, 750.0), (80.0, 650.0), "dairy heifer", (_AGE,)
    ),
    AnimalClass.DRY_DAIRY_COW: ClassFacts(
        Stock.DAIRY, (250.0, 1000.0), (350.0, 850.0), "dry dairy cow", grown_cattle=True
    ),
    AnimalClass.LLAMA: ClassFacts(
        Stock.CAMELIDS, (30.0, 250.0), (50.0, 200.0), "llama", nurses_before=True
    ),
    AnimalClass.ALPACA: ClassFacts(
        Stock.CAMELIDS, (15.0, 120.0), (25.0, 90.0), "alpaca", nurses_before=True
    ),
})  # fmt: skip


def classes_of(*kinds: Stock) -> frozenset[AnimalClass]:
    """Return the classes of some kinds of stock.

    >>> sorted(classes_of(Stock.GOATS, Stock.CAMELIDS))
    [<AnimalClass.ALPACA: 'alpaca'>, <AnimalClass.BUCK: 'buck'>, <AnimalClass.DOE: 'doe'>, \
<AnimalClass.KID: 'kid'>, <AnimalClass.LLAMA: 'llama'>]
    """
    return frozenset(one for one, facts in CLASSES.items() if facts.stock in kinds)


SHEEP: Final = classes_of(Stock.SHEEP)
GOATS: Final = classes_of(Stock.GOATS)
HORSES: Final = classes_of(Stock.HORSES)
CAMELIDS: Final = classes_of(Stock.CAMELIDS)
#: Stock whose grain is held to the published share of weight: a most that is stated for a feed
#: may be meant for the cattle beside them, and lowers the share but never raises it.
SMALL_RUMINANTS: Final = SHEEP | GOATS | CAMELIDS

#: Classes whose needs are told in TDN or digestible energy.
IN_TDN: Final = frozenset(AnimalClass) - classes_of(Stock.BEEF)
