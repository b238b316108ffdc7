"""Odd values that were once taken without a word."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from rickyard.cli.main import main
from rickyard.folder import FolderFaults, read_folder
from support.farm_folders import GOOD, edited, good_folder, write_texts

FEED_TABLE = ["corn_grain_dry_rolled"]


@pytest.mark.parametrize(
    ("option", "value", "told"),
    [
        ("--head", "COWS=99999999999", "no more than 1,000,000"),
        ("--head", "COWS=+99999999999", "no more than 1,000,000"),
        ("--head", "COWS=+99999999%", "no more than 1,000,000"),
        ("--head", "COWS=-200%", "no more than 1,000,000"),
        ("--price", "cubes=1e300", "not above 1,000 dollars a kilogram"),
        ("--price", "cubes=+99999999%", "not above 1,000 dollars a kilogram"),
    ],
)
def test_what_if_refuses_what_no_farm_has(
    option: str, value: str, told: str, tmp_path: Path
) -> None:
    done = CliRunner().invoke(main, ["what-if", str(good_folder(tmp_path / "f")), option, value])
    assert done.exit_code == 2
    assert told in done.output


def questions(folder: Path) -> list[str]:
    return [one.message for one in read_folder(folder, FEED_TABLE).questions]


def test_a_need_that_no_animal_lives_on_is_asked_about(tmp_path: Path) -> None:
    text = edited("needs.csv", "20,28", "0.2,0.4")
    asked = questions(write_texts(tmp_path / "farm", {**GOOD, "needs.csv": text}))
    assert any('"0.4" is 0.032 % of the weight of one head.' in one for one in asked)


def test_ninety_percent_phosphorus_is_asked_about(tmp_path: Path) -> None:
    text = GOOD["feeds.csv"].replace("ca_pct", "p_pct")
    text = text.replace(",,100,,,36,,", ",,100,,,90,,")
    asked = questions(write_texts(tmp_path / "farm", {**GOOD, "feeds.csv": text}))
    assert any("more phosphorus than pure phosphoric acid holds" in one for one in asked)


def test_lots_that_differ_by_a_letter_drawn_alike_are_refused(tmp_path: Path) -> None:
    greek = GOOD["lots.csv"].splitlines()[1].replace("A1", "\u03911", 1)
    text = GOOD["lots.csv"] + greek + "\n"
    with pytest.raises(FolderFaults) as caught:
        read_folder(write_texts(tmp_path / "farm", {**GOOD, "lots.csv": text}), FEED_TABLE)
    (fault,) = caught.value.faults
    assert "looks like the lot in row 2, and its letter 1 is a Greek capital letter alpha" in (
        fault.message
    )


def test_a_reference_drawn_alike_says_which_letter_differs(tmp_path: Path) -> None:
    text = edited("fed.csv", "A1,COWS", "\u03911,COWS")
    with pytest.raises(FolderFaults, match="It looks like A1, but its letter 1 is a Greek capital"):
        read_folder(write_texts(tmp_path / "farm", {**GOOD, "fed.csv": text}), FEED_TABLE)


@pytest.mark.parametrize("source", ["=cmd|x", "+1", "-1", " @sum"])
def test_screens_write_no_formula(source: str, tmp_path: Path) -> None:
    out = tmp_path / "t.csv"
    given = ["screens", str(tmp_path / "r.csv"), "--out", str(out), "--source", source]
    done = CliRunner().invoke(main, given)
    assert done.exit_code == 2
    assert "takes for a formula" in done.output
    assert not out.exists()


@pytest.mark.parametrize("number", ["NaN", "Infinity", "1e999"])
def test_compare_refuses_a_plan_with_no_number(number: str, tmp_path: Path) -> None:
    from rickyard.sheets.data_files import NotAPlan, read_plan

    path = tmp_path / "plan.json"
    path.write_text(f'{{"schema_version": "1.0", "costs": {{"feed": {number}}}}}', "utf-8")
    with pytest.raises(NotAPlan, match="is not a plan"):
        read_plan(path)
