"""Whom a rule binds: the kinds of stock, and the days on which a group is in a stage."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from functools import cache
from types import MappingProxyType
from typing import Final, TypeAlias

from rickyard.animals import CLASSES, Stock, classes_of
from rickyard.farm import AnimalClass, Care, Farm, Group
from rickyard.stock.common import GESTATION_DAYS, YEAR_DAYS

#: Days from a first until the day before another; no span at all means always.
Spans: TypeAlias = tuple[tuple[date, date], ...]

_EQUIDS: Final = classes_of(Stock.HORSES)
_DONKEYS: Final = frozenset({AnimalClass.DONKEY, AnimalClass.MULE})

#: Horses for which sugar and starch are limited.
SUGAR_LIMITED: Final = frozenset({Care.EASY_KEEPER, Care.FOUNDER_PRONE, Care.METABOLIC})

#: A horse with this condition score or less is starved, on the scale of 1 to 9. Judgement, no
#: published source.
STARVED_SCORE: Final = 2.0

#: The words for kinds of stock in the table; other words there are classes.
KINDS: Final[Mapping[str, frozenset[AnimalClass]]] = MappingProxyType(
    {
        "all": frozenset(AnimalClass),
        "ruminants": frozenset(AnimalClass) - _EQUIDS,
        "cattle": classes_of(Stock.BEEF, Stock.DAIRY),
        "sheep": classes_of(Stock.SHEEP),
        "goats": classes_of(Stock.GOATS),
        "camelids": classes_of(Stock.CAMELIDS),
        "equids": _EQUIDS,
        "horses": _EQUIDS - _DONKEYS,
        "donkeys": _DONKEYS,
    }
)

#: Gestation by class; the rest carry as cattle.
_GESTATION: Final[Mapping[Stock, str]] = MappingProxyType(
    {
        Stock.SHEEP: "sheep",
        Stock.GOATS: "goat",
        Stock.HORSES: "horse",
        Stock.CAMELIDS: "llama",
    }
)

#: How long dams nurse where no day of weaning is known. Common practice, no published source. [d]
NURSING_DAYS: Final[Mapping[Stock, int]] = MappingProxyType(
    {
        Stock.BEEF: 205,
        Stock.DAIRY: 305,
        Stock.SHEEP: 90,
        Stock.GOATS: 90,
        Stock.HORSES: 150,
        Stock.CAMELIDS: 180,
    }
)


@cache
def classes_bound(stock: tuple[str, ...]) -> frozenset[AnimalClass]:
    """Return the classes that some words of the table name.

    Examples
    --------
    >>> sorted(classes_bound(("donkeys", "mare")))
    [<AnimalClass.DONKEY: 'donkey'>, <AnimalClass.MARE: 'mare'>, <AnimalClass.MULE: 'mule'>]
    """
    found: set[AnimalClass] = set()
    for word in stock:
        found |= KINDS[word] if word in KINDS else {AnimalClass(word)}
    return frozenset(found)


def gestation_days(group: Group) -> int:
    """Return how long a group carries its young. [d]."""
    return GESTATION_DAYS[_GESTATION.get(CLASSES[group.animal_class].stock, "cattle")]


def births(group: Group) -> tuple[date, ...]:
    """Return the mean days on which a group gives birth, this year's and the next.

    Parameters
    ----------
    group : Group
        Its day of calving or breeding is read.

    Returns
    -------
    tuple of date
        Empty where neither is known, or the class carries no young.
    """
    if not CLASSES[group.animal_class].in_calf:
        return ()
    days = [] if group.calving_on is None else [group.calving_on]
    if group.breeding_on is not None:
        days.append(group.breeding_on + timedelta(days=gestation_days(group)))
    return tuple(day + timedelta(days=years * YEAR_DAYS) for day in days for years in (0, 1))


def days_in_stage(group: Group, stage: str, farm: Farm, *, pregnant: bool) -> Spans | None:
    """Return the days on which a group is in a stage.

    Parameters
    ----------
    group : Group
        The group.
    stage : str
        A word of the table: ``pregnant``, ``open``, ``nursing``, ``milk`` for those days of it that
        their needs count, ``sugar``, ``grown``, ``not_grown``, ``under_kg:N``, or ``birth:N``,
        ``calving:N``, ``foaling:N`` for the last N days before, ``breeding:N`` for the N days
        before and after, and ``weaning:N`` for the N days before the young are taken off; ``thin``
        for starved stock, ``thin:N`` for its first N days of the season. Empty is always.
    farm : Farm
        Its season is read.
    pregnant : bool
        Whether the group counts as pregnant: all season if one of it ever is.

    Returns
    -------
    tuple of (date, date) or None
        ``None`` where it never is; empty where it always is.

    Examples
    --------
    >>> from rickyard.farm import Season
    >>> mares = Group("m", "Mares", AnimalClass.MARE, 2, 520.0, calving_on=date(2027, 4, 1))
    >>> farm = Farm("Home", Season(date(2026, 11, 1), date(2027, 5, 1)), groups=(mares,))
    >>> [(first.isoformat(), end.isoformat())
    ...  for first, end in days_in_stage(mares, "foaling:90", farm, pregnant=True)]
    [('2026-12-31', '2027-04-02')]
    """
    facts = CLASSES[group.animal_class]
    always: dict[str, bool] = {
        "": True,
        "pregnant": pregnant,
        "open": not pregnant,
        "sugar": group.care in SUGAR_LIMITED,
        "grown": facts.grown_cattle,
        "not_grown": not facts.grown_cattle,
    }
    word, _, number = stage.partition(":")
    if word == "under_kg":
        # By the weight that is written, until another is: hungry calves do not gain as is wished.
        return () if group.weight_kg < float(number) else None
    if word == "thin":
        return _starved(group, farm, int(number or 0))
    if word in always:
        return () if always[word] else None
    half = timedelta(days=(group.calving_spread_days or 0) // 2 + 1)
    spans = []
    if word == "weaning" and group.weaning_on is not None:
        spans.append((group.weaning_on - timedelta(days=int(number)), group.weaning_on))
    if word == "breeding" and group.breeding_on is not None:
        around = timedelta(days=int(number))
        spans.append((group.breeding_on - around, group.breeding_on + around))
    for day in births(group) if word not in ("weaning", "breeding") else ():
        if word == "nursing":
            spans += [_nursed(group, one, half) for one in (day, day - timedelta(days=YEAR_DAYS))]
        elif word == "milk":
            spans += _in_milk(group, day, half)
        else:
            spans.append((day - timedelta(days=int(number)) - half, day + half))
    season = farm.season
    within = {one for one in spans if one[0] < season.end and season.start < one[1]}
    return tuple(sorted(within)) or None


def _starved(group: Group, farm: Farm, days: int) -> Spans | None:
    """Return the days on which a starved group is fed up with care; no number of days is always."""
    if group.condition_score is None or group.condition_score > STARVED_SCORE:
        return None
    start = farm.season.start
    return ((start, start + timedelta(days=days)),) if days else ()


def _in_milk(group: Group, day: date, half: timedelta) -> list[tuple[date, date]]:
    """Return the days on which their needs count milk: of the young before, if its weaning is."""
    before, weaned = day - timedelta(days=YEAR_DAYS), group.weaning_on
    known = weaned is not None and before < weaned <= day
    return [_nursed(group, one, half) for one in ((day, before) if known else (day,))]


def _nursed(group: Group, born: date, half: timedelta) -> tuple[date, date]:
    """Return the days on which a group nurses the young of one birth."""
    weaned, nursing = group.weaning_on, NURSING_DAYS[CLASSES[group.animal_class].stock]
    if weaned is not None and born < weaned <= born + timedelta(days=YEAR_DAYS):
        return born - half, weaned
    return born - half, born + timedelta(days=nursing)
