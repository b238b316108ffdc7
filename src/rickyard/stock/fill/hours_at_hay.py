"""What cattle eat that are let to their hay for some hours a day, and how less hay is fed safely.

Hours take off appetite itself; an amount that is put out is a ceiling of its own, and the smaller
of the two holds. They are never multiplied.
"""

from __future__ import annotations

from math import ceil
from typing import Final

from rickyard.animals import CLASSES, Stock
from rickyard.farm import AnimalClass, Caution, Farm, Group
from rickyard.kinds import Offered
from rickyard.quantities import M_PER_FT, M_PER_IN
from rickyard.stock.fill.shares import access_share

ALL_DAY: Final = 24.0
#: Cows thinner than this are not kept from hay.
LEAST_SCORE: Final = 4.5
SOURCE: Final = (
    "Miller et al. (2007), Prof. Anim. Sci. 23:366; Lalman et al. (2012), Oklahoma State Univ."
)

#: Room at the hay for each animal where all must eat at once, by kind of stock: at least, and what
#: is better. Common practice, no published source. [in]
PLACE_IN: Final = {
    Stock.BEEF: (24, 30),
    Stock.DAIRY: (24, 30),
    Stock.SHEEP: (16, 20),
    Stock.GOATS: (16, 20),
    Stock.CAMELIDS: (24, 24),
}
PRACTICE: Final = "Common practice, no published source."


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
    """Return what to be careful of where stock get less hay than they would eat.

    That is for some hours a day, or so much a day where the farm says that hay is limited.

    Parameters
    ----------
    farm : Farm
        Its groups are read.

    Returns
    -------
    tuple of Caution
        For each such group how it is done safely, and a warning where it is no group for it.
    """
    return tuple(one for group in farm.groups for one in _of_group(group, us=farm.units == "us"))


def _counts(group: Group) -> bool:
    return CLASSES[group.animal_class].stock is Stock.BEEF


def _of_group(group: Group, *, us: bool) -> list[Caution]:
    if group.hours_at_hay is not None and group.hours_at_hay < ALL_DAY:
        return _of_hours(group)
    return [_of_places(group, us=us)] if group.offered is Offered.LIMITED else []


def room_words(group: Group, *, us: bool) -> str:
    """Say how much room a group needs where it gets less hay than it would eat.

    Source: common practice, no published source.

    Parameters
    ----------
    group : Group
        Its class and head are read.
    us : bool
        Whether in inches and feet.

    Returns
    -------
    str
        A sentence, with the room for each and for all.

    Examples
    --------
    >>> room_words(Group("C", "Cows", AnimalClass.COW, 40, 590.0), us=True)
    'All must eat at once: 24 to 30 inches of room a head, 80 feet or more for all.'
    """
    stock = CLASSES[group.animal_class].stock
    if stock is Stock.HORSES:
        return "Have one more place than there are animals, well apart, and never let them fast."
    least, better = PLACE_IN[stock]
    each = f"{least} to {better}" if better > least else f"{least}"
    whole = f"{ceil(group.head * least * M_PER_IN / M_PER_FT - 1e-9)} feet"
    if not us:
        each = " to ".join(f"{100 * M_PER_IN * one:.0f}" for one in sorted({least, better}))
        whole = f"{ceil(group.head * least * M_PER_IN)} meters"
    unit = "inches" if us else "centimeters"
    return f"All must eat at once: {each} {unit} of room a head, {whole} or more for all."


def _of_places(group: Group, *, us: bool) -> Caution:
    """Say how less hay than they would eat is fed: room for all at once, and who eats last."""
    sentence = (
        f"{group.name} get less hay than they would eat. {room_words(group, us=us)} Put out a "
        "day's hay at a time. Timid, young, old and thin animals eat last and get least: feed "
        "them apart. Never meet hungry stock with hay that holds nitrate or with grain, and feed "
        "all they will eat in bad cold. Ask your extension office before you begin."
    )
    return Caution("note", group.group_id, sentence, PRACTICE)


def _of_hours(group: Group) -> list[Caution]:
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
