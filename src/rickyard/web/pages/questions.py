"""Questions to a season, on their own page; and wishes, written and taken back."""

from __future__ import annotations

import re
from datetime import date
from typing import Any, Final
from uuid import UUID

from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from rickyard.book.acting import NotThere, allow
from rickyard.book.services import add_line, read_farm, undo_line
from rickyard.book.taking import Taken, fact_of, give_back, seen_of, take_what_if
from rickyard.book.taking import take as take_remedy
from rickyard.book.working import ask_what_if
from rickyard.farm import Wanted, WishRow
from rickyard.folder.tables import WISHES
from rickyard.service import Asked, NotUnderstood, changes_of
from rickyard.web.asked import day_asked, fact_asked, farm_asked, frame, page, whole_asked
from rickyard.web.sections import (
    blanks_of,
    what_if_shown,
)
from rickyard.web.typed import texts_of, typed

#: A page of work that goes on is asked for again after so long; so long it waits itself. [s]
_LOOK_AGAIN: Final = 2
_WAITS: Final = 0.1


@require_safe
def what_if(request: Any, address: str) -> HttpResponse:
    """Show what something different would make of the season, or that it is worked out."""
    there, others = farm_asked(request, address)
    asked = _asked(request.GET)
    shown, seen = None, 0
    if asked is not None:
        found = ask_what_if(request.person, there.season, asked, _WAITS)
        shown = what_if_shown(found)
        if found.answer is not None:
            fact = fact_of(found.farm, changes_of(found.farm, asked))
            seen = 0 if fact is None else seen_of(request.person, there.season, fact)[1]
    return page(
        request,
        "what-if.html",
        422 if shown is not None and shown.fault else 200,
        shown=shown,
        again=_LOOK_AGAIN if shown is not None and shown.is_under_way else 0,
        blanks=blanks_of(read_farm(request.person, there.season)),
        said=request.GET,
        seen=seen,
        took=_TOOK.fullmatch(request.GET.get("took", "")),
        **frame(there, address, others, "season"),
    )


@require_POST
def take_asked(request: Any, address: str) -> HttpResponse:
    """Write what was asked into the farm, or write again what stood there before."""
    there, _ = farm_asked(request, address)
    allow("plan", request.person, there.farm)
    day, said = day_asked(request, there), request.POST
    back = reverse("what-if", args=[address])
    if said.get("act") == "back":
        took = _TOOK.fullmatch(said.get("took", ""))
        if took is None:
            raise NotThere
        written = Taken(took["kind"], UUID(took["thing"]), int(took["revision"]))
        give_back(request.person, there.season, written, day)
        return redirect("season", address)
    asked, seen = _asked(said), whole_asked(said.get("seen", ""))
    if asked is None or seen is None:
        raise NotUnderstood("Ask what would be different first, and take it then.")
    done = take_what_if(request.person, there.season, asked, seen, day)
    return redirect(f"{back}?took={done.kind}:{done.thing}:{done.revision}")


#: What was taken, in an address.
_TOOK: Final = re.compile(
    r"(?P<kind>group|feed|lot|season):(?P<thing>[0-9a-f-]{36}):(?P<revision>[0-9]{1,6})"
)


def _asked(said: Any) -> Asked | None:
    """Return the question that a sentence with its blanks filled asks; ``None`` for none."""
    of, value = said.get("of", ""), {key: text.strip() for key, text in said.items()}
    match of:
        case "head":
            return Asked(head=(f"{value.get('group', '')}={value.get('head', '')}",))
        case "lost":
            return Asked(without=(f"{value.get('lot', '')}={_percent(value.get('share', ''))}",))
        case "price":
            return Asked(price=(f"{value.get('source', '')}={_percent(value.get('more', ''))}",))
        case "grass":
            return Asked(until=(_day(value.get("until", "")),))
        case "winter":
            return Asked(winter=(value.get("winter", ""),))
        case "eat":
            return Asked(intake=(_percent(value.get("more", "")),))
        case "buy":
            return Asked(buy=(f"{value.get('buy', '')}={value.get('tons', '')}",))
        case _:
            return None


def _percent(text: str) -> str:
    return text if text.endswith("%") else f"{text}%"


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError as error:
        raise NotUnderstood(
            f'"{text[:40]}" is no day. Write it as year, month and day: 2027-04-10.'
        ) from error


@require_POST
def wish(request: Any, address: str) -> HttpResponse:
    """Write a wish for the next program."""
    there, _ = farm_asked(request, address)
    farm = read_farm(request.person, there.season)
    wanted = request.POST.get("wish", "")
    if wanted not in set(Wanted):
        raise NotUnderstood("Choose what is wished: some of it, none of it, or an amount.")
    texts = texts_of(request.POST, ("as_fed_kg_per_head_day",))
    said = typed(WISHES, texts if wanted == Wanted.AMOUNT else {}, farm, {})
    if said.faults:
        raise NotUnderstood(" ".join(said.faults.values()))
    row = WishRow(
        Wanted(wanted),
        request.POST.get("source", ""),
        request.POST.get("group", ""),
        **said.values,
    )
    add_line(request.person, there.season, "wishes", row, fact=fact_asked(request))
    return redirect("season", address)


@require_POST
def unwish(request: Any, address: str) -> HttpResponse:
    """Take a wish back; the line stays in the book, and counts no more."""
    there, _ = farm_asked(request, address)
    try:
        line = UUID(request.POST.get("line", ""))
    except ValueError as error:
        raise NotThere from error
    undo_line(request.person, there.season, "wishes", line, fact=fact_asked(request))
    return redirect("season", address)


@require_POST
def take(request: Any, address: str) -> HttpResponse:
    """Write what a remedy changes into the farm, or take that back."""
    there, _ = farm_asked(request, address)
    said = request.POST
    try:
        program = UUID(said.get("program", ""))
    except ValueError as error:
        raise NotThere from error
    place, seen = (whole_asked(said.get(name, "")) for name in ("place", "seen"))
    if place is None or seen is None:
        raise NotThere
    take_remedy(
        request.person,
        there.season,
        program,
        place,
        seen,
        day_asked(request, there),
        back=said.get("act") == "back",
    )
    return redirect(f"{reverse('season', args=[address])}#h-short")
