"""A plan read back whole from its JSON, so that it can be checked against the farm again."""

from __future__ import annotations

import json
from collections.abc import Hashable, Iterable, Mapping
from dataclasses import MISSING, fields
from datetime import date
from enum import Enum
from functools import cache
from typing import Any, Final, TypeVar, cast, get_args, get_origin, get_type_hints

from rickyard.program.result import HayToBuy, Made, NeedRow, SeasonProgram, Wish, WishOutcome
from rickyard.sheets.data_files.plan_json import JSON_KEYS

_Row = TypeVar("_Row")

#: What stands under another name, or in two places, in the document.
_APART: Final = frozenset(
    {"farm_name", "start", "end", "needs", "wishes", "seconds", "made", "hay_to_buy"}
)

#: Keys that came within a minor version: what lacks them is read all the same.
_LATER: Final = frozenset({"outcomes"})


def program_from_json(text: str) -> SeasonProgram:
    """Return the season program of a JSON document.

    Raises ``KeyError`` if a key is missing that every version of the format has.

    Parameters
    ----------
    text : str
        What ``plan_json`` wrote with this version of the format, or an earlier minor one.

    Returns
    -------
    SeasonProgram
        Equal to the program that was written; how long it took is not told, and so zero.
    """
    document: Mapping[str, Any] = json.loads(text)
    values = {
        name: _value(hint, document[name])
        for name, hint in _hints(SeasonProgram)
        if name not in _APART and (name in document or name not in _LATER)
    }
    pairs = zip(document["needs"], document["supplied"], strict=True)
    return SeasonProgram(
        farm_name=document["farm"],
        start=date.fromisoformat(document["season"]["start"]),
        end=date.fromisoformat(document["season"]["end"]),
        needs=tuple(_made(NeedRow, {**supplied, **need}) for need, supplied in pairs),
        wishes=tuple(_wish(one) for one in document["wishes"]),
        seconds=0.0,
        hay_to_buy=_or_none(HayToBuy, document["hay_to_buy"]),
        made=_or_none(Made, document["made"]),
        **values,
    )


def _or_none(kind: type[_Row], row: Mapping[str, Any] | None) -> _Row | None:
    return None if row is None else _made(kind, row)


def _wish(row: Mapping[str, Any]) -> WishOutcome:
    wish = _made(Wish, row)
    return _made(WishOutcome, {**row, "wish": wish})


def _made(kind: type[_Row], row: Mapping[str, Any]) -> _Row:
    """Return a row; what an earlier minor version did not know yet is what it is unless stated."""
    given = {}
    for name, hint in _hints(cast(Hashable, kind)):
        key = JSON_KEYS.get(name, name)
        if key in row or name not in _defaults(cast(Hashable, kind)):
            given[name] = _value(hint, row[key])
    return kind(**given)


@cache
def _defaults(kind: Any) -> frozenset[str]:
    return frozenset(field.name for field in fields(kind) if field.default is not MISSING)


@cache
def _hints(kind: Any) -> tuple[tuple[str, Any], ...]:
    """Return the fields of a dataclass with their types: a plan has thousands of rows."""
    hints = get_type_hints(kind)
    return tuple((field.name, hints[field.name]) for field in fields(kind))


def _value(hint: Any, value: Any) -> Any:
    """Turn a value of the document into what its field holds."""
    if hint is date or date in get_args(hint):
        return None if value is None else date.fromisoformat(value)
    if get_origin(hint) is tuple:
        return tuple(_each(get_args(hint)[0], value))
    if isinstance(hint, type) and issubclass(hint, Enum):
        return hint(value)
    if isinstance(value, Mapping) and hasattr(hint, "__dataclass_fields__"):
        return _made(hint, value)
    return value


def _each(kind: Any, values: Iterable[Any]) -> Iterable[Any]:
    return (_value(kind, one) for one in values)
