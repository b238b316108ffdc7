"""Signing in and trying links is limited, for each account and each address it comes from."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from datetime import datetime, timedelta
from typing import Final

from django.db import transaction
from django.db.models import Q

from rickyard.book import records
from rickyard.book.accounts.codes import digest_of
from rickyard.book.base import BookProblem

#: How often somebody may be wrong within a quarter of an hour: for an account, for an address,
#: behind which a whole office may sit, and with links that are none, from an address; and how often
#: a person may bring in files or start a farm (common practice, no published source).
MOST: Final[Mapping[str, int]] = {"account": 5, "address": 50, "link": 20, "files": 100, "farm": 10}

_WRONG: Final = "Somebody tried to sign in too often and was wrong."
_TOLD: Final[Mapping[str, str]] = {
    "link": "Somebody tried to open links that are none too often and was wrong.",
    "files": "You brought in very many files just now. Those that are not listed were not kept.",
    "farm": "You started many farms just now. Nothing was written.",
}

WITHIN: Final = timedelta(minutes=15)


class TooOften(BookProblem):
    """Somebody tried something too often."""


def count_tries(about: Mapping[str, str], now: datetime) -> None:
    """Count a try before it is made, so that many at once are counted too.

    Parameters
    ----------
    about : mapping of str to str
        The account and the address that it is about, by the words of `MOST`.
    now : datetime
        The moment.

    Raises
    ------
    TooOften
        If there were too many; this one is not made.
    """
    # What is of long ago counts no more, and what is yet to come is of a clock that was set back.
    is_over = Q(since__lt=now - WITHIN) | Q(since__gt=now + WITHIN)
    records.SignInTry.objects.filter(is_over).delete()
    with transaction.atomic():
        for kind, which in sorted(about.items()):
            row, is_new = records.SignInTry.objects.select_for_update().get_or_create(
                about_sha256=_of(kind, which), defaults={"since": now, "often": 1}
            )
            if is_new:
                continue
            if row.often >= MOST[kind]:
                minutes = max(1, round((row.since + WITHIN - now).total_seconds() / 60.0))
                raise TooOften(
                    f"{_TOLD.get(kind, _WRONG)} Try again in {minutes} "
                    f"minute{'s' if minutes != 1 else ''}."
                )
            row.often += 1
            row.save()


def forget_tries(kind: str, which: str) -> None:
    """Count no more what was tried before somebody was right.

    Parameters
    ----------
    kind : str
        A word of `MOST`.
    which : str
        The account or the address.
    """
    records.SignInTry.objects.filter(about_sha256=_of(kind, which)).delete()


def _of(kind: str, which: str) -> str:
    return digest_of(hashlib.sha256(f"{kind} {which}".encode()).hexdigest())
