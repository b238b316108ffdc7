"""What the error of a test allows: a grade is sure only when its class holds the whole interval.

For a poison the upper end counts, not the middle.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from rickyard.farm import Forage, Lot, Package
from rickyard.forage.energy import (
    TASK_FORCE_RFV,
    USDA_ALFALFA_RFV,
    USDA_GRASS_CP,
    alfalfa_grade_2003,
)
from rickyard.forage.plausibility import LotProfile
from rickyard.forage.uncertainty.uncertainty import Measured
from rickyard.forage.values import CLASSED, CLEMSON, ClassTable
from rickyard.quantities import not_negative

_GRASSES: Final = CLASSED["usda_grass_cp"].forages
_MIXED: Final = frozenset({Forage.CLOVER, Forage.LEGUME_GRASS})


@dataclass(frozen=True, slots=True)
class GradeInterval:
    """The class of a value, and the classes of both ends of its 90 % interval.

    ``lowest`` and ``highest`` go by the value, so that for fiber ``lowest`` is the better one.
    ``sure`` says that the whole interval lies in one class.
    """

    label: str
    lowest: str
    highest: str
    sure: bool
    table: ClassTable

    def words(self) -> str:
        """Say the grade and what the error of the test allows.

        >>> table = ClassTable("feed value", "index", (130.0, 150.0), ("Fair", "Good", "Premium"),
        ...                    "up", "a table")
        >>> print(grade_interval(table, Measured.normal(148.0, 8.0, "", "")).words())
        Good (feed value, index) (90% range Good to Premium)
        >>> print(grade_interval(table, Measured.normal(140.0, 2.0, "", "")).words())
        Good (feed value, index) over the whole 90% range
        """
        said = f"{self.label} ({self.table.name}, {self.table.unit})"
        if self.sure:
            return f"{said} over the whole 90% range"
        return f"{said} (90% range {self.lowest} to {self.highest})"


def grade_interval(table: ClassTable, value: Measured) -> GradeInterval:
    """Grade a value, in the unit of the table, and both ends of its interval.

    >>> table = ClassTable("protein", "% of dry matter", (5.0, 9.0), ("Low", "Fair", "Good"),
    ...                    "up", "a table")
    >>> grade_interval(table, Measured.normal(9.2, 1.0, "", "")).lowest
    'Fair'
    """
    low, label, high = (table.label(one) for one in (value.low, value.value, value.high))
    return GradeInterval(label, low, high, low == label == high, table)


def lot_grade(
    lot: Lot, profile: LotProfile, measured: Mapping[str, Measured]
) -> GradeInterval | None:
    """Grade a tested lot of dry hay by the table of its forage.

    Alfalfa by relative feed value and grass by protein (USDA 2003), clover and mixtures by relative
    feed value (Hay Marketing Task Force). ``None`` without a test, for baleage and silage, and for
    straw.
    """
    if lot.package is Package.BALEAGE or not profile.tested:
        return None
    if lot.forage is Forage.ALFALFA and "rfv" in measured:
        return grade_interval(USDA_ALFALFA_RFV, measured["rfv"])
    if lot.forage in _MIXED and "rfv" in measured:
        return grade_interval(TASK_FORCE_RFV, measured["rfv"])
    if lot.forage in _GRASSES and profile.origins["crude_cp_pct"] == "lab":
        return grade_interval(USDA_GRASS_CP, measured["crude_cp_pct"])
    return None


def grade_sentence(lot: Lot, profile: LotProfile, measured: Mapping[str, Measured]) -> str:
    """Say the market grade of a lot with its edition, or nothing where there is none.

    Parameters
    ----------
    lot : Lot
        The lot.
    profile : LotProfile
        The lot as it is counted.
    measured : mapping of str to Measured
        Values with their errors, by the field of the profile.

    Returns
    -------
    str
        The grade, its edition and the chances of its neighbors; empty without a grade.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import Analyte, Basis, Report, Storage
    >>> from rickyard.forage.plausibility.profile import lot_profile
    >>> lot = Lot("L1", "Barn hay", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN,
    ...           40, date(2026, 6, 1), date(2026, 10, 1))
    >>> report = Report("R1", "L1", (Analyte("cp", 9.4, "pct", Basis.DRY_MATTER),))
    >>> cp = {"crude_cp_pct": Measured.normal(9.4, 1.0, "% of dry matter", "")}
    >>> print(grade_sentence(lot, lot_profile(lot, (report,)), cp)[:45])
    Good (grass grade by protein, % of dry matter
    """
    grade = lot_grade(lot, profile, measured)
    if grade is None:
        return ""
    said = f"{grade.words()}. By {grade.table.source}; damage, mold or weeds lower any grade."
    adf, ndf, cp = profile.adf_pct, profile.ndf_pct, profile.crude_cp_pct
    if lot.forage is Forage.ALFALFA and adf and profile.origins["crude_cp_pct"] == "lab":
        columns = alfalfa_grade_2003(adf, ndf, cp)
        if columns.mixed:
            by_each = ", ".join(f"{label} by {name}" for name, label in columns.by_column.items())
            said += f" Its columns disagree: {by_each}."
    return said


#: Act on twice the composite when hay is fed bale by bale (common practice; in the Kansas State
#: field the worst bale had 2.26 times the mean).
ACT_ON_TIMES: Final = 2.0


def worst_bale_ppm(composite_ppm: float) -> float:
    """Nitrate to act upon when a composite stands for bales that are fed one by one.

    Twice the nitrate of the composite, in any form: averaging hides hot bales. From the range of 23
    bales of one field (Kansas State) the 95 % point of a bale is 1.72 times the mean or more. Ask
    the local extension office or a veterinarian before feeding hay that may hold them. A negative
    nitrate raises ``OutOfRange``. [mg/kg]

    >>> worst_bale_ppm(1200.0)
    2400.0
    """
    not_negative(f"Nitrate of {composite_ppm:g} mg/kg is negative.", composite_ppm)
    return composite_ppm * ACT_ON_TIMES


def nitrate_sentence(measured: Mapping[str, Measured]) -> str:
    """Say how high the nitrate of a lot may really be, and of its single bales.

    Source: Kansas State University, 23 round bales of one sudangrass field: mean 2,764, range
    1,525-6,250 ppm as fed; Clemson University Agricultural Service Laboratory, nitrate levels.

    Parameters
    ----------
    measured : mapping of str to Measured
        Counted values of a lot with their errors, from ``lot_measured``.

    Returns
    -------
    str
        Empty without a nitrate test, and where even a hot bale is safe for all classes.

    Examples
    --------
    >>> low, high = (Measured.normal(value, 60.0, "ppm of dry matter", "") for value in (300, 950))
    >>> nitrate_sentence({"nitrate_no3n_ppm": low})
    ''
    >>> print(nitrate_sentence({"nitrate_no3n_ppm": high}))
    Nitrate: 90% range 851-1,049 ppm NO3-N of dry matter, which Clemson classes from \
"safe all classes" to "safe nonpregnant; pregnant max 50% of ration DM": go by the higher. A \
composite hides hot bales: act on twice as much, 1,900 ppm, where bales are fed one at a time.
    """
    nitrate = measured.get("nitrate_no3n_ppm")
    if nitrate is None:
        return ""
    hot = worst_bale_ppm(nitrate.value)
    if CLEMSON.place(max(hot, nitrate.high)) == 0:
        return ""
    low = max(0.0, nitrate.low)
    classes = grade_interval(CLEMSON, nitrate)
    classed = (
        f'"{classes.label}"'
        if classes.sure
        else f'from "{classes.lowest}" to "{classes.highest}": go by the higher'
    )
    return (
        f"Nitrate: 90% range {low:,.0f}-{nitrate.high:,.0f} ppm NO3-N of dry matter, which Clemson "
        f"classes {classed}. A composite hides hot bales: act on twice as much, {hot:,.0f} ppm, "
        "where bales are fed one at a time."
    )
