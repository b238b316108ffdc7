"""Why a season program is as it is, in numbers and sentences: the part of the result that explains.

Masses are kilograms as fed unless a name says otherwise, money is US dollars.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal


@dataclass(frozen=True, slots=True)
class BindingLimits:
    """What holds a group's ration where it is, over a run of periods with the same answer.

    ``nutrients`` names the needs that are just met, the ceilings that are reached and what is
    short, the dearest first; empty where nothing but its own price holds the ration.
    """

    group_id: str
    start: date
    end: date
    nutrients: tuple[str, ...]
    sentence: str


@dataclass(frozen=True, slots=True)
class LotReason:
    """Why a group is fed a hay over a run of periods, against the next best it could have.

    ``usd_per_t_dm`` is what a tonne of dry matter of the next best, eaten in its place, would
    add to the cost for small amounts; for larger ones it is at least that. It is ``None`` where
    a shortage sets the prices, which are then no money, and where there is no other hay: then
    what is said compares it with the hay that it is fed beside, and ``next_best_id`` is empty.
    ``decides`` names what speaks most for the hay that is fed: ``energy``, ``protein``,
    ``minerals``, ``room``, ``hazards``, ``scarcity``, ``price``, ``rules``; ``only`` where
    there is no other, ``same`` where another would do as well, and ``steady`` where the next
    best is cheaper but changing to it is not worth it. ``usd_over_run`` is what doing without
    the hay over the whole run would cost, found by solving again: ``None`` where nobody asked
    or something would be short.
    """

    group_id: str
    source_id: str
    start: date
    end: date
    next_best_id: str
    usd_per_t_dm: float | None
    decides: str
    sentence: str
    usd_over_run: float | None = None


@dataclass(frozen=True, slots=True)
class UnitWorth:
    """What one more unit of energy or protein in the needs of a group would cost.

    ``group_id`` is empty for the whole farm. ``usd_per_unit`` is for a unit spread evenly over
    the season, ``most_usd_per_unit`` for one in the dearest period, which starts on
    ``most_start``. All are ``None`` where a shortage hides the price throughout.
    """

    group_id: str
    what: Literal["energy", "protein"]
    unit: str
    usd_per_unit: float | None
    most_usd_per_unit: float | None
    most_start: date | None
    sentence: str


@dataclass(frozen=True, slots=True)
class Remedy:
    """What would remove a shortage, found by solving the season again.

    ``kind`` is ``feed`` for more of one that is listed, ``hay`` for more hay like a lot in the
    yard, ``better_hay`` for hay of at least ``tdn_pct`` and ``cp_pct`` where nothing listed
    helps, ``cash`` for money beyond the limit, ``fewer_head`` for fewer animals,
    ``leave_earlier`` for a group that is gone from ``on``, or ``none`` where nothing of that
    does. ``amount_kg`` is the least that will do, as fed, and ``usd`` its price; for fewer
    animals ``usd`` is what the season would cost more, negative when less. ``group_id`` and
    ``nutrient`` are empty for all shortages together.
    """

    group_id: str
    start: date
    end: date
    nutrient: str
    kind: Literal["feed", "hay", "better_hay", "cash", "fewer_head", "leave_earlier", "none"]
    source_id: str
    amount_kg: float | None
    head: int | None
    usd: float | None
    sentence: str
    tdn_pct: float | None = None
    cp_pct: float | None = None
    on: date | None = None


@dataclass(frozen=True, slots=True)
class LotTestWorth:
    """What a test of an untested lot would save, against its price."""

    lot_id: str
    saved_usd: float
    fee_usd: float
    fee_source: str
    sentence: str


@dataclass(frozen=True, slots=True)
class LotWorth:
    """What one more metric tonne of dry matter of a lot would save, above its own price.

    ``usd_per_t_dm`` is ``None`` where more of it would make up part of a shortage, which has no
    price in money. It holds for ``holds_for_t_dm`` more tonnes. At a price as fed above
    ``sell_first_usd_per_kg`` the first of it is better sold than fed, and above
    ``sell_all_usd_per_kg`` all of it at once. These three are found by solving again: ``None``
    where nobody asked or no price would do.
    """

    lot_id: str
    usd_per_t_dm: float | None
    sentence: str
    holds_for_t_dm: float | None = None
    sell_first_usd_per_kg: float | None = None
    sell_all_usd_per_kg: float | None = None


@dataclass(frozen=True, slots=True)
class FeedWorth:
    """The price as fed at which a feed enters the program, or leaves it.

    ``entry_usd_per_kg`` is ``None`` when the feed is bought already or no price would do.
    ``leave_usd_per_kg`` is the price above which a feed that is bought would not be, found by
    solving again: ``None`` where nobody asked or something would be short without it.
    """

    feed_id: str
    bought: bool
    price_usd_per_kg: float
    entry_usd_per_kg: float | None
    sentence: str
    leave_usd_per_kg: float | None = None
