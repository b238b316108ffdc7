"""Small steps of the program one at a time, at their edges."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import numpy as np
import pytest

from rickyard.program.audit import needs as audit_needs
from rickyard.program.explain.outcomes import _ratio, _spread
from rickyard.program.feedout import transitions
from rickyard.program.inputs.needs import _stated_need
from rickyard.program.model.hay_for_rises import _rises_of
from rickyard.program.model.row_builder import RowBuilder
from rickyard.program.problem.transition_schedule import new_hay_by_day
from rickyard.program.rations.other_things import Exchange
from support.by_hand import one
from support.rows import each_row
from support.season_farms import farm_of

START = date(2027, 1, 4)
DAYS = [START + timedelta(days=number) for number in range(30)]


def test_stock_may_eat_a_twelfth_more_or_less() -> None:
    less, as_planned, more = _spread(np.array([10.0]))
    assert (less[0], as_planned[0], more[0]) == (pytest.approx(9.2), 10.0, pytest.approx(10.8))
    shares = _ratio(np.array([3.0, 0.0, 3.0]), np.array([4.0, 4.0, 0.0]))
    assert shares.tolist() == [0.75, 1.0, 1.0]


def test_what_is_stated_holds_from_its_first_day_to_the_day_before_its_last() -> None:
    other = one(group_id="h", start=DAYS[0], end=DAYS[9])
    need = one(group_id="g", start=DAYS[2], end=DAYS[4])
    found = [_stated_need([other, need], "g", DAYS[day]) is need for day in range(1, 6)]
    assert found == [False, True, True, False, False]


@pytest.mark.parametrize(
    ("spans", "binds"),
    [
        (None, False),
        ((), True),
        (((13, 20),), True),
        (((14, 20),), False),
        (((0, 7),), False),
        (((0, 8),), True),
        (((0, 2), (9, 10)), True),
    ],
)
def test_a_rule_binds_where_any_day_of_a_period_lies_in_its_span(
    spans: Any, binds: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    days = spans and tuple((DAYS[first], DAYS[end]) for first, end in spans)
    monkeypatch.setattr(audit_needs, "diet_spans", lambda *what: days)
    look: Any = one(program=one(periods=[None, one(start=DAYS[7], days=7)]), farm=None)
    assert audit_needs._bound(look, "rule", one(), one(period=1)) is binds


def test_a_little_new_hay_comes_in_by_degrees_too() -> None:
    period = np.repeat([0, 1], 4)
    asked = {"old": np.repeat([100.0, 95.0], 4), "new": np.repeat([0.0, 5.0], 4)}
    found = new_hay_by_day(period, asked, {"old": 0.9, "new": 0.9}, 4)
    # Of a hundred kilograms five in the mean: two, four, six and eight.
    assert found["new"][4:] == pytest.approx([2.0, 4.0, 6.0, 8.0])
    assert found["old"][4:] == pytest.approx([98.0, 96.0, 94.0, 92.0])


def test_a_rise_is_held_back_for_half_of_its_days() -> None:
    def step(group: int, days: int) -> Any:
        return one(group=group, days=days, free=np.array([1.0, 2.0]), before_kg=4.0, sources=(1, 2))

    begin = one(group=0, sources=(3,))
    raised: Any = one(steps=[step(0, 7), step(0, 1), step(1, 9)], begins=[begin], shape=(2, 4, 2))
    rise, hay = _rises_of(raised, 0, 0.5)
    assert (rise.sources.tolist(), rise.days, rise.times) == ([1, 2], 3.0, 1.0)
    assert rise.free.tolist() == [4.5, 1.0]
    assert (hay.sources.tolist(), hay.free.tolist(), hay.times) == ([3], [0.0, 0.0], 16.0)
    (alone,) = _rises_of(raised, 1, 0.0)
    assert (alone.days, alone.free.tolist()) == (4.0, [4.0, 0.0])


def test_rows_are_opened_one_at_a_time_where_nobody_says_how_many() -> None:
    rows = RowBuilder(np.zeros(1, dtype=np.int64))
    assert rows.new_rows(0.0, 1.0).tolist() == [0]
    assert rows.new_rows(0.0, 1.0, 2).tolist() == [1, 2]


@each_row(
    ("hays", "things", "mine", "out", "new", "room"),
    [
        (1, 2, (0, 2), 2, 1, False),  # a second hay
        (1, 2, (0, 2), 0, 1, True),
        (2, 2, (0, 2), 2, 1, True),
        (1, 3, (0, 2), -1, 3, True),
        (1, 2, (0, 2), -1, 3, False),  # a third thing
        (1, 2, (0, 1), 0, 3, True),
        (1, 1, (0, 1), 0, 4, True),  # as many as there are, though more than may be
        (1, 1, (0, 1), -1, 3, False),
    ],
)
def test_a_ration_has_room_within_its_limits_or_for_as_many_as_it_has(
    hays: int, things: int, mine: tuple[int, ...], out: int, new: int, room: bool
) -> None:
    made: Any = object.__new__(Exchange)
    made.hay = np.array([True, True, False, False, True])
    limits = one(hays=np.array([hays]), things=np.array([things]))
    made.held = one(limits=limits, group=np.zeros(5, dtype=np.int64))
    assert made._room(np.array(mine), new, out) is room


def test_a_rise_is_listed_day_by_day_as_a_part_of_where_it_ends(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    farm = farm_of([], [], [])
    feed: Any = one(feed_id="corn", name="Corn", npn_cp_pct=None, table_id="", kind=None)
    monkeypatch.setattr(transitions, "daily_before_kg", lambda *what: 0.0)
    monkeypatch.setattr(transitions, "npn_of", lambda feed: 0.0)
    given = np.array([0.0, 10.0, 20.0, 40.0, 40.0, 41.0, 41.0])
    days: Any = one(
        group=one(head=10, group_id="g", name="Cows"),
        asked={"corn": given},
        weight_kg=np.full(7, 500.0),
        day=lambda at: DAYS[at],
    )
    # The rise of a tenth of a kilogram a head on the sixth day needs no days.
    (found,) = transitions._raises(farm, feed, days)
    assert (found.start, found.days) == (DAYS[1], 3)
    assert found.shares == (0.25, 0.5, 1.0)
