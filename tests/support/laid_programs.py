"""Programs with amounts laid down by a seed: nobody solved them, and little about them holds.

What a program tells of its amounts, and what the second look finds wrong, is arithmetic: it needs
no solver, and is the same on every machine.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace

import numpy as np

from rickyard.farm import Farm
from rickyard.program.explain.explain import explain
from rickyard.program.model.duals import BUYING, RULES, STOCK, Prices
from rickyard.program.model.rows import Model, build_model
from rickyard.program.problem.problem import problem_of
from rickyard.program.result.result import SeasonProgram
from rickyard.program.solver.points import Optimum
from rickyard.types import FloatArray


def laid_program(farm: Farm, seed: int, times: float = 1.0) -> SeasonProgram:
    """Return what is told of amounts and prices that a seed lays down, amounts so many times."""
    problem = problem_of(farm)
    model = build_model(problem)
    chance = np.random.default_rng(seed)
    x = _amounts(model, chance, times)
    rows = len(model.rows.lower)
    reduced = chance.uniform(-5.0, 20.0, len(model.cost))
    row_dual = np.where(chance.random(rows) < 0.5, chance.uniform(-3.0, 30.0, rows), 0.0)
    cells = problem.shape[0] * problem.shape[2]
    amounts = model.columns.amounts
    families = [RULES, STOCK, BUYING, "gain_energy", "appetite", *model.row_of, *model.farm_row]
    prices = Prices(
        row_dual,
        {name: chance.uniform(0.0, 2.0, cells) for name in ("gain_energy", "appetite")},
        reduced[:amounts],
        {name: chance.uniform(-1.0, 4.0, amounts) for name in families},
    )
    optimum = Optimum(1000.0, 990.0, x, row_dual, reduced)
    return explain(farm, problem, model, optimum, x, prices, 1.0)


def _amounts(model: Model, chance: np.random.Generator, times: float) -> FloatArray:
    columns = model.columns
    x = np.zeros(len(model.cost))
    amounts = columns.amounts
    size = columns.offered_kg(model.problem)
    share = chance.uniform(0.0, 0.6, amounts) * (chance.random(amounts) < 0.6)
    weight = model.problem.needs.full_weight_kg[columns.group, columns.period]
    x[:amounts] = np.minimum(times * share * weight * 0.02, 50_000.0 / np.maximum(size, 1.0))
    for places, most in ((columns.sold, 4.0), (columns.loads, 6.0)):
        at = places[places >= 0]
        drawn = chance.uniform(0.0, most, len(at))
        x[at] = drawn if most < 5.0 else np.floor(drawn)
    for places in columns.shortage.values():
        at = places[places >= 0]
        x[at] = np.where(chance.random(len(at)) < 0.15, chance.uniform(0.0, 1.0, len(at)), 0.0)
    for place in columns.farm_short.values():
        x[place] = 0.2
    return x


#: What the second look checks figure by figure.
CHECKED = (
    *("sources", "feeding", "needs", "groups", "lots", "purchases", "sales", "deliveries"),
    *("change_overs", "farm_limits", "cost"),
)


def tampered_programs(program: SeasonProgram) -> Iterator[tuple[str, SeasonProgram]]:
    """Yield a program with one figure after another a little off, and with rows left out."""
    for name in CHECKED:
        rows = getattr(program, name)
        if isinstance(rows, float):
            yield name, replace(program, **{name: 1.03 * rows + 1e-3})
        if not (isinstance(rows, tuple) and rows and is_dataclass(rows[0])):
            continue
        at = len(rows) // 2
        for field in fields(rows[at]):
            value = getattr(rows[at], field.name)
            if isinstance(value, int | float) and not isinstance(value, bool):
                off = value + 1 if isinstance(value, int) else 1.03 * value + 1e-3
                row = replace(rows[at], **{field.name: off})
                yield (
                    f"{name} {field.name}",
                    replace(program, **{name: (*rows[:at], row, *rows[at + 1 :])}),
                )
        if name not in ("sources", "groups"):
            yield f"{name} less", replace(program, **{name: (*rows[:at], *rows[at + 1 :])})
