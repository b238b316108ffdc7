"""Choosing and coring bales, hot hay, and where bales stand."""

import math
from collections import Counter
from datetime import date, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rickyard.farm import Package, Storage
from rickyard.hay.sampling import bale_selection as choice
from rickyard.hay.sampling import probing
from rickyard.hay.storage import hot_hay, siting
from rickyard.quantities import OutOfRange, convert
from support.rows import each_row, few

BALED = date(2026, 6, 1)


def f(degrees: float) -> float:
    return convert(degrees, "degF", "degC")


@given(st.integers(1, 400), st.integers(1, 40), st.integers(0, 2**32 - 1), st.data())
def test_a_choice_holds_what_can_be_reached_and_each_bale_once(
    lot: int, wanted: int, seed: int, data: st.DataObject
) -> None:
    closed = data.draw(st.sets(st.integers(1, lot), max_size=lot - 1))
    for how in ("random", "systematic"):
        drawn = choice.choose_bales(lot, wanted, seed, how=how, unreachable=sorted(closed))
        assert len(drawn.bales) == min(wanted, lot - len(closed))
        both = [*drawn.bales, *drawn.spares]
        assert len(set(both)) == len(both)
        assert not closed & set(both)
        assert set(both) <= set(range(1, lot + 1))
        assert drawn.bales == tuple(sorted(drawn.bales))
        assert drawn == choice.choose_bales(lot, wanted, seed, how=how, unreachable=sorted(closed))


def test_a_seed_draws_the_same_bales_for_ever() -> None:
    """The generator is named on the sheet, so its draws are part of the record."""
    assert choice.GENERATOR == "MT19937"
    drawn = choice.choose_bales(60, 6, 20260601)
    assert (drawn.bales, drawn.spares[:2]) == ((3, 13, 18, 27, 31, 44), (41, 34))
    assert choice.seed_for("Hill farm", "A1") == 4026941285


def test_every_bale_has_the_same_chance() -> None:
    counts = Counter(
        bale for seed in range(6000) for bale in choice.choose_bales(10, 3, seed).bales
    )
    assert all(abs(counts[bale] - 1800) < 150 for bale in range(1, 11))
    spread = Counter(
        bale
        for seed in range(6000)
        for bale in choice.choose_bales(12, 3, seed, how="systematic").bales
    )
    assert all(abs(spread[bale] - 1500) < 150 for bale in range(1, 13))


def test_too_much_out_of_reach_is_told() -> None:
    assert choice.choose_bales(100, 10, 1, unreachable=range(1, 21)).remark is None
    told = choice.choose_bales(100, 10, 1, unreachable=range(1, 22)).remark
    assert told is not None
    assert "79%" in told
    with pytest.raises(OutOfRange, match="reached"):
        choice.choose_bales(3, 1, 1, unreachable=(1, 2, 3))


def test_each_bale_type_has_its_face() -> None:
    faces = {one: probing.probing_of(one, Storage.ENCLOSED_BARN).face for one in Package}
    assert "end" in faces[Package.SMALL_SQUARE]
    assert "curved side" in faces[Package.ROUND]
    assert "never the flat end" in faces[Package.ROUND]
    weathered = probing.probing_of(Package.ROUND, Storage.EXPOSED_GROUND, 60 * 0.0254)
    inside = probing.probing_of(Package.ROUND, Storage.ENCLOSED_BARN, 60 * 0.0254)
    assert weathered.depth_m / 0.0254 == pytest.approx(16.07, abs=0.01)
    assert inside.depth_m / 0.0254 == pytest.approx(15.0)
    assert "tape" in " ".join(probing.probing_of(Package.BALEAGE, Storage.WRAPPED).notes)


# The strictest step of the published timetables for each temperature.
@each_row(
    ("fahrenheit", "hours", "level", "word"),
    [
        (110, 24, "none", "normal"),
        (115, 12, "note", "twice"),
        (131, 3, "warning", "few hours"),
        (149.9, 3, "warning", "few hours"),
        (150, 2, "danger", "fire department"),
        (160, 2, "danger", "now"),
        (175, 1, "danger", "pockets"),
        (185, 1, "danger", "flame"),
        (212, 0, "danger", "about to start"),
    ],
)
def test_each_temperature_asks_for_the_strictest_action(
    fahrenheit: float, hours: float, level: str, word: str
) -> None:
    step = hot_hay.heat_step(f(fahrenheit))
    assert (step.hours, step.level) == (hours, level)
    assert word in step.action


@given(st.floats(-20.0, 130.0), st.floats(-20.0, 130.0))
def test_hotter_hay_is_never_read_less_often(one: float, other: float) -> None:
    cool, hot = sorted((one, other))
    assert hot_hay.heat_step(hot).hours <= hot_hay.heat_step(cool).hours


@pytest.mark.parametrize(
    ("package", "moisture", "due"),
    [
        (Package.SMALL_SQUARE, 20.0, False),
        (Package.SMALL_SQUARE, 20.5, True),
        (Package.ROUND, 18.5, True),
        (Package.LARGE_SQUARE, 17.5, True),
        (Package.BALEAGE, 50.0, False),
    ],
)
def test_hay_baled_over_its_limit_is_watched(package: Package, moisture: float, due: bool) -> None:
    assert hot_hay.heat_watch(package, BALED, BALED + timedelta(days=42), moisture).due is due
    assert not hot_hay.heat_watch(package, BALED, BALED + timedelta(days=43), moisture).due


def test_a_watch_ends_with_three_falling_cool_readings_and_not_with_two() -> None:
    today = BALED + timedelta(days=12)
    cooling = [(today - timedelta(days=k), f(t)) for k, t in ((3, 118), (2, 112), (1, 108))]
    assert not hot_hay.heat_watch(Package.ROUND, BALED, today, 22.0, cooling).due
    assert hot_hay.heat_watch(Package.ROUND, BALED, today, 22.0, cooling[1:]).due
    rising = [*cooling[:2], (today, f(113))]
    assert hot_hay.heat_watch(Package.ROUND, BALED, today, 22.0, rising).due


def test_an_alarm_stands_until_a_second_reading() -> None:
    late = BALED + timedelta(days=60)
    hot = [(BALED + timedelta(days=20), f(152))]
    first = hot_hay.heat_watch(Package.ROUND, BALED, late, 15.0, hot)
    assert (first.alarm, first.until) == (True, None)
    assert "fire department" in first.sentence
    second = [*hot, (BALED + timedelta(days=21), f(110))]
    assert not hot_hay.heat_watch(Package.ROUND, BALED, late, 15.0, second).alarm


def test_the_place_decides_the_advice() -> None:
    def told(storage: Storage, **more: object) -> str:
        found = siting.site_advice(storage, Package.ROUND, **more)  # type: ignore[arg-type]
        return " ".join(one.sentence for one in found)

    assert told(Storage.ENCLOSED_BARN) == ""
    assert "rock" in told(Storage.COVERED_GROUND)
    assert "rock" not in told(Storage.COVERED_ELEVATED)
    assert "north-south" in told(Storage.EXPOSED_GROUND)
    assert "Where snow drifts run the rows northwest" in told(Storage.EXPOSED_GROUND)
    assert "too wet to tarp" in told(Storage.COVERED_ELEVATED, moisture_pct=19.0)
    assert "too wet to tarp" not in told(Storage.COVERED_ELEVATED, moisture_pct=18.0)


@pytest.mark.parametrize(
    ("bales", "wanted"), few([(39, 20), (5, 5), (21, 20), (36, 14), (100, 7)], 3)
)
def test_a_systematic_draw_reaches_every_bale_alike(bales: int, wanted: int) -> None:
    """With a whole step of floor(39/20) = 1 only the first 20 of 39 bales would be cored."""
    draws = 4_000
    counts = [0] * (bales + 1)
    for seed in range(draws):
        taken = choice.choose_bales(bales, wanted, seed, how="systematic").bales
        assert len(set(taken)) == wanted
        assert max(later - earlier for earlier, later in pairwise((0, *taken))) <= (
            2 * math.ceil(bales / wanted)
        )
        for number in taken:
            counts[number] += 1
    expected = draws * wanted / bales
    assert min(counts[1:]) > 0.75 * expected
    assert max(counts[1:]) < 1.25 * expected
