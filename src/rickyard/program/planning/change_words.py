"""A change of a season named in a few words."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from rickyard.display import Display, display_for, money_text
from rickyard.farm import Farm, Winter
from rickyard.program.planning.changes import (
    Bought,
    Cash,
    Change,
    HeadCount,
    Intake,
    LotLoss,
    Price,
    SalePrice,
    SeasonEnd,
    WinterIs,
)

#: First words of a change that are written small inside a sentence.
_OPENINGS: Final = ("A", "Feeding", "No", "Stock", "The", "Without")


def labels_of(farm: Farm, changes: Sequence[Change]) -> str:
    """Name several changes that happen together in a few words.

    Parameters
    ----------
    farm : Farm
        The farm.
    changes : sequence of Change
        At least one.

    Returns
    -------
    str
        Words that can begin a sentence.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import Season
    >>> farm = Farm("Home", Season(date(2026, 11, 1), date(2027, 4, 1)))
    >>> labels_of(farm, [Intake(0.1), SeasonEnd(date(2027, 5, 20))])
    'Stock eating 10% more and feeding until May 20, 2027'
    """
    first, *others = (label_of(farm, one) for one in changes)
    within = [
        f"{one[0].lower()}{one[1:]}" if one.split()[0] in _OPENINGS else one for one in others
    ]
    return " and ".join([first, *within])


def label_of(farm: Farm, change: Change) -> str:
    """Name a change in a few words.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import Season
    >>> season = Season(date(2026, 11, 1), date(2027, 4, 1))
    >>> label_of(Farm("Home", season), SeasonEnd(date(2027, 5, 20)))
    'Feeding until May 20, 2027'
    """
    display = display_for(farm.units)
    if isinstance(change, Price | LotLoss | SalePrice | Bought):
        return _of_a_source(farm, change, display)
    if isinstance(change, HeadCount):
        group = farm.group(change.group_id)
        same = " as now" if group.head == change.head else ""
        return f"{group.name} at {change.head:,} head{same}"
    if isinstance(change, SeasonEnd):
        return f"Feeding until {display.day_year_text(change.end)}"
    if isinstance(change, Intake):
        return f"Stock eating {_percent(change.share)} {'more' if change.share >= 0 else 'less'}"
    if isinstance(change, WinterIs):
        given = change.winter is Winter.AS_GIVEN
        return "The weather as given" if given else f"A {change.winter.value} winter"
    if isinstance(change, Cash):
        limit = change.limit_usd
        return "No limit on cash" if limit is None else f"{money_text(limit)} to spend"
    return f"{farm.group(change.group_id).name} in condition {change.score:g}"


def _of_a_source(farm: Farm, change: Price | LotLoss | SalePrice | Bought, display: Display) -> str:
    if isinstance(change, LotLoss):
        name = farm.lot(change.lot_id).name
        return (
            f"Without {name}" if change.share >= 1.0 else f"{_percent(change.share)} of {name} lost"
        )
    if isinstance(change, SalePrice):
        name, price = farm.lot(change.lot_id).name, change.usd_per_kg
        if price is None:
            return f"{name} not for sale"
        return f"{name} sold at {display.price_a_ton(price)}"
    name = _name(farm, change.source_id)
    if isinstance(change, Price):
        return f"{name} at {display.price_a_ton(change.usd_per_kg)}"
    amount = display.amount_text(change.as_fed_kg)
    is_lot = any(lot.lot_id == change.source_id for lot in farm.lots)
    return f"{amount} of hay like {name} bought" if is_lot else f"{amount} of {name} to be had"


def _name(farm: Farm, source_id: str) -> str:
    names = {lot.lot_id: lot.name for lot in farm.lots}
    names |= {feed.feed_id: feed.name for feed in farm.feeds}
    return names[source_id]


def _percent(share: float) -> str:
    return f"{100.0 * abs(share):.0f}%"
