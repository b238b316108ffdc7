"""The page on the farm folder says what the reader does."""

from __future__ import annotations

import re
from dataclasses import fields
from pathlib import Path

from rickyard import farm
from rickyard.animals import CLASSES
from rickyard.folder import read_folder
from rickyard.folder.rules.rules_groups import WEIGHT_OF_CLASS
from rickyard.folder.rules.rules_lots import WEIGHT_OF_PACKAGE
from rickyard.folder.tables.files import (
    FARM_KEYS,
    FED,
    FEEDS,
    GROUPS,
    LABS,
    LOTS,
    MOVES,
    NEEDS,
    REPORTS,
    SEASON_KEYS,
    TABLES,
    WEATHER,
    WISHES,
)
from support.farm_folders import GOOD, write_texts
from support.rows import each_row
from tools.folder_tables import describe, descriptions

PAGE = Path(__file__).parents[2] / "docs" / "farm-folder.md"
GENERATED = re.compile(r"<!-- table: (\S+) -->\n(.*?)<!-- end -->", re.DOTALL)


def test_tables_of_the_page_are_those_of_the_program() -> None:
    written = dict(GENERATED.findall(PAGE.read_text("utf-8")))
    assert written == {name: f"\n{describe(name)}\n\n" for name in descriptions()}


def test_files_of_the_page_are_those_of_the_program() -> None:
    page = PAGE.read_text("utf-8")
    for table in TABLES:
        there = "yes" if table.required else "no"
        assert f"| `{table.file}` | {there} | {table.row_is} |" in page


def test_classes_of_the_page_are_those_of_the_program() -> None:
    page = PAGE.read_text("utf-8")
    for animal_class, facts in CLASSES.items():
        line = next(line for line in page.splitlines() if f"`{animal_class}`" in line[:40])
        for ways in facts.known:
            for way in ways:
                for name in way:
                    assert GROUPS.column_of(name).name in line


def test_examples_of_the_page_are_read(tmp_path: Path) -> None:
    page = PAGE.read_text("utf-8")
    examples = {
        file: re.search(rf"## {re.escape(file)}\n\n```(?:toml)?\n(.*?)```", page, re.DOTALL)
        for file in GOOD
    }
    texts: dict[str, str | bytes] = {file: found[1] for file, found in examples.items() if found}
    assert set(texts) == set(GOOD)
    assert read_folder(write_texts(tmp_path / "farm", texts)).questions == ()


@each_row(
    ("table", "item", "elsewhere"),
    [
        (LOTS, farm.Lot, set()),
        (REPORTS, farm.Report, {"analytes"}),
        (GROUPS, farm.Group, set()),
        (FEEDS, farm.Feed, {"same_as"}),  # what the program buys later
        (NEEDS, farm.StatedNeed, set()),
        (WEATHER, farm.WeatherRow, {"monthly"}),
        (FED, farm.FedRow, set()),
        (MOVES, farm.MoveRow, set()),
        (LABS, farm.LabPackage, set()),
        (WISHES, farm.WishRow, set()),
    ],
)
def test_every_field_has_a_column(table: object, item: type, elsewhere: set[str]) -> None:
    columns = {column.field for column in table.columns} - {"method"}  # type: ignore[attr-defined]
    assert columns == {entry.name for entry in fields(item)} - elsewhere


def test_every_setting_has_a_key() -> None:
    assert {key.field for key in SEASON_KEYS} == {entry.name for entry in fields(farm.Season)}
    kept = {key.field for key in FARM_KEYS} - {"format"}
    assert kept == {"name", "place", "units", "note", "country"}


def test_what_is_left_out_is_as_the_farm_takes_it() -> None:
    for item, columns in (
        (farm.Season, SEASON_KEYS),
        (farm.Lot, LOTS.columns),
        (farm.Group, GROUPS.columns),
        (farm.Feed, FEEDS.columns),
    ):
        defaults = {entry.name: entry.default for entry in fields(item)}
        for column in columns:
            if not column.required:
                assert column.blank == defaults[column.field], column.name


def test_weights_of_the_page_are_those_of_the_program() -> None:
    page = " ".join(PAGE.read_text("utf-8").split())
    pound = 0.45359237
    spans = [
        f"{limit.least / pound:,.0f} to {limit.most / pound:,.0f} lb"
        for package, limit in WEIGHT_OF_PACKAGE.items()
        if package is not farm.Package.LOOSE
    ]
    spans += [f"{limit.least:,.0f} to {limit.most:,.0f} kg" for limit in WEIGHT_OF_CLASS.values()]
    assert [span for span in spans if span not in page] == []
