"""The second look at loads, sales, money, ceilings and hay in use finds each planted fault."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta

import pytest

from rickyard.farm import Farm, Feed, FeedKind, Wanted, WishRow
from rickyard.program.audit.audit import recheck
from rickyard.program.audit.use import changes, rule_breaches
from rickyard.program.audit.view import AuditView
from rickyard.program.planning.season import plan_season
from rickyard.program.result.options import PlanOptions, Wish
from rickyard.program.result.result import FeedingRow, SeasonProgram, WishOutcome
from rickyard.sheets.data_files.plan_json import plan_json
from rickyard.sheets.data_files.plan_load import program_from_json
from support.farms import START
from support.rechecked import not_looked_at
from support.rows import each_row
from support.ruled_farms import faulty_farm, ruled
from support.season_farms import cows, farm_of, hay, report_on
from support.weekly import WEEKLY


@pytest.fixture(scope="module")
def farm() -> Farm:
    return faulty_farm()


#: So many seeds each time, the rest with the long tests.
USUAL = 2


@pytest.mark.parametrize(
    "seed",
    [pytest.param(seed, marks=pytest.mark.long if seed >= USUAL else ()) for seed in range(24)],
)
def test_programs_with_every_rule_pass(seed: int) -> None:
    farm = ruled(seed)
    with not_looked_at():
        program = plan_season(farm, options=WEEKLY)
    read_back = program_from_json(plan_json(program))
    assert read_back == program
    assert [str(one) for one in recheck(read_back, farm)] == []


RULES: dict[str, Callable[[Farm], Farm]] = {
    "cash": lambda farm: replace(farm, season=replace(farm.season, cash_limit_usd=None)),
    "reserve": lambda farm: replace(farm, season=replace(farm.season, reserve_days=None)),
    "sulfate": lambda farm: replace(farm, season=replace(farm.season, water_sulfate_ppm=None)),
    "loads": lambda farm: replace(
        farm, feeds=tuple(replace(one, load_kg=None) for one in farm.feeds)
    ),
    "dates": lambda farm: replace(
        farm, feeds=tuple(replace(one, from_on=None, to_on=None) for one in farm.feeds)
    ),
}


@pytest.mark.parametrize("rule", RULES)
@pytest.mark.parametrize(
    "seed", [pytest.param(seed, marks=pytest.mark.long if seed != 9 else ()) for seed in (2, 5, 9)]
)
def test_a_rule_never_makes_a_season_cheaper(rule: str, seed: int) -> None:
    farm = ruled(seed)
    bound = plan_season(farm, options=WEEKLY)
    free = plan_season(RULES[rule](farm), options=WEEKLY)
    ruled_cost = bound.cost + bound.penalty
    assert ruled_cost >= free.bound - 1e-6 * max(abs(ruled_cost), 1.0)


@pytest.mark.parametrize(
    "seed", [pytest.param(seed, marks=pytest.mark.long if seed != 9 else ()) for seed in (2, 5, 9)]
)
def test_leave_to_sell_never_makes_a_season_dearer(seed: int) -> None:
    farm = ruled(seed)
    kept = replace(farm, lots=tuple(replace(lot, sale_usd_per_kg=None) for lot in farm.lots))
    selling, keeping = plan_season(farm, options=WEEKLY), plan_season(kept, options=WEEKLY)
    paid = keeping.cost + keeping.penalty
    assert selling.bound <= paid + 1e-6 * max(abs(paid), 1.0)


# Planted faults. Hay is sold, salt comes in loads, money and hay run short, water is bad.


@pytest.fixture(scope="module")
def program(farm: Farm) -> SeasonProgram:
    return plan_season(farm, options=WEEKLY)


def first(rows: tuple[object, ...], **changed: object) -> tuple[object, ...]:
    return (replace(rows[0], **changed), *rows[1:])  # type: ignore[type-var]


def limit(program: SeasonProgram, name: str, **changed: object) -> SeasonProgram:
    rows = tuple(
        replace(one, **changed) if one.nutrient == name else one  # type: ignore[arg-type]
        for one in program.farm_limits
    )
    return replace(program, farm_limits=rows)


def need(program: SeasonProgram, name: str, **changed: object) -> SeasonProgram:
    rows = tuple(
        replace(one, **changed) if one.nutrient == name else one  # type: ignore[arg-type]
        for one in program.needs
    )
    return replace(program, needs=rows)


def without_shortage(program: SeasonProgram, name: str) -> SeasonProgram:
    kept = tuple(one for one in program.shortages if one.nutrient != name)
    return replace(program, shortages=kept)


def source(program: SeasonProgram, source_id: str, **changed: object) -> SeasonProgram:
    rows = tuple(
        replace(one, **changed) if one.source_id == source_id else one  # type: ignore[arg-type]
        for one in program.sources
    )
    return replace(program, sources=rows)


FAULTS: dict[str, tuple[Callable[[SeasonProgram], SeasonProgram], str]] = {
    "hay is sold twice": (
        lambda p: replace(p, sales=(*p.sales, *p.sales)),
        "stock after the sale",
    ),
    "a sale brings more": (
        lambda p: replace(p, sales=first(p.sales, revenue_usd=9e4)),
        "revenue",
    ),
    "a sale weighs less dry": (
        lambda p: replace(p, sales=first(p.sales, dm_kg=1.0)),
        "dry matter sold",
    ),
    "a sale is forgotten": (lambda p: replace(p, sales=()), "sold"),
    "a sale is left out of the balance": (
        lambda p: replace(p, lots=tuple(replace(one, sold_t=0.0) for one in p.lots)),
        "sold",
    ),
    "half a load is bought": (
        lambda p: replace(
            p, purchases=first(p.purchases, as_fed_kg=p.purchases[0].as_fed_kg - 10.0)
        ),
        "loads",
    ),
    "loads are not counted": (
        lambda p: replace(p, purchases=first(p.purchases, loads=None)),
        "whole loads",
    ),
    "what is left of a load is off": (
        lambda p: replace(p, purchases=first(p.purchases, left_kg=p.purchases[0].left_kg + 5.0)),
        "left",
    ),
    "the kinds of cost do not add up": (
        lambda p: replace(p, costs=replace(p.costs, hay_sold=0.0)),
        "cost by kind",
    ),
    "changes are charged that nobody asked for": (
        lambda p: replace(p, costs=replace(p.costs, changes=5.0)),
        "cost of changing hay",
    ),
    "the cash limit is another": (lambda p: limit(p, "cash", need=0.0), "cash, limit"),
    "less is spent than is": (
        lambda p: limit(p, "cash", supplied=p.farm_limits[0].supplied - 50.0),
        "cash, supplied",
    ),
    "too much money is not told": (lambda p: limit(p, "cash", shortage=0.0), "cash, shortage"),
    "too much money is not named": (lambda p: without_shortage(p, "cash"), "cash, shortage that"),
    "a limit is left out": (lambda p: replace(p, farm_limits=()), "reserve, row"),
    "the reserve is smaller": (lambda p: limit(p, "reserve", need=1.0), "reserve, limit"),
    "more is left than is": (lambda p: limit(p, "reserve", supplied=99.0), "reserve, supplied"),
    "a reserve that lacks is not told": (
        lambda p: limit(p, "reserve", shortage=0.0),
        "reserve, shortage",
    ),
    "sulfur is softened": (lambda p: need(p, "sulfur", need=99.0), "sulfur"),
    "too much sulfur is not told": (lambda p: need(p, "sulfur", shortage=0.0), "too much"),
    "too much sulfur is not named": (
        lambda p: without_shortage(p, "sulfur"),
        "too much that is not named",
    ),
    "a feed has less sulfur than its tag": (
        lambda p: source(p, "cubes", sulfur_pct=0.1),
        "sulfur_pct",
    ),
    "sulfur is forgotten": (lambda p: source(p, "lot", sulfur_pct=None), "sulfur_pct, known"),
    "urea is made up": (lambda p: source(p, "cubes", npn_cp_pct=9.0), "npn_cp_pct"),
    "a herd is lighter": (
        lambda p: replace(p, groups=tuple(replace(one, full_weight_kg=400.0) for one in p.groups)),
        "weight",
    ),
    "a herd is smaller": (
        lambda p: replace(p, groups=tuple(replace(one, head=3) for one in p.groups)),
        "head",
    ),
}


def test_the_faulty_farm_shows_every_rule(program: SeasonProgram, farm: Farm) -> None:
    assert [str(one) for one in recheck(program, farm)] == []
    assert program.sales
    assert program.purchases[0].loads
    assert {one.nutrient for one in program.farm_limits if one.shortage > 0} == {"cash", "reserve"}
    assert any(one.nutrient == "sulfur" for one in program.shortages)


@pytest.mark.parametrize(("spoil", "word"), FAULTS.values(), ids=list(FAULTS))
def test_each_planted_fault_is_found(
    program: SeasonProgram, farm: Farm, spoil: Callable[[SeasonProgram], SeasonProgram], word: str
) -> None:
    breaches = recheck(spoil(program), farm)
    assert any(word in one.what for one in breaches), [str(one) for one in breaches]


def test_hay_nobody_buys_is_not_sold(program: SeasonProgram, farm: Farm) -> None:
    unsold = replace(farm, lots=tuple(replace(lot, sale_usd_per_kg=None) for lot in farm.lots))
    assert any("sold without a buyer" in one.what for one in recheck(program, unsold))


def test_a_feed_after_its_last_day_is_found(program: SeasonProgram, farm: Farm) -> None:
    short = tuple(replace(one, to_on=START + timedelta(days=8)) for one in farm.feeds)
    breaches = recheck(program, replace(farm, feeds=short))
    assert any("outside its dates" in one.what for one in breaches)


@pytest.mark.parametrize(
    ("changed", "word"),
    [
        ({"starch_pct": 80.0, "kind": FeedKind.GRAIN}, "grain"),
        ({"fat_pct": 60.0}, "fat"),
        ({"sulfur_pct": 9.0}, "sulfur"),
        ({"npn_cp_pct": 40.0}, "npn"),
        ({"npn_cp_pct": 41.0}, "urea"),
    ],
)
def test_a_diet_above_its_ceiling_is_found(changed: dict[str, object], word: str) -> None:
    """The same feeding is judged again with a feed that holds more than it did."""
    lots = [(one := hay("lot", 50.0, 6.0, 60.0, 60.0), report_on(one, 48.0, 5.0))]
    cubes = Feed(
        "cubes",
        "Cubes",
        FeedKind.SUPPLEMENT,
        0.05,
        dm_pct=90.0,
        tdn_pct=70.0,
        cp_pct=42.0,
        starch_pct=0.0,
        fat_pct=0.0,
        sulfur_pct=0.0,
    )
    farm = farm_of(lots, [cows()], [cubes])
    program = plan_season(farm, options=WEEKLY)
    worse = replace(farm, feeds=(replace(cubes, **changed),))  # type: ignore[arg-type]
    same_tag = {name: value for name, value in changed.items() if name != "kind"}
    breaches = recheck(source(program, "cubes", **same_tag), worse)
    assert any(f", {word}, period" in one.what for one in breaches), [str(one) for one in breaches]


def test_too_much_whole_cottonseed_is_found() -> None:
    lots = [(one := hay("lot", 50.0, 6.0, 60.0, 60.0), report_on(one, 48.0, 5.0))]
    cake = Feed(
        "cake",
        "Cake",
        FeedKind.SUPPLEMENT,
        0.05,
        dm_pct=90.0,
        tdn_pct=70.0,
        cp_pct=42.0,
        fat_pct=0.0,
        starch_pct=0.0,
        sulfur_pct=0.0,
    )
    farm = farm_of(lots, [cows()], [cake])
    program = plan_season(farm, options=WEEKLY)
    worse = replace(farm, feeds=(replace(cake, name="Whole cottonseed"),))
    breaches = recheck(program, worse)
    assert any("whole cottonseed" in one.what for one in breaches)


# Hay in use. Feeding is laid by hand over eight weeks, one letter a week: a, b, both, or none.


def laid(weeks: str, **season: object) -> tuple[SeasonProgram, Farm]:
    lots = [(one := hay(name, 56.0, 10.0, 90.0, 60.0), report_on(one, 56.0, 10.0)) for name in "ab"]
    farm = farm_of(lots, [cows()], [], weeks=len(weeks))
    program = plan_season(farm, options=WEEKLY)
    rows = []
    for period, letter in zip(program.periods, weeks, strict=True):
        rows += [
            FeedingRow("cows", period.index, period.start, 7, name, "lot", 5.0, 1.0, None)
            for name in {"2": "ab", ".": ""}.get(letter, letter)
        ]
    changed = replace(farm.season, **season)  # type: ignore[arg-type]
    return replace(program, feeding=tuple(rows)), replace(farm, season=changed)


def found(weeks: str, **season: object) -> list[str]:
    program, farm = laid(weeks, **season)
    return [one.what for one in rule_breaches(AuditView(program, farm))]


def test_no_rules_are_asked_of_who_states_none() -> None:
    assert found("ab2.ab2a") == []


def test_two_hays_at_once_are_found() -> None:
    assert found("aa2bbbbb", hays_at_once=1) == ["Cows, hays at once, period 2"]
    assert found("aa2bbbbb", hays_at_once=2) == []


def test_the_number_of_the_group_goes_before_that_of_the_season() -> None:
    program, farm = laid("aa2bbbbb", hays_at_once=2)
    one = replace(farm.groups[0], hays_at_once=1)
    look = AuditView(program, replace(farm, groups=(one,)))
    assert [breach.what for breach in rule_breaches(look)] == ["Cows, hays at once, period 2"]


@each_row(
    ("weeks", "days", "runs"),
    [
        ("aaabaaaa", 14, ["b to Cows, periods 3 to 3, run"]),
        ("aaabbaaa", 14, []),
        ("aaabbaaa", 15, ["b to Cows, periods 3 to 4, run"]),
        ("abbbbbbb", 14, []),  # cut by the start
        ("bbbbbbba", 14, []),  # and by the end
        ("aa.aabbb", 21, ["a to Cows, periods 3 to 4, run"]),
    ],
)
def test_runs_that_are_too_short_are_found(weeks: str, days: int, runs: list[str]) -> None:
    assert found(weeks, least_run_days=days) == runs


def test_a_run_may_be_cut_by_the_dates_of_its_hay() -> None:
    program, farm = laid("aaabaaaa", least_run_days=14)
    for dates in ({"feed_from": program.periods[3].start}, {"feed_by": program.periods[4].start}):
        lots = (farm.lots[0], replace(farm.lots[1], **dates))
        assert list(rule_breaches(AuditView(program, replace(farm, lots=lots)))) == []


def test_a_run_may_be_cut_by_the_coming_of_the_group() -> None:
    program, farm = laid("aaabaaaa", least_run_days=14)
    here = tuple(cell for cell in program.groups if cell.period >= 3)
    fed = tuple(row for row in program.feeding if row.period >= 3)
    late = replace(program, groups=here, feeding=fed)
    assert list(rule_breaches(AuditView(late, farm))) == []


def test_a_run_may_be_cut_by_a_wish() -> None:
    program, farm = laid("aaabaaaa", least_run_days=14)
    start = program.periods[4].start
    off = WishOutcome(Wish("keep_off", "b", "cows", start), "kept", None, "")
    assert list(rule_breaches(AuditView(replace(program, wishes=(off,)), farm))) == []
    other = WishOutcome(Wish("keep_off", "a", "cows", start), "kept", None, "")
    assert list(rule_breaches(AuditView(replace(program, wishes=(other,)), farm))) != []


def test_a_serving_that_is_too_small_is_found() -> None:
    least = 100.0 * 5.0 / 560.0
    assert found("aaaa", hays_at_once=1, least_serving_pct_bw=0.5 * least) == []
    assert "least serving" in found("aaaa", hays_at_once=1, least_serving_pct_bw=2.0 * least)[0]
    # Without a rule of hay in use nobody asks.
    assert found("aaaa", least_serving_pct_bw=2.0 * least) == []


@each_row(
    ("weeks", "count"),
    [("aaaa", 0), ("aabb", 1), ("a2bb", 1), ("abab", 3), (".aab", 2), ("2222", 0)],
)
def test_every_run_after_the_first_week_is_a_change(weeks: str, count: int) -> None:
    assert changes(AuditView(*laid(weeks))) == count


def test_changes_are_paid() -> None:
    """A hay that ends with the first week and one that begins with the second."""
    first_week = hay("first", 58.0, 11.0, 90.0, 50.0, feed_by=START + timedelta(days=6))
    later = hay("later", 58.0, 11.0, 90.0, 60.0, feed_from=START + timedelta(days=7))
    lots = [(one, report_on(one, 58.0, 11.0)) for one in (first_week, later)]
    farm = farm_of(lots, [cows()], [])
    priced = replace(farm, season=replace(farm.season, change_usd=40.0))
    plain, paid = plan_season(farm, options=WEEKLY), plan_season(priced, options=WEEKLY)
    assert paid.costs.changes == pytest.approx(40.0)
    assert paid.cost == pytest.approx(plain.cost + 40.0)
    assert [str(one) for one in recheck(paid, priced)] == []


def test_a_run_that_a_wish_leaves_too_short_is_no_breach_and_any_other_is() -> None:
    """One bale that is wished all season lasts for a few days of it, here and there."""
    one = hay("one", 55.0, 9.0, 1.0, 60.0)
    much = hay("much", 55.0, 9.0, 120.0, 60.0)
    lots = [(lot, report_on(lot, 55.0, 9.0)) for lot in (one, much)]
    farm = farm_of(lots, [cows()], [], weeks=6)
    season = replace(farm.season, hays_at_once=2, least_run_days=14)
    farm = replace(farm, season=season, wishes=(WishRow(Wanted.FEED, "one", "cows"),))
    program = plan_season(farm, options=PlanOptions(effort=0.0, weekly=True))
    row = next(row for row in program.feeding if row.source_id == "one")
    others = tuple(other for other in program.feeding if other.source_id != "one")
    alone = replace(row, period=3, start=program.periods[3].start)
    short = replace(program, feeding=(*others, alone))
    runs = [str(one) for one in recheck(short, farm) if one.what.endswith("run")]
    assert runs == []
    unasked = replace(short, wishes=())
    assert any(
        one.what.endswith("periods 3 to 3, run")
        for one in recheck(unasked, replace(farm, wishes=()))
    )
