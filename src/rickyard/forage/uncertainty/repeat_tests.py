"""Two tests of one lot: whether they agree, and what they say together."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from statistics import NormalDist
from typing import Final

from rickyard.farm import Lot, Report
from rickyard.forage.uncertainty.uncertainty import CORES_WHEN_UNKNOWN, Labs, Measured, analyte_sd
from rickyard.forage.values import sample_values, word_of
from rickyard.quantities import above_zero

#: Two tests of one lot differ by more than this many standard deviations of their difference
#: one time in twenty, by definition for normal errors; for two tests of one precision that is 2.8
#: times their own.
Z_95: Final = NormalDist().inv_cdf(0.975)
#: What two tests of a lot are compared by, in the order told.
COMPARED: Final = ("cp", "adf", "ndf", "tdn")


@dataclass(frozen=True, slots=True)
class Repeated:
    """Two tests of one value: their mean by precision, and whether error explains that they differ.

    ``critical`` is the largest difference that error explains nineteen times in twenty.
    """

    together: Measured
    difference: float
    critical: float

    @property
    def agree(self) -> bool:
        """Return whether the difference is within what error explains.

        >>> test = Measured.normal(12.0, 0.5, "%", "")
        >>> Repeated(test, 1.0, 1.4).agree, Repeated(test, -2.0, 1.4).agree
        (True, False)
        """
        return abs(self.difference) <= self.critical


def combine_tests(first: Measured, second: Measured) -> Repeated:
    """Put two tests of one lot together by their precision.

    ``(x1/V1 + x2/V2) / (1/V1 + 1/V2)``. Tests that differ by more than ``1.96 sqrt(V1 + V2)`` are
    not to be averaged: the lot is uneven, it has changed, or a bag was mixed up. Derived. A test
    without error raises ``OutOfRange``.

    >>> first, second = Measured.normal(12.0, 0.5, "%", ""), Measured.normal(13.0, 1.0, "%", "")
    >>> both = combine_tests(first, second)
    >>> round(both.together.value, 1), round(both.together.sd, 2), both.agree
    (12.2, 0.45, True)
    """
    above_zero("Tests are weighted by their error, which must be above 0.", first.sd, second.sd)
    weights = (1.0 / first.sd**2, 1.0 / second.sd**2)
    mean = (first.value * weights[0] + second.value * weights[1]) / sum(weights)
    together = Measured.normal(mean, math.sqrt(1.0 / sum(weights)), first.unit, "two tests")
    critical = Z_95 * math.hypot(first.sd, second.sd)
    return Repeated(together, second.value - first.value, critical)


def repeat_sentence(lot: Lot, reports: Sequence[Report]) -> str:
    """Say whether the two newest full tests of a lot agree; nothing when there are not two.

    Two reports of one laboratory are compared by the error within it, others by that between
    laboratories.

    Parameters
    ----------
    lot : Lot
        The lot.
    reports : sequence of Report
        Reports in any order; those on other lots are passed over.

    Returns
    -------
    str
        Where they disagree, by how much and what to do; else that they agree, with what they
        say together. The newest is the one that is counted.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import Analyte, Basis, Forage, Package, Storage
    >>> lot = Lot("L1", "Barn hay", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN,
    ...           400, date(2026, 6, 1), date(2026, 10, 1))
    >>> tests = [Report(name, "L1", (Analyte("cp", cp, "pct", Basis.DRY_MATTER),), cores=20)
    ...          for name, cp in (("R2", 8.0), ("R1", 13.0))]
    >>> print(repeat_sentence(lot, tests))
    Tests R1 and R2 disagree by more than test error explains: protein 13.0 and 8.0% of dry \
matter. The lot is uneven, has changed, or a bag was mixed up: take a third sample before relying \
on either.
    """
    newest = sorted(
        (one for one in reports if one.lot_id == lot.lot_id),
        key=lambda one: one.reported_on or one.sampled_on or date.min,
        reverse=True,
    )
    full = [
        (report, values)
        for report in newest
        if (values := sample_values(report, lot.dm_pct).values) and "cp" in values
    ][:2]
    if len(full) < 2:
        return ""
    (new, new_values), (old, old_values) = full
    labs = Labs.ONE if new.lab and new.lab == old.lab else Labs.ANY
    apart, agreed = [], []
    for name in COMPARED:
        if new_values.get(name, 0.0) <= 0.0 or old_values.get(name, 0.0) <= 0.0:
            continue
        both = combine_tests(
            _measured(name, old_values[name], old, lot, labs),
            _measured(name, new_values[name], new, lot, labs),
        )
        if both.agree:
            agreed.append(f"{word_of(name)} {both.together.value:.1f}")
        else:
            apart.append(f"{word_of(name)} {old_values[name]:.1f} and {new_values[name]:.1f}")
    names = f"Tests {old.report_id} and {new.report_id}"
    if apart:
        return (
            f"{names} disagree by more than test error explains: {', '.join(apart)}% of dry "
            "matter. "
            "The lot is uneven, has changed, or a bag was mixed up: take a third sample before "
            "relying on either."
        )
    return (
        f"{names} agree within test error; combined they give {', '.join(agreed)}% of dry matter. "
        "The newer one is used."
    )


def _measured(name: str, value: float, report: Report, lot: Lot, labs: Labs) -> Measured:
    bales = lot.bales if lot.bales >= 1.0 else None
    sd = float(analyte_sd(name, value, report.cores or CORES_WHEN_UNKNOWN, bales, labs))
    return Measured.normal(value, sd, "% of dry matter", f"test {report.report_id}")
