"""A whole office as one file: a zip of farm folders, out of the book and into it."""

from __future__ import annotations

import re
import secrets
import tempfile
import zipfile
import zlib
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Final
from uuid import UUID

from rickyard.book.acting import allow
from rickyard.book.base import BookProblem
from rickyard.book.folders import farm_of, seasons_of, write_out

#: What a zip says that it holds is not written out beyond this: nobody has so large an office.
MOST_BYTES: Final = 2_000_000_000
MOST_FILES: Final = 100_000

#: The mark of a part of a zip that is locked with a password (PKWARE, APPNOTE.TXT, 4.4.4, bit 0).
LOCKED: Final = 1


def write_seasons(person: Any, farm_id: UUID, path: Path) -> int:
    """Write every season of one farm into a zip, each as a farm folder.

    Parameters
    ----------
    person : records.Person or None
        Who asks.
    farm_id : UUID
        The farm.
    path : Path
        The file. One that is there is left alone.

    Returns
    -------
    int
        How many folders are in it.

    Raises
    ------
    BookProblem
        If it cannot be written there.
    """
    allow("export", person, farm_id)
    return write_office(path, farm_id)


def write_office(path: Path, only: UUID | None = None) -> int:
    """Write every season of every farm of the book into a zip, each as a farm folder.

    Parameters
    ----------
    path : Path
        The file. One that is there is left alone.
    only : UUID, optional
        The farm of which the seasons are wanted, where not of all.

    Returns
    -------
    int
        How many folders are in it.

    Raises
    ------
    BookProblem
        If it cannot be written there.
    """
    if path.exists():
        raise BookProblem(f"{path}: is there already. Name a new file for the office.")
    partial = path.with_name(f".{path.name}.{secrets.token_hex(4)}.partial")
    taken: Counter[str] = Counter()
    try:
        with zipfile.ZipFile(partial, "x", zipfile.ZIP_DEFLATED) as archive:
            for name, season in sorted(
                (
                    (f"{_plain(called)}-{farm_of(season).season.start}", season)
                    for season, called in seasons_of("")
                    if only in (None, season.farm_id)
                ),
                key=lambda one: one[0],
            ):
                taken[name] += 1
                again = f"-{taken[name]}" if taken[name] > 1 else ""
                with tempfile.TemporaryDirectory() as place:
                    folder = Path(place) / "farm"
                    write_out(season, folder)
                    for file in sorted(one for one in folder.rglob("*") if one.is_file()):
                        inside = f"{name}{again}/{file.relative_to(folder).as_posix()}"
                        # Without the time of day the same office gives the same file.
                        archive.writestr(
                            zipfile.ZipInfo(inside), file.read_bytes(), zipfile.ZIP_DEFLATED
                        )
        partial.rename(path)
    except OSError as error:
        raise BookProblem(
            f"{path}: cannot be written ({error.strerror or error}). Make room, or choose a place "
            "that exists and that you may write to."
        ) from error
    finally:
        partial.unlink(missing_ok=True)
    return sum(taken.values())


@contextmanager
def office_folders(path: Path) -> Iterator[Path]:
    """Write out a zip of farm folders, for the length of a block.

    Parameters
    ----------
    path : Path
        The zip.

    Yields
    ------
    Path
        A folder that holds the farm folders.

    Raises
    ------
    BookProblem
        If it is no zip, is damaged, or holds far more than an office.
    """
    with tempfile.TemporaryDirectory() as place:
        try:
            with zipfile.ZipFile(path) as archive:
                held = archive.infolist()
                size = sum(one.file_size for one in held)
                if size > MOST_BYTES or len(held) > MOST_FILES:
                    raise BookProblem(
                        f"{path}: holds {len(held):,} files of {size:,} bytes, more than an office "
                        "has. Take the farms in from folders, some at a time."
                    )
                if any(one.flag_bits & LOCKED for one in held):
                    raise BookProblem(
                        f"{path}: is locked with a password, which is not asked for here. Unpack "
                        "it, and take the farms in from its folders."
                    )
                # Names that would lead out of the folder are led back into it.
                archive.extractall(place)
        except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError) as error:
            raise BookProblem(
                f"{path}: is no zip, or is damaged ({error}). Take another copy of it."
            ) from error
        except OSError as error:
            raise BookProblem(
                f"{path}: cannot be read or written out ({error.strerror or error})."
            ) from error
        yield Path(place)


def _plain(name: str) -> str:
    return "-".join(re.findall("[a-z0-9]+", name.casefold())) or "farm"
