"""The seasons of a farm side by side, and what its hay tested."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any, Final

from django.http import HttpResponse
from django.views.decorators.http import require_safe

from rickyard.book.years import Years, told_of_years, years_of
from rickyard.forage.values import FORAGE_WORDS
from rickyard.web.asked import day_asked, farm_asked, frame, page
from rickyard.web.drawn import by_year
from rickyard.web.looking.learned import true_minus

#: What is drawn through the years, and what it is called. [% DM]
_DRAWN: Final = (("cp_pct", "protein"), ("tdn_pct", "TDN"))


@require_safe
def years(request: Any, address: str) -> HttpResponse:
    """Show the seasons of a farm side by side, and what its hay tested.

    Parameters
    ----------
    request : HttpRequest
        May name the day.
    address : str
        The name of the farm as written in the address.

    Returns
    -------
    HttpResponse
        The page.
    """
    there, others = farm_asked(request, address)
    found = years_of(request.person, there.farm, day_asked(request, there))
    told = told_of_years(found)
    seasons = (replace(one, odd=true_minus(one.odd)) for one in told.seasons)
    return page(
        request,
        "years.html",
        told=replace(told, seasons=tuple(seasons)),
        drawn=tuple(_drawn(found)),
        **frame(there, address, others, "look-back"),
    )


def _drawn(found: Years) -> Iterator[tuple[str, str]]:
    """Yield what a forage tested through the years, of each that was tested in two or more."""
    for forage in dict.fromkeys(one.forage for one in found.quality):
        for name, words in _DRAWN:
            rows = [one for one in found.quality if one.forage is forage]
            points = [(one.year, getattr(one, name)) for one in rows]
            known = [(year, value) for year, value in points if value is not None]
            if len({year for year, _ in known}) > 1:
                label = f"{FORAGE_WORDS[forage].capitalize()}, {words} in the dry matter by year"
                yield label, by_year(known, label)
