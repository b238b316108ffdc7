"""Farms at the edge of what the rules say: their programs are made and pass the re-check."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from rickyard.farm import Farm, FeedKind
from rickyard.program.audit.audit import recheck
from rickyard.program.planning.season import plan_season
from rickyard.program.result.options import PlanOptions
from rickyard.program.search.search import Search
from rickyard.program.search.subproblem import HayChoice, Subproblem
from rickyard.program.solver.points import SearchLimits, WholePoint
from rickyard.program.winters.winters import plan_winters
from support.farms import START, random_farm
from support.rows import few
from support.season_farms import CAKE, LIME, cows, farm_of, hay, report_on
from support.weekly import WEEKLY
from support.winter_farms import winter_farm

AT_ONCE = PlanOptions(effort=0.0, weekly=True)


def test_a_mineral_always_on_offer_is_never_less_than_that_in_any_winter() -> None:
    farm = winter_farm(3)
    feeds = tuple(
        replace(one, least_kg_per_head_day=0.08) if one.kind is FeedKind.MINERAL else one
        for one in farm.feeds
    )
    for one in plan_winters(replace(farm, feeds=feeds)).winters:
        assert recheck(one.program, one.farm) == ()
        fed = [row for row in one.program.feeding if row.source_id.startswith("mineral")]
        assert fed


@pytest.mark.parametrize(("first", "end"), [(17, 35), (3, 24), (8, 17)])
def test_a_protein_feed_is_put_out_on_no_day_on_which_it_may_not_be_fed(
    first: int, end: int
) -> None:
    poor = hay("A", 50.0, 5.0, 300.0, 60.0)
    opens, closes = START + timedelta(days=first), START + timedelta(days=end)
    cake = replace(CAKE, from_on=opens, to_on=closes)
    herd = replace(cows(date(2027, 1, 10)), feed_every_days=3)
    farm = farm_of([(poor, report_on(poor, 50.0, 5.0))], [herd], [cake, LIME], weeks=6)
    farm = replace(farm, season=replace(farm.season, period_days=1))
    program = plan_season(farm, options=WEEKLY)
    loads = [one for one in program.deliveries if one.source_id == "cake"]
    assert loads
    assert min(one.day for one in loads) >= opens
    assert max(one.day for one in loads) < closes
    asked = sum(one.offered_kg for one in program.feeding if one.source_id == "cake")
    assert sum(one.mass_kg for one in loads) == pytest.approx(asked)
    assert recheck(program, farm) == ()


def ruled(farm: Farm, **season: object) -> Farm:
    given = {"hays_at_once": 2, "least_run_days": 21, **season}
    return replace(farm, season=replace(farm.season, **given))  # type: ignore[arg-type]


def test_rules_about_hays_hold_where_there_is_no_hay() -> None:
    farm = ruled(farm_of([], [cows()], [CAKE, LIME]))
    program = plan_season(farm, options=AT_ONCE)
    assert recheck(program, farm) == ()
    assert program.status == "short"


@pytest.mark.parametrize("seed", few(range(6), [0, 1, 5]))
def test_a_run_has_no_gap_where_no_least_serving_is_asked_for(seed: int) -> None:
    farm = random_farm(seed, lots=4, groups=2, weeks=8)
    farm = ruled(farm, hays_at_once=None, period_days=4, least_serving_pct_bw=0.0)
    program = plan_season(farm, options=AT_ONCE)
    assert recheck(program, farm) == ()


@pytest.mark.more
def test_what_a_search_found_when_its_time_was_over_is_not_thrown_away(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    farm = ruled(random_farm(3, lots=4, groups=3, weeks=8), hays_at_once=1)
    times: list[Search] = []
    found: list[HayChoice] = []
    part_search = Subproblem.search

    def search_until_the_end(
        part: Subproblem, limits: SearchLimits
    ) -> tuple[WholePoint, HayChoice | None]:
        point, choice = part_search(part, limits)
        if choice is not None and limits.nodes > 1000:
            found.append(choice)
            for one in times:
                one._end = 0.0
        return point, choice

    whole = Search._search_whole

    def watched(search: Search, share: float = 1.0) -> None:
        times.append(search)
        whole(search, share)

    monkeypatch.setattr(Subproblem, "search", search_until_the_end)
    monkeypatch.setattr(Search, "_search_whole", watched)
    first = plan_season(farm, options=AT_ONCE)
    program = plan_season(farm, options=PlanOptions(effort=8.0, weekly=True))
    assert len(found) == 1
    assert program.cost + program.penalty < first.cost + first.penalty - 1.0
    assert recheck(program, farm) == ()


def test_no_time_to_search_is_no_search(monkeypatch: pytest.MonkeyPatch) -> None:
    # A search of a second would end wherever the machine happened to be by then.
    farm = random_farm(3, lots=3, groups=2, weeks=4)
    farm = replace(farm, feeds=tuple(replace(one, load_kg=900.0) for one in farm.feeds))

    def never(search: Search, share: float = 1.0) -> None:
        raise AssertionError(share)

    monkeypatch.setattr(Search, "_search_whole", never)
    program = plan_season(farm, options=AT_ONCE)
    assert recheck(program, farm) == ()
    with pytest.raises(AssertionError):
        plan_season(farm, options=PlanOptions(effort=5.0, weekly=True))
