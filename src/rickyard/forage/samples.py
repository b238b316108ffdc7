"""A laboratory report restated: every usable value once, on dry matter, in one unit.

What cannot be used is kept apart with its reason, so that nothing disappears unseen.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from rickyard.farm import Analyte, Basis, Report
from rickyard.forage.basis import as_received_to_dm, is_rescaled
from rickyard.quantities import UNITS

PPM_PER_PCT: Final = 10_000.0
#: Hay above this dry matter was tested dry: its moisture as it stands is unknown.
DRIED_SAMPLE_ABOVE_DM_PCT: Final = 97.0

#: Names measured in milligrams per kilogram; all other concentrations are percent.
PPM_NAMES: Final = frozenset(
    {
        "nitrate",
        "nitrate_no3n",
        "nitrate_no3",
        "nitrate_kno3",
        "hcn",
        "fe",
        "cu",
        "zn",
        "mn",
        "mo",
        "co",
        "se",
    }
)
ENERGY_NAMES: Final = frozenset({"nem", "neg", "nel", "de", "me"})
#: For these a limit "<" counts as the limit itself: the cautious reading of a poison.
LIMIT_COUNTS: Final = frozenset(name for name in PPM_NAMES if name.startswith("nitrate")) | {"hcn"}
#: No forage holds none of these: a zero was typed for a blank.
_NEVER_ZERO: Final = frozenset({"cp", "adf", "ndf", "tdn", "ca", "p"})
_WITHOUT_UNIT: Final = frozenset({"rfv", "rfq", "ph", "ca_p_ratio", "tetany_ratio"})
_BASIS_ORDER: Final = (Basis.DRY_MATTER, Basis.NONE, Basis.AS_RECEIVED)


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

    Notes
    -----
    Where a value is printed on two bases the one on dry matter is taken. A nutrient printed as
    a limit or in words is missing, never zero; a nitrate or prussic-acid limit counts as the
    limit. Bound protein without a basis is a share of the protein, lignin without a basis a
    share of the fiber.

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
    dm_pct = fallback_dm_pct if sample_dm is None else sample_dm
    values: dict[str, float] = {}
    unused: list[Unused] = []
    dm_assumed = False
    for analyte in _one_of_each(report):
        try:
            values[analyte.name] = _restate(analyte, dm_pct)
        except _NotUsableError as why:
            unused.append(Unused(analyte.name, printed_text(analyte), str(why)))
            continue
        dm_assumed |= sample_dm is None and analyte.basis is Basis.AS_RECEIVED
    _resolve_shares(report, values)
    impossible = [name for name, value in values.items() if not _possible(name, value)]
    unused.extend(
        Unused(name, f"{values.pop(name):g}", "the value is not possible") for name in impossible
    )
    usable_dm = sample_dm if sample_dm is not None and 0.0 < sample_dm <= 100.0 else None
    return SampleValues(report.report_id, usable_dm, values, tuple(unused), dm_assumed)


def printed_text(analyte: Analyte) -> str:
    """Return a value as the laboratory printed it.

    Examples
    --------
    >>> printed_text(Analyte("ca", 0.05, "pct", Basis.DRY_MATTER, censored="<"))
    '<0.05'
    """
    if analyte.text:
        return analyte.text
    return analyte.censored + ("" if analyte.value is None else f"{analyte.value:g}")


class _NotUsableError(Exception):
    """A printed value cannot be restated."""


def _sample_dm(report: Report) -> float | None:
    for name, turn in (("dm", False), ("moisture", True)):
        analyte = report.get(name)
        if analyte is not None and analyte.value is not None and not analyte.censored:
            unit = UNITS.get(analyte.unit)
            value = unit.to_canonical(analyte.value) if unit else analyte.value
            return 100.0 - value if turn else value
    return None


def _one_of_each(report: Report) -> Iterator[Analyte]:
    names = dict.fromkeys(analyte.name for analyte in report.analytes)
    for name in names:
        if name in ("dm", "moisture"):
            continue
        mine = [analyte for analyte in report.analytes if analyte.name == name]
        yield min(mine, key=lambda one: (one.value is None, _BASIS_ORDER.index(one.basis)))


def _restate(analyte: Analyte, dm_pct: float | None) -> float:
    if analyte.value is None:
        raise _NotUsableError("the lab printed no number")
    if analyte.censored and analyte.name not in LIMIT_COUNTS:
        raise _NotUsableError("the lab printed a limit, not a value")
    value = _in_own_unit(analyte, analyte.value)
    if analyte.basis is not Basis.AS_RECEIVED or not is_rescaled(analyte.name):
        return value
    if dm_pct is None or not 0.0 < dm_pct <= 100.0:
        raise _NotUsableError("it is as received and the dry matter is not known")
    return float(as_received_to_dm(value, dm_pct))


def _in_own_unit(analyte: Analyte, value: float) -> float:
    if analyte.name in _WITHOUT_UNIT:
        return value
    unit = UNITS.get(analyte.unit)
    if unit is None:
        raise _NotUsableError(f'"{analyte.unit}" is not a unit this program knows')
    wanted = _dimension_of(analyte.name)
    canonical = unit.to_canonical(value)
    if unit.dimension == wanted:
        return canonical
    if (unit.dimension, wanted) == ("ppm", "percent"):
        return canonical / PPM_PER_PCT
    if (unit.dimension, wanted) == ("percent", "ppm"):
        return canonical * PPM_PER_PCT
    raise _NotUsableError(f"{unit.name} does not measure it")


def _dimension_of(name: str) -> str:
    if name in PPM_NAMES:
        return "ppm"
    return "energy_density" if name in ENERGY_NAMES else "percent"


def _resolve_shares(report: Report, values: dict[str, float]) -> None:
    for name, whole in (("adicp", "cp"), ("ndicp", "cp"), ("lignin", "ndf")):
        if name not in values or any(
            one.name == name and one.basis is not Basis.NONE for one in report.analytes
        ):
            continue
        share = values.pop(name)
        if whole in values:
            values[name] = share * values[whole] / 100.0


def _possible(name: str, value: float) -> bool:
    if name in _WITHOUT_UNIT or name in ENERGY_NAMES:
        return name in ENERGY_NAMES or value > 0.0
    if name in _NEVER_ZERO and value == 0.0:
        return False
    return 0.0 <= value <= (100.0 * PPM_PER_PCT if name in PPM_NAMES else 100.0)
