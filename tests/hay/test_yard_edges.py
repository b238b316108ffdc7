"""The page of the yard at its edges: nothing standing, just enough weighed, days that touch."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest

from rickyard.farm import (
    AnimalClass,
    Farm,
    Forage,
    Group,
    Lot,
    MoveKind,
    MoveRow,
    Package,
    Season,
    Storage,
)
from rickyard.hay.precision.farm_variance import bales_to_find_hot, chance_of_hot_bale
from rickyard.hay.precision.quantiles import t_probability, t_quantile
from rickyard.hay.sampling.lots import split_lot
from rickyard.hay.storage.standing import bales_to_weigh
from rickyard.hay.yard.outlook import outlook
from rickyard.hay.yard.yard_page import (
    _lot_cautions,
    _most_of,
    _move_cautions,
    _weigh,
    book_cautions,
    yard_page,
)
from rickyard.quantities import OutOfRange
from support.by_hand import one
from support.rows import each_row

BALED, COUNTED = date(2026, 6, 1), date(2026, 10, 1)
DAY = timedelta(days=1)
LOT = Lot(
    *("A", "Hill", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN, 60.0, BALED, COUNTED),
    bale_weight_kg=500.0,
)
COWS = Group("C", "Cows", AnimalClass.COW, 60, 600.0, feeding_loss_pct=0.0)
SEASON = Season(date(2026, 11, 1), date(2027, 4, 1))


def farm_with(*lots: Lot, groups: tuple[Group, ...] = (COWS,)) -> Farm:
    return Farm("Farm", SEASON, groups=groups, lots=lots)


def test_hay_gone_from_the_yard_leaves_the_whole_need() -> None:
    """With nothing standing there is no storage loss to count on."""
    empty = replace(LOT, bales=0.0)
    page = yard_page(farm_with(empty), COUNTED, {"A": 88.0})
    assert page.dry_kg == 0.0
    assert page.outlook is not None
    eaten = 60 * 600.0 * 0.025 * 151
    assert page.outlook.need_kg == pytest.approx(eaten)
    assert page.outlook.out_on == SEASON.start


@pytest.mark.parametrize(("day", "told"), [(SEASON.end - DAY, True), (SEASON.end, False)])
def test_the_outlook_ends_with_the_season(day: date, told: bool) -> None:
    page = yard_page(farm_with(LOT), day, {"A": 88.0})
    assert (page.outlook is not None) == told
    assert yard_page(farm_with(LOT, groups=()), COUNTED, {"A": 88.0}).outlook is None


@each_row(
    ("bales", "weighed", "weight", "ask"),
    [
        (0.5, None, 500.0, None),
        (1.0, None, 500.0, 1),
        (1.0, 1, 500.0, None),
        (60.0, None, None, 8),
        (60.0, 0, 500.0, 8),
        (60.0, 7, 500.0, 8),
        (60.0, 8, 500.0, None),
        # Weights of which no mean is told are no weights.
        (60.0, 9, None, 8),
    ],
)
def test_bales_are_weighed_until_enough_are(
    bales: float, weighed: int | None, weight: float | None, ask: int | None
) -> None:
    lot = replace(LOT, bales=bales, bales_weighed=weighed, bale_weight_kg=weight)
    assert _weigh(lot) == ask
    if ask is not None:
        assert bales_to_weigh(lot) == ask


def test_most_of_the_yard_is_what_holds_most_dry_matter() -> None:
    square = replace(LOT, package=Package.SMALL_SQUARE)
    lines: Any = [one(standing=one(dry_kg=kg)) for kg in (10.0, 6.0, 5.0)]
    assert _most_of(farm_with(LOT, square, square), lines) is Package.SMALL_SQUARE
    lines[2].standing.dry_kg = 3.0
    assert _most_of(farm_with(LOT, square, square), lines) is Package.ROUND
    nothing: Any = [one(standing=one(dry_kg=0.0))]
    assert _most_of(farm_with(square), nothing) is Package.ROUND


def unexplained(kind: str, bales: float, on: date = COUNTED) -> Any:
    return one(unexplained=[one(day=on, bales=bales, kind=kind)])


def test_bales_of_the_book_are_told_of_up_to_the_day() -> None:
    (said,) = book_cautions(LOT, unexplained("missing", -1.0), COUNTED)
    assert "takes 1 bale that were not there" in said.sentence
    (said,) = book_cautions(LOT, unexplained("missing", -2.0), COUNTED)
    assert "takes 2 bales that" in said.sentence
    (said,) = book_cautions(LOT, unexplained("count", 0.5), COUNTED)
    assert "found 0.5 bales more than the book" in said.sentence
    (said,) = book_cautions(LOT, unexplained("count", 0.05), COUNTED)
    assert "bales more than" in said.sentence
    (said,) = book_cautions(LOT, unexplained("count", -3.0), COUNTED)
    assert "3 bales fewer than" in said.sentence
    assert book_cautions(LOT, unexplained("count", -3.0, COUNTED + DAY), COUNTED) == []


@pytest.mark.parametrize(
    ("into", "said"),
    [
        (504.9, None),
        (505.1, "1.0% more"),
        (495.1, None),
        (494.0, "1.2% less"),
        (550.0, "10.0% more"),
    ],
)
def test_bales_moved_weigh_as_they_did_within_a_hundredth(into: float, said: str | None) -> None:
    move = MoveRow(COUNTED, "A", MoveKind.MOVED, bales=5.0, to_lot_id="B")
    other = replace(LOT, lot_id="B", name="Barn")
    farm = replace(farm_with(LOT, other), moves=(move,))
    books: Any = {"A": one(dry_per_bale=lambda day: 500.0), "B": one(dry_per_bale=lambda day: into)}
    found = _move_cautions(farm, books, COUNTED)
    assert [one.sentence.split(" hold ")[1].split(" dry")[0] for one in found] == (
        [] if said is None else [said]
    )
    assert _move_cautions(farm, books, COUNTED - DAY) == []


@pytest.mark.parametrize(("days", "apart"), [(0, False), (2, False), (3, True)])
def test_hay_put_up_more_than_two_days_apart_is_two_lots(days: int, apart: bool) -> None:
    put = MoveRow(BALED + days * DAY, "A", MoveKind.PUT_UP, bales=5.0)
    farm = replace(farm_with(LOT), moves=(put,))
    assert bool(_lot_cautions(LOT, farm, COUNTED, 88.0)) == apart


def test_the_age_of_baleage_counts_from_the_day_it_was_wrapped() -> None:
    baleage = replace(LOT, package=Package.BALEAGE, baled_moisture_pct=50.0)
    farm = farm_with(baleage)
    before = _lot_cautions(baleage, farm, BALED - 5 * DAY, 50.0)
    assert before == _lot_cautions(baleage, farm, BALED, 50.0)
    old = _lot_cautions(baleage, farm, BALED + 400 * DAY, 50.0)
    assert len(old) > len(before)
    # Without the moisture at baling that of now counts.
    unknown = replace(baleage, baled_moisture_pct=None)
    assert _lot_cautions(unknown, farm, BALED, 20.0) == _lot_cautions(
        replace(baleage, baled_moisture_pct=80.0), farm, BALED, 20.0
    )


def test_a_season_that_is_over_needs_nothing() -> None:
    over = outlook([COWS], SEASON, SEASON.end, 1000.0, 0.0)
    assert (over.need_kg, over.reserve_kg, over.out_on) == (0.0, 0.0, None)
    last = outlook([COWS], SEASON, SEASON.end - DAY, 0.0, 0.0)
    assert last.need_kg == pytest.approx(900.0)
    assert last.out_on == SEASON.end - DAY
    few = replace(COWS, head=1, weight_kg=2.0)
    assert outlook([few], SEASON, SEASON.end - DAY, 0.0, 0.0).out_on == SEASON.end - DAY


@pytest.mark.parametrize("bales", [0.0, -1.0, 60.5])
def test_no_more_bales_are_moved_than_stand(bales: float) -> None:
    with pytest.raises(OutOfRange, match="cannot be moved"):
        split_lot(LOT, bales, Storage.EXPOSED_GROUND, COUNTED, standing=60.0, taken=["A"])


def test_all_bales_that_stand_can_be_moved() -> None:
    lot = replace(LOT, lot_id="2026-HILL-C1-L01", field_name="Hill", cutting=1)
    parts = split_lot(lot, 60.0, Storage.EXPOSED_GROUND, COUNTED, standing=60.0, taken=[lot.lot_id])
    assert parts.part.bales == 60.0


def test_hot_bales_are_found_by_trying_every_number() -> None:
    assert bales_to_find_hot(1.0, 0.95) == 1
    assert bales_to_find_hot(1.0, 0.95, 10) == 1
    assert bales_to_find_hot(1.0, 0.95, 1) == 1
    for lot in (1, 2, 7, 40):
        for share in (0.05, 0.5, 1.0):
            bales = bales_to_find_hot(share, 0.95, lot)
            assert chance_of_hot_bale(share, bales, lot) >= 0.95
            assert bales == 1 or chance_of_hot_bale(share, bales - 1, lot) < 0.95
    # One hot bale of ten: ten must be chosen to be nearly sure.
    assert bales_to_find_hot(0.05, 0.95, 10) == 10


@each_row("df", [1, 2, 3, 9, 10])
@each_row("chance", [0.5, 0.9, 0.975])
def test_a_quantile_of_t_is_reached_with_its_chance(df: int, chance: float) -> None:
    assert t_probability(t_quantile(chance, df), df) == pytest.approx(chance, abs=1e-12)
    assert t_quantile(1.0 - chance, df) == pytest.approx(-t_quantile(chance, df), abs=1e-9)
