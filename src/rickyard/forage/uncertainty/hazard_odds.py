"""What the error of a test means for a poison: the upper end counts, not the middle."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from rickyard.forage.uncertainty.grade_odds import grade_interval
from rickyard.forage.uncertainty.uncertainty import Measured
from rickyard.forage.values import CLEMSON
from rickyard.quantities import OutOfRange

#: Spread of nitrate from bale to bale, of its mean: from the range of 23 bales of one field
#: (Kansas State), (6250 - 1525) / 3.858 over 2764. Skewed, so a lower bound.
NITRATE_CV: Final = 0.44
#: One-sided 95 % point of the normal distribution.
_ONE_SIDED_95: Final = 1.645
#: Act on twice the composite when hay is fed bale by bale (common practice; in the Kansas State
#: field the worst bale had 2.26 times the mean).
ACT_ON_TIMES: Final = 2.0


def worst_bale_ppm(composite_ppm: float) -> float:
    """Nitrate to act upon when a composite stands for bales that are fed one by one.

    Twice the nitrate of the composite, in any form, above the 95 % estimate of 1.72 times:
    averaging hides hot bales. Ask the local extension office or a veterinarian before feeding
    hay that may hold them. A negative nitrate raises ``OutOfRange``. [mg/kg]

    >>> worst_bale_ppm(1200.0)
    2400.0
    """
    if composite_ppm < 0.0:
        raise OutOfRange(f"Nitrate of {composite_ppm:g} mg/kg is negative.")
    return composite_ppm * max(ACT_ON_TIMES, 1.0 + _ONE_SIDED_95 * NITRATE_CV)


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
