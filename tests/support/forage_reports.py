"""Laboratory reports to try the plausibility rules on: with planted faults, and plausible ones.

The plausible reports are drawn from published means and spreads of forages, never from the
screening limits, so that a false alarm can happen.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

import numpy as np

from rickyard.farm import Analyte, Basis, Forage, Lot, Package, Report, Storage
from rickyard.forage.energy.energy import neg_from_tdn, nem_from_tdn
from rickyard.forage.energy.indices import relative_feed_value
from rickyard.forage.energy.tdn import tdn_midwest
from rickyard.forage.plausibility.plausibility import RULES, Finding, broken_rules, report_findings
from rickyard.forage.values.columns import ReportColumns, plain_columns
from rickyard.types import FloatArray

HOSTILE = Path(__file__).with_name("hostile_reports.toml")
BASES = {"dm": Basis.DRY_MATTER, "ar": Basis.AS_RECEIVED, "none": Basis.NONE}


@dataclass(frozen=True)
class HostileReport:
    """A report with one planted fault, and the cause that is to be named."""

    name: str
    lot: Lot
    report: Report
    cause: str
    proposes: tuple[str, float] | None


def hostile_reports() -> list[HostileReport]:
    """Return the reports with planted faults, each built from its sound base."""
    data = tomllib.loads(HOSTILE.read_text(encoding="utf-8"))
    return [_hostile(one, data["base"][one["base"]]) for one in data["report"]]


def sound_reports() -> list[tuple[Lot, Report]]:
    """Return the sound reports that the faults are planted in."""
    data = tomllib.loads(HOSTILE.read_text(encoding="utf-8"))
    return [_pair(name, _package(name), values) for name, values in data["base"].items()]


def _hostile(one: Mapping[str, Any], base: Mapping[str, float]) -> HostileReport:
    values = {key: value for key, value in base.items() if key not in one.get("drop", ())}
    values.update(one.get("set", {}))
    package = one.get("package", _package(one["base"]))
    lot, report = _pair(one.get("forage", one["base"]), package, values)
    proposes = tuple(one["proposes"]) if "proposes" in one else None
    return HostileReport(one["name"], lot, report, one["cause"], proposes)


def _package(base: str) -> str:
    return "baleage" if base in ("corn_silage", "small_grain") else "round"


def _pair(forage: str, package: str, values: Mapping[str, float]) -> tuple[Lot, Report]:
    lot = Lot(
        "L1",
        "Creek meadow",
        Forage(forage),
        Package(package),
        Storage.ENCLOSED_BARN,
        40,
        date(2026, 6, 1),
        date(2026, 10, 1),
    )
    return lot, Report("R1", "L1", tuple(_analyte(key, value) for key, value in values.items()))


def _analyte(key: str, value: float) -> Analyte:
    name, unit, basis = [*key.split(), "", "none"][:3] if " " not in key else key.split()
    return Analyte(name, value, unit, BASES[basis])


@dataclass(frozen=True)
class Typical:
    """Mean and spread of a forage: `typical_composition.csv`; spreads as in `plausible_columns`."""

    cp: float
    adf: float
    ndf: float
    lignin_per_ndf: float
    ash: float
    ee: float
    ca: float
    p: float
    k: float
    mg: float
    ndicp_per_cp: float = 0.30
    starch: float = 1.5
    wsc: float = 8.0
    wet: bool = False


# Protein and fiber: from memory (alfalfa 40-46 % NDF, cool grass 55-60 % NDF, and so on) and the
# published tables of 4.1 for minerals; where none is printed, common practice.
TYPICAL = {
    Forage.ALFALFA: Typical(19.4, 32.4, 43.7, 0.165, 10.3, 2.0, 1.35, 0.25, 2.3, 0.29, 0.15),
    Forage.CLOVER: Typical(16.0, 34.0, 46.0, 0.16, 9.5, 2.2, 1.25, 0.25, 2.0, 0.33, 0.18),
    Forage.LEGUME_GRASS: Typical(13.0, 36.0, 53.0, 0.125, 8.9, 2.2, 0.96, 0.22, 2.1, 0.24, 0.22),
    Forage.COOL_GRASS: Typical(10.8, 37.5, 62.0, 0.088, 7.5, 2.4, 0.48, 0.23, 1.9, 0.18),
    Forage.ANNUAL_RYEGRASS: Typical(11.5, 36.0, 59.0, 0.08, 9.5, 2.6, 0.45, 0.28, 2.3, 0.22),
    Forage.WARM_GRASS: Typical(11.0, 36.5, 69.0, 0.085, 7.0, 1.9, 0.45, 0.22, 1.6, 0.19),
    Forage.SUMMER_ANNUAL: Typical(10.0, 38.0, 63.0, 0.083, 9.0, 2.0, 0.48, 0.22, 2.2, 0.30),
    Forage.SMALL_GRAIN: Typical(
        9.6, 36.0, 58.0, 0.085, 8.0, 2.3, 0.37, 0.23, 2.0, 0.17, 0.27, 3.0, 11.0
    ),
    Forage.PRAIRIE: Typical(6.5, 42.5, 68.0, 0.095, 7.2, 2.0, 0.42, 0.11, 1.1, 0.17),
    Forage.STRAW: Typical(4.3, 49.0, 75.0, 0.115, 8.0, 1.5, 0.28, 0.09, 1.4, 0.13, 0.35, 1.0, 5.0),
    Forage.CORN_SILAGE: Typical(
        7.9, 25.0, 41.0, 0.08, 4.3, 3.0, 0.24, 0.23, 1.1, 0.17, 0.15, 30.0, 3.0, wet=True
    ),
}
# Spread between lots of one forage, as fractions. Protein: alfalfa as printed (SCIRP: 8.5 %,
# widened); others by their printed ranges (bermudagrass 6-22 around 13, mixtures 7-19.5 around
# 11.5: a fifth to a fourth). Fiber: alfalfa as printed (ADF 9.8 %). Minerals: "commonly differ by
# 30 %"; calcium of mixtures by its printed range (0.30-2.30 around 0.96).
CP_CV_NARROW, CP_CV, FIBER_CV, ORGANIC_CV, MINERAL_CV, MIXED_CA_CV = (
    0.12,
    0.22,
    0.1,
    0.12,
    0.2,
    0.35,
)
NARROW = (Forage.ALFALFA, Forage.CLOVER, Forage.CORN_SILAGE)
RATIO_CV = 0.035  # ADF to NDF of one forage
# Error of different laboratories: Meyer, read as two standard deviations. [points]
LAB_SD = {"cp": 1.0, "adf": 1.6, "ndf": 2.0, "ash": 0.8, "ee": 0.6, "lignin": 0.6}
GIVEN_FRAC = 0.85  # how often a lab prints a value beyond protein and fiber


def plausible_columns(rows: int, seed: int) -> ReportColumns:
    """Draw reports that a laboratory could have printed of sound forage.

    Values follow maturity, carry the error between laboratories, are rounded as printed and
    left out at random; relative feed value, TDN, net energy and carbohydrate follow from what
    was printed, by the conventions that laboratories use.
    """
    rng = np.random.default_rng(seed)
    forages = rng.choice(np.array(list(TYPICAL), dtype=object), rows)
    columns: dict[str, FloatArray] = {}
    wet = np.array([TYPICAL[one].wet for one in forages]) | (rng.random(rows) < 0.15)
    maturity = rng.normal(size=rows)

    def mean(name: str) -> FloatArray:
        return np.array([getattr(TYPICAL[one], name) for one in forages], dtype=np.float64)

    def spread(middle: FloatArray, cv: Any) -> FloatArray:
        return middle * np.exp(rng.normal(0.0, cv, rows))

    cp_cv = np.where(np.isin(forages, NARROW), CP_CV_NARROW, CP_CV)
    columns["cp"] = spread(mean("cp"), 0.6 * cp_cv) * np.exp(-0.8 * cp_cv * maturity)
    columns["ndf"] = spread(mean("ndf"), 0.5 * FIBER_CV) * np.exp(0.85 * FIBER_CV * maturity)
    columns["adf"] = columns["ndf"] * spread(mean("adf") / mean("ndf"), RATIO_CV)
    columns["lignin"] = columns["ndf"] * spread(mean("lignin_per_ndf"), ORGANIC_CV)
    for name in ("ash", "ee"):
        columns[name] = spread(mean(name), ORGANIC_CV)
    for name in ("ca", "p", "k", "mg"):
        columns[name] = spread(mean(name), MINERAL_CV)
    mixed = forages == Forage.LEGUME_GRASS
    columns["ca"] = np.where(mixed, spread(mean("ca"), MIXED_CA_CV), columns["ca"])
    # Sound forage leaves room for carbohydrate: what drew less is of no forage.
    over = columns["cp"] + 0.93 * columns["ndf"] + columns["ee"] + columns["ash"] - 94.0
    columns["ndf"] -= np.maximum(0.0, over) / 0.93
    for name, sd in LAB_SD.items():
        # No laboratory is off by more than a sixth of the value itself.
        columns[name] += rng.normal(0.0, np.minimum(sd, columns[name] / 6.0), rows)
        columns[name] = np.maximum(columns[name], 0.3)
    columns["ndicp"] = columns["cp"] * spread(mean("ndicp_per_cp"), ORGANIC_CV)
    columns["adicp"] = columns["cp"] * np.exp(rng.normal(np.log(0.075), 0.25, rows))
    columns["starch"] = spread(mean("starch"), 0.25)
    columns["wsc"] = spread(mean("wsc"), 0.25)
    for name in ("cp", "adf", "ndf", "lignin", "ash", "ee", "ndicp", "adicp", "starch", "wsc"):
        columns[name] = np.round(columns[name], 1)
    for name in ("ca", "p", "k", "mg"):
        columns[name] = np.round(columns[name], 2)
    # Dry matter as printed for corn silage (37 %) and the middle of wrapped bales and hay.
    middle = np.where(forages == Forage.CORN_SILAGE, 37.0, np.where(wet, 50.0, 87.5))
    columns["dm"] = np.round(np.clip(rng.normal(middle, np.where(wet, 4.5, 2.6)), 26.0, 95.5), 1)
    _follow(columns, rng, rows)
    for name in list(columns):
        if name not in ("cp", "adf", "ndf", "dm"):
            columns[name][rng.random(rows) > GIVEN_FRAC] = np.nan
    return plain_columns(list(forages), columns, wet)


def _follow(
    columns: dict[str, FloatArray],
    rng: np.random.Generator,
    rows: int,
) -> None:
    """Add what a laboratory computes: other basis, carbohydrate, indices, energy, moisture."""
    columns["moisture"] = np.round(100.0 - columns["dm"], 1)
    columns["cp_ar"] = np.round(columns["cp"] * columns["dm"] / 100.0, 1)
    left = 100.0 - columns["cp"] - columns["ndf"] - columns["ee"] - columns["ash"]
    older = rng.random(rows) < 0.4
    columns["nfc"] = np.round(np.maximum(0.0, np.where(older, left, left + columns["ndicp"])), 1)
    rfv = relative_feed_value(columns["adf"], columns["ndf"])
    columns["rfv"] = np.round(rfv + rng.normal(0.0, 0.8, rows))
    columns["tdn"] = np.round(tdn_midwest(columns["adf"]) - rng.normal(3.0, 2.0, rows), 1)
    discount = rng.normal(0.97, 0.04, rows)
    columns["nem"] = np.round(nem_from_tdn(columns["tdn"]) * discount, 2)
    columns["neg"] = np.round(neg_from_tdn(columns["tdn"]) * discount, 2)


@dataclass(frozen=True)
class HitRates:
    """How many planted faults were found: at all, with the right cause, with it named first."""

    reports: int
    flagged: int
    named: int
    first: int
    proposed: int
    to_propose: int
    missed: tuple[str, ...]


@dataclass(frozen=True)
class AlarmRates:
    """Share of sound reports with an error, and with an error or a warning."""

    errors: float
    warnings: float


def hit_rates() -> HitRates:
    """Try the rules on every hostile report."""
    flagged = named = first = proposed = to_propose = 0
    missed = []
    for one in hostile_reports():
        findings = report_findings(one.lot, one.report)
        causes = [finding.kind.value for finding in findings]
        flagged += bool(causes)
        named += one.cause in causes
        first += causes[:1] == [one.cause]
        if one.cause not in causes:
            missed.append(one.name)
        if one.proposes is not None:
            to_propose += 1
            proposed += any(_is_read(finding, one.proposes) for finding in findings)
    reports = len(hostile_reports())
    return HitRates(reports, flagged, named, first, proposed, to_propose, tuple(missed))


def _is_read(finding: Finding, wanted: tuple[str, float]) -> bool:
    proposal = finding.proposal
    if proposal is None or proposal.name != wanted[0]:
        return False
    return abs(proposal.value / wanted[1] - 1.0) < 0.02


def alarm_rates(rows: int, seed: int) -> AlarmRates:
    """Try the rules on plausible reports."""
    errors = np.zeros(rows, dtype=np.bool_)
    told = np.zeros(rows, dtype=np.bool_)
    for place, broken in broken_rules(plausible_columns(rows, seed)).items():
        errors |= broken & (RULES[place].level == "error")
        told |= broken & (RULES[place].level != "note")
    return AlarmRates(float(errors.mean()), float(told.mean()))
