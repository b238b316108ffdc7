"""A first farm by asking: one question a page, the yard growing beside it, assumptions marked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final
from urllib.parse import urlencode

from rickyard.display import clean, display_for
from rickyard.draft import END, Heard, Page, Question
from rickyard.service.sections import FarmTold
from rickyard.web.drawn import Part, ear_tag, key_mark, mark, per_mark, wall, whole_marks
from rickyard.web.shown import (
    Key,
    rough_answer,
    wall_label,
    wall_parts,
)

#: From this question on there are animals, and hay.
_ANIMALS, _HAY = 8, 10
_ROWS: Final = 6
_MOST_MARKS: Final = 120

#: So many bales beside each other in a yard that is empty, where there is room and on a phone.
_GHOSTS: Final = (44, 16)
_GHOSTS_HIGH: Final = 4


@dataclass(frozen=True, slots=True)
class Before:
    """What was said on a page before; ``again`` leads to it with the rest kept."""

    words: str
    told: str
    assumed: tuple[str, ...]
    again: str


@dataclass(frozen=True, slots=True)
class AskShown:
    """All that stands on a page of asking.

    ``lines`` and ``after`` are the answers before and behind this page, as the next one needs them.
    """

    number: int
    is_end: bool
    answer: str
    verdict: str
    head: Question | None
    follow: tuple[Question, ...]
    unknown: str
    back: str
    lines: tuple[str, ...]
    after: tuple[str, ...]
    tags: tuple[str, ...]
    wall: str
    key: tuple[Key, ...]
    before: tuple[Before, ...]
    assumed: tuple[str, ...]
    surer: tuple[str, ...]


def ask_shown(heard: Heard, told: FarmTold, lines: Sequence[str], after: Sequence[str]) -> AskShown:
    """Return what stands on a page of asking.

    Parameters
    ----------
    heard : Heard
        The interview as far as it came.
    told : FarmTold
        The farm from it, with something usual for the rest.
    lines : sequence of str
        The answers before this page.
    after : sequence of str
        The answers that were given behind it, where an earlier one is changed.

    Returns
    -------
    AskShown
        Words and drawings.
    """
    display = display_for(told.farm.units)
    parts = wall_parts(told.yard, display) if heard.number >= _HAY else []
    per = per_mark(sum(tons for _, _, tons in parts), _MOST_MARKS)
    counts = whole_marks([display.tons(tons) for _, _, tons in parts], per)
    marks = [Part(kind, count) for (kind, _, _), count in zip(parts, counts, strict=True)]
    answer, verdict = rough_answer(told.yard.outlook, display)
    is_end = heard.number == END
    head = heard.questions[0] if heard.questions else None
    groups = told.farm.groups if heard.number >= _ANIMALS else ()
    return AskShown(
        heard.number,
        is_end,
        answer if is_end else "" if head is None else head.words,
        mark(verdict) if is_end and verdict else "",
        head,
        heard.questions[1:],
        _unknown(head, heard),
        _back(heard.told, lines),
        tuple(lines),
        tuple(after),
        tuple(ear_tag(one.head, clean(one.name)) for one in groups),
        wall(marks, _ROWS, wall_label(parts, display), "asked") if sum(counts) else "",
        tuple(Key(key_mark(kind), display.tons_text(t), words) for kind, words, t in parts),
        tuple(_before(one, lines, after) for one in heard.told if _is_said(one)),
        told.assumed,
        told.surer,
    )


def _unknown(head: Question | None, heard: Heard) -> str:
    """Return what the button says by which a question is passed over."""
    if head is None or len(heard.questions) > 1:
        return ""
    if head.otherwise == "no more":
        return "No more"
    return "I do not know" + (": assume what is usual" if not head.options else "")


def _is_said(one: Page) -> bool:
    return any(one.lines) or bool(one.assumed)


def _before(one: Page, lines: Sequence[str], after: Sequence[str]) -> Before:
    told = ", ".join(line for line in one.lines if line)
    end = one.first + len(one.lines)
    return Before(
        one.words,
        clean(told),
        tuple(one.assumed),
        address(one.number, lines[: one.first], (*lines[end:], *after)),
    )


def _back(told: Sequence[Page], lines: Sequence[str]) -> str:
    if not told:
        return ""
    last = told[-1]
    return address(last.number, lines[: last.first], ())


def address(number: int, lines: Sequence[str], after: Sequence[str]) -> str:
    """Return the address of a page of asking.

    Parameters
    ----------
    number : int
        The number of its question.
    lines : sequence of str
        The answers before it.
    after : sequence of str
        The answers behind it.

    Returns
    -------
    str
        Address with the answers in it, for nothing is written before the last.

    Examples
    --------
    >>> address(2, ["Hill farm"], [])
    '/start/ask/2?a=Hill+farm'
    """
    said = urlencode([*(("a", one) for one in lines), *(("b", one) for one in after)])
    return f"/start/ask/{number}?{said}" if said else f"/start/ask/{number}"


def start_wall() -> tuple[str, str]:
    """Return a wall of which one bale stands and the rest is still to be put up.

    Returns
    -------
    tuple of (str, str)
        SVG, where there is room and on a phone.
    """
    wide, narrow = (_ghosts(columns) for columns in _GHOSTS)
    return wide, narrow


def _ghosts(columns: int) -> str:
    under, rest = _GHOSTS_HIGH - 1, (columns - 1) * _GHOSTS_HIGH
    parts = [Part("ghost", under), Part("rolled", 1), Part("ghost", rest)]
    label = "A yard with nothing in it but one bale"
    return wall(parts, _GHOSTS_HIGH, label, f"ghost{columns}")
