"""A season looked back at, and what its log says of appetite taken or given back."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any
from urllib.parse import urlencode

from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from rickyard.book.acting import may
from rickyard.book.looking import (
    LookBack,
    give_back_intake,
    take_intake,
    taken_intake,
    told_of_look,
)
from rickyard.book.looking import look_back as look_back_on
from rickyard.book.services import FarmThere, read_program
from rickyard.service import NotUnderstood
from rickyard.web.asked import day_asked, fact_asked, farm_asked, frame, page
from rickyard.web.looking.learned import fed_drawn, learned_shown, true_minus
from rickyard.web.shown import care_of


@require_safe
def look_back(request: Any, address: str) -> HttpResponse:
    """Show what was fed against the program up to a day, and what became of the hay.

    Parameters
    ----------
    request : HttpRequest
        May name the day.
    address : str
        The name of the farm as written in the address.

    Returns
    -------
    HttpResponse
        The page.
    """
    there, others = farm_asked(request, address)
    day = day_asked(request, there)
    found = look_back_on(request.person, there.season, day)
    told = told_of_look(found)
    hay = (replace(one, other=true_minus(one.other), odd=true_minus(one.odd)) for one in told.hay)
    told = replace(told, hay=tuple(hay))
    return page(
        request,
        "look-back.html",
        told=told,
        fed=fed_drawn(told),
        learned=learned_shown(found),
        kept=read_program(request.person, there.season, only_adopted=True),
        care=care_of(found.cautions, found.farm),
        day=day,
        **_offered(request, there, found),
        **frame(there, address, others, "look-back"),
    )


def _offered(request: Any, there: FarmThere, found: LookBack) -> dict[str, Any]:
    """Return what of appetite can be taken and given back by who asks."""
    pct = None if found.appetite is None else found.appetite.offered_pct
    if pct == found.farm.season.intake_pct or not may("take intake", request.person, there.farm):
        pct = None
    before = taken_intake(request.person, there.season)
    if not may("give back intake", request.person, there.farm):
        before = None
    return {
        "take_pct": "" if pct is None else f"{pct:g}",
        "before_pct": "" if before is None else f"{before:g}",
    }


@require_POST
def intake(request: Any, address: str) -> HttpResponse:
    """Take what the log says of appetite into the season, or give it back.

    Parameters
    ----------
    request : HttpRequest
        Says which of both, the day that was looked at and what was shown.
    address : str
        The name of the farm as written in the address.

    Returns
    -------
    HttpResponse
        Back to the page.
    """
    there, _ = farm_asked(request, address)
    said = request.POST.get("day", "")
    try:
        day = date.fromisoformat(said)
        pct = float(request.POST.get("pct", "0"))
    except ValueError as error:
        raise NotUnderstood("Open the page again, and choose what it offers.") from error
    if request.POST.get("act") == "give back":
        give_back_intake(request.person, there.season, fact=fact_asked(request))
    else:
        take_intake(request.person, there.season, day, pct, fact=fact_asked(request))
    return redirect(f"{reverse('look-back', args=[address])}?{urlencode({'on': day})}#h-ate")
