"""Rows of all tables as one small database, to the last digit, whatever database they are of.

It is a file of SQLite with a table for each of the book, which holds its rows and nothing else. A
book that is such a file itself copies its rows without any of them coming into this program.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Collection, Iterator, Sequence
from contextlib import contextmanager
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any, Final, TypeAlias
from uuid import UUID

from django.apps import apps
from django.db import connection, models

from rickyard.book.base import LABEL, one_moment

#: So many rows are held at once.
CHUNK: Final = 5_000

#: What holds for a while only: a link or a sign-in that is brought back would open what was closed,
#: and a summary is made again.
_FOR_A_WHILE: Final = frozenset(
    {"Invitation", "Leaving", "Share", "SignInTry", "SignedIn", "Summary"}
)

#: The name of the small database while a file of SQLite has it open beside itself.
_BESIDE: Final = "kept_rows"

#: How a value goes from one database to the other, ``None``: as it is.
_Way: TypeAlias = Callable[[Any], Any] | None


def tables() -> list[Any]:
    """Return every table that a backup keeps, in an order in which they are told apart by name."""
    kept = [
        one for one in apps.get_app_config(LABEL).get_models() if one.__name__ not in _FOR_A_WHILE
    ]
    return sorted(kept, key=lambda one: str(one.__name__))


def parents_first(kept: Collection[Any]) -> list[Any]:
    """Return tables so that each stands behind those whose rows its own rows name.

    Parameters
    ----------
    kept : collection of model
        The tables.

    Returns
    -------
    list of model
        The same in that order.
    """
    found: list[Any] = []

    def add(table: Any) -> None:
        for field in table._meta.concrete_fields:
            other = field.related_model
            if other in kept and other is not table and other not in found:
                add(other)
        if table not in found:
            found.append(table)

    for table in kept:
        add(table)
    return found


def take_rows(path: Path) -> dict[str, int]:
    """Write the rows of the book, as they are at one moment, into a new small database.

    Parameters
    ----------
    path : Path
        Its file, which is empty.

    Returns
    -------
    dict of str to int
        How many rows each table has, by its name.
    """
    if connection.vendor == "sqlite":
        with beside(path), one_moment(), connection.cursor() as cursor:
            return {one.__name__: _copied_out(cursor, one) for one in tables()}
    with _small(path) as file, one_moment():
        return {one.__name__: _read_out(file, one) for one in tables()}


@contextmanager
def beside(path: Path) -> Iterator[None]:
    """Open a small database beside a book that is a file; for another book this does nothing.

    Parameters
    ----------
    path : Path
        Its file.

    Yields
    ------
    None
        No transaction may be open before or after.
    """
    if connection.vendor != "sqlite":
        yield
        return
    with connection.cursor() as cursor:
        cursor.execute(f"ATTACH DATABASE %s AS {_BESIDE}", [str(path)])
        # It is thrown away where anything goes wrong.
        cursor.execute(f"PRAGMA {_BESIDE}.journal_mode = OFF")
        cursor.execute(f"PRAGMA {_BESIDE}.synchronous = OFF")
    try:
        yield
    finally:
        with connection.cursor() as cursor:
            cursor.execute(f"DETACH DATABASE {_BESIDE}")


def columns_in(path: Path) -> dict[str, list[str]]:
    """Return the columns of each table of a small database.

    Parameters
    ----------
    path : Path
        Its file.

    Returns
    -------
    dict of str to list of str
        By the name of the table.

    Raises
    ------
    ValueError
        If anything but tables is in it, or it is none.
    """
    with _small(path) as file:
        try:
            kinds = set(file.execute("SELECT type FROM sqlite_master").fetchall())
            names = [one for (one,) in file.execute("SELECT name FROM sqlite_master")]
        except sqlite3.DatabaseError as error:
            raise ValueError(f"{error}") from error
        if kinds - {("table",)}:
            raise ValueError("more than rows")
        return {
            name: [row[1] for row in file.execute(f"PRAGMA table_info({_quoted(name)})")]
            for name in names
        }


def put_rows(path: Path, table: Any, columns: Sequence[str]) -> int:
    """Write the rows of a table of a small database into the book.

    Parameters
    ----------
    path : Path
        Its file, open `beside` a book that is a file.
    table : model
        The table.
    columns : sequence of str
        Its columns there, as `columns_in` gives them; one that it does not have is as where nothing
        is said.

    Returns
    -------
    int
        How many rows were written.

    Raises
    ------
    ValueError
        If the table has no such column.
    """
    known = {one.column: one for one in table._meta.concrete_fields}
    if strange := set(columns) - set(known):
        raise ValueError(f"columns that are not known: {', '.join(sorted(strange))}")
    new = [one for name, one in known.items() if name not in columns]
    rest = [one.get_db_prep_save(one.get_default(), connection) for one in new]
    names = ", ".join(map(_quoted, (*columns, *(one.column for one in new))))
    into = f"{_quoted(table._meta.db_table)} ({names})"
    with connection.cursor() as cursor:
        if connection.vendor == "sqlite":
            chosen = ", ".join((*map(_quoted, columns), *("%s" for _ in rest)))
            source = f"{_BESIDE}.{_quoted(table.__name__)}"
            cursor.execute(f"INSERT INTO {into} SELECT {chosen} FROM {source}", rest)
            return int(cursor.rowcount)
        ways = [_way_in(known[one]) for one in columns]
        count = 0
        with _small(path) as file, cursor.copy(f"COPY {into} FROM STDIN") as copy:
            read = file.execute(
                f"SELECT {', '.join(map(_quoted, columns))} FROM {_quoted(table.__name__)}"
            )
            while found := read.fetchmany(CHUNK):
                for row in _by_ways(found, ways):
                    copy.write_row([*row, *rest])
                count += len(found)
        return count


def _copied_out(cursor: Any, table: Any) -> int:
    """Copy the rows of a table of a file into the small database beside it."""
    source, target = _quoted(table._meta.db_table), f"{_BESIDE}.{_quoted(table.__name__)}"
    names = ", ".join(_quoted(one.column) for one in table._meta.concrete_fields)
    cursor.execute(f"CREATE TABLE {target} AS SELECT {names} FROM main.{source}")
    cursor.execute(f"SELECT count(*) FROM {target}")
    return int(cursor.fetchone()[0])


def _read_out(file: sqlite3.Connection, table: Any) -> int:
    """Read the rows of a table of a server into a small database."""
    fields = table._meta.concrete_fields
    names = ", ".join(_quoted(one.column) for one in fields)
    # Without a kind a column keeps each value as it is.
    file.execute(f"CREATE TABLE {_quoted(table.__name__)} ({names})")
    into = f"INSERT INTO {_quoted(table.__name__)} VALUES ({', '.join('?' * len(fields))})"
    ways, count = [_way_out(one) for one in fields], 0
    with connection.chunked_cursor() as cursor:
        cursor.execute(f"SELECT {names} FROM {_quoted(table._meta.db_table)}")
        while found := cursor.fetchmany(CHUNK):
            file.executemany(into, _by_ways(found, ways))
            count += len(found)
    file.commit()
    return count


@contextmanager
def _small(path: Path) -> Iterator[sqlite3.Connection]:
    """Open a small database for itself."""
    file = sqlite3.connect(path)
    try:
        file.execute("PRAGMA synchronous = OFF")
        # What stands in a file that came from elsewhere is data, and calls nothing.
        file.execute("PRAGMA trusted_schema = OFF")
        yield file
    finally:
        file.close()


def _by_ways(rows: Sequence[Sequence[Any]], ways: Sequence[_Way]) -> list[list[Any]]:
    """Return rows each of whose values has gone its way."""
    found = list(map(list, rows))
    for place, way in enumerate(ways):
        if way is not None:
            for row in found:
                if row[place] is not None:
                    row[place] = way(row[place])
    return found


def _quoted(name: str) -> str:
    return '"' + name.replace('"', '""') + '"'


def _way_out(field: Any) -> _Way:
    """Return how a value of a column of a server is kept."""
    kind = field.target_field if field.is_relation else field
    if isinstance(kind, models.UUIDField):
        return _hex
    if isinstance(kind, models.BinaryField):
        return bytes
    if isinstance(kind, models.DateTimeField):
        return _moment
    return date.isoformat if isinstance(kind, models.DateField) else None


def _way_in(field: Any) -> _Way:
    """Return how a value that is kept goes into a column of a server."""
    if isinstance(field, models.DateTimeField):
        return _with_zone
    return bool if isinstance(field, models.BooleanField) else None


def _hex(value: UUID) -> str:
    return value.hex


#: Moments are kept in this zone, without its name, as a file of SQLite has them.
_ZONE: Final = "+00:00"


def _moment(value: datetime) -> str:
    return str(value.astimezone(UTC).replace(tzinfo=None))


def _with_zone(value: str) -> str:
    return f"{value}{_ZONE}"
