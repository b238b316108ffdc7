"""What somebody is told who does the next wrong thing with a record book."""

import os
import shutil
import stat
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from rickyard.cli.main import main
from support.books import quick_passwords
from support.farm_folders import GOOD, write_texts

TYPED = "four dry bales of hay\n" * 2


def run(*arguments: object, answer: str | None = None) -> Result:
    typed = [str(one) for one in arguments]
    return CliRunner().invoke(main, typed, input=answer, catch_exceptions=False)


@pytest.fixture
def desk(tmp_path: Path, empty_file: Path) -> Path:
    folder = write_texts(tmp_path / "good", dict(GOOD))
    (tmp_path / "desk").mkdir()
    shutil.copy(empty_file, tmp_path / "desk")
    assert run("import", folder, "--data", tmp_path / "desk").exit_code == 0
    return tmp_path / "desk"


def test_an_account_that_is_there_and_who_is_not_in_are_named(
    desk: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    quick_passwords(monkeypatch)
    kim, where = "kim@example.org", ("--data", desk)
    assert run("people", "add", "Kim", kim, *where, answer=TYPED).exit_code == 0
    again = run("people", "add", "Kim Lee", kim, *where, answer=TYPED)
    assert again.exit_code == 2
    assert "has an account already, of Kim." in again.stderr
    assert 'rickyard people invite FARM "Kim"' in again.stderr
    done = run("people", "end", kim, "--farm", "hill", *where)
    assert done.exit_code == 2
    assert "Kim is not in on Hill farm, so nothing was ended." in done.stderr
    link = run("people", "invite", "hill", "Lee", "--role", "helper", *where)
    assert "in the place of HOST" in link.stderr
    named = run("people", "invite", "hill", "Lee", "--role", "helper", "--host", "h.org", *where)
    assert "HOST" not in named.output


def test_a_folder_that_is_full_is_told_with_what_replaces_it(desk: Path, tmp_path: Path) -> None:
    where = ("hill", "--out", tmp_path / "out", "--data", desk)
    assert run("export", *where).exit_code == 0
    again = run("export", *where)
    assert again.exit_code == 2
    assert again.stderr.endswith("--replace replaces it.\n")
    assert run("export", *where, "--replace").exit_code == 0


@pytest.mark.skipif(sys.platform == "win32", reason="there a folder says who may read")
def test_a_backup_is_for_whoever_makes_it_alone(desk: Path, tmp_path: Path) -> None:
    file = tmp_path / "b.backup"
    assert run("backup", file, "--data", desk).exit_code == 0
    assert stat.S_IMODE(os.stat(file).st_mode) == 0o600
