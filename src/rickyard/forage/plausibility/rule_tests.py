"""What rules of the table test that is more than a sum or a comparison, and what they tell.

All work on columns of many reports at once, with the arguments that stand in the table. A test
marks the rows that break a rule; a value that is not given is NaN, compares false with
everything, and so breaks no rule. Limits are judgement, no published source, and percentage
points of dry matter unless named otherwise.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.farm import Forage
from rickyard.forage.energy import (
    DDM_INTERCEPT_PCT,
    DDM_PER_ADF,
    DE_PER_TDN_PCT,
    FULL_BLOOM_ALFALFA,
    ME_PER_DE,
    NDF_FILL_PCT_BW,
    NDICP_PER_NDF,
    nem_from_me,
)
from rickyard.forage.values import (
    CLEMSON,
    DRIED_SAMPLE_ABOVE_DM_PCT,
    FORAGE_CODE,
    FRACTION_UP_TO,
    NO3_PER_NO3N,
    PPM_PER_PCT,
    PROTEIN_PER_NITROGEN,
    Limits,
    ReportColumns,
    Screens,
    screened_values,
)
from rickyard.quantities import KG_PER_LB, positive
from rickyard.types import BoolArray, FloatArray

# Limits of single rules and what covers rounding; judgement, no published source.
RFV_TOLERANCE: Final = 5.0
COLUMN_TOLERANCE: Final = 0.06
COLUMN_TOLERANCE_FRAC: Final = 0.015
COPY_TOLERANCE: Final = 0.005  # half of the last printed decimal
FIBER_ROUNDING: Final = 0.5
MINERALS_OVER_ASH: Final = 1.0
SUM_TOLERANCE: Final = 1.0
SUM_CLEARLY_OFF: Final = 3.0
SUM_IS_DM_TOLERANCE: Final = 2.0
NFC_TOLERANCE: Final = 3.0
LEAST_REMAINDER: Final = -2.0
USUAL_REMAINDER_FROM: Final = 5.0
USUAL_REMAINDER_TO_HAY: Final = 45.0
USUAL_REMAINDER_TO_SILAGE: Final = 60.0
NITROGEN_BELOW_PCT: Final = 4.6
MAJOR_MINERAL_ABOVE_PCT: Final = 10.0
NET_ENERGY_FACTOR: Final = 1.25
WET_HAY_BELOW_DM_PCT: Final = 50.0
DRY_SILAGE_ABOVE_DM_PCT: Final = 75.0
#: Two forms of nitrate on one report agree this well; judgement, twice the usual spread.
NITRATE_FORMS_TOLERANCE_FRAC: Final = 0.05
#: Above the last limit of the Clemson table, forage is rare and another form of nitrate common.
NITRATE_FORM_ASKED_ABOVE_PPM: Final = CLEMSON.limits[-1]
#: ADF to NDF between these is that of some forage, so that another forage is the likely cause;
#: the outer limits of the ratio screens; judgement, no published source.
SOME_FORAGE_ADF_TO_NDF: Final = (0.46, 0.90)
PER_KG_IN_PCT: Final = 10.0  # grams per kilogram in one percent, by definition

_PURE_LEGUMES: Final = frozenset({Forage.ALFALFA, Forage.CLOVER})
_GRASSES: Final = frozenset(Forage) - _PURE_LEGUMES - {Forage.LEGUME_GRASS}
_MAJOR_MINERALS: Final = ("ca", "p", "k", "mg", "s", "na", "cl")
_ALWAYS_COUNTED: Final = 3  # of them, by definition: the rule needs these
#: What is also looked at as g/kg: the composition and the minerals that laboratories print so.
_WITH_G_PER_KG: Final = frozenset(("cp", "adf", "ndf", "lignin", "ash", "ee", *_MAJOR_MINERALS[:4]))


def with_point(c: ReportColumns, s: Screens, name: str, most: float, divisor: float) -> FloatArray:
    """Return values beyond a scale as they would read with their decimal point."""
    return np.where(c[name] > most, c[name] / divisor, np.nan)


# Structure ---------------------------------------------------------------------------------------


def columns_apart(c: ReportColumns, s: Screens, name: str, how: str) -> BoolArray:
    """Mark columns on two bases that do not belong to the dry matter: swapped, copied or other."""
    dry, received = c[name], c[f"{name}_ar"]
    tolerance = np.maximum(COLUMN_TOLERANCE, COLUMN_TOLERANCE_FRAC * dry)
    apart = np.abs(received - dry * c["dm"] / 100.0) > tolerance
    over = received - dry
    if how == "copied":
        return apart & (np.abs(over) <= COPY_TOLERANCE)
    return apart & (over > COPY_TOLERANCE if how == "swapped" else over < -COPY_TOLERANCE)


def fiber(c: ReportColumns, s: Screens, legume: bool, swapped: bool) -> BoolArray:
    """Mark ADF above NDF, where each fits the other's range (swapped) or does not (mistyped)."""
    pure = c.of(_PURE_LEGUMES)
    more = c["adf"] > c["ndf"] + (FIBER_ROUNDING if legume else -FIBER_ROUNDING)
    adf, ndf = limits_of(c, s, "adf"), limits_of(c, s, "ndf")
    fits = _possible(c["adf"], ndf) & _possible(c["ndf"], adf)
    marked: BoolArray = (pure if legume else ~pure) & more & (fits if swapped else ~fits)
    return marked


def minerals_over_ash(c: ReportColumns, s: Screens) -> BoolArray:
    """Mark minerals that are more than the ash they are part of."""
    total = sum(c[name] for name in _MAJOR_MINERALS[:_ALWAYS_COUNTED])
    for name in _MAJOR_MINERALS[_ALWAYS_COUNTED:]:
        if c.has(name):
            total = total + np.where(np.isnan(c[name]), 0.0, c[name])
    return np.asarray(total > c["ash"] + MINERALS_OVER_ASH)


# Sums, relative feed value and carbohydrate by difference ----------------------------------------


def left(c: ReportColumns, s: Screens) -> FloatArray:
    """Return what protein, fiber free of protein, fat and ash leave of the dry matter.

    Bound protein is 7 % of the fiber where it is not given.
    """
    return _left_without(c) + _ndicp(c)


def total(c: ReportColumns, s: Screens) -> FloatArray:
    """Return the sum of all parts with the printed carbohydrate.

    100 where the lab adds fiber-bound protein back to the carbohydrate; by the older convention
    it lacks that protein.
    """
    return 100.0 - left(c, s) + c["nfc"]


def little_left(c: ReportColumns, s: Screens) -> BoolArray:
    """Mark parts that leave less carbohydrate than forage has."""
    remainder = left(c, s)
    usual = (remainder < LEAST_REMAINDER) | (remainder >= USUAL_REMAINDER_FROM)
    return ~usual & ~np.isnan(remainder) & ~c.of({Forage.STRAW})


def much_left(c: ReportColumns, s: Screens) -> BoolArray:
    """Mark parts that leave more carbohydrate than such forage has."""
    roomy = c.wet | c.of({Forage.SMALL_GRAIN, Forage.CORN_SILAGE})
    return left(c, s) > np.where(roomy, USUAL_REMAINDER_TO_SILAGE, USUAL_REMAINDER_TO_HAY)


def sum_is_dry_matter(c: ReportColumns, s: Screens) -> BoolArray:
    """Mark sums that by either convention of carbohydrate are the dry matter, not 100."""
    whole = total(c, s)
    older = whole + _ndicp(c)
    clearly = np.minimum(np.abs(whole - 100.0), np.abs(older - 100.0)) > SUM_CLEARLY_OFF
    nearest = np.minimum(np.abs(whole - c["dm"]), np.abs(older - c["dm"]))
    marked: BoolArray = clearly & (nearest <= SUM_IS_DM_TOLERANCE)
    return marked


def sum_off(c: ReportColumns, s: Screens) -> BoolArray:
    """Mark sums a little off 100 that the older convention does not explain."""
    off = np.abs(total(c, s) - 100.0)
    older = np.abs(c["nfc"] - _left_without(c)) <= SUM_TOLERANCE
    return (off > SUM_TOLERANCE) & (off <= SUM_CLEARLY_OFF) & ~older


def nfc_off(c: ReportColumns, s: Screens) -> BoolArray:
    """Mark carbohydrate that its parts give by neither convention."""
    apart = c["nfc"] - _left_without(c)
    broken = np.minimum(np.abs(apart), np.abs(apart - _ndicp(c))) > NFC_TOLERANCE
    return broken & ~sum_is_dry_matter(c, s) if c.has("dm") else broken


def rfv(c: ReportColumns, s: Screens) -> FloatArray:
    """Return the relative feed value that the fiber gives."""
    return _rfv_of(c["adf"], c["ndf"])


def rfv_as_received(c: ReportColumns, s: Screens) -> BoolArray:
    """Mark a relative feed value that follows from fiber read as received."""
    dry = positive(np.where(c["dm"] <= DRIED_SAMPLE_ABOVE_DM_PCT, c["dm"], np.nan))
    return _rfv_off(c) & _is_rfv(c, 100.0 * c["adf"] / dry, 100.0 * c["ndf"] / dry)


def rfv_swapped(c: ReportColumns, s: Screens) -> BoolArray:
    """Mark a relative feed value that follows from the fibers swapped."""
    return _rfv_off(c) & _is_rfv(c, c["ndf"], c["adf"])


def rfv_other(c: ReportColumns, s: Screens) -> BoolArray:
    """Mark a relative feed value that does not follow from the fiber in any way."""
    explained = rfv_swapped(c, s)
    if c.has("dm"):
        explained |= rfv_as_received(c, s)
    return _rfv_off(c) & ~explained


def _left_without(c: ReportColumns) -> FloatArray:
    return 100.0 - c["cp"] - c["ndf"] - c["ee"] - c["ash"]


def _ndicp(c: ReportColumns) -> FloatArray:
    usual = NDICP_PER_NDF * c["ndf"]
    return np.where(np.isnan(c["ndicp"]), usual, c["ndicp"]) if c.has("ndicp") else usual


def _rfv_of(adf: FloatArray, ndf: FloatArray) -> FloatArray:
    # Unlike ``relative_feed_value``: one impossible row is no reason to refuse a whole district.
    intake = NDF_FILL_PCT_BW / positive(ndf)
    return (DDM_INTERCEPT_PCT - DDM_PER_ADF * adf) * intake / FULL_BLOOM_ALFALFA


def _rfv_off(c: ReportColumns) -> BoolArray:
    return np.abs(_rfv_of(c["adf"], c["ndf"]) - c["rfv"]) > RFV_TOLERANCE


def _is_rfv(c: ReportColumns, adf: FloatArray, ndf: FloatArray) -> BoolArray:
    return np.abs(_rfv_of(adf, ndf) - c["rfv"]) <= RFV_TOLERANCE


# Units, bases and forms --------------------------------------------------------------------------


def fraction(c: ReportColumns, s: Screens, name: str) -> BoolArray:
    """Mark values up to one that are possible a hundredfold; any dry matter is."""
    small = (c[name] > 0.0) & (c[name] <= FRACTION_UP_TO)
    return small if name == "dm" else small & _possible(100.0 * c[name], limits_of(c, s, name))


def nitrogen(c: ReportColumns, s: Screens) -> BoolArray:
    """Mark low protein that would be usual if it were nitrogen."""
    limits = limits_of(c, s, "cp")
    low = (c["cp"] < NITROGEN_BELOW_PCT) & (c["cp"] < limits.low)
    return low & _usual(PROTEIN_PER_NITROGEN * c["cp"], limits)


def mineral(c: ReportColumns, s: Screens, name: str) -> BoolArray:
    """Mark a mineral above what any forage holds."""
    return c[name] > MAJOR_MINERAL_ABOVE_PCT


def mineral_read(c: ReportColumns, s: Screens, name: str) -> FloatArray:
    """Return a mineral read as ppm where that is usual, else as g/kg."""
    in_pct = c[name] / PPM_PER_PCT
    return np.where(_usual(in_pct, limits_of(c, s, name)), in_pct, c[name] / PER_KG_IN_PCT)


def g_per_kg(c: ReportColumns, s: Screens, name: str) -> BoolArray:
    """Mark values beyond what is possible that are usual as a tenth of themselves."""
    limits = limits_of(c, s, name)
    beyond = c[name] > limits.hard_high
    if name in _MAJOR_MINERALS:
        beyond = beyond & (c[name] <= MAJOR_MINERAL_ABOVE_PCT)
    return beyond & _usual(c[name] / PER_KG_IN_PCT, limits)


def nem_by_tdn(c: ReportColumns, s: Screens) -> FloatArray:
    """Return the net energy for maintenance that the printed TDN makes."""
    nem = nem_from_me(ME_PER_DE * DE_PER_TDN_PCT * c["tdn"])
    return positive(nem)


def net_energy(c: ReportColumns, s: Screens) -> BoolArray:
    """Mark net energy that fits the TDN in the other unit alone."""
    ratio = c["nem"] / nem_by_tdn(c, s)
    return ~_near(ratio) & (_near(ratio / KG_PER_LB) | _near(ratio * KG_PER_LB))


def net_energy_read(c: ReportColumns, s: Screens) -> FloatArray:
    """Return net energy in the unit in which it fits the TDN."""
    per_pound = _near(c["nem"] / nem_by_tdn(c, s) / KG_PER_LB)
    return np.where(per_pound, c["nem"] / KG_PER_LB, c["nem"] * KG_PER_LB)


def unitless(c: ReportColumns, s: Screens, clear: bool) -> BoolArray:
    """Mark net energy without a unit that fits the TDN in one (clear) or in none."""
    unread = np.isnan(unitless_read(c, s))
    marked: BoolArray = ~unread if clear else unread & ~np.isnan(c["nem_unitless"])
    return marked


def unitless_read(c: ReportColumns, s: Screens) -> FloatArray:
    """Return net energy without a unit in the one in which it comes nearest to the TDN."""
    per_kg = c["nem_unitless"] / nem_by_tdn(c, s)
    per_lb = per_kg / KG_PER_LB
    nearer = np.abs(np.log(per_kg)) < np.abs(np.log(per_lb))
    closer = np.where(nearer, c["nem_unitless"], c["nem_unitless"] / KG_PER_LB)
    return np.where(_near(per_kg) | _near(per_lb), closer, np.nan)


def dm_is_moisture(c: ReportColumns, s: Screens) -> BoolArray:
    """Mark dry matter of hay that mirrored would be that of dry hay."""
    mirror = 100.0 - DRY_SILAGE_ABOVE_DM_PCT
    return ~c.wet & (c["dm"] > FRACTION_UP_TO) & (c["dm"] < mirror)


def hay_is_wet(c: ReportColumns, s: Screens) -> BoolArray:
    """Mark hay too wet to be dry hay."""
    mirror = 100.0 - DRY_SILAGE_ABOVE_DM_PCT
    return ~c.wet & (c["dm"] >= mirror) & (c["dm"] < WET_HAY_BELOW_DM_PCT)


def silage_is_dry(c: ReportColumns, s: Screens) -> BoolArray:
    """Mark baleage and silage as dry as hay."""
    return c.wet & (c["dm"] > DRY_SILAGE_ABOVE_DM_PCT)


def dried(c: ReportColumns, s: Screens) -> BoolArray:
    """Mark samples drier than hay keeps."""
    return c["dm"] > DRIED_SAMPLE_ABOVE_DM_PCT


def forms_differ(c: ReportColumns, s: Screens) -> BoolArray:
    """Mark two forms of nitrate that are not the same nitrate."""
    by_nitrogen = NO3_PER_NO3N * c["nitrate_no3n"]
    return np.abs(c["nitrate_no3"] - by_nitrogen) > NITRATE_FORMS_TOLERANCE_FRAC * by_nitrogen


def much_nitrate(c: ReportColumns, s: Screens) -> BoolArray:
    """Mark nitrate-nitrogen that few forages reach."""
    return c["nitrate_no3n"] > NITRATE_FORM_ASKED_ABOVE_PPM


def if_no3(c: ReportColumns, s: Screens) -> FloatArray:
    """Return nitrate-nitrogen as it would be if the lab meant nitrate."""
    return c["nitrate_no3n"] / NO3_PER_NO3N


def _near(ratio: FloatArray) -> BoolArray:
    return (ratio <= NET_ENERGY_FACTOR) & (ratio * NET_ENERGY_FACTOR >= 1.0)


# Screens: the limits stand in the table of ``screens``, which a district may replace by its own ---


def limits_of(c: ReportColumns, s: Screens, quantity: str) -> Limits:
    """Return the limits that hold for each row; NaN where none does."""
    limits = s.limits[quantity]
    return Limits(
        np.take(limits.low, c.forage),
        np.take(limits.high, c.forage),
        np.take(limits.hard_low, c.forage),
        np.take(limits.hard_high, c.forage),
    )


def screened(c: ReportColumns, s: Screens, quantity: str) -> FloatArray:
    """Return what is screened, NaN where the report has it not."""
    values = screened_values(c, quantity)
    return np.full(len(c), np.nan) if values is None else values


def usual_low(c: ReportColumns, s: Screens, quantity: str) -> FloatArray:
    """Return the lower end of what is usual."""
    return limits_of(c, s, quantity).low


def usual_high(c: ReportColumns, s: Screens, quantity: str) -> FloatArray:
    """Return the upper end of what is usual."""
    return limits_of(c, s, quantity).high


def beyond(c: ReportColumns, s: Screens, quantity: str) -> BoolArray:
    """Mark what is not possible, and not told by a likelier cause."""
    values, limits = screened(c, s, quantity), limits_of(c, s, quantity)
    marked = (values < limits.hard_low) | (values > limits.hard_high)
    if quantity in _WITH_G_PER_KG:
        marked &= ~g_per_kg(c, s, quantity)
    if quantity in _MAJOR_MINERALS:
        marked &= values <= MAJOR_MINERAL_ABOVE_PCT
    return marked & ~calcium_of(c, s, "legumes") if quantity == "ca" else marked


def unusual(c: ReportColumns, s: Screens, quantity: str) -> BoolArray:
    """Mark what is possible but not usual, and does not look like another forage."""
    values, limits = screened(c, s, quantity), limits_of(c, s, quantity)
    under = (values < limits.low) & (values >= limits.hard_low)
    marked: BoolArray = under | ((values > limits.high) & (values <= limits.hard_high))
    like = {"ca": calcium_of, "adf/ndf": fiber_of}.get(quantity)
    return marked if like is None else marked & ~(like(c, s, "legumes") | like(c, s, "grasses"))


def below_usual(c: ReportColumns, s: Screens, quantity: str) -> BoolArray:
    """Mark what lies below the usual."""
    return screened(c, s, quantity) < usual_low(c, s, quantity)


def above_usual(c: ReportColumns, s: Screens, quantity: str) -> BoolArray:
    """Mark what lies above the usual."""
    return screened(c, s, quantity) > usual_high(c, s, quantity)


def fiber_of(c: ReportColumns, s: Screens, others: str) -> BoolArray:
    """Mark ADF to NDF that is unusual for the forage but usual for legumes, or for grasses."""
    ratio, legumes = screened(c, s, "adf/ndf"), others == "legumes"
    low, high = SOME_FORAGE_ADF_TO_NDF
    off = (above_usual if legumes else below_usual)(c, s, "adf/ndf")
    mine = c.of(_GRASSES if legumes else _PURE_LEGUMES)
    marked: BoolArray = mine & (ratio >= low) & (ratio <= high) & off
    return marked


def calcium_of(c: ReportColumns, s: Screens, others: str) -> BoolArray:
    """Mark calcium that is unusual for the forage but usual for legumes, or for grasses."""
    legumes = others == "legumes"
    model, code = s.limits["ca"], FORAGE_CODE[Forage.ALFALFA if legumes else Forage.COOL_GRASS]
    theirs = (c["ca"] >= model.low[code]) & (c["ca"] <= model.high[code])
    off = (above_usual if legumes else below_usual)(c, s, "ca")
    marked: BoolArray = c.of(_GRASSES if legumes else _PURE_LEGUMES) & theirs & off
    return marked


def _usual(values: FloatArray, limits: Limits) -> BoolArray:
    return (values >= limits.low) & (values <= limits.high)


def _possible(values: FloatArray, limits: Limits) -> BoolArray:
    return (values >= limits.hard_low) & (values <= limits.hard_high)
