"""A what-if that is taken: what was asked is written into the farm as one fact, and given back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any
from uuid import UUID

from rickyard import farm as plain
from rickyard.book import records
from rickyard.book.acting import NotTaken, NotThere, allow
from rickyard.book.folders import farm_of
from rickyard.book.services import (
    read_things,
    season_there,
    write_season,
    write_thing,
)
from rickyard.farm import Farm, Feed, Group, Lot, Season
from rickyard.program.planning import Change, HeadCount, Intake, Price, SeasonEnd, WinterIs
from rickyard.service import Asked, changes_of

_SEASON = "season"


@dataclass(frozen=True, slots=True)
class Fact:
    """One fact of a farm as it would be. ``kind`` is ``group``, ``feed``, ``lot`` or ``season``."""

    kind: str
    name: str
    item: Group | Feed | Lot | Season


@dataclass(frozen=True, slots=True)
class Taken:
    """What was written: of which thing, and with which revision."""

    kind: str
    thing: UUID
    revision: int


def fact_of(farm: Farm, changes: Sequence[Change]) -> Fact | None:
    """Return the fact that a question asks about, where it is one that a person may decide on.

    Parameters
    ----------
    farm : Farm
        The farm as it is.
    changes : sequence of Change
        What was asked.

    Returns
    -------
    Fact or None
        Head of a group, a price, the end of feeding, the winter that is reckoned with, or what
        stock eat. ``None`` for hay that is lost or bought, which is noted when it happens.

    Examples
    --------
    >>> from rickyard.calls import demo_farm
    >>> from datetime import date
    >>> fact_of(demo_farm(), [SeasonEnd(date(2027, 5, 20))]).item.end
    datetime.date(2027, 5, 20)
    """
    if len(changes) != 1:
        return None
    match changes[0]:
        case HeadCount(group_id, head) if head > 0:
            return Fact("group", group_id, replace(farm.group(group_id), head=head))
        case Price(source_id, usd):
            for feed in farm.feeds:
                if feed.feed_id == source_id:
                    return Fact("feed", source_id, replace(feed, price_usd_per_kg=usd))
            return Fact("lot", source_id, replace(farm.lot(source_id), value_usd_per_kg=usd))
        case SeasonEnd(end):
            return Fact(_SEASON, "", replace(farm.season, end=end))
        case WinterIs(winter):
            return Fact(_SEASON, "", replace(farm.season, winter=winter))
        case Intake(share):
            pct = round(farm.season.intake_pct * (1.0 + share), 2)
            return Fact(_SEASON, "", replace(farm.season, intake_pct=pct))
        case _:
            return None


def seen_of(person: Any, season_id: UUID, fact: Fact) -> tuple[UUID, int]:
    """Return which thing of the book a fact is of, and the revision that stands.

    Parameters
    ----------
    person : records.Person or None
        Who looks.
    season_id : UUID
        The season.
    fact : Fact
        The fact.

    Returns
    -------
    tuple of (UUID, int)
        The thing and its revision.

    Raises
    ------
    NotThere
        If it is not in the season.
    """
    season = season_there(person, season_id)
    allow("read farm", person, season.farm_id)
    if fact.kind == _SEASON:
        states = records.SeasonState.objects.filter(thing=season).order_by("-revision")
        return season.id, states.values_list("revision", flat=True)[0]
    for thing, seen, item in read_things(person, season_id, fact.kind):
        if getattr(item, f"{fact.kind}_id") == fact.name:
            return thing, seen
    raise NotThere


def take_what_if(person: Any, season_id: UUID, asked: Asked, seen: int, day: date) -> Taken:
    """Write what was asked into the farm.

    Parameters
    ----------
    person : records.Person or None
        Who decides.
    season_id : UUID
        The season.
    asked : Asked
        The question, as it was answered.
    seen : int
        The revision of the thing that the person looked at.
    day : date
        The day from which it holds.

    Returns
    -------
    Taken
        What was written, by which it is given back.

    Raises
    ------
    NotTaken
        If it is not one fact, or a rule of the farm folder is broken.
    ChangedMeanwhile
        If somebody has changed it meanwhile.
    """
    season = season_there(person, season_id)
    allow("plan", person, season.farm_id)
    farm = farm_of(season)
    fact = fact_of(farm, changes_of(farm, asked))
    if fact is None:
        raise NotTaken(
            "This cannot be taken: it is noted on its own page when it happens. "
            "Nothing was written."
        )
    thing, _ = seen_of(person, season_id, fact)
    _write(person, season_id, fact.kind, thing, fact.item, seen, day)
    return Taken(fact.kind, thing, seen + 1)


def give_back(person: Any, season_id: UUID, taken: Taken, day: date) -> None:
    """Write again what stood before something was taken.

    Parameters
    ----------
    person : records.Person or None
        Who does it.
    season_id : UUID
        The season.
    taken : Taken
        What was written.
    day : date
        The day from which it holds.

    Raises
    ------
    NotThere
        If the season has no such thing, or it is as it was first written.
    ChangedMeanwhile
        If somebody has changed it since.
    """
    season = season_there(person, season_id)
    allow("plan", person, season.farm_id)
    tables: dict[str, tuple[Any, Any]] = {
        "group": (records.GroupState, plain.Group),
        "feed": (records.FeedState, plain.Feed),
        "lot": (records.LotState, plain.Lot),
        _SEASON: (records.SeasonState, plain.Season),
    }
    if taken.kind not in tables or (taken.kind == _SEASON and taken.thing != season.id):
        raise NotThere
    table, item = tables[taken.kind]
    rows = table.objects.filter(thing_id=taken.thing, revision=taken.revision - 1)
    if taken.kind != _SEASON:
        rows = rows.filter(season=season)
    row = rows.first()
    if row is None:
        raise NotThere
    before = records.item_of(item, vars(row))
    _write(person, season_id, taken.kind, taken.thing, before, taken.revision, day)


def _write(
    person: Any, season_id: UUID, kind: str, thing: UUID, item: Any, seen: int, day: date
) -> None:
    if kind == _SEASON:
        write_season(person, season_id, item, seen)
    else:
        write_thing(person, season_id, kind, item, thing=thing, seen=seen, day=day)
