"""Every cell of the printed and derived beef tables that the needs of stock must reproduce."""

from __future__ import annotations

from pathlib import Path

from rickyard.verify.evaluate import CheckRow, evaluate, read_checks
from rickyard.verify.names_stock import STOCK
from support.rows import each_row
from tools.beef_page import PAGE_CELLS, renewed
from tools.beef_tables import BEEF_TABLES, FILE

ROWS = read_checks(FILE)
PAGE = Path(__file__).parents[2] / "docs" / "requirements-beef.md"


@each_row("row", ROWS, ids=lambda row: row.id)
def test_a_cell_is_reproduced_within_its_tolerance(row: CheckRow) -> None:
    outcome = evaluate(row, BEEF_TABLES)
    assert outcome.status == "pass", f"{outcome.computed} {row.unit} {outcome.message}"


def test_every_evaluator_is_held_by_a_cell() -> None:
    assert set(BEEF_TABLES) - set(STOCK) <= {row.quantity for row in ROWS}


def test_the_page_is_what_the_command_writes() -> None:
    page = PAGE.read_text("utf-8")
    assert renewed(page) == page


def test_the_page_shows_every_cell_of_beef() -> None:
    # The page is what the command writes: see above.
    shown = PAGE.read_text("utf-8")
    assert len(PAGE_CELLS) >= len(ROWS)
    assert all(f"`{row.id}`" in shown for row in PAGE_CELLS)
