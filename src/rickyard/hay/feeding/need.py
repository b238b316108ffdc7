"""Hay need: from what the animals eat back to what must stand in the yard.

Losses divide, and they multiply each other: hay eaten / (1 - waste) / (1 - storage loss). Adding
the percentages, or multiplying by one plus them, buys too little hay. Masses are in any one
mass unit, the same throughout a call.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from rickyard.hay.common import require_between, require_dm, require_loss, require_not_negative
from rickyard.quantities import Numeric, as_given

LossMode = Literal["divide", "multiply"]

MOST_INTAKE_PCT_BW: Final = 6.0  # common practice: nothing on hay eats more


@dataclass(frozen=True, slots=True)
class HayNeed:
    """The steps from dry matter eaten to hay to have, each in the mass unit put in."""

    dry_matter: Numeric
    as_fed: Numeric
    to_feed: Numeric
    to_store: Numeric
    with_reserve: Numeric


def group_dm(
    head: Numeric, dm_per_head_day: Numeric, days: Numeric, cold_factor: Numeric = 1.0
) -> Numeric:
    """Dry matter a group eats.

    Parameters
    ----------
    head : float or array
        Animals. [-]
    dm_per_head_day : float or array
        Dry matter eaten by one, in any one mass unit. [mass/d]
    days : float or array
        Days fed. [d]
    cold_factor : float or array
        What cold adds: 1.1 is a tenth more. [-]

    Returns
    -------
    float or array
        Dry matter, in the same mass unit. [mass]

    Raises
    ------
    OutOfRange
        If an input is negative.

    Examples
    --------
    >>> group_dm(150, 30.0, 180)
    810000.0
    """
    inputs = (head, dm_per_head_day, days, cold_factor)
    for name, value in zip(("head", "dry matter", "days", "cold factor"), inputs, strict=True):
        require_not_negative(name, value, "")
    total = np.multiply(head, dm_per_head_day) * np.multiply(days, cold_factor)
    return as_given(total, *inputs)


def herd_dm(
    head: Numeric,
    weight: Numeric,
    intake_pct_bw: Numeric,
    days: Numeric,
    cold_factor: Numeric = 1.0,
) -> Numeric:
    """Dry matter a group eats, by the rule of a percentage of body weight.

    Parameters
    ----------
    head : float or array
        Animals. [-]
    weight : float or array
        Body weight of one, in any one mass unit. [mass]
    intake_pct_bw : float or array
        Dry matter eaten in a day. [% of body weight]
    days : float or array
        Days fed. [d]
    cold_factor : float or array
        What cold adds: 1.1 is a tenth more. [-]

    Returns
    -------
    float or array
        Dry matter, in the same mass unit. [mass]

    Raises
    ------
    OutOfRange
        If an input is negative or the intake is over 6 % of body weight.

    Notes
    -----
    A rough plan: 1.5 % for hay under 6 % crude protein, 2.0 % over 8 %, 2.5 % for excellent hay
    or all classes together (Selk). The season program computes intake from the hay instead.

    References
    ----------
    .. [1] Selk, Forage quality drives beef intake; Schwab & Lippolis (2019), Iowa State.

    Examples
    --------
    >>> herd_dm(100, 1400.0, 2.5, 150)
    525000.0
    """
    require_not_negative("weight", weight, "")
    require_between("intake", intake_pct_bw, 0.0, MOST_INTAKE_PCT_BW, "% of body weight")
    daily = np.multiply(weight, intake_pct_bw) / 100.0
    total = group_dm(head, daily, days, cold_factor)
    return as_given(total, head, weight, intake_pct_bw, days, cold_factor)


def as_fed_from_dm(dm: Numeric, dm_pct: Numeric) -> Numeric:
    """Feed as it lies that holds a given dry matter.

    Parameters
    ----------
    dm : float or array
        Dry matter, in any one mass unit. [mass]
    dm_pct : float or array
        Dry matter as fed, 5 to 98. [%]

    Returns
    -------
    float or array
        Feed as fed, in the same unit. [mass]

    Raises
    ------
    OutOfRange
        If the mass is negative or the dry matter is outside 5 to 98 %.

    Examples
    --------
    >>> round(as_fed_from_dm(24.0, 70.0), 1)
    34.3
    """
    require_not_negative("dry matter", dm, "")
    require_dm(dm_pct)
    return as_given(dm / np.divide(dm_pct, 100.0), dm, dm_pct)


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

    Raises
    ------
    OutOfRange
        If the amount is negative or the loss is outside 0 to under 100 %.

    Examples
    --------
    >>> before_loss(60.0, 20.0)
    75.0
    >>> before_loss(60.0, 20.0, mode="multiply")
    72.0
    """
    require_not_negative("amount", amount, "")
    require_loss("loss", loss_pct)
    lost = np.divide(loss_pct, 100.0)
    total = np.multiply(amount, 1.0 + lost) if mode == "multiply" else amount / (1.0 - lost)
    return as_given(total, amount, loss_pct)


def hay_need(
    dry_matter: Numeric,
    dm_pct: Numeric,
    feeding_loss_pct: Numeric = 0.0,
    storage_loss_pct: Numeric = 0.0,
    reserve_pct: Numeric = 0.0,
    mode: LossMode = "divide",
) -> HayNeed:
    """Hay that must stand in the yard so that the animals get their dry matter.

    Parameters
    ----------
    dry_matter : float or array
        Dry matter eaten, in any one mass unit. [mass]
    dm_pct : float or array
        Dry matter of the hay as fed. [%]
    feeding_loss_pct, storage_loss_pct : float or array
        Waste of the hay offered, and dry matter lost from the day the hay is counted until it
        is fed. Zero for the second when the bales are weighed at feeding. [%]
    reserve_pct : float or array
        Hay to hold over, of the hay to store. [%]
    mode : {"divide", "multiply"}
        See `before_loss`; only to reproduce what a publication printed.

    Returns
    -------
    HayNeed
        Every step, in the same mass unit.

    Raises
    ------
    OutOfRange
        If a mass is negative or a percentage is outside its range.

    References
    ----------
    .. [1] Banta, Estimating hay needs; Pittman (Georgia) in DTN, 21 Oct 2024.

    Examples
    --------
    >>> need = hay_need(herd_dm(1, 1350.0, 2.5, 1), 90.0, 5.0, 8.0)
    >>> round(need.to_store, 1)
    42.9
    """
    require_not_negative("reserve", reserve_pct, "%")
    as_fed = as_fed_from_dm(dry_matter, dm_pct)
    to_feed = before_loss(as_fed, feeding_loss_pct, mode)
    to_store = before_loss(to_feed, storage_loss_pct, mode)
    reserved = np.multiply(to_store, 1.0 + np.divide(reserve_pct, 100.0))
    with_reserve = as_given(reserved, to_store, reserve_pct)
    return HayNeed(dry_matter, as_fed, to_feed, to_store, with_reserve)


def animal_units(groups: Sequence[tuple[float, float]]) -> float:
    """Animal units of a herd.

    Parameters
    ----------
    groups : sequence of (head, units per head)
        The herd. [-]

    Returns
    -------
    float
        Animal units. [-]

    Raises
    ------
    OutOfRange
        If a number is negative.

    Examples
    --------
    >>> animal_units([(25, 1.0), (10, 0.5), (10, 0.5), (8, 0.25), (1, 1.8)])
    38.8
    """
    for head, units in groups:
        require_not_negative("head", head, "")
        require_not_negative("animal units", units, "")
    return float(sum(head * units for head, units in groups))
