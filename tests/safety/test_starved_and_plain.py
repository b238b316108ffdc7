"""Starved horses, plain feeds, names that only sound like a danger."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from rickyard.farm import AnimalClass, Feed, FeedKind
from rickyard.safety.binding import bindings
from rickyard.safety.found import of_feed, of_lot
from support.delivery_farms import START, farm_of, lot
from support.rows import each_row
from support.shown_findings import group_in

OATS = Feed("oats", "Oats", FeedKind.GRAIN, 0.3, table_id="oats_grain")


def held(score: float | None, kind: AnimalClass = AnimalClass.HORSE) -> dict[str, object]:
    group = replace(group_in(kind, ""), condition_score=score)
    farm = farm_of((lot("A"),), (group,), (OATS,), weeks=4, kg_dm=9.0)
    return {one.rule.rule_id: one.spans for one in bindings(farm) if "refeed" in one.rule.rule_id}


def test_a_starved_horse_gets_no_grain_for_ten_days() -> None:
    ten = ((START, START + timedelta(days=10)),)
    assert held(2.0) == {"refeed-starved": (), "refeed-grain": ten}
    assert held(1.0, AnimalClass.MARE) == held(2.0)
    assert held(2.5) == held(None) == held(2.0, AnimalClass.COW) == {}


@each_row(
    ("table_id", "finding"),
    [
        ("soybean_meal_44", "ionophore_plain"),
        ("salt", "ionophore_plain"),
        ("range_cubes_30", "ionophore_unknown"),
        ("liquid_feed_32", "ionophore_unknown"),
        ("trace_mineral_salt", "ionophore_unknown"),
        ("", "ionophore_unknown"),
    ],
)
def test_a_plain_feed_is_no_mix(table_id: str, finding: str) -> None:
    """A mill mixes cubes, tubs and minerals; soybean meal is soybean meal."""
    feed = Feed("X", "X", FeedKind.SUPPLEMENT, 0.4, table_id=table_id)
    assert [one.finding for one in of_feed(feed) if "ionophore" in one.finding] == [finding]
    assert not [one for one in of_feed(replace(feed, ionophore=False)) if "ionoph" in one.finding]


@each_row(
    ("note", "finding"),
    [
        ("chokecherries along the ditch", "stone_fruit_asked"),
        ("Plum leaves in the windrow", "stone_fruit_asked"),
        ("dusty", "dusty_asked"),
        ("a blister beetle", "beetle_found_asked"),
        ("Cherry Hill", None),
        ("plum creek bottom", None),
        ("not dusty", None),
        ("Dusty Creek field", None),
    ],
)
def test_what_is_written_of_a_lot_only_asks(note: str, finding: str | None) -> None:
    """A note is no finding: its column is, and blank it is not known."""
    farm = farm_of((lot("A"),), (group_in(AnimalClass.COW, ""),), (), weeks=2, kg_dm=9.0)
    columns = {"stone_fruit": "stone_fruit_leaves", "beetle_found": "blister_beetles",
               "dusty": "dusty"}  # fmt: skip

    def found(**stated: bool) -> set[str]:
        mine = {one.finding for one in of_lot(lot("A", note=note, **stated), farm)}
        return {one for one in mine if one.removesuffix("_asked") in columns}

    assert found() == ({finding} if finding else set())
    for name, column in columns.items():
        others = {one for one in found() if one != f"{name}_asked"}
        assert found(**{column: False}) == others
        assert found(**{column: True}) == others | {name}


@pytest.mark.parametrize(("days", "new"), [(-1, False), (0, True), (41, True), (42, False)])
def test_hay_sweats_for_six_weeks(days: int, new: bool) -> None:
    hay = lot("A", baled_on=START - timedelta(days=days))
    farm = farm_of((hay,), (group_in(AnimalClass.HORSE, ""),), (), weeks=2, kg_dm=9.0)
    assert ("new_hay" in {one.finding for one in of_lot(hay, farm)}) is new


def test_only_a_supplement_is_held_down_with_salt() -> None:
    mix = Feed("X", "Meal limited with salt", FeedKind.SUPPLEMENT, 0.4)
    assert "salt_limited" in {one.finding for one in of_feed(mix)}
    mineral = replace(mix, kind=FeedKind.MINERAL)
    assert "salt_limited" not in {one.finding for one in of_feed(mineral)}
