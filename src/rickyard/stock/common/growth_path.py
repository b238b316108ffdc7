"""The weight of growing small stock day by day, where the gain hangs on the weight."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from rickyard.types import FloatArray, IntArray


def weight_path(
    weight_kg: float,
    start: int,
    days: IntArray,
    gain_kg: Callable[[float, int], float],
    most_kg: float,
) -> tuple[FloatArray, FloatArray]:
    """Return weight and gain on each day.

    Parameters
    ----------
    weight_kg : float
        Weight on the first day. [kg]
    start : int
        That day, as an ordinal. [d]
    days : array of int, shape (T,)
        The days asked for; before the first the weight is held. [d]
    gain_kg : callable
        Gain of a day from the weight and the day. [kg/d]
    most_kg : float
        Weight at which growth is no longer counted. [kg]

    Returns
    -------
    tuple of array, shape (T,)
        Weight and gain. [kg, kg/d]

    Examples
    --------
    >>> weight, gain = weight_path(30.0, 10, np.array([5, 10, 12, 40]), lambda w, d: 0.2, 33.0)
    >>> weight.round(1).tolist(), gain.tolist()
    ([30.0, 30.0, 30.4, 33.0], [0.0, 0.2, 0.2, 0.0])
    """
    last = max(int(days.max()), start)
    weights, gains = np.empty(last - start + 1), np.zeros(last - start + 1)
    weight = weight_kg
    for at in range(last - start + 1):
        weights[at] = weight
        gain = gain_kg(weight, start + at) if weight < most_kg else 0.0
        gains[at] = gain
        weight = min(weight + gain, max(most_kg, weight))
    index = np.maximum(days - start, 0)
    return weights[index], np.where(days < start, 0.0, gains[index])
