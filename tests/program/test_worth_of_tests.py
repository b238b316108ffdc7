"""What a test is worth: against planning the season again and again for hay that is not known."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from rickyard.farm import Basis, Farm, Forage, LabPackage, Report
from rickyard.forage.plausibility.profile import lot_profile
from rickyard.program.ask.on_request import Question, with_answers
from rickyard.program.ask.sensitivity import Inquiry
from rickyard.program.ask.worth_by_planning import STEPS, _costs, saved_by_knowing
from rickyard.program.explain.worth_of_tests import (
    COMMON_FEE_USD,
    UNDER_PER_OVER,
    _is_short,
    _way,
    _worth,
    errors_of_test,
    worths_of_untested,
)
from rickyard.program.planning.season import plan_season
from rickyard.program.problem.assurance import UNTESTED_CP_FRAC, UNTESTED_TDN_FRAC
from rickyard.program.problem.problem import problem_of
from rickyard.program.result.result import SeasonProgram
from rickyard.types import FloatArray
from support.farms import START, analyte
from support.rows import each_row
from support.season_farms import CAKE, LIME, cows, farm_of, hay, report_on
from support.weekly import WEEKLY


def untested_farm() -> Farm:
    """Dry cows on one untested lot of prairie hay, with cake for the protein it lacks."""
    lot = replace(hay("hay", 0.0, 0.0, 90.0, 80.0), forage=Forage.PRAIRIE)
    farm = farm_of([(lot, report_on(lot, 50.0, 8.0))], [cows()], [])
    return replace(farm, reports=(), feeds=(CAKE, LIME))


def cost_if(farm: Farm, name: str, percent: float) -> float:
    """Return what the season costs when the hay is planned with this protein or energy."""
    lot = farm.lots[0]
    book = lot_profile(lot, ())
    values = {one: getattr(book, f"{one}_pct") for one in ("cp", "tdn", "ndf", "ca", "p")}
    values[name] = percent
    analytes = [analyte(one, value) for one, value in values.items()]
    analytes.append(analyte("dm", book.dm_pct, basis=Basis.AS_RECEIVED))
    program = plan_season(
        replace(farm, reports=(Report("R", lot.lot_id, tuple(analytes), START),)), options=WEEKLY
    )
    assert program.status == "complete"
    return program.cost


def brute_force(farm: Farm, name: str, mean: float, spread: float, error: float) -> float:
    """Return what knowing saves when the truth is drawn and the season planned again.

    Who plans with too good a hay pays four times what the feed that lacks would have cost.
    """
    grid = np.linspace(mean - 5.0 * spread, mean + 5.0 * spread, 21)
    cost = np.array([cost_if(farm, name, float(one)) for one in grid])
    chance = np.random.default_rng(7)
    true = chance.normal(mean, spread, 20_000)
    result = true + chance.normal(0.0, error, len(true))
    weight = spread**2 / (spread**2 + error**2)
    after = spread * error / np.hypot(spread, error)

    def loss(planned: FloatArray, really: FloatArray) -> float:
        over = np.interp(planned, grid, cost) - np.interp(really, grid, cost)
        return float(np.mean(np.where(over > 0.0, over, -UNDER_PER_OVER * over)))

    shifts = np.linspace(-2.0, 0.5, 51)
    blind = min(loss(np.full_like(true, mean + one * spread), true) for one in shifts)
    told = mean + weight * (result - mean)
    return blind - min(loss(told + one * after, true) for one in shifts)


def told_and_again(name: str, share: float) -> tuple[float, float, float]:
    """Return the worth at the program's prices, by solving, and by brute force. [US dollars]."""
    farm = untested_farm()
    program = plan_season(farm, options=WEEKLY)
    lot = farm.lots[0]
    mean = float(getattr(lot_profile(lot, ()), f"{name}_pct"))
    way, _ = _way(farm, lot)
    errors = errors_of_test(farm, lot)
    error = errors.protein if name == "cp" else errors.energy
    worth = _worth(farm, program, lot, way)
    told = worth.protein_usd if name == "cp" else worth.energy_usd
    inquiry = Inquiry.of(farm, problem_of(farm), program)
    percent = mean + mean * share * np.array(STEPS)
    usd = _costs(inquiry, 0, name, percent)
    solved = saved_by_knowing(percent, usd, mean, mean * share, error)
    return told, solved, brute_force(farm, name, mean, mean * share, error)


def test_protein_is_worth_what_planning_again_and_again_finds() -> None:
    """One price holds over most of what the hay may be: the short way and the long one agree."""
    told, solved, again = told_and_again("cp", UNTESTED_CP_FRAC)
    assert told > 2.0
    assert told == pytest.approx(again, rel=0.06)
    assert solved == pytest.approx(again, rel=0.06)


def test_energy_is_worth_more_than_its_price_at_the_mean_says() -> None:
    """Poorer hay than the book says needs cake: only solving again finds what knowing it saves."""
    told, solved, again = told_and_again("tdn", UNTESTED_TDN_FRAC)
    assert told < 0.5 * again
    assert solved == pytest.approx(again, rel=0.06)


def test_asking_weighs_a_test_by_planning_again() -> None:
    farm = untested_farm()
    program = plan_season(farm, options=WEEKLY)
    (before,) = program.test_worth
    (after,) = with_answers(farm, program, Question(effort=60.0)).test_worth
    parts = [told_and_again(*one)[1] for one in (("cp", 0.075), ("tdn", 0.05))]
    assert after.saved_usd == pytest.approx(sum(parts))
    assert after.saved_usd > before.saved_usd
    assert after.fee_usd == before.fee_usd
    assert "is untested. Knowing it saves about" in after.sentence


def test_only_lots_without_a_test_are_told_of() -> None:
    farm = untested_farm()
    tested = replace(farm, reports=(report_on(farm.lots[0], 55.0, 9.0),))
    assert plan_season(tested, options=WEEKLY).test_worth == ()
    nitrate = report_on(farm.lots[0], 55.0, 9.0).analytes[-1]
    only_nitrate = replace(farm, reports=(Report("N", "hay", (nitrate,), START),))
    assert [one.lot_id for one in plan_season(only_nitrate, options=WEEKLY).test_worth] == ["hay"]
    empty = replace(farm, lots=(replace(farm.lots[0], bales=0.0),))
    assert plan_season(empty, options=WEEKLY).test_worth == ()


def test_the_fee_is_that_of_the_farms_laboratory() -> None:
    farm = untested_farm()
    program = plan_season(farm, options=WEEKLY)
    (common,) = program.test_worth
    assert "University of Georgia" in common.fee_source
    sold = LabPackage("County", "Basic", 27.0, "dm cp adf ndf tdn")
    (own,) = worths_of_untested(replace(farm, labs=(sold,)), program)
    assert own.fee_source.startswith("labs.csv, County")
    assert own.fee_usd - common.fee_usd == pytest.approx(27.0 - COMMON_FEE_USD)
    assert own.saved_usd == common.saved_usd


def test_a_lot_whose_protein_decides_nothing_saves_nothing() -> None:
    farm = untested_farm()
    program: SeasonProgram = plan_season(farm, options=WEEKLY)
    idle = replace(program, feeding=())
    (worth,) = worths_of_untested(farm, idle)
    assert worth.saved_usd == 0.0
    assert "does not feed this lot" in worth.sentence


@each_row(
    ("nutrient", "group", "day", "says"),
    [
        ("cp", "cows", 6, False),
        ("cp", "cows", 7, True),
        ("nem", "cows", 20, True),
        ("cp", "cows", 21, False),
        ("cp", "steers", 7, False),
        ("ca", "cows", 7, False),
        ("cash", "", 30, True),
    ],
)
def test_no_price_holds_where_what_decides_it_is_short_while_the_lot_is_fed(
    nutrient: str, group: str, day: int, says: bool
) -> None:
    start = START + timedelta(days=7)
    short = {"nutrient": nutrient, "group_id": group, "start": start}
    program: Any = SimpleNamespace(
        shortages=[SimpleNamespace(**short, end=start + timedelta(days=14))]
    )
    row: Any = SimpleNamespace(group_id="cows", start=START + timedelta(days=day))
    assert _is_short(program, [row]) is says
