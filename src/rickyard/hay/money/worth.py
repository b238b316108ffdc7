"""Worth: what hay is worth by what other feeds cost.

A price is per any one mass unit, the same throughout a call.

A price that is negative or a percentage outside its range raises `OutOfRange`.
"""

from __future__ import annotations

import numpy as np

from rickyard.hay.common import equation, require_not_negative
from rickyard.hay.feeding import supplied
from rickyard.quantities import Numeric, OutOfRange


@equation(cost_per_nutrient=(require_not_negative, "cost of the nutrient", "$"))
def hay_value(cost_per_nutrient: Numeric, nutrient_pct: Numeric, dm_pct: Numeric) -> Numeric:
    """Value of hay as fed [$/mass] as a source of one nutrient that another feed sells.

    The nutrient's share is of dry matter. From Manitoba Agriculture, What is the value of hay going
    to be this year.

    Examples
    --------
    >>> round(2000 * hay_value(0.0921, 57.6, 87.4), 2)
    92.73
    """
    return np.multiply(cost_per_nutrient, supplied(1.0, nutrient_pct, dm_pct))


def nutrient_prices(
    first: tuple[float, float, float], second: tuple[float, float, float]
) -> tuple[float, float]:
    """Market price of energy and of protein implied by two feeds.

    Assumes that the market prices feeds by these two alone, for which it is criticised.

    Source: Petersen method, in St-Pierre (2001), Advances in Dairy Technology 13:127.

    Parameters
    ----------
    first, second : tuple of float
        For each feed: TDN and crude protein in one mass unit as fed, and the price of that
        unit; usually corn and soybean meal. [mass/mass], [mass/mass], [$/mass]

    Returns
    -------
    tuple of float
        Price of TDN and price of crude protein. [$/mass]

    Examples
    --------
    >>> tdn, cp = nutrient_prices((0.7744, 0.0792, 0.080357), (0.7476, 0.4806, 0.20))
    >>> round(tdn, 4), round(cp, 4)
    (0.0728, 0.3029)
    """
    matrix = np.array([first[:2], second[:2]], dtype=np.float64)
    if np.linalg.matrix_rank(matrix, rtol=1e-9) < len(matrix):
        raise OutOfRange("the two feeds have energy and protein in one proportion.")
    tdn, cp = np.linalg.solve(matrix, np.array([first[2], second[2]], dtype=np.float64))
    if tdn < 0.0 or cp < 0.0:
        raise OutOfRange("at these two prices energy or protein would be worth less than nothing.")
    return float(tdn), float(cp)


def petersen_value(
    prices: tuple[float, float], tdn_pct: float, cp_pct: float, dm_pct: float
) -> float:
    """Value of hay at the market prices of energy and protein.

    Source: Petersen method, in St-Pierre (2001), Advances in Dairy Technology 13:127.

    Parameters
    ----------
    prices : tuple of float
        Price of TDN and of crude protein, from `nutrient_prices`. [$/mass]
    tdn_pct, cp_pct : float
        Nutrients of the hay. [% of dry matter]
    dm_pct : float
        Dry matter of the hay as fed. [%]

    Returns
    -------
    float
        Value as fed. [$/mass]

    Examples
    --------
    >>> round(2000 * petersen_value((0.0728, 0.3029), 56.0, 10.0, 88.0), 2)
    125.06
    """
    energy = hay_value(prices[0], tdn_pct, dm_pct)
    protein = hay_value(prices[1], cp_pct, dm_pct)
    return float(energy + protein)


def factor_value(factors: tuple[float, float, float], prices: tuple[float, float, float]) -> float:
    """Value of hay from the prices of soybean meal, corn and alfalfa hay, as fed [$/mass].

    The factors are the published weights of the hay for the three [-]. They price dairy feeding on
    fibre: poor hay can score above good hay when meal is cheap. Not for beef on hay under 7 % crude
    protein. From Univ. Minnesota Extension DI-0469.

    Examples
    --------
    >>> round(factor_value((-0.168, 0.038, 1.127), (400.0, 160.0, 200.0)), 2)
    164.28
    """
    require_not_negative("price", prices, "$")
    return float(np.dot(factors, prices))
