"""The JSON Schema of a plan, written from the classes of its result.

Keys, their order, types and the words a value may take come from the dataclasses and from how
``plan_json`` puts them down. What each key means, and the least it can be, stands in
``plan_words.json`` by the path of the key.
"""

from __future__ import annotations

import json
from dataclasses import fields
from datetime import date
from enum import Enum
from functools import cache
from importlib.resources import files
from types import NoneType
from typing import Any, Final, Literal, get_args, get_origin, get_type_hints

from rickyard.program.result import SCHEMA_VERSION, NeedRow, SeasonProgram, WishOutcome
from rickyard.sheets.data_files.plan_json import JSON_KEYS, NO_KEY

_TYPES: Final = {float: "number", int: "integer", str: "string", bool: "boolean"}
_DAY: Final = r"^\d{4}-\d{2}-\d{2}$"

#: Keys that a row has beside the fields of its class.
_MORE: Final[dict[str, dict[str, Any]]] = {
    "costs": {"total": float},
    "lots": {"fed_t": float},
}

#: Fields of a need that stand in one of its two rows only.
_NOT_IN: Final = {"needs": ("supplied", "assured"), "supplied": ("need", "shortage")}


@cache
def _words() -> dict[str, dict[str, Any]]:
    text = (files("rickyard.sheets") / "data" / "plan_words.json").read_text(encoding="utf-8")
    words: dict[str, dict[str, Any]] = json.loads(text)
    return words


def plan_schema() -> dict[str, Any]:
    """Return the JSON Schema (draft 2020-12) of the plan.

    >>> plan_schema()["properties"]["schema_version"]["const"]
    '2.4'
    """
    hints = get_type_hints(SeasonProgram)
    properties: dict[str, Any] = {
        "schema_version": {"const": SCHEMA_VERSION, **_words()["schema_version"]},
        "farm": _of(str, "farm"),
        "season": _object({"start": date, "end": date}, "season"),
    }
    for field in fields(SeasonProgram):
        if field.name in NO_KEY:
            continue
        properties[field.name] = _of(hints[field.name], field.name)
        if field.name == "needs":
            properties["supplied"] = _of(tuple[NeedRow, ...], "supplied")
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Rickyard season program",
        **_words()[""],
        "type": "object",
        "additionalProperties": False,
        "required": list(properties),
        "properties": properties,
    }


def _of(hint: Any, path: str) -> dict[str, Any]:
    """Return the schema of a value of a type that stands at a path."""
    words = _words().get(path, {})
    if get_origin(hint) is tuple:
        return {"type": "array", **words, "items": _of(get_args(hint)[0], f"{path}[]")}
    if get_origin(hint) is dict:
        return {"type": "object", **words}
    for kind in (hint, *get_args(hint)):
        if hasattr(kind, "__dataclass_fields__"):
            whole = _object(_row(kind, path.removesuffix("[]")), path)
            return whole if kind is hint else {**whole, "type": ["object", "null"]}
    return {**_plain(hint), **words}


def _plain(hint: Any) -> dict[str, Any]:
    if get_origin(hint) is Literal:
        return {"type": "string", "enum": list(get_args(hint))}
    kinds = get_args(hint)
    if NoneType in kinds:
        (kind,) = (one for one in kinds if one is not NoneType)
        known = _plain(kind)
        known.pop("pattern", None)  # which would refuse what is not given
        return {**known, "type": [known["type"], "null"]}
    if hint is date:
        return {"type": "string", "format": "date", "pattern": _DAY}
    if isinstance(hint, type) and issubclass(hint, Enum):
        return {"type": "string", "enum": [one.value for one in hint]}
    return {"type": _TYPES[hint]}


def _row(kind: Any, path: str) -> dict[str, Any]:
    """Return the types of the keys that a class is put down with."""
    hints = get_type_hints(kind)
    row: dict[str, Any] = {}
    for field in fields(kind):
        if kind is WishOutcome and field.name == "wish":
            row |= _row(hints["wish"], path)
        elif field.name not in _NOT_IN.get(path, ()):
            row[JSON_KEYS.get(field.name, field.name)] = hints[field.name]
    return row | _MORE.get(path, {})


def _object(row: dict[str, Any], path: str) -> dict[str, Any]:
    return {
        "type": "object",
        **_words()[path],
        "additionalProperties": False,
        "required": list(row),
        "properties": {key: _of(hint, f"{path}.{key}") for key, hint in row.items()},
    }
