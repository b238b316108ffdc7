"""Tables whose columns are parted by one space: read from the right, where numbers stand."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from rickyard.labs.vocabulary import field_of, is_only_unit, label_of, printed_day

#: A table has so many columns of values at least, and so many rows.
_LEAST_LABELS: Final = 3
_LEAST_ROWS: Final = 2
_MOST_UNIT_WORDS: Final = 4
_VALUE: Final = re.compile(r"[<>]?\d[\d.,]*%?|[<>]?\.\d+|-+|nd|n/?a|tntc", re.IGNORECASE)
_IDS: Final = ("id", "weak_id", "lab_no", "number")


def spaced_rows(lines: Sequence[str]) -> list[tuple[int, list[str]]]:
    """Return the rows of a table parted by single spaces, with the lines over it as they are.

    The labels of the heading are read from the right until what stands before them names the
    sample; each row has as many values, and its first words are name and number.

    Parameters
    ----------
    lines : sequence of str
        The lines of the text.

    Returns
    -------
    list of tuple of int and list of str
        The number of each line with its cells; empty where the text is no such table.

    Examples
    --------
    >>> spaced_rows(["Lab Sample DM CP ADF", "71 West 40 88.1 12.2 35", "72 East 86.1 15.2 33"])[1]
    (1, ['71', 'West 40', '88.1', '12.2', '35'])
    """
    for place, line in enumerate(lines):
        head = _heading(line)
        if head is None:
            continue
        names, labels = head
        rows = []
        for below in range(place + 1, len(lines)):
            if not lines[below].strip():
                break
            row = _row(lines[below], names, len(labels))
            if row is None:
                break
            rows.append((below, row))
        if len(rows) >= _LEAST_ROWS:
            before = [(n, [one]) for n, one in enumerate(lines[:place])]
            after = [(n, [lines[n]]) for n in range(rows[-1][0] + 1, len(lines))]
            return [*before, (place, [*names, *labels]), *rows, *after]
    return []


def _heading(line: str) -> tuple[list[str], list[str]] | None:
    """Return the names of fields and the labels of a heading, if a line is one."""
    words = line.split()
    if "  " in line.strip() or "\t" in line or len(words) < _LEAST_LABELS + 1:
        return None
    starts = [n for n in range(1, min(len(words), 6)) if _is_label(words[n])]
    for start in starts:
        names = _names(words[:start])
        labels = _labels(words[start:])
        if names and len(labels) >= _LEAST_LABELS:
            return names, labels
    return None


def _is_label(word: str) -> bool:
    label = label_of(word)
    return label is not None and not label.misspelled


def _names(words: list[str]) -> list[str]:
    """Return the one or two names of fields that some words are, or nothing."""
    for cut in range(1, len(words) + 1):
        parts = [" ".join(words[:cut]), " ".join(words[cut:])]
        parts = [part for part in parts if part]
        kinds = [field_of(part) for part in parts]
        if all(kind in _IDS for kind in kinds) and len(set(kinds)) == len(kinds):
            return parts
    return []


def _labels(words: list[str]) -> list[str]:
    """Return the labels that some words are, each with its unit behind it; or nothing."""
    made: list[str] = []
    at = 0
    while at < len(words):
        if not _is_label(words[at]):
            return []
        end = at + 1
        for more in range(min(_MOST_UNIT_WORDS, len(words) - at - 1), 0, -1):
            unit = words[at + 1 : at + 1 + more]
            follows = at + 1 + more == len(words) or _is_label(words[at + 1 + more])
            other = any(_is_label(one) for one in unit if one.casefold() != "dm")
            if follows and not other and is_only_unit(" ".join(unit)) and not _is_label(unit[0]):
                end = at + 1 + more
                break
        made.append(" ".join(words[at:end]))
        at = end
    return made


def _row(line: str, names: list[str], values: int) -> list[str] | None:
    """Return the cells of a row: number and name as the heading has them, then the values."""
    words = line.split()
    told, numbers = words[:-values], words[-values:]
    if not told or not all(map(_VALUE.fullmatch, numbers)) or printed_day(line):
        return None
    if len(names) == 1:
        return [" ".join(told), *numbers]
    if len(told) < len(names):
        return None
    first = field_of(names[0]) in ("lab_no", "number")
    number = told[0] if first else told[-1]
    if not any(sign.isdigit() for sign in number):
        return None
    rest = " ".join(told[1:] if first else told[:-1])
    return [number, rest, *numbers] if first else [rest, number, *numbers]
