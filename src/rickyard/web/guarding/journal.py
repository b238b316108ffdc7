"""The journal of a shared book: who tried what from where, for whoever looks after the server.

What was written stands in the trail of its farm. Here stand the tries: each form that was sent, and
each page that was refused, with no secret and nothing that was typed.
"""

from __future__ import annotations

import logging
from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any, Final

from django.conf import settings
from django.http import HttpResponse

from rickyard.book.accounts import digest_of
from rickyard.web.asked import address_of_asker

_JOURNAL: Final = logging.getLogger("rickyard.journal")

#: Answers from here on are refusals.
_REFUSED: Final = 400

#: So much of a digest tells two accounts apart, and nobody's email.
_SHORT: Final = 12


class Journal:
    """Writes a line for each form that was sent and each page that was refused."""

    def __init__(self, answer: Callable[[Any], HttpResponse]) -> None:
        self._answer = answer

    def __call__(self, request: Any) -> HttpResponse:
        """Pass on what was asked, and note how it ended."""
        answer = self._answer(request)
        is_told = request.method == "POST" or answer.status_code >= _REFUSED
        if settings.RICKYARD_SHARED and is_told:
            _JOURNAL.info(line_of(request, answer.status_code, datetime.now(UTC)))
        return answer


def line_of(request: Any, status: int, now: datetime) -> str:
    """Return the line of a request.

    Parameters
    ----------
    request : HttpRequest
        What was asked.
    status : int
        The number of the answer.
    now : datetime
        When.

    Returns
    -------
    str
        One line: when, the answer's number, the page by its name, the farm, the person, of what
        account a sign-in was tried (by the start of a digest of its email), from what address. What
        comes from outside is in it only as one word of letters, figures, points and hyphens.
    """
    found = request.resolver_match
    page = "none" if found is None else found.view_name
    farm = "" if found is None else str(found.kwargs.get("address", ""))
    person = getattr(getattr(request, "signed_in", None), "account", None)
    tried = getattr(request, "tried", "")
    said = {
        "farm": farm,
        "person": "" if person is None else str(person.person_id),
        "account": digest_of(tried.strip().casefold())[:_SHORT] if tried else "",
        "from": address_of_asker(request),
    }
    method = request.method if str(request.method).isalpha() else "none"
    told = " ".join(f"{key}={value}" for key, value in said.items() if value)
    return f"{now:%Y-%m-%dT%H:%M:%SZ} {status} {method} {page} {told}"


class WithoutSecrets(logging.Filter):
    """Takes the secret of a link out of what Django says of a page: its address holds one."""

    def filter(self, record: logging.LogRecord) -> bool:
        """Return that the line is written, without the secret."""
        found = getattr(getattr(record, "request", None), "resolver_match", None)
        code = "" if found is None else str(found.kwargs.get("code", ""))
        if code and isinstance(record.args, tuple):
            record.args = tuple(
                one.replace(code, "...") if isinstance(one, str) else one for one in record.args
            )
        return True


def keep_journal(*, shared: bool) -> None:
    """Write the journal of a shared book to the terminal, and there no address with a secret.

    Parameters
    ----------
    shared : bool
        Whether people sign in; the journal of one person is nobody's business.
    """
    # Refusals stand in the journal; what is at fault in the program is told as ever.
    asked = logging.getLogger("django.request")
    asked.setLevel(logging.ERROR)
    if not any(isinstance(one, WithoutSecrets) for one in asked.filters):
        asked.addFilter(WithoutSecrets())
    logging.getLogger("django.security").setLevel(logging.CRITICAL)
    if shared and not _JOURNAL.handlers:
        _JOURNAL.setLevel(logging.INFO)
        _JOURNAL.addHandler(logging.StreamHandler())
