"""Printouts that give each sample two lines, and their headings too: made one line again.

A printer of 80 signs prints the first analytes in one line and the rest, far from the margin, in
the next; the headings over both are broken in the same way.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from typing import Final

#: What goes on stands so far from the margin, and lines that do so begin at most so far apart.
_LEAST_INDENT: Final = 12
_APART: Final = 3
_LEAST_NUMBERS: Final = 2
_LEAST_SAMPLES: Final = 2
_NUMBER: Final = re.compile(r"(?<!\S)[<>]?\d[\d.,]*(?!\S)")


def unwrapped(lines: Sequence[str]) -> list[tuple[int, str]]:
    """Return lines with those joined to them that go on with their sample; none where none does.

    Parameters
    ----------
    lines : sequence of str
        The lines of a text, without tabs.

    Returns
    -------
    list of (int, str)
        The lines, each with its place among those given.

    Examples
    --------
    >>> text = ["No  Field       CP   ADF", "                Ca   P",
    ...         "1   East        12.1 35.2", "                0.41 0.22",
    ...         "2   West        11.0 36.2", "                0.43 0.23"]
    >>> [(place, *line.split()) for place, line in unwrapped(text)][1]
    (2, '1', 'East', '12.1', '35.2', '0.41', '0.22')
    """
    behind = [_indent(line) for line in lines]
    goes_on = [
        place
        for place in range(1, len(lines))
        if behind[place] >= _LEAST_INDENT
        and len(_NUMBER.findall(lines[place])) >= _LEAST_NUMBERS
        and _is_row(lines[place - 1])
    ]
    if len(goes_on) < _LEAST_SAMPLES:
        return []
    usual = Counter(behind[place] for place in goes_on).most_common(1)[0][0]
    rows = sum(_is_row(line) for line in lines)
    near = [one for one in goes_on if abs(behind[one] - usual) <= _APART]
    if len(near) < _LEAST_SAMPLES or len(near) != rows:
        return []  # not every sample goes on
    width = 2 + max(len(line.rstrip()) for line in lines)
    made: list[tuple[int, str]] = []
    joined = {*near}
    for place, line in enumerate(lines):
        head = 0 < place < near[0] and abs(behind[place] - usual) <= _APART
        alone = bool(made) and made[-1][0] == place - 1 and bool(lines[place - 1].strip())
        if alone and (head or place in joined):
            made[-1] = place - 1, f"{lines[place - 1].rstrip():<{width}}{line}"
        else:
            made.append((place, line))
    return made


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip()) if line.strip() else 0


def _is_row(line: str) -> bool:
    """Return whether a line begins at the margin and holds numbers behind its name."""
    return _indent(line) < _LEAST_INDENT and len(_NUMBER.findall(line)) > _LEAST_NUMBERS
