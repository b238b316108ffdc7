"""The list of farms, and the address of each: its name as it can stand in an address."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from rickyard.book.services import FarmThere
from rickyard.display import clean, count_text, display_for


@dataclass(frozen=True, slots=True)
class FarmRow:
    """A farm in the list of farms."""

    address: str
    name: str
    place: str
    season: str


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
TAKEN = frozenset({"account", "invitation", "s", "sign-in", "sign-out", "start", "static"})


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
    found = {}
    for one, address in zip(listed, plain, strict=True):
        alone = plain.count(address) == 1 and address not in TAKEN
        found[address if alone else f"{address}-{one.farm.hex[:8]}"] = one
    return found


def farms_answer(count: int) -> str:
    """Return the answer over a list of farms.

    Parameters
    ----------
    count : int
        How many there are.

    Returns
    -------
    str
        A sentence.
    """
    if not count:
        return "No farm stands in this book yet."
    return f"{count_text(count, 'farm')} {'stands' if count == 1 else 'stand'} in this book."


def farm_rows(farms: Mapping[str, FarmThere]) -> tuple[FarmRow, ...]:
    """Return the list of farms.

    Parameters
    ----------
    farms : mapping of str to FarmThere
        Farms by their addresses.

    Returns
    -------
    tuple of FarmRow
        A row for each.
    """
    rows = []
    for address, one in farms.items():
        day = display_for(one.units).day_year_text
        span = f"{day(one.start)} to {day(one.end)}"
        rows.append(FarmRow(address, clean(one.name), clean(one.place), span))
    return tuple(rows)
