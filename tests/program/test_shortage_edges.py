"""What is short in runs of weeks: how much in all, until when, and which hay is kept from whom."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest

from rickyard.display import display_for
from rickyard.farm import Farm
from rickyard.program.explain import shortages
from support.by_hand import one
from support.season_farms import cows, farm_of, hay, report_on

METRIC = display_for("metric")


@pytest.fixture
def farm() -> Farm:
    lots = [hay(name, 55.0, 9.0, 50.0, 60.0) for name in ("a", "b")]
    return farm_of([(lot, report_on(lot, 55.0, 9.0)) for lot in lots], [cows()], [])


def told(farm: Farm, *short: tuple[int, float], limits: Any = (), nutrient: str = "cp") -> Any:
    """Return what is told of a need that is short in some of five weeks, the last of five days."""
    start, group = farm.season.start, farm.groups[0].group_id
    cells = [one(group_id=group, period=t, head=10 + t, days=7 if t < 4 else 5) for t in range(5)]
    lacking = dict(short)
    rows = [
        one(
            group_id=group, period=t, nutrient=nutrient, start=start + timedelta(days=7 * t),
            days=7, need=1.0, supplied=1.0 - lacking.get(t, 0.0), assured=None, unit="kg",
            shortage=lacking.get(t, 0.0), bound="at_least",
        )
        for t in range(5)
    ]  # fmt: skip
    return shortages.shortages_of(farm, rows, cells, limits, METRIC)


def test_weeks_in_a_row_are_added_up_by_head_and_day(
    farm: Farm, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(shortages, "bindings", lambda _: [])
    start = farm.season.start
    first, last = told(farm, (1, 0.1), (2, 0.2), (4, 0.3))
    assert (first.start, first.end) == (start + timedelta(days=7), start + timedelta(days=21))
    assert (first.most_per_head_day, first.total) == (0.2, pytest.approx(0.7 * 11 + 1.4 * 12))
    # Whoever leaves in the middle of a week is short to the last day and no longer.
    assert (last.start, last.end) == (start + timedelta(days=28), start + timedelta(days=33))
    assert (last.most_per_head_day, last.total) == (0.3, pytest.approx(0.3 * 14 * 5))
    assert told(farm) == ()


def test_limits_of_the_farm_are_told_last_with_what_is_missing(farm: Farm) -> None:
    cash = one(nutrient="cash", unit="USD", supplied=1100.0, need=1000.0, shortage=100.0)
    kept = one(nutrient="reserve", unit="t", supplied=2.0, need=5.0, shortage=3.0)
    met = one(nutrient="reserve", unit="t", supplied=5.0, need=5.0, shortage=0.0)
    money, reserve = told(farm, limits=[cash, kept, met])
    season = farm.season
    assert (money.start, money.end, money.total) == (season.start, season.end, 100.0)
    assert money.sentence.startswith("Feed costs $1,100 and the cash limit is $1,000: $100 more")
    assert (reserve.start, reserve.end) == (season.end - timedelta(days=1), season.end)
    left, wanted, missed = (METRIC.amount_text(kg) for kg in (2000.0, 5000.0, 3000.0))
    assert reserve.sentence.startswith(f"{left} of hay left on the last day; {wanted} needed")
    assert f"{missed} short" in reserve.sentence


def rule(source: str, known: str = "unknown", **other: Any) -> Any:
    given = {"group_id": "cows", "bars": True, "held": True, **other}
    held = given.pop("held")
    return one(source_id=source, rule=one(known=known), holds=lambda *_: held, **given)


@pytest.mark.parametrize(
    ("rules", "untested", "harmful"),
    [
        ([rule("a")], "a", ""),
        ([rule("a"), rule("a", "known")], "", "a"),
        ([rule("a", "known"), rule("b")], "b", "a"),
        ([rule("a", group_id="others")], "", ""),
        ([rule("a", bars=False)], "", ""),
        ([rule("a", held=False)], "", ""),
        ([rule("elsewhere")], "", ""),
    ],
)
def test_hay_that_is_kept_from_who_is_short_is_named_once(
    farm: Farm, rules: Any, untested: str, harmful: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(shortages, "bindings", lambda _: rules)
    names = {lot.lot_id: lot.name for lot in farm.lots}
    first, second = told(farm, (1, 0.1), (3, 0.1))
    test, harm = "kept from them until a test", "kept from them, it can harm them"
    assert (
        (f" {names[untested]}: {test}" in first.sentence)
        if untested
        else test not in (first.sentence)
    )
    assert (
        (f" {names[harmful]}: {harm}" in first.sentence)
        if harmful
        else harm not in (first.sentence)
    )
    assert "kept from them" not in second.sentence


@pytest.mark.parametrize(
    ("nutrient", "bound", "begin", "within"),
    [
        ("change_over", "at_most", "", "in fewer days than they are to have for it"),
        ("tetany", "at_most", "They get more potassium", "grass tetany can kill those in milk"),
        ("milk_fever", "at_most", "They get more potassium", "keeps milk fever away"),
        ("sulfur", "at_most", "They get too much sulfur", "call a veterinarian"),
        ("mg", "at_least", "They are short of magnesium", "Give them a mineral with magnesium"),
        ("ca_floor", "at_least", "They are short of", "Milk fever can kill them before birth"),
        ("cp", "at_least", "They are short of protein", "a head and day."),
    ],
)
def test_each_thing_that_is_short_is_told_in_its_own_words(
    farm: Farm, nutrient: str, bound: str, begin: str, within: str
) -> None:
    start = farm.season.start
    run: Any = [one(start=start, bound=bound)]
    end = start + timedelta(days=7)
    said = shortages._sentence("They", nutrient, 1.0, run, [], end, METRIC)
    assert said.startswith(begin)
    assert within in said


@pytest.mark.parametrize(
    ("expected", "wanted", "said"),
    [
        ([0.3, 0.5], [0.6, 0.8], "expect between 0.3 kg and 0.5 kg of gain a day, not 0.8 kg."),
        ([None, 0.3], [None, 0.8], "expect between 0 kg and 0.3 kg of gain a day, not 0.8 kg."),
        ([0.3, 0.3], [None, -0.5], "expect 0.3 kg of gain a day, not 0 kg."),
    ],
)
def test_what_is_short_of_energy_to_gain_says_what_to_expect(
    farm: Farm, expected: Any, wanted: Any, said: str
) -> None:
    cells: Any = [
        one(expected_gain_kg_per_day=gain, wanted_gain_kg_per_day=asked)
        for gain, asked in zip(expected, wanted, strict=True)
    ]
    run: Any = [one(start=farm.season.start, bound="at_least")]
    found = shortages._sentence(*("They", "gain_energy", 1.0, run, cells, farm.season.end, METRIC))
    assert found.endswith(said)
