"""What pages call: plain results, typed errors with a sentence, nothing printed, no way out."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from rickyard import service
from rickyard.cli.main import main
from rickyard.cli.shared import plain
from rickyard.program import planning, winters
from rickyard.service.errors import NotUnderstood
from support.farm_folders import good_folder


def run(*arguments: object) -> Result:
    return CliRunner().invoke(main, [str(one) for one in arguments], catch_exceptions=False)


@pytest.fixture(scope="module")
def farm(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return good_folder(tmp_path_factory.mktemp("services") / "farm")


def edit(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


def test_planning_tells_what_is_done_and_can_be_stopped(
    farm: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    told: list[str] = []
    opened = service.open_farm(farm)
    planned = service.plan_farm(
        opened, service.PlanRequest(weekly=True), progress=told.append, stop=lambda: True
    )
    assert any("Putting the reasons" in one for one in told)
    assert planned.program.made is not None
    assert planned.program.made.farm_sha256 == opened.sha256
    assert capsys.readouterr() == ("", "")


def test_errors_are_typed_and_say_what_to_do(farm: Path, tmp_path: Path) -> None:
    with pytest.raises(service.FolderFaulty, match="no such folder"):
        service.open_farm(tmp_path / "nowhere")
    opened = service.open_farm(farm)
    with pytest.raises(NotUnderstood, match="choose a day in it"):
        service.plan_farm(opened, service.PlanRequest(from_on=opened.farm.season.end))
    with pytest.raises(NotUnderstood, match="Nothing is asked"):
        service.what_if(opened, [], service.PlanRequest())
    with pytest.raises(NotUnderstood, match="Its groups are COWS"):
        service.groups_named(opened.farm, "geese")
    with pytest.raises(NotUnderstood, match="is no lot of this farm"):
        service.changes_of(opened.farm, service.Asked(without=["Z9"]))


def test_a_digest_is_of_every_file_that_is_read_and_of_no_other(tmp_path: Path) -> None:
    folder = good_folder(tmp_path / "farm")
    before = service.open_farm(folder)
    (folder / "plan.json").write_text("{}", encoding="utf-8")
    assert service.open_farm(folder).sha256 == before.sha256
    edit(folder / "groups.csv", "60,1250", "61,1250")
    assert service.open_farm(folder).sha256 != before.sha256


@pytest.mark.parametrize("command", ["read", "needs", "yard", "sampling", "plan", "week", "why"])
def test_every_command_shows_the_questions_of_the_reader(command: str, tmp_path: Path) -> None:
    folder = good_folder(tmp_path / "farm")
    edit(folder / "groups.csv", "cone_ring,,", "cone_ring,,2025-04-01")
    questions = service.open_farm(folder).questions
    assert questions
    quick = ("--weekly", "--effort", 0)
    asked = {"plan": quick, "week": quick, "why": (*quick, "--answers", 0)}
    result = run(command, folder, *asked.get(command, ()))
    assert questions[0] in result.stderr


@pytest.mark.parametrize(
    ("command", "options", "said"),
    [
        ("plan", ("--seconds", "nan"), "is not a number"),
        ("plan", ("--effort", "nan"), "is not a number"),
        ("plan", ("--assure", "nan"), "is not a number"),
        ("plan", ("--seconds", "inf"), "outside the range"),
        ("sampling", ("--within", "1e-300"), "outside the range"),
        ("what-if", ("--head", "COWS=99999999999"), "no more than 1,000,000"),
        ("what-if", ("--price", "corn=1e300"), "--price corn=1e300"),
    ],
)
def test_numbers_beyond_all_sense_are_refused(
    farm: Path, command: str, options: tuple[str, str], said: str
) -> None:
    result = run(command, farm, *options)
    assert result.exit_code == 2
    assert said in result.stderr
    assert result.stdout == ""


def test_control_characters_are_shown_and_not_sent(tmp_path: Path, farm: Path) -> None:
    folder = good_folder(tmp_path / "farm")
    edit(folder / "lots.csv", "Hill alfalfa", "Hill \x1b[31malfalfa\x9b2J")
    result = run("read", folder)
    assert "\x1b" not in result.output
    assert "\x9b" not in result.output
    edit(folder / "lots.csv", "120,", "\x1b[2J,")
    assert "\\x1b[2J" in run("plan", folder).stderr
    refused = run("why", farm, "--group", "\x1b]0;x\x07").stderr
    assert "\\x1b]0;x\\x07" in refused
    assert "\\x1b" in run("plan", farm, "--from-date", "\x1b[2J").stderr
    assert plain("a\tb\nc \u202e") == "a\tb\nc \\u202e"


def test_an_interrupt_has_an_exit_code_of_its_own(
    farm: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def interrupted(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(winters, "plan_winters", interrupted)
    assert run("plan", farm, "--winter", "all").exit_code == 130
    monkeypatch.setattr(planning, "plan_season", interrupted)
    result = run("plan", farm)
    assert result.exit_code == 130
    assert "Traceback" not in result.stderr


@pytest.mark.skipif(os.name != "posix", reason="signals are sent as POSIX has them")
def test_an_early_interrupt_leaves_without_a_traceback() -> None:
    code = (
        "import os, runpy, signal, sys\n"
        "signal.signal(signal.SIGINT, signal.default_int_handler)\n"
        "class Early:\n"
        "    def find_spec(self, name, *_):\n"
        "        if name == 'rickyard.cli.main': os.kill(os.getpid(), signal.SIGINT)\n"
        "sys.meta_path.insert(0, Early())\n"
        "runpy.run_module('rickyard', run_name='__main__')\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, check=False)
    assert done.returncode == 130
    assert done.stderr == b""


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="a device that is always full")
def test_a_full_device_ends_with_a_sentence_instead_of_a_document(farm: Path) -> None:
    with Path("/dev/full").open("wb") as full:
        done = subprocess.run(
            [sys.executable, "-m", "rickyard", "yard", str(farm), "--json", "-"],
            stdout=full,
            stderr=subprocess.PIPE,
            check=False,
        )
    assert done.returncode == 2
    assert b"cannot be written" in done.stderr
    assert b"Traceback" not in done.stderr
    assert b"Exception ignored" not in done.stderr


def test_demo_into_a_half_copied_folder_gives_a_hint(tmp_path: Path) -> None:
    (tmp_path / "larkmoor").mkdir()
    result = run("demo", "--out", tmp_path)
    assert result.exit_code == 3
    assert "was there before" in result.stderr
    assert "--out" in result.stderr


def test_verify_writes_whole_or_not_at_all(tmp_path: Path) -> None:
    (tmp_path / "there").mkdir()
    result = run("verify", "--json", tmp_path / "there")
    assert result.exit_code == 2
    assert "is a folder" in result.stderr
