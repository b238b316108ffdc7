"""Splitting a lot from the terminal, what befell it since its test, and published factors."""

import re
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from rickyard.cli.main import main
from rickyard.folder import read_folder
from rickyard.hay.storage.standing import book_of
from support.farm_folders import GOOD, write_texts


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return write_texts(tmp_path / "farm", dict(GOOD))


def run(*arguments: str) -> Result:
    return CliRunner().invoke(main, list(arguments))


@pytest.mark.parametrize("page", ["yard", "sampling"])
def test_pages_of_metric_farms_are_in_their_own_style(page: str, folder: Path) -> None:
    settings = folder / "farm.toml"
    text = settings.read_text(encoding="utf-8")
    assert 'units = "us"' in text
    settings.write_text(text.replace('units = "us"', 'units = "metric"'), encoding="utf-8")
    found = run(page, str(folder), "--on", "2025-12-01")
    assert found.exit_code == 0, found.output
    assert re.search(r"\d %", found.output)
    assert not re.search(r"\d%", found.output)
    months = "Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec"
    assert not re.search(rf"\b(?:{months}) \d{{1,2}}\b", found.output)


def test_a_split_prints_rows_that_can_be_read_again(folder: Path, tmp_path: Path) -> None:
    found = run("yard", str(folder), "--on", "2025-12-01", "--split", "B2", "30", "enclosed_barn")
    assert found.exit_code == 0, found.output
    code = "2025-RIVE-C1-L01"
    move = next(line.strip() for line in found.output.splitlines() if ",moved," in line)
    assert move == f"2025-12-01,B2,moved,30,{code}"
    weight = next(part for part in found.output.split(",") if "bale_weight" in part)
    row = next(line for line in GOOD["lots.csv"].splitlines() if line.startswith("B2,"))
    copied = (
        row.replace("B2,", f"{code},", 1)
        .replace("covered_elevated", "enclosed_barn")
        .replace(",80,1050,", f",30,{weight.split('=')[1].split(chr(10))[0].strip()},")
        .replace("2025-11-01", "2025-12-01")
    )
    texts = {
        **GOOD,
        "lots.csv": GOOD["lots.csv"] + copied + "\n",
        "moves.csv": GOOD["moves.csv"] + f"2025-12-01,B2,moved,30,,{code},,\n",
    }
    farm = read_folder(write_texts(tmp_path / "split", texts)).farm
    rain = farm.season.rainfall_mm_per_year
    assert rain is not None
    before = read_folder(folder).farm
    day = farm.lot(code).counted_on
    books = [book_of(farm.lot(one), farm.moves, (), 84.5, rain) for one in ("B2", code)]
    assert [book.bales_on(day) for book in books] == [50.0, 30.0]
    whole = book_of(before.lot("B2"), before.moves, (), 84.5, rain).dry_kg_on(day)
    assert sum(book.dry_kg_on(day) for book in books) == pytest.approx(whole, rel=1e-3)


@pytest.mark.parametrize(
    ("split", "word"),
    [
        (("Z9", "3", "enclosed_barn"), "no lot"),
        (("B2", "300", "enclosed_barn"), "80 are there"),
        (("B2", "3", "loft"), "write one of"),
        (("B2", "3", "covered_elevated"), "as before"),
        (("B2", "some", "enclosed_barn"), "number of bales"),
    ],
)
def test_a_split_that_cannot_be_is_told(
    folder: Path, split: tuple[str, str, str], word: str
) -> None:
    found = run("yard", str(folder), "--on", "2025-12-01", "--split", *split)
    assert found.exit_code == 2
    assert word in found.output


@pytest.mark.parametrize(("flag", "why"), [("--wetted", "got wet"), ("--heated", "heated")])
def test_what_happened_since_the_test_asks_for_another(folder: Path, flag: str, why: str) -> None:
    assert "It " + why not in run("sampling", str(folder), "--on", "2025-10-20").output
    found = run("sampling", str(folder), "--on", "2025-10-20", flag, "A1", "--lot", "A1")
    assert f"It {why} after it was sampled" in " ".join(found.output.split())


def test_a_calendar_without_a_day_is_not_written(folder: Path, tmp_path: Path) -> None:
    """RFC 5545, section 3.6: a calendar holds at least one component."""
    ics = tmp_path / "none.ics"
    found = run("yard", str(folder), "--on", "2025-12-01", "--ics", str(ics))
    assert found.exit_code == 0, found.output
    assert "no day to write" in found.output
    assert not ics.exists()


@pytest.mark.parametrize("tip", ["0 in", "5 mm", "3 in"])
def test_a_tip_that_no_probe_has_is_refused(folder: Path, tip: str) -> None:
    """Cores are known for tips of 0.3 to 1.3 in."""
    found = run("sampling", str(folder), "--on", "2025-10-20", "--tip", tip)
    assert found.exit_code == 2
    assert "probe tip" in found.output


@pytest.mark.parametrize("command", ["sampling", "yard"])
@pytest.mark.parametrize("day", ["9999-12-31", "0001-01-01"])
def test_a_day_of_no_farm_is_refused(folder: Path, command: str, day: str) -> None:
    found = run(command, str(folder), "--on", day)
    assert found.exit_code == 2
    assert "outside the years" in found.output


def test_hay_said_to_have_heated_is_tested_for_bound_protein(folder: Path) -> None:
    found = run("sampling", str(folder), "--on", "2025-12-20", "--lot", "A1", "--heated", "A1")
    assert "bound protein" in found.output


def test_bales_that_change_weight_on_their_way_are_told(folder: Path) -> None:
    """Every kilogram is accounted for: the new lot must hold what left the old one."""
    row = next(line for line in GOOD["lots.csv"].splitlines() if line.startswith("B2,"))
    heavy = row.replace("B2,", "B3,", 1).replace(",80,1050,", ",0,1300,")
    (folder / "lots.csv").write_text(GOOD["lots.csv"] + heavy + "\n", encoding="utf-8")
    moves = GOOD["moves.csv"] + "2025-11-20,B2,moved,10,,B3,,\n"
    (folder / "moves.csv").write_text(moves, encoding="utf-8")
    told = " ".join(run("yard", str(folder), "--on", "2025-12-01").output.split())
    assert "23.8% more dry matter each in the new lot" in told
    same = heavy.replace(",0,1300,", ",0,1050,")
    (folder / "lots.csv").write_text(GOOD["lots.csv"] + same + "\n", encoding="utf-8")
    told = run("yard", str(folder), "--on", "2025-12-01").output
    assert "dry matter each in the new lot" not in told


def test_a_test_without_a_date_is_not_called_none(folder: Path) -> None:
    reports = GOOD["reports.csv"].replace("R1,A1,2025-10-01,2025-10-09,", "R1,A1,,,")
    (folder / "reports.csv").write_text(reports, encoding="utf-8")
    found = run("sampling", str(folder), "--on", "2025-10-20", "--lot", "A1")
    assert "Its test has no date" in found.output
