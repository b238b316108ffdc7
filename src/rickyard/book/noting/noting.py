"""Lines of text: shown as they were understood, then written to their ledgers, each once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any, Final
from uuid import NAMESPACE_URL, UUID, uuid5

from django.db import transaction

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
    often: Counter[tuple[str, Row]] = Counter()
    with transaction.atomic():
        for line in lines:
            for row in line.rows:
                often[line.line, row] += 1
                key = f"{season_id} {line.line.casefold()} {row} {often[line.line, row]}"
                fact = uuid5(_NOTED, key)
                if isinstance(row, Counted):
                    done = count_lot(person, season_id, row.lot_id, row.bales, row.day, fact=fact)
                else:
                    part = "moves" if isinstance(row, MoveRow) else "fed"
                    done = add_line(person, season_id, part, row, fact=fact)
                found.append(Noted(row, done.fact, done.is_new, done.questions))
    return tuple(found)


def _likely(person: Any, season_id: UUID) -> Mapping[str, Collection[str]]:
    """Return what each group is fed by the program that was adopted."""
    kept = read_program(person, season_id, only_adopted=True)
    likely: dict[str, set[str]] = {}
    for row in () if kept is None else kept.planned.program.feeding:
        likely.setdefault(row.group_id, set()).add(row.source_id)
    return likely
