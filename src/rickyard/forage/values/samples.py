"""A laboratory report restated: every usable value once, on dry matter, in one unit.

What cannot be used is kept apart with its reason, so that nothing disappears unseen.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Final

from rickyard.farm import Analyte, Basis, Report
from rickyard.forage.values.analyte_kinds import (
    NOT_FOUND,
    PROTEIN_PER_NITROGEN,
    TOO_MANY,
    AnalyteKind,
    kind_of,
)
from rickyard.forage.values.basis import as_received_to_dm, is_rescaled
from rickyard.quantities import UNITS

PPM_PER_PCT: Final = 10_000.0  # by definition
#: Hay above this dry matter was tested dry: its moisture as it stands is unknown.
#: Detector U09; judgement, no published source.
DRIED_SAMPLE_ABOVE_DM_PCT: Final = 97.0
MOST_PH: Final = 14.0  # end of the scale of pH, by definition
#: Dry matter up to it is a fraction of one in place of percent: no forage is that wet. Judgement.
FRACTION_UP_TO: Final = 1.0

_BASIS_ORDER: Final = (Basis.DRY_MATTER, Basis.NONE, Basis.AS_RECEIVED)
_EXTREMES: Final = ("_min", "_max")
#: Net energy whose unit a report may leave open.
_MAY_LACK_UNIT: Final = ("nem", "neg")


@dataclass(frozen=True, slots=True)
class Unused:
    """A printed value that cannot be counted with, and why."""

    name: str
    printed: str
    reason: str


@dataclass(frozen=True, slots=True)
class SampleValues:
    """The values of one report: percent, ppm or Mcal/kg of dry matter; indices as printed.

    ``dm_pct`` is the dry matter of the sample as it was received, ``None`` when the report does
    not tell. ``dm_assumed`` says that as-received values were restated with a dry matter from
    elsewhere.
    """

    report_id: str
    dm_pct: float | None
    values: dict[str, float]
    unused: tuple[Unused, ...] = ()
    dm_assumed: bool = False


def sample_values(report: Report, fallback_dm_pct: float | None = None) -> SampleValues:
    """Restate every usable value of a report on dry matter.

    Where a value is printed on two bases the one on dry matter is taken. A nutrient printed as
    a limit or in words is missing, never zero; a poison counts at its limit, as none when it
    was looked for and not found, and without end when too numerous to count. A value without a
    basis is a share of its part (``analyte_kinds``): bound protein of the protein, lignin of
    the fiber. Nitrogen becomes protein by 6.25. Mold and yeast counts stay as received.

    Parameters
    ----------
    report : Report
        The report as the laboratory printed it.
    fallback_dm_pct : float, optional
        Dry matter to restate as-received values with when the report holds none.
        [% as received]

    Returns
    -------
    SampleValues
        Percent of dry matter, ppm of dry matter or Mcal/kg of dry matter by name.

    Examples
    --------
    >>> printed = (
    ...     Analyte("dm", 91.0, "pct", Basis.NONE),
    ...     Analyte("cp", 17.0, "pct", Basis.AS_RECEIVED),
    ... )
    >>> round(sample_values(Report("R1", "L1", printed)).values["cp"], 2)
    18.68
    """
    sample_dm = _sample_dm(report)
    work = _Restating(sample_dm if sample_dm is not None else fallback_dm_pct)
    for analyte in _one_of_each(report):
        if not analyte.name.endswith(_EXTREMES):
            work.take(analyte)
    values = work.finished()
    impossible = [name for name, value in values.items() if not _possible(name, value)]
    work.unused.extend(
        Unused(name, f"{values.pop(name):g}", "the value is not possible") for name in impossible
    )
    usable_dm = sample_dm if sample_dm is not None and FRACTION_UP_TO < sample_dm <= 100.0 else None
    return SampleValues(
        report.report_id,
        usable_dm,
        values,
        tuple(work.unused),
        dm_assumed=sample_dm is None and work.restated,
    )


def column_values(report: Report, fallback_dm_pct: float | None = None) -> dict[str, float]:
    """Restate a report for the rules: impossible values are kept, and what is printed twice.

    Parameters
    ----------
    report : Report
        The report as the laboratory printed it.
    fallback_dm_pct : float, optional
        Dry matter to restate as-received values with when the report holds none.
        [% as received]

    Returns
    -------
    dict of str to float
        Values by the column names of ``columns``; what is not given is left out.

    Examples
    --------
    >>> printed = (
    ...     Analyte("moisture", 12.0, "pct", Basis.AS_RECEIVED),
    ...     Analyte("cp", 8.8, "pct", Basis.AS_RECEIVED),
    ...     Analyte("cp", 10.0, "pct", Basis.DRY_MATTER),
    ... )
    >>> column_values(Report("R1", "L1", printed))
    {'cp': 10.0, 'moisture': 12.0, 'dm': 88.0, 'cp_ar': 8.8}
    """
    sample_dm = _sample_dm(report)
    work = _Restating(sample_dm if sample_dm is not None else fallback_dm_pct)
    for analyte in _one_of_each(report):
        work.take(analyte)
    values = work.finished()
    for name in ("dm", "moisture"):
        printed = _plain(report.get(name))
        if printed is not None:
            values[name] = printed
    if sample_dm is not None:
        values.setdefault("dm", sample_dm)
    elif any(
        one.basis is Basis.AS_RECEIVED and is_rescaled(one.name) and one.value is not None
        for one in report.analytes
    ):
        values["dm_missing"] = 1.0
    values.update(_printed_beside(report))
    return values


def printed_text(analyte: Analyte) -> str:
    """Return a value as the laboratory printed it.

    >>> printed_text(Analyte("ca", 0.05, "pct", Basis.DRY_MATTER, censored="<"))
    '<0.05'
    """
    if analyte.text:
        return analyte.text
    return analyte.censored + ("" if analyte.value is None else f"{analyte.value:g}")


class _NotUsableError(Exception):
    """A printed value cannot be restated."""


@dataclass
class _Restating:
    """The work of restating one report; lives for one call."""

    dm_pct: float | None
    values: dict[str, float] = field(default_factory=dict)
    shares: set[str] = field(default_factory=set)
    unused: list[Unused] = field(default_factory=list)
    restated: bool = False

    def take(self, analyte: Analyte) -> None:
        kind = _kind(analyte.name)
        try:
            value = self._on_dry_matter(analyte, kind)
        except _NotUsableError as why:
            self.unused.append(Unused(analyte.name, printed_text(analyte), str(why)))
            return
        self.values[analyte.name] = value
        basisless = analyte.basis is Basis.AS_RECEIVED and not is_rescaled(kind.name)
        if kind.part and (analyte.basis is Basis.NONE or basisless):
            self.shares.add(analyte.name)

    def finished(self) -> dict[str, float]:
        """Turn nitrogen forms and shares, once every value is known."""
        for name in list(self.values):
            kind = _kind(name)
            if kind.becomes and kind.becomes not in self.values:
                share = name in self.shares
                nitrogen = self.values[name]
                self.values[kind.becomes] = nitrogen if share else PROTEIN_PER_NITROGEN * nitrogen
                if share:
                    self.shares.add(kind.becomes)
            if kind.becomes and kind.part:
                del self.values[name]
        for name in list(self.values):
            kind = _kind(name)
            if kind.part and kind.as_share != (name in self.shares):
                self._turn_share(name, kind)
        return self.values

    def _turn_share(self, name: str, kind: AnalyteKind) -> None:
        value, whole = self.values.pop(name), self.values.get(kind.part, 0.0)
        if whole <= 0.0:
            reason = f"it is a share of {kind_of(kind.part).words}, which is not given"
            self.unused.append(Unused(name, f"{value:g}", reason))
        elif kind.as_share:
            self.values[name] = 100.0 * value / whole
        else:
            self.values[name] = value * whole / 100.0

    def _on_dry_matter(self, analyte: Analyte, kind: AnalyteKind) -> float:
        value = _counted(analyte, kind)
        if analyte.basis is not Basis.AS_RECEIVED or not is_rescaled(kind.name):
            return value
        if self.dm_pct is None or not FRACTION_UP_TO < self.dm_pct <= 100.0:
            raise _NotUsableError("it is as received and the dry matter is not known")
        self.restated = True
        return float(as_received_to_dm(value, self.dm_pct))


@lru_cache(maxsize=512)
def _kind(name: str) -> AnalyteKind:
    return kind_of(name.removesuffix("_min").removesuffix("_max"))


def _counted(analyte: Analyte, kind: AnalyteKind) -> float:
    """Return the number that stands for what is printed, in the canonical unit."""
    if analyte.value is None:
        word = analyte.text.strip().casefold()
        if kind.poison and word in NOT_FOUND:
            return 0.0
        if kind.measure == "count" and word == TOO_MANY:
            return math.inf
        raise _NotUsableError("the lab printed no number")
    if analyte.censored and not kind.poison:
        raise _NotUsableError("the lab printed a limit, not a value")
    return _in_own_unit(analyte, analyte.value, kind)


def _in_own_unit(analyte: Analyte, value: float, kind: AnalyteKind) -> float:
    if kind.measure == "none":
        return value
    unit = UNITS.get(analyte.unit)
    if unit is None:
        raise _NotUsableError(f'"{analyte.unit}" is not a unit this program knows')
    canonical = unit.to_canonical(value)
    if unit.dimension == kind.measure:
        return canonical
    if (unit.dimension, kind.measure) == ("ppm", "percent"):
        return canonical / PPM_PER_PCT
    if (unit.dimension, kind.measure) == ("percent", "ppm"):
        return canonical * PPM_PER_PCT
    raise _NotUsableError(f"{unit.name} does not measure it")


def _plain(analyte: Analyte | None) -> float | None:
    if analyte is None or analyte.value is None or analyte.censored:
        return None
    unit = UNITS.get(analyte.unit)
    return unit.to_canonical(analyte.value) if unit else analyte.value


def _sample_dm(report: Report) -> float | None:
    dm = _plain(report.get("dm"))
    if dm is not None:
        return dm
    moisture = _plain(report.get("moisture"))
    return None if moisture is None else 100.0 - moisture


def _one_of_each(report: Report) -> Iterator[Analyte]:
    names = dict.fromkeys(analyte.name for analyte in report.analytes)
    for name in names:
        if name in ("dm", "moisture"):
            continue
        mine = [analyte for analyte in report.analytes if analyte.name == name]
        yield min(mine, key=lambda one: (one.value is None, _BASIS_ORDER.index(one.basis)))


def _printed_beside(report: Report) -> dict[str, float]:
    """Return as-received values printed beside one on dry matter, and unitless net energy."""
    on_dm = {one.name for one in report.analytes if one.basis is Basis.DRY_MATTER}
    beside: dict[str, float] = {}
    for one in report.analytes:
        if one.value is None or one.censored:
            continue
        if one.name in _MAY_LACK_UNIT and not one.unit:
            beside[f"{one.name}_unitless"] = one.value
        elif one.basis is Basis.AS_RECEIVED and one.name in on_dm and is_rescaled(one.name):
            try:
                beside[f"{one.name}_ar"] = _in_own_unit(one, one.value, _kind(one.name))
            except _NotUsableError:
                continue  # what has no known unit cannot be compared
    return beside


def _possible(name: str, value: float) -> bool:
    kind = kind_of(name)
    if kind.measure == "none":
        return 0.0 < value <= (MOST_PH if name == "ph" else math.inf)
    if kind.measure == "energy_density":
        return True
    if kind.never_zero and value == 0.0:
        return False
    if kind.measure == "count":
        return value >= 0.0
    return 0.0 <= value <= (100.0 * PPM_PER_PCT if kind.measure == "ppm" else 100.0)
