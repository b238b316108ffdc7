"""A first farm: where to begin, the ten questions, and keeping what was told."""

from __future__ import annotations

from datetime import UTC, date, datetime
from typing import Any, Final

from django.http import HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_POST, require_safe

from rickyard.book.accounts import count_tries
from rickyard.book.acting import day_at
from rickyard.book.services import list_farms, start_farm
from rickyard.draft import END, hear
from rickyard.service.sections import farm_told
from rickyard.web.asked import page
from rickyard.web.sections import (
    address,
    ask_shown,
    start_wall,
)
from rickyard.web.shown import (
    addresses,
)

#: What a farm is called until it is said.
_NAME: Final = "My farm"


@require_safe
def start(request: Any) -> HttpResponse:
    """Show how to begin with nothing."""
    wide, narrow = start_wall()
    return page(request, "start.html", wide=wide, narrow=narrow)


@require_safe
def ask(request: Any, number: int) -> HttpResponse:
    """Ask one of ten questions; every answer so far stands in the address, nothing is written."""
    lines, after = request.GET.getlist("a"), request.GET.getlist("b")
    said = {key: value for key, value in request.GET.items() if key not in ("a", "b")}
    today = _today()
    heard = hear(lines, said, _NAME, today)
    if heard.is_complete:
        lines = [*lines, *heard.lines, *after]
        return redirect(address(hear(lines, {}, _NAME, today).number, lines, ()))
    if heard.number != number or list(heard.before) != lines:
        return redirect(address(heard.number, heard.before, after))
    shown = ask_shown(heard, farm_told([*lines, *after], _NAME, today), lines, after)
    return page(request, "ask.html", ask=shown)


@require_POST
def keep(request: Any) -> HttpResponse:
    """Write the farm that was told, and go to its season, where its program is worked out."""
    lines, today = request.POST.getlist("a"), _today()
    heard = hear(lines, {}, _NAME, today)
    if heard.number != END:
        return redirect(address(heard.number, heard.before, ()))
    if request.person is not None:
        count_tries({"farm": str(request.person.id)}, datetime.now(UTC))
    started = start_farm(request.person, lines, _NAME, today)
    found = addresses(list_farms(request.person))
    return redirect("season", next(a for a, one in found.items() if one.farm == started.farm))


def _today() -> date:
    return day_at("", datetime.now(UTC))
