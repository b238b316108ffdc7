"""Hay left over is not worth all that it was: dear feed is not bought beside hundreds of tons."""

from __future__ import annotations

from dataclasses import replace

import pytest

from rickyard.farm import Season, Storage
from rickyard.hay.storage.storage import (
    DRY_RAIN_MM,
    FIRST_MONTHS,
    HUMID_RAIN_MM,
    SECOND_MONTHS,
    storage_loss_pct,
)
from rickyard.program.planning import plan_season
from rickyard.program.result import SeasonProgram
from support.season_farms import CORN, LIME, START, cows, farm_of, hay, report_on
from support.weekly import WEEKLY

#: Energy of corn then costs between nine tenths and all of that of the hay. [USD a kilogram]
PRICE = 0.235


def test_first_use_14_what_is_usual_is_what_a_further_year_of_storage_leaves() -> None:
    rain = (DRY_RAIN_MM + HUMID_RAIN_MM) / 2.0
    ways = [one for one in Storage if one is not Storage.WRAPPED]
    assert len(ways) == 6
    kept = [
        (100.0 - storage_loss_pct(way, SECOND_MONTHS, rain))
        / (100.0 - storage_loss_pct(way, FIRST_MONTHS, rain))
        for way in ways
    ]
    usual = Season(START, START).carry_over_value_pct
    assert usual == pytest.approx(100.0 * sum(kept) / len(kept), abs=1.5)


def bought_kg(program: SeasonProgram) -> float:
    return sum(one.as_fed_kg for one in program.purchases if one.feed_id == "corn")


def test_first_use_14_no_dear_grain_is_bought_beside_hay_that_is_left() -> None:
    lot = hay("lot", 55.0, 10.0, 200.0, 130.0)
    corn = replace(CORN, price_usd_per_kg=PRICE)
    farm = farm_of([(lot, report_on(lot, 55.0, 10.0))], [cows()], [corn, LIME])
    usual = plan_season(farm, options=WEEKLY)
    whole = plan_season(
        replace(farm, season=replace(farm.season, carry_over_value_pct=100.0)), options=WEEKLY
    )

    assert bought_kg(usual) < 0.5 * bought_kg(whole)
    assert sum(one.left_t for one in usual.lots) > 10.0
