"""The form of nitrate where a sentence tells it behind the value: "0.88 % as nitrate ion"."""

from __future__ import annotations

import re
from typing import Final

from rickyard.labs.tables import Found
from rickyard.labs.vocabulary import label_of

#: What stands behind the value; nothing is taken from further on.
_AS: Final = re.compile(
    r"^[^,;.]{0,20}?\b(?:as|expressed as|given as|in the form of|reported as)\s+(?:the\s+)?"
    r"(?:(?P<nitrogen>nitrate[- ]n(?:itrogen)?|no3[- ]?n|nitrogen|n)|"
    r"(?P<salt>potassium nitrate|kno3)|(?P<ion>nitrate ion|nitrate|no3))\b(?![- ]?n\b)",
    re.IGNORECASE,
)
_LABELS: Final = {"nitrogen": "NO3-N", "salt": "KNO3", "ion": "NO3"}


def tell_form(found: Found, behind: str) -> None:
    """Give a value of nitrate the form that the words behind it tell.

    Parameters
    ----------
    found : Found
        A value of a sentence; one that is no nitrate, or of a known form, stays as it is.
    behind : str
        The sentence behind its number.

    Examples
    --------
    >>> from rickyard.labs.common import Cell
    >>> from rickyard.labs.vocabulary import Comma, printed
    >>> label = label_of("nitrate")
    >>> one = Found(label, "nitrate", Cell("0.88", 0, 0, 1, ""), printed("0.88", Comma.POINT))
    >>> tell_form(one, "% as the nitrate ion (NO3)")
    >>> one.label.candidates
    ('nitrate_no3',)
    """
    if found.label.candidates != ("nitrate",):
        return
    told = _AS.match(behind)
    label = label_of(_LABELS[told.lastgroup]) if told is not None and told.lastgroup else None
    if label is not None:
        found.label = label
