"""Where the lots of a season stand in the yard: drawn, drawn anew, and taken back."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from rickyard.book import records
from rickyard.book.acting import NotTaken, NotThere, allow, heard_of
from rickyard.book.services import Done, add_line, read_lines, season_there, undo_line, who_wrote
from rickyard.farm import StackRow

_PART = "stacks"


def drawn_so_far(person: Any, season_id: UUID) -> int:
    """Return when a stack of a season was placed last, by the number of its line in the trail.

    Parameters
    ----------
    person : records.Person or None
        Who reads.
    season_id : UUID
        The season.

    Returns
    -------
    int
        The number; 0 where none was placed.
    """
    heard_of("read farm", person, season_id)
    rows = records.Stack.objects.filter(season=season_id).order_by("-written_by__number")
    return rows.values_list("written_by__number", flat=True).first() or 0


def place_stack(
    person: Any,
    season_id: UUID,
    row: StackRow,
    *,
    seen: int | None = None,
    fact: UUID | None = None,
) -> Done:
    """Draw where a lot stands, in place of where it was drawn before.

    Parameters
    ----------
    person : records.Person or None
        Who draws.
    season_id : UUID
        The season.
    row : StackRow
        Where and how the lot stands.
    seen : int, optional
        What `drawn_so_far` gave for the page that it was moved on: where another has placed the
        same lot since, that is told.
    fact : UUID, optional
        An id of this very act, so that it counts once however often it is sent.

    Returns
    -------
    Done
        What happened.

    Raises
    ------
    NotThere
        If the season has no such lot.
    NotTaken
        If a rule of the farm folder is broken, or another has placed the lot meanwhile.
    """
    there = {one.lot_id: line for line, one in read_lines(person, season_id, _PART)}
    if seen is not None and row.lot_id in there:
        _refuse_placed_since(there[row.lot_id], seen, fact)
    if row.lot_id not in there:
        return add_line(person, season_id, _PART, row, fact=fact)
    return undo_line(person, season_id, _PART, there[row.lot_id], instead=row, fact=fact)


def _refuse_placed_since(line: UUID, seen: int, fact: UUID | None) -> None:
    """Refuse to move a stack that another has placed since, unless it was just this one."""
    placed = records.Stack.objects.select_related("written_by__person").get(id=line)
    if placed.written_by.number > seen and placed.id != fact:
        raise NotTaken(
            f"{who_wrote(placed)} has placed this stack meanwhile. Look where it stands now, and "
            "place it again if it is to stand elsewhere."
        )


def stack_back(person: Any, season_id: UUID, line: UUID, *, fact: UUID | None = None) -> Done:
    """Take back how a stack was drawn: it stands where it was drawn before, if it was.

    Parameters
    ----------
    person : records.Person or None
        Who does it.
    season_id : UUID
        The season.
    line : UUID
        The line that is taken back.
    fact : UUID, optional
        An id of this very act.

    Returns
    -------
    Done
        What happened.

    Raises
    ------
    NotThere
        If no such line counts in this season.
    NotTaken
        If it was undone before.
    """
    season = season_there(person, season_id)
    allow("undo stacks", person, season.farm_id)
    row = records.Stack.objects.filter(id=line, season=season).select_related("undoes").first()
    if row is None:
        raise NotThere
    before = row.undoes
    instead = None
    if before is not None and before.counts:
        # Asked of the lot: a line that was taken back already is on no list of lines.
        states = records.LotState.objects.filter(season=season, thing_id=row.lot_id)
        name = states.order_by("-revision").values_list("lot_id", flat=True)[0]
        instead = records.item_of(StackRow, vars(before), lot_id=name)
    return undo_line(person, season_id, _PART, line, instead=instead, fact=fact)
