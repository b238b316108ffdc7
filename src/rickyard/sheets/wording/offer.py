"""How hay is offered to a group, in the words that terminal, list and page share."""

from __future__ import annotations

from typing import Final

from rickyard.farm import Farm, Feeder, Group, Package
from rickyard.hay.feeding import usual_feeder
from rickyard.kinds import Offered
from rickyard.program.rations import offered_to
from rickyard.program.result import SeasonProgram
from rickyard.stock.fill import access_frac, room_words

#: Where hay lies, as it is said.
WHERE: Final = {
    Feeder.CONE_RING: "at a ring with a cone",
    Feeder.SHEETED_RING: "at a sheeted ring",
    Feeder.OPEN_RING: "at an open ring",
    Feeder.TRAILER: "at a wagon",
    Feeder.CRADLE: "at a rack",
    Feeder.BUNK: "at a bunk",
    Feeder.MIXED_RATION: "in a mixed ration",
    Feeder.UNROLLED_DAILY: "unrolled daily",
    Feeder.UNROLLED_EXCESS: "unrolled, more than a day's at once",
    Feeder.NONE: "on the ground",
}

#: What is done with a mixed ration. Common practice, no published source.
MIX: Final = (
    "Weigh the hay and the feeds of each day into one load, ground and mixed, so that nothing can "
    "be sorted out and no grain is eaten alone; weigh hay first, and mineral as it is listed."
)
#: What is said where there is too little for them to eat as they like.
HUNGRY: Final = "Less hay than they like, as there is too little:"
#: Who is looked at where hay is limited. Common practice, no published source.
LAST: Final = "Timid, young, old and thin animals eat last: see who gets none, and feed them apart."


def _where(feeder: Feeder) -> str:
    """Return where hay lies; a feeder that has no words of its own is named as it is written."""
    return WHERE.get(feeder) or f"at a {feeder.value.replace('_', ' ')}"


def offer_line(group: Group, *, us: bool) -> str:
    """Return how hay is offered to a group, and what that asks of who feeds it.

    Parameters
    ----------
    group : Group
        Its feeder, class, head and hours are read.
    us : bool
        Whether in inches and feet.

    Returns
    -------
    str
        A sentence; where hay is limited or mixed, with the room for all and who eats last.

    Examples
    --------
    >>> from rickyard.kinds import AnimalClass
    >>> offer_line(Group("C", "Cows", AnimalClass.COW, 40, 590.0, feeder=Feeder.CONE_RING), us=True)
    'As much hay as they like, at a ring with a cone.'
    """
    offered = offered_to(group)
    feeder = group.feeder or usual_feeder(group.animal_class, Package.ROUND)
    where = _where(feeder)
    mix = MIX if feeder is Feeder.MIXED_RATION else ""
    if offered is Offered.FREE_CHOICE:
        return " ".join(one for one in (f"As much hay as they like, {where}.", mix) if one)
    if offered is Offered.HAND_FED:
        return " ".join(one for one in (f"Fed by hand, {where}.", mix) if one)
    hours = f"{group.hours_at_hay:g} hours a day, " if access_frac(group) < 1.0 else ""
    parts = (f"Limited hay: {hours}{where}.", mix, room_words(group, us=us), LAST)
    return " ".join(one for one in parts if one)


def offered_in(program: SeasonProgram, farm: Farm, group_id: str) -> str:
    """Return how hay is offered to a group by a program.

    Parameters
    ----------
    program : SeasonProgram
        The program.
    farm : Farm
        Its units and groups are read.
    group_id : str
        The group.

    Returns
    -------
    str
        As `offer_line` says it. Where a program is short of what fills them there is less hay than
        they like; amounts that change every week are of what they need, and no appetite is spoken
        of.
    """
    group = farm.group(group_id)
    free = offered_to(group) is Offered.FREE_CHOICE
    if free and not program.rations:
        return ""
    hungry = any(one.group_id == group_id and one.nutrient == "fill" for one in program.shortages)
    if free and hungry:
        where = _where(group.feeder or usual_feeder(group.animal_class, Package.ROUND))
        return f"{HUNGRY} {where}. {LAST}"
    return offer_line(group, us=farm.units == "us")


def work_of_offering(farm: Farm, group_id: str) -> tuple[str, ...]:
    """Return how hay is offered where that is work of its own: by the hour, or as a mix.

    Parameters
    ----------
    farm : Farm
        Its units and groups are read.
    group_id : str
        The group.

    Returns
    -------
    tuple of str
        What the list of a week says first; nothing where hay is only put out.
    """
    group = farm.group(group_id)
    if group.feeder is Feeder.MIXED_RATION or access_frac(group) < 1.0:
        return (offer_line(group, us=farm.units == "us"),)
    return ()
