"""What autumn and the winters share, row by row, of one group with four things in two periods.

Amounts stand at twice the number of the source and the period: hay, corn bought in autumn, corn
bought later, and cubes that come in loads of half a tonne.
"""

from __future__ import annotations

from dataclasses import dataclass
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from rickyard.program.solver.points import SparseRows
from rickyard.program.winters import two_stage
from rickyard.program.winters.two_stage import (
    FirstStage,
    StageSplit,
    _as_stock,
    _autumn,
    _hold_cash,
    _hold_strangers,
    _pair_rows,
    _places,
    _prices,
    _shared,
    _stock_rows,
    later,
)

INF, NAN = np.inf, np.nan
CORN, LATER, CUBES = 1, 2, 3


def one(**what: Any) -> Any:
    return SimpleNamespace(**what)


def ints(*values: int) -> Any:
    return np.array(values, dtype=np.int64)


@dataclass(frozen=True)
class Season:
    use_usd: Any
    sources: Any


COLUMNS = one(
    group=np.zeros(8, dtype=np.int64),
    source=ints(0, 0, 1, 1, 2, 2, 3, 3),
    period=ints(0, 1, 0, 1, 0, 1, 0, 1),
    loads=ints(-1, -1, -1, 8),
    sold=ints(9),
    total=ints(10, -1),
    amounts=8,
    count=11,
    # So many kilograms are put out where one is eaten a head and day.
    offered_kg=lambda problem: 100.0 + 10.0 * np.arange(8),
)
SOURCES = one(
    values=[one(usd_per_kg_dm=usd) for usd in (0.1, 0.2, 0.25, 0.4)],
    lot_count=1,
    load_kg_dm=np.array([NAN, NAN, NAN, 500.0]),
    most_buy_kg_dm=np.array([5000.0, INF, 3000.0]),
    most_kg_dm=np.array([[[9.0, 9.0], [3.0, INF], [3.0, INF], [9.0, 9.0]]]),
    share_limit=np.array([[[1.0, 1.0], [0.4, 0.5], [0.4, 0.5], [1.0, 1.0]]]),
    sale_usd_per_kg_dm=np.array([0.15]),
)
PROBLEM = one(
    shape=(1, 4, 2),
    sources=SOURCES,
    load_price_usd=np.array([NAN, NAN, NAN, 600.0]),
    shortage_usd={"cash": 2.0},
)
MODEL: Any = one(columns=COLUMNS, problem=PROBLEM)
SPLIT = StageSplit(1, ints(CORN, CUBES), ints(LATER, -1), 0.9)
#: Where the variables stand in the program of all, and what is bought in autumn.
PLACE, BOUGHT = np.arange(11) + 100, ints(200, 201)


def read(rows: SparseRows) -> tuple[float, float, dict[int, float]]:
    (low,), (high,) = rows.lower.tolist(), rows.upper.tolist()
    pairs = zip(rows.column.tolist(), rows.value.tolist(), strict=True)
    return low, pytest.approx(high), {column: pytest.approx(value) for column, value in pairs}


def test_no_more_is_fed_than_was_bought_and_bought_than_can_be() -> None:
    found = [read(rows) for rows in _stock_rows(MODEL, SPLIT, PLACE, BOUGHT)]
    assert found == [
        (-INF, 0.0, {102: 0.12, 103: 0.13, 200: -1.0}),
        (-INF, 5.0, {200: 1.0, 104: 0.14, 105: 0.15}),
    ]
    loads = StageSplit(1, ints(CUBES), ints(LATER), 0.9)
    (found,) = [read(rows) for rows in _stock_rows(MODEL, loads, PLACE, BOUGHT)]
    assert found == (-INF, 3.0, {108: 0.5, 104: 0.14, 105: 0.15})
    endless = StageSplit(1, ints(LATER), ints(CORN), 0.9)
    assert len(_stock_rows(MODEL, endless, PLACE, BOUGHT)) == 1


def test_a_feed_and_its_copy_are_held_to_one_most_and_one_share() -> None:
    found = [read(rows) for rows in _pair_rows(MODEL, SPLIT, PLACE)]
    assert found == [
        (-INF, 3.0, {102: 1.0, 104: 1.0}),
        (-INF, 0.0, {102: 1.0, 104: 1.0, 110: -0.4}),
    ]


def test_what_is_paid_is_held_to_what_there_is() -> None:
    noted: list[Any] = []
    session: Any = one(
        add_columns=lambda *what: noted.append(what) or ints(300),  # type: ignore[func-returns-value]
        add_rows=noted.append,
    )
    bought = [(BOUGHT[:1], np.array([0.3]))]
    over = _hold_cash(session, MODEL, SPLIT, PLACE, 0.5, 5000.0, bought)
    (price, low, high), rows = noted
    assert (over, price.tolist(), low.tolist(), high.tolist()) == (300, [1000.0], [0.0], [INF])
    paid = {200: 0.3, 104: 0.14 * 0.25, 105: 0.15 * 0.25, 108: 0.6, 109: -0.15, 300: -1.0}
    assert read(rows) == (-INF, 5.0, paid)


def test_feed_by_weight_is_stock_at_its_worth_at_the_end() -> None:
    season: Any = Season(np.full((4, 2), 10.0), SOURCES)
    assert _as_stock(season, SPLIT).use_usd[:, 0].tolist() == [10.0, 9.0, 10.0, 10.0]
    assert season.use_usd[CORN, 0] == 10.0
    price, in_loads = _prices(PROBLEM, SPLIT)
    assert (price.tolist(), in_loads.tolist()) == ([0.2, 0.4], [False, True])


def test_what_is_decided_in_autumn_is_one_variable_in_all_winters() -> None:
    wanted = {("fed", 0, i, 0): 2 * i for i in range(4)}
    assert _shared(MODEL, SPLIT) == {**wanted, ("sold", 0, 0, 0): 9, ("loads", 0, CUBES, 0): 8}
    # Another winter in which no corn may be fed in autumn, and one more thing is counted.
    fewer = one(**{**vars(COLUMNS), "count": 11, "amounts": 7, "total": ints(9, 10)})
    for name in ("group", "source", "period"):
        setattr(fewer, name, np.delete(getattr(COLUMNS, name), 2))
    fewer.loads, fewer.sold = ints(-1, -1, -1, 7), ints(8)
    models: Any = [MODEL, one(columns=fewer, problem=PROBLEM)]
    places, count = _places(models, SPLIT)
    assert places[0].tolist() == list(range(11))
    # In the order of the second: its hay, the corn of winter, corn of later, and cubes.
    assert places[1].tolist() == [0, 11, 12, 4, 13, 6, 14, 8, 9, 15, 16]
    assert count == 17
    upper = np.full(count, 5.0)
    _hold_strangers(models, places, SPLIT, upper)
    assert np.flatnonzero(upper == 0.0).tolist() == [2]


def test_autumn_is_read_off_the_program_of_all() -> None:
    x = np.zeros(13)
    x[8:10], x[11:] = (3.0 + 5e-7, 0.002), (2.0, 7.0)
    eaten = np.full((1, 4, 2), 6.0)
    eaten[0, 0, 0] = -1e-9
    model: Any = one(**{**vars(MODEL), "eaten": lambda x: eaten})
    best: Any = one(x=x, objective=900.0, bound=890.0)
    found = _autumn(model, SPLIT, best, (np.arange(11), ints(11, 12)), 100.0)
    assert found.eaten.tolist() == [[[0.0], [6.0], [6.0], [6.0]]]
    assert found.sold_kg.tolist() == [pytest.approx(2.0)]
    assert found.bought_kg_dm.tolist() == [2000.0, 1500.0], "three loads, and a little is dust"
    assert (found.spent_usd, found.expected_usd) == (pytest.approx(1000.0), 1000.0)
    assert found.bound == pytest.approx(990.0 - 1e-5 * (0.2 * 2000.0 + 0.4 * 7000.0), abs=1e-9)
    for tonnes, sold in ((0.9e-6, 0.0), (1.1e-6, 1.1e-3), (-1.0, 0.0)):
        x[9] = tonnes
        found = _autumn(model, SPLIT, best, (np.arange(11), ints(11, 12)), 100.0)
        assert found.sold_kg.tolist() == [pytest.approx(sold)]


class Stopped(Exception):  # noqa: N818 - it only ends the work where it has been seen
    pass


def test_what_was_fed_and_sold_in_autumn_is_settled(monkeypatch: pytest.MonkeyPatch) -> None:
    noted: list[Any] = []

    def session(*what: Any) -> Any:
        noted.extend(what)
        raise Stopped

    upper = np.array([9.0, 9.0, 3.0, 3.0, 3.0, 3.0, 9.0, 9.0, 50.0, 8.0, INF])
    lower = np.zeros(11)
    lower[4] = 1.0
    model = one(**{**vars(MODEL), "cost": 0, "lower": lower, "upper": upper, "rows": 0})
    monkeypatch.setattr(two_stage, "build_model", lambda problem: model)
    monkeypatch.setattr(two_stage, "Session", session)
    fed = np.array([[[5.0], [1e-7], [1.0], [9.0]]])
    autumn = FirstStage(fed, np.array([2000.0]), np.zeros(2), 0.0, 0.0, 0.0)
    with pytest.raises(Stopped):
        later(PROBLEM, SPLIT, autumn, str)
    _, low, high, _ = noted
    # Within a ten-millionth, nothing where nothing was fed, and no less than there always is.
    assert low[[0, 2, 4, 6]].tolist() == [5.0 - 1e-7, 0.0, 1.0, 9.0 - 1e-7]
    assert high[[0, 2, 4, 6]].tolist() == [5.0 + 1e-7, 0.0, 1.0 + 1e-7, 9.0]
    assert (low[2], high[2]) == (0.0, 0.0)
    assert (low[9], high[9]) == (2.0, 2.0)
    assert (low[1], high[1]) == (0.0, 9.0)
