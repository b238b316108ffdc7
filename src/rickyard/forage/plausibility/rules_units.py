"""Detectors U01-U10: a value that fits far better in another unit, basis or form.

A detector proposes a reading in its sentence and never applies it: only the laboratory's paper
can say. The limits are judgement, no published source.
"""

from __future__ import annotations

from functools import partial
from typing import Final

import numpy as np

from rickyard.forage.energy import DE_PER_TDN_PCT, ME_PER_DE, nem_from_me
from rickyard.forage.plausibility.rules import Cause, Rule, Test
from rickyard.forage.plausibility.rules_structure import PER_KG_IN_PCT
from rickyard.forage.values import (
    CLEMSON_CLASSES,
    DRIED_SAMPLE_ABOVE_DM_PCT,
    FRACTION_UP_TO,
    NO3_PER_NO3N,
    PPM_PER_PCT,
    PROTEIN_PER_NITROGEN,
    Limits,
    ReportColumns,
    Screens,
    word_of,
)
from rickyard.quantities import KG_PER_LB
from rickyard.types import BoolArray, FloatArray

# Limits: judgement, no published source.
NITROGEN_BELOW_PCT: Final = 4.6
MAJOR_MINERAL_ABOVE_PCT: Final = 10.0
TRACE_BELOW_PPM: Final = 0.1
BOUND_SHARE_SUSPECT_FRAC: Final = 0.35
BOUND_SUSPECT_FROM_PCT: Final = 2.0
BOUND_SUSPECT_TO_PCT: Final = 35.0
DIGESTED_SUSPECT_BELOW_PCT: Final = 30.0
DIGESTED_SUSPECT_OF_NDF_FRAC: Final = (0.3, 0.7)
NET_ENERGY_FACTOR: Final = 1.25
LIGNIN_SHARE_SUSPECT_FRAC: Final = 0.5
LIGNIN_SUSPECT_TO_PCT: Final = 25.0
WET_HAY_BELOW_DM_PCT: Final = 50.0
DRY_SILAGE_ABOVE_DM_PCT: Final = 75.0
#: Two forms of nitrate on one report agree this well; judgement, twice the usual spread.
NITRATE_FORMS_TOLERANCE_FRAC: Final = 0.05
#: Above the last limit of the Clemson table, forage is rare and another form of nitrate common.
NITRATE_FORM_ASKED_ABOVE_PPM: Final = CLEMSON_CLASSES[-2][0]

MAJOR_MINERALS: Final = ("ca", "p", "k", "mg", "s", "na", "cl")
TRACE_MINERALS: Final = ("fe", "mn", "zn", "cu")
#: What the class table screens as a percentage, less the minerals.
COMPOSITION: Final = ("cp", "adf", "ndf", "lignin", "ash", "ee")
_ASK: Final = "Ask the lab, and enter it again; the program does not change it."


def limits_of(c: ReportColumns, s: Screens, quantity: str) -> Limits:
    """Return the limits that hold for each row; NaN where none does.

    Examples
    --------
    >>> from rickyard.forage.values import columns, screens
    >>> report = columns.plain_columns(columns.Forage.ALFALFA, {"cp": np.array([18.0])})
    >>> limits_of(report, screens.shipped_screens(), "cp").hard_high.tolist()
    [33.0]
    """
    limits = s.limits[quantity]
    return Limits(
        np.take(limits.low, c.forage),
        np.take(limits.high, c.forage),
        np.take(limits.hard_low, c.forage),
        np.take(limits.hard_high, c.forage),
    )


def would_fit_as_g_per_kg(c: ReportColumns, s: Screens, name: str) -> BoolArray:
    """Mark values beyond what is possible that are usual as a tenth of themselves.

    Examples
    --------
    >>> from rickyard.forage.values import columns, screens
    >>> reports = columns.plain_columns(columns.Forage.ALFALFA, {"cp": np.array([18.0, 180.0])})
    >>> would_fit_as_g_per_kg(reports, screens.shipped_screens(), "cp").tolist()
    [False, True]
    """
    limits = limits_of(c, s, name)
    tenth = c[name] / PER_KG_IN_PCT
    usual = (tenth >= limits.low) & (tenth <= limits.high)
    beyond = c[name] > limits.hard_high
    if name in MAJOR_MINERALS:
        beyond = beyond & (c[name] <= MAJOR_MINERAL_ABOVE_PCT)
    return beyond & usual


def _tenth(c: ReportColumns, s: Screens, name: str) -> FloatArray:
    return c[name] / PER_KG_IN_PCT


def _per_kg_rule(name: str) -> Rule:
    return Rule(
        "U02",
        "error",
        Cause.UNIT,
        (name,),
        partial(would_fit_as_g_per_kg, name=name),
        "Report {report} gives {" + name + ":g}% " + word_of(name) + " in the dry matter, far "
        "more than {forage} can hold.",
        "In g/kg it would be {proposed:.2f}%, which is usual.",
        _ASK,
        proposed=(name, partial(_tenth, name=name)),
        yields=True,
    )


def _nitrogen(c: ReportColumns, s: Screens) -> BoolArray:
    limits = limits_of(c, s, "cp")
    protein = PROTEIN_PER_NITROGEN * c["cp"]
    low = (c["cp"] < NITROGEN_BELOW_PCT) & (c["cp"] < limits.low)
    return low & (protein >= limits.low) & (protein <= limits.high)


def _mineral(c: ReportColumns, s: Screens, name: str) -> BoolArray:
    return c[name] > MAJOR_MINERAL_ABOVE_PCT


def _mineral_read(c: ReportColumns, s: Screens, name: str) -> FloatArray:
    limits = limits_of(c, s, name)
    in_pct = c[name] / PPM_PER_PCT
    fits = (in_pct >= limits.low) & (in_pct <= limits.high)
    return np.where(fits, in_pct, c[name] / PER_KG_IN_PCT)


def _mineral_rule(name: str) -> Rule:
    return Rule(
        "U02",
        "error",
        Cause.UNIT,
        (name,),
        partial(_mineral, name=name),
        "Report {report} gives {" + name + ":g}% " + word_of(name) + " in the dry matter, more "
        "than any forage holds.",
        "In ppm or g/kg it would be {proposed:.2f}%.",
        _ASK,
        drops=(name,),
        proposed=(name, partial(_mineral_read, name=name)),
    )


def _trace(c: ReportColumns, s: Screens, name: str) -> BoolArray:
    return (c[name] < TRACE_BELOW_PPM) & (c[name] > 0.0)


def _trace_read(c: ReportColumns, s: Screens, name: str) -> FloatArray:
    return c[name] * PPM_PER_PCT


def _trace_rule(name: str) -> Rule:
    return Rule(
        "U03",
        "error",
        Cause.UNIT,
        (name,),
        partial(_trace, name=name),
        "Report {report} gives {" + name + ":g} ppm " + word_of(name) + " in the dry matter, less "
        "than any forage holds.",
        "In percent it would be {proposed:.0f} ppm.",
        _ASK,
        drops=(name,),
        proposed=(name, partial(_trace_read, name=name)),
    )


def _bound(c: ReportColumns, s: Screens) -> BoolArray:
    suspect = (c["adicp"] >= BOUND_SUSPECT_FROM_PCT) & (c["adicp"] <= BOUND_SUSPECT_TO_PCT)
    return suspect & (c["adicp"] > BOUND_SHARE_SUSPECT_FRAC * c["cp"])


def _bound_read(c: ReportColumns, s: Screens) -> FloatArray:
    return c["adicp"] * c["cp"] / 100.0


def _digested(c: ReportColumns, s: Screens, name: str) -> BoolArray:
    low, high = DIGESTED_SUSPECT_OF_NDF_FRAC
    part = (c[name] >= low * c["ndf"]) & (c[name] <= high * c["ndf"])
    return part & (c[name] < DIGESTED_SUSPECT_BELOW_PCT)


def _digested_read(c: ReportColumns, s: Screens, name: str) -> FloatArray:
    return 100.0 * c[name] / np.where(c["ndf"] > 0.0, c["ndf"], np.nan)


def _digested_rule(name: str) -> Rule:
    return Rule(
        "U05",
        "warning",
        Cause.SHARE,
        (name, "ndf"),
        partial(_digested, name=name),
        "Report {report} gives {" + name + ":.0f}% of the fiber as " + word_of(name) + ", less "
        "than forages have.",
        "It may be a share of the dry matter: then it is {proposed:.0f}% of the fiber.",
        _ASK,
        about=(name,),
        proposed=(name, partial(_digested_read, name=name)),
    )


def _nem_by_tdn(c: ReportColumns) -> FloatArray:
    nem = nem_from_me(ME_PER_DE * DE_PER_TDN_PCT * np.maximum(c["tdn"], 0.0))
    return np.where(nem > 0.0, nem, np.nan)


def _near(ratio: FloatArray) -> BoolArray:
    return (ratio <= NET_ENERGY_FACTOR) & (ratio * NET_ENERGY_FACTOR >= 1.0)


def _net_energy(c: ReportColumns, s: Screens) -> BoolArray:
    ratio = c["nem"] / _nem_by_tdn(c)
    return ~_near(ratio) & (_near(ratio / KG_PER_LB) | _near(ratio * KG_PER_LB))


def _net_energy_read(c: ReportColumns, s: Screens) -> FloatArray:
    per_pound = _near(c["nem"] / _nem_by_tdn(c) / KG_PER_LB)
    return np.where(per_pound, c["nem"] / KG_PER_LB, c["nem"] * KG_PER_LB)


def _unitless(c: ReportColumns, s: Screens) -> BoolArray:
    return ~np.isnan(c["nem_unitless"])


def _unitless_read(c: ReportColumns, s: Screens) -> FloatArray:
    per_kg = c["nem_unitless"] / _nem_by_tdn(c)
    per_lb = per_kg / KG_PER_LB
    closer = np.where(
        np.abs(np.log(per_kg)) < np.abs(np.log(per_lb)),
        c["nem_unitless"],
        c["nem_unitless"] / KG_PER_LB,
    )
    return np.where(_near(per_kg) | _near(per_lb), closer, np.nan)


def _unitless_unclear(c: ReportColumns, s: Screens) -> BoolArray:
    return _unitless(c, s) & np.isnan(_unitless_read(c, s))


def _unitless_clear(c: ReportColumns, s: Screens) -> BoolArray:
    return ~np.isnan(_unitless_read(c, s))


def _lignin(c: ReportColumns, s: Screens) -> BoolArray:
    share = c["lignin"] > LIGNIN_SHARE_SUSPECT_FRAC * c["adf"]
    return share & (c["lignin"] <= LIGNIN_SUSPECT_TO_PCT)


def _lignin_read(c: ReportColumns, s: Screens) -> FloatArray:
    return c["lignin"] * c["ndf"] / 100.0


def _dry_hay_between(c: ReportColumns, s: Screens, least: float, less_than: float) -> BoolArray:
    return ~c.wet & (c["dm"] >= least) & (c["dm"] < less_than)


def _silage_is_dry(c: ReportColumns, s: Screens) -> BoolArray:
    return c.wet & (c["dm"] > DRY_SILAGE_ABOVE_DM_PCT)


def _dried(c: ReportColumns, s: Screens) -> BoolArray:
    return c["dm"] > DRIED_SAMPLE_ABOVE_DM_PCT


def _from_whole(c: ReportColumns, s: Screens) -> FloatArray:
    return 100.0 - c["dm"]


def _wet_rule(cause: Cause, broken: Test, why: str) -> Rule:
    return Rule(
        "U08",
        "error",
        cause,
        ("dm",),
        broken,
        "Report {report} gives {dm:g}% dry matter for dry hay.",
        why,
        "Correct the report or the package of the lot; this dry matter is not used for hay.",
        proposed=("dm", _from_whole) if cause is Cause.SWAPPED else None,
    )


def _forms_differ(c: ReportColumns, s: Screens) -> BoolArray:
    by_nitrogen = NO3_PER_NO3N * c["nitrate_no3n"]
    return np.abs(c["nitrate_no3"] - by_nitrogen) > NITRATE_FORMS_TOLERANCE_FRAC * by_nitrogen


def _much_nitrate(c: ReportColumns, s: Screens) -> BoolArray:
    return c["nitrate_no3n"] > NITRATE_FORM_ASKED_ABOVE_PPM


def _if_no3(c: ReportColumns, s: Screens) -> FloatArray:
    return c["nitrate_no3n"] / NO3_PER_NO3N


# Dry matter that mirrored would be that of dry hay; a fraction of one has its own rule.
_MIRROR: Final = 100.0 - DRY_SILAGE_ABOVE_DM_PCT
_DM_IS_MOISTURE: Final = partial(
    _dry_hay_between, least=np.nextafter(FRACTION_UP_TO, np.inf), less_than=_MIRROR
)
_HAY_IS_WET: Final = partial(_dry_hay_between, least=_MIRROR, less_than=WET_HAY_BELOW_DM_PCT)
_SWAPPED_WHY: Final = "Moisture and dry matter are probably swapped."
_WET_WHY: Final = "The lot is probably baleage, or the two are mistyped."

UNIT_RULES: Final[tuple[Rule, ...]] = (
    Rule(
        "U01",
        "warning",
        Cause.NITROGEN,
        ("cp",),
        _nitrogen,
        "Report {report} gives {cp:.1f}% protein in the dry matter, less than {forage} has.",
        "If it is nitrogen, the protein is {proposed:.1f}%.",
        _ASK,
        proposed=("cp", lambda c, s: PROTEIN_PER_NITROGEN * c["cp"]),
    ),
    *(_mineral_rule(name) for name in MAJOR_MINERALS),
    *(_per_kg_rule(name) for name in (*COMPOSITION, "ca", "p", "k", "mg")),
    *(_trace_rule(name) for name in TRACE_MINERALS),
    Rule(
        "U04",
        "warning",
        Cause.SHARE,
        ("adicp", "cp"),
        _bound,
        "Report {report} gives {adicp:.1f}% bound protein (ADICP) of {cp:.1f}% protein in the "
        "dry matter, more than a third.",
        "Either the hay is badly heated, or the bound protein is a share of the protein: then it "
        "is {proposed:.1f}% of the dry matter.",
        "Ask the lab; until then it is counted as printed, which lowers the protein.",
        about=("adicp",),
        proposed=("adicp", _bound_read),
        yields=True,
    ),
    *(_digested_rule(name) for name in ("ndfd30", "ndfd48")),
    Rule(
        "U06",
        "warning",
        Cause.UNIT,
        ("nem", "tdn"),
        _net_energy,
        "Report {report} gives {nem:.2f} Mcal/kg net energy for maintenance, where its {tdn:.1f}% "
        "TDN makes {by_tdn:.2f} Mcal/kg in the dry matter.",
        "Pounds and kilograms are probably mixed up: in the other unit it is {proposed:.2f} "
        "Mcal/kg.",
        _ASK,
        told={"by_tdn": lambda c, s: _nem_by_tdn(c)},
        proposed=("nem", _net_energy_read),
    ),
    Rule(
        "U06",
        "warning",
        Cause.UNIT,
        ("nem_unitless", "tdn"),
        _unitless_clear,
        "Report {report} gives {nem_unitless:g} net energy for maintenance without a unit.",
        "By its {tdn:.1f}% TDN it is probably {proposed:.2f} Mcal/kg of dry matter.",
        "Ask the lab whether it is per pound or per kilogram; it is not used until then.",
        proposed=("nem", _unitless_read),
    ),
    Rule(
        "U06",
        "warning",
        Cause.UNIT,
        ("nem_unitless", "tdn"),
        _unitless_unclear,
        "Report {report} gives {nem_unitless:g} net energy for maintenance without a unit.",
        "It fits its {tdn:.1f}% TDN neither per pound nor per kilogram.",
        "Ask the lab for the unit; it is not used until then.",
    ),
    Rule(
        "U07",
        "warning",
        Cause.SHARE,
        ("lignin", "adf", "ndf"),
        _lignin,
        "Report {report} gives {lignin:.1f}% lignin of {adf:.1f}% ADF in the dry matter, more "
        "than half.",
        "It is probably a share of the fiber: then it is {proposed:.1f}% of the dry matter.",
        _ASK,
        about=("lignin",),
        proposed=("lignin", _lignin_read),
    ),
    _wet_rule(Cause.SWAPPED, _DM_IS_MOISTURE, _SWAPPED_WHY),
    _wet_rule(Cause.PACKAGE, _HAY_IS_WET, _WET_WHY),
    Rule(
        "U08",
        "warning",
        Cause.SWAPPED,
        ("dm",),
        _silage_is_dry,
        "Report {report} gives {dm:g}% dry matter for baleage or silage.",
        "Moisture and dry matter are probably swapped, or the lot is dry hay.",
        "Correct the report or the package of the lot.",
        proposed=("dm", _from_whole),
    ),
    Rule(
        "U09",
        "note",
        Cause.MISSING_DM,
        ("dm",),
        _dried,
        "Report {report} gives {dm:g}% dry matter, drier than hay keeps.",
        "The lab gave only values of dry matter.",
        "State the dry matter of the lot; this one is not used for its weight.",
    ),
    Rule(
        "U09",
        "warning",
        Cause.MISSING_DM,
        ("dm_missing",),
        lambda c, s: c["dm_missing"] > 0.0,
        "Report {report} gives values as received and no dry matter.",
        "The dry matter or the moisture was probably left out.",
        "Look for it on the printed report; without it they are restated with a guess or not used.",
    ),
    Rule(
        "U10",
        "warning",
        Cause.FORM,
        ("nitrate",),
        lambda c, s: c["nitrate"] >= 0.0,
        "Report {report} gives nitrate as {nitrate:,.0f} ppm in the dry matter without its form.",
        "It may be NO3-N, NO3 or KNO3, which differ up to sevenfold in what they mean.",
        "Ask the lab for the form; until it is known, feed this lot to no pregnant stock, and to "
        "other stock only on the advice of the extension office or a veterinarian.",
    ),
    Rule(
        "U10",
        "error",
        Cause.FORM,
        ("nitrate_no3n", "nitrate_no3"),
        _forms_differ,
        "Report {report} gives {nitrate_no3n:,.0f} ppm NO3-N and {nitrate_no3:,.0f} ppm NO3 in "
        "the dry matter, which are not the same nitrate.",
        "One of the two is probably under the wrong form.",
        "Ask the lab; until then count the higher of the two, and feed it to no pregnant stock.",
    ),
    Rule(
        "U10",
        "warning",
        Cause.FORM,
        ("nitrate_no3n",),
        _much_nitrate,
        "Report {report} gives {nitrate_no3n:,.0f} ppm nitrate as NO3-N in the dry matter, which "
        "few forages reach.",
        "If the lab meant NO3, it is {proposed:,.0f} ppm NO3-N.",
        "Ask the lab for the form; until then it counts as printed, and is not to be fed.",
        proposed=("nitrate_no3n", _if_no3),
    ),
)  # fmt: skip
