"""The office's page: who is short, what is due, what is dangerous, of many farms at once."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import icalendar
import pytest
from click.testing import CliRunner

from rickyard.cli.main import main
from rickyard.service import OfficePage, OfficeRequest, PlanRequest, find_farms, office_page
from support.many_farms import office

DAY = date(2025, 11, 20)


@pytest.fixture(scope="module")
def farms(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return office(tmp_path_factory.mktemp("office") / "farms")


@pytest.fixture(scope="module")
def page(farms: Path) -> OfficePage:
    request = OfficeRequest(DAY, plan=PlanRequest(weekly=True, effort=0.0))
    return office_page(find_farms([farms]), request)


def test_who_is_short_stands_first_and_from_when(page: OfficePage) -> None:
    thin = page.short[0]
    assert (thin.folder, thin.of_hay) == ("thin", True)
    assert thin.short_on is not None
    assert thin.short_on < date(2026, 1, 1)
    others = [*page.short[1:], *page.supplied]
    assert {one.folder for one in others} == {"ash", "brook"}
    assert not any(one.of_hay for one in others)


def test_what_is_due_names_farm_and_day(page: OfficePage) -> None:
    told = [(one.farm_name, one.what) for one in page.due]
    assert ("Ash farm", "Sample and ship Hill alfalfa") in told
    assert all(DAY <= one.day < page.until for one in page.due)
    assert all(one.day >= page.until for one in page.later)


def test_what_is_dangerous_names_farm_and_hay(page: OfficePage) -> None:
    assert ("brook", "Drought sudan") in [(one.folder, one.about) for one in page.dangers]
    assert "it can kill" in next(one.sentence for one in page.dangers if one.folder == "brook")


def test_a_rough_page_plans_nothing_and_says_so(farms: Path) -> None:
    page = office_page(find_farms([farms]), OfficeRequest(DAY, rough=True))
    assert {one.by for one in page.farms} == {"yard"}
    assert [one.folder for one in page.short] == ["thin"]
    assert "brook" in {one.folder for one in page.dangers}


def test_the_page_in_the_terminal_answers_in_its_first_line(farms: Path, tmp_path: Path) -> None:
    file = tmp_path / "all.ics"
    options = ["--on", DAY.isoformat(), "--rough", "--ics", str(file)]
    result = CliRunner().invoke(main, ["farms", str(farms), *options])
    assert result.exit_code == 0, result.output
    first = result.stdout.splitlines()[0]
    assert first == (
        "3 farms on Nov 20, 2025: 1 short of hay, 2 with something due by Dec 4, 1 with dangers"
    )
    order = [
        result.stdout.index(head)
        for head in ("Short of hay", "Due by", "Dangers", "Enough hay, the least")
    ]
    assert order == sorted(order)
    assert "veterinarian" in result.stdout
    events = icalendar.Calendar.from_ical(file.read_bytes()).walk("VEVENT")
    assert any(str(one["summary"]).startswith("Ash farm: Sample") for one in events)


def test_a_folder_with_faults_is_told_and_the_others_answered(tmp_path: Path) -> None:
    farms = office(tmp_path / "farms")
    (farms / "ash" / "farm.toml").write_text("nothing", encoding="utf-8")
    result = CliRunner().invoke(main, ["farms", str(farms), "--rough", "--json", "-"])
    assert result.exit_code == 3
    told = json.loads(result.stdout)
    assert told["rickyard"] == "office"
    assert [one["folder"] for one in told["not_read"]] == ["ash"]
    assert [one["folder"] for one in told["farms"]] == ["brook", "thin"]
    assert "farm.toml" in result.stderr


def test_adopted_programs_are_taken_and_the_rest_planned(farms: Path, tmp_path: Path) -> None:
    run = CliRunner().invoke(
        main,
        [
            "plan",
            str(farms / "brook"),
            "--weekly",
            "--effort",
            "0",
            "--json",
            str(tmp_path / "brook.json"),
        ],
    )
    assert run.exit_code == 0, run.output
    told: list[str] = []
    request = OfficeRequest(DAY, plan=PlanRequest(weekly=True, effort=0.0), plans=tmp_path)
    page = office_page(find_farms([farms]), request, progress=told.append)
    assert len(page.farms) == 3
    assert [one for one in told if "2 of 3, brook" in one] == ["2 of 3, brook: reading"]
    assert any("1 of 3, ash: A first program" in one or "needs" in one for one in told)
