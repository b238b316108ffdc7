"""Names and numbers of samples without the words of a letter or a form around them."""

from __future__ import annotations

import re
from typing import Final

_CALLED: Final = (
    r"(?:(?:the|your|our) )?(?:(?:bag|sample|lot|hay|stack)s? )?"
    r"(?:marked|label+ed|called|named|tagged|ticketed|titled|known as)(?: as)?\s*:?\s*"
)
_QUOTED: Final = re.compile(
    rf"(?:{_CALLED})?[\"“”„«‹'‘](?P<name>[^\"“”„«»]{{2,60}})[\"“”»›'’]", re.IGNORECASE
)
#: "marked West 40": without quotes what follows begins as a name does.
_BARE: Final = re.compile(rf"{_CALLED}(?P<name>[A-Z#\d].*)")
#: "sample TB509", "Specimen no. 4711": the word before a number of the laboratory.
_NUMBERED: Final = re.compile(
    r"(?:sample|specimen|lab(?:oratory)?|ticket|our)\.?\s*(?:no\.?|number|nr\.?|#|id)?\s*:?\s+"
    r"(?P<number>#?(?:[A-Z]{1,4}[-/.]?\d{2,}|\d{3,})[\w/.-]*)",
    re.IGNORECASE,
)


def as_called(text: str) -> str:
    """Return the name of a sample without the words that say that it is one, and without quotes.

    Parameters
    ----------
    text : str
        What was taken for the name.

    Returns
    -------
    str
        The name.

    Examples
    --------
    >>> as_called('marked "Meadow, under cover"'), as_called("marked West 40")
    ('Meadow, under cover', 'West 40')
    >>> as_called("Marked tree field"), as_called('the "old" place')
    ('Marked tree field', 'the "old" place')
    """
    told = _QUOTED.fullmatch(text) or _BARE.fullmatch(text)
    return told["name"].strip(" ,") if told else text


def as_numbered(text: str) -> str:
    """Return the number of a laboratory without the word before it.

    Parameters
    ----------
    text : str
        What was taken for the number.

    Returns
    -------
    str
        The number.

    Examples
    --------
    >>> as_numbered("sample TB509"), as_numbered("Ticket 812"), as_numbered("Sample 2")
    ('TB509', '812', 'Sample 2')
    """
    told = _NUMBERED.fullmatch(text)
    return told["number"] if told else text
