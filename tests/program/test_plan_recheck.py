"""The second look finds what is wrong, and finds nothing where nothing is."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta

import pytest

from rickyard.farm import Farm
from rickyard.program.audit.audit import recheck
from rickyard.program.planning.season import plan_season
from rickyard.program.result.result import SeasonProgram
from rickyard.sheets.data_files.plan_json import plan_json
from rickyard.sheets.data_files.plan_load import program_from_json
from support.farms import random_farm
from support.rechecked import not_looked_at
from support.shipped import SHORT, shipped_farm
from support.weekly import WEEKLY

#: So many seeds each time, the rest with the long tests.
USUAL = (1, 2, 3)


@pytest.fixture(scope="module")
def farm() -> Farm:
    return shipped_farm()


@pytest.fixture(scope="module")
def program(farm: Farm) -> SeasonProgram:
    return plan_season(farm, options=SHORT)


def test_a_sound_program_passes(program: SeasonProgram, farm: Farm) -> None:
    assert recheck(program, farm) == ()


@pytest.mark.parametrize(
    "seed",
    [pytest.param(seed, marks=() if seed in USUAL else pytest.mark.long) for seed in range(60)],
)
def test_programs_of_many_farms_pass(seed: int) -> None:
    farm = random_farm(seed, lots=5, groups=6, weeks=8)
    if seed % 3 == 0:
        farm = replace(farm, season=replace(farm.season, simpler_for_pct=1.0))
    with not_looked_at():
        written = plan_json(plan_season(farm, options=WEEKLY))
    assert [str(breach) for breach in recheck(program_from_json(written), farm)] == []


def first_feeding(program: SeasonProgram, **changes: object) -> SeasonProgram:
    rows = list(program.feeding)
    rows[0] = replace(rows[0], **changes)  # type: ignore[arg-type]
    return replace(program, feeding=tuple(rows))


def to_group(program: SeasonProgram, source: str, group: str) -> SeasonProgram:
    """Move what one group eats of a source to another group."""
    rows = [
        replace(row, group_id=group) if row.source_id == source else row for row in program.feeding
    ]
    return replace(program, feeding=tuple(rows))


FAULTS: dict[str, tuple[Callable[[SeasonProgram], SeasonProgram], str]] = {
    "less is eaten": (
        lambda p: first_feeding(
            p, eaten_kg_dm_per_head_day=p.feeding[0].eaten_kg_dm_per_head_day * 0.999
        ),
        "supplied",
    ),
    "more is offered": (
        lambda p: first_feeding(p, offered_kg=p.feeding[0].offered_kg * 1.01),
        "offered",
    ),
    "a row is left out": (lambda p: replace(p, feeding=p.feeding[1:]), "supplied"),
    "the cost is off": (lambda p: replace(p, cost=p.cost * 1.00001), "cost of the season"),
    "a need is softened": (
        lambda p: replace(
            p, needs=(replace(p.needs[0], need=p.needs[0].need * 0.99), *p.needs[1:])
        ),
        "need",
    ),
    "a need is forgotten": (lambda p: replace(p, needs=p.needs[1:]), "row"),
    "a lot holds more than it does": (
        lambda p: replace(
            p, lots=(replace(p.lots[0], start_t=p.lots[0].start_t * 1.01), *p.lots[1:])
        ),
        "start",
    ),
    "hay is better than its test": (
        lambda p: replace(
            p, sources=(replace(p.sources[0], cp_pct=p.sources[0].cp_pct + 1.0), *p.sources[1:])
        ),
        "cp_pct",
    ),
    "a purchase is cheaper": (
        lambda p: replace(
            p,
            purchases=(
                replace(p.purchases[0], cost_usd=p.purchases[0].cost_usd * 0.9),
                *p.purchases[1:],
            ),
        ),
        "cost",
    ),
    "nitrate hay goes to the cows": (
        lambda p: to_group(p, "26-FLAT-1", "cows"),
        "share of Drought sorghum-sudan",
    ),
}


@pytest.mark.parametrize(("spoil", "word"), FAULTS.values(), ids=list(FAULTS))
def test_each_planted_fault_is_found(
    program: SeasonProgram, farm: Farm, spoil: Callable[[SeasonProgram], SeasonProgram], word: str
) -> None:
    breaches = recheck(spoil(program), farm)
    assert any(word in breach.what for breach in breaches), [str(one) for one in breaches]


def test_hay_fed_after_its_last_day_is_found(program: SeasonProgram, farm: Farm) -> None:
    lots = tuple(
        replace(lot, feed_by=farm.season.start + timedelta(days=20))
        if lot.lot_id == "26-HILL-1"
        else lot
        for lot in farm.lots
    )
    breaches = recheck(program, replace(farm, lots=lots))
    assert any("outside its dates" in breach.what for breach in breaches)


def test_a_breach_says_both_figures(program: SeasonProgram, farm: Farm) -> None:
    breach = recheck(replace(program, cost=1.0), farm)[0]
    assert str(breach).startswith("cost of the season: the program says 1, the re-check ")
