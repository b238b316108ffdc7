"""Whether a laboratory report can be true: structural rules, each with cause and remedy.

A rule fires only when all of its inputs are present. What fires is told, never corrected here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Final, Literal

from rickyard.farm import Analyte, Basis, Caution, Forage, Lot, Package, Report
from rickyard.forage.analyte_kinds import kind_of
from rickyard.forage.basis import is_rescaled
from rickyard.forage.indices import nfc_pct, relative_feed_value
from rickyard.forage.samples import (
    DRIED_SAMPLE_ABOVE_DM_PCT,
    SampleValues,
    sample_values,
)
from rickyard.forage.summative import NDICP_PER_NDF
from rickyard.quantities import UNITS

# Tolerances of the structural rules, in percentage points of dry matter unless named otherwise.
# Author's choice of the handbook: they cover rounding on a printed report.
MOISTURE_SUM_TOLERANCE: Final = 0.2
COLUMN_TOLERANCE: Final = 0.06
COLUMN_TOLERANCE_FRAC: Final = 0.015
FIBER_ROUNDING: Final = 0.5
RFV_TOLERANCE: Final = 5.0
LEAST_REMAINDER: Final = -2.0
BOUND_SHARE_SUSPECT_FRAC: Final = 0.35
BOUND_SUSPECT_FROM: Final = 2.0
WET_HAY_BELOW_DM_PCT: Final = 50.0
RULES_SOURCE: Final = "Structural rule for laboratory reports (handbook rule {rule})"

_PURE_LEGUMES: Final = frozenset({Forage.ALFALFA, Forage.CLOVER})


@dataclass(frozen=True, slots=True)
class Finding:
    """Something on a report that does not fit: what, why perhaps, and what to do.

    ``level`` is ``error`` (to be corrected or confirmed before use), ``warning`` or ``note``.
    """

    rule: str
    level: Literal["error", "warning", "note"]
    lot_id: str
    report_id: str
    sentence: str
    cause: str
    remedy: str

    def caution(self) -> Caution:
        """Return the finding as a caution about its lot."""
        return Caution(
            level="note" if self.level == "note" else "warning",
            about=self.lot_id,
            sentence=f"{self.sentence} {self.cause} {self.remedy}",
            source=RULES_SOURCE.format(rule=self.rule),
        )


def rfv_disagrees(
    rfv_reported: float, adf_pct: float, ndf_pct: float, limit: float = RFV_TOLERANCE
) -> bool:
    """Say whether a printed relative feed value does not follow from the printed fiber.

    Parameters
    ----------
    rfv_reported : float
        Relative feed value on the report. [-]
    adf_pct, ndf_pct : float
        Acid and neutral detergent fiber. [% DM]
    limit : float
        Largest difference that rounding and method explain. [-]

    Returns
    -------
    bool
        True when the difference is above ``limit``.

    Examples
    --------
    A published table of teff hay prints 85.7 where its fiber gives 96.6:

    >>> rfv_disagrees(85.7, 35.7, 58.8)
    True
    >>> rfv_disagrees(69.0, 45.3, 71.9)
    False
    """
    return abs(float(relative_feed_value(adf_pct, ndf_pct)) - rfv_reported) > limit


def report_findings(lot: Lot, report: Report) -> tuple[Finding, ...]:
    """Check a report against the structural rules.

    Parameters
    ----------
    lot : Lot
        The lot that was sampled; its forage decides the fiber rule.
    report : Report
        The report as the laboratory printed it.

    Returns
    -------
    tuple of Finding
        What does not fit, in the order of the rules.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import Storage
    >>> lot = Lot("L1", "Barn hay", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN,
    ...           40, date(2026, 6, 1), date(2026, 10, 1))
    >>> swapped = Report("R1", "L1", (Analyte("adf", 62.0, "pct", Basis.DRY_MATTER),
    ...                               Analyte("ndf", 38.0, "pct", Basis.DRY_MATTER)))
    >>> [finding.rule for finding in report_findings(lot, swapped)]
    ['P04']
    """
    sample = sample_values(report, lot.dm_pct)
    return tuple(finding for rule in _RULES for finding in rule(lot, report, sample))


def _finding(
    rule: str,
    level: Literal["error", "warning", "note"],
    report: Report,
    sentence: str,
    cause: str,
    remedy: str,
) -> Finding:
    return Finding(rule, level, report.lot_id, report.report_id, sentence, cause, remedy)


def _p01_range(lot: Lot, report: Report, sample: SampleValues) -> Iterator[Finding]:
    for analyte in report.analytes:
        unit = UNITS.get(analyte.unit)
        if analyte.value is None or unit is None or unit.dimension != "percent":
            continue
        if kind_of(analyte.name).measure != "percent":
            continue
        percent = unit.to_canonical(analyte.value)
        if not 0.0 <= percent <= 100.0:
            yield _finding(
                "P01",
                "error",
                report,
                f"Report {report.report_id} gives {_word(analyte.name)} as {percent:g} %, "
                "which no forage can have.",
                "Most often the value is in g/kg or ppm.",
                "Look at the unit on the report and enter it again; the value is not used.",
            )


def _p02_moisture(lot: Lot, report: Report, sample: SampleValues) -> Iterator[Finding]:
    dm, moisture = _percent(report, "dm"), _percent(report, "moisture")
    if dm is None or moisture is None:
        return
    if abs(dm + moisture - 100.0) > MOISTURE_SUM_TOLERANCE:
        yield _finding(
            "P02",
            "error",
            report,
            f"Report {report.report_id} gives {moisture:g} % moisture and {dm:g} % dry matter, "
            f"together {dm + moisture:g} % instead of 100 %.",
            "One of the two is probably mistyped.",
            "Compare both with the printed report.",
        )


def _p03_columns(lot: Lot, report: Report, sample: SampleValues) -> Iterator[Finding]:
    if sample.dm_pct is None:
        return
    for name in dict.fromkeys(analyte.name for analyte in report.analytes):
        if not is_rescaled(name):
            continue
        received = _on_basis(report, name, Basis.AS_RECEIVED)
        dry = _on_basis(report, name, Basis.DRY_MATTER)
        if received is None or dry is None:
            continue
        tolerance = max(COLUMN_TOLERANCE, COLUMN_TOLERANCE_FRAC * dry)
        if abs(received - dry * sample.dm_pct / 100.0) > tolerance:
            yield _finding(
                "P03",
                "error",
                report,
                f"Report {report.report_id} gives {_word(name)} as {received:g} as received and "
                f"{dry:g} in the dry matter, which do not belong to {sample.dm_pct:g} % dry "
                "matter.",
                "The two columns are probably swapped, or the dry matter is another sample's.",
                "Compare both columns with the printed report.",
            )


def _p04_fiber(lot: Lot, report: Report, sample: SampleValues) -> Iterator[Finding]:
    adf, ndf = sample.values.get("adf"), sample.values.get("ndf")
    if adf is None or ndf is None:
        return
    legume = lot.forage in _PURE_LEGUMES
    most_adf = ndf + FIBER_ROUNDING if legume else ndf - FIBER_ROUNDING
    if adf > most_adf:
        yield _finding(
            "P04",
            "warning" if legume else "error",
            report,
            f"Report {report.report_id} gives {adf:.1f} % ADF and {ndf:.1f} % NDF in the dry "
            "matter, but ADF is a part of NDF.",
            "The two values are probably swapped.",
            "Compare both with the printed report."
            + ("" if legume else " Neither is used until then."),
        )


def _p05_lignin(lot: Lot, report: Report, sample: SampleValues) -> Iterator[Finding]:
    lignin, adf = sample.values.get("lignin"), sample.values.get("adf")
    if lignin is not None and adf is not None and lignin > adf:
        yield _finding(
            "P05",
            "error",
            report,
            f"Report {report.report_id} gives {lignin:.1f} % lignin and {adf:.1f} % ADF in the "
            "dry matter, but lignin is a part of ADF.",
            "Lignin is probably a share of NDF.",
            "Compare it with the printed report; it is not used until then.",
        )


def _p06_bound_protein(lot: Lot, report: Report, sample: SampleValues) -> Iterator[Finding]:
    adicp, cp = sample.values.get("adicp"), sample.values.get("cp")
    if adicp is None or cp is None:
        return
    if adicp > cp:
        yield _finding(
            "P06",
            "error",
            report,
            f"Report {report.report_id} gives {adicp:.1f} % bound protein (ADICP) and only "
            f"{cp:.1f} % protein in the dry matter.",
            "The bound protein is probably a share of the protein.",
            "Enter it without a basis if it is; it is not used until then.",
        )
    elif adicp > BOUND_SHARE_SUSPECT_FRAC * cp and adicp >= BOUND_SUSPECT_FROM:
        yield _finding(
            "U04",
            "warning",
            report,
            f"Report {report.report_id} gives {adicp:.1f} % bound protein (ADICP) of {cp:.1f} % "
            "protein in the dry matter, more than a third.",
            "Either the hay is badly heated, or the bound protein is a share of the protein.",
            "Ask the lab; until then it is counted as printed, which lowers the protein.",
        )


def _p12_sum(lot: Lot, report: Report, sample: SampleValues) -> Iterator[Finding]:
    cp, ndf, ee, ash = (sample.values.get(name) for name in ("cp", "ndf", "ee", "ash"))
    if cp is None or ndf is None or ee is None or ash is None:
        return
    left = nfc_pct(cp, ndf, ee, ash, sample.values.get("ndicp", NDICP_PER_NDF * ndf))
    if left < LEAST_REMAINDER:
        yield _finding(
            "P12",
            "error",
            report,
            f"Protein, fiber, fat and ash of report {report.report_id} add up to "
            f"{100.0 - left:.0f} % of the dry matter.",
            "As-received and dry-matter values are probably mixed, or ADF and NDF mistyped.",
            "Compare them with the printed report; TDN is not summed from them until then.",
        )


def _p16_rfv(lot: Lot, report: Report, sample: SampleValues) -> Iterator[Finding]:
    rfv, adf, ndf = (sample.values.get(name) for name in ("rfv", "adf", "ndf"))
    if rfv is None or adf is None or ndf is None or ndf <= 0.0:
        return
    if rfv_disagrees(rfv, adf, ndf):
        yield _finding(
            "P16",
            "warning",
            report,
            f"Report {report.report_id} prints relative feed value {rfv:g}, but its ADF and NDF "
            f"give {relative_feed_value(adf, ndf):.0f}.",
            "It was computed from other values, or one of the three is mistyped.",
            "Compare the three with the printed report, and rank hay by the computed value.",
        )


def _u08_wet_hay(lot: Lot, report: Report, sample: SampleValues) -> Iterator[Finding]:
    dry_hay = lot.package is not Package.BALEAGE and lot.forage is not Forage.CORN_SILAGE
    if dry_hay and sample.dm_pct is not None and sample.dm_pct < WET_HAY_BELOW_DM_PCT:
        yield _finding(
            "U08",
            "error",
            report,
            f"Report {report.report_id} gives {sample.dm_pct:g} % dry matter for dry hay.",
            "Moisture and dry matter are probably swapped, or the lot is baleage.",
            "Correct the report or the package of the lot; this dry matter is not used for hay.",
        )


def _u09_dried(lot: Lot, report: Report, sample: SampleValues) -> Iterator[Finding]:
    if sample.dm_pct is not None and sample.dm_pct > DRIED_SAMPLE_ABOVE_DM_PCT:
        yield _finding(
            "U09",
            "note",
            report,
            f"Report {report.report_id} gives {sample.dm_pct:g} % dry matter, drier than hay "
            "keeps.",
            "The lab gave only values of dry matter.",
            "State the dry matter of the lot; this one is not used for its weight.",
        )


def _u10_nitrate(lot: Lot, report: Report, sample: SampleValues) -> Iterator[Finding]:
    if "nitrate" in sample.values:
        yield _finding(
            "U10",
            "warning",
            report,
            f"Report {report.report_id} gives nitrate as {sample.values['nitrate']:,.0f} ppm in "
            "the dry matter without its form.",
            "It may be NO3-N, NO3 or KNO3, which differ up to sevenfold in what they mean.",
            "Ask the lab for the form; until it is known, feed this lot to no pregnant stock, and "
            "to other stock only on the advice of the extension office or a veterinarian.",
        )


_RULES: Final[tuple[Callable[[Lot, Report, SampleValues], Iterator[Finding]], ...]] = (
    _p01_range,
    _p02_moisture,
    _p03_columns,
    _p04_fiber,
    _p05_lignin,
    _p06_bound_protein,
    _p12_sum,
    _p16_rfv,
    _u08_wet_hay,
    _u09_dried,
    _u10_nitrate,
)

_WORDS: Final = {
    "cp": "protein",
    "dm": "dry matter",
    "ee": "fat",
    "ca": "calcium",
    "p": "phosphorus",
    "mg": "magnesium",
    "k": "potassium",
    "s": "sulfur",
    "na": "sodium",
    "cl": "chlorine",
}


def _word(name: str) -> str:
    return _WORDS.get(name, name.upper() if len(name) <= 5 else name)


def _percent(report: Report, name: str) -> float | None:
    analyte = report.get(name)
    return None if analyte is None else _canonical(analyte)


def _on_basis(report: Report, name: str, basis: Basis) -> float | None:
    for analyte in report.analytes:
        if analyte.name == name and analyte.basis is basis and not analyte.censored:
            return _canonical(analyte)
    return None


def _canonical(analyte: Analyte) -> float | None:
    unit = UNITS.get(analyte.unit)
    if analyte.value is None or unit is None:
        return None
    return unit.to_canonical(analyte.value)
