"""What holds for several groups is said once with their names, and plain minerals are no danger."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from types import SimpleNamespace

import numpy as np
import pytest

from rickyard.display import Display
from rickyard.farm import AnimalClass, Farm, Feed, FeedKind, Group
from rickyard.forage.hazards import lot_hazards
from rickyard.forage.plausibility import lot_profile
from rickyard.program.feedout.transitions import _raises
from rickyard.program.planning import plan_season
from rickyard.program.result import HayToBuy, PlanOptions
from rickyard.safety import bindings
from rickyard.sheets.wording import answer_of
from rickyard.stock.herd import cautions, group_needs
from rickyard.stock.herd.outcome import _calving_cautions
from support.farms import START, analyte
from support.rows import each_row
from support.season_farms import cows, farm_of, hay, report_on
from support.weekly import WEEKLY

HORSES = [
    Group(name, name.title(), kind, 2, weight_kg=500.0)
    for name, kind in (
        ("mares", AnimalClass.MARE),
        ("geldings", AnimalClass.HORSE),
        ("colts", AnimalClass.YOUNG_HORSE),
    )
]


def stable() -> Farm:
    lot = hay("timothy", 56.0, 10.0, 60.0, 90.0)
    report = report_on(lot, 56.0, 10.0)
    report = replace(
        report, analytes=(*report.analytes, analyte("starch", 2.0), analyte("wsc", 12.0))
    )
    return farm_of([(lot, report)], HORSES, [])


def test_what_holds_for_all_horses_is_said_once_and_names_them() -> None:
    told = [one.sentence for one in cautions(stable()) if "prone to laminitis" in one.sentence]
    assert len(told) == 2
    assert all("any of Mares, Geldings and Colts prone to laminitis" in one for one in told)
    forage = [one.sentence for one in cautions(stable()) if "of body weight as dry" in one.sentence]
    assert len(forage) == 1


def test_what_holds_for_one_group_is_about_that_group() -> None:
    farm = replace(stable(), groups=(HORSES[0],))
    told = [one for one in cautions(farm) if "prone to laminitis" in one.sentence]
    assert {one.about for one in told} == {"mares"}


@each_row(
    ("name", "kept"),
    [
        ("Limestone", False), ("Feed-grade calcium carbonate", False), ("White salt", False),
        ("Trace mineral salt", True), ("Limestone and mineral mix", True), ("Range mineral", True),
    ],
)  # fmt: skip
def test_only_what_may_be_mixed_is_kept_from_sheep_for_its_copper(name: str, kept: bool) -> None:
    feed = Feed("m", name, FeedKind.MINERAL, 0.4)
    ewes = Group("ewes", "Ewes", AnimalClass.EWE, 40, weight_kg=70.0)
    farm = farm_of([], [ewes], [feed])
    rules = {one.rule.rule_id for one in bindings(farm) if one.source_id == "m"}
    assert ("copper-unknown" in rules) is kept
    rich = replace(farm, feeds=(replace(feed, copper_ppm=900.0),))
    rules = {one.rule.rule_id for one in bindings(rich) if one.source_id == "m"}
    assert "copper-feed-sheep" in rules


def test_no_part_of_a_bale_is_advised_to_be_bought() -> None:
    lot = hay("lot", 55.0, 11.0, 8.0, 100.0)
    farm = farm_of([(lot, report_on(lot, 55.0, 11.0))], [cows()], [], weeks=8)
    program = plan_season(farm, options=WEEKLY)
    assert program.hay_to_buy is not None
    for kg, said in ((90.0, "Buy about one bale of hay"), (1000.0, "Buy 1.1 tons of hay")):
        little = replace(program, hay_to_buy=HayToBuy(kg, 88.0, 55.0, 11.0, checked=True))
        assert said in answer_of(little, farm, Display("us")).sentence


def test_after_the_hay_is_bought_no_more_is_advised() -> None:
    lot = hay("lot", 55.0, 11.0, 8.0, 100.0)
    farm = farm_of([(lot, report_on(lot, 55.0, 11.0))], [cows()], [], weeks=8)
    buy = plan_season(farm, options=WEEKLY).hay_to_buy
    assert buy is not None
    more = hay("more", buy.tdn_pct, buy.cp_pct, buy.as_fed_kg / 1000.0, 100.0)
    again = replace(
        farm,
        lots=(*farm.lots, more),
        reports=(*farm.reports, report_on(more, buy.tdn_pct, buy.cp_pct)),
    )
    assert plan_season(again, options=WEEKLY).hay_to_buy is None
    assert again.season.start == START


def test_fescue_that_is_grazed_is_told_of_once() -> None:
    """A rule named those who graze it and what to watch, and a second caution named nobody."""
    grass = Feed(
        "grass", "Stockpiled fescue", FeedKind.GRAZING, 0.01, dm_pct=45.0, tdn_pct=58.0,
        cp_pct=12.0, ndf_pct=58.0, ca_pct=0.4, p_pct=0.3,
    )  # fmt: skip
    lot = hay("lot", 55.0, 11.0, 80.0, 100.0)
    farm = farm_of([(lot, report_on(lot, 55.0, 11.0))], [cows()], [grass])
    program = plan_season(farm, options=PlanOptions(seconds=0.0, effort=0.0, weekly=True))
    told = [one for one in program.cautions if "endophyte" in one.sentence]
    assert [one.rules for one in told] == [("fescue-unknown-others",)]
    assert any("ice and deep snow" in one.sentence for one in program.cautions)


def test_days_of_a_rise_are_told_once() -> None:
    """One caution said ten days, and another 10 to 14, of the same corn."""
    corn = Feed(
        "corn", "Corn", FeedKind.GRAIN, 0.01, dm_pct=88.0, tdn_pct=88.0, cp_pct=9.0, ndf_pct=10.0,
        ca_pct=0.02, p_pct=0.3,
    )  # fmt: skip
    lot = hay("lot", 48.0, 9.0, 80.0, 300.0)
    farm = farm_of([(lot, report_on(lot, 48.0, 9.0))], [cows()], [corn], weeks=6)
    program = plan_season(farm, options=PlanOptions(seconds=0.0, effort=0.0, weekly=True))
    said = [one.sentence for one in program.cautions if "Corn" in one.sentence]
    assert any("0.25%" in one for one in said)
    assert sum("days" in one and "mix old and new" not in one for one in said) == 1


def test_steps_of_a_feed_are_told_at_length_once_for_a_group() -> None:
    """A rise of two days repeated the whole sentence of the first, on and on."""
    corn = Feed("corn", "Corn", FeedKind.GRAIN, 0.01, dm_pct=88.0, tdn_pct=88.0, cp_pct=9.0)
    asked = {"corn": np.repeat([10.0, 30.0, 60.0], [3, 3, 3]) * np.linspace(0.5, 1.0, 9)}
    days = SimpleNamespace(
        group=cows(), asked=asked, weight_kg=np.full(9, 550.0), day=lambda n: START
    )
    told = list(_raises(farm_of([], [cows()], [corn]), corn, days))  # type: ignore[arg-type]
    assert len(told) >= 1
    assert sum("acidosis" in one.sentence for one in told) == 1


def test_the_sugar_of_one_hay_is_told_once_to_those_it_can_hurt() -> None:
    """A note on the hay and a warning on the horses said the same figure."""
    farm = replace(stable(), groups=tuple(HORSES[:2]))
    program = plan_season(farm, options=PlanOptions(seconds=0.0, effort=0.0, weekly=True))
    said = [one.sentence for one in program.cautions if "NSC" in one.sentence]
    assert len(said) == 1
    assert "Mares and Geldings" in said[0]
    assert "other hay" in said[0]


def test_ewes_whose_mineral_is_barred_are_told_to_lack_selenium() -> None:
    """Only a table showed 0 %."""
    mineral = Feed("m", "Range mineral", FeedKind.MINERAL, 0.4)
    lot = hay("lot", 58.0, 12.0, 80.0, 100.0)
    ewes = Group("ewes", "Ewes", AnimalClass.EWE, 40, 70.0, calving_on=START + timedelta(days=30))
    farm = farm_of([(lot, report_on(lot, 58.0, 12.0))], [ewes], [mineral], weeks=4)

    def said(one: Farm) -> list[str]:
        program = plan_season(one, options=PlanOptions(seconds=0.0, effort=0.0, weekly=True))
        return [each.sentence for each in program.cautions if "white muscle" in each.sentence]

    (told,) = said(farm)
    assert "None of Range mineral goes to Ewes" in told
    assert "selenium or vitamin E" in told
    open_ewes = replace(farm, groups=(replace(ewes, calving_on=None),))
    assert said(open_ewes) == []


def test_nitrate_is_told_of_sheep_and_goats_as_of_cattle() -> None:
    """It spoke of cows and heifers, and of other cattle, on a farm of ewes and does."""
    lot = hay("lot", 55.0, 11.0, 80.0, 100.0)
    for no3n_ppm in (1200.0, 2400.0):
        report = report_on(lot, 55.0, 11.0, no3n_ppm)
        (told,) = [
            one for one in lot_hazards(lot, lot_profile(lot, [report])) if "nitrate" in one.key
        ]
        assert "goats" in told.caution("lot").sentence


@pytest.mark.parametrize(("score", "told"), [(4.97, 0), (4.94, 1), (5.0, 0)])
def test_no_score_is_told_to_be_under_itself(score: float, told: int) -> None:
    """It said: would calve at condition 5.0, under 5."""
    herd = Group("c", "Cows", AnimalClass.COW, 20, 550.0, calving_on=START + timedelta(days=2))
    days = [START + timedelta(days=one) for one in range(5)]
    found = _calving_cautions(herd, group_needs(herd, days), np.full(5, score), days)
    assert len(found) == told
    assert all(one.end == herd.calving_on for one in found), "after calving it is too late"
