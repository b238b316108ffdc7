"""The address of each farm: its name as it can stand in an address."""

from __future__ import annotations

import re
import unicodedata
from collections import Counter
from collections.abc import Iterable

from rickyard.book.services import FarmThere
from rickyard.service import held_by_object


def address_of(name: str) -> str:
    """Return a name as it stands in an address.

    Parameters
    ----------
    name : str
        The name of a farm.

    Returns
    -------
    str
        Small letters, figures and hyphens; ``farm`` where nothing of that is in it.

    Examples
    --------
    >>> address_of("Müller's Hill Farm"), address_of("...")
    ('muller-s-hill-farm', 'farm')
    """
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().casefold()
    return "-".join(re.findall("[a-z0-9]+", plain)) or "farm"


#: Addresses that are no farm's.
TAKEN = frozenset(
    {
        "account",
        "deleted",
        "due",
        "invitation",
        "labs",
        "language",
        "letter",
        "prices",
        "s",
        "short",
        "sign-in",
        "sign-out",
        "start",
        "static",
    }
)


@held_by_object(64)
def addresses(farms: Iterable[FarmThere]) -> dict[str, FarmThere]:
    """Return farms by their addresses; where two would be the same, with a part of the id.

    Parameters
    ----------
    farms : iterable of FarmThere
        All farms that somebody may see.

    Returns
    -------
    dict of str to FarmThere
        The farm by its address.
    """
    listed = list(farms)
    plain = [address_of(one.name) for one in listed]
    many = Counter(plain)
    found = {}
    for one, address in zip(listed, plain, strict=True):
        alone = many[address] == 1 and address not in TAKEN
        found[address if alone else f"{address}-{one.farm.hex[:8]}"] = one
    return found
