"""Rows of tables as the database gives them, in statements that are written once.

A farm is read of a dozen tables, and its log of feeding has thousands of lines: to write each
statement anew, and to make an object of every id, takes longer than all else.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from functools import cache
from typing import Any, Final, TypeAlias
from uuid import UUID

from django.db import connection, models

from rickyard.book import records
from rickyard.book.base import as_kept

#: Names of columns, and rows.
_Rows: TypeAlias = tuple[tuple[str, ...], list[tuple[Any, ...]]]

#: Whether a database holds days as text (ISO 8601).
_DAYS_ARE_TEXT: Final = {"sqlite": True, "postgresql": False}


def rows_of(table: Any, of: str, ids: Iterable[UUID], order: str = "") -> _Rows:
    """Return rows that name one of many things, with ids as the database has them.

    Parameters
    ----------
    table : model
        The table.
    of : str
        The column that names the thing.
    ids : iterable of UUID
        The things.
    order : str
        The column by which rows are ordered; in none if left out.

    Returns
    -------
    tuple of (tuple of str, list of tuple)
        Names of the columns, and the rows.
    """
    wanted = [as_kept(one) for one in ids]
    return _asked(
        table, f'"{of}" IN ({_marks(len(wanted))})', f'"{order}"' if order else "", wanted
    )


def lines_of(seasons: Iterable[UUID], table: Any) -> _Rows:
    """Return the lines of a ledger of many seasons, as `rows_of` does.

    Parameters
    ----------
    seasons : iterable of UUID
        The seasons.
    table : model
        The ledger.

    Returns
    -------
    tuple of (tuple of str, list of tuple)
        Names of the columns, and the rows; days as `days_of` takes them.
    """
    wanted = [as_kept(one) for one in seasons]
    where = f'"season_id" IN ({_marks(len(wanted))})'
    return _asked(table, where, "", wanted, as_text=_DAYS_ARE_TEXT[connection.vendor])


def days_of(names: Sequence[str], columns: list[Sequence[Any]], table: Any) -> None:
    """Make days of the columns of `lines_of` that hold some, where the database has them as text.

    A log of a thousand lines names two hundred days: each is read once.

    Parameters
    ----------
    names : sequence of str
        Names of the columns.
    columns : list of sequence
        The columns; those that hold days are put anew.
    table : model
        The ledger.
    """
    if not _DAYS_ARE_TEXT[connection.vendor]:
        return
    for name in _days(table):
        at = names.index(name)
        known = {one: one and date.fromisoformat(one) for one in set(columns[at])}
        columns[at] = [known[one] for one in columns[at]]


def values_of(seasons: Iterable[UUID]) -> _Rows:
    """Return the values of all reports of many seasons, as `rows_of` does.

    Parameters
    ----------
    seasons : iterable of UUID
        The seasons.

    Returns
    -------
    tuple of (tuple of str, list of tuple)
        Names of the columns, and the rows in their order on the reports.
    """
    wanted = [as_kept(one) for one in seasons]
    reports = records.ReportState._meta.db_table
    theirs = f"SELECT id FROM {reports} WHERE season_id IN ({_marks(len(wanted))})"
    return _asked(records.ReportValue, f'"report_id" IN ({theirs})', '"place"', wanted)


@cache
def _days(table: Any) -> tuple[str, ...]:
    """Return the columns of a table that hold days."""
    fields = table._meta.concrete_fields
    return tuple(one.attname for one in fields if type(one) is models.DateField)


@cache
def _chosen(table: Any, as_text: bool) -> tuple[tuple[str, ...], str]:
    """Return the columns of a table that say a fact, and the statement that asks for them.

    ``as_text``: whether days are asked for as the text that they are in the file.
    """
    columns = [one for one in table._meta.concrete_fields if one.name != "written_by"]
    days = _days(table) if as_text else ()
    # What is worked out has no declared type: it comes as it stands.
    chosen = ", ".join(f'{"+" if one.attname in days else ""}"{one.column}"' for one in columns)
    names = tuple(one.attname for one in columns)
    return names, f"SELECT {chosen} FROM {table._meta.db_table}"


def _marks(count: int) -> str:
    return ", ".join(["%s"] * count)


def _asked(
    table: Any, where: str, order: str, wanted: Sequence[UUID | str], *, as_text: bool = False
) -> _Rows:
    names, statement = _chosen(table, as_text)
    if not wanted:
        return names, []
    last = f" ORDER BY {order}" if order else ""
    with connection.cursor() as cursor:
        cursor.execute(f"{statement} WHERE {where}{last}", wanted)
        return names, cursor.fetchall()
