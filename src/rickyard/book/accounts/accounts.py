"""Accounts: made, found, given another password, closed."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, Final

from django.contrib.auth.hashers import make_password
from django.contrib.auth.password_validation import (
    CommonPasswordValidator,
    MinimumLengthValidator,
    UserAttributeSimilarityValidator,
    validate_password,
)
from django.core.exceptions import ValidationError
from django.core.validators import validate_email
from django.db import IntegrityError, transaction

from rickyard.book import records
from rickyard.book.acting import NotTaken
from rickyard.display import count_text

#: A password has so many characters. One alone keeps the book: a long one of plain words is good
#: (common practice, no published source).
LEAST_PASSWORD: Final = 12
#: Longer ones are refused, not cut (OWASP ASVS 4.0.3, 2.1.2).
LONGEST_PASSWORD: Final = 128
#: So much is kept of a name, and of what a browser says of itself.
LONGEST: Final = 500
#: One that repeats so short a piece, or that so few signs make, is found as soon as a common one
#: (common practice, no published source).
_PIECE: Final = 6
_FEWEST_SIGNS: Final = 5

_RULES: Final = (
    MinimumLengthValidator(LEAST_PASSWORD),
    CommonPasswordValidator(),
    UserAttributeSimilarityValidator(("name", "email")),
)


def plain_email(said: str) -> str:
    """Return an email address as accounts are found by.

    Parameters
    ----------
    said : str
        As it was typed.

    Returns
    -------
    str
        Without blanks around it, in small letters.

    Examples
    --------
    >>> plain_email(" Kim@Example.org ")
    'kim@example.org'
    """
    return said.strip().casefold()


def account_of(email: str) -> Any:
    """Return the account of an email address.

    Parameters
    ----------
    email : str
        The address as it was typed.

    Returns
    -------
    records.Account or None
        The account; ``None`` where there is none.
    """
    return records.Account.objects.filter(email=plain_email(email)).first()


@dataclass(frozen=True, slots=True)
class Listed:
    """An account in a list. ``told`` says who it is and how it is used."""

    email: str
    told: str


def every_account() -> tuple[Listed, ...]:
    """Return all accounts of the book.

    Returns
    -------
    tuple of Listed
        By email.
    """
    often = Counter(records.SignedIn.objects.values_list("account_id", flat=True))
    rows = records.Account.objects.select_related("person").order_by("email")
    return tuple(
        Listed(
            one.email,
            f"{one.person.name}, signed in with {count_text(often[one.id], 'browser')}"
            f"{', with codes' if one.secret else ''}",
        )
        for one in rows
    )


def add_account(name: str, email: str, password: str) -> Any:
    """Make a person with an account.

    Parameters
    ----------
    name : str
        What the person is called in the trail.
    email : str
        What they sign in with.
    password : str
        Their password.

    Returns
    -------
    records.Person
        The person.

    Raises
    ------
    NotTaken
        If the name is empty, the email is none or has an account, or the password is weak.
    """
    person = records.Person(name=" ".join(name.split()), email=plain_email(email))
    if not person.name or len(person.name) > LONGEST:
        raise NotTaken("Write a name: it stands beside all that this person writes.")
    try:
        validate_email(person.email)
    except ValidationError as error:
        raise NotTaken(
            f'"{email[:100]}" is no email address. Write one such as kim@example.org.'
        ) from error
    hashed = hash_of(password, person)
    try:
        with transaction.atomic():
            person.save()
            records.Account.objects.create(person=person, email=person.email, password=hashed)
    except IntegrityError as error:
        raise NotTaken(
            f"{person.email} has an account in this book. Sign in with it, then open the "
            "invitation again."
        ) from error
    return person


def hash_of(password: str, person: Any) -> str:
    """Return the hash of a password that is good enough.

    Parameters
    ----------
    password : str
        The password.
    person : records.Person
        Whose it is: it may not be like their name.

    Returns
    -------
    str
        The hash.

    Raises
    ------
    NotTaken
        If it is too weak; the message says why.
    """
    if len(password) > LONGEST_PASSWORD:
        raise NotTaken(
            f"The password is longer than {LONGEST_PASSWORD} characters. Write a shorter one."
        )
    try:
        # Blanks in a row count once: they are soon tried.
        validate_password(" ".join(password.split()), person, _RULES)
    except ValidationError as error:
        raise NotTaken(" ".join((*error.messages, "Three or four plain words do."))) from error
    if is_monotonous(password):
        raise NotTaken("The password says the same again and again. Three or four plain words do.")
    return str(make_password(password))


def is_monotonous(password: str) -> bool:
    """Return whether a password repeats a short piece, counts on, or is made of very few signs.

    Parameters
    ----------
    password : str
        The password.

    Returns
    -------
    bool
        Whether it is soon found, however long it is.

    Examples
    --------
    >>> [is_monotonous(one) for one in ("haybale haybale", "hayhayhayhay", "abcdefghijklm")]
    [False, True, True]
    """
    steps = {ord(after) - ord(before) for before, after in pairwise(password)}
    repeats = any(
        password == (password[:size] * len(password))[: len(password)]
        for size in range(1, min(_PIECE, len(password) // 2) + 1)
    )
    return repeats or len(steps) < 2 or len(set(password)) < _FEWEST_SIGNS


def set_password(account: Any, password: str, *, without_codes: bool = False) -> None:
    """Give an account another password, and sign it out everywhere.

    Parameters
    ----------
    account : records.Account
        The account.
    password : str
        The new password.
    without_codes : bool
        Whether codes of a phone are asked for no more: it may be lost.

    Raises
    ------
    NotTaken
        If it is too weak.
    """
    account.password = hash_of(password, account.person)
    account.secret = "" if without_codes else account.secret
    with transaction.atomic():
        account.save(update_fields=["password", "secret"])
        records.SignedIn.objects.filter(account=account).delete()


def close_account(account: Any) -> None:
    """Close an account: nobody signs in with it any more, and it is signed out everywhere.

    Links that the person made, to let somebody in or to show a lot, end with it: whoever leaves
    could have kept one.

    Parameters
    ----------
    account : records.Account
        The account. What the person wrote stays, with their name.
    """
    with transaction.atomic():
        records.Invitation.objects.filter(invited_by=account.person).delete()
        records.Share.objects.filter(shared_by=account.person).delete()
        records.SignedIn.objects.filter(account=account).delete()
        account.delete()
