"""What becomes of the stock: the balance of a plan added up apart, and what is said of it."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import numpy as np
import pytest

from rickyard.display import Display
from rickyard.farm import AnimalClass, Farm, StatedNeed
from rickyard.program.explain import outcomes
from rickyard.program.inputs.needs_by_period import season_days
from rickyard.program.planning.season import plan_season
from rickyard.program.result import PlanOptions, SeasonProgram, Shortage
from rickyard.sheets.charts.outcome_chart import outcome_svg
from rickyard.sheets.data_files.plan_json import plan_json
from rickyard.sheets.data_files.plan_load import program_from_json
from rickyard.stock.herd.outcome import condition_on_supply, gain_on_diet
from support.farms import random_farm
from support.rows import each_row

US = Display("us")
QUICK = PlanOptions(effort=0.0, weekly=True)


def cattle() -> Farm:
    """Return a small farm with cows that calve in the season, heifers in calf and stockers."""
    farm = random_farm(4, lots=4, groups=3, weeks=6)
    calving = farm.season.start + timedelta(days=20)
    classes = (AnimalClass.COW, AnimalClass.FIRST_CALF_HEIFER)
    cows = [
        replace(
            group,
            animal_class=kind,
            condition_score=5.0,
            calving_on=calving,
            weaning_on=None,
            gain_kg_per_day=None,
            target_weight_kg=None,
            target_on=None,
            mature_weight_kg=590.0,
            weight_kg=weight,
            age_months=None,
        )
        for group, kind, weight in zip(farm.groups, classes, (590.0, 500.0), strict=False)
    ]
    stocker = next(one for one in random_farm(1, groups=6).groups if one.gain_kg_per_day)
    return replace(farm, groups=(*cows, replace(stocker, group_id="S", name="Steers")))


@pytest.fixture(scope="module")
def planned() -> tuple[Farm, SeasonProgram, dict[str, Any]]:
    farm = cattle()
    program = plan_season(farm, options=QUICK)
    return farm, program, json.loads(plan_json(program))


def body_mcal(score: float, shrunk_at_five_kg: float) -> float:
    """Return the energy of a cow's body, NRC (2000), written apart from the program."""
    share = 0.057082 / (0.078982 - 0.00438 * score)
    empty = 0.851 * shrunk_at_five_kg * share
    fat, protein = 3.7683 * score / 100.0, (20.0886 - 0.66762 * score) / 100.0
    return empty * (9.4 * fat + 5.7 * protein)


def score_of(mcal: float, shrunk_at_five_kg: float) -> float:
    low, high = 1.0, 9.0
    for _ in range(60):
        middle = (low + high) / 2.0
        low, high = (middle, high) if body_mcal(middle, shrunk_at_five_kg) < mcal else (low, middle)
    return low


def test_the_energy_balance_added_up_apart_is_the_condition_of_every_day(
    planned: tuple[Farm, SeasonProgram, dict[str, Any]],
) -> None:
    farm, program, document = planned
    group = farm.groups[0]
    (told,) = [one for one in document["outcomes"] if one["group"] == group.group_id]
    fed = {
        row["period"]: row["supplied"]
        for row in document["supplied"]
        if row["group"] == group.group_id and row["nutrient"] == "nem"
    }
    daily = [fed[one["index"]] for one in document["periods"] for _ in range(one["days"])]
    path = outcomes.daily_path(farm, program, group)
    assert path is not None
    assert path.score is not None
    np.testing.assert_allclose(daily, outcomes.daily_diet(program, group)[1][1], rtol=1e-9)
    alone = condition_on_supply(group, path.days, daily).score
    np.testing.assert_allclose(path.score[1], alone, atol=1e-9)
    shrunk = 0.96 * group.weight_kg
    body, by_hand = body_mcal(5.0, shrunk), []
    for over in daily - season_days(farm, group).nem_mcal:
        body += over if over > 0.0 else over / 0.80
        by_hand.append(score_of(body, shrunk))
    np.testing.assert_allclose(alone, by_hand, atol=1e-3)
    at_score = {(farm.season.start + timedelta(days=at + 1)).isoformat(): one
                for at, one in enumerate(by_hand)}  # fmt: skip
    assert len(told["path"]) == len(document["periods"]) + 1
    for point in told["path"][1:]:
        assert point["score"] == pytest.approx(at_score[point["on"]], abs=1e-3)
        assert point["low_score"] <= point["score"] <= point["high_score"]
        assert point["weight_low_kg"] <= point["weight_kg"] <= point["weight_high_kg"]


def test_what_grows_is_as_heavy_as_its_diet_makes_it(
    planned: tuple[Farm, SeasonProgram, dict[str, Any]],
) -> None:
    farm, program, document = planned
    steers = farm.groups[-1]
    days, (dry, nem, neg) = outcomes.daily_diet(program, steers)
    grown = gain_on_diet(steers, days, nem / dry, neg / dry, intake_kg=dry)
    (told,) = [one for one in document["outcomes"] if one["group"] == "S"]
    last = (grown.shrunk_weight_kg[-1] + grown.gain_kg[-1]) / 0.96
    assert told["kind"] == "weight"
    assert told["path"][-1]["weight_kg"] == pytest.approx(last, rel=1e-9)
    assert told["path"][-1]["score"] is None
    assert told["path"][0]["weight_kg"] < last
    # The first days of each period are what the program itself expects of its diet.
    rows = [one for one in program.groups if one.group_id == "S"]
    assert grown.gain_kg[0] == pytest.approx(rows[0].expected_gain_kg_per_day, rel=0.03)


def test_heifers_grow_before_they_fatten(
    planned: tuple[Farm, SeasonProgram, dict[str, Any]],
) -> None:
    farm, program, _ = planned
    heifers = farm.groups[1]
    path = outcomes.daily_path(farm, program, heifers)
    assert path is not None
    assert path.score is not None
    days, diet = outcomes.daily_diet(program, heifers)
    all_fat = condition_on_supply(heifers, days, diet[1]).score[-1]
    assert path.score[1, -1] < all_fat
    (thin,) = [one for one in program.cautions if "would calve at condition" in one.sentence
               and one.about == heifers.group_id]  # fmt: skip
    assert thin.level == "warning"


def test_the_path_is_told_drawn_and_read_back(
    planned: tuple[Farm, SeasonProgram, dict[str, Any]],
) -> None:
    _, program, document = planned
    assert program_from_json(json.dumps(document)) == program
    older = {key: value for key, value in document.items() if key != "outcomes"}
    assert program_from_json(json.dumps(older)) == replace(program, outcomes=())
    cows, _, steers = program.outcomes
    assert [one.event for one in cows.events] == ["start", "calving", "end"]
    assert "at calving on" in cows.sentence
    assert "odds, no promise" in cows.sentence
    for one in (cows, steers):
        drawn = outcome_svg(one, "Group <A>", US)
        assert "Group &lt;A&gt;: " in drawn
        assert ("calving, " in drawn) is (one is cows)


@each_row(
    ("event", "score", "printed", "held"),
    [
        ("calving", 4.0, 24.0, ""), ("calving", 5.0, 51.0, ""), ("calving", 6.0, 69.0, ""),
        ("calving", 7.0, 87.0, ""), ("calving", 3.0, 24.0, "4 or under"),
        ("calving", 8.0, 87.0, "7 or over"), ("breeding", 4.0, 58.0, ""),
        ("breeding", 5.0, 85.0, ""), ("breeding", 6.5, 95.0, "6 or over"),
    ],
)  # fmt: skip
def test_printed_cells_of_rebreeding_are_told_as_printed(
    event: outcomes.OutcomeEvent, score: float, printed: float, held: str
) -> None:
    """Michigan State and Sprott 1985, both in Texas A&M AgriLife Vernon."""
    days = (date(2027, 3, 1), date(2027, 3, 2))
    scores = np.array([[score] * 2] * 3)
    path = outcomes.DailyPath(days, (590.0, score), scores * 0 + 590.0, scores, (), 0)
    on = outcomes.event_at(path, event, days[1])
    assert on.expected_pct == on.expected_low_pct == on.expected_high_pct == printed
    assert f"{printed:.0f}%" in on.expected
    assert held in on.expected
    assert "AgriLife" in on.source


def test_what_is_not_known_is_asked_for_and_not_guessed(
    planned: tuple[Farm, SeasonProgram, dict[str, Any]],
) -> None:
    farm, program, _ = planned
    cow = farm.groups[0]
    unscored = replace(farm, groups=(replace(cow, condition_score=None), *farm.groups[1:]))
    told, _ = outcomes.outcomes_of(unscored, program, US)
    assert told[0].kind == "unknown"
    assert "condition_score in groups.csv" in told[0].sentence
    need = StatedNeed(cow.group_id, farm.season.start, farm.season.end, tdn_kg=6.0)
    told, _ = outcomes.outcomes_of(replace(farm, needs=(need,)), program, US)
    assert told[0].kind == "unknown"
    assert "needs.csv" in told[0].sentence
    bulls = replace(farm, groups=(replace(cow, animal_class=AnimalClass.BULL),))
    assert outcomes.outcomes_of(bulls, program, US) == ((), ())


def test_a_day_without_feed_counts_as_one(
    planned: tuple[Farm, SeasonProgram, dict[str, Any]],
) -> None:
    farm, program, _ = planned
    fed = tuple(row for row in program.feeding if row.period)
    path = outcomes.daily_path(farm, replace(program, feeding=fed), farm.groups[0])
    assert path is not None
    assert path.score is not None
    assert path.score[1, 6] < 4.9
    starved = outcomes.daily_path(farm, replace(program, feeding=fed), farm.groups[-1])
    assert starved is not None
    assert starved.losing == 7


def test_a_shortage_of_energy_says_what_condition_it_leads_to(
    planned: tuple[Farm, SeasonProgram, dict[str, Any]],
) -> None:
    farm, program, _ = planned
    group = farm.groups[0].group_id
    end = program.periods[1].start
    short = Shortage(group, farm.season.start, end, "nem", "Mcal NEm", 2.0, 100.0, "Short.")
    mineral = replace(short, nutrient="ca")
    other = replace(short, group_id="S")
    told = outcomes.with_effects((short, mineral, other), program.outcomes, US)
    assert told[1:] == (mineral, other)
    point = program.outcomes[0].path[1]
    assert point.on == end
    assert told[0].sentence == (
        f"Short. They are then at condition {point.score:.1f} ({point.low_score:.1f} to "
        f"{point.high_score:.1f}) on {US.day_text(end)}."
    )


def test_no_odds_of_breeding_are_told_of_starved_cows() -> None:
    days = (date(2027, 1, 1), date(2027, 1, 2))
    for score, told in ((2.4, False), (2.5, True)):
        path = outcomes.DailyPath(
            days, (590.0, 5.0), np.full((3, 2), 400.0), np.full((3, 2), score), (), 0
        )
        assert bool(outcomes.event_at(path, "calving", days[1]).expected) == told


def test_a_change_faster_than_cows_do_it_is_doubted_and_a_loss_of_weight_told() -> None:
    days = tuple(date(2027, 1, 1) + timedelta(days=one) for one in range(30))
    scores = np.linspace(5.0, 6.5, 30) + np.zeros((3, 1))
    path = outcomes.DailyPath(days, (590.0, 5.0), scores * 0 + 590.0, scores, (), 0)
    group = replace(cattle().groups[0], calving_on=None)
    told = outcomes.told(group, path, (), US)
    assert "1.5 scores a month, faster than cows do it" in told.sentence
    slow = replace(path, score=np.full((3, 30), 5.2))
    assert "faster" not in outcomes.told(group, slow, (), US).sentence
    lost = replace(path, score=None, first=(300.0, None), losing=4)
    assert "On 4 days they eat less" in outcomes.told(group, lost, (), US).sentence
