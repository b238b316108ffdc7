"""The program that was adopted is taken as it was made, and a changed folder is told."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from rickyard import service
from rickyard.cli.main import main
from rickyard.program import planning
from rickyard.program.result import SeasonProgram
from rickyard.sheets.paper import week_list
from support.farm_folders import good_folder


def run(*arguments: object) -> Result:
    return CliRunner().invoke(main, [str(one) for one in arguments], catch_exceptions=False)


@pytest.fixture(scope="module")
def farm(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return good_folder(tmp_path_factory.mktemp("adopted") / "farm")


#: The program that was planned, before it was written.
MADE = list[SeasonProgram]()


@pytest.fixture(scope="module")
def adopted(farm: Path) -> Path:
    file, honest = farm.parent / "adopted.json", planning.plan_season

    def watched(*given: Any, **how: Any) -> SeasonProgram:
        MADE.append(honest(*given, **how))
        return MADE[-1]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(planning, "plan_season", watched)
        assert (
            run("plan", farm, "--weekly", "--effort", 0, "--assure", 70, "--json", file).exit_code
            == 0
        )
    return file


def edit(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


def test_a_plan_says_from_what_it_was_made(farm: Path, adopted: Path) -> None:
    made = json.loads(adopted.read_text(encoding="utf-8"))["made"]
    opened = service.open_farm(farm)
    assert made["farm_sha256"] == opened.sha256
    assert [one["file"] for one in made["files"]][:3] == ["farm.toml", "lots.csv", "reports.csv"]
    assert made["options"]["effort"] == 0.0
    assert made["options"]["assure_pct"] == 70.0
    assert made["options"]["winter"] is None
    planned = service.adopted_plan(opened, adopted)
    assert planned.warnings == ()
    assert planned.farm.season.assurance_pct == 70.0


@pytest.mark.parametrize("command", ["week", "why"])
def test_nothing_is_planned_anew(
    command: str, farm: Path, adopted: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def never(*_: object, **__: object) -> None:
        raise AssertionError("planned anew")

    monkeypatch.setattr(planning, "plan_season", never)
    asked = ("--date", "2025-12-01") if command == "week" else ("--answers", "0")
    result = run(command, farm, "--plan", adopted, *asked)
    assert result.exit_code == 0, result.stderr
    assert "has changed" not in result.stderr
    assert "Mature cows" in result.stdout


def test_the_week_of_an_adopted_plan_is_what_that_plan_feeds(farm: Path, adopted: Path) -> None:
    opened = service.open_farm(farm)
    planned = service.adopted_plan(opened, adopted)
    (made,) = MADE
    assert replace(planned.program, made=None, remedies=()) == made
    start = service.week_start(made, planned.farm, None, made.start)
    lists = [week_list(one, planned.farm, start) for one in (planned.program, made)]
    assert lists[0] == lists[1]


def test_a_folder_that_changed_since_is_told_by_file(tmp_path: Path, adopted: Path) -> None:
    changed = good_folder(tmp_path / "farm")
    edit(changed / "lots.csv", "120,", "118,")
    (changed / "needs.csv").unlink()
    result = run("week", changed, "--plan", adopted)
    assert result.exit_code == 0
    assert "has changed since" in result.stderr
    assert "lots.csv, needs.csv" in result.stderr


def test_a_plan_that_is_not_of_this_farm_is_refused(
    tmp_path: Path, farm: Path, adopted: Path
) -> None:
    other = good_folder(tmp_path / "farm")
    edit(other / "farm.toml", "end = 2026-04-15", "end = 2026-04-01")
    result = run("week", other, "--plan", adopted)
    assert result.exit_code == 2
    assert "is of the season" in result.stderr
    strange = tmp_path / "strange.json"
    plan = json.loads(adopted.read_text(encoding="utf-8"))
    plan["feeding"][0]["source"] = "Z9"
    strange.write_text(json.dumps(plan), encoding="utf-8")
    assert "feeds Z9" in run("why", farm, "--plan", strange).stderr
    for text in ("{}", "[1]", "no json", '{"schema_version": "1.1"}'):
        strange.write_text(text, encoding="utf-8")
        result = run("why", farm, "--plan", strange)
        assert result.exit_code == 2
        assert "is not a whole plan" in result.stderr
    assert run("week", farm, "--plan", tmp_path / "none.json").exit_code == 2


def test_options_that_plan_anew_do_not_go_with_an_adopted_plan(farm: Path, adopted: Path) -> None:
    result = run("week", farm, "--plan", adopted, "--winter", "severe")
    assert result.exit_code == 2
    assert "leave out --plan" in result.stderr


def test_other_wishes_than_those_of_the_plan_are_told(
    farm: Path, adopted: Path, tmp_path: Path
) -> None:
    pins = tmp_path / "pins.csv"
    pins.write_text("wish,source,group\nkeep_off,C3,COWS\n", encoding="utf-8")
    assert "made with other wishes" in run("week", farm, "--plan", adopted, "--pin", pins).stderr
