"""Other hay stands in for a few days where what is fed does not make up for what is held back."""

from __future__ import annotations

import json
from collections import defaultdict
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import numpy as np
import pytest

from rickyard.farm import AnimalClass, Farm, Feed, FeedKind, Lot, Package, WishRow
from rickyard.kinds import Wanted
from rickyard.program.audit import recheck
from rickyard.program.audit.swaps import (
    OtherHay,
    evened,
    grass_eaten,
    hay_that_stands_in,
    known_goes_on,
    may_be_fed,
)
from rickyard.program.days.day_amounts import _eaten_of_grass
from rickyard.program.days.making_up import (
    carried_on,
    kept_for_later,
    made_up,
    may_go_on,
    stand_ins,
    stood_in,
)
from rickyard.program.days.safe_days import SafeDays
from rickyard.program.feedout.delivery_cautions import _bought_beside
from rickyard.program.planning import plan_season
from rickyard.program.result import PlanOptions
from rickyard.safety import bindings, counts_as_pregnant, may_stand_in
from rickyard.sheets.data_files.plan_json import plan_json
from support.by_hand import one
from support.daily_audit import DailyAudit
from support.farms import START
from support.hazard_farms import hazard_farm
from support.season_farms import cows, farm_of, hay, report_on


def with_lots(*names: str, ppm: float | None = 100.0, **more: Any) -> Farm:
    lots = [replace(hay(name, 55.0, 9.0, 50.0, 100.0), **more) for name in names]
    return farm_of([(lot, report_on(lot, 55.0, 9.0, ppm)) for lot in lots], [cows()], [])


def lots_of(farm: Farm, *changed: Lot) -> Farm:
    by_id = {lot.lot_id: lot for lot in changed}
    return replace(farm, lots=tuple(by_id.get(lot.lot_id, lot) for lot in farm.lots))


@pytest.mark.parametrize(
    ("more", "ppm", "light"),
    [
        ({}, 100.0, True),
        ({}, 1600.0, False),
        ({"drought": True}, None, False),
        ({"rained_on": True}, 1100.0, False),
        ({"species": "sweet clover"}, 100.0, True),
        ({"species": "tall fescue"}, 100.0, True),
        ({"package": Package.BALEAGE}, 100.0, True),
        ({"stone_fruit_leaves": True}, 100.0, False),
        ({"note": "chokecherry"}, 100.0, False),
        ({"highest_temperature_c": 85.0}, 100.0, False),
        ({"highest_temperature_c": 70.0}, 100.0, False),
        ({"highest_temperature_c": 70.0, "latest_temperature_c": 30.0}, 100.0, True),
        ({"highest_temperature_c": 85.0, "latest_temperature_c": 30.0}, 100.0, False),
    ],
)
def test_only_hay_that_is_safe_in_part_stands_in(
    more: dict[str, Any], ppm: float | None, light: bool
) -> None:
    farm = with_lots("a", ppm=ppm, **more)
    assert may_stand_in(farm.groups[0], farm) == (("a",) if light else ())
    rows = [one(group_id="cows", source_id="a")]
    program: Any = one(sources=[one(source_id="a", bale_weight_kg=500.0)], feeding=rows)
    found = hay_that_stands_in(program, farm, farm.groups[0], {"corn"}, set())
    assert found == (["a"] if light else [])


def test_hay_stands_in_on_its_days_within_reach_and_where_nobody_wants_it_kept_off() -> None:
    farm = with_lots("a", "b", "c", "d")
    a, b, _, d = farm.lots
    second = START + timedelta(days=1)
    farm = lots_of(farm, replace(a, feed_from=second), replace(b, bales_reachable=3.0),
                   replace(d, feed_by=START))  # fmt: skip
    fed = [one(group_id="cows", source_id="d"), one(group_id="other", source_id="c")]
    sources = [one(source_id=name, bale_weight_kg=500.0) for name in "abcd"]
    program: Any = one(feeding=fed, sources=sources)
    days = np.zeros(2, dtype=int)
    found = stand_ins(program, farm, farm.groups[0], days, START)
    on = {name: days.tolist() for name, days in found.items()}
    assert on == {"d": [True, False], "a": [False, True], "c": [True, True]}
    assert list(on) == ["d", "a", "c"], "what the group is fed anyway comes first"
    again = hay_that_stands_in(program, farm, farm.groups[0], {"corn"}, set())
    assert again == ["d", "a", "c"]
    for lot_id, mine in on.items():
        assert [may_be_fed(farm, lot_id, day) for day in (START, second)] == mine
    # By the bale it lies before them, and hay that is weighed does not.
    assert hay_that_stands_in(program, farm, farm.groups[0], {"b"}, set()) == []
    assert hay_that_stands_in(program, farm, farm.groups[0], {"b"}, {"b"}) == again
    for group_id, left in (("", ["d", "a"]), ("cows", ["d", "a"]), ("other", ["d", "a", "c"])):
        off = replace(farm, wishes=(WishRow(Wanted.KEEP_OFF, "c", group_id),))
        assert list(stand_ins(program, off, farm.groups[0], days, START)) == left
        assert hay_that_stands_in(program, off, farm.groups[0], {"corn"}, set()) == left


def test_no_wrap_is_opened_for_a_few_pounds_a_day() -> None:
    farm = with_lots("a", package=Package.BALEAGE)
    for fed, stands in (("a", ["a"]), ("b", [])):
        rows = [one(group_id="cows", source_id=fed)]
        program: Any = one(sources=[], feeding=rows)
        group, days = farm.groups[0], np.zeros(1, dtype=int)
        assert list(stand_ins(program, farm, group, days, START)) == stands
        assert hay_that_stands_in(program, farm, group, set(), set()) == stands


def test_what_stands_in_is_no_more_than_is_over_nor_than_a_quarter_of_a_day() -> None:
    farm, always = with_lots("a", "b"), np.ones(3, dtype=bool)
    wanted, there = [100.0, 100.0, 100.0], [95.5, 90.0, 60.0]
    days = [START + timedelta(days=number) for number in range(3)]
    safe = {"corn": dict(zip(days, there, strict=True))}
    over = {"a": 4.0, "b": 90.0}
    asked, dry = {"corn": dict.fromkeys(days, 100.0)}, {"corn": 1.0, "a": 0.8, "b": 0.5}
    OtherHay.of(["a", "b"], farm, asked, (dry, over)).fill_hungry(safe, asked)
    assert safe["a"] == {days[1]: pytest.approx(5.0)}
    assert safe["b"] == {days[1]: pytest.approx(12.0), days[2]: pytest.approx(50.0)}
    assert over == {"a": pytest.approx(0.0), "b": pytest.approx(59.0)}
    room = {"a": 4.0, "b": 90.0}
    lack = np.array([0.0, 10.0, 40.0])
    found = stood_in(lack, 0.25 * np.array(wanted), {"a": always, "b": always}, dry, room)
    assert found["a"].tolist() == pytest.approx([0.0, 5.0, 0.0])
    assert found["b"].tolist() == pytest.approx([0.0, 12.0, 50.0])
    assert room == {"a": 0.0, "b": pytest.approx(59.0)}


def test_no_forage_falls_in_one_night_where_safe_hay_is_in_the_yard() -> None:
    """Cows got a third less in one night as nitrate hay began, with 12 t of safe hay over."""
    farm = hazard_farm(308, weeks=8)
    program = plan_season(farm, options=PlanOptions(effort=0.0))
    assert DailyAudit(json.loads(plan_json(program)), farm).breaches() == []
    assert recheck(program, farm) == ()


def thirds_of(kg: float, days: int) -> list[float]:
    return [kg * min(1.0, (1 + day // 3) / 3.0) for day in range(days)]


def test_hay_with_nitrate_that_they_know_goes_on_where_another_begins_low() -> None:
    """Of both there is on no day more than of the one, and no more than is over of the old."""
    farm = with_lots("old", "new", ppm=1700.0)
    farm = lots_of(farm, replace(farm.lots[0], feed_by=START + timedelta(days=10)))
    dry, count, over = {"old": 0.8, "new": 0.9}, 12, {"old": 900.0, "new": 0.0}
    asked = {"old": [100.0] * 4 + [0.0] * 8, "new": [0.0] * 4 + [100.0] * 8}
    begun = {"old": asked["old"], "new": [0.0] * 4 + thirds_of(100.0, 8)}
    days = [START + timedelta(days=number) for number in range(count)]
    mine = [one for one in bindings(farm) if one.group_id == "cows"]
    for room, feed_by, expected in (
        (900.0, 10, [75.0] * 3 + [37.5] * 3),
        (150.0, 10, [75.0] * 2 + [37.5] + [0.0] * 3),
        (900.0, 6, [75.0] * 3 + [0.0] * 3),
    ):
        until = replace(farm.lots[0], feed_by=START + timedelta(days=feed_by))
        kept, over = lots_of(farm, until), {"old": room, "new": 0.0}
        line = {name: np.array(kg) for name, kg in asked.items()}
        moved = {name: np.array(kg) for name, kg in begun.items()}
        may = may_go_on(kept, mine, line, START)
        found = carried_on(line, moved, may, dry, over)["old"]
        assert found.tolist() == pytest.approx([100.0] * 4 + expected + [0.0] * 2)
        safe = {name: dict(zip(days, kg, strict=True)) for name, kg in begun.items()}
        by_day = {name: dict(zip(days, kg, strict=True)) for name, kg in asked.items()}
        again = {"old": room, "new": 0.0}
        more = known_goes_on(safe, by_day, kept, mine, days, (dry, again))
        assert list(safe["old"].values()) == pytest.approx(found.tolist())
        assert again == pytest.approx(over)
        assert sum(more.values()) == pytest.approx(0.8 * sum(expected))


def test_forage_does_not_fall_where_one_hay_with_nitrate_follows_another() -> None:
    """Llamas lost a third of their forage in the night in which one lot followed another."""
    farm = hazard_farm(101, weeks=8)
    program = plan_season(farm, options=PlanOptions(effort=0.05))
    assert recheck(program, farm) == ()
    turn, dry = date(2026, 12, 7), {one.source_id: one.dm_pct for one in program.sources}
    put_out: dict[date, float] = defaultdict(float)
    for load in program.deliveries:
        if load.group_id == "G3" and abs((load.day - turn).days) < 7:
            put_out[load.day] += load.mass_kg * dry[load.source_id]
    assert len(put_out) == 13
    assert min(put_out.values()) > 0.95 * max(put_out.values())


def test_a_dry_dairy_cow_is_in_calf_whatever_day_nobody_wrote() -> None:
    """Her diet was held to what is safe in calf, and each lot by what is safe for who is not."""
    farm = with_lots("a")
    dry = replace(cows(), animal_class=AnimalClass.DRY_DAIRY_COW)
    assert counts_as_pregnant(dry, farm)
    assert not counts_as_pregnant(cows(), farm)


def test_where_too_little_is_over_days_and_groups_are_left_to_lack_alike() -> None:
    """Alpacas were filled for two days and got 43 % of it on the next; who came first got all."""
    hay, dry = {"a": np.array([10.0, 10.0, 0.0])}, {"a": 1.0}
    over = {"a": 5.0}
    held = np.array([6.0, 2.0, 9.0])
    assert made_up(hay, held, dry, over)["a"].tolist() == [14.5, 10.5, 0.0]
    assert over == {"a": 0.0}
    assert kept_for_later([{"a": 8.0}, {"a": 2.0, "b": 9.0}], {"a": 5.0, "b": 20.0}) == [
        {"a": 1.0, "b": 9.0},
        {"a": 0.0, "b": 0.0},
    ]
    days = [START + timedelta(days=number) for number in range(3)]
    assert evened(dict(zip(days, held.tolist(), strict=True)), 5.0) == pytest.approx(5.0)


def test_the_last_group_of_the_list_gets_its_part_of_what_fills() -> None:
    farm = hazard_farm(22, weeks=8)
    program = plan_season(farm, options=PlanOptions(effort=0.05))
    assert recheck(program, farm) == ()
    page = json.loads(plan_json(program))
    audit = DailyAudit(page, farm)
    alpacas = next(one for one in farm.groups if one.group_id == "G3")
    days, asked = audit._days(alpacas), audit._asked(alpacas)
    parts = [days[day].total() / asked[day].total() for day in asked]
    assert min(parts) > 0.9


def test_bought_hay_that_stands_in_is_told_with_its_price() -> None:
    """It was put out on the list and stood in no purchase."""
    grass = Feed("grass", "Bought grass hay", FeedKind.FORAGE, 0.2)
    farm = replace(with_lots("a"), feeds=(grass,))
    days: Any = one(asked={"grass": np.array([40.0, 60.0]), "a": np.array([9.0, 9.0])})
    for bought, told in ((0.0, ["220 lb", "$20"]), (50.0, ["110 lb", "$10"]), (96.0, None)):
        program: Any = one(purchases=[one(feed_id="grass", as_fed_kg=bought)])
        found = list(_bought_beside(program, farm, [days]))
        assert len(found) == (told is not None)
        for caution in found:
            assert caution.sentence.startswith(f"Buy {told[0]} more of Bought grass hay, as fed")
            assert f"about {told[1]}" in caution.sentence


@pytest.mark.parametrize(("part", "stands"), [(1.0, False), (0.6, True)])
def test_grass_fills_by_what_is_eaten_of_it(part: float, stands: bool) -> None:
    """Horses lacked 6 % of a day while barley climbed: it was 4 % with the grass they trampled."""
    farm = with_lots("a")
    asked = {"grass": np.array([10.0]), "barley": np.array([1.0])}
    given = asked | {"barley": np.array([0.5])}
    grown = dict.fromkeys(("grass", "barley", "a"), 1.0)
    safe = SafeDays(farm, farm.groups[0], START, np.zeros(1, dtype=int), np.ones(1), [], {}, True,
                    grazed={"grass": part})  # fmt: skip
    assert safe._lack(asked, given, grown).tolist() == ([0.5] if stands else [0.0])
    again = {name: {START: float(kg[0])} for name, kg in asked.items()}
    other = OtherHay.of(["a"], farm, again, (grown, {"a": 9.0}), {"grass": part})
    now = again | {"barley": {START: 0.5}, "a": {START: 0.0}}
    other.fill_hungry(now, again)
    assert now["a"][START] == pytest.approx(0.5 if stands else 0.0)


def test_the_second_look_knows_what_is_eaten_of_grass() -> None:
    grass = Feed("grass", "Winter pasture", FeedKind.GRAZING, 0.01)
    farm = replace(with_lots("a"), feeds=(grass,))
    (group,) = farm.groups
    row = one(group_id="cows", source_id="grass", period=0, offered_kg=1000.0,
              eaten_kg_dm_per_head_day=400.0 / group.head / 4)  # fmt: skip
    program: Any = one(
        feeding=[row, replace_one(row, "a"), replace_one(row, "grass", "others")],
        sources=[one(source_id=name, dm_pct=80.0) for name in ("grass", "a")],
        periods=[one(index=0, start=START, days=7)],
    )
    late = replace(group, from_on=START + timedelta(days=3))
    assert grass_eaten(program, farm, late) == {"grass": pytest.approx(0.5)}
    days = np.zeros(4, dtype=int)
    mine = [one for one in program.feeding if one.group_id == "cows"]
    dries = {"grass": 0.8, "a": 0.8}
    assert _eaten_of_grass(farm, late, days, mine, dries) == {"grass": pytest.approx(0.5)}


def replace_one(row: Any, source: str, group: str = "cows") -> Any:
    return one(**{**vars(row), "source_id": source, "group_id": group})
