"""Rows of the yard, of money, of shares and of ceilings, each coefficient by hand.

A group of ten head, one lot that may be sold, a hay bought by weight and corn bought in loads,
in weeks of seven, fourteen and twenty-one days.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from rickyard.nutrients import NUTRIENTS
from rickyard.program.model.row_builder import RowBuilder
from rickyard.program.model.rows import (
    _ceiling_rows,
    _farm_rows,
    _share_rows,
    _supply_rows,
    _wish_rows,
)
from rickyard.program.problem.diet_ceilings import unknown_nitrate_ppm
from rickyard.program.solver.points import SparseRows
from rickyard.safety import amount_of
from support.by_hand import INF, NAN, columns_of, ints, one

#: Amounts: 0 to 2 the lot, 3 and 4 the bought hay, 5 to 7 the corn.
COLUMNS = columns_of(
    loads=ints(-1, -1, 8),
    sold=ints(9),
    total=ints(10, -1, 11),
    first_shortage=12,
    shortage={"sulfur": ints(15, -1, 16)},
    farm_short={"cash": 13, "reserve": 14},
    unkept=ints(-1, 12, *[-1] * 6),
    count=17,
)


def problem_of(**what: Any) -> Any:
    share = np.ones((1, 3, 3))
    share[0, 1, 2] = 0.4
    wished = np.zeros((1, 3, 3))
    wished[0, 0, 1] = 3.0
    sources = one(
        lot_count=1,
        start_kg_dm=np.array([5000.0]),
        most_buy_kg_dm=np.array([2000.0, INF]),
        load_kg_dm=np.array([NAN, NAN, 800.0]),
        share_limit=share,
        sale_usd_per_kg_dm=np.array([0.15]),
        feeding_loss_frac=np.array([[0.0, 0.1, 0.2]]),
        values=[one(usd_per_kg_dm=usd) for usd in (0.1, 0.2, 0.3)],
    )
    usual = {
        "shape": (1, 3, 3),
        "sources": sources,
        "needs": one(head_days=np.array([[70.0, 140.0, 210.0]])),
        "keep": np.array([[0.9, 0.8, 0.5]]),
        "cash_limit_usd": 1000.0,
        "load_price_usd": np.array([NAN, NAN, 240.0]),
        "reserve_kg_dm": 1000.0,
        "wished_kg_dm": wished,
        "fill": None,
    }
    return one(**{**usual, **what})


def rows_of(rows: SparseRows) -> list[tuple[Any, Any, dict[int, float]]]:
    found: list[tuple[Any, Any, dict[int, float]]] = [
        (pytest.approx(float(low)), pytest.approx(float(high)), {})
        for low, high in zip(rows.lower, rows.upper, strict=True)
    ]
    for row, column, value in zip(rows.row, rows.column, rows.value, strict=True):
        assert column not in found[row][2]
        found[row][2][int(column)] = pytest.approx(float(value))
    return found


def test_no_more_is_taken_of_a_source_than_there_is_or_comes_in_loads() -> None:
    rows = RowBuilder(COLUMNS.period)
    stock, bought = _supply_rows(problem_of(), COLUMNS, rows)
    assert (stock.tolist(), bought.tolist()) == ([0], [1, 2])
    assert rows_of(rows.finish()) == [
        (-INF, 5.0, {0: 0.07 / 0.9, 1: 0.14 / 0.8, 2: 0.21 / 0.5, 9: 1.0}),
        (-INF, 2.0, {3: 0.14 / 0.9, 4: 0.21 / 0.9}),
        (-INF, 0.0, {5: 0.07 / 0.8, 6: 0.14 / 0.8, 7: 0.21 / 0.8, 8: -0.8}),
    ]


def test_money_is_paid_for_feed_and_hay_is_left_on_the_last_day() -> None:
    rows = RowBuilder(COLUMNS.period)
    assert _farm_rows(problem_of(), COLUMNS, rows) == {"cash": 0, "reserve": 1}
    assert rows_of(rows.finish()) == [
        (-INF, 1.0, {3: 0.2 * 0.14 / 0.9, 4: 0.2 * 0.21 / 0.9, 8: 0.24, 9: -0.15, 13: -1.0}),
        # Half of five tonnes is still there at the end, and one is to be kept.
        (-INF, 1.5, {0: 0.07 / 0.9 * 0.5, 1: 0.14 / 0.8 * 0.5, 2: 0.21, 9: 0.5, 14: -1.0}),
    ]


def test_shares_are_of_all_that_is_eaten_and_wishes_are_met_as_far_as_can_be() -> None:
    rows = RowBuilder(COLUMNS.period)
    _share_rows(problem_of(), COLUMNS, rows)
    assert rows_of(rows.finish()) == [
        (0.0, 0.0, {0: 1.0, 5: 1.0, 10: -1.0}),
        (0.0, 0.0, {2: 1.0, 4: 1.0, 7: 1.0, 11: -1.0}),
        (-INF, 0.0, {4: 1.0, 11: -0.4}),
        # The same of what is put out, of which a tenth and a fifth are wasted.
        (-INF, 0.0, {2: -0.4, 4: 0.6 / 0.9, 7: -0.4 / 0.8}),
    ]
    wishes = RowBuilder(COLUMNS.period)
    _wish_rows(problem_of(), COLUMNS, wishes)
    assert rows_of(wishes.finish()) == [(3.0, INF, {1: 1.0, 12: 1.0})]


def test_ceilings_hold_what_is_eaten_beside_what_is_there_already() -> None:
    sulfur = one(
        name="sulfur",
        amount=np.array([3.0, 2.0, NAN]),
        against=np.array([1.0, 1.0, 1.0]),
        share=np.array([[0.5, 0.5, 0.25]]),
        most=np.array([[9.0, 9.0, 9.0]]),
        already=np.array([[1.0, 1.0, 4.0]]),
        active=np.array([[True, False, True]]),
        missable=True,
    )
    needs = one(
        here=np.array([[True, True, False]]),
        most_dm_kg=np.array([[12.0, NAN, 12.0]]),
        most_ndf_kg=np.array([[7.0, 6.0, 5.0]]),
    )
    problem = problem_of(
        needs=needs,
        ceilings=(sulfur,),
        per_kg={"dm": np.ones(3), "room": np.array([0.6, 0.5, 0.0])},
        fill=one(free=np.array([[False, True, False]])),
    )
    rows = RowBuilder(COLUMNS.period)
    where = _ceiling_rows(problem, COLUMNS, rows)
    assert {name: at.tolist() for name, at in where.items()} == {
        "most_dm": [0, -1, -1],
        "ndf": [1, -1, -1],
        "sulfur": [2, -1, 3],
    }
    unit = NUTRIENTS["sulfur"].row_scale
    assert rows_of(rows.finish()) == [
        (-INF, 12.0, {0: 1.0, 5: 1.0}),
        (-INF, 7.0, {0: 0.6}),
        (-INF, 8.0 / unit, {0: 2.5 / unit, 15: -1.0 / unit}),
        (-INF, 5.0 / unit, {2: 2.75 / unit, 4: 1.75 / unit, 16: -1.0 / unit}),
    ]
    problem.fill, sulfur.missable = None, False
    plain = RowBuilder(COLUMNS.period)
    where = _ceiling_rows(problem, COLUMNS, plain)
    assert where["ndf"].tolist() == [1, 2, -1]
    assert all(column < 8 for _, _, row in rows_of(plain.finish()) for column in row)


def test_hay_that_may_hold_nitrate_counts_until_it_is_tested() -> None:
    def rule(source: str, hazard: str = "nitrate", known: str = "unknown") -> Any:
        return one(source_id=source, rule=one(hazard=hazard, known=known))

    bound = [rule("a"), rule("b", known="high"), rule("c", hazard="molds"), rule("d", "x", "y")]
    sources = one(bound=bound, values=[one(source_id=name) for name in "abcd"])
    counted = amount_of("nitrate-counted-as")
    assert counted > 0.0
    assert unknown_nitrate_ppm(sources).tolist() == [counted, 0.0, 0.0, 0.0]
