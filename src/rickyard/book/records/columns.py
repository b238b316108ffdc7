"""Columns of tables from the plain objects of a farm, and the objects back from rows.

A table that holds what ``rickyard.farm`` knows has a column for each field of it, of the same name
and in the same unit. So nothing is said twice, and a field that is new has no way to be forgotten:
a test finds that its migration is missing.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import MISSING, fields
from datetime import date
from enum import StrEnum
from functools import cache
from types import UnionType
from typing import Any, Final, TypeVar, Union, get_args, get_origin, get_type_hints

from django.db import models

from rickyard.book.base import make_ready

# Before any table is defined; every file of tables imports this one first.
make_ready()

_Table = TypeVar("_Table", bound=type)

_FIELDS: Final[Mapping[type, Any]] = {
    str: models.TextField,
    bool: models.BooleanField,
    int: models.BigIntegerField,
    float: models.FloatField,
    date: models.DateField,
}


@cache
def _types(item: Any) -> dict[str, tuple[type, bool]]:
    """Return the type of each field, and whether it may be unknown."""
    found = {}
    hints = get_type_hints(item)
    for one in fields(item):
        hint = hints[one.name]
        parts = get_args(hint) if get_origin(hint) in (Union, UnionType) else (hint,)
        known = next(part for part in parts if part is not type(None))
        found[one.name] = (known, type(None) in parts)
    return found


@cache
def _plain_and_words(item: Any) -> tuple[tuple[str, ...], dict[str, type]]:
    """Return the fields of plain values, and those that are a word of a list with the list."""
    words = {name: kind for name, (kind, _) in _types(item).items() if issubclass(kind, StrEnum)}
    return tuple(name for name in _types(item) if name not in words), words


def _default(item: Any, name: str) -> dict[str, Any]:
    """Return what a field is where nothing is said, so that it can be added to rows that stand."""
    default = next(one.default for one in fields(item) if one.name == name)
    if default is MISSING or default is None:
        return {}
    return {"default": default.value if isinstance(default, StrEnum) else default}


def with_columns_of(item: type, *, but: Collection[str] = ()) -> Any:
    """Give a table a column for every field of an object.

    Parameters
    ----------
    item : type
        The dataclass.
    but : collection of str
        Fields that stand in the table in another way, as those that name other things do.

    Returns
    -------
    callable
        A decorator of the table.
    """

    def give(table: _Table) -> _Table:
        for name, (kind, unknown) in _types(item).items():
            if name not in but:
                column = _FIELDS[str if issubclass(kind, StrEnum) else kind]
                table.add_to_class(name, column(null=unknown, **_default(item, name)))  # type: ignore[attr-defined]  # Django's own
        return table

    return give


def plain_values(item: Any, *, but: Collection[str] = ()) -> dict[str, Any]:
    """Return the fields of an object as a row holds them.

    Parameters
    ----------
    item : dataclass
        The object.
    but : collection of str
        Fields to leave out.

    Returns
    -------
    dict
        Values by column; a word of a list as its text.
    """
    kind: Any = type(item)
    values = {name: getattr(item, name) for name in _types(kind) if name not in but}
    return {
        name: value.value if isinstance(value, StrEnum) else value for name, value in values.items()
    }


def item_of(item: Any, values: Mapping[str, Any], **others: Any) -> Any:
    """Return the object that a row holds.

    Parameters
    ----------
    item : type
        The dataclass.
    values : mapping of str to object
        The row by column; columns that are no field are passed over.
    **others : object
        Fields that stand in the table in another way.

    Returns
    -------
    object
        The object, its words of lists as such.
    """
    names, words = _plain_and_words(item)
    made = {name: values[name] for name in names if name in values}
    for name, kind in words.items():
        if name in values:
            value = values[name]
            made[name] = None if value is None else kind(value)
    return item(**{**made, **others})


def items_of(item: Any, columns: Mapping[str, Sequence[Any]]) -> tuple[Any, ...]:
    """Return the objects that many rows hold.

    Parameters
    ----------
    item : type
        The dataclass; each of its fields stands in a column.
    columns : mapping of str to sequence of object
        The rows column by column; columns that are no field are passed over.

    Returns
    -------
    tuple of object
        The objects, their words of lists as such.
    """
    words = _plain_and_words(item)[1]
    told = [
        [None if one is None else words[name](one) for one in columns[name]]
        if name in words
        else columns[name]
        for name in _types(item)
    ]
    return tuple(map(item, *told))
