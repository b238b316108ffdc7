"""Small stock and horses in a season program: counted in TDN, and kept from what harms them."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from rickyard.farm import AnimalClass, Farm, FeedKind, Group
from rickyard.program.audit.audit import recheck
from rickyard.program.planning.season import plan_season
from rickyard.program.result.result import SeasonProgram
from rickyard.stock.herd.stated import stated_needs
from support.farms import START
from support.season_farms import CAKE, CORN, LIME, cows, eaten, farm_of, hay, report_on
from support.weekly import WEEKLY

EWES = Group(
    "ewes",
    "Ewes",
    AnimalClass.EWE,
    40,
    weight_kg=75.0,
    calving_on=START + timedelta(days=50),
    young=2.0,
    feeding_loss_pct=5.0,
)
HORSES = Group("horses", "Horses", AnimalClass.HORSE, 3, weight_kg=500.0, feeding_loss_pct=5.0)
MINERAL = replace(LIME, feed_id="cow_mineral", name="Cow mineral", least_kg_per_head_day=0.05)
GRIT = replace(LIME, feed_id="grit", name="Limestone", table_id="limestone", ca_pct=None)


def mixed_farm() -> Farm:
    good, poor = hay("good", 60.0, 13.0, 150.0, 110.0), hay("poor", 52.0, 8.0, 150.0, 60.0)
    lots = [(good, report_on(good, 60.0, 13.0, 100.0)), (poor, report_on(poor, 52.0, 8.0, 100.0))]
    calving = START + timedelta(days=90)
    return farm_of(lots, [cows(calving), EWES, HORSES], [CAKE, CORN, MINERAL, GRIT], weeks=8)


@pytest.fixture(scope="module")
def program() -> SeasonProgram:
    return plan_season(mixed_farm(), options=WEEKLY)


def test_the_program_passes_its_re_check(program: SeasonProgram) -> None:
    assert [str(one) for one in recheck(program, mixed_farm())] == []


def test_ewes_get_the_tdn_and_protein_of_their_table(program: SeasonProgram) -> None:
    rows = stated_needs(EWES, mixed_farm().season)
    told = {(one.period, one.nutrient): one for one in program.needs if one.group_id == "ewes"}
    for period, row in enumerate(rows):
        assert told[period, "tdn"].need == pytest.approx(row.tdn_kg)
        assert told[period, "cp"].need == pytest.approx(row.cp_kg)
        assert told[period, "tdn"].shortage == 0.0
    assert told[7, "tdn"].need > 1.2 * told[0, "tdn"].need  # twins on the way
    assert (0, "nem") not in told


def test_cattle_are_still_counted_in_net_energy(program: SeasonProgram) -> None:
    kinds = {one.nutrient for one in program.needs if one.group_id == "cows"}
    assert "nem" in kinds
    assert "tdn" not in kinds


def test_a_cattle_mineral_is_kept_from_sheep_and_said_so(program: SeasonProgram) -> None:
    assert eaten(program, "cow_mineral", "ewes") == 0.0
    assert eaten(program, "cow_mineral", "cows") > 0.0
    said = [one for one in program.cautions if one.about == "cow_mineral"]
    assert any("Ewes" in one.sentence and one.level == "danger" for one in said)


def test_baleage_is_kept_from_horses() -> None:
    from rickyard.farm import Package, Storage, Wrap

    farm = mixed_farm()
    wet = replace(farm.lots[1], package=Package.BALEAGE, storage=Storage.WRAPPED, wrap=Wrap.FILM)
    program = plan_season(replace(farm, lots=(farm.lots[0], wet)), options=WEEKLY)
    assert eaten(program, "poor", "horses") == 0.0
    assert eaten(program, "good", "horses") > 0.0


def test_horses_get_their_forage(program: SeasonProgram) -> None:
    """NRC 2007, from memory: at least 1 % of body weight as forage dry matter."""
    for cell in program.groups:
        if cell.group_id == "horses":
            fed = sum(
                row.eaten_kg_dm_per_head_day
                for row in program.feeding
                if (row.group_id, row.period) == ("horses", cell.period) and row.kind == "lot"
            )
            assert fed >= 0.01 * 500.0 * (1 - 1e-6)


def test_a_bar_that_is_broken_is_found(program: SeasonProgram) -> None:
    farm = mixed_farm()
    rows = tuple(
        replace(row, group_id="ewes") if row.source_id == "cow_mineral" else row
        for row in program.feeding
    )
    breaches = recheck(replace(program, feeding=rows), farm)
    assert any("kept from it" in one.what for one in breaches)


def test_what_the_farm_states_itself_holds() -> None:
    from rickyard.farm import StatedNeed

    farm = mixed_farm()
    own = StatedNeed("ewes", START, date(2027, 12, 31), tdn_kg=0.5, cp_kg=0.1)
    program = plan_season(replace(farm, needs=(own,)), options=WEEKLY)
    told = {one.need for one in program.needs if (one.group_id, one.nutrient) == ("ewes", "tdn")}
    assert told == {0.5}


def test_a_mineral_known_to_hold_little_copper_may_be_fed() -> None:
    farm = mixed_farm()
    safe = replace(MINERAL, kind=FeedKind.MINERAL, copper_ppm=5.0)
    feeds = tuple(safe if one.feed_id == "cow_mineral" else one for one in farm.feeds)
    program = plan_season(replace(farm, feeds=feeds), options=WEEKLY)
    assert not any(one.about == "cow_mineral" and one.level == "danger" for one in program.cautions)
