"""What the page on reading a report says is what the program does."""

import re
from pathlib import Path

import pytest

from rickyard.analysis_error import ERROR_SIZES
from rickyard.farm import Forage
from rickyard.forage.energy.derived import DERIVED
from rickyard.forage.uncertainty.derived_error import DRAWS, measured_derived
from rickyard.forage.uncertainty.typical import book_measured, typical_values
from rickyard.forage.uncertainty.uncertainty import CORES_WHEN_UNKNOWN, Measured, analyte_sd
from rickyard.forage.values.book_values import book_value
from support.rows import each_row

PAGE = (Path(__file__).parents[2] / "docs" / "forage.md").read_text(encoding="utf-8")
ROWS = {
    cells[0]: cells[1:]
    for cells in (
        [cell.strip() for cell in line.strip("|").split("|")]
        for line in PAGE.splitlines()
        if line.startswith("| ")
    )
    if len(cells) == 5
}


@each_row(
    ("row", "name"),
    [
        ("dry matter", "dm"),
        ("protein", "cp"),
        ("ADF", "adf"),
        ("NDF", "ndf"),
        ("fiber digested in 48 hours", "ndfd48"),
        ("TDN that a lab prints", "tdn"),
        ("calcium, phosphorus and other major minerals", "ca"),
        ("trace minerals", "cu"),
        ("nitrate", "nitrate_no3n"),
    ],
)
def test_the_table_of_errors_is_that_of_the_program(row: str, name: str) -> None:
    size = ERROR_SIZES[name]
    said = [float(re.findall(r"[\d.]+", cell)[0]) for cell in ROWS[row][:3]]
    assert said == pytest.approx([size.single_core, size.one_lab, size.any_lab], abs=0.05)
    relative = ["%" in cell for cell in ROWS[row][:3]]
    assert relative == [size.cores_relative, size.lab_relative, size.lab_relative]


def test_the_numbers_in_the_text_are_those_of_the_program() -> None:
    assert f"counts as one of {CORES_WHEN_UNKNOWN}" in PAGE
    assert f"{DRAWS:,} drawn reports" in PAGE
    assert f"holds {len({one.row for one in typical_values()})} rows" in PAGE
    book = book_measured(book_value(Forage.COOL_GRASS, "cp_pct").value, "cp")
    said = f"{book.value:.1f}% (90% range {book.low:.1f}-{book.high:.1f})"
    assert said in PAGE


def test_the_example_gives_what_it_says() -> None:
    fiber = {
        name: Measured.normal(value, float(analyte_sd(name, value, cores=20)), "", "")
        for name, value in (("adf", 30.0), ("ndf", 40.0))
    }
    rfv = measured_derived(DERIVED["rfv"], fiber)
    said = f"{rfv.value:.0f}, SD {rfv.sd:.1f}, {rfv.low:.0f} to {rfv.high:.0f}"
    assert said in PAGE
