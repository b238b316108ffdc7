"""Days as a reader of a sheet writes them: ``Nov 30`` on a US farm, ``30 Nov`` on a metric one."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Final

from rickyard.display import MONTHS, Display, day_text

_WEEKDAYS: Final = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


def day_words(day: date, display: Display) -> str:
    """Return a day without its year.

    Examples
    --------
    >>> [day_words(date(2026, 11, 30), Display(system)) for system in ("us", "metric")]
    ['Nov 30', '30 Nov']
    """
    return f"{MONTHS[day.month - 1]} {day.day}" if display.system == "us" else day_text(day)


def day_year_words(day: date, display: Display) -> str:
    """Return a day with its year.

    Examples
    --------
    >>> day_year_words(date(2026, 11, 2), Display("us"))
    'Nov 2, 2026'
    """
    comma = "," if display.system == "us" else ""
    return f"{day_words(day, display)}{comma} {day.year}"


def weekday_words(day: date, display: Display) -> str:
    """Return a day with its weekday.

    Examples
    --------
    >>> weekday_words(date(2026, 11, 30), Display("us"))
    'Mon, Nov 30'
    >>> weekday_words(date(2026, 11, 30), Display("metric"))
    'Mon 30 Nov'
    """
    comma = "," if display.system == "us" else ""
    return f"{_WEEKDAYS[day.weekday()]}{comma} {day_words(day, display)}"


def span_words(start: date, end: date, display: Display) -> str:
    """Return the days from ``start`` to the day before ``end``, in little room.

    Examples
    --------
    >>> us = Display("us")
    >>> span_words(date(2026, 12, 7), date(2026, 12, 14), us)
    'Dec 7–13'
    >>> span_words(date(2026, 11, 30), date(2026, 12, 14), us)
    'Nov 30–Dec 13'
    >>> span_words(date(2026, 11, 7), date(2026, 11, 21), Display("metric"))
    '7–20 Nov'
    """
    last = end - timedelta(days=1)
    if last <= start:
        return day_words(start, display)
    if (last.year, last.month) != (start.year, start.month):
        return f"{day_words(start, display)}–{day_words(last, display)}"
    if display.system == "us":
        return f"{day_words(start, display)}–{last.day}"
    return f"{start.day}–{day_words(last, display)}"
