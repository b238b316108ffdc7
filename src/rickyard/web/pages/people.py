"""Pages of people: signing in and out, invitations, who is in on a farm, one's own account."""

from __future__ import annotations

from typing import Any, Final
from uuid import UUID

from django.conf import settings
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from rickyard.book.accounts import (
    LEAST_PASSWORD,
    STAYS_KEPT,
    NotSignedIn,
    address_for_app,
    ask_codes,
    at,
    change_password,
    count_tries,
    forget_tries,
    new_secret,
    places_of,
    sign_out,
)
from rickyard.book.acting import NotTaken, NotThere, Role, may
from rickyard.book.services import (
    accept_invitation,
    end_invitation,
    end_membership,
    invitation_of,
    invite,
    join,
    read_invitations,
    read_people,
    read_trail,
    somebody,
)
from rickyard.web.asked import address_of_asker, asked_again, farm_asked, frame, page
from rickyard.web.pages.persons import COOKIE, let_sign_in, open_to_all
from rickyard.web.shown import account_answer, browser_text, people_answer, role_text

#: So many of the last actions stand on the page of people.
_LAST: Final = 30


def _only_shared() -> None:
    """Answer as for a page that is not there where the book is one person's."""
    if not settings.RICKYARD_SHARED:
        raise NotThere


@open_to_all
@require_http_methods(["GET", "HEAD", "POST"])
def sign_in(request: Any) -> HttpResponse:
    """Let somebody sign in."""
    _only_shared()
    fault = ""
    onward = request.POST.get("next") or request.GET.get("next") or "/"
    if not url_has_allowed_host_and_scheme(onward, {request.get_host()}, require_https=True):
        onward = "/"
    if request.method == "POST":
        answer = redirect(onward)
        email, said = request.POST.get("email", ""), request.POST.get("password", "")
        request.tried = email  # for the journal
        try:
            let_sign_in(request, answer, email, said)
        except NotSignedIn as problem:
            fault = str(problem)
        else:
            return answer
    return page(
        request,
        "sign-in.html",
        403 if fault else 200,
        fault=fault,
        onward=onward,
        email=request.POST.get("email", ""),
        days=STAYS_KEPT.days,
    )


@require_POST
def leave(request: Any) -> HttpResponse:
    """Sign out in this browser."""
    _only_shared()
    sign_out(request.signed_in.account, request.signed_in.id)
    answer = redirect("sign-in")
    answer.delete_cookie(COOKIE)
    return answer


@open_to_all
@require_http_methods(["GET", "HEAD", "POST"])
def invitation(request: Any, code: str) -> HttpResponse:
    """Show what a link lets in to, and let in who takes it."""
    _only_shared()
    address = address_of_asker(request)
    count_tries({"link": address}, at(None))
    farm, made = invitation_of(code)
    forget_tries("link", address)
    fault = ""
    if request.method == "POST":
        answer = redirect("farms")
        try:
            _take(request, answer, code)
        except (NotTaken, NotSignedIn) as problem:
            fault = str(problem)
        else:
            return answer
    return page(
        request,
        "invitation.html",
        422 if fault else 200,
        fault=fault,
        of=farm,
        role=role_text(made.role),
        made=made,
        code=code,
        least=LEAST_PASSWORD,
        name=request.POST.get("name", made.name),
        email=request.POST.get("email", ""),
    )


def _take(request: Any, answer: HttpResponse, code: str) -> None:
    """Let in who is signed in, or who makes an account now."""
    if hasattr(request, "person"):
        accept_invitation(code, request.person)
        return
    email, said = request.POST.get("email", ""), request.POST.get("password", "")
    join(code, request.POST.get("name", ""), email, said)
    let_sign_in(request, answer, email, said)


@require_safe
def people(request: Any, address: str) -> HttpResponse:
    """Show who is in on a farm, who is invited, and what was done last."""
    return _people(request, address)


def _people(request: Any, address: str, *, link: str = "", fault: str = "") -> HttpResponse:
    there, others = farm_asked(request, address)
    lets_in = may("invite", request.person, there.farm)
    members = read_people(request.person, there.farm)
    trail = read_trail(request.person, there.farm, _LAST)
    return page(
        request,
        "people.html",
        422 if fault else 200,
        answer=people_answer(len(members)),
        members=[(one, role_text(one.role)) for one in members],
        invitations=[
            (one, role_text(one.role))
            for one in (read_invitations(request.person, there.farm) if lets_in else ())
        ],
        lets_in=lets_in,
        roles=[(one.value, role_text(one)) for one in Role],
        trail=trail[::-1],
        link=link,
        fault=fault,
        **frame(there, address, others, "people"),
    )


@asked_again
@require_POST
def let_in(request: Any, address: str) -> HttpResponse:
    """Make an invitation, and show its link this once."""
    _only_shared()
    there, _ = farm_asked(request, address)
    said = request.POST.get("role", "")
    if said not in set(Role):
        return _people(request, address, fault="Choose what they may do.")
    try:
        made = invite(request.person, there.farm, request.POST.get("name", ""), Role(said))
    except NotTaken as problem:
        return _people(request, address, fault=str(problem))
    link = request.build_absolute_uri(reverse("invitation", args=[made.code]))
    return _people(request, address, link=link)


@require_POST
def close(request: Any, address: str) -> HttpResponse:
    """End what somebody may do on a farm, or take an invitation back."""
    _only_shared()
    there, _ = farm_asked(request, address)
    if "invitation" in request.POST:
        end_invitation(request.person, there.farm, _id(request.POST["invitation"]))
    else:
        whom = somebody(request.person, there.farm, _id(request.POST.get("person", "")))
        try:
            end_membership(request.person, there.farm, whom)
        except NotTaken as problem:
            return _people(request, address, fault=str(problem))
    # Who has ended their own part sees the farm no more.
    stays = may("read people", request.person, there.farm)
    return redirect("people", address) if stays else redirect("farms")


@require_safe
def account(request: Any) -> HttpResponse:
    """Show where one is signed in."""
    return _account(request)


def _account(request: Any, fault: str = "", secret: str = "") -> HttpResponse:
    _only_shared()
    mine = request.signed_in
    secret = "" if mine.account.secret else secret or new_secret()
    places = places_of(mine.account)
    return page(
        request,
        "account.html",
        422 if fault else 200,
        answer=account_answer(len(places)),
        email=mine.account.email,
        places=[(one, browser_text(one.browser), one.id == mine.id) for one in places],
        least=LEAST_PASSWORD,
        fault=fault,
        secret=secret,
        opens=secret and address_for_app(secret, mine.account.email),
    )


@require_POST
def end_place(request: Any) -> HttpResponse:
    """Sign out in one browser, or everywhere."""
    _only_shared()
    said = request.POST.get("place", "")
    sign_out(request.signed_in.account, None if said == "all" else _id(said))
    return redirect("account")


@require_POST
def password(request: Any) -> HttpResponse:
    """Change one's own password: it signs out everywhere."""
    _only_shared()
    try:
        change_password(
            request.signed_in.account, request.POST.get("old", ""), request.POST.get("password", "")
        )
    except (NotTaken, NotSignedIn) as problem:
        return _account(request, fault=str(problem))
    return redirect("sign-in")


@require_POST
def codes(request: Any) -> HttpResponse:
    """Ask for codes of one's phone from now on when signing in."""
    _only_shared()
    said = request.POST
    secret = said.get("secret", "")
    if request.signed_in.account.secret:
        return redirect("account")
    try:
        ask_codes(request.signed_in.account, said.get("password", ""), secret, said.get("code", ""))
    except NotSignedIn as problem:
        return _account(request, fault=str(problem), secret=secret)
    return redirect("account")


def _id(said: str) -> UUID:
    try:
        return UUID(said)
    except ValueError as error:
        raise NotThere from error
