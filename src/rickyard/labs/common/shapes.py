"""What a file is once it is read: pages of cells with places, then samples with values.

A cell knows where it stands, in words that a person can find again. A value keeps the printed
text, how sure its reading is, and why.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import Literal, TypeAlias

Status: TypeAlias = Literal["sure", "ask", "refused"]


class Refused(Exception):  # noqa: N818 - named for what the person is told
    """A file that is not read at all; the message says why, and what to do instead."""


@dataclass(slots=True)
class Cell:
    """A printed text and where it stands.

    ``x0`` and ``x1`` are its left and right edge: the column in a grid, points on a page, the
    place in the line of a text. ``number`` and ``day`` are what a workbook stored, and ``hidden``
    says that it stands in a column that a workbook hides.
    """

    text: str
    row: int
    x0: float
    x1: float
    place: str
    number: float | None = None
    day: date | None = None
    trouble: str = ""
    hidden: bool = False

    @property
    def middle(self) -> float:
        """Return the middle between the two edges."""
        return (self.x0 + self.x1) / 2.0


@dataclass(slots=True)
class Page:
    """A sheet, a page or a text: rows of cells from left to right.

    ``gridded`` says that cells stand in columns of their own, so that edges compare exactly.
    """

    name: str
    rows: list[list[Cell]]
    gridded: bool

    def cells(self) -> list[Cell]:
        """Return every cell, row after row."""
        return [cell for row in self.rows for cell in row]


@dataclass(slots=True)
class Document:
    """A file as pages; ``notes`` are for the person: hidden parts, pictures passed over.

    ``mark`` is the sign that parts the cells of a text, if one does.
    """

    kind: str
    pages: list[Page]
    notes: list[str] = field(default_factory=list)
    mark: str = ""


@dataclass(slots=True)
class Value:
    """One printed value of one sample.

    ``op`` is ``=``, ``<``, ``>``, ``nd`` or ``tntc``; ``unit`` and ``basis`` are the words of
    ``reports.csv``, the basis empty for an index. ``printed`` is the text of the laboratory and
    ``step`` one unit of its last place, in the unit of ``value``. ``score`` falls from 1 with
    every doubt, and ``reasons`` name what was relied on.
    """

    analyte: str
    value: float | None
    unit: str
    basis: str
    printed: str
    place: str
    op: str = "="
    status: Status = "sure"
    score: float = 1.0
    step: float = 0.0
    method: str = ""
    label: str = ""
    reasons: list[str] = field(default_factory=list)

    def doubt(self, reason: str, status: Status = "ask", score: float = 0.3) -> None:
        """Lower the value to ``status``, for a reason in words."""
        if self.status != "refused":
            self.status = status
        self.score = min(self.score, score)
        if reason not in self.reasons:
            self.reasons.append(reason)


@dataclass(slots=True)
class Question:
    """Something only a person or the laboratory can say.

    ``key`` names the question within a layout, so that one answer serves every file of it;
    ``choices`` are what may be answered, ``default`` the likeliest of them or empty. ``level``
    is ``open`` where nothing is written before it is answered, or ``note``.
    """

    text: str
    key: str
    analytes: tuple[str, ...] = ()
    choices: tuple[str, ...] = ()
    default: str = ""
    level: Literal["open", "note"] = "open"


@dataclass(slots=True)
class Sample:
    """One sample on a report, with what stands beside its values."""

    id: str = ""
    lab_no: str = ""
    sampled_on: date | None = None
    received_on: date | None = None
    reported_on: date | None = None
    method: str = ""
    forage_words: str = ""
    place: str = ""
    values: list[Value] = field(default_factory=list)
    asked: set[str] = field(default_factory=set)
    questions: list[Question] = field(default_factory=list)

    @property
    def name(self) -> str:
        """Return the sample in words: its name, or its number, or where it stands."""
        return self.id or self.lab_no or self.place

    def of(self, analyte: str, basis: str | None = None) -> Value | None:
        """Return the first value of an analyte, on one basis if that is given."""
        for value in self.values:
            if value.analyte == analyte and (basis is None or value.basis == basis):
                return value
        return None


@dataclass(frozen=True, slots=True)
class Correction:
    """A printed value that a person corrected: what was printed stays, beside who, when, why."""

    sample: str
    analyte: str
    printed: str
    corrected: str
    who: str
    when: str
    why: str
    place: str


@dataclass(slots=True)
class FileReading:
    """A file understood: its samples and open questions, or why it was refused."""

    file: str
    sha256: str
    refused: str = ""
    lab: str = ""
    samples: list[Sample] = field(default_factory=list)
    questions: list[Question] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    structure: tuple[str, ...] = ()
    corrections: list[Correction] = field(default_factory=list)

    def open_questions(self) -> list[Question]:
        """Return every question that must be answered first, of the file and its samples."""
        every = [*self.questions, *(one for s in self.samples for one in s.questions)]
        return [one for one in every if one.level == "open"]
