"""What is believable for hay: limits that refuse, and remarks on what is merely doubtful.

The limits are common practice (no published source) unless one is named beside them. They catch
the usual slips of the hand: a percent typed as a fraction, width and diameter swapped, pounds
typed as kilograms.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.quantities import KG_M3_PER_LB_FT3, M_PER_FT, Numeric, OutOfRange

# Common practice, no published source, for all limits of this module.
ROUND_BALE_SIDE_M: Final = (3.0 * M_PER_FT, 6.5 * M_PER_FT)
DENSITY_AS_FED_KG_M3: Final = (6.0 * KG_M3_PER_LB_FT3, 20.0 * KG_M3_PER_LB_FT3)
MOST_DRY_DENSITY_KG_M3: Final = 25.0 * KG_M3_PER_LB_FT3
MOST_WET_DENSITY_KG_M3: Final = 45.0 * KG_M3_PER_LB_FT3
DM_PCT: Final = (5.0, 98.0)

# A bound that went through a unit conversion may sit a few units of the last place off.
_ROUNDING: Final = 1e-9


def require_between(name: str, value: Numeric, low: float, high: float, unit: str) -> None:
    """Refuse a value outside a closed interval, or one that is not a number.

    Parameters
    ----------
    name : str
        What the value is, in the words of the message.
    value : float or array
        The value, any shape. [unit]
    low, high : float
        Least and greatest value accepted. [unit]
    unit : str
        Unit for the message.

    Raises
    ------
    OutOfRange
        If any element lies outside ``low`` to ``high``, naming the first that does.

    Examples
    --------
    >>> require_between("moisture", 15.0, 0.0, 100.0, "%")
    >>> require_between("moisture", 150.0, 0.0, 100.0, "%")
    Traceback (most recent call last):
    ...
    rickyard.quantities.OutOfRange: moisture 150 % is outside 0 to 100 %.
    """
    values = np.atleast_1d(np.asarray(value, dtype=np.float64))
    slack = _ROUNDING * max(1.0, abs(low) if np.isfinite(low) else 1.0)
    bad = ~((values >= low - slack) & (values <= high + slack))
    if not bad.any():
        return
    first = float(values[bad][0])
    if np.isfinite(high):
        raise OutOfRange(f"{name} {first:g} {unit} is outside {low:g} to {high:g} {unit}.")
    raise OutOfRange(f"{name} {first:g} {unit} is under {low:g} {unit}.")


def require_not_negative(name: str, value: Numeric, unit: str) -> None:
    """Refuse a negative value, or one that is not a finite number.

    Parameters
    ----------
    name : str
        What the value is, in the words of the message.
    value : float or array
        The value, any shape. [unit]
    unit : str
        Unit for the message.

    Raises
    ------
    OutOfRange
        If any element is negative or not finite.

    Examples
    --------
    >>> require_not_negative("days", -1.0, "d")
    Traceback (most recent call last):
    ...
    rickyard.quantities.OutOfRange: days -1 d is negative or not a number.
    """
    values = np.atleast_1d(np.asarray(value, dtype=np.float64))
    bad = ~(np.isfinite(values) & (values >= 0.0))
    if bad.any():
        raise OutOfRange(f"{name} {float(values[bad][0]):g} {unit} is negative or not a number.")


def require_positive(name: str, value: Numeric, unit: str) -> None:
    """Refuse a value that is zero, negative or not a finite number.

    Parameters
    ----------
    name : str
        What the value is, in the words of the message.
    value : float or array
        The value, any shape. [unit]
    unit : str
        Unit for the message.

    Raises
    ------
    OutOfRange
        If any element is not a finite number above zero.

    Examples
    --------
    >>> require_positive("bale weight", 0.0, "kg")
    Traceback (most recent call last):
    ...
    rickyard.quantities.OutOfRange: bale weight 0 kg must be above zero.
    """
    values = np.atleast_1d(np.asarray(value, dtype=np.float64))
    bad = ~(np.isfinite(values) & (values > 0.0))
    if bad.any():
        said = f"{name} {float(values[bad][0]):g} {unit}".rstrip()
        raise OutOfRange(f"{said} must be above zero.")


def require_loss(name: str, loss_pct: Numeric) -> None:
    """Refuse a loss that is negative or leaves nothing.

    Parameters
    ----------
    name : str
        Which loss it is, in the words of the message.
    loss_pct : float or array
        The loss. [%]

    Raises
    ------
    OutOfRange
        If any element is negative, or 100 or more.

    Examples
    --------
    >>> require_loss("feeding loss", 100.0)
    Traceback (most recent call last):
    ...
    rickyard.quantities.OutOfRange: feeding loss 100 % must be at least 0 and under 100 %.
    """
    values = np.atleast_1d(np.asarray(loss_pct, dtype=np.float64))
    bad = ~((values >= 0.0) & (values < 100.0))
    if bad.any():
        first = float(values[bad][0])
        raise OutOfRange(f"{name} {first:g} % must be at least 0 and under 100 %.")


def require_dm(dm_pct: Numeric) -> None:
    """Refuse a dry-matter percentage that no feed has, most often one typed as a fraction.

    Parameters
    ----------
    dm_pct : float or array
        Dry matter as fed. [%]

    Raises
    ------
    OutOfRange
        If any element is outside 5 to 98 %.

    Examples
    --------
    >>> require_dm(0.88)
    Traceback (most recent call last):
    ...
    rickyard.quantities.OutOfRange: dry matter 0.88 % is outside 5 to 98 %.
    """
    require_between("dry matter", dm_pct, *DM_PCT, "%")


def density_remark(density_as_fed_kg_m3: float, *, wet: bool = False) -> str | None:
    """Return what to ask about a bale's density, or ``None`` when it is ordinary.

    A bale weight and its size are believable together only when the density they imply is.

    Parameters
    ----------
    density_as_fed_kg_m3 : float
        Weight as fed over volume. [kg/m3]
    wet : bool
        Whether the bale is baleage, which may be heavier.

    Returns
    -------
    str or None
        A request for a weigh ticket.

    Raises
    ------
    OutOfRange
        If no bale is that light or that heavy.

    Examples
    --------
    >>> density_remark(180.0)
    >>> density_remark(350.0)
    'density 350 kg/m3 is high for dry hay: weigh a few bales or check their size.'
    >>> density_remark(500.0)
    Traceback (most recent call last):
    ...
    rickyard.quantities.OutOfRange: bale density 500 kg/m3 is outside 96.1108 to 400.462 kg/m3.
    """
    most = MOST_WET_DENSITY_KG_M3 if wet else MOST_DRY_DENSITY_KG_M3
    require_between("bale density", density_as_fed_kg_m3, DENSITY_AS_FED_KG_M3[0], most, "kg/m3")
    if wet or density_as_fed_kg_m3 <= DENSITY_AS_FED_KG_M3[1]:
        return None
    return (
        f"density {density_as_fed_kg_m3:g} kg/m3 is high for dry hay: "
        "weigh a few bales or check their size."
    )
