"""The yard's book: stock never negative, order of entry of no account, every kilogram told."""

import random
from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rickyard.farm import FedRow, Forage, Lot, MoveKind, MoveRow, Package, Storage, Wrap
from rickyard.hay.sampling import lots
from rickyard.hay.storage import ledger, standing
from rickyard.quantities import OutOfRange

BALED, COUNTED = date(2026, 6, 1), date(2026, 10, 1)
LOT = Lot(
    "A", "Hill", Forage.COOL_GRASS, Package.ROUND, Storage.EXPOSED_GROUND, 60.0, BALED, COUNTED,
    field_name="Hill", cutting=1, wrap=Wrap.NET, bale_weight_kg=500.0, bales_weighed=6,
)  # fmt: skip
DM, RAIN = 86.0, 1000.0
DAYS = st.integers(0, 500).map(lambda days: BALED + timedelta(days=days))
BALES = st.floats(0.0, 40.0).map(lambda value: round(value, 2))
CAME_OR_WENT = st.sampled_from([kind for kind in MoveKind if kind is not MoveKind.CORRECTION])


@st.composite
def movements(draw: st.DrawFn) -> MoveRow:
    day, kind, bales = draw(DAYS), draw(CAME_OR_WENT), draw(BALES)
    if draw(st.booleans()) and draw(st.booleans()):
        sign = draw(st.sampled_from([-1.0, 1.0]))
        return MoveRow(day, "A", MoveKind.CORRECTION, bales=sign * bales, named="J. Hand")
    if kind is MoveKind.MOVED:
        source, to = draw(st.sampled_from([("A", "B"), ("B", "A"), ("A", "C")]))
        return MoveRow(day, source, kind, bales=bales, to_lot_id=to)
    if draw(st.booleans()):
        return MoveRow(day, "A", kind, mass_kg=bales * 480.0)
    return MoveRow(day, "A", kind, bales=bales)


MOVES = st.lists(movements(), max_size=14)
FED = st.lists(st.builds(FedRow, DAYS, st.just("A"), st.just("COWS"), BALES), max_size=6)


def book(moves: list[MoveRow], fed: list[FedRow], lot: Lot = LOT) -> ledger.LotBook:
    return standing.book_of(lot, moves, fed, DM, RAIN)


@given(MOVES, FED)
def test_stock_is_never_negative_on_any_day(moves: list[MoveRow], fed: list[FedRow]) -> None:
    made = book(moves, fed)
    for day in {line.day for line in made.lines} | {BALED, COUNTED, date(2028, 1, 1)}:
        assert made.bales_on(day) >= 0.0


@given(MOVES, FED, st.randoms(use_true_random=False))
def test_the_order_of_entry_does_not_matter(
    moves: list[MoveRow], fed: list[FedRow], chance: random.Random
) -> None:
    first = book(moves, fed)
    chance.shuffle(moves)
    chance.shuffle(fed)
    assert book(moves, fed).lines == first.lines


@given(MOVES, FED, DAYS, DAYS)
def test_every_bale_and_kilogram_is_accounted_for(
    moves: list[MoveRow], fed: list[FedRow], one: date, other: date
) -> None:
    start, end = sorted((one, other))
    told = ledger.account(book(moves, fed), start, end)
    bales = told.opening_bales + sum(told.bales.values())
    assert bales == pytest.approx(told.closing_bales, abs=1e-6)
    dry = told.opening_dry_kg + sum(told.dry_kg.values()) - told.storage_loss_kg
    assert dry == pytest.approx(told.closing_dry_kg, abs=1e-3)
    assert told.storage_loss_kg >= -1e-6


@given(MOVES, FED)
def test_a_bale_is_missing_only_where_more_was_taken_than_stood(
    moves: list[MoveRow], fed: list[FedRow]
) -> None:
    """With nothing missing, the lines as written add up; what is missing is exactly the gap."""
    made = book(moves, fed)
    after = [line for line in made.lines if line.day > COUNTED]
    written = sum(line.bales for line in after if line.kind != "missing")
    missing = sum(line.bales for line in after if line.kind == "missing")
    end = made.bales_on(date(2028, 1, 1))
    assert made.bales_on(COUNTED) + written + missing == pytest.approx(end, abs=1e-6)
    if missing > 0:
        assert any(line.bales < 0 for line in after)


@given(MOVES)
def test_hay_moved_out_of_one_book_comes_into_the_other(moves: list[MoveRow]) -> None:
    part = replace(LOT, lot_id="B", storage=Storage.ENCLOSED_BARN, bales=0.0, counted_on=BALED)
    here, there = book(moves, []), book(moves, [], part)
    out = sorted((ln.day, -ln.bales) for ln in here.lines if ln.about == "B" and ln.bales < 0)
    come = sorted((ln.day, ln.bales) for ln in there.lines if ln.kind == "moved_in")
    moved = sorted(m.day for m in moves if m.to_lot_id == "B" and m.bales)
    assert [day for day, _ in out] == moved
    assert out == [pair for pair in come if pair[1] > 0]


def sold(bales: float, day: date) -> MoveRow:
    return MoveRow(day, "A", MoveKind.SOLD, bales=bales)


def test_the_count_holds_and_what_went_before_it_stood_before() -> None:
    made = book([sold(10.0, date(2026, 8, 1)), sold(5.0, date(2026, 11, 1))], [])
    days = (date(2026, 7, 31), date(2026, 8, 1), COUNTED, date(2026, 11, 1))
    assert [made.bales_on(day) for day in days] == [70.0, 60.0, 60.0, 55.0]
    assert made.unexplained == ()


def test_hay_put_up_on_the_day_of_the_count_is_in_it_and_hay_sold_is_not() -> None:
    made = book([MoveRow(COUNTED, "A", MoveKind.PUT_UP, bales=60.0), sold(8.0, COUNTED)], [])
    assert made.bales_on(COUNTED) == 52.0
    assert made.unexplained == ()


def test_a_count_that_differs_from_the_book_is_told() -> None:
    made = book([MoveRow(BALED, "A", MoveKind.PUT_UP, bales=63.0)], [])
    assert [(line.kind, line.bales) for line in made.unexplained] == [("count", -3.0)]
    assert made.bales_on(date(2026, 9, 1)) == 63.0


def test_bales_that_were_never_there_are_missing_and_a_named_correction_mends_it() -> None:
    made = book([sold(64.0, date(2026, 12, 1))], [])
    assert [(line.kind, line.bales) for line in made.unexplained] == [("missing", 4.0)]
    mended = MoveRow(date(2026, 11, 30), "A", MoveKind.CORRECTION, bales=4.0, named="J. Hand")
    assert book([sold(64.0, date(2026, 12, 1)), mended], []).unexplained == ()


def test_a_correction_without_a_name_is_refused() -> None:
    with pytest.raises(OutOfRange, match="no name"):
        book([MoveRow(COUNTED, "A", MoveKind.CORRECTION, bales=1.0, named=" ")], [])


def test_a_weight_is_bales_of_that_day() -> None:
    """A bale has lost weight by spring, so a ton is more bales than in autumn."""
    by_weight = MoveRow(date(2027, 4, 1), "A", MoveKind.SOLD, mass_kg=5000.0)
    assert 10.0 < 60.0 - book([by_weight], []).bales_on(date(2027, 4, 1)) < 13.0


def test_cores_take_nothing() -> None:
    assert book([MoveRow(COUNTED, "A", MoveKind.CORED, bales=20.0)], []).bales_on(COUNTED) == 60.0


# Lots -------------------------------------------------------------------------------------------


def test_a_part_takes_its_kilograms_with_it() -> None:
    day = date(2026, 12, 1)
    now = standing.standing_on(book([], []), day, DM)
    split = lots.split_lot(
        LOT, 20.0, Storage.ENCLOSED_BARN, day, standing=now.bales, bale_kg=now.bale_kg,
        taken=["2026-HILL-C1-L01"],
    )  # fmt: skip
    parts = [book([split.move], [], one) for one in (split.lot, split.part)]
    assert [part.bales_on(day) for part in parts] == [40.0, 20.0]
    assert sum(part.dry_kg_on(day) for part in parts) == pytest.approx(now.dry_kg)
    spring = date(2027, 4, 1)
    outside, barn = (part.dry_per_bale(spring) / part.dry_per_bale(day) for part in parts)
    assert outside < barn < 1.0
    assert split.part.lot_id == "2026-HILL-C1-L02"


@pytest.mark.parametrize(("bales", "where"), [
    (61.0, Storage.ENCLOSED_BARN), (0.0, Storage.ENCLOSED_BARN), (5.0, Storage.EXPOSED_GROUND),
])  # fmt: skip
def test_bales_that_are_not_there_or_stay_as_they_are_make_no_part(
    bales: float, where: Storage
) -> None:
    with pytest.raises(OutOfRange):
        lots.split_lot(LOT, bales, where, COUNTED, standing=60.0)


@pytest.mark.parametrize(("tons", "levels", "composites"), [
    (100, [], 1), (101, ["note"], 1), (200, ["note"], 1), (201, ["warning"], 2),
    (401, ["warning"], 3),
])  # fmt: skip
def test_large_lots_are_told(tons: float, levels: list[str], composites: int) -> None:
    weight = tons * 907.18474
    assert [one.level for one in lots.lot_size_cautions(LOT, weight)] == levels
    assert lots.composites_for(weight) == composites


# How surely it is known -------------------------------------------------------------------------


def test_weighing_more_bales_makes_a_stock_surer_and_weighing_all_sure() -> None:
    few, many, all_ = (
        standing.bale_weight_error_frac(replace(LOT, bales_weighed=n))[0] for n in (3, 20, 60)
    )
    assert few > many > all_ == 0.0
    unweighed = replace(LOT, bale_weight_kg=None, bale_diameter_m=1.5, bale_width_m=1.2)
    assert standing.bale_weight_error_frac(unweighed)[0] == 0.10


def test_a_stated_error_of_stock_covers_what_weighing_would_find() -> None:
    """Draw lots of bales, weigh some, and see how often the 90 % interval holds the lot."""
    chance = random.Random(11)
    hits = 0
    for _ in range(2000):
        weights = [chance.gauss(500.0, 40.0) for _ in range(60)]
        seen = chance.sample(weights, 12)
        lot = replace(LOT, bales_weighed=12, bale_weight_kg=sum(seen) / 12, bale_weight_sd_kg=40.0)
        now = standing.standing_on(standing.book_of(lot, (), (), DM, RAIN), COUNTED, DM)
        hits += abs(now.as_fed_kg - sum(weights)) <= 1.645 * now.as_fed_se_kg
    assert hits / 2000 == pytest.approx(0.90, abs=0.02)
