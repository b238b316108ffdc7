"""What people of the trade write is answered with the word of the folder."""

from __future__ import annotations

import csv
from datetime import date
from enum import EnumMeta
from importlib.resources import files
from pathlib import Path

import pytest

from rickyard import farm
from rickyard.folder import FolderFaults, read_folder, write_folder
from rickyard.folder.hints import trade_word
from rickyard.folder.tables import FARM_KEYS, SEASON_KEYS, TABLES, headers_of
from rickyard.forage.values import feed_ids
from support.farm_folders import GOOD, write_texts
from support.rows import each_row


def faults(folder: Path) -> str:
    with pytest.raises(FolderFaults) as raised:
        read_folder(folder, known_table_ids=feed_ids())
    return str(raised.value)


def edited(tmp_path: Path, file: str, old: str, new: str) -> Path:
    text = GOOD[file]
    assert isinstance(text, str)
    assert old in text
    return write_texts(tmp_path / "farm", {**GOOD, file: text.replace(old, new)})


def test_every_word_of_the_table_means_a_word_of_the_folder() -> None:
    """A hint that named no word of the folder would send a person round in a circle."""
    columns = {table.file: {one.name for one in table.columns} for table in TABLES}
    columns["reports.csv"] |= {"cp", "moisture", "nitrate_no3n", "nitrate_no3"}
    columns["farm.toml"] = set(headers_of(FARM_KEYS)) | set(headers_of(SEASON_KEYS))
    text = (files("rickyard.folder") / "data/trade_words.csv").read_text("utf-8")
    for row in csv.DictReader(text.splitlines()):
        words = columns.get(row["place"]) or set(getattr(farm, row["place"]))
        assert {one.strip() for one in row["meant"].split(";")} <= words, row
        kind = getattr(farm, row["place"], None)
        if isinstance(kind, EnumMeta):
            assert row["said"] not in words, row


@each_row(
    ("place", "said", "meant"),
    [
        ("Forage", "fescue", ("cool_grass",)),
        ("Forage", "orchardgrass", ("cool_grass",)),
        ("Forage", "Orchard Grass", ("cool_grass",)),
        ("Forage", "pampasgrass", ("cool_grass", "warm_grass")),
        ("Storage", "barn", ("enclosed_barn",)),
        ("FeedKind", "cake", ("supplement",)),
        ("groups.csv", "bcs", ("condition_score",)),
        ("farm.toml", "cash", ("cash_limit_usd",)),
        ("lots.csv", "date", ("baled_on", "counted_on")),
    ],
)
def test_words_of_the_trade(place: str, said: str, meant: tuple[str, ...]) -> None:
    word = trade_word(place, said)
    assert word is not None
    assert word.meant == meant


def test_fescue_is_told_to_be_written_as_species_too() -> None:
    """Without it no rule of the endophyte could bind."""
    word = trade_word("Forage", "fescue")
    assert word is not None
    assert "species" in word.sentence


def test_a_forage_by_the_name_of_its_plant(tmp_path: Path) -> None:
    folder = edited(tmp_path, "lots.csv", "cool_grass", "orchardgrass")
    told = faults(folder)
    assert "Did you mean cool_grass? Write one of: alfalfa, " in told
    assert "Did you mean warm_grass" not in told


def test_a_header_by_another_name_is_told_once_and_with_its_unit(tmp_path: Path) -> None:
    told = faults(edited(tmp_path, "lots.csv", "baled_on", "date"))
    assert "column date: this header is not known.\n  Did you mean baled_on or counted_on?" in told
    assert "1 fault" in told
    told = faults(edited(tmp_path, "feeds.csv", "price_usd_per_ton", "cost_usd_per_ton"))
    assert "Did you mean price_usd_per_ton?" in told
    assert "1 fault" in told


def test_a_key_of_the_settings_by_another_name(tmp_path: Path) -> None:
    told = faults(edited(tmp_path, "farm.toml", "period_days = 7", "cash = 5000"))
    assert "Did you mean cash_limit_usd (under [season])?" in told


def test_a_missing_column_lists_the_words_it_may_hold(tmp_path: Path) -> None:
    rows = [line.split(",") for line in str(GOOD["feeds.csv"]).splitlines()]
    at = rows[0].index("kind")
    text = "\n".join(",".join(one[:at] + one[at + 1 :]) for one in rows) + "\n"
    told = faults(write_texts(tmp_path / "farm", {**GOOD, "feeds.csv": text}))
    assert "Add it: what it is; one of supplement, grain, mineral, forage, grazing." in told


def test_the_dry_feed_is_not_answered_with_the_wet_one(tmp_path: Path) -> None:
    told = faults(edited(tmp_path, "feeds.csv", "corn_grain_dry_rolled", "corn_gluten_feed"))
    assert "Did you mean corn_gluten_feed_dry or corn_gluten_feed_wet? Search it with" in told


def american(tmp_path: Path, day: str, settings: str = "") -> Path:
    text = str(GOOD["lots.csv"]).replace("2025-07-20", day)
    assert day in text
    own = str(GOOD["farm.toml"]).replace('units = "us"', settings or 'units = "us"')
    return write_texts(tmp_path / "farm", {**GOOD, "lots.csv": text, "farm.toml": own})


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("7/20/2025", date(2025, 7, 20)),
        ("07-20-2025", date(2025, 7, 20)),
        ("7/7/2025", date(2025, 7, 7)),
    ],
)
def test_an_american_date_is_read_where_it_can_be_no_other_day(
    text: str, day: date, tmp_path: Path
) -> None:
    found = read_folder(american(tmp_path, text))
    assert day in {lot.baled_on for lot in found.farm.lots}
    write_folder(found.farm, tmp_path / "again", found.layout)
    assert read_folder(tmp_path / "again").farm == found.farm


def test_an_american_date_in_the_settings(tmp_path: Path) -> None:
    folder = edited(tmp_path, "farm.toml", "end = 2026-04-15", 'end = "4/15/2026"')
    assert read_folder(folder).farm.season.end == date(2026, 4, 15)


def test_a_date_in_doubt_is_asked_with_both_readings(tmp_path: Path) -> None:
    told = faults(american(tmp_path, "7/8/2025"))
    assert "Write 2025-07-08 if the month stands first, 2025-08-07 if the day does." in told


@pytest.mark.parametrize("settings", ['units = "metric"', 'units = "us"\ncountry = "CA-AB"'])
def test_elsewhere_the_month_never_stands_first(settings: str, tmp_path: Path) -> None:
    told = faults(american(tmp_path, "7/20/2025", settings))
    assert "Did you mean 2025-07-20?" in told
