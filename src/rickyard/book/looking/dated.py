"""Facts by the day from which they hold: how many head, how heavy, at what price."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any, Final
from uuid import UUID

from rickyard.book import records

#: Of each kind of thing: where its states stand, its short name, and what of it has a day.
_KEPT: Final[Mapping[str, tuple[Any, str, tuple[str, ...]]]] = {
    "lot": (records.LotState, "lot_id", ("value_usd_per_kg",)),
    "group": (records.GroupState, "group_id", ("head", "weight_kg")),
    "feed": (records.FeedState, "feed_id", ("price_usd_per_kg",)),
}


@dataclass(frozen=True, slots=True)
class Dated:
    """What was written of a thing, from a day on; ``None`` where no day was written."""

    day: date | None
    values: tuple[Any, ...]


def dated(season: UUID, kind: str) -> dict[str, tuple[Dated, ...]]:
    """Return all that was written of the things of a season, in the order it was written.

    Parameters
    ----------
    season : UUID
        The season.
    kind : str
        ``lot`` with its value, ``group`` with head and weight, or ``feed`` with its price. [US
        dollars per kg, kg]

    Returns
    -------
    dict of str to tuple of Dated
        By the short name that a thing has now.
    """
    states, short, fields = _KEPT[kind]
    found: dict[UUID, list[Dated]] = defaultdict(list)
    names: dict[UUID, str] = {}
    rows = states.objects.filter(season=season).order_by("revision")
    for thing, name, day, *values in rows.values_list("thing_id", short, "day", *fields):
        names[thing] = name
        found[thing].append(Dated(day, tuple(values)))
    return {names[thing]: tuple(every) for thing, every in found.items()}


def held_on(facts: Sequence[Dated], day: date) -> Dated | None:
    """Return what holds on a day: the last that was written of those that begin by then.

    Before the first of them the first holds: nothing else was ever written.

    Parameters
    ----------
    facts : sequence of Dated
        All that was written of a thing, in that order.
    day : date
        The day.

    Returns
    -------
    Dated or None
        ``None`` where nothing was written.

    Examples
    --------
    >>> facts = (Dated(None, (60,)), Dated(date(2026, 12, 10), (57,)))
    >>> held_on(facts, date(2026, 12, 9)).values, held_on(facts, date(2026, 12, 10)).values
    ((60,), (57,))
    """
    begun = [one for one in facts if one.day is None or one.day <= day]
    return begun[-1] if begun else next(iter(facts), None)
