"""Lines that tell several values by the codes of a key: "01=14.3  02=16.2  03=30.9"."""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import replace
from typing import Final

from rickyard.labs.common import Cell, Document

#: A code and its value, with what stands before the next one.
_PAIR: Final = re.compile(
    r"(?P<code>[A-Za-z]{0,3}[-.]?\d{1,3}|[A-Za-z]{1,4})\s*[=:]\s*"
    r"(?P<value>[<>]?\s?\d[\d.]*(?:,\d+)?|ND|TNTC|n/a|--?)\s*(?:[;,|]\s*|\s+|$)"
)
_LEAST: Final = 2
#: Where the value stands behind its code, in signs.
_BEHIND: Final = 12.0


def with_codes_apart(document: Document, known: Collection[str]) -> Document:
    """Return a document in which each code of a line stands with its value in a line of its own.

    Parameters
    ----------
    document : Document
        One way of reading a file.
    known : collection of str
        The codes that a key of it explains; a line with another one stays as it is.

    Returns
    -------
    Document
        The document.
    """
    pages = []
    for page in document.pages:
        rows: list[list[Cell]] = []
        for row in page.rows:
            rows.extend(_apart(row, known) or [row])
        pages.append(replace(page, rows=rows) if len(rows) > len(page.rows) else page)
    return replace(document, pages=pages)


def _apart(row: list[Cell], known: Collection[str]) -> list[list[Cell]]:
    """Return the codes of a row with their values, or nothing where it holds anything else."""
    text = "  ".join(cell.text for cell in row).strip()
    pairs = list(_PAIR.finditer(text)) if "=" in text or ":" in text else []
    if len(pairs) < _LEAST or _PAIR.sub("", text).strip():
        return []
    if any(pair["code"] not in known for pair in pairs):
        return []
    first = row[0]
    return [
        [
            replace(first, text=pair["code"], x1=first.x0 + len(pair["code"]) - 0.1),
            replace(
                first,
                text=pair["value"],
                x0=first.x0 + _BEHIND,
                x1=first.x0 + _BEHIND + len(pair["value"]) - 0.1,
                number=None,
                day=None,
            ),
        ]
        for pair in pairs
    ]
