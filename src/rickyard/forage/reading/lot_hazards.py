"""What can go wrong with a lot of hay: the cautions that belong to it, gravest first.

Each caution says the finding, whom it concerns and what to do. Where an animal or a person can
be hurt it defers to the extension office, the veterinarian or the fire service.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from rickyard.farm import Caution, Lot, Package
from rickyard.forage.energy import ca_to_p_ratio
from rickyard.forage.hazards import (
    DANGER_FROM_F,
    HEAT_DAMAGE_FROM_F,
    STRICTEST_SOURCE,
    TETANY,
    WATCHED_FROM_F,
    Hazard,
    Level,
    baleage_hazards,
    endophyte_hazards,
    fermentation_hazards,
    has_reached,
    hay_temperature_action,
    horse_hazards,
    is_nitrate_suspect,
    is_sorghum_family,
    mold_hazards,
    nitrate_hazards,
    prussic_acid_hazards,
    soil_hazards,
    sulfur_hazards,
    trace_mineral_hazards,
)
from rickyard.forage.plausibility import Finding, LotProfile
from rickyard.forage.values import (
    ADJUST_FROM_PCT_OF_CP,
    ENERGY_SPREAD_PCT,
    FORAGE_WORDS,
    HORSE_LEAST_CA_TO_P,
    MINERAL_SPREAD_PCT,
    ORGANIC_SPREAD_PCT,
    SPREAD_SOURCE,
    TETANY_RISK_ABOVE,
    bound_share_pct_of_cp,
    is_wet,
    tetany_ratio,
)
from rickyard.quantities import UNITS

__all__ = [
    "by_gravity",
    "hazard_cautions",
    "is_nitrate_suspect",
    "is_sorghum_family",
    "lot_hazards",
]

_LEVELS: Final[tuple[Level, ...]] = ("danger", "warning", "note")

# New Mexico State University CR583: below it rumen microbes run short of nitrogen.
LEAST_CP_PCT: Final = 7.0
# Anderson, University of Nebraska: some labs adjust from here.
BOUND_TOLD_FROM_PCT_OF_CP: Final = 10.0


def hazard_cautions(lot: Lot, profile: LotProfile) -> tuple[Caution, ...]:
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
    >>> from rickyard.farm import Forage, Storage
    >>> from rickyard.forage.plausibility.profile import lot_profile
    >>> oats = Lot("L1", "Oat hay", Forage.SMALL_GRAIN, Package.ROUND, Storage.ENCLOSED_BARN,
    ...            40, date(2026, 6, 1), date(2026, 10, 1))
    >>> [caution.level for caution in hazard_cautions(oats, lot_profile(oats, ()))]
    ['warning', 'warning']
    """
    found = [
        *(hazard.caution(lot.lot_id) for hazard in lot_hazards(lot, profile)),
        *(one.caution() for one in profile.findings if not _told_by_moisture(lot, one)),
        *_untested(lot, profile),
        *_heat_damage(lot, profile),
        *_little_protein(lot, profile),
        *_calcium(lot, profile),
        *_rained_on(lot, profile),
    ]
    return by_gravity(found)


def lot_hazards(lot: Lot, profile: LotProfile) -> tuple[Hazard, ...]:
    """Return every hazard of a lot: finding, table, source, stock, what to do, what to ask.

    Parameters
    ----------
    lot : Lot
        The lot with its season: rain, drought, frost, heat.
    profile : LotProfile
        The values counted for it, and all that was measured.

    Returns
    -------
    tuple of Hazard
        By subject: nitrate, prussic acid, heat, wrapped bales, ergot alkaloids, molds, minerals,
        soil, horses.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import Analyte, Basis, Forage, Report, Storage
    >>> from rickyard.forage.plausibility.profile import lot_profile
    >>> lot = Lot("L1", "Creek", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN, 40,
    ...           date(2026, 6, 1), date(2026, 10, 1))
    >>> report = Report("R1", "L1", (Analyte("ergovaline", 450.0, "ppb", Basis.DRY_MATTER),))
    >>> (hazard,) = lot_hazards(lot, lot_profile(lot, [report]))
    >>> hazard.name, hazard.level, hazard.concerns[:11]
    ('ergovaline', 'danger', 'brood mares')
    """
    measured = profile.measured
    return (
        *nitrate_hazards(lot, profile),
        *prussic_acid_hazards(lot, profile),
        *_hot_hay(lot),
        *baleage_hazards(lot, profile),
        *(fermentation_hazards(lot.name, measured) if is_wet(lot) else ()),
        *endophyte_hazards(lot.name, measured),
        *mold_hazards(lot.name, measured),
        *sulfur_hazards(lot.name, measured.get("s")),
        *trace_mineral_hazards(lot.name, measured),
        *_tetany(lot, measured),
        *soil_hazards(lot.name, lot.forage, measured.get("ash"), is_wet(lot)),
        *horse_hazards(lot, measured),
    )


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
    return not is_wet(lot)


def _told_by_moisture(lot: Lot, finding: Finding) -> bool:
    """Say whether the moisture of baleage, told as a hazard, says the same as a finding."""
    screen = finding.rule == "S01" and finding.about == ("dm",)
    return screen and lot.package is Package.BALEAGE


def _hot_hay(lot: Lot) -> Iterator[Hazard]:
    highest = lot.highest_temperature_c
    if highest is None or not _is_dry_hay(lot):
        return
    action = hay_temperature_action(highest)
    if not action:
        return
    danger = has_reached(highest, DANGER_FROM_F)
    fahrenheit = UNITS["degF"].from_canonical(highest)
    level: Level = "warning" if has_reached(highest, WATCHED_FROM_F) else "note"
    yield Hazard(
        "hot hay",
        "danger" if danger else level,
        f"{lot.name} heated to {fahrenheit:.0f} °F ({highest:.0f} °C) inside. Unless it has "
        "cooled since",
        "temperatures inside dry hay, by the strictest source",
        STRICTEST_SOURCE,
        "people first, and all that burns",
        f"{action}.",
        "Burned-out hollows give way underfoot; leave the rest to the fire department and your "
        "extension office."
        if danger
        else "Ask your extension office if it keeps rising.",
        in_short=f"heated to {fahrenheit:.0f} °F ({highest:.0f} °C)",
    )


def _tetany(lot: Lot, measured: Mapping[str, float]) -> Iterator[Hazard]:
    if any(name not in measured for name in ("k", "ca", "mg")):
        return
    ratio = float(tetany_ratio(measured["k"], measured["ca"], measured["mg"]))
    if ratio > TETANY_RISK_ABOVE:
        yield Hazard(
            "grass tetany",
            "warning",
            f"The potassium of {lot.name} outweighs its calcium and magnesium {ratio:.1f} to 1, "
            f"above the {TETANY_RISK_ABOVE:g} from which cows go down with tetany more often",
            f"{TETANY.name}, {TETANY.unit}",
            TETANY.source,
            "cows near calving and nursing, ewes with twins",
            "feed such stock a high-magnesium mineral, or other hay.",
            "Ask the lab for magnesium by wet chemistry, and the veterinarian which mineral to "
            "use.",
        )


def _heat_damage(lot: Lot, profile: LotProfile) -> Iterator[Caution]:
    bound, highest = profile.adicp_pct, lot.highest_temperature_c
    if bound is not None and profile.origins["crude_cp_pct"] == "lab":
        share = bound_share_pct_of_cp(profile.crude_cp_pct, bound)
        yield from _bound(lot, profile, share)
    elif highest is not None and has_reached(highest, HEAT_DAMAGE_FROM_F) and _is_dry_hay(lot):
        yield Caution(
            "warning",
            lot.lot_id,
            f"{lot.name} heated to {UNITS['degF'].from_canonical(highest):.0f} °F ({highest:.0f} "
            "°C), and its bound protein (ADICP) was not tested: stock may not be able to use "
            "part of the protein. Ask the lab for ADICP by wet chemistry.",
            "University of Idaho (Shewmaker) and Crop File 6.01.002 on heated hay",
        )


def _bound(lot: Lot, profile: LotProfile, share: float) -> Iterator[Caution]:
    source = "Three-step rule of forage labs, from memory; Anderson, University of Nebraska"
    if share >= ADJUST_FROM_PCT_OF_CP:
        yield Caution(
            "warning",
            lot.lot_id,
            f"Heat has bound {share:.0f}% of the protein of {lot.name}: {profile.cp_pct:.1f}% "
            f"protein in the dry matter is used instead of {profile.crude_cp_pct:.1f}%, for all "
            "stock.",
            source,
        )
    elif share >= BOUND_TOLD_FROM_PCT_OF_CP:
        yield Caution(
            "note",
            lot.lot_id,
            f"{share:.0f}% of the protein of {lot.name} is bound, a sign of some heating; its "
            f"{profile.crude_cp_pct:.1f}% protein in the dry matter is used in full, though some "
            "labs would already lower it.",
            source,
        )


def _untested(lot: Lot, profile: LotProfile) -> Iterator[Caution]:
    if not profile.tested:
        yield Caution(
            "warning",
            lot.lot_id,
            f"{lot.name} has no test, so it is counted at book values for "
            f"{FORAGE_WORDS[lot.forage]}, {profile.tdn_pct:.0f}% TDN and {profile.cp_pct:.1f}% "
            f"protein in the dry matter. One lot is commonly within {ENERGY_SPREAD_PCT:.0f}% of "
            f"the book in energy, {ORGANIC_SPREAD_PCT:.0f}% in protein and fiber and "
            f"{MINERAL_SPREAD_PCT:.0f}% in minerals, and can be further off. Test it before stock "
            "with high needs depend on it.",
            SPREAD_SOURCE,
        )


def _little_protein(lot: Lot, profile: LotProfile) -> Iterator[Caution]:
    if profile.cp_pct < LEAST_CP_PCT:
        yield Caution(
            "warning",
            lot.lot_id,
            f"The protein of {lot.name} is {profile.cp_pct:.1f}% of the dry matter, under the "
            f"{LEAST_CP_PCT:.0f}% that cattle need to digest hay well: they eat less of it and "
            "get less out of it. Feed protein with it.",
            "New Mexico State University CR583, protein of low-quality forage",
        )


def _calcium(lot: Lot, profile: LotProfile) -> Iterator[Caution]:
    if {profile.origins["ca_pct"], profile.origins["p_pct"]} != {"lab"}:
        return
    ratio = ca_to_p_ratio(profile.ca_pct, profile.p_pct)
    if ratio < HORSE_LEAST_CA_TO_P:
        yield Caution(
            "warning",
            lot.lot_id,
            f"The calcium of {lot.name} ({profile.ca_pct:.2f}% of the dry matter) is less than "
            f"its phosphorus ({profile.p_pct:.2f}%), {ratio:.1f} to 1; cattle and horses need at "
            "least 1 to 1 in the whole ration. Add calcium, such as limestone.",
            "J. Anim. Sci. trial and extension practice: at least 1 to 1, better 1.5-3 to 1",
        )


def _rained_on(lot: Lot, profile: LotProfile) -> Iterator[Caution]:
    if not lot.rained_on:
        return
    remedy = (
        "If it was sampled before the rain, sample it again"
        if profile.tested
        else "Rain washes out sugars and leaf: test it, book values are too high for it"
    )
    yield Caution(
        "note",
        lot.lot_id,
        f"{lot.name} was rained on in the windrow. {remedy}, and check for mold before feeding.",
        "Extension advice on rained-on hay: fiber, digestibility and ash to be tested again",
    )
