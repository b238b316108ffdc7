"""How hay is offered to a group, where nobody says: as much as they like, less, or by hand."""

from __future__ import annotations

from typing import Final

from rickyard.animals import CAMELIDS, HORSES, SMALL_RUMINANTS
from rickyard.farm import Group
from rickyard.hay.feeding import usual_feeder
from rickyard.kinds import Feeder, Offered, Package

#: Feeders into which a day's hay is put by the pound. Common practice.
LIMITING: Final = frozenset({Feeder.BUNK, Feeder.UNROLLED_DAILY})

#: Who is fed by hand where hay is put on the ground. Common practice.
BY_HAND: Final = HORSES | SMALL_RUMINANTS | CAMELIDS


def offered_to(group: Group) -> Offered:
    """Return how hay is offered to a group.

    Parameters
    ----------
    group : Group
        Its feeder and class are read.

    Returns
    -------
    Offered
        Limited at a bunk and unrolled daily, by hand for small stock and horses without a feeder,
        and as much as they like elsewhere.

    Examples
    --------
    >>> from rickyard.kinds import AnimalClass
    >>> offered_to(Group("C", "Cows", AnimalClass.COW, 40, 590.0, feeder=Feeder.CONE_RING))
    <Offered.FREE_CHOICE: 'free_choice'>
    """
    feeder = group.feeder or usual_feeder(group.animal_class, Package.ROUND)
    if feeder in LIMITING:
        return Offered.LIMITED
    by_hand = feeder is Feeder.NONE and group.animal_class in BY_HAND
    return Offered.HAND_FED if by_hand else Offered.FREE_CHOICE
