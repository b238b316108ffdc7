"""Secrets that are handed out once, and what is kept of them: a digest, and until when."""

from __future__ import annotations

import hashlib
import secrets
from datetime import UTC, datetime


def new_code() -> str:
    """Return a secret that nobody guesses.

    Returns
    -------
    str
        32 bytes made by chance, fit for an address or a cookie.
    """
    return secrets.token_urlsafe(32)


def digest_of(code: str) -> str:
    """Return what is kept of a secret.

    Parameters
    ----------
    code : str
        The secret: long and made by chance, so that a plain digest tells nothing of it.

    Returns
    -------
    str
        Its SHA-256.

    Examples
    --------
    >>> digest_of("hay")[:8]
    '4e30ea25'
    """
    return hashlib.sha256(code.encode()).hexdigest()


def at(moment: datetime | None) -> datetime:
    """Return a moment, now where none is said.

    Parameters
    ----------
    moment : datetime or None
        The moment.

    Returns
    -------
    datetime
        It, or now.
    """
    return datetime.now(UTC) if moment is None else moment
