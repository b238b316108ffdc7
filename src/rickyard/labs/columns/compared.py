"""Columns beside the results of a report: what it corrects, and what it is compared with."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

#: Over results that stand for others, and over those that they stand for.
_AMENDED: Final = re.compile(
    r"(?:corrected|amended|revised|recheck(?:ed)?|re-?run|re-?test(?:ed)?|final|new|now)"
    r"(?: (?:value|result|report|figure)s?)?(?:[\s(,]+[\w\s./-]*\d[\w\s./-]*\)?)?",
    re.IGNORECASE,
)
_BEFORE_IT: Final = re.compile(
    r"(?:was|old|original(?:ly)?|original report|first|first (?:report|run|result)|before|initial|"
    r"initially|previous(?:ly)?|prior|replaced|superseded|withdrawn|in error|as first reported)"
    r"(?: (?:value|result|report|figure)s?)?",
    re.IGNORECASE,
)
#: Over the results of this report, where other columns are for comparison.
_YOURS: Final = re.compile(
    r"(?:your(?:s| (?:samples?|results?|hay|values?|lots?|figures?|forage|feed))?|you|"
    r"this (?:sample|hay|lot|test|report|forage)|results?|found|measured|sample results?|"
    r"test results?|finding)\b.*",
    re.IGNORECASE,
)
#: Over what was found now, beside what was found before.
_NOW: Final = re.compile(
    r"(?:this|current) (?:year|season|crop|cut(?:ting)?)|now|today|current|new(?:est)?|latest|"
    r"test(?:ed)?|lab(?:oratory)?|sample|reported|analysis|content|concentration",
    re.IGNORECASE,
)
#: Signs at the edges of a heading that belong to no word: marks of footnotes too.
_EDGES: Final = " :*†‡§¶"


def is_amended(text: str) -> bool:
    """Return whether a heading says that what is under it corrects another result.

    Parameters
    ----------
    text : str
        The heading.

    Returns
    -------
    bool
        Whether it does.

    Examples
    --------
    >>> is_amended("Corrected"), is_amended("Corrected 4 June"), is_amended("New barn")
    (True, True, False)
    """
    return bool(_AMENDED.fullmatch(text.strip(" :")))


def is_yours(text: str) -> bool:
    """Return whether a heading says that what is under it is the result of this report.

    Parameters
    ----------
    text : str
        The heading.

    Returns
    -------
    bool
        Whether it does.

    Examples
    --------
    >>> is_yours("Your sample"), is_yours("Result"), is_yours("East barn")
    (True, True, False)
    """
    return bool(_YOURS.fullmatch(text.strip(" :")))


def is_now(text: str) -> bool:
    """Return whether a heading says that what is under it was found this time.

    Parameters
    ----------
    text : str
        The heading.

    Returns
    -------
    bool
        Whether it does.

    Examples
    --------
    >>> is_now("This year"), is_now("Tested"), is_now("Last year")
    (True, True, False)
    """
    return bool(_NOW.fullmatch(text.strip(" :")))


def not_replaced(columns: Sequence[Sequence[str]]) -> list[bool]:
    """Return which columns stay where another of the report corrects them.

    Parameters
    ----------
    columns : sequence of sequence of str
        The texts over each column.

    Returns
    -------
    list of bool
        For each column whether it holds results of this report.

    Examples
    --------
    >>> not_replaced([["Original"], ["Corrected"]]), not_replaced([["Original"], ["Dry"]])
    ([False, True], [True, True])
    """
    said = [[text.strip(_EDGES) for text in texts] for texts in columns]
    before = [any(map(_BEFORE_IT.fullmatch, texts)) for texts in said]
    if all(before) or not any(_AMENDED.fullmatch(text) for texts in said for text in texts):
        return [True] * len(said)
    return [not one for one in before]


def own_beside(columns: Sequence[Sequence[str]], named: Sequence[bool]) -> list[bool]:
    """Return which columns stay beside "Your sample": not those with a name, of other hay.

    Parameters
    ----------
    columns : sequence of sequence of str
        The texts over each column.
    named : sequence of bool
        Of each, whether a name stands over it.

    Returns
    -------
    list of bool
        For each column whether it holds results of this report.

    Examples
    --------
    >>> own_beside([["Your hay"], ["Good alfalfa"], ["%"]], [False, True, False])
    [True, False, True]
    """
    yours = [any(map(is_yours, texts)) for texts in columns]
    if not any(yours) or all(yours):
        return [True] * len(yours)
    return [own or not other for own, other in zip(yours, named, strict=True)]
