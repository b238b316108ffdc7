"""What is found of lots and feeds, and the days of each stage, on either side of every edge."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest

from rickyard.farm import (
    Analyte,
    AnimalClass,
    Basis,
    Farm,
    Feed,
    FeedKind,
    Forage,
    Group,
    Lot,
    Package,
    Report,
    Season,
    Storage,
)
from rickyard.safety.binding import Binding, counts_as_pregnant
from rickyard.safety.found import CARRIES_NO3N_PPM, Found, of_feed, of_lot, of_water
from rickyard.safety.rule import rule_of, rules
from rickyard.safety.whom import births, days_in_stage
from support.rows import each_row

START = date(2026, 11, 1)
SEASON = Season(START, START + timedelta(days=100))
DAY = timedelta(days=1)
FARM = Farm("Home", SEASON)


def a_lot(**changes: Any) -> Lot:
    lot = Lot(
        "L",
        "Hill",
        Forage.COOL_GRASS,
        Package.ROUND,
        Storage.ENCLOSED_BARN,
        bales=10.0,
        baled_on=date(2026, 6, 1),
        counted_on=date(2026, 10, 1),
    )
    return replace(lot, **changes)


def findings(lot: Lot, *values: tuple[str, float, str]) -> dict[str, float | None]:
    analytes = tuple(Analyte(name, value, unit, Basis.DRY_MATTER) for name, value, unit in values)
    reports = (Report("R", "L", analytes, date(2026, 9, 1)),) if values else ()
    return {one.finding: one.value for one in of_lot(lot, replace(FARM, reports=reports))}


@each_row("month", range(1, 13))
def test_blister_beetles_are_in_alfalfa_put_up_from_april_to_october(month: int) -> None:
    """Judgement: the cuttings at which they swarm, the widest of the south."""
    found = findings(a_lot(forage=Forage.ALFALFA, baled_on=date(2026, month, 15)))
    assert ("alfalfa_bearing" in found) is (4 <= month <= 10)
    assert "alfalfa_hay" in found


def test_who_bears_alfalfa() -> None:
    for changes, bears in (
        ({"forage": Forage.LEGUME_GRASS}, True),
        ({"forage": Forage.LEGUME_GRASS, "species": "red clover"}, False),
        ({"forage": Forage.LEGUME_GRASS, "species": "alfalfa and brome"}, True),
        ({"species": "lucerne"}, True),
        ({}, False),
    ):
        assert ("alfalfa_bearing" in findings(a_lot(**changes))) is bears


def test_hay_of_more_than_half_a_year_has_lost_its_vitamin_a() -> None:
    """NRC, beef cattle; a hay of half a year has not."""
    for age, faded in ((183, False), (184, True)):
        lot = a_lot(baled_on=START - age * DAY)
        assert ("faded" in findings(lot)) is faded
        assert "faded" in findings(replace(lot, rained_on=True))
        assert "faded" in findings(replace(lot, drought=True))


def test_poisons_of_molds_are_told_as_fed_at_88_percent() -> None:
    found = findings(
        a_lot(),
        ("aflatoxin", 0.5, "ppm"),
        ("fumonisin", 10.0, "ppm"),
        ("don", 5.0, "ppm"),
        ("ergovaline", 0.3, "ppm"),
    )
    assert found["aflatoxin_ppb"] == pytest.approx(440.0)
    assert found["fumonisin_ppm"] == pytest.approx(8.8)
    assert found["don_ppm"] == pytest.approx(4.4)
    assert found["ergovaline"] == pytest.approx(300.0)


def of(feed: Feed) -> set[str]:
    return {one.finding for one in of_feed(feed)}


def test_a_feed_with_30_percent_starch_is_begun_like_grain_and_any_urea_counts() -> None:
    cake = Feed("f", "Cake", FeedKind.SUPPLEMENT, 0.3, starch_pct=29.9, npn_cp_pct=0.0)
    assert not of(cake) & {"begin_grain", "npn", "begin_npn"}
    assert "begin_grain" in of(replace(cake, starch_pct=30.0))
    assert {"npn", "begin_npn"} <= of(replace(cake, npn_cp_pct=0.1))
    assert "begin_npn" not in of(replace(cake, npn_cp_pct=0.1, kind=FeedKind.MINERAL))


@each_row("rule", [one for one in rules() if one.above or one.upto])
def test_a_rule_holds_above_its_edge_and_up_to_the_next(rule: Any) -> None:
    if rule.above is not None:
        assert not rule.meets(rule.above)
        assert rule.meets(rule.above * (1.0 + 1e-9) + 1e-9)
    if rule.upto is not None:
        assert rule.meets(rule.upto)
        assert not rule.meets(rule.upto * (1.0 + 1e-9) + 1e-9)
    assert not rule.meets(None)


def test_a_binding_holds_on_the_days_of_its_spans() -> None:
    first, last = START + 10 * DAY, START + 20 * DAY
    rule = rules()[0]
    one = Binding(rule, "g", "l", Found("x"), ((first, last),))
    assert [one.holds(first - days * DAY, 7) for days in (8, 7, 6)] == [False, False, True]
    assert [one.holds(last + days * DAY, 7) for days in (-1, 0, 1)] == [True, False, False]
    assert replace(one, spans=()).holds(START, 1)


def mares(**changes: Any) -> Group:
    return replace(Group("m", "Mares", AnimalClass.MARE, 2, 520.0), **changes)


def held(group: Group, stage: str) -> list[int] | None:
    """Return the days of the season, counted from its first, on which a stage holds."""
    spans = days_in_stage(group, stage, FARM, pregnant=True)
    if spans is None:
        return None
    return [
        one for one in range(100) if any(first <= START + one * DAY < last for first, last in spans)
    ]


@pytest.mark.parametrize("spread", [0, 1, 20, 21])
def test_the_last_days_before_a_birth_with_its_spread_and_a_day(spread: int) -> None:
    foaling = START + 60 * DAY
    group = mares(calving_on=foaling, calving_spread_days=spread)
    half = spread // 2 + 1
    assert held(group, "foaling:30") == list(range(60 - 30 - half, 60 + half))


def test_the_birth_of_the_next_year_counts_too() -> None:
    group = mares(calving_on=START - 300 * DAY)
    assert births(group) == (START - 300 * DAY, START + 65 * DAY)
    assert held(group, "foaling:10") == list(range(65 - 10 - 1, 66))
    bred = mares(breeding_on=START - 300 * DAY)
    carried = (births(bred)[0] - bred.breeding_on).days  # type: ignore[operator]
    assert 330 <= carried <= 345
    assert births(replace(bred, animal_class=AnimalClass.STOCKER)) == ()


@pytest.mark.parametrize(
    ("kind", "days"),
    [
        (AnimalClass.COW, 205),
        (AnimalClass.EWE, 90),
        (AnimalClass.DOE, 90),
        (AnimalClass.MARE, 150),
        (AnimalClass.LLAMA, 180),
    ],
)
def test_dams_nurse_so_long_where_no_day_of_weaning_is_known(kind: AnimalClass, days: int) -> None:
    """Common practice, no published source."""
    group = Group("g", "Dams", kind, 5, 100.0, calving_on=START + (50 - days) * DAY)
    assert held(group, "nursing") == list(range(50))
    before = replace(group, calving_on=START + (50 - days + 365) * DAY)
    assert set(range(50)) <= set(held(before, "nursing") or ())


def test_weaning_ends_nursing_and_its_days_before_are_told() -> None:
    group = mares(calving_on=START - 60 * DAY, weaning_on=START + 40 * DAY)
    assert held(group, "nursing") == list(range(40))
    assert held(group, "weaning:15") == list(range(25, 40))
    assert held(mares(calving_on=START + 200 * DAY), "nursing") is None


def test_a_stage_that_ends_with_the_first_day_or_begins_after_the_last_is_none() -> None:
    for foaling, there in ((-1, False), (0, True), (110, True), (111, False)):
        group = mares(calving_on=START + foaling * DAY)
        assert (held(group, "foaling:10") is not None) is there, foaling


def test_a_group_is_pregnant_if_one_of_it_is_on_any_day() -> None:
    cows = Group("c", "Cows", AnimalClass.COW, 10, 550.0)
    for calving, carries in ((-2, False), (-1, False), (0, True), (200, True)):
        group = replace(cows, calving_on=START + calving * DAY)
        short = replace(FARM, season=Season(START, START + 50 * DAY))
        assert counts_as_pregnant(group, short) is carries
    late = replace(cows, calving_on=START + 300 * DAY)
    assert counts_as_pregnant(late, FARM)
    for days in (381, 382, 383, 384, 385):
        group = replace(cows, calving_on=START + days * DAY)
        carried = births(replace(cows, breeding_on=START))[0] - START
        first = START + days * DAY - carried - DAY
        assert counts_as_pregnant(group, FARM) is (first < SEASON.end)


def test_a_rule_of_a_share_leaves_that_share() -> None:
    assert rule_of("nitrate-half").most_share == pytest.approx(0.5)
    bars = [one for one in rules() if one.demand == "none"]
    assert {one.most_share for one in bars} == {0.0}


@pytest.mark.parametrize(
    ("finding", "value", "asked"),
    [
        ("begin_nitrate", CARRIES_NO3N_PPM + 0.1, True),
        ("begin_nitrate", CARRIES_NO3N_PPM, False),
        ("begin_nitrate", None, False),
        ("charred", CARRIES_NO3N_PPM + 0.1, False),
    ],
)
def test_water_is_asked_for_where_a_feed_carries_nitrate(
    finding: str, value: float | None, asked: bool
) -> None:
    found = [one.finding for one in of_water(FARM, [Found(finding, value)])]
    assert found == ["water_salts_unknown", *(["water_nitrate_unknown"] if asked else [])]
    season = replace(FARM.season, water_sulfate_ppm=100.0)
    (salts,) = of_water(replace(FARM, season=season), [])
    assert (salts.finding, salts.value) == ("water_salts", 100.0)
