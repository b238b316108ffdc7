"""Codes of six figures that a phone makes from the time: RFC 6238, on the HMAC of RFC 4226."""

from __future__ import annotations

import base64
import hashlib
import hmac
import secrets
from datetime import datetime
from typing import Final
from urllib.parse import quote

#: A code holds so long. [s]
STEP: Final = 30

#: A secret has as many bits as the digest that it goes into (RFC 4226, 4, R6). [bytes]
_LENGTH: Final = 20

#: So many steps before and after are taken too: clocks differ (RFC 6238, 5.2).
AROUND: Final = 1


def new_secret() -> str:
    """Return a secret for codes.

    Returns
    -------
    str
        160 bits in base 32, as an app takes it.
    """
    return base64.b32encode(secrets.token_bytes(_LENGTH)).decode("ascii")


def is_secret(said: str) -> bool:
    """Return whether a text can be a secret of `new_secret`: a shorter one could be guessed.

    Parameters
    ----------
    said : str
        The text.

    Returns
    -------
    bool
        Whether it is base 32 of 160 bits.

    Examples
    --------
    >>> is_secret(new_secret()), is_secret("AAAA"), is_secret("no secret")
    (True, False, False)
    """
    try:
        return len(base64.b32decode(said)) == _LENGTH
    except ValueError:
        return False


def code_of(secret: str, step: int, figures: int = 6) -> str:
    """Return the code of a step of time.

    Parameters
    ----------
    secret : str
        In base 32.
    step : int
        How many steps of `STEP` seconds went by since 1970.
    figures : int
        How long the code is.

    Returns
    -------
    str
        The code.

    Examples
    --------
    >>> code_of(base64.b32encode(b"12345678901234567890").decode(), 59 // STEP, 8)
    '94287082'
    """
    key = base64.b32decode(secret)
    digest = hmac.digest(key, step.to_bytes(8, "big"), hashlib.sha1)
    start = digest[-1] & 15
    number = int.from_bytes(digest[start : start + 4], "big") & 0x7FFF_FFFF
    return str(number % 10**figures).zfill(figures)


def step_of(secret: str, said: str, after: int | None, now: datetime) -> int | None:
    """Return the step whose code was said; each is taken once.

    Parameters
    ----------
    secret : str
        In base 32.
    said : str
        The code; blanks in it are passed over.
    after : int or None
        The step that was used last: it and those before it are taken no more. One that is yet to
        come was used by a clock that was set back since, and bars nobody.
    now : datetime
        The moment.

    Returns
    -------
    int or None
        The step; ``None`` where it is none.
    """
    plain = "".join(said.split())
    middle = int(now.timestamp()) // STEP
    if after is not None and after > middle + AROUND:
        after = None
    for step in range(middle - AROUND, middle + AROUND + 1):
        right = hmac.compare_digest(code_of(secret, step).encode(), plain.encode())
        if right and (after is None or step > after):
            return step
    return None


def address_for_app(secret: str, email: str) -> str:
    """Return the address that an app for codes opens.

    Parameters
    ----------
    secret : str
        In base 32.
    email : str
        Whose it is.

    Returns
    -------
    str
        An address of the kind ``otpauth``.

    Examples
    --------
    >>> address_for_app("ABC", "kim@example.org")
    'otpauth://totp/Rickyard:kim%40example.org?secret=ABC&issuer=Rickyard'
    """
    return f"otpauth://totp/Rickyard:{quote(email, safe='')}?secret={secret}&issuer=Rickyard"
