"""Dates as laboratories print them; one that can be read two ways is left open."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from functools import lru_cache
from typing import Final

from rickyard.labs.vocabulary.texts import plain

_MONTHS: Final = {
    name: place
    for place, names in enumerate(
        (
            "jan january januar janvier enero", "feb february februar février fevrier febrero",
            "mar march märz maerz mars marzo", "apr april avril abril", "may mai mayo",
            "jun june juni juin junio", "jul july juli juillet julio",
            "aug august août aout agosto", "sep sept september septembre septiembre",
            "oct october okt oktober octobre octubre", "nov november novembre noviembre",
            "dec december dez dezember décembre decembre diciembre",
        ),
        1,
    )
    for name in names.split()
}  # fmt: skip
_MONTH: Final = "(" + "|".join(sorted(_MONTHS, key=len, reverse=True)) + r")\.?"
_ISO: Final = re.compile(r"\b((?:19|20)\d\d)[-/.](\d{1,2})[-/.](\d{1,2})(?!\d)")
_COMPACT: Final = re.compile(r"\b(20\d\d)(0[1-9]|1[0-2])([0-2]\d|3[01])\b")
_MONTH_FIRST: Final = re.compile(
    rf"\b{_MONTH}\s*(\d{{1,2}})(?:st|nd|rd|th)?(?:,\s*|\s+)'?(\d{{4}}|\d\d)\b"
)
_DAY_FIRST: Final = re.compile(
    rf"\b(\d{{1,2}})(?:st|nd|rd|th)?[\s.-]*(?:of\s|de\s)?{_MONTH}[\s.,-]*(?:de\s)?'?(\d{{4}}|\d\d)\b"
)
_YEAR_FIRST: Final = re.compile(
    rf"\b((?:19|20)\d\d)[\s,-]+{_MONTH}[\s-]*(\d{{1,2}})(?:st|nd|rd|th)?(?!\d)"
)
_FIGURES: Final = re.compile(r"(?<![\d/.-])(\d{1,2})([/.-])(\d{1,2})\2(\d{4}|\d\d)(?!\d)")
#: Two signs between figures, without which nothing is a day in figures.
_SIGNS: Final = re.compile(r"[/.-].+[/.-]", re.DOTALL)
#: Day 0 of the serial dates of spreadsheets, and the years in which they are believed.
_SERIAL_ZERO: Final = date(1899, 12, 30)
_SERIAL_FROM: Final = 36526.0  # 2000-01-01
_SERIAL_TO: Final = 62093.0  # 2069-12-31
_FIRST_YEAR: Final = 1990
_LAST_YEAR: Final = 2079


class DayOrder(StrEnum):
    """Whether the month or the day comes first in a file."""

    MONTH = "month"
    DAY = "day"
    OPEN = "open"


@dataclass(frozen=True, slots=True)
class PrintedDay:
    """A date read: the day, or the two days that it may be."""

    day: date | None
    either: tuple[date, ...] = ()
    numeric: bool = False


def _day(year: int, month: int, day: int) -> date | None:
    year = year + 2000 if year < 80 else year + 1900 if year < 100 else year
    if not _FIRST_YEAR <= year <= _LAST_YEAR:
        return None
    try:
        return date(year, month, day)
    except ValueError:
        return None


@lru_cache(maxsize=16384)
def printed_day(text: str, order: DayOrder = DayOrder.OPEN) -> PrintedDay | None:
    """Read the first date in a text, or ``None`` if there is none.

    Examples
    --------
    >>> printed_day("Aug 28, 2025").day, printed_day("14.06.2025").day
    (datetime.date(2025, 8, 28), datetime.date(2025, 6, 14))
    >>> printed_day("9/4/2025").either
    (datetime.date(2025, 9, 4), datetime.date(2025, 4, 9))
    """
    shown = plain(text)
    for pattern, order_of in ((_ISO, (1, 2, 3)), (_COMPACT, (1, 2, 3))):
        found = pattern.search(shown)
        if found:
            day = _day(*(int(found[place]) for place in order_of))
            return PrintedDay(day) if day else None
    found = _MONTH_FIRST.search(shown)
    if found:
        return _whole(_day(int(found[3]), _MONTHS[found[1]], int(found[2])))
    found = _DAY_FIRST.search(shown)
    if found:
        return _whole(_day(int(found[3]), _MONTHS[found[2]], int(found[1])))
    found = _YEAR_FIRST.search(shown)
    if found:
        return _whole(_day(int(found[1]), _MONTHS[found[2]], int(found[3])))
    found = _FIGURES.search(shown)
    return _of_figures(found, order) if found else None


def _whole(day: date | None) -> PrintedDay | None:
    return PrintedDay(day) if day else None


def _of_figures(found: re.Match[str], order: DayOrder) -> PrintedDay | None:
    first, second, year = int(found[1]), int(found[3]), int(found[4])
    month_first, day_first = _day(year, first, second), _day(year, second, first)
    if found[2] == "." and order is not DayOrder.MONTH:
        # Points between the figures put the day first wherever they are used by themselves.
        return PrintedDay(day_first, numeric=True) if day_first else _whole(month_first)
    if month_first and day_first and month_first != day_first:
        if order is DayOrder.OPEN:
            return PrintedDay(None, (month_first, day_first), numeric=True)
        return PrintedDay(month_first if order is DayOrder.MONTH else day_first, numeric=True)
    day = month_first or day_first
    return PrintedDay(day, numeric=True) if day else None


def day_order(texts: Iterable[str]) -> DayOrder:
    """Return which comes first in a file, from the dates that can be read one way only.

    Parameters
    ----------
    texts : iterable of str
        Dates as printed.

    Returns
    -------
    DayOrder
        Month first, day first, or open where no date or both kinds tell.

    Examples
    --------
    >>> day_order(["9/4/2025", "9/13/2025"]), day_order(["9/4/2025"])
    (<DayOrder.MONTH: 'month'>, <DayOrder.OPEN: 'open'>)
    """
    month = day = False
    for text in set(texts):
        if not _SIGNS.search(text):
            continue
        for found in _FIGURES.finditer(plain(text)):
            first, second = int(found[1]), int(found[3])
            month |= first <= 12 < second <= 31
            day |= second <= 12 < first <= 31
    if month == day:
        return DayOrder.OPEN
    return DayOrder.MONTH if month else DayOrder.DAY


def serial_day(number: float) -> date | None:
    """Return the day that a spreadsheet stored as a number, or ``None``.

    Parameters
    ----------
    number : float
        Days since the spreadsheet's zero; fractions are hours. [d]

    Returns
    -------
    date or None
        The day, ``None`` outside the years of reports.

    Examples
    --------
    >>> serial_day(45901.0)
    datetime.date(2025, 9, 1)
    """
    if _SERIAL_FROM <= number <= _SERIAL_TO:
        return _SERIAL_ZERO + timedelta(days=int(number))
    return None
