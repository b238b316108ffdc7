"""The pages on which a lot is cored, bale by bale, and its sample sent."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any
from uuid import UUID

from django.http import HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_POST, require_safe

from rickyard.book.acting import NotTaken, NotThere, day_at, may
from rickyard.book.coring import (
    begin_anew,
    sample_begun,
    samples_sent,
    send_sample,
    take_core,
    undo_core,
)
from rickyard.book.services import add_line, read_farm
from rickyard.farm import Farm, MoveKind, MoveRow
from rickyard.hay.sampling import SamplePlan, Sent
from rickyard.service import NotUnderstood
from rickyard.service.sections import (
    UnderWay,
    as_shown,
    coring_sheet,
    expected_after,
    farm_tests,
)
from rickyard.sheets.wording import plain_test
from rickyard.web.asked import day_asked, fact_asked, farm_asked, frame, page, whole_asked
from rickyard.web.coring.shown import coring_shown


@require_safe
def cores(request: Any, address: str, lot_id: str) -> HttpResponse:
    """Show which bale of a lot is cored next, where, and into which bag.

    Parameters
    ----------
    request : HttpRequest
        What is asked.
    address, lot_id : str
        The farm and the lot as they stand in the address.

    Returns
    -------
    HttpResponse
        The page.
    """
    return _cores(request, address, lot_id)


def _cores(request: Any, address: str, lot_id: str, fault: str = "") -> HttpResponse:
    there, others = farm_asked(request, address)
    day = day_asked(request, there)
    farm, plan = _plan_asked(request, there, lot_id, day)
    sent = samples_sent(request.person, there.season)
    away = _under_way(farm, day, sent, lot_id)
    begun = sample_begun(request.person, there.season, lot_id, plan.sample_id)
    shown = coring_shown(farm, plan, begun, None if away is None else away.cored_on)
    return page(
        request,
        "cores.html",
        422 if fault else 200,
        coring=shown,
        lot_id=lot_id,
        fault=fault,
        may_core=may("take core", request.person, there.farm),
        **frame(there, address, others, "tests"),
    )


def _plan_asked(request: Any, there: Any, lot_id: str, day: Any) -> tuple[Farm, SamplePlan]:
    farm = as_shown(read_farm(request.person, there.season)).farm
    if lot_id not in {one.lot_id for one in farm.lots}:
        raise NotThere
    return farm, coring_sheet(farm, lot_id, day)


def _under_way(farm: Farm, day: Any, sent: tuple[Sent, ...], lot_id: str) -> UnderWay | None:
    away = farm_tests(farm, day, sent).under_way
    return next((one for one in away if one.lot.lot_id == lot_id), None)


@require_POST
def core(request: Any, address: str, lot_id: str) -> HttpResponse:
    """Write that a bale was cored, or would not be, and show the next.

    Parameters
    ----------
    request : HttpRequest
        What is asked.
    address, lot_id : str
        The farm and the lot as they stand in the address.

    Returns
    -------
    HttpResponse
        The way to the sheet.
    """
    there, _ = farm_asked(request, address)
    went_in = "cored" in request.POST
    bale = whole_asked(request.POST.get("cored" if went_in else "skip", ""))
    if bale is None or bale < 1:
        raise NotUnderstood("Open the coring sheet of the lot again, and press Cored there.")
    day = day_at(there.time_zone, datetime.now(UTC))
    fact = fact_asked(request)
    try:
        take_core(request.person, there.season, lot_id, bale, day, went_in=went_in, fact=fact)
    except NotTaken as problem:
        return _cores(request, address, lot_id, str(problem))
    return redirect("cores", address, lot_id)


@require_POST
def core_back(request: Any, address: str, lot_id: str) -> HttpResponse:
    """Take back the bale that was written last, or begin the sample anew.

    Parameters
    ----------
    request : HttpRequest
        What is asked.
    address, lot_id : str
        The farm and the lot as they stand in the address.

    Returns
    -------
    HttpResponse
        The way to the sheet.
    """
    there, _ = farm_asked(request, address)
    code = request.POST.get("anew", "")
    try:
        if code:
            begin_anew(request.person, there.season, lot_id, code)
        else:
            line = _line_asked(request.POST.get("line", ""))
            undo_core(request.person, there.season, line, fact=fact_asked(request))
    except NotTaken as problem:
        return _cores(request, address, lot_id, str(problem))
    return redirect("cores", address, lot_id)


def _line_asked(said: str) -> UUID:
    try:
        return UUID(said)
    except ValueError as error:
        raise NotUnderstood("Open the coring sheet of the lot again, and press Undo there.") from (
            error
        )


@require_POST
def cored(request: Any, address: str, lot_id: str) -> HttpResponse:
    """Write that a lot was cored today: the bag is closed.

    Parameters
    ----------
    request : HttpRequest
        What is asked.
    address, lot_id : str
        The farm and the lot as they stand in the address.

    Returns
    -------
    HttpResponse
        The way to the tests of the farm.
    """
    there, _ = farm_asked(request, address)
    day = day_at(there.time_zone, datetime.now(UTC))
    bales = whole_asked(request.POST.get("bales", ""))
    if bales is None:
        raise NotUnderstood(
            'Open the coring sheet of the lot again, and press "The bag is closed: cored today" '
            'or "All were cored today" there.'
        )
    row = MoveRow(day, lot_id, MoveKind.CORED, bales=float(bales))
    add_line(request.person, there.season, "moves", row, fact=fact_asked(request))
    return redirect("tests", address)


@require_POST
def sent(request: Any, address: str, lot_id: str) -> HttpResponse:
    """Write that a sample was sent today.

    Parameters
    ----------
    request : HttpRequest
        What is asked.
    address, lot_id : str
        The farm and the lot as they stand in the address.

    Returns
    -------
    HttpResponse
        The way to the tests of the farm.
    """
    there, _ = farm_asked(request, address)
    day = day_at(there.time_zone, datetime.now(UTC))
    farm, _ = _plan_asked(request, there, lot_id, day)
    away = _under_way(farm, day, samples_sent(request.person, there.season), lot_id)
    if away is None:
        raise NotUnderstood("No sample of this lot is under way. Core it first.")
    tests = ", ".join(plain_test(one.test) for one in away.plan.wanted)
    lab = " ".join(request.POST.get("lab", "").split())
    row = Sent(away.sample_id, lab, tests, day, expected_after(away.plan, day))
    send_sample(request.person, there.season, lot_id, row, fact=fact_asked(request))
    return redirect("tests", address)
