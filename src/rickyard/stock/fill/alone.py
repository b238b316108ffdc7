"""What an animal eats of a forage that is offered alone, for every class of stock and stage.

Free choice, in weather that asks nothing of it, with every animal at the feed. The rule of a class
and stage is named by `fill_rule`; the number is the smaller of what its rule says of a forage of
that energy and of what its fiber allows.
"""

from __future__ import annotations

from functools import cache
from typing import Final

import numpy as np

from rickyard.farm import AnimalClass
from rickyard.quantities import Numeric, as_given, within
from rickyard.stock.common import Row, find_row, read_rows
from rickyard.stock.equations import ndf_cap_kg

#: TDN at the centres of poor, medium and good forage, as for `forage_intake_pct_bw`. [% DM]
QUALITY_TDN_PCT: Final = (48.0, 55.5, 62.0)

#: Dairy heifers: 15.36 (1 - exp(-0.0022 weight)), Hoffman et al. 2008, from memory. [kg, 1/kg]
HEIFER_MOST_KG: Final = 15.36
HEIFER_PER_KG: Final = 0.0022

#: Dry dairy cows and heifers in calf, percent of weight by days to calving: a - b exp(c days),
#: NRC 2001, from memory; the cow's agrees with the printed table at days 240, 270 and 279.
DRY_COW: Final = (1.97, 0.75, -0.16)
DRY_HEIFER: Final = (1.71, 0.69, -0.35)

#: How much more intake falls before the birth of twins than of a single. Common practice.
TWINS_FALL: Final = 0.25 / 0.15

#: Forage above this much NDF fills sooner, by a tenth of a percent of weight: Rayburn 1997,
#: West Virginia Univ., against Univ. of Missouri Extension.
TOUGH_NDF_PCT: Final = 70.0
TOUGH_LESS_PCT_BW: Final = 0.1

#: Last days of pregnancy in which ewes and does have less room. Common practice.
LATE_DAYS: Final = 42.0

_QUALITIES: Final = ("poor_pct_bw", "medium_pct_bw", "good_pct_bw")
_NURSING: Final = {
    AnimalClass.COW: "cow_nursing",
    AnimalClass.FIRST_CALF_HEIFER: "first_calf_heifer_nursing",
    AnimalClass.BRED_HEIFER: "first_calf_heifer_nursing",
    AnimalClass.EWE: "ewe_nursing",
    AnimalClass.EWE_LAMB: "ewe_nursing",
    AnimalClass.DOE: "doe_nursing",
    AnimalClass.MARE: "mare_nursing",
}
_LATE: Final = {
    AnimalClass.EWE: "ewe_late",
    AnimalClass.EWE_LAMB: "ewe_late",
    AnimalClass.DOE: "doe_late",
}
_ELSE: Final = {
    AnimalClass.COW: "cow_dry",
    AnimalClass.FIRST_CALF_HEIFER: "first_calf_heifer",
    AnimalClass.BRED_HEIFER: "first_calf_heifer",
    AnimalClass.REPLACEMENT_HEIFER: "heifer",
    AnimalClass.STOCKER: "calf",
    AnimalClass.BULL: "bull",
    AnimalClass.EWE: "ewe_dry",
    AnimalClass.EWE_LAMB: "lamb",
    AnimalClass.RAM: "ewe_dry",
    AnimalClass.FEEDER_LAMB: "lamb",
    AnimalClass.DOE: "doe_dry",
    AnimalClass.KID: "kid",
    AnimalClass.BUCK: "doe_dry",
    AnimalClass.DONKEY: "donkey",
    AnimalClass.MULE: "donkey",
    AnimalClass.DAIRY_HEIFER: "dairy_heifer",
    AnimalClass.DRY_DAIRY_COW: "dry_dairy_cow",
    AnimalClass.LLAMA: "llama",
    AnimalClass.ALPACA: "alpaca",
}


@cache
def fill_rules() -> tuple[str, ...]:
    """Return the names of the rules, in the order of their table.

    Examples
    --------
    >>> fill_rules()[:2]
    ('cow_dry', 'cow_nursing')
    """
    return tuple(row["rule"] for row in read_rows("forage_alone"))


def fill_rule(
    animal_class: AnimalClass, *, nursing: bool = False, late: bool = False, young: float = 1.0
) -> str:
    """Return the rule by which a class of stock in a stage is filled by forage.

    Parameters
    ----------
    animal_class : AnimalClass
        The class.
    nursing : bool
        Whether it nurses young.
    late : bool
        Whether it is in the last six weeks of pregnancy; it counts for ewes and does.
    young : float
        Young that a ewe raises.

    Returns
    -------
    str
        A name of `fill_rules`.

    Examples
    --------
    >>> fill_rule(AnimalClass.EWE, nursing=True, young=2.0), fill_rule(AnimalClass.MARE)
    ('ewe_nursing_twins', 'horse')
    """
    if nursing and animal_class in _NURSING:
        name = _NURSING[animal_class]
        return "ewe_nursing_twins" if name == "ewe_nursing" and young > 1.0 else name
    if late and animal_class in _LATE:
        return _LATE[animal_class]
    return _ELSE.get(animal_class, "horse")


def intake_alone_kg(
    rule: str,
    full_weight_kg: Numeric,
    tdn_pct: Numeric,
    ndf_pct: Numeric,
    *,
    days_to_birth: Numeric = np.inf,
    young: float = 1.0,
    in_calf_heifer: bool = False,
) -> Numeric:
    """Return the dry matter an animal eats of a forage that is offered alone.

    Parameters
    ----------
    rule : str
        What `fill_rule` says of its class and stage.
    full_weight_kg : float or array
        Body weight. [kg]
    tdn_pct, ndf_pct : float or array
        Energy and fiber of the forage. [% DM]
    days_to_birth : float or array
        Days until it calves, lambs or kids; infinite where it does not. [d]
    young : float
        Young that it bears; ewes and does with more than one eat less at the end.
    in_calf_heifer : bool
        Whether a dry dairy animal has not calved before.

    Returns
    -------
    float or array
        Dry matter, before weather, mud, crowding and a lack of protein. [kg/d]

    Raises
    ------
    OutOfRange
        If the rule is unknown, or the fiber is not above 0 and at most 100 %.

    Notes
    -----
    The printed percentages of body weight stand at TDN 48, 55.5 and 62 %, straight lines between
    and level ends (common practice). Fiber allows ``cap x weight / NDF`` (`ndf_most_kg`); horses
    and donkeys have no such cap. Dairy stock is told by equations of its own. The program counts
    beef cattle by the equations of net energy, `appetite_kg`; their rows here are for a forage
    whose net energy is not known.

    References
    ----------
    .. [1] The table ``forage_alone`` names the source of each row and how it is known.

    Examples
    --------
    >>> round(intake_alone_kg("ewe_dry", 70.0, 55.5, 62.0), 2)
    1.26
    >>> round(intake_alone_kg("cow_dry", 590.0, 62.0, 68.0), 2)
    10.41
    """
    weight = np.asarray(full_weight_kg, dtype=np.float64)
    days = np.asarray(days_to_birth, dtype=np.float64)
    if rule == "dairy_heifer":
        eaten = np.asarray(dairy_heifer_intake_kg(weight))
    elif rule == "dry_dairy_cow":
        eaten = np.asarray(dry_dairy_intake_kg(weight, days, heifer=in_calf_heifer))
    else:
        row = _row(rule)
        printed = [float(row[name]) for name in _QUALITIES]
        eaten = np.interp(np.asarray(tdn_pct), QUALITY_TDN_PCT, printed) / 100.0 * weight
    eaten = eaten * np.asarray(late_factor(rule, days, young))
    filled = np.asarray(fiber_fills_kg(rule, weight, ndf_pct))
    return as_given(np.minimum(eaten, filled), full_weight_kg, tdn_pct, ndf_pct, days_to_birth)


def fiber_fills_kg(rule: str, full_weight_kg: Numeric, ndf_pct: Numeric) -> Numeric:
    """Return the forage dry matter [kg/d] that fills an animal with fiber; infinite for horses.

    Above 70 % NDF a tenth of a percent of weight less.

    Source: as for `ndf_cap_kg` and the table ``forage_alone``.

    >>> round(fiber_fills_kg("ewe_nursing", 70.0, 60.0), 2), fiber_fills_kg("donkey", 160.0, 60.0)
    (1.75, inf)
    """
    cap = ndf_cap_pct_bw(rule)
    ndf = np.asarray(ndf_pct, dtype=np.float64)
    if not np.isfinite(cap):
        return as_given(
            np.full(np.broadcast(full_weight_kg, ndf).shape, np.inf), full_weight_kg, ndf_pct
        )
    less = np.where(ndf > TOUGH_NDF_PCT, TOUGH_LESS_PCT_BW, 0.0)
    return as_given(ndf_cap_kg(full_weight_kg, ndf, cap - less), full_weight_kg, ndf_pct)


def ndf_cap_pct_bw(rule: str) -> float:
    """Return the fiber that fills an animal, infinite where none is known.

    Parameters
    ----------
    rule : str
        What `fill_rule` says.

    Returns
    -------
    float
        Fiber (NDF) of forage. [% of body weight]

    >>> ndf_cap_pct_bw("dairy_heifer"), ndf_cap_pct_bw("horse")
    (1.0, inf)
    """
    cap = _row(rule)["ndf_cap_pct_bw"]
    return float(cap) if cap else float("inf")


def dairy_heifer_intake_kg(weight_kg: Numeric) -> Numeric:
    """Return the dry matter of a dairy heifer [kg/d].

    Source: Hoffman et al. (2008), from memory; Holsteins.

    >>> round(dairy_heifer_intake_kg(300.0), 2)
    7.42
    """
    share = -np.expm1(-HEIFER_PER_KG * np.asarray(weight_kg, dtype=np.float64))
    return as_given(HEIFER_MOST_KG * share, weight_kg)


def dry_dairy_intake_kg(
    weight_kg: Numeric, days_to_calving: Numeric, *, heifer: bool = False
) -> Numeric:
    """Return the dry matter of a dry dairy cow, or of a dairy heifer before her first calving.

    Parameters
    ----------
    weight_kg : float or array
        Body weight with the conceptus. [kg]
    days_to_calving : float or array
        Days until she calves. [d]
    heifer : bool
        Whether she has not calved before.

    Returns
    -------
    float or array
        Dry matter. [kg/d]

    Raises
    ------
    OutOfRange
        If the days are below zero.

    References
    ----------
    .. [1] NRC (2001), Nutrient Requirements of Dairy Cattle, 7th rev. ed.; from memory.

    Examples
    --------
    >>> [round(dry_dairy_intake_kg(w, d), 1) for w, d in ((730, 40), (751, 10), (757, 1))]
    [14.4, 13.7, 10.1]
    """
    said = "Days to calving are not below zero."
    days = within(days_to_calving, said, least=0.0)
    level, drop, rate = DRY_HEIFER if heifer else DRY_COW
    share = level - drop * np.exp(rate * days)
    return as_given(share / 100.0 * np.asarray(weight_kg), weight_kg, days_to_calving)


def metabolic_intake_kg(weight_kg: Numeric, g_per_kg075: Numeric) -> Numeric:
    """Return dry matter [kg/d] from grams per kilogram of metabolic weight, as trials print it.

    >>> round(metabolic_intake_kg(130.0, 56.6), 2)
    2.18
    """
    weight = np.asarray(weight_kg, dtype=np.float64)
    return as_given(weight**0.75 * np.asarray(g_per_kg075) / 1000.0, weight_kg, g_per_kg075)


def late_factor(rule: str, days_to_birth: Numeric, young: float = 1.0) -> Numeric:
    """Return the factor [-] of the last weeks before a birth on what is eaten.

    Parameters
    ----------
    rule : str
        What `fill_rule` says.
    days_to_birth : float or array
        Days until the birth, infinite where there is none. [d]
    young : float
        Young that it bears.

    Returns
    -------
    float or array
        1 until the last weeks, then falling along a straight line; 1 where the rule has no fall of
        its own. [-]

    Raises
    ------
    OutOfRange
        If the rule is unknown.

    References
    ----------
    .. [1] Jordan et al. (1973), Can. J. Anim. Sci. 53:733: cows eat up to 12 % less at the end.
    .. [2] The line, and the fall of ewes and does, are common practice.

    Examples
    --------
    >>> late_factor("cow_dry", 21.0), late_factor("ewe_late", 0.0, young=2.0)
    (0.94, 0.75)
    """
    row = _row(rule)
    decline, days = float(row["late_decline_frac"]), float(row["late_days"])
    if decline == 0.0:
        return as_given(np.ones(np.shape(days_to_birth)), days_to_birth)
    if young > 1.0 and rule in _LATE.values():
        decline *= TWINS_FALL
    left = np.maximum(np.asarray(days_to_birth, dtype=np.float64), 0.0)
    return as_given(1.0 - decline * np.maximum(days - left, 0.0) / days, days_to_birth)


def _row(rule: str) -> Row:
    return find_row("forage_alone", rule=rule)
