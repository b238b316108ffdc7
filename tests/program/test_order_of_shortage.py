"""Where hay does not reach it falls on those whom it harms least, and the sentence says why."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from rickyard.farm import AnimalClass, Farm, Group
from rickyard.nutrients import NUTRIENTS
from rickyard.program.planning.season import plan_season
from rickyard.program.result import PlanOptions, SeasonProgram
from rickyard.safety.shortage_order import shortage_places
from support.farms import START
from support.rows import few
from support.season_farms import CORN, LIME, cows, farm_of, hay, report_on

MIDDLE = replace(cows(START + timedelta(days=170)), condition_score=5.5)
FIRST = Group(
    "first",
    "First-calf heifers",
    AnimalClass.FIRST_CALF_HEIFER,
    10,
    weight_kg=440.0,
    mature_weight_kg=560.0,
    calving_on=START + timedelta(days=60),
    feeding_loss_pct=0.0,
)
MILK = replace(cows(START - timedelta(days=40)), group_id="milk", name="Nursing cows", head=10)
BULLS = Group("bulls", "Bulls", AnimalClass.BULL, 2, weight_kg=900.0, feeding_loss_pct=0.0)
HEIFERS = Group(
    "heifers",
    "Replacement heifers",
    AnimalClass.REPLACEMENT_HEIFER,
    10,
    weight_kg=260.0,
    mature_weight_kg=560.0,
    age_months=9.0,
    gain_kg_per_day=0.5,
    feeding_loss_pct=0.0,
)


WEEKLY = PlanOptions(weekly=True)


def short_of_energy(program: SeasonProgram) -> dict[str, float]:
    found: dict[str, float] = defaultdict(float)
    for row in program.needs:
        if row.nutrient in ("nem", "gain_energy"):
            found[row.group_id] = max(found[row.group_id], row.shortage / row.need)
    return found


def test_cows_in_the_middle_go_short_before_heifers_milk_and_bulls() -> None:
    """Heifers before their first calf got a fifth of their energy, and bulls half."""
    lot = hay("hay", 72.0, 15.0, 22.0, 80.0)
    farm = farm_of([(lot, report_on(lot, 72.0, 15.0))], [MIDDLE, MILK, FIRST, BULLS], [LIME], 8)
    program = plan_season(farm, options=WEEKLY)
    short = short_of_energy(program)
    weeks = [one for one in program.needs if (one.group_id, one.nutrient) == ("cows", "nem")]
    # No week lacks more than a third while another lacks less than a seventh.
    assert all(0.149 < one.shortage / one.need < 0.351 for one in weeks)
    assert max(short["milk"], short["first"], short["bulls"]) < 1e-6
    sentences = [one.sentence for one in program.shortages if one.nutrient == "nem"]
    assert (
        "They go short before Nursing cows, First-calf heifers and Bulls: grown stock"
        in (sentences[0])
    )
    assert "Zago et al. 2019" in sentences[0]


def test_rations_go_short_in_the_same_order() -> None:
    lot = hay("hay", 72.0, 15.0, 12.0, 80.0)
    farm = farm_of([(lot, report_on(lot, 72.0, 15.0))], [MIDDLE, FIRST], [LIME], 8)
    short = short_of_energy(plan_season(farm))
    assert short["cows"] > 0.1
    assert short["first"] < 1e-6


def scarce(seed: int) -> Farm:
    """Return cows in the middle of pregnancy and two kinds of heifers beside too little hay."""
    chance = np.random.default_rng(seed)
    middle = replace(
        MIDDLE,
        head=int(chance.integers(10, 60)),
        calving_on=START + timedelta(days=int(chance.integers(130, 200))),
        condition_score=float(chance.choice([5.0, 5.5, 6.0, 7.0])),
    )
    herd = [
        middle,
        replace(FIRST, head=int(chance.integers(5, 25)), weight_kg=float(chance.uniform(400, 470))),
        replace(HEIFERS, head=int(chance.integers(5, 25))),
    ]
    wanted = sum(one.head * one.weight_kg * 0.022 for one in herd) * 42 / 880.0
    parts = chance.dirichlet(np.full(int(chance.integers(1, 4)), 3.0)) * wanted
    lots = []
    for number, tonnes in enumerate((parts * chance.uniform(0.3, 0.5)).tolist()):
        tdn, cp = chance.uniform(56.0, 66.0), chance.uniform(9.0, 14.0)
        lot = hay(f"hay-{number}", tdn, cp, max(1.0, round(tonnes)), 80.0)
        lots.append((lot, report_on(lot, tdn, cp)))
    corn = replace(CORN, most_kg=float(chance.uniform(500.0, 3000.0)))
    return farm_of(lots, herd, [LIME, corn] if chance.random() < 0.5 else [LIME], 6)


@pytest.mark.parametrize("seed", few(range(40), 3))
def test_no_heifer_with_room_is_short_while_a_cow_in_the_middle_is_full(seed: int) -> None:
    """Who is at full appetite is short by her hay, which no hay of the cows' would mend."""
    program = plan_season(scarce(seed), options=WEEKLY)
    rows = {(one.group_id, one.period, one.nutrient): one for one in program.needs}
    assert program.status == "short"
    for period in program.periods:
        cow = rows["cows", period.index, "nem"]
        for heifer in ("first", "heifers"):
            energy = rows[heifer, period.index, "gain_energy"]
            full = max(
                one.supplied / one.need
                for one in (rows[heifer, period.index, name] for name in ("appetite", "ndf"))
            )
            if energy.shortage > 0.01 * energy.need and full < 0.99:
                assert cow.shortage > 0.01 * cow.need, (heifer, period)


def test_long_forage_comes_before_what_the_best_hay_brings_to_anybody() -> None:
    """Hay of 70% TDN and a quarter protein brings 1.7 Mcal of NEm a kilogram."""
    most = max(one.weight for one in shortage_places())
    usd = {name: NUTRIENTS[name].shortage_usd or 0.0 for name in ("nem", "cp", "forage")}
    assert usd["forage"] > most * usd["nem"] * 1.7
    assert usd["forage"] > most * (usd["nem"] * 1.3 + usd["cp"] * 0.13)
