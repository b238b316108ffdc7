"""Words about people: what a role may do, and in what browser somebody is signed in."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from rickyard.book.acting import Role
from rickyard.display import count_text

_MAY: Final[Mapping[Role, str]] = {
    Role.PRODUCER: "everything, and lets others in",
    Role.SPECIALIST: "everything but let others in",
    Role.HELPER: "looks, feeds, counts, moves bales and notes the weather",
}

#: A browser names others beside itself; the first of these that it names is meant.
_BROWSERS: Final = ("Edg", "OPR", "Firefox", "Chrome", "Safari")
_CALLED: Final[Mapping[str, str]] = {"Edg": "Edge", "OPR": "Opera"}
_SYSTEMS: Final = ("Android", "iPhone", "iPad", "Windows", "Mac OS", "Linux")


def role_text(role: Role) -> str:
    """Return what a role may do.

    Parameters
    ----------
    role : Role
        The role.

    Returns
    -------
    str
        Words.
    """
    return _MAY[role]


def browser_text(said: str) -> str:
    """Return what a browser is called, by what it says of itself.

    Parameters
    ----------
    said : str
        Its header ``User-Agent``.

    Returns
    -------
    str
        The browser and its system, as far as they are known.

    Examples
    --------
    >>> browser_text("Mozilla/5.0 (X11; Linux x86_64; rv:140.0) Gecko/20100101 Firefox/140.0")
    'Firefox on Linux'
    >>> browser_text("")
    'A browser'
    """
    name = next((one for one in _BROWSERS if one in said), "")
    system = next((one for one in _SYSTEMS if one in said), "")
    called = _CALLED.get(name, name) or "A browser"
    return f"{called} on {system}" if system else called


def people_answer(count: int) -> str:
    """Return the answer over the people of a farm.

    Parameters
    ----------
    count : int
        How many are in.

    Returns
    -------
    str
        A sentence.
    """
    if not count:
        return "Nobody is in on this farm by an account."
    one = count == 1
    return f"{count_text(count, 'person')} {'is' if one else 'are'} in on this farm.".replace(
        "persons", "people"
    )


def account_answer(count: int) -> str:
    """Return the answer over one's own account.

    Parameters
    ----------
    count : int
        In how many browsers it is signed in.

    Returns
    -------
    str
        A sentence.
    """
    return f"You are signed in with {count_text(count, 'browser')}."
