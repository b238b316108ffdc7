"""The options of ``plan`` and of ``what-if`` as a person types them."""

from __future__ import annotations

import json
import os
import shutil
import signal
import subprocess
import sys
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner, Result

from rickyard import service
from rickyard.cli.main import main
from rickyard.cli.shared.planning import Line, stopping
from rickyard.program import planning
from rickyard.service.errors import NotUnderstood
from rickyard.sheets.data_files.plan_schema import plan_schema
from support.farm_folders import plain_demo

PINS = """wish,source,group,start,end,as_fed_lb_per_head_day
feed,26-HILL-2,cows,2027-01-12,,
keep_off,26-SAND-1,,,,
amount,hulls,bulls,,,2
amount,corn,firsts,,,4
feed,26-FLAT-1,firsts,,,
"""


@pytest.fixture(scope="module")
def farm(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the demonstration farm, quick to plan: without its rules."""
    return plain_demo(tmp_path_factory.mktemp("plan") / "farm")


@pytest.fixture(scope="module")
def before(farm: Path) -> Path:
    """Return the file of a plan written before."""
    file = farm.parent / "october.json"
    assert run("plan", farm, "--weekly", "--json", file).exit_code == 0
    return file


def run(*arguments: object) -> Result:
    return CliRunner().invoke(main, [str(one) for one in arguments], catch_exceptions=False)


def flat(text: str) -> str:
    return " ".join(text.split())


def test_pins_are_kept_priced_and_told(farm: Path, tmp_path: Path) -> None:
    pins, document = tmp_path / "pins.csv", tmp_path / "plan.json"
    pins.write_text(PINS, encoding="utf-8")
    result = run("plan", farm, "--weekly", "--effort", 0, "--pin", pins, "--json", document)
    assert result.exit_code == 0
    said = flat(result.stdout)
    assert "Wishes" in said
    assert "Barn orchardgrass-clover to Spring cows from Jan 12 on: kept." in said
    assert "2 lb of Soybean hulls a head and day to Bulls all season: kept." in said
    assert (
        "4 lb of Cracked corn a head and day to First-calf heifers all season: kept on 154 of 182 "
        "days only, because it is raised little by little from what they are used to" in said
    )
    assert "keeps Drought sorghum-sudan from First-calf heifers" in said
    plan = json.loads(document.read_text(encoding="utf-8"))
    jsonschema.validate(plan, plan_schema())
    assert [one["kept"] for one in plan["wishes"]] == ["kept", "kept", "kept", "part", "not"]
    assert not any(row["source"] == "26-SAND-1" for row in plan["feeding"])


def test_faults_of_pins_are_named_and_leave_with_three(farm: Path, tmp_path: Path) -> None:
    pins = tmp_path / "pins.csv"
    pins.write_text("wish,source,group\nfeed,26-HILL-9,cows\n", encoding="utf-8")
    result = run("plan", farm, "--weekly", "--pin", pins)
    assert result.exit_code == 3
    assert "pins.csv, row 2, column source" in result.stderr
    assert run("plan", farm, "--pin", tmp_path / "none.csv").exit_code == 3


@pytest.mark.more
def test_an_earlier_plan_stands_beside_this_one(farm: Path, before: Path, tmp_path: Path) -> None:
    pins, both = tmp_path / "pins.csv", tmp_path / "both.json"
    pins.write_text("wish,source,group\nkeep_off,26-HILL-1,\n", encoding="utf-8")
    result = run(
        "plan",
        farm,
        "--weekly",
        "--effort",
        0,
        "--pin",
        pins,
        "--compare",
        before,
        "--comparison",
        both,
    )
    assert result.exit_code == 0
    said = flat(result.stdout)
    assert "Beside earlier plans" in said
    assert "october costs $" in said
    assert "Who gets a different hay in: october" in said
    found = json.loads(both.read_text(encoding="utf-8"))
    assert found["rickyard"] == "comparison"
    assert found["comparison"]["labels"] == ["this plan", "october"]
    fed = {row["key"]: row["values"] for row in found["comparison"]["fed_t"]}
    assert fed["26-HILL-1"][0] == 0.0
    assert fed["26-HILL-1"][1] > 10.0


def test_what_is_no_plan_to_compare_with_is_refused(farm: Path, tmp_path: Path) -> None:
    other = tmp_path / "other.json"
    other.write_text('{"schema_version": "7.0"}', encoding="utf-8")
    result = run("plan", farm, "--weekly", "--compare", other)
    assert result.exit_code == 2
    assert "version 7.0 of the format" in result.stderr
    assert run("plan", farm, "--compare", tmp_path / "none.json").exit_code == 2
    alone = run("plan", farm, "--comparison", tmp_path / "both.json")
    assert alone.exit_code == 2
    assert "name one with --compare" in alone.stderr


def test_the_rest_of_a_season_tells_what_was_fed(farm: Path, before: Path, tmp_path: Path) -> None:
    logged = tmp_path / "farm"
    shutil.copytree(farm, logged)
    (logged / "fed.csv").write_text(
        "day,source,group,bales,mass_lb\n2026-11-03,26-FARR-1,cows,26,\n"
        "2026-11-10,hulls,cows,,500\n",
        encoding="utf-8",
    )
    document = tmp_path / "rest.json"
    result = run(
        "plan",
        logged,
        "--weekly",
        "--from-date",
        "2026-11-16",
        "--compare",
        before,
        "--json",
        document,
    )
    assert result.exit_code == 0, result.stderr
    said = flat(result.stdout)
    assert "What was fed so far" in said
    assert "Spring cows, from Nov 2 to Nov 15:" in said
    assert "Bulls, from Nov 2 to Nov 15: the log has nothing." in said
    assert "They cover different days" in said
    assert "the days that all of them cover, hay and feed put out are worth: this plan $" in said
    plan = json.loads(document.read_text(encoding="utf-8"))
    assert plan["season"]["start"] == "2026-11-16"
    stood = {lot["lot"]: lot["start_bales"] for lot in plan["lots"]}
    assert stood["26-FARR-1"] < 61
    assert any("planned from Nov 16, 2026" in one["sentence"] for one in plan["assumptions"])


@pytest.mark.more
def test_every_winter_is_planned_with_one_autumn(farm: Path, tmp_path: Path) -> None:
    cold = tmp_path / "farm"
    shutil.copytree(farm, cold)
    settings = cold / "farm.toml"
    text = settings.read_text(encoding="utf-8") + '\ncold_rule = "percent"\nlate_price_pct = 25\n'
    settings.write_text(text, encoding="utf-8")
    months = [*((2026, month) for month in (9, 10, 11, 12)), *((2027, m) for m in range(1, 6))]
    rows = [f"{year}-{month:02d},{-4 if month in (12, 1, 2) else 6}" for year, month in months]
    table = "\n".join(["day,mean_temperature_degC", *rows]) + "\n"
    (cold / "weather.csv").write_text(table, encoding="utf-8")
    written = tmp_path / "winters.json"
    asked = (
        "--weekly",
        "--effort",
        0,
        "--winter",
        "all",
        "--json",
        tmp_path / "plan.json",
        "--winters-json",
        written,
    )
    result = run("plan", cold, *asked)
    assert result.exit_code == 0, result.stderr
    document = json.loads(written.read_text(encoding="utf-8"))
    assert document["rickyard"] == "winters"
    assert [one["winter"] for one in document["winters"]] == ["mild", "normal", "severe"]
    assert document["hold_back_kg_dm"] >= 0.0
    assert sum(one["chance_pct"] for one in document["winters"]) == pytest.approx(100.0)
    for one in document["winters"]:
        jsonschema.Draft202012Validator(plan_schema()).validate(one["program"])
    said = flat(result.stdout)
    assert said.startswith("One fall plan for every winter")
    for winter in ("mild", "normal", "severe"):
        assert f"A {winter} winter (" in said
    assert said.index("holds back what a severe one") < said.index("What the season costs")


def test_every_winter_without_weather_says_what_to_write(farm: Path) -> None:
    result = run("plan", farm, "--weekly", "--winter", "all")
    assert result.exit_code == 3
    assert "Write weather.csv" in result.stderr
    assert result.stdout == ""


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("--from-date", "2028-01-01"), "choose a day in it"),
        (("--from-date", "16/11/2026"), "write it year first"),
        (("--assure", "120"), "120"),
        (("--seconds", "-1"), "-1"),
        (("--winter", "wet"), "wet"),
        (("--winters-json", "winters.json"), "--winter all"),
    ],
)
def test_options_that_make_no_sense_leave_with_two(
    farm: Path, options: tuple[str, str], words: str
) -> None:
    result = run("plan", farm, *options)
    assert result.exit_code == 2
    assert words in result.stderr
    assert result.stdout == ""


def test_options_reach_the_program(farm: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    asked = {}
    honest = planning.plan_season

    def spy(one, say=None, *, options):  # type: ignore[no-untyped-def]
        asked.update(farm=one, options=options)
        return honest(one, say, options=options)

    monkeypatch.setattr(planning, "plan_season", spy)
    options = ("--weekly", "--assure", "80", "--winter", "severe", "--seconds", "0")
    result = run("plan", farm, *options)
    assert result.exit_code == 0
    assert asked["farm"].season.assurance_pct == 80.0
    assert asked["farm"].season.winter.value == "severe"
    assert asked["options"].seconds == 0.0
    assert asked["options"].stop() is False


def test_the_first_interrupt_asks_and_the_second_leaves(capsys: pytest.CaptureFixture[str]) -> None:
    before = signal.getsignal(signal.SIGINT)
    with stopping() as stop:
        assert not stop()
        signal.raise_signal(signal.SIGINT)
        assert stop()
        with pytest.raises(KeyboardInterrupt):
            signal.raise_signal(signal.SIGINT)
    assert signal.getsignal(signal.SIGINT) is before
    assert "the best program so far follows" in capsys.readouterr().err


def test_the_line_tells_what_is_done_and_since_when() -> None:
    line = Line()
    line.say("A severe winter: Best so far $33,005")
    line.started -= 12.0
    assert line.__rich__().plain == "12 s  A severe winter: Best so far $33,005"
    with stopping(line) as stop:
        signal.raise_signal(signal.SIGINT)
        assert stop()
    assert line.__rich__().plain == "12 s  stopping; Ctrl-C leaves at once"


@pytest.mark.skipif(os.name != "posix", reason="signals are sent as POSIX has them")
def test_ctrl_c_gives_a_program_and_no_traceback(farm: Path) -> None:
    with subprocess.Popen(
        # What is imported is told as it is: the interrupt comes by that and not after a time.
        [sys.executable, "-X", "importtime", "-m", "rickyard", "plan", str(farm), "--effort", "60"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        encoding="utf-8",
        env={**os.environ, "PYTHONUTF8": "1"},
        # Whoever runs the tests may have let interrupts be ignored, and a child inherits that.
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
    ) as process:
        assert process.stderr is not None
        assert any("highspy" in line for line in process.stderr)
        process.send_signal(signal.SIGINT)
        said, aside = process.communicate(timeout=60)
    assert "Traceback" not in aside
    # Before the command has begun nothing is there to be shown; after that a program is.
    if "the best program so far" in aside:
        assert process.returncode == 0
        assert "What the season costs" in said


def test_questions_are_answered_in_sentences_and_one_table(farm: Path) -> None:
    result = run(
        "what-if", farm, "--head", "cows=70", "--without", "26-HILL-1", "--price", "corn=+20%",
        "--winter", "severe", "--weekly",
    )  # fmt: skip
    assert result.exit_code == 0
    said = flat(result.stdout)
    assert "Spring cows at 70 head: the season costs $" in said
    assert "Without Tarp orchardgrass: the season costs $" in said
    assert "Plus the lost hay, worth $" in said
    # Bred heifers gain only what they lack, so that the farm feeds no corn.
    assert "Cracked corn at $293 a ton: the season costs the same" in said
    assert "A severe winter changes nothing here" in said
    assert said.index("As it is") < said.index("more than now") + 200
    assert max(len(line) for line in result.stdout.splitlines()) <= 100


def test_what_if_sets_changes_beside_the_program_that_plan_makes(
    farm: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = []

    def listen(opened: object, changes: object, request: service.PlanRequest, **_: object) -> None:
        asked.append(request)
        raise NotUnderstood("Heard.")

    monkeypatch.setattr(service, "what_if", listen)
    run("what-if", farm, "--weekly", "--intake", "+5%")
    assert asked == [service.PlanRequest(weekly=True)]


def test_answers_as_json_are_json_alone(farm: Path) -> None:
    result = run("what-if", farm, "--until", "2027-05-20", "--intake", "-5%", "--together",
                 "--weekly", "--json", "-")  # fmt: skip
    assert result.exit_code == 0
    found = json.loads(result.stdout)
    assert found["rickyard"] == "what_if"
    (answer,) = found["answers"]
    assert answer["label"] == "Feeding until May 20, 2027 and stock eating 5% less"
    costs = found["comparison"]["total"]["values"]
    assert answer["cost_usd"] == pytest.approx(costs[1] - costs[0])
    assert found["comparison"]["spans"][1][1] == "2027-05-20"


@pytest.mark.parametrize(
    ("options", "words"),
    [
        ((), "Nothing is asked"),
        (("--head", "geese=7"), '"geese" is no group of this farm; it has: cows,'),
        (("--head", "cows"), "write a name, =, and a value, as cows=70"),
        (("--head", "cows=many"), "is no number of head"),
        (("--head", "cows=-100"), "is no number of head"),
        (("--without", "A1"), '"A1" is no lot'),
        (("--without", "26-HILL-1=140%"), "more than 0 and up to 100%"),
        (("--without", "26-HILL-1=half"), "write a percentage"),
        (("--price", "hay=+5%"), '"hay" is no lot or feed'),
        (("--price", "corn=cheap"), "--price corn=cheap"),
        (("--intake", "a lot"), "write a percentage"),
        (("--intake", "+80%"), "more than half"),
        (("--until", "2026-10-01"), "not after the first day of the season"),
    ],
)
def test_questions_that_are_not_understood_say_what_to_type(
    farm: Path, options: tuple[str, ...], words: str
) -> None:
    result = run("what-if", farm, "--weekly", *options)
    assert result.exit_code == 2
    assert words in result.stderr
    assert result.stdout == ""
