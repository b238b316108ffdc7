"""Feeds are found by the names people use, and dry is never answered with wet."""

from __future__ import annotations

import csv
from importlib.resources import files

import pytest

from rickyard.forage.values import feed_ids, find_feeds
from support.rows import each_row


def ids(words: str) -> list[str]:
    return [one.row.table_id for one in find_feeds(words)]


@each_row(
    ("words", "expected"),
    [
        ("hulls", {"soybean_hulls", "cottonseed_hulls", "peanut_hulls"}),
        ("cake", {"range_cubes_38", "range_cubes_30", "range_cubes_20", "cottonseed_meal_41"}),
        ("cubes", {"alfalfa_cubes", "range_cubes_38", "range_cubes_20"}),
        ("DDG", {"ddgs_dry"}),
        ("creep", {"range_cubes_20"}),
        ("Wheat Mids", {"wheat_middlings"}),
        ("soyhulls", {"soybean_hulls"}),
        ("milo", {"sorghum_grain"}),
        ("tub", {"protein_tub_24"}),
    ],
)
def test_names_of_the_trade(words: str, expected: set[str]) -> None:
    assert expected <= set(ids(words))


def test_dry_stands_first_where_water_is_not_said() -> None:
    assert ids("corn_gluten_feed") == ["corn_gluten_feed_dry", "corn_gluten_feed_wet"]
    assert ids("brewers grains")[0] == "brewers_grains_dried"


@pytest.mark.parametrize("feed", ["corn gluten feed", "beet pulp", "brewers grains"])
def test_dry_and_wet_are_told_apart(feed: str) -> None:
    assert all("wet" not in one for one in ids(f"dry {feed}"))
    assert all("dr" not in one.removeprefix("brewers_") for one in ids(f"wet {feed}"))


def test_a_slip_of_the_pen_still_finds_it() -> None:
    assert ids("soyhuls") == ["soybean_hulls"]
    assert ids("xyzzy") == []


def test_all_feeds_are_listed_and_every_name_is_of_a_feed() -> None:
    assert [one.row.table_id for one in find_feeds()] == list(feed_ids())
    text = (files("rickyard.forage") / "data/feed_names.csv").read_text("utf-8")
    assert [row["feed_id"] for row in csv.DictReader(text.splitlines())] == list(feed_ids())
