"""Broken farm folders: each one is a small change to the good one, with all that is said of it."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from pathlib import Path

import pytest
from click.testing import CliRunner

from rickyard.cli.main import main
from rickyard.folder import FolderFaults, read_folder
from support.farm_folders import GOOD, edited, good_folder, write_texts
from support.rows import each_row, few

FEED_TABLE = ["corn_grain_dry_rolled"]


@dataclass(frozen=True)
class Broken:
    """One case of ``broken_folders.toml``."""

    name: str
    file: str
    old: str
    new: str
    message: str
    row: int | None = None
    column: str = ""
    count: int = 1


CASES = Path(__file__).with_name("broken_folders.toml")
BROKEN = [Broken(**case) for case in tomllib.loads(CASES.read_text("utf-8"))["broken"]]


def test_good_folder_has_no_fault(tmp_path: Path) -> None:
    farm = read_folder(good_folder(tmp_path / "farm"), FEED_TABLE).farm
    assert [lot.lot_id for lot in farm.lots] == ["A1", "B2", "C3"]


@pytest.mark.parametrize("broken", BROKEN, ids=lambda broken: broken.name)
def test_broken_folder(broken: Broken, tmp_path: Path) -> None:
    changed = edited(broken.file, broken.old, broken.new)
    folder = write_texts(tmp_path / "farm", {**GOOD, broken.file: changed})
    with pytest.raises(FolderFaults) as caught:
        read_folder(folder, FEED_TABLE)
    fault = caught.value.faults[0]
    assert fault.message == broken.message
    assert (fault.file, fault.row, fault.column) == (broken.file, broken.row, broken.column)
    assert len(caught.value.faults) == broken.count


def test_there_are_enough_broken_folders() -> None:
    names = [broken.name for broken in BROKEN]
    assert len(set(names)) == len(names) >= 55


def test_every_fault_of_every_file_is_told_in_one_pass(tmp_path: Path) -> None:
    texts = {
        "farm.toml": edited("farm.toml", "2026-04-15", "2025-04-15"),
        "lots.csv": edited("lots.csv", "15.5", "1.8")
        .replace("Hill alfalfa,alfalfa", "Hill alfalfa,alfafa")
        .replace("net,80,", "net,-80,"),
        "reports.csv": edited("reports.csv", "R2,B2", "R2,B3").replace("58.9", "589"),
        "groups.csv": edited("groups.csv", "cow,60", "cow,0"),
        "feeds.csv": edited("feeds.csv", "supplement,390", "supplement,free"),
        "needs.csv": edited("needs.csv", "COWS", "COW"),
        "weather.csv": edited("weather.csv", "2026-01-05", "1/5/2026"),
        "fed.csv": edited("fed.csv", "A1,COWS", "A7,COWS"),
    }
    with pytest.raises(FolderFaults) as caught:
        read_folder(write_texts(tmp_path / "farm", texts))
    places = [(fault.file, fault.row, fault.column) for fault in caught.value.faults]
    assert places == [
        ("farm.toml", 9, "season.end"),
        ("lots.csv", 3, "bales"),
        ("lots.csv", 3, "moisture_pct"),
        ("lots.csv", 4, "forage"),
        ("reports.csv", 2, "ndf_pct_dm"),
        ("reports.csv", 3, "lot"),
        ("groups.csv", 2, "head"),
        ("feeds.csv", 2, "price_usd_per_ton"),
        ("needs.csv", 2, "group"),
        ("weather.csv", 3, "day"),
        ("fed.csv", 2, "source"),
    ]
    text = str(caught.value)
    assert all(fault.message in text for fault in caught.value.faults)
    assert text.endswith("\n11 faults in 8 files; nothing was loaded.")


#: The first of every file, and every tenth: all are held to their words by the reader itself.
AT_THE_TERMINAL = [*{one.file: one for one in reversed(BROKEN)}.values(), *BROKEN[::10]]


@pytest.mark.parametrize("broken", few(BROKEN, AT_THE_TERMINAL), ids=lambda broken: broken.name)
def test_broken_folder_at_the_terminal(broken: Broken, tmp_path: Path) -> None:
    """The same words on standard error, exit code 3, and no traceback."""
    changed = edited(broken.file, broken.old, broken.new)
    folder = write_texts(tmp_path / "farm", {**GOOD, broken.file: changed})
    result = CliRunner().invoke(main, ["plan", str(folder)], catch_exceptions=False)
    assert result.exit_code == 3
    assert result.stdout == ""
    assert broken.message in result.stderr
    assert "Traceback" not in result.stderr


@each_row(
    ("weight", "said"),
    [
        ("1,100", "1,100 stands in two of them, and all behind it moved.\n  Write 1100 without"),
        ("1.100", 'column bale_weight_lb: "1.100"'),
    ],
)
def test_a_comma_in_a_number_is_one_fault_and_not_one_of_each_cell_behind_it(
    weight: str, said: str, tmp_path: Path
) -> None:
    head = "lot,name,forage,package,storage,bales,bale_weight_lb,baled_on,counted_on,rained_on,note"
    row = f"L1,Creek,cool_grass,round,covered_ground,40,{weight},2025-06-28,2025-10-15,no,"
    write_texts(tmp_path, {**GOOD, "lots.csv": f"{head}\n{row}\n"})
    with pytest.raises(FolderFaults) as found:
        read_folder(tmp_path)
    mine = [one for one in found.value.faults if one.file == "lots.csv"]
    assert len(mine) == 1
    assert said in str(mine[0]), str(mine[0])
