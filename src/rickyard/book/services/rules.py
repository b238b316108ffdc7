"""The rules of the farm folder for what is about to be written: the same rules, the same sentences.

The farm as it would be is written as a folder into a place of its own and read again, so there is
no second set of rules that could come to say something else.
"""

from __future__ import annotations

import tempfile
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Final

from rickyard.book.acting import NotTaken
from rickyard.farm import Farm
from rickyard.folder.io import as_written, folder_texts, read_folder
from rickyard.folder.tables import FolderFaults
from rickyard.forage.values import feed_ids

#: What is long and has no rule with other parts: left aside unless it is what is written.
_ASIDE: Final = ("weather", "labs", "stacks")

#: Rules hold reports to lots alone: a line of a ledger changes nothing of them.
_NO_LINES: Final = ("reports",)

#: Lines of which each stands by itself, and there are many: only the new ones are looked at.
_ALONE: Final = ("fed",)


@dataclass(frozen=True, slots=True)
class Looked:
    """A farm that may be kept, as a folder gives it back, what it lacks yet and what it asks."""

    farm: Farm
    questions: tuple[str, ...]


def look_at(farm: Farm, part: str, added: tuple[Any, ...] = ()) -> Looked:
    """Look at a farm as it would be.

    Parameters
    ----------
    farm : Farm
        The farm with what is to be written.
    part : str
        The part in which something is to be written, as ``lots``.
    added : tuple of object
        New lines of a ledger, where that is what is written.

    Returns
    -------
    Looked
        The farm as the folder gives it back, what must be known before it is planned, and what is
        possible but worth a second look.

    Raises
    ------
    NotTaken
        If a rule is broken; the message names every fault.
    """
    less: dict[str, Any] = {name: () for name in _ASIDE if name != part}
    if added:
        less |= {name: () for name in (*_ALONE, *_NO_LINES) if name != part}
    if added and part in _ALONE:
        less[part] = added
    with tempfile.TemporaryDirectory() as place:
        try:
            for name, content in folder_texts(as_written(replace(farm, **less))).items():
                (Path(place) / name).write_bytes(content)
            read = read_folder(place, known_table_ids=feed_ids(), to_keep=True)
        except FolderFaults as faults:
            told = str(faults).replace("nothing was loaded.", "nothing was written.")
            raise NotTaken(told) from faults
    # A line says nothing of what its lot or group lacks.
    missing = (one for one in read.missing if not added and one.file == f"{part}.csv")
    return Looked(read.farm, tuple(str(one) for one in (*missing, *read.questions)))
