"""The weeks of a season: on which days each begins, and which week a day is in."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Final

from rickyard.program.result import ChangeOver, SeasonProgram

DAYS: Final = 7


def week_starts(program: SeasonProgram) -> tuple[date, ...]:
    """Return the first day of every week of the season."""
    count = (program.end - program.start).days
    return tuple(program.start + timedelta(days=day) for day in range(0, count, DAYS))


def week_start_of(program: SeasonProgram, day: date) -> date | None:
    """Return the first day of the week that a day is in; ``None`` outside the season.

    Parameters
    ----------
    program : SeasonProgram
        The program; its weeks begin on the weekday of its start.
    day : date
        The day.

    Returns
    -------
    date or None
        The first day of that week.
    """
    if not program.start <= day < program.end:
        return None
    return day - timedelta(days=(day - program.start).days % DAYS)


def last_day(program: SeasonProgram) -> date:
    """Return the last day of the season on which anything is fed.

    Parameters
    ----------
    program : SeasonProgram
        A program.

    Returns
    -------
    date
        The last day that is fed.
    """
    return program.end - timedelta(days=1)


def shares_by_day(change: ChangeOver) -> dict[date, float]:
    """Return the share of a new hay or feed on each day over which it is changed to [-]."""
    return {
        change.start + timedelta(days=number): share for number, share in enumerate(change.shares)
    }
