"""Lines of text: shown as they were understood, then written to their ledgers, each once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any, Final
from uuid import NAMESPACE_URL, UUID, uuid5

from django.db import transaction

from rickyard.book import records
from rickyard.book.noting.doubts import beyond
from rickyard.book.noting.lines import Counted, Row, Understood, understand
from rickyard.book.services import add_line, count_lot, read_farm, read_program
from rickyard.farm import MoveRow

#: What ids of feedings are made from, so that a message that comes twice counts once.
_NOTED: Final = uuid5(NAMESPACE_URL, "urn:rickyard:noted")


@dataclass(frozen=True, slots=True)
class Noted:
    """What stands in the book; ``is_new`` is false where it stood there before."""

    row: Row
    fact: UUID
    is_new: bool
    questions: tuple[str, ...]


def look(person: Any, season_id: UUID, text: str, today: date) -> tuple[Understood, ...]:
    """Understand lines for a season; nothing is written.

    Parameters
    ----------
    person : records.Person or None
        Who notes.
    season_id : UUID
        The season.
    text : str
        The lines, as `understand` takes them.
    today : date
        The day on the farm.

    Returns
    -------
    tuple of Understood
        What each line says, or what is not clear in it.
    """
    farm = read_farm(person, season_id)
    return understand(text, farm, today, _likely(person, season_id))


def note(person: Any, season_id: UUID, lines: Sequence[Understood]) -> tuple[Noted, ...]:
    """Write what was understood, all or none of it.

    Parameters
    ----------
    person : records.Person or None
        Who notes.
    season_id : UUID
        The season.
    lines : sequence of Understood
        What `look` gave, without a fault.

    Returns
    -------
    tuple of Noted
        Each of it. A line that came before counts once: the same feeding twice on a day is told
        by two lines in one message, or by a word more in the line.
    """
    found = []
    with transaction.atomic():
        for row, fact in _with_ids(season_id, lines):
            if isinstance(row, Counted):
                done = count_lot(person, season_id, row.lot_id, row.bales, row.day, fact=fact)
            else:
                part = "moves" if isinstance(row, MoveRow) else "fed"
                done = add_line(person, season_id, part, row, fact=fact)
            found.append(Noted(row, done.fact, done.is_new, done.questions))
    return tuple(found)


def doubts(person: Any, season_id: UUID, lines: Sequence[Understood]) -> tuple[str, ...]:
    """Return what is possible but worth a second look before lines are written.

    Parameters
    ----------
    person : records.Person or None
        Who notes.
    season_id : UUID
        The season.
    lines : sequence of Understood
        What `look` gave.

    Returns
    -------
    tuple of str
        A question for each lot of which they take more bales than stand; what came before is not
        asked about again.
    """
    farm = read_farm(person, season_id)
    rows = {fact: row for row, fact in _with_ids(season_id, lines)}
    for table in (records.Feeding, records.Move):
        for there in table.objects.filter(id__in=list(rows)).values_list("id", flat=True):
            del rows[there]
    return beyond(farm, list(rows.values()))


def _with_ids(season_id: UUID, lines: Sequence[Understood]) -> list[tuple[Row, UUID]]:
    """Return each row with its id: the same line gives the same, and its second time another."""
    often: Counter[tuple[str, Row]] = Counter()
    found = []
    for line in lines:
        for row in line.rows:
            often[line.line, row] += 1
            key = f"{season_id} {line.line.casefold()} {row} {often[line.line, row]}"
            found.append((row, uuid5(_NOTED, key)))
    return found


def _likely(person: Any, season_id: UUID) -> Mapping[str, Collection[str]]:
    """Return what each group is fed by the program that was adopted."""
    kept = read_program(person, season_id, only_adopted=True)
    likely: dict[str, set[str]] = {}
    for row in () if kept is None else kept.planned.program.feeding:
        likely.setdefault(row.group_id, set()).add(row.source_id)
    return likely
