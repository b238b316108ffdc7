"""What was fed against what was planned, and on which weeks a hay or feed may be fed."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from rickyard.display import display_for
from rickyard.farm import FedRow, Feed, FeedKind
from rickyard.program.compare.fed_vs_planned import FedAgainst, FedLine, _part, fed_against
from rickyard.program.compare.summary import Fed
from rickyard.program.explain.balances import costs, purchases, run_starts, sales
from rickyard.program.problem.problem import problem_of
from rickyard.program.result.result import Costs, LotBalance
from support.farms import START
from support.rows import each_row
from support.season_farms import cows, farm_of, hay, report_on

DAY = timedelta(days=1)
CORN = Feed("corn", "Corn", FeedKind.GRAIN, 0.3, dm_pct=88.0, tdn_pct=88.0, cp_pct=9.0)


def a_farm(lot: dict[str, Any] | None = None, feed: dict[str, Any] | None = None) -> Any:
    a, b = (hay(name, 55.0, 9.0, 50.0, 60.0) for name in "ab")
    reports = [(replace(a, **(lot or {})), report_on(a, 55.0, 9.0)), (b, report_on(b, 55.0, 9.0))]
    return farm_of(reports, [cows()], [replace(CORN, **(feed or {}))])


@each_row(
    ("planned", "fed", "said"),
    [
        (None, 100.0, "fed"),
        (1000.0, 1000.0, None),
        (1000.0, 1100.0, None),
        (1000.0, 900.0, None),
        (1000.0, 1101.0, "more than"),
        (1000.0, 899.0, "less than"),
        (0.0, 400.0, "was not planned"),
        (1000.0, 0.0, "none of the"),
        (1000.0, 2000.0, "100% more than"),
        (1000.0, 2001.0, "where"),
    ],
)
def test_a_tenth_more_or_less_is_as_planned_and_more_than_twice_is_told_as_such(
    planned: float | None, fed: float, said: str | None
) -> None:
    found = _part(FedLine("g", "a", planned, fed), {"a": "Hill"}, display_for("metric"))
    assert (found is None) is (said is None)
    assert said is None or said in (found or "")


@each_row(
    ("dates", "weeks"),
    [
        ({"feed_by": START + 6 * DAY}, [0]),
        ({"feed_by": START + 5 * DAY}, []),
        ({"feed_by": START + 13 * DAY}, [0, 1]),
        ({"feed_from": START + 7 * DAY}, [1, 2, 3]),
        ({"feed_from": START + 8 * DAY}, [2, 3]),
        ({"feed_from": START + 7 * DAY, "feed_by": START + 20 * DAY}, [1, 2]),
    ],
)
def test_a_hay_is_allowed_in_weeks_that_lie_wholly_between_its_days(
    dates: dict[str, Any], weeks: list[int]
) -> None:
    problem = problem_of(a_farm(lot=dates))
    assert np.flatnonzero(problem.sources.allowed[0, 0]).tolist() == weeks
    assert problem.sources.allowed[0, 1].all()


@pytest.mark.parametrize(
    ("dates", "weeks"),
    [
        ({"to_on": START + 7 * DAY}, [0]),
        ({"to_on": START + 6 * DAY}, []),
        ({"from_on": START + 7 * DAY}, [1, 2, 3]),
        ({"from_on": START + 8 * DAY}, [2, 3]),
    ],
)
def test_a_feed_is_allowed_until_the_day_before_its_last(
    dates: dict[str, Any], weeks: list[int]
) -> None:
    problem = problem_of(a_farm(feed=dates))
    assert np.flatnonzero(problem.sources.allowed[0, 2]).tolist() == weeks


def test_runs_begin_where_a_hay_was_not_fed_the_week_before_but_not_with_the_group() -> None:
    problem = problem_of(a_farm())
    eaten = np.zeros(problem.shape)
    eaten[0, 0] = [5.0, 5.0, 0.0, 5.0]
    eaten[0, 1] = [0.0, 1e-3, 1e-3, 0.0]
    eaten[0, 2] = [0.0, 1.0, 0.0, 1.0]
    assert run_starts(problem, eaten) == 2
    assert run_starts(problem, np.zeros(problem.shape)) == 0
    assert run_starts(problem, np.ones(problem.shape)) == 0


def test_what_is_bought_and_sold_adds_up_to_the_cost() -> None:
    farm = a_farm(lot={"sale_usd_per_kg": 0.08}, feed={"load_kg": 1000.0, "most_kg": 9000.0})
    problem = problem_of(farm)
    eaten = np.zeros(problem.shape)
    eaten[0, 2] = 1.0
    (bought,) = purchases(problem, eaten)
    fed = 30 * 28 * 1.0 / 0.88
    assert bought.loads == 1
    assert bought.as_fed_kg == pytest.approx(1000.0)
    assert bought.left_kg == pytest.approx(1000.0 - fed)
    assert bought.cost_usd == pytest.approx(300.0)
    assert bought.dm_kg == pytest.approx(880.0)
    (sale,) = sales(problem, np.array([880.0, 0.0]))
    assert (sale.lot_id, sale.as_fed_kg, sale.dm_kg) == ("a", pytest.approx(1000.0), 880.0)
    assert sale.revenue_usd == pytest.approx(80.0)
    assert sale.bales == pytest.approx(2.0)
    assert purchases(problem, np.zeros(problem.shape)) == ()
    priced = replace(farm, season=replace(farm.season, carry_over_value_pct=80.0, change_usd=7.0))
    lots = tuple(
        LotBalance(
            **{
                **dict.fromkeys(LotBalance.__dataclass_fields__, 0.0),
                "lot_id": name,
                "eaten_t": 10.0,
                "feeding_loss_t": 2.0,
                "storage_loss_t": 1.0,
                "left_t": 30.0,
                "sold_t": sold,
            }
        )
        for name, sold in (("a", 0.88), ("b", 0.0))
    )
    found = costs(priced, problem, lots, (bought,), (sale,), 3)
    price = [one.usd_per_kg_dm * 1000.0 for one in problem.sources.values[:2]]
    both = sum(price)
    assert found.hay_eaten == pytest.approx(10.0 * both)
    assert found.hay_feeding_loss == pytest.approx(2.0 * both)
    assert found.hay_storage_loss == pytest.approx(both)
    assert found.carry_over_discount == pytest.approx(0.2 * 30.0 * both)
    assert found.purchases == pytest.approx(300.0)
    assert found.feed_left == pytest.approx(-0.8 * 0.3 * bought.left_kg)
    assert found.hay_sold == pytest.approx(0.88 * price[0] - 80.0)
    assert found.changes == pytest.approx(21.0)
    assert Costs(1.0, 2.0, 3.0, 4.0, 5.0).total == 15.0
    assert Costs(1.0, 2.0, 3.0, 4.0, 5.0, -6.0, 7.0, 8.0).total == 24.0


def fed(day: int, source: str = "a", group: str = "cows", **mass: float) -> FedRow:
    return FedRow(START + day * DAY, source, group, **mass)


def against(*rows: FedRow, planned: tuple[Fed, ...] | None = ()) -> FedAgainst:
    """Set a log beside what was planned from the first day to the seventh."""
    farm = replace(a_farm(), units="metric", fed=rows)
    plan: Any = None if planned is None else SimpleNamespace(feeding=planned)
    return fed_against(farm, plan, START, START + 7 * DAY)


def test_the_log_counts_from_the_first_day_to_before_the_end_by_mass_or_bales() -> None:
    """A bale of five hundred kilograms; what has no mass was told as none."""
    rows = (fed(-1, mass_kg=9.0), fed(0, mass_kg=70.0), fed(6, bales=0.5), fed(7, mass_kg=9.0))
    (line,) = against(*rows, planned=None).lines
    assert line == FedLine("cows", "a", None, pytest.approx(320.0))
    (unknown,) = against(fed(1, "corn", bales=2.0), fed(2, "corn", bales=3.0)).lines
    assert (unknown.planned_kg, unknown.fed_kg, unknown.unweighed) == (0.0, None, 2)
    (some,) = against(fed(1, "corn", bales=2.0), fed(2, "corn", mass_kg=30.0)).lines
    assert (some.fed_kg, some.unweighed) == (30.0, 1)


def test_feeding_without_a_weight_is_told_as_fed_and_not_as_none() -> None:
    plan = (Fed("cows", "corn", START, 7, 700.0),)
    rows = (fed(1, "corn", bales=2.0), fed(2, "corn", mass_kg=30.0))
    (said,) = against(*rows[:1], planned=plan).sentences
    assert "1 line without a weight of Corn where 0.7 t was planned" in said
    assert "none of the" not in said
    (said,) = against(*rows, planned=plan).sentences
    assert "30 kg and 1 line without a weight of Corn" in said


def test_days_of_a_plan_beyond_the_span_count_by_their_share() -> None:
    plan = (
        Fed("cows", "a", START - 3 * DAY, 7, 700.0),
        Fed("cows", "a", START + 5 * DAY, 10, 500.0),
        Fed("cows", "b", START - 7 * DAY, 7, 700.0),
        Fed("cows", "b", START + 7 * DAY, 7, 700.0),
        Fed("ewes", "corn", START, 7, 30.0),
    )
    found = against(fed(1, group="geese", mass_kg=5.0), planned=plan)
    assert found.lines == (
        FedLine("cows", "a", pytest.approx(500.0), 0.0),
        FedLine("geese", "a", 0.0, 5.0),
        FedLine("ewes", "corn", pytest.approx(30.0), 0.0),
    )


@each_row(
    ("kg", "corn_kg", "said"),
    [
        (150.0, 150.0, ["fed as planned, within a tenth."]),
        (164.0, 136.0, ["fed as planned, within a tenth."]),
        (180.0, 150.0, ["180 kg of A, 20% more than the 150 kg planned."]),
        (120.0, 150.0, ["120 kg of A, 20% less than the 150 kg planned."]),
        (0.0, 150.0, ["none of the 150 kg of A planned."]),
        (0.5, 0.5, []),
    ],
)
def test_what_was_fed_is_told_beside_what_was_planned(
    kg: float, corn_kg: float, said: list[str]
) -> None:
    plan = (Fed("cows", "a", START, 7, 150.0), Fed("cows", "corn", START, 7, 150.0))
    told = against(fed(1, mass_kg=kg), fed(2, "corn", mass_kg=corn_kg), planned=plan).sentences
    assert [one.split(": ", 1)[1] for one in told] == said
    others = against(
        fed(1, mass_kg=kg), fed(2, "corn", mass_kg=corn_kg), fed(2, group="ewes", mass_kg=1.1),
        planned=plan,
    ).sentences  # fmt: skip
    assert (others[0].endswith("the log has nothing.")) == (not said)
    assert others[-1].startswith("No group named")
