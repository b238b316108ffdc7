"""The commands of the record book as a person types them."""

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from rickyard.cli.main import main
from support.farm_folders import GOOD, write_texts


@pytest.fixture
def desk(tmp_path: Path) -> Path:
    """Return the folder of a book with one farm in it."""
    write_texts(tmp_path / "farms" / "good", dict(GOOD))
    done = run("import", tmp_path / "farms", "--data", tmp_path / "desk")
    assert done.exit_code == 0, done.output
    assert "Hill farm is in the record book" in done.stdout
    return tmp_path / "desk"


def run(*arguments: object) -> Result:
    return CliRunner().invoke(main, [str(one) for one in arguments], catch_exceptions=False)


def test_a_farm_goes_in_and_comes_out_as_it_was(desk: Path, tmp_path: Path) -> None:
    again = run("import", tmp_path / "farms" / "good", "--data", desk)
    assert "stood in the record book already" in again.stdout
    done = run("export", "hill farm", "--out", tmp_path / "out", "--data", desk)
    assert done.exit_code == 0, done.output
    for name, text in GOOD.items():
        assert (tmp_path / "out" / name).read_bytes() == text.encode(), name
    over = run("export", "hill farm", "--out", tmp_path / "out", "--data", desk)
    assert over.exit_code == 2
    assert "holds a farm already" in over.stderr


def test_a_farm_that_is_not_there_is_told_with_those_that_are(desk: Path, tmp_path: Path) -> None:
    done = run("export", "Dale farm", "--out", tmp_path / "out", "--data", desk)
    assert done.exit_code == 2
    assert "Hill farm" in done.stderr
    day = ("--season", "2024-11-15")
    done = run("export", "Hill farm", *day, "--out", tmp_path / "out", "--data", desk)
    assert done.exit_code == 2
    assert "2025-11-15" in done.stderr


def test_a_part_of_a_name_is_enough_where_no_other_farm_has_it(desk: Path, tmp_path: Path) -> None:
    dale = {**GOOD, "farm.toml": GOOD["farm.toml"].replace("Hill farm", "Dale farm")}
    run("import", write_texts(tmp_path / "dale", dale), "--data", desk)
    done = run("export", "dale", "--out", tmp_path / "out", "--data", desk)
    assert done.exit_code == 0, done.output
    assert "Dale farm" in (tmp_path / "out" / "farm.toml").read_text("utf-8")
    both = run("export", "farm", "--out", tmp_path / "two", "--data", desk)
    assert both.exit_code == 2
    assert "Dale farm, Hill farm" in both.stderr


def test_a_folder_with_faults_keeps_no_other_out(desk: Path, tmp_path: Path) -> None:
    wrong = {**GOOD, "groups.csv": GOOD["groups.csv"].replace("cow,60", "cow,many")}
    write_texts(tmp_path / "more" / "bad", wrong)
    moor = {**GOOD, "farm.toml": GOOD["farm.toml"].replace("Hill farm", "Moor farm")}
    write_texts(tmp_path / "more" / "moor", moor)
    done = run("import", tmp_path / "more", "--data", desk)
    assert done.exit_code == 3
    assert "many" in done.stderr
    assert "Moor farm is in the record book" in done.stdout


def test_a_book_is_kept_and_brought_back(desk: Path, tmp_path: Path) -> None:
    assert "read again and whole" in run("backup", tmp_path / "b", "--data", desk).stdout
    new = tmp_path / "new"
    assert "are back" in run("restore", tmp_path / "b", "--data", new).stdout
    looked = run("doctor", "--data", new)
    assert looked.exit_code == 0, looked.output
    assert "Hill farm, season from 2025-11-15: keeps all rules." in looked.stdout
    assert run("restore", tmp_path / "b", "--data", new).exit_code == 2


def test_without_a_book_nothing_is_begun_but_by_import(tmp_path: Path) -> None:
    for words in (
        ("doctor",),
        ("backup", tmp_path / "b"),
        ("export", "x", "--out", tmp_path / "o"),
    ):
        done = run(*words, "--data", tmp_path / "none")
        assert done.exit_code == 2
        assert "no record book here" in done.stderr
    assert not (tmp_path / "none").exists()
