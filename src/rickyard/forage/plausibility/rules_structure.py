"""Rules P01-P20: what must hold between the values of one report.

Tolerances are percentage points of dry matter unless named otherwise. They are
judgement, no published source, and cover the rounding of a printed report.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Final

import numpy as np

from rickyard.farm import Forage
from rickyard.forage.plausibility.rules import Cause, Level, Rule, Test
from rickyard.forage.values import (
    KINDS,
    PROTEIN_PER_NITROGEN,
    ReportColumns,
    Screens,
    is_rescaled,
    word_of,
)
from rickyard.types import BoolArray, FloatArray

# Tolerances: judgement, no published source.
MOISTURE_SUM_TOLERANCE: Final = 0.2
COLUMN_TOLERANCE: Final = 0.06
COLUMN_TOLERANCE_FRAC: Final = 0.015
COPY_TOLERANCE: Final = 0.005  # half of the last printed decimal
FIBER_ROUNDING: Final = 0.5
BOUND_TOLERANCE: Final = 0.3
ASH_FREE_TOLERANCE: Final = 0.2
NDFD_TOLERANCE: Final = 2.0
LIGNIN_OVER_UNDIGESTED: Final = 1.0
SUGAR_TOLERANCE: Final = 0.5
NSC_OVER_NFC: Final = 3.0
DEGRADABLE_SUM_TOLERANCE: Final = 1.0
SOLUBLE_OVER_DEGRADABLE: Final = 3.0
FATTY_ACID_TOLERANCE: Final = 0.5
LEAST_NEG_MCAL_PER_KG: Final = -0.2
NITROGEN_TOLERANCE: Final = 0.2
NITROGEN_TYPED_TOLERANCE: Final = 0.05
MINERALS_OVER_ASH: Final = 1.0
PER_KG_IN_PCT: Final = 10.0  # grams per kilogram in one percent, by definition

PURE_LEGUMES: Final = frozenset({Forage.ALFALFA, Forage.CLOVER})
_MINERALS: Final = ("ca", "p", "k")
_MORE_MINERALS: Final = ("mg", "s", "na", "cl")
_COMPARE: Final = "Compare them with the printed report."


def _columns() -> Iterator[Rule]:
    cases: tuple[tuple[Cause, Test | partial[BoolArray], str], ...]
    for name in KINDS:
        if not is_rescaled(name) or KINDS[name].measure == "none":
            continue
        beside = f"{name}_ar"
        cases = (
            (
                Cause.COLUMNS,
                partial(_columns_swapped, name=name, beside=beside),
                "The two columns are probably swapped.",
            ),
            (
                Cause.COPIED,
                partial(_column_copied, name=name, beside=beside),
                "One column was probably copied into the other.",
            ),
            (
                Cause.OTHER_SAMPLE,
                partial(_columns_differ, name=name, beside=beside),
                "One is mistyped, or the dry matter is another sample's.",
            ),
        )
        for cause, broken, why in cases:
            yield Rule(
                "P03",
                "error",
                cause,
                (name, beside, "dm"),
                broken,
                "Report {report} gives " + word_of(name) + " as {" + beside + ":g} as received "
                "and {" + name + ":g} in the dry matter, which do not belong to {dm:g}% dry "
                "matter.",
                why,
                "Compare both columns with the printed report.",
                about=(name, beside),
            )


def _columns_apart(c: ReportColumns, name: str, beside: str) -> tuple[BoolArray, FloatArray]:
    dry, received = c[name], c[beside]
    tolerance = np.maximum(COLUMN_TOLERANCE, COLUMN_TOLERANCE_FRAC * dry)
    return np.abs(received - dry * c["dm"] / 100.0) > tolerance, received - dry


def _columns_swapped(c: ReportColumns, s: Screens, name: str, beside: str) -> BoolArray:
    apart, above = _columns_apart(c, name, beside)
    return apart & (above > COPY_TOLERANCE)


def _column_copied(c: ReportColumns, s: Screens, name: str, beside: str) -> BoolArray:
    apart, above = _columns_apart(c, name, beside)
    return apart & (np.abs(above) <= COPY_TOLERANCE)


def _columns_differ(c: ReportColumns, s: Screens, name: str, beside: str) -> BoolArray:
    apart, above = _columns_apart(c, name, beside)
    return apart & (above < -COPY_TOLERANCE)


def _fiber(c: ReportColumns, s: Screens, legume: bool, swapped: bool) -> BoolArray:
    """Mark ADF above NDF, where each fits the other's range (swapped) or does not (mistyped)."""
    pure = c.of(PURE_LEGUMES)
    above = c["adf"] > c["ndf"] + (FIBER_ROUNDING if legume else -FIBER_ROUNDING)
    adf, ndf = s.limits["adf"], s.limits["ndf"]
    fits = (
        (c["adf"] >= np.take(ndf.hard_low, c.forage))
        & (c["adf"] <= np.take(ndf.hard_high, c.forage))
        & (c["ndf"] >= np.take(adf.hard_low, c.forage))
        & (c["ndf"] <= np.take(adf.hard_high, c.forage))
    )
    marked: BoolArray = (pure if legume else ~pure) & above & (fits if swapped else ~fits)
    return marked


def _fiber_rules() -> Iterator[Rule]:
    causes = (
        (Cause.SWAPPED, True, "The two values are probably swapped."),
        (Cause.TYPING, False, "One of the two is probably mistyped."),
    )
    for cause, swapped, why in causes:
        for legume in (False, True):
            yield Rule(
                "P04",
                "warning" if legume else "error",
                cause,
                ("adf", "ndf"),
                partial(_fiber, legume=legume, swapped=swapped),
                "Report {report} gives {adf:.1f}% ADF and {ndf:.1f}% NDF in the dry matter, but "
                "ADF is a part of NDF.",
                why,
                "Compare both with the printed report."
                + ("" if legume else " Neither is used until then."),
                drops=() if legume else ("adf", "ndf"),
            )


def _part_of(
    rule: str,
    part: str,
    whole: str,
    tolerance: float = 0.0,
    cause: Cause = Cause.SHARE,
    level: Level = "error",
    why: str = "",
) -> Rule:
    """Return the rule that a part is not more than the whole it belongs to."""
    shares = {"ndfd": " of the fiber", "solu": " of the protein"}
    of, basis = shares.get(part[:4], ""), "" if part[:4] in shares else " in the dry matter"
    drops = (part,) if level == "error" else ()
    keep = " It is not used until then." if drops else ""
    return Rule(
        rule,
        level,
        cause,
        (part, whole),
        partial(_more_than, part=part, whole=whole, tolerance=tolerance),
        "Report {report} gives {" + part + ":.1f}%" + of + " as " + word_of(part) + " and only {"
        "" + whole + ":.1f}% as " + word_of(whole) + basis + ", of which it is a part.",
        why or f"It is probably printed as a share of {_WHOLE_OF.get(part, 'a part')}.",
        _COMPARE + keep,
        drops=drops,
        proposed=(part, partial(_as_share, part=part)) if cause is Cause.SHARE else None,
    )


def _as_share(c: ReportColumns, s: Screens, part: str) -> FloatArray:
    whole = _SHARE_OF[part]
    return c[part] * c[whole] / 100.0 if c.has(whole) else np.full(len(c), np.nan)


def _more_than(c: ReportColumns, s: Screens, part: str, whole: str, tolerance: float) -> BoolArray:
    return c[part] > c[whole] + tolerance


_WHOLE_OF: Final = {
    "lignin": "the fiber",
    "adicp": "the protein",
    "ndicp": "the protein",
    "undf240": "the fiber",
}
_SHARE_OF: Final = {"lignin": "ndf", "adicp": "cp", "ndicp": "cp", "undf240": "ndf"}
_LABELS_SWAPPED: Final = "The two values are probably swapped."
_OTHER_HOURS: Final = "The hours are mixed up, or the values come from different labs."


def _moisture(c: ReportColumns, s: Screens) -> BoolArray:
    return np.abs(c["dm"] + c["moisture"] - 100.0) > MOISTURE_SUM_TOLERANCE


def _lignin_undigested(c: ReportColumns, s: Screens) -> BoolArray:
    return c["undf240"] < c["lignin"] - LIGNIN_OVER_UNDIGESTED


def _undigested_share(c: ReportColumns, s: Screens) -> BoolArray:
    ndf = np.where(c["ndf"] > 0.0, c["ndf"], np.nan)
    digested = 100.0 * (1.0 - c["undf240"] / ndf)
    return (c["undf240"] <= ndf) & (digested < c["ndfd48"] - NDFD_TOLERANCE)


def _undigested_if_share(c: ReportColumns, s: Screens) -> FloatArray:
    return c["undf240"] * c["ndf"] / 100.0


def _sugars(c: ReportColumns, s: Screens) -> BoolArray:
    return c["starch"] + c["wsc"] > c["nfc"] + NSC_OVER_NFC


def _degradable(c: ReportColumns, s: Screens) -> BoolArray:
    return np.abs(c["rdp"] + c["rup"] - 100.0) > DEGRADABLE_SUM_TOLERANCE


def _little_gain_energy(c: ReportColumns, s: Screens) -> BoolArray:
    return c["neg"] <= LEAST_NEG_MCAL_PER_KG


def _not_below(c: ReportColumns, s: Screens, less: str, more: str) -> BoolArray:
    return c[less] >= c[more]


def _energy_order() -> Iterator[Rule]:
    for less, more in (("neg", "nem"), ("nem", "me"), ("me", "de")):
        yield Rule(
            "P15",
            "error",
            Cause.SWAPPED,
            (less, more),
            partial(_not_below, less=less, more=more),
            "Report {report} gives {" + less + ":.2f} Mcal/kg " + word_of(less) + " and {" + more
            + ":.2f} Mcal/kg " + word_of(more) + " in the dry matter; the first must be less.",
            "The two are probably swapped, or one is per pound.",
            _COMPARE,
        )  # fmt: skip


def _nitrogen_typed(c: ReportColumns, s: Screens) -> BoolArray:
    return np.abs(c["cp"] - c["n"]) <= NITROGEN_TYPED_TOLERANCE


def _nitrogen_apart(c: ReportColumns, s: Screens) -> BoolArray:
    apart = np.abs(c["cp"] - PROTEIN_PER_NITROGEN * c["n"]) > NITROGEN_TOLERANCE
    return apart & ~_nitrogen_typed(c, s)


def _protein_of_nitrogen(c: ReportColumns, s: Screens) -> FloatArray:
    return PROTEIN_PER_NITROGEN * c["n"]


def _nitrogen_rule(cause: Cause, broken: Test, why: str) -> Rule:
    return Rule(
        "P18",
        "error",
        cause,
        ("cp", "n"),
        broken,
        "Report {report} gives {cp:.1f}% protein and {n:.2f}% nitrogen in the dry matter, "
        "which makes {of_nitrogen:.1f}% protein.",
        why,
        "Compare both with the printed report.",
        told={"of_nitrogen": _protein_of_nitrogen},
        proposed=("cp", _protein_of_nitrogen),
    )


def _extremes() -> Iterator[Rule]:
    for name in KINDS:
        low, high = f"{name}_min", f"{name}_max"
        for less, more, words in (
            (low, high, f"a minimum of {{{low}:g}} and a maximum of {{{high}:g}}"),
            (low, name, f"a minimum of {{{low}:g}} and an average of {{{name}:g}}"),
            (name, high, f"an average of {{{name}:g}} and a maximum of {{{high}:g}}"),
        ):
            yield Rule(
                "P19",
                "error",
                Cause.SWAPPED,
                (less, more),
                partial(_more_than, part=less, whole=more, tolerance=0.0),
                "Report {report} gives " + word_of(name) + " with " + words + ".",
                "The columns are probably swapped.",
                _COMPARE,
            )  # fmt: skip


def _minerals(c: ReportColumns, s: Screens) -> BoolArray:
    total = sum(c[name] for name in _MINERALS)
    for name in _MORE_MINERALS:
        if c.has(name):
            total = total + np.where(np.isnan(c[name]), 0.0, c[name])
    return np.asarray(total > c["ash"] + MINERALS_OVER_ASH)


STRUCTURE_RULES: Final[tuple[Rule, ...]] = (
    Rule(
        "P02",
        "error",
        Cause.TYPING,
        ("dm", "moisture"),
        _moisture,
        "Report {report} gives {moisture:g}% moisture and {dm:g}% dry matter, together "
        "{together:g}% instead of 100%.",
        "One of the two is probably mistyped.",
        "Compare both with the printed report.",
        told={"together": lambda c, s: c["dm"] + c["moisture"]},
    ),
    *_columns(),
    *_fiber_rules(),
    _part_of("P05", "lignin", "adf"),
    _part_of("P05", "lignin", "ndf"),
    _part_of("P06", "adicp", "cp"),
    _part_of("P06", "ndicp", "cp"),
    _part_of("P06", "adicp", "ndicp", BOUND_TOLERANCE),
    _part_of("P07", "adicp", "adf"),
    _part_of("P07", "ndicp", "ndf"),
    _part_of("P08", "ndfom", "ndf", ASH_FREE_TOLERANCE, Cause.SWAPPED, "warning", _LABELS_SWAPPED),
    *(
        _part_of("P09", short, long, NDFD_TOLERANCE, Cause.METHOD, "warning", _OTHER_HOURS)
        for short, long in (
            ("ndfd24", "ndfd30"),
            ("ndfd30", "ndfd48"),
            ("ndfd24", "ndfd48"),
            ("ndfd48", "ndfd240"),
        )
    ),
    _part_of("P10", "undf240", "ndf"),
    Rule(
        "P10",
        "warning",
        Cause.SHARE,
        ("undf240", "ndf", "ndfd48"),
        _undigested_share,
        "Report {report} gives {undf240:.1f}% fiber undigested after 240 hours of {ndf:.1f}% "
        "NDF in the dry matter, although {ndfd48:.0f}% of the fiber is digested in 48 hours.",
        "The undigested fiber is probably printed as a share of the fiber.",
        _COMPARE,
        about=("undf240",),
        proposed=("undf240", _undigested_if_share),
    ),
    Rule(
        "P10",
        "warning",
        Cause.METHOD,
        ("undf240", "lignin"),
        _lignin_undigested,
        "Report {report} gives {undf240:.1f}% fiber undigested after 240 hours, less than its "
        "{lignin:.1f}% lignin in the dry matter.",
        "Lignin is never digested: one of the two is of another method, or mistyped.",
        _COMPARE,
    ),
    _part_of("P11", "esc", "wsc", SUGAR_TOLERANCE, Cause.SWAPPED, "warning", _LABELS_SWAPPED),
    Rule(
        "P11",
        "warning",
        Cause.METHOD,
        ("starch", "wsc", "nfc"),
        _sugars,
        "Report {report} gives {starch:.1f}% starch and {wsc:.1f}% water-soluble carbohydrate, "
        "together more than its {nfc:.1f}% non-fiber carbohydrate in the dry matter.",
        "The labels are probably mixed up, or one value is mistyped.",
        _COMPARE,
    ),
    Rule(
        "P13",
        "warning",
        Cause.TYPING,
        ("rdp", "rup"),
        _degradable,
        "Report {report} gives {rdp:.0f}% degradable and {rup:.0f}% undegradable protein, "
        "which do not add up to 100% of the protein.",
        "One is probably a share of the dry matter, or mistyped.",
        _COMPARE,
    ),
    _part_of(
        "P13",
        "soluble_cp",
        "rdp",
        SOLUBLE_OVER_DEGRADABLE,
        Cause.METHOD,
        "warning",
        "Soluble protein is degraded too: one of the two is a share of something else.",
    ),
    _part_of("P14", "tfa", "ee", FATTY_ACID_TOLERANCE, Cause.SWAPPED, "warning", _LABELS_SWAPPED),
    *_energy_order(),
    Rule(
        "P15",
        "error",
        Cause.TYPING,
        ("neg",),
        _little_gain_energy,
        "Report {report} gives {neg:.2f} Mcal/kg net energy for gain, less than any forage has.",
        "The value is probably mistyped.",
        _COMPARE,
    ),
    _nitrogen_rule(
        Cause.NITROGEN, _nitrogen_typed, "Nitrogen was probably entered in place of protein."
    ),
    _nitrogen_rule(Cause.TYPING, _nitrogen_apart, "One of the two is probably mistyped."),
    *_extremes(),
    Rule(
        "P20",
        "warning",
        Cause.UNIT,
        (*_MINERALS, "ash"),
        _minerals,
        "The minerals of report {report} add up to more than its {ash:.1f}% ash in the dry matter.",
        "A mineral is probably in another unit, or the ash is as received.",
        _COMPARE,
        about=(*_MINERALS, *_MORE_MINERALS, "ash"),
        yields=True,
    ),
)
