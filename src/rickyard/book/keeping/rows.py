"""Rows of any table as lines of JSON and back, to the last digit, whatever the database."""

from __future__ import annotations

import base64
import json
from collections.abc import Iterator
from datetime import date, datetime
from typing import Any, Final
from uuid import UUID

from django.apps import apps
from django.db import models

from rickyard.book.base import LABEL

#: So many rows are held at once.
CHUNK: Final = 2_000


#: What holds for a while only: a link or a sign-in that is brought back would open what was closed,
#: and a summary is made again.
_FOR_A_WHILE: Final = frozenset({"Invitation", "Leaving", "SignInTry", "SignedIn", "Summary"})


def tables() -> list[Any]:
    """Return every table that a backup keeps, in an order in which they are told apart by name."""
    kept = [
        one for one in apps.get_app_config(LABEL).get_models() if one.__name__ not in _FOR_A_WHILE
    ]
    return sorted(kept, key=lambda one: str(one.__name__))


def columns_of(table: Any) -> list[str]:
    """Return the columns of a table.

    Parameters
    ----------
    table : model
        The table.

    Returns
    -------
    list of str
        Their names as attributes of a row.
    """
    return [one.attname for one in table._meta.concrete_fields]


def lines_of(table: Any) -> Iterator[str]:
    """Yield the columns of a table, then its rows, each as a line of JSON.

    Parameters
    ----------
    table : model
        The table.

    Yields
    ------
    str
        A line without its end.
    """
    names = columns_of(table)
    yield json.dumps(names)
    for row in table.objects.values_list(*names).iterator(chunk_size=CHUNK):
        yield json.dumps([_plain(value) for value in row], ensure_ascii=False)


def rows_from(table: Any, lines: Iterator[str]) -> Iterator[Any]:
    """Yield rows from lines; a column that they do not have is as where nothing is said.

    Parameters
    ----------
    table : model
        The table.
    lines : iterator of str
        What `lines_of` gave.

    Yields
    ------
    model
        The rows, not saved yet.
    """
    names = json.loads(next(lines))
    fields = {one.attname: one for one in table._meta.concrete_fields}
    for line in lines:
        values = zip(names, json.loads(line), strict=True)
        yield table(**{name: _back(fields[name], value) for name, value in values})


def _plain(value: Any) -> Any:
    if isinstance(value, bytes | memoryview):
        return base64.b64encode(bytes(value)).decode("ascii")
    if isinstance(value, UUID):
        return value.hex
    return value.isoformat() if isinstance(value, date | datetime) else value


def _back(field: Any, value: Any) -> Any:
    if value is not None and isinstance(field, models.BinaryField):
        return base64.b64decode(value)
    return value if value is None else field.to_python(value)
