"""Supplements take each other's place by degrees at calving, never in one night."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from rickyard.farm import AnimalClass, Farm, Feed, FeedKind, Group
from rickyard.program.audit.swaps import loose_supplements, swap, turning_days
from rickyard.program.days.day_amounts import group_days
from rickyard.program.problem import stage_begins, swapped_by_day
from rickyard.program.result import FeedingRow
from support.farms import START
from support.laid_programs import laid_program
from support.season_farms import farm_of, hay, report_on


def supplement(name: str, **changes: object) -> Feed:
    plain = Feed(name, name, FeedKind.SUPPLEMENT, 0.3, dm_pct=90.0, tdn_pct=75.0, cp_pct=30.0,
                 ionophore=False)  # fmt: skip
    return replace(plain, **changes)  # type: ignore[arg-type]


LOT = hay("A", 56.0, 10.0, 60.0, 90.0)
CALVING = START + timedelta(days=16)
HEIFERS = Group("h", "Heifers", AnimalClass.FIRST_CALF_HEIFER, 10, weight_kg=450.0,
                mature_weight_kg=550.0, age_months=23.0, calving_on=CALVING)  # fmt: skip


def farm_with(*feeds: Feed) -> Farm:
    return farm_of([(LOT, report_on(LOT, 56.0, 10.0))], [HEIFERS], list(feeds), weeks=6)


def given(farm: Farm, turn: int) -> dict[str, list[float]]:
    """Return the pounds that a head gets by day: 2 kg of one until a week, 3 of another from it."""
    program = laid_program(farm, 1)
    rows = []
    for one in program.periods:
        source, kg = ("old", 2.0) if one.index < turn else ("new", 3.0)
        rows += [
            FeedingRow("h", one.index, one.start, 7, source, "feed", 0.9 * kg, 70.0 * kg, None),
            FeedingRow("h", one.index, one.start, 7, "A", "lot", 8.0, 640.0, None),
        ]
    (days,) = group_days(replace(program, feeding=tuple(rows)), farm)
    return {one: (kg / 10.0).round(9).tolist() for one, kg in days.asked.items()}


def test_at_calving_one_supplement_takes_the_place_of_another_over_six_days() -> None:
    found = given(farm_with(supplement("old"), supplement("new")), 2)
    sevenths = [part / 7.0 for part in range(8)]
    assert found["old"][10:18] == pytest.approx([2.0 * (1.0 - part) for part in sevenths])
    # What it is more than the old one comes with the stage.
    new = [2.0 * part for part in sevenths[:4]] + [1.0 + 2.0 * part for part in sevenths[4:]]
    assert found["new"][10:18] == pytest.approx(new)
    assert sum(found["old"]) == pytest.approx(14 * 2.0)
    assert sum(found["new"]) == pytest.approx(28 * 3.0)


def test_in_another_week_they_change_at_once() -> None:
    found = given(farm_with(supplement("old"), supplement("new")), 4)
    assert found["old"][26:30] == [2.0, 2.0, 0.0, 0.0]
    assert found["new"][26:30] == [0.0, 0.0, 3.0, 3.0]


@pytest.mark.parametrize(
    "tied",
    [
        {"npn_cp_pct": 12.0},
        {"from_on": START + timedelta(days=14)},
        {"starch_pct": 50.0},
    ],
)
def test_what_is_raised_by_steps_or_not_there_yet_comes_no_sooner(tied: dict[str, object]) -> None:
    farm = farm_with(supplement("old"), supplement("new", **tied))
    found = given(farm, 2)
    assert found["new"][:14] == [0.0] * 14
    turns = [START + timedelta(days=14)]
    assert loose_supplements(farm, HEIFERS, turns) == ["old"]
    assert "new" in loose_supplements(farm_with(supplement("new")), HEIFERS, turns)


def test_the_second_look_finds_the_same() -> None:
    period, names = np.repeat([0, 1], [7, 5]), ("old", "new")
    amounts = {"old": np.repeat([4.0, 1.0], [7, 5]), "new": np.repeat([0.0, 3.5], [7, 5])}
    dry = {"old": 0.9, "new": 0.8}
    days = [START + timedelta(days=at) for at in range(12)]
    asked = {one: dict(zip(days, amounts[one].tolist(), strict=True)) for one in names}
    means = {one: dict(by_day) for one, by_day in asked.items()}
    swap(asked, means, list(names), (days[:7], days[7:]), dry, 0.5)
    found = swapped_by_day(period, amounts, dry, names, {1}, 0.5)
    for one in names:
        assert list(asked[one].values()) == pytest.approx(found[one].tolist())
        assert found[one].tolist() != amounts[one].tolist()
    for most in (2.8, 9.0):
        same = swapped_by_day(period, amounts, dry, names, {1}, most)
        assert same["new"].tolist() == amounts["new"].tolist()


def test_a_stage_begins_in_the_week_of_birth_or_weaning() -> None:
    starts = [START + timedelta(days=7 * week) for week in range(6)]
    assert stage_begins(HEIFERS, starts) == {2, 3}
    assert turning_days(HEIFERS, starts) == [starts[2], starts[3]]
    weaned = replace(HEIFERS, calving_on=None, breeding_on=None, weaning_on=starts[5])
    assert stage_begins(weaned, starts) == {5}
    assert turning_days(weaned, starts) == [starts[5]]
