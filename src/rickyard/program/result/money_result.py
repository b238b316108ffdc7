"""What a season program says of hay and money: purchases, sales, balances, costs and limits.

They are part of ``result``, which gives them out again.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Bound = Literal["at_least", "at_most"]


@dataclass(frozen=True, slots=True)
class Purchase:
    """A feed to buy over the season.

    ``loads`` counts whole loads, ``None`` where it does not come in loads; ``left_kg`` as fed is
    bought and not fed.
    """

    feed_id: str
    name: str
    as_fed_kg: float
    dm_kg: float
    cost_usd: float
    loads: int | None = None
    left_kg: float = 0.0


@dataclass(frozen=True, slots=True)
class Sale:
    """Hay of one lot to sell on the first day."""

    lot_id: str
    name: str
    as_fed_kg: float
    dm_kg: float
    bales: float | None
    revenue_usd: float


@dataclass(frozen=True, slots=True)
class FarmLimit:
    """A limit that holds for the whole farm: ``cash`` for feed, or hay for the ``reserve``.

    ``usd_per_unit`` is what one unit more to spend, or less to leave, would save; ``None`` where a
    shortage hides it.
    """

    nutrient: str
    unit: str
    bound: Bound
    need: float
    supplied: float
    shortage: float
    usd_per_unit: float | None = None
    sentence: str = ""


@dataclass(frozen=True, slots=True)
class LotBalance:
    """Where the dry matter of a lot goes, in metric tonnes.

    ``start_t = eaten_t + feeding_loss_t + storage_loss_t + left_t + sold_t``.
    """

    lot_id: str
    name: str
    start_t: float
    eaten_t: float
    feeding_loss_t: float
    storage_loss_t: float
    left_t: float
    start_bales: float | None
    fed_bales: float | None
    sold_t: float = 0.0


@dataclass(frozen=True, slots=True)
class Costs:
    """What the season costs, by kind, in US dollars.

    ``feed_left`` is what bought feed that is left keeps of its price, zero or less; ``hay_sold``
    the value of hay given up less what it brings; ``changes`` the price of changing hay.
    """

    hay_eaten: float
    hay_feeding_loss: float
    hay_storage_loss: float
    carry_over_discount: float
    purchases: float
    feed_left: float = 0.0
    hay_sold: float = 0.0
    changes: float = 0.0

    @property
    def total(self) -> float:
        """Return the whole cost."""
        return (
            self.hay_eaten
            + self.hay_feeding_loss
            + self.hay_storage_loss
            + self.carry_over_discount
            + self.purchases
            + self.feed_left
            + self.hay_sold
            + self.changes
        )
