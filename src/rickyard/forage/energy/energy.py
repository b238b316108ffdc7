"""Net energy from total digestible nutrients, by way of digestible and metabolizable energy.

The route is the one that the beef tables of the United States are printed by: 4.409 Mcal of
digestible energy per kilogram of TDN, 82 % of it metabolizable, then Garrett's cubics. What
TDN itself is computed from stands in ``tdn``.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.quantities import Numeric, as_given, not_negative

DE_PER_TDN_PCT: Final = 0.04409  # NRC 1996, Nutrient Requirements of Beef Cattle, p. 126
ME_PER_DE: Final = 0.82  # NRC 1996, p. 126
HALES_ME_LOSS_MCAL_PER_KG: Final = 0.39  # Hales et al. 2022, J. Anim. Sci. 100:skac013
# Hales 2019, Transl. Anim. Sci. (PMC7200974); constant, linear and square term.
HALES_2019: Final = (-0.9483, 1.3764, -0.057)

# Garrett's cubics, NRC Beef 1984-2016; Mcal/kg in and out.
NEM_CUBIC: Final = (-1.12, 1.37, -0.138, 0.0105)
NEG_CUBIC: Final = (-1.65, 1.42, -0.174, 0.0122)
#: Below these the cubics turn negative, and the forage is taken to hold none of that energy.
NEM_ZERO_AT_TDN_PCT: Final = 24.7
NEG_ZERO_AT_TDN_PCT: Final = 37.9

# NRC Dairy 1989, from memory; the same line in pounds is printed by the National Forage Testing
# Association.
NEL_PER_TDN_PCT: Final = 0.0245
NEL_INTERCEPT_MCAL_PER_KG: Final = -0.12


def de_from_tdn(tdn_pct: Numeric) -> Numeric:
    """Convert TDN to digestible energy.

    Source: NRC (1996), Nutrient Requirements of Beef Cattle, p. 126.

    Parameters
    ----------
    tdn_pct : float or array
        Total digestible nutrients, not negative. [% DM]

    Returns
    -------
    float or array
        Digestible energy. [Mcal/kg DM]

    Examples
    --------
    >>> round(de_from_tdn(60.0), 3)
    2.645
    """
    tdn = np.asarray(tdn_pct, dtype=np.float64)
    not_negative("TDN must not be negative.", tdn)
    return as_given(DE_PER_TDN_PCT * tdn, tdn_pct)


def me_from_de(de_mcal_per_kg: Numeric) -> Numeric:
    """Take 82 % of digestible energy as metabolizable, the default for forages.

    Source: NRC (1996), Nutrient Requirements of Beef Cattle, p. 126.

    Parameters
    ----------
    de_mcal_per_kg : float or array
        Digestible energy. [Mcal/kg DM]

    Returns
    -------
    float or array
        Metabolizable energy. [Mcal/kg DM]

    Examples
    --------
    >>> round(me_from_de(2.645), 3)
    2.169
    """
    return as_given(ME_PER_DE * np.asarray(de_mcal_per_kg), de_mcal_per_kg)


def me_hales2022(de_mcal_per_kg: Numeric) -> Numeric:
    """Take a constant loss off digestible energy, for growing and finishing cattle.

    Equal to the 82 % route near 2.2 Mcal/kg (hay) and above it for richer feeds.

    Source: Hales et al. (2022), J. Anim. Sci. 100:skac013.

    Parameters
    ----------
    de_mcal_per_kg : float or array
        Digestible energy. [Mcal/kg DM]

    Returns
    -------
    float or array
        Metabolizable energy. [Mcal/kg DM]

    Examples
    --------
    >>> round(me_hales2022(2.6454), 4)
    2.2554
    """
    return as_given(np.asarray(de_mcal_per_kg) - HALES_ME_LOSS_MCAL_PER_KG, de_mcal_per_kg)


def me_hales2019(de_mcal_per_kg: Numeric) -> Numeric:
    """Turn digestible into metabolizable energy by the curve of high-energy diets.

    Equal to the 82 % route near 2.2 Mcal/kg (hay), above it for richer feeds.

    Source: Hales (2019), Transl. Anim. Sci., PMC7200974.

    Parameters
    ----------
    de_mcal_per_kg : float or array
        Digestible energy. [Mcal/kg DM]

    Returns
    -------
    float or array
        Metabolizable energy. [Mcal/kg DM]

    Examples
    --------
    >>> round(me_hales2019(2.645), 3)
    2.294
    """
    constant, linear, square = HALES_2019
    de = np.asarray(de_mcal_per_kg, dtype=np.float64)
    return as_given(constant + de * (linear + de * square), de_mcal_per_kg)


def me_from_tdn(tdn_pct: Numeric) -> Numeric:
    """Convert TDN to metabolizable energy by the 82 % route.

    Parameters
    ----------
    tdn_pct : float or array
        Total digestible nutrients, not negative. [% DM]

    Returns
    -------
    float or array
        Metabolizable energy. [Mcal/kg DM]

    Examples
    --------
    >>> round(me_from_tdn(60.0), 3)
    2.169
    """
    return me_from_de(de_from_tdn(tdn_pct))


def nem_from_me(me_mcal_per_kg: Numeric) -> Numeric:
    """Convert metabolizable energy to net energy for maintenance by Garrett's cubic.

    Fitted for metabolizable energy of about 1.6-3.4 Mcal/kg.

    Source: Garrett's equation as used in NRC Nutrient Requirements of Beef Cattle, 1984 to 2016.

    Parameters
    ----------
    me_mcal_per_kg : float or array
        Metabolizable energy; the cubic is not valid per pound. [Mcal/kg DM]

    Returns
    -------
    float or array
        Net energy for maintenance; negative for a feed that cannot maintain. [Mcal/kg DM]

    Examples
    --------
    >>> round(nem_from_me(2.169), 2)
    1.31
    """
    return _cubic(NEM_CUBIC, me_mcal_per_kg)


def neg_from_me(me_mcal_per_kg: Numeric) -> Numeric:
    """Convert metabolizable energy to net energy for gain by Garrett's cubic.

    Fitted for metabolizable energy of about 1.6-3.4 Mcal/kg.

    Source: Garrett's equation as used in NRC Nutrient Requirements of Beef Cattle, 1984 to 2016.

    Parameters
    ----------
    me_mcal_per_kg : float or array
        Metabolizable energy; the cubic is not valid per pound. [Mcal/kg DM]

    Returns
    -------
    float or array
        Net energy for gain; negative for a feed that cannot put on gain. [Mcal/kg DM]

    Examples
    --------
    >>> round(neg_from_me(2.169), 3)
    0.736
    """
    return _cubic(NEG_CUBIC, me_mcal_per_kg)


def nem_from_tdn(tdn_pct: Numeric) -> Numeric:
    """Convert TDN to net energy for maintenance by the 82 % route.

    Source: NRC (1996), Nutrient Requirements of Beef Cattle; Garrett's cubics.

    Parameters
    ----------
    tdn_pct : float or array
        Total digestible nutrients, not negative. [% DM]

    Returns
    -------
    float or array
        Net energy for maintenance; 0 below TDN 24.7, which the caller marks. [Mcal/kg DM]

    Examples
    --------
    >>> round(nem_from_tdn(55.0), 3)
    1.141
    """
    return as_given(np.maximum(0.0, nem_from_me(me_from_tdn(tdn_pct))), tdn_pct)


def neg_from_tdn(tdn_pct: Numeric) -> Numeric:
    """Convert TDN to net energy for gain by the 82 % route.

    Source: NRC (1996), Nutrient Requirements of Beef Cattle; Garrett's cubics.

    Parameters
    ----------
    tdn_pct : float or array
        Total digestible nutrients, not negative. [% DM]

    Returns
    -------
    float or array
        Net energy for gain; 0 below TDN 37.9, which the caller marks. [Mcal/kg DM]

    Examples
    --------
    >>> round(neg_from_tdn(55.0), 3)
    0.582
    """
    return as_given(np.maximum(0.0, neg_from_me(me_from_tdn(tdn_pct))), tdn_pct)


def nel_from_tdn(tdn_pct: Numeric) -> Numeric:
    """Convert TDN to net energy for lactation.

    Source: NRC (1989), Nutrient Requirements of Dairy Cattle, from memory; the same line in pounds
    is printed by the National Forage Testing Association.

    Parameters
    ----------
    tdn_pct : float or array
        Total digestible nutrients. [% DM]

    Returns
    -------
    float or array
        Net energy for lactation. [Mcal/kg DM]

    Examples
    --------
    >>> round(nel_from_tdn(60.0), 2)
    1.35
    """
    return as_given(NEL_PER_TDN_PCT * np.asarray(tdn_pct) + NEL_INTERCEPT_MCAL_PER_KG, tdn_pct)


def _cubic(coefficients: tuple[float, float, float, float], me_mcal_per_kg: Numeric) -> Numeric:
    me = np.asarray(me_mcal_per_kg, dtype=np.float64)
    constant, first, second, third = coefficients
    return as_given(constant + me * (first + me * (second + me * third)), me_mcal_per_kg)
