"""The structure of a file: its headings, without names, numbers or logos."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from typing import Final

#: So much of two structures must be the same for one layout to serve the other.
LEAST_ALIKE: Final = 0.8


def structure_of(lines: Iterable[str]) -> tuple[str, ...]:
    """Return the structure of a file from the lines in which its tables were described.

    Parameters
    ----------
    lines : iterable of str
        A line of words for each table.

    Returns
    -------
    tuple of str
        The words, each once, in order.

    Examples
    --------
    >>> structure_of(["wide lab-no cp-dm adf-dm", "wide lab-no cp-dm adf-dm"])
    ('adf-dm', 'cp-dm', 'lab-no', 'wide')
    """
    return tuple(sorted({word for line in lines for word in line.split() if word}))


def alike(first: Collection[str], second: Collection[str]) -> float:
    """Return how much two structures share, from 0 to 1.

    Examples
    --------
    >>> alike(("a", "b", "c", "d"), ("a", "b", "c", "e"))
    0.6
    """
    mine, other = set(first), set(second)
    return len(mine & other) / len(mine | other) if mine | other else 0.0
