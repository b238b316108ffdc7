"""What cattle eat that are let to their hay for some hours a day, and who should not be.

Hours take off appetite itself; an amount that is put out is a ceiling of its own, and the smaller
of the two holds. They are never multiplied.
"""

from __future__ import annotations

from typing import Final

from rickyard.animals import CLASSES, Stock
from rickyard.farm import AnimalClass, Caution, Farm, Group
from rickyard.stock.fill.shares import access_share

ALL_DAY: Final = 24.0
#: Cows thinner than this are not kept from hay.
LEAST_SCORE: Final = 4.5
SOURCE: Final = (
    "Miller et al. (2007), Prof. Anim. Sci. 23:366; Lalman et al. (2012), Oklahoma State Univ."
)


def access_frac(group: Group) -> float:
    """Return the share of free choice that a group eats in its hours at the hay.

    Source: Miller et al. (2007); Lalman et al. (2012).

    Parameters
    ----------
    group : Group
        Its class and hours are read.

    Returns
    -------
    float
        1 where it has all day, and for all stock but cattle, which no trial of hours was about. [-]

    Examples
    --------
    >>> access_frac(Group("C", "Cows", AnimalClass.COW, 40, 590.0, hours_at_hay=6.0))
    0.78
    """
    if group.hours_at_hay is None or not _counts(group):
        return 1.0
    return float(access_share(group.hours_at_hay))


def hours_cautions(farm: Farm) -> tuple[Caution, ...]:
    """Return what to be careful of where stock are let to their hay for some hours.

    Parameters
    ----------
    farm : Farm
        Its groups are read.

    Returns
    -------
    tuple of Caution
        For each such group how it is done safely, and a warning where it is no group for it.
    """
    return tuple(
        one
        for group in farm.groups
        if group.hours_at_hay is not None and group.hours_at_hay < ALL_DAY
        for one in _of_group(group)
    )


def _counts(group: Group) -> bool:
    return CLASSES[group.animal_class].stock is Stock.BEEF


def _of_group(group: Group) -> list[Caution]:
    hours = f"{group.hours_at_hay:g} hours a day"
    if not _counts(group):
        sentence = (
            f"{group.name}: no trial says what they eat in {hours} at the hay, so they are counted "
            "as if they had all day. Limit horses, sheep and goats by weight, and ask your "
            "veterinarian first: a fast can kill a fat pony, a donkey or a ewe late in pregnancy."
        )
        return [Caution("warning", group.group_id, sentence, SOURCE)]
    found = []
    thin = group.condition_score is not None and group.condition_score < LEAST_SCORE
    if group.animal_class is not AnimalClass.COW or thin:
        sentence = (
            f"{group.name}: hours at the hay were tried on grown cows in good condition. Thin "
            "cows, heifers and growing stock need all day; ask your extension office before you "
            "limit them."
        )
        found.append(Caution("warning", group.group_id, sentence, SOURCE))
    sentence = (
        f"{group.name} have {hours} at the hay: every animal needs a place at the same time, the "
        "hay must be better than they need, and fences and gates must stand hungry cows. Never "
        "begin with hay that holds nitrate or with grain, give all day in bad cold, and take the "
        "timid and the thin out."
    )
    return [*found, Caution("note", group.group_id, sentence, SOURCE)]
