"""Rows of the program for a group, three sources and three weeks, each coefficient by hand.

One hay is there from the first week, another from the second, and corn all the time.
"""

from __future__ import annotations

from dataclasses import replace
from statistics import NormalDist
from typing import Any

import numpy as np
import pytest

from rickyard.program.model.chance_rows import (
    AssuredRows,
    AssuredSupply,
    assured_supplies,
    leeways,
)
from rickyard.program.model.row_builder import RowBuilder
from rickyard.program.model.rows import SHORT_ENERGY_NEG_PER_NEM
from rickyard.program.model.transition_rows import (
    change_amounts,
    change_over_rows,
    descent_amounts,
    descent_rows,
    fill_rows,
    step_rows,
    with_fill_of,
)
from rickyard.program.problem.assurance import Assurance
from rickyard.program.problem.no_fall import Descent, Hold
from rickyard.program.problem.step_schedule import Begin, Beside, Step
from rickyard.program.solver.points import SparseRows
from support.by_hand import INF, NAN, columns_of, ints, one

#: Amounts: 0 to 2 the hay, 3 and 4 the later hay in the second and third week, 5 to 7 the corn.
COLUMNS = columns_of(
    total=ints(20, 21, 22),
    rise=ints(-1, 8, 9, 10, 11, -1, -1, -1),
    first_shortage=12,
    shortage={
        "change_over": ints(-1, 12, 13),
        "fill": ints(14, -1, 15),
        "forage_fall": ints(-1, -1, 16),
    },
    count=23,
)
SHAPE = (1, 3, 3)


def problem_of(**what: Any) -> Any:
    usual: dict[str, Any] = {
        "shape": SHAPE,
        "steps": (),
        "begins": (),
        "besides": (),
        "holds": (),
        "descents": (),
        # Half of the first is wasted, and a fifth of the last.
        "sources": one(feeding_loss_frac=np.array([[0.5, 0.0, 0.2], [0.0, 0.0, 0.0]])),
    }
    usual["fill"] = None
    return one(**{**usual, **what})


def rows_of(rows: SparseRows) -> list[tuple[float, float, dict[int, float]]]:
    found: list[tuple[float, float, dict[int, float]]] = [
        (low, high, {}) for low, high in zip(rows.lower, rows.upper, strict=True)
    ]
    for row, column, value in zip(rows.row, rows.column, rows.value, strict=True):
        assert column not in found[row][2]
        found[row][2][int(column)] = pytest.approx(float(value))
    return found


def builder() -> RowBuilder:
    return RowBuilder(COLUMNS.period)


def test_new_hay_is_what_rises_and_no_more_than_a_share_of_all_hay() -> None:
    rows = builder()
    problem = problem_of(change_share=np.array([[NAN, 4.0 / 7.0, 0.5]]))
    where = change_over_rows(problem, COLUMNS, rows)["change_over"]
    assert where.tolist() == [-1, 0, 1]
    share = 4.0 / 7.0
    assert rows_of(rows.finish()) == [
        (-INF, 0.0, {8: 1.0, 10: 1.0, 1: -share, 3: -share, 12: -1.0}),
        (-INF, 0.0, {9: 1.0, 11: 1.0, 2: -0.5, 4: -0.5, 13: -1.0}),
        (0.0, INF, {8: 1.0, 1: -1.0, 0: 1.0}),
        (0.0, INF, {9: 1.0, 2: -1.0, 1: 1.0}),
        (0.0, INF, {10: 1.0, 3: -1.0}),
        (0.0, INF, {11: 1.0, 4: -1.0, 3: 1.0}),
    ]


def test_new_hay_is_measured_on_hay_alone() -> None:
    eaten = np.array([[[6.0, 2.0, 3.0], [0.0, 3.0, 3.0], [1.0, 9.0, 9.0]]])
    problem = problem_of(
        change_share=np.array([[NAN, 0.5, 0.25]]),
        sources=one(is_hay=np.array([True, True, False])),
    )
    allowed, risen = change_amounts(problem, eaten)
    assert allowed[0, 1:].tolist() == [2.5, 1.5]
    assert risen.tolist() == [[6.0, 3.0, 1.0]]


def test_stock_with_free_access_are_filled_within_two_percent() -> None:
    per_kg = (1.0 + np.arange(9.0).reshape(SHAPE)) / 100.0
    fill = one(free=np.array([[True, False, True]]), per_kg=per_kg, appetite_kg=np.array([10.0]))
    rows = builder()
    where = fill_rows(problem_of(fill=fill), COLUMNS, rows)
    assert where["fill"].tolist() == [0, -1, 1]
    done = rows.finish()
    assert rows_of(done) == [
        (9.8, 10.2, {0: 0.1, 5: 0.7, 14: 1.0}),
        (9.8, 10.2, {2: 0.3, 4: 0.6, 7: 0.9, 15: 1.0}),
    ]
    other = one(free=fill.free, per_kg=per_kg + 1.0, appetite_kg=np.array([10.0]))
    anew = rows_of(with_fill_of(done, problem_of(fill=other), COLUMNS, where))
    assert anew[1][2] == {2: 10.3, 4: 10.6, 7: 10.9, 15: 1.0}
    assert with_fill_of(done, problem_of(fill=other), COLUMNS, {}) is done
    assert fill_rows(problem_of(), COLUMNS, builder()) == {}


CORN = Step(
    *("corn-steps", 0, 2),
    keep=np.array([1.5, 1.2, 1.0]),
    ahead=np.array([0.4, 0.3, 0.7]),
    free=np.array([0.2, 0.3, 0.4]),
    before_kg=2.0,
    days=14,
)


def test_a_feed_that_is_raised_is_held_to_the_weeks_beside_it() -> None:
    rows = builder()
    step_rows(problem_of(steps=(CORN,)), COLUMNS, rows)
    assert rows_of(rows.finish()) == [
        (-INF, pytest.approx(3.2), {5: 1.0, 6: -0.4}),
        (-INF, 0.3, {6: 1.0, 5: -1.2, 7: -0.3}),
        (-INF, 0.4, {7: 1.0, 6: -1.0}),
    ]
    assert CORN.free.tolist() == [0.2, 0.3, 0.4], "what is known beside it stays"


def test_what_is_bought_twice_is_raised_as_one_feed() -> None:
    rows = builder()
    step_rows(problem_of(steps=(replace(CORN, source=0, also=(1,)),)), COLUMNS, rows)
    assert rows_of(rows.finish()) == [
        (-INF, pytest.approx(3.2), {0: 1.0, 1: -0.4, 3: -0.4}),
        (-INF, 0.3, {1: 1.0, 3: 1.0, 0: -1.2, 2: -0.3, 4: -0.3}),
        (-INF, 0.4, {2: 1.0, 4: 1.0, 1: -1.0, 3: -1.0}),
    ]


def test_a_hay_with_nitrate_is_begun_on_a_part_of_its_share() -> None:
    rows = builder()
    share = np.full(SHAPE, 0.4)
    share[0, 1] = 0.5
    begins = (
        Begin("n", 0, 0, np.array([0.5, NAN, 0.0])),
        Begin("n", 0, 1, np.array([0.3, 0.2, 0.06])),
    )
    problem = problem_of(begins=begins, sources=one(share_limit=share))
    step_rows(problem, COLUMNS, rows)
    # Where another danger has its turn there may be four times what there was.
    assert rows_of(rows.finish()) == [
        (-INF, 0.0, {0: 1.0, 20: -0.2}),
        (-INF, 0.0, {2: 1.0, 1: -4.0}),
        (-INF, 0.0, {3: 1.0, 21: -0.1}),
        (-INF, 0.0, {4: 1.0, 3: -1.0, 22: -0.03}),
    ]


def test_corn_is_fed_with_hay_beside_it() -> None:
    rows = builder()
    beside = Beside("b", 0, np.array([False, False, True]), np.array([True, True, False]), 0.25)
    other = replace(beside, group=1)
    step_rows(problem_of(besides=(beside, other)), COLUMNS, rows)
    assert rows_of(rows.finish()) == [
        (-INF, 0.0, {5: 1.0, 0: -0.25}),
        (-INF, 0.0, {6: 1.0, 1: -0.25, 3: -0.25}),
        (-INF, 0.0, {7: 1.0, 2: -0.25, 4: -0.25}),
        # The same of what is put out.
        (-INF, 0.0, {5: 1.25, 0: -0.5}),
        (-INF, 0.0, {6: 1.25, 1: -0.5, 3: -0.25}),
        (-INF, 0.0, {7: 1.25, 2: -0.5, 4: -0.25}),
        *[(-INF, 0.0, {})] * 6,
    ]


def test_a_shared_limit_holds_in_its_periods_and_may_leave_some_kilograms_free() -> None:
    rows = builder()
    of, beside = np.array([True, False, True]), np.array([False, True, False])
    on, free = np.array([False, True, True]), np.array([9.0, 1.5, 2.0])
    share = Beside("s", 0, of, beside, 0.25, on)
    weight = Beside("w", 0, of, beside, 0.0, on, free)
    step_rows(problem_of(besides=(share, weight)), COLUMNS, rows)
    assert rows_of(rows.finish()) == [
        (-INF, 0.0, {1: 1.0, 6: 1.0, 3: -0.25}),
        (-INF, 0.0, {2: 1.0, 7: 1.0, 4: -0.25}),
        (-INF, 0.0, {1: 2.0, 6: 1.25, 3: -0.25}),
        (-INF, 0.0, {2: 2.0, 7: 1.25, 4: -0.25}),
        (-INF, 1.5, {1: 1.0, 6: 1.0}),
        (-INF, 2.0, {2: 1.0, 7: 1.0}),
    ]


def test_of_what_begins_half_is_counted_where_feed_may_not_fall() -> None:
    rows = builder()
    hold = Hold("f", 0, 1, "cp", 0.9, ((2,), (7,)))
    problem = problem_of(holds=(hold,), per_kg={"cp": np.array([0.1, 0.2, 0.3])})
    step_rows(problem, COLUMNS, rows)
    (given,) = rows.by_source()
    assert rows_of(rows.finish()) == [
        (0.0, INF, {1: 0.1, 3: 0.2, 6: 0.3, 0: -0.09, 5: -0.27}),
        (0.0, INF, {1: 0.1, 3: 0.2, 6: 0.15, 0: -0.09, 5: -0.12}),
    ]
    part = dict(
        zip(zip(given.row.tolist(), given.column.tolist(), strict=True), given.part, strict=True)
    )
    assert (part[0, 6], part[0, 5]) == (1.0, pytest.approx(-0.9))
    assert (part[1, 6], part[1, 5]) == (0.5, pytest.approx(-0.4))
    many = builder()
    step_rows(
        problem_of(holds=(replace(hold, slow=((2,),) * 5),), per_kg=problem.per_kg), COLUMNS, many
    )
    assert many.count == 2**4, "of more than four feeds the rest is counted as even"


# --- what is supplied with a chance ------------------------------------------------------------


def test_what_is_assured_is_the_mean_less_so_many_spreads() -> None:
    supply = AssuredSupply(
        ints(0, 0, 1), np.array([0.1, 0.2, 0.3]), np.array([0.03, 0.02, 0.0]), np.array([2.0, 1.0])
    )
    x = np.array([1.0, 2.0, 5.0, 99.0])
    assured, spread = supply.of(x)
    assert spread == pytest.approx([0.05, 0.0])
    assert assured == pytest.approx([0.5 - 2.0 * 0.05, 1.5])
    # The slope is m - z s^2 x / S.
    slopes = supply.slopes(x, spread)
    assert slopes == pytest.approx([0.1 - 2.0 * 0.0009 / 0.05, 0.2 - 2.0 * 0.0008 / 0.05, 0.3])


Z95 = 1.6448536269514722
#: Protein, TDN, NEm and NEg of a kilogram of two hays, and how well they are known.
GIVES = {"cp": [0.1, 0.2], "tdn": [0.5, 0.6], "nem": [1.0, 1.5], "neg": [0.4, 0.9]}
KNOWN = {"cp": [0.03, 0.02], "tdn": [0.0, 0.0], "nem": [0.3, 0.2], "neg": [0.2, 0.1]}


def assured_rows(chance: float = 95.0, **needs: float) -> Any:
    """Return the assured needs of one group in one week, which eats of two hays."""
    everybody = Assurance(np.array([chance]), {name: np.array(sd) for name, sd in KNOWN.items()})
    least = {name: np.array([[needs.get(name, NAN)]]) for name in ("cp", "nem", "tdn")}
    asked = one(
        least=least,
        retained_mcal=np.array([[needs.get("retained", 0.0)]]),
        cp_floor_frac=np.array([[needs.get("cp_floor", NAN)]]),
        head=np.array([[1]]),
    )
    places = {"cp": 2, "cp_floor": 3, "nem": 4, "tdn": 5, "gain_energy": 6}
    kind = "gain_energy" if "retained" in needs else "nem"
    there = {"cp": "cp" in needs, "cp_floor": "cp_floor" in needs, kind: "nem" in needs}
    problem = problem_of(
        shape=(1, 2, 1),
        assurance=everybody,
        needs=asked,
        per_kg={name: np.array(value) for name, value in GIVES.items()},
    )
    columns = one(
        source=ints(0, 1),
        shortage={one: ints(at if there.get(one) else -1) for one, at in places.items()},
        count=7,
    )
    model = one(problem=problem, columns=columns, cells=lambda: ints(0, 0))
    model.totals = lambda x, name: np.array([x[:2].sum()])
    return AssuredRows(model, everybody)


def point(*amounts: float, **short: float) -> Any:
    x = np.zeros(7)
    x[: len(amounts)] = amounts
    for name, kg in short.items():
        x[{"cp": 2, "cp_floor": 3, "gain_energy": 6}[name]] = kg
    return x


#: Of one and two kilograms protein is known within 0.05 kg, 0.03 and 0.04 at right angles.
CP_SLOPES = [0.1 - Z95 * 0.0009 / 0.05, 0.2 - Z95 * 0.0008 / 0.05]


def test_a_tangent_is_laid_where_less_is_assured_than_needed() -> None:
    (cut,) = assured_rows(cp=0.5).broken(point(1.0, 2.0))
    assert (cut.need, cut.cells.tolist()) == ("cp", [0])
    slopes = {0: pytest.approx(CP_SLOPES[0]), 1: pytest.approx(CP_SLOPES[1])}
    assert rows_of(cut.rows) == [(0.5, INF, {**slopes, 2: 1.0})]
    sure = 0.5 - Z95 * 0.05
    for missing, wanted in ((0.9e-7, 0), (1.1e-7, 1)):
        need = sure * (1.0 + missing)
        assert len(assured_rows(cp=need).broken(point(1.0, 2.0))) == wanted
        lacks = point(1.0, 2.0, cp=0.1)
        assert len(assured_rows(cp=sure + 0.1 + missing * (sure + 0.1)).broken(lacks)) == wanted
    assert assured_rows(cp=0.5).nem(point(1.0, 2.0))[0] == pytest.approx(4.0 - Z95 * 0.5)


def test_a_floor_of_protein_is_measured_on_what_is_eaten() -> None:
    (cut,) = assured_rows(cp_floor=0.15).broken(point(1.0, 2.0))
    assert cut.rows.lower.tolist() == [0.0]
    wanted = {0: pytest.approx(CP_SLOPES[0] - 0.15), 1: pytest.approx(CP_SLOPES[1] - 0.15), 3: 1.0}
    assert rows_of(cut.rows)[0][2] == wanted
    # 0.5 kg of 3 kg less 1.645 spreads of 0.05 kg; of little the measure is that of one kilogram.
    for kg in (1.0, 0.1):
        floor = (0.5 - Z95 * 0.05) / 3.0
        for over, broken in ((0.95e-7, 0), (1.05e-7, 1)):
            miss = over * floor * (max(3.0 * kg, 1.0) / (3.0 * kg))
            found = assured_rows(cp_floor=floor + miss).broken(point(kg, 2.0 * kg))
            assert len(found) == broken, (kg, over)


def test_a_chance_may_miss_by_more_points_after_some_rounds() -> None:
    def breaks(rounds: int, spreads: float, **short: float) -> bool:
        rows = assured_rows(cp=0.5 - (Z95 - spreads) * 0.05 + short.get("cp", 0.0))
        rows._rounds = rounds
        return bool(rows.broken(point(1.0, 2.0, **short)))

    tenth, four = (Z95 - NormalDist().inv_cdf(0.95 - part / 1000.0) for part in (1, 4))
    for rounds, most in ((9, 0.0), (10, tenth), (15, tenth), (16, four)):
        assert not breaks(rounds, most * 0.999), rounds
        assert breaks(rounds, most * 1.001 + 1e-5), rounds
    assert not breaks(10, four * 0.999, cp=1e-4), "what is short anyway"
    assert breaks(10, four * 1.001, cp=1e-4)
    assert breaks(10, tenth * 1.5, cp=1e-6), "dust is not short"
    rows = assured_rows(cp=0.1)
    assert rows._rounds == 0
    assert rows.broken(point(1.0, 2.0)) == ()
    assert rows._rounds == 10, "what has settled is not held to the first measure again"
    rows.again()
    assert (rows._rounds, rows._mean) == (0, None)


def test_tangents_are_laid_between_a_mix_and_the_mean_of_those_before() -> None:
    rows = assured_rows(cp=0.5)
    rows.broken(point(2.0, 1.0))
    (cut,) = rows.broken(point(1.0, 2.0))
    assert rows._mean[:2] == pytest.approx([1.6, 1.4]), "four tenths of the way"
    # Half way between the mix and the first: 1.5 kg of each.
    spread = np.hypot(0.045, 0.03)
    wanted = [0.1 - Z95 * 0.0009 * 1.5 / spread, 0.2 - Z95 * 0.0004 * 1.5 / spread]
    assert cut.rows.value[:2] == pytest.approx(wanted)
    # Where its tangent cuts off less than a tenth of what the mix's own would, that is laid.
    deep = float(np.array(wanted) @ [1.0, 2.0]) - (0.5 - Z95 * 0.05)
    for part, slopes in ((0.095, CP_SLOPES), (0.105, wanted)):
        rows = assured_rows(cp=0.5 - Z95 * 0.05 + deep / (1.0 - part))
        rows.broken(point(2.0, 1.0))
        (cut,) = rows.broken(point(1.0, 2.0))
        assert cut.rows.value[:2] == pytest.approx(slopes)
    far = assured_rows(cp=0.5 - Z95 * 0.05 + 1e-4)
    far.broken(point(50.0, 0.0))
    far._rounds = 0
    (cut,) = far.broken(point(1.0, 2.0))
    assert cut.rows.value[:2] == pytest.approx(CP_SLOPES)


def test_gain_is_assured_by_the_slopes_of_both_energies() -> None:
    rows = assured_rows(nem=3.0, retained=1.0)
    (cut,) = rows.broken(point(1.0, 2.0, gain_energy=0.5))
    assert (cut.need, cut.rows.lower.tolist()) == ("gain_energy", [1.0])
    on_nem, on_neg = 0.5, np.hypot(0.2, 0.2)
    a = 4.0 - Z95 * on_nem + 0.5
    b = 2.2 - Z95 * on_neg + SHORT_ENERGY_NEG_PER_NEM * 0.5
    ratio = b / a
    at_m = 3.0 + 1.0 / ratio
    at_a, at_b = 3.0 / at_m**2, 1.0 / (ratio * at_m) ** 2
    nem = [1.0 - Z95 * 0.09 / on_nem, 1.5 - Z95 * 0.08 / on_nem]
    neg = [0.4 - Z95 * 0.04 / on_neg, 0.9 - Z95 * 0.02 / on_neg]
    wanted = [at_a * m + at_b * g for m, g in zip(nem, neg, strict=True)]
    helps = at_a + SHORT_ENERGY_NEG_PER_NEM * at_b
    assert cut.rows.value == pytest.approx([*wanted, helps])
    # The tangent misses 1 - a / at_m at the mix itself, and that grows with what is needed.
    spread = at_a * on_nem + at_b * on_neg
    for rounds, most in ((0, 1e-7), (16, (Z95 - NormalDist().inv_cdf(0.946)) * spread)):
        for part, count in ((0.98, 0), (1.02, 1)):
            # Spreads are counted in units of the need: of k times the need one kth.
            times = a / at_m * (1.0 + part * most * (1.0 if rounds == 0 else at_m / a))
            rows = assured_rows(nem=3.0 * times, retained=times)
            rows._rounds = rounds
            assert len(rows.broken(point(1.0, 2.0, gain_energy=0.5))) == count


def test_what_is_assured_of_a_diet_and_by_how_much_a_promise_may_be_missed() -> None:
    rows = assured_rows(cp=0.5, nem=3.0, retained=1.0)
    problem = rows._model.problem
    eaten = np.array([[[1.0], [2.0]]])
    found = assured_supplies(problem, eaten, {"gain_energy": np.array([[3.5]])})
    assert found["cp"][0, 0] == pytest.approx(0.5 - Z95 * 0.05)
    assert found["cp_floor"][0, 0] == found["cp"][0, 0]
    assert found["tdn"][0, 0] == pytest.approx(1.7)
    nem, neg = 4.0 - Z95 * 0.5, 2.2 - Z95 * np.hypot(0.2, 0.2)
    assert found["nem"][0, 0] == pytest.approx(nem)
    assert found["gain_energy"][0, 0] == pytest.approx(3.5 / (3.0 / nem + 1.0 / neg))
    missed = Z95 - NormalDist().inv_cdf(0.945)
    assert leeways(problem) == pytest.approx([missed / Z95])
    problem.assurance = Assurance(np.array([50.0]), problem.assurance.sd)
    assert leeways(problem).tolist() == [0.0]
    assert assured_rows(50.0, cp=0.51).broken(point(1.0, 2.0)) == ()
    assert len(assured_rows(52.0, cp=0.51).broken(point(1.0, 2.0))) == 1
    assert np.isnan(assured_supplies(problem, eaten, {"gain_energy": np.ones((1, 1))})["cp"]).all()
    problem.assurance = Assurance(np.array([52.0]), problem.assurance.sd)
    assert leeways(problem)[0] == pytest.approx(1.0 - 0.037608 / 0.050154, rel=1e-4)
    assert np.isfinite(assured_supplies(problem, eaten, {"gain_energy": np.ones((1, 1))})["cp"])
    problem.assurance = None
    assert leeways(problem).tolist() == [0.0]
    assert assured_supplies(problem, eaten, {}) == {}


def test_forage_falls_by_a_part_of_the_ration_before_it() -> None:
    rows = RowBuilder(COLUMNS.group * SHAPE[2] + COLUMNS.period)
    forage = np.array([True, True, False])
    fall = Descent("f", 0, 2, forage, forage, 0.25)
    problem = problem_of(descents=(fall,))
    where = descent_rows(problem, COLUMNS, rows)["forage_fall"]
    assert where.tolist() == [-1, -1, 0]
    # Of period 2 both hays and what is missing; of period 1 both but for a quarter, and a quarter
    # of the corn.
    given = {2: 1.0, 4: 1.0, 1: -0.75, 3: -0.75, 6: 0.25, 16: 1.0}
    assert rows_of(rows.finish()) == [(0.0, INF, given)]
    eaten = np.array([[[0.0, 6.0, 2.0], [0.0, 2.0, 1.0], [0.0, 4.0, 9.0]]])
    problem.needs = one(head_days=np.ones((1, 3)))
    least, forage = descent_amounts(problem, eaten)
    assert least[0, 2] == 8.0 - 0.25 * 12.0
    assert forage[0, 2] == 3.0
    assert np.isnan(least[0, :2]).all()
