"""One answer, and the words by which a person says that it is not known."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, datetime
from typing import Final

from rickyard.folder.tables import CellError, parse_date

_UNKNOWN: Final = frozenset(
    (
        "",
        "?",
        "i do not know",
        "i don't know",
        "i dont know",
        "do not know",
        "don't know",
        "dont know",
        "not known",
        "unknown",
        "not sure",
    )
)
_ENOUGH: Final = frozenset(("", "done", "no", "none", "no more", "that is all", "nothing"))
_DAY_FORMS: Final = ("%d %b", "%d %B", "%b %d", "%B %d")
_LEAP_YEAR: Final = 2000  # so that 29 February is a day in any form
_SPOKEN_PRICE: Final = re.compile(
    r"\$?\s*([\d.,]+)\s*(?:dollars)?\s*(?:an?|per|/)\s*(\w+)\.?", re.I
)


@dataclass(frozen=True, slots=True)
class Told:
    """What is written in a cell, and what was assumed where it was not known, else nothing."""

    text: str
    assumed: str = ""


def is_unknown(line: str) -> bool:
    """Say whether an answer means that it is not known.

    Examples
    --------
    >>> is_unknown(""), is_unknown(" I don't know."), is_unknown("12")
    (True, True, False)
    """
    return line.strip().rstrip(".").casefold() in _UNKNOWN


def is_enough(line: str) -> bool:
    """Say whether an answer means that there is no more to tell of.

    Examples
    --------
    >>> is_enough("done"), is_enough("cows")
    (True, False)
    """
    return line.strip().rstrip(".").casefold() in _ENOUGH


def spoken_price(line: str) -> str:
    """Return a price as a cell has it: ``$240 a ton`` is ``240 $/ton``.

    Examples
    --------
    >>> spoken_price("$240 a ton"), spoken_price("240")
    ('240 $/ton', '240')
    """
    match = _SPOKEN_PRICE.fullmatch(line.strip())
    return f"{match[1]} $/{match[2].lower()}" if match else line.strip()


def spoken_day(line: str, *, not_before: date, american: bool) -> date:
    """Return the day that is meant; without a year the first such day from a day on.

    Parameters
    ----------
    line : str
        A day: 2026-11-15, 11/15/2026 on an American farm, Nov 15, or 15 November.
    not_before : date
        The first day that a day without a year can be.
    american : bool
        Whether a month may stand first.

    Raises
    ------
    CellError
        If it is no day; the suggestion says what to write.

    Examples
    --------
    >>> spoken_day("15 March", not_before=date(2026, 11, 1), american=True)
    datetime.date(2027, 3, 15)
    """
    text = line.strip().replace(",", "").rstrip(".")
    for form in _DAY_FORMS:
        try:
            found = datetime.strptime(f"{text} {_LEAP_YEAR}", f"{form} %Y").date()
        except ValueError:
            continue
        return _next(found, not_before)
    for form in _DAY_FORMS:
        try:
            return datetime.strptime(text, f"{form} %Y").date()
        except ValueError:
            continue
    try:
        return parse_date(text, american=american)
    except CellError as error:
        suggestion = error.suggestion or "Write it as Nov 15 or 2026-11-15."
        raise CellError(error.problem, suggestion, error.expected) from None


def _next(day: date, not_before: date) -> date:
    for year in range(not_before.year, not_before.year + 9):
        if (day.month, day.day) == (2, 29) and (year % 4 or (year % 100 == 0 and year % 400)):
            continue
        found = day.replace(year=year)
        if found >= not_before:
            return found
    raise CellError(f'"{day:%d %b}" is no day of the next years.', "Write the year too.")
