"""Every field of the plain objects has its column in the record book, seen without a database."""

import re
from dataclasses import fields
from itertools import pairwise
from pathlib import Path

from rickyard import farm
from support.rows import each_row

ROOT = Path(__file__).resolve().parents[1]
STEPS = ROOT / "src" / "rickyard" / "book" / "app" / "migrations"

TABLES = {
    "SeasonState": farm.Season,
    "LotState": farm.Lot,
    "GroupState": farm.Group,
    "FeedState": farm.Feed,
    "ReportState": farm.Report,
    "ReportValue": farm.Analyte,
    "Feeding": farm.FedRow,
    "Move": farm.MoveRow,
    "Need": farm.StatedNeed,
    "Weather": farm.WeatherRow,
    "LabPrice": farm.LabPackage,
    "Wish": farm.WishRow,
    "Stack": farm.StackRow,
}
#: Fields that name another thing, and what is a table of its own.
OTHERWISE = {"lot_id", "to_lot_id", "source_id", "group_id", "analytes"}


def columns(table: str) -> set[str]:
    """Return the columns that the steps give a table."""
    found = set()
    for path in STEPS.rglob("0*.py"):
        text = path.read_text("utf-8")
        made = re.search(rf'table\(\s*"{table}",(.*?)\n        \),\n', text, re.DOTALL)
        parts = [made[1]] if made else []
        parts += re.findall(rf'added\(\s*"{table}",(.*?)\)', text, re.DOTALL)
        for part in parts:
            found |= set(re.findall(r"(\w+):(?:text|flag|whole|count|number|day|time|bytes)", part))
        found |= set(re.findall(rf'model_name="{table.lower()}",\s*name="(\w+)"', text))
    return found


@each_row("table", TABLES)
def test_every_field_has_its_column(table: str) -> None:
    """A new field needs a step beside the others, as 0004 is: ``added(table, "name:number?")``."""
    wanted = {one.name for one in fields(TABLES[table])}
    own = {"lot_id"} if table == "LotState" else {"group_id"} if table == "GroupState" else set()
    missing = wanted - columns(table) - (OTHERWISE - own)
    assert not missing, f"{table} in {STEPS.name} lacks {sorted(missing)}"


def test_a_field_without_a_column_would_be_seen() -> None:
    assert "bales" in columns("LotState")
    assert "hay_left" not in columns("LotState")


def test_each_step_follows_the_one_before() -> None:
    """Two steps with one number are two ways for a book to go: the later takes the next number."""
    paths = sorted(STEPS.glob("0*.py"))
    assert [path.name[:4] for path in paths] == [f"{n:04d}" for n in range(1, len(paths) + 1)]
    for before, path in pairwise(paths):
        assert f'("book", "{before.stem}")' in path.read_text("utf-8"), path.name
