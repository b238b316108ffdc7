"""What a second look at a program finds wrong, and how near two figures must be."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

#: Every balance, need and ceiling must hold to this share.
TOLERANCE: Final = 1e-6

#: Less than this of a feed in a season is held to milligrams instead, kg.
SEASON_KG: Final = 10.0


@dataclass(frozen=True, slots=True)
class Breach:
    """One thing a program claims that does not add up."""

    what: str
    claimed: float
    found: float

    def __str__(self) -> str:
        return f"{self.what}: the program says {self.claimed:.9g}, the re-check {self.found:.9g}."


def compare(what: str, claimed: float, found: float, scale: float = 0.0) -> Iterator[Breach]:
    """Yield a breach where two figures differ by more than a millionth of the larger.

    Examples
    --------
    >>> [str(one) for one in compare("cost", 1.0, 1.1)]
    ['cost: the program says 1, the re-check 1.1.']
    """
    if abs(claimed - found) > TOLERANCE * max(abs(claimed), abs(found), scale, 1e-6):
        yield Breach(what, claimed, found)


def at_most(what: str, found: float, most: float, scale: float = 0.1) -> Iterator[Breach]:
    """Yield a breach where a figure is more than a millionth above the most it may be.

    Examples
    --------
    >>> list(at_most("fat", 0.4, 0.4))
    []
    """
    if found > most + TOLERANCE * max(abs(most), scale):
        yield Breach(what, most, found)
