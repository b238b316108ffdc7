"""What the helper loads: whole bales on the right days, none invented, near the program."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rickyard.farm import (
    AnimalClass,
    Farm,
    Feed,
    FeedKind,
    Forage,
    Package,
    Storage,
)
from rickyard.program.audit.audit import recheck
from rickyard.program.days.day_amounts import group_days
from rickyard.program.days.step_up import Pace, free_step_kg, raised_slowly
from rickyard.program.feedout.deliveries import whole_shares
from rickyard.program.feedout.feeding_days import feed_spans, hay_spans
from rickyard.program.planning.season import plan_season
from rickyard.program.problem.transition_schedule import day_shares, new_hay_by_day
from rickyard.program.result.result import Delivery, SeasonProgram
from support.delivery_farms import START, cows, farm_of, lot
from support.farms import random_farm
from support.shipped import SHORT, demo_farm, shipped_farm
from support.weekly import WEEKLY

LB = 0.45359237


def hay_days(program: SeasonProgram) -> dict[date, int]:
    return {one.day: one.bales for one in program.deliveries if one.bales is not None}


def test_bales_come_at_the_groups_interval_and_carry_their_remainder() -> None:
    farm = farm_of((lot(storage=Storage.WRAPPED),), (cows(feed_every_days=2),), weeks=2)
    program = plan_season(farm, options=WEEKLY)
    given = hay_days(program)
    # 20 head, 10 kg of dry matter, 6 % wasted, 88 % dry matter, two days: 483.6 kg a visit.
    visit = 20 * 10.0 / 0.94 / 0.88 * 2
    weight = program.deliveries[0].mass_kg / (program.deliveries[0].bales or 1)
    assert list(given) == [START + timedelta(days=2 * k) for k in range(7)]
    total = 0
    for k, bales in enumerate(given.values(), start=1):
        total += bales
        assert total == int(k * visit / weight + 0.5)
    assert recheck(program, farm) == ()


def test_a_group_of_three_is_never_without_a_bale_while_its_hay_lasts() -> None:
    farm = farm_of((lot(),), (cows(3, feed_every_days=3),))
    program = plan_season(farm, options=WEEKLY)
    eaten = 3 * 10.0 * 3 / 0.94 / 0.88
    lying = 0.0
    given = hay_days(program)
    for visit in range(18):
        day = START + timedelta(days=3 * visit)
        lying += given.get(day, 0) * 500.0
        assert lying > eaten * 2.5 / 3 * 0.99
        lying = max(0.0, lying - eaten)
    (total,) = [one for one in program.delivery_totals if one.group_id == "C"]
    assert 0.5 < (total.greatest_deviation_bales or 0.0) < 1.0


def test_bales_that_lose_weight_in_the_rain_last_the_less_and_none_is_invented() -> None:
    outside = lot(bales=60.0, storage=Storage.EXPOSED_GROUND, counted_on=START - timedelta(days=60))
    groups = (cows(13), cows(9, group_id="D", name="Dry cows"), cows(7, group_id="E", name="Old"))
    farm = farm_of((outside,), groups, weeks=14)
    program = plan_season(farm, options=WEEKLY)
    weights = [one.mass_kg / one.bales for one in program.deliveries if one.bales]
    assert weights[0] < 500.0
    assert weights[-1] < weights[0] * 0.99
    assert sum(one.bales or 0 for one in program.deliveries) == 60
    for one in program.delivery_totals:
        assert (one.greatest_deviation_bales or 0.0) < 1.0
    assert recheck(program, farm) == ()


def test_the_last_bales_go_to_whom_they_are_due() -> None:
    assert whole_shares({"a": 2.5, "b": 2.6, "c": 2.9}, 8) == {"a": 2, "b": 3, "c": 3}
    assert whole_shares({"a": 2.5, "b": 2.5}, None) == {"a": 3, "b": 3}


@given(
    st.dictionaries(st.integers(0, 30), st.floats(0.0, 40.0), min_size=1, max_size=12),
    st.floats(0.0, 3.0),
)
def test_shares_of_a_lot_are_whole_near_and_together_no_more_than_stand(
    wanted: dict[int, float], over: float
) -> None:
    named = {str(key): amount for key, amount in wanted.items()}
    stand = int(sum(named.values()) + over + 1e-9)
    shares = whole_shares(named, stand)
    assert sum(shares.values()) <= stand
    for key, amount in named.items():
        assert abs(shares[key] - amount) < 1.0 + 1e-9
    if sum(int(amount + 0.5) for amount in named.values()) < stand:
        assert all(abs(shares[key] - amount) <= 0.5 + 1e-6 for key, amount in named.items())


@pytest.mark.parametrize(
    "seed",
    [pytest.param(seed, marks=pytest.mark.long if seed >= 2 else ()) for seed in range(8)],
)
def test_deliveries_of_many_farms_hold_at_any_interval(seed: int) -> None:
    farm = random_farm(seed, lots=5, groups=5, weeks=6)
    groups = tuple(
        replace(
            group,
            feed_every_days=1 + (seed + number) % 7,
            change_over_days=(None, 7, 12)[seed % 3],
        )
        for number, group in enumerate(farm.groups)
    )
    farm = replace(farm, groups=groups)
    program = plan_season(farm, options=WEEKLY)
    assert [str(one) for one in recheck(program, farm)] == []
    mixed = any(one.mixed for one in program.rules)
    assert mixed or any(one.bales for one in program.deliveries)


@pytest.fixture(scope="module")
def farm() -> Farm:
    return shipped_farm()


@pytest.fixture(scope="module")
def program(farm: Farm) -> SeasonProgram:
    return plan_season(farm, options=SHORT)


def changed(
    program: SeasonProgram, which: Callable[[Delivery], bool], **changes: object
) -> SeasonProgram:
    """Change the last delivery that answers to a question."""
    rows = list(program.deliveries)
    at = max(index for index, one in enumerate(rows) if which(one))
    rows[at] = replace(rows[at], **changes)  # type: ignore[arg-type]
    return replace(program, deliveries=tuple(rows))


def heavier(program: SeasonProgram, source: str, factor: float) -> SeasonProgram:
    rows = [
        replace(one, mass_kg=one.mass_kg * factor) if one.source_id == source else one
        for one in program.deliveries
    ]
    return replace(program, deliveries=tuple(rows))


def without(program: SeasonProgram, which: Callable[[Delivery], bool]) -> SeasonProgram:
    rows = list(program.deliveries)
    del rows[max(index for index, one in enumerate(rows) if which(one))]
    return replace(program, deliveries=tuple(rows))


def of_cows(one: Delivery) -> bool:
    return one.group_id == "cows" and one.bales is not None


FAULTS: dict[str, tuple[Callable[[SeasonProgram], SeasonProgram], str]] = {
    "three bales too many": (lambda p: changed(p, of_cows, bales=9), "weight"),
    "a load is forgotten": (lambda p: without(p, of_cows), "bales"),
    "half a bale": (lambda p: changed(p, of_cows, bales=0), "whole bales"),
    "hay on a day between": (
        lambda p: changed(
            p, lambda one: one.group_id == "firsts" and bool(one.bales), day=date(2027, 4, 2)
        ),
        "interval",
    ),
    "after the group has gone": (
        lambda p: changed(p, lambda one: one.group_id == "stockers", day=date(2027, 4, 20)),
        "delivered at all",
    ),
    "to nobody": (lambda p: changed(p, of_cows, group_id="pigs"), "no group"),
    "another hay": (lambda p: changed(p, of_cows, source_id="26-BOTM-2"), "delivered at all"),
    "less mineral": (lambda p: heavier(p, "mineral", 0.9), "Winter mineral"),
    "no totals": (lambda p: replace(p, delivery_totals=()), "total, row"),
    "nothing is delivered": (lambda p: replace(p, deliveries=()), "bales ahead of the program"),
}


@pytest.mark.parametrize(("spoil", "word"), FAULTS.values(), ids=list(FAULTS))
def test_each_fault_of_a_delivery_is_found(
    program: SeasonProgram, farm: Farm, spoil: Callable[[SeasonProgram], SeasonProgram], word: str
) -> None:
    breaches = [str(one) for one in recheck(spoil(program), farm)]
    assert any(word in one for one in breaches), breaches


def test_more_bales_than_stand_are_found(program: SeasonProgram, farm: Farm) -> None:
    fewer = tuple(
        replace(one, bales=one.bales - 2, bale_weight_kg=(one.bale_weight_kg or 0) * 128 / 126)
        if one.lot_id == "26-HILL-1"
        else one
        for one in farm.lots
    )
    breaches = [one.what for one in recheck(program, replace(farm, lots=fewer))]
    assert "26-HILL-1, bales put out of those on hand" in breaches


def test_a_bale_that_came_early_without_need_is_found() -> None:
    farm = farm_of((lot(),), (cows(feed_every_days=1),), weeks=2)
    program = plan_season(farm, options=WEEKLY)
    rows = list(program.deliveries)
    assert rows[0].bales == rows[1].bales == 1
    rows[:2] = [replace(rows[0], bales=2, mass_kg=rows[0].mass_kg * 2)]
    breaches = recheck(replace(program, deliveries=tuple(rows)), farm)
    assert any("bales ahead" in one.what for one in breaches)


def protein_farm(every: int, kind: AnimalClass = AnimalClass.COW) -> Farm:
    cubes = Feed(
        "cubes",
        "Cubes",
        FeedKind.SUPPLEMENT,
        0.4,
        dm_pct=90.0,
        tdn_pct=77.0,
        cp_pct=42.0,
        most_kg_per_head_day=2 * LB,
    )
    group = cows(feed_every_days=every, animal_class=kind)
    farm = farm_of((lot(),), (group,), (cubes,), weeks=2)
    (need,) = farm.needs
    return replace(farm, needs=(replace(need, cp_kg=5.0),))  # as much protein as can be had


def test_protein_goes_three_times_a_week_to_cows_that_are_not_visited_daily() -> None:
    """Derived: 2 lb a day, three times a week, is 4.67 lb a feeding."""
    loads = [
        one
        for one in plan_season(protein_farm(3), options=WEEKLY).deliveries
        if one.source_id == "cubes"
    ]
    assert [(one.day - START).days for one in loads] == [0, 2, 4, 7, 9, 11]
    assert loads[0].mass_kg / 20 / LB == pytest.approx(4.67, abs=0.005)
    daily = plan_season(protein_farm(1), options=WEEKLY)
    loads = [one for one in daily.deliveries if one.source_id == "cubes"]
    assert [one.for_days for one in loads] == [1] * 14
    assert not any("three times a week" in one.sentence for one in daily.assumptions)


def test_growing_stock_and_urea_are_fed_daily() -> None:
    farm = protein_farm(3)
    urea = replace(farm.feeds[0], npn_cp_pct=8.0)
    loads = plan_season(replace(farm, feeds=(urea,)), options=WEEKLY).deliveries
    days = [one.for_days for one in loads if one.source_id == "cubes"]
    assert days == [1] * 14
    masses = [one.mass_kg for one in loads if one.source_id == "cubes"]
    assert masses[0] < 0.2 * masses[-1]


def test_urea_that_does_not_climb_is_found() -> None:
    farm = protein_farm(3)
    farm = replace(farm, feeds=(replace(farm.feeds[0], npn_cp_pct=8.0),))
    program = plan_season(farm, options=WEEKLY)
    for spoiled in (
        heavier(program, "cubes", 1.3),
        changed(program, lambda one: one.source_id == "cubes", mass_kg=3.0),
    ):
        assert any("as it is raised" in one.what for one in recheck(spoiled, farm))


def test_spans_are_whole_and_in_order() -> None:
    assert [one.days for one in hay_spans(10, 4)] == [4, 4, 2]
    assert [[one.first for one in week] for week in feed_spans(8, "thrice")] == [[0, 2, 4], [7]]
    assert [one[0].days for one in feed_spans(10, "weekly")] == [7, 3]


def test_grain_rises_by_small_steps_falls_at_once_and_keeps_the_mean_where_it_can() -> None:
    period = np.repeat(np.arange(6), 7)
    wanted = np.array([1.6, 3.8, 4.0, 1.0, 2.0, 2.4])[period]
    given = raised_slowly(wanted, np.full(42, 450.0), period, Pace(10, 0.454))
    for number in range(4):
        days = period == number
        # A tenth a day of what is fed ten days later, which is a twentieth less in the first week.
        assert wanted[days].mean() * 0.95 <= given[days].mean() <= wanted[days].mean() + 1e-9
    # From a pound to what is asked in one week would be too fast: less, and never above it.
    assert given[28:].max() == pytest.approx(2.4)
    assert np.max(np.diff(given[28:], prepend=1.0)) <= (2.4 - 1.0) / 10.0 + 1e-9
    assert np.max(np.diff(given[:14], prepend=0.0)) <= 0.454 + 1e-12
    assert given[21:28].tolist() == [1.0] * 7
    assert given[0] == pytest.approx(0.38)
    assert free_step_kg(60.0) == pytest.approx(0.03)


def test_grain_is_never_more_than_it_is_raised_to() -> None:
    period = np.repeat(np.arange(4), 7)
    wanted = np.array([0.94, 2.76, 3.08, 3.08])[period]
    given = raised_slowly(wanted, np.full(28, 545.0), period, Pace(10, 0.9), known_kg=0.94)
    assert given.max() == pytest.approx(3.08)
    assert np.max(np.diff(given, prepend=0.94)) <= (3.08 - 0.94) / 10.0 + 1e-9


@given(
    st.lists(st.tuples(st.floats(0, 500), st.floats(0, 500)), min_size=2, max_size=6),
    st.integers(1, 16),
    st.integers(1, 9),
)
def test_a_new_hay_comes_in_by_degrees_and_no_ton_is_lost(
    amounts: list[tuple[float, float]], over: int, length: int
) -> None:
    period = np.repeat(np.arange(len(amounts)), length)
    asked = {
        name: np.repeat([one[at] for one in amounts], length) for at, name in enumerate(("A", "B"))
    }
    dry = {"A": 0.88, "B": 0.5}
    spread = new_hay_by_day(period, asked, dry, over)
    for name, even in asked.items():
        assert np.all(spread[name] >= -1e-9)
        for number in range(len(amounts)):
            days = period == number
            assert spread[name][days].sum() == pytest.approx(even[days].sum())
    both = sum(spread[name] * dry[name] for name in dry)
    assert both == pytest.approx(sum(asked[name] * dry[name] for name in dry))


def test_the_blend_is_a_straight_line() -> None:
    assert day_shares(6, 5).tolist() == [0.2, 0.4, 0.6, 0.8, 1.0, 1.0]


def changing_farm(**changes: object) -> Farm:
    """Return cows with a hay until one week and a better one from then on."""
    turn = START + timedelta(days=14)
    old = lot("A", feed_by=turn - timedelta(days=1))
    new = lot("B", feed_from=turn, forage=Forage.ALFALFA)
    return farm_of((old, new), (cows(**changes),), weeks=4)


def test_a_change_to_a_much_better_hay_is_listed_day_by_day() -> None:
    (change,) = plan_season(changing_farm(), options=WEEKLY).change_overs
    assert (change.to_source, change.from_sources) == ("B", ("A",))
    assert (change.start, change.days) == (START + timedelta(days=14), 7)
    assert change.shares == pytest.approx([day / 7 for day in range(1, 8)])
    assert "give the group 7 days for a change of hay" in change.sentence
    assert not change.in_program


def test_a_change_between_like_hays_is_not_listed() -> None:
    farm = changing_farm()
    alike = tuple(replace(one, forage=Forage.COOL_GRASS) for one in farm.lots)
    assert plan_season(replace(farm, lots=alike), options=WEEKLY).change_overs == ()


def test_horses_change_over_ten_days() -> None:
    farm = changing_farm(animal_class=AnimalClass.HORSE)
    alike = tuple(replace(one, forage=Forage.COOL_GRASS) for one in farm.lots)
    (change,) = plan_season(replace(farm, lots=alike), options=WEEKLY).change_overs
    assert change.days == 10


def test_few_head_and_long_lasting_bales_are_cautioned() -> None:
    said = [
        one.sentence for one in plan_season(farm_of((lot(),), (cows(7),)), options=WEEKLY).cautions
    ]
    assert any(" (7 head): feed small bales" in one for one in said)
    many = [
        one.sentence for one in plan_season(farm_of((lot(),), (cows(8),)), options=WEEKLY).cautions
    ]
    assert not any("feed small bales" in one for one in many)
    horses = cows(4, animal_class=AnimalClass.HORSE)
    said = [
        one.sentence for one in plan_season(farm_of((lot(),), (horses,)), options=WEEKLY).cautions
    ]
    # 440 kg of dry matter in a bale; horses waste 19 % of it at such a feeder (Martinson et al.
    # 2012) and eat 40 kg a day.
    assert any("lasts Cows about 8.9 days, too long in any weather" in one for one in said)
    small = lot(package=Package.SMALL_SQUARE, bale_weight_kg=25.0, bales=4000.0)
    said = [
        one.sentence for one in plan_season(farm_of((small,), (horses,)), options=WEEKLY).cautions
    ]
    assert not any("too long" in one or ", only" in one for one in said)


def test_sheep_finish_an_opened_bale_of_baleage_a_day_sooner_than_cattle() -> None:
    wet = lot(package=Package.BALEAGE, bale_weight_kg=500.0, dm_pct=50.0)
    for animal, warned in ((AnimalClass.EWE, True), (AnimalClass.COW, False)):
        # 250 kg of dry matter in a bale, 100 kg eaten a day: two and a half days.
        weight = 70.0 if animal is AnimalClass.EWE else 600.0
        groups = (cows(10, animal_class=animal, weight_kg=weight),)
        said = [
            one.sentence for one in plan_season(farm_of((wet,), groups), options=WEEKLY).cautions
        ]
        assert any("too long once it is warm (2 days)" in one for one in said) == warned
        assert not any("too long once it is warm (3 days)" in one for one in said)


def test_loose_hay_is_told_by_mass() -> None:
    loose = lot(package=Package.LOOSE, bale_weight_kg=2000.0, bales=40.0)
    farm = farm_of((loose,), (cows(),), weeks=2)
    program = plan_season(farm, options=WEEKLY)
    assert {one.bales for one in program.deliveries} == {None}
    assert [one.for_days for one in program.deliveries] == [1] * 14
    assert recheck(program, farm) == ()


def test_hay_is_not_delivered_before_it_may_be_fed() -> None:
    farm = changing_farm(feed_every_days=5)
    program = plan_season(farm, options=WEEKLY)
    first = min(
        (one for one in program.deliveries if one.source_id == "B"), key=lambda one: one.day
    )
    # Visits are on the 10th and the 15th day; it comes on the 14th, for the days until then.
    assert (first.day, first.for_days) == (START + timedelta(days=14), 1)
    assert recheck(program, farm) == ()
    early = changed(program, lambda one: one.source_id == "B", day=START)
    assert any("outside its dates" in one.what for one in recheck(early, farm))


def test_hay_with_nitrate_is_weighed_every_day_and_never_put_out_by_the_bale(
    program: SeasonProgram, farm: Farm
) -> None:
    """A third of the week as a whole bale is all of the feed for two days."""
    loads = [one for one in program.deliveries if one.source_id == "26-FLAT-1"]
    assert {one.group_id for one in loads} == {"heifers", "stockers", "bulls"}
    assert {(one.bales, one.for_days) for one in loads} == {(None, 1)}
    dry = {one.source_id: one.dm_pct / 100.0 for one in program.sources}
    got: dict[tuple[str, date], float] = {}
    for load in program.deliveries:
        if load.source_id == "26-FLAT-1":
            got[load.group_id, load.day] = load.mass_kg * dry["26-FLAT-1"]
    for cell in program.groups:
        eaten = cell.intake_kg_dm_per_head_day * cell.head
        # What is wasted at the feeder is put out too.
        assert got.get((cell.group_id, cell.start), 0.0) <= 0.35 / 0.8 * eaten
    assert any(
        caution.level == "danger" and "whole bale by itself" in caution.sentence
        for caution in program.cautions
    )
    # The bales that it is weighed from are opened and gone: they are counted as fed.
    flat = next(one for one in program.lots if one.lot_id == "26-FLAT-1")
    assert flat.fed_bales == pytest.approx(
        flat.start_bales * (1.0 - flat.left_t / (flat.start_t - flat.storage_loss_t)), abs=1.0
    )
    assert flat.fed_bales > 0
    whole_bale = changed(program, lambda one: one.source_id == "26-FLAT-1", bales=1, mass_kg=550.0)
    assert any("by the bale or not" in one.what for one in recheck(whole_bale, farm))


def test_hay_with_nitrate_does_not_stand_in_for_hay_that_is_mixed_in() -> None:
    """On the first days of a change the old hay is more; a limited hay never is."""
    farm = demo_farm(0.0)
    farm = replace(farm, groups=tuple(replace(one, change_over_days=7) for one in farm.groups))
    program = plan_season(farm, options=WEEKLY)
    flat = [days for days in group_days(program, farm) if "26-FLAT-1" in days.weighed]
    assert flat
    for days in flat:
        amounts = days.asked.get("26-FLAT-1")
        if amounts is None:
            continue
        for one in np.unique(days.period):
            here = amounts[days.period == one]
            assert np.all(np.diff(here) >= -1e-9)  # it begins by thirds, and is never more before
