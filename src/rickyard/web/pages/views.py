"""The pages of a farm's yard and of a lot."""

from __future__ import annotations

from typing import Any

from django.conf import settings
from django.http import HttpResponse
from django.views.decorators.http import require_safe

from rickyard.book.acting import NotThere, may
from rickyard.book.coring import samples_sent
from rickyard.book.services import read_farm, read_program
from rickyard.service import read_lots, yard_on
from rickyard.service.sections import as_shown, farm_tests, lot_fits
from rickyard.web.asked import day_asked, farm_asked, frame, page
from rickyard.web.sections import today_shown, unweighed_shown, weigh_shown
from rickyard.web.shown import lot_shown, yard_shown


@require_safe
def yard(request: Any, address: str) -> HttpResponse:
    """Show a farm's yard on a day."""
    there, others = farm_asked(request, address)
    day = day_asked(request, there)
    known = as_shown(read_farm(request.person, there.season))
    farm = known.farm
    kept = read_program(request.person, there.season)
    planned = None if kept is None else kept.planned
    shown = yard_shown(farm, yard_on(farm, day), read_lots(farm).readings, planned)
    sent = samples_sent(request.person, there.season)
    fed_by = None if kept is None or not kept.is_adopted else planned
    return page(
        request,
        "yard.html",
        yard=shown,
        now=today_shown(farm, farm_tests(farm, day, sent), fed_by, day),
        kept=kept,
        unweighed=unweighed_shown(known),
        **frame(there, address, others, "yard"),
    )


@require_safe
def lot(request: Any, address: str, lot_id: str) -> HttpResponse:
    """Show a lot: dangers, who may eat it, what stands, its test."""
    there, others = farm_asked(request, address)
    day = day_asked(request, there)
    known = as_shown(read_farm(request.person, there.season))
    farm = known.farm
    asked = next((one for one in farm.lots if one.lot_id == lot_id), None)
    if asked is None:
        raise NotThere
    reading = read_lots(farm, lot_ids=[lot_id]).readings[0]
    shown = lot_shown(farm, asked, reading, yard_on(farm, day), lot_fits(farm, reading))
    return page(
        request,
        "lot.html",
        lot=shown,
        lot_id=lot_id,
        today=day,
        weigh=weigh_shown(known, asked),
        may_weigh=may("weigh lot", request.person, there.farm),
        may_probe=may("probe lot", request.person, there.farm),
        may_share=settings.RICKYARD_SHARED and may("share lot", request.person, there.farm),
        may_count=may("count lot", request.person, there.farm),
        **frame(there, address, others, "hay"),
    )
