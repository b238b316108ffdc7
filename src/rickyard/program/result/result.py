"""What a season program says: the plain, frozen result that terminal, JSON and paper share.

All masses are kilograms unless a name ends in ``_t`` (metric tonnes of dry matter), all money
is US dollars. Display units are chosen where the result is shown.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import Final, Literal

from rickyard.farm import Assumption, Caution
from rickyard.program.result.delivery_result import ChangeOver, Delivery, DeliveryTotal
from rickyard.program.result.made import Made
from rickyard.program.result.money_result import Bound as Bound
from rickyard.program.result.money_result import Costs as Costs
from rickyard.program.result.money_result import FarmLimit as FarmLimit
from rickyard.program.result.money_result import LotBalance as LotBalance
from rickyard.program.result.money_result import Purchase as Purchase
from rickyard.program.result.money_result import Sale as Sale
from rickyard.program.result.options import Wish
from rickyard.program.result.reason_result import (
    BindingLimits,
    FeedWorth,
    LotReason,
    LotTestWorth,
    LotWorth,
    Remedy,
    UnitWorth,
)
from rickyard.tables import Tabular, counted

SCHEMA_VERSION: Final = "2.0"

Status = Literal["complete", "short"]
SourceKind = Literal["lot", "feed"]
Kept = Literal["kept", "part", "not"]


@dataclass(frozen=True, slots=True)
class Period:
    """One planning period."""

    index: int
    start: date
    days: int


@dataclass(frozen=True, slots=True)
class SourceValues:
    """A lot or feed as the program counted it, per kilogram of dry matter.

    ``nitrate_no3n_ppm`` is ``None`` when nobody tested for it, and the values after ``origins``,
    which only ceilings ask for, where nothing is known of them. ``origins`` says for each value
    where it came from: ``lab``, ``computed``, ``stated``, ``table`` or ``book``. ``is_forage``
    marks what counts as long forage, ``is_hay`` what of it is hay: lots and bought forage, but
    nothing that is grazed.
    """

    source_id: str
    kind: SourceKind
    name: str
    is_forage: bool
    is_hay: bool
    dm_pct: float
    tdn_pct: float
    nem_mcal_per_kg: float
    neg_mcal_per_kg: float
    cp_pct: float
    ndf_pct: float
    ca_pct: float
    p_pct: float
    nitrate_no3n_ppm: float | None
    usd_per_kg_dm: float
    bale_weight_kg: float | None
    origins: dict[str, str]
    starch_pct: float | None = None
    fat_pct: float | None = None
    sulfur_pct: float | None = None
    copper_ppm: float | None = None
    npn_cp_pct: float | None = None


@dataclass(frozen=True, slots=True)
class FeedingRow:
    """How much of one source one group gets in one period."""

    group_id: str
    period: int
    start: date
    days: int
    source_id: str
    kind: SourceKind
    eaten_kg_dm_per_head_day: float
    offered_kg: float
    bales: float | None


@dataclass(frozen=True, slots=True)
class NeedRow:
    """One constrained nutrient of one group in one period, per head and day.

    ``need`` and ``supplied`` are in ``unit``; with ``bound`` ``at_most`` the need is a
    ceiling. ``shortage`` is what is missing, in the same unit. ``assured`` is what is supplied
    with the chance promised to the group, against which the shortage is then counted, and
    ``None`` where the means are counted on.
    """

    group_id: str
    period: int
    start: date
    days: int
    nutrient: str
    unit: str
    bound: Bound
    need: float
    supplied: float
    shortage: float
    assured: float | None = None


@dataclass(frozen=True, slots=True)
class GroupPeriod:
    """A group in one period: who they are then, and what is expected of them.

    Appetite is that at the diet eaten, and ``None`` where the folder states the group's needs.
    """

    group_id: str
    period: int
    start: date
    days: int
    head: int
    stage: str
    full_weight_kg: float
    intake_kg_dm_per_head_day: float
    appetite_kg_dm_per_head_day: float | None
    wanted_gain_kg_per_day: float | None
    expected_gain_kg_per_day: float | None


@dataclass(frozen=True, slots=True)
class Shortage:
    """Something the farm cannot supply, for a run of periods, in words and numbers.

    Of a ceiling that is broken, what is too much. ``group_id`` is empty and ``most_per_head_day``
    ``None`` where it is a shortage of the whole farm: ``cash``, or hay for the ``reserve``.
    """

    group_id: str
    start: date
    end: date
    nutrient: str
    unit: str
    most_per_head_day: float | None
    total: float
    sentence: str


@dataclass(frozen=True, slots=True)
class NeedLimit:
    """A need that holds the cost up, over a run of periods.

    ``usd_per_unit`` is what one more unit of the need per head and day would add to the cost,
    per head and day; ``usd_per_tenth`` what a tenth more of it would add over the whole run, by
    which limits are ordered.
    """

    group_id: str
    start: date
    end: date
    nutrient: str
    unit: str
    usd_per_unit: float
    usd_per_tenth: float
    sentence: str


@dataclass(frozen=True, slots=True)
class WishOutcome:
    """What became of a wish.

    ``cost_usd`` is what the season costs more with it than without it, other wishes kept, as if
    hays could be mixed at will; ``None`` where it was not worked out.
    """

    wish: Wish
    kept: Kept
    cost_usd: float | None
    sentence: str


@dataclass(frozen=True, slots=True, repr=False)
class SeasonProgram(Tabular):
    """A whole season program.

    ``cost`` is money; ``penalty`` is what shortages and wishes that cannot be kept were priced
    at while solving, not money; ``bound`` is a proven lower limit of ``cost + penalty``; ``gap``
    is the distance between the two as a share of ``cost``. ``seconds`` is how long it took, which
    is no part of what a program is: two are equal whatever time they took. ``made`` says from
    what it was made, where it was made from a farm folder.
    """

    farm_name: str
    start: date
    end: date
    status: Status
    cost: float
    penalty: float
    bound: float
    gap: float
    seconds: float = field(compare=False)
    costs: Costs
    periods: tuple[Period, ...]
    sources: tuple[SourceValues, ...]
    groups: tuple[GroupPeriod, ...]
    feeding: tuple[FeedingRow, ...]
    needs: tuple[NeedRow, ...]
    shortages: tuple[Shortage, ...]
    purchases: tuple[Purchase, ...]
    lots: tuple[LotBalance, ...]
    limits: tuple[NeedLimit, ...]
    lot_worth: tuple[LotWorth, ...]
    feed_worth: tuple[FeedWorth, ...]
    cautions: tuple[Caution, ...]
    assumptions: tuple[Assumption, ...]
    wishes: tuple[WishOutcome, ...] = ()
    held_by: tuple[BindingLimits, ...] = ()
    reasons: tuple[LotReason, ...] = ()
    unit_worth: tuple[UnitWorth, ...] = ()
    test_worth: tuple[LotTestWorth, ...] = ()
    remedies: tuple[Remedy, ...] = ()
    sales: tuple[Sale, ...] = ()
    farm_limits: tuple[FarmLimit, ...] = ()
    deliveries: tuple[Delivery, ...] = ()
    delivery_totals: tuple[DeliveryTotal, ...] = ()
    change_overs: tuple[ChangeOver, ...] = ()
    made: Made | None = None

    def _facts(self) -> tuple[tuple[str, str], ...]:
        return (
            ("farm", self.farm_name),
            ("season", f"{self.start} to {self.end}"),
            ("status", self.status),
            ("cost", f"${self.cost:,.0f}, within {100.0 * self.gap:.1f}% of the least possible"),
            ("", counted(len(self.shortages), "shortage")),
            ("", counted(len(self.cautions), "caution")),
        )
