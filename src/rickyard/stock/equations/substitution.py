"""Forage that a supplement puts aside, and the fibre that fills an animal before its appetite.

The published bounds are wide; the factors inside them are common practice and named so.
"""

from __future__ import annotations

from types import MappingProxyType
from typing import Final, Literal

import numpy as np

from rickyard.quantities import Numeric, OutOfRange, as_given
from rickyard.stock.equations.intake import NDF_CAP_PCT_BW, ndf_cap_kg
from rickyard.stock.equations.protein import RESPONSIVE_TDN_TO_CP

Kind = Literal["protein", "fibre", "starch"]

PROTEIN_PCT_BW: Final = 0.3  # no substitution up to here: common practice, about 2 lb (Arizona)
STARCH_PCT_BW: Final = 0.25  # eXtension: up to here without harm to the digestion of fibre
FIBRE_PCT_BW: Final = 0.5  # common practice, no published source

#: Kilograms of forage for each kilogram of supplement dry matter: common practice, inside the
#: bounds of eXtension (1 lb of corn puts aside 1.5 to 1.9 lb of hay when it stretches it).
SHARES: Final = MappingProxyType({"protein": 0.0, "fibre": 0.4, "starch": 1.0})
STRETCHING_SHARE: Final = 1.5

TOUGH_NDF_PCT: Final = 70.0  # common practice, no published source
TOUGH_CAP_PCT_BW: Final = 1.1


def forage_put_aside_kg(
    supplement_kg: Numeric,
    full_weight_kg: Numeric,
    kind: Kind,
    *,
    forage_tdn_to_cp: float | None = None,
    stretching: bool = False,
) -> Numeric:
    """Return the forage dry matter that a supplement takes the place of.

    Parameters
    ----------
    supplement_kg : float or array
        Dry matter of the supplement. [kg/d]
    full_weight_kg : float or array
        Body weight. [kg]
    kind : {"protein", "fibre", "starch"}
        What it is; distillers grains, gluten feed and soyhulls are fibre.
    forage_tdn_to_cp : float, optional
        TDN over crude protein of the forage; above 7 a protein feed puts none aside. [-]
    stretching : bool
        Whether starch is fed to stretch the hay.

    Returns
    -------
    float or array
        Forage not eaten. [kg/d]

    Raises
    ------
    OutOfRange
        If the kind is unknown.

    Notes
    -----
    Protein feeds: none up to 0.3 % of weight on forage short of protein, else as fibre. Fibre
    feeds: 0.4 beyond 0.5 % of weight. Starch: 1.0 beyond 0.25 % of weight, 1.5 when stretching.

    References
    ----------
    .. [1] Moore et al. (1999), 444 comparisons; eXtension; Univ. of Arizona.
    .. [2] The factors inside their bounds are common practice.

    Examples
    --------
    >>> forage_put_aside_kg(1.0, 544.0, "protein", forage_tdn_to_cp=8.0)
    0.0
    >>> round(forage_put_aside_kg(3.0, 544.0, "starch"), 2)
    1.64
    """
    free_pct = {"protein": PROTEIN_PCT_BW, "fibre": FIBRE_PCT_BW, "starch": STARCH_PCT_BW}
    if kind not in free_pct:
        raise OutOfRange(f'"{kind}" is no kind of supplement; use {", ".join(free_pct)}.')
    share, free = SHARES[kind], free_pct[kind]
    if kind == "starch" and stretching:
        share, free = STRETCHING_SHARE, 0.0
    if kind == "protein":
        share = SHARES["fibre"]
        if forage_tdn_to_cp is not None and forage_tdn_to_cp <= RESPONSIVE_TDN_TO_CP:
            free = 0.0
    over = np.maximum(np.asarray(supplement_kg) - free / 100.0 * np.asarray(full_weight_kg), 0.0)
    return as_given(share * over, supplement_kg, full_weight_kg)


def forage_limit_kg(
    appetite_kg: Numeric, full_weight_kg: Numeric, ndf_pct: Numeric
) -> tuple[Numeric, Numeric]:
    """Return the forage an animal takes: its appetite, or the fibre that fills it if less.

    The smaller of the two [kg/d], and whether it is the fibre, which is above 0 and at most 100 %.

    Fibre up to 1.2 % of weight, 1.1 % in forage above 70 % NDF (common practice).

    Source: Univ. of Missouri Extension, 1.2 %; Rayburn (1997), West Virginia Univ., 1.1 %.

    >>> forage_limit_kg(14.0, 540.0, 60.0)
    (10.8, True)
    """
    cap = np.where(np.asarray(ndf_pct) > TOUGH_NDF_PCT, TOUGH_CAP_PCT_BW, NDF_CAP_PCT_BW)
    most = np.asarray(ndf_cap_kg(full_weight_kg, ndf_pct, cap))
    filled = most < np.asarray(appetite_kg)
    eaten = as_given(np.minimum(most, appetite_kg), appetite_kg, full_weight_kg, ndf_pct)
    scalar = np.ndim(eaten) == 0
    return eaten, bool(filled) if scalar else filled
