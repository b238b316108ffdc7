"""What to put out on a day and in a week by the program that is fed by, and what was fed."""

from __future__ import annotations

from datetime import UTC, date, datetime
from typing import Any, Final
from uuid import UUID

from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from rickyard.book.acting import NotThere, day_at
from rickyard.book.noting import fed_on, note_fed, undo_fed
from rickyard.book.services import KeptProgram, read_farm, read_program
from rickyard.farm import Farm, FedRow
from rickyard.folder.tables import FED
from rickyard.service import NotUnderstood, Planned, held_by_object, week_start
from rickyard.sheets.paper import WeekList, week_list
from rickyard.web.asked import day_asked, fact_asked, farm_asked, frame, page
from rickyard.web.sections import (
    day_in,
    day_shown,
    flags_of_lines,
    rows_listed,
    week_answer,
)
from rickyard.web.shown import care_of
from rickyard.web.typed import typed

#: What a field of another amount is called: what it counts, and what that is of.
_COUNTS: Final = ("bales", "mass_kg")


class DayInAddress:
    """A day in an address, as 2026-11-30."""

    regex = r"\d{4}-\d{2}-\d{2}"

    def to_python(self, text: str) -> date:
        """Return the day; what is no day of the calendar is no address."""
        return date.fromisoformat(text)

    def to_url(self, day: date) -> str:
        """Return how it is written."""
        return day.isoformat()


@require_safe
def feeding(request: Any, address: str, day: date | None = None) -> HttpResponse:
    """Show what to put out on a day, today where none is named, and what was noted of it.

    Parameters
    ----------
    request : HttpRequest
        The request, with the person who sent it.
    address : str
        The name of the farm as written in the address.
    day : date, optional
        The day on the farm; today, or the nearest of the season, where none is named.

    Returns
    -------
    HttpResponse
        The page.
    """
    there, others = farm_asked(request, address)
    kept = read_program(request.person, there.season, only_adopted=True)
    shown = None
    if kept is not None:
        program, farm = kept.planned.program, kept.planned.farm
        today = day_at(there.time_zone, datetime.now(UTC))
        asked = day or day_in(program, day_asked(request, there))
        week_start(program, farm, asked, today)
        fed = fed_on(request.person, there.season, asked)
        shown = day_shown(program, farm, asked, today, fed, there.time_zone)
    return page(
        request,
        "feeding.html",
        kept=kept,
        shown=shown,
        **frame(there, address, others, "feeding"),
    )


@require_safe
def week(request: Any, address: str, day: date) -> HttpResponse:
    """Show the list of a week as it is printed.

    Parameters
    ----------
    request : HttpRequest
        The request, with the person who sent it.
    address : str
        The name of the farm as written in the address.
    day : date
        The day on the farm, any of that week.

    Returns
    -------
    HttpResponse
        The page.
    """
    there, others = farm_asked(request, address)
    kept = _kept(request, there.season)
    program, farm = kept.planned.program, kept.planned.farm
    start = week_start(program, farm, day, day_at(there.time_zone, datetime.now(UTC)))
    listed = _listed(kept.planned, start)
    return page(
        request,
        "week.html",
        kept=kept,
        week=listed,
        start=start,
        answer=week_answer(program, farm, listed),
        care=care_of(listed.cautions, farm),
        groups=[
            (one, care_of(one.cautions, farm), flags_of_lines(farm, one)) for one in listed.groups
        ],
        **frame(there, address, others, "feeding"),
    )


@held_by_object(64)
def _listed(planned: Planned, start: date) -> WeekList:
    """Return the list of a week, worked out once for whoever looks at it."""
    return week_list(planned.program, planned.farm, start)


@require_POST
def fed(request: Any, address: str, day: date) -> HttpResponse:
    """Note that a group was fed by the day's list, or other amounts of it or of something else.

    Parameters
    ----------
    request : HttpRequest
        The request, with the person who sent it.
    address : str
        The name of the farm as written in the address.
    day : date
        The day on the farm.

    Returns
    -------
    HttpResponse
        The way back to the page of the day.
    """
    there, _ = farm_asked(request, address)
    kept = _kept(request, there.season)
    group = request.POST.get("group", "")
    if request.POST.get("as") == "listed":
        rows = rows_listed(kept.planned.program, kept.planned.farm, day, group)
    else:
        rows = _other_rows(request.POST, read_farm(request.person, there.season), day, group)
    note_fed(
        request.person,
        there.season,
        rows,
        day_at(there.time_zone, datetime.now(UTC)),
        fact=fact_asked(request),
        seen=_lines(request.POST.getlist("seen")),
    )
    return _back(address, day, request)


@require_POST
def not_fed(request: Any, address: str, day: date) -> HttpResponse:
    """Undo what was noted of a group on a day; the lines stay in the book, and count no more.

    Parameters
    ----------
    request : HttpRequest
        The request, with the person who sent it.
    address : str
        The name of the farm as written in the address.
    day : date
        The day on the farm.

    Returns
    -------
    HttpResponse
        The way back to the page of the day.
    """
    there, _ = farm_asked(request, address)
    lines = _lines(request.POST.getlist("line"))
    undo_fed(request.person, there.season, lines, fact=fact_asked(request))
    return _back(address, day, request)


def _back(address: str, day: date, request: Any) -> HttpResponse:
    """Go back to the group on the page of the day."""
    anchor = request.POST.get("anchor", "")
    at = f"#{anchor}" if anchor.isalnum() else ""
    return redirect(reverse("feeding-day", args=[address, day]) + at)


def _kept(request: Any, season: UUID) -> KeptProgram:
    kept = read_program(request.person, season, only_adopted=True)
    if kept is None:
        raise NotThere
    return kept


def _lines(texts: list[str]) -> list[UUID]:
    try:
        return [UUID(one) for one in texts]
    except ValueError as error:
        raise NotThere from error


def _other_rows(said: Any, farm: Farm, day: date, group: str) -> list[FedRow]:
    """Return what was typed as fed; a field that is blank or 0 was not fed."""
    unit = said.get("more_unit", "")
    asked = [(name, said.get(name, "").strip()) for name in said if ":" in name]
    more = f"{'bales' if unit == 'bales' else 'mass_kg'}:{said.get('more_of', '')}"
    amount = said.get("more", "").strip()
    asked.append((more, amount))
    rows = []
    for name, text in asked:
        counts, _, source = name.partition(":")
        if counts not in _COUNTS or not text:
            continue
        cell = typed(FED, {counts: text}, farm, {})
        if cell.faults:
            raise NotUnderstood(" ".join(cell.faults.values()))
        value = cell.values[counts]
        if value:
            rows.append(FedRow(day, source, group, **{counts: value}))
    return rows
