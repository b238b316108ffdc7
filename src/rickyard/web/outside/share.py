"""The page that a link shows, and the pages on which an owner makes and ends links."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any, Final
from uuid import UUID

from django.conf import settings
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from rickyard.book.acting import NotTaken, NotThere
from rickyard.book.services import FarmThere
from rickyard.book.sharing import (
    LONGEST,
    LotThere,
    SeasonSeen,
    end_share,
    share_lot,
    share_season,
    shares_of,
    shown_by_link,
)
from rickyard.display import display_for
from rickyard.service import lot_sheets
from rickyard.web.asked import address_of_asker, asked_again, day_asked, farm_asked, frame, page
from rickyard.web.drawn import flag, flags_of
from rickyard.web.shown import care_of, lender_shown

#: A link holds for so long unless another day is chosen.
_USUAL: Final = timedelta(days=14)


def _only_shared() -> None:
    """Answer as for a page that is not there where nobody outside can reach the book."""
    if not settings.RICKYARD_SHARED:
        raise NotThere


@require_safe
def shown(request: Any, code: str) -> HttpResponse:
    """Show a lot or a season to whoever has a link to it.

    Parameters
    ----------
    request : HttpRequest
        What is asked.
    code : str
        The secret of the link.

    Returns
    -------
    HttpResponse
        The page.
    """
    _only_shared()
    there = shown_by_link(code, address_of_asker(request))
    answer = _season(request, there) if isinstance(there, SeasonSeen) else _lot(request, there)
    # A page that anybody may see who has its address is not to be found by looking for it.
    answer.headers["X-Robots-Tag"] = "noindex, nofollow"
    return answer


def _lot(request: Any, there: LotThere) -> HttpResponse:
    (sheet,) = lot_sheets(there.farm, [there.lot_id], there.day)
    last = display_for(there.farm.units).day_year_text(there.last)
    care = care_of(sheet.cautions, there.farm)
    its_flag = flag(flags_of(there.farm.lots)[there.lot_id], big=True)
    return page(request, "shared.html", sheet=sheet, care=care, last=last, flag=its_flag)


def _season(request: Any, there: SeasonSeen) -> HttpResponse:
    display = display_for(there.kept.planned.farm.units)
    return page(
        request,
        "shared-season.html",
        shown=lender_shown(there.kept.planned, there.day),
        made=display.day_year_text(there.kept.made_at.date()),
        has_changed=bool(there.kept.changed),
        last=display.day_year_text(there.last),
    )


@asked_again
@require_http_methods(["GET", "HEAD", "POST"])
def share(request: Any, address: str, lot_id: str) -> HttpResponse:
    """Show the links to a lot, and make one; the link itself is shown this once.

    Parameters
    ----------
    request : HttpRequest
        What is asked.
    address : str
        The farm's name as it stands in the address.
    lot_id : str
        The short name of the lot.

    Returns
    -------
    HttpResponse
        The page, or the way to it.
    """
    return _links(request, address, lot_id)


@asked_again
@require_http_methods(["GET", "HEAD", "POST"])
def season_share(request: Any, address: str) -> HttpResponse:
    """Show the links to a season, and make one; the link itself is shown this once.

    Parameters
    ----------
    request : HttpRequest
        What is asked.
    address : str
        The farm's name as it stands in the address.

    Returns
    -------
    HttpResponse
        The page, or the way to it.
    """
    return _links(request, address, None)


def _links(request: Any, address: str, lot_id: str | None) -> HttpResponse:
    _only_shared()
    there, others = farm_asked(request, address)
    today = day_asked(request, there)
    link = fault = ""
    last = today + _USUAL
    if request.method == "POST":
        try:
            last = date.fromisoformat(request.POST.get("last", "").strip())
            link = request.build_absolute_uri(_made(request, there, lot_id, last))
        except ValueError:
            fault = "Choose the last day on which the link holds."
        except NotTaken as problem:
            fault = str(problem)
    display = display_for(there.units)
    links = shares_of(request.person, there.season, lot_id)
    return page(
        request,
        "share.html",
        422 if fault else 200,
        link=link,
        fault=fault,
        last=last,
        first=today,
        longest=today + LONGEST,
        links=[(one.id, display.day_year_text(one.last)) for one in links],
        lot_id=lot_id,
        **frame(there, address, others, "season" if lot_id is None else "hay"),
    )


def _made(request: Any, there: FarmThere, lot_id: str | None, last: date) -> str:
    """Make a link, and return its address."""
    if lot_id is None:
        made = share_season(request.person, there.season, last)
    else:
        made = share_lot(request.person, there.season, lot_id, last)
    return str(reverse("shared", args=[made.code]))


@require_POST
def unshare(request: Any, address: str, lot_id: str) -> HttpResponse:
    """End a link to a lot.

    Parameters
    ----------
    request : HttpRequest
        What is asked.
    address : str
        The farm's name as it stands in the address.
    lot_id : str
        The short name of the lot.

    Returns
    -------
    HttpResponse
        The way back to its links.
    """
    _end(request, address)
    return redirect("share", address, lot_id)


@require_POST
def season_unshare(request: Any, address: str) -> HttpResponse:
    """End a link to a season.

    Parameters
    ----------
    request : HttpRequest
        What is asked.
    address : str
        The farm's name as it stands in the address.

    Returns
    -------
    HttpResponse
        The way back to its links.
    """
    _end(request, address)
    return redirect("season-share", address)


def _end(request: Any, address: str) -> None:
    _only_shared()
    there, _ = farm_asked(request, address)
    try:
        which = UUID(request.POST.get("link", ""))
    except ValueError as error:
        raise NotThere from error
    end_share(request.person, there.season, which)
