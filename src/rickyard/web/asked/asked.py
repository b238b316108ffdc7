"""What a page is asked for: which farm, on what day; and a page made of a template."""

from __future__ import annotations

from datetime import UTC, date, datetime
from ipaddress import ip_address, ip_network
from typing import Any, Final
from uuid import UUID, uuid4

from django.conf import settings
from django.http import HttpResponse
from django.shortcuts import render

from rickyard.book.acting import NotThere, day_at, farms_where, may
from rickyard.book.services import FarmThere, KeptProgram, list_farms
from rickyard.display import display_for
from rickyard.service import NotUnderstood
from rickyard.web.drawn import mark
from rickyard.web.languages import LANGUAGES
from rickyard.web.shown import addresses, without_prices

#: No count, place or revision of ours is longer, and every database takes it.
_MOST_DIGITS: Final = 9

#: Handed to a page for what they are; their words are made elsewhere.
_NO_WORDS: Final = ("farm", "kept", "work")


def farm_asked(request: Any, address: str) -> tuple[FarmThere, bool]:
    """Return the farm of an address, and whether there are others.

    Parameters
    ----------
    request : HttpRequest
        Says who asks.
    address : str
        Its name as it stands in the address.

    Returns
    -------
    tuple of (FarmThere, bool)
        The farm.

    Raises
    ------
    NotThere
        If there is none, or it is not the person's to see.
    """
    found = addresses(list_farms(request.person))
    if address not in found:
        raise NotThere
    return found[address], len(found) > 1


def day_asked(request: Any, farm: FarmThere) -> date:
    """Return the day that a page is asked for: that of the address, or today on the farm.

    Parameters
    ----------
    request : HttpRequest
        May say ``on=2026-11-30``.
    farm : FarmThere
        Gives the time zone.

    Returns
    -------
    date
        The day.

    Raises
    ------
    NotUnderstood
        If what stands there is no day.
    """
    said = request.GET.get("on", "").strip()
    if not said:
        return day_at(farm.time_zone, datetime.now(UTC))
    try:
        return date.fromisoformat(said)
    except ValueError as error:
        raise NotUnderstood(
            f'"{said[:40]}" is no day. Write it as year, month and day: ?on=2026-11-30.'
        ) from error


def fact_asked(request: Any) -> UUID | None:
    """Return the id that a form was given, so that what it writes counts once.

    Parameters
    ----------
    request : HttpRequest
        May hold ``fact``.

    Returns
    -------
    UUID or None
        The id; ``None`` where there is none, or it is no id.
    """
    try:
        return UUID(request.POST.get("fact", ""))
    except ValueError:
        return None


def fact_or_new(request: Any) -> UUID:
    """Return the id that a form was given, or a new one where it has none.

    Parameters
    ----------
    request : HttpRequest
        May hold ``fact``.

    Returns
    -------
    UUID
        The id.
    """
    return fact_asked(request) or uuid4()


def whole_asked(said: str) -> int | None:
    """Return a whole number that a form or an address holds, which the program wrote into it.

    Parameters
    ----------
    said : str
        What it says.

    Returns
    -------
    int or None
        The number; ``None`` where there is none of at most nine plain digits.

    Examples
    --------
    >>> whole_asked("20"), whole_asked("\u00b2"), whole_asked("9" * 400), whole_asked("")
    (20, None, None, None)
    """
    return int(said) if said.isascii() and said.isdigit() and len(said) <= _MOST_DIGITS else None


def part_asked(request: Any) -> str:
    """Return which part of a page is asked for; empty for the whole.

    Parameters
    ----------
    request : HttpRequest
        What is asked.

    Returns
    -------
    str
        The id of an element.
    """
    asked = getattr(request, "htmx", None)
    return (asked.target or "") if asked and not asked.history_restore_request else ""


def page(request: Any, template: str, status: int = 200, **what: Any) -> HttpResponse:
    """Return a page; who may not see what a farm costs gets one on which no price stands.

    Parameters
    ----------
    request : HttpRequest
        What was asked.
    template : str
        The template.
    status : int
        The answer's number.
    **what : object
        What stands on the page.

    Returns
    -------
    HttpResponse
        The whole page.
    """
    signed_in = getattr(request, "signed_in", None)
    me = "" if signed_in is None else signed_in.account.person.name
    there = what.get("farm")
    priced = not isinstance(there, FarmThere) or may("read costs", request.person, there.farm)
    if not priced:
        what = {
            name: one if name in _NO_WORDS else without_prices(one) for name, one in what.items()
        }
    always = {
        "rick": mark("rick"),
        "me": me,
        "priced": priced,
        "languages": LANGUAGES,
        "fact": request.POST.get("fact") or uuid4(),
        "made": made_text(there, what.get("kept")),
        "office": "district" in what and _sees_costs(request.person),
    }
    return render(request, template, {**always, **what}, status=status)


def _sees_costs(person: Any) -> bool:
    """Return whether what anything costs is somebody's business, on one farm at least."""
    return bool(farms_where("read costs", person, (one.farm for one in list_farms(person))))


def made_text(there: object, kept: object) -> str:
    """Return the day on the farm on which a program was worked out, as the farm writes days.

    Parameters
    ----------
    there : FarmThere or object
        The farm.
    kept : KeptProgram or object
        The program.

    Returns
    -------
    str
        The day, empty where there is no farm or no program.
    """
    if not isinstance(there, FarmThere) or not isinstance(kept, KeptProgram):
        return ""
    return display_for(there.units).day_year_text(day_at(there.time_zone, kept.made_at))


def frame(farm: FarmThere, address: str, others: bool, here: str) -> dict[str, Any]:
    """Return what the frame of every page of a farm needs.

    Parameters
    ----------
    farm : FarmThere
        The farm.
    address : str
        Its address.
    others : bool
        Whether there are other farms to go to.
    here : str
        The section of the page.

    Returns
    -------
    dict
        Names for the template.
    """
    return {"farm": farm, "address": address, "others": others, "here": here}


def address_of_asker(request: Any) -> str:
    """Return the address that a request came from: that which a server before this one saw last.

    Parameters
    ----------
    request : HttpRequest
        What was asked.

    Returns
    -------
    str
        The address.
    """
    said = request.headers.get("X-Forwarded-For", "")
    if settings.RICKYARD_BEHIND_PROXY and said:
        return _whole(said.rpartition(",")[2].strip())
    return _whole(str(request.META.get("REMOTE_ADDR", "")))


def _whole(said: str) -> str:
    """Return an address; of one of IPv6 the part that is given to one subscriber.

    Whoever has one address of it has all of them (RFC 6177), and could try from each.

    Examples
    --------
    >>> _whole("203.0.113.5"), _whole("2001:db8:1:2:3::4"), _whole("none of these")
    ('203.0.113.5', '2001:db8:1:2::/64', 'unknown')
    """
    try:
        one = ip_address(said)
    except ValueError:
        return "unknown"
    if one.version == 4:
        return str(one)
    return str(one.ipv4_mapped or ip_network((one, 64), strict=False))


def asked_again(view: Any) -> Any:
    """Mark what is done by who gave a password not long ago: it lets others in, or shows them.

    Parameters
    ----------
    view : callable
        The view.

    Returns
    -------
    callable
        The view.
    """
    view.is_asked_again = True
    return view
