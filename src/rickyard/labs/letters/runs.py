"""Runs of one test that a sentence tells before their mean: only the mean is left to be read.

"Protein: run 1 11.3 %, run 2 11.7 %, average 11.5 %" has one result.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Final

from rickyard.labs.common import Cell, Document

_ONE: Final = (
    r"(?:pan|rep(?:licate)?|run|trial|dup(?:licate)?|aliquot|determination|reading|weighing|scan|"
    r"crucible|tin|dish|flask|tube|bag|core|probe|sub-?sample|test)\s*(?:no\.?\s*)?#?(?:\d|[a-d])\b"
)
_FIGURE: Final = r"\d+(?:[.,]\d+)?\s*(?:%|percent|ppm|g/kg)?"
_MEAN: Final = r"(?:the\s+)?(?:mean|average|avg)\b\.?"
_MEAN_TOLD: Final = re.compile(rf"\d.*{_MEAN}.*\d", re.IGNORECASE)
#: "run 1 11.3 %, run 2 11.7 %, average": runs with their figures, and the mean behind them.
_LISTED: Final = re.compile(
    rf"(?:\b{_ONE}\s*[:=]?\s*{_FIGURE}[\s,;/]*(?:and\s+)?){{2,}}{_MEAN}\s*"
    r"(?:of\s+(?:both|two|the two|\d)\s*)?(?:is|was|of|[:=,])?\s*(?=\d)",
    re.IGNORECASE,
)
#: "Pan 1: dry matter 84.2 %. Pan 2: dry matter 85.0 %. Mean": each run with the label again.
_AGAIN: Final = re.compile(
    rf"\b{_ONE}\s*[:=,-]?\s*(?P<label>[A-Za-z][A-Za-z ]{{1,30}}?)\s+{_FIGURE}[\s.,;]*"
    rf"(?:(?:and\s+)?{_ONE}\s*[:=,-]?\s*(?P=label)\s+{_FIGURE}[\s.,;]*)+(?:and\s+)?{_MEAN}\s+"
    r"(?=(?P=label))",
    re.IGNORECASE,
)


def with_means_alone(document: Document) -> Document:
    """Return a document in whose sentences the mean of several runs stands without the runs.

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
        replace(page, rows=[[_alone(cell) for cell in row] for row in page.rows])
        if any(map(_MEAN_TOLD.search, (cell.text for cell in page.cells())))
        else page
        for page in document.pages
    ]
    return replace(document, pages=pages)


def _alone(cell: Cell) -> Cell:
    return replace(cell, text=means_alone(cell.text)) if _MEAN_TOLD.search(cell.text) else cell


def means_alone(text: str) -> str:
    """Return a sentence without the runs that it tells before their mean.

    Parameters
    ----------
    text : str
        The sentence.

    Returns
    -------
    str
        The sentence, with the mean in place of the runs.

    Examples
    --------
    >>> means_alone("Protein, dry, run 1 11.3%, run 2 11.7%, average 11.5%.")
    'Protein, dry, 11.5%.'
    >>> means_alone("Pan 1: ash 8.2 %. Pan 2: ash 8.4 %. Mean ash 8.3 %.")
    'ash 8.3 %.'
    >>> means_alone("Bag 1 ran 11.3 % protein")
    'Bag 1 ran 11.3 % protein'
    """
    return _AGAIN.sub("", _LISTED.sub("", text))
