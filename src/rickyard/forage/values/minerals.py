"""Minerals as electric charges, and the ratios that decide over tetany and milk fever."""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.quantities import Numeric, as_given, positive

# Oetzel 1993, as printed in Manitoba Agriculture's review of potassium and tetany ratios:
# milliequivalents per kilogram in one percent.
MEQ_PER_KG_PER_PCT: Final[dict[str, float]] = {
    "na": 434.98,
    "k": 255.74,
    "cl": 282.06,
    "s": 623.75,
    "ca": 499.00,
    "mg": 822.64,
}


def pct_to_meq_per_kg(element: str, pct: Numeric) -> Numeric:
    """Convert a mineral from percent to milliequivalents of charge.

    Source: Oetzel (1993), as printed in Manitoba Agriculture, A Review of Potassium and Tetany
    Ratios.

    Parameters
    ----------
    element : str
        ``na``, ``k``, ``cl``, ``s``, ``ca`` or ``mg``, in either case. Another raises ``KeyError``.
    pct : float or array
        Content. [% DM]

    Returns
    -------
    float or array
        Charge. [meq/kg DM]

    Examples
    --------
    >>> pct_to_meq_per_kg("Na", 1.0)
    434.98
    """
    return as_given(MEQ_PER_KG_PER_PCT[element.lower()] * np.asarray(pct), pct)


def dcad_meq_per_kg(na_pct: Numeric, k_pct: Numeric, cl_pct: Numeric, s_pct: Numeric) -> Numeric:
    """Return the dietary cation-anion difference, sodium and potassium less chlorine and sulfur.

    The four-element form. Variants that weight sulfur or add calcium, magnesium and phosphorus
    give other numbers and are not to be mixed with it.

    Source: Oetzel (1993), conversion factors.

    Parameters
    ----------
    na_pct, k_pct, cl_pct, s_pct : float or array
        Sodium, potassium, chlorine and sulfur. [% DM]

    Returns
    -------
    float or array
        The difference; a tenth of it is meq per 100 g. [meq/kg DM]

    Examples
    --------
    >>> round(dcad_meq_per_kg(0.037, 0.71, 0.14, 0.11), 1)
    89.6
    """
    charges = (
        pct_to_meq_per_kg("na", na_pct)
        + pct_to_meq_per_kg("k", k_pct)
        - pct_to_meq_per_kg("cl", cl_pct)
        - pct_to_meq_per_kg("s", s_pct)
    )
    return as_given(charges, na_pct, k_pct, cl_pct, s_pct)


def tetany_ratio(k_pct: Numeric, ca_pct: Numeric, mg_pct: Numeric) -> Numeric:
    """Divide the charge of potassium by that of calcium and magnesium.

    A ratio of means is not a mean of ratios: published means of ratios differ.

    Source: Oetzel (1993); Kemp's ratio as reviewed by Manitoba Agriculture.

    Parameters
    ----------
    k_pct, ca_pct, mg_pct : float or array
        Potassium, calcium and magnesium. [% DM]

    Returns
    -------
    float or array
        The ratio, NaN where calcium and magnesium are none; above 2.2 a risk of grass tetany.
        [-]

    Examples
    --------
    >>> round(tetany_ratio(0.71, 0.44, 0.14), 2)
    0.54
    """
    below = np.asarray(pct_to_meq_per_kg("ca", ca_pct) + pct_to_meq_per_kg("mg", mg_pct))
    safe = positive(below)
    return as_given(pct_to_meq_per_kg("k", k_pct) / safe, k_pct, ca_pct, mg_pct)
