"""Forage that a supplement puts aside, and what starch costs in the digestion of fiber.

The published bounds are wide; the rates inside them stand in the table ``substitution`` and are
common practice.
"""

from __future__ import annotations

from functools import cache
from typing import Final, Literal

import numpy as np

from rickyard.quantities import Numeric, OutOfRange, as_given, within
from rickyard.stock.common import column, find_rows, read_rows
from rickyard.stock.fill.alone import QUALITY_TDN_PCT
from rickyard.types import FloatArray

Kind = Literal["protein", "fibre", "starch"]

#: Edges of poor and good forage, as in the table. [% TDN]
EDGES_TDN_PCT: Final = (52.0, 58.0)
#: Forage of at most so much TDN for each part of protein counts as good: Moore et al. 1999.
ENOUGH_TDN_TO_CP: Final = 7.0

#: Forage for each part of starch where hay is stretched on purpose: 1 lb of corn for 1.5 to 1.9 lb
#: of hay is an exchange of energy and not what stock do by themselves (eXtension).
STRETCHING_SHARE: Final = 1.5

#: Digestibility of NDF lost for each percent of body weight of concentrate, percentage units:
#: J. Anim. Sci. Technol. 2015, growing cattle on grass and straw, 0 to 2 %. [-]
NDF_DIGESTIBILITY_PER_PCT_BW: Final = 8.06

#: The same trial: forage put aside for each part of concentrate, by first weight and concentrate.
ZEBU_SHARE: Final = 1.16
ZEBU_PER_KG: Final = -0.00589
ZEBU_PER_PCT_BW: Final = 0.215
ZEBU_KG: Final = (90.0, 200.0)

_QUALITY_COLUMNS: Final = ("poor_kg_per_kg", "medium_kg_per_kg", "good_kg_per_kg")


def forage_put_aside_kg(
    supplement_kg: Numeric,
    full_weight_kg: Numeric,
    kind: Kind,
    *,
    forage_tdn_pct: Numeric = QUALITY_TDN_PCT[1],
    forage_tdn_to_cp: float | None = None,
    stretching: bool = False,
) -> Numeric:
    """Return the forage dry matter that a supplement takes the place of, fed free choice.

    Parameters
    ----------
    supplement_kg : float or array
        Dry matter of the supplement. [kg/d]
    full_weight_kg : float or array
        Body weight. [kg]
    kind : {"protein", "fibre", "starch"}
        What it is; distillers grains, gluten feed and soyhulls are fibre.
    forage_tdn_pct : float or array
        Energy of the forage. [% DM]
    forage_tdn_to_cp : float, optional
        TDN over crude protein of the forage; at 7 or below it counts as good. [-]
    stretching : bool
        Whether starch is fed to stretch the hay.

    Returns
    -------
    float or array
        Forage not eaten. [kg/d]

    Raises
    ------
    OutOfRange
        If the kind is unknown, the supplement below zero or the weight not above it.

    Notes
    -----
    Forage counts in three classes with steps between them; one whose TDN is not known counts in
    none, and the answer is NaN. At the end of each band of the table its rate is met, with straight
    lines between and the last one going on: the forage put aside rises ever faster, never by steps.
    That a protein feed lets stock eat more of a forage short of protein is not counted.

    References
    ----------
    .. [1] Moore et al. (1999), 444 comparisons; Chase & Hibberd (1987).
    .. [2] The rates inside their bounds are common practice.

    Examples
    --------
    >>> forage_put_aside_kg(1.0, 544.0, "protein", forage_tdn_to_cp=8.0)
    0.0
    >>> round(forage_put_aside_kg(2.72, 544.0, "starch"), 2)
    1.9
    """
    bands, rates = _bands(kind)
    weight = within(full_weight_kg, "Weights are above zero.", positive=True)
    supplement = within(supplement_kg, "Supplement is not below zero.", least=0.0)
    if kind == "starch" and stretching:
        return as_given(STRETCHING_SHARE * supplement, supplement_kg, full_weight_kg)
    tdn = within(forage_tdn_pct, "TDN of forage is 0 to 100 %.", least=0.0, most=100.0)
    low, high = EDGES_TDN_PCT
    quality = (tdn >= low).astype(np.intp) + (tdn > high).astype(np.intp)
    if forage_tdn_to_cp is not None and forage_tdn_to_cp <= ENOUGH_TDN_TO_CP:
        quality = np.full_like(quality, len(_QUALITY_COLUMNS) - 1)
    share = 100.0 * supplement / weight
    ends = np.concatenate(([0.0], bands))
    aside = np.concatenate((np.zeros((1, len(_QUALITY_COLUMNS))), bands[:, None] * rates))
    slopes = np.diff(aside, axis=0) / np.diff(ends)[:, None]
    found = np.zeros(np.broadcast(share, quality).shape)
    for at, first in enumerate(ends[:-1]):
        last = np.inf if at == len(bands) - 1 else ends[at + 1]
        found = found + np.clip(share - first, 0.0, last - first) * slopes[at][quality]
    found = np.where(np.isnan(tdn), np.nan, found * weight / 100.0)
    return as_given(found, supplement_kg, full_weight_kg, forage_tdn_pct)


def put_aside_rate(kind: Kind, supplement_pct_bw: Numeric, forage_tdn_pct: Numeric) -> Numeric:
    """Return the forage put aside for each part of a supplement, at an amount of it.

    Forage counts in three classes with steps between them.

    Parameters
    ----------
    kind : {"protein", "fibre", "starch"}
        What it is.
    supplement_pct_bw : float or array
        Dry matter of it, above zero. [% of body weight a day]
    forage_tdn_pct : float or array
        Energy of the forage. [% DM]

    Returns
    -------
    float or array
        Forage not eaten for each kilogram. [kg/kg]

    References
    ----------
    .. [1] As for ``forage_put_aside_kg``.

    Examples
    --------
    >>> round(put_aside_rate("starch", 0.5, 55.0), 2)
    0.7
    """
    share = np.asarray(supplement_pct_bw, dtype=np.float64)
    aside = forage_put_aside_kg(share, 100.0, kind, forage_tdn_pct=forage_tdn_pct)
    return as_given(np.asarray(aside) / share, supplement_pct_bw, forage_tdn_pct)


def forage_beside_kg(forage_alone_kg: Numeric, concentrate_kg: Numeric, rate: Numeric) -> Numeric:
    """Return the forage [kg/d] eaten beside concentrate that puts aside ``rate`` kg for each kg.

    >>> round(forage_beside_kg(11.8, 3.0, 0.4), 2)
    10.6
    """
    left = np.asarray(forage_alone_kg) - np.asarray(rate) * np.asarray(concentrate_kg)
    return as_given(np.maximum(left, 0.0), forage_alone_kg, concentrate_kg, rate)


def growing_zebu_rate(first_weight_kg: Numeric, concentrate_pct_bw: Numeric) -> Numeric:
    """Return the forage put aside, kg/kg, by growing cattle of 90 to 200 kg on grass and straw.

    Source: J. Anim. Sci. Technol. (2015), Table 3.

    >>> round(growing_zebu_rate(120.0, 1.0), 3)
    0.668
    """
    share = ZEBU_SHARE + ZEBU_PER_KG * np.asarray(first_weight_kg)
    return as_given(
        share + ZEBU_PER_PCT_BW * np.asarray(concentrate_pct_bw),
        first_weight_kg,
        concentrate_pct_bw,
    )


def tdn_lost_frac(ndf_eaten_pct_bw: Numeric) -> Numeric:
    """Return the TDN of forage [kg] that a kilogram of starchy concentrate costs.

    Each percent of body weight of concentrate takes 8.06 percentage units from the digestibility
    of NDF; a kilogram of fiber that is not digested is a kilogram of TDN less. The body weight
    falls out: what counts is the fiber eaten, as percent of it.

    Source: J. Anim. Sci. Technol. (2015), NDF digestibility 59.8 - 8.06 x (concentrate, % of
    weight); derived. The worst published case, poor hay with much corn, is twice as much.

    >>> round(tdn_lost_frac(1.2), 3)
    0.097
    """
    return as_given(
        NDF_DIGESTIBILITY_PER_PCT_BW / 100.0 * np.asarray(ndf_eaten_pct_bw), ndf_eaten_pct_bw
    )


@cache
def _bands(kind: str) -> tuple[FloatArray, FloatArray]:
    """Return the ends of the bands of a kind [% of weight] and the rates at them, by quality."""
    kinds = dict.fromkeys(row["kind"] for row in read_rows("substitution"))
    if kind not in kinds:
        raise OutOfRange(f'"{kind}" is no kind of supplement; use {", ".join(kinds)}.')
    rows = find_rows("substitution", kind=kind)
    rates = np.stack([column(rows, name) for name in _QUALITY_COLUMNS], axis=1)
    return column(rows, "to_pct_bw"), rates
