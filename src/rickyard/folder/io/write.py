"""Write a farm folder: whole, checked by reading it back, and never over another by accident."""

from __future__ import annotations

import os
import secrets
import shutil
from collections.abc import Mapping
from pathlib import Path
from typing import Final

from rickyard.farm import Farm
from rickyard.folder.io.layout import Layout, as_written, folder_texts
from rickyard.folder.io.read import read_folder
from rickyard.folder.io.settings import SETTINGS_FILE
from rickyard.folder.tables import TABLES, FolderFaults, fault_at

#: Every file that a farm folder may hold; the writer touches no other.
FILES: Final = (SETTINGS_FILE, *(table.file for table in TABLES))


class FolderInUse(FileExistsError):  # noqa: N818 - named for what the person is shown
    """The place to write to holds a farm already, or something that is no folder."""


def write_folder(
    farm: Farm,
    path: str | os.PathLike[str],
    layout: Layout | None = None,
    *,
    replace: bool = False,
    to_keep: bool = False,
) -> None:
    """Write a farm as a farm folder.

    The folder is written beside its place, read back and compared with the farm, and only
    then moved into its place. Files of other names that are there already stay.

    Parameters
    ----------
    farm : Farm
        The farm.
    path : str or path-like
        The folder. Its parent must exist.
    layout : Layout, optional
        The layout of the folder the farm was read from; columns, units and cells that still
        say the same are kept. Without it the headers are in canonical metric units.
    replace : bool, optional
        Whether a farm that is there already may be replaced.
    to_keep : bool, optional
        Whether it is written to be kept: a lot without a weight or a group without an age is
        written then, and reading the folder to plan it says what is missing.

    Raises
    ------
    FolderInUse
        If the folder holds a farm and ``replace`` is not set, or is no folder.
    FolderFaults
        If the farm breaks a rule of the farm folder; nothing is written.
    OSError
        If the folder cannot be written.

    Examples
    --------
    >>> import tempfile
    >>> from datetime import date
    >>> from rickyard.farm import Season
    >>> from rickyard.folder.io.read import read_folder
    >>> farm = Farm("Hill farm", Season(date(2025, 11, 15), date(2026, 4, 15)))
    >>> with tempfile.TemporaryDirectory() as parent:
    ...     write_folder(farm, Path(parent) / "hill")
    ...     read_folder(Path(parent) / "hill").farm == farm
    True
    """
    target = Path(path).resolve()
    _refuse_place(target, replace)
    wanted = as_written(farm)
    fresh = _sibling(target, "new")
    fresh.mkdir()
    try:
        _write_files(fresh, _texts(wanted, layout))
        _compare(read_folder(fresh, to_keep=to_keep).farm, wanted)
        _move_into_place(fresh, target)
    finally:
        _remove(fresh)


def _refuse_place(target: Path, replace: bool) -> None:
    if target.exists() and not target.is_dir():
        raise FolderInUse(f"{target.name} is a file.\n  Name a folder to write to.")
    there = [name for name in FILES if (target / name).exists()]
    odd = [name for name in there if not (target / name).is_file()]
    if odd:
        raise FolderInUse(f"{odd[0]} in {target.name} is no file.\n  Move it away.")
    if there and not replace:
        raise FolderInUse(
            f"{target.name} holds a farm already: {', '.join(there)}.\n"
            "  Write to another folder, or say that it may be replaced."
        )


def _sibling(target: Path, what: str) -> Path:
    return target.with_name(f".{target.name}.{what}-{secrets.token_hex(4)}")


def _texts(farm: Farm, layout: Layout | None) -> dict[str, bytes]:
    try:
        return folder_texts(farm, layout)
    except UnicodeEncodeError as error:
        raise FolderFaults(
            [
                fault_at(
                    SETTINGS_FILE,
                    f"a text of the farm holds a sign that UTF-8 does not have: {error.reason}.",
                    "Type that text again.",
                )
            ]
        ) from None


def _write_files(folder: Path, files: Mapping[str, bytes]) -> None:
    for name, data in files.items():
        with (folder / name).open("xb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())


def _compare(found: Farm, wanted: Farm) -> None:
    """Refuse a farm that would not come back as it is, such as two values of one analyte."""
    if found == wanted:
        return
    differing = (
        table.file for table in TABLES if getattr(found, table.part) != getattr(wanted, table.part)
    )
    raise FolderFaults(
        [
            fault_at(
                next(differing, SETTINGS_FILE),
                "this part of the farm would not come back as it is.",
                "Give each report one value of an analyte, and leave no empty rows.",
            )
        ]
    )


def _move_into_place(fresh: Path, target: Path) -> None:
    if not target.exists():
        fresh.rename(target)
        return
    shutil.copymode(target, fresh)
    old = _sibling(target, "old")
    try:
        target.rename(old)
    except PermissionError as error:
        # Windows moves no folder of which a file is open.
        raise FolderInUse(
            f"{target.name} cannot be replaced: a file in it is open in another program, or the "
            "folder may not be written to.\n  Close its tables in the spreadsheet and try again."
        ) from error
    try:
        fresh.rename(target)
    except OSError:
        old.rename(target)
        raise
    for entry in list(old.iterdir()):
        # Where capitals do not count, Lots.csv is the lots.csv that has just been written.
        if entry.name not in FILES and not (target / entry.name).exists():
            entry.rename(target / entry.name)
    _remove(old)


def _remove(folder: Path) -> None:
    """Remove a folder of ours, and nothing in it that is not."""
    if not folder.exists():
        return
    for name in FILES:
        (folder / name).unlink(missing_ok=True)
    folder.rmdir()
