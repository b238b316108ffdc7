"""What a lot is worth by its energy and protein, at the prices of other feeds.

Two feeds that a farm can buy, one cheap in energy and one cheap in protein, give a price to
each; the lot is worth what it holds of both. Distance, palatability and fiber are not in it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import product
from typing import Final

from rickyard.farm import Feed, FeedKind
from rickyard.forage.uncertainty import Measured, first_order_sd
from rickyard.forage.values import feed_row
from rickyard.hay.money import nutrient_prices, petersen_value
from rickyard.quantities import KG_PER_LB, KG_PER_SHORT_TON, KG_PER_TONNE, OutOfRange

WORTH_SOURCE: Final = (
    "Two-nutrient method (Petersen), St-Pierre 2001, Advances in Dairy Technology 13:127; it "
    "takes markets to price feeds by energy and protein alone. It is what these would cost in "
    "other feeds, not a price that hay is bought or sold at"
)
#: A percentage of dry matter times the percentage of dry matter, as a fraction as fed.
_OF_PERCENTS: Final = 1e-4
#: Feeds that are bought for neither energy nor protein.
_NOT_PRICED: Final = frozenset({FeedKind.MINERAL})


@dataclass(frozen=True, slots=True)
class NutrientPrices:
    """What energy and protein cost, and where the prices come from."""

    tdn_usd_per_kg: float
    cp_usd_per_kg: float
    origin: str

    def sentence(self) -> str:
        """Say the prices with their units.

        Examples
        --------
        >>> print(NutrientPrices(0.1605, 0.6678, "stated").sentence())
        TDN at $0.073 and protein at $0.303 a pound ($0.161 and $0.668 a kilogram), stated
        """
        tdn, cp = self.tdn_usd_per_kg, self.cp_usd_per_kg
        return (
            f"TDN at ${tdn * KG_PER_LB:.3f} and protein at ${cp * KG_PER_LB:.3f} a pound "
            f"(${tdn:.3f} and ${cp:.3f} a kilogram), {self.origin}"
        )


def prices_of_feeds(feeds: Sequence[Feed]) -> NutrientPrices | None:
    """Price energy and protein by the farm's cheapest source of each.

    The feed that sells TDN cheapest and the one that sells protein cheapest are solved together;
    where they are one feed, or the solution makes a nutrient worth less than nothing, the next
    cheapest source of energy is taken, then of protein.

    Parameters
    ----------
    feeds : sequence of Feed
        What the farm can buy; what a feed does not state is taken from the shipped table.

    Returns
    -------
    NutrientPrices or None
        ``None`` when no two feeds tell the prices apart. [$/kg]

    Examples
    --------
    >>> corn = Feed("corn", "Corn", FeedKind.GRAIN, 160.71 / 907.18474, "", 88.0, 88.0, 9.0)
    >>> meal = Feed("meal", "Meal", FeedKind.SUPPLEMENT, 400.0 / 907.18474, "", 89.0, 84.0, 54.0)
    >>> prices = prices_of_feeds([meal, corn])
    >>> round(prices.tdn_usd_per_kg * KG_PER_LB, 4), round(prices.cp_usd_per_kg * KG_PER_LB, 4)
    (0.0728, 0.3029)
    """
    known = [one for one in map(_as_fed, feeds) if one is not None]
    by_energy = sorted(known, key=lambda one: one.usd_per_kg / one.tdn)
    by_protein = sorted(known, key=lambda one: one.usd_per_kg / one.cp)
    for protein, energy in product(by_protein, by_energy):
        if protein is energy:
            continue
        try:
            tdn, cp = nutrient_prices(
                (energy.tdn, energy.cp, energy.usd_per_kg),
                (protein.tdn, protein.cp, protein.usd_per_kg),
            )
        except OutOfRange:
            continue
        return NutrientPrices(tdn, cp, f"from the prices of {energy.name} and {protein.name}")
    return None


def lot_worth(measured: Mapping[str, Measured], prices: NutrientPrices) -> Measured:
    """Value a lot as fed by its energy and protein.

    Source: Petersen method, in St-Pierre (2001), Advances in Dairy Technology 13:127.

    Parameters
    ----------
    measured : mapping of str to Measured
        ``tdn_pct``, ``cp_pct`` and ``dm_pct`` of the lot. [% DM; % as fed]
    prices : NutrientPrices
        What the two cost. [$/kg]

    Returns
    -------
    Measured
        Value as fed, with the error of the test; that of the prices is not in it. [$/kg]

    Examples
    --------
    >>> hay = {"tdn_pct": Measured.normal(56.0, 0.0, "", ""),
    ...        "cp_pct": Measured.normal(10.0, 0.0, "", ""),
    ...        "dm_pct": Measured.normal(88.0, 0.0, "", "")}
    >>> prices = NutrientPrices(0.0728 / KG_PER_LB, 0.3029 / KG_PER_LB, "")
    >>> round(lot_worth(hay, prices).value * KG_PER_SHORT_TON, 2)
    125.06
    """
    tdn, cp, dm = (measured[name] for name in ("tdn_pct", "cp_pct", "dm_pct"))
    energy, protein = prices.tdn_usd_per_kg, prices.cp_usd_per_kg
    value = petersen_value((energy, protein), tdn.value, cp.value, dm.value)
    per_point = dm.value * _OF_PERCENTS
    slopes = (energy * per_point, protein * per_point, value / dm.value)
    sd = float(first_order_sd(slopes, (tdn.sd, cp.sd, dm.sd)))
    return Measured.normal(value, sd, "$/kg as fed", f"{tdn.reason}; prices taken as true")


def worth_sentence(
    worth: Measured, units: str = "us", stated_usd_per_kg: float | None = None
) -> str:
    """Say what a lot is worth, with unit, basis and interval.

    Parameters
    ----------
    worth : Measured
        From ``lot_worth``. [$/kg as fed]
    units : str
        ``us`` for short tons, ``metric`` for tonnes.
    stated_usd_per_kg : float, optional
        What the farm says that the hay would bring. [$/kg as fed]

    Returns
    -------
    str
        The sentence; the prices it rests on are told apart.

    Examples
    --------
    >>> print(worth_sentence(Measured.normal(0.1379, 0.005, "$/kg as fed", ""), "us", 0.086))
    By its energy and protein it is worth about $125 a ton as fed (90% range $118-133); you \
valued it at $78.
    """
    scale, ton = (KG_PER_SHORT_TON, "ton") if units == "us" else (KG_PER_TONNE, "tonne")
    value, low, high = (scale * one for one in (worth.value, worth.low, worth.high))
    said = (
        "" if stated_usd_per_kg is None else f"; you valued it at ${scale * stated_usd_per_kg:,.0f}"
    )
    return (
        f"By its energy and protein it is worth about ${value:,.0f} a {ton} as fed (90% range "
        f"${low:,.0f}-{high:,.0f}){said}."
    )


@dataclass(frozen=True, slots=True)
class _AsFed:
    """One feed: TDN and protein in a kilogram as fed, and its price."""

    name: str
    tdn: float
    cp: float
    usd_per_kg: float


def _as_fed(feed: Feed) -> _AsFed | None:
    if feed.kind in _NOT_PRICED:
        return None
    row = feed_row(feed.table_id) if feed.table_id else None
    dm = feed.dm_pct if feed.dm_pct is not None else row and row.dm_pct
    tdn = feed.tdn_pct if feed.tdn_pct is not None else row and row.recommended_tdn_pct
    cp = feed.cp_pct if feed.cp_pct is not None else row and row.cp_pct
    if not dm or not tdn or not cp or not feed.price_usd_per_kg > 0.0:
        return None
    return _AsFed(feed.name, dm * tdn * _OF_PERCENTS, dm * cp * _OF_PERCENTS, feed.price_usd_per_kg)
