"""Sheets as PDF files: the week for the barn, the season, a lot for its buyer; and the sign."""

from __future__ import annotations

from datetime import UTC, date, datetime
from typing import Any

from django.http import HttpResponse
from django.shortcuts import redirect
from django.templatetags.static import static
from django.views.decorators.http import require_safe

from rickyard.book.acting import NotThere, allow, day_at
from rickyard.book.services import read_farm, read_program
from rickyard.farm import Farm
from rickyard.service import Planned, held_by_object, lot_sheets, week_start
from rickyard.sheets.paper import lot_pdf, season_pdf, week_pdf
from rickyard.web.asked import day_asked, farm_asked


def _pdf(content: bytes, name: str) -> HttpResponse:
    answer = HttpResponse(content, content_type="application/pdf")
    answer.headers["Content-Disposition"] = f'inline; filename="{name}.pdf"'
    return answer


@require_safe
def week(request: Any, address: str) -> HttpResponse:
    """Give out the list of a week, by the program that is fed by."""
    there, _ = farm_asked(request, address)
    kept = read_program(request.person, there.season, only_adopted=True)
    if kept is None:
        raise NotThere
    today = day_at(there.time_zone, datetime.now(UTC))
    day = day_asked(request, there) if "on" in request.GET else None
    start = week_start(kept.planned.program, kept.planned.farm, day, today)
    return _pdf(_week(kept.planned, start, today), f"week-{start}")


# To print a sheet takes longer than any page: it is done once, and is asked for by each helper.
@held_by_object(32)
def _week(planned: Planned, start: date, today: date) -> bytes:
    return week_pdf(planned.program, planned.farm, start, today)


@require_safe
def sign(request: Any) -> HttpResponse:
    """Lead to the rick, for whatever shows a sheet and asks for the sign of the server."""
    return redirect(static("rick.svg"))


@require_safe
def season(request: Any, address: str) -> HttpResponse:
    """Give out the newest program of a season."""
    there, _ = farm_asked(request, address)
    allow("read costs", request.person, there.farm)
    kept = read_program(request.person, there.season)
    if kept is None:
        raise NotThere
    today = day_at(there.time_zone, datetime.now(UTC))
    return _pdf(_season(kept.planned, today), "season")


@held_by_object(16)
def _season(planned: Planned, today: date) -> bytes:
    return season_pdf(planned.program, planned.farm, today)


@require_safe
def lot(request: Any, address: str, lot_id: str) -> HttpResponse:
    """Give out what a buyer of a lot should know."""
    there, _ = farm_asked(request, address)
    allow("read costs", request.person, there.farm)
    farm = read_farm(request.person, there.season)
    if lot_id not in {one.lot_id for one in farm.lots}:
        raise NotThere
    day = day_asked(request, there)
    return _pdf(_lot(farm, lot_id, day), "lot")


@held_by_object(32)
def _lot(farm: Farm, lot_id: str, day: date) -> bytes:
    return lot_pdf(lot_sheets(farm, [lot_id], day), farm, day)
