"""Plain objects as JSON: names as they are, days as 2026-01-31, numbers never NaN."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping, Sequence
from dataclasses import fields, is_dataclass
from datetime import date
from enum import Enum
from typing import Any, Final, SupportsFloat

#: Version of the way in which plain objects are written.
VERSION: Final = 1

#: Kinds of values that JSON holds as they are.
_AS_IT_IS: Final = frozenset({str, int, bool, type(None)})

_ON_A_LINE: Final = json.JSONEncoder(ensure_ascii=False, allow_nan=False).encode


class NotFinite(ValueError):  # noqa: N818 - named for what happened, as a person says it
    """A number to be written is infinite or not a number; the message names where."""


def plain(value: Any, where: str = "") -> Any:
    """Return a value as JSON holds it.

    Raises ``NotFinite`` if a number is not finite. Raises ``TypeError`` if a value has no such
    form.

    Parameters
    ----------
    value : object
        A dataclass, a collection of them, a day, a word of a list, a number, text or nothing.
    where : str
        Where it stands, for the message of an error.

    Returns
    -------
    object
        Dictionaries, lists, text, numbers, true and false, nothing.

    Examples
    --------
    >>> plain({"day": date(2026, 1, 31), "tons": (1.5, None)})
    {'day': '2026-01-31', 'tons': [1.5, None]}
    """
    # A plan is mostly numbers, so they come first.
    if type(value) is float and math.isfinite(value):
        return value + 0.0  # turns -0.0 into 0.0
    if isinstance(value, Enum):
        return value.value
    if value is None or isinstance(value, bool | str | int):
        return value
    if isinstance(value, date):
        return value.isoformat()
    if is_dataclass(value) and not isinstance(value, type):
        value = {one.name: getattr(value, one.name) for one in fields(value)}
    if isinstance(value, Mapping):
        return {
            str(key): one if type(one) in _AS_IT_IS else plain(one, f"{where}.{key}")
            for key, one in value.items()
        }
    if isinstance(value, tuple | list):
        return [
            one if type(one) in _AS_IT_IS else plain(one, f"{where}[{index}]")
            for index, one in enumerate(value)
        ]
    if not isinstance(value, SupportsFloat):
        raise TypeError(f"{type(value).__name__} cannot be written as JSON.")
    number = float(value)
    if not math.isfinite(number):
        raise NotFinite(f"{where or 'A number'} is {number}: JSON holds finite numbers only.")
    return number + 0.0


def document(kind: str, **parts: Any) -> str:
    """Return a JSON document that says what it is.

    Parameters
    ----------
    kind : str
        What it holds, such as ``sampling``.
    **parts : object
        Its parts by name.

    Returns
    -------
    str
        The text, with a line end.

    Examples
    --------
    >>> print(document("yard", lots=[]), end="")
    {
      "rickyard": "yard",
      "version": 1,
      "lots": []
    }
    """
    whole = {"rickyard": kind, "version": VERSION, **plain(parts)}
    return json.dumps(whole, indent=2, ensure_ascii=False) + "\n"


def rows_on_lines(whole: Mapping[str, Any]) -> str:
    """Return plain parts as JSON text, each row of a list on a line: quick, and to be read.

    Parameters
    ----------
    whole : mapping of str to object
        Parts by name, as ``plain`` gives them.

    Returns
    -------
    str
        The text, with a line end.

    Examples
    --------
    >>> print(rows_on_lines({"cost": 12.5, "lots": [{"lot": "A1"}, {"lot": "B2"}]}), end="")
    {
     "cost": 12.5,
     "lots": [
      {"lot": "A1"},
      {"lot": "B2"}
     ]
    }
    """
    parts = []
    for key, value in whole.items():
        text = "" if isinstance(value, list) and value else _ON_A_LINE(value)
        if not text:
            text = "[\n" + ",\n".join(f"  {_ON_A_LINE(one)}" for one in value) + "\n ]"
        parts.append(f" {_ON_A_LINE(key)}: {text}")
    return "{\n" + ",\n".join(parts) + "\n}\n"


def joined_documents(parts: Sequence[tuple[str, str]]) -> str:
    """Return the documents of many farms in one.

    Parameters
    ----------
    parts : sequence of (str, str)
        The name of each farm's folder, and its document.

    Returns
    -------
    str
        ``farms`` holds ``folder`` and ``answer`` of each, with a line end.

    Examples
    --------
    >>> joined_documents([("hill", document("yard", lots=[]))]).splitlines()[1]
    '  "rickyard": "farms",'
    """
    farms = [{"folder": name, "answer": json.loads(text)} for name, text in parts]
    return document("farms", farms=farms)
