"""The season's page and what is posted to it: plan, stop, feed by a program."""

from __future__ import annotations

from typing import Any, Final
from uuid import UUID

from django.conf import settings
from django.http import HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_POST, require_safe

from rickyard.book.acting import NotThere, may
from rickyard.book.services import (
    USUAL,
    FarmThere,
    KeptProgram,
    adopt,
    ask_plan,
    plan_work,
    read_farm,
    read_lines,
    read_program,
    read_program_before,
    stop_plan,
)
from rickyard.book.taking import takable
from rickyard.web.asked import day_asked, farm_asked, frame, made_text, page
from rickyard.web.sections import (
    RemediesShown,
    adequacy_shown,
    beside_shown,
    blanks_of,
    reasons_shown,
    remedies_shown,
    wishes_shown,
)
from rickyard.web.shown import courses_shown, season_shown

#: A page of work that goes on is asked for again after so long. [s]
_LOOK_AGAIN: Final = 3


@require_safe
def season(request: Any, address: str) -> HttpResponse:
    """Show the newest program of a season, and how far the next one is."""
    there, others = farm_asked(request, address)
    kept = read_program(request.person, there.season)
    work = plan_work(request.person, there.season)
    farm = read_farm(request.person, there.season)
    planned = None if kept is None else kept.planned
    return page(
        request,
        "season.html",
        kept=kept,
        work=work,
        again=_LOOK_AGAIN if work is not None and work.is_under_way else 0,
        weekly=USUAL.weekly if kept is None else not kept.planned.program.rations,
        may_plan=may("plan", request.person, there.farm),
        may_share=settings.RICKYARD_SHARED and may("share season", request.person, there.farm),
        shown=None if planned is None else season_shown(planned, day_asked(request, there)),
        remedies=_remedies(request, there, kept),
        courses=() if planned is None else courses_shown(planned),
        met=() if planned is None else adequacy_shown(planned),
        reasons=() if planned is None else reasons_shown(planned),
        wishes=wishes_shown(read_lines(request.person, there.season, "wishes"), farm, planned),
        blanks=blanks_of(farm),
        **frame(there, address, others, "season"),
    )


@require_safe
def beside(request: Any, address: str) -> HttpResponse:
    """Show the newest program beside the one that is fed by, or the one before."""
    there, others = farm_asked(request, address)
    newest = read_program(request.person, there.season)
    other = None if newest is None else read_program_before(request.person, there.season)
    shown = made = None
    if newest is not None and other is not None:
        priced = may("read costs", request.person, there.farm)
        shown = beside_shown(newest.planned, other.planned, fed_by=other.is_adopted, priced=priced)
        made = [made_text(there, one) for one in (newest, other)]
    return page(
        request,
        "beside.html",
        shown=shown,
        newer=made and made[0],
        older=made and made[1],
        **frame(there, address, others, "season"),
    )


def _remedies(request: Any, there: FarmThere, kept: KeptProgram | None) -> RemediesShown | None:
    """Return what would help; who may write a feed or a group may take it."""
    if kept is None:
        return None
    writes = may("write feed", request.person, there.farm)
    can = takable(request.person, there.season, kept) if writes else ()
    return remedies_shown(kept.planned, can)


@require_POST
def plan(request: Any, address: str) -> HttpResponse:
    """Ask for a program."""
    there, _ = farm_asked(request, address)
    ask_plan(request.person, there.season, weekly=request.POST.get("weekly") == "yes")
    return redirect("season", address)


@require_POST
def stop(request: Any, address: str) -> HttpResponse:
    """End the search for a better program."""
    there, _ = farm_asked(request, address)
    stop_plan(request.person, there.season)
    return redirect("season", address)


@require_POST
def feed_by(request: Any, address: str) -> HttpResponse:
    """Feed by a program from now on."""
    there, _ = farm_asked(request, address)
    try:
        program = UUID(request.POST.get("program", ""))
    except ValueError as error:
        raise NotThere from error
    adopt(request.person, there.season, program, request.POST.getlist("read"))
    return redirect("feeding", address)
