"""Making, listing and ending links to a lot or a season, and what a link shows."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import Any, Final
from uuid import UUID

from rickyard.book import records
from rickyard.book.accounts import at, count_tries, digest_of, forget_tries, new_code
from rickyard.book.acting import NotTaken, NotThere, acting, allow, day_at, may, zone_of
from rickyard.book.folders import farm_of
from rickyard.book.services import KeptProgram, read_program, read_things, season_there
from rickyard.farm import Farm

#: A link ends after so long at the latest: hay is sold or fed by then, and tested anew.
LONGEST: Final = timedelta(days=60)


@dataclass(frozen=True, slots=True)
class Shared:
    """A link. ``last`` is the last day on the farm on which it shows anything.

    ``code`` is its secret, told once to whoever makes it and to nobody later.
    """

    id: UUID
    last: date
    code: str = ""


@dataclass(frozen=True, slots=True)
class LotThere:
    """The lot that a link shows: in its farm, on the farm's day. ``last`` is its last day."""

    farm: Farm
    lot_id: str
    day: date
    last: date


@dataclass(frozen=True, slots=True)
class SeasonSeen:
    """The season that a link shows: the program that is fed by. ``last`` is the link's last day."""

    kept: KeptProgram
    day: date
    last: date


def share_lot(
    person: Any, season_id: UUID, lot_id: str, last: date, now: datetime | None = None
) -> Shared:
    """Make a link that shows a lot to whoever has it.

    Parameters
    ----------
    person : records.Person or None
        Who shows it.
    season_id : UUID
        The season.
    lot_id : str
        The short name of the lot.
    last : date
        The last day on which the link holds.
    now : datetime, optional
        The moment.

    Returns
    -------
    Shared
        The link with its code.

    Raises
    ------
    NotThere
        If the season has no such lot.
    NotTaken
        If the day has passed, or is too far away.
    """
    season = season_there(person, season_id)
    with acting("share lot", person, season.farm_id, f"{lot_id} until {last}") as act:
        made = _made(person, season, last, now, lot=_lot(person, season_id, lot_id))
        act.write_line()
    return made


def share_season(person: Any, season_id: UUID, last: date, now: datetime | None = None) -> Shared:
    """Make a link that shows a season, as it is fed by, to whoever has it.

    Parameters
    ----------
    person : records.Person or None
        Who shows it.
    season_id : UUID
        The season.
    last : date
        The last day on which the link holds.
    now : datetime, optional
        The moment.

    Returns
    -------
    Shared
        The link with its code.

    Raises
    ------
    NotTaken
        If the farm is fed by no program yet, or the day has passed or is too far away.
    """
    season = season_there(person, season_id)
    with acting("share season", person, season.farm_id, f"until {last}") as act:
        if read_program(person, season_id, only_adopted=True) is None:
            raise NotTaken("Choose first which program you feed by: that is what the link shows.")
        made = _made(person, season, last, now)
        act.write_line()
    return made


def _made(
    person: Any, season: Any, last: date, now: datetime | None, *, lot: UUID | None = None
) -> Shared:
    """Write a link that ends with a day of the farm, wherever the server stands."""
    zone = _zone(season)
    today = day_at(zone, at(now))
    if not today <= last <= today + LONGEST:
        raise NotTaken(
            f"Choose a last day from {today} to {today + LONGEST}: a link ends, and can be "
            "made again."
        )
    code = new_code()
    row = records.Share.objects.create(
        season=season,
        lot_id=lot,
        code_sha256=digest_of(code),
        shared_by=person,
        until=datetime.combine(last + timedelta(days=1), time(), zone_of(zone)).astimezone(),
    )
    return Shared(row.id, last, code)


def shares_of(
    person: Any, season_id: UUID, lot_id: str | None = None, now: datetime | None = None
) -> tuple[Shared, ...]:
    """Return the links to a lot, or to the season itself, that hold, without their codes.

    Parameters
    ----------
    person : records.Person or None
        Who asks.
    season_id : UUID
        The season.
    lot_id : str, optional
        The short name of the lot; unless given, the season.
    now : datetime, optional
        The moment.

    Returns
    -------
    tuple of Shared
        The one that ends first comes first.
    """
    season = season_there(person, season_id)
    allow("share season" if lot_id is None else "share lot", person, season.farm_id)
    lot = None if lot_id is None else _lot(person, season_id, lot_id)
    rows = records.Share.objects.filter(season=season, lot_id=lot, until__gt=at(now))
    zone = _zone(season)
    return tuple(Shared(row.id, _last(row, zone)) for row in rows.order_by("until"))


def end_share(person: Any, season_id: UUID, share_id: UUID) -> None:
    """End a link: it shows nothing from now on.

    Parameters
    ----------
    person : records.Person or None
        Who ends it.
    season_id : UUID
        The season.
    share_id : UUID
        The link.

    Raises
    ------
    NotThere
        If the season has no such link.
    """
    season = season_there(person, season_id)
    with acting("end share", person, season.farm_id, "") as act:
        if not records.Share.objects.filter(id=share_id, season=season).delete()[0]:
            raise NotThere
        act.write_line()


def shown_by_link(code: str, address: str, now: datetime | None = None) -> LotThere | SeasonSeen:
    """Return the lot or the season that a link shows.

    Parameters
    ----------
    code : str
        The secret of the link.
    address : str
        The address it is asked from: who tries links that are none is shut out for a while.
    now : datetime, optional
        The moment.

    Returns
    -------
    LotThere or SeasonSeen
        As it is now.

    Raises
    ------
    NotThere
        If there is no such link, it has ended, what it shows is gone, or whoever made it may no
        longer show it.
    TooOften
        If too many links that are none were tried from there.
    """
    moment = at(now)
    count_tries({"link": address}, moment)
    rows = records.Share.objects.filter(code_sha256=digest_of(code), until__gt=moment)
    row = rows.select_related("season", "shared_by").first()
    if row is None:
        raise NotThere
    seen = _season_of(row, moment) if row.lot_id is None else _lot_of(row, moment)
    forget_tries("link", address)
    return seen


def _lot_of(row: Any, moment: datetime) -> LotThere:
    if not may("share lot", row.shared_by, row.season.farm_id):
        raise NotThere
    names = {
        thing: lot.lot_id for thing, _, lot in read_things(row.shared_by, row.season_id, "lot")
    }
    if row.lot_id not in names:
        raise NotThere
    zone = _zone(row.season)
    farm = farm_of(row.season)
    return LotThere(farm, names[row.lot_id], day_at(zone, moment), _last(row, zone))


def _season_of(row: Any, moment: datetime) -> SeasonSeen:
    if not may("share season", row.shared_by, row.season.farm_id):
        raise NotThere
    kept = read_program(row.shared_by, row.season_id, only_adopted=True)
    if kept is None:
        raise NotThere
    zone = _zone(row.season)
    return SeasonSeen(kept, day_at(zone, moment), _last(row, zone))


def _lot(person: Any, season_id: UUID, lot_id: str) -> UUID:
    for thing, _, lot in read_things(person, season_id, "lot"):
        if lot.lot_id == lot_id:
            return thing
    raise NotThere


def _zone(season: Any) -> str:
    rows = records.FarmState.objects.filter(thing_id=season.farm_id).order_by("-revision")
    return str(rows.values_list("time_zone", flat=True)[0])


def _last(row: Any, zone: str) -> date:
    """Return the last day of a link: it ends as the next day begins."""
    return day_at(zone, row.until - timedelta(seconds=1))
