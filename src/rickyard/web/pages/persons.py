"""Who asks for a page: the one person of this computer, or whoever is signed in."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final
from urllib.parse import quote, urlsplit

from django.conf import settings
from django.http import HttpResponse
from django.middleware.csrf import rotate_token
from django.shortcuts import redirect

from rickyard.book.accounts import STAYS, STAYS_KEPT, Asking, at, sign_in, sign_out, signed_in
from rickyard.book.acting import ONE_PERSON
from rickyard.web.asked import address_of_asker

#: The name of the cookie tells browsers to send it over HTTPS to this very server alone.
COOKIE: Final = "__Host-signed-in"


class Persons:
    """Finds out who asks; in a shared book nobody but who is signed in sees more than the door."""

    def __init__(self, answer: Callable[[Any], HttpResponse]) -> None:
        self._answer = answer

    def __call__(self, request: Any) -> HttpResponse:
        """Note who asks, and pass on what was asked."""
        if not settings.RICKYARD_SHARED:
            request.person = ONE_PERSON
        else:
            there = signed_in(request.COOKIES.get(COOKIE, ""))
            request.signed_in = there
            # Where nobody is signed in there is no person at all, not even none: a page that asks
            # for one has a fault then, and shows nothing.
            if there is not None:
                request.person = there.account.person
        return self._answer(request)

    def process_view(self, request: Any, view: Any, *_: Any) -> HttpResponse | None:
        """Lead who is not signed in to where they sign in."""
        there = getattr(request, "signed_in", None)
        if getattr(view, "is_asked_again", False) and _long_ago(there):
            # What was sent is not kept over a sign-in: it is sent again from its page.
            back = urlsplit(request.headers.get("Referer", "")).path or "/"
            asked = request.get_full_path() if request.method in ("GET", "HEAD") else back
            return redirect(f"/sign-in?next={quote(asked, safe='/')}")
        if hasattr(request, "person") or getattr(view, "is_open", False):
            return None
        return redirect(f"/sign-in?next={quote(request.get_full_path(), safe='/')}")


def _long_ago(there: Any) -> bool:
    """Return whether a browser that stays signed in was given a password long ago."""
    return there is not None and at(None) - there.since > STAYS


def open_to_all(view: Any) -> Any:
    """Mark a page that is shown to whoever is not signed in."""
    view.is_open = True
    return view


def let_sign_in(request: Any, answer: HttpResponse, email: str, password: str) -> None:
    """Sign somebody in, in the browser that asks.

    Parameters
    ----------
    request : HttpRequest
        What was asked; it may hold a code, and whether to stay signed in.
    answer : HttpResponse
        Is given the cookie.
    email : str
        Who.
    password : str
        With what.
    """
    keep = request.POST.get("keep") == "yes"
    before = request.signed_in
    token = sign_in(
        Asking(
            email=email,
            password=password,
            code=request.POST.get("code", ""),
            address=address_of_asker(request),
            browser=request.headers.get("User-Agent", ""),
            keep=keep,
        )
    )
    if before is not None:
        # This browser shows its former token no more, and nobody else is to.
        sign_out(before.account, before.id)
    rotate_token(request)
    answer.set_cookie(
        COOKIE,
        token,
        max_age=int(STAYS_KEPT.total_seconds()) if keep else None,
        secure=True,
        httponly=True,
        samesite="Lax",
    )
