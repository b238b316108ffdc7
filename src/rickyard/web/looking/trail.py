"""The trail of a farm for those whom it concerns, and farms of theirs that were deleted."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponse
from django.views.decorators.http import require_safe

from rickyard.book.keeping import read_gone
from rickyard.book.trails import gone_text, line_text, read_trail_page
from rickyard.display import count_text, display_for
from rickyard.service import NotUnderstood
from rickyard.web.asked import farm_asked, frame, page, whole_asked


@require_safe
def trail(request: Any, address: str) -> HttpResponse:
    """Show what was done on a farm, the newest first.

    Parameters
    ----------
    request : HttpRequest
        May say before which line older ones are read.
    address : str
        The name of the farm as written in the address.

    Returns
    -------
    HttpResponse
        The page.
    """
    there, others = farm_asked(request, address)
    said = request.GET.get("before", "")
    before = whole_asked(said)
    if said and before is None:
        raise NotUnderstood("Open the trail again: the address names no line of it.")
    found = read_trail_page(request.person, there.farm, before=before)
    display = display_for(there.units)
    return page(
        request,
        "trail.html",
        lines=[line_text(one, there.time_zone, display) for one in found.entries],
        before=found.before,
        is_newest=not said,
        **frame(there, address, others, "look-back"),
    )


@require_safe
def deleted(request: Any) -> HttpResponse:
    """Show which farms were deleted, as far as it concerns who asks.

    Parameters
    ----------
    request : HttpRequest
        Says who asks.

    Returns
    -------
    HttpResponse
        The page.
    """
    gone = read_gone(request.person)
    answer = f"{count_text(len(gone), 'farm')} deleted." if gone else "No farm was deleted."
    display = display_for("us")
    return page(
        request,
        "deleted.html",
        answer=answer,
        lines=[gone_text(one, display) for one in gone[::-1]],
    )
