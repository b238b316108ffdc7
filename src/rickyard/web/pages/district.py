"""The pages of all farms: who runs short, what is due, what is dangerous."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import UTC, date, datetime
from typing import Any, Final

from django.http import HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_safe

from rickyard.book.district import FarmStands, district
from rickyard.book.services import list_farms
from rickyard.service import NotUnderstood
from rickyard.web.asked import page
from rickyard.web.shown import (
    DistrictShown,
    addresses,
    district_shown,
    due_shown,
    short_shown,
)

#: A page on which some farms are not told of is asked for again after so long. [s]
_LOOK_AGAIN: Final = 3

#: Which farms the table can be of, beside all.
ONLY: Final = (
    ("short", "that run short"),
    ("danger", "with a danger"),
    ("due", "with something due"),
)

#: No list begins later: there are no so long ones.
_MOST_START: Final = 1_000_000


@require_safe
def farms(request: Any) -> HttpResponse:
    """Show how all farms stand; where there is one, go to it."""
    found = addresses(list_farms(request.person))
    if len(found) == 1:
        return redirect("yard", next(iter(found)))
    if not found:
        return page(request, "farms.html", answer="No farm stands in this book yet.")
    return _page(
        request, "district", lambda stands: _only(request, district_shown(stands, _start(request)))
    )


@require_safe
def due(request: Any) -> HttpResponse:
    """Show what is due across the farms."""
    return _page(request, "due", lambda stands: due_shown(stands, _start(request)))


@require_safe
def short(request: Any) -> HttpResponse:
    """Show which farms run short, and how much the others have left."""
    return _page(request, "short", short_shown)


def _page(
    request: Any, here: str, told: Callable[[Mapping[str, FarmStands]], object]
) -> HttpResponse:
    """Show all farms; while some are not looked at yet, the page is asked for again."""
    stands = _stands(request)
    on = request.GET.get("on", "").strip()
    again = _LOOK_AGAIN if any(one.waits for one in stands.values()) else 0
    return page(
        request,
        f"{here}.html",
        shown=told(stands),
        district=True,
        here=here,
        on=on,
        again=again,
        choices=[(value, words, value == request.GET.get("only")) for value, words in ONLY],
    )


def _only(request: Any, shown: DistrictShown) -> DistrictShown:
    """Return the page with those farms in its table that were asked for; all, unless some were."""
    said = request.GET.get("only", "")
    if said not in dict(ONLY):
        return shown
    return replace(shown, rows=tuple(one for one in shown.rows if said in one.of))


def _start(request: Any) -> int:
    """Return the row with which a long list begins on the page."""
    said = request.GET.get("from", "")
    return min(int(said[:18]), _MOST_START) if said.isascii() and said.isdigit() else 0


def _stands(request: Any) -> dict[str, FarmStands]:
    """Return how the farms stand by their addresses, on their day or on that of the address."""
    said, day = request.GET.get("on", "").strip(), None
    if said:
        try:
            day = date.fromisoformat(said)
        except ValueError as error:
            raise NotUnderstood(
                f'"{said[:40]}" is no day. Write it as year, month and day: ?on=2026-11-30.'
            ) from error
    stands = district(request.person, datetime.now(UTC), day)
    at = {one.there.season: one for one in stands}
    return {name: at[one.season] for name, one in addresses(s.there for s in stands).items()}
