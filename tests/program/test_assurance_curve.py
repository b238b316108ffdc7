"""The price of assurance: costs that rise, promises that cannot be kept, and the picture."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import timedelta
from functools import cache
from pathlib import Path
from types import SimpleNamespace
from typing import Any
from xml.etree import ElementTree

import pytest
from click.testing import CliRunner

from rickyard.cli.main import main
from rickyard.farm import Farm
from rickyard.program.ask import assurance_curve
from rickyard.program.ask.assurance_curve import (
    AssuranceCurve,
    assurance_answer,
    assurance_lines,
    price_of_assurance,
)
from rickyard.program.planning.season import plan_season
from rickyard.quantities import OutOfRange
from rickyard.sheets.charts.assurance_chart import assurance_chart_svg
from support.farm_folders import good_folder
from support.farms import START, random_farm
from support.rows import few
from support.season_farms import LIME, cows, farm_of, hay, report_on
from support.weekly import WEEKLY

LEVELS = (50.0, 80.0, 90.0, 95.0)


@cache
def priced(seed: int) -> tuple[Farm, AssuranceCurve]:
    farm = random_farm(seed, lots=5, groups=3, weeks=6)
    return farm, price_of_assurance(farm, LEVELS)


def test_more_assurance_costs_more_at_every_step() -> None:
    _, curve = priced(2)
    costs = [one.cost_usd for one in curve.points]
    assert [one.chance_pct for one in curve.points] == list(LEVELS)
    assert costs == sorted(costs)
    assert costs[-1] > costs[0] * 1.01
    assert curve.points[0].more_usd == pytest.approx(0.0, abs=0.01)
    assert all(one.kept for one in curve.points)


@pytest.mark.parametrize("level", few(LEVELS, [50.0, 95.0]))
def test_each_point_is_what_a_program_with_that_assurance_costs(level: float) -> None:
    farm, curve = priced(2)
    alone = plan_season(
        replace(farm, season=replace(farm.season, assurance_pct=level)), options=WEEKLY
    )
    point = next(one for one in curve.points if one.chance_pct == level)
    assert point.cost_usd + point.penalty_usd == pytest.approx(alone.cost + alone.penalty, rel=3e-4)


def test_a_farms_own_assurances_are_set_aside() -> None:
    farm, curve = priced(2)
    sure = replace(farm, season=replace(farm.season, assurance_pct=99.0))
    again = price_of_assurance(sure, LEVELS)
    assert [one.cost_usd for one in again.points] == [one.cost_usd for one in curve.points]


@pytest.mark.parametrize(("more", "kept"), [(0.0, True), (1.0, True), (1.05, False)])
def test_a_promise_is_kept_where_a_dollar_more_is_short_at_most(
    more: float, kept: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    def seasons(problem: Any, even: Any, levels: list[float], told: Any) -> list[Any]:
        return [
            SimpleNamespace(
                level_pct=level,
                cost_usd=900.0 + level,
                means_usd=950.0,
                penalty_usd=8.0 + more,
                means_penalty_usd=8.0,
            )
            for level in levels
        ]

    monkeypatch.setattr(assurance_curve, "_season_at", seasons)
    farm = random_farm(2, lots=2, groups=1, weeks=2)
    points = price_of_assurance(farm, (90.0, 50.0)).points
    assert [(one.chance_pct, one.more_usd, one.kept) for one in points] == [
        (50.0, 0.0, kept),
        (90.0, 40.0, kept),
    ]


def test_a_promise_nothing_keeps_is_marked_and_not_priced() -> None:
    lot = hay("hay", 58.0, 8.2, 200.0, 90.0)
    farm = farm_of([(lot, report_on(lot, 58.0, 8.2))], [cows(START + timedelta(days=150))], [LIME])
    curve = price_of_assurance(farm, (50.0, 60.0, 97.5))
    assert [one.kept for one in curve.points] == [True, True, False]
    assert "No mix on this farm can promise 97.5% everywhere." in assurance_answer(curve)
    lines = assurance_lines(curve)
    assert lines[-1].endswith("cannot be promised everywhere")
    assert "cannot be promised" in assurance_chart_svg(curve)


def test_certainty_is_refused() -> None:
    farm, _ = priced(2)
    with pytest.raises(OutOfRange, match="assurance_pct"):
        price_of_assurance(farm, (100.0,))


def test_the_picture_has_a_label_for_every_price_and_the_answer() -> None:
    _, curve = priced(2)
    picture = assurance_chart_svg(curve)
    ElementTree.fromstring(picture)
    for one in curve.points[1:]:
        assert f"${one.more_usd:,.0f}" in picture
    assert "95% assurance costs" in picture
    assert "what a surer supply costs" in picture
    assert "assurance, % of seasons" in picture
    assert ">60<" in picture  # the axis says what it is a percentage of


def test_a_curve_of_one_point_is_drawn() -> None:
    _, curve = priced(2)
    one = replace(curve, points=curve.points[:1])
    ElementTree.fromstring(assurance_chart_svg(one))
    assert assurance_answer(one) == "Only average values were asked for."


@pytest.mark.more
def test_the_plan_command_draws_and_prints_it(tmp_path: Path) -> None:
    folder, chart = good_folder(tmp_path / "farm"), tmp_path / "curve.svg"
    done = CliRunner().invoke(
        main, ["plan", str(folder), "--weekly", "--seconds", "0", "--assurance-chart", str(chart)]
    )
    assert done.exit_code == 0, done.output
    ElementTree.fromstring(chart.read_text(encoding="utf-8"))
    assert "What a surer supply of protein and energy costs" in done.output
    assert "97.5%" in done.output


def test_a_chart_that_is_no_svg_is_refused(tmp_path: Path) -> None:
    folder = good_folder(tmp_path / "farm")
    done = CliRunner().invoke(main, ["plan", str(folder), "--assurance-chart", "curve.png"])
    assert done.exit_code == 2
    assert "ends in .svg" in done.output


def test_the_curve_is_written_as_json_where_the_name_says_so(tmp_path: Path) -> None:
    folder, chart = good_folder(tmp_path / "farm"), tmp_path / "curve.json"
    done = CliRunner().invoke(
        main, ["plan", str(folder), "--weekly", "--seconds", "0", "--assurance-chart", str(chart)]
    )
    assert done.exit_code == 0, done.output
    found = json.loads(chart.read_text(encoding="utf-8"))
    assert found["rickyard"] == "assurance"
    points = found["curve"]["points"]
    assert [one["chance_pct"] for one in points] == [50, 60, 70, 80, 85, 90, 95, 97.5]
    assert points[0]["more_usd"] == pytest.approx(0.0, abs=0.01)
    assert any(one["more_usd"] > 0.0 or not one["kept"] for one in points)
