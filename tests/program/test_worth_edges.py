"""What more of a hay, a feed and a unit is worth, worked out again from prices laid down."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from rickyard.display import display_for
from rickyard.farm import Farm, Feed, FeedKind
from rickyard.program.explain.marginal_values import feeds_worth, lots_worth, units_worth
from rickyard.program.model.duals import Prices
from rickyard.program.model.rows import build_model
from rickyard.program.model.variables import KG_PER_ROW_UNIT
from rickyard.program.problem.problem import problem_of
from rickyard.program.solver import Optimum
from support.season_farms import cows, farm_of, hay, report_on, steers

CORN = Feed("corn", "Corn", FeedKind.GRAIN, 0.3, dm_pct=88.0, tdn_pct=88.0, cp_pct=9.0)
DISPLAY = display_for("metric")


def a_farm(kept_pct: float = 80.0) -> Farm:
    lots = [
        (one := hay(name, 55.0, 9.0, 50.0, usd), report_on(one, 55.0, 9.0))
        for name, usd in (("a", 60.0), ("b", 90.0))
    ]
    farm = farm_of(lots, [cows(), steers()], [CORN])
    return replace(farm, season=replace(farm.season, carry_over_value_pct=kept_pct))


@pytest.mark.parametrize("kept_pct", [0.0, 80.0, 100.0])
def test_a_lot_is_worth_what_it_saves_beyond_what_it_loses_by_being_fed(kept_pct: float) -> None:
    farm = a_farm(kept_pct)
    problem = problem_of(farm)
    model = build_model(problem)
    row = np.zeros(len(model.rows.lower))
    row[model.stock_row[:2]] = (-0.3, np.nan)
    prices = Prices(row, {}, np.zeros(0), {})
    first, second = lots_worth(farm, problem, model, prices, DISPLAY)
    value, kept = problem.sources.values[0].usd_per_kg_dm, float(problem.keep[0, -1])
    saved = 0.3 * 1000.0 / KG_PER_ROW_UNIT
    own = 1000.0 * value * (1.0 - kept_pct / 100.0 * kept)
    assert (first.lot_id, second.lot_id) == ("a", "b")
    assert first.usd_per_t_dm == pytest.approx(saved - own)
    assert second.usd_per_t_dm is None


def test_a_feed_comes_in_at_its_price_less_what_it_costs_too_much() -> None:
    problem = problem_of(a_farm())
    model = build_model(problem)
    corn = np.flatnonzero(model.columns.source == 2)
    per_kg = model.columns.offered_kg(problem)
    eaten = np.zeros(problem.shape)
    for dear, entry in ((0.1, 0.3 - 0.1 * 0.88), (0.0, 0.3), (-0.2, 0.3), (5.0, None)):
        reduced = np.full(len(model.cost), 1e6)
        reduced[corn] = dear * per_kg[corn]
        reduced[corn[1:]] += 10.0 * per_kg[corn[1:]]
        optimum = Optimum(0.0, 0.0, np.zeros(len(reduced)), np.zeros(1), reduced)
        (found,) = feeds_worth(problem, model, optimum, eaten, DISPLAY)
        assert not found.bought
        assert found.price_usd_per_kg == pytest.approx(0.3)
        assert found.entry_usd_per_kg == (None if entry is None else pytest.approx(entry))
    eaten[0, 2, 1] = 0.5
    (bought,) = feeds_worth(problem, model, optimum, eaten, DISPLAY)
    assert bought.bought
    assert bought.entry_usd_per_kg is None


def test_a_unit_is_worth_its_mean_and_most_by_group_and_farm() -> None:
    problem = problem_of(a_farm())
    days = problem.needs.head_days
    chance = np.random.default_rng(3)
    price = {name: chance.uniform(0.0, 40.0, days.shape) for name in ("nem", "gain_energy", "cp")}
    price["cp"][1, 2] = np.nan
    found = {(one.group_id, one.what): one for one in units_worth(problem, price, DISPLAY)}
    assert len(found) == 6
    energy = price["nem"] + price["gain_energy"]
    for group, rows in (("cows", [0]), ("steers", [1]), ("", [0, 1])):
        one = found[group, "energy"]
        assert one.usd_per_unit == pytest.approx(energy[rows].sum() / days[rows].sum())
        assert one.most_usd_per_unit == pytest.approx((energy[rows] / days[rows]).max())
        known = np.isfinite(price["cp"][rows])
        protein = found[group, "protein"]
        mean = price["cp"][rows][known].sum() / days[rows][known].sum()
        assert protein.usd_per_unit == pytest.approx(mean)
    nothing = {name: np.full(days.shape, np.nan) for name in price}
    assert {one.usd_per_unit for one in units_worth(problem, nothing, DISPLAY)} == {None}
