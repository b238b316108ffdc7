"""A farm on which one rule of safety binds: one group, one safe hay, and what the rule is about."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from typing import Final

from rickyard.animals import CLASSES
from rickyard.farm import (
    Analyte,
    AnimalClass,
    Basis,
    Care,
    Farm,
    Feed,
    FeedKind,
    Forage,
    Group,
    Lot,
    Package,
    Report,
    Sex,
)
from rickyard.safety.rule import Rule
from support.delivery_farms import START, farm_of, lot

#: What is asked about, as a lot or a feed, with its report.
Shown = tuple[Lot | Feed, tuple[Report, ...]]

SUDAN: Final = {"forage": Forage.SUMMER_ANNUAL, "species": "sudangrass"}


def suspect(**changes: object) -> Lot:
    """Return the lot that the rule is about."""
    return lot("X", **changes)


def tested(name: str, value: float, unit: str, **changes: object) -> Shown:
    """Return a lot with one value on its report, in the dry matter."""
    found = Analyte(name, value, unit, Basis.DRY_MATTER)
    dry = Analyte("dm", 88.0, "pct", Basis.AS_RECEIVED)
    report = Report("RX", "X", (dry, found), reported_on=START - timedelta(days=20))
    return suspect(**changes), (report,)


def baleage(**values: float) -> Shown:
    """Return wrapped bales of a moisture and a pH."""
    wet = suspect(package=Package.BALEAGE, dm_pct=values.pop("dm", 45.0))
    rest = [
        Analyte(name, value, "" if name == "ph" else "pct", Basis.DRY_MATTER)
        for name, value in values.items()
    ]
    return wet, (Report("RX", "X", tuple(rest), reported_on=START - timedelta(days=20)),)


def feed(kind: FeedKind = FeedKind.SUPPLEMENT, **changes: object) -> Shown:
    """Return the feed that the rule is about."""
    plain = Feed("X", "Thing X", kind, 0.2, dm_pct=90.0, tdn_pct=70.0, cp_pct=12.0, ionophore=False)
    return replace(plain, **changes), ()  # type: ignore[arg-type]


def small_grain_baleage() -> Shown:
    wet, reports = baleage(ph=5.8)
    assert isinstance(wet, Lot)
    return replace(wet, forage=Forage.SMALL_GRAIN), reports


#: How to bring each finding about; ``value`` is what was found.
SHOWN: Final[dict[str, Callable[[float], Shown]]] = {
    "nitrate_no3n": lambda v: tested("nitrate_no3n", v, "ppm"),
    "begin_nitrate": lambda v: tested("nitrate_no3n", v, "ppm"),
    "begin_npn": lambda _: feed(npn_cp_pct=12.0),
    "begin_grain": lambda _: feed(FeedKind.GRAIN),
    "nitrate_untested_stressed": lambda _: (suspect(**SUDAN, heavy_nitrogen=True), ()),
    "nitrate_untested_carrier": lambda _: (suspect(**SUDAN), ()),
    "nitrate_untested_drought": lambda _: (suspect(drought=True), ()),
    "nitrate_form_unknown": lambda _: tested("nitrate", 900.0, "ppm"),
    "hcn": lambda v: tested("hcn", v, "ppm"),
    "hcn_suspected": lambda _: (suspect(**SUDAN, frosted=True, dm_pct=None), ()),
    "hcn_cured": lambda _: tested("nitrate_no3n", 100.0, "ppm", **SUDAN, frosted=True),
    "sorghum_family": lambda _: tested("nitrate_no3n", 100.0, "ppm", **SUDAN),
    "fescue_untested": lambda _: (suspect(species="tall fescue"), ()),
    "ergovaline": lambda v: tested("ergovaline", v, "ppb", species="tall fescue"),
    "lolitrem_b": lambda v: tested("lolitrem_b", v, "ppb"),
    "perennial_ryegrass": lambda _: (suspect(species="perennial ryegrass"), ()),
    "alfalfa_bearing": lambda _: (suspect(forage=Forage.LEGUME_GRASS, species="alfalfa"), ()),
    "alfalfa_hay": lambda _: (suspect(forage=Forage.ALFALFA), ()),
    "mold_cfu": lambda v: tested("mold", v, "cfu_per_g"),
    "aflatoxin_ppb": lambda v: tested("aflatoxin", v / 0.88, "ppb"),
    "fumonisin_ppm": lambda v: tested("fumonisin", v / 0.88, "ppm"),
    "don_ppm": lambda v: tested("don", v / 0.88, "ppm"),
    "mold_poison_without_level": lambda _: tested("zearalenone", 0.6, "ppm"),
    "baleage": lambda _: baleage(ph=4.2),
    "baleage_untested": lambda _: baleage(),
    "baleage_wet": lambda _: baleage(dm=33.0, ph=4.2),
    "baleage_soaked": lambda _: baleage(dm=28.0, ph=4.2),
    "ph_doubtful": lambda _: baleage(ph=5.2),
    "ph_watch": lambda _: baleage(ph=4.8),
    "ph_small_grain": lambda _: small_grain_baleage(),
    "butyric_acid": lambda _: baleage(ph=4.2, butyric=1.0),
    "hot_hay": lambda _: (suspect(highest_temperature_c=75.0), ()),
    "charred": lambda v: (suspect(highest_temperature_c=v), ()),
    "cooled_stack": lambda v: (suspect(highest_temperature_c=v, latest_temperature_c=25.0), ()),
    "potassium": lambda v: tested("k", v, "pct"),
    "selenium": lambda v: tested("se", v, "ppm"),
    "sweet_clover": lambda _: (suspect(species="sweet clover"), ()),
    "alsike": lambda _: (suspect(species="timothy and alsike clover"), ()),
    "clover": lambda _: (suspect(species="red clover"), ()),
    "slobbers_seen": lambda _: (suspect(species="timothy", note="slobbers last year"), ()),
    "alyssum": lambda _: (suspect(note="hoary alyssum seen"), ()),
    "millet_unnamed": lambda _: tested("nitrate_no3n", 100.0, "ppm", species="millet"),
    "foxtail_millet": lambda _: tested("nitrate_no3n", 100.0, "ppm", species="foxtail millet"),
    "awns": lambda _: (suspect(species="cheatgrass"), ()),
    "ammoniated": lambda _: (suspect(note="ammoniated in the stack"), ()),
    "flooded": lambda _: (suspect(flooded=True), ()),
    "weedy": lambda _: (suspect(weedy=True), ()),
    "faded": lambda _: (suspect(rained_on=True), ()),
    "nsc_unknown": lambda _: (suspect(), ()),
    "nsc_bought": lambda _: feed(FeedKind.FORAGE),
    "nsc_unknown_beside_fit": lambda _: (suspect(), _fit_hay()),
    "nsc_red": lambda _: tested("nsc", 15.0, "pct"),
    "npn": lambda _: feed(npn_cp_pct=12.0),
    "ionophore": lambda _: feed(ionophore=True),
    "ionophore_unknown": lambda _: feed(ionophore=None),
    "cottonseed": lambda _: feed(name="Cottonseed hulls"),
    "whole_cottonseed": lambda _: feed(name="Whole cottonseed"),
    "feed_copper": lambda v: feed(copper_ppm=v),
    "feed_selenium": lambda v: feed(selenium_ppm=v),
    "copper_unknown": lambda _: feed(FeedKind.MINERAL),
    "mineral": lambda _: feed(FeedKind.MINERAL),
    "mineral_untold": lambda _: feed(FeedKind.MINERAL, least_kg_per_head_day=0.05),
    "grain": lambda _: feed(FeedKind.GRAIN),
    "molasses": lambda _: feed(name="Molasses mix"),
    "feed_starch": lambda v: feed(starch_pct=v),
    "tetany": lambda _: _tetany(),
    "group": lambda _: (suspect(), ()),
    "water_salts": lambda _: (suspect(), ()),
    "water_salts_unknown": lambda _: (suspect(), ()),
    "nitrate_damp": lambda v: tested("nitrate_no3n", v, "ppm", rained_on=True),
    "hcn_wrapped": lambda _: (
        suspect(**SUDAN, package=Package.BALEAGE, baled_on=START - timedelta(days=40)),
        (),
    ),
    "ergot": lambda _: (suspect(note="ergot in the heads"), ()),
    "beetle_found": lambda _: (suspect(blister_beetles=True), ()),
    "beetle_found_asked": lambda _: (suspect(note="two blister beetles"), ()),
    "carcass": lambda _: (suspect(note="a dead rabbit in one bale"), ()),
    "stone_fruit": lambda _: (suspect(stone_fruit_leaves=True), ()),
    "stone_fruit_asked": lambda _: (suspect(note="chokecherry in the bales"), ()),
    "dusty": lambda _: (suspect(dusty=True), ()),
    "dusty_asked": lambda _: (suspect(note="dusty on top"), ()),
    "new_hay": lambda _: (suspect(baled_on=START - timedelta(days=20)), ()),
    "salt_limited": lambda _: feed(name="Protein and salt mix"),
    "ionophore_plain": lambda _: feed(ionophore=None, table_id="soybean_meal_44"),
    "oxalate_plant": lambda _: (suspect(species="kleingrass"), ()),
    "bermudagrass": lambda _: (suspect(species="bermudagrass"), ()),
    "straw": lambda _: (suspect(forage=Forage.STRAW, species="wheat"), ()),
    "large_bale": lambda _: (suspect(), ()),
    "fast_grain": lambda _: feed(FeedKind.GRAIN, name="Rolled barley"),
    "grazed": lambda _: feed(FeedKind.GRAZING, name="Brome pasture"),
    "water_nitrate": lambda _: (suspect(), ()),
    "water_nitrate_unknown": lambda _: tested("nitrate_no3n", 900.0, "ppm"),
}


def _fit_hay() -> tuple[Report, ...]:
    """Return a test by which the other hay is fit for horses that founder."""
    _, (report,) = tested("nsc", 8.0, "pct")
    return (replace(report, report_id="RA", lot_id="A"),)


def _tetany() -> Shown:
    hay, (report,) = tested("k", 3.5, "pct")
    more = (
        Analyte("ca", 0.25, "pct", Basis.DRY_MATTER),
        Analyte("mg", 0.10, "pct", Basis.DRY_MATTER),
    )
    return hay, (replace(report, analytes=(*report.analytes, *more)),)


def value_within(rule: Rule) -> float:
    """Return a value at which a rule holds."""
    low = rule.above or 0.0
    return 0.5 * (low + rule.upto) if rule.upto is not None else 1.2 * low + 1.0


def group_in(kind: AnimalClass, stage: str) -> Group:
    """Return a group of a class that is in a stage on the first days of the season."""
    facts = CLASSES[kind]
    weight = 0.5 * (facts.usual_kg[0] + facts.usual_kg[1])
    word, _, number = stage.partition(":")
    if word == "under_kg":
        weight = 0.9 * float(number)
    birth: date | None = None
    if word in ("pregnant", "calving", "foaling", "birth"):
        birth = START + timedelta(days=10)
    elif word == "nursing":
        birth = START - timedelta(days=10)
    elif word != "open" and facts.in_calf:
        birth = START + timedelta(days=25)
    young = kind in (AnimalClass.STOCKER, AnimalClass.REPLACEMENT_HEIFER, AnimalClass.DAIRY_HEIFER)
    return Group(
        "G",
        "The group",
        kind,
        20,
        weight,
        mature_weight_kg=1.1 * weight,
        finish_weight_kg=1.5 * weight if kind is AnimalClass.STOCKER else None,
        age_months=10.0 if young or kind is AnimalClass.YOUNG_HORSE else 30.0,
        gain_kg_per_day=0.3 if young else None,
        sex=Sex.STEER if kind is AnimalClass.STOCKER else None,
        calving_on=birth if facts.in_calf else None,
        condition_score=2.0 if word == "thin" else None,
        care=Care.METABOLIC if stage == "sugar" else None,
    )


def farm_showing(rule: Rule, kind: AnimalClass, *, known: bool = True, stage: str = "") -> Farm:
    """Return a farm whose hay or feed X is as a rule finds it, for one class in its stage."""
    about, reports = SHOWN[rule.finding](value_within(rule))
    lots: tuple[Lot, ...] = (lot("A"),)
    feeds: tuple[Feed, ...] = ()
    if isinstance(about, Lot):
        lots += (about,)
    else:
        feeds = (about,)
    group = group_in(kind, stage or rule.stage)
    farm = farm_of(lots, (group,), feeds, weeks=2, kg_dm=round(0.02 * group.weight_kg, 3))
    season = farm.season
    if rule.finding == "water_nitrate":
        season = replace(season, water_nitrate_no3n_ppm=value_within(rule))
    if rule.finding == "water_salts":
        season = replace(season, water_sulfate_ppm=value_within(rule))
    return replace(farm, reports=reports if known else (), season=season)
