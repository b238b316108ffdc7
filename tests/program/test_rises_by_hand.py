"""Hay that makes up for what is raised slowly, each variable and coefficient by hand.

A group of forty head, a lot from the first week on, a hay that is bought from the second, and
corn, of which a fifth is wasted.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from rickyard.program.model.hay_for_rises import RisingModel, with_hay_for_rises
from rickyard.program.model.rows import Model
from rickyard.program.problem.set_aside import set_aside_kg_dm
from rickyard.program.problem.step_schedule import Begin, Step
from rickyard.program.solver.points import SparseRows
from support.by_hand import INF, NAN, columns_of, ints, one

#: Amounts: 0 to 2 the lot, 3 and 4 the bought hay, 5 to 7 the corn; 8 and 9 are what is missing.
COLUMNS = columns_of(first_shortage=8, count=10)
KEEP = np.array([[0.9, 0.8, 0.5]])


def a_model(*, here: tuple[bool, ...] = (True,) * 3, hay: tuple[bool, ...] = (True, True)) -> Model:
    problem = one(
        shape=(1, 3, 3),
        needs=one(groups=[one(head=40)], here=np.array([here])),
        sources=one(
            lot_count=1,
            bound=(),
            is_hay=np.array([*hay, False]),
            feeding_loss_frac=np.array([[0.0, 0.1, 0.2]]),
        ),
        keep=KEEP,
    )
    stock = SparseRows.of(-INF, np.array([50.0, 20.0]), (ints(0, 1), ints(0, 3), 1.0))
    return Model(
        problem=problem, columns=COLUMNS, cost=np.arange(10.0), lower=np.zeros(10),
        upper=np.full(10, 9.0), rows=stock, row_of={}, stock_row=ints(0), buy_row=ints(1, -1),
        farm_row={}, given=(),
    )  # fmt: skip


CORN = Step(
    *("corn-steps", 0, 2),
    keep=np.ones(3), ahead=np.zeros(3), free=np.array([0.2, 0.3, 0.4]), before_kg=2.0, days=15,
)  # fmt: skip


def raised(steps: tuple[Step, ...] = (), begins: tuple[Begin, ...] = ()) -> Any:
    return one(steps=steps, begins=begins, shape=(1, 3, 3))


def rows_of(rows: SparseRows) -> list[tuple[float, float, dict[int, float]]]:
    found: list[tuple[float, float, dict[int, float]]] = [
        (low, high, {}) for low, high in zip(rows.lower, rows.upper, strict=True)
    ]
    for row, column, value in zip(rows.row, rows.column, rows.value, strict=True):
        assert column not in found[row][2]
        found[row][2][int(column)] = pytest.approx(float(value))
    return found


#: Half of fourteen days are lost of a rise over fifteen, a twentieth more, of forty head in tonnes.
LOST = -1.05 * 40 * 7.0 / 1000.0


def grain() -> RisingModel:
    found = with_hay_for_rises(a_model(), raised((CORN,)))
    assert isinstance(found, RisingModel)
    return found


def test_hay_is_set_aside_for_what_rises_beyond_what_is_free() -> None:
    found = grain()
    assert rows_of(found.rows) == [
        (-INF, 50.0, {0: 1.0, 12: 1.0 / 0.9, 15: 1.0 / 0.8, 19: 1.0 / 0.5}),
        (-INF, 20.0, {3: 1.0, 16: 1.0, 20: 1.0}),
        # Two kilograms were known before.
        (-INF, pytest.approx(2.2), {5: 1.25, 10: -1.0}),
        (0.0, INF, {11: 1.0, 10: LOST, 12: 1.0}),
        (-INF, 0.3, {6: 1.25, 5: -1.25, 13: -1.0}),
        (0.0, INF, {14: 1.0, 13: LOST, 15: 1.0, 16: 1.0}),
        (-INF, 0.4, {7: 1.25, 6: -1.25, 17: -1.0}),
        (0.0, INF, {18: 1.0, 17: LOST, 19: 1.0, 20: 1.0}),
    ]
    assert found.more_group.tolist() == [0] * 11
    assert found.more_period.tolist() == [0, 0, 0, 1, 1, 1, 1, 2, 2, 2, 2]
    assert found.more_source.tolist() == [-1, 3, 0, -1, 3, 0, 1, -1, 3, 0, 1]
    assert found.more_row.tolist() == [3] * 3 + [5] * 4 + [7] * 4
    assert found.is_set_aside().tolist() == [source in (0, 1) for source in found.more_source]
    assert found.columns.count == 21
    dear = [1e6 * (source == 3) for source in found.more_source.tolist()]
    assert found.cost.tolist() == [*range(10), *dear]
    assert found.lower.tolist() == [0.0] * 21
    assert found.upper.tolist() == [9.0] * 10 + [1e4] * 11


def test_all_of_a_rise_counts_where_what_is_free_does_too() -> None:
    found = with_hay_for_rises(a_model(), raised((CORN,)), in_full=True)
    assert found.rows.upper[[2, 4, 6]].tolist() == [2.0, 0.0, 0.0]
    assert CORN.free.tolist() == [0.2, 0.3, 0.4]


def test_hay_with_nitrate_is_made_up_for_by_other_hay_when_it_begins() -> None:
    """Three days of it are lost; sixteen times what there was before is no beginning."""
    begin = Begin("n", 0, 1, np.full(3, NAN))
    found = with_hay_for_rises(a_model(), raised((replace(CORN, days=1),), (begin,)))
    assert isinstance(found, RisingModel)
    lost = -1.05 * 40 * 3.0 / 1000.0
    assert rows_of(found.rows)[2:] == [
        (-INF, 0.0, {3: 1.0 / 0.9, 10: -1.0}),
        (0.0, INF, {11: 1.0, 10: lost, 12: 1.0}),
        (-INF, 0.0, {4: 1.0 / 0.9, 3: -16.0 / 0.9, 13: -1.0}),
        (0.0, INF, {14: 1.0, 13: lost, 15: 1.0}),
    ]
    assert found.more_period.tolist() == [1, 1, 1, 2, 2, 2]
    over_two = with_hay_for_rises(a_model(), raised((replace(CORN, days=2),)))
    assert rows_of(over_two.rows)[3][2][10] == pytest.approx(-1.05 * 40 * 0.5 / 1000.0)


def test_nothing_is_set_aside_where_nothing_rises_or_there_is_no_hay() -> None:
    model = a_model()
    assert with_hay_for_rises(model, raised()) is model
    assert with_hay_for_rises(model, raised((replace(CORN, group=1),))) is model
    away = with_hay_for_rises(a_model(here=(False, True, False)), raised((CORN,)))
    assert isinstance(away, RisingModel)
    assert set(away.more_period.tolist()) == {1}
    bare = with_hay_for_rises(a_model(hay=(False, False)), raised((CORN,)))
    assert isinstance(bare, RisingModel)
    assert bare.more_row.tolist() == bare.more_source.tolist() == [-1, -1, -1]
    late = with_hay_for_rises(a_model(hay=(False, True)), raised((CORN,)))
    assert isinstance(late, RisingModel)
    assert late.more_source.tolist() == [-1, -1, 3, 1, -1, 3, 1]


def test_hay_set_aside_is_that_of_the_first_day() -> None:
    found = grain()
    x = np.zeros(21)
    x[[11, 12, 15, 16, 19, 20]] = (5.0, 0.9, 1.6, 0.5, 1.0, 0.25)
    assert found.set_aside_kg(x) == pytest.approx([1000.0 * (1.0 + 2.0 + 2.0), 750.0, 0.0])


def test_no_hay_set_aside_and_no_rise_brings_more_than_it_costs() -> None:
    found = grain()
    dual = np.array([-0.36, -0.5, -9.0, 7.0, -0.001, 0.3, -2.0, 1e9])
    sound = found.sound_prices(dual)
    # The lot costs 0.4, 0.45 and 0.72 in its weeks, and the hay that is bought 0.5.
    assert sound[[3, 5, 7]] == pytest.approx([0.4, 0.3, 0.5])
    assert sound[[2, 4, 6]] == pytest.approx([LOST * 0.4, -0.001, LOST * 0.5])
    assert sound[:2].tolist() == [-0.36, -0.5]
    assert dual[3] == 7.0
    # What somebody pays for hay to be taken is no reason to set it aside.
    paid = found.sound_prices(np.array([0.36, -0.5, 0.0, 7.0, 0.0, 0.0, 0.0, 0.0]))
    assert paid[3] == 0.0
    nobody = with_hay_for_rises(a_model(hay=(True, False)), raised((CORN,)))
    assert isinstance(nobody, RisingModel)
    prices = np.zeros(len(nobody.rows.lower))
    prices[0], prices[3] = -1e9, 1e9
    assert nobody.sound_prices(prices)[3] == 1e6


def kept_for(
    steps: tuple[Step, ...] = (), begins: tuple[Begin, ...] = (), corn: Any = (0.0, 2.0, 3.0)
) -> list[float]:
    """Return what is set aside of the lot, the bought hay and corn, of constant amounts."""
    problem = a_model().problem
    problem.sources.values = [None] * 3
    problem.steps, problem.begins = steps, begins
    eaten = np.array([[[8.0, 8.0, 6.0], [0.0, 1.8, 3.6], corn]])
    found: list[float] = set_aside_kg_dm(problem, eaten).tolist()
    return found


def test_of_constant_amounts_hay_is_kept_for_the_days_that_a_rise_takes() -> None:
    # 2.5 and then 1.25 kg of corn a head and day are seven days late; the hays are 8 and 2 kg in
    # the second week, 6 and 4 in the third.
    herd = 1.05 * 40
    lot = herd * 7.0 * (2.5 * 0.8 / 0.8 + 1.25 * 0.6 / 0.5)
    bought = herd * 7.0 * (2.5 * 0.2 + 1.25 * 0.4)
    assert kept_for((CORN,)) == pytest.approx([lot, bought, 0.0])
    for other in (replace(CORN, group=1), replace(CORN, days=1)):
        assert kept_for((other,)) == [0.0] * 3
    # Two kilograms were known, and as much as is free needs no days.
    late = (1.76 + 1e-6, 2.0, 2.24)
    assert kept_for((CORN,), corn=(1.76, 2.0, 2.24))[1] == pytest.approx(0.0)
    assert kept_for((CORN,), corn=late)[0] == pytest.approx(herd * 7.0 * 0.2 / 0.9, rel=1e-4)


def test_what_begins_beside_something_else_waits_a_week_longer() -> None:
    begin = Begin("n", 0, 1, np.full(3, NAN))
    herd = 1.05 * 40
    # Three days of the two kilograms of hay with nitrate, and of the corn fourteen.
    first = herd * (3.0 * 2.0 + 14.0 * 2.5) / 0.8
    second = herd * 7.0 * 1.25 / 0.5
    assert kept_for((CORN,), (begin,)) == pytest.approx([first + second, 0.0, 0.0])
    assert kept_for((), (begin,)) == pytest.approx([herd * 3.0 * 2.0 / 0.8, 0.0, 0.0])
    urea = replace(CORN, rule_id="u", days=21, source=0, free=np.full(3, 99.0))
    assert kept_for((CORN, urea), (begin,)) == kept_for((CORN,), (begin,))


BOTH = (Begin("n", 0, 0, np.full(3, NAN)), Begin("n", 0, 1, np.full(3, NAN)))


def ending(most: float, allowed: bool = True) -> list[float]:
    """Return what is set aside where one hay with nitrate ends as 5 kg of another begin."""
    problem = a_model().problem
    problem.sources.values, problem.sources.allowed = [None] * 3, np.full((1, 3, 3), allowed)
    problem.steps, problem.begins = (), BOTH
    eaten = np.array([[[most, most, 0.0], [0.0, 0.0, 4.5], [0.0] * 3]])
    found: list[float] = set_aside_kg_dm(problem, eaten).tolist()
    return found


def test_hay_with_nitrate_that_ends_is_kept_for_the_days_on_which_another_begins() -> None:
    """A third of the forage was gone in one night as one lot was eaten up to its last bale."""
    herd = 1.05 * 40 / 0.5
    assert ending(8.0) == pytest.approx([herd * 3.0 * 5.0, 0.0, 0.0])
    # No more of it than there was, and none of what they may not have any longer.
    assert ending(2.0) == pytest.approx([herd * 3.0 * (2.0 + 5.0 / 3.0), 0.0, 0.0])
    assert ending(8.0, allowed=False) == [0.0] * 3


def test_hay_with_nitrate_that_they_know_may_be_set_aside_but_is_not_counted_on() -> None:
    found = with_hay_for_rises(a_model(), raised((), BOTH))
    assert isinstance(found, RisingModel)
    # What began with the season, or alone, has none that they know beside it.
    stands = {t: found.more_source[found.more_period == t].tolist() for t in range(3)}
    assert stands == {0: [-1], 1: [-1, -1, 3, 0], 2: [-1, -1, 3, 0, 1]}
    in_full = with_hay_for_rises(a_model(), raised((), BOTH), in_full=True)
    assert isinstance(in_full, RisingModel)
    assert set(in_full.more_source.tolist()) == {-1}
    alone = with_hay_for_rises(a_model(), raised((), BOTH[:1]))
    assert isinstance(alone, RisingModel)
    assert 0 not in alone.more_source.tolist()
