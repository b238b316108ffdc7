"""Pages for what is not there, is not understood, or cannot be worked out, with the way back."""

from __future__ import annotations

import logging
from collections.abc import Callable
from typing import Any

from django.conf import settings
from django.db.utils import DatabaseError
from django.http import HttpResponse

from rickyard.book.accounts import TooOften
from rickyard.book.acting import NotAllowed, NotThere
from rickyard.book.base import told_of
from rickyard.service import ServiceError
from rickyard.web.asked import page, part_asked

_NO_PAGE = "There is no such page in this book."
_OF_OTHERS = (
    "What was being written is not in it, and all that was written before is. Try again in a "
    "minute, and tell whoever looks after the book if it stays so."
)


class Faults:
    """Turns what a service refuses into a page that says what to do."""

    def __init__(self, answer: Callable[[Any], HttpResponse]) -> None:
        self._answer = answer

    def __call__(self, request: Any) -> HttpResponse:
        """Pass on what was asked."""
        return self._answer(request)

    def process_exception(self, request: Any, problem: Exception) -> HttpResponse | None:
        """Return the page for a fault that a person can put right; none for another."""
        if isinstance(problem, NotThere):
            return fault(request, 404, _NO_PAGE, str(problem))
        if isinstance(problem, NotAllowed):
            return fault(request, 403, "This is not yours to do.", str(problem))
        if isinstance(problem, TooOften):
            return fault(request, 429, "That was too often.", str(problem))
        if isinstance(problem, ServiceError):
            return fault(request, 422, "This page cannot be shown.", str(problem))
        if isinstance(problem, DatabaseError):
            # What the database says may name its computer and its person: it is for who keeps it.
            logging.getLogger(__name__).error("%s", told_of(problem))
            told = _OF_OTHERS if settings.RICKYARD_SHARED else told_of(problem)
            return fault(request, 503, "The book cannot be reached now.", told)
        return None


def fault(request: Any, status: int, answer: str, told: str) -> HttpResponse:
    """Return a page for a fault.

    Parameters
    ----------
    request : HttpRequest
        What was asked.
    status : int
        The answer's number.
    answer : str
        What is wrong.
    told : str
        What to do.

    Returns
    -------
    HttpResponse
        The page.
    """
    lines = told.splitlines()
    if not part_asked(request):
        return page(request, "fault.html", status, answer=answer, lines=lines)
    # Where a part was to be swapped, what is wrong is told in the form that asked, with what is
    # typed in it.
    said = page(request, "fault-said.html", status, answer=answer, lines=lines)
    said.headers["HX-Retarget"], said.headers["HX-Reswap"] = "this", "afterbegin"
    return said


def not_found(request: Any, exception: Exception) -> HttpResponse:
    """Return the page for an address that no page has."""
    told = "Check the address, or go on from the list of farms."
    return fault(request, 404, _NO_PAGE, told)


def refused(request: Any, exception: Exception | None = None, reason: str = "") -> HttpResponse:
    """Return the page for a form that came from elsewhere, or too late."""
    told = "Nothing was written. Go back, load the page again, and send it once more."
    return fault(request, 403, "This form did not come from a page of this book.", told)


def bad(request: Any, exception: Exception) -> HttpResponse:
    """Return the page for what cannot be read, or names another server."""
    told = "Nothing was written. Use the address that rickyard serve printed."
    return fault(request, 400, "This was not understood.", told)


def broken(request: Any) -> HttpResponse:
    """Return the page for a fault of the program itself."""
    told = (
        "Nothing was written. The terminal in which rickyard serve runs says more: please report "
        "it with what you did."
    )
    return fault(request, 500, "The program has a fault here.", told)
