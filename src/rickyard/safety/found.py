"""What is found of a lot or a feed: measured, stated, or unknown with a past that can carry it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Final

from rickyard.farm import Farm, Feed, FeedKind, Forage, Lot, Package
from rickyard.forage import Risk, lot_risks, risks_named
from rickyard.forage.hazards import (
    has_cooled,
    is_known_cured,
    lot_hazards,
    nitrate_past,
    prussic_acid_reasons,
    water_no3n_mg_per_l,
)
from rickyard.forage.plausibility import LotProfile, lot_profile
from rickyard.forage.values import feed_row
from rickyard.quantities import convert
from rickyard.safety.rule import amount_of, rule_of
from rickyard.stock.herd import is_risky_fescue, lot_sugars, may_hold_copper, says_fescue

#: Parts per million of a share in percent, and parts per billion of one part per million.
PPM_PER_PCT: Final = 1e4
PPB_PER_PPM: Final = 1e3

#: Poisons of molds are limited as fed at this dry matter.
LIMITS_DM: Final = 0.88

#: Months in which blister beetles can be in alfalfa, by the cuttings at which they swarm; those
#: of the south are the widest. Judgement, no published source.
BEETLE_MONTHS: Final = range(4, 11)

#: Hay older than this has lost most of its vitamin A (NRC, beef cattle). [d]
OLD_DAYS: Final = 183

#: Hay with more nitrate-nitrogen is limited for somebody (ServiTech). [ppm DM]
CARRIES_NO3N_PPM: Final = 699.99

#: Wrapped sorghum loses its prussic acid in so many days (Penn State, the longer end). [d]
WRAPPED_DAYS: Final = 56

#: Hay this hot inside has heated beyond its usual sweat, 130 °F. Common practice. [deg C]
HEATED_C: Final = 54.0

#: Hay is let sweat for so many days before horses get it: four to six weeks, the longer. Common
#: practice, no published source. [d]
SWEAT_DAYS: Final = 42

#: Rows of the feed table that a mill mixes, and not one plain feed, by their class.
_MIXES: Final = ("mixed", "mineral_mix", "liquid", "npn")

#: A feed with this much starch is fed like grain, % of dry matter. Common practice.
STARCHY_PCT: Final = 30.0

#: What is found by name alone of lots and feeds alike.
_NAMED: Final = (
    "sweet_clover", "alsike", "alyssum", "clover", "slobbers_seen", "foxtail_millet", "awns",
    "ammoniated", "ergot", "carcass", "oxalate_plant",
)  # fmt: skip

#: What is stated of a lot, by its column; a name or note that speaks of it asks for that alone.
_STATED: Final[Mapping[str, str]] = MappingProxyType(
    {
        "stone_fruit": "stone_fruit_leaves",
        "beetle_found": "blister_beetles",
        "dusty": "dusty",
    }
)

#: Plants by name, as regular expressions of whole words.
_PLANTS: Final[Mapping[str, str]] = MappingProxyType(
    {
        "sweet_clover": r"sweet ?clover",
        "alsike": r"alsike",
        "alyssum": r"alyssum",
        "clover": r"(?<!sweet )(?<!bush )(?<!alsike )clover(?! (?:hill|creek|lane|farm)\b)",
        "slobbers_seen": r"slobbers?|slaframine|black[ -]?patch",
        "foxtail_millet": r"(?:foxtail|german|siberian|hungarian)[ -]millets?",
        "millet_unnamed": (
            r"(?<!pearl[ -])(?<!japanese[ -])(?<!browntop[ -])(?<!brown top[ -])"
            r"(?<!proso[ -])(?<!barnyard[ -])(?<!foxtail[ -])"
            r"(?<!german[ -])(?<!siberian[ -])(?<!hungarian[ -])millets?"
        ),
        "awns": r"foxtail(?![ -]millet)|cheat ?(?:grass)?|foxtail barley|medusahead|downy brome",
        "alfalfa": r"alfalfa|lucerne",
        "perennial_ryegrass": r"perennial rye ?grass",
        "ammoniated": r"ammoniated|ammonia treated",
        "ergot": r"ergots?|ergoty",
        "beetle_found": r"(?<!no )blister[ -]?beetles?",
        "carcass": r"carcass(?:es)?|dead (?:animal|mouse|rat|cat|rabbit|fawn|snake|bird)s?",
        "oxalate_plant": (
            r"klein ?grass|buffel ?grass|setaria|pangola(?: ?grass)?|kikuyu(?: ?grass)?|"
            r"guinea ?grass|para ?grass"
        ),
        "stone_fruit": (
            r"choke ?cherr(?:y|ies)|"
            r"(?:cherry|plum|peach|apricot|almond)[ -](?:leaf|leaves|twigs?|branch(?:es)?|brush)"
        ),
        "dusty": r"(?<!not )(?<!never )dusty(?! (?:creek|hill|lane|road|farm|field)\b)",
        "salt_limited": r"salt[ -](?:limited|mix(?:ed)?)|limited (?:by|with) salt|hot mix",
        "bermudagrass": r"bermuda(?: ?grass)?",
        "fast_grain": r"wheat|barley|rye|triticale|ground",
        "wet_wrapped": r"silage|haylage|baleage|balage|oatlage|wheatlage|ryelage",
    }
)


@dataclass(frozen=True, slots=True)
class Found:
    """One thing that is found of a lot or feed; ``said`` fills in words of the caution.

    Where its value is ``assumed`` nobody measured it: it limits what is fed like one that somebody
    did, but proves nothing of what stock are used to.
    """

    finding: str
    value: float | None = None
    said: Mapping[str, str] = field(default_factory=dict)
    assumed: bool = False


def of_lot(lot: Lot, farm: Farm) -> tuple[Found, ...]:
    """Return what is found of a lot.

    Parameters
    ----------
    lot : Lot
        Its forage, species, past and package are read.
    farm : Farm
        Its reports and the first day of its season are read.

    Returns
    -------
    tuple of Found
        Each finding once, in no order of gravity.
    """
    profile = lot_profile(lot, farm.reports_of(lot.lot_id))
    found = [Found(one.key) for one in lot_hazards(lot, profile)]
    found += [*_nitrate_of(lot, profile), *_prussic_of(lot, profile), *_measured(profile)]
    found += [*_wrapped(lot, profile), *_by_name(f"{lot.species} {lot.name} {lot.note}")]
    found += _unnamed_millet(lot.species or lot.name)  # fields are called after other crops
    found += [*_stated(lot), *_fescue(lot, farm), *_past(lot, farm), *_sugars(lot, farm)]
    found += [*_put_up(lot, farm), *_damp_nitrate(lot, profile)]
    legume = lot.forage is Forage.ALFALFA
    bears = legume or bool(_pattern("alfalfa").search(f"{lot.species} {lot.name}".lower()))
    bears = bears or (lot.forage is Forage.LEGUME_GRASS and not lot.species)
    if bears and lot.baled_on.month in BEETLE_MONTHS:
        found.append(Found("alfalfa_bearing"))
    if legume:
        found.append(Found("alfalfa_hay"))
    return tuple({one.finding: one for one in found}.values())


def water_no3n_ppm(farm: Farm) -> float | None:
    """Return the nitrate of a farm's water as nitrogen, ``None`` where it is not known.

    Parameters
    ----------
    farm : Farm
        The farm.

    Returns
    -------
    float or None
        The nitrate in the water, as nitrogen. [mg/L]
    """
    season = farm.season
    return water_no3n_mg_per_l(season.water_nitrate_no3n_ppm, season.water_nitrate_no3_ppm)


def of_water(farm: Farm, found: Iterable[Found]) -> Iterator[Found]:
    """Yield what is found of the water; unknown nitrate matters where feed carries some too.

    Parameters
    ----------
    farm : Farm
        The nitrate of its water is read.
    found : iterable of Found
        What is found of all that is fed.

    Yields
    ------
    Found
        Its salts by its sulfate; no nitrate where that is not known and nothing fed carries any.
    """
    if farm.season.water_sulfate_ppm is not None:
        # Sulfate is a part of all that is dissolved: what it alone exceeds, all exceeds.
        yield Found("water_salts", farm.season.water_sulfate_ppm)
    else:
        yield Found("water_salts_unknown")
    no3n = water_no3n_ppm(farm)
    if no3n is not None:
        yield Found("water_nitrate", no3n)
    elif any(
        one.finding == "begin_nitrate" and one.value and one.value > CARRIES_NO3N_PPM
        for one in found
    ):
        yield Found("water_nitrate_unknown")


def _nitrate_of(lot: Lot, profile: LotProfile) -> Iterator[Found]:
    if profile.nitrate_no3n_ppm is not None:
        yield Found("nitrate_no3n", profile.nitrate_no3n_ppm)
        yield Found("begin_nitrate", profile.nitrate_no3n_ppm)
        return
    carries = Risk.NITRATE in lot_risks(lot)
    past = nitrate_past(lot)
    if profile.nitrate_unstated_ppm is not None or carries or lot.drought:
        yield Found("begin_nitrate", amount_of("nitrate-counted-as"), assumed=True)
    if profile.nitrate_unstated_ppm is not None:
        yield Found("nitrate_form_unknown")
    elif carries and past:
        yield Found("nitrate_untested_stressed", None, {"history": past})
    elif carries:
        yield Found("nitrate_untested_carrier")
    elif lot.drought:
        yield Found("nitrate_untested_drought", None, {"history": past})


def _prussic_of(lot: Lot, profile: LotProfile) -> Iterator[Found]:
    if Risk.PRUSSIC_ACID in lot_risks(lot):
        yield Found("sorghum_family")
    if profile.hcn_ppm is not None:
        yield Found("hcn", profile.hcn_ppm)
    elif prussic_acid_reasons(lot):
        yield Found("hcn_cured" if is_known_cured(lot, profile) else "hcn_suspected")


def _measured(profile: LotProfile) -> Iterator[Found]:
    values = profile.measured
    for finding, name, factor in (
        ("ergovaline", "ergovaline", PPB_PER_PPM),
        ("lolitrem_b", "lolitrem_b", PPB_PER_PPM),
        ("mold_cfu", "mold", 1.0),
        ("aflatoxin_ppb", "aflatoxin", PPB_PER_PPM * LIMITS_DM),
        ("fumonisin_ppm", "fumonisin", LIMITS_DM),
        ("don_ppm", "don", LIMITS_DM),
        ("potassium", "k", 1.0),
        ("selenium", "se", 1.0),
    ):
        if name in values:
            yield Found(finding, values[name] * factor)


def _wrapped(lot: Lot, profile: LotProfile) -> Iterator[Found]:
    if lot.package is Package.BALEAGE or lot.forage is Forage.CORN_SILAGE:
        yield Found("baleage")
        if profile.ph is None:
            yield Found("baleage_untested")


def _by_name(text: str) -> Iterator[Found]:
    for finding in _NAMED:
        if _pattern(finding).search(text.lower()):
            yield Found(finding)
    if _pattern("perennial_ryegrass").search(text.lower()):
        yield Found("perennial_ryegrass")


def _unnamed_millet(text: str) -> Iterator[Found]:
    if _pattern("millet_unnamed").search(text.lower()):
        yield Found("millet_unnamed")


def _put_up(lot: Lot, farm: Farm) -> Iterator[Found]:
    """Yield what matters of the plant and of the bale to those who chew it."""
    if lot.forage is Forage.STRAW:
        yield Found("straw")
    if _pattern("bermudagrass").search(f"{lot.species} {lot.name}".lower()):
        yield Found("bermudagrass")
    if lot.package in (Package.ROUND, Package.LARGE_SQUARE):
        yield Found("large_bale")
    sorghum = lot.package is Package.BALEAGE and Risk.PRUSSIC_ACID in lot_risks(lot)
    if sorghum and (farm.season.start - lot.baled_on).days < WRAPPED_DAYS:
        yield Found("hcn_wrapped")


def _damp_nitrate(lot: Lot, profile: LotProfile) -> Iterator[Found]:
    hot = (lot.highest_temperature_c or 0.0) >= HEATED_C
    damp = hot or lot.rained_on or lot.flooded or lot.package is Package.BALEAGE
    if damp and profile.nitrate_no3n_ppm is not None:
        yield Found("nitrate_damp", profile.nitrate_no3n_ppm)


def _fescue(lot: Lot, farm: Farm) -> Iterator[Found]:
    tested = any(one.get("ergovaline") is not None for one in farm.reports_of(lot.lot_id))
    if is_risky_fescue(lot, farm) and not tested:
        yield Found("fescue_untested")


def _past(lot: Lot, farm: Farm) -> Iterator[Found]:
    yield from _heated(lot)
    if lot.flooded:
        yield Found("flooded")
    if lot.weedy:
        yield Found("weedy")
    age = (farm.season.start - lot.baled_on).days
    if 0 <= age < SWEAT_DAYS and lot.package is not Package.BALEAGE:
        yield Found("new_hay")
    if age > OLD_DAYS or lot.drought or lot.rained_on:
        yield Found("faded")


def _heated(lot: Lot) -> Iterator[Found]:
    """Yield how hot it was inside; a stack that only has to cool is another thing once it has."""
    hottest = lot.highest_temperature_c
    if hottest is None:
        return
    cooled = has_cooled(lot) and rule_of("hot-stack").meets(hottest)
    said = {"fahrenheit": f"{convert(hottest, 'degC', 'degF'):.0f}"}
    yield Found("cooled_stack" if cooled else "charred", hottest, said)


def _sugars(lot: Lot, farm: Farm) -> Iterator[Found]:
    verdict = lot_sugars(lot, farm)
    if verdict is None:
        yield Found("nsc_unknown")
    elif verdict.light == "red":
        yield Found("nsc_red", None, {"verdict": verdict.sentence})


def _stated(lot: Lot) -> Iterator[Found]:
    """Yield what its columns say of a lot, and what a blank one leaves to be asked."""
    text = f"{lot.species} {lot.name} {lot.note}"
    blank = []
    for finding, column in _STATED.items():
        said = getattr(lot, column)
        if said:
            yield Found(finding)
        elif said is None:
            blank.append(finding)
    yield from _asked(text, blank)


def _asked(text: str, findings: Iterable[str]) -> Iterator[Found]:
    for finding in findings:
        if _pattern(finding).search(text.lower()):
            yield Found(f"{finding}_asked")


def of_feed(feed: Feed) -> tuple[Found, ...]:
    """Return what is found of a feed that is bought or grazed.

    Parameters
    ----------
    feed : Feed
        Its kind, name, tag and row of the feed table are read.

    Returns
    -------
    tuple of Found
        Each finding once.

    Examples
    --------
    >>> [one.finding for one in of_feed(Feed("C", "Corn", FeedKind.GRAIN, 0.2, ionophore=False))]
    ['grain', 'begin_grain']
    """
    return (*_of_tag(feed), *_of_long(feed))


def npn_of(feed: Feed) -> float:
    """Return the protein of a feed that is urea or the like.

    Parameters
    ----------
    feed : Feed
        The feed, with what its tag or its row of the feed table says.

    Returns
    -------
    float
        Of its dry matter, as crude protein; zero where nothing says that it holds any. [%]
    """
    if feed.npn_cp_pct is not None:
        return feed.npn_cp_pct
    return (feed_row(feed.table_id).npn_cp_pct or 0.0) if feed.table_id else 0.0


def starch_of(feed: Feed) -> float | None:
    """Return the starch of a feed, stated or of its row of the feed table. [% DM]."""
    if feed.starch_pct is None and feed.table_id:
        return feed_row(feed.table_id).starch_pct
    return feed.starch_pct


def _of_tag(feed: Feed) -> Iterator[Found]:
    npn = npn_of(feed)
    if npn > 0.0:
        yield Found("npn", npn)
    if feed.ionophore:
        yield Found("ionophore")
    elif feed.ionophore is None and _may_be_mixed(feed):
        yield Found("ionophore_plain" if _is_plain(feed) else "ionophore_unknown")
    text = f"{feed.table_id} {feed.name}".lower()
    if feed.kind is FeedKind.SUPPLEMENT and _pattern("salt_limited").search(text):
        yield Found("salt_limited")
    yield from _of_kind(feed)
    yield from _begun(feed)
    if feed.kind is FeedKind.MINERAL and feed.most_kg_per_head_day is None:
        yield from _of_mineral(feed)


def _of_mineral(feed: Feed) -> Iterator[Found]:
    """Yield that it is taken from a feeder, and that nobody said what trace elements it holds."""
    yield Found("mineral")
    untold = feed.copper_ppm is None or feed.selenium_ppm is None
    if untold and feed.least_kg_per_head_day is not None and may_hold_copper(feed):
        yield Found("mineral_untold")


def _begun(feed: Feed) -> Iterator[Found]:
    if feed.kind not in (FeedKind.GRAIN, FeedKind.SUPPLEMENT):
        return
    if npn_of(feed) > 0.0:
        yield Found("begin_npn")
    starch = starch_of(feed)
    if feed.kind is FeedKind.GRAIN or (starch is not None and starch >= STARCHY_PCT):
        yield Found("begin_grain")


def _of_kind(feed: Feed) -> Iterator[Found]:
    text = f"{feed.table_id} {feed.name}".lower()
    if "cottonseed" in text:
        yield Found("cottonseed")
        if "whole" in text:
            yield Found("whole_cottonseed")
    if feed.copper_ppm is not None:
        yield Found("feed_copper", feed.copper_ppm)
    elif may_hold_copper(feed):
        yield Found("copper_unknown")
    if feed.selenium_ppm is not None:
        yield Found("feed_selenium", feed.selenium_ppm)
    if feed.kind is FeedKind.GRAIN:
        yield Found("grain")
        if _pattern("fast_grain").search(text.replace("_", " ")):
            yield Found("fast_grain")
    if "molasses" in text:
        yield Found("molasses")
    if feed.starch_pct is not None:
        yield Found("feed_starch", feed.starch_pct)


def _may_be_mixed(feed: Feed) -> bool:
    """Tell whether a mill may have put something in: pellets and sweet feed go as grain too."""
    if feed.kind is FeedKind.GRAIN:
        return not feed.table_id  # a row of the feed table is one plain grain
    return feed.kind in (FeedKind.SUPPLEMENT, FeedKind.MINERAL)


def _is_plain(feed: Feed) -> bool:
    """Tell whether a feed is one thing of the feed table, such as soybean meal, and no mix."""
    return bool(feed.table_id) and feed_row(feed.table_id).feed_class not in _MIXES


def _of_long(feed: Feed) -> Iterator[Found]:
    if feed.nitrate_no3n_ppm is not None:
        yield Found("nitrate_no3n", feed.nitrate_no3n_ppm)
        yield Found("begin_nitrate", feed.nitrate_no3n_ppm)
    if feed.kind not in (FeedKind.FORAGE, FeedKind.GRAZING):
        return
    if feed.kind is FeedKind.GRAZING:
        yield Found("grazed")
    text = f"{feed.name} {feed.table_id.replace('_', ' ')}"
    risks = risks_named(text)
    if Risk.NITRATE in risks and feed.nitrate_no3n_ppm is None:
        yield Found("nitrate_untested_carrier")
        yield Found("begin_nitrate", amount_of("nitrate-counted-as"), assumed=True)
    if Risk.PRUSSIC_ACID in risks:
        yield Found("sorghum_family")
    if says_fescue(text):
        yield Found("fescue_untested")
    if feed.kind is FeedKind.FORAGE:
        yield Found("nsc_bought")  # a row of feeds has no place for a test of its sugar
    if feed.kind is FeedKind.FORAGE and _pattern("alfalfa").search(text.lower()):
        yield Found("alfalfa_bearing")
    if feed.kind is FeedKind.FORAGE and _pattern("wet_wrapped").search(text.lower()):
        # Of what is bought in wet nobody states an acidity.
        yield Found("baleage")
        yield Found("baleage_untested")
    yield from _by_name(text)
    yield from _asked(text, _STATED)
    yield from _unnamed_millet(text)


def _pattern(plant: str) -> re.Pattern[str]:
    return re.compile(rf"\b(?:{_PLANTS[plant]})\b")
