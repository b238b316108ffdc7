"""The commands that look back, as a person types them."""

import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from rickyard.cli.main import main
from support.farm_folders import GOOD, write_texts


def run(*arguments: object) -> Result:
    typed = [str(one) for one in arguments]
    return CliRunner().invoke(main, typed, catch_exceptions=False)


@pytest.fixture
def desk(tmp_path: Path, empty_file: Path) -> Path:
    """Keep a season in which the cows were given four bales every second day."""
    rows = "".join(f"2025-{11 + day // 30}-{day % 30 + 1:02d},A1,COWS,4,,\n" for day in
                   range(17, 55, 2))  # fmt: skip
    folder = write_texts(tmp_path / "good", {**GOOD, "fed.csv": GOOD["fed.csv"] + rows})
    (tmp_path / "desk").mkdir()
    shutil.copy(empty_file, tmp_path / "desk")
    assert run("import", folder, "--data", tmp_path / "desk").exit_code == 0
    return tmp_path / "desk"


def test_what_stock_ate_is_taken_given_back_and_stands_in_the_trail(desk: Path) -> None:
    where = ("hill", "--on", "2026-01-01", "--data", desk)
    done = run("look-back", *where)
    assert "Mature cows ate" in done.stdout
    assert "This season counts with 100%." in done.stdout
    assert "First-calf heifers" in done.stdout
    taken = run("look-back", *where, "--take-intake")
    assert taken.exit_code == 0, taken.output
    assert "This season counts with 1" in taken.stdout
    assert "This season counts with 100%." not in taken.stdout
    both = run("look-back", *where, "--take-intake", "--give-back-intake")
    assert both.exit_code == 2
    back = run("look-back", *where, "--give-back-intake")
    assert "This season counts with 100%." in back.stdout
    again = run("look-back", *where, "--give-back-intake")
    assert again.exit_code == 2
    assert "nothing was given back" in again.stderr
    trail = run("trail", "hill", "--data", desk).stdout.splitlines()
    assert [line.partition(" computer ")[2] for line in trail] == [
        "gave back what the log said that stock eat",
        "took what the log says that stock eat: " + trail[1].rpartition(" ")[2],
        "brought in or began the farm: Hill farm",
    ]
    one = run("trail", "hill", "--last", "1", "--data", desk)
    assert len(one.stdout.splitlines()) == 1
    assert "--last reads more" in one.stderr


def test_years_and_the_trail_of_what_is_gone(desk: Path) -> None:
    done = run("years", "hill", "--on", "2026-01-01", "--data", desk)
    assert done.exit_code == 0, done.output
    assert "1 season in the book" in done.stdout
    assert "2025-26 so far" in done.stdout
    assert [one for one in done.stdout.splitlines() if "North" in one and "11.4%" in one]
    for words in ((), ("hill", "--deleted")):
        asked = run("trail", *words, "--data", desk)
        assert asked.exit_code == 2
        assert "--deleted for those that are gone" in asked.stderr
    assert "No farm was deleted." in run("trail", "--deleted", "--data", desk).stdout
    run("delete-farm", "hill", "--name", "Hill farm", "--data", desk)
    assert "Hill farm was deleted" in run("trail", "--deleted", "--data", desk).stdout
