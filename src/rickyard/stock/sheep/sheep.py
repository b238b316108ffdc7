"""Daily needs of sheep by the table of NRC 1985, and what goes with it."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from types import MappingProxyType
from typing import Final, Literal

import numpy as np

from rickyard.evidence import PRACTICE
from rickyard.quantities import Numeric, OutOfRange, as_given, within
from rickyard.stock.common import (
    RuminantNeed,
    all_along,
    column,
    find_rows,
    read_rows,
    weakest,
)
from rickyard.types import FloatArray

EDITION: Final = "NRC 1985 sheep"

#: The classes of the table and what they mean.
SHEEP_CLASSES: Final = MappingProxyType(
    {row["class"]: row["meaning"] for row in read_rows("sheep_classes")}
)

#: How far past its first and last row the table is carried on. Common practice.
MOST_BEYOND_KG: Final = 10.0

#: The rows of mature ewes lie 10 kg apart; a fat ewe takes the next lighter, a thin the next
#: heavier (NRC 1985, p. 45).
ROW_STEP_KG: Final = 10.0

#: Triplets have no row: twins with this much more. Common practice.
TRIPLET_ENERGY_FACTOR: Final = 1.10
TRIPLET_CP_FACTOR: Final = 1.08
TWIN_ROWS: Final = ("ewe_late_gest_180_225", "ewe_lact_twin", "ewelamb_lact_twin")

#: Entire males need this much more energy (CSIRO; New Zealand inventory 1990-2013, p. 158).
RAM_ENERGY_FACTOR: Final = 1.15
#: Rams are heavier than the heaviest ewe of the table, whose rows lie on a line. Common practice.
MOST_RAM_KG: Final = 160.0

#: Lambs per hundred ewes that part the two rows of late pregnancy. Common practice.
LATE_SPLIT_PCT: Final = 165.0
#: Half way between the rows of ewe lambs, 100-120 and 130-175 %. Common practice.
EWE_LAMB_LATE_SPLIT_PCT: Final = 125.0

Condition = Literal["thin", "moderate", "fat"]

_KINDS: Final = (
    "dm_kg", "tdn_kg", "de_mcal", "me_mcal", "cp_g", "ca_g", "p_g", "vitamin_a_iu", "vitamin_e_iu",
)  # fmt: skip


@lru_cache(maxsize=32)
def _class_table(sheep_class: str) -> tuple[FloatArray, MappingProxyType[str, FloatArray]]:
    rows = find_rows("sheep_1985", **{"class": sheep_class})
    values = {name: column(rows, name) for name in (*_KINDS, "adg_g", "dm_pct_bw")}
    return column(rows, "bw_kg"), MappingProxyType(values)


def sheep_1985(
    sheep_class: str, weight_kg: Numeric, *, most_beyond_kg: float = MOST_BEYOND_KG
) -> RuminantNeed:
    """Return the daily need of a class of sheep by weight.

    Straight lines between rows and past the ends, where a flag says so; never across classes.
    The gain of each row is part of it and not an input.

    Source: NRC (1985), Nutrient Requirements of Sheep, 6th rev. ed., Table 1; rows of p. 45 seen,
    the others from memory and cross-checked.

    Parameters
    ----------
    sheep_class : str
        A key of ``SHEEP_CLASSES``.
    weight_kg : float or array
        Body weight. [kg]
    most_beyond_kg : float
        How far past the first and last row of the class the table is carried on. Farther raises
        ``OutOfRange``. [kg]

    Returns
    -------
    RuminantNeed
        Amounts per head and day. Vitamin D is not told.

    Examples
    --------
    >>> need = sheep_1985("ewe_maintenance", 65.0)
    >>> round(need.cp_g, 1), need.evidence
    (108.5, 'seen')
    """
    points, values = _class_table(sheep_class)
    low, high = float(points[0]), float(points[-1])
    said = (
        f"{SHEEP_CLASSES[sheep_class]}: the table covers {low:.0f} to {high:.0f} kg and is "
        f"carried on {most_beyond_kg:.0f} kg past either end."
    )
    weight = within(weight_kg, said, low - most_beyond_kg, high + most_beyond_kg)
    told = all_along(weight, points, {name: values[name] for name in _KINDS})
    found = {name: as_given(value, weight_kg) for name, value in told.items()}
    beyond = bool(np.any((weight < low) | (weight > high)))
    evidence = _evidence(sheep_class, weight, points)
    return RuminantNeed(
        evidence=weakest(evidence, PRACTICE) if beyond else evidence,
        flags=(f"carried on past the rows of {low:.0f} to {high:.0f} kg",) if beyond else (),
        **found,
    )


def _evidence(sheep_class: str, weight: FloatArray, points: FloatArray) -> str:
    rows = find_rows("sheep_1985", **{"class": sheep_class})
    lower = np.clip(np.searchsorted(points, weight, side="right") - 1, 0, len(rows) - 1)
    upper = np.clip(np.searchsorted(points, weight, side="left"), 0, len(rows) - 1)
    used = np.unique(np.concatenate([np.ravel(lower), np.ravel(upper)])).tolist()
    return weakest(*(rows[int(at)]["evidence"] for at in used))


def printed_gain_g(sheep_class: str, weight_kg: Numeric) -> Numeric:
    """Return the daily gain that a row of the table stands for [g/d].

    >>> printed_gain_g("lamb_finishing", 40.0)
    275.0
    """
    points, values = _class_table(sheep_class)
    gain = all_along(weight_kg, points, {"adg_g": values["adg_g"]})
    return as_given(gain["adg_g"], weight_kg)


def condition_weight_kg(weight_kg: Numeric, condition: Condition) -> Numeric:
    """Return the weight at which a ewe's row is read for her condition [kg].

    A fat ewe takes the next lighter row, a thin one the next heavier.

    Source: NRC (1985), p. 45: values are for ewes in moderate condition.

    >>> condition_weight_kg(70.0, "thin")
    80.0
    """
    step = {"thin": ROW_STEP_KG, "moderate": 0.0, "fat": -ROW_STEP_KG}
    if condition not in step:
        raise OutOfRange(f"A ewe is thin, moderate or fat, not {condition}.")
    return as_given(np.asarray(weight_kg) + step[condition], weight_kg)


def with_triplets(need: RuminantNeed) -> RuminantNeed:
    """Return a need read from a row of twins as one for triplets.

    Common practice, no published source: the table has no row for triplets. Ewes with singles,
    twins and triplets are best fed apart.

    >>> round(with_triplets(sheep_1985("ewe_lact_twin", 70.0)).tdn_kg, 3)
    2.002
    """
    factor = TRIPLET_ENERGY_FACTOR
    return replace(
        need,
        dm_kg=need.dm_kg * factor,
        tdn_kg=need.tdn_kg * factor,
        me_mcal=need.me_mcal * factor,
        de_mcal=None if need.de_mcal is None else need.de_mcal * factor,
        cp_g=need.cp_g * TRIPLET_CP_FACTOR,
        evidence=weakest(need.evidence, PRACTICE),
        flags=(*need.flags, "triplets counted as twins with 10% more feed and 8% more protein"),
    )


def late_pregnancy_class(lambs_per_ewe: float, *, ewe_lambs: bool = False) -> str:
    """Return the row of late pregnancy for the litter that was scanned or is expected.

    Split at 165 % for ewes and 125 % for ewe lambs; common practice, no published source.

    >>> late_pregnancy_class(1.8)
    'ewe_late_gest_180_225'
    """
    rate = 100.0 * lambs_per_ewe
    if ewe_lambs:
        many = rate >= EWE_LAMB_LATE_SPLIT_PCT
        return "ewelamb_late_gest_130_175" if many else "ewelamb_late_gest_100_120"
    return "ewe_late_gest_180_225" if rate >= LATE_SPLIT_PCT else "ewe_late_gest_130_150"


def ram_1985(weight_kg: Numeric, *, breeding: bool = False) -> RuminantNeed:
    """Return the daily need of a mature ram.

    ``weight_kg``: body weight, 40 to 160. ``breeding``: whether it is in the six weeks before
    breeding or at it: fed as a ewe at flushing. Raises ``OutOfRange`` if a weight lies outside the
    range.

    The table has no mature rams. Outside breeding it is the ewe's maintenance, carried on to the
    ram's weight, with 15 % more energy and the dry matter that holds it.

    Source: NRC (1985), Table 1; CSIRO factor of entire males. Common practice.

    >>> round(ram_1985(90.0).tdn_kg, 3)
    0.897
    """
    rows = "ewe_flushing" if breeding else "ewe_maintenance"
    heaviest = float(_class_table(rows)[0][-1])
    need = sheep_1985(rows, weight_kg, most_beyond_kg=MOST_RAM_KG - heaviest)
    if np.any(np.asarray(weight_kg) < _class_table(rows)[0][0] - MOST_BEYOND_KG):
        raise OutOfRange("Mature rams weigh 40 kg (88 lb) or more; use a row for ram lambs.")
    factor = 1.0 if breeding else RAM_ENERGY_FACTOR
    return replace(
        need,
        dm_kg=need.dm_kg * factor,
        tdn_kg=need.tdn_kg * factor,
        me_mcal=need.me_mcal * factor,
        de_mcal=None if need.de_mcal is None else need.de_mcal * factor,
        evidence=PRACTICE,
        flags=(*need.flags, "no row for mature rams: read from the rows of ewes"),
    )
