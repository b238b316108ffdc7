"""Every hazard of a lot, by subject; and what hay does to horses above other stock."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from rickyard.farm import Forage, Lot
from rickyard.forage.hazards.baleage import baleage_hazards, fermentation_hazards
from rickyard.forage.hazards.hazard import Hazard, told
from rickyard.forage.hazards.heating import hot_hay_hazards
from rickyard.forage.hazards.minerals import sulfur_hazards, trace_mineral_hazards
from rickyard.forage.hazards.molds import endophyte_hazards, mold_hazards
from rickyard.forage.hazards.poisons import nitrate_hazards, prussic_acid_hazards
from rickyard.forage.hazards.soil import soil_hazards
from rickyard.forage.plausibility import LotProfile
from rickyard.forage.values import CLASS_TABLES, is_wet, tetany_ratio

_SUGAR: Final = CLASS_TABLES["nsc_horse"]
#: Months of the cuttings in which beetles swarm in alfalfa of the south and center of the United
#: States; midsummer, the months are judgement, no published source.
BEETLE_MONTHS: Final = (7, 8)


def horse_hazards(lot: Lot, values: Mapping[str, float]) -> Iterator[Hazard]:
    """Yield what concerns horses alone: notes, so that they do not drown what concerns cattle."""
    nsc = values.get("nsc")
    if "starch" in values and "wsc" in values:
        nsc = values["starch"] + values["wsc"]
    if nsc is not None and _SUGAR.place(nsc) > 1:
        yield told("sugar", lot.name, nsc=nsc)
    if lot.forage is Forage.ALFALFA and lot.baled_on.month in BEETLE_MONTHS:
        yield told("blister_beetle", lot.name)


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
    >>> from rickyard.farm import Analyte, Basis, Forage, Package, Report, Storage
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
        *hot_hay_hazards(lot),
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


def _tetany(lot: Lot, measured: Mapping[str, float]) -> Iterator[Hazard]:
    if any(name not in measured for name in ("k", "ca", "mg")):
        return
    ratio = float(tetany_ratio(measured["k"], measured["ca"], measured["mg"]))
    if CLASS_TABLES["tetany"].place(ratio):
        yield told("tetany", lot.name, ratio=ratio)
