"""What is found before it is settled: values with the hints that stand around them."""

from __future__ import annotations

from dataclasses import dataclass, field

from rickyard.labs.common import Cell
from rickyard.labs.vocabulary import Label, Printed


@dataclass(slots=True)
class Hint:
    """A unit or a basis that stands near a value, and where: the nearest counts first."""

    word: str
    where: str


@dataclass(slots=True)
class Found:
    """A printed value with its label and everything near it that may tell unit and basis."""

    label: Label
    label_text: str
    cell: Cell
    printed: Printed
    units: list[Hint] = field(default_factory=list)
    bases: list[Hint] = field(default_factory=list)
    method: str = ""
    marks: str = ""
    doubt: str = ""


@dataclass(slots=True)
class DraftSample:
    """A sample as found: fields by name, each with its printed text, and the values.

    ``unread`` are labels that were not understood, each with its number, and ``doubts`` what
    contradicts the way in which the sample was read.
    """

    fields: dict[str, Cell] = field(default_factory=dict)
    found: list[Found] = field(default_factory=list)
    place: str = ""
    page: int = 0
    table: int = 0
    unread: list[tuple[str, str]] = field(default_factory=list)
    doubts: list[str] = field(default_factory=list)


@dataclass(slots=True)
class Draft:
    """Everything found in one way of reading a file.

    ``titles`` are the lines right over tables, with whether they gave columns their basis.
    """

    samples: list[DraftSample] = field(default_factory=list)
    texts: list[Cell] = field(default_factory=list)
    unread: list[str] = field(default_factory=list)
    passed: list[str] = field(default_factory=list)
    lab: str = ""
    structure: list[str] = field(default_factory=list)
    titles: list[tuple[Cell, bool]] = field(default_factory=list)
