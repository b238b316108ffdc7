"""How the database is read: as it is at one moment while others go on writing, and its ids."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import Final
from uuid import UUID

from django.db import connection, transaction

_reading: Final = ContextVar("reading", default=False)


def in_action() -> bool:
    """Return whether something may have been written here that nobody else sees yet.

    Returns
    -------
    bool
        Whether an action is under way that is more than a look.
    """
    return bool(connection.in_atomic_block) and not _reading.get()


@contextmanager
def one_moment() -> Iterator[None]:
    """Read the book as it is at one moment; within an action, as that action sees it.

    Yields
    ------
    None
        What is read in the block is of one moment.
    """
    if connection.in_atomic_block:
        yield
        return
    before = _reading.set(True)
    try:
        with _one_moment():
            yield
    finally:
        _reading.reset(before)


@contextmanager
def _one_moment() -> Iterator[None]:
    if connection.vendor == "postgresql":
        with transaction.atomic(), connection.cursor() as cursor:
            cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY")
            yield
        return
    # How it begins is known only once it is connected.
    connection.ensure_connection()
    mode, connection.transaction_mode = connection.transaction_mode, "DEFERRED"
    try:
        with transaction.atomic():
            yield
    finally:
        connection.transaction_mode = mode


def as_kept(one: UUID) -> UUID | str:
    """Return an id as the database has it.

    Parameters
    ----------
    one : UUID
        The id.

    Returns
    -------
    UUID or str
        The same where the database knows ids, else its 32 figures.
    """
    return one if connection.features.has_native_uuid_field else one.hex
