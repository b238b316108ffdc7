"""Appetite: the dry matter an animal is expected to eat of a diet."""

from __future__ import annotations

from collections.abc import Sequence
from types import MappingProxyType
from typing import Final, Literal, get_args

import numpy as np
from numpy.typing import NDArray

from rickyard.quantities import Numeric, OutOfRange, as_given, within
from rickyard.stock.common import metabolic_weight
from rickyard.types import FloatArray

Rule = Literal["calf", "yearling", "cow_early", "cow_late"]
#: The rules that are printed.
PRINTED_RULES: Final[tuple[str, ...]] = get_args(Rule)

# Growing cattle: W^0.75 (0.2435 NEm - 0.0466 NEm^2 - c) / NEm, NRC 2000; reproduces print.
GROWING_LINEAR: Final = 0.2435
GROWING_CURVE: Final = 0.0466
_CALF_CONSTANT: Final = 0.1128
_YEARLING_CONSTANT: Final = 0.0869

# A calf becomes a yearling by age, not by weight, and not overnight: the constant moves along a
# straight line from three months before its first birthday to three months after it, in steps of
# a quarter month. The line is common practice; print has the two ends.
BLENDED_MONTHS: Final = (9.0, 15.0)
STEPS_A_MONTH: Final = 4
_STEPS: Final = int((BLENDED_MONTHS[1] - BLENDED_MONTHS[0]) * STEPS_A_MONTH)
_BLENDED: Final = {
    f"calf_{step}_of_{_STEPS}_to_yearling": _CALF_CONSTANT
    + (_YEARLING_CONSTANT - _CALF_CONSTANT) * step / _STEPS
    for step in range(1, _STEPS)
}
GROWING_CONSTANT: Final = MappingProxyType(
    {"calf": _CALF_CONSTANT, "yearling": _YEARLING_CONSTANT, **_BLENDED}
)
#: Every rule of intake: those that are printed, then the steps from calf to yearling.
RULES: Final[tuple[str, ...]] = (*PRINTED_RULES, *_BLENDED)

# Cows: W^0.75 (0.04997 NEm^2 + c) / D + 0.2 milk, NRC 2000, from memory; checked against the
# bias that Oklahoma State Univ. reports.
COW_CURVE: Final = 0.04997
COW_CONSTANT: Final = MappingProxyType({"cow_early": 0.03840, "cow_late": 0.04631})
INTAKE_PER_MILK: Final = 0.2
#: The divisor is never less. Used only below 1.0, as once printed, it makes intake jump there.
LEAST_DIVISOR: Final = 0.95

#: Range of diet energy; appetite is held at its value at the nearer end outside.
LEAST_NEM: Final = 0.8
MOST_NEM: Final = 2.2

# What cows really ate over what the equations say, Gross et al. 2024, Oklahoma State Univ.
CALIBRATION_DRY_PREGNANT: Final = 1.06
CALIBRATION_LACTATING: Final = 1.20

NDF_CAP_PCT_BW: Final = 1.2  # Univ. of Missouri; 1.1 Rayburn 1997

# Hibberd & Thrift 1992 as given by Oklahoma State Univ.: dry matter as percent of weight.
CLASS_EDGES_TDN_PCT: Final = (52.0, 59.0)
CLASS_CENTRES_TDN_PCT: Final = (48.0, 55.5, 62.0)  # common practice, to avoid steps
PCT_BW_DRY: Final = (1.8, 2.2, 2.5)
PCT_BW_LACTATING: Final = (2.2, 2.5, 2.7)


def growing_state(age_months: Numeric) -> NDArray[np.int8]:
    """Return where the rule of growing cattle of an age stands in ``RULES``.

    Calves until nine months, yearlings from fifteen, with even steps between: common practice, so
    that nothing changes on a birthday.

    Parameters
    ----------
    age_months : float or array
        Age; where it is not known (NaN), the animal counts as a yearling. [months]

    Returns
    -------
    array of int
        Places in ``RULES``.

    Examples
    --------
    >>> RULES[growing_state(8.0)], RULES[growing_state(12.0)], RULES[growing_state(15.0)]
    ('calf', 'calf_12_of_24_to_yearling', 'yearling')
    """
    age = np.asarray(age_months, dtype=np.float64)
    known = np.where(np.isnan(age), np.inf, age)
    step = np.clip(np.floor((known - BLENDED_MONTHS[0]) * STEPS_A_MONTH), 0.0, float(_STEPS))
    between = len(PRINTED_RULES) - 1 + step
    found = np.where(
        step == 0.0,
        RULES.index("calf"),
        np.where(step == float(_STEPS), RULES.index("yearling"), between),
    )
    return found.astype(np.int8)


def growing_constants(rules: Sequence[str]) -> FloatArray:
    """Return what tells apart the rules of growing cattle, to ask about many of them at once.

    Parameters
    ----------
    rules : sequence of str
        Rules of intake.

    Returns
    -------
    array
        Their constants, to give to ``appetite_kg`` and ``appetite_slope`` as the rule; NaN for
        those of cows. [Mcal/kg]

    Examples
    --------
    >>> many = appetite_kg(growing_constants(["calf", "yearling"]), np.full(2, 300.0), 1.2)
    >>> [f"{one:.6f}" for one in many] == [
    ...     f"{appetite_kg(rule, 300.0, 1.2):.6f}" for rule in ("calf", "yearling")
    ... ]
    True
    """
    return np.array(
        [GROWING_CONSTANT.get(_known(rule), np.nan) for rule in rules], dtype=np.float64
    )


def appetite_kg(
    rule: Rule | str | FloatArray,
    shrunk_weight_kg: Numeric,
    diet_nem_mcal_per_kg: Numeric,
    milk_kg: Numeric = 0.0,
    factor: Numeric = 1.0,
) -> Numeric:
    """Return the dry matter an animal is expected to eat.

    Fitted for diets of 0.8 to 2.2 Mcal/kg; held at the nearer end outside. Fibre may limit it
    further, see ``ndf_cap_kg``.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, 7th rev. ed., Update.

    Parameters
    ----------
    rule : {"calf", "yearling", "cow_early", "cow_late"} or array
        Growing cattle by age; cows not pregnant or in the first third, and later. Between calf and
        yearling lie the steps of ``growing_state``. An array holds ``growing_constants``.
    shrunk_weight_kg : float or array
        Shrunk weight, 50 to 1100. [kg]
    diet_nem_mcal_per_kg : float or array
        Net energy for maintenance of the diet. [Mcal/kg DM]
    milk_kg : float or array
        Milk, used for cows. [kg/d]
    factor : float or array
        Calibration of the whole. [-]

    Returns
    -------
    float or array
        Dry matter. [kg/d]

    Examples
    --------
    >>> round(appetite_kg("cow_late", 533.0, 1.2), 3)
    10.933
    """
    nem = _held(diet_nem_mcal_per_kg)
    share = appetite_per_kg075(rule, nem)
    constant = _constant(rule)
    milked = INTAKE_PER_MILK if constant is None else 0.0
    extra = milked * np.asarray(milk_kg)
    eaten = (metabolic_weight(shrunk_weight_kg) * share + extra) * factor
    return as_given(eaten, shrunk_weight_kg, diet_nem_mcal_per_kg, milk_kg, factor, constant)


def appetite_per_kg075(rule: Rule | str | FloatArray, diet_nem_mcal_per_kg: Numeric) -> Numeric:
    """Return the dry matter an animal is expected to eat per metabolic weight, without milk.

    Diet energy is held at the ends of the span in which the equations were fitted.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, 7th rev. ed., Update.

    Parameters
    ----------
    rule, diet_nem_mcal_per_kg
        As for ``appetite_kg``.

    Returns
    -------
    float or array
        Dry matter. [kg/kg^0.75/d]

    Examples
    --------
    >>> round(533.0**0.75 * appetite_per_kg075("cow_late", 1.2), 3)
    10.933
    """
    nem, constant = _held(diet_nem_mcal_per_kg), _constant(rule)
    if constant is not None:
        share = GROWING_LINEAR - GROWING_CURVE * nem - constant / nem
    else:
        share = (COW_CURVE * nem**2 + COW_CONSTANT[str(rule)]) / np.maximum(nem, LEAST_DIVISOR)
    return as_given(share, diet_nem_mcal_per_kg, constant)


def appetite_slope(
    rule: Rule | str | FloatArray,
    shrunk_weight_kg: Numeric,
    diet_nem_mcal_per_kg: Numeric,
    factor: Numeric = 1.0,
) -> Numeric:
    """Return how appetite changes with the energy of the diet.

    Milk adds the same at any diet and so has no part in the slope.

    Diet energy is held as `appetite_per_kg075` holds it.

    Parameters
    ----------
    rule, shrunk_weight_kg, diet_nem_mcal_per_kg, factor
        As for ``appetite_kg``.

    Returns
    -------
    float or array
        Derivative of ``appetite_kg`` by diet energy; 0 where appetite is held. [kg^2/Mcal/d]

    Examples
    --------
    >>> rise = appetite_kg("calf", 300.0, 1.2001) - appetite_kg("calf", 300.0, 1.1999)
    >>> abs(appetite_slope("calf", 300.0, 1.2) - rise / 0.0002) < 1e-5
    True
    """
    given = np.asarray(diet_nem_mcal_per_kg, dtype=np.float64)
    nem, constant = _held(given), _constant(rule)
    if constant is not None:
        share = constant / nem**2 - GROWING_CURVE
    else:
        share = np.where(
            nem > LEAST_DIVISOR,
            COW_CURVE - COW_CONSTANT[str(rule)] / nem**2,
            2.0 * COW_CURVE * nem / LEAST_DIVISOR,
        )
    share = np.where((given < LEAST_NEM) | (given > MOST_NEM), 0.0, share)
    slope = metabolic_weight(shrunk_weight_kg) * share * factor
    return as_given(slope, shrunk_weight_kg, diet_nem_mcal_per_kg, factor, constant)


def ndf_cap_kg(
    full_weight_kg: Numeric, ndf_pct: Numeric, cap_pct_bw: Numeric = NDF_CAP_PCT_BW
) -> Numeric:
    """Return the forage that fills an animal with fibre.

    Source: Univ. of Missouri Extension, 1.2 %; Rayburn (1997), West Virginia Univ., 1.1 %.

    Parameters
    ----------
    full_weight_kg : float or array
        Body weight. [kg]
    ndf_pct : float or array
        Neutral detergent fibre of the forage, above 0 and at most 100. [% DM]
    cap_pct_bw : float or array
        Fibre an animal takes in a day. [% of body weight]

    Returns
    -------
    float or array
        Most forage dry matter. [kg/d]

    Examples
    --------
    >>> round(ndf_cap_kg(1300.0, 50.0, 1.1), 1)
    28.6
    """
    said = "The NDF of a forage must be above 0 and at most 100% of dry matter."
    ndf = within(ndf_pct, said, most=100.0, positive=True)
    return as_given(
        np.asarray(cap_pct_bw) * full_weight_kg / ndf, full_weight_kg, ndf_pct, cap_pct_bw
    )


def forage_intake_pct_bw(
    tdn_pct: Numeric, lactating: Numeric, *, stepwise: bool = False
) -> Numeric:
    """Return the forage a cow eats by the rule of its energy, as percent of her weight.

    A rule to show beside the equations; it over-predicts dry cows. It assumes that protein is
    adequate.

    Source: Hibberd & Thrift (1992), as given by Oklahoma State Univ.

    Parameters
    ----------
    tdn_pct : float or array
        Total digestible nutrients of the forage. [% DM]
    lactating : bool or array
        Whether she is in milk.
    stepwise : bool
        Whether to read the printed classes as steps. Otherwise the values stand at the class
        centres, with straight lines between and level ends.

    Returns
    -------
    float or array
        Dry matter. [% of body weight per day]

    Examples
    --------
    >>> forage_intake_pct_bw(55.0, True, stepwise=True)
    2.5
    >>> round(forage_intake_pct_bw(55.0, True), 2)
    2.48
    """
    tdn = np.asarray(tdn_pct, dtype=np.float64)
    if stepwise:
        low, high = CLASS_EDGES_TDN_PCT
        place = (tdn >= low).astype(np.intp) + (tdn > high).astype(np.intp)
        dry, milking = np.asarray(PCT_BW_DRY)[place], np.asarray(PCT_BW_LACTATING)[place]
    else:
        dry = np.interp(tdn, CLASS_CENTRES_TDN_PCT, PCT_BW_DRY)
        milking = np.interp(tdn, CLASS_CENTRES_TDN_PCT, PCT_BW_LACTATING)
    return as_given(np.where(lactating, milking, dry), tdn_pct, lactating)


def _constant(rule: str | FloatArray) -> float | FloatArray | None:
    """Return the constant of growing cattle, or of many; none for cows."""
    return GROWING_CONSTANT.get(_known(rule)) if isinstance(rule, str) else rule


def _known(rule: str) -> str:
    if rule not in RULES:
        raise OutOfRange(f'"{rule}" is no rule of intake; use {", ".join(PRINTED_RULES)}.')
    return rule


def _held(nem: Numeric) -> FloatArray:
    return np.clip(np.asarray(nem, dtype=np.float64), LEAST_NEM, MOST_NEM)
