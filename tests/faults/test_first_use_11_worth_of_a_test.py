"""What a test is worth and costs: one price on every page, and no nought where stock are short."""

from __future__ import annotations

from dataclasses import replace

from rickyard.farm import Farm, Forage
from rickyard.hay.sampling import farm_sample_plans
from rickyard.program.explain import worths_of_tests
from rickyard.program.planning import plan_season
from support.season_farms import CAKE, LIME, cows, farm_of, hay, report_on
from support.weekly import WEEKLY


def untested(cash_limit_usd: float | None) -> Farm:
    """Dry cows on one untested lot of prairie hay, with cake for the protein it lacks."""
    lot = replace(hay("hay", 0.0, 0.0, 90.0, 80.0), forage=Forage.PRAIRIE)
    farm = farm_of([(lot, report_on(lot, 50.0, 8.0))], [cows()], [])
    season = replace(farm.season, cash_limit_usd=cash_limit_usd)
    return replace(farm, reports=(), feeds=(CAKE, LIME), season=season)


def test_first_use_11_a_test_is_no_waste_under_a_cash_limit() -> None:
    (free,) = plan_season(untested(None), options=WEEKLY).test_worth
    assert "Knowing it saves about" in free.sentence
    program = plan_season(untested(20.0), options=WEEKLY)
    assert any(one.nutrient in ("cp", "nem", "tdn") for one in program.shortages)
    (tight,) = program.test_worth
    assert "saves no feed" not in tight.sentence
    assert "cannot be priced while needs stay unmet" in tight.sentence


def test_first_use_11_one_test_has_one_price() -> None:
    farm = untested(None)
    program = plan_season(farm, options=WEEKLY)
    (here,) = program.test_worth
    (there,) = worths_of_tests(
        farm, program, farm_sample_plans(farm, farm.season.start, {"hay": 88.0})
    )
    assert there.price_usd == here.fee_usd
