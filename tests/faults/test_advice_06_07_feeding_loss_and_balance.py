"""What is wasted goes by package, feeder and species, and the rough balance says what it lacks."""

from __future__ import annotations

from dataclasses import replace
from io import StringIO

import pytest
from rich.console import Console

from rickyard.animals import CLASSES
from rickyard.cli.show.yard import print_yard
from rickyard.farm import AnimalClass, Feed, Feeder, FeedKind, Group, Package, Storage
from rickyard.hay.feeding import planned_loss
from rickyard.hay.yard import yard_page
from rickyard.program.audit import recheck
from rickyard.program.planning import plan_season
from support.farms import START
from support.rows import each_row
from support.season_farms import farm_of, hay, report_on
from support.weekly import WEEKLY


@each_row(
    ("kind", "feeder", "package", "pct"),
    [
        (AnimalClass.MARE, Feeder.NONE, Package.SMALL_SQUARE, 13.0),  # Grev et al. 2014
        (AnimalClass.HORSE, Feeder.BUNK, Package.SMALL_SQUARE, 5.0),
        (AnimalClass.HORSE, Feeder.CRADLE, Package.SMALL_SQUARE, 3.0),
        (AnimalClass.HORSE, Feeder.NONE, Package.ROUND, 57.0),  # Martinson et al. 2012
        (AnimalClass.DONKEY, Feeder.OPEN_RING, Package.ROUND, 19.0),
        (AnimalClass.COW, Feeder.NONE, Package.ROUND, 45.0),
        (AnimalClass.COW, Feeder.BUNK, Package.SMALL_SQUARE, 7.0),  # Bell & Martz 1973
        (AnimalClass.DAIRY_HEIFER, Feeder.OPEN_RING, Package.ROUND, 20.0),
        (AnimalClass.EWE, Feeder.NONE, Package.SMALL_SQUARE, 30.0),
        (AnimalClass.DOE, Feeder.BUNK, Package.ROUND, 12.0),
        (AnimalClass.ALPACA, None, Package.SMALL_SQUARE, 12.0),
        (AnimalClass.MARE, None, Package.SMALL_SQUARE, 13.0),
    ],
)
def test_advice_06_loss_goes_by_package_feeder_and_species(
    kind: AnimalClass, feeder: Feeder | None, package: Package, pct: float
) -> None:
    assert planned_loss(kind, feeder, package).pct == pct
    out = planned_loss(kind, feeder, package, Storage.EXPOSED_GROUND)
    assert out.pct == pct + 5.0


@each_row("kind", CLASSES)
@each_row("package", Package)
@each_row("feeder", [*Feeder, None])
def test_advice_06_every_class_has_a_loss_with_a_source(
    kind: AnimalClass, package: Package, feeder: Feeder | None
) -> None:
    loss = planned_loss(kind, feeder, package)
    assert 0.0 < loss.pct < 60.0
    assert loss.source


def test_advice_06_the_plan_puts_out_what_mares_at_small_squares_waste_and_says_so() -> None:
    mares = Group("M", "Mares", AnimalClass.MARE, 4, 520.0, feeder=Feeder.NONE)
    lot = replace(
        hay("lot", 54.0, 10.0, 40.0, 100.0), package=Package.SMALL_SQUARE, bale_weight_kg=25.0
    )
    bought = Feed("hay", "Bought", FeedKind.FORAGE, 9.0, dm_pct=88.0, tdn_pct=50.0, cp_pct=9.0,
                  ndf_pct=60.0, bale_weight_kg=400.0)  # fmt: skip
    farm = farm_of([(lot, report_on(lot, 54.0, 10.0))], [mares], [bought])
    program = plan_season(farm, options=WEEKLY)
    row = next(one for one in program.feeding if one.source_id == "lot")
    eaten = row.eaten_kg_dm_per_head_day * row.days * 4
    assert eaten / (row.offered_kg * 0.88) == pytest.approx(0.87)
    assert recheck(program, farm) == ()
    said = [one for one in program.assumptions if "waste" in one.sentence]
    assert any("13% of small square" in one.sentence and "Grev" in one.source for one in said)
    assert any("57% of round" in one.sentence for one in said)


def test_advice_07_the_rough_balance_names_what_it_leaves_out_and_points_to_the_plan() -> None:
    cows = Group("C", "Cows", AnimalClass.COW, 30, 560.0)
    lot = hay("lot", 54.0, 10.0, 40.0, 100.0)
    farm = farm_of([(lot, report_on(lot, 54.0, 10.0))], [cows], [])
    page = yard_page(farm, START, {"lot": 88.0})
    out = StringIO()
    print_yard(page, farm, Console(file=out, width=100))
    said = out.getvalue()
    head, _, _ = said.partition("On hand")
    told = " ".join(head.split())
    assert "Rough figure" in told
    assert "grain and other bought feed and grazing make the need smaller" in told
    assert "rickyard plan says whether there is enough" in told
    assert any("not counted" in one for one in page.assumptions)


def test_advice_07_the_rough_need_counts_the_package_that_stands_in_the_yard() -> None:
    mares = Group("M", "Mares", AnimalClass.MARE, 4, 520.0, feeder=Feeder.NONE)
    need = []
    for package in (Package.SMALL_SQUARE, Package.ROUND):
        lot = replace(hay("lot", 54.0, 10.0, 40.0, 100.0), package=package)
        farm = farm_of([(lot, report_on(lot, 54.0, 10.0))], [mares], [])
        outlook = yard_page(farm, START, {"lot": 88.0}).outlook
        assert outlook is not None
        need.append(outlook.need_kg)
    assert need[0] / need[1] == pytest.approx(0.43 / 0.87)
