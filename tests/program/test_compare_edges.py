"""Programs side by side in figures: main hay, what is put out, and the days that differ."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from rickyard.program.compare.compare import Differs, compare_facts, differs_from_first
from rickyard.program.compare.summary import Facts, Fed, Missing, cost_kinds

DAYS = [date(2027, 1, 4) + timedelta(days=number) for number in range(30)]


def facts(*feeding: tuple[str, int, int, float], first: int = 0, last: int = 14) -> Facts:
    """Return a program that feeds one group what is told: source, first day, days, kilograms."""
    return Facts(
        label="now", farm_name="", start=DAYS[first], end=DAYS[last], status="proven", cost=100.0,
        gap=0.01, costs={}, names={"a": "A", "b": "B", "c": "C"}, hays=frozenset("ab"),
        lots=("a", "b"), dm_frac={"a": 0.8, "b": 0.9, "c": 0.5},
        usd_per_kg={"a": 0.1, "b": 0.2, "c": 0.4}, left_t={}, bought_kg={}, bought_usd={},
        missing=(), feeding=tuple(Fed("g", s, DAYS[t], n, kg) for s, t, n, kg in feeding),
    )  # fmt: skip


NOW = facts(("a", 0, 7, 700.0), ("b", 7, 7, 700.0))
THEN = facts(("a", 0, 10, 900.0), ("c", 0, 10, 2000.0), ("a", 10, 4, 400.0))


def test_the_main_hay_is_that_of_which_most_is_given_a_day() -> None:
    both = facts(("a", 0, 14, 700.0), ("b", 0, 7, 351.0), ("c", 0, 7, 9000.0))
    assert [both.main_hay("g", DAYS[day]) for day in (0, 6, 7, 13, 14)] == [
        "b",
        "b",
        "a",
        "a",
        None,
    ]
    assert both.main_hay("h", DAYS[0]) is None
    assert facts(("a", 0, 7, 700.0), ("b", 0, 7, 700.0)).main_hay("g", DAYS[0]) == "b"


def test_days_that_reach_beyond_a_span_count_by_their_share() -> None:
    assert NOW.put_out_kg(DAYS[2], DAYS[9]) == pytest.approx({"a": 500.0, "b": 200.0})
    assert NOW.put_out_kg(DAYS[7], DAYS[14]) == pytest.approx({"b": 700.0})
    assert NOW.change_days("g") == (DAYS[7],)
    assert (NOW.changes("g"), THEN.changes("g")) == (1, 0)


def test_programs_differ_on_the_days_on_which_another_hay_is_fed() -> None:
    found = compare_facts([NOW, THEN])
    assert found.same_days == (DAYS[0], DAYS[14])
    assert found.differs == (Differs("g", DAYS[7], DAYS[14], ("b", "a")),)
    assert differs_from_first(found, 1) == found.differs
    assert [(row.key, row.values) for row in found.fed_t] == [
        ("a", pytest.approx((0.56, 1.04))), ("b", pytest.approx((0.63, 0.0)))]  # fmt: skip
    assert [(row.key, row.values) for row in found.fed_kg] == [("c", (0.0, pytest.approx(2000.0)))]
    assert found.put_out_usd.values == pytest.approx((210.0, 930.0))
    assert [row.values for row in found.changes] == [(1.0, 0.0)]
    assert found.differs != compare_facts([NOW, NOW]).differs == ()
    apart = compare_facts([NOW, replace(NOW, start=DAYS[14], end=DAYS[20], feeding=())])
    assert (apart.same_days, apart.differs) == (None, ())
    later = compare_facts([NOW, replace(THEN, start=DAYS[5], end=DAYS[12])])
    assert later.same_days == (DAYS[5], DAYS[12])
    assert later.differs == (Differs("g", DAYS[7], DAYS[12], ("b", "a")),)


def test_neighbouring_days_with_the_same_two_hays_are_one_run() -> None:
    third = facts(("b", 0, 3, 300.0), ("a", 3, 11, 900.0))
    found = compare_facts([NOW, THEN, third])
    assert [(run.start, run.end, run.hays) for run in found.differs] == [
        (DAYS[0], DAYS[3], ("a", "a", "b")),
        (DAYS[7], DAYS[14], ("b", "a", "a")),
    ]
    assert [(run.start, run.end) for run in differs_from_first(found, 2)] == [
        (DAYS[0], DAYS[3]),
        (DAYS[7], DAYS[14]),
    ]
    halves = replace(
        found,
        differs=tuple(
            Differs(group, DAYS[a], DAYS[b], ("a", "b", hay))
            for group, a, b, hay in [("g", 0, 3, "a"), ("g", 3, 5, "b"), ("g", 6, 7, "b"),
                                     ("h", 7, 8, "b")]
        ),
    )  # fmt: skip
    runs = [(run.group_id, run.start, run.end) for run in differs_from_first(halves, 1)]
    assert runs == [("g", DAYS[0], DAYS[5]), ("g", DAYS[6], DAYS[7]), ("h", DAYS[7], DAYS[8])]


def test_what_is_lacking_is_added_up_by_group_and_nutrient() -> None:
    def missing(group: str, nutrient: str, total: float) -> Missing:
        return Missing(group, nutrient, "kg", DAYS[0], DAYS[7], 1.0, total, f"{nutrient}.")

    now = replace(NOW, missing=(missing("g", "cp", 2.0), missing("g", "cp", 3.0)))
    then = replace(THEN, missing=(missing("g", "ca", 4.0), missing("h", "cp", 5.0)))
    found = compare_facts([now, then]).lacks
    assert [(row.group_id, row.nutrient, row.totals, row.sentences) for row in found] == [
        ("g", "cp", (5.0, 0), ("cp. cp.", "")),
        ("g", "ca", (0, 4.0), ("", "ca.")),
        ("h", "cp", (0, 5.0), ("", "cp.")),
    ]


def test_what_is_a_millionth_is_nothing() -> None:
    for usd, told in ((1e-6, []), (-1.1e-6, ["hay_eaten"])):
        costs = dict.fromkeys(cost_kinds(), 0.0)
        found = compare_facts([replace(NOW, costs=costs | {"hay_eaten": usd})])
        assert [row.key for row in found.cost] == told
