"""The pages of all farms: who runs short, what is due, what is dangerous."""

from __future__ import annotations

from datetime import UTC, date, datetime
from typing import Any

from django.http import HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_safe

from rickyard.book.district import FarmStands, district
from rickyard.book.services import list_farms
from rickyard.service import NotUnderstood
from rickyard.web.asked import page
from rickyard.web.shown import addresses, district_shown, due_shown, short_shown


@require_safe
def farms(request: Any) -> HttpResponse:
    """Show how all farms stand; where there is one, go to it."""
    found = addresses(list_farms(request.person))
    if len(found) == 1:
        return redirect("yard", next(iter(found)))
    if not found:
        return page(request, "farms.html", answer="No farm stands in this book yet.")
    shown = district_shown(_stands(request))
    return page(request, "district.html", shown=shown, district=True, here="district")


@require_safe
def due(request: Any) -> HttpResponse:
    """Show what is due across the farms."""
    shown = due_shown(_stands(request))
    return page(request, "due.html", shown=shown, district=True, here="due")


@require_safe
def short(request: Any) -> HttpResponse:
    """Show which farms run short, and how much the others have left."""
    shown = short_shown(_stands(request))
    return page(request, "short.html", shown=shown, district=True, here="short")


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
