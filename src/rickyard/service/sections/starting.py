"""A first farm from what was told of it: a folder as the answers make it, read by its rules."""

from __future__ import annotations

import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from rickyard.draft import Answers, hear_all, surer, texts_of
from rickyard.farm import Farm
from rickyard.hay.yard import YardPage
from rickyard.service import open_farm, yard_on


@dataclass(frozen=True, slots=True)
class FarmTold:
    """A farm from what was told so far, with something usual for the rest.

    ``yard`` is what stands and whether it lasts; ``assumed`` says what stands in for what nobody
    said, and ``surer`` what would make it surer, what is worth most first.
    """

    farm: Farm
    yard: YardPage
    answers: Answers
    assumed: tuple[str, ...]
    surer: tuple[str, ...]


def farm_told(lines: Sequence[str], name: str, today: date) -> FarmTold:
    """Return the farm that answers describe.

    ``lines``: the answers to the ten questions, one by one, as far as they were given. ``name``:
    what it is called where that is not known. Raises ``FolderFaulty`` if the answers do not fit
    together.
    """
    answers, assumed = hear_all(lines, name, today)
    with tempfile.TemporaryDirectory(prefix="rickyard-") as place:
        write_told(answers, Path(place))
        farm = open_farm(Path(place)).farm
    day = max(today, farm.season.start)
    return FarmTold(
        farm,
        yard_on(farm, day),
        answers,
        tuple(dict.fromkeys(assumed)),
        surer(answers, on_pages=True),
    )


def write_told(answers: Answers, folder: Path) -> None:
    """Write what was told as the files of a farm folder.

    ``answers``: all that was told. ``folder``: an empty folder.
    """
    for file, text in texts_of(answers).items():
        (folder / file).write_text(text, encoding="utf-8", newline="")
