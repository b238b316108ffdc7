"""What may be sent, and how often: looked at before a form or a file is read."""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Callable
from typing import Any, Final

from django.conf import settings
from django.http import HttpResponse

from rickyard.web.asked import address_of_asker
from rickyard.web.pages import fault

#: Thirty reports at once; or what somebody sends who is not signed in: an email, a name, a
#: password. [bytes]
MOST_SENT: Final = 64_000_000
MOST_SENT_BY_NOBODY: Final = 20_000

#: So many pages a minute nobody reads. An office may sit behind one address (common practice, no
#: published source).
MOST_A_MINUTE: Final = 600
_MINUTE: Final = 60.0

#: What ends a line or a page, or moves a place within one, stands in a text that was typed or
#: pasted; no other sign that cannot be seen does, and databases refuse the first of them.
_UNSEEN: Final = frozenset(map(chr, range(32))) - frozenset("\t\n\v\f\r")

_TOO_LARGE: Final = (
    "Nothing was kept. Bring in fewer files at once: together they may be as large as 64 MB, and "
    "each 10 MB."
)
_TOO_OFTEN: Final = "Nothing was written. Wait a minute, then load the page again."
_NOT_TEXT: Final = "Nothing was written. Something that was sent holds signs that are no text."


class Limits:
    """Refuses what is too large or comes too often, before any of it is read, and what is no text.

    Counted is in this process alone: that costs nothing, and several only let more through.
    """

    def __init__(self, answer: Callable[[Any], HttpResponse]) -> None:
        self._answer = answer
        self._minute, self._seen = 0, Counter[str]()

    def __call__(self, request: Any) -> HttpResponse:
        """Pass on what was asked, unless it is too much."""
        nobody = not hasattr(request, "person")
        if _length(request) > (MOST_SENT_BY_NOBODY if nobody else MOST_SENT):
            return fault(request, 413, "That is more than is taken at once.", _TOO_LARGE)
        if settings.RICKYARD_SHARED and self._is_often(_who(request)):
            answer = fault(request, 429, "That was too often.", _TOO_OFTEN)
            answer.headers["Retry-After"] = str(int(_MINUTE))
            return answer
        return self._answer(request)

    def process_view(self, request: Any, *_: Any) -> HttpResponse | None:
        """Refuse what is no text, wherever it was typed."""
        texts = [request.path]
        for said in (request.GET, request.POST):
            for name, values in said.lists():
                texts += [name, *values]
        if any(_UNSEEN.intersection(text) for text in texts):
            return fault(request, 400, "This was not understood.", _NOT_TEXT)
        return None

    def _is_often(self, who: str) -> bool:
        minute = int(time.monotonic() / _MINUTE)
        if minute != self._minute:
            self._minute, self._seen = minute, Counter()
        self._seen[who] += 1
        return self._seen[who] > MOST_A_MINUTE


def _length(request: Any) -> int:
    """Return how much is sent: what says nothing of its length is not read at all."""
    said = str(request.META.get("CONTENT_LENGTH") or "0")
    return int(said) if said.isascii() and said.isdigit() else 0


def _who(request: Any) -> str:
    person = getattr(request, "person", None)
    return address_of_asker(request) if person is None else str(person.id)
