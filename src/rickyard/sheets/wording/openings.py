"""How a caution opens, where many farms are told of and each has its own page."""

from __future__ import annotations

import re
from typing import Final

#: A danger is told by so many letters at least, to the end of a sentence.
_LEAST_LETTERS: Final = 60


def opening(text: str) -> str:
    """Return the first sentence of several, and the next ones as long as they are short.

    Parameters
    ----------
    text : str
        Sentences.

    Returns
    -------
    str
        Whole sentences.

    Examples
    --------
    >>> opening("It heated to 70 °C inside. Do not walk on it; call the fire brigade. Then wait.")
    'It heated to 70 °C inside. Do not walk on it; call the fire brigade.'
    """
    ends = [one.end() for one in re.finditer(r"[.](?= [A-Z])|$", text)]
    return text[: next(end for end in ends if end >= _LEAST_LETTERS or end == len(text))]
