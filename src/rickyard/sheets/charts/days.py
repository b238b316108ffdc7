"""Spans of days in the little room of a table: ``Nov 30–Dec 13`` or, metric, ``30 Nov–13 Dec``."""

from __future__ import annotations

from datetime import date, timedelta

from rickyard.display import Display


def span_words(start: date, end: date, display: Display) -> str:
    """Return the days from ``start`` to the day before ``end``, in little room.

    Parameters
    ----------
    start, end : date
        The first day, and the day after the last.
    display : Display
        The style of dates.

    Returns
    -------
    str
        The days.

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
        return display.day_text(start)
    if (last.year, last.month) != (start.year, start.month):
        return f"{display.day_text(start)}–{display.day_text(last)}"
    if display.system == "us":
        return f"{display.day_text(start)}–{last.day}"
    return f"{start.day}–{display.day_text(last)}"
