"""What can go wrong with a lot of hay: the cautions that belong to it, gravest first.

Each caution says the finding, whom it concerns and what to do. Where an animal or a person can
be hurt it defers to the extension office, the veterinarian or the fire service.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from rickyard.farm import Caution, Lot, Package
from rickyard.forage import shipped_toml
from rickyard.forage.energy import ca_to_p_ratio
from rickyard.forage.hazards import HEAT_DAMAGE_FROM_F, Level, has_reached, lot_hazards
from rickyard.forage.plausibility import Finding, LotProfile
from rickyard.forage.values import (
    CLASS_TABLES,
    ENERGY_SPREAD_PCT,
    FORAGE_WORDS,
    MINERAL_SPREAD_PCT,
    ORGANIC_SPREAD_PCT,
    bound_share_pct_of_cp,
    is_wet,
)
from rickyard.quantities import UNITS

_LEVELS: Final[tuple[Level, ...]] = ("danger", "warning", "note")


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

    >>> note, danger = Caution("note", "", "a", "b"), Caution("danger", "", "c", "d")
    >>> [one.level for one in by_gravity([note, danger])]
    ['danger', 'note']
    """
    return tuple(sorted(cautions, key=lambda one: _LEVELS.index(one.level)))


def _told_by_moisture(lot: Lot, finding: Finding) -> bool:
    """Say whether the moisture of baleage, told as a hazard, says the same as a finding."""
    screen = finding.rule == "S01" and finding.about == ("dm",)
    return screen and lot.package is Package.BALEAGE


def _caution(key: str, lot: Lot, **said: object) -> Caution:
    row = shipped_toml("cautions.toml")[key]
    sentence = row["sentence"].format(**{**CLASS_TABLES, "lot": lot.name, **said})
    return Caution(row["level"], lot.lot_id, sentence, row["source"])


def _heat_damage(lot: Lot, profile: LotProfile) -> Iterator[Caution]:
    bound, highest = profile.adicp_pct, lot.highest_temperature_c
    if bound is not None and profile.origins["crude_cp_pct"] == "lab":
        share = bound_share_pct_of_cp(profile.crude_cp_pct, bound)
        key = ("", "some_heating", "heat_damage")[CLASS_TABLES["heat_damage"].place(share)]
        if key:
            values = {"cp": profile.cp_pct, "crude": profile.crude_cp_pct}
            yield _caution(key, lot, share=share, **values)
    elif highest is not None and has_reached(highest, HEAT_DAMAGE_FROM_F) and not is_wet(lot):
        fahrenheit = UNITS["degF"].from_canonical(highest)
        yield _caution("bound_protein_untested", lot, fahrenheit=fahrenheit, celsius=highest)


def _untested(lot: Lot, profile: LotProfile) -> Iterator[Caution]:
    if not profile.tested:
        yield _caution(
            "untested",
            lot,
            forage=FORAGE_WORDS[lot.forage],
            tdn=profile.tdn_pct,
            cp=profile.cp_pct,
            energy=ENERGY_SPREAD_PCT,
            organic=ORGANIC_SPREAD_PCT,
            mineral=MINERAL_SPREAD_PCT,
        )


def _little_protein(lot: Lot, profile: LotProfile) -> Iterator[Caution]:
    if CLASS_TABLES["little_protein"].place(profile.cp_pct) == 0:
        yield _caution("little_protein", lot, cp=profile.cp_pct)


def _calcium(lot: Lot, profile: LotProfile) -> Iterator[Caution]:
    if {profile.origins["ca_pct"], profile.origins["p_pct"]} != {"lab"}:
        return
    ratio = ca_to_p_ratio(profile.ca_pct, profile.p_pct)
    if CLASS_TABLES["calcium_to_phosphorus"].place(ratio) == 0:
        yield _caution("little_calcium", lot, ca=profile.ca_pct, p=profile.p_pct, ratio=ratio)


def _rained_on(lot: Lot, profile: LotProfile) -> Iterator[Caution]:
    if lot.rained_on:
        remedy = (
            "If it was sampled before the rain, sample it again"
            if profile.tested
            else "Rain washes out sugars and leaf: test it, book values are too high for it"
        )
        yield _caution("rained_on", lot, remedy=remedy)
