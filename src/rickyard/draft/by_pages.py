"""The ten questions a page at a time: what was answered so far is heard again from the beginning.

The same interview that is held in a terminal runs over the answers each time, so there is no second
set of questions. A page asks one thing with all that belongs to it: a group of animals, a lot with
its test, a feed with its price.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import date
from typing import Final

from rickyard.draft.asking import Asking
from rickyard.draft.interview import ANOTHER, INTRODUCTION, Answers, interview

#: The last question; what comes after it is the end.
LAST: Final = 10
END: Final = LAST + 1
#: The question about a lab's test belongs to its lot.
_OF_A_LOT: Final = 9
#: Questions that are answered by any of several words, one after another.
_OF_MANY: Final = (7, 8, 10)
#: More answers than a farm of a hundred lots has.
MOST_LINES: Final = 1_500
_WORD: Final = re.compile(r"[^a-z0-9]+")
_NUMBER: Final = re.compile(r"(\d+)\.\s+")
#: One of a few things to choose from, as they are said before the question.
_NUMBERED: Final = re.compile(r"\s+\d+\s\s+(\S.*)")


@dataclass(slots=True)
class Question:
    """One question of a page.

    ``key`` names its field; ``options`` are the words it offers, ``otherwise`` what is assumed
    where it is not known, and ``fault`` says why the answer was not understood.
    """

    key: str
    words: str
    options: tuple[str, ...]
    answer: str = ""
    otherwise: str = ""
    fault: str = ""
    notes: tuple[str, ...] = ()

    @property
    def short(self) -> str:
        """Return the question without the words that it offers, which stand below it."""
        return f"{self.words.rpartition(': ')[0]}?" if ": " in self.words else self.words


@dataclass(slots=True)
class Page:
    """What was told on one page.

    ``number`` is that of its question, ``words`` the question, ``lines`` the answers one by one and
    ``assumed`` what stands in for those that were not known. ``first`` counts the lines before it.
    """

    number: int
    words: str
    first: int
    lines: list[str] = field(default_factory=list)
    assumed: list[str] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Heard:
    """The interview as far as it came.

    ``number`` is that of the question that is next, ``END`` where there is none. ``questions`` are
    those of its page: the first, and what belongs to it once that is answered; ``is_complete`` says
    that the page needs no more. ``told`` is what was told before, page by page, whole pages alone.
    """

    number: int
    questions: tuple[Question, ...]
    is_complete: bool
    told: tuple[Page, ...]

    @property
    def before(self) -> tuple[str, ...]:
        """Return the answers of the pages before."""
        return tuple(line for one in self.told for line in one.lines)

    @property
    def lines(self) -> tuple[str, ...]:
        """Return the answers of the page, as they are to be heard again."""
        return tuple("" if one.fault else one.answer for one in self.questions)


class _NextPage(Exception):  # noqa: N818 - ends the hearing, no fault
    """The interview asks what belongs to the next page."""


@dataclass(slots=True)
class _Hearing:
    """Answers from the lines that were told, then from the page, then ends."""

    lines: Sequence[str]
    page: Mapping[str, str]
    at: int = 0
    told: list[Page] = field(default_factory=list)
    questions: list[Question] = field(default_factory=list)
    number: int = END
    said: list[str] = field(default_factory=list)

    def ask(self, text: str) -> str:
        """Answer one question."""
        words, _, enter = text.partition(" [Enter:")
        number = _number_of(words)
        if self.at < len(self.lines):
            return self._heard(number, words)
        if number:
            self._begin(number, words, enter)
        else:
            self._follow(words)
        self.said.clear()
        return self.questions[-1].answer

    def say(self, text: str) -> None:
        """Keep what is said for the question that it is about."""
        if text == INTRODUCTION:
            return
        assumed = text.strip().removeprefix("Assumed: ")
        if assumed == text.strip():
            self.said.append(text)
        elif self.questions:
            self.questions[-1].otherwise = assumed.rstrip(".")
        elif self.told:
            self.told[-1].assumed.append(assumed.rstrip("."))

    def _heard(self, number: int, words: str) -> str:
        """Answer by the next line that was told."""
        if number:
            self.told.append(Page(number, _plain(words), self.at))
        line = self.lines[self.at]
        self.told[-1].lines.append(line)
        self.at += 1
        self.said.clear()
        return line

    def _begin(self, number: int, words: str, enter: str) -> None:
        """Begin the page, or end the hearing where it is told."""
        again = bool(self.questions) and self.questions[0].words == _plain(words)
        if again and len(self.questions) == 1 and self.questions[0].answer:
            self.questions[0].fault = self._told_now()
        if self.questions:
            raise _NextPage
        self.number = number
        asked = [one.words for one in self.told if one.number == number] or [words]
        options = _options(asked[0]) if number in _OF_MANY else ()
        one = Question("head", _plain(words), options, self.page.get("head", ""))
        one.otherwise = enter.strip(" ]")
        self.questions.append(one)
        if "head" not in self.page:
            raise _NextPage

    def _follow(self, words: str) -> None:
        """Ask what belongs to the page; a question that comes again was not understood."""
        if not self.questions:
            # The lines end within a page: it is asked anew.
            self.number = self.told.pop().number
            raise _NextPage
        last, plain = self.questions[-1], _plain(words)
        if last.words == plain and last.answer:
            last.fault, last.answer = self._told_now(), ""
            return
        key = _WORD.sub("-", plain.casefold()).strip("-")[:60]
        key = (
            f"{key}-{len(self.questions)}" if any(one.key == key for one in self.questions) else key
        )
        numbered = [_NUMBERED.fullmatch(one) for one in self.said]
        options = tuple(one[1] for one in numbered if one) or _options(words)
        notes = tuple(
            one.strip() for one, is_option in zip(self.said, numbered, strict=True) if not is_option
        )
        self.questions.append(Question(key, plain, options, self.page.get(key, ""), notes=notes))

    def _told_now(self) -> str:
        return " ".join(one.strip() for one in self.said)


def hear(lines: Sequence[str], page: Mapping[str, str], name: str, today: date) -> Heard:
    """Return what is to be asked next, or that all is told.

    Parameters
    ----------
    lines : sequence of str
        What was told on the pages before, answer by answer; blank is not known.
    page : mapping of str to str
        What is told on this page, by the key of each question; empty where it is new.
    name : str
        What the farm is called where that is not known.
    today : date
        The day that counts as today.

    Returns
    -------
    Heard
        The questions of the page.

    Examples
    --------
    >>> heard = hear([], {}, "Farm", date(2026, 11, 28))
    >>> heard.number, heard.questions[0].words
    (1, 'What is the farm called?')
    """
    hearing = _Hearing(lines[:MOST_LINES], page)
    with suppress(_NextPage):
        interview(Asking(hearing.ask, hearing.say), name, today)
    questions = hearing.questions
    complete = bool(questions) and all(one.key in page and not one.fault for one in questions)
    return Heard(hearing.number, tuple(questions), complete, tuple(hearing.told))


def hear_all(lines: Sequence[str], name: str, today: date) -> tuple[Answers, tuple[str, ...]]:
    """Return a farm from what was told so far, with something usual for all the rest.

    Parameters
    ----------
    lines : sequence of str
        What was told, answer by answer.
    name : str
        What the farm is called where that is not known.
    today : date
        The day that counts as today.

    Returns
    -------
    tuple of (Answers, tuple of str)
        The answers, and what is assumed in them.
    """
    rest = iter(lines[:MOST_LINES])
    asking = Asking(lambda _: next(rest, ""), lambda _: None)
    return interview(asking, name, today), tuple(asking.assumed)


def _number_of(words: str) -> int:
    """Return the number of the question that begins a page; 0 for one that belongs to it.

    Examples
    --------
    >>> _number_of("4. On which day?"), _number_of("   How many?"), _number_of("   Any other hay?")
    (4, 0, 8)
    """
    for another, number in zip(ANOTHER, _OF_MANY, strict=True):
        if words == another:
            return number
    numbered = _NUMBER.match(words)
    number = int(numbered[1]) if numbered else 0
    return 0 if number == _OF_A_LOT else number


def _plain(words: str) -> str:
    return _NUMBER.sub("", words.strip(), count=1)


def _options(words: str) -> tuple[str, ...]:
    """Return the words that a question offers after its colon.

    Examples
    --------
    >>> _options("Where is it stored: barn, shed, tarp?")
    ('barn', 'shed', 'tarp')
    >>> _options("Was it tested: yes or no?"), _options("How many bales?")
    (('yes', 'no'), ())
    """
    _, _, listed = words.rpartition(": ")
    if listed == words:
        return ()
    parts = [one.strip() for one in listed.rstrip("?").replace(" or ", ", ").split(",")]
    return tuple(one for one in parts if one and "one lot at a time" not in one)
