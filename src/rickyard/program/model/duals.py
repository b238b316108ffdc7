"""What one more unit is worth in money, and where a shortage hides it.

Where something runs short, the price of one more unit is that of the shortage, which is set to
be high and is not money. Solved again with dearer shortages, the same season gives other prices
there and the same everywhere else.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Protocol

import numpy as np

from rickyard.program.model.cutting_planes import Tangents
from rickyard.program.model.rows import Model
from rickyard.program.solver import Optimum, placed
from rickyard.types import FloatArray, IntArray

#: How much dearer shortages are made to tell their prices from money.
DEARER: Final = 2.0

#: A price that moves by this share with dearer shortages is set by them.
MOVED_SHARE: Final = 1e-3

#: A price that moves by less than this, US dollars for a unit of a row, has not moved.
MOVED_USD: Final = 1e-4

#: A shortage smaller than this, in its unit per head and day, is solver dust.
SHORT_DUST: Final = 1e-7

#: The families of rows that are no need or ceiling: stocks, what can be bought, and the rest.
STOCK: Final = "stock"
BUYING: Final = "buying"
RULES: Final = "rules"


@dataclass(frozen=True, slots=True)
class Prices:
    """Prices in US dollars, NaN where a shortage sets them.

    ``row`` is the change of the cost for one more unit of a row's bound. ``curved`` holds by
    nutrient and cell what one more unit of need (``gain_energy``, Mcal) or one less of room
    (``appetite``, kg) costs over the period. ``column`` is the change of the cost for one more
    kilogram of each amount, per head and day over the period; ``charged`` says by family of rows
    how much of it they charge, the rest being the amount's own cost.
    """

    row: FloatArray
    curved: dict[str, FloatArray]
    column: FloatArray
    charged: dict[str, FloatArray]


class Priced(Protocol):
    """A linear program that can be solved again at other costs: a session, or rations in one."""

    def set_cost(self, cost: FloatArray) -> None:
        """Replace the cost of every variable."""
        ...

    def minimise(self) -> Optimum:
        """Solve and return the optimum."""
        ...

    def charges(self, row_dual: FloatArray, family: IntArray, families: int) -> FloatArray:
        """Return what rows charge each variable at given prices, shape (families, variables)."""
        ...


def prices_of(model: Model, session: Priced, tangents: Tangents, optimum: Optimum) -> Prices:
    """Return the prices of an optimum that are money.

    Parameters
    ----------
    model : Model
        The linear program.
    session : Priced
        Its solver, standing at the optimum; its costs are left as they were.
    tangents : Tangents
        The tangents laid.
    optimum : Optimum
        The least-cost optimum.

    Returns
    -------
    Prices
        NaN where a price moves when shortages are made dearer.
    """
    curved = tangents.prices(optimum)
    amounts, first = model.columns.amounts, model.columns.first_shortage
    charged = _charges(model, session, tangents, optimum)
    column = optimum.reduced_cost[:amounts] + on_loads(model, optimum)
    if not np.any(optimum.x[first:] > SHORT_DUST):
        return Prices(optimum.row_dual, curved, column, charged)
    dear = model.cost.copy()
    dear[first:] *= DEARER
    session.set_cost(dear)
    moved = session.minimise()
    session.set_cost(model.cost)
    again = tangents.prices(moved)
    return Prices(
        _money(optimum.row_dual, moved.row_dual),
        {name: _money(price, again[name]) for name, price in curved.items()},
        _money(column, moved.reduced_cost[:amounts] + on_loads(model, moved)),
        charged,
    )


def _charges(
    model: Model, session: Priced, tangents: Tangents, optimum: Optimum
) -> dict[str, FloatArray]:
    of_the_farm = [(name, np.array([row])) for name, row in model.farm_row.items()]
    found_rows = [*model.row_of.items(), *tangents.rows().items(), *of_the_farm]
    names = list(dict.fromkeys([RULES, STOCK, BUYING, *(name for name, _ in found_rows)]))
    family = np.zeros(len(optimum.row_dual), dtype=np.int64)
    for name, rows in [(STOCK, model.stock_row), (BUYING, model.buy_row), *found_rows]:
        family[rows[placed(rows)]] = names.index(name)
    found = session.charges(optimum.row_dual, family, len(names))
    amounts = model.columns.amounts
    charged = {name: found[number, :amounts] for number, name in enumerate(names)}
    charged[BUYING] = charged[BUYING] + on_loads(model, optimum)
    return charged


def on_loads(model: Model, optimum: Optimum) -> FloatArray:
    """Return for each amount what the loads it takes would add to the cost beside it.

    Where a load is not worth its price yet, that part of the price stands on the load.

    Parameters
    ----------
    model : Model
        The season's rows and variables.
    optimum : Optimum
        Its solution, with reduced costs. [US dollars per load]

    Returns
    -------
    array of float
        One for each amount of the model. [US dollars]
    """
    columns, problem = model.columns, model.problem
    loads = columns.loads
    bought = np.flatnonzero(placed(loads))
    per_kg = np.zeros(len(loads))
    per_kg[bought] = optimum.reduced_cost[loads[bought]] / problem.sources.load_kg_dm[bought]
    return np.asarray(per_kg[columns.source] * columns.offered_kg(problem))


def _money(price: FloatArray, again: FloatArray) -> FloatArray:
    still = np.abs(again - price) <= np.maximum(MOVED_USD, MOVED_SHARE * np.abs(price))
    return np.where(still, price, np.nan)
