"""What ``start.py`` finds half made it mends, and what it cannot it says plainly."""

from __future__ import annotations

import re
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def starting(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    """Return the module, pointed at a folder that may be changed."""
    from tools import starting as module

    (tmp_path / "requirements").mkdir()
    for name in ("run", "test"):
        (tmp_path / "requirements" / f"{name}.txt").write_text("numpy==2.4.6\n", encoding="utf-8")
    (tmp_path / "pyproject.toml").write_text("[project]\n", encoding="utf-8")
    venv = tmp_path / ".venv"
    monkeypatch.setattr(module, "ROOT", tmp_path)
    monkeypatch.setattr(module, "VENV", venv)
    monkeypatch.setattr(module, "PYTHON", venv / "bin" / "python")
    monkeypatch.setattr(module, "UNFINISHED", venv / module.UNFINISHED.name)
    return module


def test_an_environment_whose_making_was_cut_short_is_made_again(
    starting: ModuleType, monkeypatch: pytest.MonkeyPatch
) -> None:
    def cut_short(title: str, command: list[str]) -> tuple[bool, str]:
        starting.PYTHON.parent.mkdir()
        starting.PYTHON.touch()
        raise KeyboardInterrupt

    monkeypatch.setattr(starting, "quiet_step", cut_short)
    with pytest.raises(KeyboardInterrupt):
        starting.install("run")
    assert starting.UNFINISHED.exists()
    assert not starting.venv_is_sound()


def test_a_package_that_was_deleted_is_missed(starting: ModuleType) -> None:
    place = starting.VENV / "lib" / "python3.11" / "site-packages"
    (place / "click").mkdir(parents=True)
    (place / "click" / "core.py").touch()
    (place / "click-8.dist-info").mkdir()
    (place / "click-8.dist-info" / "RECORD").write_text("click/core.py,sha256=x,1\n", "utf-8")
    starting.PYTHON.parent.mkdir()
    starting.PYTHON.touch()
    starting.stamp("run").write_text(starting.fingerprint("run"), encoding="utf-8")
    assert starting.is_installed("run")
    (place / "click" / "core.py").unlink()
    assert not starting.is_installed("run")
    assert not starting.venv_is_sound()


def test_a_folder_that_cannot_be_written_to_is_told_as_that(
    starting: ModuleType, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(self: Path) -> None:
        raise OSError(30, "Read-only file system", str(self))

    monkeypatch.setattr(Path, "mkdir", refuse)
    with pytest.raises(starting.CannotContinueError, match="cannot be written to") as caught:
        starting.install("run")
    assert "python3-venv" not in str(caught.value)


def test_a_dollar_in_the_path_is_told(
    starting: ModuleType, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(starting, "ROOT", starting.ROOT / "a$b")
    monkeypatch.setattr(starting, "is_installed", lambda which: False)
    with pytest.raises(starting.CannotContinueError, match=r"There is a \$ in the name"):
        starting.install("run")


def test_what_any_python_reads_holds_nothing_that_python_2_does_not_know() -> None:
    text = (ROOT / "start.py").read_text("utf-8")
    assert not re.search(r"\bf[\"']|->|:=|\bprint\b|^from __future__", text, re.MULTILINE)
    assert text.isascii()
    assert text.index("sys.exit(") < text.index("from tools.starting import")
