"""Beginning a farm in the book with the answers to ten questions."""

from __future__ import annotations

import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any
from uuid import UUID

from rickyard.book.folders import take_in
from rickyard.book.services.programs import ask_plan
from rickyard.draft import hear_all
from rickyard.service.sections import write_told


@dataclass(frozen=True, slots=True)
class FarmStarted:
    """A farm that stands in the book; ``is_new`` is false where just this one stood there."""

    farm: UUID
    season: UUID
    is_new: bool
    questions: tuple[str, ...]


def start_farm(person: Any, lines: Sequence[str], name: str, today: date) -> FarmStarted:
    """Write a farm from the answers to the ten questions, and ask for its first program.

    Parameters
    ----------
    person : records.Person or None
        Who starts it, and is its producer.
    lines : sequence of str
        The answers, one by one.
    name : str
        What the farm is called where that is not known.
    today : date
        The day that counts as today.

    Returns
    -------
    FarmStarted
        What happened. The same answers sent twice start one farm.

    Raises
    ------
    FolderRefused
        If the answers do not fit together; each fault is named.
    """
    answers, _ = hear_all(lines, name, today)
    with tempfile.TemporaryDirectory(prefix="rickyard-") as place:
        write_told(answers, Path(place))
        taken = take_in(Path(place), person)
    season = taken.season
    if taken.is_new:
        ask_plan(person, season.id)
    return FarmStarted(season.farm_id, season.id, taken.is_new, taken.questions)
