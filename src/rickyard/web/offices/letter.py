"""The page of a letter to a farm, made of its own book; nothing is sent from here."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponse
from django.views.decorators.http import require_safe

from rickyard.book.coring import samples_sent
from rickyard.book.services import read_farm, read_program
from rickyard.service import yard_on
from rickyard.service.sections import as_shown, farm_tests
from rickyard.web.asked import day_asked, farm_asked, page
from rickyard.web.shown import letter_shown


@require_safe
def letter(request: Any, address: str) -> HttpResponse:
    """Show what to say to a farm, to be printed or taken into a letter of one's own.

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
    there, _ = farm_asked(request, address)
    day = day_asked(request, there)
    farm = as_shown(read_farm(request.person, there.season)).farm
    kept = read_program(request.person, there.season)
    planned = None if kept is None else kept.planned
    tests = farm_tests(farm, day, samples_sent(request.person, there.season))
    shown = letter_shown(farm, yard_on(farm, day), planned, tests)
    return page(
        request,
        "letter.html",
        shown=shown,
        kept=kept,
        to=address,
        farm=there,
        district=True,
        here="letter",
    )
