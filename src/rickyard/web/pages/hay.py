"""The hay of a farm: the list of lots, and putting up a new one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any, Final

from django.http import HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from rickyard.book.acting import NotTaken, may
from rickyard.book.services import (
    FarmThere,
    add_line,
    count_lot,
    probe_lot,
    read_farm,
    read_things,
    weigh_lot,
    write_thing,
)
from rickyard.farm import Farm, Lot, MoveKind, MoveRow
from rickyard.folder.tables import LOTS
from rickyard.service import NotUnderstood
from rickyard.service.sections import PutUp, as_shown, before_put_up, hay_list, lot_with_code
from rickyard.web.asked import day_asked, fact_asked, farm_asked, frame, page
from rickyard.web.sections import (
    hay_shown,
    put_up_shown,
    unweighed_shown,
)
from rickyard.web.typed import TypedLot, faults_told, texts_of, typed, typed_lot


@require_safe
def hay(request: Any, address: str) -> HttpResponse:
    """Show every lot of a farm: what stands, what it is worth, who may not have it."""
    there, others = farm_asked(request, address)
    day = day_asked(request, there)
    known = as_shown(read_farm(request.person, there.season))
    farm = known.farm
    shown = hay_shown(farm, hay_list(farm, day), day, request.GET.get("by", ""))
    return page(
        request,
        "hay.html",
        hay=shown,
        unweighed=unweighed_shown(known),
        may_put_up=may("write lot", request.person, there.farm),
        **frame(there, address, others, "hay"),
    )


@require_http_methods(["GET", "HEAD", "POST"])
def put_up(request: Any, address: str) -> HttpResponse:
    """Put up a lot by five questions: look at it first, or write it at once."""
    there, others = farm_asked(request, address)
    day = day_asked(request, there)
    farm = as_shown(read_farm(request.person, there.season)).farm
    said = typed_lot(request.POST, farm, day)
    faults: Mapping[str, str] = said.faults
    elsewhere: tuple[str, ...] = ()
    known: PutUp | None = None
    if request.method != "POST":
        faults = {}
    elif said.lot is not None:
        lot = lot_with_code(farm, said.lot)
        said = replace(said, lot=lot)
        try:
            if request.POST.get("act") == "put up":
                return _written(request, there, address, lot)
            known = before_put_up(farm, lot, day)
        except NotTaken as problem:
            faults, elsewhere = faults_told(problem, LOTS)
    return _form(request, (there, others, address), farm, said, known, faults, elsewhere)


def _form(
    request: Any,
    where: tuple[FarmThere, bool, str],
    farm: Farm,
    said: TypedLot,
    known: PutUp | None,
    faults: Mapping[str, str],
    elsewhere: tuple[str, ...],
) -> HttpResponse:
    there, others, address = where
    return page(
        request,
        "put-up.html",
        422 if faults or elsewhere else 200,
        form=put_up_shown(farm, said, known, faults, elsewhere),
        **frame(there, address, others, "hay"),
    )


def _written(request: Any, there: FarmThere, address: str, lot: Lot) -> HttpResponse:
    """Write a lot once, however often its form is sent, and go to its page."""
    done = write_thing(
        request.person,
        there.season,
        "lot",
        lot,
        day=lot.counted_on,
        fact=fact_asked(request),
    )
    things = read_things(request.person, there.season, "lot")
    return redirect(
        "lot", address, next(one.lot_id for thing, _, one in things if thing == done.thing)
    )


#: What can be written of bales on the page of their lot; a count is no move.
_MOVES: Final = (MoveKind.SOLD, MoveKind.LOST)
_COUNT: Final = "count"


@require_POST
def note(request: Any, address: str, lot_id: str) -> HttpResponse:
    """Write that bales of a lot were counted, sold or lost, and go back to its page."""
    there, _ = farm_asked(request, address)
    what = request.POST.get("what", "")
    if what not in (_COUNT, *_MOVES):
        raise NotUnderstood("Choose what happened: counted, sold or lost.")
    farm = read_farm(request.person, there.season)
    said = typed(LOTS, texts_of(request.POST, ("bales", "counted_on")), farm, _NOTED)
    if said.faults:
        raise NotUnderstood(" ".join(said.faults.values()))
    bales, day = said.values["bales"], said.values["counted_on"]
    if what == _COUNT:
        count_lot(request.person, there.season, lot_id, bales, day, fact=fact_asked(request))
    else:
        row = MoveRow(day, lot_id, MoveKind(what), bales=bales)
        add_line(request.person, there.season, "moves", row, fact=fact_asked(request))
    return redirect("lot", address, lot_id)


_NOTED: Final = {"bales": "Write how many bales.", "counted_on": "Write the day."}


@require_POST
def weigh(request: Any, address: str, lot_id: str) -> HttpResponse:
    """Write what bales of a lot weighed, and go back to its page."""
    there, _ = farm_asked(request, address)
    farm = read_farm(request.person, there.season)
    weights, faults = [], []
    for name in WEIGHED:
        one = {name: request.POST.get(name, ""), f"{name}_unit": request.POST.get("bale1_unit", "")}
        said = typed(LOTS, {"bale_weight_kg": texts_of(one, (name,))[name]}, farm, {})
        weights += list(said.values.values())
        faults += list(said.faults.values())
    if faults or not weights:
        raise NotUnderstood(" ".join(faults) or "Write what one bale weighed, or three.")
    day = day_asked(request, there)
    weigh_lot(request.person, there.season, lot_id, weights, day, fact=fact_asked(request))
    return redirect("lot", address, lot_id)


#: The fields in which each bale's weight is written.
WEIGHED: Final = ("bale1", "bale2", "bale3")


@require_POST
def probe(request: Any, address: str, lot_id: str) -> HttpResponse:
    """Write what was read inside a lot, and go back to its page."""
    there, _ = farm_asked(request, address)
    farm = read_farm(request.person, there.season)
    asked = texts_of(request.POST, (HOTTEST,))
    said = typed(LOTS, asked, farm, {HOTTEST: "Write what was read inside."})
    if said.faults:
        raise NotUnderstood(" ".join(said.faults.values()))
    day, inside = day_asked(request, there), said.values[HOTTEST]
    probe_lot(request.person, there.season, lot_id, inside, day, fact=fact_asked(request))
    return redirect("lot", address, lot_id)


#: The field in which a reading is written.
HOTTEST: Final = "highest_temperature_c"
