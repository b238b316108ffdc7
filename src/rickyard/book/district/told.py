"""What is told of a farm beside others, small enough to be kept: of its program and its yard."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from rickyard.hay.yard import Outlook


@dataclass(frozen=True, slots=True)
class Threat:
    """A danger at a farm: the name of what it is about, and its sentence."""

    about: str
    sentence: str


@dataclass(frozen=True, slots=True)
class ProgramTold:
    """What a kept program says of its season.

    ``kind`` and ``sentence`` are the answer of the season's page; ``short_on`` is the first day on
    which something lacks. ``missing_t`` and ``left_t`` are dry matter in metric tonnes.
    """

    kind: str
    sentence: str
    short_on: date | None
    missing_t: float
    left_t: float
    threats: tuple[Threat, ...]


@dataclass(frozen=True, slots=True)
class DueThere:
    """Something due at a farm.

    ``kind`` is ``fire``, ``core``, ``result`` or ``feed``; ``day`` the day by which, ``None`` where
    none can be said; ``is_late`` whether that has passed.
    """

    kind: str
    day: date | None
    name: str
    is_late: bool


@dataclass(frozen=True, slots=True)
class YardTold:
    """What the book says of a farm on a day."""

    outlook: Outlook | None
    due: tuple[DueThere, ...]
    threats: tuple[Threat, ...]
    fault: str


def order_of_due(one: DueThere) -> tuple[bool, bool, date, str]:
    """Return what puts something due in its place: fire, then what is late, then by day.

    Parameters
    ----------
    one : DueThere
        What is due.

    Returns
    -------
    tuple
        To be compared.

    Examples
    --------
    >>> hot = DueThere("fire", date(2026, 11, 30), "Flat", is_late=False)
    >>> order_of_due(hot) < order_of_due(DueThere("core", date(2026, 1, 1), "Hill", is_late=True))
    True
    """
    return one.kind != "fire", not one.is_late, one.day or date.max, one.name
