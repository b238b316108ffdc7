import dataclasses
from datetime import date

import pytest
from hypothesis import example as for_example
from hypothesis import given
from hypothesis import strategies as st

from rickyard.display import Display, number_text
from rickyard.sheets.wording.runs import (
    SAME_WITHIN_FRAC,
    daily_by_period,
    group_order,
    phases_of,
    runs_of,
    short_story,
    source_order,
    whole_bales,
)
from support.season_example import START, WEEKS, example, large_example


@given(st.lists(st.floats(0.0, 40.0), min_size=1, max_size=60))
def test_whole_bales_never_stray_more_than_half_a_bale(bales: list[float]) -> None:
    whole = whole_bales(bales)
    planned = done = 0.0
    for amount, count in zip(bales, whole, strict=True):
        assert count >= 0
        planned += amount
        done += count
        assert abs(planned - done) <= 0.5 + 1e-6


def test_every_week_fed_is_in_exactly_one_run_and_close_to_its_mean() -> None:
    for program, _ in (example(), large_example(restless=True)):
        for group_id in group_order(program):
            daily = daily_by_period(program, group_id)
            weeks = {period.start: period for period in program.periods}
            covered = []
            for run in runs_of(program, group_id):
                first = weeks[run.start].index
                covered += range(first, first + run.periods)
                for amount in run.amounts:
                    mean = amount.put_out_kg_per_head_day
                    for week in range(first, first + run.periods):
                        value = daily[amount.source_id][week]
                        assert abs(value - mean) <= SAME_WITHIN_FRAC * mean + 1e-9
                    assert amount.is_steady
            assert sorted(covered) == sorted({week for one in daily.values() for week in one})


def test_a_change_of_feed_begins_a_run() -> None:
    program, _ = example()
    runs = runs_of(program, "G2")
    assert [run.start for run in runs] == [START, date(2026, 12, 5), date(2027, 3, 27)]
    assert [run.periods for run in runs] == [4, 16, 6]
    assert runs[-1].end == program.end
    assert sum(run.periods for run in runs) == WEEKS


def test_phases_tell_the_changes_of_feed_and_the_range_of_amounts() -> None:
    program, _ = example()
    runs, phases = runs_of(program, "G5"), phases_of(program, "G5")
    assert len(runs) > len(phases) == 2
    corn = next(one for one in phases[0].amounts if one.source_id == "F2")
    assert not corn.is_steady
    daily = daily_by_period(program, "G5")["F2"]
    assert corn.least_kg_per_head_day == pytest.approx(min(daily[week] for week in range(22)))
    assert corn.most_kg_per_head_day == pytest.approx(max(daily[week] for week in range(22)))
    assert short_story(program, "G5", len(runs)) == runs
    assert short_story(program, "G5", len(runs) - 1) == phases


def test_bales_of_the_runs_add_up_to_the_bales_put_out() -> None:
    program, _ = example()
    loads = sum(one.bales or 0 for one in program.deliveries if one.source_id == "L1")
    told = sum(
        sum(amount.bales or ())
        for group_id in group_order(program)
        for run in runs_of(program, group_id)
        for amount in run.amounts
        if amount.source_id == "L1"
    )
    assert told == loads > 0


def test_without_deliveries_bales_are_rounded_period_by_period() -> None:
    program, _ = example()
    bare = dataclasses.replace(program, deliveries=())
    planned = sum(row.bales or 0.0 for row in bare.feeding if row.source_id == "L1")
    told = sum(
        sum(amount.bales or ())
        for group_id in group_order(bare)
        for run in runs_of(bare, group_id)
        for amount in run.amounts
        if amount.source_id == "L1"
    )
    assert abs(told - planned) <= 1.0


def test_a_group_that_leaves_within_a_week_is_fed_on_the_days_it_is_here() -> None:
    program, _ = example()
    groups = tuple(
        dataclasses.replace(one, days=3) if (one.group_id, one.period) == ("G2", 3) else one
        for one in program.groups
    )
    feeding = tuple(
        dataclasses.replace(one, offered_kg=one.offered_kg * 3 / 7)
        if (one.group_id, one.period) == ("G2", 3)
        else one
        for one in program.feeding
    )
    changed = dataclasses.replace(program, groups=groups, feeding=feeding)
    before, after = runs_of(program, "G2")[0], runs_of(changed, "G2")[0]
    assert (after.periods, after.end) == (before.periods, before.end)
    assert [one.put_out_kg_per_head_day for one in after.amounts] == pytest.approx(
        [one.put_out_kg_per_head_day for one in before.amounts]
    )


def test_hay_stands_before_feed() -> None:
    program, _ = example()
    assert source_order(program, "G1") == ("L1", "L4", "F1", "F4")


def test_a_group_that_is_not_fed_has_no_runs() -> None:
    program, _ = example()
    assert runs_of(program, "nobody") == ()


def test_pounds_and_kilograms_are_the_same_mass() -> None:
    assert Display("us").mass_text(453.59237) == "1,000 lb"
    assert Display("metric").mass_text(453.59237) == "454 kg"
    assert Display("us").price_per_ton_text(0.22046226218487758) == "$200/ton"


@given(st.floats(-1e7, 1e7))
@for_example(0.0546875)
def test_a_number_shown_is_near_the_number_meant(value: float) -> None:
    shown = float(number_text(value).replace(",", ""))
    assert shown == pytest.approx(value, rel=0.06, abs=1e-4)


def test_a_span_ends_on_its_last_day_fed() -> None:
    days = date(2026, 12, 28), date(2027, 1, 4)
    assert Display("us").span_text(*days) == "Dec 28 to Jan 3"
    assert Display("metric").span_text(*days) == "28 Dec to 3 Jan"
