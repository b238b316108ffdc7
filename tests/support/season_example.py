"""An invented farm and season program, large enough to fill the sheets.

``example()`` is nine lots, six groups, five feeds and 26 weeks. The yard's balance is counted
from the feeding, so that the sheets can be checked against it.
"""

import dataclasses
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cache
from typing import Literal

from rickyard.farm import (
    AnimalClass,
    Assumption,
    Caution,
    Farm,
    Feed,
    FeedKind,
    Forage,
    Group,
    Lot,
    Package,
    Season,
    Storage,
)
from rickyard.program.feedout.deliveries import with_deliveries
from rickyard.program.result.options import Wish
from rickyard.program.result.result import (
    BindingLimits,
    Costs,
    FeedingRow,
    FeedWorth,
    GroupPeriod,
    HayToBuy,
    LotBalance,
    LotReason,
    LotTestWorth,
    LotWorth,
    NeedLimit,
    NeedRow,
    Period,
    Purchase,
    Remedy,
    SeasonProgram,
    Shortage,
    SourceValues,
    UnitWorth,
    WishOutcome,
)

START = date(2026, 11, 7)
WEEKS = 26
END = START + timedelta(days=7 * WEEKS - 1)  # the last week has six days
FEEDING_LOSS = 0.12

Kind = Literal["enough", "hay_short", "need_short"]


@dataclass(frozen=True)
class LotPlan:
    lot_id: str
    name: str
    forage: Forage
    bales: int
    bale_kg: float
    storage_frac: float
    nem: float
    cp: float


@dataclass(frozen=True)
class Feeding:
    """A source fed to a group over weeks ``first <= week < end``, kg DM per head and day."""

    group_id: str
    source_id: str
    first: int
    end: int
    kg_dm: float
    drift: float = 0.0


LOTS = (
    LotPlan("L1", "Tarp fescue", Forage.COOL_GRASS, 300, 410, 0.09, 1.17, 9.1),
    LotPlan("L2", "Barn orchardgrass", Forage.COOL_GRASS, 146, 430, 0.02, 1.36, 13.2),
    LotPlan("L3", "Creek bottom alfalfa-grass", Forage.LEGUME_GRASS, 88, 455, 0.03, 1.41, 16.8),
    LotPlan("L4", "Hill field 2nd cutting", Forage.COOL_GRASS, 224, 395, 0.11, 1.24, 10.9),
    LotPlan("L5", "Sudan, frosted end", Forage.SUMMER_ANNUAL, 48, 470, 0.12, 1.12, 8.4),
    LotPlan("L6", "Wheat straw", Forage.STRAW, 30, 340, 0.05, 0.74, 4.1),
    LotPlan("L7", "Ryegrass baleage", Forage.ANNUAL_RYEGRASS, 88, 560, 0.01, 1.45, 15.3),
    LotPlan("L8", "Old fescue from 2025", Forage.COOL_GRASS, 70, 380, 0.16, 1.02, 7.2),
    LotPlan("L9", "Red clover, low ground", Forage.CLOVER, 30, 425, 0.04, 1.38, 16.1),
)

GROUPS = (
    Group("G1", "Spring cows", AnimalClass.COW, 62, 590.0, calving_on=date(2027, 3, 1)),
    Group("G2", "Fall cows with calves", AnimalClass.COW, 28, 575.0, calving_on=date(2026, 9, 20)),
    Group("G3", "First-calf heifers", AnimalClass.FIRST_CALF_HEIFER, 14, 480.0),
    Group("G4", "Replacement heifers", AnimalClass.REPLACEMENT_HEIFER, 16, 265.0),
    Group("G5", "Stockers", AnimalClass.STOCKER, 24, 240.0, gain_kg_per_day=0.7),
    Group("G6", "Bulls", AnimalClass.BULL, 4, 820.0),
)

FEEDS = (
    Feed("F1", "Range cubes 20 %", FeedKind.SUPPLEMENT, 0.42, dm_pct=90.0),
    Feed("F2", "Cracked corn", FeedKind.GRAIN, 0.27, dm_pct=88.0),
    Feed("F3", "Soybean hulls", FeedKind.SUPPLEMENT, 0.29, dm_pct=90.0),
    Feed("F4", "Beef mineral, loose", FeedKind.MINERAL, 0.98, dm_pct=97.0),
    Feed("F5", "Cottonseed meal", FeedKind.SUPPLEMENT, 0.51, dm_pct=91.0),
)

FEEDINGS = (
    Feeding("G1", "L1", 0, 17, 10.6, 0.012),
    Feeding("G1", "L4", 17, 26, 11.9, 0.02),
    Feeding("G1", "F4", 0, 26, 0.06),
    Feeding("G1", "F1", 17, 26, 0.9),
    Feeding("G2", "L4", 0, 4, 12.2),
    Feeding("G2", "L2", 4, 20, 12.4, -0.02),
    Feeding("G2", "L8", 20, 26, 10.1),
    Feeding("G2", "F1", 0, 20, 1.1),
    Feeding("G2", "F4", 0, 26, 0.08),
    Feeding("G3", "L5", 0, 9, 8.9, 0.03),
    Feeding("G3", "L3", 9, 26, 9.6, 0.05),
    Feeding("G3", "F3", 9, 26, 0.8),
    Feeding("G3", "F4", 0, 26, 0.06),
    Feeding("G4", "L3", 0, 14, 5.6, 0.03),
    Feeding("G4", "L9", 14, 26, 6.4, 0.03),
    Feeding("G4", "F2", 0, 26, 0.45, 0.02),
    Feeding("G4", "F4", 0, 26, 0.05),
    Feeding("G5", "L7", 0, 22, 5.1, 0.06),
    Feeding("G5", "L2", 22, 26, 5.9, 0.06),
    Feeding("G5", "F2", 0, 26, 1.35, 0.03),
    Feeding("G5", "F4", 0, 26, 0.05),
    Feeding("G6", "L8", 0, 14, 13.5),
    Feeding("G6", "L6", 14, 20, 4.0),
    Feeding("G6", "L1", 14, 26, 9.5, 0.3),
    Feeding("G6", "F4", 0, 26, 0.07),
)

DM_PCT = {"L7": 52.0}
STAGES = ("mid gestation", "late gestation", "early lactation")

HAY_TO_BUY = HayToBuy(20_865.0, 88.0, 55.0, 10.8, checked=True)

CAUTIONS = (
    Caution(
        "note",
        "L7",
        "Ryegrass baleage stays good for about nine months under film; patch torn film at once.",
        "common practice, no published source",
    ),
    Caution(
        "danger",
        "L5",
        "Sudan, frosted end has 2,310 ppm nitrate nitrogen: not for pregnant stock unless it is "
        "diluted, and never to hungry animals. Ask the local extension office or your "
        "veterinarian before feeding it.",
        "Clemson and ServiTech tables of nitrate",
    ),
    Caution(
        "warning",
        "L8",
        "Old fescue from 2025 was heated to 61 °C: its protein is worth less than the report says.",
        "three-step rule of forage laboratories, from memory",
    ),
    Caution(
        "warning",
        "G3",
        "First-calf heifers start the season thin (condition 4): they need to gain before calving.",
        "NRC 2000",
    ),
    Caution(
        "note",
        "",
        "No lot was weighed this year: bale weights are from their size and book density.",
        "common practice, no published source",
    ),
    Caution(
        "danger",
        "F5",
        "Cottonseed meal holds gossypol: keep it from young calves and limit it for bulls. Ask "
        "your veterinarian.",
        "University of Florida AN134",
    ),
)

ASSUMPTIONS = (
    Assumption("Feeding loss of ring-fed hay is 12 % of what is put out.", "feeder table"),
    Assumption("Cows are in average condition and dry lots are drained.", "NRC 2000"),
    Assumption("The Sudan stack loses 12 % in the season: uncovered, on the ground.", "lots table"),
    Assumption("Calving is spread over 60 days around the day given.", "common practice"),
    Assumption("Crude protein is at least 7 % of the dry matter eaten.", "NRC 2000"),
)


def make_farm(units: str = "us") -> Farm:
    return Farm(
        name="Five Gates Example Farm",
        place="Invented County",
        season=Season(START, END),
        lots=tuple(
            Lot(
                plan.lot_id,
                plan.name,
                plan.forage,
                Package.BALEAGE if plan.lot_id == "L7" else Package.ROUND,
                Storage.COVERED_ELEVATED,
                plan.bales,
                date(2026, 6, 12),
                START,
                bale_weight_kg=plan.bale_kg,
            )
            for plan in LOTS
        ),
        groups=GROUPS,
        feeds=FEEDS,
        units=units,
    )


def periods() -> tuple[Period, ...]:
    return tuple(
        Period(week, START + timedelta(weeks=week), min(7, (END - START).days - 7 * week))
        for week in range(WEEKS)
    )


def make_sources() -> tuple[SourceValues, ...]:
    lots = [
        SourceValues(
            source_id=plan.lot_id,
            kind="lot",
            name=plan.name,
            is_forage=True,
            is_hay=True,
            dm_pct=DM_PCT.get(plan.lot_id, 86.0),
            tdn_pct=38.0 + 15.0 * plan.nem,
            nem_mcal_per_kg=plan.nem,
            neg_mcal_per_kg=plan.nem - 0.58,
            cp_pct=plan.cp,
            ndf_pct=62.0,
            ca_pct=0.45,
            p_pct=0.25,
            nitrate_no3n_ppm=2310.0 if plan.lot_id == "L5" else 250.0,
            usd_per_kg_dm=0.115 + 0.004 * plan.cp,
            bale_weight_kg=plan.bale_kg,
            origins={"cp_pct": "lab", "nem_mcal_per_kg": "computed", "ca_pct": "book"},
        )
        for plan in LOTS
    ]
    feeds = [
        SourceValues(
            source_id=feed.feed_id,
            kind="feed",
            name=feed.name,
            is_forage=False,
            is_hay=False,
            dm_pct=feed.dm_pct or 90.0,
            tdn_pct=78.0,
            nem_mcal_per_kg=1.9,
            neg_mcal_per_kg=1.25,
            cp_pct=20.0,
            ndf_pct=20.0,
            ca_pct=0.6,
            p_pct=0.5,
            nitrate_no3n_ppm=0.0,
            usd_per_kg_dm=feed.price_usd_per_kg / (feed.dm_pct or 90.0) * 100.0,
            bale_weight_kg=None,
            origins={"cp_pct": "table"},
        )
        for feed in FEEDS
    ]
    return (*lots, *feeds)


def make_feeding(
    sources: tuple[SourceValues, ...], weeks: int, feedings: tuple[Feeding, ...] = FEEDINGS
) -> tuple[FeedingRow, ...]:
    by_id = {source.source_id: source for source in sources}
    heads = {group.group_id: group.head for group in GROUPS}
    rows = []
    for plan in feedings:
        source = by_id[plan.source_id]
        loss = FEEDING_LOSS if source.kind == "lot" else 0.0
        for period in periods()[plan.first : min(plan.end, weeks)]:
            eaten = plan.kg_dm + plan.drift * (period.index - plan.first)
            dm = eaten * heads[plan.group_id] * period.days / (1.0 - loss)
            offered = dm / source.dm_pct * 100.0
            bales = None if source.bale_weight_kg is None else offered / source.bale_weight_kg
            rows.append(
                FeedingRow(
                    plan.group_id,
                    period.index,
                    period.start,
                    period.days,
                    plan.source_id,
                    source.kind,
                    eaten,
                    offered,
                    bales,
                )
            )
    return tuple(sorted(rows, key=lambda row: (row.group_id, row.period, row.source_id)))


def make_balances(
    sources: tuple[SourceValues, ...], feeding: tuple[FeedingRow, ...], empty: bool
) -> tuple[LotBalance, ...]:
    found = []
    for plan in LOTS:
        source = next(one for one in sources if one.source_id == plan.lot_id)
        mine = [row for row in feeding if row.source_id == plan.lot_id]
        fed = sum(row.offered_kg for row in mine) * source.dm_pct / 100.0 / 1000.0
        start = plan.bales * plan.bale_kg * source.dm_pct / 100.0 / 1000.0
        storage = min(plan.storage_frac * start, max(start - fed, 0.0))
        if empty:
            start = fed + storage
        start = max(start, fed + storage)
        bales = start / (plan.bale_kg * source.dm_pct / 100.0 / 1000.0)
        found.append(
            LotBalance(
                plan.lot_id,
                plan.name,
                start,
                fed * (1.0 - FEEDING_LOSS),
                fed * FEEDING_LOSS,
                storage,
                start - fed - storage,
                bales,
                sum(row.bales or 0.0 for row in mine),
            )
        )
    return tuple(found)


def make_groups() -> tuple[GroupPeriod, ...]:
    return tuple(
        GroupPeriod(
            group.group_id,
            period.index,
            period.start,
            period.days,
            group.head,
            STAGES[period.index // 9] if "ows" in group.name else "growing",
            group.weight_kg + 0.3 * 7 * period.index,
            10.0,
            11.5,
            group.gain_kg_per_day,
            None if group.gain_kg_per_day is None else 0.72,
        )
        for group in GROUPS
        for period in periods()
    )


def make_needs(short_from: int, short_group: str) -> tuple[NeedRow, ...]:
    rows = []
    for group in GROUPS:
        for period in periods():
            short = group.group_id == short_group and period.index >= short_from
            key = (group.group_id, period.index, period.start, period.days)
            rows.append(
                NeedRow(*key, "nem", "Mcal NEm", "at_least", 10.4, 10.4, 0.0),
            )
            supplied = 0.72 if short else 0.95
            rows.append(
                NeedRow(*key, "cp", "kg CP", "at_least", 0.9, supplied, max(0.9 - supplied, 0.0))
            )
            rows.append(NeedRow(*key, "appetite", "kg DM", "at_most", 11.5, 10.0, 0.0))
    return tuple(rows)


def make_shortages(kind: Kind) -> tuple[Shortage, ...]:
    if kind == "enough":
        return ()
    if kind == "hay_short":
        start = START + timedelta(weeks=22)
        return (
            Shortage(
                "G1",
                start,
                END,
                "nem",
                "Mcal NEm",
                13.8,
                23100.0,
                "The spring cows lack 13.8 Mcal of energy a day from 10 April: no hay is left.",
            ),
            Shortage(
                "G1",
                start,
                END,
                "forage",
                "kg DM",
                2.9,
                4850.0,
                "The spring cows get no long forage from 10 April: no hay is left.",
            ),
        )
    return (
        Shortage(
            "G2",
            START + timedelta(weeks=20),
            END,
            "cp",
            "kg CP",
            0.18,
            206.0,
            "The fall cows lack 0.4 lb of protein a day from 27 March: the old fescue is low and "
            "the cubes are limited to what can be bought.",
        ),
    )


def make_purchases(
    sources: tuple[SourceValues, ...], feeding: tuple[FeedingRow, ...]
) -> tuple[Purchase, ...]:
    found = []
    for feed in FEEDS:
        mass = sum(row.offered_kg for row in feeding if row.source_id == feed.feed_id)
        dm = mass * (feed.dm_pct or 90.0) / 100.0
        if mass > 0:
            cost = mass * feed.price_usd_per_kg
            found.append(Purchase(feed.feed_id, feed.name, mass, dm, cost))
    return tuple(found)


def make_limits() -> tuple[NeedLimit, ...]:
    return (
        NeedLimit(
            "G3",
            START + timedelta(weeks=9),
            END,
            "cp",
            "kg CP",
            0.61,
            420.0,
            "Protein of the first-calf heifers after calving holds the cost up: only the creek "
            "bottom hay and soybean hulls meet it.",
        ),
        NeedLimit(
            "G5",
            START,
            END,
            "gain_energy",
            "Mcal NEm",
            0.11,
            380.0,
            "Energy for the gain of the stockers holds the cost up: a slower gain would save corn.",
        ),
    )


LOT_WORTH = (
    LotWorth("L3", 86.0, "One more ton of Creek bottom alfalfa-grass would save $78 in hulls."),
    LotWorth("L2", 41.0, "One more ton of Barn orchardgrass would save $37 in cubes."),
    LotWorth("L6", 0.0, "More Wheat straw would save nothing."),
)

FEED_WORTH = (
    FeedWorth("F5", False, 0.51, 0.37, "Cottonseed meal would enter below $336 a ton."),
    FeedWorth("F1", True, 0.42, None, "Range cubes 20 % is bought already."),
)

HELD_BY = (
    BindingLimits(
        "G1", START, END, ("nem",), "Energy decides what the spring cows are fed all winter."
    ),
    BindingLimits("G4", START, END, (), "Nothing is at its limit for the bulls all winter."),
)

REASONS = (
    LotReason(
        "G3",
        "L3",
        START + timedelta(weeks=9),
        END,
        "L2",
        14.0,
        "protein",
        "The first-calf heifers are fed Creek bottom alfalfa-grass: its protein saves hulls.",
    ),
)

UNIT_WORTH = (
    UnitWorth("G3", "protein", "kg CP", 0.31, 0.61, START, "More protein is worth 28 cents."),
    UnitWorth("", "energy", "Mcal NEm", None, None, None, "What energy is worth is hidden."),
)

TEST_WORTH = (LotTestWorth("L9", 48.0, 25.0, "labs.csv", "Knowing Wheat straw would save $48."),)

REMEDIES = (
    Remedy(
        "G2",
        START + timedelta(weeks=20),
        END,
        "cp",
        "feed",
        "F1",
        900.0,
        None,
        378.0,
        "One more ton of range cubes would do away with it, for $378.",
    ),
)


WISHES = (
    WishOutcome(
        Wish("keep_off", "L6", "G3"),
        "kept",
        0.0,
        "No Wheat straw to First-calf heifers all season: kept. It costs nothing.",
    ),
    WishOutcome(
        Wish("amount", "F1", "G1", START + timedelta(weeks=17), END, 0.8),
        "part",
        312.5,
        "1.8 lb dry matter of Range cubes 20 % a head and day to Spring cows from 6 Mar 2027 to "
        "7 May 2027: kept only in part, on 49 of 62 days, because there is not enough of it, or "
        "the stock can eat no more. It costs $312.",
    ),
)


@cache
def example(kind: Kind = "need_short", units: str = "us") -> tuple[SeasonProgram, Farm]:
    farm = make_farm(units)
    sources = make_sources()
    feeding = make_feeding(sources, 22 if kind == "hay_short" else WEEKS)
    lots = make_balances(sources, feeding, empty=kind == "hay_short")
    purchases = make_purchases(sources, feeding)
    shortages = make_shortages(kind)
    value = {one.source_id: one.usd_per_kg_dm * 1000.0 for one in sources}
    costs = Costs(
        hay_eaten=sum(value[lot.lot_id] * lot.eaten_t for lot in lots),
        hay_feeding_loss=sum(value[lot.lot_id] * lot.feeding_loss_t for lot in lots),
        hay_storage_loss=sum(value[lot.lot_id] * lot.storage_loss_t for lot in lots),
        carry_over_discount=sum(0.2 * value[lot.lot_id] * lot.left_t for lot in lots),
        purchases=sum(one.cost_usd for one in purchases),
    )
    penalty = 412.0 if shortages else 0.0
    program = SeasonProgram(
        farm_name=farm.name,
        start=START,
        end=END,
        status="short" if shortages else "complete",
        cost=costs.total,
        penalty=penalty,
        bound=(costs.total + penalty) * 0.996,
        gap=0.004,
        seconds=1.4,
        costs=costs,
        periods=periods(),
        sources=sources,
        groups=make_groups(),
        feeding=feeding,
        needs=make_needs(20 if kind == "need_short" else WEEKS, "G2"),
        shortages=shortages,
        purchases=purchases,
        lots=lots,
        limits=make_limits(),
        lot_worth=LOT_WORTH,
        feed_worth=FEED_WORTH,
        cautions=CAUTIONS,
        assumptions=ASSUMPTIONS,
        wishes=WISHES,
        held_by=HELD_BY,
        reasons=REASONS,
        unit_worth=UNIT_WORTH,
        test_worth=TEST_WORTH,
        remedies=REMEDIES if shortages else (),
        hay_to_buy=HAY_TO_BUY if kind == "hay_short" else None,
    )
    fed = with_deliveries(program, farm)
    program = dataclasses.replace(
        program,
        deliveries=fed.deliveries,
        delivery_totals=fed.delivery_totals,
        change_overs=fed.change_overs,
    )
    return program, farm


def large_example(
    lots: int = 20, groups: int = 10, restless: bool = False
) -> tuple[SeasonProgram, Farm]:
    """A season with many lots, groups and sentences; ``restless`` changes feed every week."""
    program, farm = example("need_short")
    base = {source.source_id: source for source in program.sources}
    lot_ids = [f"L{number + 1}" for number in range(lots)]
    sources = [
        dataclasses.replace(
            base[f"L{index % 9 + 1}"], source_id=lot_id, name=f"Lot {lot_id} of the far meadow"
        )
        for index, lot_id in enumerate(lot_ids)
    ]
    sources += [one for one in program.sources if one.kind == "feed"]
    who = [
        dataclasses.replace(GROUPS[index % 6], group_id=f"G{index + 1}", name=f"Herd no. {index}")
        for index in range(groups)
    ]
    feeding = []
    for g, group in enumerate(who):
        for period in program.periods:
            week = period.index
            key = (group.group_id, week, period.start, period.days)
            for n in range(2):
                turn = week // 3 * (n + 1) if restless else week // 14
                source_id = lot_ids[(g * 2 + turn + n) % lots]
                mass = (60.0 + (week if restless else 2 * (week // 7)) + 7 * n) * group.head
                feeding.append(FeedingRow(*key, source_id, "lot", 5.0, mass, mass / 400.0))
            for n, feed in enumerate(FEEDS if restless else FEEDS[g % 3 : g % 3 + 3]):
                mass = (4.0 + n + 0.6 * (week // 9)) * group.head
                if restless:
                    mass += 0.6 * (week % (n + 3)) * group.head
                feeding.append(FeedingRow(*key, feed.feed_id, "feed", 0.6, mass, None))
    many = dataclasses.replace(
        program,
        sources=tuple(sources),
        groups=tuple(
            dataclasses.replace(program.groups[period.index], group_id=group.group_id)
            for group in who
            for period in program.periods
        ),
        feeding=tuple(feeding),
        lots=tuple(
            dataclasses.replace(
                program.lots[index % 9], lot_id=lot_id, name=f"Lot {lot_id} of the far meadow"
            )
            for index, lot_id in enumerate(lot_ids)
        ),
        cautions=program.cautions * 6,
        assumptions=program.assumptions * 8,
        limits=program.limits * 10,
        lot_worth=program.lot_worth * 7,
        feed_worth=program.feed_worth * 4,
        purchases=program.purchases * 3,
        shortages=program.shortages * 9,
    )
    return many, dataclasses.replace(farm, groups=tuple(who))
