"""Hay against need for one animal: the gain a diet gives, the feed that a need takes.

Net energy for maintenance and for gain never add up. Each part of a need is divided by the
diet's own value for it, and the kilograms of feed add up.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from rickyard.quantities import Numeric, OutOfRange, above_zero, as_given
from rickyard.stock.equations import cp_kg_from_mp, gain_kg

#: The richest diet for which more energy is sure to mean more gain.
MOST_TDN_PCT: Final = 88.0


class NeedUnreachable(OutOfRange):
    """No diet within the range searched meets the need."""


@dataclass(frozen=True, slots=True)
class Gain:
    """What an intake of a diet does for an animal, per day.

    With less feed than ``feed_for_maintenance_kg`` there is no gain, and ``nem_deficit_mcal``
    says how much net energy for maintenance is missing: the animal loses weight.
    """

    gain_kg: Numeric
    retained_energy_mcal: Numeric
    feed_for_maintenance_kg: Numeric
    nem_deficit_mcal: Numeric


def feed_for_maintenance_kg(nem_need_mcal: Numeric, diet_nem_mcal_per_kg: Numeric) -> Numeric:
    """Return the feed that covers a need for net energy for maintenance.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, 7th rev. ed., Update.

    Parameters
    ----------
    nem_need_mcal : float or array
        Maintenance with lactation, pregnancy and activity. [Mcal/d]
    diet_nem_mcal_per_kg : float or array
        Net energy for maintenance of the diet, above 0. [Mcal/kg DM]

    Returns
    -------
    float or array
        Dry matter. [kg/d]

    Examples
    --------
    >>> round(feed_for_maintenance_kg(5.89, 2.09), 2)
    2.82
    """
    above_zero("A diet without net energy cannot maintain an animal.", diet_nem_mcal_per_kg)
    feed = np.asarray(nem_need_mcal) / diet_nem_mcal_per_kg
    return as_given(feed, nem_need_mcal, diet_nem_mcal_per_kg)


def gain_from_intake(
    intake_kg: Numeric,
    nem_need_mcal: Numeric,
    diet_nem_mcal_per_kg: Numeric,
    diet_neg_mcal_per_kg: Numeric,
    scaled_weight_kg: Numeric,
) -> Gain:
    """Return the gain that an intake of a diet gives.

    Gain is held at 0 on a diet without net energy for gain.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, 7th rev. ed., Update; Montana State
    Univ., net energy example: a 715-lb steer on 7.26 kg.

    Parameters
    ----------
    intake_kg : float or array
        Dry matter eaten. [kg/d]
    nem_need_mcal : float or array
        Maintenance with lactation, pregnancy and activity. [Mcal/d]
    diet_nem_mcal_per_kg, diet_neg_mcal_per_kg : float or array
        Net energy for maintenance, above 0, and for gain of the diet. [Mcal/kg DM]
    scaled_weight_kg : float or array
        Size-scaled weight, see ``weights.size_scaled_weight_kg``. [kg]

    Returns
    -------
    Gain
        Gain, or what is missing to hold weight.

    Examples
    --------
    >>> steer = gain_from_intake(7.26, 5.89, 2.09, 1.42, 262.9)
    >>> round(steer.retained_energy_mcal, 1), round(steer.gain_kg / 0.45359237, 1)
    (6.3, 3.7)
    """
    given = (
        intake_kg,
        nem_need_mcal,
        diet_nem_mcal_per_kg,
        diet_neg_mcal_per_kg,
        scaled_weight_kg,
    )
    feed = feed_for_maintenance_kg(nem_need_mcal, diet_nem_mcal_per_kg)
    over = np.asarray(intake_kg) - feed
    retained = np.maximum(over, 0.0) * np.maximum(diet_neg_mcal_per_kg, 0.0)
    return Gain(
        gain_kg=as_given(gain_kg(retained, scaled_weight_kg), *given),
        retained_energy_mcal=as_given(retained, *given[:4]),
        feed_for_maintenance_kg=feed,
        nem_deficit_mcal=as_given(np.maximum(-over, 0.0) * diet_nem_mcal_per_kg, *given[:3]),
    )


def feed_for_need_kg(
    nem_need_mcal: Numeric,
    retained_mcal: Numeric,
    diet_nem_mcal_per_kg: Numeric,
    diet_neg_mcal_per_kg: Numeric,
) -> Numeric:
    """Return the feed [kg DM/d] of one diet that covers a need and its gain; appetite may not.

    The need is maintenance with lactation, pregnancy and activity. Raises ``NeedUnreachable`` if
    gain is wanted and the diet holds no net energy for it, ``OutOfRange`` if it holds none for
    maintenance. Source: NRC (2000), Nutrient Requirements of Beef Cattle, 7th rev. ed., Update.

    >>> round(feed_for_need_kg(4.5, 1.93, 1.376, 0.796), 2)
    5.69
    """
    retained, neg = np.broadcast_arrays(
        np.asarray(retained_mcal, dtype=np.float64),
        np.asarray(diet_neg_mcal_per_kg, dtype=np.float64),
    )
    wants = retained > 0.0
    if np.any(wants & (neg <= 0.0)):
        raise NeedUnreachable("A diet without net energy for gain cannot put on weight.")
    for_gain = np.divide(retained, neg, out=np.zeros(retained.shape), where=wants)
    for_gain = np.where(np.isnan(retained), np.nan, for_gain)
    feed = feed_for_maintenance_kg(nem_need_mcal, diet_nem_mcal_per_kg) + for_gain
    return as_given(feed, nem_need_mcal, retained_mcal, diet_nem_mcal_per_kg, diet_neg_mcal_per_kg)


def diet_cp_pct(mp_g: Numeric, intake_kg: Numeric) -> Numeric:
    """Return the crude protein of a diet that covers a need for metabolizable protein.

    Source: Univ. of Arkansas, MP391 Beef Cattle Nutrition (1996-based edition).

    Parameters
    ----------
    mp_g : float or array
        Metabolizable protein needed. [g/d]
    intake_kg : float or array
        Dry matter eaten, above 0. [kg/d]

    Returns
    -------
    float or array
        Crude protein, before any floor. [% DM]

    Examples
    --------
    >>> round(diet_cp_pct(670.0, 10.0), 1)
    10.0
    """
    above_zero("A share of the diet needs an intake above zero.", intake_kg)
    return as_given(100.0 * np.asarray(cp_kg_from_mp(mp_g)) / intake_kg, mp_g, intake_kg)


def extra_feed_kg(tdn_kg: Numeric, more_tdn_kg: Numeric, feed_tdn_pct: Numeric) -> Numeric:
    """Return the feed that covers a rise in the need for energy.

    Parameters
    ----------
    tdn_kg, more_tdn_kg : float or array
        Total digestible nutrients needed before and after. [kg/d]
    feed_tdn_pct : float or array
        Total digestible nutrients of the feed, above 0. [% DM]

    Returns
    -------
    float or array
        Dry matter to add. [kg/d]

    Examples
    --------
    >>> round(extra_feed_kg(15.5, 17.0, 54.0), 1)
    2.8
    """
    above_zero("The TDN of a feed must be above zero.", feed_tdn_pct)
    extra = 100.0 * (np.asarray(more_tdn_kg) - tdn_kg) / feed_tdn_pct
    return as_given(extra, tdn_kg, more_tdn_kg, feed_tdn_pct)
