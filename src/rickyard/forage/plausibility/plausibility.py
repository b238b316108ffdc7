"""Whether a laboratory report can be true: one table of rules, for one report or a million.

A rule is silent where one of its values is not given. What breaks a rule is told with its
likely cause, never corrected here. The rules stand in a table of their own (``rules``), and so do
the limits of the screens, which a district may replace.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from rickyard.evidence import JUDGEMENT
from rickyard.farm import Caution, Lot, Report
from rickyard.forage.energy import relative_feed_value
from rickyard.forage.plausibility.rule_tests import RFV_TOLERANCE
from rickyard.forage.plausibility.rules import RULES, Cause, Level, Rule
from rickyard.forage.values import (
    FORAGE_WORDS,
    FORAGES,
    ReportColumns,
    Screens,
    report_columns,
    shipped_screens,
)
from rickyard.types import BoolArray

RULES_SOURCE: Final = f"Rule {{rule}} for laboratory reports: {JUDGEMENT}"

#: Which rules are about reports with some columns is remembered for so many kinds of reports.
REMEMBERED: Final = 64

_GRAVITY: Final[tuple[Level, ...]] = ("note", "warning", "error")


@dataclass(frozen=True, slots=True)
class Proposal:
    """How a value would read if the likely cause is right; never applied.

    ``value`` is percent, ppm or Mcal/kg of dry matter, as the column of that name.
    """

    name: str
    value: float


@dataclass(frozen=True, slots=True)
class Finding:
    """Something on a report that does not fit: what, why perhaps, and what to do.

    ``level`` is ``error`` (to be corrected or confirmed before use), ``warning`` or ``note``.
    ``about`` names the values it casts doubt on, ``drops`` those that are not counted while it
    stands.
    """

    rule: str
    level: Level
    lot_id: str
    report_id: str
    sentence: str
    cause: str
    remedy: str
    kind: Cause = Cause.TYPING
    about: tuple[str, ...] = ()
    drops: tuple[str, ...] = ()
    proposal: Proposal | None = None

    def caution(self) -> Caution:
        """Return the finding as a caution about its lot.

        Examples
        --------
        >>> finding = Finding("P02", "error", "L1", "R1", "It does not fit.", "Mistyped.", "Look.")
        >>> finding.caution().sentence
        'It does not fit. Mistyped. Look.'
        """
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


def broken_rules(columns: ReportColumns, screens: Screens | None = None) -> dict[int, BoolArray]:
    """Mark, for every rule whose columns are there, the reports that break it.

    Parameters
    ----------
    columns : ReportColumns
        The reports.
    screens : Screens, optional
        A district's own screening limits; those shipped when not given.

    Returns
    -------
    dict of int to array of bool
        By place in ``RULES``.

    Examples
    --------
    >>> from rickyard.farm import Forage
    >>> from rickyard.forage.values.columns import plain_columns
    >>> fiber = {"adf": np.array([38.0, 62.0]), "ndf": np.array([62.0, 38.0])}
    >>> broken = broken_rules(plain_columns(Forage.COOL_GRASS, fiber))
    >>> [RULES[place].rule for place, rows in broken.items() if rows[1] and not rows[0]]
    ['P04', 'S02', 'S01', 'S01']
    """
    limits = shipped_screens() if screens is None else screens
    with np.errstate(invalid="ignore", divide="ignore", over="ignore"):
        return {
            place: rule.broken(columns, limits)
            for place, rule in _rules_about(frozenset(columns.values))
        }


@lru_cache(maxsize=REMEMBERED)
def _rules_about(names: frozenset[str]) -> tuple[tuple[int, Rule], ...]:
    """Return the rules that need no other columns, with their places in the table."""
    return tuple((place, rule) for place, rule in enumerate(RULES) if names.issuperset(rule.needs))


def error_rows(columns: ReportColumns, screens: Screens | None = None) -> BoolArray:
    """Mark the reports that hold an error: to be corrected or confirmed before use.

    Parameters
    ----------
    columns : ReportColumns
        The reports.
    screens : Screens, optional
        A district's own screening limits; those shipped when not given.

    Returns
    -------
    array of bool
        True where at least one rule of level ``error`` is broken.

    Examples
    --------
    >>> from rickyard.farm import Forage
    >>> from rickyard.forage.values.columns import plain_columns
    >>> protein = {"cp": np.array([11.0, 112.0, np.nan])}
    >>> error_rows(plain_columns(Forage.COOL_GRASS, protein))
    array([False,  True, False])
    """
    found = np.zeros(len(columns), dtype=np.bool_)
    for place, rows in broken_rules(columns, screens).items():
        if RULES[place].level == "error":
            found |= rows
    return found


def report_findings(
    lot: Lot, report: Report, screens: Screens | None = None
) -> tuple[Finding, ...]:
    """Check a report against the table of rules.

    Parameters
    ----------
    lot : Lot
        The lot that was sampled; its forage decides the fiber rule and the screens.
    report : Report
        The report as the laboratory printed it.
    screens : Screens, optional
        A district's own screening limits; those shipped when not given.

    Returns
    -------
    tuple of Finding
        What does not fit, in the order of the table. A screen is left unsaid where a rule at
        least as grave already casts doubt on the same value.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import Analyte, Basis, Forage, Package, Storage
    >>> lot = Lot("L1", "Barn hay", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN,
    ...           40, date(2026, 6, 1), date(2026, 10, 1))
    >>> swapped = Report("R1", "L1", (Analyte("adf", 62.0, "pct", Basis.DRY_MATTER),
    ...                               Analyte("ndf", 38.0, "pct", Basis.DRY_MATTER)))
    >>> [finding.rule for finding in report_findings(lot, swapped)]
    ['P04']
    """
    columns = report_columns([(lot, report)])
    limits = shipped_screens() if screens is None else screens
    broken = [
        RULES[place] for place, rows in broken_rules(columns, limits).items() if bool(rows[0])
    ]
    kept = [rule for rule in broken if not (rule.yields and _is_covered(rule, broken))]
    return tuple(_finding(rule, lot, report, columns, limits) for rule in kept)


def findings_of_lots(
    lots: Sequence[tuple[Lot, Sequence[Report]]], screens: Screens | None = None
) -> list[list[tuple[Finding, ...]]]:
    """Check every report on many lots, as `report_findings` does one.

    All are held to the rules at once, and only those that break any are looked at alone: a farm
    with thousands of reports takes no longer than the rules do.
    """
    pairs = [(lot, report) for lot, reports in lots for report in reports]
    doubtful = np.zeros(len(pairs), dtype=np.bool_)
    if pairs:
        for rows in broken_rules(report_columns(pairs), screens).values():
            doubtful |= rows
    found = iter(
        [
            report_findings(lot, report, screens) if doubted else ()
            for (lot, report), doubted in zip(pairs, doubtful, strict=True)
        ]
    )
    return [[next(found) for _ in reports] for _, reports in lots]


def _is_covered(rule: Rule, broken: list[Rule]) -> bool:
    return any(
        not other.yields
        and _GRAVITY.index(other.level) >= _GRAVITY.index(rule.level)
        and set(other.concerns) & set(rule.concerns)
        for other in broken
    )


def _finding(
    rule: Rule, lot: Lot, report: Report, columns: ReportColumns, screens: Screens
) -> Finding:
    with np.errstate(invalid="ignore", divide="ignore", over="ignore"):
        numbers = {name: float(columns[name][0]) for name in rule.needs}
        numbers |= {name: float(turn(columns, screens)[0]) for name, turn in rule.told.items()}
        proposal = None
        if rule.proposed is not None:
            name, turn = rule.proposed
            numbers["proposed"] = float(turn(columns, screens)[0])
            if math.isfinite(numbers["proposed"]):
                proposal = Proposal(name, numbers["proposed"])
    words = {"report": report.report_id, "forage": FORAGE_WORDS[FORAGES[columns.forage[0]]]}
    sentence, why, remedy = (
        text.format(**numbers, **words) for text in (rule.sentence, rule.why, rule.remedy)
    )
    return Finding(
        rule.rule,
        rule.level,
        report.lot_id,
        report.report_id,
        sentence,
        why,
        remedy,
        rule.cause,
        rule.concerns,
        rule.drops,
        proposal,
    )
