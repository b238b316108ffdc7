"""What is believable for hay: limits that refuse, and remarks on what is merely doubtful.

The limits are common practice (no published source) unless one is named beside them. They catch
the usual slips of the hand: a percent typed as a fraction, width and diameter swapped, pounds
typed as kilograms. In an array NaN is what nobody knows and passes every limit; a single NaN is a
slip. `equation` holds the limits of an equation's inputs at its head.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import wraps
from inspect import signature
from typing import Any, Final, ParamSpec

import numpy as np

from rickyard.display import with_unit
from rickyard.quantities import KG_M3_PER_LB_FT3, M_PER_FT, Numeric, OutOfRange, as_given

# Common practice, no published source, for all limits of this module.
ROUND_BALE_SIDE_M: Final = (3.0 * M_PER_FT, 6.5 * M_PER_FT)
MOST_WET_DENSITY_KG_M3: Final = 45.0 * KG_M3_PER_LB_FT3
DM_PCT: Final = (5.0, 98.0)

# A bound that went through a unit conversion may sit a few units of the last place off.
_ROUNDING: Final = 1e-9

P = ParamSpec("P")


def _judge(value: Numeric, good: Callable[[Numeric], Numeric]) -> float | None:
    """Return the first number that is not good: a single one always, of an array what is known."""
    if isinstance(value, float | int):
        return None if good(value) else float(value)
    values = np.asarray(value, dtype=np.float64)
    values = np.atleast_1d(values) if values.ndim == 0 else values[~np.isnan(values)]
    bad = ~good(values)
    return float(values[bad][0]) if bad.any() else None


def require_between(name: str, value: Numeric, low: float, high: float, unit: str = "") -> None:
    """Refuse a value outside a closed interval, or a single one that is not a number.

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
    rickyard.quantities.OutOfRange: moisture 150% is outside 0 to 100%.
    """
    slack = _ROUNDING * (1.0 + abs(low))
    bad = _judge(value, lambda values: (values >= low - slack) & (values <= high + slack))
    if bad is None:
        return
    first = with_unit(f"{bad:g}", unit)
    if math.isfinite(high):
        most = with_unit(f"{high:g}", unit)
        raise OutOfRange(f"{name} {first} is outside {low:g} to {most}.")
    raise OutOfRange(f"{name} {first} is under {with_unit(f'{low:g}', unit)}.")


def require_not_negative(name: str, value: Numeric, unit: str = "") -> None:
    """Refuse a value that is negative or not finite; as `require_between`.

    Parameters
    ----------
    name, value, unit
        As in `require_between`.

    Examples
    --------
    >>> require_not_negative("days", -1.0, "d")
    Traceback (most recent call last):
    ...
    rickyard.quantities.OutOfRange: days -1 d is negative or not a number.
    """
    bad = _judge(value, lambda values: (values >= 0.0) & (values < math.inf))
    if bad is not None:
        raise OutOfRange(f"{name} {with_unit(f'{bad:g}', unit)} is negative or not a number.")


def require_positive(name: str, value: Numeric, unit: str = "") -> None:
    """Refuse a value that is zero, negative or not finite; as `require_between`.

    Parameters
    ----------
    name, value, unit
        As in `require_between`.

    Examples
    --------
    >>> require_positive("bale weight", 0.0, "kg")
    Traceback (most recent call last):
    ...
    rickyard.quantities.OutOfRange: bale weight 0 kg must be above zero.
    """
    bad = _judge(value, lambda values: (values > 0.0) & (values < math.inf))
    if bad is not None:
        raise OutOfRange(f"{name} {with_unit(f'{bad:g}', unit)} must be above zero.")


def require_loss(name: str, loss_pct: Numeric) -> None:
    """Refuse a loss that is negative or leaves nothing.

    Parameters
    ----------
    name : str
        Which loss it is, in the words of the message.
    loss_pct : float or array
        The loss, 0 to under 100. [%]

    Examples
    --------
    >>> require_loss("feeding loss", 100.0)
    Traceback (most recent call last):
    ...
    rickyard.quantities.OutOfRange: feeding loss 100% must be at least 0 and under 100%.
    """
    bad = _judge(loss_pct, lambda values: (values >= 0.0) & (values < 100.0))
    if bad is not None:
        raise OutOfRange(f"{name} {bad:g}% must be at least 0 and under 100%.")


def require_dm(dm_pct: Numeric) -> None:
    """Refuse a dry-matter percentage that no feed has, most often one typed as a fraction.

    Parameters
    ----------
    dm_pct : float or array
        Dry matter as fed, 5 to 98. [%]

    Examples
    --------
    >>> require_dm(0.88)
    Traceback (most recent call last):
    ...
    rickyard.quantities.OutOfRange: dry matter 0.88% is outside 5 to 98%.
    """
    require_between("dry matter", dm_pct, *DM_PCT, "%")


def equation(
    **rules: tuple[Any, ...],
) -> Callable[[Callable[P, Numeric]], Callable[P, Numeric]]:
    """Hold the limits of an equation's inputs, and give a float back where all of them are floats.

    Parameters
    ----------
    **rules : tuple
        For an input its limit: one of the functions above, and what that takes beside the value.
        They are held in the order written; an input that is left out has none.

    Returns
    -------
    callable
        What makes of an equation for arrays one for floats and arrays that refuses the rest.

    Examples
    --------
    >>> @equation(weight=(require_positive, "bale weight", "kg"))
    ... def half(weight):
    ...     return np.divide(weight, 2.0)
    >>> half(3.0), half(np.array([3.0, np.nan]))
    (1.5, array([1.5, nan]))
    >>> half(0.0)
    Traceback (most recent call last):
    ...
    rickyard.quantities.OutOfRange: bale weight 0 kg must be above zero.
    """

    def held(function: Callable[P, Numeric]) -> Callable[P, Numeric]:
        names = tuple(signature(function).parameters)

        @wraps(function)
        def worked(*args: P.args, **kwargs: P.kwargs) -> Numeric:
            given = {**dict(zip(names, args, strict=False)), **kwargs}
            for name, (require, *said) in rules.items():
                if given.get(name) is not None:
                    require(*said[:1], given[name], *said[1:])
            result = function(*args, **kwargs)
            return as_given(result, result)

        return worked

    return held
