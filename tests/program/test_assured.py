"""Protein and energy that are enough with a promised chance."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from datetime import date, timedelta
from functools import cache

import numpy as np
import pytest

from rickyard.farm import AnimalClass, Farm, Group
from rickyard.forage.energy.energy import neg_from_tdn, nem_from_tdn
from rickyard.forage.plausibility.profile import lot_profile
from rickyard.forage.uncertainty.lot_error import lot_measured
from rickyard.program.audit.audit import recheck
from rickyard.program.inputs.needs import NeedTable
from rickyard.program.inputs.needs_by_period import season_series
from rickyard.program.inputs.sources import SourceTable, sources_of
from rickyard.program.planning.season import plan_season, solve_season
from rickyard.program.problem.assurance import Assurance, spreads
from rickyard.program.problem.problem import Problem, problem_of
from rickyard.program.result.result import SeasonProgram, SourceValues
from rickyard.program.search.relax import relax
from rickyard.quantities import OutOfRange
from rickyard.stock.equations import NDF_CAP_PCT_BW
from rickyard.stock.fill.substitution import tdn_lost_frac
from rickyard.types import FloatArray
from support.farms import START, random_farm
from support.rows import few
from support.season_farms import CAKE, LIME, cows, farm_of, hay, report_on, steers
from support.weekly import WEEKLY

DRAWS = 10_000


def promising(farm: Farm, chance_pct: float | None) -> Farm:
    return replace(farm, season=replace(farm.season, assurance_pct=chance_pct))


@cache
def planned(seed: int, chance_pct: float | None) -> tuple[Farm, SeasonProgram]:
    farm = promising(random_farm(seed, lots=6, groups=3, weeks=6), chance_pct)
    return farm, plan_season(farm, options=WEEKLY)


# ---- the published example, on the season's own path ----

#: Hock & Schittkowski, problem 73: cattle feed of barley, oats, sesame and groundnut, per unit.
COST = np.array([24.55, 26.75, 39.0, 40.5])
PROTEIN = np.array([12.0, 11.9, 41.8, 52.1])
VARIANCE = np.array([0.28, 0.19, 20.5, 0.62])
FAT = np.array([2.3, 5.6, 11.1, 1.3])


def cattle_feed(chance_pct: float) -> Problem:
    """One group, one day: protein is ``cp`` and must be assured, fat is ``tdn`` and is known."""
    lots = [hay(f"lot{i}", 50.0, 10.0, 100.0, 100.0) for i in range(4)]
    farm = farm_of([(lot, report_on(lot, 50.0, 10.0)) for lot in lots], [cows()], [], weeks=1)
    farm = replace(farm, season=replace(farm.season, end=START + timedelta(days=1)))
    problem = problem_of(farm)
    one, none = np.ones((1, 1)), np.full((1, 1), np.nan)
    needs = one_unit(problem.needs, one, none)
    sources = plenty(problem.sources)
    nothing = np.zeros(4)
    per_kg = dict.fromkeys(problem.per_kg, nothing)
    per_kg |= {"dm": np.ones(4), "cp": PROTEIN, "tdn": FAT}
    sd = {"cp": np.sqrt(VARIANCE), "tdn": nothing, "nem": nothing, "neg": nothing}
    return replace(
        problem,
        needs=needs,
        sources=sources,
        per_kg=per_kg,
        use_usd=COST[:, None],
        fixed_usd=0.0,
        keep=np.ones((4, 1)),
        shortage_usd=dict.fromkeys(problem.shortage_usd, 10000.0),
        assurance=Assurance(np.array([chance_pct]), sd),
    )


def one_unit(needs: NeedTable, one: FloatArray, none: FloatArray) -> NeedTable:
    return replace(
        needs,
        head=one,
        days=one,
        stated=one > 0,
        growing=one < 0,
        least={
            **dict.fromkeys(needs.least, none),
            "tdn": 5.0 * one,
            "cp": 21.0 * one,
            "least_dm": one,
        },
        retained_mcal=0.0 * one,
        cp_floor_frac=none,
        ca_to_p=none,
        most_dm_kg=one,
        most_ndf_kg=none,
    )


def plenty(sources: SourceTable) -> SourceTable:
    cell = np.ones((1, 4, 1))
    return replace(
        sources,
        start_kg_dm=np.full(4, 1e3),
        kept=np.ones((4, 1)),
        feeding_loss_frac=np.zeros((1, 4)),
        allowed=cell > 0,
        share_limit=cell,
        most_kg_dm=np.full((1, 4, 1), np.inf),
        least_kg_dm=0.0 * cell,
    )


def test_the_published_mix_is_found_on_the_seasons_own_path() -> None:
    chance = 95.0 + 0.001508  # z = 1.645, as the example has it
    solved = solve_season(cattle_feed(chance), lambda _: None)
    assert solved.optimum.objective == pytest.approx(29.894378, abs=1e-5)
    mix = solved.x[:4]
    np.testing.assert_allclose(mix, [0.63552, 0.0, 0.31270, 0.05178], atol=1e-4)
    assert solved.rounds <= 10


def test_counting_on_means_is_an_even_chance() -> None:
    solved = solve_season(cattle_feed(50.0), lambda _: None)
    assert solved.optimum.objective == pytest.approx(28.942648, abs=1e-5)


# ---- ten thousand seasons ----


def drawn_supplies(
    farm: Farm, program: SeasonProgram, seed: int
) -> dict[tuple[str, int, str], FloatArray]:
    """Draw protein and TDN of every lot and feed, and add up what each group gets."""
    chance = np.random.default_rng(seed)
    supply: dict[tuple[str, int, str], FloatArray] = defaultdict(lambda: np.zeros(DRAWS))
    drawn: dict[str, dict[str, FloatArray]] = {}
    lots = {lot.lot_id: lot for lot in farm.lots}
    for value in program.sources:
        cp_sd, tdn_sd = 0.075 * value.cp_pct, 0.05 * value.tdn_pct
        if value.source_id in lots:
            lot = lots[value.source_id]
            reports = farm.reports_of(lot.lot_id)
            profile = lot_profile(lot, reports)
            measured = lot_measured(lot, reports, profile)
            if profile.origins["cp_pct"] != "book":
                cp_sd = measured["cp_pct"].sd
            if profile.origins["tdn_pct"] != "book":
                tdn_sd = measured["tdn_pct"].sd
        cp = value.cp_pct + cp_sd * chance.standard_normal(DRAWS)
        tdn = value.tdn_pct + tdn_sd * chance.standard_normal(DRAWS)
        counted = tdn - lost_to_starch(value, farm)
        energy = value.tdn_pct > 0
        drawn[value.source_id] = {
            "dm": np.ones(DRAWS),
            "cp": cp / 100.0,
            "tdn": tdn / 100.0,
            "nem": np.asarray(nem_from_tdn(counted)) if energy else np.zeros(DRAWS),
            "neg": np.asarray(neg_from_tdn(counted)) if energy else np.zeros(DRAWS),
        }
    for row in program.feeding:
        for name, values in drawn[row.source_id].items():
            supply[row.group_id, row.period, name] += row.eaten_kg_dm_per_head_day * values
    return supply


def lost_to_starch(value: SourceValues, farm: Farm) -> float:
    """Return the TDN of fiber that a feed keeps hay from yielding, by its starch beside corn's."""
    if value.is_forage or not farm.season.grain_on_hay:
        return 0.0
    beside_corn = min((value.starch_pct or 0.0) / 72.1, 1.0)
    return 100.0 * float(tdn_lost_frac(NDF_CAP_PCT_BW)) * beside_corn


@pytest.mark.parametrize("chance_pct", [80.0, 95.0])
@pytest.mark.parametrize("seed", few([2, 3, 11], 1))
def test_ten_thousand_seasons_keep_the_promise(seed: int, chance_pct: float) -> None:
    farm, program = planned(seed, chance_pct)
    supply = drawn_supplies(farm, program, seed)
    series = {group.group_id: season_series(farm, group, program.periods) for group in farm.groups}
    binding = 0
    for row in program.needs:
        if row.assured is None or row.shortage > 0:
            continue
        at, one = (row.group_id, row.period), series[row.group_id]
        if row.nutrient == "cp_floor":
            met = supply[*at, "cp"] >= 0.07 * supply[*at, "dm"] - 1e-9
        elif row.nutrient == "gain_energy":
            nem, neg = supply[*at, "nem"], np.maximum(supply[*at, "neg"], 1e-9)
            need, gain = one.nem_mcal[row.period], one.retained_energy_mcal[row.period]
            met = need / nem + gain / neg <= 1.0
        else:
            met = supply[*at, row.nutrient] >= row.need
        share = 100.0 * float(met.mean())
        assert share >= chance_pct - 2.0, (row, share)
        if row.assured <= row.need * (1.0 + 1e-6):
            binding += 1
            assert share == pytest.approx(chance_pct, abs=2.0), (row, share)
    assert binding > 5


# ---- what a program says of its promises ----


def test_without_a_promise_nothing_is_said_of_one() -> None:
    farm, program = planned(2, None)
    assert problem_of(farm).assurance is None
    assert all(row.assured is None for row in program.needs)


def test_an_even_chance_is_the_program_of_means() -> None:
    _, means = planned(2, None)
    _, even = planned(2, 50.0)
    assert even.cost == pytest.approx(means.cost, rel=1e-9)


def test_more_assurance_costs_more_and_passes_the_recheck() -> None:
    last = planned(2, None)[1].cost
    for chance in (70.0, 80.0, 95.0):
        farm, program = planned(2, chance)
        assert program.cost > last
        assert program.gap < 1e-6
        assert recheck(program, farm) == ()
        last = program.cost


def test_a_group_has_an_assurance_of_its_own() -> None:
    farm = promising(random_farm(2, lots=6, groups=3, weeks=4), 60.0)
    first = replace(farm.groups[0], assurance_pct=95.0)
    farm = replace(farm, groups=(first, *farm.groups[1:]))
    program = plan_season(farm, options=WEEKLY)
    assert recheck(program, farm) == ()
    sure = problem_of(farm).assurance
    assert sure is not None
    assert sure.z == pytest.approx([1.645, 0.2533, 0.2533], abs=1e-3)
    said = [one.sentence for one in program.assumptions if "95% assurance" in one.sentence]
    assert len(said) == 1
    assert first.name in said[0]


def poor_hay_farm() -> Farm:
    lot = hay("hay", 54.0, 6.2, 200.0, 90.0)
    return farm_of([(lot, report_on(lot, 54.0, 6.2))], [cows(START + timedelta(days=150))], [LIME])


def test_a_promise_no_mix_can_keep_is_a_named_shortage() -> None:
    lot = hay("hay", 58.0, 8.2, 200.0, 90.0)
    farm = farm_of([(lot, report_on(lot, 58.0, 8.2))], [cows(START + timedelta(days=150))], [LIME])
    assert not any(
        one.nutrient == "cp_floor" for one in plan_season(farm, options=WEEKLY).shortages
    )
    farm = promising(farm, 97.5)
    program = plan_season(farm, options=WEEKLY)
    assert recheck(program, farm) == ()
    assert program.status == "short"
    short = next(one for one in program.shortages if one.nutrient == "cp_floor")
    assert short.sentence.startswith("At 97.5% assurance Cows are short of protein in the diet")
    assert "On average values there is enough" in short.sentence
    row = next(one for one in program.needs if one.nutrient == "cp_floor")
    assert row.assured is not None
    assert row.supplied >= row.need > row.assured
    assert row.shortage == pytest.approx(row.need - row.assured)


def test_a_shortage_of_means_stays_one_and_says_so() -> None:
    farm = promising(poor_hay_farm(), 90.0)
    program = plan_season(farm, options=WEEKLY)
    assert recheck(program, farm) == ()
    assert any("; on average values it is" in one.sentence for one in program.shortages)


def test_bought_protein_keeps_the_promise_where_it_can() -> None:
    farm = promising(replace(poor_hay_farm(), feeds=(LIME, CAKE)), 97.5)
    program = plan_season(farm, options=WEEKLY)
    assert recheck(program, farm) == ()
    assert not any(one.nutrient.startswith("cp") for one in program.shortages)


def test_limits_of_an_assured_need_have_a_price() -> None:
    """One more kilogram of protein needed costs what the program says, by solving again."""
    lot = hay("hay", 62.0, 8.5, 200.0, 90.0)
    mother = cows(START - timedelta(days=40))
    farm = farm_of([(lot, report_on(lot, 62.0, 8.5))], [mother], [LIME, CAKE], weeks=1)
    problem = problem_of(promising(farm, 90.0))
    base = solve_season(problem, lambda _: None)
    price = float(base.prices.curved["cp"].sum())
    assert price > 0
    step = 1e-4
    more = replace(
        problem.needs, least={**problem.needs.least, "cp": problem.needs.least["cp"] + step}
    )
    dearer = solve_season(replace(problem, needs=more), lambda _: None)
    found = (dearer.optimum.objective - base.optimum.objective) / step
    assert found == pytest.approx(price, rel=1e-3)


def test_stockers_gain_with_the_promised_chance() -> None:
    lot = hay("hay", 60.0, 12.0, 200.0, 90.0)
    farm = farm_of([(lot, report_on(lot, 60.0, 12.0))], [steers(0.4)], [LIME, CAKE])
    farm = promising(farm, 90.0)
    program = plan_season(farm, options=WEEKLY)
    assert recheck(program, farm) == ()
    rows = [row for row in program.needs if row.nutrient == "gain_energy"]
    for row in rows:
        assert row.assured is not None
        assert row.assured + row.shortage >= row.need * (1.0 - 1e-6)
        assert row.supplied > row.assured


@pytest.mark.parametrize("change", ["assured", "shortage", "none"])
def test_the_recheck_sees_a_false_promise(change: str) -> None:
    farm, program = planned(3, 95.0)
    at = next(
        i for i, row in enumerate(program.needs) if row.nutrient == "cp" and row.shortage == 0.0
    )
    row = program.needs[at]
    assert row.assured is not None
    false = {
        "assured": replace(row, assured=row.assured * 1.001),
        "shortage": replace(row, shortage=0.1),
        "none": replace(row, assured=None),
    }[change]
    needs = (*program.needs[:at], false, *program.needs[at + 1 :])
    found = recheck(replace(program, needs=needs), farm)
    assert any("cp" in one.what for one in found)


def test_the_recheck_sees_a_promise_that_is_not_kept() -> None:
    """A program of means handed in as one of 95 %."""
    farm, program = planned(3, None)
    found = recheck(program, promising(farm, 95.0))
    assert any("assured" in one.what for one in found)


@pytest.mark.parametrize("chance_pct", [40.0, 100.0])
def test_no_chance_to_promise_is_refused(chance_pct: float) -> None:
    with pytest.raises(OutOfRange, match="assurance_pct"):
        problem_of(promising(poor_hay_farm(), chance_pct))


def test_untested_lots_and_feeds_are_known_least() -> None:
    lot = hay("hay", 58.0, 9.0, 20.0, 90.0)
    other = replace(lot, lot_id="other", name="Other", counted_on=date(2026, 11, 2))
    farm = replace(farm_of([(lot, report_on(lot, 58.0, 9.0))], [cows()], [CAKE]), lots=(lot, other))
    problem = problem_of(farm)
    values = sources_of(farm, problem.needs).values
    found = spreads(farm, values)
    untested, feed = values[1], values[2]
    assert found["cp"][1] == pytest.approx(0.075 * untested.cp_pct / 100.0)
    assert found["tdn"][1] == pytest.approx(0.05 * untested.tdn_pct / 100.0)
    assert found["cp"][2] == pytest.approx(0.075 * feed.cp_pct / 100.0)
    assert found["tdn"][0] < found["tdn"][1]
    assert np.all(found["nem"] > 0)


@pytest.mark.more
def test_a_simpler_program_keeps_the_promise_too() -> None:
    """Making it simpler moves every amount again, after many rounds of tangents."""
    farm = promising(random_farm(6, lots=8, groups=3, weeks=8), 90.0)
    farm = replace(farm, season=replace(farm.season, simpler_for_pct=1.0))
    program = plan_season(farm, options=WEEKLY)
    assert not [one for one in program.shortages if "On means alone" in one.sentence]
    assert [one for one in recheck(program, farm) if "bales ahead" not in one.what] == []
    assert any(row.assured is not None and row.assured < row.need * 1.001 for row in program.needs)


def test_ewes_are_promised_tdn() -> None:
    """Small stock are counted in TDN, so that is what must be enough."""
    ewes = Group("ewes", "Ewes", AnimalClass.EWE, 40, 70.0, calving_on=START + timedelta(days=30))
    lot = hay("hay", 48.0, 13.0, 60.0, 90.0)
    corn = replace(CAKE, feed_id="corn", name="Corn", tdn_pct=88.0, cp_pct=9.0, copper_ppm=4.0)
    farm = farm_of([(lot, report_on(lot, 48.0, 13.0))], [replace(ewes, young=2.0)], [corn])
    farm = promising(farm, 90.0)
    program = plan_season(farm, options=WEEKLY)
    assert recheck(program, farm) == ()
    supply = drawn_supplies(farm, program, 1)
    tight = [
        row
        for row in program.needs
        if row.nutrient == "tdn" and row.assured is not None and row.assured < row.need * 1.00001
    ]
    assert tight
    for row in tight:
        share = 100.0 * float((supply["ewes", row.period, "tdn"] >= row.need).mean())
        assert share == pytest.approx(90.0, abs=2.0) or row.shortage > 0.0
    assert any(row.shortage == 0.0 for row in tight)


def test_a_rough_relaxation_is_a_bound_that_lies_near() -> None:
    farm = promising(random_farm(6, lots=8, groups=3, weeks=10), 90.0)
    problem = problem_of(farm)
    rough, settled = relax(problem, lambda _: None, rough=True), relax(problem, lambda _: None)
    assert rough.rounds < settled.rounds
    assert rough.optimum.bound <= settled.optimum.objective * (1.0 + 1e-9)
    assert rough.optimum.bound == pytest.approx(settled.optimum.objective, rel=3e-3)
