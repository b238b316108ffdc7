"""What the error of a test means for a poison: the upper end counts, not the middle."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from rickyard.forage.hazards import NITRATE_CLEMSON
from rickyard.forage.uncertainty.grade_odds import grade_interval
from rickyard.forage.uncertainty.uncertainty import Measured

#: A composite averages hot bales away. Where bales are fed one by one, this many times the
#: composite counts; common practice. In a K-State field the worst bale held 2.26 times the mean.
HOT_BALE_FACTOR: Final = 2.0


def nitrate_sentence(measured: Mapping[str, Measured]) -> str:
    """Say how high the nitrate of a lot may really be, and of its single bales.

    Parameters
    ----------
    measured : mapping of str to Measured
        Counted values of a lot with their errors, from ``lot_measured``.

    Returns
    -------
    str
        Empty without a nitrate test, and where even a hot bale is safe for all classes.

    References
    ----------
    .. [1] Kansas State University, 23 round bales of one sudangrass field: mean 2,764, range
       1,525-6,250 ppm as fed.
    .. [2] Clemson University Agricultural Service Laboratory, nitrate levels.

    Examples
    --------
    >>> low, high = (Measured.normal(value, 60.0, "ppm of dry matter", "") for value in (300, 950))
    >>> nitrate_sentence({"nitrate_no3n_ppm": low})
    ''
    >>> print(nitrate_sentence({"nitrate_no3n_ppm": high}))
    Nitrate: nine times in ten between 851 and 1,049 ppm NO3-N of dry matter, which Clemson \
classes from "safe all classes" to "safe nonpregnant; pregnant max 50% of ration DM": go by the \
higher. A composite averages hot bales away: one bale may hold twice as much, 1,900 ppm.
    """
    nitrate = measured.get("nitrate_no3n_ppm")
    if nitrate is None:
        return ""
    hot = HOT_BALE_FACTOR * nitrate.value
    if NITRATE_CLEMSON.place(max(hot, nitrate.high)) == 0:
        return ""
    low = max(0.0, nitrate.low)
    classes = grade_interval(NITRATE_CLEMSON, nitrate)
    told = (
        f'"{classes.label}"'
        if classes.sure
        else f'from "{classes.lowest}" to "{classes.highest}": go by the higher'
    )
    return (
        f"Nitrate: nine times in ten between {low:,.0f} and {nitrate.high:,.0f} ppm NO3-N of dry "
        f"matter, which Clemson classes {told}. A composite averages hot bales away: one bale may "
        f"hold twice as much, {hot:,.0f} ppm."
    )
