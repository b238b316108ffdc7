"""The second look finds nothing just inside each of its limits, and a breach just outside.

Amounts are laid down by hand: no program is planned. The limits are those of print, as the rooms
that hold them name their sources.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from rickyard.farm import (
    AnimalClass,
    Farm,
    Feed,
    FeedKind,
    Group,
    StatedNeed,
    WeatherRow,
)
from rickyard.program.audit import ceilings
from rickyard.program.audit import fed as fed_again
from rickyard.program.audit import needs as needs_again
from rickyard.program.audit.ceilings import _claimed, ceiling_breaches
from rickyard.program.audit.fed import feeding_breaches, most_kg
from rickyard.program.audit.needs import need_breaches
from rickyard.program.audit.use import _asked_for, unkept_wishes
from rickyard.program.audit.view import AuditView
from rickyard.program.result.options import Wish
from rickyard.program.result.result import (
    FeedingRow,
    SeasonProgram,
    Shortage,
    WishOutcome,
)
from support.farms import START
from support.laid_programs import laid_program
from support.rows import each_row
from support.season_farms import farm_of, hay, report_on

DAY = timedelta(days=1)
MEAL = Feed(
    *("meal", "Meal", FeedKind.SUPPLEMENT, 0.3),
    dm_pct=90.0,
    tdn_pct=75.0,
    cp_pct=20.0,
    ca_pct=0.5,
    p_pct=0.4,
)
CORN = replace(MEAL, feed_id="corn", name="Corn", kind=FeedKind.GRAIN, cp_pct=9.0)


def stock(kind: AnimalClass = AnimalClass.COW, kg: float = 560.0, **changes: Any) -> Group:
    grown = {"mature_weight_kg": 600.0, "age_months": 14.0, "finish_weight_kg": 560.0}
    usual = {**grown, "gain_kg_per_day": 0.5, "feeding_loss_pct": 0.0, **changes}
    return Group("g", "Stock", kind, 10, weight_kg=kg, **usual)


def farm_with(group: Group, *feeds: Feed, weeks: int = 2) -> Farm:
    lot = hay("lot", 55.0, 9.0, 60.0, 60.0)
    return farm_of([(lot, report_on(lot, 55.0, 9.0))], [group], list(feeds), weeks=weeks)


#: Programs that were laid down, with their farms.
_LAID: dict[int, tuple[Farm, SeasonProgram]] = {}


def fed(farm: Farm, amounts: dict[str, float], period: int = 0, **of_meal: Any) -> AuditView:
    """Lay down what a head eats in one period, and change what the meal holds."""
    if id(farm) not in _LAID:
        _LAID[id(farm)] = farm, laid_program(farm, 1)
    program = _LAID[id(farm)][1]
    one = program.periods[period]
    group = farm.groups[0]
    sources = {value.source_id: value for value in program.sources}
    rows = tuple(
        FeedingRow(
            *(group.group_id, one.index, one.start, one.days, name, sources[name].kind, kg),
            offered_kg=kg * group.head * one.days / (sources[name].dm_pct / 100.0),
            bales=None,
        )
        for name, kg in amounts.items()
    )
    changed = tuple(
        replace(value, **of_meal) if value.source_id == "meal" else value
        for value in program.sources
    )
    return AuditView(replace(program, feeding=rows, sources=changed), farm, farm.needs)


def told(breaches: Iterator[Any], word: str) -> bool:
    return any(word in one.what for one in breaches)


def ends_at(limit: float, farm: Farm, word: str, base: dict[str, float], **of_meal: Any) -> None:
    """Feed a little less and a little more than the limit of the feed that comes last."""
    name = list(base)[-1]
    for times, broken in ((1.0 - 1e-4, False), (1.0, False), (1.0 + 1e-4, True)):
        look = fed(farm, {**base, name: limit * times}, **of_meal)
        assert told(ceiling_breaches(look), word) is broken, (word, limit * times)


@pytest.mark.parametrize(
    ("group", "own", "limit"),
    [
        (stock(), None, 0.005 * 560.0),
        (stock(), 4.0, 4.0 * 0.9),
        (stock(), 1.0, 0.005 * 560.0),
        (stock(AnimalClass.EWE, 80.0), 4.0, 0.005 * 80.0),
        (stock(AnimalClass.HORSE, 500.0), 9.0, 2.0 * 0.005 * 500.0),
    ],
)
def test_grain_by_the_meal_and_by_what_is_stated(
    group: Group, own: float | None, limit: float
) -> None:
    """Half a percent of weight a meal; cattle get more where the farm says so."""
    farm = farm_with(group, replace(CORN, most_kg_per_head_day=own))
    ends_at(limit, farm, ", grain,", {"lot": 5.0, "corn": limit})


def test_starch_of_horses_by_the_meal() -> None:
    """One gram a kilogram of weight a meal, two meals; forage does not count."""
    farm = farm_with(stock(AnimalClass.HORSE, 500.0), MEAL)
    ends_at(
        2.0 * 0.001 * 500.0 / 0.4, farm, ", starch,", {"lot": 5.0, "meal": 1.0}, starch_pct=40.0
    )


@pytest.mark.parametrize(("name", "share"), [("Meal", 0.06), ("Whole soybean", 0.04)])
def test_fat_of_what_is_known_and_less_beside_oilseed(name: str, share: float) -> None:
    """Six percent of dry matter, four where oilseed may be fed."""
    farm = farm_with(stock(), replace(MEAL, name=name), CORN)
    lot = fed(farm, {"lot": 1.0}).sources["lot"].fat_pct
    assert lot is not None
    limit = 8.0 * (share - lot / 100.0) / (0.30 - share)
    ends_at(limit, farm, ", fat,", {"lot": 8.0, "meal": limit}, fat_pct=30.0)


def test_urea_of_the_protein_and_of_the_diet() -> None:
    """A third of the protein; one percent of dry matter as urea of 281 % protein."""
    farm = farm_with(stock(), MEAL)
    lot = fed(farm, {"lot": 1.0}).sources["lot"].cp_pct
    third = 8.0 * lot / (3.0 * 30.0 - 40.0)
    ends_at(third, farm, ", npn,", {"lot": 8.0, "meal": third}, cp_pct=40.0, npn_cp_pct=30.0)
    share = 0.01 * 2.81 * 100.0
    urea = 8.0 * share / (30.0 - share)
    ends_at(urea, farm, ", urea,", {"lot": 8.0, "meal": urea}, cp_pct=60.0, npn_cp_pct=30.0)


@pytest.mark.parametrize(
    ("group", "hay_kg", "limit"),
    [
        (stock(), 30.0, 0.005 * 560.0),
        (stock(AnimalClass.STOCKER, 300.0), 30.0, 0.0033 * 300.0),
        (stock(), 2.0, 0.15 * 2.0 / 0.85),
    ],
)
def test_whole_cottonseed_of_weight_and_of_the_diet(
    group: Group, hay_kg: float, limit: float
) -> None:
    farm = farm_with(group, replace(MEAL, name="Whole cottonseed"))
    limit *= fed(farm, {}).cells["g", 0].full_weight_kg / group.weight_kg if hay_kg > 2.0 else 1.0
    ends_at(limit, farm, ", whole cottonseed,", {"lot": hay_kg, "meal": limit}, fat_pct=1.0)


def test_copper_of_sheep_of_what_is_known() -> None:
    """Fifteen parts per million for sheep."""
    farm = farm_with(stock(AnimalClass.EWE, 80.0), MEAL, CORN)
    view = fed(farm, {"lot": 1.0})
    known = view.sources["lot"].copper_ppm
    for ppm, broken in ((14.999, False), (15.0, False), (15.001, True)):
        ppm += 0.0 if known is None else 2.0 * (15.0 - known)
        look = fed(farm, {"lot": 1.0, "meal": 0.5}, copper_ppm=ppm)
        assert told(ceiling_breaches(look), ", copper,") is broken


@pytest.mark.parametrize(
    ("fahrenheit", "share"),
    [(20.0, 8.0), (40.0, 8.0), (55.0, 9.0), (70.0, 10.0), (80.0, 14.0), (90.0, 18.0), (99.0, 18.0)],
)
def test_sulfur_of_feed_and_of_water_by_the_weather(fahrenheit: float, share: float) -> None:
    """Colorado State: a third of sulfate; water 8, 10 and 18 % of weight; 0.4 % of dry matter."""
    celsius = (fahrenheit - 32.0) / 1.8
    farm = farm_with(stock(AnimalClass.BULL, 900.0), MEAL)
    days = [START + one * DAY for one in range(-40, 20)]
    sulfate = 1000.0
    farm = replace(
        farm,
        weather=tuple(WeatherRow(one, False, celsius) for one in days),
        season=replace(farm.season, water_sulfate_ppm=sulfate),
    )
    view = fed(farm, {"lot": 1.0})
    grams = share / 100.0 * view.cells["g", 0].full_weight_kg * sulfate / 3.0 / 1000.0
    known = view.sources["lot"].sulfur_pct
    assert known is not None
    kg = 12.0
    pct = (4.0 * (5.0 + kg) - grams - 10.0 * 5.0 * known) / kg / 10.0
    for more, broken in ((-0.003, False), (0.003, True)):
        look = fed(farm, {"lot": 5.0, "meal": kg}, sulfur_pct=pct + more)
        bare = replace(look.program, needs=(), shortages=())
        assert told(ceiling_breaches(AuditView(bare, farm)), "sulfur, period 0") is broken


def test_too_much_sulfur_must_be_named_for_its_group_and_days() -> None:
    farm = farm_with(stock(AnimalClass.BULL, 900.0), MEAL)
    look = fed(farm, {"meal": 10.0}, sulfur_pct=0.5)
    cell = look.cells["g", 0]
    row = next(one for one in look.program.needs if one.period == 0)
    row = replace(row, nutrient="sulfur", need=40.0, supplied=50.0, shortage=10.0)
    short = Shortage("g", cell.start, cell.start + 7 * DAY, "sulfur", "g", 10.0, 700.0, "")

    def said(*shortages: Shortage, **changed: float) -> list[str]:
        program = replace(look.program, needs=(replace(row, **changed),), shortages=shortages)  # type: ignore[arg-type]
        return [
            one.what.rpartition(", ")[2]
            for one in ceiling_breaches(AuditView(program, farm))
            if "sulfur" in one.what
        ]

    assert said(short) == []
    assert said() == ["too much that is not named"]
    assert said(replace(short, start=cell.start + DAY)) == ["too much that is not named"]
    assert said(replace(short, end=cell.start)) == ["too much that is not named"]
    assert said(replace(short, end=cell.start + DAY)) == []
    assert said(replace(short, group_id="h")) == ["too much that is not named"]
    assert said(replace(short, nutrient="cp")) == ["too much that is not named"]
    assert said(short, need=41.0) == ["need"]
    assert said(short, supplied=49.0) == ["supplied"]
    assert said(short, shortage=9.9) == ["too much"]


# What a head gets of one feed, and when.


@pytest.mark.parametrize(
    ("group", "feed", "limit"),
    [
        (stock(), replace(MEAL, most_kg_per_head_day=3.0), 2.7),
        (stock(), replace(MEAL, kind=FeedKind.MINERAL), 4.0 / 16.0 * 0.45359237 * 0.9),
        (
            stock(),
            replace(MEAL, kind=FeedKind.MINERAL, least_kg_per_head_day=0.5),
            0.5 * 0.9,
        ),
        (stock(), replace(MEAL, kind=FeedKind.GRAIN), 0.005 * 560.0),
        (
            stock(AnimalClass.EWE, 80.0),
            replace(MEAL, kind=FeedKind.GRAIN, most_kg_per_head_day=4.0),
            0.005 * 80.0,
        ),
        (stock(), replace(MEAL, kind=FeedKind.GRAIN, most_kg_per_head_day=4.0), 3.6),
    ],
)
def test_the_most_of_a_feed_that_a_head_gets(group: Group, feed: Feed, limit: float) -> None:
    farm = farm_with(group, feed)
    for times, broken in ((1.0 - 1e-4, False), (1.0 + 1e-4, True)):
        look = fed(farm, {"lot": 5.0, "meal": limit * times})
        assert told(feeding_breaches(look), "most a head") is broken


def test_what_is_put_out_is_what_is_eaten_and_wasted_in_bales() -> None:
    farm = farm_with(stock(feeding_loss_pct=20.0), MEAL)
    look = fed(farm, {"lot": 8.0})
    row = look.program.feeding[0]
    out = 8.0 * 10 * row.days / 0.8 / (look.sources["lot"].dm_pct / 100.0)
    bale = look.sources["lot"].bale_weight_kg
    assert bale is not None

    def said(**changed: Any) -> list[str]:
        program = replace(look.program, feeding=(replace(row, **changed),))
        found = feeding_breaches(AuditView(program, farm))
        return [one.what.rpartition(", ")[2] for one in found]

    assert said(offered_kg=out) == []
    assert said(offered_kg=out, bales=out / bale) == []
    assert said(offered_kg=out, bales=1.001 * out / bale) == ["bales"]
    assert said(offered_kg=out * 1.00001) == ["offered"]
    assert said(offered_kg=0.0, eaten_kg_dm_per_head_day=0.0) == []
    assert said(offered_kg=-out, eaten_kg_dm_per_head_day=-8.0) == ["fed at all"]
    assert said(offered_kg=out, group_id="g", period=99 - 99) == []


@pytest.mark.parametrize(
    ("dates", "inside"),
    [
        ({"from_on": START}, True),
        ({"from_on": START + DAY}, False),
        ({"to_on": START + 7 * DAY}, True),
        ({"to_on": START + 6 * DAY}, False),
    ],
)
def test_a_feed_is_fed_from_its_first_day_to_the_day_before_its_last(
    dates: dict[str, Any], inside: bool
) -> None:
    farm = farm_with(stock(), replace(MEAL, **dates))
    assert told(feeding_breaches(fed(farm, {"meal": 1.0})), "outside its dates") is not inside


@pytest.mark.parametrize(
    ("dates", "inside"),
    [
        ({"feed_from": START}, True),
        ({"feed_from": START + DAY}, False),
        ({"feed_by": START + 6 * DAY}, True),
        ({"feed_by": START + 5 * DAY}, False),
    ],
)
def test_a_hay_is_fed_from_its_first_day_to_its_last(dates: dict[str, Any], inside: bool) -> None:
    farm = farm_with(stock())
    farm = replace(farm, lots=(replace(farm.lots[0], **dates),))
    assert told(feeding_breaches(fed(farm, {"lot": 1.0})), "outside its dates") is not inside


@pytest.mark.parametrize(("kind", "taken"), [(AnimalClass.COW, 0.1), (AnimalClass.EWE, 0.02835)])
@pytest.mark.parametrize("bought", [None, 0.4, 2.0])
def test_a_mineral_always_on_offer_is_shared_evenly(
    kind: AnimalClass, taken: float, bought: float | None
) -> None:
    """Sheep take an ounce at most; where too little can be bought all get the same share."""
    salt = replace(
        *(MEAL,),
        kind=FeedKind.MINERAL,
        table_id="",
        copper_ppm=5.0,
        least_kg_per_head_day=0.1,
        most_kg=None if bought is None else bought * taken * 10 * 14,
    )
    farm = farm_with(stock(kind, 80.0 if kind is AnimalClass.EWE else 560.0), salt)
    wanted = taken * min(1.0, 1.0 if bought is None else bought) * 0.9
    for times, short in ((1.0 - 1e-4, True), (1.0, False), (1.1, False)):
        found = feeding_breaches(fed(farm, {"meal": wanted * times}))
        assert told(found, f"Meal to Stock, period {0}") is short


@pytest.mark.parametrize(
    ("most", "load", "whole"),
    [(999.0, 1000.0, 0.0), (1000.0, 1000.0, 1000.0), (0.3, 0.1, 0.3), (2999.0, 1000.0, 2000.0)],
)
def test_the_most_that_is_bought_is_in_whole_loads(most: float, load: float, whole: float) -> None:
    assert most_kg(replace(MEAL, most_kg=most, load_kg=load)) == pytest.approx(whole)
    assert most_kg(replace(MEAL, most_kg=most)) == most
    assert most_kg(replace(MEAL, load_kg=load)) is None


# Needs that the folder states, so that the figures are known.


def needing(**needs: float) -> Farm:
    farm = farm_with(stock(least_forage_pct_bw=1.0), MEAL)
    row = StatedNeed("g", farm.season.start, farm.season.end, **needs)
    return replace(farm, needs=(row,))


@pytest.mark.parametrize(
    ("need", "name", "field"),
    [
        ("nem_mcal", "nem", "nem_mcal_per_kg"),
        ("tdn_kg", "tdn", "tdn_pct"),
        ("cp_kg", "cp", "cp_pct"),
        ("ca_kg", "ca", "ca_pct"),
        ("p_kg", "p", "p_pct"),
    ],
)
def test_a_stated_need_that_is_missed_is_told(need: str, name: str, field: str) -> None:
    usual = {"nem_mcal": 9.0, "cp_kg": 0.7, "most_dm_kg": 14.0}
    farm = needing(**{**usual, need: 1.0})
    look = fed(farm, {"lot": 8.0, "meal": 2.0})
    value = {one: look.sources[one] for one in ("lot", "meal")}
    scale = {"nem": 1.0, "ca": 10.0, "p": 10.0}.get(name, 0.01)
    supplied = scale * sum(
        kg * getattr(value[one], field) for one, kg in (("lot", 8.0), ("meal", 2.0))
    )
    in_need = supplied / (1000.0 if name in ("ca", "p") else 1.0)
    for times, missed in ((1.0 - 1e-3, False), (1.0 + 1e-3, True)):
        stated = needing(**{**usual, need: in_need * times})
        look = fed(stated, {"lot": 8.0, "meal": 2.0})
        rows = tuple(
            replace(one, need=supplied * times, supplied=supplied, shortage=0.0)
            for one in look.program.needs
            if one.nutrient == name and one.period == 0
        )
        assert rows
        found = [
            one.what
            for one in need_breaches(
                AuditView(replace(look.program, needs=rows), stated, stated.needs)
            )
            if f", {name}, period 0" in one.what
        ]
        assert [one.rpartition(", ")[2] for one in found] == (["shortage"] if missed else [])


def test_more_dry_matter_than_stated_is_told() -> None:
    farm = needing(nem_mcal=1.0, most_dm_kg=10.0)
    for kg, broken in ((9.999, False), (10.0, False), (10.001, True)):
        assert told(need_breaches(fed(farm, {"lot": kg})), "most_dm, period 0") is broken


def test_nitrate_of_the_whole_diet() -> None:
    """Clemson: 1,000 ppm nitrate-nitrogen of pregnant stock, 1,500 of others."""
    for group, most in (
        (stock(AnimalClass.STOCKER, 300.0), 1500.0),
        (stock(calving_on=START + 60 * DAY), 1000.0),
    ):
        farm = farm_with(group, MEAL)
        lot = fed(farm, {"lot": 1.0}).sources["lot"].nitrate_no3n_ppm
        assert lot is not None
        for ppm, broken in ((most - 1.0, False), (most + 1.0, True)):
            meal = (ppm * 10.0 - 8.0 * lot) / 2.0
            look = fed(farm, {"lot": 8.0, "meal": 2.0}, nitrate_no3n_ppm=meal)
            assert told(need_breaches(look), "nitrate, period 0") is broken


# Wishes that are called kept.


@pytest.mark.parametrize(
    ("kind", "wanted", "kg", "kept"),
    [
        ("feed", None, 0.0, False),
        ("feed", None, 1e-9, True),
        ("keep_off", None, 0.0, True),
        ("keep_off", None, 1.9e-6, True),
        ("keep_off", None, 2.1e-6, False),
        ("amount", 5.0, 5.0, True),
        ("amount", 5.0, 5.0 * (1.0 + 1.9e-4), True),
        ("amount", 5.0, 5.0 * (1.0 + 2.1e-4), False),
        ("amount", 5.0, 5.0 * (1.0 - 2.1e-4), False),
        ("amount", 0.0, 1e-6, True),
        ("amount", 0.0, 1e-5, False),
    ],
)
def test_a_wish_is_kept_within_rounding(
    kind: Any, wanted: float | None, kg: float, kept: bool
) -> None:
    farm = farm_with(stock(), MEAL, weeks=3)
    look = fed(farm, {"meal": kg}, period=1)
    start = look.program.periods[1].start
    wish = Wish(kind, "meal", "g", start, start + 7 * DAY, wanted)
    program = replace(look.program, wishes=(WishOutcome(wish, "kept", None, ""),))
    assert (list(unkept_wishes(program)) == []) is kept
    other = replace(program, wishes=(WishOutcome(wish, "not", None, ""),))
    assert list(unkept_wishes(other)) == []


@pytest.mark.parametrize(
    ("first", "last", "weeks"),
    [(0, 7, [0]), (0, 8, [0]), (0, 12, [0, 1]), (4, 14, [1]), (3, 14, [0, 1]), (8, 9, [1])],
)
def test_a_wish_to_feed_is_of_the_weeks_whose_middle_lies_in_it(
    first: int, last: int, weeks: list[int]
) -> None:
    farm = farm_with(stock(), MEAL, weeks=3)
    wish = Wish("feed", "meal", "g", START + first * DAY, START + last * DAY)
    program = replace(fed(farm, {}).program, wishes=(WishOutcome(wish, "kept", None, ""),))
    missed = [one for one, _, _ in unkept_wishes(program)]
    starts = [program.periods[one].start for one in weeks]
    assert missed == [f"meal to g from {one}, wish feed" for one in starts]
    off = replace(wish, kind="keep_off")
    everywhere = [fed(farm, {"meal": 1.0}, period=one).program.feeding[0] for one in range(3)]
    program = replace(
        program,
        feeding=tuple(everywhere),
        wishes=(WishOutcome(off, "kept", None, ""),),
    )
    touched = [one for one in range(3) if 7 * one < last and 7 * one + 6 >= first]
    assert len(list(unkept_wishes(program))) == len(touched)


@pytest.mark.parametrize(
    ("first", "last", "weeks"),
    [(None, None, [0, 1, 2]), (7, None, [1, 2]), (None, 7, [0]), (6, 8, [0, 1]), (7, 14, [1])],
)
def test_a_run_is_excused_by_a_wish_of_that_week_for_that_group_and_source(
    first: int | None, last: int | None, weeks: list[int]
) -> None:
    farm = farm_with(stock(), MEAL, weeks=3)
    look = fed(farm, {})
    start, end = (None if day is None else START + day * DAY for day in (first, last))
    wish = Wish("feed", "meal", "g", start, end)

    def excused(wish: Wish) -> list[int]:
        program = replace(look.program, wishes=(WishOutcome(wish, "kept", None, ""),))
        view = AuditView(program, farm)
        return [one for one in range(-1, 4) if _asked_for(view, farm.groups[0], "meal", one)]

    assert excused(wish) == excused(replace(wish, group_id="")) == weeks
    assert excused(replace(wish, kind="amount", kg_dm_per_head_day=1.0)) == weeks
    for other in ({"kind": "keep_off"}, {"source_id": "lot"}, {"group_id": "h"}):
        assert excused(replace(wish, **other)) == []  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("most_kg_bought", "share"),
    [(None, 1.0), (3.5, 0.4), (8.75, 1.0), (99.0, 1.0), (0.0096, 0.0096 / 8.75), (0.0079, 0.0)],
)
def test_a_mineral_that_is_wasted_goes_less_far(
    most_kg_bought: float | None, share: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Ten cows take an ounce and more for a week, and a fifth of it is lost."""
    cell = SimpleNamespace(group_id="g", head=10, days=7)
    monkeypatch.setattr(fed_again, "_due", lambda look, feed: [cell])
    look: Any = SimpleNamespace(
        farm=SimpleNamespace(group=lambda name: stock()), loss_frac=lambda *what: 0.2
    )
    salt = replace(MEAL, least_kg_per_head_day=0.1, most_kg=most_kg_bought)
    assert fed_again._even_share(look, salt) == pytest.approx(share)
    free = replace(salt, least_kg_per_head_day=None)
    assert fed_again._even_share(look, free) == 1.0


@pytest.mark.parametrize(
    ("barred", "in_season", "own", "due"),
    [
        (False, True, False, True),
        (True, True, False, False),
        (False, False, False, False),
        (False, True, True, False),
    ],
)
def test_a_mineral_is_due_where_it_may_be_fed_and_the_folder_states_nothing(
    barred: bool, in_season: bool, own: bool, due: bool
) -> None:
    cell = SimpleNamespace(group_id="g", period=0)
    look: Any = SimpleNamespace(
        cells={("g", 0): cell},
        is_barred=lambda *what: barred,
        in_season=lambda *what: in_season,
        is_own=lambda one: own,
        farm=SimpleNamespace(group=lambda name: stock(AnimalClass.DOE)),
    )
    assert fed_again._due(look, MEAL) == ([cell] if due else [])
    assert fed_again._due(look, replace(MEAL, copper_ppm=41.0)) == []


@pytest.mark.parametrize(
    ("event", "birth", "told_of"),
    [
        (14, False, [2]),
        (13, False, [1]),
        (20, False, [2]),
        (14, True, [2, 3]),
        (13, True, [1, 2]),
        (20, True, [2, 3]),
    ],
)
def test_no_less_is_fed_in_the_week_of_weaning_or_around_a_birth(
    event: int, birth: bool, told_of: list[int], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A ration that falls every week is told of in the weeks that begin then."""
    on = START + event * DAY
    monkeypatch.setattr(needs_again, "births", lambda group: [on] if birth else [])

    def diet(amounts: float, sources: Any) -> Any:
        return SimpleNamespace(of={"nem": amounts, "cp": amounts})

    monkeypatch.setattr(needs_again, "Diet", diet)
    group = SimpleNamespace(group_id="g", name="Cows", weaning_on=None if birth else on)
    periods = [SimpleNamespace(index=t, start=START + 7 * t * DAY) for t in range(5)]
    look: Any = SimpleNamespace(
        farm=SimpleNamespace(groups=[group]),
        program=SimpleNamespace(periods=periods),
        cells={("g", t): None for t in range(5)},
        eaten={("g", t): 10.0 - t for t in range(5)},
        sources=None,
        series=lambda group: SimpleNamespace(tdn_kg=None),
    )
    found = [one.what for one in needs_again.fall_breaches(look)]
    wanted = [(t, name) for t in told_of for name in ("nem", "cp")]
    assert found == [f"Cows, {name} at birth or weaning, period {t}" for t, name in wanted]
    look.cells.pop(("g", told_of[0] - 1))
    assert len(list(needs_again.fall_breaches(look))) < len(found)


@each_row(
    ("changed", "total", "said"),
    [
        ({}, 0.2, []),
        ({"need": 0.1 + 0.95e-6}, 0.2, []),
        ({"need": 0.1 + 1.05e-6}, 0.2, ["need"]),
        ({}, 0.2 + 0.95e-6, []),
        ({}, 0.2 + 1.05e-6, ["supplied", "too much"]),
        ({"supplied": 0.2 - 1.05e-6}, 0.2, ["supplied"]),
    ],
)
def test_small_figures_are_held_to_a_millionth_of_a_unit(
    changed: dict[str, float], total: float, said: list[str]
) -> None:
    row = SimpleNamespace(**{"need": 0.1, "supplied": 0.2, "shortage": 0.1, **changed})
    short = SimpleNamespace(group_id="g", nutrient="n", start=START, end=START + DAY)
    look: Any = SimpleNamespace(
        claimed={("g", 0, "n"): row}, program=SimpleNamespace(shortages=[short])
    )
    cell: Any = SimpleNamespace(period=0, start=START)
    found = _claimed(look, stock(), cell, "n", (total, 0.1))
    assert [one.what.rpartition(", ")[2] for one in found] == said


@each_row(
    ("changed", "bound"),
    [
        ({}, True),
        ({"group_id": "h"}, False),
        ({"demand": "rise"}, False),
        ({"demand": "share"}, True),
        ({"holds": False}, False),
    ],
)
def test_a_share_that_safety_leaves_binds_its_group(changed: dict[str, Any], bound: bool) -> None:
    what = {"group_id": "g", "demand": "none", "holds": True, **changed}
    bar = SimpleNamespace(
        group_id=what["group_id"],
        source_id="urea",
        rule=SimpleNamespace(rule_id="light", demand=what["demand"], most_share=0.25, together=""),
        holds=lambda start, days: what["holds"],
    )
    look: Any = SimpleNamespace(
        farm=None,
        bound=[bar],
        program=SimpleNamespace(periods=[SimpleNamespace(start=START, days=7)]),
        sources={"urea": SimpleNamespace(name="Urea")},
    )
    diet: Any = SimpleNamespace(of={"nitrate": 0.0}, dm=8.0, amounts={"urea": 0.5})
    series: Any = SimpleNamespace(pregnant=np.array([True]), full_weight_kg=np.array([500.0]))
    found = needs_again._safety_bounds(look, stock(), diet, series, 0)
    assert found == ({"light, share of Urea": (2.0, 0.5)} if bound else {})


@pytest.mark.parametrize(
    ("first", "last", "nurses"), [(-9, 0, False), (-9, 1, True), (6, 20, True), (7, 20, False)]
)
def test_potassium_is_weighed_in_the_weeks_in_which_young_are_nursed(
    first: int, last: int, nurses: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    span = (START + first * DAY, START + last * DAY)
    monkeypatch.setattr(ceilings, "diet_spans", lambda name, group, farm: (span,))
    look: Any = SimpleNamespace(
        program=SimpleNamespace(periods=[SimpleNamespace(start=START, days=7)]),
        farm=SimpleNamespace(feeds=()),
        claimed={},
    )
    grass: Any = SimpleNamespace(source_id="a", potassium_pct=4.0, ca_pct=0.2, magnesium_pct=0.1)
    cell: Any = SimpleNamespace(period=0, start=START)
    assert bool(list(ceilings._tetany(look, stock(), cell, [(9.0, grass)]))) is nurses


@pytest.mark.parametrize(
    ("rules", "told", "own", "floors"),
    [
        ((), None, False, {}),
        # Four grams of calcium a kilogram before a birth; of magnesium 1.2 for sheep, 1.8 where
        # they nurse (NRC 1985), or what is told a head of the hay that is usual: 30 g in 12 kg.
        (("milk-fever-calcium",), None, False, {"ca_floor": (40.0, 5.0)}),
        (("magnesium-sheep",), None, False, {"mg": (9.6, 6.0)}),
        (("magnesium-sheep", "tetany-magnesium-ewes"), None, False, {"mg": (14.4, 6.0)}),
        (("magnesium-sheep",), 30.0, False, {"mg": (20.0, 6.0)}),
        (("milk-fever-calcium", "magnesium-sheep"), 30.0, True, {"ca_floor": (40.0, 5.0)}),
    ],
)
def test_minerals_are_asked_as_shares_of_what_is_eaten(
    rules: tuple[str, ...], told: float | None, own: bool, floors: Any, monkeypatch: Any
) -> None:
    monkeypatch.setattr(
        needs_again, "diet_spans", lambda rule, group, farm: () if rule in rules else None
    )
    week = SimpleNamespace(start=START, days=7)
    look: Any = SimpleNamespace(program=SimpleNamespace(periods=[week, week]), farm=None)
    look.stated, look.is_own = (lambda cell: "stated" if own else None), (lambda cell: own)
    diet: Any = SimpleNamespace(dm=10.0, of={"ca": 5.0, "mg": 6.0, "mg_dm": 8.0})
    series: Any = SimpleNamespace(
        constituent=lambda name: None if told is None else np.array([99.0, told]),
        more={"usual_hay_dm_kg": np.array([1.0, 12.0])},
        dry_matter_kg=np.array([1.0, 1.0]),
    )
    cell: Any = SimpleNamespace(period=1)
    found = needs_again._floors(look, stock(), diet, series, cell)
    assert found == {name: pytest.approx(pair) for name, pair in floors.items()}


@pytest.mark.parametrize(
    ("claimed", "supplied", "short", "breaks"),
    [
        ((10.0, 8.0), 8.0, 2.0, ""),
        ((10.0, 8.0), 8.0, 1.9, "cp, period 0, shortage"),
        ((10.0, 8.0), 7.9, 2.1, "cp, period 0, supplied"),
        ((10.1, 8.0), 8.0, 2.0, "cp, period 0, need"),
        ((10.0, 12.0), 12.0, 0.0, ""),
    ],
)
def test_what_is_missing_of_a_need_must_be_told(
    claimed: tuple[float, float], supplied: float, short: float, breaks: str
) -> None:
    row = SimpleNamespace(need=claimed[0], supplied=claimed[1], shortage=short)
    look: Any = SimpleNamespace(
        claimed={("g", 0, "cp"): row}, program=SimpleNamespace(rations=()), farm=None
    )
    found = list(needs_again.judge(look, stock(), 0, {"cp": (10.0, supplied)}, {}))
    assert [breaks in one.what for one in found] == [True] * bool(breaks)
    (lost,) = needs_again.judge(look, stock(), 0, {"ca": (3.0, 3.0)}, {})
    assert (lost.claimed, lost.found) == (0.0, 3.0)
    # Nitrate is in milligrams: a millionth of a thousand of them is nothing.
    for name, over in (("nitrate", 0.9e-3), ("ndf", 0.9e-7)):
        assert not list(needs_again.judge(look, stock(), 0, {}, {name: (0.0, over)}))
        assert list(needs_again.judge(look, stock(), 0, {}, {name: (0.0, 1.3 * over)}))
