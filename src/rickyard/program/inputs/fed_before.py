"""What a group is already eating when the season that is planned begins."""

from __future__ import annotations

from datetime import timedelta
from typing import Final

import numpy as np

from rickyard.farm import Farm, Group
from rickyard.program.inputs.sources import SourceTable
from rickyard.types import BoolArray

#: What was fed within so many days before the season stock know; a hay fed then, or a period
#: before if that is longer, is still in use. [d] Common practice, no published source.
LOOK_BACK_DAYS: Final = 7


def daily_before_kg(farm: Farm, group: Group, feed_id: str) -> float:
    """Return what a head was fed of a feed each day in the week before the season.

    Parameters
    ----------
    farm : Farm
        Its feeding log and the first day of its season are read.
    group : Group
        The group.
    feed_id : str
        The feed.

    Returns
    -------
    float
        The mean of the week; a day without an entry counts as none, and what is logged in bales
        alone is left out. [kg as fed per head and day]
    """
    start = farm.season.start
    first = start - timedelta(days=LOOK_BACK_DAYS)
    mass = sum(
        row.mass_kg or 0.0
        for row in farm.fed
        if (row.group_id, row.source_id) == (group.group_id, feed_id) and first <= row.day < start
    )
    return mass / LOOK_BACK_DAYS / max(group.head, 1)


def open_before(farm: Farm, sources: SourceTable) -> BoolArray:
    """Return what each group was fed in the days before the season.

    Parameters
    ----------
    farm : Farm
        Its feeding log and the first day of its season are read.
    sources : SourceTable
        The lots and feeds of the program.

    Returns
    -------
    array of bool, shape (groups, sources)
        True where the feeding log has an entry in the last week or the last period, whichever
        is longer.
    """
    group_at = {group.group_id: g for g, group in enumerate(farm.groups)}
    source_at = {value.source_id: i for i, value in enumerate(sources.values)}
    begun = np.zeros((len(group_at), len(source_at)), dtype=bool)
    season = farm.season
    first = season.start - timedelta(days=max(LOOK_BACK_DAYS, season.period_days))
    for row in farm.fed:
        known = row.group_id in group_at and row.source_id in source_at
        if known and first <= row.day < season.start:
            begun[group_at[row.group_id], source_at[row.source_id]] = True
    return begun
