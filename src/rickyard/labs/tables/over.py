"""What stands over columns of values: names of samples, and what tells that they are not ours."""

from __future__ import annotations

import re
from typing import TypeVar

from rickyard.labs.common import Cell
from rickyard.labs.tables.fields import NUMBER_ALONE
from rickyard.labs.tables.headings import Heading
from rickyard.labs.tables.names import name_and_number
from rickyard.labs.vocabulary import both_bases, field_of, label_of, written_in

Column = TypeVar("Column")

#: Over results that stand for others, and over those that they stand for.
_AMENDED = re.compile(
    r"(?:corrected|amended|revised|recheck(?:ed)?|re-?run|re-?test(?:ed)?|final|new|now)"
    r"(?: (?:value|result|report|figure)s?)?(?:[\s(,]+[\w\s./-]*\d[\w\s./-]*\)?)?",
    re.IGNORECASE,
)
_BEFORE_IT = re.compile(
    r"(?:was|old|originally?|original report|first|first (?:report|run|result)|before|initial|"
    r"initially|previous(?:ly)?|prior|replaced|superseded|withdrawn|in error|as first reported)"
    r"(?: (?:value|result|report|figure)s?)?",
    re.IGNORECASE,
)


def without_amended(
    kept: list[tuple[Column, Heading]],
) -> list[tuple[Column, Heading]]:
    """Return columns without those that another column of the report corrects.

    Parameters
    ----------
    kept : list of tuple
        Columns with what stands over each.

    Returns
    -------
    list of tuple
        Those that hold results of this report.
    """
    amended = any(_AMENDED.fullmatch(text.strip(" :")) for _, head in kept for text in head.texts)
    if not amended:
        return kept
    left = [
        one
        for one in kept
        if not any(_BEFORE_IT.fullmatch(text.strip(" :")) for text in one[1].texts)
    ]
    return left or kept


#: Over the results of this report, where other columns are for comparison.
_YOURS = re.compile(
    r"(?:your(?:s| (?:samples?|results?|hay|values?|lots?|figures?|forage|feed))?|you|"
    r"this (?:sample|hay|lot|test|report|forage)|results?|found|measured|sample results?|"
    r"test results?|finding)\b.*",
    re.IGNORECASE,
)


def ours(
    kept: list[tuple[Column, Heading]],
) -> list[tuple[Column, Heading]]:
    """Return columns without those beside "Your sample" that have a name: other kinds of hay.

    Parameters
    ----------
    kept : list of tuple
        Columns with what stands over each.

    Returns
    -------
    list of tuple
        Those that hold results of this report.
    """
    yours = [any(_YOURS.fullmatch(text.strip(" :")) for text in head.texts) for _, head in kept]
    if not any(yours) or all(yours):
        return kept
    return [
        one
        for one, own in zip(kept, yours, strict=True)
        if own or not any(name_over_column(one[1]))
    ]


def name_over_column(head: Heading) -> tuple[str, str]:
    """Return the headings of a column that can be the name of a sample, and its number.

    Parameters
    ----------
    head : Heading
        What stands over the column.

    Returns
    -------
    tuple of str
        Name and number; empty where there is none.
    """
    texts = [
        text for text in head.texts if not (_is_known(text) or _AMENDED.fullmatch(text.strip(" :")))
    ]
    numbers = [text for text in texts if NUMBER_ALONE.fullmatch(_bare_number(text))]
    names = [text for text in texts if text not in numbers]
    if names and numbers:
        return names[0], _bare_number(numbers[0])
    if numbers and _bare_number(numbers[0]) != numbers[0].strip("()[] "):
        return "", _bare_number(numbers[0])
    if not texts:
        return "", ""
    texts = [text for text in texts if not _YOURS.fullmatch(text.strip(" :"))] or texts
    parts = dict(name_and_number(Cell(texts[0], 0, 0.0, 0.0, "")))
    return parts["id"].text, parts["lab_no"].text if "lab_no" in parts else ""


#: "Lab 771", "Lab no. 771": the word before the number of the laboratory.
_LAB_BEFORE = re.compile(
    r"^(?:our|lab(?:oratory)?\.?)\s*(?:sample|no\.?|number|nr\.?|#|id|ref\.?)?\s*[:#]?\s*(?=\S*\d)",
    re.IGNORECASE,
)


def _bare_number(text: str) -> str:
    """Return a number of a laboratory without brackets and the word before it."""
    return _LAB_BEFORE.sub("", text.strip("()[] "))


def _is_known(text: str) -> bool:
    """Return whether a heading is a label, a unit, a basis or the name of a field."""
    known = written_in(text)
    return bool(known.basis or known.unit or field_of(text) or label_of(text) or both_bases(text))
