"""Short names that look the same and are not: letters of another script, or accents made of two.

The shapes are those of the capitals and small letters that common fonts draw alike; from memory,
no published source is followed.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from typing import Final

# Greek and Cyrillic letters, and the Latin ones they are drawn like.
_SHAPES: Final = str.maketrans(
    "\u0391\u0392\u0395\u0396\u0397\u0399\u039a\u039c\u039d\u039f\u03a1\u03a4\u03a5\u03a7\u03bf\u03bd"
    "\u0410\u0412\u0415\u041a\u041c\u041d\u041e\u0420\u0421\u0422\u0425\u0430\u0435\u043e\u0440\u0441"
    "\u0443\u0445\u0405\u0406\u0408\u0455\u0456\u0458",
    "ABEZHIKMNOPTYXovABEKMHOPCTXaeopcyxSIJsij",
)


def likeness(text: str) -> str:
    r"""Return what two names share when a person cannot tell them apart.

    Examples
    --------
    >>> likeness("\u0391-1") == likeness("A-1")
    True
    """
    return unicodedata.normalize("NFKC", text).translate(_SHAPES)


def difference(text: str, other: str) -> str:
    r"""Say which letter makes a name another than the one it looks like.

    Examples
    --------
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

    Examples
    --------
    >>> look_alike("\u0391-1", ["A-1", "A-2"])
    'It looks like A-1, but its letter 1 is a Greek capital letter alpha: type it again. '
    """
    shape = likeness(text)
    for choice in choices:
        if likeness(choice) == shape:
            return f"It looks like {choice}, but {difference(text, choice)}: type it again. "
    return ""
