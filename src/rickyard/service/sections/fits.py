"""Which classes of stock a lot would feed, one row a class: may they, what it lacks, how sure."""

from __future__ import annotations

from dataclasses import dataclass

from rickyard.display import display_for, localized
from rickyard.farm import Farm
from rickyard.forage.hazards import ALL_STOCK, lot_hazards
from rickyard.forage.plausibility import lot_profile
from rickyard.forage.reading import LotReading
from rickyard.forage.uncertainty import (
    DENSITY_NEEDS,
    DensityNeed,
    chance_suited,
    gap_words,
    needs_of_stock,
    sure_words,
)
from rickyard.forage.values import nitrate_share_limit
from rickyard.safety import bindings
from rickyard.service import still, stock_words
from rickyard.service.sections.hay import kept_from


@dataclass(frozen=True, slots=True)
class ClassFit:
    """A class of stock and a lot: what the lot may be to it and what it gives.

    ``may`` is ``"none"``, ``"part"`` where nitrate allows a share of the ration, ``"wait"`` where
    a danger or a missing test is to be settled first, and ``"free"``. ``share`` is that share
    [-], ``lacks`` what is missing by energy and protein, ``chance`` how sure it is that nothing
    is [-], and ``sure`` that in words.
    """

    name: str
    may: str
    share: float
    lacks: str
    chance: float
    sure: str


@dataclass(frozen=True, slots=True)
class LotFits:
    """To whom a lot may go: the farm's own groups in words, and classes of stock compared."""

    groups: str
    classes: tuple[ClassFit, ...]

    @property
    def bars_pregnant(self) -> bool:
        """Return whether its nitrate keeps it from all stock in calf, and from no other."""
        kept = {one.may for one in self.classes}
        return "none" in kept and kept != {"none"}


def lot_fits(farm: Farm, reading: LotReading) -> LotFits:
    """Return to whom a lot may go.

    Source: Densities derived from NRC 2000 and NASEM 2016; the shares are those of
    ``nitrate_share_limit``.

    Parameters
    ----------
    farm : Farm
        The farm; beef cattle are compared, and what other stock it keeps.
    reading : LotReading
        The lot, read.

    Returns
    -------
    LotFits
        The classes from the least to the most demanding of each kind of stock.
    """
    lot = farm.lot(reading.lot_id)
    profile = lot_profile(lot, farm.reports_of(lot.lot_id))
    hazards = lot_hazards(lot, profile)
    kept = frozenset(stock for one in hazards for stock in one.not_for)
    # A danger that names no stock is for all; that of nitrate is told by its shares.
    danger = any(one.level == "danger" and one.name != "nitrate" for one in hazards)
    found = tuple(
        _fit(need, reading, profile.nitrate_no3n_ppm, kept, danger=danger)
        for need in _needs_of(farm)
    )
    groups = kept_from(farm, bindings(still(farm))).get(lot.lot_id, "")
    return LotFits(groups, localized(found, display_for(farm.units)))


def _needs_of(farm: Farm) -> tuple[DensityNeed, ...]:
    return needs_of_stock(stock_words(farm.groups)) or DENSITY_NEEDS


def _fit(
    need: DensityNeed,
    reading: LotReading,
    no3n_ppm: float | None,
    kept: frozenset[str],
    *,
    danger: bool,
) -> ClassFit:
    tdn, cp = reading.measured["tdn_pct"], reading.measured["cp_pct"]
    share = 1.0 if no3n_ppm is None else nitrate_share_limit(no3n_ppm, need.pregnant)
    is_kept = bool(kept & {ALL_STOCK, need.stock}) or (
        need.pregnant and f"pregnant {need.stock}" in kept
    )
    may = "none" if share == 0.0 else "wait" if danger or is_kept else "free"
    if may == "free" and share < 1.0:
        may = "part"
    chance = chance_suited(need, tdn, cp)
    lacks = gap_words(need, tdn.value, cp.value)
    words = sure_words(chance)
    return ClassFit(need.name, may, float(share), lacks, chance, words)
