"""The yard on either side of its edges: prices, mixtures, moves, reserves, hot bales."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date, timedelta

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
from rickyard.hay.feeding.hand_rations import two_feeds_two_nutrients
from rickyard.hay.money.worth import nutrient_prices
from rickyard.hay.precision.farm_variance import bales_to_find_hot, chance_of_hot_bale
from rickyard.hay.storage.ledger import account
from rickyard.hay.storage.standing import book_of
from rickyard.hay.yard.outlook import group_need_kg, outlook
from rickyard.hay.yard.yard_page import yard_page
from rickyard.quantities import OutOfRange
from support.rows import each_row

BALED, COUNTED = date(2026, 6, 1), date(2026, 10, 1)
DAY = timedelta(days=1)
LOT = Lot(
    *("A", "Hill", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN, 60.0, BALED, COUNTED),
    bale_weight_kg=500.0,
)


@pytest.mark.parametrize("times", [1e-7, 1.0, 1e7])
def test_prices_of_nutrients_are_found_in_any_unit_of_mass(times: float) -> None:
    """St-Pierre 2001: corn and soybean meal."""
    feeds = [tuple(times * one for one in row) for row in (FIRST, SECOND)]
    tdn, cp = nutrient_prices(*feeds)  # type: ignore[arg-type]
    assert [tdn, cp] == pytest.approx([0.0728, 0.3029], abs=1e-4)


FIRST, SECOND = (0.7744, 0.0792, 0.080357), (0.7476, 0.4806, 0.20)


def test_feeds_of_one_proportion_have_no_prices_and_no_prices_below_nothing() -> None:
    with pytest.raises(OutOfRange, match="proportion"):
        nutrient_prices(FIRST, (FIRST[0] / 3.0, FIRST[1] / 3.0, 0.1))
    with pytest.raises(OutOfRange, match="less than nothing"):
        nutrient_prices(FIRST, (*SECOND[:2], 0.01))
    with pytest.raises(OutOfRange, match="less than nothing"):
        nutrient_prices((*FIRST[:2], 0.01), SECOND)
    # Protein that costs nothing is no less than nothing.
    assert nutrient_prices((0.8, 0.1, 0.08), (0.7, 0.4, 0.07))[1] == pytest.approx(0.0, abs=1e-12)


def test_two_feeds_meet_two_needs_also_where_one_meets_both() -> None:
    a, b = (0.10, 0.80), (0.35, 0.50)
    assert two_feeds_two_nutrients(a, (0.5, 0.0), (0.10, 0.80)) == pytest.approx((1.0, 0.0))
    assert two_feeds_two_nutrients((0.5, 0.0), a, (0.10, 0.80)) == pytest.approx((0.0, 1.0))
    assert two_feeds_two_nutrients(a, b, (0.0, 0.0)) == (0.0, 0.0)
    for need in ((0.1, 1.0), (0.5, 0.5)):
        with pytest.raises(OutOfRange, match="no amounts"):
            two_feeds_two_nutrients(a, b, need)
    with pytest.raises(OutOfRange, match="one proportion"):
        two_feeds_two_nutrients(a, (0.05, 0.40), (0.8, 4.0))


def test_an_account_counts_what_happens_on_its_last_day_and_not_on_its_first() -> None:
    days = [COUNTED + one * DAY for one in (5, 10, 20)]
    moves = [MoveRow(one, "A", MoveKind.SOLD, bales=float(i + 1)) for i, one in enumerate(days)]
    book = book_of(LOT, moves, [], 86.0, 1000.0)
    found = account(book, days[0], days[2])
    assert found.bales == {"sold": -5.0}
    assert (found.opening_bales, found.closing_bales) == (59.0, 54.0)
    assert account(book, days[0], days[2] - DAY).bales == {"sold": -2.0}
    assert account(book, days[0] - DAY, days[0]).bales == {"sold": -1.0}
    assert account(book, days[1], days[1]).bales == {}
    with pytest.raises(OutOfRange):
        account(book, days[1], days[0])


@pytest.mark.parametrize(("kg", "told"), [(504.9, 0), (495.1, 0), (506.0, 1), (494.0, 1)])
def test_bales_that_weigh_a_hundredth_more_in_the_other_lot_are_told(kg: float, told: int) -> None:
    """Judgement: moved bales weigh the same in both books within one percent."""
    other = replace(LOT, lot_id="B", name="Barn", bale_weight_kg=kg)
    moved = MoveRow(COUNTED + DAY, "A", MoveKind.MOVED, bales=4.0, to_lot_id="B")
    farm = Farm("F", Season(COUNTED, COUNTED + 90 * DAY), lots=(LOT, other), moves=(moved,))
    page = yard_page(farm, COUNTED + 30 * DAY, {"A": 86.0, "B": 86.0})
    said = [one for one in page.cautions if "bales moved from" in one.sentence]
    assert len(said) == told
    assert all(("more" in one.sentence) is (kg > 500.0) for one in said)
    before = yard_page(farm, COUNTED, {"A": 86.0, "B": 86.0})
    assert not [one for one in before.cautions if "bales moved from" in one.sentence]


COWS = Group("C", "Cows", AnimalClass.COW, 60, 600.0, feeding_loss_pct=20.0)
SEASON = Season(date(2026, 11, 1), date(2027, 3, 1))


def test_a_group_is_counted_on_its_own_days_and_waste_divides() -> None:
    a_day = 60 * 600.0 * 0.025 / 0.8
    assert group_need_kg(COWS, SEASON.start, SEASON.end) == pytest.approx(120 * a_day)
    late = replace(COWS, from_on=SEASON.start + 20 * DAY, to_on=SEASON.end - 30 * DAY)
    assert group_need_kg(late, SEASON.start, SEASON.end) == pytest.approx(70 * a_day)
    gone = replace(COWS, to_on=SEASON.start - DAY)
    assert group_need_kg(gone, SEASON.start, SEASON.end) == 0.0


def test_hay_runs_out_on_the_day_it_no_longer_covers() -> None:
    """The reserve: 15 percent, or 30 days where that is more; common practice."""
    need = group_need_kg(COWS, SEASON.start, SEASON.end) / 0.9
    held = need * 30.0 / 120.0
    enough = outlook([COWS], SEASON, SEASON.start, need + held, 10.0)
    assert [enough.need_kg, enough.reserve_kg] == pytest.approx([need, held])
    assert enough.out_on is None
    short = outlook([COWS], SEASON, SEASON.start, held + need * 10.5 / 120.0, 10.0)
    assert short.out_on == SEASON.start + 10 * DAY
    assert outlook([COWS], SEASON, SEASON.start - 50 * DAY, held, 10.0).out_on == SEASON.start
    over = outlook([COWS], SEASON, SEASON.end, 1.0, 10.0)
    assert (over.need_kg, over.reserve_kg, over.out_on) == (0.0, 0.0, None)
    nobody = outlook([], SEASON, SEASON.start, 1.0, 10.0)
    assert nobody.out_on is None


@each_row("lot", [1, 7, 20, 60])
@each_row("share", [0.05, 0.1, 0.3, 1.0])
def test_the_chance_of_a_hot_bale_is_that_of_drawing_without_putting_back(
    lot: int, share: float
) -> None:
    hot = math.ceil(share * lot - 1e-9)
    for drawn in range(1, lot + 1):
        miss = 1.0
        for one in range(drawn):
            miss *= max(lot - hot - one, 0) / (lot - one)
        assert chance_of_hot_bale(share, drawn, lot) == pytest.approx(1.0 - miss)
    with pytest.raises(OutOfRange):
        chance_of_hot_bale(share, lot + 1, lot)


def test_the_fewest_bales_that_find_a_hot_one() -> None:
    for confidence in (0.501, 0.8, 0.95, 0.998):
        for lot in (None, 30, 60):
            least = bales_to_find_hot(0.2, confidence, lot)
            assert chance_of_hot_bale(0.2, least, lot) >= confidence
            assert least == 1 or chance_of_hot_bale(0.2, least - 1, lot) < confidence
    for beyond in (0.5, 0.999):
        with pytest.raises(OutOfRange, match="confidence"):
            bales_to_find_hot(0.2, beyond)
    with pytest.raises(OutOfRange, match="bales in the lot"):
        bales_to_find_hot(0.2, 0.9, 0)
