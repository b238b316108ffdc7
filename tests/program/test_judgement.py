"""Headline, status and advice come from one judgement of the program."""

from __future__ import annotations

import dataclasses
from dataclasses import replace
from io import StringIO
from types import SimpleNamespace
from typing import Any

import pytest
from rich.console import Console

from rickyard.cli.show.compare import print_comparison
from rickyard.display import Display
from rickyard.farm import Farm, Storage, Wrap
from rickyard.program.compare import compare
from rickyard.program.planning import HeadCount, answer, plan_season
from rickyard.program.problem import problem_of
from rickyard.program.result import SeasonProgram, Shortage, judge
from rickyard.program.result.judgement import _kind, _much_is_missing, distance_usd
from rickyard.program.search.relax import relax
from rickyard.sheets.wording import answer_of
from support.season_example import END, START, example
from support.season_farms import CAKE, LIME, cows, farm_of, hay, report_on
from support.weekly import WEEKLY

US = Display("us")


def short_farm(tonnes: float, **more: object) -> Farm:
    """Return 30 cows for twenty weeks with some hay, cake and lime."""
    lots = []
    if tonnes > 0.0:
        lot = hay("meadow", 55.0, 9.0, tonnes, 80.0, **more)
        lots = [(lot, report_on(lot, 55.0, 9.0))]
    return farm_of(lots, [cows()], [CAKE, LIME], weeks=20)


def bought(farm: Farm, program: SeasonProgram) -> Farm:
    """Return the farm with the hay that the headline says to buy, as a lot of its own."""
    buy = program.hay_to_buy
    assert buy is not None
    lot = hay("bought", buy.tdn_pct, buy.cp_pct, buy.as_fed_kg / 1000.0, 80.0)
    return replace(
        farm,
        lots=(*farm.lots, lot),
        reports=(*farm.reports, report_on(lot, buy.tdn_pct, buy.cp_pct)),
    )


@pytest.mark.parametrize("tonnes", [0.0, 5.0, 10.0])
def test_what_the_headline_says_to_buy_is_enough_when_it_is_bought(tonnes: float) -> None:
    farm = short_farm(tonnes)
    program = plan_season(farm, options=WEEKLY)
    answer = answer_of(program, farm, US)
    assert answer.kind == "hay_short"
    assert program.hay_to_buy is not None
    assert program.hay_to_buy.checked
    assert "as bought, losses counted" in answer.sentence
    again = plan_season(bought(farm, program), options=WEEKLY)
    assert not [one for one in again.shortages if one.nutrient in ("forage", "nem", "cp")]


def test_cows_without_hay_need_hay_for_the_whole_season() -> None:
    """Not only the least long forage that cake can stand in for: over 1.5 % of live weight."""
    farm = short_farm(0.0)
    buy = plan_season(farm, options=WEEKLY).hay_to_buy
    assert buy is not None
    assert buy.as_fed_kg / (30 * 560.0 * 140) > 0.015


def test_a_season_without_shortage_buys_no_hay() -> None:
    program = plan_season(short_farm(90.0), options=WEEKLY)
    assert program.status == "complete"
    assert program.hay_to_buy is None


def test_starving_comes_before_too_much() -> None:
    """Keep-off wishes for everything left the headline at too much sulfur, beside empty racks."""
    program, _ = example("need_short")
    group = program.shortages[0].group_id
    row = next(one for one in program.needs if one.group_id == group)
    much = Shortage(group, START, END, "sulfur", "kg S", 0.1, 1.0, "Too much sulfur.")
    none = Shortage(group, START, END, "forage", "kg DM", 8.0, 900.0, "No forage.")
    starved = replace(
        row, nutrient="forage", need=8.0, supplied=0.0, shortage=8.0, bound="at_least"
    )
    for needs, first in (((*program.needs, starved), "forage"), (program.needs, "sulfur")):
        one = replace(program, shortages=(much, none), needs=needs)
        found = judge(one)
        assert found.first is not None
        assert found.first.nutrient == first
    assert judge(replace(program, shortages=(much, none), needs=(starved,))).hungry == (group,)


def test_what_only_the_search_has_left_is_called_unfinished() -> None:
    program, farm = example("hay_short")
    open_ = tuple(replace(one, proven=False) for one in program.shortages)
    answer = answer_of(replace(program, shortages=open_, hay_to_buy=None), farm, US)
    assert answer.kind == "unfinished"
    assert answer.sentence.startswith("Not finished: ")
    assert "need not be" in answer.sentence


def test_shortages_of_a_farm_without_rules_are_proven() -> None:
    program = plan_season(short_farm(10.0), options=WEEKLY)
    assert program.status == "short"
    assert all(one.proven for one in program.shortages)
    relaxed = relax(problem_of(short_farm(10.0)), str)
    assert relaxed.optimum.objective > 0.0


def test_a_seller_without_animals_is_not_told_that_hay_is_enough() -> None:
    farm = replace(short_farm(60.0), groups=())
    program = plan_season(farm, options=WEEKLY)
    answer = answer_of(program, farm, US)
    assert answer.kind == "no_stock"
    assert answer.sentence.startswith("No stock to feed: ")
    assert "nough" not in answer.sentence


def test_hay_left_that_those_who_are_short_may_not_eat_is_told_apart() -> None:
    program, farm = example("hay_short")
    lot = program.lots[0]
    kept = dataclasses.replace(lot, left_t=40.0, kept_from=("G1",))
    program = replace(program, lots=(kept, *program.lots[1:]))
    found = judge(program)
    assert found.unfit_t == pytest.approx(40.0)
    sentence = answer_of(program, farm, US).sentence
    kept = " 44 tons of hay are left, but those who are short may not have it: see What is short."
    assert sentence.endswith(kept)


def test_hay_at_risk_is_kept_from_pregnant_cows() -> None:
    farm = short_farm(60.0, drought=True)
    lot = replace(farm.lots[0], forage=type(farm.lots[0].forage).SUMMER_ANNUAL)
    cow = replace(farm.groups[0], calving_on=farm.season.end)
    farm = replace(farm, lots=(lot,), groups=(cow,), reports=())
    assert plan_season(farm, options=WEEKLY).lots[0].kept_from == ("cows",)


def test_a_difference_that_is_not_proven_is_no_clear_change() -> None:
    program, farm = example("enough")
    program = replace(program, gap=0.02)
    dearer = replace(program, cost=program.cost + 0.01 * program.cost)
    groups = [HeadCount(farm.groups[0].group_id, 70)]
    said = answer(farm, program, groups, dearer).sentence
    assert "no clear change" in said
    clear = replace(program, cost=1.03 * program.cost)
    assert "no clear change" not in answer(farm, program, groups, clear).sentence
    found = compare([("as it is", program), ("dearer", dearer), ("clearly dearer", clear)])
    console = Console(width=100, record=True, file=StringIO())
    print_comparison(found, farm, console)
    lines = console.export_text().splitlines()
    assert any(line.startswith("dearer costs") and "no clear change" in line for line in lines)
    assert not any(line.startswith("clearly") and "no clear change" in line for line in lines)


def test_the_relief_of_others_is_told_beside_who_is_worse_off() -> None:
    program, farm = example("hay_short")
    short = program.shortages[0]
    others = replace(short, group_id="G2", total=short.total)
    before = replace(program, shortages=(short, others))
    after = replace(
        program, shortages=(replace(short, total=0.2 * short.total), replace(others, total=9e6))
    )
    said = answer(farm, before, [HeadCount("G1", 30)], after).sentence
    assert "leaves Fall cows with calves shorter" in said
    assert "while less is short for Spring cows" in said


def test_bales_of_a_lot_are_those_counted_and_those_put_out() -> None:
    """In December 205 of 210 were told as fed, none left, and deliveries of 210."""
    farm = short_farm(40.0)
    outside = replace(farm.lots[0], storage=Storage.EXPOSED_GROUND, wrap=Wrap.NET)
    program = plan_season(replace(farm, lots=(outside,)), options=WEEKLY)
    (lot,) = program.lots
    put_out = sum(one.bales or 0 for one in program.deliveries if one.source_id == lot.lot_id)
    assert lot.start_bales == farm.lots[0].bales
    assert lot.fed_bales == put_out
    left = lot.start_bales - lot.fed_bales
    detail = answer_of(program, farm, US).detail
    assert (f"{left:.0f} bale" in detail) is (left >= 0.5)


@pytest.mark.parametrize(
    ("left", "nutrient", "kind"),
    [
        (0.4, "nem", "hay_short"),
        (0.6, "nem", "hay_short"),  # a hundredth of sixty tonnes is scraps
        (0.61, "nem", "need_short"),
        (0.0, "ca", "need_short"),
        (0.61, "cp", "hungry"),
    ],
)
def test_a_yard_is_empty_when_a_hundredth_is_left(left: float, nutrient: str, kind: str) -> None:
    lots = [SimpleNamespace(start_t=50.0, left_t=left), SimpleNamespace(start_t=10.0, left_t=0.0)]
    program: Any = SimpleNamespace(lots=lots, hay_to_buy=None)
    short: Any = SimpleNamespace(proven=True, group_id="cows", nutrient=nutrient)
    assert _kind(program, short, frozenset([("cows", "cp")])) == kind


@pytest.mark.parametrize(
    ("nutrient", "bound", "short", "much"),
    [
        ("nem", "at_least", 2.5, True),
        ("nem", "at_least", 2.4, False),
        ("nem", "at_most", 2.5, False),
        ("cp", "at_least", 2.5, False),
    ],
)
def test_a_quarter_of_what_they_live_on_is_much(
    nutrient: str, bound: str, short: float, much: bool
) -> None:
    row: Any = SimpleNamespace(nutrient=nutrient, bound=bound, shortage=short, need=10.0)
    assert _much_is_missing(row) is much
    row.need = row.shortage = 0.0
    assert not _much_is_missing(row)


def test_what_is_near_enough_to_the_least_is_told_as_it() -> None:
    assert [distance_usd(1000.0, gap) for gap in (0.0004, 0.0005)] == [0.0, 0.5]
    assert (distance_usd(-1000.0, 0.01), distance_usd(0.5, 0.01)) == (10.0, 0.01)
