"""What is said once it is known who eats what: each rule just inside and just outside its limit."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from rickyard.display import Display
from rickyard.farm import AnimalClass, Farm, Feed, FeedKind, Group
from rickyard.program.feedout import diet_cautions
from rickyard.program.feedout.diet_cautions import (
    GRAVEST_FIRST,
    _grain,
    _grazing,
    _losing,
    _minerals,
    _nitrate,
    _of_rules,
    _urea_with_nitrate,
)
from rickyard.program.feedout.transitions import change_cautions
from support.by_hand import one
from support.farms import START
from support.rows import each_row
from support.season_farms import cows, farm_of, hay, report_on

#: Two groups, two lots and two feeds, two weeks.
NOBODY = np.zeros((2, 4, 2))


def value(name: str, kind: str = "lot", **what: Any) -> Any:
    usual = {"nitrate_no3n_ppm": None, "npn_cp_pct": None, "is_forage": kind == "lot"}
    return one(source_id=name, name=name, kind=kind, **{**usual, **what})


def rule(
    group: str, source: str, demand: str, hazard: str = "nitrate", level: str = "danger"
) -> Any:
    made = one(rule_id=f"{demand} {source}", hazard=hazard, demand=demand, level=level)
    made.amount, found = 50.0, one(finding="nitrate_no3n", value=1800.0, said={})
    return one(group_id=group, source_id=source, rule=made, found=found, bars=demand == "none")


def problem(*bound: Any, values: Any = None, **of_needs: Any) -> Any:
    usual = [value("a"), value("b"), value("c", "feed"), value("d", "feed")]
    groups = [one(group_id="g", name="Cows"), one(group_id="h", name="Bulls")]
    return one(
        sources=one(values=values or usual, bound=bound),
        needs=one(groups=groups, full_weight_kg=np.full((2, 2), 500.0), **of_needs),
        water_no3n_mg=0.0,
    )


def eats(*cells: tuple[int, int, int, float]) -> Any:
    amounts = NOBODY.copy()
    for group, source, week, kg in cells:
        amounts[group, source, week] = kg
    return amounts


def test_the_gravest_come_first() -> None:
    assert sorted(["note", "danger", "warning"], key=GRAVEST_FIRST.index) == [*GRAVEST_FIRST]


@pytest.mark.parametrize(
    ("demand", "source", "fed", "told"),
    [
        ("none", "a", False, True),
        ("keep", "", False, True),
        ("keep", "c", False, True),
        ("keep", "a", False, False),
        ("keep", "a", True, True),
        ("share", "a", False, False),
        ("share", "c", False, False),
        ("share", "c", True, True),
    ],
)
def test_a_rule_is_told_where_it_bars_or_is_of_what_is_fed(
    demand: str, source: str, fed: bool, told: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(diet_cautions, "rule_cautions", lambda farm, bound: tuple(bound))
    bound = rule("g", source, demand)
    eaten = eats((0, "abcd".index(source or "a"), 1, 1.0)) if fed else NOBODY
    farm: Any = None
    assert _of_rules(farm, problem(bound), eaten) == ((bound,) if told else ())


def test_what_does_not_kill_is_told_only_to_those_who_are_fed_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(diet_cautions, "rule_cautions", lambda farm, bound: tuple(bound))
    bound, farm = rule("g", "c", "keep", level="warning"), one()
    assert _of_rules(farm, problem(bound), NOBODY) == ()
    assert _of_rules(farm, problem(bound), eats((0, 2, 1, 1.0))) == (bound,)


BEGUN = (rule("g", "a", "share"), rule("g", "a", "begin"))


@each_row(
    ("bound", "eater", "said"),
    [
        (BEGUN, 0, True),
        (BEGUN, 1, False),
        (BEGUN, None, False),
        (BEGUN[:1], 0, False),
        (BEGUN[1:], 0, False),
        ((rule("g", "a", "share", "mould"), BEGUN[1]), 0, False),
        ((rule("h", "a", "share"), BEGUN[1]), 1, False),
        ((rule("g", "b", "share"), BEGUN[1]), 0, False),
    ],
)
def test_a_share_that_is_begun_by_thirds_is_told_to_those_who_get_it(
    bound: Any, eater: int | None, said: bool
) -> None:
    found = _nitrate(problem(*bound), NOBODY if eater is None else eats((eater, 0, 1, 2.0)))
    assert len(found) == said
    if said:
        assert "At most 50% of the dry matter for Cows, weighed out" in found[0].sentence


def test_the_rules_of_a_share_are_named_and_no_others() -> None:
    others = (rule("g", "a", "keep"), rule("h", "a", "begin x"), rule("g", "b", "begin"))
    (found,) = _nitrate(problem(*BEGUN, *others), eats((0, 0, 0, 2.0), (1, 0, 0, 2.0)))
    assert found.rules == ("share a", "begin a")
    both = (*BEGUN, rule("h", "a", "share"), rule("h", "a", "begin"))
    (found,) = _nitrate(problem(*both), eats((0, 0, 0, 2.0), (1, 0, 0, 2.0)))
    assert "50% of the dry matter for Cows and Bulls, weighed" in found.sentence


@pytest.mark.parametrize(
    ("ppm", "eaten", "water_mg", "said"),
    [
        ([1000.0, 200.0], [(0, 3.0), (1, 1.0)], 0.0, "at most 800 ppm"),
        # Corn counts as none, and an untested hay that is not eaten does not matter.
        ([1000.0, None], [(0, 3.0), (2, 1.0)], 0.0, "at most 750 ppm"),
        ([1000.0, None], [(0, 3.0), (1, 1.0)], 0.0, None),
        ([1000.0, 200.0], [(0, 3.0), (1, 1.0)], 400.0, "at most 900 ppm"),
    ],
)
def test_the_whole_ration_with_nitrate_is_judged_where_all_of_it_is_known(
    ppm: Any, eaten: Any, water_mg: float, said: str | None
) -> None:
    values = [value("a", nitrate_no3n_ppm=ppm[0]), value("b", nitrate_no3n_ppm=ppm[1])]
    season = problem(*BEGUN, values=[*values, value("c", "feed"), value("d", "feed")])
    season.water_no3n_mg = np.full((2, 2), water_mg)
    # In the week before it is a smaller part of what they eat.
    before = [(0, 0, 0, 1.0), (0, 3, 0, 99.0)]
    amounts = eats(*before, *((0, source, 1, kg) for source, kg in eaten))
    (found,) = _nitrate(season, amounts)
    if said is None:
        assert "whole ration" not in found.sentence
    else:
        counted = "counted" if water_mg else "not counted"
        assert f"{said} nitrate-nitrogen, what the water brings {counted}." in found.sentence


@each_row(
    ("npn", "eaten", "said"),
    [
        (30.0, [(0, 0, 1, 2.0), (0, 2, 1, 1.0)], "Cows get c, with urea, beside a,"),
        (30.0, [(0, 0, 0, 2.0), (0, 2, 1, 1.0)], None),
        (30.0, [(0, 1, 1, 2.0), (0, 2, 1, 1.0)], None),
        (30.0, [(1, 0, 1, 2.0), (1, 2, 1, 1.0)], None),
        (30.0, [(0, 0, 1, 2.0), (0, 3, 1, 1.0)], None),
        (0.0, [(0, 0, 1, 2.0), (0, 2, 1, 1.0)], None),
        (None, [(0, 0, 1, 2.0), (0, 2, 1, 1.0)], None),
    ],
)
def test_urea_is_warned_of_in_the_weeks_of_hay_with_nitrate(
    npn: float | None, eaten: Any, said: str | None
) -> None:
    values = [value("a"), value("b"), value("c", "feed", npn_cp_pct=npn), value("d", "feed")]
    season = problem(rule("g", "a", "begin"), rule("g", "b", "share"), values=values)
    found = [each.sentence for each in _urea_with_nitrate(season, eats(*eaten))]
    assert bool(found) == bool(said)
    assert all(each.startswith(said or "") for each in found)


def farm_with(*feeds: Feed) -> Farm:
    lots = [hay(name, 55.0, 9.0, 50.0, 60.0) for name in "ab"]
    reports = [(lot, report_on(lot, 55.0, 9.0)) for lot in lots]
    return farm_of(reports, [cows()], [*feeds])


@pytest.mark.parametrize(
    ("kind", "kg", "said"),
    [
        (FeedKind.GRAIN, 1.25, False),
        (FeedKind.GRAIN, 1.25 + 5e-10, False),
        (FeedKind.GRAIN, 1.25 + 2e-9, True),
        (FeedKind.SUPPLEMENT, 9.0, False),
    ],
)
def test_grain_is_much_above_a_quarter_percent_of_weight(
    kind: FeedKind, kg: float, said: bool
) -> None:
    farm = farm_with(Feed("d", "Other", FeedKind.MINERAL, 0.2), Feed("c", "Corn", kind, 0.2))
    found = [each.sentence for each in _grain(farm, problem(), eats((1, 3, 1, kg)))]
    assert [each.partition(":")[0] for each in found] == (
        ["Corn is over 0.25% of body weight for Bulls"] if said else []
    )


def test_what_is_grazed_is_told_of_by_its_dangers() -> None:
    fescue = Feed("c", "Tall fescue", FeedKind.GRAZING, 0.02)
    farm = farm_with(fescue, Feed("d", "Corn", FeedKind.GRAIN, 0.2))
    grazed, corn = eats((0, 2, 1, 5.0)), eats((0, 3, 1, 5.0))
    told = _grazing(farm, problem(), grazed)
    assert _grazing(farm, problem(), corn) == _grazing(farm, problem(), NOBODY) == []
    less = _grazing(farm, problem(rule("g", "c", "watch", "endophyte")), grazed)
    assert _grazing(farm, problem(rule("g", "c", "watch")), grazed) == told
    assert len(less) == len(told) - 1


@each_row(
    ("kind", "ppm", "fed", "hazard", "said"),
    [
        (FeedKind.MINERAL, None, True, "nitrate", True),
        (FeedKind.MINERAL, 15.0, True, "nitrate", False),
        (FeedKind.MINERAL, 15.1, True, "nitrate", True),
        (FeedKind.MINERAL, None, False, "nitrate", False),
        (FeedKind.MINERAL, None, True, "copper", False),
        (FeedKind.SUPPLEMENT, 99.0, True, "nitrate", False),
    ],
)
def test_minerals_that_may_hold_copper_are_kept_from_sheep(
    kind: FeedKind, ppm: float | None, fed: bool, hazard: str, said: bool
) -> None:
    farm = farm_with(Feed("c", "Range mineral", kind, 0.8, copper_ppm=ppm))
    eaten = eats((0, 2, 1, 0.1)) if fed else NOBODY
    found = _minerals(farm, problem(rule("g", "c", "watch", hazard)), eaten)
    assert found == [], "there are neither sheep nor llamas"
    with_ewes = replace(farm, groups=(*farm.groups, Group("e", "Ewes", AnimalClass.EWE, 9, 70.0)))
    found = _minerals(with_ewes, problem(rule("g", "c", "watch", hazard)), eaten)
    assert [each.sentence[:37] for each in found] == (
        ["Keep sheep away from Range mineral: t"] if said else []
    )


def test_losing_weight_is_told_from_the_first_week_of_it() -> None:
    gains = [None, 0.2, -0.1, 0.0]
    cells: Any = [
        one(group_id="cows", start=START + timedelta(days=7 * week), expected_gain_kg_per_day=gain)
        for week, gain in enumerate(gains)
    ]
    (found,) = _losing(farm_with(), cells, Display("us"))
    assert Display("us").day_text(cells[2].start) in found.sentence
    assert _losing(farm_with(), cells[:2], Display("us")) == []
    assert len(_losing(farm_with(), cells[3:], Display("us"))) == 1, "none is not what they need"


@pytest.mark.parametrize(
    ("tdn", "cp", "said"),
    [(3.0, 0.0, False), (3.1, 0.0, True), (-3.1, 0.0, True), (0.0, 3.0, False), (0.0, 3.1, True)],
)
def test_a_diet_that_changes_by_more_than_three_points_is_told_with_its_week_and_feeds(
    tdn: float, cp: float, said: bool
) -> None:
    """Every list of the season said so, of no week and no feed."""
    farm = farm_of([], [cows()], [])
    group_id = farm.groups[0].group_id
    row = SimpleNamespace(group_id=group_id, eaten_kg_dm_per_head_day=8.0)
    weeks = [START + timedelta(days=7 * week) for week in range(3)]
    program: Any = SimpleNamespace(
        sources=[
            SimpleNamespace(source_id="a", name="Old", tdn_pct=50.0, cp_pct=10.0),
            SimpleNamespace(source_id="b", name="New", tdn_pct=50.0 + tdn, cp_pct=10.0 + cp),
        ],
        periods=[SimpleNamespace(start=day, days=7) for day in weeks],
        change_overs=[],
        feeding=[
            SimpleNamespace(**vars(row), period=period, source_id=source)
            for period, source in enumerate("aab")
        ],
    )
    found = change_cautions(program, farm)
    assert [one.about for one in found] == ([group_id] if said else [])
    if not said:
        return
    day = Display("us").day_text(weeks[2])
    assert f"on {day} (less Old, more New)" in found[0].sentence
    assert change_cautions(program, farm, weeks[:2]) == ()
    assert len(change_cautions(program, farm, weeks[2:])) == 1
    program.change_overs = [SimpleNamespace(group_id=group_id, start=weeks[2])]
    assert change_cautions(program, farm) == (), "a change of hay tells of it already"
