"""What to test and what to order: reasons, wet chemistry, and the cheapest cover."""

import math
from dataclasses import replace
from datetime import date
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rickyard.farm import AnimalClass, Forage, LabPackage, Lot, Package, Storage
from rickyard.hay.precision.farm_variance import spread_of
from rickyard.hay.sampling.analyses import Purpose, Wanted, inspections, purpose_of, wanted_tests
from rickyard.hay.sampling.lab_packages import cheapest_order, holds
from rickyard.quantities import OutOfRange
from support.rows import each_row

LOT = Lot(
    "A", "Hill", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN, 40.0,
    date(2026, 6, 1), date(2026, 6, 1),
)  # fmt: skip


def names(lot: Lot, *purposes: Purpose) -> set[str]:
    return {one.test for one in wanted_tests(lot, purposes)}


@each_row(
    ("change", "test"),
    [
        ({"drought": True}, "nitrate"),
        ({"heavy_nitrogen": True}, "nitrate"),
        ({"weedy": True}, "nitrate"),
        ({"frosted": True}, "nitrate"),
        ({"forage": Forage.SUMMER_ANNUAL}, "nitrate"),
        ({"forage": Forage.SMALL_GRAIN}, "nitrate"),
        ({"rained_on": True}, "ndfd48"),
        ({"flooded": True}, "coliform"),
        ({"highest_temperature_c": 60.0}, "adicp"),
        ({"package": Package.BALEAGE}, "ph"),
        ({"forage": Forage.STRAW}, "ash"),
        ({"species": "sorghum-sudan", "frosted": True, "package": Package.BALEAGE}, "hcn"),
        # One vocabulary for the hazard and for its test: milo had the one and not the other.
        ({"species": "milo", "frosted": True, "package": Package.BALEAGE}, "hcn"),
        ({"species": "shattercane", "frosted": True, "forage": Forage.WARM_GRASS}, "hcn"),
    ],
)
def test_what_befell_the_hay_asks_for_its_test(change: dict[str, object], test: str) -> None:
    assert test not in names(LOT, Purpose.BEEF)
    found = wanted_tests(replace(LOT, **change), [Purpose.BEEF])  # type: ignore[arg-type]
    mine = [one for one in found if one.test == test]
    assert len(mine) == 1
    assert mine[0].reason
    assert mine[0].source


def test_who_eats_it_asks_for_its_tests() -> None:
    assert names(LOT) == names(LOT, Purpose.BEEF) == {"dm", "cp", "adf", "ndf", "tdn", "ca", "p"}
    assert {"wsc", "esc", "starch"} <= names(LOT, Purpose.HORSE)
    assert {"cu", "mo", "s"} <= names(LOT, Purpose.SHEEP, Purpose.BEEF)
    fescue = replace(LOT, species="tall fescue")
    assert "ergovaline" in names(fescue, Purpose.HORSE)
    assert "ergovaline" not in names(fescue, Purpose.BEEF)


@each_row("one", list(AnimalClass))
def test_every_class_has_its_purpose(one: AnimalClass) -> None:
    words = set(one.value.split("_"))
    if words & {"horse", "mare", "donkey", "mule"}:
        assert purpose_of(one.value) is Purpose.HORSE
    elif words & {"ewe", "ram", "lamb", "doe", "kid", "buck", "llama", "alpaca"}:
        assert purpose_of(one.value) is Purpose.SHEEP
    elif "dairy" in words:
        assert purpose_of(one.value) is Purpose.DAIRY
    else:
        assert purpose_of(one.value) is Purpose.BEEF


def test_horses_are_warned_of_what_no_test_finds() -> None:
    alfalfa = replace(LOT, forage=Forage.ALFALFA)
    assert "blister" in inspections(alfalfa, [Purpose.HORSE])[0]
    assert inspections(alfalfa, [Purpose.BEEF]) == ()
    assert "vaccinated" in inspections(replace(LOT, package=Package.BALEAGE))[0]


TESTS = ("cp", "adf", "ndf", "ca", "p", "cu", "nitrate", "ash")
PACKAGES = st.lists(
    st.builds(
        LabPackage,
        st.sampled_from(["North", "South"]),
        st.text("abcdef", min_size=1, max_size=4),
        st.integers(1, 40).map(float),
        st.lists(st.sampled_from(TESTS), min_size=1, max_size=5).map(" ".join),
        st.sampled_from(["", "NIR", "wet chemistry"]),
    ),
    max_size=9,
)
WANTED = st.lists(
    st.builds(Wanted, st.sampled_from(TESTS), st.just(""), st.just(""), st.booleans()),
    min_size=1,
    max_size=6,
    unique_by=lambda one: one.test,
)


def by_trying_all(packages: list[LabPackage], wanted: list[Wanted]) -> tuple[int, float] | None:
    best = None
    for lab in ("North", "South"):
        mine = [one for one in packages if one.lab == lab]
        for size in range(1, len(mine) + 1):
            for some in combinations(mine, size):
                left = sum(not any(holds(one, want) for one in some) for want in wanted)
                if left == len(wanted):
                    continue
                found = (left, sum(one.price_usd for one in some))
                best = found if best is None else min(best, found)
    return best


@given(PACKAGES, WANTED)
def test_the_order_is_the_cheapest_of_all(packages: list[LabPackage], wanted: list[Wanted]) -> None:
    order = cheapest_order(packages, wanted)
    tried = by_trying_all(packages, wanted)
    if order is None or tried is None:
        assert order is tried is None
        return
    assert (len(order.missing), order.price_usd) == pytest.approx(tried)
    assert {one.lab for one in order.packages} == {order.lab}
    for want in wanted:
        assert (want in order.missing) != any(holds(one, want) for one in order.packages)


def test_copper_by_nir_is_no_copper() -> None:
    sold = [
        LabPackage("County", "NIR all", 20.0, "cp cu", "NIR"),
        LabPackage("County", "Minerals", 18.0, "ca p cu", "wet chemistry"),
    ]
    sheep = [one for one in wanted_tests(LOT, [Purpose.SHEEP]) if one.test in ("cp", "cu")]
    order = cheapest_order(sold, sheep)
    assert order is not None
    assert order.price_usd == 38.0
    assert order.working_days is None


def test_a_big_price_list_is_searched_in_no_time() -> None:
    many = [
        LabPackage("Big", f"{k}", 5.0 + k % 7, " ".join(TESTS[(k + j) % 8] for j in range(3)))
        for k in range(60)
    ]
    wanted = [Wanted(test, "", "") for test in TESTS]
    order = cheapest_order(many, wanted)
    assert order is not None
    assert order.missing == ()


def test_spreads_are_those_of_their_sources() -> None:
    assert spread_of("dm", outside=True).observed == 3.0
    # Meyer: about twice as much between laboratories as within one.
    for name, within in (("cp", 0.5), ("ndf", 1.0), ("adf", 0.8)):
        assert spread_of(name).one_lab == within
        assert math.hypot(within, spread_of(name).bias) == pytest.approx(2.0 * within)
    assert spread_of("ca", 0.5).observed == pytest.approx(0.06)
    with pytest.raises(OutOfRange, match="value"):
        spread_of("ca")
    with pytest.raises(OutOfRange, match="known"):
        spread_of("lignin")


def test_a_reason_reads_as_the_rest_of_a_sentence() -> None:
    """It stands after "because" on the page."""
    hay = replace(LOT, drought=True, frosted=True)
    reasons = {one.test: one.reason for one in wanted_tests(hay, [Purpose.BEEF])}
    assert reasons["nitrate"] == (
        "nitrate may be high after drought and after a frost; have it tested before it is fed"
    )


def test_what_befell_hay_in_storage_asks_for_its_tests() -> None:
    """Bound protein after heat, fiber and ash after rain."""
    usual = names(LOT, Purpose.BEEF)
    heated = {one.test for one in wanted_tests(LOT, [Purpose.BEEF], heated=True)}
    wetted = {one.test for one in wanted_tests(LOT, [Purpose.BEEF], wetted=True)}
    assert heated - usual == {"adicp", "mold"}
    assert wetted - usual == {"ndfd48", "ash"}
