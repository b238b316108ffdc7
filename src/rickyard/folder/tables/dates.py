"""Days and months as a farm folder writes them, and the ways they go wrong."""

from __future__ import annotations

import re
from datetime import date, datetime, timedelta
from typing import Final

from rickyard.folder.tables.faults import CellError

FIRST_YEAR: Final = 1990
LAST_YEAR: Final = 2100
ISO_EXPECTED: Final = "a date, year first: 2026-01-31"

_ISO: Final = re.compile(r"(\d{4})-(\d{2})-(\d{2})")
_MONTH: Final = re.compile(r"(\d{4})-(\d{2})")
_LOOSE_ISO: Final = re.compile(r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[T ].*)?")
_YEAR_LAST: Final = re.compile(r"(\d{1,2})[-/.](\d{1,2})[-/.](\d{4}|\d{2})")
_SERIAL: Final = re.compile(r"\d{5}(?:\.\d+)?")
_SPREADSHEET_EPOCH: Final = date(1899, 12, 30)
_AMERICAN: Final = re.compile(r"(\d{1,2})[-/](\d{1,2})[-/](\d{4})")
_WITH_MONTH_NAMES: Final = (
    "%d %b %Y",
    "%d %B %Y",
    "%b %d %Y",
    "%B %d %Y",
    "%b %d, %Y",
    "%B %d, %Y",
    "%d-%b-%Y",
    "%d-%b-%y",
)
_CENTURY: Final = 2000


def parse_date(text: str, *, american: bool = False) -> date:
    """Read a day written year first.

    Raises ``CellError`` if the text is anything else; the suggestion holds the day that was
    probably meant.

    Parameters
    ----------
    text : str
        The cell, without spaces around it.
    american : bool
        Whether a month may stand first, as in 11/30/2026, where no other day could be meant.

    Returns
    -------
    date
        The day.

    Examples
    --------
    >>> parse_date("2026-01-31")
    datetime.date(2026, 1, 31)
    >>> parse_date("11/30/2026", american=True)
    datetime.date(2026, 11, 30)
    """
    if american:
        text = _year_first(text)
    match = _ISO.fullmatch(text)
    if match is None:
        raise _not_iso(text)
    day = _day(*match.groups())
    if day is None:
        raise CellError(
            f'"{text}" is not a day of the calendar.',
            "Check the month and the day.",
            ISO_EXPECTED,
        )
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        raise CellError(
            f'"{text}" is outside the years {FIRST_YEAR} to {LAST_YEAR}.',
            "Check the year.",
            ISO_EXPECTED,
        )
    return day


def parse_day_or_month(text: str, *, american: bool = False) -> tuple[date, bool]:
    """Read a day, or a month as its first day.

    ``monthly``: whether a month was written. Raises ``CellError`` if the text is neither.

    >>> parse_day_or_month("2026-01")
    (datetime.date(2026, 1, 1), True)
    """
    if _MONTH.fullmatch(text):
        try:
            return parse_date(f"{text}-01"), True
        except CellError:
            raise CellError(
                f'"{text}" is not a month of the calendar.',
                "Write a month as 2026-01 and a day as 2026-01-15.",
                "a day or a month",
            ) from None
    return parse_date(text, american=american), False


def _year_first(text: str) -> str:
    """Return an American date year first, or the text where its day is in doubt."""
    match = _AMERICAN.fullmatch(text)
    if match is None:
        return text
    month, day, year = match.groups()
    beyond_doubt = int(day) > 12 or int(day) == int(month)
    return f"{year}-{int(month):02d}-{int(day):02d}" if beyond_doubt else text


def _day(year: str, month: str, day: str) -> date | None:
    try:
        return date(int(year), int(month), int(day))
    except ValueError:
        return None


def _not_iso(text: str) -> CellError:
    for explain in (_serial_number, _year_last, _loose_iso, _month_by_name):
        error = explain(text)
        if error is not None:
            return error
    return CellError(
        f'"{text}" is not a date.',
        "Write the year first, as in 2026-01-31.",
        ISO_EXPECTED,
    )


def _serial_number(text: str) -> CellError | None:
    if _SERIAL.fullmatch(text) is None:
        return None
    day = _SPREADSHEET_EPOCH + timedelta(days=int(float(text)))
    return CellError(
        f'"{text}" is a spreadsheet\'s own count of days, not a date.',
        f"Did you mean {day.isoformat()}? Format the column as year-month-day and save again.",
        ISO_EXPECTED,
    )


def _year_last(text: str) -> CellError | None:
    match = _YEAR_LAST.fullmatch(text)
    if match is None:
        return None
    first, second, year = match.groups()
    problem = f'"{text}" does not have the year first.'
    if len(year) == 2:
        year = str(_CENTURY + int(year))
        problem = f'"{text}" has a year of two figures.'
    month_first, day_first = _day(year, first, second), _day(year, second, first)
    readings = [day for day in (month_first, day_first) if day is not None]
    if not readings:
        return CellError(problem, "Write it as in 2026-01-31.", ISO_EXPECTED)
    if len(readings) == 1 or month_first == day_first:
        return CellError(problem, f"Did you mean {readings[0].isoformat()}?", ISO_EXPECTED)
    return CellError(
        problem,
        f"Write {readings[0].isoformat()} if the month stands first, "
        f"{readings[1].isoformat()} if the day does.",
        ISO_EXPECTED,
    )


def _loose_iso(text: str) -> CellError | None:
    match = _LOOSE_ISO.fullmatch(text)
    day = _day(*match.groups()) if match else None
    if day is None:
        return None
    return CellError(
        f'"{text}" is not written as year-month-day.',
        f"Did you mean {day.isoformat()}?",
        ISO_EXPECTED,
    )


def _month_by_name(text: str) -> CellError | None:
    for pattern in _WITH_MONTH_NAMES:
        try:
            day = datetime.strptime(text, pattern).date()
        except ValueError:
            continue
        return CellError(
            f'"{text}" has the month by name.', f"Did you mean {day.isoformat()}?", ISO_EXPECTED
        )
    return None
