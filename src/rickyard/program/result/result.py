"""What a season program says: the plain, frozen result that terminal, JSON and paper share.

All masses are kilograms unless a name ends in ``_t`` (metric tonnes of dry matter), all money
is US dollars. Display units are chosen where the result is shown.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import Final, Literal

from rickyard.farm import Assumption, Caution
from rickyard.program.result.options import Made, Wish
from rickyard.program.result.outcomes import Outcome
from rickyard.program.result.rations import Ration
from rickyard.tables import Tabular, counted

SCHEMA_VERSION: Final = "2.4"

Status = Literal["complete", "short"]
SourceKind = Literal["lot", "feed"]
Kept = Literal["kept", "part", "not"]
Bound = Literal["at_least", "at_most"]


@dataclass(frozen=True, slots=True)
class Period:
    """One planning period."""

    index: int
    start: date
    days: int


#: The most magnesium that the diet of any class needs: of beef cows in milk (NASEM 2016). [% DM]
RICH_IN_MAGNESIUM_PCT: Final = 0.2


@dataclass(frozen=True, slots=True)
class SourceValues:
    """A lot or feed as the program counted it, per kilogram of dry matter.

    ``nitrate_no3n_ppm`` is ``None`` when nobody tested for it, and the values after ``origins``,
    which only ceilings ask for, where nothing is known of them. ``origins`` says for each value
    where it came from: ``lab``, ``computed``, ``stated``, ``table`` or ``book``. ``is_forage``
    marks what counts as long forage, ``is_hay`` what of it is hay: lots and bought forage, but
    nothing that is grazed. ``room_ndf_pct`` is the fiber that it takes the room of, in forage its
    own.
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
    rdp_pct_of_cp: float | None = None
    starch_pct: float | None = None
    fat_pct: float | None = None
    sulfur_pct: float | None = None
    copper_ppm: float | None = None
    npn_cp_pct: float | None = None
    room_ndf_pct: float = 0.0
    magnesium_pct: float | None = None
    potassium_pct: float | None = None

    @property
    def known_magnesium_pct(self) -> float | None:
        """Return the magnesium of a forage, or of a feed rich in it, where it is known. [% DM].

        What nobody tested is taken to hold what the diet needs. A feed that holds less thins hay
        that may hold more, and is left out.
        """
        if self.magnesium_pct is None or self.origins.get("magnesium_pct") == "book":
            return None
        rich = self.is_forage or self.magnesium_pct >= RICH_IN_MAGNESIUM_PCT
        return self.magnesium_pct if rich else None

    @property
    def has_known_magnesium(self) -> float:
        """Return 1 where its magnesium counts, else 0. [-]."""
        return float(self.known_magnesium_pct is not None)


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
    """Something that is missed, for a run of periods, in words and numbers.

    Of a ceiling that is broken, what is too much. ``group_id`` is empty and ``most_per_head_day``
    ``None`` where it is a shortage of the whole farm: ``cash``, or hay for the ``reserve``.
    ``proven`` says that the farm cannot supply it; else the search has not yet found how.
    """

    group_id: str
    start: date
    end: date
    nutrient: str
    unit: str
    most_per_head_day: float | None
    total: float
    sentence: str
    proven: bool = True


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

    ``start_t = eaten_t + feeding_loss_t + storage_loss_t + left_t + sold_t``. ``kept_from`` names
    the groups that may be fed none of it on any day.
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
    kept_from: tuple[str, ...] = ()


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


#: What would remove a shortage.
RemedyKind = Literal[
    "feed",
    "hay",
    "better_hay",
    "cash",
    "fewer_head",
    "leave_earlier",
    "other_feeder",
    "limit_hay",
    "wean_early",
    "weigh",
    "none",
]


@dataclass(frozen=True, slots=True)
class Remedy:
    """What would remove a shortage, found by solving the season again.

    ``kind`` is ``feed`` for more of one that is listed, ``hay`` for more hay like a lot in the
    yard, ``better_hay`` for hay of at least ``tdn_pct`` and ``cp_pct`` where nothing listed
    helps, ``cash`` for money beyond the limit, ``fewer_head`` for fewer animals,
    ``leave_earlier`` for a group that is gone from ``on``, ``other_feeder`` for one that wastes
    less, which may remove a part only, ``limit_hay`` where a group fed what it needs and no more
    would save hay, short or not, or ``none`` where nothing of that does. ``amount_kg`` is
    the least that will do, as fed, and ``usd`` its price; for fewer animals, another feeder and
    less hay ``usd`` is what the season would cost more, negative when less. ``group_id`` and
    ``nutrient`` are empty for all shortages together.

    Those with a ``rung`` are against hay that is lacking on the whole farm, in the order of an
    adviser from 1 on, and ``title`` names them in a few words. They take ``removes_kg`` off what
    those before left, and leave ``left_kg``, of hay as fed; what would do in place of buying hay
    has no ``left_kg``. ``wean_early`` is of calves, on the day ``on``; ``weigh`` says what to weigh
    and to test first, and takes nothing off.
    """

    group_id: str
    start: date
    end: date
    nutrient: str
    kind: RemedyKind
    source_id: str
    amount_kg: float | None
    head: int | None
    usd: float | None
    sentence: str
    tdn_pct: float | None = None
    cp_pct: float | None = None
    on: date | None = None
    rung: int | None = None
    title: str = ""
    removes_kg: float | None = None
    left_kg: float | None = None


@dataclass(frozen=True, slots=True)
class HayToBuy:
    """Hay to buy so that nobody is short of what hay gives.

    ``as_fed_kg`` is as it is bought, and enough for what storage and feeders take of it: what the
    cheapest season buys at the mean value of hay here. It is hay of the analysis given, the yard's
    mean where there is a yard. ``checked`` says that the season
    was planned again with it in the yard, and that no more was short than any amount of such hay
    leaves; ``gives_all`` that this is nothing of what hay gives.
    """

    as_fed_kg: float
    dm_pct: float
    tdn_pct: float
    cp_pct: float
    checked: bool
    gives_all: bool = True


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


@dataclass(frozen=True, slots=True)
class Delivery:
    """One load put out for a group: whole bales of hay, or a mass of what is not baled.

    ``mass_kg`` is as fed: of bales, at what a bale then weighs. It is meant for ``for_days``.
    """

    day: date
    group_id: str
    source_id: str
    bales: int | None
    mass_kg: float
    for_days: int


@dataclass(frozen=True, slots=True)
class DeliveryTotal:
    """All that is put out of one source, for one group or, where ``group_id`` is empty, for all.

    ``planned_bales`` and ``planned_kg`` are what the program asks for, in bales of what they then
    weigh and as fed; ``greatest_deviation_bales`` is the most by which the bales put out were
    ever before or behind it.
    """

    group_id: str
    source_id: str
    bales: int | None
    mass_kg: float
    planned_bales: float | None
    planned_kg: float
    greatest_deviation_bales: float | None


@dataclass(frozen=True, slots=True)
class RuleHeld:
    """A rule of safety that holds between a group and a lot or feed, from a day until another.

    ``demand`` is ``none``, ``share`` (at most ``amount`` percent of the dry matter), ``pct_bw`` (at
    most so much of body weight a day), ``keep`` (to be watched), ``written`` (at
    most ``amount`` percent of the intake that is written for a mineral), ``a_head`` (at most so
    many grams), or ``diet`` (a ceiling of the whole diet, with no source). What is ``mixed`` is
    weighed and mixed every day.
    """

    rule_id: str
    group_id: str
    source_id: str
    start: date
    end: date
    demand: str
    amount: float | None
    mixed: bool
    by_whom: str


@dataclass(frozen=True, slots=True)
class ChangeOver:
    """A group's way from what it ate to something else, day by day.

    ``shares`` holds for each day the share of the new hay in the day's hay, or of the full amount
    in a feed that is raised; ``in_program`` whether the amounts put out already follow it.
    """

    group_id: str
    from_sources: tuple[str, ...]
    to_source: str
    start: date
    days: int
    shares: tuple[float, ...]
    in_program: bool
    sentence: str
    source: str


CoverageVerdict = Literal["covered", "short", "too_much", "unknown"]


@dataclass(frozen=True, slots=True)
class Coverage:
    """Whether what a group is fed covers a trace mineral or vitamin, a head and day in ``unit``.

    ``need`` is the highest of the season, ``from_feeds`` what minerals and feeds bring by their
    tags, ``from_hay`` what hay brings by its tests, ``most`` what is too much, where it is known.
    """

    group_id: str
    nutrient: str
    unit: str
    need: float
    from_feeds: float
    from_hay: float
    most: float | None
    verdict: CoverageVerdict
    sentence: str
    source: str


@dataclass(frozen=True, slots=True, repr=False)
class SeasonProgram(Tabular):
    """A whole season program.

    ``cost`` is money; ``penalty`` is what shortages and wishes that cannot be kept were priced
    at while solving, not money; ``bound`` is a proven lower limit of ``cost + penalty``; ``gap``
    is the distance between the two as a share of ``cost``. ``seconds`` is how long it took, which
    is no part of what a program is: two are equal whatever time they took. ``made`` says from
    what it was made, where it was made from a farm folder. Of a program of rations with nothing
    short ``steadiness_usd`` is what the same amounts for weeks cost at least, and
    ``free_choice_usd`` what it costs that stock with free access eat their fill, both against
    amounts that may change every week. Of one that is short ``short_gap`` is what share of what is
    short is not proven to be, as it is priced, and ``money_gap`` the distance of ``cost`` from a
    proven least of rations that are no shorter, as a share of it.
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
    hay_to_buy: HayToBuy | None = None
    made: Made | None = None
    rules: tuple[RuleHeld, ...] = ()
    rations: tuple[Ration, ...] = ()
    coverage: tuple[Coverage, ...] = ()
    outcomes: tuple[Outcome, ...] = ()
    steadiness_usd: float | None = None
    free_choice_usd: float | None = None
    short_gap: float | None = None
    money_gap: float | None = None

    def _facts(self) -> tuple[tuple[str, str], ...]:
        return (
            ("farm", self.farm_name),
            ("season", f"{self.start} to {self.end}"),
            ("status", self.status),
            ("cost", f"${self.cost:,.0f}, within {100.0 * self.gap:.1f}% of the least possible"),
            ("", counted(len(self.shortages), "shortage")),
            ("", counted(len(self.cautions), "caution")),
        )
