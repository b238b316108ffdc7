"""The ways between TDN, digestible and metabolizable energy, each by the edition that uses it."""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.quantities import Numeric, as_given

#: NRC 1985 sheep: footnotes of Table 1, New Mexico State Univ. copy (seen).
SHEEP_1985_DE_PER_TDN: Final = 4.4
ME_PER_DE: Final = 0.82

#: NRC 1981 goats, p. 10 (seen): DE : ME : NE = 76 : 62 : 35.
GOAT_1981_DE_PER_TDN: Final = 4.409
GOAT_1981_ME_PER_DE: Final = 62.0 / 76.0

#: Modern default for ruminants: 0.82 x 4.409.
ME_PER_TDN: Final = ME_PER_DE * GOAT_1981_DE_PER_TDN

#: Horses: DE = 0.044 x TDN %, Kentucky Equine Research (seen).
HORSE_DE_PER_TDN: Final = 4.4

#: Ruminant TDN overstates mature hay for horses by about this share (from memory).
RUMINANT_TDN_EXCESS_FOR_HORSES: Final = 0.10


def tdn_from_me_kg(me_mcal: Numeric) -> Numeric:
    """Return the TDN that holds an amount of metabolizable energy, for ruminants.

    Source: ME = 0.82 x 4.409 x TDN, the modern default.

    Parameters
    ----------
    me_mcal : float or array
        Metabolizable energy. [Mcal]

    Returns
    -------
    float or array
        TDN. [kg]

    Examples
    --------
    >>> round(tdn_from_me_kg(4.36), 2)
    1.21
    """
    return as_given(np.asarray(me_mcal) / ME_PER_TDN, me_mcal)


def me_from_tdn_mcal(tdn_kg: Numeric) -> Numeric:
    """Return the metabolizable energy of an amount of TDN, for ruminants.

    Parameters
    ----------
    tdn_kg : float or array
        TDN. [kg]

    Returns
    -------
    float or array
        Metabolizable energy. [Mcal]

    Examples
    --------
    >>> round(me_from_tdn_mcal(1.0), 4)
    3.6154
    """
    return as_given(np.asarray(tdn_kg) * ME_PER_TDN, tdn_kg)


def goat_de_from_me_mcal(me_mcal: Numeric) -> Numeric:
    """Return digestible from metabolizable energy as NRC 1981 does for goats.

    Parameters
    ----------
    me_mcal : float or array
        Metabolizable energy. [Mcal]

    Returns
    -------
    float or array
        Digestible energy. [Mcal]

    Examples
    --------
    >>> round(goat_de_from_me_mcal(1.906), 2)
    2.34
    """
    return as_given(np.asarray(me_mcal) / GOAT_1981_ME_PER_DE, me_mcal)


def goat_tdn_from_me_kg(me_mcal: Numeric) -> Numeric:
    """Return TDN from metabolizable energy as NRC 1981 does for goats.

    Parameters
    ----------
    me_mcal : float or array
        Metabolizable energy. [Mcal]

    Returns
    -------
    float or array
        TDN. [kg]

    Examples
    --------
    >>> round(1000 * goat_tdn_from_me_kg(1.906))
    530
    """
    de = np.asarray(me_mcal) / GOAT_1981_ME_PER_DE
    return as_given(de / GOAT_1981_DE_PER_TDN, me_mcal)


def ruminant_tdn_for_horse_kg(de_mcal: Numeric) -> Numeric:
    """Return the TDN, as reported for ruminants, of hay that carries a horse's energy.

    More than NRC 1989 gives: the TDN on a hay report is that of ruminants, which
    digest mature hay about 10 % better. On the safe side for young hay.

    Source: From memory: ruminant TDN x 0.044 overstates mature hay for horses by about 10 %.

    Parameters
    ----------
    de_mcal : float or array
        Digestible energy the horse needs. [Mcal]

    Returns
    -------
    float or array
        TDN of hay on the ruminant scale. [kg]

    Examples
    --------
    >>> round(ruminant_tdn_for_horse_kg(16.65), 2)
    4.16
    """
    excess = 1.0 + RUMINANT_TDN_EXCESS_FOR_HORSES
    return as_given(np.asarray(de_mcal) * excess / HORSE_DE_PER_TDN, de_mcal)
