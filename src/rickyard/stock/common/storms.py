"""When cold takes more than can be fed: what to say before feed is the answer."""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.farm import Caution, Group
from rickyard.stock.common.series import NeedSeries

#: Owed energy from which a storm is spoken of, in days of maintenance: common practice.
TOLD_FROM_DAYS: Final = 1.0
SOURCE: Final = "common practice; Oklahoma State Univ. (Selk) on cattle with a wet coat"


def storm_cautions(group: Group, daily: NeedSeries) -> tuple[Caution, ...]:
    """Return a caution where cold takes more from a group than can be fed in time.

    Parameters
    ----------
    group : Group
        The group.
    daily : NeedSeries
        Its needs by day, told under a rule of cold.

    Returns
    -------
    tuple of Caution
        One where more than a day of maintenance stays owed, else none.

    References
    ----------
    .. [1] Common practice; Selk, Oklahoma State Univ.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import AnimalClass
    >>> from rickyard.stock.herd.herd import group_needs
    >>> bulls = Group("g1", "Bulls", AnimalClass.BULL, head=3, weight_kg=900.0)
    >>> storm_cautions(bulls, group_needs(bulls, [date(2027, 1, 1)]))
    ()
    """
    owed = daily.more.get("cold_owed_mcal")
    if owed is None:
        return ()
    late = daily.present & (owed > TOLD_FROM_DAYS * daily.nem_maintenance_mcal)
    days = int(np.count_nonzero(late))
    if days == 0:
        return ()
    most = float(owed[late].max())
    sentence = (
        f"Cold takes more out of {group.name} than can be fed back in time: on {days} "
        f"day{'' if days == 1 else 's'} this season they fall up to {most:.0f} Mcal a head behind, "
        "which comes off body condition. Wind shelter, dry bedding and clean coats help more than "
        "feed; call your veterinarian if they shiver or go down."
    )
    return (Caution("warning", group.group_id, sentence, SOURCE),)
