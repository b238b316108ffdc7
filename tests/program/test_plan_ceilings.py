"""Ceilings of the whole diet: grain, starch, fat, sulfur, urea and copper, worked out by hand."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from rickyard.display import display_for
from rickyard.farm import (
    AnimalClass,
    Farm,
    FedRow,
    Feed,
    FeedKind,
    Forage,
    Group,
    Lot,
    Report,
    StatedNeed,
    WeatherRow,
)
from rickyard.program.ask.on_request import Question, with_answers
from rickyard.program.audit.audit import recheck
from rickyard.program.inputs.drinking_water import water_sulfur_g
from rickyard.program.inputs.grazing import TRAMPLED_PCT
from rickyard.program.inputs.needs import needs_of
from rickyard.program.inputs.source_values import book_of_hay, npn_cp_pct
from rickyard.program.planning.season import plan_season
from rickyard.program.problem import diet_ceilings as ceilings
from rickyard.program.problem import problem
from rickyard.program.problem.diet_ceilings import ceilings_of, is_oilseed
from rickyard.program.problem.problem import UNITS, problem_of
from rickyard.program.result import NUTRIENT_WORDS
from rickyard.program.result.result import SeasonProgram
from rickyard.sheets.data_files.plan_json import plan_json
from rickyard.sheets.data_files.plan_load import program_from_json
from support.farms import START, analyte
from support.rechecked import not_looked_at
from support.rows import each_row
from support.season_farms import cows, farm_of, hay, report_on
from support.weekly import WEEKLY

KG = 10.0


def feed(feed_id: str, kind: FeedKind = FeedKind.SUPPLEMENT, **more: object) -> Feed:
    """Return a feed that costs next to nothing, so that only a ceiling holds it back."""
    known = {"dm_pct": 100.0, "tdn_pct": 85.0, "cp_pct": 10.0, "ca_pct": 0.5, "p_pct": 0.3}
    known |= {"starch_pct": 0.0, "fat_pct": 0.0, "sulfur_pct": 0.0}
    return Feed(feed_id, feed_id.title(), kind, 0.001, **(known | more))  # type: ignore[arg-type]


def lot_with(lot_id: str = "lot", **measured: float) -> tuple[Lot, Report]:
    one = hay(lot_id, 55.0, 9.0, 40.0, 100.0)
    report = report_on(one, 55.0, 9.0)
    units = {"cu": "ppm"}
    more = tuple(analyte(name, x, units.get(name, "pct")) for name, x in measured.items())
    return one, replace(report, analytes=(*report.analytes, *more))


def farm_with(
    lots: list[tuple[Lot, Report]], *feeds: Feed, group: Group | None = None, **season: object
) -> Farm:
    """A farm whose animals need ten kilograms of dry matter and nothing else."""
    one = cows() if group is None else group
    farm = farm_of(lots, [one], list(feeds))
    start, end = farm.season.start, farm.season.end
    need = StatedNeed(one.group_id, start, end, least_dm_kg=KG, most_dm_kg=KG)
    changed = replace(farm.season, **season)  # type: ignore[arg-type]
    # What they got daily until the first day they know: nothing has to be raised slowly.
    known = tuple(
        FedRow(start - timedelta(days=day), one_feed.feed_id, one.group_id, mass_kg=KG * one.head)
        for one_feed in feeds
        for day in range(1, 8)
    )
    return replace(farm, needs=(need,), season=changed, fed=known)


def planned(farm: Farm) -> SeasonProgram:
    program = plan_season(farm, options=WEEKLY)
    read_back = program_from_json(plan_json(program))
    assert [str(one) for one in recheck(read_back, farm)] == []
    return program


def daily(program: SeasonProgram, source: str, period: int = 0) -> float:
    return sum(
        row.eaten_kg_dm_per_head_day
        for row in program.feeding
        if row.source_id == source and row.period == period
    )


def told(program: SeasonProgram, nutrient: str) -> tuple[float, float]:
    row = next(one for one in program.needs if one.nutrient == nutrient and one.period == 0)
    assert row.bound == "at_most"
    return row.need, row.supplied


def test_all_starch_grain_together_stays_under_half_a_percent_of_weight() -> None:
    corn, oats = feed("corn", FeedKind.GRAIN), feed("oats", FeedKind.GRAIN)
    program = planned(farm_with([lot_with()], corn, oats))
    weight = program.groups[0].full_weight_kg
    assert daily(program, "corn") + daily(program, "oats") == pytest.approx(0.005 * weight)
    assert told(program, "grain") == (pytest.approx(0.005 * weight), pytest.approx(0.005 * weight))


def test_one_grain_alone_needs_no_row() -> None:
    names = {
        one.name
        for one in problem_of(farm_with([lot_with()], feed("corn", FeedKind.GRAIN))).ceilings
    }
    assert "grain" not in names


def test_who_states_more_grain_may_feed_it() -> None:
    corn = feed("corn", FeedKind.GRAIN, most_kg_per_head_day=4.0)
    oats = feed("oats", FeedKind.GRAIN)
    program = planned(farm_with([lot_with()], corn, oats))
    assert daily(program, "corn") + daily(program, "oats") == pytest.approx(4.0)


HORSES = Group("horses", "Horses", AnimalClass.HORSE, 5, weight_kg=500.0, feeding_loss_pct=0.0)


def test_a_horse_gets_a_gram_of_starch_for_a_kilogram_in_each_of_two_meals() -> None:
    sweet = feed("sweet", starch_pct=40.0)
    program = planned(farm_with([lot_with()], sweet, group=HORSES))
    weight = program.groups[0].full_weight_kg
    assert daily(program, "sweet") * 0.40 == pytest.approx(0.002 * weight)
    assert told(program, "starch")[0] == pytest.approx(0.002 * weight)


def test_grain_of_unknown_starch_counts_as_corn() -> None:
    grain = feed("grain", FeedKind.GRAIN, starch_pct=None)
    program = planned(farm_with([lot_with()], grain, group=HORSES))
    assert daily(program, "grain") * 0.721 == pytest.approx(
        0.002 * program.groups[0].full_weight_kg
    )
    assert any("starch of Grain: as much as in corn" in one.sentence for one in program.assumptions)


def test_fat_stays_under_six_percent() -> None:
    program = planned(farm_with([lot_with(ee=2.0)], feed("fatty", fat_pct=22.0)))
    # 22 f + 2 (10 - f) = 60: two kilograms.
    assert daily(program, "fatty") == pytest.approx(2.0)


def test_fat_stays_under_four_percent_where_an_oilseed_may_be_fed() -> None:
    seed = feed("seed", fat_pct=20.0, table_id="whole_cottonseed")
    assert is_oilseed(seed)
    program = planned(farm_with([lot_with(ee=2.0)], seed))
    # 20 f + 2 (10 - f) = 40.
    assert daily(program, "seed") == pytest.approx(20.0 / 18.0)


def test_whole_cottonseed_stays_under_its_published_limits() -> None:
    """University of Florida AN134: 0.5 % of body weight for cows, 15 % of the ration."""
    seed = feed("seed", fat_pct=1.0, table_id="whole_cottonseed", most_kg_per_head_day=9.0)
    program = planned(farm_with([lot_with(ee=2.0)], seed))
    assert daily(program, "seed") == pytest.approx(0.15 * KG)
    assert any("gossypol" in one.sentence for one in program.cautions)
    assert not any("Seed carries nitrate" in one.sentence for one in program.cautions)
    young = replace(cows(), animal_class=AnimalClass.STOCKER, weight_kg=300.0, age_months=9.0)
    young = replace(young, gain_kg_per_day=0.5, finish_weight_kg=560.0)
    light = planned(farm_with([lot_with(ee=2.0)], seed, group=young))
    weight = light.groups[0].full_weight_kg
    assert daily(light, "seed") == pytest.approx(0.0033 * weight)


def test_horses_have_no_ceiling_for_fat() -> None:
    farm = farm_with([lot_with(ee=2.0)], feed("fatty", fat_pct=22.0), group=HORSES)
    assert "fat" not in {one.name for one in problem_of(farm).ceilings}


def test_sulfur_of_the_feed_stays_under_four_tenths_percent() -> None:
    program = planned(farm_with([lot_with(s=0.2)], feed("stillage", sulfur_pct=0.9)))
    # 9 f + 2 (10 - f) = 40: the published 0.20 / 0.70 of the dry matter.
    assert daily(program, "stillage") == pytest.approx(20.0 / 7.0)


def test_the_published_share_of_distillers_grains() -> None:
    """Beef Magazine 2007: 30 % of a product with 0.9 % sulfur on a base of 0.18 %."""
    program = planned(farm_with([lot_with(s=0.18)], feed("stillage", sulfur_pct=0.9)))
    assert daily(program, "stillage") / KG == pytest.approx(0.306, abs=5e-4)


def test_water_with_sulfate_leaves_less_room() -> None:
    farm = farm_with([lot_with(s=0.2)], feed("stillage", sulfur_pct=0.9), water_sulfate_ppm=600.0)
    program = planned(farm)
    weight = program.groups[0].full_weight_kg
    # At 70 F a dry cow drinks a tenth of her weight; a third of sulfate is sulfur.
    water = 0.10 * weight * 0.6 / 3.0
    assert 9.0 * daily(program, "stillage") + 2.0 * daily(program, "lot") + water == pytest.approx(
        40.0
    )
    assert told(program, "sulfur") == (pytest.approx(40.0), pytest.approx(40.0))


def test_water_that_breaks_the_ceiling_alone_is_named_and_all_are_fed() -> None:
    program = planned(farm_with([lot_with(s=0.2)], water_sulfate_ppm=3000.0))
    short = next(one for one in program.shortages if one.nutrient == "sulfur")
    water = 0.10 * program.groups[0].full_weight_kg * 1.0
    assert short.most_per_head_day == pytest.approx(water + 20.0 - 40.0)
    assert "get too much sulfur" in short.sentence
    assert "veterinarian" in short.sentence
    assert daily(program, "lot") == pytest.approx(KG)


@pytest.mark.parametrize(
    "water", [{"water_nitrate_no3n_ppm": 50.0}, {"water_nitrate_no3_ppm": 50.0 * 62.005 / 14.007}]
)
def test_nitrate_of_the_water_leaves_less_room_for_that_of_hay(water: dict[str, float]) -> None:
    """Milligrams of feed and water together stay under 1,000 a kilogram for the pregnant."""
    plain, high = hay("plain", 50.0, 9.0, 40.0, 300.0), hay("high", 55.0, 9.0, 40.0, 1.0)
    lots = [(plain, report_on(plain, 50.0, 9.0, 690.0)), (high, report_on(high, 55.0, 9.0, 1300.0))]
    farm = farm_with(lots, group=replace(cows(), calving_on=START + timedelta(days=60)), **water)
    program = planned(farm)
    weight = program.groups[0].full_weight_kg
    drunk = 0.10 * weight * 50.0
    fed = 690.0 * daily(program, "plain") + 1300.0 * daily(program, "high")
    assert told(program, "nitrate") == (pytest.approx(1000.0 * KG), pytest.approx(fed + drunk))
    assert fed + drunk == pytest.approx(1000.0 * KG)
    assert any("what the water brings counted" in one.sentence for one in program.cautions)
    assert {"water-nitrate-risk"} <= {rule for one in program.cautions for rule in one.rules}


def test_water_of_unknown_nitrate_is_said_to_be_unknown_and_not_counted_as_none() -> None:
    high = hay("high", 55.0, 9.0, 40.0, 1.0)
    program = planned(farm_with([(high, report_on(high, 55.0, 9.0, 1400.0))]))
    assert any("water" in one.sentence and "not known" in one.sentence for one in program.cautions)
    clean = planned(farm_with([(high, report_on(high, 55.0, 9.0, 100.0))]))
    assert not any("nitrate of the water" in one.sentence for one in clean.cautions)


def test_urea_beside_hay_with_nitrate_is_warned_of_and_never_of_one_alone() -> None:
    high, low = hay("high", 55.0, 6.0, 40.0, 1.0), hay("low", 55.0, 6.0, 40.0, 300.0)
    lots = [(high, report_on(high, 55.0, 6.0, 1800.0)), (low, report_on(low, 55.0, 6.0, 10.0))]
    urea = feed("cubes", npn_cp_pct=12.0, cp_pct=30.0)

    def said(farm: Farm) -> list[str]:
        return [one.sentence for one in planned(farm).cautions if "makes ammonia" in one.sentence]

    (both,) = said(farm_with(lots, urea))
    assert "Cows get Cubes, with urea, beside High, with nitrate" in both
    assert "veterinarian" in both
    assert said(farm_with(lots[1:], urea)) == []
    assert said(farm_with(lots)) == []


def test_water_that_holds_too_much_nitrate_alone_is_named_and_all_are_fed() -> None:
    program = planned(farm_with([lot_with()], water_nitrate_no3n_ppm=400.0))
    short = next(one for one in program.shortages if one.nutrient == "nitrate")
    water = 0.10 * program.groups[0].full_weight_kg * 400.0
    assert short.most_per_head_day == pytest.approx(water + 100.0 * KG - 1500.0 * KG)
    assert "get too much nitrate" in short.sentence
    assert daily(program, "lot") == pytest.approx(KG)
    kept = [one for one in program.cautions if "water-nitrate-none" in one.rules]
    assert [one.level for one in kept] == ["danger"]


NURSING = replace(cows(), calving_on=START - timedelta(days=20), weaning_on=None)


def poor_in_magnesium(group: Group) -> Farm:
    """Hay rich in potassium, and dear magnesium oxide."""
    lot, report = lot_with(k=3.5, mg=0.12)
    poor = tuple(analyte("ca", 0.3) if one.name == "ca" else one for one in report.analytes)
    oxide = feed(
        "oxide", FeedKind.MINERAL, tdn_pct=0.0, cp_pct=0.0, ca_pct=0.0, p_pct=0.0,
        magnesium_pct=54.0, copper_ppm=1.0,
    )  # fmt: skip
    lots = [(lot, replace(report, analytes=poor))]
    return farm_with(lots, replace(oxide, price_usd_per_kg=1.0), group=group)


def test_potassium_is_held_to_calcium_and_magnesium_while_young_are_nursed() -> None:
    """2.2 by charge (Oetzel 1993): 255.74, 499.0 and 822.64 milliequivalents in one percent."""
    farm = poor_in_magnesium(NURSING)
    program = planned(farm)
    hay_kg, mg_kg = daily(program, "lot"), daily(program, "oxide")
    charge = 255.74 * 3.5 * hay_kg
    held = 2.2 * ((499.0 * 0.3 + 822.64 * 0.12) * hay_kg + 822.64 * 54.0 * mg_kg)
    assert held == pytest.approx(charge, rel=1e-6)
    assert told(program, "tetany") == (pytest.approx(held), pytest.approx(charge))
    assert any(one.rule_id.startswith("tetany-diet") for one in program.rules)
    dry = planned(poor_in_magnesium(replace(NURSING, calving_on=None)))
    assert daily(dry, "oxide") == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(
    ("kind", "kg", "binds"),
    [
        (AnimalClass.EWE, 70.0, True),
        (AnimalClass.MARE, 500.0, False),
        (AnimalClass.DOE, 60.0, False),
    ],
)
def test_potassium_is_held_for_ewes_too_and_for_nobody_else(
    kind: AnimalClass, kg: float, binds: bool
) -> None:
    group = replace(NURSING, animal_class=kind, weight_kg=kg, mature_weight_kg=None)
    names = {one.name for one in problem_of(poor_in_magnesium(group)).ceilings}
    assert ("tetany" in names) is binds


def test_potassium_that_nothing_balances_is_named_and_all_are_fed() -> None:
    lot, report = lot_with(k=4.0, mg=0.10)
    program = planned(farm_with([(lot, report)], group=NURSING))
    short = next(one for one in program.shortages if one.nutrient == "tetany")
    over = 255.74 * 4.0 - 2.2 * (499.0 * 0.6 + 822.64 * 0.10)
    assert short.most_per_head_day == pytest.approx(over * KG)
    assert "magnesium" in short.sentence
    assert "veterinarian" in short.sentence
    assert daily(program, "lot") == pytest.approx(KG)


def test_untested_hay_of_tetany_forages_counts_as_high_in_potassium() -> None:
    values = {one.source_id: one for one in problem_of(farm_with([lot_with()])).sources.values}
    assert values["lot"].potassium_pct == 2.5
    assert values["lot"].origins["potassium_pct"] == "book"
    lot, report = lot_with()
    legume = farm_with([(replace(lot, forage=Forage.ALFALFA), report)])
    assert problem_of(legume).sources.values[0].potassium_pct is None


def test_what_would_help_against_too_much_never_says_that_more_is_wanted() -> None:
    farm = farm_with([lot_with(s=0.2)], water_sulfate_ppm=3000.0)
    told = with_answers(farm, planned(farm), Question(effort=2.0)).remedies
    sulfur = [one.sentence for one in told if one.nutrient == "sulfur"]
    assert sulfur
    assert all("with too much sulfur" in one and "short of" not in one for one in sulfur)


@pytest.mark.parametrize(
    ("celsius", "dry", "nursing"), [(-20.0, 8.0, 10.0), (21.11111, 10.0, 15.0), (35.0, 18.0, 15.0)]
)
def test_water_follows_the_weather_as_printed(celsius: float, dry: float, nursing: float) -> None:
    """Colorado State: 8, 10 and 18 % of body weight at 40, 70 and 90 F; in milk 10, 15, 15 %."""
    farm = farm_with([lot_with()], water_sulfate_ppm=300.0)
    season = [START + timedelta(days=day) for day in range(28)]
    weather = tuple(WeatherRow(day, False, celsius) for day in season)
    milking = replace(
        cows(START - timedelta(days=30)), group_id="milking", breeding_on=date(2027, 6, 1)
    )
    farm = replace(farm, weather=weather, groups=(*farm.groups, milking))
    needs = needs_of(farm)
    sulfur, _ = water_sulfur_g(farm, needs)
    share = sulfur / (needs.full_weight_kg * 300.0 / 3.0 / 1000.0) * 100.0
    assert share[0] == pytest.approx(np.full(4, dry), rel=1e-5)
    assert share[1] == pytest.approx(np.full(4, nursing), rel=1e-5)


def test_the_published_example_of_sulfur_in_water() -> None:
    """Colorado State: 545 kg at 90 F, 1,500 mg of sulfate a litre: 49.05 g of sulfur."""
    heavy = replace(cows(), weight_kg=545.0)
    farm = farm_with([lot_with()], group=heavy, water_sulfate_ppm=1500.0)
    days = [START + timedelta(days=day) for day in range(28)]
    farm = replace(farm, weather=tuple(WeatherRow(day, False, 32.2222) for day in days))
    needs = needs_of(farm)
    sulfur, _ = water_sulfur_g(farm, needs)
    assert sulfur[0, 0] / needs.full_weight_kg[0, 0] * 545.0 == pytest.approx(49.05, rel=1e-4)


def test_urea_gives_no_more_than_a_third_of_the_protein() -> None:
    liquid = feed("liquid", cp_pct=32.0, npn_cp_pct=27.0)
    program = planned(farm_with([lot_with()], liquid, feed("straw", cp_pct=1.0)))
    row = told(program, "npn")
    assert row[1] <= row[0] * (1.0 + 1e-9)
    urea = 0.27 * daily(program, "liquid") / 2.81
    assert urea <= 0.01 * KG * (1.0 + 1e-9)
    # One of the two holds it: 27 l / 2.81 = 10 is 1.04 kg, and the third of protein is less.
    protein = 0.32 * daily(program, "liquid") + 0.01 * daily(program, "straw")
    protein += 0.09 * daily(program, "lot")
    third = 0.27 * daily(program, "liquid") == pytest.approx(protein / 3.0)
    # A quarter of the diet is forage, whatever is fed beside it.
    meals = daily(program, "liquid") + daily(program, "straw")
    assert third or urea == pytest.approx(0.01 * KG) or meals == pytest.approx(0.75 * KG)


def test_urea_of_the_feed_table_counts_and_horses_never_get_it() -> None:
    urea = Feed("urea", "Urea", FeedKind.SUPPLEMENT, 0.001, table_id="urea")
    assert npn_cp_pct(urea) == 291.0
    allowed = problem_of(farm_with([lot_with()], urea, group=HORSES)).sources.allowed
    assert not allowed[:, 1, :].any()
    # Who is to grow past the 450 lb is kept from it until a scale says that they did.
    light = Group("l", "Calves", AnimalClass.STOCKER, 9, 203.0, gain_kg_per_day=1.0, age_months=8.0)
    light = replace(light, finish_weight_kg=560.0)
    growing = problem_of(farm_with([lot_with()], urea, group=light))
    assert growing.needs.full_weight_kg.max() > 205.0
    assert not growing.sources.allowed[:, 1].any()
    program = planned(farm_with([lot_with()], urea))
    assert daily(program, "urea") * 2.91 / 2.81 <= 0.01 * KG * (1.0 + 1e-9)
    assert any("Too much at once kills" in one.sentence for one in program.cautions)


EWES = Group("ewes", "Ewes", AnimalClass.EWE, 50, weight_kg=70.0, feeding_loss_pct=0.0)


def ewes(*lots: tuple[Lot, Report]) -> Farm:
    """Ewes beside hays of which the first costs next to nothing."""
    farm = farm_with(list(lots), group=EWES)
    cheap = replace(farm.lots[0], value_usd_per_kg=0.001)
    need = replace(farm.needs[0], least_dm_kg=1.6, most_dm_kg=1.6)
    return replace(farm, lots=(cheap, *farm.lots[1:]), needs=(need,))


def test_hay_rich_in_copper_is_thinned_for_sheep() -> None:
    program = planned(ewes(lot_with("hot", cu=25.0), lot_with("cool", cu=5.0)))
    # 25 h + 5 (1.6 - h) = 15 * 1.6: half of it.
    assert daily(program, "hot") == pytest.approx(0.8)


def test_the_copper_of_a_whole_diet_is_judged_for_sheep() -> None:
    said = [
        one.sentence
        for one in planned(ewes(lot_with("hot", cu=25.0), lot_with("cool", cu=5.0))).cautions
        if "copper" in one.sentence and "is more than sheep need" in one.sentence
    ]
    assert len(said) == 1
    assert said[0].startswith(f"{EWES.name}: 15.0 mg/kg of copper")
    assert "ask a veterinarian" in said[0]
    poor = planned(ewes(lot_with("cool", cu=5.0))).cautions
    assert not any("is more than sheep need" in one.sentence for one in poor)


def test_hay_of_unknown_copper_thins_nothing() -> None:
    program = planned(ewes(lot_with("hot", cu=25.0), lot_with("unknown")))
    assert daily(program, "hot") == pytest.approx(0.0, abs=1e-6)


def test_cattle_may_eat_what_sheep_may_not() -> None:
    farm = farm_with([lot_with("hot", cu=25.0)])
    assert "copper" not in {one.name for one in problem_of(farm).ceilings}


def test_a_ceiling_that_cannot_bind_is_no_row() -> None:
    assert problem_of(farm_with([lot_with(s=0.2, ee=2.0)])).ceilings == ()


def test_what_nobody_measured_is_said_and_never_zero() -> None:
    sources = {
        one.source_id: one for one in plan_season(farm_with([lot_with()]), options=WEEKLY).sources
    }
    assert sources["lot"].sulfur_pct == book_of_hay(Forage.COOL_GRASS, "s") == 0.21
    assert sources["lot"].origins["sulfur_pct"] == "book"
    assert sources["lot"].copper_ppm is None
    dull = feed("dull", sulfur_pct=None)
    program = planned(farm_with([lot_with()], dull, feed("stillage", sulfur_pct=0.9)))
    sentences = [one.sentence for one in program.assumptions]
    assert any("Nobody measured the sulfur of Lot" in one for one in sentences)
    assert any(
        "sulfur of Dull: in the ceiling it neither adds nor thins" in one for one in sentences
    )


def test_a_feed_of_unknown_sulfur_thins_nothing() -> None:
    dull = feed("dull", sulfur_pct=None, most_kg_per_head_day=2.0)
    program = planned(farm_with([lot_with(s=0.2)], dull, feed("stillage", sulfur_pct=0.9)))
    still, lot = daily(program, "stillage"), daily(program, "lot")
    assert still > 0.0
    assert daily(program, "dull") == pytest.approx(2.0)
    assert 9.0 * still + 2.0 * lot == pytest.approx(4.0 * (still + lot))


@pytest.mark.parametrize("analyte_name", ["s", "ee", "starch"])
def test_every_forage_has_a_book_value_for_the_ceilings(analyte_name: str) -> None:
    assert all(book_of_hay(one, analyte_name) > 0.0 for one in Forage)


@each_row("nutrient", list(UNITS))
def test_every_need_and_ceiling_can_be_said(nutrient: str) -> None:
    assert nutrient in NUTRIENT_WORDS
    assert all(display_for(units).nutrient_text(2.0, UNITS[nutrient]) for units in ("us", "metric"))
    assert all(
        display_for(units).price_of_one_more(2.0, UNITS[nutrient]) for units in ("us", "metric")
    )


#: A farm for each ceiling whose cheapest diet breaks it.
BREAKING: dict[str, Callable[[], Farm]] = {
    "grain": lambda: farm_with(
        [lot_with()], feed("corn", FeedKind.GRAIN), feed("oats", FeedKind.GRAIN)
    ),
    "starch": lambda: farm_with([lot_with()], feed("sweet", starch_pct=40.0), group=HORSES),
    "fat": lambda: farm_with([lot_with()], feed("fatty", fat_pct=22.0)),
    "sulfur": lambda: farm_with([lot_with()], feed("stillage", sulfur_pct=0.9)),
    "npn": lambda: farm_with(
        [],
        replace(feed("straw", FeedKind.FORAGE, cp_pct=2.0), price_usd_per_kg=0.05),
        feed("liquid", cp_pct=32.0, npn_cp_pct=27.0),
    ),
    "urea": lambda: farm_with([lot_with()], feed("block", cp_pct=60.0, npn_cp_pct=19.0)),
    "copper": lambda: ewes(lot_with("hot", cu=25.0), lot_with("cool", cu=5.0)),
}


@pytest.mark.parametrize("name", BREAKING)
def test_the_second_look_finds_a_ceiling_that_is_left_out(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    farm = BREAKING[name]()

    def without(*inputs: Any) -> Any:
        kept, notes = ceilings_of(*inputs)
        assert name in {one.name for one in kept}
        return tuple(one for one in kept if one.name != name), notes

    assert recheck(plan_season(farm, options=WEEKLY), farm) == ()
    monkeypatch.setattr(problem, "ceilings_of", without)
    with not_looked_at():
        breaches = [one.what for one in recheck(plan_season(farm, options=WEEKLY), farm)]
    assert any(f", {name}, period" in one for one in breaches), breaches


def test_the_document_states_the_ceilings_that_are_kept() -> None:
    text = (Path(__file__).resolve().parents[2] / "docs" / "season-rules.md").read_text("utf-8")
    rows = [line for line in text.splitlines() if line.startswith("| `")]
    said = " ".join(rows)
    for figure in (
        f"{ceilings.GRAIN_PCT_BW:g}% of body weight of all starch grain",
        f"in each of {ceilings.HORSE_MEALS:g} meals",
        f"{ceilings.HORSE_STARCH_G_PER_KG_MEAL:g} g per kg of body weight",
        f"| {ceilings.FAT_PCT:g}% of dry matter",
        f"| {ceilings.FAT_WITH_OILSEED_PCT:g}% of dry matter",
        f"| {ceilings.SULFUR_PCT:g}% of dry matter",
        f"| {ceilings.UREA_PCT:g}% of dry matter",
    ):
        assert figure in said, figure
    assert f"{problem.RESERVE_PCT_BW:g}% of full live weight" in text
    assert f"or {TRAMPLED_PCT:g}% where none is stated" in text
    named = {line.split("`")[1] for line in rows}
    assert named == {*BREAKING, "nitrate", "tetany", "milk_fever"}
