"""Sheep and horses in a farm folder, from the terminal."""

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from rickyard.cli.main import main
from support.farm_folders import GOOD, write_texts

FLOCK = "EWES,Ewes,ewe,40,155,,,2026-02-20,\nMARES,Mares,mare,4,1100,,,2026-04-01,\n"


def run(*arguments: object) -> Result:
    return CliRunner().invoke(main, [str(argument) for argument in arguments])


def folder_with(rows: str, tmp_path: Path) -> Path:
    head, *rest = GOOD["groups.csv"].splitlines()
    columns = head.split(",")
    wanted = ["group", "name", "class", "head", "weight_lb"]
    made = []
    for row in rows.splitlines():
        cells = row.split(",")
        values = dict(zip(wanted, cells, strict=False))
        values["calving_on"] = cells[7]
        made.append(",".join(values.get(column, "") for column in columns))
    return write_texts(
        tmp_path / "farm", {**GOOD, "groups.csv": "\n".join([head, *rest, *made]) + "\n"}
    )


def test_needs_of_ewes_and_mares_are_told_in_tdn(tmp_path: Path) -> None:
    result = run("needs", folder_with(FLOCK, tmp_path))
    assert result.exit_code == 0, result.output
    assert "TDN is total digestible nutrients; intake is the dry matter they can eat." in " ".join(
        result.output.split()
    )
    ewes = result.output.split("Ewes, 40 head")[1]
    assert "TDN" in ewes.split("Mares")[0]
    assert "to lambing" in ewes
    assert "to foaling" in ewes


def test_a_season_with_ewes_and_mares_is_planned(tmp_path: Path) -> None:
    result = run("plan", folder_with(FLOCK, tmp_path), "--weekly", "--effort", "0")
    assert result.exit_code == 0, result.output
    assert "Count copper over the whole diet of Ewes" in " ".join(result.output.split())


def test_how_each_need_of_mares_is_known_can_be_shown(tmp_path: Path) -> None:
    result = run("needs", folder_with(FLOCK, tmp_path), "--group", "MARES", "--evidence")
    assert result.exit_code == 0, result.output
    assert "from memory: NRC 2007 horses" in result.output
    assert "chloride" in result.output
    assert "digestible energy" in result.output
    ewes = run("needs", folder_with(FLOCK, tmp_path), "--group", "EWES", "--evidence")
    assert "metabolizable energy" in ewes.output


def test_the_energy_of_ewes_is_drawn_beside_the_lots(tmp_path: Path) -> None:
    chart = tmp_path / "ewes.svg"
    result = run("needs", folder_with(FLOCK, tmp_path), "--group", "EWES", "--chart", chart)
    assert result.exit_code == 0, result.output
    assert "TDN" in chart.read_text("utf-8")


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("E,Ewes,ewe,40,300,,,,\n", "too heavy for a ewe"),
        ("Y,Yearlings,young_horse,4,700,,,,\n", "needs mature_weight"),
    ],
)
def test_what_cannot_be_told_is_refused_in_a_sentence(row: str, said: str, tmp_path: Path) -> None:
    result = run("needs", folder_with(row, tmp_path))
    assert result.exit_code == 3
    assert said in result.stderr


def test_ewe_lambs_too_light_for_their_row_are_refused_in_a_sentence(tmp_path: Path) -> None:
    result = run("plan", folder_with("L,Lambs,ewe_lamb,9,50,,,2025-12-20,\n", tmp_path))
    assert result.exit_code == 3
    assert "Lambs: ewe lambs" in result.stderr
