"""Nitrate in forage: its three forms, its hazard classes, and how much of a ration it may be.

All classes are by nitrate-nitrogen in the dry matter. A number without its form is never
classified: the forms differ by a factor of up to seven.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import numpy as np

from rickyard.forage.values.classes import CLASS_TABLES
from rickyard.quantities import Numeric, OutOfRange, as_given, not_negative

# Molar masses, g/mol, by definition.
NITROGEN_G_PER_MOL: Final = 14.007
NO3_G_PER_MOL: Final = 62.005
KNO3_G_PER_MOL: Final = 101.103
NO3_PER_NO3N: Final = NO3_G_PER_MOL / NITROGEN_G_PER_MOL
KNO3_PER_NO3N: Final = KNO3_G_PER_MOL / NITROGEN_G_PER_MOL
PPM_PER_PCT: Final = 10_000.0  # by definition

CLEMSON: Final = CLASS_TABLES["nitrate_clemson"]
SERVITECH: Final = CLASS_TABLES["nitrate_servitech"]
# Largest share of ration dry matter by class of the Clemson table; the strict end of 35-40 %.
_CLEMSON_SHARE_OTHER: Final = (1.0, 1.0, 0.50, 0.35, 0.25, 0.0, np.nan)
_CLEMSON_SHARE_PREGNANT: Final = (1.0, 0.50, 0.50, 0.0, 0.0, 0.0, np.nan)
# The ServiTech table names shares for pregnant stock up to Medium; none is safe above.
_SERVITECH_SHARE_PREGNANT: Final = (1.0, 0.50, 0.25, 0.0, 0.0, 0.0, np.nan)
#: "Not for pregnant" is taken to start at the limit itself, the stricter reading.
PREGNANT_NONE_FROM_PPM: Final = 2000.0

#: The Clemson table applied to the whole diet: what is safe without a limit on the share.
DIET_NO3N_CEILING_PREGNANT_PPM: Final = 1000.0
DIET_NO3N_CEILING_OTHER_PPM: Final = 1500.0

#: Ordinary spread of a laboratory's result (Cattle Today, December 2012).
LAB_SPREAD_NO3N_PPM: Final = 100.0


def no3_from_no3n(no3n_ppm: Numeric) -> Numeric:
    """Convert nitrate-nitrogen to nitrate.

    Parameters
    ----------
    no3n_ppm : float or array
        Nitrate-nitrogen. [ppm]

    Returns
    -------
    float or array
        Nitrate, NO3. [ppm]

    Examples
    --------
    >>> round(no3_from_no3n(1000.0))
    4427
    """
    return as_given(np.asarray(no3n_ppm) * NO3_PER_NO3N, no3n_ppm)


def no3n_from_no3(no3_ppm: Numeric) -> Numeric:
    """Convert nitrate to nitrate-nitrogen.

    Parameters
    ----------
    no3_ppm : float or array
        Nitrate, NO3. [ppm]

    Returns
    -------
    float or array
        Nitrate-nitrogen. [ppm]

    Examples
    --------
    >>> round(no3n_from_no3(4427.0))
    1000
    """
    return as_given(np.asarray(no3_ppm) / NO3_PER_NO3N, no3_ppm)


def no3n_from_kno3(kno3_ppm: Numeric) -> Numeric:
    """Convert potassium nitrate to nitrate-nitrogen.

    Parameters
    ----------
    kno3_ppm : float or array
        Potassium nitrate, KNO3. [ppm]

    Returns
    -------
    float or array
        Nitrate-nitrogen. [ppm]

    Examples
    --------
    >>> round(no3n_from_kno3(10_000.0))
    1385
    """
    return as_given(np.asarray(kno3_ppm) / KNO3_PER_NO3N, kno3_ppm)


#: The forms of nitrate that a report may state, each with its way to nitrate-nitrogen.
NITRATE_FORMS: Final[dict[str, Callable[[Numeric], Numeric]]] = {
    "nitrate_no3n": lambda ppm: ppm,
    "nitrate_no3": no3n_from_no3,
    "nitrate_kno3": no3n_from_kno3,
}


def kno3_pct_from_no3_ppm(no3_ppm: Numeric) -> Numeric:
    """Convert nitrate in parts per million to potassium nitrate in percent.

    Parameters
    ----------
    no3_ppm : float or array
        Nitrate, NO3. [ppm]

    Returns
    -------
    float or array
        Potassium nitrate, KNO3. [%]

    Examples
    --------
    >>> round(kno3_pct_from_no3_ppm(6000.0), 2)
    0.98
    """
    return as_given(no3n_from_no3(no3_ppm) * KNO3_PER_NO3N / PPM_PER_PCT, no3_ppm)


def nitrate_class_clemson(no3n_ppm_dm: float) -> str:
    """Return the Clemson class of a forage; a value on a limit takes the lower class.

    Source: Clemson University Agricultural Service Laboratory, nitrate levels.

    Parameters
    ----------
    no3n_ppm_dm : float
        Nitrate-nitrogen in the dry matter, 0 or more. [ppm]

    Returns
    -------
    str
        What the class allows.

    Examples
    --------
    >>> nitrate_class_clemson(2500.0)
    'max 35-40% of ration DM; not for pregnant'
    """
    return CLEMSON.label(_amount(no3n_ppm_dm))


def nitrate_class_servitech(no3n_ppm_dm: float) -> str:
    """Return the ServiTech class of a forage; the lower limit belongs to the class.

    Source: ServiTech Crop File 6.05.022, rating nitrate hazard in forages.

    Parameters
    ----------
    no3n_ppm_dm : float
        Nitrate-nitrogen in the dry matter, 0 or more. [ppm]

    Returns
    -------
    str
        The name of the class.

    Examples
    --------
    >>> nitrate_class_servitech(1000.0)
    'Low'
    """
    return SERVITECH.label(_amount(no3n_ppm_dm))


def nitrate_share_limit(no3n_ppm_dm: Numeric, pregnant: bool) -> Numeric:
    """Return the largest share of a ration that a forage may be for its nitrate.

    Other stock goes by the Clemson table, with the strict end of "35-40 %". Pregnant stock goes
    by the stricter of the Clemson and ServiTech tables. Everything else that carries nitrate,
    water too, counts against the ceiling of the whole diet.

    Source: Clemson University Agricultural Service Laboratory, nitrate levels; ServiTech Crop File
    6.05.022, rating nitrate hazard in forages.

    Parameters
    ----------
    no3n_ppm_dm : float or array
        Nitrate-nitrogen in the dry matter, 0 or more; NaN in an array only. [ppm]
    pregnant : bool
        Whether the stock is or may be pregnant.

    Returns
    -------
    float or array
        Largest fraction of ration dry matter: 1 without limit, 0 not to be fed. [-]

    Examples
    --------
    >>> nitrate_share_limit(1600.0, pregnant=False), nitrate_share_limit(1600.0, pregnant=True)
    (0.5, 0.25)
    """
    given = np.asarray(no3n_ppm_dm, dtype=np.float64)
    if np.any(given < 0.0) or (given.ndim == 0 and np.isnan(given)):
        raise OutOfRange("Nitrate-nitrogen must be a number, 0 or more.")
    # What is not given stands in the last place of each list of shares.
    clemson = CLEMSON.places(given)
    if not pregnant:
        return as_given(np.take(_CLEMSON_SHARE_OTHER, clemson), no3n_ppm_dm)
    share = np.minimum(
        np.take(_CLEMSON_SHARE_PREGNANT, clemson),
        np.take(_SERVITECH_SHARE_PREGNANT, SERVITECH.places(given)),
    )
    return as_given(np.where(given >= PREGNANT_NONE_FROM_PPM, 0.0, share), no3n_ppm_dm)


def nitrate_mix_share_pct(hay_ppm: Numeric, other_ppm: Numeric, limit_ppm: Numeric) -> Numeric:
    """Return the most of a diet that hay rich in nitrate may be beside other feed.

    Source: derived: the balance of a mix. The classes of `nitrate_share_limit` hold beside it.

    Parameters
    ----------
    hay_ppm, other_ppm, limit_ppm : float or array
        Nitrate-nitrogen in the dry matter of the hay, of all else (under the limit), and at most
        in the whole; none below zero. [ppm]

    Returns
    -------
    float or array
        Percent of the dry matter, held at 100 where the hay itself is within the limit; NaN where
        one of the three is not known. [%]

    Examples
    --------
    >>> round(nitrate_mix_share_pct(2400.0, 200.0, 1000.0), 2)
    36.36
    """
    hay, other, limit = (
        np.asarray(one, dtype=np.float64) for one in (hay_ppm, other_ppm, limit_ppm)
    )
    not_negative("Nitrate-nitrogen must be a number, 0 or more.", hay, other)
    if np.any(other >= limit):
        raise OutOfRange("The other feed is at the limit of nitrate already: nothing dilutes it.")
    over = hay > limit
    share = np.where(over, 100.0 * (limit - other) / np.where(over, hay - other, 1.0), 100.0)
    share = np.where(np.isnan(hay) | np.isnan(other) | np.isnan(limit), np.nan, share)
    return as_given(share, hay_ppm, other_ppm, limit_ppm)


def _amount(no3n_ppm_dm: float) -> float:
    if not no3n_ppm_dm >= 0.0:
        raise OutOfRange("Nitrate-nitrogen must be a number, 0 or more.")
    return no3n_ppm_dm
