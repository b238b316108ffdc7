"""The poorest diet that will do: how rich hay must be for a need eaten to appetite.

Appetite changes with the diet, so the density a need asks for is where the two meet.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from rickyard.forage.energy import neg_from_tdn, nem_from_tdn
from rickyard.match.matching import MOST_TDN_PCT, NeedUnreachable, feed_for_need_kg
from rickyard.quantities import Numeric, OutOfRange, as_given
from rickyard.stock.equations import BIRTH_WEIGHT_KG, PEAK_MILK_KG, Rule, appetite_kg, cow_month
from rickyard.types import FloatArray

LEAST_TDN_PCT: Final = 40.0  # poorer than any straw fed alone; net energy for gain ends near 38
_BISECTIONS: Final = 50  # halves the span of 48 % below 1e-13


@dataclass(frozen=True, slots=True)
class Density:
    """The poorest diet that meets a need when eaten to appetite, and how much is eaten."""

    tdn_pct: Numeric
    nem_mcal_per_kg: Numeric
    neg_mcal_per_kg: Numeric
    intake_kg: Numeric

    @property
    def tdn_kg(self) -> Numeric:
        """Return the total digestible nutrients eaten, in kilograms per day."""
        return self.intake_kg * self.tdn_pct / 100.0


@dataclass(frozen=True, slots=True)
class CowNeed:
    """What a cow needs in a day, as total digestible nutrients and crude protein."""

    tdn_kg: float
    cp_kg: float


def density_for_need(
    nem_need_mcal: Numeric,
    retained_mcal: Numeric,
    shrunk_weight_kg: Numeric,
    rule: Rule | str,
    *,
    milk_kg: Numeric = 0.0,
    factor: Numeric = 1.0,
    intake_kg: Numeric | None = None,
) -> Density:
    """Return the poorest diet that meets a need when the animal eats to appetite.

    Bisection: appetite falls again on very rich diets, so that steeper methods can go astray.

    A wanted loss of weight is held at none: it takes no feed.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, 7th rev. ed., Update.

    Parameters
    ----------
    nem_need_mcal : float or array
        Maintenance with lactation, pregnancy and activity. [Mcal/d]
    retained_mcal : float or array
        Energy kept in the wanted gain; 0 for none. [Mcal/d]
    shrunk_weight_kg : float or array
        Shrunk weight. [kg]
    rule : {"calf", "yearling", "cow_early", "cow_late"}
        Rule of intake, see ``intake.appetite_kg``.
    milk_kg : float or array
        Milk. [kg/d]
    factor : float or array
        Calibration of intake; 1 for tables of diet density. [-]
    intake_kg : float or array, optional
        Dry matter eaten, where it is known; it replaces appetite. [kg/d]

    Returns
    -------
    Density
        The diet and its intake.

    Raises
    ------
    NeedUnreachable
        If no diet up to 88 % TDN meets the need.
    OutOfRange
        If a diet of 40 % TDN is more than enough, the rule is unknown, or the weight lies
        outside 50 to 1100 kg.

    Examples
    --------
    >>> diet = density_for_need(9.0, 0.0, 544.3, "cow_late")
    >>> round(diet.tdn_pct), round(diet.intake_kg / 0.45359237, 1)
    (48, 22.4)
    """
    given = [nem_need_mcal, retained_mcal, shrunk_weight_kg, milk_kg, factor]
    given += [] if intake_kg is None else [intake_kg]
    shape = np.broadcast_shapes(*(np.shape(value) for value in given))

    def intake(tdn: FloatArray) -> Numeric:
        if intake_kg is not None:
            return np.broadcast_to(intake_kg, shape)
        return appetite_kg(rule, shrunk_weight_kg, nem_from_tdn(tdn), milk_kg, factor)

    def spare_kg(tdn: FloatArray) -> FloatArray:
        need = feed_for_need_kg(nem_need_mcal, retained_mcal, nem_from_tdn(tdn), neg_from_tdn(tdn))
        return np.asarray(intake(tdn) - need)

    tdn = _bisect(spare_kg, shape)
    # Halving a span finds a number for everything: of an unknown need nothing is known.
    tdn = np.where(np.isnan(spare_kg(tdn)), np.nan, tdn)
    return Density(
        tdn_pct=as_given(tdn, *given),
        nem_mcal_per_kg=as_given(nem_from_tdn(tdn), *given),
        neg_mcal_per_kg=as_given(neg_from_tdn(tdn), *given),
        intake_kg=as_given(intake(tdn), *given),
    )


def mean_cow_need(
    months: Sequence[int],
    shrunk_weight_kg: float,
    peak_milk_kg_per_day: float = PEAK_MILK_KG,
    birth_weight_kg: float = BIRTH_WEIGHT_KG,
) -> CowNeed:
    """Return what a mature cow needs over some months since calving, on the mean.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, 7th rev. ed., Update.

    Parameters
    ----------
    months : sequence of int
        Months since calving, 1 to 12. [month]
    shrunk_weight_kg : float
        Shrunk weight, 50 to 1100. [kg]
    peak_milk_kg_per_day : float
        Milk at the peak. [kg/d]
    birth_weight_kg : float
        Birth weight of the calf she carries. [kg]

    Returns
    -------
    CowNeed
        Total digestible nutrients of the diet that just meets her energy, and crude protein.

    Examples
    --------
    >>> need = mean_cow_need([1, 2, 3], 522.5, 9.07)
    >>> round(need.tdn_kg, 1), round(need.cp_kg, 2)
    (7.3, 1.27)
    """
    given = (shrunk_weight_kg, peak_milk_kg_per_day, birth_weight_kg)
    tdn = [cow_density(month, *given).tdn_kg for month in months]
    cp = [cow_month(month, *given).cp_kg for month in months]
    return CowNeed(tdn_kg=float(np.mean(tdn)), cp_kg=float(np.mean(cp)))


def cow_density(
    month: int,
    shrunk_weight_kg: float,
    peak_milk_kg_per_day: float = PEAK_MILK_KG,
    birth_weight_kg: float = BIRTH_WEIGHT_KG,
) -> Density:
    """Return the poorest diet that meets a mature cow's energy in a month since calving, 1 to 12.

    With the intake equations as published; a shrunk weight outside 50 to 1100 kg raises
    ``OutOfRange``. Source: NRC (2000), Nutrient Requirements of Beef Cattle, 7th rev. ed., Update.

    >>> round(cow_density(7, 1200.0 * 0.45359237).tdn_pct, 1)
    47.7
    """
    cow = cow_month(month, shrunk_weight_kg, peak_milk_kg_per_day, birth_weight_kg)
    rule = "cow_late" if cow.late else "cow_early"
    return density_for_need(cow.nem_mcal, 0.0, shrunk_weight_kg, rule, milk_kg=cow.milk_kg)


def _bisect(spare_kg: Callable[[FloatArray], FloatArray], shape: tuple[int, ...]) -> FloatArray:
    """Return the TDN at which nothing is spare, shape as given."""
    low, high = np.full(shape, LEAST_TDN_PCT), np.full(shape, MOST_TDN_PCT)
    if np.any(spare_kg(high) < 0.0):
        raise NeedUnreachable(
            f"The need cannot be met within appetite by any diet up to {MOST_TDN_PCT:.0f}% TDN."
        )
    if np.any(spare_kg(low) > 0.0):
        raise OutOfRange(
            f"A diet of {LEAST_TDN_PCT:.0f}% TDN is more than enough; poorer ones are not hay."
        )
    for _ in range(_BISECTIONS):
        middle = (low + high) / 2.0
        enough = spare_kg(middle) >= 0.0
        low, high = np.where(enough, low, middle), np.where(enough, middle, high)
    return high
