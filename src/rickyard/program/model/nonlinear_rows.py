"""The two rows of a season program that are not linear, and how they are made so.

*Energy of growing stock.* Maintenance and gain are met by kilograms of the same diet:
``R / NEm_diet + E / NEg_diet <= X`` (NRC 2000). With ``M`` and ``G`` the NEm and NEg
eaten, both linear in the amounts, this is ``R/M + E/G <= 1``, a convex set. Tangents at its
edge cut off nothing that is allowed, so adding them until none is broken gives the exact
optimum of the mix, not of feeds taken one by one.

*Appetite.* The most a group eats depends on the net energy of what it eats. Written as
``X / a(n) <= 1`` with ``n = M / X``, it is replaced by its tangent at the last diet. Where
``1/a`` bends down (cows on ordinary hay) the tangent allows nothing that the curve forbids, and
moving it to the last diet can only lower the cost. Where ``1/a`` bends up (growing cattle) the
tangent may allow a little too much; then another tangent is added there and both stay.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from rickyard.program.model.rows import SHORT_ENERGY_NEG_PER_NEM, Model, take_or_zero
from rickyard.program.solver import SparseRows, numbered, placed
from rickyard.stock.equations import appetite_kg, appetite_slope, growing_constants
from rickyard.types import BoolArray, FloatArray, IntArray

#: First tangents are laid at diets of these NEg to NEm ratios (about 45, 55 and 70 % TDN).
FIRST_RATIOS: Final = (0.32, 0.50, 0.64)

#: A tangent is never laid flatter than this, where NEg vanishes and the row turns vertical.
LEAST_RATIO: Final = 0.02

#: Less than this is no diet to speak of, kg DM per head and day.
NOTHING_KG: Final = 1e-9

#: The diet around which appetite is first written, Mcal NEm per kg DM (about 55 % TDN).
FIRST_DIET_NEM: Final = 1.15


def growth_cuts(model: Model, ratio: FloatArray, cells: IntArray) -> SparseRows:
    """Return one tangent of the growth row for each cell, at the edge point of a ratio.

    ``ratio``: NEg over NEm of the diet at which the tangent touches [-].
    """
    needs = model.problem.needs
    on_m, on_g = edge_slopes(model, ratio, cells)
    per_kg, columns = model.problem.per_kg, model.columns
    rows = numbered(cells, needs.least["nem"].size)[model.cells()]
    wanted = np.flatnonzero(placed(rows))
    row = rows[wanted]
    source = columns.source[wanted]
    value = on_m[row] * per_kg["nem"][source] + on_g[row] * per_kg["neg"][source]
    slack = columns.shortage["gain_energy"][cells]
    return SparseRows.of(
        np.ones(len(cells)),
        np.inf,
        (row, wanted, value),
        (np.arange(len(cells)), slack, on_m + SHORT_ENERGY_NEG_PER_NEM * on_g),
    )


def edge_slopes(model: Model, ratio: FloatArray, cells: IntArray) -> tuple[FloatArray, FloatArray]:
    """Return by how much a tangent of ``R/M + E/G <= 1`` counts NEm and NEg eaten.

    The tangent is ``on_m M + on_g G >= 1``, in 1/Mcal. ``ratio``: NEg over NEm where it touches the
    edge [-].
    """
    needs = model.problem.needs
    maintenance = needs.least["nem"].ravel()[cells]
    retained = needs.retained_mcal.ravel()[cells]
    steep = np.maximum(ratio, LEAST_RATIO)
    at_m = maintenance + retained / steep
    at_g = steep * at_m
    return maintenance / at_m**2, retained / at_g**2


def growth_breach(model: Model, x: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return by cell how far the growth row is broken, and the diet's NEg over NEm.

    The breach is ``R/M + E/G - 1``; it is zero or less where the row holds and where there is
    no growing stock.
    """
    needs = model.problem.needs
    slack_at = model.columns.shortage["gain_energy"]
    slack = take_or_zero(x, slack_at)
    m = model.totals(x, "nem") + slack
    g = model.totals(x, "neg") + SHORT_ENERGY_NEG_PER_NEM * slack
    active = placed(slack_at)
    safe_m = np.where(active, np.maximum(m, 1e-9), 1.0)
    safe_g = np.where(active, np.maximum(g, 1e-9), 1.0)
    need = needs.least["nem"].ravel() / safe_m + needs.retained_mcal.ravel() / safe_g - 1.0
    return np.where(active, need, 0.0), safe_g / safe_m


@dataclass(frozen=True, slots=True)
class AppetiteRows:
    """The appetite of every group and period that has one, and tangents to it.

    ``cells`` are the group-period cells with an appetite row, in the order of ``rows``, and
    ``by_rule`` the same cells by the equation that holds for them: that of growing cattle is one,
    with a constant for each cell.
    """

    model: Model
    cells: IntArray
    by_rule: tuple[tuple[str | FloatArray, IntArray], ...]

    @classmethod
    def of(cls, model: Model) -> AppetiteRows:
        """Return the rows of a model: every group that is here and states no need of its own.

        Where stock have free access, appetite is known and no ceiling: fill is an equation there.
        """
        needs, fill = model.problem.needs, model.problem.fill
        known = needs.here & ~needs.stated
        cells = np.flatnonzero(known.ravel())
        rules = np.array([rule for row in needs.intake_rule for rule in row])[cells]
        constant = growing_constants(rules.tolist())
        growing = ~np.isnan(constant)
        by_rule: list[tuple[str | FloatArray, IntArray]] = [
            (str(rule), cells[rules == rule]) for rule in np.unique(rules[~growing])
        ]
        if growing.any():
            by_rule.append((constant[growing], cells[growing]))
        if fill is not None:
            cells = np.flatnonzero((known & ~fill.free).ravel())
        return cls(model, cells, tuple(by_rule))

    def over(self, model: Model) -> AppetiteRows:
        """Return the rows of the same cells over a model of the same groups and periods."""
        return replace(self, model=model)

    def first_diet(self) -> FloatArray:
        """Return the ordinary hay diet that the first tangents touch, by cell."""
        return np.full(self.model.problem.needs.head_days.size, FIRST_DIET_NEM)

    def appetite(self, diet_nem: FloatArray) -> FloatArray:
        """Return appetite by cell, for a diet by cell."""
        needs = self.model.problem.needs
        appetite = np.full(diet_nem.size, np.inf)
        weight, milk = needs.shrunk_weight_kg.ravel(), needs.milk_kg.ravel()
        factor = needs.intake_factor.ravel()
        for rule, at in self.by_rule:
            appetite[at] = appetite_kg(rule, weight[at], diet_nem[at], milk[at], factor[at])
        return appetite

    def slope(self, diet_nem: FloatArray) -> FloatArray:
        """Return the slope of appetite in diet NEm by cell, for a diet by cell."""
        needs = self.model.problem.needs
        slope = np.zeros(diet_nem.size)
        weight, factor = needs.shrunk_weight_kg.ravel(), needs.intake_factor.ravel()
        for rule, at in self.by_rule:
            slope[at] = appetite_slope(rule, weight[at], diet_nem[at], factor[at])
        return slope

    def rows(self, cells: IntArray, diet_nem: FloatArray) -> SparseRows:
        """Return tangent rows ``sum x_i (1/a - s/a^2 (nem_i - n)) <= 1``, one for each cell."""
        row_of = numbered(cells, diet_nem.size)
        mine = self._in(placed(row_of))
        appetite, slope = mine.appetite(diet_nem), mine.slope(diet_nem)
        of_column = self.model.cells()
        wanted = np.flatnonzero(placed(row_of[of_column]))
        cell = of_column[wanted]
        nem = self.model.problem.per_kg["nem"][self.model.columns.source[wanted]]
        bend = slope[cell] / appetite[cell] ** 2
        value = 1.0 / appetite[cell] - bend * (nem - diet_nem[cell])
        return SparseRows.of(-np.inf, np.ones(len(cells)), (row_of[cell], wanted, value))

    def _in(self, wanted: BoolArray) -> AppetiteRows:
        """Return the rows of some cells, to look only at the equations that hold there."""
        by_rule: list[tuple[str | FloatArray, IntArray]] = []
        for rule, at in self.by_rule:
            mine = wanted[at]
            if mine.any():
                by_rule.append((rule if isinstance(rule, str) else rule[mine], at[mine]))
        return replace(self, by_rule=tuple(by_rule))

    def breach(self, x: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Return by cell how far intake exceeds appetite, relatively, and the diet's NEm."""
        eaten = self.model.totals(x, "dm")
        nem = self.model.totals(x, "nem")
        diet = self.first_diet()
        np.divide(nem, eaten, out=diet, where=eaten > NOTHING_KG)
        return eaten / self.appetite(diet) - 1.0, diet
