"""A farm as it is told to who may not see what it costs."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

from rickyard.farm import Farm, Feed, Lot


def without_costs(farm: Farm) -> Farm:
    """Return a farm without what hay is worth and brings, what tests cost, and what may be spent.

    What feeds cost stays: no feed is without a price, and what is worked out of a farm needs it.

    Parameters
    ----------
    farm : Farm
        The farm.

    Returns
    -------
    Farm
        The same, those prices unknown.

    Examples
    --------
    >>> from rickyard.calls import demo_farm
    >>> told = without_costs(demo_farm())
    >>> told.labs, {one.value_usd_per_kg for one in told.lots}
    ((), {None})
    """
    return replace(
        farm,
        season=replace(farm.season, cash_limit_usd=None),
        lots=tuple(without_price(one) for one in farm.lots),
        labs=(),
    )


def without_price(item: Any) -> Any:
    """Return a lot, a group or a feed without its price.

    Parameters
    ----------
    item : Lot, Group or Feed
        The thing.

    Returns
    -------
    Lot, Group or Feed
        The same, its price unknown; that of a feed, which every feed has, is no number.
    """
    if isinstance(item, Lot):
        return replace(item, value_usd_per_kg=None, sale_usd_per_kg=None)
    if isinstance(item, Feed):
        return replace(item, price_usd_per_kg=math.nan)
    return item
