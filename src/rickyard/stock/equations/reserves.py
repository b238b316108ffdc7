"""Days and feed to change a condition score, from either end."""

from __future__ import annotations

from dataclasses import dataclass

from rickyard.quantities import OutOfRange
from rickyard.stock.equations.condition import (
    TISSUE_EFFICIENCY,
    days_to_gain_condition,
    days_to_lose_condition,
    energy_between_scores_mcal,
)


@dataclass(frozen=True, slots=True)
class ScoreChange:
    """What it takes to move a cow from one condition score to another.

    ``feed_kg_per_day`` is dry matter fed above her need, or left out under it when she is to
    lose; ``feed_kg`` is that over all ``days``.
    """

    energy_mcal: float
    nem_mcal_per_day: float
    days: float
    feed_kg_per_day: float
    feed_kg: float


def score_change(
    shrunk_weight_at_5_kg: float,
    from_score: float,
    to_score: float,
    feed_nem_mcal_per_kg: float,
    *,
    days: float | None = None,
    feed_kg_per_day: float | None = None,
) -> ScoreChange:
    """Return the days or the feed that move a cow from one condition score to another.

    Parameters
    ----------
    shrunk_weight_at_5_kg : float
        Her shrunk weight at a score of 5. [kg]
    from_score, to_score : float
        Body condition scores, 1 to 9. [-]
    feed_nem_mcal_per_kg : float
        Net energy for maintenance of the feed. [Mcal/kg DM]
    days : float, optional
        Days there are, to be told the feed. [d]
    feed_kg_per_day : float, optional
        Dry matter above (or under) her need, to be told the days. [kg/d]

    Returns
    -------
    ScoreChange
        Both, and the energy that moves.

    Raises
    ------
    OutOfRange
        If not just one of the two is given, or it is not above zero, the feed holds no energy, or
        a score lies outside 1 to 9.

    Notes
    -----
    Gaining, a unit of net energy above the need is kept. Losing, a unit of reserves replaces
    0.80 of feed.

    References
    ----------
    .. [1] NRC (2000), Nutrient Requirements of Beef Cattle; use of reserves from memory.
    .. [2] Univ. of Nebraska-Lincoln: 207 Mcal with 5 lb alfalfa at 0.60 Mcal/lb takes 69 days.

    Examples
    --------
    >>> pound = 0.45359237
    >>> change = score_change(1100 * pound, 4.0, 5.0, 0.60 / pound, feed_kg_per_day=5 * pound)
    >>> round(change.energy_mcal), round(change.days)
    (207, 69)
    """
    if (days is None) == (feed_kg_per_day is None):
        raise OutOfRange("Give either the days there are or the feed for each day.")
    if feed_nem_mcal_per_kg <= 0.0:
        raise OutOfRange("A feed without net energy changes no condition.")
    energy = float(energy_between_scores_mcal(shrunk_weight_at_5_kg, from_score, to_score))
    fed_mcal = energy if energy >= 0.0 else TISSUE_EFFICIENCY * -energy
    if days is not None:
        if days <= 0.0:
            raise OutOfRange("A change of condition takes days.")
        per_day = fed_mcal / days
    else:
        per_day = (feed_kg_per_day or 0.0) * feed_nem_mcal_per_kg
        solve = days_to_gain_condition if energy >= 0.0 else days_to_lose_condition
        days = float(solve(abs(energy), per_day))
    feed = per_day / feed_nem_mcal_per_kg
    return ScoreChange(energy, per_day if energy >= 0.0 else -per_day, days, feed, feed * days)
