"""What an attacker broke that mattered most, each done to the program as it was done then."""

from __future__ import annotations

import os
import stat
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from rickyard.cli.main import main
from rickyard.folder.io.write import write_folder
from support.farm_folders import GOOD, edited, good_folder, write_texts
from support.farms import random_farm
from support.rows import few

posix = pytest.mark.skipif(os.name != "posix", reason="modes, links and pipes as POSIX has them")

#: So much hay and no more: nothing was fed, sold or wished before the season.
NOTHING_YET = {
    "fed.csv": "day,source,group,bales,mass_lb,note\n",
    "moves.csv": GOOD["moves.csv"].splitlines()[0] + "\n",
    "needs.csv": GOOD["needs.csv"].splitlines()[0] + "\n",
    "wishes.csv": GOOD["wishes.csv"].splitlines()[0] + "\n",
}


def run(*arguments: object) -> Result:
    return CliRunner().invoke(main, [str(one) for one in arguments])


def headline(page: str) -> str:
    """Return the answer: the lines between the name of the farm and the first empty line."""
    lines = [line.strip() for line in page.splitlines()]
    return " ".join(lines[1 : lines.index("", 2)])


def test_faults_01_the_usual_plan_is_the_same_with_another_clock(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    farm = random_farm(3, lots=3, groups=1, weeks=4)
    rules = replace(farm.season, hays_at_once=1, least_run_days=14, change_usd=20.0)
    folder = tmp_path / "farm"
    write_folder(replace(farm, season=rules), folder)
    files = [tmp_path / "plain.json", tmp_path / "hurried.json"]
    pages = [run("plan", folder, "--json", files[0])]
    honest: Callable[[], float] = time.perf_counter
    monkeypatch.setattr(time, "perf_counter", lambda: 1000.0 * honest())
    monkeypatch.setattr(time, "monotonic", lambda: 1000.0 * honest())
    pages.append(run("plan", folder, "--json", files[1]))
    assert [one.exit_code for one in pages] == [0, 0]
    assert pages[0].stdout == pages[1].stdout
    assert files[0].read_bytes() == files[1].read_bytes()


@pytest.mark.parametrize("times", few([3, 10], 1))
def test_faults_02_too_many_head_are_never_told_that_the_hay_lasts(
    times: int, tmp_path: Path
) -> None:
    text = GOOD["groups.csv"]
    for old in ("cow,60", "first_calf_heifer,12", "stocker,30"):
        name, head = old.split(",")
        text = text.replace(f"{old},", f"{name},{times * int(head)},")
    folder = write_texts(tmp_path / "farm", {**GOOD, **NOTHING_YET, "groups.csv": text})
    told = run("plan", folder, "--effort", "0")
    assert told.exit_code == 0, told.output
    answer = headline(told.stdout)
    assert "lasts" not in answer
    assert "Enough" not in answer
    assert "Hay runs short from" in answer


def test_faults_02_starving_is_told_before_too_much_sulfur(tmp_path: Path) -> None:
    """Every source but the mineral is kept off: the headline is of hunger, whatever is too much."""
    header = GOOD["wishes.csv"].splitlines()[0]
    wishes = "\n".join([header, *(f"keep_off,{one},,,,," for one in ("A1", "B2", "C3", "cubes"))])
    wishes += "\nkeep_off,corn,,,,,\n"
    season = GOOD["farm.toml"] + "water_sulfate_ppm = 3000\n"
    folder = write_texts(
        tmp_path / "farm", {**GOOD, **NOTHING_YET, "wishes.csv": wishes, "farm.toml": season}
    )
    told = run("plan", folder, "--effort", "0")
    assert told.exit_code == 0, told.output
    answer = headline(told.stdout)
    assert "sulfur" not in answer
    assert "short" in answer
    assert "lasts" not in answer


@pytest.mark.parametrize("option", ["--seconds", "--assure", "--effort"])
@pytest.mark.parametrize("value", ["nan", "inf", "-inf", "1e999", "-1"])
def test_faults_03_odd_numbers_in_options_are_refused_before_work(
    option: str, value: str, tmp_path: Path
) -> None:
    told = run("plan", good_folder(tmp_path / "farm"), option, value)
    assert told.exit_code == 2
    assert option in told.stderr
    assert "report this" not in told.output


@pytest.mark.parametrize("command", ["read", "needs", "yard", "sampling", "plan", "week", "why"])
def test_faults_04_a_year_that_may_be_wrong_is_asked_by_every_command(
    command: str, tmp_path: Path
) -> None:
    text = edited("groups.csv", "cone_ring,,", "cone_ring,,2025-04-01")
    folder = write_texts(tmp_path / "farm", {**GOOD, **NOTHING_YET, "groups.csv": text})
    quick = ("--weekly", "--effort", 0)
    more = {"plan": quick, "week": quick, "why": quick}
    told = run(command, folder, *more.get(command, ()))
    assert told.exit_code == 0, told.output
    assert "Is the year right?" in " ".join(told.stderr.split())


@pytest.mark.parametrize("file", ["lots.csv", "farm.toml", "feeds.csv"])
@pytest.mark.parametrize("option", ["--json", "--pdf"])
def test_faults_05_no_output_destroys_a_file_of_the_farm(
    option: str, file: str, tmp_path: Path
) -> None:
    folder = good_folder(tmp_path / "farm")
    before = (folder / file).read_bytes()
    told = run("plan", folder, "--effort", "0", option, folder / file)
    assert told.exit_code == 2
    assert (folder / file).read_bytes() == before
    assert "is a file of the farm folder itself" in told.stderr


@posix
def test_faults_05_devices_pipes_links_and_modes_are_left_as_they_are(tmp_path: Path) -> None:
    folder = good_folder(tmp_path / "farm")
    pipe, link, there, victim = (tmp_path / name for name in ("pipe", "link", "there", "victim"))
    os.mkfifo(pipe)
    there.write_text("old", encoding="utf-8")
    there.chmod(0o600)
    link.symlink_to(there)
    victim.write_text("mine", encoding="utf-8")
    (tmp_path / ".there.partial").symlink_to(victim)
    for special in (pipe, Path(os.devnull)):
        assert run("yard", folder, "--json", special).exit_code == 2
    assert stat.S_ISFIFO(pipe.stat().st_mode)
    assert stat.S_ISCHR(Path(os.devnull).stat().st_mode)
    assert run("yard", folder, "--json", link).exit_code == 0
    assert link.is_symlink()
    assert there.read_text(encoding="utf-8").startswith("{")
    assert stat.S_IMODE(there.stat().st_mode) == 0o600
    assert victim.read_text(encoding="utf-8") == "mine"


def test_faults_05_one_file_for_two_outputs_is_refused(tmp_path: Path) -> None:
    folder = good_folder(tmp_path / "farm")
    same = tmp_path / "same"
    told = run("plan", folder, "--json", same, "--pdf", tmp_path / "." / "same")
    assert told.exit_code == 2
    assert "is asked for twice" in told.stderr
    assert not same.exists()


ESCAPE = "\x1b]0;owned\x07\x1b[31m\x9b2J\u202e"


@pytest.mark.parametrize("command", ["read", "plan", "yard", "needs", "sampling", "week"])
def test_faults_06_escape_sequences_of_a_folder_never_reach_the_terminal(
    command: str, tmp_path: Path
) -> None:
    texts = {
        **GOOD,
        **NOTHING_YET,
        "lots.csv": edited("lots.csv", "Barn orchardgrass", f"Barn {ESCAPE}"),
        "groups.csv": edited("groups.csv", "Mature cows", f"Cows {ESCAPE}"),
    }
    folder = write_texts(tmp_path / "farm", texts)
    more = ("--weekly", "--effort", 0) if command in ("plan", "week") else ()
    told = run(command, folder, *more)
    assert told.exit_code in (0, 3), told.output
    assert not set("\x1b\x07\x9b\u202e") & set(told.output)


@pytest.mark.parametrize(
    "options",
    [("plan", "--pin"), ("what-if", "--head"), ("why", "--group"), ("plan", "--from-date")],
)
def test_faults_06_escape_sequences_of_options_never_reach_the_terminal(
    options: tuple[str, str], tmp_path: Path
) -> None:
    command, option = options
    told = run(command, good_folder(tmp_path / "farm"), option, f"x{ESCAPE}")
    assert told.exit_code in (2, 3)
    assert "\\x1b" in told.stderr
    assert not set("\x1b\x07\x9b\u202e") & set(told.output)
