"""Adding lines to the ledgers of a season, and undoing one by a new line that names it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final
from uuid import UUID, uuid4

from rickyard.book import records
from rickyard.book.acting import NotTaken, NotThere, acting, heard_of, held_or_read
from rickyard.book.base import one_moment
from rickyard.book.folders import LEDGERS, Ids, current_lines, line_values
from rickyard.book.services.done import Done, season_there, who_wrote, with_part
from rickyard.book.services.reading import read_farm, whole_farm
from rickyard.book.services.rules import look_at
from rickyard.service import Held


def add_line(
    person: Any,
    season_id: UUID,
    part: str,
    item: Any,
    *,
    fact: UUID | None = None,
    service: str = "",
) -> Done:
    """Add a line to a ledger.

    Parameters
    ----------
    person : records.Person or None
        Who writes.
    season_id : UUID
        The season.
    part : str
        The ledger by the part of a farm that it holds: ``fed``, ``moves``, ``weather``, ``needs``,
        ``labs``, ``wishes`` or ``stacks``.
    item : FedRow, MoveRow, WeatherRow, StatedNeed, LabPackage, WishRow or StackRow
        The line, with the short names of lots, feeds and groups.
    fact : UUID, optional
        The id that whoever noted it gave it: a line that is sent twice counts once.
    service : str, optional
        The row of the table of permissions that is asked for, where it is another.

    Returns
    -------
    Done
        What happened.

    Raises
    ------
    NotTaken
        If a rule of the farm folder is broken, or the id is that of another line.
    """
    table, season = LEDGERS[part], season_there(person, season_id)
    with acting(service or f"add {part}", person, season.farm_id, _about(item)) as act:
        sent = None if fact is None else table.objects.filter(id=fact).first()
        if sent is not None:
            return _as_sent(sent, season, item)
        farm = whole_farm(season.id, act.before.id)
        lines = (*getattr(farm, part), item)
        looked = look_at(with_part(farm, part, lines), part, (item,))
        row = table.objects.create(
            id=fact or uuid4(),
            season=season,
            place=_place(table, season),
            written_by=act.line,
            **line_values(getattr(looked.farm, part)[-1], _ids(season)),
        )
    return Done(row.id, row.id, questions=looked.questions)


def undo_line(
    person: Any,
    season_id: UUID,
    part: str,
    old: UUID,
    *,
    instead: Any = None,
    fact: UUID | None = None,
    service: str = "",
) -> Done:
    """Undo a line of a ledger by a new line that names it, and may say what counts instead.

    Parameters
    ----------
    person : records.Person or None
        Who writes.
    season_id : UUID
        The season.
    part : str
        The ledger, as `add_line` takes it.
    old : UUID
        The line that does not count any more.
    instead : object, optional
        The line that counts in its place.
    fact : UUID, optional
        An id of the new line, so that it counts once.
    service : str, optional
        The row of the table of permissions that is asked for, where it is another.

    Returns
    -------
    Done
        What happened; the thing is the old line.

    Raises
    ------
    NotThere
        If no such line counts in this season.
    NotTaken
        If the line was undone before, what is to count breaks a rule, or the id is that of another
        line.
    """
    table, season = LEDGERS[part], season_there(person, season_id)
    with acting(service or f"undo {part}", person, season.farm_id, _about(instead)) as act:
        sent = None if fact is None else table.objects.filter(id=fact).first()
        if sent is not None:
            return _as_undone(sent, season, old, instead)
        row = table.objects.filter(id=old, season=season).first()
        if row is None:
            raise NotThere
        _refuse_undone(table, row)
        farm = whole_farm(season.id, act.before.id)
        lines = list(getattr(farm, part))
        ids: Sequence[UUID] = [one["id"] for one in current_lines(table, season)]
        at = ids.index(old)
        lines[at : at + 1] = [] if instead is None else [instead]
        looked = look_at(with_part(farm, part, tuple(lines)), part, tuple(lines))
        if instead is None:
            values = _same(row)
        else:
            values = line_values(getattr(looked.farm, part)[at], _ids(season))
        new = table.objects.create(
            id=fact or uuid4(),
            season=season,
            place=row.place,
            undoes=row,
            counts=instead is not None,
            written_by=act.line,
            **values,
        )
    return Done(new.id, old, questions=looked.questions)


def read_lines(person: Any, season_id: UUID, part: str) -> list[tuple[UUID, Any]]:
    """Return the lines of a ledger that count, each with its id.

    Parameters
    ----------
    person : records.Person or None
        Who reads.
    season_id : UUID
        The season.
    part : str
        The ledger, as `add_line` takes it.

    Returns
    -------
    list of (UUID, object)
        The lines in their order.
    """
    heard = heard_of("read costs" if part == "labs" else "read farm", person, season_id)
    key = (season_id, heard.line, part)
    found = held_or_read(_lines_held, key, lambda: _read_lines(person, season_id, part))
    return list(found)


#: Lines of ledgers as they were read, by the newest line of the trail.
_lines_held: Final = Held[tuple[UUID, UUID, str], list[tuple[UUID, Any]]](128)


def _read_lines(person: Any, season_id: UUID, part: str) -> list[tuple[UUID, Any]]:
    with one_moment():
        ids = [row["id"] for row in current_lines(LEDGERS[part], season_id)]
        return list(zip(ids, getattr(read_farm(person, season_id), part), strict=True))


def _about(item: Any) -> str:
    for name in ("lot_id", "source_id", "group_id", "package", "day"):
        if getattr(item, name, ""):
            return str(getattr(item, name))
    return ""


def _as_sent(row: Any, season: Any, item: Any) -> Done:
    """Say that a line stands already; refuse an id that another line has."""
    if row.season_id != season.id:
        raise NotThere
    wanted = line_values(item, _ids(season))
    if any(getattr(row, name) != value for name, value in wanted.items()):
        raise NotTaken(_OTHER_LINE)
    return Done(row.id, row.id, is_new=False)


_OTHER_LINE: Final = (
    "A line of this id stands in the book and says something else. Give each line an id of its "
    "own, and undo a line that is wrong."
)


def _as_undone(row: Any, season: Any, old: UUID, instead: Any) -> Done:
    """Say that a line is undone already; refuse an id that another line has.

    Whoever looks for the line that counts before they undo it finds the one that was sent.
    """
    if row.season_id != season.id:
        raise NotThere
    if old not in (row.undoes_id, row.id) or row.counts != (instead is not None):
        raise NotTaken(_OTHER_LINE)
    return Done(row.id, old, is_new=False) if instead is None else _as_sent(row, season, instead)


def _ids(season: Any) -> Ids:
    return Ids(
        _names(records.LotState, "lot_id", season),
        _names(records.GroupState, "group_id", season),
        _names(records.FeedState, "feed_id", season),
    )


def _names(states: Any, short: str, season: Any) -> dict[str, UUID]:
    """Return the things of a season that are there by the short names that they have now."""
    rows = states.objects.filter(season=season).order_by("revision")
    newest = {
        thing: (name, counts)
        for thing, name, counts in rows.values_list("thing_id", short, "counts")
    }
    return {name: thing for thing, (name, counts) in newest.items() if counts}


def _place(table: Any, season: Any) -> int:
    places = table.objects.filter(season=season).order_by("-place").values_list("place", flat=True)
    last = places.first()
    return 0 if last is None else last + 1


def _refuse_undone(table: Any, row: Any) -> None:
    undone = table.objects.filter(undoes=row).first()
    if undone is not None or not row.counts:
        who = who_wrote(undone or row)
        raise NotTaken(
            f"{who} has undone this line already. Look at the line that stands in its place."
        )


def _same(row: Any) -> dict[str, Any]:
    """Return the columns of a line that say what it says."""
    own = {"id", "season", "place", "undoes", "counts", "written_by"}
    fields = (one for one in row._meta.concrete_fields if one.name not in own)
    return {one.attname: getattr(row, one.attname) for one in fields}
