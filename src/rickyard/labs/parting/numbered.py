"""Numbers of a laboratory that look like an analyte with its value: "MG 14", "CA 107"."""

from __future__ import annotations

import re
from typing import Final

from rickyard.labs.common import Page

_NUMBER: Final = re.compile(r"(?P<letters>[A-Z]{1,3})[ -]?\d{1,5}")
_LEAST_ROWS: Final = 2
_LEAST_OTHERS: Final = 3


def numbers_of_lab(page: Page) -> frozenset[str]:
    """Return the texts that are numbers of one series, one to a row, all in one column.

    Parameters
    ----------
    page : Page
        A page with cells in columns of their own; others have none.

    Returns
    -------
    frozenset of str
        The texts.

    Examples
    --------
    >>> from rickyard.labs.common import Cell
    >>> texts = (["West", "MG 14", "10.9", "37.6"], ["East", "MG 15", "10.2", "33.9"])
    >>> rows = [[Cell(t, n, x, x, "") for x, t in enumerate(row)] for n, row in enumerate(texts)]
    >>> sorted(numbers_of_lab(Page("", rows, True)))
    ['MG 14', 'MG 15']
    """
    columns: dict[tuple[int, str], list[str]] = {}
    for row in page.rows if page.gridded else ():
        found = [(cell, told) for cell in row if (told := _NUMBER.fullmatch(cell.text.strip()))]
        others = sum(any(map(str.isdigit, cell.text)) for cell in row) - len(found)
        if len(found) == 1 and len(row) > _LEAST_OTHERS and others >= _LEAST_ROWS:
            cell, told = found[0]
            columns.setdefault((int(cell.x0), told["letters"]), []).append(cell.text)
    return frozenset(
        text
        for texts in columns.values()
        if len(texts) >= _LEAST_ROWS and len(set(texts)) == len(texts)
        for text in texts
    )
