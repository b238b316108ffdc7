"""From an optimum to a season program: numbers, prices, reasons and cautions in sentences."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

from rickyard.display import display_for, money_text
from rickyard.farm import Assumption, Farm
from rickyard.program.days import rules_held
from rickyard.program.explain import balances
from rickyard.program.explain import solution_tables as account
from rickyard.program.explain.binding_limits import farm_limits, held_by
from rickyard.program.explain.costly_needs import limits_of, need_prices
from rickyard.program.explain.coverage import coverage_of
from rickyard.program.explain.marginal_values import feeds_worth, lots_worth, units_worth
from rickyard.program.explain.outcomes import outcomes_of, with_effects
from rickyard.program.explain.shortages import shortages_of
from rickyard.program.explain.why_this_lot import reasons
from rickyard.program.explain.worth_of_tests import worths_of_untested
from rickyard.program.feedout import program_cautions, with_deliveries
from rickyard.program.inputs import assumed
from rickyard.program.model import Model, Prices
from rickyard.program.problem import Problem, promises
from rickyard.program.result import Costs, LotBalance, Purchase, Sale, SeasonProgram
from rickyard.program.solver import Optimum
from rickyard.quantities import KG_PER_LB
from rickyard.safety import shortage_places
from rickyard.types import FloatArray

#: A limit that costs less than this share of the season is left out.
LEAST_LIMIT_SHARE: Final = 0.0005


@dataclass(frozen=True, slots=True)
class _Accounts:
    """What a solution eats, buys, sells and costs."""

    eaten: FloatArray
    lots: tuple[LotBalance, ...]
    bought: tuple[Purchase, ...]
    sales: tuple[Sale, ...]
    costs: Costs

    @classmethod
    def of(cls, farm: Farm, problem: Problem, model: Model, x: FloatArray) -> _Accounts:
        """Return the accounts of a solution."""
        eaten = account.eaten_of(model, x)
        sold = balances.sold_kg(model, x)
        lots = balances.lot_balances(problem, eaten, sold)
        bought, sales = balances.purchases(problem, eaten), balances.sales(problem, sold)
        changes = balances.run_starts(problem, eaten)
        costs = balances.costs(farm, problem, lots, bought, sales, changes)
        return cls(eaten, lots, bought, sales, costs)


def explain(
    farm: Farm,
    problem: Problem,
    model: Model,
    optimum: Optimum,
    x: FloatArray,
    prices: Prices,
    seconds: float,
) -> SeasonProgram:
    """Turn an optimum into a season program.

    Parameters
    ----------
    farm : Farm
        The farm the program is for.
    problem : Problem
        The season as plain arrays.
    model : Model
        The linear program that was solved.
    optimum : Optimum
        Its optimum, with prices.
    x : array
        The program: the optimum, or a simpler point near it.
    prices : Prices
        What one more unit of each row is worth.
    seconds : float
        Time taken so far. [s]

    Returns
    -------
    SeasonProgram
        With balances, shortages, limits, worths, reasons and cautions.
    """
    display = display_for(farm.units)
    accounts = _Accounts.of(farm, problem, model, x)
    eaten, lots, bought, costs = accounts.eaten, accounts.lots, accounts.bought, accounts.costs
    needs = account.need_rows(problem, model, eaten)
    groups = account.group_periods(problem, model, eaten)
    limits = farm_limits(problem, model, prices, lots, bought, accounts.sales, display)
    shortages = shortages_of(farm, needs, groups, limits, display)
    by_need = need_prices(problem, model, optimum, prices)
    first = model.columns.first_shortage
    penalty = max(0.0, float(model.cost[first:] @ x[first:]))
    bound = optimum.bound + problem.fixed_usd
    total = costs.total + penalty
    program = SeasonProgram(
        farm_name=farm.name,
        start=farm.season.start,
        end=farm.season.end,
        status="short" if shortages else "complete",
        cost=costs.total,
        penalty=penalty,
        bound=bound,
        gap=max(0.0, total - bound) / max(abs(costs.total), 1.0),
        seconds=seconds,
        costs=costs,
        periods=problem.needs.periods,
        sources=problem.sources.values,
        groups=groups,
        feeding=account.feeding_rows(problem, eaten),
        needs=needs,
        shortages=shortages,
        purchases=bought,
        lots=lots,
        limits=limits_of(problem, needs, by_need, LEAST_LIMIT_SHARE * costs.total, display),
        lot_worth=lots_worth(farm, problem, model, prices, display),
        feed_worth=feeds_worth(problem, model, optimum, eaten, display),
        cautions=program_cautions(farm, problem, eaten, groups, display),
        assumptions=_assumptions(farm, problem),
        held_by=held_by(problem, needs, groups, by_need, display),
        reasons=reasons(problem, model, prices, eaten, display),
        unit_worth=units_worth(problem, by_need, display),
        sales=accounts.sales,
        farm_limits=limits,
        rules=rules_held(farm, problem),
    )
    outcomes, thin = outcomes_of(farm, program, display)
    program = replace(
        program,
        test_worth=worths_of_untested(farm, program),
        coverage=coverage_of(farm, program),
        outcomes=outcomes,
        shortages=with_effects(program.shortages, outcomes, display),
        cautions=(*program.cautions, *thin),
    )
    return with_deliveries(program, farm, counted=bool(problem.steps or problem.begins))


def cost_usd(farm: Farm, problem: Problem, model: Model, x: FloatArray) -> float:
    """Return what a solution costs, without the rest of what is told of a program.

    Parameters
    ----------
    farm : Farm
        The farm it is for.
    problem : Problem
        The season as plain arrays.
    model : Model
        The linear program that was solved.
    x : array
        Its solution.

    Returns
    -------
    float
        What is fed, lost, bought, sold and changed. [US dollars]
    """
    return _Accounts.of(farm, problem, model, x).costs.total


def _assumptions(farm: Farm, problem: Problem) -> tuple[Assumption, ...]:
    carry = farm.season.carry_over_value_pct
    own = [
        assumed("net_energy"),
        assumed("yard_value", kept=carry),
        assumed(
            "shortage_prices",
            energy=money_text(problem.shortage_usd["nem"]),
            protein=f"{money_text(problem.shortage_usd['cp'] * KG_PER_LB)} a pound"
            if farm.units == "us"
            else f"{money_text(problem.shortage_usd['cp'])} a kilogram",
            most=max(one.weight for one in shortage_places()),
        ),
    ]
    found = [*problem.needs.assumptions, *problem.sources.assumptions, *problem.assumptions]
    return tuple(dict.fromkeys([*own, *promises(farm), *found]))
