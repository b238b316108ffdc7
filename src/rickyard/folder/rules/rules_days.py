"""Spans of days of which no two may share a day."""

from __future__ import annotations

from bisect import bisect_left, bisect_right, insort
from dataclasses import dataclass, field
from datetime import date
from typing import TypeAlias

_Span: TypeAlias = tuple[date, date, int]  # first day, first day no longer, row


@dataclass
class DaysTaken:
    """The days that rows have taken so far; finding whose they are takes no walk through all."""

    _apart: list[_Span] = field(default_factory=list)  # in order of days, none overlaps another
    _others: list[_Span] = field(default_factory=list)  # each overlaps one before it: a fault

    def taken(self, start: date, end: date, row: int) -> int | None:
        """Take the days from ``start`` to before ``end``; return the first row that had one.

        Examples
        --------
        >>> days = DaysTaken()
        >>> days.taken(date(2026, 1, 1), date(2026, 2, 1), 2)
        >>> days.taken(date(2026, 2, 1), date(2026, 3, 1), 3)
        >>> days.taken(date(2026, 1, 31), date(2026, 2, 2), 4)
        2
        """
        first = bisect_right(self._apart, start, key=lambda span: span[1])
        last = bisect_left(self._apart, end, key=lambda span: span[0])
        overlapping = [span[2] for span in self._apart[first:last]]
        overlapping += [span[2] for span in self._others if start < span[1] and span[0] < end]
        if overlapping:
            self._others.append((start, end, row))
            return min(overlapping)
        insort(self._apart, (start, end, row))
        return None
