"""How one question is put: again until it is understood, or assumed where it is not known."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from typing import Any, Final, TypeVar

from rickyard.display import clean
from rickyard.draft.told import Told, is_unknown, spoken_day, spoken_price
from rickyard.folder.hints import trade_word
from rickyard.folder.tables import (
    CellError,
    Column,
    ColumnLimit,
    check_limit,
    parse_cell,
    read_number,
)

UNKNOWN: Final = "[Enter: I do not know]"
#: A list to choose from has no more lines than this.
MOST_SHOWN: Final = 9

_Word = TypeVar("_Word", bound=StrEnum)
_Thing = TypeVar("_Thing")


@dataclass(slots=True)
class Asking:
    """A way to ask a line and a way to say one, and all that had to be assumed so far."""

    ask: Callable[[str], str]
    say: Callable[[str], None]
    units: str = "us"
    american: bool = True
    assumed: list[str] = field(default_factory=list)

    def assume(self, words: str) -> None:
        """Say what is assumed, and keep it for the end."""
        self.say(f"  Assumed: {words}.")
        self.assumed.append(words)

    def text(self, question: str, otherwise: str, words: str) -> Told:
        """Ask for a text."""
        line = clean(self.ask(f"{question} {UNKNOWN}"))
        if is_unknown(line):
            self.assume(words)
            return Told(otherwise, words)
        return Told(line)

    def cell(
        self,
        question: str,
        column: Column,
        unit: str,
        otherwise: str,
        words: str,
        limit: ColumnLimit | None = None,
    ) -> Told:
        """Ask for what a column holds, until the folder would read it.

        A unit in the answer takes the place of ``unit``. ``otherwise`` is the cell where it is not
        known, which ``words`` say; ``limit`` is what this kind of row may hold, where that is less.
        """
        while True:
            line = clean(self.ask(f"{question} {UNKNOWN}"))
            if is_unknown(line):
                self.assume(words)
                return Told(otherwise, words)
            text = spoken_price(line) if column.dimension == "price" else line
            if self.fits(column, unit, text, limit):
                return Told(text)

    def fits(self, column: Column, unit: str, text: str, limit: ColumnLimit | None = None) -> bool:
        """Say whether the folder would read a cell, and if not, why."""
        try:
            value = parse_cell(column, unit, text, american=self.american)
            if limit is not None:
                number, used = read_number(column, unit, text)
                check_limit(column, limit, value, number, used, text)
        except CellError as error:
            self.misunderstood(error)
            return False
        return True

    def day(
        self, question: str, not_before: date, otherwise: date | None, words: str
    ) -> tuple[Told, date | None]:
        """Ask for a day; one without a year is the first such from a day on."""
        while True:
            line = clean(self.ask(f"{question} {UNKNOWN}"))
            if is_unknown(line):
                self.assume(words)
                return Told("" if otherwise is None else otherwise.isoformat(), words), otherwise
            try:
                found = spoken_day(line, not_before=not_before, american=self.american)
            except CellError as error:
                self.misunderstood(error)
                continue
            return Told(found.isoformat()), found

    def word(
        self, question: str, words: type[_Word], otherwise: _Word, assumed: str
    ) -> tuple[_Word, bool]:
        """Ask for a word of a list by any name the trade has for it."""
        while True:
            line = clean(self.ask(f"{question} {UNKNOWN}"))
            if is_unknown(line):
                self.assume(assumed)
                return otherwise, False
            found = self.meant(line, words)
            if found is not None:
                return found, True

    def meant(self, line: str, words: type[_Word]) -> _Word | None:
        """Return the word of a list that an answer means, asking back where it may be several."""
        column = Column("word", "word", "word", "", words=words)
        try:
            found: Any = parse_cell(column, "", line)
        except CellError as error:
            known = trade_word(words.__name__, line)
            if known is None:
                self.misunderstood(error)
                return None
            if len(known.meant) == 1:
                return words(known.meant[0])
            return self.choose(
                f'"{line}" may be one of these:',
                [(one.replace("_", " "), words(one)) for one in known.meant],
            )
        return words(found)

    def choose(self, head: str, choices: list[tuple[str, _Thing]]) -> _Thing:
        """Let one of a few be chosen by its number; the first where it is not known."""
        self.say(f"  {head}")
        shown = choices[:MOST_SHOWN]
        for number, (name, _) in enumerate(shown, start=1):
            self.say(f"    {number}  {name}")
        while True:
            line = clean(self.ask(f"  Which number? {UNKNOWN}"))
            if is_unknown(line):
                self.assume(f"{shown[0][0]} is meant, the first of {len(shown)}")
                return shown[0][1]
            if line.isascii() and line.isdigit() and 1 <= int(line) <= len(shown):
                return shown[int(line) - 1][1]
            named = [thing for name, thing in shown if name.casefold() == line.casefold()]
            if named:
                return named[0]
            self.say(f'  "{line}" is none of the numbers 1 to {len(shown)}.')

    def misunderstood(self, error: CellError) -> None:
        """Say why an answer could not be read, and what to write."""
        self.say(f"  {error.problem} {error.suggestion}".rstrip())
