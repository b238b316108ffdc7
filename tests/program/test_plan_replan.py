"""The rest of a season: the same plan where it was followed, another where it was not."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from rickyard.farm import AnimalClass, Farm, FedRow, Feed, FeedKind, MoveKind, MoveRow, Storage
from rickyard.program.audit.audit import recheck
from rickyard.program.compare.fed_vs_planned import fed_against
from rickyard.program.compare.summary import facts_of
from rickyard.program.inputs.needs import needs_of
from rickyard.program.planning.season import plan_season
from rickyard.program.problem.mid_season import farm_from
from rickyard.program.problem.problem import problem_of
from rickyard.program.result.options import PlanOptions
from rickyard.program.result.result import SeasonProgram
from rickyard.quantities import OutOfRange
from support.farms import START, random_farm
from support.weekly import WEEKLY

WEEKS, DONE = 8, 3
DAY = START + timedelta(days=7 * DONE)


@pytest.fixture(scope="module")
def farm() -> Farm:
    farm = random_farm(4, lots=4, groups=4, weeks=WEEKS)
    lots = tuple(replace(lot, storage=Storage.ENCLOSED_BARN, counted_on=START) for lot in farm.lots)
    return replace(farm, lots=lots)


@pytest.fixture(scope="module")
def whole(farm: Farm) -> SeasonProgram:
    return plan_season(farm, options=WEEKLY)


def log_of(program: SeasonProgram, periods: int) -> tuple[FedRow, ...]:
    """Return a feeding log that follows a program, each period on its last day."""
    return tuple(
        FedRow(
            row.start + timedelta(days=row.days - 1),
            row.source_id,
            row.group_id,
            mass_kg=row.offered_kg,
        )
        for row in program.feeding
        if row.period < periods
    )


def test_needs_go_on_from_the_day_of_the_weights(farm: Farm) -> None:
    """Growing stock is as heavy in week 4 as it was expected to be, and not as in week 1."""
    whole, rest = needs_of(farm), needs_of(farm_from(farm, DAY).farm)
    assert [period.start for period in rest.periods] == [
        period.start for period in whole.periods[DONE:]
    ]
    for name in ("nem", "cp"):
        assert rest.least[name] == pytest.approx(whole.least[name][:, DONE:], nan_ok=True)
    for name in ("retained_mcal", "full_weight_kg", "intake_factor"):
        assert getattr(rest, name) == pytest.approx(getattr(whole, name)[:, DONE:], nan_ok=True)
    growing = [g for g, one in enumerate(farm.groups) if one.animal_class is AnimalClass.STOCKER]
    assert rest.full_weight_kg[growing[0], 0] > whole.full_weight_kg[growing[0], 0] + 1.0


def test_a_plan_that_was_followed_is_still_the_plan(farm: Farm, whole: SeasonProgram) -> None:
    """The best rest of the best season is the best season's rest."""
    followed = replace(farm, fed=log_of(whole, DONE))
    rest = plan_season(followed, options=PlanOptions(from_on=DAY, weekly=True))
    assert recheck(rest, farm_from(followed, DAY).farm) == ()
    assert rest.start == DAY
    value = {one.source_id: one.usd_per_kg_dm for one in whole.sources}
    dm = {one.source_id: one.dm_pct / 100.0 for one in whole.sources}
    spent = sum(
        row.offered_kg * dm[row.source_id] * value[row.source_id]
        for row in whole.feeding
        if row.period < DONE
    )
    lost_by_then = sum(
        1000.0 * lot.start_t * value[lot.lot_id] - 1000.0 * now.start_t * value[lot.lot_id]
        for lot, now in zip(whole.lots, rest.lots, strict=True)
    ) - sum(
        row.offered_kg * dm[row.source_id] * value[row.source_id]
        for row in whole.feeding
        if row.period < DONE and row.kind == "lot"
    )
    assert rest.cost + spent + lost_by_then == pytest.approx(whole.cost, rel=2e-3)


def test_bales_that_were_fed_lose_nothing_more_outside(farm: Farm) -> None:
    """Half the bales fed early leave half of what would stand, not less."""
    lot = replace(farm.lots[0], storage=Storage.EXPOSED_GROUND, bales=100.0)
    stacked = replace(farm, lots=(lot, *farm.lots[1:]))
    early = FedRow(START, lot.lot_id, "group-0", bales=50.0)
    full = problem_of(farm_from(stacked, DAY).farm).sources.start_kg_dm[0]
    half = problem_of(farm_from(replace(stacked, fed=(early,)), DAY).farm).sources.start_kg_dm[0]
    assert half == pytest.approx(full / 2.0)


def test_what_was_sold_and_counted_again_is_what_is_there(farm: Farm) -> None:
    sold = MoveRow(START + timedelta(days=3), "lot-0", MoveKind.SOLD, bales=2.0)
    moved = replace(farm, moves=(sold,))
    before = farm_from(farm, DAY).farm
    after = farm_from(moved, DAY).farm
    bale = problem_of(before).sources.start_kg_dm[0] / farm.lots[0].bales
    gone = problem_of(before).sources.start_kg_dm[0] - problem_of(after).sources.start_kg_dm[0]
    assert gone == pytest.approx(2.0 * bale)
    fresh = replace(farm.lots[0], bales=7.0, counted_on=DAY)
    log = (FedRow(START, "lot-0", "group-0", bales=5.0),)
    counted = replace(farm, lots=(fresh, *farm.lots[1:]), fed=log)
    start = problem_of(farm_from(counted, DAY).farm).sources.start_kg_dm[0]
    weight = farm.lots[0].bale_weight_kg
    assert weight is not None
    dm = problem_of(farm).sources.values[0].dm_pct / 100.0
    assert start == pytest.approx(7.0 * weight * dm)


def test_feed_already_fed_is_taken_off_what_can_be_bought(farm: Farm) -> None:
    cubes = Feed("cubes", "Cubes", FeedKind.SUPPLEMENT, 0.5, dm_pct=90.0, most_kg=1000.0)
    log = (
        FedRow(START - timedelta(days=1), "cubes", "group-0", mass_kg=77.0),
        FedRow(START, "cubes", "group-0", mass_kg=300.0),
        FedRow(DAY, "cubes", "group-0", mass_kg=55.0),
    )
    season = replace(farm.season, cash_limit_usd=500.0)
    mid = farm_from(replace(farm, feeds=(cubes,), fed=log, season=season), DAY)
    assert mid.farm.feeds[0].most_kg == pytest.approx(700.0)
    assert mid.farm.season.cash_limit_usd == pytest.approx(350.0)
    told = " ".join(one.sentence for one in mid.assumptions)
    assert "660 lb of Cubes" in told or "0.3 tons of Cubes" in told
    assert "$150 of the cash is spent" in told


def test_hays_of_the_last_week_count_as_begun(farm: Farm) -> None:
    log = (
        FedRow(DAY - timedelta(days=7), "lot-0", "group-1", bales=1.0),
        FedRow(DAY - timedelta(days=8), "lot-1", "group-1", bales=1.0),
        FedRow(DAY, "lot-2", "group-1", bales=1.0),
    )
    begun = problem_of(farm_from(replace(farm, fed=log), DAY).farm).open_before
    assert begun[1].tolist()[:4] == [True, False, False, False]
    assert begun.sum() == 1


def test_a_season_of_which_nothing_is_known_is_doubted(farm: Farm) -> None:
    old = tuple(replace(lot, counted_on=START - timedelta(days=9)) for lot in farm.lots)
    program = plan_season(replace(farm, lots=old), options=PlanOptions(from_on=DAY, weekly=True))
    assert any("are assumed not fed from" in one.sentence for one in program.cautions)
    assert any("planned from Nov 23, 2026" in one.sentence for one in program.assumptions)
    levels = [["danger", "warning", "note"].index(one.level) for one in program.cautions]
    assert levels == sorted(levels)


@pytest.mark.parametrize("days", [-1, 7 * WEEKS, 400])
def test_a_day_outside_the_season_is_refused(farm: Farm, days: int) -> None:
    with pytest.raises(OutOfRange, match="choose a day in it"):
        farm_from(farm, START + timedelta(days=days))


def test_the_first_day_is_the_whole_season(farm: Farm) -> None:
    assert farm_from(farm, START).farm is farm
    assert farm_from(farm, None).farm is farm


def test_feeding_as_planned_is_told_as_such(farm: Farm, whole: SeasonProgram) -> None:
    followed = replace(farm, fed=log_of(whole, DONE))
    found = fed_against(followed, facts_of("plan", whole), START, DAY)
    for line in found.lines:
        assert line.fed_kg == pytest.approx(line.planned_kg)
    assert len(found.sentences) == len(farm.groups)
    assert all(one.endswith("fed as planned, within a tenth.") for one in found.sentences)


def test_feeding_otherwise_is_told_by_lot(farm: Farm, whole: SeasonProgram) -> None:
    fed = next(row.source_id for row in whole.feeding if row.group_id == "group-0")
    log = [
        replace(row, mass_kg=1.5 * (row.mass_kg or 0.0)) if row.source_id == fed else row
        for row in log_of(whole, DONE)
        if row.group_id == "group-0"
    ]
    log.append(FedRow(START, "lot-9", "group-0", mass_kg=900.0))
    found = fed_against(replace(farm, fed=tuple(log)), facts_of("plan", whole), START, DAY)
    mine = next(one for one in found.sentences if one.startswith("Group 0"))
    assert "50% more than the" in mine
    assert "of lot-9 fed that was not planned" in mine
    much = [replace(row, mass_kg=3.0 * (row.mass_kg or 0.0)) for row in log]
    found = fed_against(replace(farm, fed=tuple(much)), facts_of("plan", whole), START, DAY)
    assert any(" was planned" in one and " where " in one for one in found.sentences)
    found = fed_against(replace(farm, fed=tuple(log)), facts_of("plan", whole), START, DAY)
    other = next(one for one in found.sentences if one.startswith("Group 1"))
    assert other.endswith("the log has nothing.")


def test_days_that_reach_beyond_the_span_count_by_their_share(
    farm: Farm, whole: SeasonProgram
) -> None:
    three = fed_against(farm, facts_of("plan", whole), START, START + timedelta(days=3))
    week = fed_against(farm, facts_of("plan", whole), START, START + timedelta(days=7))
    for short, long in zip(three.lines, week.lines, strict=True):
        assert short.planned_kg == pytest.approx((long.planned_kg or 0.0) * 3.0 / 7.0)


def test_a_log_without_a_plan_is_told_alone(farm: Farm) -> None:
    log = (FedRow(START, "lot-0", "group-0", bales=4.0),)
    found = fed_against(replace(farm, fed=log), None, START, DAY)
    assert [line.planned_kg for line in found.lines] == [None]
    assert "of Lot 0 fed." in found.sentences[0]
