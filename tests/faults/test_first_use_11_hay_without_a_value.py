"""Hay of which no lot has a value is not free: what is usual stands in for it, and is said."""

from __future__ import annotations

from dataclasses import replace

import pytest

from rickyard.display import money_text
from rickyard.program.planning import Bought, answer, changed, plan_season
from rickyard.quantities import KG_PER_SHORT_TON
from support.season_farms import cows, farm_of, hay, report_on
from support.weekly import WEEKLY


def test_first_use_11_hay_without_a_value_is_counted_at_what_is_usual() -> None:
    lot = replace(hay("lot", 55.0, 9.0, 40.0, 100.0), value_usd_per_kg=None)
    program = plan_season(farm_of([(lot, report_on(lot, 55.0, 9.0))], [cows()], []), options=WEEKLY)
    (source,) = program.sources
    assert source.usd_per_kg_dm * KG_PER_SHORT_TON == pytest.approx(120.0)
    (said,) = [one.sentence for one in program.assumptions if "No value is given" in one.sentence]
    assert "$120 a short ton, as no lot has a value" in said
    assert "common practice, no published source" in said
    assert "value_usd_per_ton" in said


def test_first_use_11_hay_bought_beside_a_lot_without_a_value_is_not_free() -> None:
    lot = replace(hay("lot", 55.0, 9.0, 40.0, 100.0), value_usd_per_kg=None)
    farm = farm_of([(lot, report_on(lot, 55.0, 9.0))], [cows()], [])
    base = plan_season(farm, options=WEEKLY)
    bought = [Bought("lot", 10.0 * KG_PER_SHORT_TON)]
    said = answer(farm, base, bought, plan_season(changed(farm, bought), options=WEEKLY)).sentence
    worth = money_text(10.0 * 120.0 * base.sources[0].dm_pct / 100.0)
    assert f"The hay bought is worth {worth} at the value of its lot." in said
