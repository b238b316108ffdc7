"""The two rows of a season program that are not linear, and how they are made so.

*Energy of growing stock.* Maintenance and gain are met by kilograms of the same diet:
``R / NEm_diet + E / NEg_diet <= X`` (beef chapter 14.3). With ``M`` and ``G`` the NEm and NEg
eaten, both linear in the amounts, this is ``R/M + E/G <= 1``, a convex set. Tangents at its
edge cut off nothing that is allowed, so adding them until none is broken gives the exact
optimum of the mix, not of feeds taken one by one.

*Appetite.* The most a group eats depends on the net energy of what it eats. Written as
``X / a(n) <= 1`` with ``n = M / X``, it is replaced by its tangent at the last diet and
re-centred until it holds at its own diet.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rickyard.program.model import SHORT_ENERGY_NEG_PER_NEM, Model
from rickyard.program.solve import SparseRows
from rickyard.stock.intake import appetite_kg, appetite_slope

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]

#: First tangents are laid at diets of these NEg to NEm ratios (about 45, 55 and 70 % TDN).
FIRST_RATIOS: Final = (0.32, 0.50, 0.64)

#: A tangent is never laid flatter than this, where NEg vanishes and the row turns vertical.
LEAST_RATIO: Final = 0.02

#: The diet around which appetite is first written, Mcal NEm per kg DM (about 55 % TDN).
FIRST_DIET_NEM: Final = 1.15


def growth_cuts(model: Model, ratio: FloatArray, cells: IntArray) -> SparseRows:
    """Return one tangent of the growth row for each cell, at the edge point of a ratio.

    Parameters
    ----------
    model : Model
        The linear program the rows are for.
    ratio : array, shape (n,)
        NEg over NEm of the diet at which the tangent touches. [-]
    cells : array of int, shape (n,)
        Group-period cells, all of growing stock.
    """
    needs = model.problem.needs
    maintenance = needs.nem_mcal.ravel()[cells]
    retained = needs.retained_mcal.ravel()[cells]
    steep = np.maximum(ratio, LEAST_RATIO)
    at_m = maintenance + retained / steep
    at_g = steep * at_m
    on_m, on_g = maintenance / at_m**2, retained / at_g**2
    per_kg, columns = model.problem.per_kg, model.columns
    row_of = np.full(needs.nem_mcal.size, -1, dtype=np.int64)
    row_of[cells] = np.arange(len(cells))
    rows = row_of[model.cells()]
    wanted = np.flatnonzero(rows >= 0)
    row = rows[wanted]
    source = columns.source[wanted]
    value = on_m[row] * per_kg["nem"][source] + on_g[row] * per_kg["neg"][source]
    slack = columns.shortage["gain_energy"][cells]
    return SparseRows(
        row=np.concatenate([row, np.arange(len(cells))]),
        column=np.concatenate([wanted, slack]),
        value=np.concatenate([value, on_m + SHORT_ENERGY_NEG_PER_NEM * on_g]),
        lower=np.ones(len(cells)),
        upper=np.full(len(cells), np.inf),
    )


def growth_breach(model: Model, x: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return by cell how far the growth row is broken, and the diet's NEg over NEm.

    The breach is ``R/M + E/G - 1``; it is zero or less where the row holds and where there is
    no growing stock.
    """
    needs = model.problem.needs
    slack_at = model.columns.shortage["gain_energy"]
    slack = np.where(slack_at >= 0, x[np.maximum(slack_at, 0)], 0.0)
    m = model.totals(x, "nem") + slack
    g = model.totals(x, "neg") + SHORT_ENERGY_NEG_PER_NEM * slack
    active = slack_at >= 0
    safe_m = np.where(active, np.maximum(m, 1e-9), 1.0)
    safe_g = np.where(active, np.maximum(g, 1e-9), 1.0)
    need = needs.nem_mcal.ravel() / safe_m + needs.retained_mcal.ravel() / safe_g - 1.0
    return np.where(active, need, 0.0), safe_g / safe_m


@dataclass(slots=True)
class AppetiteRows:
    """The appetite row of every cell that has one, around a diet.

    ``diet_nem`` is the net energy the rows are centred on, shape (groups * periods,).
    """

    model: Model
    cells: IntArray
    diet_nem: FloatArray

    @classmethod
    def of(cls, model: Model) -> AppetiteRows:
        """Return the rows centred on an ordinary hay diet."""
        needs = model.problem.needs
        wanted = (needs.head_days > 0) & ~needs.stated
        diet = np.full(wanted.size, FIRST_DIET_NEM)
        return cls(model, np.flatnonzero(wanted.ravel()), diet)

    def appetite(self, diet_nem: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Return appetite and its slope in diet NEm by cell, for a diet by cell."""
        needs = self.model.problem.needs
        appetite = np.full(diet_nem.size, np.inf)
        slope = np.zeros(diet_nem.size)
        rules = np.array([rule for row in needs.intake_rule for rule in row])
        weight, milk = needs.shrunk_weight_kg.ravel(), needs.milk_kg.ravel()
        factor = needs.intake_factor.ravel()
        for rule in np.unique(rules[self.cells]):
            at = self.cells[rules[self.cells] == rule]
            appetite[at] = appetite_kg(str(rule), weight[at], diet_nem[at], milk[at], factor[at])
            slope[at] = appetite_slope(str(rule), weight[at], diet_nem[at], factor[at])
        return appetite, slope

    def rows(self) -> SparseRows:
        """Return the tangent rows ``sum x_i (1/a - s/a^2 (nem_i - n)) <= 1``."""
        row, column, value = self._triples()
        count = len(self.cells)
        return SparseRows(row, column, value, np.full(count, -np.inf), np.ones(count))

    def recentred(self, diet_nem: FloatArray) -> tuple[IntArray, IntArray, FloatArray]:
        """Move to another diet and return the changed coefficients."""
        self.diet_nem = diet_nem
        return self._triples()

    def breach(self, x: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Return by cell how far intake exceeds appetite, relatively, and the diet's NEm."""
        eaten = self.model.totals(x, "dm")
        nem = self.model.totals(x, "nem")
        diet = np.where(eaten > 1e-9, nem / np.maximum(eaten, 1e-9), self.diet_nem)
        appetite, _ = self.appetite(diet)
        return eaten / appetite - 1.0, diet

    def _triples(self) -> tuple[IntArray, IntArray, FloatArray]:
        appetite, slope = self.appetite(self.diet_nem)
        row_of = np.full(self.diet_nem.size, -1, dtype=np.int64)
        row_of[self.cells] = np.arange(len(self.cells))
        cells = self.model.cells()
        wanted = np.flatnonzero(row_of[cells] >= 0)
        cell = cells[wanted]
        nem = self.model.problem.per_kg["nem"][self.model.columns.source[wanted]]
        value = 1.0 / appetite[cell] - slope[cell] / appetite[cell] ** 2 * (
            nem - self.diet_nem[cell]
        )
        return row_of[cell], wanted, value
