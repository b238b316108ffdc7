"""What is not known yet of a farm, so that its pages can be shown and what lacks be written.

Nothing is planned on what stands in here for what is not known.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from rickyard.animals import CLASSES, YOUNG_BULL_KNOWN
from rickyard.draft import USUAL_BALE_LB
from rickyard.farm import AnimalClass, Farm, Group, Lot
from rickyard.quantities import KG_PER_LB
from rickyard.service import held_by_object


@dataclass(frozen=True, slots=True)
class ShownFarm:
    """A farm to be shown: bales that nobody weighed or measured have the weight of usual ones.

    ``unweighed`` are the short names of their lots.
    """

    farm: Farm
    unweighed: tuple[str, ...]


def is_unweighed(lot: Lot) -> bool:
    """Return whether neither the weight nor the size of a bale of a lot is known.

    Parameters
    ----------
    lot : Lot
        The lot.

    Returns
    -------
    bool
        Whether nothing can be planned before somebody weighs some.
    """
    sides = (lot.bale_length_m, lot.bale_width_m, lot.bale_height_m)
    is_round = None not in (lot.bale_diameter_m, lot.bale_width_m)
    return lot.bale_weight_kg is None and not is_round and None in sides


@held_by_object(64)
def as_shown(farm: Farm) -> ShownFarm:
    """Return a farm with usual weights for bales of which neither weight nor size is known.

    Parameters
    ----------
    farm : Farm
        The farm as the book has it.

    Returns
    -------
    ShownFarm
        The farm; the same where every weight is known.

    Examples
    --------
    >>> from dataclasses import replace
    >>> from rickyard.calls import demo_farm
    >>> farm = demo_farm()
    >>> as_shown(farm).farm is farm
    True
    >>> bare = replace(farm.lots[0], bale_weight_kg=None, bale_diameter_m=None, bale_width_m=None)
    >>> shown = as_shown(replace(farm, lots=(bare, *farm.lots[1:])))
    >>> shown.unweighed, round(shown.farm.lots[0].bale_weight_kg)
    (('26-HILL-1',), 454)
    """
    unweighed = tuple(one.lot_id for one in farm.lots if is_unweighed(one))
    if not unweighed:
        return ShownFarm(farm, ())
    lots = tuple(_with_usual(one) if one.lot_id in unweighed else one for one in farm.lots)
    return ShownFarm(replace(farm, lots=lots), unweighed)


def _with_usual(lot: Lot) -> Lot:
    usual = USUAL_BALE_LB[lot.package] * KG_PER_LB
    return replace(lot, bale_weight_kg=usual, bales_weighed=0)


def lacking_of(group: Group) -> tuple[str, ...]:
    """Return the fields without which the needs of a group cannot be worked out.

    Parameters
    ----------
    group : Group
        The group.

    Returns
    -------
    tuple of str
        Names of fields; of several ways to say the same the first.

    Examples
    --------
    >>> from dataclasses import replace
    >>> from rickyard.calls import demo_farm
    >>> heifers = demo_farm().group("heifers")
    >>> lacking_of(heifers), lacking_of(replace(heifers, age_months=None))
    ((), ('age_months',))
    """
    gains = group.gain_kg_per_day is not None or group.target_weight_kg is not None
    is_young_bull = group.animal_class is AnimalClass.BULL and gains
    parts = YOUNG_BULL_KNOWN if is_young_bull else CLASSES[group.animal_class].known
    return tuple(
        name
        for ways in parts
        if not any(all(getattr(group, name) is not None for name in way) for way in ways)
        for name in ways[0]
        if getattr(group, name) is None
    )
