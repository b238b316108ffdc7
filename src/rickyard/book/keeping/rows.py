"""Rows of any table as lines of JSON and back, to the last digit, whatever the database."""

from __future__ import annotations

import base64
import json
from collections.abc import Callable, Collection, Iterator, Sequence
from datetime import UTC, date, datetime
from itertools import chain
from typing import Any, Final
from uuid import UUID

from django.apps import apps
from django.db import connection, models

from rickyard.book.base import LABEL

#: So many rows are held at once.
CHUNK: Final = 2_000


#: What holds for a while only: a link or a sign-in that is brought back would open what was closed,
#: and a summary is made again.
_FOR_A_WHILE: Final = frozenset(
    {"Invitation", "Leaving", "Share", "SignInTry", "SignedIn", "Summary"}
)


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


def blocks_of(table: Any) -> Iterator[tuple[int, str]]:
    """Yield the columns of a table, then its rows, each as a line of JSON, many at once.

    There may be millions: rows are read as the database gives them, not as objects.

    Parameters
    ----------
    table : model
        The table.

    Yields
    ------
    tuple of (int, str)
        How many lines, and their text; the first alone.
    """
    fields = table._meta.concrete_fields
    yield 1, f"{json.dumps([one.attname for one in fields])}\n"
    ways = [(place, way) for place, one in enumerate(fields) if (way := _way_out(one))]
    names = ", ".join(map(_asked, fields))
    with connection.chunked_cursor() as cursor:
        cursor.execute(f"SELECT {names} FROM {connection.ops.quote_name(table._meta.db_table)}")
        while found := cursor.fetchmany(CHUNK):
            rows = list(map(list, found))
            for place, way in ways:
                for row in rows:
                    if row[place] is not None:
                        row[place] = way(row[place])
            yield len(rows), _text_of(rows)


#: What stands between two rows that are encoded together.
_BETWEEN: Final = "],["


def _text_of(rows: list[list[Any]]) -> str:
    """Return rows as lines; to encode each by itself takes four times as long as all together."""
    text = _ENCODE(rows)
    if text.count(_BETWEEN) == len(rows) - 1:
        return text[1:-1].replace(_BETWEEN, "]\n[") + "\n"
    # A text of a farm has these signs within it.
    return "".join([f"{_ENCODE(row)}\n" for row in rows])


def _asked(field: Any) -> str:
    """Return how a column is asked for: on a file days and moments as the text that they are."""
    name = str(connection.ops.quote_name(field.column))
    is_text = connection.vendor == "sqlite" and isinstance(field, models.DateField)
    return f"{name} || ''" if is_text else name


def put_rows(table: Any, blocks: Iterator[list[bytes]]) -> None:
    """Write the rows of lines; a column that they do not have is as where nothing is said.

    Parameters
    ----------
    table : model
        The table.
    blocks : iterator of list of bytes
        What `blocks_of` gave; the first line of the first names the columns.
    """
    known = {one.attname: one for one in table._meta.concrete_fields}
    first = next(blocks)
    names = json.loads(first[0])
    new = [one for name, one in known.items() if name not in names]
    fields = [*(known[name] for name in names), *new]
    rest = [one.get_db_prep_save(one.get_default(), connection) for one in new]
    columns = ", ".join(connection.ops.quote_name(one.column) for one in fields)
    into = f"{connection.ops.quote_name(table._meta.db_table)} ({columns})"
    found = (_rows(block, fields, rest) for block in chain([first[1:]], blocks))
    with connection.cursor() as cursor:
        if connection.vendor == "postgresql":
            with cursor.copy(f"COPY {into} FROM STDIN") as copy:
                for row in chain.from_iterable(found):
                    copy.write_row(row)
            return
        marks = ", ".join(["%s"] * len(fields))
        for rows in found:
            cursor.executemany(f"INSERT INTO {into} VALUES ({marks})", rows)


def _rows(lines: list[bytes], fields: Sequence[Any], rest: list[Any]) -> list[list[Any]]:
    """Return the values of lines as the database takes them."""
    rows: list[list[Any]] = json.loads(b"[%s]" % b",".join(lines))
    if any(len(row) != len(fields) - len(rest) for row in rows):
        raise ValueError("a row with other columns than its table")
    for place, one in enumerate(fields[: len(fields) - len(rest)]):
        way = _way_in(one)
        if way is None:
            continue
        for row in rows:
            if row[place] is not None:
                row[place] = way(row[place])
    if rest:
        rows = [[*row, *rest] for row in rows]
    return rows


_ENCODE: Final = json.JSONEncoder(ensure_ascii=False, separators=(",", ":")).encode


def _way_out(field: Any) -> Callable[[Any], Any] | None:
    """Return how a value of a column that the database gives is written; ``None``: as it is."""
    kind = field.target_field if field.is_relation else field
    if isinstance(kind, models.UUIDField):
        return _hex if connection.features.has_native_uuid_field else None
    if isinstance(kind, models.BinaryField):
        return _base64
    if isinstance(kind, models.DateTimeField):
        return _moment_of_text if connection.vendor == "sqlite" else _moment
    if isinstance(kind, models.DateField) and connection.vendor != "sqlite":
        return date.isoformat
    return None


def _way_in(field: Any) -> Callable[[Any], Any] | None:
    """Return how a value that was written goes into a column; ``None``: as it is."""
    if isinstance(field, models.BinaryField):
        return base64.b64decode
    if isinstance(field, models.DateTimeField):
        return _without_zone if connection.vendor == "sqlite" else datetime.fromisoformat
    return None


def _hex(value: UUID) -> str:
    return value.hex


def _base64(value: bytes | memoryview) -> str:
    return base64.b64encode(bytes(value)).decode("ascii")


def _moment(value: datetime) -> str:
    return value.astimezone(UTC).isoformat()


#: Moments are written in this zone, and kept in it without its name on a file.
_ZONE: Final = "+00:00"


def _moment_of_text(value: str) -> str:
    return f"{value[:10]}T{value[11:]}{_ZONE}"


def _without_zone(value: str) -> str:
    if value.endswith(_ZONE):
        return f"{value[:10]} {value[11 : -len(_ZONE)]}"
    moment = datetime.fromisoformat(value).astimezone(UTC)
    return str(moment.replace(tzinfo=None))
