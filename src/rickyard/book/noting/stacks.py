"""Where the lots of a season stand in the yard: drawn, drawn anew, and taken back."""

from __future__ import annotations

import hashlib
from typing import Any
from uuid import UUID

from rickyard.book import records
from rickyard.book.acting import NotTaken, NotThere, allow
from rickyard.book.services import Done, add_line, read_lines, season_there, undo_line, who_wrote
from rickyard.farm import StackRow

_PART = "stacks"


def mark_of(row: StackRow | None) -> str:
    """Return a mark of where a lot is drawn, by which a page says what it showed.

    Parameters
    ----------
    row : StackRow or None
        Where and how the lot stands; ``None`` where nobody has said.

    Returns
    -------
    str
        The same for the same place; empty for none.

    Examples
    --------
    >>> here = StackRow("A1", 12.0, 18.0, 90.0, 3, 2)
    >>> mark_of(here) == mark_of(StackRow("A1", 12.0, 18.0, 90.0, 3, 2)), mark_of(None)
    (True, '')
    """
    return "" if row is None else hashlib.sha256(repr(row).encode()).hexdigest()[:12]


def place_stack(
    person: Any,
    season_id: UUID,
    row: StackRow,
    *,
    seen: str | None = None,
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
    seen : str, optional
        `mark_of` where the lot stood on the page that it was moved on: where another has placed it
        since, that is told.
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
    stands = {one.lot_id: (line, one) for line, one in read_lines(person, season_id, _PART)}
    if row.lot_id not in stands:
        return add_line(person, season_id, _PART, row, fact=fact)
    line, now = stands[row.lot_id]
    if seen not in (None, mark_of(now)) and line != fact:
        raise NotTaken(
            f"{_who_placed(line)} has placed this stack meanwhile. Look where it stands now, and "
            "place it again if it is to stand elsewhere."
        )
    return undo_line(person, season_id, _PART, line, instead=row, fact=fact)


def _who_placed(line: UUID) -> str:
    return who_wrote(records.Stack.objects.select_related("written_by__person").get(id=line))


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
