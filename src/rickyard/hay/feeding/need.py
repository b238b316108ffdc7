"""Hay need: from what the animals eat back to what must stand in the yard.

Losses divide, and they multiply each other: hay eaten / (1 - waste) / (1 - storage loss). Adding
the percentages, or multiplying by one plus them, buys too little hay. Masses are in any one
mass unit, the same throughout a call. A mass or count that is negative, a loss outside 0 to
under 100 % and dry matter outside 5 to 98 % raise `OutOfRange`.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, Literal

import numpy as np

from rickyard.hay.common import (
    equation,
    require_between,
    require_dm,
    require_loss,
    require_not_negative,
)
from rickyard.quantities import Numeric

LossMode = Literal["divide", "multiply"]

MOST_INTAKE_PCT_BW: Final = 6.0  # common practice: nothing on hay eats more


@equation(
    head=(require_not_negative, "head"),
    dm_per_head_day=(require_not_negative, "dry matter"),
    days=(require_not_negative, "days"),
    cold_factor=(require_not_negative, "cold factor"),
)
def group_dm(
    head: Numeric, dm_per_head_day: Numeric, days: Numeric, cold_factor: Numeric = 1.0
) -> Numeric:
    """Dry matter a group eats, or hay it wastes, in the mass unit of a head and day [mass].

    A cold factor of 1.1 is a tenth more.

    Examples
    --------
    >>> group_dm(150, 30.0, 180)
    810000.0
    """
    return np.multiply(head, dm_per_head_day) * np.multiply(days, cold_factor)


@equation(
    weight=(require_not_negative, "weight"),
    intake_pct_bw=(require_between, "intake", 0.0, MOST_INTAKE_PCT_BW, "% of body weight"),
)
def herd_dm(
    head: Numeric,
    weight: Numeric,
    intake_pct_bw: Numeric,
    days: Numeric,
    cold_factor: Numeric = 1.0,
) -> Numeric:
    """Dry matter a group eats, by the rule of a percentage of body weight.

    A rough plan: 1.5 % for hay under 6 % crude protein, 2.0 % over 8 %, 2.5 % for excellent hay
    or all classes together (Selk). The season program computes intake from the hay instead.

    Source: Selk, Forage quality drives beef intake; Schwab & Lippolis (2019), Iowa State.

    Parameters
    ----------
    head, days, cold_factor
        As in `group_dm`.
    weight : float or array
        Body weight of one, in any one mass unit. [mass]
    intake_pct_bw : float or array
        Dry matter eaten in a day, at most 6. [% of body weight]

    Returns
    -------
    float or array
        Dry matter, in the same mass unit. [mass]

    Examples
    --------
    >>> herd_dm(100, 1400.0, 2.5, 150)
    525000.0
    """
    daily = np.multiply(weight, intake_pct_bw) / 100.0
    return group_dm(head, daily, days, cold_factor)


@equation(dm=(require_not_negative, "dry matter"), dm_pct=(require_dm,))
def as_fed_from_dm(dm: Numeric, dm_pct: Numeric) -> Numeric:
    """Feed as it lies that holds a given dry matter, in one mass unit; 5 to 98 % dry matter.

    Examples
    --------
    >>> round(as_fed_from_dm(24.0, 70.0), 1)
    34.3
    """
    return dm / np.divide(dm_pct, 100.0)


@equation(amount=(require_not_negative, "amount"), loss_pct=(require_loss, "loss"))
def before_loss(amount: Numeric, loss_pct: Numeric, mode: LossMode = "divide") -> Numeric:
    """Amount, or price, that must go in so that a given one is left after a loss.

    Parameters
    ----------
    amount : float or array
        What is to be left: a mass, or a price per mass eaten.
    loss_pct : float or array
        Loss of what goes in. [%]
    mode : {"divide", "multiply"}
        ``"divide"`` is right. ``"multiply"``, amount times one plus the loss, is what some
        publications print, and falls short: 20 % of loss needs 25 % more hay, not 20.

    Returns
    -------
    float or array
        What must go in, in the unit of ``amount``.

    Examples
    --------
    >>> before_loss(60.0, 20.0)
    75.0
    >>> before_loss(60.0, 20.0, mode="multiply")
    72.0
    """
    lost = np.divide(loss_pct, 100.0)
    return np.multiply(amount, 1.0 + lost) if mode == "multiply" else amount / (1.0 - lost)


@equation(amount=(require_not_negative, "amount"), loss_pct=(require_loss, "loss"))
def lost(amount: Numeric, loss_pct: Numeric) -> Numeric:
    """Find what a loss takes: hay out of the hay offered or stored, or value out of its price.

    Parameters
    ----------
    amount : float or array
        What goes in: a mass, or money.
    loss_pct : float or array
        Loss of what goes in. [%]

    Returns
    -------
    float or array
        What is lost, in the unit of ``amount``.

    Examples
    --------
    >>> lost(1200.0, 20.5)
    246.0
    """
    return np.multiply(amount, loss_pct) / 100.0


def animal_units(groups: Sequence[tuple[float, float]]) -> float:
    """Animal units [-] of a herd of groups (head, units per head).

    Examples
    --------
    >>> animal_units([(25, 1.0), (10, 0.5), (10, 0.5), (8, 0.25), (1, 1.8)])
    38.8
    """
    for head, units in groups:
        require_not_negative("head", head, "")
        require_not_negative("animal units", units, "")
    return float(sum(head * units for head, units in groups))
