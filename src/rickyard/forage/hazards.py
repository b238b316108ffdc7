"""What can go wrong with a lot of hay: the cautions that belong to it, gravest first.

Each caution says the finding, whom it concerns and what to do. Where an animal or a person can
be hurt it defers to the extension office, the veterinarian or the fire service.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, Literal, TypeAlias

from rickyard.farm import Caution, Forage, Lot, Package
from rickyard.forage.book_values import (
    ENERGY_SPREAD_PCT,
    FORAGE_WORDS,
    MINERAL_SPREAD_PCT,
    ORGANIC_SPREAD_PCT,
    SPREAD_SOURCE,
)
from rickyard.forage.heating import (
    DANGER_FROM_C,
    HEAT_DAMAGE_FROM_C,
    STRICTEST_SOURCE,
    hay_temperature_action,
)
from rickyard.forage.indices import ca_to_p_ratio
from rickyard.forage.plausibility import Finding
from rickyard.forage.poisons import (
    ASK,
    is_nitrate_suspect,
    is_sorghum_family,
    nitrate_cautions,
    prussic_acid_cautions,
)
from rickyard.forage.profile import LotProfile
from rickyard.forage.protein import ADJUST_FROM_PCT_OF_CP, bound_share_pct_of_cp
from rickyard.quantities import UNITS

__all__ = ["by_gravity", "is_nitrate_suspect", "is_sorghum_family", "lot_cautions"]

Level: TypeAlias = Literal["danger", "warning", "note"]
_LEVELS: Final[tuple[Level, ...]] = ("danger", "warning", "note")

# New Mexico State University CR583: below it rumen microbes run short of nitrogen.
LEAST_CP_PCT: Final = 7.0
# Anderson, University of Nebraska: some labs adjust from here.
BOUND_TOLD_FROM_PCT_OF_CP: Final = 10.0
_WATCHED_FROM_C: Final = UNITS["degF"].to_canonical(131.0)

# Wrapped bales: University of Kentucky (Arnold; Kentucky forage newsletter 2020), Ohio State
# (Buckeye Dairy News 18(3)). The moisture conditions of the pH steps are the handbook's own.
WET_BALEAGE_ABOVE_MOISTURE_PCT: Final = 65.0
SOAKED_BALEAGE_ABOVE_MOISTURE_PCT: Final = 70.0
DRY_BALEAGE_BELOW_MOISTURE_PCT: Final = 40.0
PH_SAFE: Final = 4.5
PH_SAFE_NEEDED_ABOVE_MOISTURE_PCT: Final = 50.0
PH_DOUBTFUL_ABOVE: Final = 5.0
PH_DANGER_SMALL_GRAIN: Final = 5.5
BALEAGE_SOURCE: Final = (
    "University of Kentucky baleage advice (Arnold; forage newsletter 2020); Ohio State, Buckeye "
    "Dairy News 18(3)"
)
OPENED_SOURCE: Final = "Hay & Forage Grower, store and feed baleage: within 24 hours of opening"


def lot_cautions(lot: Lot, profile: LotProfile) -> tuple[Caution, ...]:
    """Return every caution about a lot, gravest first.

    Parameters
    ----------
    lot : Lot
        The lot with its season: rain, drought, frost, heat.
    profile : LotProfile
        The values counted for it.

    Returns
    -------
    tuple of Caution
        Dangers, then warnings, then notes, each with its source.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import Storage
    >>> from rickyard.forage.profile import lot_profile
    >>> oats = Lot("L1", "Oat hay", Forage.SMALL_GRAIN, Package.ROUND, Storage.ENCLOSED_BARN,
    ...            40, date(2026, 6, 1), date(2026, 10, 1))
    >>> [caution.level for caution in lot_cautions(oats, lot_profile(oats, ()))]
    ['warning', 'warning']
    """
    found = [
        *nitrate_cautions(lot, profile),
        *prussic_acid_cautions(lot, profile),
        *_hot_hay(lot),
        *_baleage(lot, profile),
        *(one.caution() for one in profile.findings if not _told_by_moisture(lot, one)),
        *_untested(lot, profile),
        *_heat_damage(lot, profile),
        *_little_protein(lot, profile),
        *_calcium(lot, profile),
        *_rained_on(lot, profile),
    ]
    return by_gravity(found)


def by_gravity(cautions: list[Caution] | tuple[Caution, ...]) -> tuple[Caution, ...]:
    """Return cautions with dangers first and notes last, else in the order given.

    Examples
    --------
    >>> note, danger = Caution("note", "", "a", "b"), Caution("danger", "", "c", "d")
    >>> [one.level for one in by_gravity([note, danger])]
    ['danger', 'note']
    """
    return tuple(sorted(cautions, key=lambda one: _LEVELS.index(one.level)))


def _is_dry_hay(lot: Lot) -> bool:
    return lot.package is not Package.BALEAGE and lot.forage is not Forage.CORN_SILAGE


def _told_by_moisture(lot: Lot, finding: Finding) -> bool:
    """Say whether the moisture of baleage, told as a hazard, says the same as a finding."""
    screen = finding.rule == "S01" and finding.about == ("dm",)
    return screen and lot.package is Package.BALEAGE


def _hot_hay(lot: Lot) -> Iterator[Caution]:
    highest = lot.highest_temperature_c
    if highest is None or not _is_dry_hay(lot):
        return
    action = hay_temperature_action(highest)
    if not action:
        return
    danger = highest >= DANGER_FROM_C
    fahrenheit = UNITS["degF"].from_canonical(highest)
    defer = (
        " Burned-out hollows give way underfoot; leave the rest to the fire service and your "
        "extension office."
        if danger
        else " Ask your extension office if it keeps rising."
    )
    level: Level = "warning" if highest >= _WATCHED_FROM_C else "note"
    yield Caution(
        "danger" if danger else level,
        lot.lot_id,
        f"The hottest reading inside {lot.name} was {highest:.0f} °C ({fahrenheit:.0f} °F). Unless "
        f"it has cooled since: {action}.{defer}",
        STRICTEST_SOURCE,
    )


def _heat_damage(lot: Lot, profile: LotProfile) -> Iterator[Caution]:
    bound, highest = profile.adicp_pct, lot.highest_temperature_c
    if bound is not None and profile.origins["crude_cp_pct"] == "lab":
        share = bound_share_pct_of_cp(profile.crude_cp_pct, bound)
        yield from _bound(lot, profile, share)
    elif highest is not None and highest >= HEAT_DAMAGE_FROM_C and _is_dry_hay(lot):
        yield Caution(
            "warning",
            lot.lot_id,
            f"The heat in {lot.name} reached {highest:.0f} °C "
            f"({UNITS['degF'].from_canonical(highest):.0f} °F), and no test tells its bound "
            "protein (ADICP): part of the protein may be of no use to stock. Ask the lab for "
            "ADICP by wet chemistry.",
            "University of Idaho (Shewmaker) and Crop File 6.01.002 on heated hay",
        )


def _bound(lot: Lot, profile: LotProfile, share: float) -> Iterator[Caution]:
    source = "Three-step rule of forage labs, from memory; Anderson, University of Nebraska"
    if share >= ADJUST_FROM_PCT_OF_CP:
        yield Caution(
            "warning",
            lot.lot_id,
            f"Heat has bound {share:.0f} % of the protein of {lot.name}: {profile.cp_pct:.1f} % "
            f"protein in the dry matter is counted instead of {profile.crude_cp_pct:.1f} %, for "
            "all stock.",
            source,
        )
    elif share >= BOUND_TOLD_FROM_PCT_OF_CP:
        yield Caution(
            "note",
            lot.lot_id,
            f"{share:.0f} % of the protein of {lot.name} is bound, a sign of some heating; its "
            f"{profile.crude_cp_pct:.1f} % protein in the dry matter is counted whole, though "
            "some labs would already take it down.",
            source,
        )


def _baleage(lot: Lot, profile: LotProfile) -> Iterator[Caution]:
    if lot.package is not Package.BALEAGE:
        return
    known = profile.origins["dm_pct"] != "book"
    moisture = 100.0 - profile.dm_pct if known else None
    if moisture is not None:
        yield from _baleage_moisture(lot, moisture)
    if profile.ph is not None:
        yield from _baleage_ph(lot, profile.ph, moisture)
    yield Caution(
        "note",
        lot.lot_id,
        f"Baleage, {lot.name}: feed a bale within a day of opening it, mend holes in the film "
        "the day they appear, and throw out bales that smell foul or are moldy, slimy or hold a "
        "dead animal (listeria, botulism). Never feed a doubtful bale to a horse. Call the "
        "veterinarian if stock goes weak or unsteady.",
        f"{OPENED_SOURCE}; {BALEAGE_SOURCE}",
    )


def _baleage_moisture(lot: Lot, moisture: float) -> Iterator[Caution]:
    finding = f"The moisture of {lot.name} is {moisture:.0f} %"
    if moisture > SOAKED_BALEAGE_ABOVE_MOISTURE_PCT:
        yield Caution(
            "danger",
            lot.lot_id,
            f"{finding}, so wet that clostridia and botulism may grow. Have pH and fermentation "
            f"tested. {ASK}",
            BALEAGE_SOURCE,
        )
    elif moisture > WET_BALEAGE_ABOVE_MOISTURE_PCT:
        yield Caution(
            "warning",
            lot.lot_id,
            f"{finding}, which favors clostridia: have pH and fermentation tested before you "
            "feed it to any stock.",
            BALEAGE_SOURCE,
        )
    elif moisture < DRY_BALEAGE_BELOW_MOISTURE_PCT:
        yield Caution(
            "note",
            lot.lot_id,
            f"{finding}, dry for baleage: it hardly ferments, so mold is its danger. Keep the "
            "film tight, look at every bale, and feed it early.",
            BALEAGE_SOURCE,
        )


def _baleage_ph(lot: Lot, ph: float, moisture: float | None) -> Iterator[Caution]:
    if moisture is not None and moisture < DRY_BALEAGE_BELOW_MOISTURE_PCT:
        return
    finding = f"The pH of {lot.name} is {ph:.1f}"
    if ph >= PH_DANGER_SMALL_GRAIN and lot.forage is Forage.SMALL_GRAIN:
        yield Caution(
            "danger",
            lot.lot_id,
            f"{finding}: small-grain baleage that did not sour may carry botulism. Feed it to no "
            f"stock until it is cleared. {ASK}",
            BALEAGE_SOURCE,
        )
    elif ph > PH_DOUBTFUL_ABOVE:
        yield Caution(
            "warning",
            lot.lot_id,
            f"{finding}, not sour enough to hold back listeria and clostridia: open every bale "
            f"with suspicion, and feed none to pregnant ewes, does or horses. {ASK}",
            BALEAGE_SOURCE,
        )
    elif ph > PH_SAFE and (moisture is None or moisture > PH_SAFE_NEEDED_ABOVE_MOISTURE_PCT):
        yield Caution(
            "warning",
            lot.lot_id,
            f"{finding}, above the 4.5 that keeps wet baleage safe: look at every bale, and feed "
            "it quickly once open.",
            BALEAGE_SOURCE,
        )


def _untested(lot: Lot, profile: LotProfile) -> Iterator[Caution]:
    if not profile.tested:
        yield Caution(
            "warning",
            lot.lot_id,
            f"No test tells what {lot.name} holds: it is counted with book values for "
            f"{FORAGE_WORDS[lot.forage]}, {profile.tdn_pct:.0f} % TDN and {profile.cp_pct:.1f} % "
            "protein in the dry matter. One lot commonly lies within "
            f"{ENERGY_SPREAD_PCT:.0f} % of the book in energy, {ORGANIC_SPREAD_PCT:.0f} % in "
            f"protein and fiber, {MINERAL_SPREAD_PCT:.0f} % in minerals, and may lie further. "
            "Test it before stock with high needs depends on it.",
            SPREAD_SOURCE,
        )


def _little_protein(lot: Lot, profile: LotProfile) -> Iterator[Caution]:
    if profile.cp_pct < LEAST_CP_PCT:
        yield Caution(
            "warning",
            lot.lot_id,
            f"The protein of {lot.name} is {profile.cp_pct:.1f} % of the dry matter, under the "
            f"{LEAST_CP_PCT:.0f} % that cattle need to digest hay well: they will eat less of it "
            "and get less from it. Feed protein with it.",
            "New Mexico State University CR583, protein of low-quality forage",
        )


def _calcium(lot: Lot, profile: LotProfile) -> Iterator[Caution]:
    if {profile.origins["ca_pct"], profile.origins["p_pct"]} != {"lab"}:
        return
    ratio = ca_to_p_ratio(profile.ca_pct, profile.p_pct)
    if ratio < 1.0:
        yield Caution(
            "warning",
            lot.lot_id,
            f"The calcium of {lot.name} ({profile.ca_pct:.2f} % of the dry matter) is less than "
            f"its phosphorus ({profile.p_pct:.2f} %), {ratio:.1f} to 1; cattle need at least 1 "
            "to 1 in the whole ration. Add a source of calcium, for example limestone.",
            "J. Anim. Sci. trial and extension practice: at least 1 to 1, better 1.5-3 to 1",
        )


def _rained_on(lot: Lot, profile: LotProfile) -> Iterator[Caution]:
    if not lot.rained_on:
        return
    remedy = (
        "If it was sampled before the rain, sample it again"
        if profile.tested
        else "Rain washes out sugars and leaf: test it, book values are too good for it"
    )
    yield Caution(
        "note",
        lot.lot_id,
        f"Rain fell on {lot.name} in the making. {remedy}, and look for mold before feeding.",
        "Extension advice on rained-on hay: fiber, digestibility and ash to be tested again",
    )
