"""Room for a hay among others, amounts let in and left out, and what is settled, step by step."""

from __future__ import annotations

from datetime import date, timedelta
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from rickyard.program.ask import assurance_curve
from rickyard.program.model import use_binaries
from rickyard.program.model.cutting_planes import CutState, Tangents
from rickyard.program.rations.few_things import _possible
from rickyard.program.result.options import HayUse
from rickyard.program.search import first_solution, repair, smooth
from rickyard.program.search.column_pricing import _in_runs
from rickyard.program.search.first_solution import READINGS, _enough_rows, uses_like
from rickyard.program.search.repair import Gap, _drop_run, _placed, _with_room, freedom_for
from rickyard.program.solver import NOWHERE, SolveError, nowhere
from rickyard.program.solver.settling import settle


def one(**what: Any) -> Any:
    return SimpleNamespace(**what)


def uses(weeks: int = 6, hays: int = 2, *, least_run: int = 2, at_once: int = 1) -> Any:
    """Return the hays of one group, each to be had in every week; one by one, week by week."""
    count = weeks * hays
    at = np.arange(count)
    source, period = at // weeks, at % weeks
    before = np.where(period > 0, at - 1, NOWHERE)
    after = np.where(period < weeks - 1, at + 1, NOWHERE)
    made = one(
        rules=one(least_run=least_run, hays_at_once=np.array([at_once])),
        column=at,
        group=np.zeros(count, dtype=int),
        source=source,
        period=period,
        cell=period,
        before=before,
        after=after,
        possible=np.ones(count, dtype=bool),
        must=np.zeros(count, dtype=bool),
        alone=lambda used: np.zeros(count, dtype=bool),
    )

    def starts(used: Any) -> Any:
        return used & ~np.where(before >= 0, used[before], False)

    def may_begin(used: Any) -> Any:
        lasts = used.copy()
        for step in range(1, least_run):
            for k in at:
                week = period[k] + step
                if week < weeks and not used[k + step]:
                    lasts[k] = False
        return lasts

    made.starts, made.may_begin = starts, may_begin
    return made


def now_with(*weeks: int, count: int = 12) -> Any:
    used = np.isin(np.arange(count), weeks)
    return one(used=used, x=np.arange(count, dtype=float))


def weeks_of(used: Any) -> list[int]:
    return np.flatnonzero(used).tolist()


def test_a_hay_takes_the_place_of_another_for_as_long_as_a_run_lasts() -> None:
    found = [weeks_of(used) for used in _placed(uses(), now_with(*range(6)), 0, 1, 2, 2)]
    # The other hay (weeks 6 and on) in the third week, with the week after or the week before.
    assert found == [[0, 1, 4, 5, 8, 9], [3, 4, 5, 7, 8]]
    whole = [weeks_of(used) for used in _placed(uses(), now_with(*range(6)), 0, 1, 2, 4)]
    assert whole == [[0, 1, 5, 8, 9, 10]], "the last week of the season may stand alone"


def test_a_gap_of_weeks_is_closed_whole_and_then_week_by_week(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """The best hay first; what was yielded before, or is in use now, is not yielded again."""
    asked: list[tuple[int, int, int]] = []

    def placed(uses: Any, now: Any, group: int, source: int, first: int, last: int) -> Any:
        asked.append((source, first, last))
        return [now_with(source).used, now_with(first).used]

    monkeypatch.setattr(repair, "_wanted", lambda *what: [7, 6])
    monkeypatch.setattr(repair, "_placed", placed)
    nothing: Any = None
    standing: Any = one(uses=None)
    gap: Any = one(group=0, first=2, last=4)
    found = repair.choices_for(standing, now_with(3), nothing, gap)
    assert [weeks_of(used) for used in found] == [[7], [2], [4], [6]]
    assert asked == [(hay, *span) for hay in (7, 6) for span in ((2, 4), (2, 2), (3, 3), (4, 4))]
    asked.clear()
    list(repair.choices_for(standing, now_with(3), nothing, one(group=0, first=2, last=2)))
    assert asked == [(7, 2, 2), (6, 2, 2)]


def test_what_must_stay_makes_no_room() -> None:
    made = uses()
    made.must[2] = True
    assert _with_room(made, now_with(*range(6)), np.array([8, 9])) is None
    assert _with_room(made, now_with(*range(6)), np.array([9, 10])) is not None
    made.must[:] = False
    used = _with_room(made, now_with(), np.array([8, 9]))
    assert used is not None
    assert weeks_of(used) == [8, 9]
    assert _with_room(made, now_with(), np.array([8])) is None, "a week is no run"
    last = _with_room(made, now_with(), np.array([11]))
    assert last is not None, "but the last week of the season is"
    assert weeks_of(last) == [11]


def test_of_a_crowd_the_smallest_goes() -> None:
    made = uses(hays=3, at_once=2)
    now = now_with(*range(6), *range(6, 12), count=18)
    now.x[:6], now.x[6:12] = 5.0, 3.0
    used = _with_room(made, now, np.arange(12, 18))
    assert used is not None
    assert weeks_of(used) == [*range(6), *range(12, 18)]


def test_a_run_is_dropped_to_its_end_unless_something_of_it_stays() -> None:
    made = uses()
    used = now_with(1, 2, 3, 5).used
    kept = np.zeros(12, dtype=bool)
    assert _drop_run(made, used, 1, kept)
    assert weeks_of(used) == [5]
    used = now_with(4, 5, 6).used
    assert _drop_run(made, used, 4, kept)
    assert weeks_of(used) == [6], "the first week of the other hay is no week after"
    kept[3] = True
    assert not _drop_run(made, now_with(2, 3).used, 2, kept)


def test_a_gap_frees_its_group_some_weeks_before_and_after(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    made = uses()
    every = np.ones(12, dtype=bool)
    monkeypatch.setattr(repair, "cheapest_hays", lambda uses, relaxed, count: every)
    standing: Any = one(uses=made, model=one(problem=one(shape=(3, 2, 6))))
    gap = Gap(0, 2, 3, 9.0)
    found = freedom_for(standing, now_with(0, 11), None, gap, (5, 1, 60, True))  # type: ignore[arg-type]
    assert weeks_of(found.hays) == [0, 1, 2, 3, 4, 7, 8, 9, 10, 11]
    assert found.groups.tolist() == [True, False, False]
    assert found.others_move
    near = freedom_for(standing, now_with(), None, gap, (5, 0, 60, False))  # type: ignore[arg-type]
    assert weeks_of(near.hays) == [2, 3, 8, 9]
    assert not near.others_move


# --- rows and amounts --------------------------------------------------------------------------


def test_hays_are_kept_two_weeks_before_and_after() -> None:
    wanted = np.zeros((1, 1, 9), dtype=bool)
    wanted[0, 0, 4] = True
    assert np.flatnonzero(_in_runs(wanted)).tolist() == [2, 3, 4, 5, 6]
    wanted[0, 0, :] = False
    wanted[0, 0, [0, 8]] = True
    assert np.flatnonzero(_in_runs(wanted)).tolist() == [0, 1, 2, 6, 7, 8]


def test_hays_in_use_give_what_is_wanted_or_it_is_counted_as_missing() -> None:
    rows = _enough_rows(np.array([4.0, 5.0, 6.0]), np.array([0, 0, 1]), np.array([7.0, 2.0]))
    dense = np.zeros((2, 8))
    dense[rows.row, rows.column] = rows.value
    assert dense.tolist() == [
        [4.0, 5.0, 0.0, 0.0, 0.0, 0.0, 1.0, 0.0],
        [0.0, 0.0, 6.0, 0.0, 0.0, 0.0, 0.0, 1.0],
    ]
    assert rows.lower.tolist() == [7.0, 2.0]


def test_small_changes_and_amounts_are_dear_and_large_ones_cheap() -> None:
    work: Any = one(
        model=one(columns=one(count=4)),
        amounts=2,
        change=np.array([4]),
        now=np.array([0]),
        before=np.array([1]),
        soft_amount=np.array([0.05, 0.005]),
        soft_change=np.array([0.05]),
    )
    x = np.array([1.95, 0.005, 0.0, 0.0, 0.0])
    cost = smooth._weights(work, x)
    assert cost == pytest.approx([0.5, 100.0, 0.0, 0.0, 1.0 / (1.945 + 0.05)])


def test_tangents_laid_since_a_mark_are_forgotten() -> None:
    tangents: Any = object.__new__(Tangents)
    tangents._laid = {"appetite": ["a", "b", "c"], "gain_energy": ["d"]}
    tangents._diet = np.array([1.0, 2.0])
    written: list[Any] = []
    tangents._write_first = lambda moved: written.append(moved.tolist())
    mark = CutState({"appetite": 2}, np.array([True, False]), np.array([1.0, 3.0]))
    tangents.back_to(mark)
    assert tangents._laid == {"appetite": ["a", "b"], "gain_energy": []}
    assert written == [[False, True]]
    assert tangents._diet.tolist() == [1.0, 3.0]


# --- rounds ------------------------------------------------------------------------------------


def rounds(costs: list[float], left: list[int], **how: Any) -> tuple[int, list[bool]]:
    """Settle a program that costs so much in each round; return the rounds and what moved."""
    moved: list[bool] = []
    cost = iter(costs)

    def improve(x: Any, *, move: bool) -> int:
        moved.append(move)
        return left[len(moved) - 1]

    optimum, number = settle(lambda: one(objective=next(cost), x=None), improve, **how)
    assert optimum.objective == costs[number - 1]
    return number, moved


def test_a_program_is_settled_when_no_curve_is_broken() -> None:
    assert rounds([5.0], [0]) == (1, [False])
    assert rounds([5.0, 6.0, 6.0], [2, 1, 0], moving=range(1, 3)) == (3, [True, True, False])
    # Tangents move as long as the cost does.
    assert rounds([5.0, 5.0], [2, 0], moving=range(1, 9)) == (2, [True, False])
    assert rounds([1.0, 1.2], [2, 0], moving=range(1, 9), tolerance=0.2) == (2, [True, False])
    assert rounds([0.0, 0.3], [2, 0], moving=range(1, 9), tolerance=0.29) == (2, [True, True])
    with pytest.raises(SolveError, match="not settle in 3 rounds"):
        rounds([5.0] * 3, [1] * 3, rounds=3)


def test_what_is_left_broken_may_do() -> None:
    steps: list[tuple[int, float]] = []

    def enough(number: int, step: float) -> bool:
        steps.append((number, step))
        return number == 3

    assert rounds([10.0, 20.0, 25.0, 0.0], [1] * 4, enough=enough)[0] == 3
    assert steps == [(1, np.inf), (2, 0.5), (3, 0.2)]


def test_a_promise_is_settled_after_six_rounds_that_hardly_move(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    asked: dict[str, Any] = {}

    def settled(solve: Any, improve: Any, **how: Any) -> Any:
        asked.update(how)
        return ("optimum", 1)

    monkeypatch.setattr(assurance_curve, "settle", settled)
    session: Any = one(minimise=None)
    tangents: Any = one(improve=None)
    assert assurance_curve._settled(session, tangents) == "optimum"
    enough = asked["enough"]
    assert [enough(6, 0.0), enough(7, 0.99e-4), enough(7, 1e-4)] == [False, True, False]
    assert asked["moving"].start == 1


def test_what_cannot_get_its_least_is_left_out_the_poorest_first() -> None:
    """Three hays of which one and then another must go until there is enough."""
    held: Any = one(
        must=np.array([False, False, True]),
        least=np.array([2.0, 4.0, 9.0]),
        at=np.arange(3),
        tries=[],
    )
    held.hold = lambda used, free=None: held.tries.append((used.tolist(), free is not None))

    def answer(*, rough: bool) -> Any:
        used, free = held.tries[-1]
        if not free and sum(used) > 1:
            raise SolveError("not enough")
        # As shares of their leasts: three fifths, a half and nothing.
        return one(x=np.array([1.2, 2.0, 0.0]))

    held.tied_answer = answer
    found = _possible(held, np.ones(3, dtype=bool))
    assert found.tolist() == [False, False, True], "what must be fed is never left out"
    assert [used for used, free in held.tries if not free] == [
        [True, True, True],
        [True, False, True],
        [False, False, True],
    ]
    held.must, held.tries = np.ones(3, dtype=bool), []
    with pytest.raises(SolveError):
        _possible(held, np.ones(3, dtype=bool))


def test_places_are_nowhere_until_they_are_given() -> None:
    assert nowhere(2).tolist() == [-1, -1]


def test_hay_that_may_not_be_alone_goes_with_the_hay_beside_it() -> None:
    """Of two hays the first has nitrate: where a third takes the other's room it goes too."""
    made = uses(hays=3, at_once=2)
    limited = made.source == 0
    made.alone = lambda used: used & limited & ~np.tile(used[6:12] | used[12:], 3)
    now = now_with(*range(6), *range(6, 12), count=18)
    now.x[:6], now.x[6:12] = 5.0, 3.0
    made.rules.hays_at_once[0] = 1
    used = _with_room(made, now_with(count=18), np.array([0, 1]))
    assert used is None, "what is put in use may not be alone"
    made.rules.hays_at_once[0] = 2
    both = _with_room(made, now_with(*range(6), *range(12, 14), count=18), np.array([6, 7]))
    assert both is not None
    # The first hay of weeks 2 to 5 had nothing beside it.
    assert weeks_of(both) == [6, 7, 12, 13]


def test_hay_in_use_only_with_another_has_a_row_that_says_so() -> None:
    made = uses(weeks=2, hays=3)
    made.not_alone = made.source == 0
    rows = use_binaries._with_another(made, np.array([20, 21, 22, 24]), np.array([0, 1, 2, 4]))
    assert (rows.lower.tolist(), rows.upper.tolist()) == ([-np.inf] * 2, [0.0] * 2)
    found = {(int(r), int(c)): v for r, c, v in zip(rows.row, rows.column, rows.value, strict=True)}
    # Beside the first week's stand both other hays; beside the second's, which is not chosen, none.
    assert found == {(0, 20): 1.0, (0, 22): -1.0, (0, 24): -1.0, (1, 21): 1.0}


def test_a_hay_that_is_too_little_is_taken_from_those_who_want_it_least(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Ten tonnes give two runs of four and not a third: the one wanted least goes, and no other."""
    made = uses(weeks=4, hays=1)
    three = {name: np.tile(getattr(made, name), 3) for name in ("source", "period", "must")}
    made = one(**{**vars(made), **three})
    made.group = np.repeat([0, 1, 2], 4)
    made.before = np.where(made.period > 0, np.arange(12) - 1, NOWHERE)
    made.after = np.where(made.period < 3, np.arange(12) + 1, NOWHERE)
    made.may_begin = lambda hays: hays
    read = list[Any]()

    def runs(uses: Any, mine: Any, wanted: Any, begins: Any, run: float) -> Any:
        read.append(sorted({int(one) for one in made.group[mine]}))
        return np.ones(len(mine), dtype=bool)

    monkeypatch.setattr(first_solution, "_runs", runs)
    made.too_little_of = lambda used: np.flatnonzero([used.sum() > 10])
    x = np.array([3.0, 3.0, 3.0, 3.0, 1.0, 2.0, 3.0, 2.0, 2.5, 2.5, 2.5, 2.5])
    used = first_solution.read_off(made, np.ones(12, dtype=bool), x, 0.1)
    assert weeks_of(used) == [0, 1, 2, 3, 8, 9, 10, 11]
    assert sorted(read[:3]) == [[0], [1], [2]]
    made.must[5] = True
    used = first_solution.read_off(made, np.ones(12, dtype=bool), x, 0.1)
    assert weeks_of(used) == [*range(8)], "what is wished stays"
    made.must[:] = True
    assert first_solution.read_off(made, np.ones(12, dtype=bool), x, 0.1).all()


def test_what_another_program_feeds_counts_by_its_days_in_each_week(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Two groups, of which the other program feeds the first, from the sixth day on."""
    start = date(2026, 12, 1)
    weeks = [one(start=start + timedelta(days=7 * week), days=7) for week in range(3)]
    needs = one(groups=[one(group_id="g"), one(group_id="h")], periods=weeks)
    values = [one(source_id="a"), one(source_id="b")]
    problem = one(needs=needs, shape=(2, 2, 3), sources=one(values=values))
    columns = one(
        group=np.repeat([0, 1], 6), source=np.tile(np.repeat([0, 1], 3), 2),
        period=np.tile([0, 1, 2], 4),
    )  # fmt: skip
    made: Any = one(
        column=np.arange(12), cell=columns.group * 3 + columns.period,
        possible=np.arange(12) < 9, must=np.arange(12) == 11,
    )  # fmt: skip
    seen: list[Any] = []
    monkeypatch.setattr(first_solution, "read_off", lambda *what: seen.extend(what[1:]))
    row = HayUse("g", "a", start + timedelta(days=5), 7, 7.0)
    early = HayUse("g", "b", start - timedelta(days=9), 10, 3.5)
    strangers = (HayUse("nobody", "a", start, 7, 9.0), HayUse("g", "nothing", start, 7, 9.0))
    model: Any = one(problem=problem, columns=columns)
    relaxed: Any = one(x=np.arange(12) / 10.0)
    uses_like(made, model, (row, early, *strangers), relaxed)
    hays, wanted, run = seen
    # Two days of the first week and five of the second, and a day of the first; of the third
    # week and of the other group it says nothing.
    of_first = [2.0, 5.0, 0.2, 0.5, 0.0, 0.5]
    assert wanted == pytest.approx([*of_first, 0.6, 0.7, 0.8, 0.9, 1.0, 1.1])
    assert np.flatnonzero(hays).tolist() == [*range(9), 11]
    assert run == READINGS[0].run
