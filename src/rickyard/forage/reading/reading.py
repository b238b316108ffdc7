"""A lot in words: its answer first, the reasons below, the numbers last."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final

from rickyard.display import listed
from rickyard.farm import Caution, Lot, Report
from rickyard.forage.hazards import ALL_STOCK, Hazard, lot_hazards
from rickyard.forage.plausibility import LotProfile, lot_profile
from rickyard.forage.reading.lot_hazards import by_gravity, hazard_cautions
from rickyard.forage.uncertainty import (
    ALMOST_SURE,
    DENSITY_NEEDS,
    NURSING_CA_PCT,
    NURSING_P_PCT,
    OTHER_NEEDS,
    DensityNeed,
    Labs,
    Measured,
    chance_suited,
    first_unmet,
    gap_words,
    grade_sentence,
    lot_measured,
    needs_of_stock,
    nitrate_sentence,
    place,
    repeat_sentence,
    suited,
    sure_words,
)
from rickyard.forage.values import FORAGE_WORDS, Screens
from rickyard.tables import Tabular

# Moore et al. 1999, 66 publications: above it protein supplement raises forage intake.
TDN_TO_CP_SHORT: Final = 7.0
# From this relative feed value on, fiber is called open: 100 is full-bloom alfalfa.
FULL_BLOOM_RFV: Final = 100.0
#: So many classes whose fit is open are named.
MOST_OPEN_TOLD: Final = 3
_NURSING: Final = next(need for need in DENSITY_NEEDS if need.name == "cows nursing young calves")
#: Classes that the headline names, the most demanding first.
_HEADLINES: Final = {
    _NURSING.name: "enough for cows nursing calves",
    "cows in the last month before calving": (
        "enough for cows until they calve, not for early nursing"
    ),
    "dry cows in mid-gestation": "enough for dry cows, not for nursing ones",
}

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
    """One value of a reading, with its unit and basis, its origin and its source.

    ``low`` and ``high`` are its 90% range, for ``reason``; ``None`` where the
    error is not known.
    """

    name: str
    words: str
    value: float
    unit: str
    decimals: int
    origin: str
    source: str
    low: float | None = None
    high: float | None = None
    reason: str = ""


@dataclass(frozen=True, slots=True, repr=False)
class LotReading(Tabular):
    """What a lot is, in sentences that a person can act on.

    ``cautions`` come gravest first and are to be shown before the rest. ``certainty`` says what
    the error of the test leaves open, ``other_stock`` which sheep, goats, dairy cattle and
    horses it suits, ``grade`` its market grade and the grades that the error allows, ``repeat``
    whether two tests of it agree. ``value`` is what it is worth; the caller fills it, because it
    takes the prices of other feeds. ``measured`` holds every counted value with its error, by
    the field of the profile.
    """

    lot_id: str
    headline: str
    reasons: tuple[str, ...]
    suits: str
    lacks: str
    cautions: tuple[Caution, ...]
    numbers: tuple[ReadNumber, ...]
    certainty: str = ""
    other_stock: str = ""
    grade: str = ""
    repeat: str = ""
    value: str = ""
    measured: Mapping[str, Measured] = field(default_factory=dict)

    def _facts(self) -> tuple[tuple[str, str], ...]:
        gravest = tuple((one.level, one.sentence) for one in self.cautions[:1])
        return (*gravest, (self.lot_id, self.headline))


def read_lot(
    lot: Lot,
    reports: Sequence[Report],
    cautions: Sequence[Caution] | None = None,
    labs: Labs = Labs.ANY,
    screens: Screens | None = None,
    stock: Collection[str] = (),
) -> LotReading:
    """Read a lot and its reports into sentences.

    Parameters
    ----------
    lot : Lot
        The lot.
    reports : sequence of Report
        Reports in any order; those on other lots are passed over.
    cautions : sequence of Caution, optional
        Cautions to show; those of ``lot_cautions`` when not given.
    labs : Labs
        Error to count with: against the truth, or between lots of one laboratory.
    screens : Screens, optional
        A district's own screening limits; those shipped when not given.
    stock : collection of str
        The kinds of stock that may have it, as the table of needs calls them; beef when not given.

    Returns
    -------
    LotReading
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
    Barn hay: cool-season grass with 55.0% TDN and 9.4% protein in the dry matter, enough \
for dry cows, not for nursing ones.
    """
    profile = lot_profile(lot, reports, screens)
    measured = lot_measured(lot, reports, profile, labs)
    found = hazard_cautions(lot, profile) if cautions is None else by_gravity(tuple(cautions))
    needs = needs_of_stock(stock)
    # Other stock is told beside beef cattle in a row of its own.
    needs = tuple(one for one in needs if one.stock == "beef") or needs
    rich_enough = suited(profile.tdn_pct, profile.cp_pct, None, needs)
    fits = suited(profile.tdn_pct, profile.cp_pct, profile.nitrate_no3n_ppm, needs)
    nitrate_limits = len(fits) < len(rich_enough)
    hazards = lot_hazards(lot, profile)
    held_back = _held_back(profile, found, hazards)
    verdict = _verdict(needs, rich_enough, nitrate_limits, measured)
    if held_back and rich_enough:
        verdict = f"on energy and protein alone {verdict}"
    return LotReading(
        lot_id=lot.lot_id,
        headline=_headline(lot, profile, found, hazards, verdict),
        reasons=_reasons(lot, profile, measured),
        suits=_suits(fits, rich_enough, held_back, nitrate_limits) if needs else held_back,
        lacks=_lacks(profile, needs),
        cautions=found,
        numbers=_numbers(profile, measured),
        certainty=" ".join(
            one for one in (_certainty(profile, measured, needs), nitrate_sentence(measured)) if one
        ),
        other_stock="" if held_back else _other_stock(profile, hazards, needs),
        grade=grade_sentence(lot, profile, measured),
        repeat=repeat_sentence(lot, reports),
        measured=measured,
    )


def _held_back(profile: LotProfile, cautions: Sequence[Caution], hazards: Sequence[Hazard]) -> str:
    if any(one.level == "danger" for one in cautions):
        return "Deal with the danger first."
    if profile.nitrate_unstated_ppm is not None:
        return "Its nitrate cannot be judged yet: keep it from pregnant stock until it can."
    if any(one.level == "error" for one in profile.findings):
        return "Fix the fault in the report first."
    if any(ALL_STOCK in one.not_for for one in hazards):
        return "Clear it first, as the cautions say."
    if any("pregnant beef" in one.not_for for one in hazards):
        return "Test its nitrate first: keep it from pregnant stock until then."
    return ""


def _headline(
    lot: Lot,
    profile: LotProfile,
    cautions: Sequence[Caution],
    hazards: Sequence[Hazard],
    verdict: str,
) -> str:
    what = (
        f"{FORAGE_WORDS[lot.forage]} with {profile.tdn_pct:.1f}% TDN and "
        f"{profile.cp_pct:.1f}% protein in the dry matter"
    )
    if any(one.level == "danger" for one in cautions):
        found = [one.headline for one in hazards if one.level == "danger"]
        danger = "; ".join(found) or "danger, read the caution first"
        return f"{lot.name}: {danger}. It is {what}."
    if not profile.tested:
        what += " (book values, no test)"
    return f"{lot.name}: {what}, {verdict}." if verdict else f"{lot.name}: {what}."


def _verdict(
    needs: Sequence[DensityNeed],
    rich_enough: Sequence[DensityNeed],
    nitrate_limits: bool,
    measured: Mapping[str, Measured],
) -> str:
    if not needs:
        return ""
    if not rich_enough:
        return f"not enough by itself for any class of {_kinds(needs)}"
    told, said = _told(rich_enough)
    sure = all(_chance(need, measured) >= ALMOST_SURE for need in told)
    said = said if sure else f"most likely {said}"
    return f"{said}, but its nitrate limits how it may be fed" if nitrate_limits else said


def _chance(need: DensityNeed, measured: Mapping[str, Measured]) -> float:
    return chance_suited(need, measured["tdn_pct"], measured["cp_pct"])


def _kinds(needs: Sequence[DensityNeed]) -> str:
    """Name the kinds of stock that are compared."""
    kinds = dict.fromkeys(need.stock for need in needs)
    return listed(["beef cattle" if one == "beef" else one for one in kinds], "or")


def _told(fits: Sequence[DensityNeed]) -> tuple[Sequence[DensityNeed], str]:
    """Return the classes that the headline names, and what it says of them."""
    by_name = {need.name: need for need in fits}
    for name, words in _HEADLINES.items():
        if name in by_name:
            return (by_name[name],), words
    most = {need.stock: need for need in fits}
    return tuple(most.values()), f"enough for {listed([one.name for one in most.values()])}"


def _reasons(lot: Lot, profile: LotProfile, measured: Mapping[str, Measured]) -> tuple[str, ...]:
    return (
        _energy_reason(profile, measured["tdn_pct"]),
        _protein_reason(profile, measured["cp_pct"]),
        _fiber_reason(lot, profile, measured),
    )


def _between(value: Measured) -> str:
    return f"90% range {value.low:.1f}-{value.high:.1f}"


def _energy_reason(profile: LotProfile, tdn: Measured) -> str:
    return (
        f"Energy: {profile.tdn_pct:.1f}% TDN in the dry matter ({_between(tdn)}), "
        f"{profile.tdn_method}."
    )


def _protein_reason(profile: LotProfile, cp: Measured) -> str:
    book = ", book value" if profile.origins["cp_pct"] == "book" else ""
    lost = profile.crude_cp_pct - profile.cp_pct
    heat = f", after {lost:.1f} points off for heat damage" if lost > 0.0 else ""
    said = f"Protein: {profile.cp_pct:.1f}% in the dry matter ({_between(cp)}{book}){heat}"
    if profile.tdn_pct > TDN_TO_CP_SHORT * profile.cp_pct > 0.0:
        ratio = profile.tdn_pct / profile.cp_pct
        return (
            f"{said}; TDN is {ratio:.1f} times the protein, and above {TDN_TO_CP_SHORT:.0f} times "
            "a protein supplement makes cattle eat more of the hay."
        )
    return f"{said}, in balance with its energy."


def _fiber_reason(lot: Lot, profile: LotProfile, measured: Mapping[str, Measured]) -> str:
    book = ", book value" if profile.origins["ndf_pct"] == "book" else ""
    ndf = measured["ndf_pct"]
    said = f"Fiber: {profile.ndf_pct:.1f}% NDF in the dry matter ({_between(ndf)}{book})"
    if profile.rfv is None:
        said += "; the more fiber, the less of it stock can eat."
    else:
        side = "as good as or better than" if profile.rfv >= FULL_BLOOM_RFV else "bulkier than"
        said += (
            f"; relative feed value {profile.rfv:.0f}, {side} full-bloom alfalfa, which is "
            f"{FULL_BLOOM_RFV:.0f}."
        )
    if {profile.origins["crude_cp_pct"], profile.origins["ndf_pct"]} != {"lab"}:
        return said
    placed = place(lot.forage, lot.species, lot.maturity, measured["crude_cp_pct"], ndf)
    return said if placed is None else f"{said} {placed.sentence}"


def _suits(
    fits: Sequence[DensityNeed],
    rich_enough: Sequence[DensityNeed],
    held_back: str,
    nitrate_limits: bool,
) -> str:
    if held_back:
        return f"{held_back} On energy and protein alone it would fit {_listed(rich_enough)}."
    if nitrate_limits:
        return (
            "Its nitrate keeps it from being the whole ration of some stock; fed alone, it fits "
            f"{_listed(fits)}. On energy and protein alone it would fit {_listed(rich_enough)}."
        )
    return f"Fed alone, it fits {_listed(fits)}."


def _certainty(
    profile: LotProfile, measured: Mapping[str, Measured], needs: Sequence[DensityNeed]
) -> str:
    if not needs:
        return ""
    error = "sampling and lab error" if profile.tested else "how far a lot can be from book values"
    chances = [(need, _chance(need, measured)) for need in needs]
    sure = [need for need, chance in chances if chance >= ALMOST_SURE]
    open_ = [one for one in chances if 1.0 - ALMOST_SURE <= one[1] < ALMOST_SURE]
    if not open_:
        return f"{error[0].upper()}{error[1:]} does not change this."
    nearest = sorted(open_, key=lambda one: abs(one[1] - 0.5))[:MOST_OPEN_TOLD]
    told = "; ".join(
        f"{sure_words(chance)} for {need.name}"
        for need, chance in chances
        if (need, chance) in nearest
    )
    lead = f"It is almost certainly enough for {sure[-1].name};" if sure else "It is enough"
    return f"Counting {error}: {lead[0].lower()}{lead[1:]} {told}."


#: What hay for horses must not be, whatever it holds.
_HORSES: Final = (
    "Horses: nothing moldy, no doubtful wrapped hay, and dusty hay only soaked or steamed."
)


def _other_stock(
    profile: LotProfile, hazards: Sequence[Hazard], needs: Sequence[DensityNeed]
) -> str:
    if all(need.stock != "beef" for need in needs):
        return _HORSES if any(need.stock == "horses" for need in needs) else ""
    kept = {stock for one in hazards for stock in one.not_for}
    fits = [
        need
        for need in suited(profile.tdn_pct, profile.cp_pct, profile.nitrate_no3n_ppm, OTHER_NEEDS)
        if need.stock not in kept and not (need.pregnant and f"pregnant {need.stock}" in kept)
    ]
    if not fits:
        return "Fed alone, it fits no other stock compared here."
    said = ", ".join(need.name for need in fits)
    horses = any(need.stock == "horses" for need in fits)
    care = f" {_HORSES}" if horses else ""
    return f"Other stock it fits on energy and protein alone: {said}.{care}"


def _listed(needs: Sequence[DensityNeed]) -> str:
    if not needs:
        return "no class of stock compared here"
    most = needs[-1]
    if most.stock != "beef":
        return ", ".join(need.name for need in needs)
    return (
        f"{', '.join(need.name for need in needs)} (the last need about {most.tdn_pct:.1f}% TDN "
        f"and {most.cp_pct:.1f}% protein)"
    )


def _lacks(profile: LotProfile, needs: Sequence[DensityNeed]) -> str:
    tdn, cp = profile.tdn_pct, profile.cp_pct
    of_beef = any(need.stock == "beef" for need in needs)
    kinds = dict.fromkeys(need.stock for need in needs)
    first = [first_unmet(tdn, cp, [one for one in needs if one.stock == kind]) for kind in kinds]
    told = dict.fromkeys(one for one in (*first, _NURSING if of_beef else None) if one is not None)
    parts = [f"{gap} for {need.name}" for need in told if (gap := gap_words(need, tdn, cp))]
    minerals = [
        f"{word} ({value:.2f}% where they need about {need:.2f}%)"
        for key, word, value, need in (
            ("ca_pct", "calcium", profile.ca_pct, NURSING_CA_PCT),
            ("p_pct", "phosphorus", profile.p_pct, NURSING_P_PCT),
        )
        if of_beef and profile.origins[key] == "lab" and value < need
    ]
    if minerals:
        parts.append(f"{' and '.join(minerals)} for {_NURSING.name}")
    if not needs:
        return ""
    if not parts:
        return f"It has enough energy and protein for all classes of {_kinds(needs)} compared here."
    return f"Short of {'; of '.join(parts)}."


def _numbers(profile: LotProfile, measured: Mapping[str, Measured]) -> tuple[ReadNumber, ...]:
    numbers = []
    for name, words, unit, decimals in _NUMBERS:
        value = getattr(profile, name)
        as_printed = name == "cp_pct" and profile.sources[name] == profile.sources["crude_cp_pct"]
        if value is not None and not as_printed:
            numbers.append(
                ReadNumber(
                    name,
                    words,
                    float(value),
                    unit,
                    decimals,
                    profile.origins[name],
                    profile.sources[name],
                    *_interval(measured.get(name)),
                )
            )
    return tuple(numbers)


def _interval(one: Measured | None) -> tuple[float | None, float | None, str]:
    return (None, None, "") if one is None else (one.low, one.high, one.reason)
