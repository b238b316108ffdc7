"""Columns of a text that are parted by one space: seen where every row leaves a place blank."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from rickyard.labs.vocabulary import printed_day

#: What stands in a column of values: numbers, limits, and signs for a number that is not there.
_VALUE: Final = re.compile(
    r"[<>~]?[-+]?\d[\d.,]*[%*]?|[<>]?\.\d+|[-–—]+|nd|n\.?d\.?|n/?a|tntc|bdl|\*+", re.IGNORECASE
)
#: A row of a table has so many values, and a table so many rows.
_LEAST_VALUES: Final = 3
_LEAST_ROWS: Final = 3
#: So many lines over the first row may head it.
_MOST_HEADS: Final = 4
_MOSTLY: Final = 0.8
#: A wider border parts headings by itself.
_NARROW: Final = 2
#: A line with a number is a row of its own and heads nothing.
_NUMBER: Final = re.compile(r"\d[.,]\d")


def cuts_of(lines: Sequence[str]) -> dict[int, list[int]]:
    """Return where the lines of tables are to be cut, by the number of the line.

    A place is a border of two columns where every row of a table leaves it blank, and where
    numbers stand on both sides of it, or headings do.

    Parameters
    ----------
    lines : sequence of str
        The lines of a text, without tabs.

    Returns
    -------
    dict of int to list of int
        The places in each line of a table, from the left.

    Examples
    --------
    >>> rows = ["Lot 1 CP   ADF  NDF ", "East  12.2 35.1 55.1", "Hill   9.1 38.4 60.2"]
    >>> cuts_of([*rows, "West  11.0 36.0 56.0"])[1]
    [4, 10, 15]
    """
    cuts: dict[int, list[int]] = {}
    place = 0
    while place < len(lines):
        end = place
        while end < len(lines) and _is_row(lines[end]):
            end += 1
        if end - place >= _LEAST_ROWS:
            _cut(lines, place, end, cuts)
        place = max(end, place + 1)
    return cuts


def _is_row(line: str) -> bool:
    words = line.split()
    values = sum(bool(_VALUE.fullmatch(word)) for word in words)
    return values >= _LEAST_VALUES and 2 * values >= len(words)


def _cut(lines: Sequence[str], first: int, end: int, cuts: dict[int, list[int]]) -> None:
    """Add the borders of the columns of one table to those of each of its lines."""
    body = lines[first:end]
    heads = []
    for place in range(first - 1, max(first - 1 - _MOST_HEADS, -1), -1):
        if not lines[place].strip() or _NUMBER.search(lines[place]):
            break
        heads.append(place)
    width = max(map(len, body))
    filled = [any(at < len(line) and line[at] != " " for line in body) for at in range(width)]
    gaps = _gaps(filled)
    for number, (left, right) in enumerate(gaps):
        before = gaps[number - 1][1] if number else 0
        after = gaps[number + 1][0] if number + 1 < len(gaps) else width
        sides = _holds_values(body, before, left), _holds_values(body, right, after)
        headed = any(sides) and any(
            " " in lines[place][left:right]
            and lines[place][before:left].strip()
            and lines[place][right : max(after, right + 1)].strip()
            for place in heads
        )
        if not (all(sides) or headed) or _parts_a_day(body, gaps, number):
            continue
        narrow = heads if right - left <= _NARROW else ()
        for place in (*range(first, end), *narrow):
            at = lines[place].find(" ", left, right)
            if at >= 0:
                cuts.setdefault(place, []).append(at)


def _parts_a_day(body: Sequence[str], gaps: Sequence[tuple[int, int]], number: int) -> bool:
    """Return whether a gap stands inside of a day: "Sep 20, 2026" has two of them."""
    left, right = gaps[number]
    starts = [gaps[at][1] if at >= 0 else 0 for at in (number - 1, number - 2)]
    ends = [gaps[at][0] if at < len(gaps) else None for at in (number + 1, number + 2)]
    for start, end in ((starts[0], ends[0]), (starts[1], ends[0]), (starts[0], ends[1])):
        for line in body:
            if (
                any(map(str.isalpha, line[start:end]))
                and printed_day(line[start:end])
                and not printed_day(line[start:left])
                and not printed_day(line[right:end])
            ):
                return True
    return False


def _gaps(filled: Sequence[bool]) -> list[tuple[int, int]]:
    """Return the blank places between the first and the last filled one."""
    gaps: list[tuple[int, int]] = []
    start = None
    for at, full in enumerate(filled):
        if not full and start is None and any(filled[:at]):
            start = at
        elif full and start is not None:
            gaps.append((start, at))
            start = None
    return gaps


def _holds_values(body: Sequence[str], left: int, right: int) -> bool:
    """Return whether most rows that have anything between two places have a value there."""
    texts = [text for line in body if (text := line[left:right].strip())]
    values = sum(bool(_VALUE.fullmatch(text)) for text in texts)
    return len(texts) > 1 and values >= _MOSTLY * len(texts)  # one alone may be of a name
