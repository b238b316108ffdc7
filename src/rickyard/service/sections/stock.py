"""The stock of a farm: what a head of each group needs by week, and what each hay alone gives."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np

from rickyard.farm import Farm, Group
from rickyard.program.explain import LotAlone, NeedPicture, need_picture
from rickyard.service import groups_named, held_by_object, still, worked_out
from rickyard.service.sections.gaps import lacking_of
from rickyard.types import BoolArray, FloatArray


@dataclass(frozen=True, slots=True)
class HayAlone:
    """What one hay alone gives a head, by week, beside what is needed.

    ``gives`` is in the unit of the need; ``short`` marks weeks in which energy or protein is not
    enough, ``enough_until`` is the first day of those, ``None`` where there are none. ``worst`` is
    the most energy that lacks in a week, ``worst_on`` that week. ``lacks_protein`` says that
    protein is short in some week.
    """

    lot_id: str
    gives: FloatArray
    short: BoolArray
    enough_until: date | None
    worst: float
    worst_on: date
    lacks_protein: bool
    is_dangerous: bool


@dataclass(frozen=True, slots=True)
class GroupNeeds:
    """What one head of a group needs through the season, and each hay alone, the best first.

    ``word`` says what ``needs`` is, by week: net energy [Mcal/d], gain [kg/d] or TDN [kg/d].
    """

    group: Group
    word: str
    days: tuple[date, ...]
    needs: FloatArray
    hays: tuple[HayAlone, ...]


def stock_needs(farm: Farm, group_id: str | None = None) -> tuple[GroupNeeds, ...]:
    """Return what groups of a farm need, and what each of its hays alone gives them.

    ``group_id``: one group; all if left out. A group that is not here in the season has no days.
    Raises ``NotUnderstood`` if the farm has no such group, ``CannotWorkOut`` if an equation meets
    a value that it was not made for.
    """
    return _stock_needs(still(farm), group_id)


@held_by_object(64)
def _stock_needs(farm: Farm, group_id: str | None) -> tuple[GroupNeeds, ...]:
    found = []
    for group in groups_named(farm, group_id):
        with worked_out():
            found.append(_needs(need_picture(farm, group)))
    return tuple(found)


def stock_known(farm: Farm, group_id: str | None = None) -> tuple[GroupNeeds, ...]:
    """Return what groups of a farm need, as `stock_needs` does, where it is known.

    ``group_id``: one group; all if left out. A group of which something must be known first has no
    days and no needs; `lacking_of` says what lacks.
    """
    found: list[GroupNeeds] = []
    for group in groups_named(farm, group_id):
        if lacking_of(group):
            found.append(GroupNeeds(group, "", (), np.empty(0), ()))
        else:
            found += stock_needs(farm, group.group_id)
    return tuple(found)


def _needs(picture: NeedPicture) -> GroupNeeds:
    hays = [_alone(one, picture) for one in picture.lots] if picture.days else []
    hays.sort(key=lambda one: (int(np.sum(one.short)), one.worst))
    return GroupNeeds(picture.group, picture.energy_word, picture.days, picture.energy, tuple(hays))


def _alone(one: LotAlone, picture: NeedPicture) -> HayAlone:
    short = one.energy_short | one.protein_short
    lacks = picture.energy - one.energy
    worst = int(np.argmax(lacks))
    first = int(np.argmax(short))
    return HayAlone(
        one.lot_id,
        one.energy,
        short,
        picture.days[first] if short.any() else None,
        float(lacks[worst]),
        picture.days[worst],
        bool(one.protein_short.any()),
        one.dangerous,
    )
