"""Reading a farm of the book and sending it out as a folder."""

from __future__ import annotations

import os
from typing import Any
from uuid import UUID

from rickyard.book.acting import allow
from rickyard.book.base import BookProblem
from rickyard.book.folders import farm_of, write_out
from rickyard.book.services.done import season_there
from rickyard.farm import Farm
from rickyard.folder import FolderFaults, FolderInUse


def read_farm(person: Any, season_id: UUID) -> Farm:
    """Return a season of a farm as the engine takes it.

    Parameters
    ----------
    person : records.Person or None
        Who reads.
    season_id : UUID
        The season.

    Returns
    -------
    Farm
        The farm in that season.
    """
    season = season_there(person, season_id)
    allow("read farm", person, season.farm_id)
    return farm_of(season)


def export_farm(
    person: Any, season_id: UUID, folder: str | os.PathLike[str], *, replace_old: bool = False
) -> None:
    """Write a season of a farm as a farm folder.

    Parameters
    ----------
    person : records.Person or None
        Who asks.
    season_id : UUID
        The season.
    folder : str or path-like
        Where to.
    replace_old : bool
        Whether a farm that is there may be replaced.

    Raises
    ------
    BookProblem
        If it cannot be written there; what was there stays.
    """
    season = season_there(person, season_id)
    allow("export", person, season.farm_id)
    try:
        write_out(season, folder, replace_old=replace_old)
    except (FolderInUse, FolderFaults) as problem:
        raise BookProblem(str(problem)) from problem
    except OSError as error:
        raise BookProblem(
            f"{folder}: cannot be written ({error.strerror or error}). Choose a place that exists "
            "and that you may write to."
        ) from error
