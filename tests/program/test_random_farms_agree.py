"""Headline, status and list of shortages agree with what the animals are given, farm by farm.

What a group gets, what it needs and what stands in the yard is counted here from the rows of the
program alone, apart from the code that judges it.
"""

from __future__ import annotations

import re
from collections import defaultdict
from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from rickyard.display import Display
from rickyard.farm import Farm, Report
from rickyard.program.planning import plan_season
from rickyard.program.result import PlanOptions, SeasonProgram
from rickyard.sheets.wording import answer_of
from support.farms import random_farm
from support.season_farms import hay, report_on

#: In every run: one that is short and one, under rules, that is not.
USUAL = (0, 7)
ALL = 300
US = Display("us")

#: What hay gives, and what leaves an animal hungry when a quarter of it is missing.
OF_HAY = {"forage", "least_dm", "nem", "gain_energy", "tdn", "cp", "cp_floor"}
HUNGER = {"forage", "nem", "least_dm", "tdn"}


def scaled(seed: int) -> Farm:
    """Return a random farm with 0.5 to 20 times the head that its hay was put up for."""
    chance = np.random.default_rng(7_000 + seed)
    farm = random_farm(seed, lots=4, groups=3, weeks=8)
    factor = float(np.exp(chance.uniform(np.log(0.5), np.log(20.0))))
    rules = {"hays_at_once": int(chance.integers(1, 3)), "least_run_days": 14, "change_usd": 10.0}
    season = replace(farm.season, **rules) if seed % 3 else farm.season
    if seed % 5 == 4:
        season = replace(season, reserve_days=10.0)
    feeds = farm.feeds if seed % 4 else ()
    groups = tuple(replace(one, head=max(1, round(factor * one.head))) for one in farm.groups)
    return replace(farm, season=season, groups=groups, feeds=feeds)


def short_cells(program: SeasonProgram) -> set[tuple[str, str, int]]:
    """Return what is short by group, need and period, counted from what is fed."""
    return {
        (row.group_id, row.nutrient, row.period)
        for row in program.needs
        if row.shortage > 1e-6 * max(1.0, abs(row.need))
    }


def forage_per_head(program: SeasonProgram) -> dict[tuple[str, int], float]:
    forage = {one.source_id for one in program.sources if one.is_forage}
    eaten: dict[tuple[str, int], float] = defaultdict(float)
    for row in program.feeding:
        if row.source_id in forage:
            eaten[row.group_id, row.period] += row.eaten_kg_dm_per_head_day
    return eaten


def yard_left_t(program: SeasonProgram) -> float:
    """Return what stands in the yard at the end: what stood, less put out, lost and sold."""
    dm = {one.source_id: one.dm_pct / 100.0 for one in program.sources}
    lots = {lot.lot_id for lot in program.lots}
    out = sum(
        row.offered_kg * dm[row.source_id] / 1000.0
        for row in program.feeding
        if row.source_id in lots
    )
    return sum(lot.start_t - lot.storage_loss_t - lot.sold_t for lot in program.lots) - out


def with_hay(farm: Farm, as_fed_kg: float, tdn: float, cp: float) -> Farm:
    """Return a farm that has bought hay, as a lot in the store that most of its hay stands in."""
    stores = [lot.storage for lot in farm.lots]
    lot = replace(
        hay("bought", tdn, cp, as_fed_kg / 1000.0, 100.0),
        storage=max(stores, key=stores.count),
        baled_on=farm.season.start - timedelta(days=120),
    )
    report: Report = report_on(lot, tdn, cp, 0.0)
    return replace(farm, lots=(*farm.lots, lot), reports=(*farm.reports, report))


@pytest.mark.parametrize(
    "seed",
    [pytest.param(seed, marks=() if seed in USUAL else pytest.mark.long) for seed in range(ALL)],
)
def test_what_is_said_agrees_with_what_is_fed(seed: int) -> None:
    farm = scaled(seed)
    options = PlanOptions(effort=1.0, threads=1, weekly=True)
    program = plan_season(farm, options=options)
    answer = answer_of(program, farm, US)
    cells = short_cells(program)

    # The list names every cell that is short, and no other.
    weeks = {(one.start): one.index for one in program.periods}
    named = {
        (one.group_id, one.nutrient, weeks[day])
        for one in program.shortages
        if one.group_id
        for day in weeks
        if one.start <= day < one.end
    }
    assert cells <= named
    assert (program.status == "short") is bool(program.shortages)

    # Forage: a group that gets less than it is said to need is in the list.
    eaten = forage_per_head(program)
    for row in program.needs:
        if row.nutrient == "forage":
            got = eaten[row.group_id, row.period]
            missing = row.need - got > 1e-4 * row.need + 1e-6
            assert missing is ((row.group_id, "forage", row.period) in named), row

    # The yard: nothing is fed that is not there, and what is told to be left is left.
    left = yard_left_t(program)
    assert left == pytest.approx(sum(lot.left_t for lot in program.lots), abs=1e-3)
    assert min(lot.left_t for lot in program.lots) > -1e-3
    assert f"{US.tons_text(left)} left" in answer.detail

    hungry = {
        (row.group_id, row.period)
        for row in program.needs
        if row.nutrient in HUNGER
        and row.bound == "at_least"
        and row.shortage >= 0.25 * row.need > 0
    }
    if answer.kind == "enough":
        assert not program.shortages
        assert answer.sentence.startswith("Enough hay")
    else:
        assert program.shortages
    if hungry:
        assert not answer.sentence.startswith(("Enough", "The hay lasts"))
        assert answer.kind in ("hay_short", "unfinished") or "go short of" in answer.sentence
    if answer.kind == "unfinished":
        assert not all(one.proven for one in program.shortages)
    if answer.kind == "hay_short":
        first = min(one.start for one in program.shortages if one.nutrient in OF_HAY)
        assert answer.sentence.startswith("Hay runs short from ")
        opening = answer.sentence.split(".")[0]
        told_first = [d for d in weeks if re.search(rf"{US.day_text(d)}\b", opening)]
        assert told_first
        assert told_first[0] >= first
        if program.hay_to_buy is None:
            assert left <= 0.01 * sum(lot.start_t for lot in program.lots)
        else:
            buy = program.hay_to_buy
            assert f"{US.tons_text(buy.as_fed_kg / 1000.0)} of hay" in answer.sentence
            assert buy.gives_all is ("Even with it they are short" not in answer.sentence)
            if buy.checked:
                # What hay cannot give stays short; another need may take a little of it over.
                lacked = {one.nutrient for one in program.shortages}
                again = plan_season(
                    with_hay(farm, buy.as_fed_kg, buy.tdn_pct, buy.cp_pct), options=options
                )
                still = {
                    row.nutrient
                    for row in again.needs
                    if row.shortage > 0.05 * abs(row.need) + 1e-6
                }
                assert "forage" not in still
                assert not (buy.gives_all and still & OF_HAY)
                assert not (still & OF_HAY) - lacked
