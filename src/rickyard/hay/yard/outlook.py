"""Will the hay last: a rough need against what stands, what to buy, and what may be sold.

A rough plan by a percentage of body weight, for the yard's page; the season program computes the
need from the animals and the hay.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from rickyard.farm import Group, Package, Season
from rickyard.hay.common import require_loss, require_not_negative, require_positive
from rickyard.hay.feeding import (
    before_loss,
    days_until_out,
    group_loss,
    herd_dm,
    reserve,
)

#: Dry matter eaten, % of body weight: all classes in a rough plan (Schwab & Lippolis, Iowa
#: State 2019).
INTAKE_PCT_BW: Final = 2.5


@dataclass(frozen=True, slots=True)
class Outlook:
    """Hay needed from a day to the end of the season against what stands. Dry matter in kg.

    ``need_kg`` is what must stand so that the animals eat their fill, waste and storage loss
    counted; ``reserve_kg`` is held over. ``over_kg`` is what is left when both are met, and
    negative when hay must be bought. ``out_on`` is the day on which the reserve is reached.
    """

    day: date
    until: date
    standing_kg: float
    need_kg: float
    reserve_kg: float
    over_kg: float
    out_on: date | None

    @property
    def buy_kg(self) -> float:
        """Return the dry matter to buy, zero when there is enough."""
        return max(0.0, -self.over_kg)


def group_need_kg(
    group: Group,
    start: date,
    end: date,
    intake_pct_bw: float = INTAKE_PCT_BW,
    package: Package = Package.ROUND,
) -> float:
    """Return the dry matter [kg] to offer a group from ``start`` until ``end``, waste counted.

    Where no waste is stated, that of the stock, the feeder and the package (`group_loss`).

    >>> from rickyard.farm import AnimalClass, Feeder
    >>> cows = Group("C", "Cows", AnimalClass.COW, 60, 600.0, feeder=Feeder.BUNK)
    >>> round(group_need_kg(cows, date(2026, 11, 1), date(2027, 4, 1)))
    151000
    """
    first = max(start, group.from_on or start)
    last = min(end, group.to_on or end)
    days = max(0, (last - first).days)
    eaten = herd_dm(group.head, group.weight_kg, intake_pct_bw, days)
    loss = group.feeding_loss_pct
    if loss is None:
        loss = group_loss(group, package).pct
    return float(before_loss(eaten, loss))


def outlook(
    groups: Sequence[Group],
    season: Season,
    day: date,
    standing_kg: float,
    storage_loss_pct: float,
    *,
    drought_often: bool = False,
    package: Package = Package.ROUND,
) -> Outlook:
    """Set what stands [kg of dry matter] against what is needed to the end of the season.

    Before the season, feeding starts with the season. All losses divide. The reserve is common
    practice: 15 % or 30 days, whichever is more, and a quarter where drought is frequent. From
    Pittman (Georgia) in DTN, 21 Oct 2024.
    """
    require_not_negative("hay", standing_kg, "kg")
    require_loss("storage loss", storage_loss_pct)
    start = max(day, season.start)
    offered = math.fsum(
        group_need_kg(group, start, season.end, package=package) for group in groups
    )
    need = float(before_loss(offered, storage_loss_pct))
    days = (season.end - start).days
    held, out_on = 0.0, None
    if need > 0.0:
        held = float(reserve(need, days, drought_often=drought_often))
        lasting = float(days_until_out(standing_kg, held, need / days))
        if lasting < days:
            out_on = start + timedelta(days=math.floor(lasting))
    return Outlook(day, season.end, standing_kg, need, held, standing_kg - need - held, out_on)


@dataclass(frozen=True, slots=True)
class SellOrKeep:
    """What hay brings now against what it must bring later. [$/mass]."""

    now: float
    later_must_be: float
    keep: bool | None


def sell_or_keep(
    price: float,
    storage_loss_pct: float,
    *,
    storage_cost: float = 0.0,
    interest_pct: float = 0.0,
    months: float = 0.0,
    later_price: float | None = None,
) -> SellOrKeep:
    """Work out the price [$/mass] at which keeping hay is as good as selling it now.

    Storing costs for each mass unit stored until later, interest is of a year. Losses divide: $100
    of hay that loses 20 % must bring $125. Derived: delivered cost per ton fed.

    >>> sell_or_keep(100.0, 20.0, later_price=120.0)
    SellOrKeep(now=100.0, later_must_be=125.0, keep=False)
    """
    require_not_negative("price", price, "$")
    require_not_negative("storage cost", storage_cost, "$")
    require_not_negative("interest", interest_pct, "%")
    require_not_negative("months", months, "months")
    grown = price * (1.0 + interest_pct / 100.0 * months / 12.0) + storage_cost
    must = float(before_loss(grown, storage_loss_pct))
    if later_price is None:
        return SellOrKeep(price, must, None)
    require_positive("later price", later_price, "$")
    return SellOrKeep(price, must, later_price > must)
