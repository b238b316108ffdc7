"""Rows of tables as the database gives them, in statements that are written once.

A farm is read of a dozen tables, and its log of feeding has thousands of lines: to write each
statement anew, and to make an object of every id, takes longer than all else.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cache
from typing import Any, TypeAlias
from uuid import UUID

from django.db import connection

from rickyard.book import records
from rickyard.book.base import as_kept

#: Names of columns, and rows.
_Rows: TypeAlias = tuple[tuple[str, ...], list[tuple[Any, ...]]]


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
    return _asked(table, f'"{of}" IN ({_marks(len(wanted))})', order, wanted)


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
    return _asked(records.ReportValue, f'"report_id" IN ({theirs})', "place", wanted)


@cache
def _chosen(table: Any) -> tuple[tuple[str, ...], str]:
    """Return the columns of a table that say a fact, and the statement that asks for them."""
    columns = [one for one in table._meta.concrete_fields if one.name != "written_by"]
    chosen = ", ".join(f'"{one.column}"' for one in columns)
    names = tuple(one.attname for one in columns)
    return names, f"SELECT {chosen} FROM {table._meta.db_table}"


def _marks(count: int) -> str:
    return ", ".join(["%s"] * count)


def _asked(table: Any, where: str, order: str, wanted: Sequence[UUID | str]) -> _Rows:
    names, statement = _chosen(table)
    if not wanted:
        return names, []
    last = f' ORDER BY "{order}"' if order else ""
    with connection.cursor() as cursor:
        cursor.execute(f"{statement} WHERE {where}{last}", wanted)
        return names, cursor.fetchall()
