"""A farm folder read: the farm, the questions of its reader, and digests of its files."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from pathlib import Path

from rickyard.farm import Farm
from rickyard.folder.io import SETTINGS_FILE, read_folder
from rickyard.folder.tables import STACKS, TABLES, FolderFaults
from rickyard.forage.values import feed_ids
from rickyard.program.result import FileDigest, Made
from rickyard.service.errors import FolderFaulty

#: Every file of a farm folder that is read, in the order in which they are digested.
FARM_FILES = (SETTINGS_FILE, *(table.file for table in TABLES))
#: Where a stack is drawn changes no program.
_ON_NO_PROGRAM = (STACKS.file,)


@dataclass(frozen=True, slots=True)
class OpenedFarm:
    """A farm and where it came from.

    ``questions`` are sentences about what is possible in the folder but unusual.
    """

    folder: Path
    farm: Farm
    questions: tuple[str, ...]
    files: tuple[FileDigest, ...]

    @property
    def sha256(self) -> str:
        """Return one digest over all files, in hexadecimal."""
        whole = hashlib.sha256()
        for one in self.files:
            whole.update(f"{one.file} {one.sha256}\n".encode())
        return whole.hexdigest()

    def changed_since(self, made: Made) -> tuple[str, ...]:
        """Return the files that are not as they were when a program was made."""
        then = {one.file: one.sha256 for one in made.files}
        now = {one.file: one.sha256 for one in self.files}
        return tuple(name for name in FARM_FILES if then.get(name) != now.get(name))


def open_farm(folder: Path) -> OpenedFarm:
    """Read a farm folder.

    Returns the farm with the digest of its folder and what it asks. Raises ``FolderFaulty`` if
    anything is wrong in it; the message names every fault.
    """
    try:
        read = read_folder(folder, known_table_ids=feed_ids())
    except FolderFaults as faults:
        raise FolderFaulty(str(faults)) from faults
    except OSError as error:
        raise FolderFaulty(
            f"{folder}: cannot be read ({error.strerror}). Check the name and your rights to it."
        ) from error
    questions = tuple(one.message for one in read.questions)
    return OpenedFarm(folder, read.farm, questions, _digests(folder))


def digest_of(path: Path) -> str:
    """Return the SHA-256 of a file's bytes, in hexadecimal."""
    return hashlib.sha256(path.read_bytes()).hexdigest()


def _digests(folder: Path) -> tuple[FileDigest, ...]:
    there = [
        name for name in FARM_FILES if name not in _ON_NO_PROGRAM and (folder / name).is_file()
    ]
    return tuple(FileDigest(name, digest_of(folder / name)) for name in there)
