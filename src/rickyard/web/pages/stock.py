"""The stock of a farm: the groups, and one group with what is written of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any, Final

from django.http import HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods, require_safe

from rickyard.book.acting import ChangedMeanwhile, NotTaken, NotThere, may
from rickyard.book.services import (
    read_farm,
    read_group_facts,
    read_program,
    read_things,
    write_thing,
)
from rickyard.folder.tables import GROUPS, parse_date
from rickyard.service.sections import lacking_of, stock_known
from rickyard.web.asked import day_asked, fact_asked, farm_asked, frame, page, whole_asked
from rickyard.web.sections import (
    group_page,
    stock_shown,
)
from rickyard.web.typed import faults_told, texts_of, typed

#: What can be written of a group on its page.
_FIELDS: Final = ("head", "weight_kg", "condition_score")


@require_safe
def stock(request: Any, address: str) -> HttpResponse:
    """Show the groups of a farm and what a head of each needs."""
    there, others = farm_asked(request, address)
    farm = read_farm(request.person, there.season)
    shown = stock_shown(farm, stock_known(farm), day_asked(request, there))
    return page(request, "stock.html", stock=shown, **frame(there, address, others, "stock"))


@require_http_methods(["GET", "HEAD", "POST"])
def group(request: Any, address: str, group_id: str) -> HttpResponse:
    """Show a group: each hay alone, what becomes of them; and write a count, weight or score."""
    there, others = farm_asked(request, address)
    faults: Mapping[str, str] = {}
    elsewhere: tuple[str, ...] = ()
    if request.method == "POST":
        try:
            faults = _write(request, address, group_id)
        except ChangedMeanwhile as problem:
            elsewhere = (str(problem),)
        except NotTaken as problem:
            faults, elsewhere = faults_told(problem, GROUPS)
        if not faults and not elsewhere:
            return redirect("group", address, group_id)
    farm = read_farm(request.person, there.season)
    if group_id not in {one.group_id for one in farm.groups}:
        raise NotThere
    things = read_things(request.person, there.season, "group")
    thing, seen = next((one, at) for one, at, it in things if it.group_id == group_id)
    kept = read_program(request.person, there.season)
    shown = group_page(
        farm,
        stock_known(farm, group_id)[0],
        None if kept is None else kept.planned,
        read_group_facts(request.person, there.season, thing),
        (thing, seen),
        request.POST,
        faults,
    )
    return page(
        request,
        "group.html",
        422 if faults or elsewhere else 200,
        group=shown,
        group_id=group_id,
        of=farm.group(group_id),
        kept=kept,
        today=day_asked(request, there),
        said=request.POST,
        faults=faults,
        elsewhere=elsewhere,
        may_write=may("write group", request.person, there.farm),
        **frame(there, address, others, "stock"),
    )


def _write(request: Any, address: str, group_id: str) -> Mapping[str, str]:
    """Write what was typed of a group as it is from a day on; return what is at fault."""
    there, _ = farm_asked(request, address)
    farm = read_farm(request.person, there.season)
    things = read_things(request.person, there.season, "group")
    found = next(((one, it) for one, _, it in things if it.group_id == group_id), None)
    if found is None:
        raise NotThere
    fields = (*_FIELDS, *lacking_of(found[1]))
    said = typed(GROUPS, texts_of(request.POST, fields), farm, {})
    day = day_asked(request, there)
    on = request.POST.get("on", "").strip()
    try:
        day = parse_date(on) if on else day
    except ValueError as error:
        said.faults["on"] = f"{error}"
    if not said.values and not said.faults:
        said.faults["head"] = "Write what changed: the head, a weight or a score."
    if said.faults:
        return said.faults
    seen = request.POST.get("seen", "")
    write_thing(
        request.person,
        there.season,
        "group",
        replace(found[1], **said.values),
        thing=found[0],
        seen=whole_asked(seen) or 0,
        day=day,
        fact=fact_asked(request),
    )
    return {}
