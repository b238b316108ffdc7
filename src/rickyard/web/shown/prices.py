"""Pages for who may not see what a farm costs: the same, without a sentence that names a price."""

from __future__ import annotations

import re
from dataclasses import fields, is_dataclass, replace
from typing import Any, Final

from rickyard.web.shown.care import Care

#: What stands before every amount of money, and nowhere else.
_SIGN: Final = "$"

_SENTENCE_ENDS: Final = re.compile(r"(?<=[.!?])\s+")


def without_prices(shown: Any) -> Any:
    """Return what stands on a page without money.

    Parameters
    ----------
    shown : object
        Words, or anything made of words, tuples, lists and data classes. What is something else
        stays as it is.

    Returns
    -------
    object
        The same kind of thing. Of a text each sentence that names an amount of money is left out;
        of a list each entry of which nothing but its name is left.

    Examples
    --------
    >>> without_prices("Hay lasts to Apr 1. It costs $12,000 in all. Buy 3 tons.")
    'Hay lasts to Apr 1. Buy 3 tons.'
    >>> without_prices((("Hay", "$900"), ("Bales", "40")))
    (('Bales', '40'),)
    """
    if isinstance(shown, Care):
        return shown  # What is dangerous is said whole to everybody.
    if isinstance(shown, str):
        return _text(shown)
    if isinstance(shown, tuple | list):
        every = ((one, without_prices(one)) for one in shown)
        return type(shown)(now for then, now in every if now == then or not _is_bare(now))
    if is_dataclass(shown) and not isinstance(shown, type):
        changed = {one.name: without_prices(getattr(shown, one.name)) for one in fields(shown)}
        return replace(shown, **changed)
    return shown


def _text(text: str) -> str:
    if _SIGN not in text:
        return text
    return " ".join(one for one in _SENTENCE_ENDS.split(text) if _SIGN not in one)


def _is_bare(entry: Any) -> bool:
    """Return whether nothing but a name is left of an entry of a list."""
    if isinstance(entry, str):
        return not entry
    if isinstance(entry, tuple):
        return not any(entry[1:])
    if is_dataclass(entry) and not isinstance(entry, type):
        return not any(getattr(entry, one.name) for one in fields(entry)[1:])
    return False
