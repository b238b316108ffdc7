"""The page of where hay stands: the yard drawn, its stacks placed and taken back."""

from __future__ import annotations

from typing import Any, Final
from urllib.parse import parse_qsl, urlencode
from uuid import UUID

from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from rickyard.book.acting import NotTaken, allow, may
from rickyard.book.noting import mark_of, place_stack, stack_back
from rickyard.book.services import read_farm, read_lines
from rickyard.farm import StackRow
from rickyard.folder.tables import STACKS
from rickyard.service import NotUnderstood, read_lots, yard_on
from rickyard.service.sections import as_shown
from rickyard.web.asked import day_asked, fact_asked, farm_asked, frame, page
from rickyard.web.placing.map import map_shown
from rickyard.web.shown import places_shown
from rickyard.web.typed import faults_told, texts_of, typed

_FIELDS: Final = ("east_m", "north_m", "turn_deg", "wide", "high", "gap_m")
_NEEDED: Final = {
    "east_m": "Write how far east of the corner its middle is.",
    "north_m": "Write how far north of the corner its middle is.",
    "turn_deg": "Write by how many degrees its rows are turned, or 0.",
    "wide": "Write how many rows stand side by side.",
    "high": "Write how many bales stand on each other.",
}


@require_safe
def yard_map(request: Any, address: str) -> HttpResponse:
    """Show where each lot stands, what it loses there, and what would cut that.

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
    return _shown(request, address, request.GET.get("stack", ""))


def _shown(
    request: Any,
    address: str,
    chosen: str,
    texts: dict[str, str] | None = None,
    faults: dict[str, str] | None = None,
    elsewhere: tuple[str, ...] = (),
) -> HttpResponse:
    there, others = farm_asked(request, address)
    farm = as_shown(read_farm(request.person, there.season)).farm
    on_day = yard_on(farm, day_asked(request, there))
    cautions = [one for lot in read_lots(farm).readings for one in lot.cautions]
    may_place = may("add stacks", request.person, there.farm)
    drawn = map_shown(farm, on_day, cautions, chosen if may_place else "", texts, faults)
    moved = request.GET.get("moved", "")
    lines = read_lines(request.person, there.season, "stacks") if moved or drawn.drawn_line else []
    by_line = {str(line): one.lot_id for line, one in lines}
    names = {one.lot_id: one.name for one in drawn.choices}
    return page(
        request,
        "yard-map.html",
        422 if faults or elsewhere else 200,
        yard=places_shown(farm, on_day),
        map=drawn,
        elsewhere=elsewhere,
        may_place=may_place,
        seen=urlencode({one.lot_id: mark_of(one) for one in farm.stacks}),
        moved=moved if moved in by_line else "",
        moved_name=names.get(by_line.get(moved, ""), ""),
        placed=next((line for line, one in by_line.items() if one == drawn.drawn_line), ""),
        **frame(there, address, others, "yard"),
    )


@require_POST
def place(request: Any, address: str) -> HttpResponse:
    """Write where a stack stands, once however often it is sent, and show the yard.

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
    there, _ = farm_asked(request, address)
    allow("add stacks", request.person, there.farm)
    farm = as_shown(read_farm(request.person, there.season)).farm
    lot_id = request.POST.get("lot", "")
    texts = texts_of(request.POST, _FIELDS)
    said = typed(STACKS, texts, farm, _NEEDED)
    if said.faults:
        return _shown(request, address, lot_id, texts, said.faults)
    row = StackRow(lot_id, **said.values)
    try:
        shown = request.POST.get("seen")
        seen = None if shown is None else dict(parse_qsl(shown)).get(lot_id, "")
        done = place_stack(request.person, there.season, row, seen=seen, fact=fact_asked(request))
    except NotTaken as problem:
        faults, elsewhere = faults_told(problem, STACKS)
        # The lot is chosen from a list: what is wrong with it is said over the form.
        elsewhere += tuple(told for name, told in faults.items() if name not in _FIELDS)
        return _shown(request, address, lot_id, texts, faults, elsewhere)
    return redirect(f"{reverse('yard-map', args=[address])}?{urlencode({'moved': done.fact})}")


@require_POST
def place_back(request: Any, address: str) -> HttpResponse:
    """Put a stack back where it was drawn before, or take it off the drawing.

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
    there, _ = farm_asked(request, address)
    allow("undo stacks", request.person, there.farm)
    try:
        line = UUID(request.POST.get("line", ""))
    except ValueError as error:
        raise NotUnderstood("Choose a stack that was placed.") from error
    stack_back(request.person, there.season, line, fact=fact_asked(request))
    return redirect("yard-map", address)
