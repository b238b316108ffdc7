"""An hour's question is asked first, counted in work; what was asked with --yes begins at once."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from rickyard import service
from rickyard.cli.main import main
from rickyard.farm import Farm
from rickyard.folder import read_folder
from rickyard.service.estimate import MOST_UNASKED, is_long, season_units, work_of
from support.farm_folders import good_folder


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return good_folder(tmp_path / "farm")


@pytest.fixture
def farm(folder: Path) -> Farm:
    return read_folder(folder, ["corn_grain_dry_rolled"]).farm


def many(farm: Farm, groups: int, periods: int) -> Farm:
    """Return a farm with so many groups and one-day periods."""
    season = replace(farm.season, period_days=1, end=farm.season.start + timedelta(days=periods))
    some = tuple(replace(farm.groups[0], group_id=f"G{at}") for at in range(groups))
    return replace(farm, season=season, groups=some)


def run(*arguments: object) -> Result:
    return CliRunner().invoke(main, [str(one) for one in arguments])


def test_first_use_slow_a_usual_question_is_not_asked_about(farm: Farm) -> None:
    usual = service.PlanRequest()
    assert work_of([farm], usual) < 10.0
    assert not is_long(work_of([farm] * 30, usual), usual)
    assert not is_long(work_of([farm], usual, programs=9, levels=8, answers=5.0), usual)
    patient = service.PlanRequest(effort=20_000.0)
    assert not is_long(work_of([farm], patient), patient)
    assert is_long(work_of([farm], patient, programs=3), patient)
    hurried = service.PlanRequest(effort=20_000.0, seconds=10.0)
    assert work_of([farm], hurried) < 20.0


def test_faults_low_many_groups_and_thousands_of_periods_are_weighed(farm: Farm) -> None:
    usual = service.PlanRequest()
    assert 10.0 < season_units(many(farm, 60, 26)) < 120.0
    assert 10.0 < season_units(many(farm, 5, 400)) < 120.0
    assert is_long(work_of([many(farm, 20, 1_500)], usual), usual)
    assert is_long(work_of([many(farm, 60, 26)], usual, programs=81), usual)


def test_first_use_slow_long_work_is_begun_only_with_yes(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    begun: list[object] = []

    def refuse(*given: object, **_how: object) -> None:
        begun.append(given)
        raise service.NotUnderstood("begun")

    monkeypatch.setattr(service, "what_if", refuse)
    asked = ("what-if", folder, "--head", "COWS=70", "--head", "COWS=80", "--effort", MOST_UNASKED)
    told = run(*asked)
    assert told.exit_code == 2
    assert told.stdout == ""
    assert "This will take about 2 hours" in told.stderr
    assert "Add --yes to begin." in told.stderr
    assert not begun
    assert "begun" in run(*asked, "--yes").stderr
    assert len(begun) == 1
    assert "begun" in run(*asked[:4]).stderr


@pytest.mark.parametrize("command", ["plan", "why", "week", "farms", "what-if"])
def test_first_use_slow_every_command_that_plans_can_be_told_yes(command: str) -> None:
    assert "--yes" in run(command, "--help").stdout
