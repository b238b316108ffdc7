"""A program written as JSON holds against the farm folder, both read back from disk."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import numpy as np
import pytest

from rickyard.farm import Farm, Feed, FeedKind, Wanted, WishRow
from rickyard.folder.io.read import read_folder
from rickyard.folder.io.write import write_folder
from rickyard.program.audit.audit import recheck
from rickyard.program.planning.season import plan_season
from rickyard.program.result.options import PlanOptions
from rickyard.sheets.data_files.plan_json import plan_json
from rickyard.sheets.data_files.plan_load import program_from_json
from support.farms import START, random_farm

#: So many seeds each time, the rest with the long tests.
USUAL = (1,)

#: Bought hay and autumn pasture: the two feeds that are forage and stand in no yard.
ROUGHAGE = (
    Feed(
        "mixed-hay",
        "Mixed hay by the load",
        FeedKind.FORAGE,
        0.16,
        dm_pct=87.0,
        tdn_pct=55.0,
        cp_pct=9.5,
        ndf_pct=62.0,
        ca_pct=0.5,
        p_pct=0.22,
        most_kg=40000.0,
        load_kg=9000.0,
    ),
    Feed(
        "fescue",
        "Stockpiled fescue",
        FeedKind.GRAZING,
        0.02,
        dm_pct=40.0,
        tdn_pct=60.0,
        cp_pct=11.0,
        ndf_pct=58.0,
        ca_pct=0.45,
        p_pct=0.25,
        most_kg=20000.0,
        from_on=START,
        to_on=START + timedelta(days=20),
    ),
)


def varied(seed: int) -> Farm:
    """Return a farm whose seed decides which of all the rules of a season hold on it."""
    chance = np.random.default_rng(7000 + seed)
    farm = random_farm(300 + seed, lots=5, groups=4, weeks=8)
    season = replace(
        farm.season,
        hays_at_once=2 if seed % 2 else None,
        least_run_days=14 if seed % 3 else None,
        change_usd=float(chance.choice([0.0, 25.0])),
        reserve_days=10.0 if seed % 4 == 1 else None,
        cash_limit_usd=1500.0 if seed % 4 == 2 else None,
        assurance_pct=85.0 if seed % 5 == 0 else None,
        simpler_for_pct=1.0 if seed % 6 == 0 else 0.0,
        water_sulfate_ppm=400.0 if seed % 2 else None,
    )
    lots = tuple(
        replace(lot, sale_usd_per_kg=0.11) if number == seed % 5 else lot
        for number, lot in enumerate(farm.lots)
    )
    groups = tuple(
        replace(group, feed_every_days=3, change_over_days=7) if number == seed % 4 else group
        for number, group in enumerate(farm.groups)
    )
    wishes = (
        WishRow(Wanted.FEED, "lot-1", "group-0", START + timedelta(days=14)),
        WishRow(Wanted.KEEP_OFF, "corn"),
    )
    return replace(
        farm,
        season=season,
        lots=lots,
        groups=groups,
        feeds=(*farm.feeds, *ROUGHAGE),
        wishes=wishes if seed % 3 == 0 else (),
    )


@pytest.mark.parametrize(
    "seed",
    [pytest.param(seed, marks=() if seed in USUAL else pytest.mark.long) for seed in range(12)],
)
def test_a_program_holds_against_the_folder(seed: int, tmp_path: Path) -> None:
    write_folder(varied(seed), tmp_path / "farm")
    (tmp_path / "plan.json").write_text(
        plan_json(
            plan_season(
                read_folder(tmp_path / "farm").farm, options=PlanOptions(effort=0.2, weekly=True)
            )
        ),
        encoding="utf-8",
    )
    program = program_from_json((tmp_path / "plan.json").read_text(encoding="utf-8"))
    assert program.feeding, "something must be fed for the check to look at"
    again = read_folder(tmp_path / "farm").farm
    assert [str(one) for one in recheck(program, again)] == []


def test_a_folder_that_changed_since_is_found(tmp_path: Path) -> None:
    """Fewer bales, another price, more head: each is seen in the folder on disk."""
    farm = varied(1)
    written = plan_json(plan_season(farm, options=PlanOptions(effort=0.0, weekly=True)))
    changed = {
        "bales": replace(farm, lots=(replace(farm.lots[0], bales=1.0), *farm.lots[1:])),
        "head": replace(farm, groups=(replace(farm.groups[0], head=99), *farm.groups[1:])),
        "price": replace(
            farm,
            feeds=tuple(replace(one, price_usd_per_kg=0.9) for one in farm.feeds),
        ),
    }
    for name, other in changed.items():
        write_folder(other, tmp_path / name)
        found = recheck(program_from_json(written), read_folder(tmp_path / name).farm)
        assert found, name
