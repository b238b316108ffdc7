"""The list of a week: what a helper puts out, from the program that was adopted."""

from __future__ import annotations

from datetime import date

from rickyard.display import display_for
from rickyard.farm import Farm
from rickyard.program.result import SeasonProgram
from rickyard.service.errors import NotUnderstood
from rickyard.service.plan import Planned
from rickyard.sheets.paper import WeekList, last_day, week_list, week_start_of
from rickyard.sheets.wording import words


def list_week(planned: Planned, start: date) -> WeekList:
    """Return what to put out in the week that begins on a day, in kg as fed and bales."""
    return week_list(planned.program, planned.farm, start)


def week_start(program: SeasonProgram, farm: Farm, day: date | None, today: date) -> date:
    """Return the first day of the week asked for.

    ``farm``: gives the style of dates. ``day``: a day of the week; without it the week of today, or
    the nearest one in the season. Raises ``NotUnderstood`` if the day asked for is not in the
    season.
    """
    asked = day or max(today, program.start)
    start = week_start_of(program, asked)
    if start is None and day is None:
        start = week_start_of(program, last_day(program))
    if start is None:
        said = display_for(farm.units).day_year_text
        first, last = said(program.start), said(last_day(program))
        raise NotUnderstood(words.outside(said(asked), first, last))
    return start
