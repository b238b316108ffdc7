"""What was fed to a group on a day, noted at once for all that it got, and undone at once."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any
from uuid import UUID, uuid4, uuid5

from django.db import transaction

from rickyard.book import records
from rickyard.book.acting import NotTaken, acting
from rickyard.book.services import add_line, read_lines, season_there, undo_line
from rickyard.farm import FedRow

#: Masses are kept to so many decimals, as the folder writes them. [kg]
_DECIMALS = 3


@dataclass(frozen=True, slots=True)
class FedLine:
    """A line of the ledger of feedings that counts, when it was written and by whom.

    ``who`` is empty where the book is one person's.
    """

    id: UUID
    row: FedRow
    at: datetime
    who: str


def fed_on(person: Any, season_id: UUID, day: date) -> tuple[FedLine, ...]:
    """Return what was noted as fed on a day.

    Parameters
    ----------
    person : records.Person or None
        Who reads.
    season_id : UUID
        The season.
    day : date
        The day.

    Returns
    -------
    tuple of FedLine
        In the order of the ledger.
    """
    lines = [one for one in read_lines(person, season_id, "fed") if one[1].day == day]
    rows = records.Feeding.objects.filter(id__in=[line for line, _ in lines])
    said = rows.values_list("id", "written_by__at", "written_by__person__name")
    wrote = {line: (at, who or "") for line, at, who in said}
    return tuple(FedLine(line, row, *wrote[line]) for line, row in lines)


def note_fed(
    person: Any,
    season_id: UUID,
    rows: Sequence[FedRow],
    today: date,
    *,
    fact: UUID | None = None,
    seen: Collection[UUID] = (),
) -> int:
    """Note all that a group got on a day, or none of it.

    Parameters
    ----------
    person : records.Person or None
        Who notes.
    season_id : UUID
        The season.
    rows : sequence of FedRow
        What the one group got on the one day.
    today : date
        The day on the farm.
    fact : UUID, optional
        The id that whoever noted it gave it: what is sent twice counts once.
    seen : collection of UUID
        The lines of that group and day that stood on the page it was noted from.

    Returns
    -------
    int
        How many lines were written; none where all were sent before.

    Raises
    ------
    NotTaken
        If nothing is said to be fed, the day is to come, or another has noted something for the
        group meanwhile.
    """
    if not rows:
        raise NotTaken("Nothing was noted: write how much of what was fed.")
    if any(one.day > today for one in rows):
        raise NotTaken("That day is to come. Note what was fed on the day itself, or after it.")
    kept = [_as_kept(one) for one in rows]
    ids = [_id_of(fact, f"{number} {one.source_id}") for number, one in enumerate(kept)]
    farm = season_there(person, season_id).farm_id
    # The turn is taken before it is looked what others have noted: no two look at the same time.
    with acting("add fed", person, farm, rows[0].group_id):
        if not records.Feeding.objects.filter(id__in=ids).exists():
            _refuse_unseen(person, season_id, rows[0], seen)
        done = [
            add_line(person, season_id, "fed", row, fact=line)
            for row, line in zip(kept, ids, strict=True)
        ]
    return sum(one.is_new for one in done)


def undo_fed(
    person: Any, season_id: UUID, lines: Collection[UUID], *, fact: UUID | None = None
) -> None:
    """Undo lines of the ledger of feedings by new lines that name them, all or none.

    Parameters
    ----------
    person : records.Person or None
        Who undoes.
    season_id : UUID
        The season.
    lines : collection of UUID
        The lines.
    fact : UUID, optional
        An id of this undoing, so that it counts once.

    Raises
    ------
    NotThere
        If one of them is no line of this season.
    NotTaken
        If one of them was undone before.
    """
    with transaction.atomic():
        for line in lines:
            undo_line(person, season_id, "fed", line, fact=_id_of(fact, f"undo {line}"))


def _id_of(fact: UUID | None, what: str) -> UUID:
    return uuid4() if fact is None else uuid5(fact, what)


def _as_kept(row: FedRow) -> FedRow:
    mass_kg = None if row.mass_kg is None else round(row.mass_kg, _DECIMALS)
    return FedRow(row.day, row.source_id, row.group_id, row.bales, mass_kg, row.note)


def _refuse_unseen(person: Any, season_id: UUID, first: FedRow, seen: Collection[UUID]) -> None:
    """Refuse to note a feeding beside one that whoever notes it has not seen."""
    now = fed_on(person, season_id, first.day)
    new = [one for one in now if one.row.group_id == first.group_id and one.id not in set(seen)]
    if new:
        who = new[0].who or "Somebody"
        raise NotTaken(
            f"{who} has noted a feeding of this group on this day meanwhile. Look at the day "
            "again, and note only what was fed beside it."
        )
