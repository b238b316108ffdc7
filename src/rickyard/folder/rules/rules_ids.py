"""What two cells of a row, or a name here and a row there, must be to each other.

Names that look the same and are not hold letters of another script, or accents made of two. The
shapes are those of the capitals and small letters that common fonts draw alike; from memory, no
published source is followed.
"""

from __future__ import annotations

import csv
import unicodedata
from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import date
from functools import cache
from importlib.resources import files
from operator import gt, le, lt
from typing import Any, Final, TypeAlias

from rickyard.folder.tables import Fault, TableRow, did_you_mean

Ids: TypeAlias = frozenset[str]

MOST_GUESSED: Final = 50  # beyond what is shown no guess is wanted

#: When a value is at fault against the other, by the word for what it should be.
_AT_FAULT: Final[Mapping[str, Callable[[Any, Any], bool]]] = {
    "on or after": lt,
    "after": le,
    "at most": gt,
}

# Greek and Cyrillic letters, and the Latin ones they are drawn like.
_SHAPES: Final = str.maketrans(
    "\u0391\u0392\u0395\u0396\u0397\u0399\u039a\u039c\u039d\u039f\u03a1\u03a4\u03a5\u03a7\u03bf\u03bd"
    "\u0410\u0412\u0415\u041a\u041c\u041d\u041e\u0420\u0421\u0422\u0425\u0430\u0435\u043e\u0440\u0441"
    "\u0443\u0445\u0405\u0406\u0408\u0455\u0456\u0458",
    "ABEZHIKMNOPTYXovABEKMHOPCTXaeopcyxSIJsij",
)


def likeness(text: str) -> str:
    r"""Return what two names share when a person cannot tell them apart.

    >>> likeness("\u0391-1") == likeness("A-1")
    True
    """
    return unicodedata.normalize("NFKC", text).translate(_SHAPES)


def difference(text: str, other: str) -> str:
    r"""Say which letter makes a name another than the one it looks like.

    >>> difference("\u0391-1", "A-1")
    'its letter 1 is a Greek capital letter alpha'
    """
    spot = next(
        (at for at, (one, two) in enumerate(zip(text, other, strict=False)) if one != two), None
    )
    if spot is None:
        return "it holds one sign more or less"
    words = unicodedata.name(text[spot], "sign without a name").casefold()
    return f"its letter {spot + 1} is a {words[0].upper()}{words[1:]}"


def look_alike(text: str, choices: Iterable[str]) -> str:
    r"""Return a sentence on the choice that a name looks like without being it, or nothing.

    >>> look_alike("\u0391-1", ["A-1", "A-2"])
    'It looks like A-1, but its letter 1 is a Greek capital letter alpha: type it again. '
    """
    shape = likeness(text)
    for choice in choices:
        if likeness(choice) == shape:
            return f"It looks like {choice}, but {difference(text, choice)}: type it again. "
    return ""


@cache
def _orders() -> tuple[dict[str, str], ...]:
    text = files("rickyard.folder").joinpath("data", "orders.csv").read_text("utf-8")
    return tuple(csv.DictReader(text.splitlines()))


def order_faults(row: TableRow, file: str = "") -> Iterator[Fault]:
    """Yield cells of a row that are before or above another; which, is in ``orders.csv``.

    ``file`` is the name there of a file that may have another.
    """
    for order in _orders():
        if order["file"] != (file or row.table.file):
            continue
        value, other = row.get(order["field"]), row.get(order["other"])
        if value is None or other is None or not _AT_FAULT[order["after"]](value, other):
            continue
        first, second = (
            one.isoformat() if isinstance(one, date) else row.text(name)
            for one, name in ((value, order["field"]), (other, order["other"]))
        )
        problem = f'"{first}" {order["problem"].format(other=second)}'
        yield row.fault(order["field"], problem, order["suggestion"], order["expected"])


def unknown_ids(rows: Iterable[TableRow], name: str, known: Ids, where: str) -> Iterator[Fault]:
    """Yield names under a field that are not among those known from ``where``."""
    choices = sorted(known)
    guessed = 0
    for row in rows:
        value = row.get(name)
        if value is not None and value not in known:
            guess = ""
            if guessed < MOST_GUESSED:
                guess = look_alike(value, choices) or did_you_mean(value, choices)
            guessed += 1
            yield row.fault(
                name,
                f'"{value}" is not in {where}.',
                f"{guess}Write it as it is there, or add it there.",
                f"a name from {where}",
            )
