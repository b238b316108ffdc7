"""How much results of one lot differ, by analyte or by a farm's own pairs; and hot bales.

A share outside 0 to 1, and more bales than there are, raise `OutOfRange`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from rickyard.analysis_error import ERROR_SIZES, OUTSIDE_DM_FACTOR, UNEVEN_LOT_FACTOR
from rickyard.farm import Report
from rickyard.hay.common import require_between, require_not_negative, require_positive
from rickyard.hay.precision.quantiles import require_confidence
from rickyard.quantities import OutOfRange


@dataclass(frozen=True, slots=True)
class Spread:
    """Standard deviations of one analyte, in the unit of its result.

    ``observed`` is that of single cores, each analysed on its own; ``repeat`` that of repeated
    determinations, which is within it; ``one_lab`` that of results of one laboratory; ``bias``
    that of laboratories' means.
    """

    observed: float
    repeat: float
    one_lab: float
    bias: float
    source: str


def spread_of(
    analyte: str, value: float | None = None, *, outside: bool = False, uneven: bool = False
) -> Spread:
    """Return how much single cores and laboratories differ in an analyte.

    The source of each is in `rickyard.analysis_error`; replace by your own pairs, see
    `rickyard.hay.precision.farm_variance.core_sd_from_pairs`.

    Parameters
    ----------
    analyte : str
        Name of the analyte, such as ``cp``, ``ndf``, ``nitrate_no3n``. One without a known spread
        raises ``OutOfRange``.
    value : float, optional
        The result; needed where the spread is a share of it, in the unit of the result.
    outside : bool
        Whether the hay stood outside; changes dry matter.
    uneven : bool
        Whether it is a first cutting, weedy or rained on.

    Returns
    -------
    Spread
        Standard deviations, in the unit of the result.

    Examples
    --------
    >>> spread_of("cp").observed, round(spread_of("cp", uneven=True).observed, 1)
    (0.8, 1.2)
    >>> round(spread_of("nitrate_no3n", 1000.0).observed)
    440
    """
    size = ERROR_SIZES.get(analyte)
    if size is None:
        raise OutOfRange(f"no spread from core to core is known for {analyte}.")
    cores, lab = (
        _unit(analyte, value) if relative else 1.0
        for relative in (size.cores_relative, size.lab_relative)
    )
    observed = size.single_core * (OUTSIDE_DM_FACTOR if analyte == "dm" and outside else 1.0)
    if uneven:  # the bales differ more, and the laboratory's part stays as it is
        core = math.sqrt(observed**2 - size.repeat**2)
        observed = math.hypot(UNEVEN_LOT_FACTOR * core, size.repeat)
    return Spread(
        observed * cores,
        size.repeat * cores,
        size.one_lab * lab,
        size.bias * lab,
        size.source,
    )


def _unit(analyte: str, value: float | None) -> float:
    """Return one percent of a value, in which a spread that is a share of it is given."""
    if value is None:
        raise OutOfRange(f"the spread of {analyte} is a share of its value: give the value.")
    require_not_negative(analyte, value, "")
    return value / 100.0


def core_sd_from_pairs(
    differences: Sequence[float], cores_each: int | Sequence[int], repeat_sd: float
) -> float:
    """Spread of single cores, from pairs of composites of the same lots.

    Source: derived: it replaces the default spread by one's own.

    Parameters
    ----------
    differences : sequence of float
        For each lot, one composite's result less the other's.
    cores_each : int or sequence of int
        Cores in each composite of a pair, one number or one for each pair. [-]
    repeat_sd : float
        Standard deviation of repeat determinations in the laboratory.

    Returns
    -------
    float
        Standard deviation from bale and core, in the unit of the result, the laboratory's error
        taken out; zero when the laboratory explains it all.

    Examples
    --------
    >>> round(core_sd_from_pairs([0.5] * 12, 10, 0.25), 2)
    0.79
    """
    if not differences:
        raise OutOfRange("no pair of composites is given.")
    cores = [cores_each] * len(differences) if isinstance(cores_each, int) else list(cores_each)
    if len(cores) != len(differences):
        raise OutOfRange(f"{len(differences)} pairs have {len(cores)} numbers of cores.")
    require_between("cores in a composite", cores, 1, math.inf, "")
    require_not_negative("repeat standard deviation", repeat_sd, "")
    found = math.fsum(
        count * (value * value / 2.0 - repeat_sd**2)
        for value, count in zip(differences, cores, strict=True)
    )
    return math.sqrt(max(0.0, found / len(differences)))


#: Pairs from which on a farm's own spread goes before the default. Judgement: a standard
#: deviation from six pairs is known within about a third.
LEAST_PAIRS: Final = 6


@dataclass(frozen=True, slots=True)
class Pairs:
    """Two composites of one lot on one day: the differences, and the cores of each."""

    differences: tuple[float, ...]
    cores: tuple[int, ...]


def pairs_of(reports: Sequence[Report], analyte: str) -> Pairs:
    """Find the pairs of composites among reports.

    Parameters
    ----------
    reports : sequence of Report
        Reports on any lots.
    analyte : str
        The analyte, such as ``cp``; both values must be on one basis.

    Returns
    -------
    Pairs
        One pair for each lot and day with two reports of as many cores from one laboratory.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import Analyte, Basis
    >>> def test(name, cp):
    ...     value = Analyte("cp", cp, "pct", Basis.DRY_MATTER)
    ...     return Report(name, "A", (value,), sampled_on=date(2026, 9, 1), cores=10)
    >>> pairs = pairs_of([test("R1", 10.2), test("R2", 10.7)], "cp")
    >>> [round(value, 1) for value in pairs.differences], pairs.cores
    ([-0.5], (10,))
    """
    alike: dict[tuple[int, tuple[object, ...]], list[float]] = {}
    for report in reports:
        held = report.get(analyte)
        if held is None or held.value is None or held.censored:
            continue
        if report.sampled_on is not None and report.cores is not None:
            same = (report.lot_id, report.sampled_on, report.lab, held.basis, held.unit)
            alike.setdefault((report.cores, same), []).append(held.value)
    twos = [(values, cores) for (cores, _), values in alike.items() if len(values) == 2]
    return Pairs(
        tuple(values[0] - values[1] for values, _ in twos),
        tuple(cores for _, cores in twos),
    )


def chance_of_hot_bale(share: float, bales: int, bales_in_lot: int | None = None) -> float:
    """Chance that a random choice of bales holds a hot one.

    Source: derived; hypergeometric where the lot is counted.

    Parameters
    ----------
    share : float
        Share of the bales that are hot, such as over a nitrate limit. [fraction]
    bales : int
        Bales chosen. [-]
    bales_in_lot : int, optional
        Bales in the lot; with it the count is exact, without it the lot is taken as large. [-]

    Returns
    -------
    float
        Chance. [fraction]

    Examples
    --------
    >>> round(chance_of_hot_bale(0.1, 29), 3), round(chance_of_hot_bale(0.1, 29, 60), 3)
    (0.953, 0.985)
    """
    require_between("share of hot bales", share, 0.0, 1.0, "")
    require_between("bales", bales, 1, math.inf, "")
    if bales_in_lot is None:
        return 1.0 - (1.0 - share) ** bales
    if bales > bales_in_lot:
        raise OutOfRange(f"{bales} bales cannot be chosen from {bales_in_lot}.")
    cold = bales_in_lot - math.ceil(share * bales_in_lot - 1e-9)
    return 1.0 - math.comb(cold, bales) / math.comb(bales_in_lot, bales)


def bales_to_find_hot(share: float, confidence: float, bales_in_lot: int | None = None) -> int:
    """Bales [-] to choose so that a hot one is among them with a chance of 0.50 to 0.999.

    Examples
    --------
    >>> [bales_to_find_hot(share, 0.95) for share in (0.05, 0.10, 0.20)]
    [59, 29, 14]
    """
    require_positive("share of hot bales", share, "")
    require_between("share of hot bales", share, 0.0, 1.0, "")
    require_confidence(confidence)
    if bales_in_lot is None:
        if share == 1.0:
            return 1
        return math.ceil(math.log(1.0 - confidence) / math.log(1.0 - share) - 1e-9)
    require_between("bales in the lot", bales_in_lot, 1, math.inf, "")
    return next(
        bales
        for bales in range(1, bales_in_lot + 1)
        if chance_of_hot_bale(share, bales, bales_in_lot) >= confidence
    )
