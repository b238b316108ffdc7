"""Which language a page is read in: that chosen in this browser, else the first it asks for."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final
from urllib.parse import urlsplit

from django.http import HttpResponse
from django.shortcuts import redirect
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.translation import get_language_from_request
from django.views.decorators.http import require_POST

from rickyard.web.languages.catalogue import read_catalogue
from rickyard.web.languages.turning import turned_page

#: Each language by its own name. The first is that in which sentences are written.
LANGUAGES: Final = (("en", "English"), ("es", "Español"))
COOKIE: Final = "language"

#: A choice is kept for a year. [s]
_YEAR: Final = 365 * 86_400


class Languages:
    """Turns a page that is read in another language, as the last thing that is done to it."""

    def __init__(self, answer: Callable[[Any], HttpResponse]) -> None:
        self._answer = answer

    def __call__(self, request: Any) -> HttpResponse:
        """Return the answer in the language of whoever asks."""
        answer = self._answer(request)
        language = get_language_from_request(request)
        is_page = answer.headers.get("Content-Type", "").startswith("text/html")
        if language == LANGUAGES[0][0] or not is_page or not answer.content:
            return answer
        told, _ = turned_page(answer.content.decode(), read_catalogue(language))
        answer.content = told.encode()
        answer.headers["Content-Language"] = language
        if answer.has_header("Content-Length"):
            answer.headers["Content-Length"] = str(len(answer.content))
        return answer


@require_POST
def choose(request: Any) -> HttpResponse:
    """Keep in this browser in which language pages are read, and go back.

    Parameters
    ----------
    request : HttpRequest
        Says ``language``, and its headers the page that it came from.

    Returns
    -------
    HttpResponse
        The way back.
    """
    came, said = urlsplit(request.headers.get("Referer", "")), request.POST.get("language", "")
    onward = f"{came.path}?{came.query}" if came.query else came.path
    if not url_has_allowed_host_and_scheme(
        onward, {request.get_host()}, require_https=request.is_secure()
    ):
        onward = "/"
    answer = redirect(onward)
    if said in dict(LANGUAGES):
        answer.set_cookie(
            COOKIE,
            said,
            max_age=_YEAR,
            secure=request.is_secure(),
            httponly=True,
            samesite="Lax",
        )
    return answer


choose.is_open = True
