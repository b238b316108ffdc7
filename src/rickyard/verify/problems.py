"""Published test problems whose inputs or answers are more than one number."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from typing import Any, Final

import numpy as np

from rickyard.hay.money import basket_cost
from rickyard.program.solver import (
    ChanceNeed,
    LinearOptimum,
    cheapest_assured_mix,
    cheapest_mix_with_margin,
    solve_linear_program,
)
from rickyard.types import FloatArray

#: The tabulated diet problem, in the folder of the check files.
DIET_FILE: Final = "diet_problem_stigler.csv"

DAYS_PER_YEAR: Final = 365.0
_CENTS_PER_USD: Final = 100.0
_MINIMA: Final = "_daily_minimum"


@dataclass(frozen=True, slots=True)
class DietProblem:
    """Stigler's diet of 1945: what a dollar buys of each nutrient, and the least of each a day."""

    foods: tuple[str, ...]
    price_usd: dict[str, float]
    nutrient_per_usd: FloatArray
    daily_minimum: FloatArray


@lru_cache(maxsize=1)
def diet_problem() -> DietProblem:
    """Read the diet problem: Stigler (1945), The cost of subsistence, J. Farm Econ. 27:303.

    >>> len(diet_problem().foods)
    77
    """
    path = files("rickyard.verify").joinpath("data", DIET_FILE)
    rows = list(csv.DictReader(path.read_text(encoding="utf-8").splitlines()))
    nutrients = list(rows[0])[3:]
    table = {row["commodity"]: [float(row[name]) for name in nutrients] for row in rows}
    minimum = np.array(table.pop(_MINIMA))
    return DietProblem(
        foods=tuple(table),
        price_usd={
            row["commodity"]: float(row["price_1939_cents"]) / _CENTS_PER_USD
            for row in rows
            if row["commodity"] in table
        },
        nutrient_per_usd=np.array(list(table.values())),
        daily_minimum=minimum,
    )


def cheapest_diet() -> dict[str, float]:
    """Solve the diet problem: what is spent on each food. [$/year].

    >>> round(sum(cheapest_diet().values()), 2)
    39.66
    """
    problem = diet_problem()
    best = solve_linear_program(
        np.ones(len(problem.foods)), -problem.nutrient_per_usd.T, -problem.daily_minimum
    )
    return dict(zip(problem.foods, (best.x * DAYS_PER_YEAR).tolist(), strict=True))


def diet_output(spent: Mapping[str, float], output: str) -> float:
    """Pick one answer of the diet problem by the name a check row gives it. [$/year].

    >>> diet_output({"Milk": 2.0, "Rice": 1.5}, "annual_cost_usd")
    3.5
    >>> diet_output({"Milk": 2.0, "Rice": 1.5}, "usd_per_year:Rice")
    1.5
    """
    if output == "annual_cost_usd":
        return float(sum(spent.values()))
    kind, _, food = output.partition(":")
    if kind != "usd_per_year" or food not in spent:
        raise ValueError(f'"{output}" is not annual_cost_usd or usd_per_year: and a food.')
    return spent[food]


def diet_cost_usd(quantities: Mapping[str, float], unit_sizes: Mapping[str, float]) -> float:
    """Price a yearly diet at the prices of the diet problem, each of a unit of a size. [$/year].

    >>> round(diet_cost_usd({"Corn Meal": 10.0}, {"Corn Meal": 1.0}), 2)
    0.46
    """
    prices = diet_problem().price_usd
    units = [amount / unit_sizes[food] for food, amount in quantities.items()]
    return basket_cost(units, [prices[food] for food in quantities])


def linear_output(best: LinearOptimum, output: str) -> float:
    """Pick one answer of a linear program by the name a check row gives it.

    ``objective``, ``x0`` for the first variable, ``dual_ub0`` the price of the first inequality.

    >>> linear_output(solve_linear_program([2.0], [[-1.0]], [-3.0]), "x0")
    3.0
    """
    if output == "objective":
        return best.objective
    for name, values in (("dual_ub", best.dual_ub), ("x", best.x)):
        number = output.removeprefix(name)
        if number != output and number.isdecimal() and int(number) < len(values):
            return float(values[int(number)])
    raise ValueError(f'"{output}" is not objective, x and a number, or dual_ub and a number.')


def solve_written(inputs: Mapping[str, Any]) -> LinearOptimum:
    """Solve a linear program as a check row writes it, in the letters of a textbook.

    ``bounds`` are a least and a most for each variable, null where there is none.

    >>> solve_written({"c": [2.0], "A_ub": [[-1.0]], "b_ub": [-3.0]}).objective
    6.0
    >>> solve_written({"c": [2.0, -1.0], "bounds": [[4.0, None], [0.0, 3.0]]}).objective
    5.0
    """
    return solve_linear_program(
        inputs["c"],
        inputs.get("A_ub"),
        inputs.get("b_ub"),
        inputs.get("A_eq"),
        inputs.get("b_eq"),
        inputs.get("integrality"),
        inputs.get("bounds"),
    )


def solve_assured(inputs: Mapping[str, Any]) -> LinearOptimum:
    """Find the cheapest mix of one unit that meets a need with a chance, as a check row asks.

    The rows of ``det_ge_rows`` must reach their value for certain; ``method`` is ``linear_margin``,
    or cutting planes when left out.

    >>> solve_assured({"cost": [1.0, 2.0], "mean": [10.0, 30.0], "variance": [0.0, 0.0],
    ...                "requirement": 20.0, "z": 1.0, "det_ge_rows": [[1.0, 1.0]],
    ...                "det_ge_rhs": [0.0]}).objective
    1.5
    """
    methods = {"": cheapest_assured_mix, "linear_margin": cheapest_mix_with_margin}
    method = inputs.get("method", "")
    if method not in methods:
        raise ValueError(f'"{method}" is not linear_margin, nor left out for cutting planes.')
    need = ChanceNeed(
        np.asarray(inputs["mean"], dtype=np.float64),
        np.sqrt(np.asarray(inputs["variance"], dtype=np.float64)),
        inputs["requirement"],
        inputs["z"],
    )
    return methods[method](
        inputs["cost"],
        need,
        -np.asarray(inputs["det_ge_rows"], dtype=np.float64),
        -np.asarray(inputs["det_ge_rhs"], dtype=np.float64),
        np.ones((1, len(inputs["cost"]))),
        np.ones(1),
    )
