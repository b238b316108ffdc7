"""A record book opened: its database reached, its tables brought up to this program."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager, suppress
from typing import Any, Final

from django.db import connections
from django.db.migrations.executor import MigrationExecutor
from django.db.utils import DatabaseError, OperationalError

from rickyard.book.base.errors import BookProblem
from rickyard.book.base.place import BOOK_FILE, BookPlace, database_of
from rickyard.book.base.ready import LABEL, make_ready

#: The name that Django has for the one database of a process.
ALIAS: Final = "default"

#: Older servers lack what the tables rely on.
OLDEST_SERVER: Final = 15


@contextmanager
def opened_book(place: BookPlace, *, create: bool = True) -> Iterator[BookPlace]:
    """Open a record book for the length of a block.

    Parameters
    ----------
    place : BookPlace
        Where it is.
    create : bool
        Whether a book that is not there yet is begun.

    Yields
    ------
    BookPlace
        The place.

    Raises
    ------
    BookProblem
        If the book is not there, cannot be opened, or was written by a newer program.
    """
    make_ready()
    _find(place, create)
    _connect(place)
    try:
        _bring_up(place)
        try:
            yield place
        except OperationalError as error:
            raise BookProblem(_cannot_write(place, error)) from error
    finally:
        connections[ALIAS].close()


def join_book(place: BookPlace, *, stay: bool = False) -> None:
    """Let this process speak to a book that is there with its tables up to date, from now on.

    Parameters
    ----------
    place : BookPlace
        Where it is.
    stay : bool
        Whether each thread keeps its way to the database from one request to the next: to find it
        anew takes as long as a page.
    """
    make_ready()
    _connect(place, stay=stay)


def told_of(error: Exception) -> str:
    """Return what to do where the book could not be read or written.

    Parameters
    ----------
    error : Exception
        What the database said.

    Returns
    -------
    str
        A sentence.
    """
    return _cannot_write("The record book", error)


def _find(place: BookPlace, create: bool) -> None:
    if place.is_server:
        return
    if not create and not (place.folder / BOOK_FILE).is_file():
        raise BookProblem(
            f"{place.folder}: there is no record book here. Name its folder with --data, or begin "
            "one with rickyard import."
        )
    if not create and not any(one.stat().st_size for one in place.folder.glob(f"{BOOK_FILE}*")):
        raise BookProblem(
            f"{place.folder / BOOK_FILE}: is empty. No record book was begun here, or all that "
            "stood in it is lost: bring a backup back with rickyard restore, or begin one with "
            "rickyard import."
        )
    try:
        place.folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    except OSError as error:
        raise BookProblem(
            f"{place.folder}: the folder of the record book cannot be made "
            f"({error.strerror or error}). Name another with --data."
        ) from error
    # The folder may have been there, open to others of this computer: a new book is not. What
    # hinders this hinders opening it, where it is told.
    with suppress(OSError):
        (place.folder / BOOK_FILE).touch(mode=0o600, exist_ok=False)


def _connect(place: BookPlace, *, stay: bool = False) -> None:
    """Let Django speak to this database and to no other."""
    if hasattr(connections._connections, ALIAS):
        connections[ALIAS].close()
        del connections[ALIAS]
    connections.databases.clear()
    known = {**database_of(place), "CONN_MAX_AGE": None if stay else 0}
    connections.databases.update(connections.configure_settings({ALIAS: known}))


def _bring_up(place: BookPlace) -> None:
    """Take the steps that the tables have not taken yet."""
    connection = connections[ALIAS]
    try:
        connection.ensure_connection()
        if connection.vendor == "postgresql":
            _refuse_old_server(connection.pg_version)
        executor = MigrationExecutor(connection)
        taken = {name for label, name in executor.loader.applied_migrations if label == LABEL}
        known = {name for label, name in executor.loader.disk_migrations if label == LABEL}
        if taken - known:
            raise BookProblem(
                f"{place}: a newer program wrote this record book. Install that program, or name "
                "another book with --data."
            )
        if known - taken:
            _take_steps(connection, executor, len(known))
    except (OperationalError, DatabaseError) as error:
        raise BookProblem(_cannot_open(place, error)) from error


def _take_steps(connection: Any, executor: Any, most: int) -> None:
    """Take the steps; where another program takes them at the same time, those that it leaves."""
    for left in reversed(range(most + 1)):
        try:
            executor.migrate(executor.loader.graph.leaf_nodes())
            return
        except DatabaseError:
            executor = MigrationExecutor(connection)
            if not executor.migration_plan(executor.loader.graph.leaf_nodes()):
                return
            if not left:
                raise


def _refuse_old_server(version: int) -> None:
    major = version // 10_000
    if major < OLDEST_SERVER:
        raise BookProblem(
            f"The database server is PostgreSQL {major}, and the record book needs "
            f"{OLDEST_SERVER} or newer. Ask whoever looks after it."
        )


def _cannot_write(place: BookPlace | str, error: Exception) -> str:
    reason = " ".join(str(error).split()) or type(error).__name__
    return (
        f"{place}: the record book could not be read or written ({reason}). What was being written "
        "is not in it, and all that was written before is. Make room on the disk, check that you "
        "may write there and that no other program holds the book, then do it again."
    )


def _cannot_open(place: BookPlace, error: Exception) -> str:
    reason = " ".join(str(error).split()) or type(error).__name__
    if place.is_server:
        return (
            f"{place}: the database server does not open the record book ({reason}). Check that "
            "it runs, its name, the person and the password in DATABASE_URL."
        )
    return (
        f"{place.folder / BOOK_FILE}: the record book cannot be opened ({reason}). Check that the "
        "disk has room, that you may write there, and that the file is a record book; a backup is "
        "brought back with rickyard restore."
    )
