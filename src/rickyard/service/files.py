"""Writing a file: looked at before work begins, then written whole or not at all."""

from __future__ import annotations

import os
import stat
import tempfile
from collections.abc import Iterable
from pathlib import Path
from typing import Final

from rickyard.service.errors import CannotWrite
from rickyard.service.opened import FARM_FILES

_ELSEWHERE: Final = "Name another file."
#: What stands for standard output where JSON is asked for, and names no file.
_STDOUT: Final = "-"


def check_outputs(paths: Iterable[Path | None], folder: Path | None = None) -> None:
    """Refuse files that could not or should not be written, before any work is done.

    ``folder``: the farm folder: its own files are never written over. Raises ``CannotWrite`` with a
    sentence about the first of them.
    """
    seen: dict[str, Path] = {}
    for path in paths:
        if path is None:
            continue
        if str(path) == _STDOUT:
            raise CannotWrite(f"{path}: this file needs a name. Only --json - goes to the screen.")
        target = _target(path)
        if folder is not None and _is_input(target, folder):
            raise CannotWrite(f"{path}: is a file of the farm folder itself. {_ELSEWHERE}")
        key = os.path.normcase(target)
        if key in seen:
            raise CannotWrite(
                f"{path}: is asked for twice, as {seen[key]} too. Give each its own name."
            )
        seen[key] = path


def write_file(path: Path, content: bytes) -> None:
    """Write a file whole or not at all.

    A neighbour of a name that nobody can foresee is written and moved into place. A file that is
    there already keeps its mode; a link is followed, and stays a link.

    Raises ``CannotWrite`` if it cannot be written; what was there is left as it was.
    """
    target = _target(path)
    try:
        mode = stat.S_IMODE(target.stat().st_mode)
    except OSError:
        mode = 0o666 & ~_mask()
    partial: Path | None = None
    try:
        handle, name = tempfile.mkstemp(prefix=".", suffix=".partial", dir=target.parent)
        partial = Path(name)
        with os.fdopen(handle, "wb") as file:
            file.write(content)
        partial.chmod(mode)
        partial.replace(target)
        partial = None
    except OSError as error:
        raise CannotWrite(_refused(path, error)) from error
    finally:
        if partial is not None:
            partial.unlink(missing_ok=True)


def _target(path: Path) -> Path:
    """Return the file itself, links followed, or refuse it."""
    if not str(path) or path == Path():
        raise CannotWrite("A file to write has no name. Give it one.")
    try:
        target = path.resolve()
        is_there = target.exists()
        parent_there = target.parent.exists()
    except (OSError, RuntimeError) as error:
        raise CannotWrite(_refused(path, error)) from error
    except ValueError as error:
        raise CannotWrite(f"{path!s}: is no name of a file. {_ELSEWHERE}") from error
    if target.is_dir():
        raise CannotWrite(f"{path}: is a folder. Name a file in it.")
    if is_there and not target.is_file():
        raise CannotWrite(f"{path}: is a device or a pipe and no file. {_ELSEWHERE}")
    if not target.parent.is_dir():
        place = target.parent
        what = "is a file, not a folder" if place.is_file() else "there is no such folder"
        what = what if parent_there or not _under_a_file(place) else "it lies under a file"
        raise CannotWrite(
            f"{path}: cannot be written ({place}: {what}). Choose a folder that exists."
        )
    if not os.access(target.parent, os.W_OK | os.X_OK) or (
        is_there and not os.access(target, os.W_OK)
    ):
        raise CannotWrite(
            f"{path}: cannot be written (you may not). Choose a place that you may write to."
        )
    return target


def _under_a_file(place: Path) -> bool:
    return any(one.is_file() for one in place.parents)


def _is_input(target: Path, folder: Path) -> bool:
    for name in FARM_FILES:
        mine = folder / name
        try:
            if target == mine.resolve() or (mine.exists() and target.samefile(mine)):
                return True
        except OSError:
            continue
    return False


def _refused(path: Path, error: OSError | RuntimeError) -> str:
    reason = getattr(error, "strerror", None) or str(error)
    return (
        f"{path}: cannot be written ({reason}). Choose a short name in a folder that exists and "
        "that you may write to, and close the file where it is open."
    )


def _mask() -> int:
    """Return which rights new files do not get; there is no way to ask but to set it."""
    mask = os.umask(0o077)
    os.umask(mask)
    return mask
