"""Rules P12, P16 and P17: values that must follow from one another.

The component sum, the relative feed value and the carbohydrate by difference are computed again
from their parts. Limits are judgement, no published source.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np

from rickyard.farm import Forage
from rickyard.forage.energy import (
    DDM_INTERCEPT_PCT,
    DDM_PER_ADF,
    FULL_BLOOM_ALFALFA,
    NDF_FILL_PCT_BW,
    NDICP_PER_NDF,
)
from rickyard.forage.plausibility.rules import Cause, Rule, Test, Values
from rickyard.forage.values import DRIED_SAMPLE_ABOVE_DM_PCT, ReportColumns, Screens
from rickyard.types import BoolArray, FloatArray

# Tolerances: judgement, no published source. [points of dry matter; index for RFV]
RFV_TOLERANCE: Final = 5.0
NFC_TOLERANCE: Final = 3.0
SUM_TOLERANCE: Final = 1.0
SUM_CLEARLY_OFF: Final = 3.0
SUM_IS_DM_TOLERANCE: Final = 2.0
LEAST_REMAINDER: Final = -2.0
USUAL_REMAINDER_FROM: Final = 5.0
USUAL_REMAINDER_TO_HAY: Final = 45.0
USUAL_REMAINDER_TO_SILAGE: Final = 60.0

_PARTS: Final = ("cp", "ndf", "ee", "ash")
_COMPARE: Final = "Compare them with the printed report."


def remainder_pct(c: ReportColumns) -> FloatArray:
    """Return what protein, fiber free of protein, fat and ash leave of the dry matter.

    Parameters
    ----------
    c : ReportColumns
        Columns with protein, fiber, fat and ash; bound protein is 7 % of the fiber where it is
        not given. [% DM]

    Returns
    -------
    array
        The remainder, which is non-fiber carbohydrate. [% DM]

    Examples
    --------
    >>> from rickyard.forage.values.columns import plain_columns
    >>> parts = {"cp": 6.4, "ndf": 71.9, "ee": 1.9, "ash": 3.43, "ndicp": 2.1}
    >>> columns = {name: np.array([value]) for name, value in parts.items()}
    >>> remainder_pct(plain_columns(Forage.COOL_GRASS, columns)).round(2)
    array([18.47])
    """
    return _remainder_without(c) + _ndicp(c)


def rfv_of(adf: FloatArray, ndf: FloatArray) -> FloatArray:
    """Return the relative feed value, NaN where fiber is not positive.

    Unlike ``relative_feed_value`` it does not refuse a whole district for one impossible row.

    Examples
    --------
    >>> rfv_of(np.array([41.0, 41.0]), np.array([53.0, 0.0])).round(1)
    array([100.,  nan])
    """
    intake = NDF_FILL_PCT_BW / np.where(ndf > 0.0, ndf, np.nan)
    return (DDM_INTERCEPT_PCT - DDM_PER_ADF * adf) * intake / FULL_BLOOM_ALFALFA


def _remainder_without(c: ReportColumns) -> FloatArray:
    return 100.0 - c["cp"] - c["ndf"] - c["ee"] - c["ash"]


def _ndicp(c: ReportColumns) -> FloatArray:
    usual = NDICP_PER_NDF * c["ndf"]
    return np.where(np.isnan(c["ndicp"]), usual, c["ndicp"]) if c.has("ndicp") else usual


def _roomy(c: ReportColumns) -> BoolArray:
    return c.wet | c.of({Forage.SMALL_GRAIN, Forage.CORN_SILAGE})


def _too_much(c: ReportColumns, s: Screens) -> BoolArray:
    return remainder_pct(c) < LEAST_REMAINDER


def _little_left(c: ReportColumns, s: Screens) -> BoolArray:
    left = remainder_pct(c)
    straw = c.of({Forage.STRAW})
    return (left >= LEAST_REMAINDER) & (left < USUAL_REMAINDER_FROM) & ~straw


def _much_left(c: ReportColumns, s: Screens) -> BoolArray:
    most = np.where(_roomy(c), USUAL_REMAINDER_TO_SILAGE, USUAL_REMAINDER_TO_HAY)
    return remainder_pct(c) > most


def _total(c: ReportColumns) -> FloatArray:
    # 100 where the lab adds fiber-bound protein back to the carbohydrate; by the older
    # convention it lacks that protein.
    return 100.0 - remainder_pct(c) + c["nfc"]


def _sum_is_dry_matter(c: ReportColumns, s: Screens) -> BoolArray:
    """Mark sums that by either convention of carbohydrate are the dry matter, not 100."""
    whole = _total(c)
    older = whole + _ndicp(c)
    clearly = np.minimum(np.abs(whole - 100.0), np.abs(older - 100.0)) > SUM_CLEARLY_OFF
    nearest = np.minimum(np.abs(whole - c["dm"]), np.abs(older - c["dm"]))
    marked: BoolArray = clearly & (nearest <= SUM_IS_DM_TOLERANCE)
    return marked


def _sum_off(c: ReportColumns, s: Screens) -> BoolArray:
    off = np.abs(_total(c) - 100.0)
    return (off > SUM_TOLERANCE) & (off <= SUM_CLEARLY_OFF) & ~_nfc_without(c)


def _nfc_without(c: ReportColumns) -> BoolArray:
    return np.abs(c["nfc"] - _remainder_without(c)) <= SUM_TOLERANCE


def _nfc_off(c: ReportColumns, s: Screens) -> BoolArray:
    without = _remainder_without(c)
    off = np.minimum(np.abs(c["nfc"] - without), np.abs(c["nfc"] - without - _ndicp(c)))
    broken = off > NFC_TOLERANCE
    return broken & ~_sum_is_dry_matter(c, s) if c.has("dm") else broken


def _rfv_off(c: ReportColumns) -> BoolArray:
    return np.abs(rfv_of(c["adf"], c["ndf"]) - c["rfv"]) > RFV_TOLERANCE


def _rfv_as_received(c: ReportColumns, s: Screens) -> BoolArray:
    dry = np.where((c["dm"] > 0.0) & (c["dm"] <= DRIED_SAMPLE_ABOVE_DM_PCT), c["dm"], np.nan)
    of_dry = rfv_of(100.0 * c["adf"] / dry, 100.0 * c["ndf"] / dry)
    return _rfv_off(c) & (np.abs(of_dry - c["rfv"]) <= RFV_TOLERANCE)


def _rfv_swapped(c: ReportColumns, s: Screens) -> BoolArray:
    swapped = rfv_of(c["ndf"], c["adf"])
    return _rfv_off(c) & (np.abs(swapped - c["rfv"]) <= RFV_TOLERANCE)


def _rfv_other(c: ReportColumns, s: Screens) -> BoolArray:
    explained = _rfv_swapped(c, s)
    if c.has("dm"):
        explained |= _rfv_as_received(c, s)
    return _rfv_off(c) & ~explained


def _rfv_rule(cause: Cause, needs: tuple[str, ...], broken: Test, why: str) -> Rule:
    return Rule(
        "P16",
        "warning",
        cause,
        needs,
        broken,
        "Report {report} prints relative feed value {rfv:g}, but its ADF and NDF give "
        "{rfv_computed:.0f}.",
        why,
        "Compare the three with the printed report, and rank hay by the computed value.",
        about=("rfv", "adf", "ndf"),
        told={"rfv_computed": lambda c, s: rfv_of(c["adf"], c["ndf"])},
        yields=True,
    )


_LEFT: Final[Mapping[str, Values]] = {
    "left": lambda c, s: remainder_pct(c),
    "sum": lambda c, s: 100.0 - remainder_pct(c),
}

SUM_RULES: Final[tuple[Rule, ...]] = (
    Rule(
        "P12",
        "error",
        Cause.BASIS,
        (*_PARTS, "nfc", "dm"),
        _sum_is_dry_matter,
        "Protein, fiber, fat, ash and carbohydrate of report {report} add up to {total:.0f}% "
        "instead of 100%, which is its dry matter of {dm:g}%.",
        "The values are probably as received, not in the dry matter.",
        "Look at the column heading, and enter them on the basis that the lab gives.",
        about=(*_PARTS, "nfc"),
        drops=("ash", "lignin"),
        told={"total": lambda c, s: _total(c)},
    ),
    Rule(
        "P12",
        "error",
        Cause.BASIS,
        _PARTS,
        _too_much,
        "Protein, fiber, fat and ash of report {report} add up to {sum:.0f}% of the dry matter.",
        "As-received and dry-matter values are probably mixed, or ADF and NDF mistyped.",
        "Compare them with the printed report; TDN is not summed from them until then.",
        drops=("ash", "lignin"),
        told=_LEFT,
        yields=True,
    ),
    Rule(
        "P12",
        "warning",
        Cause.SOIL,
        _PARTS,
        _little_left,
        "Protein, fiber, fat and ash of report {report} leave only {left:.0f}% of the dry matter "
        "for carbohydrate.",
        "Only straw, very dirty or very fibrous forage reaches this.",
        "Compare them with the printed report.",
        told=_LEFT,
        yields=True,
    ),
    Rule(
        "P12",
        "warning",
        Cause.BASIS,
        _PARTS,
        _much_left,
        "Protein, fiber, fat and ash of report {report} leave {left:.0f}% of the dry matter, "
        "more than such forage has in carbohydrate.",
        "The values are probably as received, or the fiber is mistyped.",
        "Compare them with the printed report, and look whether they are as received.",
        told=_LEFT,
        yields=True,
    ),
    Rule(
        "P12",
        "warning",
        Cause.METHOD,
        (*_PARTS, "nfc", "ndicp"),
        _sum_off,
        "Protein, fiber, fat, ash and carbohydrate of report {report} add up to {total:.1f}% "
        "instead of 100%.",
        "One was computed from other values, or is mistyped.",
        _COMPARE,
        about=("nfc",),
        told={"total": lambda c, s: _total(c)},
        yields=True,
    ),
    _rfv_rule(
        Cause.BASIS,
        ("rfv", "adf", "ndf", "dm"),
        _rfv_as_received,
        "It fits if ADF and NDF are as received: they are probably not in the dry matter.",
    ),
    _rfv_rule(
        Cause.SWAPPED,
        ("rfv", "adf", "ndf"),
        _rfv_swapped,
        "It fits if ADF and NDF are swapped: they probably are.",
    ),
    _rfv_rule(
        Cause.METHOD,
        ("rfv", "adf", "ndf"),
        _rfv_other,
        "It was computed from other values, or one of the three is mistyped.",
    ),
    Rule(
        "P17",
        "warning",
        Cause.METHOD,
        ("nfc", *_PARTS),
        _nfc_off,
        "Report {report} prints {nfc:.1f}% non-fiber carbohydrate, but its parts leave "
        "{left:.1f}% of the dry matter.",
        "It was computed from other values or another convention, or a part is mistyped.",
        _COMPARE,
        about=("nfc",),
        told=_LEFT,
        yields=True,
    ),
)
