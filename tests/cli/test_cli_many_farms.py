"""Several farms with one call: a folder of farms, files for all, and one with faults among them."""

from __future__ import annotations

import json
from pathlib import Path

import icalendar
import pypdfium2 as pdfium
import pytest
from click.testing import CliRunner, Result

from rickyard.cli.main import main
from rickyard.service import find_farms
from support.farm_folders import write_texts
from support.many_farms import office

DAY = "2025-11-20"


def run(*arguments: str) -> Result:
    return CliRunner().invoke(main, list(arguments), catch_exceptions=False)


@pytest.fixture
def farms(tmp_path: Path) -> Path:
    return office(tmp_path / "farms")


def test_a_folder_of_farms_is_its_farms_by_name_each_once(farms: Path) -> None:
    found = find_farms([farms, farms / "brook"])
    assert [place.label for place in found] == ["ash", "brook", "thin"]
    assert [place.folder for place in found] == [farms / one for one in ("ash", "brook", "thin")]


def test_two_farms_of_one_name_keep_files_of_their_own(tmp_path: Path) -> None:
    here, there = tmp_path / "north", tmp_path / "south"
    for one in (here, there):
        write_texts(one / "home", {"farm.toml": "format = 1\n"})
    assert [one.label for one in find_farms([here, there])] == ["north-home", "south-home"]


def test_a_folder_that_holds_no_farm_is_told_as_one(tmp_path: Path) -> None:
    (tmp_path / "empty").mkdir()
    result = run("yard", str(tmp_path / "empty"))
    assert result.exit_code == 3
    assert "farm.toml" in result.stderr


@pytest.mark.parametrize(
    "command",
    [
        ("needs",),
        ("yard", "--on", DAY),
        ("cold", "--on", DAY),
        ("sampling", "--on", DAY),
        ("plan", "--weekly", "--effort", "0"),
        ("week", "--weekly", "--effort", "0"),
        ("why", "--weekly", "--effort", "0", "--answers", "0"),
        ("what-if", "--weekly", "--effort", "0", "--intake", "+5%"),
    ],
    ids=lambda one: one[0],
)
def test_every_command_takes_a_folder_of_farms(command: tuple[str, ...], farms: Path) -> None:
    result = run(command[0], str(farms), *command[1:])
    assert result.exit_code == 0, result.output
    heads = [line for line in result.stdout.splitlines() if line.startswith("--- ")]
    assert heads == [f"--- {farms / one} ---" for one in ("ash", "brook", "thin")]
    for name in ("Ash farm", "Brook farm", "Thin farm"):
        assert command[0] == "needs" or name in result.stdout


def test_a_farm_with_faults_keeps_no_other_from_its_answer(farms: Path) -> None:
    (farms / "brook" / "lots.csv").write_text("lot\n")
    result = run("yard", str(farms), "--on", DAY)
    assert result.exit_code == 3
    assert "Ash farm" in result.stdout
    assert "Thin farm" in result.stdout
    assert f"{farms / 'brook'}: lots.csv" in result.stderr
    assert "1 of 3 folders gave no answer: brook." in result.stderr


def test_one_document_holds_the_answers_of_all(farms: Path) -> None:
    told = json.loads(run("yard", str(farms), "--on", DAY, "--json", "-").stdout)
    assert told["rickyard"] == "farms"
    assert [one["folder"] for one in told["farms"]] == ["ash", "brook", "thin"]
    assert told["farms"][1]["answer"]["farm"] == "Brook farm"


def test_one_calendar_names_the_farm_of_each_day(farms: Path, tmp_path: Path) -> None:
    file = tmp_path / "all.ics"
    assert run("sampling", str(farms), "--on", DAY, "--ics", str(file)).exit_code == 0
    events = icalendar.Calendar.from_ical(file.read_bytes()).walk("VEVENT")
    titles = [str(one["summary"]) for one in events]
    assert {title.partition(":")[0] for title in titles} >= {"Ash farm", "Brook farm"}
    assert len({str(one["uid"]) for one in events}) == len(titles)


def test_a_day_is_the_same_event_in_the_farms_own_calendar(farms: Path, tmp_path: Path) -> None:
    def uids(folder: Path, name: str) -> set[str]:
        run("sampling", str(folder), "--on", DAY, "--ics", str(tmp_path / name))
        calendar = icalendar.Calendar.from_ical((tmp_path / name).read_bytes())
        return {str(one["uid"]) for one in calendar.walk("VEVENT")}

    own = uids(farms / "ash", "ash.ics")
    assert own
    assert own < uids(farms, "all.ics")


@pytest.mark.more
def test_the_sheets_of_all_are_one_file_or_a_file_each(farms: Path, tmp_path: Path) -> None:
    def pages(path: Path) -> int:
        with pdfium.PdfDocument(path) as file:
            return len(file)

    each, whole = tmp_path / "sheets", tmp_path / "all.pdf"
    each.mkdir()
    for place in (each, whole):
        result = run("plan", str(farms), "--weekly", "--effort", "0", "--pdf", str(place))
        assert result.exit_code == 0, result.output
    files = sorted(each.iterdir())
    assert [file.name for file in files] == ["ash.pdf", "brook.pdf", "thin.pdf"]
    assert pages(whole) == sum(map(pages, files))


def test_adopted_programs_of_a_folder_are_those_of_its_farms(farms: Path, tmp_path: Path) -> None:
    plans = tmp_path / "plans"
    plans.mkdir()
    assert run("plan", str(farms), "--weekly", "--effort", "0", "--json", str(plans)).exit_code == 0
    assert sorted(file.name for file in plans.iterdir()) == ["ash.json", "brook.json", "thin.json"]
    lists = run("week", str(farms), "--plan", str(plans), "--date", "2026-01-05")
    assert lists.exit_code == 0, lists.output
    assert lists.stdout.count("--- ") == 3


def test_a_plan_of_one_farm_is_not_taken_for_all(farms: Path, tmp_path: Path) -> None:
    result = run("week", str(farms), "--plan", str(tmp_path / "one.json"))
    assert result.exit_code == 2
    assert "Name a folder of programs" in result.stderr


@pytest.mark.parametrize(
    ("command", "option"),
    [("needs", "--group"), ("why", "--group"), ("read", "--lot"), ("sampling", "--lot")],
)
def test_what_is_of_one_farm_is_refused_for_many(command: str, option: str, farms: Path) -> None:
    result = run(command, str(farms), option, "A1")
    assert result.exit_code == 2
    assert f"{option} is of one farm, and there are 3 here." in result.stderr


def test_no_file_of_any_of_the_farms_is_written_over(farms: Path) -> None:
    before = (farms / "brook" / "lots.csv").read_bytes()
    result = run("yard", str(farms), "--json", str(farms / "brook" / "lots.csv"))
    assert result.exit_code == 2
    assert (farms / "brook" / "lots.csv").read_bytes() == before


def test_thirty_results_are_a_line_each_the_dangerous_first(farms: Path) -> None:
    result = run("read", str(farms))
    assert result.exit_code == 0, result.output
    lines = result.stdout.splitlines()
    assert lines[0] == "9 lots of 3 farms, 1 with a danger"
    rows = lines[3:12]
    assert rows[0].startswith("DANGER")
    assert "Brook farm" in rows[0]
    assert "4,200" in rows[0]
    assert sum("Ash farm" in row for row in rows) == 3
    assert [row.split()[-1] for row in rows if "Ash farm" in row][1:] == ["<200", "ND"]
    assert "Do not feed it to any stock" in result.stdout


def test_results_since_a_day_are_those_that_came_then(farms: Path) -> None:
    told = json.loads(run("read", str(farms), "--since", "2025-10-15", "--json", "-").stdout)
    lots = [
        (one["folder"], lot["lot_id"]) for one in told["farms"] for lot in one["answer"]["lots"]
    ]
    assert lots == [("brook", "S9")]
