"""A plan read back whole from its JSON, so that it can be checked against the farm again."""

from __future__ import annotations

import json
from collections.abc import Callable, Hashable, Mapping
from dataclasses import MISSING, fields
from datetime import date
from enum import Enum
from functools import cache
from typing import Any, Final, TypeVar, cast, get_args, get_origin, get_type_hints

from rickyard.program.result import HayToBuy, Made, NeedRow, SeasonProgram, WishOutcome
from rickyard.sheets.data_files.plan_json import JSON_KEYS

_Row = TypeVar("_Row")
_Read = Callable[[Any], Any]

#: What stands under another name, or in two places, in the document.
_APART: Final = frozenset(
    {"farm_name", "start", "end", "needs", "wishes", "seconds", "made", "hay_to_buy"}
)

#: Keys that came within a minor version: what lacks them is read all the same.
_LATER: Final = frozenset(
    {"outcomes", "steadiness_usd", "free_choice_usd", "short_gap", "money_gap"}
)


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
        name: document[name] if read is None else read(document[name])
        for name, _, _, read in _fields(SeasonProgram)
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
    # The fields of a wish stand among those of what became of it.
    return _made(WishOutcome, {**row, "wish": row})


def _made(kind: type[_Row], row: Mapping[str, Any]) -> _Row:
    """Return a row; what an earlier minor version did not know yet is what it is unless stated."""
    given = {}
    for name, key, has_default, read in _fields(cast(Hashable, kind)):
        if key in row or not has_default:
            given[name] = row[key] if read is None else read(row[key])
    return kind(**given)


@cache
def _fields(kind: Any) -> tuple[tuple[str, str, bool, _Read | None], ...]:
    """Return name, key, whether it may be missing, and reader of each: a plan has many rows."""
    hints = get_type_hints(kind)
    return tuple(
        (
            field.name,
            JSON_KEYS.get(field.name, field.name),
            field.default is not MISSING,
            _reader(hints[field.name]),
        )
        for field in fields(kind)
    )


@cache
def _reader(hint: Any) -> _Read | None:
    """Return what turns a value of the document into what a field holds; ``None``: it is that."""
    if hint is date or date in get_args(hint):
        return lambda value: None if value is None else date.fromisoformat(value)
    if get_origin(hint) is tuple:
        one = _reader(get_args(hint)[0])
        return tuple if one is None else lambda values: tuple(map(one, values))
    if isinstance(hint, type) and issubclass(hint, Enum):
        return hint
    if hasattr(hint, "__dataclass_fields__"):
        return lambda value: _made(hint, value)
    return None
