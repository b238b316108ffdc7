"""The cheapest packages of a laboratory that hold every test wanted.

A small exact set cover: whichever wanted test is held by the fewest packages is settled first,
and branches that cannot beat the best found are dropped.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import reduce
from operator import or_
from types import MappingProxyType
from typing import Final

from rickyard.farm import LabPackage
from rickyard.hay.sampling.analyses import Wanted

#: What else settles a test that is wanted.
HELD_BY: Final[Mapping[str, frozenset[str]]] = MappingProxyType(
    {
        "dm": frozenset({"dm", "moisture"}),
        "nitrate": frozenset({"nitrate", "nitrate_no3n", "nitrate_no3", "nitrate_kno3"}),
        "tdn": frozenset({"tdn", "nem", "adf"}),  # computed from fiber where it is not printed
        "rfv": frozenset({"rfv", "adf"}),
        "ph": frozenset({"ph", "fermentation"}),
        "mold": frozenset({"mold", "mycotoxins"}),
    }
)


@dataclass(frozen=True, slots=True)
class Order:
    """What to order from one laboratory: packages, their price, and what none of them holds."""

    lab: str
    packages: tuple[LabPackage, ...]
    price_usd: float
    missing: tuple[Wanted, ...]

    @property
    def working_days(self) -> int | None:
        """Return the days of the slowest package, or ``None`` when one does not say."""
        days = [one.working_days for one in self.packages]
        known = [one for one in days if one is not None]
        return max(known, default=None) if len(known) == len(days) else None


def holds(package: LabPackage, wanted: Wanted) -> bool:
    """Return whether a package settles a test; one known to be NIR does not settle a wet test.

    >>> nir = LabPackage("County", "Basic", 16.0, "dm cp adf ndf cu", "NIR")
    >>> holds(nir, Wanted("tdn", "", "")), holds(nir, Wanted("cu", "", "", wet=True))
    (True, False)
    """
    if wanted.wet and package.chemistry.strip().casefold() in ("nir", "nirs"):
        return False
    return not HELD_BY.get(wanted.test, frozenset({wanted.test})).isdisjoint(package.names)


def cheapest_order(packages: Sequence[LabPackage], wanted: Sequence[Wanted]) -> Order | None:
    """Find what to order, and where.

    Parameters
    ----------
    packages : sequence of LabPackage
        What the farm's laboratories sell.
    wanted : sequence of Wanted
        The tests.

    Returns
    -------
    Order or None
        The laboratory that leaves the fewest tests out, and of those the cheapest; all packages
        of one order are of one laboratory, for a bag of cores is not divided. ``None`` when no
        laboratory sells any of the tests.

    Examples
    --------
    >>> sold = [LabPackage("County", "Basic", 16.0, "dm cp adf ndf"),
    ...         LabPackage("County", "Nitrate", 7.0, "nitrate_no3n"),
    ...         LabPackage("County", "All", 22.0, "dm cp adf ndf nitrate_no3n")]
    >>> order = cheapest_order(sold, [Wanted("cp", "", ""), Wanted("nitrate", "", "", wet=True)])
    >>> [one.package for one in order.packages], order.price_usd
    (['All'], 22.0)
    """
    orders = [
        order
        for lab in dict.fromkeys(one.lab for one in packages)
        if (order := _order_of(lab, [one for one in packages if one.lab == lab], wanted)).packages
    ]
    return min(orders, key=lambda order: (len(order.missing), order.price_usd), default=None)


def _order_of(lab: str, packages: Sequence[LabPackage], wanted: Sequence[Wanted]) -> Order:
    masks = [
        sum(1 << place for place, one in enumerate(wanted) if holds(package, one))
        for package in packages
    ]
    possible = reduce(or_, masks)
    missing = tuple(one for place, one in enumerate(wanted) if not possible >> place & 1)
    chosen = _cover(masks, [one.price_usd for one in packages], possible)
    price = math.fsum(packages[at].price_usd for at in chosen)
    return Order(lab, tuple(packages[at] for at in sorted(chosen)), price, missing)


def _cover(masks: Sequence[int], prices: Sequence[float], target: int) -> tuple[int, ...]:
    """Return the cheapest choice whose masks together hold the target; fewer packages if equal."""
    best: tuple[float, int, tuple[int, ...]] = (math.inf, len(masks), ())

    def search(left: int, chosen: tuple[int, ...]) -> None:
        nonlocal best
        price = math.fsum(prices[at] for at in chosen)
        if not left:
            best = min(best, (price, len(chosen), tuple(sorted(chosen))))
        elif price <= best[0]:
            for at in _rarest(masks, left):
                search(left & ~masks[at], (*chosen, at))

    search(target, ())
    return best[2]


def _rarest(masks: Sequence[int], left: int) -> list[int]:
    """Return the packages that hold whichever test still wanted is held by the fewest."""
    wanted = (1 << place for place in range(left.bit_length()) if left >> place & 1)
    return min(([at for at, mask in enumerate(masks) if mask & bit] for bit in wanted), key=len)
