"""Farm folders taken into the book as a whole: each once, however often it comes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final
from uuid import UUID

from django.db import transaction

from rickyard.book import records
from rickyard.book.acting import beginning, role_on
from rickyard.book.base import BookProblem
from rickyard.book.folders.incoming import SOURCES, store_farm, store_texts
from rickyard.book.folders.outgoing import farm_of
from rickyard.folder import FarmFolder, FolderFaults, read_folder
from rickyard.forage.values import feed_ids
from rickyard.service import FolderFaulty

#: More than a laboratory's largest file. [bytes]
LARGEST_SOURCE: Final = 50_000_000


class FolderRefused(BookProblem, FolderFaulty):
    """The folder has faults; the message names each."""


@dataclass(frozen=True, slots=True)
class TakenIn:
    """A folder that stands in the book; ``is_new`` is false where it stood there before.

    ``questions`` are sentences about what is possible in the folder but unusual.
    """

    season: Any
    farm_name: str
    is_new: bool
    questions: tuple[str, ...]


def take_in(folder: Path, person: Any = None) -> TakenIn:
    """Take a farm folder into the book, whole or not at all.

    Parameters
    ----------
    folder : Path
        The farm folder.
    person : records.Person, optional
        Who brings it.

    Returns
    -------
    TakenIn
        Its season in the book. A folder that stands there already as it is comes in once.

    Raises
    ------
    FolderRefused
        If the folder has faults, each of which is named.
    BookProblem
        If a file in it cannot be read.
    """
    try:
        read = read_folder(folder, known_table_ids=feed_ids())
        sources = _sources(folder)
    except FolderFaults as faults:
        raise FolderRefused(str(faults)) from faults
    except OSError as error:
        raise BookProblem(
            f"{folder}: cannot be read ({error.strerror}). Check the name and your rights to it."
        ) from error
    questions = tuple(str(question) for question in read.questions)
    with transaction.atomic():
        there = _standing(read, person)
        season = there if there is not None else _store(read, sources, person)
    return TakenIn(season, read.farm.name, there is None, questions)


def _store(read: FarmFolder, sources: Mapping[str, bytes], person: Any) -> Any:
    with beginning("import", person, read.farm.name) as line:
        season = store_farm(read.farm, line.farm, line)
        store_texts(read.layout, sources, line.farm, season, line)
    return season


def _standing(read: FarmFolder, person: Any) -> Any:
    """Return the season that holds just this folder and is the person's to see, or ``None``."""
    days = {"states__start": read.farm.season.start, "states__end": read.farm.season.end}
    named = records.Season.objects.filter(farm__states__name=read.farm.name, **days).distinct()
    seen = (one for one in named if role_on(person, one.farm_id) is not None)
    return next((one for one in seen if farm_of(one) == read.farm), None)


def _sources(folder: Path) -> dict[str, bytes]:
    """Return the files of laboratories that lie beside the tables."""
    place = folder / SOURCES
    if not place.is_dir():
        return {}
    found = {}
    for path in sorted(place.iterdir()):
        if path.name.startswith(".") or not path.is_file():
            continue
        if path.stat().st_size > LARGEST_SOURCE:
            raise BookProblem(
                f"{path}: has more than {LARGEST_SOURCE / 1e6:.0f} MB, which no laboratory's file "
                "has. Move it out of the folder."
            )
        found[path.name] = path.read_bytes()
    return found


def seasons_of(name: str, person: Any = None) -> list[tuple[Any, str]]:
    """Return the seasons of the farms of a name, newest first, each with its farm's name now.

    Parameters
    ----------
    name : str
        The name of a farm; capitals do not matter. Empty for all farms.
    person : records.Person, optional
        Who asks: only what is theirs to see is told.

    Returns
    -------
    list of (records.Season, str)
        The seasons.
    """
    # However many farms there are, their names and days are asked for once.
    names = dict(_newest(records.FarmState, "name"))
    starts = dict(_newest(records.SeasonState, "start"))
    seasons = [
        one
        for one in records.Season.objects.all()
        if not name or names[one.farm_id].casefold() == name.casefold()
    ]
    farms = {one.farm_id for one in seasons}
    seen = {one for one in farms if role_on(person, one) is not None}
    found = [(starts[one.id], one, names[one.farm_id]) for one in seasons if one.farm_id in seen]
    found.sort(key=lambda one: (one[0], str(one[1].id)), reverse=True)
    return [(season, called) for _, season, called in found]


def _newest(states: Any, column: str) -> Iterator[tuple[UUID, Any]]:
    """Yield a column of each thing, state by state, so that the newest comes last."""
    yield from states.objects.order_by("revision").values_list("thing_id", column)
