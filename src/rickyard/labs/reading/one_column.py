"""A table pasted cell by cell, each in a line of its own: headings first, then the samples."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from rickyard.labs.common import Cell, Document, Page
from rickyard.labs.parsing import MOST_TEXT
from rickyard.labs.vocabulary import field_of, label_of

#: So many headings make a table, of which so many name analytes.
_LEAST_HEADS: Final = 4
_LEAST_LABELS: Final = 3
_VALUE: Final = re.compile(r"[<>]?\s?\d[\d.,' ]*\s?%?|n\.?[ad]\.?|-{1,2}|–|trace", re.IGNORECASE)


def one_column_document(lines: Sequence[str]) -> Document | None:
    """Return the table of a text whose cells stand in lines of their own, or ``None``.

    The headings stand together; under them each sample has as many lines, parted by empty ones.

    Parameters
    ----------
    lines : sequence of str
        The lines of the text.

    Returns
    -------
    Document or None
        The table with what stands over it.

    Examples
    --------
    >>> heads = ["Sample", "Crude protein", "ADF", "NDF"]
    >>> made = one_column_document(["% of dry matter", "", *heads, "", "West", "8.2", "37", "60"])
    >>> [[cell.text for cell in row] for row in made.pages[0].rows if len(row) > 1]
    [['Sample', 'Crude protein', 'ADF', 'NDF'], ['West', '8.2', '37', '60']]
    """
    groups = _groups(lines)
    place = next((n for n, group in enumerate(groups) if _heads(lines, group)), None)
    if place is None:
        return None
    heads = groups[place]
    labels = [n for n, at in enumerate(heads) if _is_label(lines[at])]
    whole = [one for one in groups[place + 1 :] if len(one) == len(heads)]
    whole = [one for one in whole if all(_VALUE.fullmatch(lines[one[n]].strip()) for n in labels)]
    if not whole:
        return None
    known = [heads, *whole]
    taken = {at for group in known for at in group}
    rows: list[list[Cell]] = []
    for at, line in enumerate(lines):
        group = next((one for one in known if one[0] == at), [at] if at not in taken else [])
        texts = [(lines[n].strip()[:MOST_TEXT], n) for n in group if lines[n].strip()]
        if group or not line.strip():
            rows.append(
                [
                    Cell(text, len(rows), column, column + 0.9, f"line {n + 1}")
                    for column, (text, n) in enumerate(texts)
                ]
            )
    return Document("table", [Page("text", rows, True)])


def _groups(lines: Sequence[str]) -> list[list[int]]:
    """Return the lines that stand together, without the empty ones between them."""
    groups: list[list[int]] = [[]]
    for at, line in enumerate(lines):
        if line.strip():
            groups[-1].append(at)
        elif groups[-1]:
            groups.append([])
    return [one for one in groups if one]


def _is_label(text: str) -> bool:
    label = label_of(text.strip())
    return label is not None and label.ours


def _heads(lines: Sequence[str], group: Sequence[int]) -> bool:
    """Return whether lines together are headings: each an analyte or a field, and all different."""
    texts = [lines[at].strip() for at in group]
    labels = sum(map(_is_label, texts))
    fields = [field_of(text) for text in texts]
    known = all(field or _is_label(text) for text, field in zip(texts, fields, strict=True))
    return (
        len(texts) >= _LEAST_HEADS
        and len(set(texts)) == len(texts)
        and labels >= _LEAST_LABELS
        and known
        and any(fields)
    )
