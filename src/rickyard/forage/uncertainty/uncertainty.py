"""How far a value on a report may lie from the hay it stands for.

Two errors add up: the cores that were drawn are not the whole lot, and the laboratory does not
measure the same powder twice alike. Both are planning figures, not estimates from the one
report; a farm's own pairs of composites replace them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from statistics import NormalDist
from typing import Final

import numpy as np

from rickyard.analysis_error import ERROR_SIZES, OTHER_ERROR
from rickyard.display import with_unit
from rickyard.quantities import Numeric, OutOfRange, as_given

#: Definition: a 90 % interval of a normal error reaches this many standard deviations to either
#: side.
Z_90: Final = NormalDist().inv_cdf(0.95)
#: Cores taken for granted when a report does not tell: the low end of the published numbers
#: (Texas A&M and others, 4-10 bales), so that the interval is not too narrow.
CORES_WHEN_UNKNOWN: Final = 5


class Labs(StrEnum):
    """What a value is compared with.

    ``ONE`` compares lots tested by one laboratory, whose bias cancels. ``ANY`` compares with the
    truth, with a limit or a need, or with another laboratory's value.
    """

    ONE = "one"
    ANY = "any"


@dataclass(frozen=True, slots=True)
class Measured:
    """A value with its error: standard deviation, 90 % interval, and where the error is from.

    ``low`` and ``high`` hold the truth nine times in ten when the planning figures are right.
    """

    value: float
    sd: float
    low: float
    high: float
    unit: str
    reason: str

    @classmethod
    def normal(cls, value: float, sd: float, unit: str, reason: str) -> Measured:
        """Make a value whose error is normal, so that its interval is even on both sides.

        Examples
        --------
        >>> cp = Measured.normal(12.0, 1.0, "% of dry matter", "20 cores, any laboratory")
        >>> round(cp.low, 2), round(cp.high, 2)
        (10.36, 13.64)
        """
        if not sd >= 0.0:
            raise OutOfRange("A standard deviation must be a number, 0 or more.")
        return cls(value, sd, value - Z_90 * sd, value + Z_90 * sd, unit, reason)

    def chance_at_least(self, limit: float) -> float:
        """Return the chance that the truth reaches a limit, the error taken as normal.

        Examples
        --------
        >>> Measured.normal(12.0, 1.0, "%", "").chance_at_least(12.0)
        0.5
        """
        if self.sd == 0.0:
            return 1.0 if self.value >= limit else 0.0
        return 1.0 - NormalDist(self.value, self.sd).cdf(limit)

    def words(self, decimals: int = 1) -> str:
        """Say the interval, with its unit.

        Examples
        --------
        >>> Measured.normal(12.0, 1.0, "% of dry matter", "").words()
        '90% range 10.4-13.6% of dry matter'
        """
        low, high = f"{self.low:,.{decimals}f}", f"{self.high:,.{decimals}f}"
        return f"90% range {with_unit(f'{low}-{high}', self.unit)}"


def stated_core_sd(name: str, value: Numeric) -> Numeric:
    """Return how far single cores of one lot lie apart, without the laboratory's part.

    Between cores, bales and places in a bale together, in the unit of the value:
    ``s_core^2 = max(0, s_obs^2 - s_R^2)``, because the published spread of cores includes one
    determination by the laboratory each. Collins (2000), quoted by Undersander (2007): CP 0.8,
    NDF 2.0; ADF, dry matter and minerals by common practice; nitrate from the K-State range of
    23 bales.

    Examples
    --------
    >>> round(stated_core_sd("cp", 12.0) ** 2, 4)
    0.5775
    """
    size = ERROR_SIZES.get(name, OTHER_ERROR)
    spread = math.sqrt(max(0.0, size.single_core**2 - size.repeat**2))
    return as_given(_sized(spread, value, size.cores_relative), value)


def lab_sd(name: str, value: Numeric, labs: Labs = Labs.ANY) -> Numeric:
    """Return the error of a reported value without that of sampling, in its own unit.

    Meyer, Hay & Forage Grower: CP 1, ADF 1, NDF 1.4 points, about double between labs; read as two
    standard deviations.

    Examples
    --------
    >>> lab_sd("ndf", 60.0, Labs.ONE), lab_sd("ndf", 60.0)
    (1.0, 2.0)
    """
    size = ERROR_SIZES.get(name, OTHER_ERROR)
    spread = size.one_lab if labs is Labs.ONE else size.any_lab
    return as_given(_sized(spread, value, size.lab_relative), value)


def sampling_sd(
    name: str,
    value: Numeric,
    cores: Numeric = CORES_WHEN_UNKNOWN,
    bales: Numeric | None = None,
    factor: float = 1.0,
) -> Numeric:
    """Return the error of a composite of cores, one from a bale, that is due to sampling.

    ``s_core^2 / n * (1 - n / N)``, in the unit of the value; without the number of bales the lot is
    taken as endless. With one core from a bale the spread within a bale cannot be told from that
    between bales, which is slightly optimistic for fewer than 40 bales. No core raises
    ``OutOfRange``.

    Examples
    --------
    >>> round(sampling_sd("cp", 12.0, 20) ** 2, 4)
    0.0289
    """
    drawn = np.asarray(cores, dtype=np.float64)
    if np.any(drawn < 1.0):
        raise OutOfRange("A sample holds at least one core.")
    left = 1.0 if bales is None else np.maximum(0.0, 1.0 - drawn / np.asarray(bales))
    spread = factor * np.asarray(stated_core_sd(name, value)) * np.sqrt(left / drawn)
    return as_given(spread, value, cores, bales)


def analyte_sd(
    name: str,
    value: Numeric,
    cores: Numeric = CORES_WHEN_UNKNOWN,
    bales: Numeric | None = None,
    labs: Labs = Labs.ANY,
    factor: float = 1.0,
) -> Numeric:
    """Return the whole error of a reported value, sampling and laboratory, in its own unit.

    Of a lot whose number of bales is known and of which many were cored more is known. ``labs``
    says whether lots of one laboratory are compared, or a value with the truth; ``factor``
    multiplies the spread of cores: ``UNEVEN_LOT_FACTOR`` for a first cutting and for weedy or
    rained-on hay.

    Examples
    --------
    Twenty cores and the laboratory error of any lab:

    >>> round(analyte_sd("cp", 12.0, 20), 2)
    1.01
    """
    sampling = np.asarray(sampling_sd(name, value, cores, bales, factor))
    lab = np.asarray(lab_sd(name, value, labs))
    return as_given(np.hypot(sampling, lab), value, cores, bales)


#: Twelve laboratories, one blind sample each, within-laboratory error included; the pessimistic
#: case, because laboratories without certification took part. Severe & Young 2017. [% DM]
BETWEEN_LABS: Final[dict[str, dict[str, float]]] = {
    "mixed grass": {"CP": 1.3, "ADF": 3.2, "NDF": 4.3, "RFV": 13.6},
    "pre-bloom alfalfa": {"CP": 1.9, "ADF": 2.1, "NDF": 3.5, "RFV": 13.9},
    "pre-bud alfalfa": {"CP": 2.5, "ADF": 2.5, "NDF": 3.8, "RFV": 31.7},
}


def sd_between_labs(hay: str, analyte: str) -> float:
    """Return the spread that twelve laboratories showed on one blind sample.

    Source: Severe & Young (2017), ADSA abstract T108.

    Parameters
    ----------
    hay : str
        ``mixed grass``, ``pre-bloom alfalfa`` or ``pre-bud alfalfa``.
    analyte : str
        ``CP``, ``ADF``, ``NDF`` or ``RFV``. What the trial does not hold raises ``KeyError``.

    Returns
    -------
    float
        Standard deviation. [% DM; RFV: index]

    Examples
    --------
    >>> sd_between_labs("mixed grass", "NDF")
    4.3
    """
    return BETWEEN_LABS[hay][analyte]


def sd_from_cv(mean: Numeric, cv_pct: Numeric) -> Numeric:
    """Return the standard deviation that a coefficient of variation stands for.

    Parameters
    ----------
    mean : float or array
        Mean of the value. [any unit]
    cv_pct : float or array
        Coefficient of variation. [% of the mean]

    Returns
    -------
    float or array
        Standard deviation. [unit of ``mean``]

    Examples
    --------
    >>> round(sd_from_cv(31.6, 17.5), 2)
    5.53
    """
    return as_given(np.asarray(mean) * np.asarray(cv_pct) / 100.0, mean, cv_pct)


def _sized(spread: float, value: Numeric, relative: bool) -> Numeric:
    amount = np.asarray(value, dtype=np.float64)
    return spread * np.abs(amount) / 100.0 if relative else np.full_like(amount, spread)
