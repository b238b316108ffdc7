"""Prices on one page: what hay costs in every way that counts, and what storing it well saves."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from rickyard.farm import Storage, Wrap
from rickyard.hay.common import require_positive
from rickyard.hay.feeding import lost
from rickyard.hay.money.investment import breakeven_cost, breakeven_price
from rickyard.hay.money.money import (
    delivered_price,
    dm_price,
    nutrient_cost,
    price_eaten,
    price_per_mass,
)
from rickyard.hay.money.worth import nutrient_prices, petersen_value
from rickyard.hay.storage import storage_loss_pct, storage_loss_remark
from rickyard.quantities import OutOfRange

# Corn and soybean meal, DM, TDN and CP, %: usual book values; common practice, no published
# source.
CORN_PCT: Final = (88.0, 88.0, 9.0)
MEAL_PCT: Final = (89.0, 84.0, 54.0)


@dataclass(frozen=True, slots=True)
class Offer:
    """Hay as it is offered. Prices are for its place; ``freight`` brings it home.

    ``usd_per_kg`` or ``usd_per_bale`` is the price; ``freight`` is dollars per kilometre loaded,
    kilometres, and kilograms on the truck.
    """

    bale_kg: float
    dm_pct: float
    usd_per_kg: float | None = None
    usd_per_bale: float | None = None
    cp_pct: float | None = None
    tdn_pct: float | None = None
    freight: tuple[float, float, float] | None = None
    storage_loss_pct: float = 0.0
    feeding_loss_pct: float = 0.0


@dataclass(frozen=True, slots=True)
class Market:
    """What corn and soybean meal cost as fed. [$/kg]."""

    corn_usd_per_kg: float
    meal_usd_per_kg: float


@dataclass(frozen=True, slots=True)
class HayPrice:
    """What an offer comes to, in dollars for each kilogram unless the name says otherwise.

    Nutrients are priced in the hay delivered; ``worth`` is what its energy and protein cost in
    corn and meal, with why not where that cannot be said.
    """

    usd_per_bale: float
    usd_per_kg: float
    delivered_usd_per_kg: float
    delivered_usd_per_kg_dm: float
    eaten_usd_per_kg: float
    eaten_usd_per_kg_dm: float
    cp_usd_per_kg: float | None
    tdn_usd_per_kg: float | None
    worth_usd_per_kg: float | None
    worth_remark: str


def hay_price(offer: Offer, market: Market | None = None) -> HayPrice:
    """Work out what an offer of hay comes to.

    Losses divide. The worth by corn and meal takes the market to pay for energy and protein
    alone.

    Source: Petersen method in St-Pierre (2001), Advances in Dairy Technology 13:127.

    Parameters
    ----------
    offer : Offer
        The offer, with one of the two prices. Neither or both, or a number out of range, raises
        ``OutOfRange``.
    market : Market, optional
        Prices of corn and soybean meal, for what the hay is worth by them.

    Returns
    -------
    HayPrice
        Its price in every way that counts.

    Examples
    --------
    >>> found = hay_price(Offer(499.0, 88.0, usd_per_bale=50.0, feeding_loss_pct=20.0))
    >>> round(found.usd_per_kg, 4), round(found.eaten_usd_per_kg, 4)
    (0.1002, 0.1253)
    """
    if (offer.usd_per_kg is None) == (offer.usd_per_bale is None):
        raise OutOfRange("give the price of a bale or of a ton, one of the two.")
    require_positive("bale weight", offer.bale_kg, "kg")
    if offer.usd_per_kg is None:
        price = float(price_per_mass(offer.usd_per_bale, offer.bale_kg))
    else:
        price = offer.usd_per_kg
    home = price if offer.freight is None else float(delivered_price(price, *offer.freight))
    eaten = float(price_eaten(home, offer.storage_loss_pct, offer.feeding_loss_pct))
    worth, remark = _worth(offer, market)
    return HayPrice(
        usd_per_bale=price * offer.bale_kg,
        usd_per_kg=price,
        delivered_usd_per_kg=home,
        delivered_usd_per_kg_dm=float(dm_price(home, offer.dm_pct)),
        eaten_usd_per_kg=eaten,
        eaten_usd_per_kg_dm=float(dm_price(eaten, offer.dm_pct)),
        cp_usd_per_kg=_nutrient(home, offer.cp_pct, offer.dm_pct),
        tdn_usd_per_kg=_nutrient(home, offer.tdn_pct, offer.dm_pct),
        worth_usd_per_kg=worth,
        worth_remark=remark,
    )


def _nutrient(price: float, nutrient_pct: float | None, dm_pct: float) -> float | None:
    if nutrient_pct is None:
        return None
    return float(nutrient_cost(price, 1.0, nutrient_pct, dm_pct))


def _worth(offer: Offer, market: Market | None) -> tuple[float | None, str]:
    if market is None:
        return None, "Give the prices of corn and soybean meal to price it against them."
    if offer.cp_pct is None or offer.tdn_pct is None:
        return None, "Give its protein and TDN to price it against corn and soybean meal."
    feeds = [
        (tdn * dm / 1e4, cp * dm / 1e4, price)
        for (dm, tdn, cp), price in (
            (CORN_PCT, market.corn_usd_per_kg),
            (MEAL_PCT, market.meal_usd_per_kg),
        )
    ]
    try:
        prices = nutrient_prices(feeds[0], feeds[1])
    except OutOfRange as error:
        return None, f"Corn and soybean meal cannot price this hay: {error}"
    return petersen_value(prices, offer.tdn_pct, offer.cp_pct, offer.dm_pct), ""


@dataclass(frozen=True, slots=True)
class WayOfStoring:
    """A way of storing and what it costs in a year for each kilogram stored. [$/kg]."""

    name: str
    storage: Storage
    usd_per_kg_year: float = 0.0
    wrap: Wrap | None = None


@dataclass(frozen=True, slots=True)
class StoragePrice:
    """What a way of storing comes to against the first, in dollars per kilogram stored.

    ``pays_from_usd_per_kg`` is the price of hay from which it pays; ``worth_up_to_usd_per_kg``
    the most it may cost at the price given. Both are ``None`` where it saves nothing. ``remark``
    says where the published losses do not reach.
    """

    way: WayOfStoring
    loss_pct: float
    lost_usd_per_kg: float
    fed_usd_per_kg: float
    pays_from_usd_per_kg: float | None
    worth_up_to_usd_per_kg: float | None
    remark: str = ""


def storage_prices(
    ways: Sequence[WayOfStoring], price: float, months: float, rain_mm_per_year: float
) -> tuple[StoragePrice, ...]:
    """Set ways of storing side by side, the first being what is done now.

    A ton fed costs the price and the storing, divided by what is left.

    Source: derived; losses from Huhnke, Oklahoma State BAE-1716.

    Parameters
    ----------
    ways : sequence of WayOfStoring
        The ways.
    price : float
        Price of the hay as stored. [$/kg]
    months : float
        Time in storage. [month]
    rain_mm_per_year : float
        Yearly rainfall. [mm]

    Returns
    -------
    tuple of StoragePrice
        In the order given.

    Examples
    --------
    >>> ground, barn = storage_prices(
    ...     [WayOfStoring("ground", Storage.EXPOSED_GROUND),
    ...      WayOfStoring("barn", Storage.ENCLOSED_BARN, 0.02)], 0.13, 9.0, 1016.0)
    >>> ground.loss_pct, round(barn.pays_from_usd_per_kg, 3)
    (20.0, 0.111)
    """
    if not ways:
        raise OutOfRange("no way of storing is given.")
    losses = [
        float(storage_loss_pct(way.storage, months, rain_mm_per_year, way.wrap)) for way in ways
    ]
    found = []
    for way, loss in zip(ways, losses, strict=True):
        saves, extra = loss < losses[0], way.usd_per_kg_year - ways[0].usd_per_kg_year
        compares = saves and extra > 0.0
        found.append(
            StoragePrice(
                way=way,
                loss_pct=loss,
                lost_usd_per_kg=float(lost(price, loss)),
                fed_usd_per_kg=float(price_eaten(price + way.usd_per_kg_year, loss)),
                pays_from_usd_per_kg=(
                    float(breakeven_price(extra, losses[0], loss)) if compares else None
                ),
                worth_up_to_usd_per_kg=(
                    float(breakeven_cost(price, losses[0], loss)) if saves else None
                ),
                remark=storage_loss_remark(way.storage, months, rain_mm_per_year, way.wrap) or "",
            )
        )
    return tuple(found)
