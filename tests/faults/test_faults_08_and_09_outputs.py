"""Odd names of outputs, odd numbers, a device that is full: a sentence each, never a traceback."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from rickyard.cli.main import main
from rickyard.program import planning
from support.farm_folders import GOOD, edited, good_folder, write_texts
from support.rows import few


def run(*arguments: object) -> Result:
    return CliRunner().invoke(main, [str(one) for one in arguments])


@pytest.fixture
def farm(tmp_path: Path) -> Path:
    return good_folder(tmp_path / "farm")


@pytest.mark.parametrize("name", ["", ".", "a-file/plan", "n" * 300, "no/such/folder/plan"])
@pytest.mark.parametrize(
    ("command", "option"),
    [("plan", "--json"), ("plan", "--pdf"), ("sampling", "--ics"), ("verify", "--json")],
)
def test_faults_08_odd_names_of_outputs_are_refused_before_work_begins(
    command: str, option: str, name: str, farm: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (farm.parent / "a-file").write_text("x", encoding="utf-8")
    monkeypatch.chdir(farm.parent)
    monkeypatch.setattr(planning, "plan_season", None)  # would be a traceback if it were begun
    told = run(command, *((farm,) if command != "verify" else ()), option, name)
    assert isinstance(told.exception, SystemExit)
    assert told.exit_code == 2
    assert told.stdout == ""
    assert told.stderr.strip()


@pytest.mark.parametrize("value", ["1e-300", "0", "-1", "nan", "1e300"])
def test_faults_08_a_precision_that_nobody_reaches_is_refused(value: str, farm: Path) -> None:
    told = run("sampling", farm, "--within", value)
    assert told.exit_code == 2
    assert "--within" in told.stderr


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="a device that is always full")
@pytest.mark.parametrize("command", few(["yard", "read", "needs", "sampling"], 1))
def test_faults_08_a_full_device_ends_with_a_sentence(command: str, farm: Path) -> None:
    with Path("/dev/full").open("wb") as full:
        done = subprocess.run(
            [sys.executable, "-m", "rickyard", command, str(farm)],
            stdout=full,
            stderr=subprocess.PIPE,
            check=False,
        )
    assert done.returncode == 2
    assert b"cannot be written" in done.stderr
    assert b"Traceback" not in done.stderr
    assert b"Exception ignored" not in done.stderr


@pytest.mark.skipif(os.name != "posix", reason="signals are sent as POSIX has them")
@pytest.mark.parametrize("at", ["rickyard.cli", "rickyard.cli.main", "click", "rickyard.service"])
def test_faults_08_an_interrupt_while_it_starts_leaves_no_traceback(at: str, farm: Path) -> None:
    """The interrupt comes while a module is looked for, not after a time."""
    code = (
        "import os, runpy, signal, sys\n"
        "signal.signal(signal.SIGINT, signal.default_int_handler)\n"
        "class Early:\n"
        "    def find_spec(self, name, *_):\n"
        f"        if name == {at!r}: os.kill(os.getpid(), {int(signal.SIGINT)})\n"
        "sys.meta_path.insert(0, Early())\n"
        f"sys.argv = ['rickyard', 'read', {str(farm)!r}]\n"
        "runpy.run_module('rickyard', run_name='__main__', alter_sys=True)\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, check=False)
    assert done.returncode == 130
    assert b"Traceback" not in done.stderr


def test_faults_08_why_of_what_is_short_without_more_of_anything_is_a_sentence(
    tmp_path: Path,
) -> None:
    """No more of a feed is needed where how it is fed leaves something short."""
    texts = {
        **GOOD,
        **{
            file: GOOD[file].splitlines()[0] + "\n"
            for file in ("fed.csv", "moves.csv", "needs.csv", "wishes.csv")
        },
        "groups.csv": edited("groups.csv", "cone_ring,,", "cone_ring,,2025-04-01"),
    }
    told = run("why", write_texts(tmp_path / "farm", texts), "--weekly", "--effort", 0)
    assert told.exit_code == 0, told.output
    assert "What would help" in told.stdout
    assert " 0 tons more" not in told.stdout
    assert " 0 lb more" not in told.stdout


def test_faults_09_checks_are_written_whole_or_not_at_all(tmp_path: Path) -> None:
    target = tmp_path / "checks.json"
    target.write_text("old", encoding="utf-8")
    (tmp_path / ".checks.json.partial").symlink_to(tmp_path / "victim")
    told = run("verify", "--json", target)
    assert told.exit_code == 0
    assert target.read_text(encoding="utf-8").startswith("{")
    assert target.read_text(encoding="utf-8").rstrip().endswith("}")
    assert not (tmp_path / "victim").exists()
    assert sorted(one.name for one in tmp_path.iterdir()) == [".checks.json.partial", "checks.json"]
