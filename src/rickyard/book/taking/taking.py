"""Remedies of a shortage that are taken: written into the farm as facts, and taken back."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from datetime import date
from typing import Any, Final
from uuid import UUID

from rickyard.book.acting import NotTaken, NotThere, allow
from rickyard.book.services import KeptProgram, read_program, read_things, season_there, write_thing
from rickyard.farm import Farm, Offered
from rickyard.program.ask import other_feeders
from rickyard.program.result import Remedy

#: Which day of a group a remedy sets.
_DAYS: Final = {"leave_earlier": "to_on", "wean_early": "weaning_on"}

#: What a group is given another of, neither more nor less.
_OTHER: Final = ("feeder", "offered")

#: What is written of a remedy may differ by so much from what stands, by what a table rounds to.
_SAME: Final = 0.001


@dataclass(frozen=True, slots=True)
class Change:
    """What a remedy changes in the farm: one column of a feed or of a group.

    ``before`` is what the program was made with, ``after`` what removes the shortage [head, kg as
    fed, a day, a feeder, or how hay is offered].
    """

    kind: str
    name: str
    column: str
    before: Any
    after: Any


@dataclass(frozen=True, slots=True)
class Takable:
    """A remedy that can be taken, by its place in its program.

    ``seen`` is the revision of the feed or group that was looked at. ``is_taken`` says that as much
    stands in the farm now, ``can_undo`` that it is just what the remedy writes.
    """

    place: int
    change: Change
    seen: int
    is_taken: bool
    can_undo: bool


def change_of(remedy: Remedy, farm: Farm) -> Change | None:
    """Return what a remedy changes in a farm, where it is one fact that a person may decide on.

    Parameters
    ----------
    remedy : Remedy
        The remedy.
    farm : Farm
        The farm as its program was made.

    Returns
    -------
    Change or None
        More of a feed that can be bought, fewer animals, animals that leave earlier, calves weaned
        earlier, another feeder, or hay by the day. ``None`` for hay that nobody has found yet, for
        money, and for what does not help.
    """
    groups = {one.group_id: one for one in farm.groups}
    feeds = {one.feed_id: one for one in farm.feeds}
    feed, group = feeds.get(remedy.source_id), groups.get(remedy.group_id)
    if remedy.kind == "feed" and feed is not None and feed.most_kg is not None:
        more = remedy.amount_kg or 0.0
        return Change("feed", feed.feed_id, "most_kg", feed.most_kg, feed.most_kg + more)
    if group is None:
        return None
    if remedy.kind == "fewer_head" and remedy.head is not None:
        left = group.head - remedy.head
        return Change("group", group.group_id, "head", group.head, left) if left > 0 else None
    if remedy.kind in _DAYS and remedy.on is not None:
        column = _DAYS[remedy.kind]
        return Change("group", group.group_id, column, getattr(group, column), remedy.on)
    if remedy.kind == "limit_hay":
        return Change("group", group.group_id, "offered", group.offered, Offered.LIMITED)
    other = other_feeders(farm).get(group.group_id) if remedy.kind == "other_feeder" else None
    if other is not None:
        return Change("group", group.group_id, "feeder", group.feeder, other.then)
    return None


def takable(person: Any, season_id: UUID, kept: KeptProgram) -> tuple[Takable, ...]:
    """Return the remedies of a program that can be taken.

    Parameters
    ----------
    person : records.Person or None
        Who looks.
    season_id : UUID
        The season.
    kept : KeptProgram
        Its newest program.

    Returns
    -------
    tuple of Takable
        In the order of the program.
    """
    changes = [(place, change) for place, change in _changes(kept) if change is not None]
    if not changes:
        return ()
    now = {
        (kind, getattr(item, f"{kind}_id")): (seen, item)
        for kind in ("feed", "group")
        for _, seen, item in read_things(person, season_id, kind)
    }
    return tuple(
        Takable(place, one, seen, _stands(one, item), _is_just(one, item))
        for place, one in changes
        for seen, item in [now.get((one.kind, one.name), (0, None))]
        if item is not None
    )


def take(
    person: Any,
    season_id: UUID,
    program_id: UUID,
    place: int,
    seen: int,
    day: date,
    *,
    back: bool = False,
) -> None:
    """Write what a remedy changes into the farm, or write again what stood there before.

    Parameters
    ----------
    person : records.Person or None
        Who decides.
    season_id : UUID
        The season.
    program_id : UUID
        Its newest program, of which the remedy is.
    place : int
        Which remedy of it.
    seen : int
        The revision of the feed or group that the person looked at.
    day : date
        The day from which it holds.
    back : bool
        Whether it is taken back.

    Raises
    ------
    NotAllowed
        If the person may not write what a farm has.
    NotThere
        If the program has no such remedy, or it changes nothing that can be written.
    NotTaken
        If a newer program has been made, or a rule of the farm folder is broken.
    ChangedMeanwhile
        If somebody has changed the feed or group meanwhile.
    """
    allow("write feed", person, season_there(person, season_id).farm_id)
    kept = read_program(person, season_id)
    if kept is None:
        raise NotThere
    if kept.id != program_id:
        raise NotTaken("A newer program has been made. Look at what it says first.")
    change = dict(_changes(kept)).get(place)
    if change is None:
        raise NotThere
    things = read_things(person, season_id, change.kind)
    for thing, _, item in things:
        if getattr(item, f"{change.kind}_id") == change.name:
            if back and not _is_just(change, item):
                raise NotTaken("Something else stands there by now. Look at it, and write it anew.")
            value = change.before if back else change.after
            wanted = replace(item, **{change.column: value})
            write_thing(person, season_id, change.kind, wanted, thing=thing, seen=seen, day=day)
            return
    raise NotThere


def _changes(kept: KeptProgram) -> list[tuple[int, Change | None]]:
    planned = kept.planned
    remedies = enumerate(planned.program.remedies)
    return [(place, change_of(one, planned.farm)) for place, one in remedies]


def _stands(change: Change, item: Any) -> bool:
    """Return whether what a remedy changes, or more of it, stands in the farm already."""
    now = getattr(item, change.column)
    if now is None:
        return False
    if change.column in _OTHER:
        return bool(now == change.after)
    if change.column == "most_kg":
        return bool(now >= change.after * (1.0 - _SAME))
    return bool(now <= change.after)


def _is_just(change: Change, item: Any) -> bool:
    """Return whether just what a remedy writes stands in the farm."""
    now = getattr(item, change.column)
    if change.column == "most_kg":
        return now is not None and math.isclose(now, change.after, rel_tol=_SAME)
    return bool(now == change.after)
