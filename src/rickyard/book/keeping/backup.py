"""A backup: every table and every file in one archive, made while others write, then read again.

Its rows are one small database, packed in parts.
"""

from __future__ import annotations

import json
import os
import secrets
import zipfile
import zlib
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Final

from django.db import DataError, IntegrityError, OperationalError, connection, transaction
from django.db.migrations.recorder import MigrationRecorder

from rickyard.book.base import BUSY_SECONDS, LABEL, BookProblem
from rickyard.book.keeping.parts import pack, unpacked
from rickyard.book.keeping.rows import (
    beside,
    columns_in,
    parents_first,
    put_rows,
    tables,
    take_rows,
)
from rickyard.version import __version__

#: One more with each change of how a backup is written.
FORMAT: Final = 2

#: What a restore holds of the file in memory. [KiB]
_CACHE_KIB: Final = 200_000

#: What reading an archive comes to where it is not as it was written.
_DAMAGE: Final = (zipfile.BadZipFile, KeyError, EOFError, ValueError, zlib.error)

#: The member of the archive that says what it is.
ABOUT: Final = "about.json"


@dataclass(frozen=True, slots=True)
class Backup:
    """What a backup holds: when it was made, the steps of its tables, its rows by table.

    ``sha256`` has the digest of each part by its name.
    """

    made_at: str
    steps: tuple[str, ...]
    rows: dict[str, int]
    sha256: dict[str, str]

    @property
    def total(self) -> int:
        """Return how many rows it holds."""
        return sum(self.rows.values())


def make_backup(path: Path) -> Backup:
    """Write the whole book into one file, and read it again before it gets its name.

    Parameters
    ----------
    path : Path
        The file. One that is there is left alone.

    Returns
    -------
    Backup
        What it holds.

    Raises
    ------
    BookProblem
        If it cannot be written there, or what was written does not read back as it should.
    """
    begun = f".backup.{secrets.token_hex(4)}"
    partial = path.with_name(f"{begun}.partial")
    rows = path.with_name(f"{begun}.rows.partial")
    try:
        if path.exists():
            raise BookProblem(f"{path}: is there already. Name a new file for the backup.")
        # Digests of passwords and secrets of phones are in it: for whoever makes it alone.
        for one in (partial, rows):
            one.touch(mode=0o600, exist_ok=False)
        made_at, steps = datetime.now(UTC).isoformat(), tuple(sorted(_steps()))
        counts = take_rows(rows)
        with zipfile.ZipFile(partial, "w") as archive, rows.open("rb") as file:
            made = Backup(made_at, steps, counts, pack(file, archive))
            archive.writestr(ABOUT, json.dumps(_said(made), indent=1))
        with partial.open("rb+") as file:
            os.fsync(file.fileno())
        if check_backup(partial) != made:
            raise BookProblem(f"{path}: did not read back as it was written. Try another disk.")
        partial.rename(path)
    except (OSError, OperationalError) as error:
        reason = error.strerror if isinstance(error, OSError) else " ".join(str(error).split())
        raise BookProblem(
            f"{path}: the backup cannot be written ({reason or error}). Make room, or choose a "
            "place that exists and that you may write to."
        ) from error
    finally:
        for one in (partial, rows):
            one.unlink(missing_ok=True)
    return made


def _said(made: Backup) -> dict[str, Any]:
    """Return what a backup says of itself."""
    return {
        "format": FORMAT,
        "program": __version__,
        "made_at": made.made_at,
        "steps": made.steps,
        "rows": made.rows,
        "sha256": made.sha256,
    }


def _steps() -> set[str]:
    """Return the steps that the tables have taken."""
    taken = MigrationRecorder.Migration.objects.filter(app=LABEL)
    return set(taken.values_list("name", flat=True))


def check_backup(path: Path) -> Backup:
    """Read a backup through, and hold every part against what it says of itself.

    Parameters
    ----------
    path : Path
        The file.

    Returns
    -------
    Backup
        What it holds.

    Raises
    ------
    BookProblem
        If it is none, or is damaged.
    """
    with _opened(path) as archive:
        held = _about(path, archive)
        for _ in unpacked(archive, held.sha256):
            pass
    return held


@contextmanager
def _opened(path: Path) -> Iterator[zipfile.ZipFile]:
    """Open a backup; where it is not as it was written, say so."""
    try:
        with zipfile.ZipFile(path) as archive:
            yield archive
    except _DAMAGE as error:
        raise _damaged(path, str(error)) from error
    except OSError as error:
        raise BookProblem(
            f"{path}: cannot be read or unpacked ({error.strerror or error}). Check the name of "
            "the backup, and that the disk has room."
        ) from error


def _about(path: Path, archive: zipfile.ZipFile) -> Backup:
    about: dict[str, Any] = json.loads(archive.read(ABOUT))
    if about["format"] > FORMAT:
        raise BookProblem(f"{path}: a newer program made this backup. Install that program.")
    if about["format"] < FORMAT:
        raise BookProblem(
            f"{path}: a program before the first release made this backup. Restore it with that "
            "program, and make another with this one."
        )
    return Backup(about["made_at"], tuple(about["steps"]), about["rows"], about["sha256"])


def _damaged(path: Path, what: str) -> BookProblem:
    return BookProblem(f"{path}: is no backup, or is damaged ({what}). Take another one.")


def restore_backup(path: Path) -> Backup:
    """Put a backup into a book in which nothing stands yet, whole or not at all.

    Parameters
    ----------
    path : Path
        The backup, made on any database.

    Returns
    -------
    Backup
        What was restored.

    Raises
    ------
    BookProblem
        If the backup is damaged or of a newer program, or something stands in the book.
    """
    with _opened(path) as archive:
        held = _about(path, archive)
    known = {table.__name__: table for table in tables()}
    if set(held.steps) - _steps() or set(held.rows) - set(known):
        raise BookProblem(f"{path}: a newer program made this backup. Install that program.")
    with TemporaryDirectory(prefix=".restore-", suffix=".partial", dir=_room()) as place:
        rows = Path(place) / "rows"
        rows.touch(mode=0o600)
        with _opened(path) as archive, rows.open("wb") as file:
            for part in unpacked(archive, held.sha256):
                file.write(part)
        try:
            columns = columns_in(rows)
            if set(columns) != set(held.rows):
                raise _damaged(path, "other tables than it says")
            with beside(rows), _filling():
                _fill(path, held, [known[name] for name in held.rows], rows, columns)
        except (ValueError, IntegrityError, DataError) as error:
            raise _damaged(path, str(error)) from error
    return held


def _room() -> str | None:
    """Return the folder in which rows are unpacked: that of a book that is a file."""
    if connection.vendor != "sqlite":
        return None
    return str(Path(connection.settings_dict["NAME"]).parent)


def _fill(
    path: Path, held: Backup, kept: list[Any], rows: Path, columns: Mapping[str, Sequence[str]]
) -> None:
    """Fill the tables of an empty book."""
    for table in tables():
        if table.objects.exists():
            raise BookProblem(
                "The record book is not empty, and a backup goes only into an empty one. Name "
                "a new folder with --data."
            )
    for table in parents_first(kept):
        name = table.__name__
        put_rows(rows, table, columns[name])
        if table.objects.count() != held.rows[name]:
            raise _damaged(path, name)


@contextmanager
def _filling() -> Iterator[None]:
    """Fill a book in one transaction; what its rows name is looked for once, at the end.

    On a file an index is made much sooner of rows that are there than row by row.
    """
    with _written_once(), connection.constraint_checks_disabled(), transaction.atomic():
        indexes = _without_indexes() if connection.vendor == "sqlite" else []
        yield
        with connection.cursor() as cursor:
            for statement in indexes:
                cursor.execute(statement)
        connection.check_constraints()


@contextmanager
def _written_once() -> Iterator[None]:
    """Write a file without the log in which all is written first, where nobody else has it open.

    In an empty file there is next to nothing to be put back if this is ended in the middle.
    """
    if connection.vendor != "sqlite":
        yield
        return
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA busy_timeout = 0")
        # Where another has it open the log stays.
        with suppress(OperationalError):
            cursor.execute("PRAGMA main.journal_mode = DELETE")
        cursor.execute(f"PRAGMA busy_timeout = {BUSY_SECONDS * 1_000}")
    try:
        yield
    finally:
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA main.journal_mode = WAL")


def _without_indexes() -> list[str]:
    """Take the indexes away until the rows are there; return the statements that make them."""
    with connection.cursor() as cursor:
        cursor.execute(f"PRAGMA cache_size = -{_CACHE_KIB}")
        # Indexes are sorted by all processors.
        cursor.execute(f"PRAGMA threads = {os.cpu_count() or 1}")
        cursor.execute(
            "SELECT name, sql FROM sqlite_master WHERE type = 'index' AND sql IS NOT NULL "
            f"AND tbl_name LIKE '{LABEL}~_%' ESCAPE '~'"
        )
        found = cursor.fetchall()
        for name, _ in found:
            cursor.execute(f"DROP INDEX {connection.ops.quote_name(name)}")
    return [statement for _, statement in found]
