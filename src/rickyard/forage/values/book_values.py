"""Typical composition by forage, to stand in for what no laboratory has measured.

A book value is a placeholder: the lot it stands for may differ widely. Each value carries its
source and how well it is known.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Final

from rickyard.farm import Forage, Package
from rickyard.forage import shipped_rows

#: How far one lot commonly lies from a table value, in percent of the value (Beef magazine and
#: Colorado State University fact sheet 1.615).
ORGANIC_SPREAD_PCT: Final = 15.0
MINERAL_SPREAD_PCT: Final = 30.0
ENERGY_SPREAD_PCT: Final = 10.0
SPREAD_SOURCE: Final = "Colorado State University fact sheet 1.615, notes on typical values"

#: A forage in field words, to stand in a sentence.
FORAGE_WORDS: Final[dict[Forage, str]] = {
    Forage.ALFALFA: "alfalfa",
    Forage.CLOVER: "clover",
    Forage.LEGUME_GRASS: "legume-grass mixture",
    Forage.COOL_GRASS: "cool-season grass",
    Forage.ANNUAL_RYEGRASS: "annual ryegrass",
    Forage.WARM_GRASS: "warm-season grass",
    Forage.SUMMER_ANNUAL: "summer annual grass",
    Forage.SMALL_GRAIN: "small-grain forage",
    Forage.PRAIRIE: "prairie hay",
    Forage.STRAW: "straw or stalks",
    Forage.CORN_SILAGE: "corn silage",
}

_ANY: Final = "any"


@dataclass(frozen=True, slots=True)
class BookValue:
    """A typical value in percent of dry matter (dry matter itself: percent as fed).

    Means, never ends of a range. ``evidence`` is ``seen`` in a published table, ``from memory`` or
    ``common practice``.
    """

    value: float
    evidence: str
    source: str


def book_value(forage: Forage, quantity: str) -> BookValue:
    """Return the typical value of a forage.

    Parameters
    ----------
    forage : Forage
        What the lot is made of.
    quantity : str
        ``cp_pct``, ``adf_pct``, ``ndf_pct``, ``tdn_pct``, ``ca_pct`` or ``p_pct``. Another raises
        ``KeyError``.

    Returns
    -------
    BookValue
        The value with its source. [% DM]

    Examples
    --------
    >>> book_value(Forage.COOL_GRASS, "cp_pct").value
    9.2
    >>> book_value(Forage.CLOVER, "p_pct").evidence
    'from memory'
    """
    return _table()[forage.value, quantity]


def book_dm(forage: Forage, package: Package) -> BookValue:
    """Return the dry matter to count with when none was measured.

    Parameters
    ----------
    forage : Forage
        What the lot is made of.
    package : Package
        How it is put up.

    Returns
    -------
    BookValue
        The dry matter with its source. [% as fed]

    Examples
    --------
    >>> book_dm(Forage.COOL_GRASS, Package.ROUND).value
    88.0
    >>> book_dm(Forage.SMALL_GRAIN, Package.BALEAGE).value
    50.0
    """
    if forage is Forage.CORN_SILAGE:
        return _table()[forage.value, "dm_pct"]
    kind = "dm_baleage_pct" if package is Package.BALEAGE else "dm_hay_pct"
    return _table()[_ANY, kind]


@cache
def _table() -> dict[tuple[str, str], BookValue]:
    return {
        (row["forage"], row["quantity"]): BookValue(
            float(row["value"]), row["evidence"], row["source"]
        )
        for row in shipped_rows("book_values.csv")
    }
