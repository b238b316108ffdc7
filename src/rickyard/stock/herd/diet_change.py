"""How long a change of diet takes, and how much of it is made on which day."""

from __future__ import annotations

from math import ceil, floor

from rickyard.quantities import OutOfRange


def step_up_days(steps: int, days_each: int) -> int:
    """Return the days of a step-up of so many rations before the last.

    Source: Reinhardt, Kansas State Univ. (2017), four rations of five days each; derived.

    >>> step_up_days(4, 5)
    20
    """
    return steps * days_each


def days_to_amount(start: float, target: float, step: float, days_each: int = 1) -> int:
    """Return the days until a feed has been raised to an amount, in one unit of mass.

    Raises ``OutOfRange`` if a step is not above zero.

    Source: Wood, Univ. of Kentucky, half a pound of grain a day for horses; derived.

    >>> days_to_amount(2.0, 11.0, 1.0)
    9
    """
    if step <= 0.0 or days_each < 1:
        raise OutOfRange("A feed is raised by more than nothing, over a day or more a step.")
    return max(ceil(round((target - start) / step, 9)), 0) * days_each


def new_share_pct(day: int, step_pct: float, days_each: int) -> float:
    """Return the share of a new hay on a day of changing over, counted from 0 [%].

    Source: Wood, Univ. of Kentucky, a quarter every other day for horses.

    >>> new_share_pct(3, 25.0, 2)
    50.0
    """
    if days_each < 1:
        raise OutOfRange("A step takes a day or more.")
    return min(100.0, step_pct * (1 + floor(day / days_each)))
