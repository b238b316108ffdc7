"""A lot in words: its answer first, the reasons below, the numbers last."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from rickyard.farm import Caution, Lot, Report
from rickyard.forage.book_values import FORAGE_WORDS
from rickyard.forage.hazards import by_gravity, lot_cautions
from rickyard.forage.profile import LotProfile, lot_profile
from rickyard.forage.suitability import (
    DENSITY_NEEDS,
    NURSING_CA_PCT,
    NURSING_P_PCT,
    DensityNeed,
    first_unmet,
    gap_words,
    suited,
)

# Moore et al. 1999, 66 publications: above it protein supplement raises forage intake.
TDN_TO_CP_SHORT: Final = 7.0
# From this relative feed value on, fiber is called open: 100 is full-bloom alfalfa.
FULL_BLOOM_RFV: Final = 100.0
_NURSING: Final = next(need for need in DENSITY_NEEDS if need.name == "cows nursing young calves")

_NUMBERS: Final = (
    ("dm_pct", "dry matter", "% as fed", 1),
    ("tdn_pct", "total digestible nutrients (TDN)", "% of dry matter", 1),
    ("crude_cp_pct", "crude protein", "% of dry matter", 1),
    ("cp_pct", "protein adjusted for heat damage", "% of dry matter", 1),
    ("adf_pct", "acid detergent fiber (ADF)", "% of dry matter", 1),
    ("ndf_pct", "neutral detergent fiber (NDF)", "% of dry matter", 1),
    ("ca_pct", "calcium", "% of dry matter", 2),
    ("p_pct", "phosphorus", "% of dry matter", 2),
    ("nem_mcal_per_kg", "net energy for maintenance", "Mcal/kg dry matter", 2),
    ("neg_mcal_per_kg", "net energy for gain", "Mcal/kg dry matter", 2),
    ("rfv", "relative feed value", "index", 0),
    ("nitrate_no3n_ppm", "nitrate-nitrogen (NO3-N)", "ppm of dry matter", 0),
)


@dataclass(frozen=True, slots=True)
class ReadNumber:
    """One value of a reading, with its unit and basis, its origin and its source."""

    name: str
    words: str
    value: float
    unit: str
    decimals: int
    origin: str
    source: str


@dataclass(frozen=True, slots=True)
class Reading:
    """What a lot is, in sentences that a person can act on.

    ``cautions`` come gravest first and are to be shown before the rest.
    """

    lot_id: str
    headline: str
    reasons: tuple[str, ...]
    suits: str
    lacks: str
    cautions: tuple[Caution, ...]
    numbers: tuple[ReadNumber, ...]


def read_lot(
    lot: Lot, reports: Sequence[Report], cautions: Sequence[Caution] | None = None
) -> Reading:
    """Read a lot and its reports into sentences.

    Parameters
    ----------
    lot : Lot
        The lot.
    reports : sequence of Report
        Reports in any order; those on other lots are passed over.
    cautions : sequence of Caution, optional
        Cautions to show; those of ``lot_cautions`` when not given.

    Returns
    -------
    Reading
        Headline, reasons, what it suits, what it lacks, cautions and numbers.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import Analyte, Basis, Forage, Package, Storage
    >>> lot = Lot("L1", "Barn hay", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN,
    ...           40, date(2026, 6, 1), date(2026, 10, 1))
    >>> report = Report("R1", "L1", (Analyte("tdn", 55.0, "pct", Basis.DRY_MATTER),
    ...                              Analyte("cp", 9.4, "pct", Basis.DRY_MATTER)))
    >>> print(read_lot(lot, (report,)).headline)
    Barn hay: cool-season grass with 55.0 % TDN and 9.4 % protein in the dry matter, enough \
for dry cows, not for nursing ones.
    """
    profile = lot_profile(lot, reports)
    found = lot_cautions(lot, profile) if cautions is None else by_gravity(tuple(cautions))
    rich_enough = suited(profile.tdn_pct, profile.cp_pct, None)
    fits = suited(profile.tdn_pct, profile.cp_pct, profile.nitrate_no3n_ppm)
    nitrate_limits = len(fits) < len(rich_enough)
    return Reading(
        lot_id=lot.lot_id,
        headline=_headline(lot, profile, found, _verdict(rich_enough, nitrate_limits)),
        reasons=_reasons(profile),
        suits=_suits(fits, rich_enough, _held_back(profile, found), nitrate_limits),
        lacks=_lacks(profile),
        cautions=found,
        numbers=_numbers(profile),
    )


def _held_back(profile: LotProfile, cautions: Sequence[Caution]) -> str:
    if any(one.level == "danger" for one in cautions):
        return "Settle the danger first."
    if profile.nitrate_unstated_ppm is not None:
        return "Its nitrate cannot be judged yet: keep it from pregnant stock until it is."
    if any(one.level == "error" for one in profile.findings):
        return "Settle the fault in the report first."
    return ""


def _headline(lot: Lot, profile: LotProfile, cautions: Sequence[Caution], verdict: str) -> str:
    what = (
        f"{FORAGE_WORDS[lot.forage]} with {profile.tdn_pct:.1f} % TDN and "
        f"{profile.cp_pct:.1f} % protein in the dry matter"
    )
    if any(one.level == "danger" for one in cautions):
        return f"Danger: read the cautions before feeding {lot.name}, {what}."
    if not profile.tested:
        what += " (book values, no test)"
    return f"{lot.name}: {what}, {verdict}."


def _verdict(rich_enough: Sequence[DensityNeed], nitrate_limits: bool) -> str:
    said = _enough(rich_enough)
    return f"{said}, but its nitrate limits how it may be fed" if nitrate_limits else said


def _enough(fits: Sequence[DensityNeed]) -> str:
    names = {need.name for need in fits}
    if _NURSING.name in names:
        return "enough for cows nursing calves"
    if "cows in the last month before calving" in names:
        return "enough for cows until they calve, not for early nursing"
    if "dry cows in mid-gestation" in names:
        return "enough for dry cows, not for nursing ones"
    if names:
        return f"enough for {fits[-1].name}"
    return "by itself not enough for any class of beef stock"


def _reasons(profile: LotProfile) -> tuple[str, ...]:
    return (_energy_reason(profile), _protein_reason(profile), _fiber_reason(profile))


def _energy_reason(profile: LotProfile) -> str:
    return f"Energy: {profile.tdn_pct:.1f} % TDN in the dry matter, {profile.tdn_method}."


def _protein_reason(profile: LotProfile) -> str:
    book = " (book value)" if profile.origins["cp_pct"] == "book" else ""
    lost = profile.crude_cp_pct - profile.cp_pct
    heat = f", after {lost:.1f} points are taken off for heat damage" if lost > 0.0 else ""
    said = f"Protein: {profile.cp_pct:.1f} % in the dry matter{book}{heat}"
    if profile.cp_pct > 0.0 and profile.tdn_pct / profile.cp_pct > TDN_TO_CP_SHORT:
        ratio = profile.tdn_pct / profile.cp_pct
        return (
            f"{said}; there is {ratio:.1f} times as much TDN, and above "
            f"{TDN_TO_CP_SHORT:.0f} times a protein supplement makes cattle eat more of the hay."
        )
    return f"{said}, in step with its energy."


def _fiber_reason(profile: LotProfile) -> str:
    book = " (book value)" if profile.origins["ndf_pct"] == "book" else ""
    said = f"Fiber: {profile.ndf_pct:.1f} % NDF in the dry matter{book}"
    if profile.rfv is None:
        return f"{said}; the more of it, the less of the hay an animal can eat."
    side = "as good as or better than" if profile.rfv >= FULL_BLOOM_RFV else "bulkier than"
    return (
        f"{said}; relative feed value {profile.rfv:.0f}, {side} full-bloom alfalfa, which is "
        f"{FULL_BLOOM_RFV:.0f}."
    )


def _suits(
    fits: Sequence[DensityNeed],
    rich_enough: Sequence[DensityNeed],
    held_back: str,
    nitrate_limits: bool,
) -> str:
    if held_back:
        return f"{held_back} By its energy and protein alone it would suit {_listed(rich_enough)}."
    if nitrate_limits:
        return (
            "Its nitrate keeps it from being the whole ration of some stock; as it is, it suits "
            f"{_listed(fits)}. By its energy and protein alone it would suit "
            f"{_listed(rich_enough)}."
        )
    return f"As it is, it suits {_listed(fits)}."


def _listed(needs: Sequence[DensityNeed]) -> str:
    if not needs:
        return "no class of beef stock"
    most = needs[-1]
    return (
        f"{', '.join(need.name for need in needs)} (the last need about {most.tdn_pct:.1f} % TDN "
        f"and {most.cp_pct:.1f} % protein in the dry matter)"
    )


def _lacks(profile: LotProfile) -> str:
    tdn, cp = profile.tdn_pct, profile.cp_pct
    parts = []
    first = first_unmet(tdn, cp)
    for need in dict.fromkeys(need for need in (first, _NURSING) if need is not None):
        gap = gap_words(need, tdn, cp)
        if gap:
            parts.append(f"{gap} for {need.name}")
    minerals = [
        f"{word} ({value:.2f} % where they need about {need:.2f} %)"
        for key, word, value, need in (
            ("ca_pct", "calcium", profile.ca_pct, NURSING_CA_PCT),
            ("p_pct", "phosphorus", profile.p_pct, NURSING_P_PCT),
        )
        if profile.origins[key] == "lab" and value < need
    ]
    if minerals:
        parts.append(f"{' and '.join(minerals)} for {_NURSING.name}")
    if not parts:
        return "It lacks neither energy nor protein for the classes of beef stock compared here."
    return f"In the dry matter it is short of {'; of '.join(parts)}."


def _numbers(profile: LotProfile) -> tuple[ReadNumber, ...]:
    numbers = []
    for name, words, unit, decimals in _NUMBERS:
        value = getattr(profile, name)
        if value is not None:
            numbers.append(
                ReadNumber(
                    name,
                    words,
                    float(value),
                    unit,
                    decimals,
                    profile.origins[name],
                    profile.sources[name],
                )
            )
    return tuple(numbers)
