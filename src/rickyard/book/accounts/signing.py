"""Signing in and out, and where somebody is signed in."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any, Final
from uuid import UUID

from django.contrib.auth.hashers import check_password, make_password
from django.db.models import Q

from rickyard.book import records
from rickyard.book.accounts.accounts import LONGEST, account_of, plain_email, set_password
from rickyard.book.accounts.codes import at, digest_of, new_code
from rickyard.book.accounts.tries import count_tries, forget_tries
from rickyard.book.accounts.two_step import AROUND, is_secret, step_of
from rickyard.book.acting import NotThere
from rickyard.book.base import BookProblem

#: How long somebody stays signed in, and on a browser that is to keep it (common practice, no
#: published source).
STAYS: Final = timedelta(hours=12)
STAYS_KEPT: Final = timedelta(days=30)

#: That a browser was seen is written no more often.
_SEEN_EVERY: Final = timedelta(minutes=5)

_WRONG: Final = (
    "Email, password and code do not fit together. Try again, or ask whoever looks after the book "
    "for a new password (rickyard people password)."
)


class NotSignedIn(BookProblem):
    """Email, password and code do not fit together."""


@dataclass(frozen=True, slots=True)
class Asking:
    """Who wants to sign in: email, password, code, from what address, in what browser."""

    email: str
    password: str
    code: str = ""
    address: str = ""
    browser: str = ""
    keep: bool = False


@dataclass(frozen=True, slots=True)
class Place:
    """A browser in which somebody is signed in."""

    id: UUID
    browser: str
    since: datetime
    seen_at: datetime


def sign_in(asking: Asking, now: datetime | None = None) -> str:
    """Sign somebody in.

    Parameters
    ----------
    asking : Asking
        Who, and with what.
    now : datetime, optional
        The moment.

    Returns
    -------
    str
        The token that the browser shows from now on.

    Raises
    ------
    TooOften
        If it was tried too often.
    NotSignedIn
        If what was said does not fit together; nothing tells what of it.
    """
    now = at(now)
    count_tries({"account": plain_email(asking.email), "address": asking.address}, now)
    account = account_of(asking.email)
    if account is None:
        make_password(asking.password)  # It takes as long as where there is one.
        raise NotSignedIn(_WRONG)
    is_right = check_password(asking.password, account.password)
    if not is_right or not _code_fits(account, asking.code, now):
        raise NotSignedIn(_WRONG)
    forget_tries("account", account.email)
    records.SignedIn.objects.filter(until__lt=now).delete()
    token = new_code()
    records.SignedIn.objects.create(
        account=account,
        token_sha256=digest_of(token),
        browser=asking.browser[:LONGEST],
        since=now,
        seen_at=now,
        until=now + (STAYS_KEPT if asking.keep else STAYS),
    )
    return token


def change_password(account: Any, old: str, new: str, now: datetime | None = None) -> None:
    """Change a password for somebody who knows the old one; it signs out everywhere.

    Parameters
    ----------
    account : records.Account
        The account.
    old : str
        The password that it has.
    new : str
        The password that it is to have.
    now : datetime, optional
        The moment.

    Raises
    ------
    TooOften
        If it was tried too often.
    NotSignedIn
        If the old one is not right.
    NotTaken
        If the new one is too weak.
    """
    count_tries({"account": account.email}, at(now))
    if not check_password(old, account.password):
        raise NotSignedIn("The old password is not right. Nothing was changed.")
    set_password(account, new)
    forget_tries("account", account.email)


def ask_codes(
    account: Any, password: str, secret: str, said: str, now: datetime | None = None
) -> None:
    """Ask for codes of a phone from now on when somebody signs in to an account.

    Parameters
    ----------
    account : records.Account
        The account.
    password : str
        The password that it has: who found a browser open locks nobody out.
    secret : str
        The secret that the phone was given, in base 32.
    said : str
        The code that it shows, so that nobody locks themselves out.
    now : datetime, optional
        The moment.

    Raises
    ------
    TooOften
        If it was tried too often.
    NotSignedIn
        If the password is not right, or the code is not that of the secret.
    """
    count_tries({"account": account.email}, at(now))
    if not check_password(password, account.password):
        raise NotSignedIn("The password is not right. Nothing was changed.")
    step = step_of(secret, said, None, at(now)) if is_secret(secret) else None
    if step is None:
        raise NotSignedIn(
            "That is not the code of this secret. Look whether the clock of the phone is right, "
            "and write the six figures that it shows now."
        )
    forget_tries("account", account.email)
    records.Account.objects.filter(id=account.id).update(secret=secret, step=step)


def _code_fits(account: Any, said: str, now: datetime) -> bool:
    """Return whether a code is right where one is asked for; each is taken once."""
    if not account.secret:
        return True
    step = step_of(account.secret, said, account.step, now)
    if step is None:
        return False
    to_come = Q(step__gt=step + 2 * AROUND)
    older = Q(step__isnull=True) | Q(step__lt=step) | to_come
    return bool(records.Account.objects.filter(older, id=account.id).update(step=step))


def signed_in(token: str, now: datetime | None = None) -> Any:
    """Return where a token is signed in.

    Parameters
    ----------
    token : str
        What the browser shows.
    now : datetime, optional
        The moment.

    Returns
    -------
    records.SignedIn or None
        With its account and person; ``None`` where it is of nobody, or ended.
    """
    now = at(now)
    rows = records.SignedIn.objects.filter(token_sha256=digest_of(token), until__gt=now)
    row = rows.select_related("account__person").first()
    if row is not None and now - row.seen_at > _SEEN_EVERY:
        rows.update(seen_at=now)
    return row


def places_of(account: Any, now: datetime | None = None) -> tuple[Place, ...]:
    """Return where an account is signed in, the one that was seen last first.

    Parameters
    ----------
    account : records.Account
        The account.
    now : datetime, optional
        The moment.

    Returns
    -------
    tuple of Place
        The browsers.
    """
    rows = records.SignedIn.objects.filter(account=account, until__gt=at(now)).order_by("-seen_at")
    return tuple(Place(row.id, row.browser, row.since, row.seen_at) for row in rows)


def sign_out(account: Any, place: UUID | None = None) -> int:
    """Sign an account out.

    Parameters
    ----------
    account : records.Account
        The account.
    place : UUID, optional
        The browser; everywhere if left out.

    Returns
    -------
    int
        In how many browsers it was signed in.

    Raises
    ------
    NotThere
        If a browser is named that is none of this account.
    """
    rows = records.SignedIn.objects.filter(account=account)
    if place is None:
        return int(rows.delete()[0])
    if not rows.filter(id=place).delete()[0]:
        raise NotThere
    return 1
