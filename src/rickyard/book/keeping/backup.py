"""A backup: every table and every file in one archive, made while others write, then read again."""

from __future__ import annotations

import hashlib
import json
import os
import secrets
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import partial
from pathlib import Path
from typing import IO, Any, Final

from django.db import DataError, IntegrityError, OperationalError, connection, transaction
from django.db.migrations.recorder import MigrationRecorder

from rickyard.book.base import BUSY_SECONDS, LABEL, BookProblem, one_moment
from rickyard.book.keeping.beside import made_beside, taken_beside
from rickyard.book.keeping.rows import blocks_of, parents_first, put_rows, tables
from rickyard.version import __version__

FORMAT: Final = 1

#: So much is read of an archive at once. [bytes]
_BLOCK: Final = 1_000_000

#: What a restore holds of the file in memory. [KiB]
_CACHE_KIB: Final = 200_000

#: What reading an archive comes to where it is not as it was written.
_DAMAGE: Final = (zipfile.BadZipFile, KeyError, EOFError, ValueError, zlib.error)

#: The member of the archive that says what it is.
ABOUT: Final = "about.json"


@dataclass(frozen=True, slots=True)
class Backup:
    """What a backup holds: when it was made, the steps of its tables, its rows by table."""

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
    if path.exists():
        raise BookProblem(f"{path}: is there already. Name a new file for the backup.")
    partial = path.with_name(f".{path.name}.{secrets.token_hex(4)}.partial")
    try:
        # Digests of passwords and secrets of phones are in it: for whoever makes it alone.
        partial.touch(mode=0o600, exist_ok=False)
        with zipfile.ZipFile(partial, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as archive:
            made = _write(archive)
        with partial.open("rb+") as file:
            os.fsync(file.fileno())
        if check_backup(partial) != made:
            raise BookProblem(f"{path}: did not read back as it was written. Try another disk.")
        partial.rename(path)
    except OSError as error:
        raise BookProblem(
            f"{path}: the backup cannot be written ({error.strerror or error}). Make room, or "
            "choose a place that exists and that you may write to."
        ) from error
    finally:
        partial.unlink(missing_ok=True)
    return made


def _write(archive: zipfile.ZipFile) -> Backup:
    rows, digests = {}, {}
    with one_moment():
        steps = sorted(_steps())
        for table in tables():
            count, digest = -1, hashlib.sha256()
            with (
                archive.open(_member(table.__name__), "w", force_zip64=True) as member,
                taken_beside(partial(_pack, member, digest)) as pack,
            ):
                for many, lines in blocks_of(table):
                    pack(lines)
                    count += many
            rows[table.__name__], digests[table.__name__] = count, digest.hexdigest()
    made = Backup(datetime.now(UTC).isoformat(), tuple(steps), rows, digests)
    about = {
        "format": FORMAT,
        "program": __version__,
        "made_at": made.made_at,
        "steps": steps,
        "rows": rows,
        "sha256": digests,
    }
    archive.writestr(ABOUT, json.dumps(about, indent=1))
    return made


def _pack(member: IO[bytes], digest: Any, lines: str) -> None:
    data = lines.encode()
    digest.update(data)
    member.write(data)


def _steps() -> set[str]:
    """Return the steps that the tables have taken."""
    taken = MigrationRecorder.Migration.objects.filter(app=LABEL)
    return set(taken.values_list("name", flat=True))


def _member(name: str) -> str:
    return f"tables/{name}.jsonl"


def check_backup(path: Path) -> Backup:
    """Read a backup through, and hold every table against what it says of itself.

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
    held = _held_in(path)
    try:
        with zipfile.ZipFile(path) as archive:
            for name, wanted in held.sha256.items():
                count, digest = -1, hashlib.sha256()
                with archive.open(_member(name)) as member:
                    for block in made_beside(_blocks(member)):
                        digest.update(block)
                        count += block.count(b"\n")
                if digest.hexdigest() != wanted or count != held.rows[name]:
                    raise _damaged(path, name)
    except _DAMAGE as error:
        raise _damaged(path, str(error)) from error
    except OSError as error:
        raise BookProblem(
            f"{path}: cannot be read ({error.strerror or error}). Check the name of the backup."
        ) from error
    return held


def _held_in(path: Path) -> Backup:
    """Return what a backup says of itself."""
    try:
        with zipfile.ZipFile(path) as archive:
            return _about(path, archive)
    except _DAMAGE as error:
        raise _damaged(path, str(error)) from error
    except OSError as error:
        raise BookProblem(
            f"{path}: cannot be read ({error.strerror or error}). Check the name of the backup."
        ) from error


def _about(path: Path, archive: zipfile.ZipFile) -> Backup:
    about: dict[str, Any] = json.loads(archive.read(ABOUT))
    if about["format"] > FORMAT:
        raise BookProblem(f"{path}: a newer program made this backup. Install that program.")
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
    held = _held_in(path)
    known = {table.__name__: table for table in tables()}
    steps = _steps()
    if set(held.steps) - steps or set(held.rows) - set(known):
        raise BookProblem(f"{path}: a newer program made this backup. Install that program.")
    with _filling():
        for table in known.values():
            if table.objects.exists():
                raise BookProblem(
                    "The record book is not empty, and a backup goes only into an empty one. Name "
                    "a new folder with --data."
                )
        try:
            with zipfile.ZipFile(path) as archive:
                for table in parents_first([known[name] for name in held.rows]):
                    if _fill(table, archive) != held.sha256[table.__name__]:
                        raise _damaged(path, table.__name__)
        except (*_DAMAGE, IntegrityError, DataError) as error:
            raise _damaged(path, str(error)) from error
        short = [name for name, count in held.rows.items() if known[name].objects.count() != count]
        if short:
            raise _damaged(path, ", ".join(short))
    return held


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
            cursor.execute("PRAGMA journal_mode = DELETE")
        cursor.execute(f"PRAGMA busy_timeout = {BUSY_SECONDS * 1_000}")
    try:
        yield
    finally:
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA journal_mode = WAL")


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


def _fill(table: Any, archive: zipfile.ZipFile) -> str:
    """Fill a table; return the digest of what was read."""
    digest = hashlib.sha256()
    with archive.open(_member(table.__name__)) as member:
        put_rows(table, made_beside(_lines(member, digest)))
    return digest.hexdigest()


def _blocks(member: IO[bytes]) -> Iterator[bytes]:
    while block := member.read(_BLOCK):
        yield block


def _lines(member: IO[bytes], digest: Any) -> Iterator[list[bytes]]:
    """Yield the lines of a member, many at once; the first block begins with the first."""
    rest = b""
    for block in _blocks(member):
        digest.update(block)
        *lines, rest = (rest + block).split(b"\n")
        if lines:
            yield lines
