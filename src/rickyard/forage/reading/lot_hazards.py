"""What can go wrong with a lot of hay: the cautions that belong to it, gravest first.

Each caution says the finding, whom it concerns and what to do. Where an animal or a person can
be hurt it defers to the extension office, the veterinarian or the fire service.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from rickyard.farm import Caution, Lot, Package
from rickyard.forage.energy import ca_to_p_ratio
from rickyard.forage.hazards import HEAT_DAMAGE_FROM_F, Level, has_reached, lot_hazards
from rickyard.forage.plausibility import Finding, LotProfile
from rickyard.forage.values import (
    CLASS_TABLES,
    ENERGY_SPREAD_PCT,
    FORAGE_WORDS,
    MINERAL_SPREAD_PCT,
    ORGANIC_SPREAD_PCT,
    SPREAD_SOURCE,
    bound_share_pct_of_cp,
    is_wet,
)
from rickyard.quantities import UNITS

_LEVELS: Final[tuple[Level, ...]] = ("danger", "warning", "note")
_LITTLE_PROTEIN: Final = CLASS_TABLES["little_protein"]
_HEAT_DAMAGE: Final = CLASS_TABLES["heat_damage"]


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


def by_gravity(cautions: list[Caution] | tuple[Caution, ...]) -> tuple[Caution, ...]:
    """Return cautions with dangers first and notes last, else in the order given.

    Examples
    --------
    >>> note, danger = Caution("note", "", "a", "b"), Caution("danger", "", "c", "d")
    >>> [one.level for one in by_gravity([note, danger])]
    ['danger', 'note']
    """
    return tuple(sorted(cautions, key=lambda one: _LEVELS.index(one.level)))


def _told_by_moisture(lot: Lot, finding: Finding) -> bool:
    """Say whether the moisture of baleage, told as a hazard, says the same as a finding."""
    screen = finding.rule == "S01" and finding.about == ("dm",)
    return screen and lot.package is Package.BALEAGE


def _heat_damage(lot: Lot, profile: LotProfile) -> Iterator[Caution]:
    bound, highest = profile.adicp_pct, lot.highest_temperature_c
    if bound is not None and profile.origins["crude_cp_pct"] == "lab":
        share = bound_share_pct_of_cp(profile.crude_cp_pct, bound)
        yield from _bound(lot, profile, share)
    elif highest is not None and has_reached(highest, HEAT_DAMAGE_FROM_F) and not is_wet(lot):
        yield Caution(
            "warning",
            lot.lot_id,
            f"{lot.name} heated to {UNITS['degF'].from_canonical(highest):.0f} °F ({highest:.0f} "
            "°C), and its bound protein (ADICP) was not tested: stock may not be able to use "
            "part of the protein. Ask the lab for ADICP by wet chemistry.",
            "University of Idaho (Shewmaker) and Crop File 6.01.002 on heated hay",
        )


def _bound(lot: Lot, profile: LotProfile, share: float) -> Iterator[Caution]:
    place = _HEAT_DAMAGE.place(share)
    if _HEAT_DAMAGE.labels[place] == "heat damage":
        yield Caution(
            "warning",
            lot.lot_id,
            f"Heat has bound {share:.0f}% of the protein of {lot.name}: {profile.cp_pct:.1f}% "
            f"protein in the dry matter is used instead of {profile.crude_cp_pct:.1f}%, for all "
            "stock.",
            _HEAT_DAMAGE.source,
        )
    elif place > 0:
        yield Caution(
            "note",
            lot.lot_id,
            f"{share:.0f}% of the protein of {lot.name} is bound, a sign of some heating; its "
            f"{profile.crude_cp_pct:.1f}% protein in the dry matter is used in full, though some "
            "labs would already lower it.",
            _HEAT_DAMAGE.source,
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
    if _LITTLE_PROTEIN.place(profile.cp_pct) == 0:
        yield Caution(
            "warning",
            lot.lot_id,
            f"The protein of {lot.name} is {profile.cp_pct:.1f}% of the dry matter, under the "
            f"{_LITTLE_PROTEIN.limits[0]:.0f}% that cattle need to digest hay well: they eat "
            "less of it and get less out of it. Feed protein with it.",
            "New Mexico State University CR583, protein of low-quality forage",
        )


def _calcium(lot: Lot, profile: LotProfile) -> Iterator[Caution]:
    if {profile.origins["ca_pct"], profile.origins["p_pct"]} != {"lab"}:
        return
    ratio = ca_to_p_ratio(profile.ca_pct, profile.p_pct)
    if CLASS_TABLES["calcium_to_phosphorus"].place(ratio) == 0:
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
