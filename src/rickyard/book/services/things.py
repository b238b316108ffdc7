"""Writing lots, groups and feeds, the farm and its season: whole, with the next revision."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from statistics import fmean, stdev
from typing import Any, Final
from uuid import UUID, uuid4

from rickyard import farm as plain
from rickyard.book import records
from rickyard.book.acting import (
    Act,
    ChangedMeanwhile,
    NotTaken,
    NotThere,
    acting,
    heard_of,
    held_or_read,
    zone_of,
)
from rickyard.book.folders import current_states, farm_of
from rickyard.book.services.done import Done, season_there, who_wrote, with_part, without_price
from rickyard.book.services.rules import look_at
from rickyard.display import count_text
from rickyard.service import Held


@dataclass(frozen=True, slots=True)
class Kind:
    """What belongs to one kind of thing: its tables, its plain object, its part of a farm."""

    table: Any
    states: Any
    item: Any
    part: str
    short: str


KINDS: Final[Mapping[str, Kind]] = {
    "lot": Kind(records.Lot, records.LotState, plain.Lot, "lots", "lot_id"),
    "group": Kind(records.Group, records.GroupState, plain.Group, "groups", "group_id"),
    "feed": Kind(records.Feed, records.FeedState, plain.Feed, "feeds", "feed_id"),
}


def write_thing(
    person: Any,
    season_id: UUID,
    kind: str,
    item: Any,
    *,
    thing: UUID | None = None,
    seen: int = 0,
    day: date | None = None,
    fact: UUID | None = None,
    service: str = "",
) -> Done:
    """Write a lot, a group or a feed as it is from a day on.

    Parameters
    ----------
    person : records.Person or None
        Who writes.
    season_id : UUID
        The season.
    kind : str
        ``lot``, ``group`` or ``feed``.
    item : Lot, Group or Feed
        The whole of it.
    thing : UUID, optional
        Which one; a new one gets an id if none is given.
    seen : int
        The revision that the person looked at, 0 for what is new in the season.
    day : date, optional
        The day from which it holds.
    fact : UUID, optional
        An id of this very fact, so that it counts once however often it is sent.
    service : str, optional
        The row of the table of permissions that is asked for, where it is another.

    Returns
    -------
    Done
        What happened.

    Raises
    ------
    ChangedMeanwhile
        If another revision stands there by now.
    NotTaken
        If a rule of the farm folder is broken.
    """
    what, season = KINDS[kind], season_there(person, season_id)
    name = getattr(item, what.short)
    with acting(service or f"write {kind}", person, season.farm_id, name) as act:
        sent = _sent_before(what.states, fact, season)
        if sent is not None:
            return Done(sent.id, sent.thing_id, is_new=False)
        thing = thing or uuid4()
        _refuse_other(_last(what.states, season, thing), seen, item, what.item)
        return _written(act, season, what, item, thing, day, fact)


def count_lot(
    person: Any, season_id: UUID, lot_id: str, bales: float, day: date, *, fact: UUID | None = None
) -> Done:
    """Write how many bales of a lot were counted on the morning of a day.

    Parameters
    ----------
    person : records.Person or None
        Who counted.
    season_id : UUID
        The season.
    lot_id : str
        The short name of the lot.
    bales : float
        How many.
    day : date
        The day.
    fact : UUID, optional
        An id of this very count, so that it counts once however often it is sent.

    Returns
    -------
    Done
        What happened.

    Raises
    ------
    NotThere
        If the season has no such lot.
    NotTaken
        If the lot was counted on a later day, or a rule of the farm folder is broken.
    """

    def counted(lot: plain.Lot) -> plain.Lot:
        if day < lot.counted_on:
            raise NotTaken(
                f"{lot_id} was counted on {lot.counted_on}, after {day}, and the later count "
                "holds. Nothing was written."
            )
        return replace(lot, bales=bales, counted_on=day)

    about = f"{lot_id}: {bales:g}"
    return _found_of_lot(("count lot", person, about), season_id, lot_id, counted, (day, fact))


def weigh_lot(
    person: Any,
    season_id: UUID,
    lot_id: str,
    weights_kg: Sequence[float],
    day: date,
    *,
    fact: UUID | None = None,
) -> Done:
    """Write what some bales of a lot weighed.

    Their mean counts as the weight on the day of the last count: what storage took since is not
    added, so that the hay is counted a little too light rather than too heavy.

    Parameters
    ----------
    person : records.Person or None
        Who weighed.
    season_id : UUID
        The season.
    lot_id : str
        The short name of the lot.
    weights_kg : sequence of float
        What each bale weighed, as fed; at least one. [kg]
    day : date
        The day.
    fact : UUID, optional
        An id of this very fact, so that it counts once however often it is sent.

    Returns
    -------
    Done
        What happened.

    Raises
    ------
    NotThere
        If the season has no such lot.
    NotTaken
        If a rule of the farm folder is broken.
    """

    def weighed(lot: plain.Lot) -> plain.Lot:
        return replace(
            lot,
            bale_weight_kg=fmean(weights_kg),
            bales_weighed=len(weights_kg),
            bale_weight_sd_kg=stdev(weights_kg) if len(weights_kg) > 1 else None,
        )

    about = f"{lot_id}: {count_text(len(weights_kg), 'bale')}"
    return _found_of_lot(("weigh lot", person, about), season_id, lot_id, weighed, (day, fact))


def probe_lot(
    person: Any,
    season_id: UUID,
    lot_id: str,
    inside_c: float,
    day: date,
    *,
    fact: UUID | None = None,
) -> Done:
    """Write what was read inside a lot.

    The first reading is its hottest; each later one is its latest, and its hottest too where it is
    hotter.

    Parameters
    ----------
    person : records.Person or None
        Who read it.
    season_id : UUID
        The season.
    lot_id : str
        The short name of the lot.
    inside_c : float
        The temperature inside. [degC]
    day : date
        The day.
    fact : UUID, optional
        An id of this very fact, so that it counts once however often it is sent.

    Returns
    -------
    Done
        What happened.

    Raises
    ------
    NotThere
        If the season has no such lot.
    NotTaken
        If a rule of the farm folder is broken.
    """

    def probed(lot: plain.Lot) -> plain.Lot:
        hottest = lot.highest_temperature_c
        if hottest is None:
            return replace(lot, highest_temperature_c=inside_c)
        hottest = max(hottest, inside_c)
        return replace(lot, highest_temperature_c=hottest, latest_temperature_c=inside_c)

    about = f"{lot_id}: {inside_c:.0f} °C"
    return _found_of_lot(("probe lot", person, about), season_id, lot_id, probed, (day, fact))


def _found_of_lot(
    asked: tuple[str, Any, str],
    season_id: UUID,
    lot_id: str,
    found: Callable[[plain.Lot], plain.Lot],
    when: tuple[date, UUID | None],
) -> Done:
    """Write what was found of a lot on a day, once however often it is sent.

    ``asked`` is the service, who asks it and about what.
    """
    service, person, about = asked
    day, fact = when
    what, season = KINDS["lot"], season_there(person, season_id)
    with acting(service, person, season.farm_id, about) as act:
        sent = _sent_before(what.states, fact, season)
        if sent is not None:
            return Done(sent.id, sent.thing_id, is_new=False)
        rows = {one["lot_id"]: one for one in current_states(what.states, season)}
        if lot_id not in rows:
            raise NotThere
        lot = found(records.item_of(plain.Lot, rows[lot_id]))
        return _written(act, season, what, lot, rows[lot_id]["thing_id"], day, fact)


def _written(
    act: Act,
    season: Any,
    what: Kind,
    item: Any,
    thing: UUID,
    day: date | None,
    fact: UUID | None,
) -> Done:
    """Write a thing as its next revision, held to the rules of the farm folder."""
    last = _last(what.states, season, thing)
    place = _place(what.states, season) if last is None else last.place
    wanted, at = _with_item(season, what, item, thing, last)
    looked = look_at(wanted, what.part)
    _keep_thing(what.table, thing, season, act)
    state = what.states.objects.create(
        id=fact or uuid4(),
        thing_id=thing,
        season=season,
        revision=1 if last is None else last.revision + 1,
        place=place,
        day=day,
        written_by=act.line,
        **records.plain_values(getattr(looked.farm, what.part)[at]),
    )
    return Done(state.id, thing, questions=looked.questions)


def take_out(person: Any, season_id: UUID, kind: str, thing: UUID, seen: int) -> Done:
    """Take a lot, a group or a feed out of a season; it stays in the book.

    Parameters
    ----------
    person : records.Person or None
        Who does it.
    season_id : UUID
        The season.
    kind : str
        ``lot``, ``group`` or ``feed``.
    thing : UUID
        Which one.
    seen : int
        The revision that the person looked at.

    Returns
    -------
    Done
        What happened.
    """
    what, season = KINDS[kind], season_there(person, season_id)
    last = _last(what.states, season, thing)
    if last is None:
        raise NotThere
    with acting(f"take out {kind}", person, season.farm_id, getattr(last, what.short)) as act:
        last = _last(what.states, season, thing)
        item = records.item_of(what.item, vars(last))
        _refuse_other(last, seen, item, what.item)
        farm = farm_of(season)
        kept = tuple(
            one
            for one in getattr(farm, what.part)
            if getattr(one, what.short) != getattr(last, what.short)
        )
        look_at(with_part(farm, what.part, kept), what.part)
        state = what.states.objects.create(
            thing_id=thing,
            season=season,
            revision=seen + 1,
            place=last.place,
            counts=False,
            written_by=act.line,
            **records.plain_values(item),
        )
    return Done(state.id, thing)


def write_farm(person: Any, farm_id: UUID, called: Mapping[str, str], seen: int) -> Done:
    """Write what a farm is called, where it is, its units and its time zone.

    Parameters
    ----------
    person : records.Person or None
        Who writes.
    farm_id : UUID
        The farm.
    called : mapping of str to str
        New values of ``name``, ``place``, ``units``, ``note``, ``country``, ``time_zone``.
    seen : int
        The revision that the person looked at.

    Returns
    -------
    Done
        What happened.
    """
    zone_of(called.get("time_zone", ""))
    with acting("write farm", person, farm_id, ", ".join(called)) as act:
        last = records.FarmState.objects.filter(thing_id=farm_id).order_by("-revision").first()
        names = ("name", "place", "units", "note", "country", "time_zone")
        values = {name: getattr(last, name) for name in names}
        if last.revision != seen:
            raise _other(last, values, values | dict(called))
        values |= called
        season = records.Season.objects.filter(farm_id=farm_id).first()
        if season is not None:
            del values["time_zone"]
            read = look_at(replace(farm_of(season), **values), "farm").farm
            values = {name: getattr(read, name) for name in values}
            values["time_zone"] = called.get("time_zone", last.time_zone)
        state = records.FarmState.objects.create(
            thing_id=farm_id, revision=seen + 1, written_by=act.line, **values
        )
    return Done(state.id, farm_id)


def write_season(person: Any, season_id: UUID, season: plain.Season, seen: int) -> Done:
    """Write the days of a season and the choices that hold for all of it.

    Parameters
    ----------
    person : records.Person or None
        Who writes.
    season_id : UUID
        The season.
    season : Season
        The whole of it.
    seen : int
        The revision that the person looked at.

    Returns
    -------
    Done
        What happened.
    """
    row = season_there(person, season_id)
    with acting("write season", person, row.farm_id, str(season.start)) as act:
        last = records.SeasonState.objects.filter(thing=row).order_by("-revision").first()
        _refuse_other(last, seen, season, plain.Season)
        looked = look_at(replace(farm_of(row), season=season), "season")
        state = records.SeasonState.objects.create(
            thing=row,
            revision=seen + 1,
            written_by=act.line,
            **records.plain_values(looked.farm.season),
        )
    return Done(state.id, season_id, questions=looked.questions)


def read_things(person: Any, season_id: UUID, kind: str) -> list[tuple[UUID, int, Any]]:
    """Return the things of a season as they now are.

    Parameters
    ----------
    person : records.Person or None
        Who reads.
    season_id : UUID
        The season.
    kind : str
        ``lot``, ``group`` or ``feed``.

    Returns
    -------
    list of (UUID, int, object)
        The id of each, the revision that stands, and the plain object: without prices where they
        are not the person's to see.
    """
    heard = heard_of("read farm", person, season_id)
    priced = heard.may("read costs")
    key = (season_id, heard.line, priced, kind)
    found = held_or_read(_things_held, key, lambda: _read_things(season_id, kind, priced))
    return list(found)


#: Things of seasons as they were read, with and without prices, by the newest line of the trail.
_things_held: Final = Held[tuple[UUID, UUID, bool, str], list[tuple[UUID, int, Any]]](256)


def _read_things(season_id: UUID, kind: str, priced: bool) -> list[tuple[UUID, int, Any]]:
    what = KINDS[kind]
    items = [
        (row["thing_id"], row["revision"], records.item_of(what.item, row))
        for row in current_states(what.states, season_id)
    ]
    return items if priced else [(one, at, without_price(item)) for one, at, item in items]


def _last(states: Any, season: Any, thing: UUID) -> Any:
    return states.objects.filter(season=season, thing_id=thing).order_by("-revision").first()


def _place(states: Any, season: Any) -> int:
    places = states.objects.filter(season=season).values_list("place", flat=True)
    return max(places, default=-1) + 1


def _keep_thing(table: Any, thing: UUID, season: Any, act: Act) -> None:
    there = table.objects.filter(id=thing).first()
    if there is None:
        table.objects.create(id=thing, farm_id=season.farm_id, written_by=act.line)
    elif there.farm_id != season.farm_id:
        raise NotThere


def _with_item(
    season: Any, what: Kind, item: Any, thing: UUID, last: Any
) -> tuple[plain.Farm, int]:
    """Return the farm as it would be, and where in its part the thing stands."""
    rows = current_states(what.states, season)
    items = {row["thing_id"]: records.item_of(what.item, row) for row in rows}
    farm = farm_of(season)
    renamed = last is not None and getattr(last, what.short) != getattr(item, what.short)
    if renamed:
        farm = _renamed(farm, what.short, getattr(last, what.short), getattr(item, what.short))
    items[thing] = item
    return with_part(farm, what.part, tuple(items.values())), list(items).index(thing)


def _renamed(farm: plain.Farm, short: str, old: str, new: str) -> plain.Farm:
    """Return a farm in which all that names a thing names it anew: rows of the book always do."""
    names = ("group_id",) if short == "group_id" else ("lot_id", "to_lot_id", "source_id")
    parts: dict[str, Any] = {}
    for part in ("reports", "needs", "fed", "moves", "wishes"):
        parts[part] = tuple(
            replace(row, **{name: new for name in names if getattr(row, name, None) == old})
            for row in getattr(farm, part)
        )
    return replace(farm, **parts)


def _refuse_other(last: Any, seen: int, item: Any, kind: Any) -> None:
    """Refuse to write over what the person has not seen."""
    if (0 if last is None else last.revision) == seen:
        return
    if last is None:
        raise NotThere
    now = records.item_of(kind, vars(last))
    raise _other(last, records.plain_values(now), records.plain_values(item), now)


def _other(
    last: Any, theirs: Mapping[str, Any], mine: Mapping[str, Any], now: Any = None
) -> ChangedMeanwhile:
    differs = tuple(
        (name, theirs[name], mine[name]) for name in theirs if theirs[name] != mine[name]
    )
    return ChangedMeanwhile(who_wrote(last), last.revision, now or dict(theirs), differs)


def _sent_before(states: Any, fact: UUID | None, season: Any) -> Any:
    row = None if fact is None else states.objects.filter(id=fact).first()
    if row is not None and row.season_id != season.id:
        raise NotThere
    return row
