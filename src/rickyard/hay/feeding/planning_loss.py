"""Feeding loss to plan with: by package, feeder and who eats.

Beef and dairy cattle at large bales lose what `FEEDERS` says, other stock and small squares what
the table ``planning_losses`` does.
"""

from __future__ import annotations

from functools import cache
from typing import Final, NamedTuple

from rickyard.animals import CLASSES, Stock
from rickyard.farm import AnimalClass, Care, Feeder, Group, Package, Storage
from rickyard.hay.common import read_table
from rickyard.hay.feeding.feeding import (
    FEEDERS,
    WEATHERED_EXTRA_POINTS,
    feeding_loss_lookup,
)
from rickyard.hay.storage import EXPOSED

#: Bales of at most this weight are handled by hand: small squares, 110 lb. Common practice. [kg]
BY_HAND_KG: Final = 50.0

#: Feeder taken for a group that names none: for cattle the commonest in print, and not the
#: thriftiest. Common practice.
USUAL_FEEDER: Final = Feeder.OPEN_RING
USUAL_RACK: Final = Feeder.CRADLE

_SMALL: Final = frozenset({Package.SMALL_SQUARE, Package.LOOSE})
_RACKED: Final = frozenset({Stock.SHEEP, Stock.GOATS, Stock.CAMELIDS})


class PlannedLoss(NamedTuple):
    """A feeding loss to plan with. [% of hay offered], and how it is known."""

    pct: float
    source: str


def usual_feeder(animal_class: AnimalClass, package: Package) -> Feeder:
    """Return the feeder that is taken where a group names none.

    Parameters
    ----------
    animal_class : AnimalClass
        Who eats.
    package : Package
        How the hay is put up.

    Returns
    -------
    Feeder
        An open ring for large bales and a rack for small stock; small squares go on the ground.

    Examples
    --------
    >>> usual_feeder(AnimalClass.MARE, Package.SMALL_SQUARE)
    <Feeder.NONE: 'none'>
    """
    stock = CLASSES[animal_class].stock
    if stock in _RACKED:
        return USUAL_RACK
    return Feeder.NONE if package in _SMALL else USUAL_FEEDER


def planned_loss(
    animal_class: AnimalClass,
    feeder: Feeder | None,
    package: Package,
    storage: Storage | None = None,
) -> PlannedLoss:
    """Return the feeding loss to plan with, by who eats, how it is offered, and the package.

    Source: Horses: Martinson et al. (2012), round bales; Grev et al. (2014), small squares; Cattle:
    Bell & Martz (1973), squares in a rack; judgement from the published tables; Sheep, goats,
    llamas: common practice.

    Parameters
    ----------
    animal_class : AnimalClass
        Who eats.
    feeder : Feeder or None
        How the hay is offered; ``None`` takes `usual_feeder`.
    package : Package
        How it is put up; loose hay and small squares are fed by hand, a day's hay at a time.
    storage : Storage, optional
        Where the hay stood; hay from outside without a cover is picked over more.

    Returns
    -------
    PlannedLoss
        Loss of the hay offered, and its source. [%]

    Examples
    --------
    >>> planned_loss(AnimalClass.MARE, Feeder.NONE, Package.SMALL_SQUARE).pct
    13.0
    >>> planned_loss(AnimalClass.COW, Feeder.OPEN_RING, Package.ROUND).pct
    20.0
    """
    stock = CLASSES[animal_class].stock
    stock = Stock.BEEF if stock is Stock.DAIRY else stock
    chosen = usual_feeder(animal_class, package) if feeder is None else feeder
    size = "small" if package in _SMALL else "large"
    rows = _rows()
    found = rows.get((stock, size, chosen)) or rows.get((stock, "any", chosen))
    if found is None:
        found = PlannedLoss(FEEDERS[chosen].loss_pct, JUDGED)
    more = WEATHERED_EXTRA_POINTS if storage in EXPOSED else 0.0
    return PlannedLoss(found.pct + more, found.source)


def wants_net(group: Group, package: Package) -> bool:
    """Return whether a net is ordered: horses that founder would eat what others waste.

    Parameters
    ----------
    group : Group
        Its class, care and feeder are read.
    package : Package
        How the hay is put up.

    Returns
    -------
    bool
        For large bales before such horses where no feeder is named.

    Examples
    --------
    >>> pony = Group("P", "Pony", AnimalClass.HORSE, 1, 240.0, care=Care.FOUNDER_PRONE)
    >>> wants_net(pony, Package.ROUND), wants_net(pony, Package.SMALL_SQUARE)
    (True, False)
    """
    bare = group.feeder is None or group.feeder is Feeder.NONE
    horse = CLASSES[group.animal_class].stock is Stock.HORSES
    return horse and bare and group.care in FOUNDER and package not in _SMALL


#: Care by which horses founder on plenty.
FOUNDER: Final = frozenset({Care.EASY_KEEPER, Care.FOUNDER_PRONE, Care.METABOLIC})


def group_loss(group: Group, package: Package, storage: Storage | None = None) -> PlannedLoss:
    """Return the feeding loss of a group to plan with, a net's where one is ordered.

    Source: Martinson et al. (2012) for the net, else as ``planned_loss``.

    Parameters
    ----------
    group : Group
        Who eats, and from which feeder.
    package : Package
        How the hay is put up.
    storage : Storage, optional
        Where the hay stood; hay from outside without a cover is picked over more.

    Returns
    -------
    PlannedLoss
        Loss of the hay offered, and its source. [%]

    Examples
    --------
    >>> pony = Group("P", "Pony", AnimalClass.HORSE, 1, 240.0, care=Care.FOUNDER_PRONE)
    >>> group_loss(pony, Package.ROUND).pct
    6.0
    """
    if not wants_net(group, package):
        return planned_loss(group.animal_class, group.feeder, package, storage)
    more = WEATHERED_EXTRA_POINTS if storage in EXPOSED else 0.0
    return PlannedLoss(feeding_loss_lookup("martinson2012", "net") + more, MARTINSON_NET)


#: Where the loss from a net comes from.
MARTINSON_NET: Final = "Martinson et al. 2012, net"

#: Where the losses of cattle at large bales come from.
JUDGED: Final = (
    "judged from Buskirk et al. 2003, an Oklahoma State trial, Bell & Martz 1973 and Kansas State: "
    "common practice"
)


def package_of_bales(bale_weight_kg: float | None) -> Package:
    """Return how bought hay is put up, from what a bale weighs; large where nobody says.

    Parameters
    ----------
    bale_weight_kg : float or None
        What a bale weighs. [kg]

    Returns
    -------
    Package
        Small squares up to 50 kg, else round bales.

    Examples
    --------
    >>> package_of_bales(25.0), package_of_bales(None)
    (<Package.SMALL_SQUARE: 'small_square'>, <Package.ROUND: 'round'>)
    """
    small = bale_weight_kg is not None and bale_weight_kg <= BY_HAND_KG
    return Package.SMALL_SQUARE if small else Package.ROUND


@cache
def _rows() -> dict[tuple[str, ...], PlannedLoss]:
    rows = read_table("planning_losses", "pct", ("stock", "package", "feeder"))
    return {row.key: PlannedLoss(row.low, row.source) for row in rows if row.low is not None}
