"""What runs of weeks are asked for, row by row, of one group with a hay and corn in three weeks.

The group is the second of two. Corn is not to be had in the second week.
"""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from rickyard.program.runs import span_costs
from rickyard.program.runs.span_costs import (
    RATIOS,
    Runs,
    WeeklyPrices,
    _all_alike,
    _Asked,
    priced,
)
from rickyard.program.runs.spans import SpanRules, allowed_cut
from rickyard.program.solver.points import SparseRows

INF, NAN = np.inf, np.nan


def one(**what: Any) -> Any:
    return SimpleNamespace(**what)


def ints(*values: int) -> Any:
    return np.array(values, dtype=np.int64)


def second(*values: float) -> Any:
    """Return figures of which the first group has none."""
    return np.array([[NAN] * 3, values])


class Noted:
    """Blocks that note what is written into them."""

    def __init__(self, width: int) -> None:
        self.width = width
        self.templates: list[tuple[list[int], list[float]]] = []
        self.blocks: list[tuple[list[float], list[float], list[Any]]] = []

    def template(self, kind: Any, value: Any) -> int:
        self.templates.append((kind.tolist(), value.tolist()))
        return len(self.templates) - 1

    def begin(self, lower: Any, upper: Any) -> None:
        self.blocks.append((lower.tolist(), upper.tolist(), []))

    def row(self, template: int, low: float, high: float) -> None:
        self.blocks[-1][2].append((*self.templates[template], low, high))

    def session(self, cost: Any, meter: Any) -> Any:
        # Of everything as many kilograms as its kind has a number.
        kilograms = np.tile(np.arange(self.width), len(self.blocks)) + 1.0
        return one(
            minimise=lambda: one(x=kilograms),
            set_cost=lambda cost: None,
            leave_as_given=lambda: None,
        )


#: Kinds: hay 0, corn 1, all that is eaten 2, and what is missing of protein 3, gain 4 and fill 5.
COLUMNS = one(
    count=13,
    amounts=5,
    group=ints(1, 1, 1, 1, 1),
    source=ints(0, 0, 0, 1, 1),
    period=ints(0, 1, 2, 0, 2),
    total=ints(-1, -1, -1, 5, -1, 6),
    unkept=ints(-1, -1, -1, -1, -1),
    shortage={
        "cp": ints(-1, -1, -1, 7, 8, -1),
        "gain_energy": ints(-1, -1, -1, -1, 9, 10),
        "fill": ints(-1, -1, -1, 11, -1, 12),
    },
)
GIVES = {"cp": [0.1, 0.09], "nem": [1.2, 2.0], "neg": [0.6, 1.4]}


def runs(monkeypatch: pytest.MonkeyPatch, rules: SpanRules, leeway: float = 0.03) -> Runs:
    needs = one(
        least={"cp": second(0.9, 0.6, NAN), "nem": second(NAN, 9.0, 6.0)},
        head_days=second(70.0, 140.0, 70.0),
        growing=np.array([[False] * 3, [False, True, True]]),
        retained_mcal=second(0.0, 2.0, 4.0),
    )
    fill = one(
        free=np.array([[False] * 3, [True, False, True]]),
        per_kg=np.array([np.full((2, 3), NAN), [[0.05, 9.0, 0.07], [0.02, 9.0, 0.04]]]),
        appetite_kg=np.array([NAN, 10.0]),
    )
    per_kg = {name: np.array(value) for name, value in GIVES.items()}
    problem = one(shape=(2, 2, 3), needs=needs, fill=fill, per_kg=per_kg)
    upper = np.array([10.0, 8.0, 12.0, 4.0, 5.0, *[INF] * 8])
    lower = np.array([0.0, 0.5, 9.0, 0.0, 0.0, *[0.0] * 8])
    written = (
        (0, 0, 1.0), (0, 5, -0.5),  # a share of all that is eaten, in the first week
        (1, 2, 1.0), (1, 6, -0.5),  # and in the third
        (2, 0, 1.0), (2, 3, 2.0),  # hay and corn, in the first week
        (3, 2, 1.0), (3, 4, 2.0),  # and in the third, at two mosts
        (4, 2, 1.0), (4, 4, 2.0),
        (5, 0, 1.0), (5, 7, 1.0),  # a need
        (6, 1, 1.0), (6, 9, 1.0),  # growth
        (7, 0, 1.0), (7, 1, -1.0),  # over two weeks
        (8, 1, 1.0),  # shared with others
        (9, 9, 1.0),  # how far growth falls short, in the second week
    )  # fmt: skip
    most = np.array([0.0, 0.0, 9.0, 8.0, 7.0, 0.0, 0.0, 1.0, 2.0, 0.3])
    row, column, value = (np.array(part) for part in zip(*written, strict=True))
    rows = SparseRows(row, column, value, np.full(10, -INF), most)
    model = one(problem=problem, columns=COLUMNS, lower=lower, upper=upper)
    model.row_of = {"cp": ints(-1, -1, -1, 5, -1, -1)}
    monkeypatch.setattr(span_costs, "Blocks", Noted)
    prices = WeeklyPrices(rows, np.zeros(13), np.arange(10) != 8, 0.0)
    return Runs(model, prices, rules, 1, leeway, one())


RULES = SpanRules(most=(1, 3), least=(1, 1), first=(-1, 0), last=(-1, 2))
SHARE, BOTH = ([0, 2], pytest.approx([1.0, -0.5])), ([0, 1], pytest.approx([1.0, 2.0]))


def block(found: Runs, start: int, stop: int) -> Any:
    return found.blocks.blocks[found.spans.index((start, stop))]  # type: ignore[attr-defined]


def test_each_variable_has_a_kind_and_a_week(monkeypatch: pytest.MonkeyPatch) -> None:
    found = runs(monkeypatch, RULES)
    assert found.kind.tolist() == [0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 5, 5]
    assert found.week.tolist() == [0, 1, 2, 0, 2, 0, 2, 0, 1, 1, 2, 0, 2]
    # Two more kinds are for what is missing of wishes, which there are none of here.
    assert (found.kinds, found.kept.tolist()) == (8, [0, 1, 2, 3, 4, 5])
    assert found.spans == [(0, 1), (0, 2), (0, 3), (1, 2), (1, 3), (2, 3)]


def test_a_run_has_what_is_there_in_all_of_its_weeks(monkeypatch: pytest.MonkeyPatch) -> None:
    found = runs(monkeypatch, RULES)
    assert block(found, 0, 1)[:2] == ([0.0] * 6, [10.0, 4.0, INF, INF, 0.0, INF])
    assert block(found, 0, 2)[:2] == ([0.5, *[0.0] * 5], [8.0, 0.0, INF, INF, INF, INF])
    # Where one week has a most below the least of another, the most counts.
    assert block(found, 0, 3)[:2] == ([8.0, *[0.0] * 5], [8.0, 0.0, INF, INF, INF, INF])
    assert block(found, 2, 3)[:2] == ([9.0, *[0.0] * 5], [12.0, 5.0, INF, 0.0, INF, INF])


def test_rows_of_weeks_that_become_the_same_are_one(monkeypatch: pytest.MonkeyPatch) -> None:
    found = runs(monkeypatch, RULES)
    assert block(found, 0, 1)[2][:2] == [(*SHARE, -INF, 0.0), (*BOTH, -INF, 9.0)]
    assert block(found, 0, 3)[2][:2] == [(*SHARE, -INF, 0.0), (*BOTH, -INF, 7.0)]
    assert block(found, 2, 3)[2][:2] == [(*SHARE, -INF, 0.0), (*BOTH, -INF, 7.0)]


def test_a_gain_falls_short_no_further_in_a_run_than_in_its_weeks(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    found, depth = runs(monkeypatch, RULES), ([4], [1.0], -INF, 0.3)
    having = [span for span in found.spans if depth in block(found, *span)[2]]
    assert having == [(0, 2), (0, 3), (1, 2), (1, 3)]


@pytest.mark.parametrize(("leeway", "protein"), [(0.03, 0.97 * 0.9), (0.3, 0.7)])
def test_needs_of_a_run_are_held_steady(
    monkeypatch: pytest.MonkeyPatch, leeway: float, protein: float
) -> None:
    found = runs(monkeypatch, RULES, leeway)
    cp, growth, fill = ([0, 1, 3 + more] for more in (0, 1, 2))
    rows = block(found, 0, 3)[2][3:]
    assert rows[0] == (cp, pytest.approx([0.1, 0.09, 1.0]), pytest.approx(protein), INF)
    mean, most = np.array([8.0, 8.0 / 3.0]), np.array([9.0, 4.0])
    maintenance, retained = np.maximum(mean, (1.0 - leeway) * most)
    assert len(rows) == 1 + len(RATIOS) + 1
    for ratio, (kinds, value, low, high) in zip(RATIOS, rows[1:], strict=False):
        at_m = maintenance + retained / ratio
        on_m, on_g = maintenance / at_m**2, retained / (ratio * at_m) ** 2
        wanted = [on_m * 1.2 + on_g * 0.6, on_m * 2.0 + on_g * 1.4, on_m + 0.6 * on_g]
        assert (kinds, low, high) == (growth, 1.0, INF)
        assert value == pytest.approx(wanted)
    # Of the weeks with free access alone, equally many days each.
    assert rows[-1] == (
        fill,
        pytest.approx([0.6, 0.3, 1.0]),
        pytest.approx(9.8),
        pytest.approx(10.2),
    )
    assert [one[0] for one in block(found, 0, 1)[2][2:]] == [cp, fill]
    assert [one[0] for one in block(found, 1, 2)[2]] == [[4], cp, *[growth] * len(RATIOS)]


def test_a_need_is_the_mean_or_the_most_less_what_a_week_may_lack() -> None:
    weekly, weight = np.array([4.0, 6.0, -INF, 9.0]), np.array([1.0, 3.0, 5.0, 2.0])
    mean = _Asked(0, weekly, weight, True)
    assert mean.of(0, 2, 0.03) == pytest.approx(0.97 * 6.0)
    assert mean.of(0, 2, 0.5) == pytest.approx(5.5)
    assert mean.of(0, 3, 0.5) == pytest.approx(5.5), "weeks that ask for nothing do not count"
    assert mean.of(2, 3, 0.5) == -INF
    assert _Asked(0, weekly, weight, False).of(0, 2, 0.5) == 6.0


def test_a_run_costs_what_its_weeks_cost(monkeypatch: pytest.MonkeyPatch) -> None:
    found = runs(monkeypatch, RULES)
    cost = np.arange(13.0) ** 2
    for _ in range(2):
        usd = found.costs(cost).usd
        for start, stop in found.spans:
            mine = (found.week >= start) & (found.week < stop)
            assert usd[start, stop] == pytest.approx((cost * (found.kind + 1.0))[mine].sum())
        assert np.isinf(usd).sum() == usd.size - len(found.spans)
    # A group that is not here has no runs, and no rows to read.
    nobody = Runs(found.model, found.prices, RULES, 0, 0.0, one())
    assert nobody.spans == []
    assert np.isinf(nobody.costs(cost).usd).all()


@pytest.mark.parametrize(
    ("least", "most", "weeks"), [(1, 1, 5), (2, 2, 8), (3, 4, 8), (4, 9, 3), (2, 9, 9)]
)
def test_runs_leave_no_run_beside_them_shorter_than_the_least(
    least: int, most: int, weeks: int
) -> None:
    made: Any = object.__new__(Runs)
    made.first, made.end = 1, 1 + weeks
    made.least, made.longest = min(least, weeks), max(least, int(3.0 * weeks / most) + 1)
    made.weeks = [{} for _ in range(1 + weeks)]
    made.lower = made.upper = made.there = np.zeros((1 + weeks, 1))
    made.blocks, made._needs = one(begin=lambda *bounds: None), lambda start, stop: None
    found = [span for start in range(1, 1 + weeks) for span in made._from(start)]
    room = {0, *range(made.least, weeks + 1)}
    assert found == [
        (start, stop)
        for start in range(1, 1 + weeks)
        for stop in range(start + 1, 2 + weeks)
        if made.least <= stop - start <= made.longest and {start - 1, 1 + weeks - stop} <= room
    ]


@pytest.mark.parametrize(
    ("least", "most", "soon_gone", "longest"),
    [(1, 3, False, 3), (5, 3, False, 3), (1, 9, True, 2), (2, 9, True, 2), (3, 3, True, 3)],
)
def test_runs_are_as_long_as_rations_may_be(
    monkeypatch: pytest.MonkeyPatch, least: int, most: int, soon_gone: bool, longest: int
) -> None:
    rules = SpanRules((1, most), (1, least), (-1, 0), (-1, 2), (False, soon_gone))
    found = runs(monkeypatch, rules)
    assert found.longest == rules.longest(1) == longest
    assert found.least == min(least, 3)
    # What no run covers is no ration either, so that the bound holds for every program.
    assert allowed_cut(rules, 1, (0,)) is (longest == 3)


def test_what_all_entries_of_a_row_are() -> None:
    row, what = ints(0, 0, 1, 1, 2, 4), ints(3, 3, 3, 4, -1, 0)
    assert _all_alike(row, what, 5).tolist() == [3, -1, -1, -1, 0]


def shared_prices(*usd: float, upper: float = INF, stock: float = -3.0) -> WeeklyPrices:
    """Pay for what is shared: an amount in each of two weeks, their sum, loads, and what is sold.

    The sum is the group's own; loads and sales belong to the farm, half a load at the least.
    """
    written = (
        (0, 0, 1.0),  # a most of the first week
        (1, 0, 1.0), (1, 1, 1.0), (1, 3, -2.0),  # no more than there is with what is loaded
        (2, 1, 1.0), (2, 4, 1.0),  # a least of what is fed and sold
        (3, 0, 1.0), (3, 1, -1.0),  # from one week to the next
        (4, 0, 1.0), (4, 1, 1.0), (4, 2, -1.0),  # the sum
    )  # fmt: skip
    row, column, value = (np.array(part) for part in zip(*written, strict=True))
    low = np.array([-INF, -INF, 1.0, -INF, 0.0])
    rows = SparseRows(row, column, value, low, np.array([5.0, 4.0, INF, 0.5, 0.0]))
    model: Any = one(
        columns=one(amounts=2, period=ints(0, 1)),
        owners=lambda: ints(0, 0, 0, -1, -1),
        cost=np.array(usd),
        lower=np.array([0.0, 0.0, 0.0, 0.5, 0.0]),
        upper=np.array([9.0, 9.0, INF, 9.0, upper]),
    )
    best: Any = one(row_dual=np.array([-7.0, stock, 2.0, -1.0, -5.0, 99.0]))
    return priced(model, rows, best)


def test_what_is_shared_is_paid_for_and_the_rest_is_left() -> None:
    found = shared_prices(10.0, 20.0, 30.0, 40.0, 50.0)
    assert found.local.tolist() == [True, False, False, False, True]
    # Of the first week three and one are paid back, of the second three less two and one.
    assert found.cost.tolist() == [14.0, 20.0, 30.0, 34.0, 48.0]
    assert found.constant == -3.0 * 4.0 + 2.0 * 1.0 - 1.0 * 0.5 + 34.0 * 0.5


def test_a_rounding_of_a_price_on_an_end_that_is_not_there_is_no_price() -> None:
    found = shared_prices(10.0, 20.0, 30.0, 40.0, 50.0, stock=1e-12)
    assert found.cost.tolist() == [11.0, 17.0, 30.0, 40.0, 48.0]
    assert found.constant == 2.0 * 1.0 - 1.0 * 0.5 + 40.0 * 0.5


@pytest.mark.parametrize(
    ("usd", "upper", "earns"), [(1.0, 8.0, -8.0), (1.0, INF, 0.0), (2.0, 8.0, 0.0), (2.0, INF, 0.0)]
)
def test_what_still_earns_at_its_price_is_taken_as_far_as_it_goes(
    usd: float, upper: float, earns: float
) -> None:
    found = shared_prices(10.0, 20.0, 30.0, 5.0, usd, upper=upper)
    assert found.cost[3:].tolist() == [-1.0, usd - 2.0]
    assert found.constant == -10.5 - 9.0 + earns
