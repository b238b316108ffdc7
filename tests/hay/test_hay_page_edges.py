"""The pages of lots and of the yard where a value stands just at what they say."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest

from rickyard.farm import (
    Analyte,
    AnimalClass,
    Basis,
    Farm,
    FedRow,
    Forage,
    Group,
    LabPackage,
    Lot,
    MoveKind,
    MoveRow,
    Package,
    Report,
    Season,
    Storage,
    Wrap,
)
from rickyard.hay.precision.farm_variance import pairs_of, spread_of
from rickyard.hay.sampling.analyses import Purpose, Wanted, wanted_tests
from rickyard.hay.sampling.lab_packages import cheapest_order
from rickyard.hay.sampling.lots import lot_code
from rickyard.hay.sampling.protocols import protocol, protocols_for
from rickyard.hay.sampling.sampling_plan import Options, SamplePlan, _bags, farm_sample_plans
from rickyard.hay.storage.hot_hay import Watch, heat_step, heat_watch, lot_watch
from rickyard.hay.storage.ledger import LotBook, lot_book
from rickyard.hay.storage.standing import bale_weight_error_frac, dry_per_bale
from rickyard.hay.storage.storage import (
    remaining_fraction,
    storage_loss_lookup,
    storage_loss_pct,
    storage_loss_remark,
)
from rickyard.hay.yard.outlook import outlook, sell_or_keep
from rickyard.hay.yard.yard_page import _weigh
from rickyard.quantities import OutOfRange, convert

BALED, TODAY, DAY = date(2026, 6, 1), date(2026, 9, 1), timedelta(days=1)
LOT = Lot(
    *("A", "Hill", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN, 40.0, BALED, BALED),
    bale_weight_kg=500.0,
)
COWS = Group("C", "Cows", AnimalClass.COW, 10, 600.0)
SEASON = Season(date(2026, 11, 1), date(2027, 4, 1))


def degrees(fahrenheit: float) -> float:
    return float(convert(fahrenheit, "degF", "degC"))


def page(lot: Lot, wish: Options | None = None, **more: Any) -> SamplePlan:
    farm = Farm("Farm", SEASON, groups=(COWS,), lots=(lot,), **more)
    (only,) = farm_sample_plans(farm, TODAY, {"A": 88.0}, wish)
    return only


# The page of a lot -----------------------------------------------------------------------------


def test_the_bag_is_a_quart_up_to_a_quart_of_cores_and_a_gallon_up_to_a_gallon() -> None:
    sizes = [_bags(grams).split()[0:2] for grams in (94.6, 94.7, 378.5, 378.6)]
    one = [["one", "quart"], ["one", "gallon"], ["one", "gallon"]]
    assert sizes == [*one, ["two", "gallon"]]
    assert page(LOT).bags.startswith("one gallon")


def test_bales_within_reach_are_all_that_are_drawn() -> None:
    few = page(replace(LOT, bales_reachable=9.0))
    assert few.choice is not None
    assert few.choice.bales == tuple(range(1, 10))
    assert any("next spare" in one for one in few.remarks)
    for reach, said in ((0.0, True), (1.0, False)):
        remarks = page(replace(LOT, bales_reachable=reach)).remarks
        assert any("No bale can be reached" in one for one in remarks) is said


def test_a_heap_of_silage_is_scooped_and_its_nitrate_is_an_average() -> None:
    pit = replace(
        *(LOT,), forage=Forage.CORN_SILAGE, package=Package.LOOSE, storage=Storage.COVERED_GROUND
    )
    found = page(replace(pit, drought=True))
    assert found.bags == "one freezer bag"
    assert any("Nitrate is patchy" in one for one in found.remarks)
    assert not any("bale" in one for one in found.remarks)
    assert not any("Nitrate" in one for one in page(replace(LOT, package=Package.LOOSE)).remarks)
    baled = page(replace(LOT, drought=True))
    assert any("one bale in ten" in one for one in baled.remarks)
    assert baled.handling[0] != found.handling[0]


@pytest.mark.parametrize(("fed", "again"), [(11.0, False), (13.0, True)])
def test_animals_off_their_feed_ask_for_a_test_after_30_percent(fed: float, again: bool) -> None:
    report = Report("R", "A", (Analyte("cp", 10.0, "pct", Basis.DRY_MATTER),), date(2026, 7, 1))
    eaten = FedRow(TODAY - DAY, "A", "C", bales=fed)
    found = page(LOT, Options(animals_off=("A",)), reports=(report,), fed=(eaten,))
    assert (found.dates.status != "tested") is again


def test_a_test_asked_for_twice_keeps_its_first_reason_unless_it_must_be_wet() -> None:
    plain = {one.test: one for one in wanted_tests(LOT, [Purpose.BEEF])}
    rained = {one.test: one for one in wanted_tests(replace(LOT, rained_on=True), [Purpose.BEEF])}
    assert rained["adf"] == plain["adf"]
    for hot, asked in ((130.0, False), (130.1, True)):
        lot = replace(LOT, highest_temperature_c=degrees(hot))
        assert ("adicp" in {one.test for one in wanted_tests(lot, [Purpose.BEEF])}) is asked


def test_the_days_of_an_order_are_known_when_each_package_tells_them() -> None:
    wanted = [Wanted("hcn", "", ""), Wanted("cp", "", ""), Wanted("cu", "", "")]
    told = LabPackage("County", "Basic", 16.0, "cp", working_days=5)
    other = LabPackage("County", "Copper", 9.0, "cu", working_days=8)
    order = cheapest_order([told, other], wanted)
    assert order is not None
    assert (order.price_usd, order.working_days) == (25.0, 8)
    assert [one.test for one in order.missing] == ["hcn"]
    order = cheapest_order([told, replace(other, working_days=None)], wanted)
    assert order is not None
    assert order.working_days is None
    # At one price the fewer packages are ordered.
    both = LabPackage("County", "Both", 25.0, "cp cu")
    order = cheapest_order([told, other, both], wanted)
    assert order is not None
    assert [one.package for one in order.packages] == ["Both"]


def test_the_spread_of_cores_follows_the_value_and_only_dry_matter_the_weather() -> None:
    """Nitrate varies by a share of itself; a lot outside only in its dry matter."""
    once, twice = spread_of("nitrate_no3n", 500.0), spread_of("nitrate_no3n", 1000.0)
    for name in ("observed", "repeat", "one_lab", "bias"):
        assert getattr(twice, name) == pytest.approx(2.0 * getattr(once, name))
    assert once.observed > 0.0
    assert spread_of("cp", outside=True) == spread_of("cp")
    assert spread_of("dm", outside=True).observed == 3.0 * spread_of("dm").observed


def test_values_under_a_limit_of_print_make_no_pair() -> None:
    def test(value: float | None, **more: Any) -> Report:
        printed = Analyte("cp", value, "pct", Basis.DRY_MATTER, **more)
        return Report("R", "A", (printed,), sampled_on=TODAY, cores=10)

    assert pairs_of([test(9.0), test(9.5)], "cp").cores == (10,)
    assert pairs_of([test(9.0), test(None)], "cp").cores == ()
    assert pairs_of([test(9.0), test(9.5, censored="<")], "cp").cores == ()
    assert pairs_of([test(9.0), replace(test(9.5), analytes=())], "cp").cores == ()


# Hot hay ---------------------------------------------------------------------------------------


def watched(*fahrenheit: float, on: int = 10, moisture: float | None = 22.0) -> Watch:
    today = BALED + on * DAY
    readings = [(today - DAY, degrees(one)) for one in fahrenheit]
    return heat_watch(Package.ROUND, BALED, today, moisture, readings)


def test_a_reading_counts_from_the_temperature_on_that_is_printed() -> None:
    """Purdue: 150 degrees alarm; three falling readings under 120 end the watch."""
    assert watched(150.0).alarm
    assert not watched(149.9).alarm
    assert heat_step(degrees(150.0)).level != heat_step(degrees(149.0)).level
    assert not watched(119.0, 118.0, 117.0).due
    for still in ((120.0, 118.0, 117.0), (119.0, 119.0, 117.0), (119.0, 118.0, 118.0)):
        assert watched(*still).due


def test_dry_hay_is_watched_for_its_last_reading_alone() -> None:
    assert watched(80.0, 135.0, moisture=12.0).due
    assert not watched(135.0, 80.0, moisture=12.0).due
    assert watched(moisture=12.0).sentence == "No heat watch is due."


def test_hay_of_unknown_moisture_is_looked_at_for_six_weeks() -> None:
    for on, word in ((42, "not known"), (43, "No heat watch")):
        assert word in watched(on=on, moisture=None).sentence
    hot = replace(LOT, highest_temperature_c=degrees(160.0))
    assert [lot_watch(hot, BALED + on * DAY).alarm for on in (42, 43)] == [True, False]


# The yard --------------------------------------------------------------------------------------


def book(*moves: MoveRow, bales: float = 40.0, counted: date = TODAY) -> LotBook:
    lot = replace(LOT, bales=bales, counted_on=counted)
    return lot_book(lot, moves, [], lambda day: 450.0, 90.0)


def kinds(of: LotBook) -> list[tuple[str, float]]:
    return [(line.kind, line.bales) for line in of.lines]


def test_the_book_begins_with_what_was_counted_unless_hay_came() -> None:
    came = MoveRow(BALED, "A", MoveKind.PUT_UP, bales=0.05)
    assert kinds(book(came)) == [("put_up", 0.05), ("count", pytest.approx(39.95))]
    nothing = replace(came, bales=0.0)
    assert ("opening", 40.0) in kinds(book(nothing))
    right = MoveRow(BALED + DAY, "A", MoveKind.CORRECTION, bales=5.0, named="J. Hand")
    assert kinds(book(right, bales=3.0)) == [
        ("opening", 0.0), ("correction", 5.0), ("count", -2.0)
    ]  # fmt: skip
    unweighed = MoveRow(TODAY + DAY, "A", MoveKind.SOLD)
    assert book(unweighed).bales_on(TODAY + DAY) == 40.0


def test_hay_that_comes_on_the_day_of_the_count_is_counted_and_what_goes_goes_after() -> None:
    came = MoveRow(TODAY, "A", MoveKind.BOUGHT, bales=10.0)
    gone = MoveRow(TODAY, "A", MoveKind.SOLD, bales=4.0)
    found = book(came, gone)
    assert found.bales_on(TODAY) == 36.0
    assert [found.since_count(TODAY + one * DAY) for one in (0, 1)] == [0.0, -4.0]
    # What was missing stands before whatever took it, a correction before what went.
    taken = replace(gone, bales=41.0)
    signed = MoveRow(TODAY, "A", MoveKind.CORRECTION, bales=-41.0, named="J. Hand")
    assert [kind for kind, _ in kinds(book(taken, signed))] == [
        *("opening", "missing", "correction", "missing", "sold")
    ]


def test_a_bale_holds_what_was_counted_and_what_storage_took_or_will_take() -> None:
    counted = replace(LOT, storage=Storage.EXPOSED_GROUND, counted_on=BALED + 90 * DAY)
    holds = dry_per_bale(counted, 88.0, 1000.0)
    months = 90 / 30.4375

    def left(low: float, high: float) -> float:
        return float(remaining_fraction(Storage.EXPOSED_GROUND, low, high, 1000.0))

    assert holds(counted.counted_on) == pytest.approx(440.0)
    assert holds(BALED) == pytest.approx(440.0 / left(0.0, months), rel=1e-9)
    assert holds(BALED + 180 * DAY) == pytest.approx(440.0 * left(months, 2 * months), rel=1e-9)


def test_rain_beyond_the_printed_range_takes_no_more_and_no_less() -> None:
    """Oklahoma State: ranges for 25 to 40 inches of rain."""
    table = ("osu_bae1716", Storage.EXPOSED_GROUND.value)
    printed = {
        months: [storage_loss_lookup(*table, period, end) for end in ("low", "high")]
        for months, period in ((9.0, "le9"), (15.0, "12_18"))
    }
    for months in (9.0, 15.0):
        dry = [float(storage_loss_pct(Storage.EXPOSED_GROUND, months, mm)) for mm in (0.0, 635.0)]
        wet = [
            float(storage_loss_pct(Storage.EXPOSED_GROUND, months, mm)) for mm in (1016.0, 1500.0)
        ]
        assert dry == pytest.approx([printed[months][0]] * 2)
        assert wet == pytest.approx([printed[months][1]] * 2)
    assert storage_loss_remark(Storage.WRAPPED, 9.0) is None
    assert storage_loss_remark(Storage.WRAPPED, 9.1) is not None
    assert storage_loss_remark(Storage.ENCLOSED_BARN, 18.0, 900.0) is None


def test_the_error_of_a_weight_is_none_when_every_bale_was_weighed() -> None:
    for bales, weighed, error in (
        (0.0, 3, 0.0),
        (3.0, 3, 0.0),
        (2.0, 3, 0.0),
        (4.0, 1, 0.08 * 0.75**0.5),
    ):
        lot = replace(LOT, bales=bales, bales_weighed=weighed)
        assert bale_weight_error_frac(lot)[0] == pytest.approx(error)
    assert [_weigh(replace(LOT, bales=one)) for one in (1.0, 0.9)] == [1, None]


def test_the_last_day_of_a_season_needs_hay_and_nobody_needs_none() -> None:
    last = outlook([COWS], SEASON, SEASON.end - DAY, 1e6, 0.0)
    assert last.reserve_kg == pytest.approx(30.0 * last.need_kg)
    assert (last.out_on, last.buy_kg) == (None, 0.0)
    assert outlook([], SEASON, SEASON.start, 0.0, 0.0).out_on is None


def test_hay_is_kept_for_a_price_above_what_it_must_bring() -> None:
    assert sell_or_keep(100.0, 20.0, interest_pct=10.0).later_must_be == 125.0
    assert [sell_or_keep(100.0, 20.0, later_price=p).keep for p in (125.0, 125.1)] == [False, True]


def test_a_way_to_sample_costs_its_fee_its_postage_and_its_time() -> None:
    """Common practice: three minutes a core at $20 an hour; postage by a price list."""
    spread = spread_of("cp")
    for bales, cores in ((60, 20), (1, 20)):
        free = protocols_for(bales, spread)[0]
        assert (free.cores, free.price_usd) == (cores, 4.0 + 20.0)
        assert protocols_for(bales, spread, fee_usd=16.0)[0].price_usd == 40.0
        assert protocol("", "", 20, bales, spread).price_usd == 24.0


def test_storage_takes_sixty_percent_at_most() -> None:
    """Oklahoma State's table times that of sisal twine would be more."""
    found = [
        float(storage_loss_pct(Storage.EXPOSED_GROUND, 18.0, 2000.0, wrap))
        for wrap in (Wrap.NET, Wrap.PLASTIC_TWINE, Wrap.SISAL)
    ]
    assert found[0] < found[1] < found[2] == 60.0


def test_a_field_has_as_many_codes_as_three_figures_hold() -> None:
    used = [f"2026-HILL-C1-L{number:02d}" for number in range(1, 1000)]
    assert lot_code(2026, "Hill", 1, used[:-1]) == used[-1]
    with pytest.raises(OutOfRange, match="all codes"):
        lot_code(2026, "Hill", 1, used)
