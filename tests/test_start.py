"""The one command that sets everything up: its words, its advice, and when it installs anew."""

import subprocess
import sys
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).resolve().parents[1]


@pytest.fixture
def start(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    """Return the module, pointed at a folder that may be changed."""
    monkeypatch.syspath_prepend(ROOT)
    from tools import starting as module

    (tmp_path / "requirements").mkdir()
    for name in ("run", "test"):
        (tmp_path / "requirements" / f"{name}.txt").write_text("numpy==2.4.6\n", encoding="utf-8")
    (tmp_path / "pyproject.toml").write_text("[project]\n", encoding="utf-8")
    scripts = tmp_path / ".venv" / module.SCRIPTS.name
    scripts.mkdir(parents=True)
    monkeypatch.setattr(module, "ROOT", tmp_path)
    monkeypatch.setattr(module, "VENV", tmp_path / ".venv")
    monkeypatch.setattr(module, "SCRIPTS", scripts)
    monkeypatch.setattr(module, "PYTHON", scripts / module.PYTHON.name)
    monkeypatch.setattr(module, "UNFINISHED", tmp_path / ".venv" / module.UNFINISHED.name)
    module.PYTHON.touch()
    return module


def set_up(start: ModuleType, which: str) -> None:
    start.stamp(which).write_text(start.fingerprint(which), encoding="utf-8")


def run(*arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, str(ROOT / "start.py"), *arguments],
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
    )


def test_without_a_word_it_prints_help() -> None:
    done = run()
    assert done.returncode == 0
    assert "python3 start.py demo" in done.stdout
    assert "python3 start.py test" in done.stdout


def test_an_unknown_word_is_named_and_answered_with_help() -> None:
    done = run("dmeo")
    assert done.returncode == 2
    assert '"dmeo" is not one of: demo, test, docs, lock.' in done.stderr
    assert "python3 start.py demo" in done.stderr


def test_a_set_is_installed_once(start: ModuleType) -> None:
    assert not start.is_installed("run")
    set_up(start, "run")
    assert start.is_installed("run")
    assert not start.is_installed("test")


def test_the_set_for_tests_serves_the_demonstration_too(start: ModuleType) -> None:
    set_up(start, "test")
    assert start.is_installed("run")


@pytest.mark.parametrize("changed", ["requirements/run.txt", "pyproject.toml"])
def test_a_change_of_what_is_pinned_installs_anew(start: ModuleType, changed: str) -> None:
    set_up(start, "run")
    with (start.ROOT / changed).open("a", encoding="utf-8") as file:
        file.write("# changed\n")
    assert not start.is_installed("run")


def test_a_moved_folder_installs_anew(start: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    before = start.fingerprint("run")
    moved = start.ROOT.with_name("moved")
    start.ROOT.rename(moved)
    monkeypatch.setattr(start, "ROOT", moved)
    assert start.fingerprint("run") != before


def test_an_interrupted_install_does_not_pass_for_a_whole_one(start: ModuleType) -> None:
    set_up(start, "test")
    start.UNFINISHED.touch()
    assert not start.is_installed("test")
    assert not start.venv_is_sound()


def test_an_environment_that_does_not_run_is_not_sound(start: ModuleType) -> None:
    assert not start.venv_is_sound()  # its Python is an empty file


def test_a_failed_install_leaves_no_stamp(
    start: ModuleType, monkeypatch: pytest.MonkeyPatch
) -> None:
    set_up(start, "run")
    monkeypatch.setattr(start, "venv_is_sound", lambda: True)
    monkeypatch.setattr(start, "quiet_step", lambda title, command: (False, "getaddrinfo failed"))
    with pytest.raises(start.CannotContinueError, match="HTTPS_PROXY"):
        start.install("test")
    assert not start.is_installed("run")
    assert not start.is_installed("test")


@pytest.mark.parametrize(
    ("pip_said", "advice"),
    [
        ("NewConnectionError: ...\nERROR: No matching distribution found for x", "internet"),
        ("ERROR: No matching distribution found for highspy==1.16.0", "64-bit"),
        ("OSError: [Errno 28] No space left on device", "disk is full"),
        ("something new", "delete the folder .venv"),
    ],
)
def test_the_advice_fits_what_pip_said(start: ModuleType, pip_said: str, advice: str) -> None:
    assert advice in start.advice_for(pip_said)


def test_a_python_without_venv_is_told_which_package_to_install(
    start: ModuleType, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(start, "quiet_step", lambda title, command: (False, "no ensurepip"))
    with pytest.raises(start.CannotContinueError, match="apt install python3-venv"):
        start.make_venv()
    assert not start.VENV.exists()


def test_every_check_runs_even_after_one_fails(
    start: ModuleType, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    set_up(start, "test")
    titles = []

    def step(title: str, command: list[str]) -> tuple[bool, str]:
        titles.append(title)
        return not title.startswith("Types"), "what mypy found"

    monkeypatch.setattr(start, "quiet_step", step)
    ran = list[list[str]]()

    def fails(command: list[str], **_: object) -> subprocess.CompletedProcess[str]:
        ran.append(command)
        return subprocess.CompletedProcess([], 1)

    monkeypatch.setattr(start.subprocess, "run", fails)
    assert start.main(["test", "-k", "hay"]) == 1
    assert len(titles) == 4
    whole, again = ran
    assert "--assert=plain" in whole
    assert "--assert=plain" not in again
    assert "--last-failed" in again
    assert set(again) >= set(whole) - {"--assert=plain"}
    said = capsys.readouterr().out
    assert "what mypy found" in said
    assert said.endswith("Failed: Types (mypy), Tests (pytest).\n")


@pytest.mark.parametrize(("sits_there", "shown"), [(True, ["--serve"]), (False, [])])
def test_the_demonstration_ends_in_a_browser_where_somebody_sits(
    start: ModuleType, monkeypatch: pytest.MonkeyPatch, sits_there: bool, shown: list[str]
) -> None:
    asked: list[list[str]] = []

    class Ended:
        """A command that Ctrl-C reaches first, and that then ends by itself."""

        def __init__(self, command: list[str], **_: object) -> None:
            asked.append(command)
            self.waited = 0

        def __enter__(self) -> "Ended":
            return self

        def __exit__(self, *_: object) -> None:
            pass

        def wait(self) -> int:
            self.waited += 1
            if self.waited == 1:
                raise KeyboardInterrupt
            return 0

    monkeypatch.setattr(start, "install", lambda which: None)
    monkeypatch.setattr(start.subprocess, "Popen", Ended)
    for stream in ("stdin", "stdout"):
        monkeypatch.setattr(getattr(sys, stream), "isatty", lambda: sits_there, raising=False)
    assert start.demo(["--out", "there"]) == 0
    assert asked[0][1:] == ["demo", "--out", "there", *shown]
