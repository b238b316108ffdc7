"""The weekly list as a helper reads it at the stack, and as a veterinarian reads it after him."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from functools import cache

import pytest

from rickyard.farm import AnimalClass, Caution, Farm, Feed, FeedKind, Group, Package
from rickyard.program.planning import plan_season
from rickyard.program.result import PlanOptions, SeasonProgram
from rickyard.sheets.paper.day import day_list
from rickyard.sheets.paper.week import WeekGroup, WeekList, first_sentence, week_list
from rickyard.sheets.wording import concerns, said_once, subjects
from support.farms import START
from support.season_farms import cows, farm_of, hay, report_on, steers

QUICK = PlanOptions(seconds=0.0, effort=0.0, weekly=True)

EWES = Group("ewes", "Ewes", AnimalClass.EWE, 40, 70.0, calving_on=START + timedelta(days=60))


def planned(farm: Farm) -> tuple[SeasonProgram, Farm]:
    return plan_season(farm, options=QUICK), farm


@cache
def barn() -> tuple[SeasonProgram, Farm]:
    """Return ewes that lamb in week nine and cows, at one safe hay, one with nitrate, one deadly.

    The deadly one is dear to nobody; the mineral is for cattle; the alfalfa is hot.
    """
    safe = hay("safe", 56.0, 11.0, 90.0, 90.0)
    some = hay("some", 58.0, 12.0, 40.0, 20.0)
    deadly = hay("deadly", 58.0, 12.0, 40.0, 20.0)
    hot = replace(hay("hot", 56.0, 11.0, 20.0, 300.0), highest_temperature_c=70.0)
    mineral = Feed("m", "Range mineral", FeedKind.MINERAL, 0.4, least_kg_per_head_day=0.05)
    lots = [
        (safe, report_on(safe, 56.0, 11.0)),
        (some, report_on(some, 58.0, 12.0, 1200.0)),
        (deadly, report_on(deadly, 58.0, 12.0, 4600.0)),
        (hot, report_on(hot, 56.0, 11.0)),
    ]
    herd = replace(cows(START + timedelta(days=150)), feed_every_days=1)
    return planned(farm_of(lots, [EWES, herd], [mineral], weeks=10))


def week(number: int = 0) -> WeekList:
    program, farm = barn()
    return week_list(program, farm, program.start + timedelta(weeks=number))


def of(found: WeekList, name: str) -> WeekGroup:
    (group,) = [one for one in found.groups if one.name == name]
    return group


def said(cautions: tuple[Caution, ...], words: str) -> list[Caution]:
    return [one for one in cautions if words in one.sentence]


def test_ewes_whose_mineral_is_barred_read_of_selenium_on_their_own_list() -> None:
    """The mineral that is kept from them is never put out to them, so the caution was hidden."""
    assert said(of(week(), "Ewes").cautions, "white muscle disease")
    assert not said(of(week(), "Cows").cautions, "white muscle disease")


def test_what_is_kept_from_a_group_and_from_all_stands_on_the_list() -> None:
    """The helper who is a bale short takes the nearest one, and nothing said which not."""
    found = week()
    assert found.never == "Give to no animal here: Deadly (nitrate) and Hot (hot hay)."
    assert of(found, "Ewes").never == "Never give them Range mineral (copper)."
    assert of(found, "Cows").never == ""


def test_a_stack_that_may_burn_stands_on_every_list_whoever_is_fed_from_it() -> None:
    program, _ = barn()
    assert not any(row.source_id == "hot" for row in program.feeding)
    for number in (0, 5):
        (told,) = said(week(number).cautions, "do not walk on the stack")
        assert told.level == "danger"


def test_what_holds_before_birth_is_told_in_its_weeks_alone() -> None:
    """Ketosis of the last six weeks was told in every week, before them and after."""
    told = [bool(said(of(week(n), "Ewes").cautions, "ketosis")) for n in (0, 4, 8)]
    assert told == [False, True, True]


def test_one_box_says_all_of_a_hay_with_nitrate() -> None:
    """Three dangers of one hay said what it holds, how it is begun and how it is put out."""
    program, _ = barn()
    (box,) = [one for one in program.cautions if one.about == "some" and one.level != "note"]
    assert box.level == "danger"
    for words in ("1,200 ppm", "At most 50%", "whole bale", "a third", "veterinarian at once"):
        assert words in box.sentence
    assert {"nitrate-pregnant-half", "nitrate-begin-pregnant"} <= set(box.rules)
    assert set(box.groups) == {"ewes", "cows"}


def test_the_day_has_its_own_amount_and_not_the_mean_of_the_week() -> None:
    """On the first day a third of a share is begun; the season page told the mean of the week."""
    program, farm = barn()
    (first,) = [one for one in day_list(program, farm, program.start) if one.group_id == "cows"]
    mine = {
        one.source_id: one.mass_kg
        for one in program.deliveries
        if one.group_id == "cows" and one.day == program.start and one.bales is None
    }
    mean = sum(
        row.offered_kg / row.days
        for row in program.feeding
        if (row.group_id, row.source_id, row.period) == ("cows", "some", 0)
    )
    assert mine["some"] < 0.7 * mean
    assert f"{mine['some'] / 0.45359237:.0f} lb of Some" in first.hay
    assert first.hay.endswith(", weighed and mixed together")
    assert {"some", "safe"} <= first.sources


def test_a_day_without_a_bale_says_when_the_next_one_comes() -> None:
    safe = hay("safe", 56.0, 11.0, 90.0, 90.0)
    herd = replace(cows(), feed_every_days=3)
    program, farm = planned(farm_of([(safe, report_on(safe, 56.0, 11.0))], [herd], [], weeks=2))
    (first,) = day_list(program, farm, program.start)
    (second,) = day_list(program, farm, program.start + timedelta(days=1))
    assert "bales of Safe" in first.hay
    assert second.hay == "no hay today, next on Thu, Nov 5"
    assert second.feeds == ""


def test_who_reads_a_caution_is_decided_by_ids_and_not_by_words() -> None:
    """A group called "sheep" hid what no group is named in, and "Cows" read what is of Dry cows."""
    program, farm = barn()
    named = replace(farm, groups=(replace(EWES, name="sheep"), *farm.groups[1:]))
    told = Caution("danger", "some", "Feed none to cattle, sheep or goats.", "")
    assert all(concerns(told, named, one.group_id) for one in named.groups)
    mine = replace(told, groups=("ewes",))
    assert [concerns(mine, named, one) for one in ("ewes", "cows")] == [True, False]
    about = replace(told, about="cows")
    assert [concerns(about, named, one) for one in ("ewes", "cows")] == [False, True]
    several = replace(told, about="", sources=("safe", "some"))
    assert subjects(several, program, named) == {"safe", "some"}
    assert subjects(replace(several, sources=("deadly",)), program, named) == frozenset()
    names = ("Mares", "Ponies")
    both = [replace(about, about=one, sentence=f"Watch {one}.", level="note") for one in names]
    pair = replace(farm, groups=tuple(replace(EWES, group_id=one, name=one) for one in names))
    (once,) = said_once(both, pair)
    assert (once.sentence, once.groups) == ("Watch Mares and Ponies.", names)


def test_a_rise_is_cautioned_of_while_it_lasts_and_said_once() -> None:
    """Corn that had been level since December was told in March to be stepped up."""
    corn = Feed(
        "corn", "Corn", FeedKind.GRAIN, 0.01, dm_pct=88.0, tdn_pct=88.0, cp_pct=9.0, ndf_pct=10.0,
        ca_pct=0.02, p_pct=0.3,
    )  # fmt: skip
    poor = hay("poor", 48.0, 9.0, 80.0, 300.0)
    program, farm = planned(farm_of([(poor, report_on(poor, 48.0, 9.0))], [cows()], [corn], 8))
    rises = [one for one in program.change_overs if one.to_source == "corn"]
    for number in range(8):
        start = program.start + timedelta(weeks=number)
        days = {start + timedelta(days=one) for one in range(7)}
        rising = any(
            one.start + timedelta(days=n) in days for one in rises for n in range(one.days)
        )
        (group,) = week_list(program, farm, start).groups
        assert bool(said(group.cautions, "Step Corn up")) is rising
        assert not any("acidosis" in one for one in group.says)
    assert not rising


def test_a_small_bale_is_fed_by_the_flake() -> None:
    """A donkey was put down a whole bale on Tuesday and nothing until the Tuesday after.

    A bale that lasts her more than a week is not put out at all: every day says what she gets.
    """
    squares = replace(
        hay("squares", 56.0, 10.0, 5.0, 90.0), package=Package.SMALL_SQUARE, bale_weight_kg=25.0
    )
    donkey = Group("d", "Donkey", AnimalClass.DONKEY, 1, 180.0)
    program, farm = planned(farm_of([(squares, report_on(squares, 56.0, 10.0))], [donkey], []))
    (group,) = week_list(program, farm, program.start).groups
    (line,) = group.lines
    assert line.unit == "lb a day, forked from an opened bale"
    assert len(set(line.cells)) == 1
    daily = program.feeding[0].offered_kg / program.feeding[0].days * 2.2046
    assert float(line.cells[0]) == pytest.approx(daily, abs=0.1)
    program, farm = planned(replace(farm, groups=(replace(donkey, head=2),)))
    (group,) = week_list(program, farm, program.start).groups
    (flake,) = [one for one in group.says if "by the flake" in one]
    assert flake.startswith("Feed Squares by the flake, about ")


@pytest.mark.parametrize(
    ("text", "first"),
    [("One.", "One."), ("From 1.5 lb. Two. Three.", "From 1.5 lb."), ("No", "No.")],
)
def test_the_first_sentence_ends_with_one_full_stop(text: str, first: str) -> None:
    assert first_sentence(text) == first


def test_of_a_mineral_for_cattle_nothing_is_said_where_nobody_is_hurt_by_it() -> None:
    mineral = Feed("m", "Range mineral", FeedKind.MINERAL, 0.4, least_kg_per_head_day=0.05)
    lot = hay("lot", 56.0, 11.0, 80.0, 100.0)
    program, _ = planned(farm_of([(lot, report_on(lot, 56.0, 11.0))], [steers()], [mineral]))
    assert not said(program.cautions, "Keep sheep away")


def test_who_gets_hay_with_a_warning_that_stands_under_others_is_told_where() -> None:
    program, farm = barn()
    first, second = (one.name for one in farm.groups[:2])
    lot = farm.lots[0]
    warned = Caution("warning", lot.lot_id, f"Feed {lot.name} in a net.", "", sources=(lot.lot_id,))
    found = week_list(replace(program, cautions=(warned,)), farm, program.start)
    both = [one.name for one in found.groups if any(line.flag == lot.lot_id for line in one.lines)]
    assert both[:2] == [first, second]
    assert [one.cautions for one in found.groups if one.name == first] == [(warned,)]
    told = of(found, second).says
    assert f"The warning of {lot.name} stands under {first}: read it before" in " ".join(told)
