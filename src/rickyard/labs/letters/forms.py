"""The form of nitrate where a sentence tells it behind the value: "0.88 % as nitrate ion"."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Final

from rickyard.labs.common import Cell, Document
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


#: "0.25 % NO3 in DM", "1900 mg/kg (as NO3-N)": a form among the unit and the basis of a value.
_BEHIND: Final = re.compile(
    r"\s*(?<![\w-])[(\[]?(?:(?:given |expressed |reported )?(?:as|als|en|como|com|som|of) )?"
    r"(?:the )?"
    r"(?:(?P<nitrogen>no3[- ]?n|nitrate[- ]n(?:itrogen)?)|(?P<salt>kno3|potassium nitrate)|"
    r"(?P<ion>no3|nitrate ion))(?![\w-])[)\]]?,?\s*(?:\b(?:in|on|of)\b\s*)?",
    re.IGNORECASE,
)
_BEGINS: Final = re.compile(r"[<>]?\s?\d")
#: A value with unit, form and basis is no longer.
_LONGEST: Final = 48


def with_forms_told(document: Document) -> Document:
    """Return a document in which the form of nitrate stands with its label, and not with its value.

    Parameters
    ----------
    document : Document
        One way of reading a file.

    Returns
    -------
    Document
        The document.
    """
    pages = [
        replace(page, rows=[_formed(row) if len(row) > 1 else row for row in page.rows])
        for page in document.pages
    ]
    return replace(document, pages=pages)


def _formed(row: list[Cell]) -> list[Cell]:
    """Return a row with "Nitrate (NO3)" and "0.25 % DM" for "Nitrate" and "0.25 % NO3 in DM"."""
    made = list(row)
    for n, cell in enumerate(row[1:], 1):
        if not (_BEGINS.match(cell.text) and len(cell.text) <= _LONGEST):
            continue
        told = _BEHIND.search(cell.text)
        label = label_of(row[n - 1].text) if told else None
        if told is None or label is None or label.candidates != ("nitrate",) or not told.lastgroup:
            continue
        name = row[n - 1].text.strip(" :.")
        made[n - 1] = replace(row[n - 1], text=f"{name} ({_LABELS[told.lastgroup]})")
        left = f"{cell.text[: told.start()]} {cell.text[told.end() :]}"
        made[n] = replace(cell, text=left.replace(" /", "/").strip())
    return made
