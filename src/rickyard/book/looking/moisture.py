"""Dry matter of a lot that was tested more than once: what all its tests say together."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from rickyard.book.looking.weights import WITHIN_90, drawn_together
from rickyard.farm import Farm, Lot, Report
from rickyard.forage.plausibility import lot_profile
from rickyard.forage.uncertainty import Labs, Measured, lot_measured

#: One test has nothing beside it.
_REPEATED: Final = 2


@dataclass(frozen=True, slots=True)
class LearnedDryMatter:
    """Dry matter of a lot by its tests. [% as fed].

    ``counted_pct`` is what the lot is counted at now; ``tests`` tests say ``seen_pct`` together.
    ``pct`` is that drawn toward what stored hay of its kind usually is, ``usual_pct``; nine times
    in ten it lies between ``low_pct`` and ``high_pct``.
    """

    lot: Lot
    counted_pct: float
    tests: int
    seen_pct: float
    usual_pct: float
    pct: float
    low_pct: float
    high_pct: float

    @property
    def differs(self) -> bool:
        """Return whether what is counted lies outside the range."""
        return not self.low_pct <= self.counted_pct <= self.high_pct


def together(tests: Sequence[tuple[str, float, float, float]]) -> tuple[float, float]:
    """Return the mean of tests and its standard error.

    Tests of one laboratory, and those of which nobody knows the laboratory, share what it is off by
    and differ by the rest; those of two laboratories share nothing. Each is weighted by one over
    its variance, first within a laboratory, then between: Gelman, Carlin, Stern, Dunson, Vehtari
    and Rubin 2013, Bayesian Data Analysis, 3rd ed., section 5.4; from memory.

    Parameters
    ----------
    tests : sequence of tuple
        At least one: the laboratory, the value, its standard error within the laboratory, above 0,
        and what laboratories differ by beyond it. [any unit]

    Returns
    -------
    tuple of float
        Mean and standard error. [the same]

    Examples
    --------
    >>> mean, error = together([("A", 84.0, 0.6, 0.8), ("A", 86.0, 0.6, 0.8)])
    >>> round(mean, 1), round(error, 3)
    (85.0, 0.906)
    """
    of_lab: dict[str, list[tuple[float, float, float]]] = defaultdict(list)
    for lab, *numbers in tests:
        of_lab[lab].append((numbers[0], numbers[1], numbers[2]))
    means = []
    for found in of_lab.values():
        mean, within = _weighted([(value, error**2) for value, error, _ in found])
        means.append((mean, within + max(bias for _, _, bias in found) ** 2))
    mean, variance = _weighted(means)
    return mean, math.sqrt(variance)


def _weighted(values: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """Return the mean by precision of values with their variances, and its variance."""
    whole = math.fsum(1.0 / variance for _, variance in values)
    return math.fsum(value / variance for value, variance in values) / whole, 1.0 / whole


def learned_dry_matter(farm: Farm) -> tuple[LearnedDryMatter, ...]:
    """Return what repeat tests say of the dry matter of each lot that has two or more.

    The error of a test is that of the cores it was drawn with and of its laboratory, as the lot is
    read with everywhere. What stored hay usually is stands beside it; dry matter that is stated for
    the lot does not, for it may come from one of the tests.

    Parameters
    ----------
    farm : Farm
        The farm.

    Returns
    -------
    tuple of LearnedDryMatter
        Lots in the order of the farm.
    """
    found = (_learned(lot, farm.reports_of(lot.lot_id)) for lot in farm.lots)
    return tuple(one for one in found if one is not None)


def _learned(lot: Lot, reports: Sequence[Report]) -> LearnedDryMatter | None:
    bare = replace(lot, dm_pct=None)
    tests = []
    for report in reports:
        profile = lot_profile(bare, (report,))
        if profile.origins["dm_pct"] == "lab":
            one, every = (_measured(bare, report, labs) for labs in (Labs.ONE, Labs.ANY))
            bias = math.sqrt(max(0.0, every.sd**2 - one.sd**2))
            tests.append((report.lab, one.value, one.sd, bias))
    if len(tests) < _REPEATED:
        return None
    seen, seen_se = together(tests)
    usual = lot_measured(bare, (), lot_profile(bare, ()))["dm_pct"]
    mean, error = drawn_together(usual.value, usual.sd, seen, seen_se)
    counted = lot_profile(lot, reports).dm_pct
    within = WITHIN_90 * error
    return LearnedDryMatter(
        lot, counted, len(tests), seen, usual.value, mean, mean - within, mean + within
    )


def _measured(lot: Lot, report: Report, labs: Labs) -> Measured:
    return lot_measured(lot, (report,), lot_profile(lot, (report,)), labs)["dm_pct"]
