"""Inputs of the equations of hay are taken up to the limits that are said and refused beyond."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from datetime import date
from typing import Any

import numpy as np
import pytest

from rickyard.farm import AnimalClass, Feeder, Forage, Lot, Package, Storage
from rickyard.hay.bales.bales import bale_weight_kg, book_density_as_fed_kg_m3, round_volume_m3
from rickyard.hay.bales.delivery import bales_this_feeding
from rickyard.hay.bales.weathering import bottom_segment_pct, weathered_ends_pct, weathered_pct
from rickyard.hay.common.limits import require_between, require_not_negative, require_positive
from rickyard.hay.feeding import caps, need
from rickyard.hay.feeding.feeding import FEEDERS, feeding_loss_pct
from rickyard.hay.feeding.hand_rations import pearson_square, supplied, two_feeds_two_nutrients
from rickyard.hay.feeding.planning_loss import package_of_bales, planned_loss
from rickyard.hay.feeding.supply import bales_rounded_up, inventory
from rickyard.hay.money.investment import breakeven_price, capital_recovery
from rickyard.hay.precision.farm_variance import (
    bales_to_find_hot,
    chance_of_hot_bale,
    core_sd_from_pairs,
    spread_of,
)
from rickyard.hay.precision.precision import (
    composite_se,
    samples_for_relative_error,
    samples_required,
    sampling_half_width,
)
from rickyard.hay.precision.quantiles import normal_quantile, t_probability, t_quantile, two_sided_z
from rickyard.hay.precision.testing import value_of_test
from rickyard.hay.sampling import cores, lots
from rickyard.hay.sampling.bale_selection import choose_bales
from rickyard.hay.sampling.protocols import protocol
from rickyard.hay.storage.baleage import baleage_cautions
from rickyard.hay.storage.siting import site_advice
from rickyard.quantities import KG_M3_PER_LB_FT3, KG_PER_SHORT_TON, M_PER_FT, M_PER_IN, OutOfRange
from support.rows import each_row

LB_FT3, TON = KG_M3_PER_LB_FT3, KG_PER_SHORT_TON

#: What is asked with an input, and the least and most of it that is taken.
TAKEN: dict[str, tuple[Callable[[Any], object], float | None, float | None]] = {
    "round bale, diameter": (lambda x: round_volume_m3(x, 1.5), 3.0 * M_PER_FT, 6.5 * M_PER_FT),
    "round bale, width": (lambda x: round_volume_m3(1.5, x), 3.0 * M_PER_FT, 6.5 * M_PER_FT),
    "wet bale": (lambda x: bale_weight_kg(1.0, x), None, 45.0 * LB_FT3),
    "moisture": (lambda x: book_density_as_fed_kg_m3(Package.ROUND, x), 0.0, None),
    "depth of wet hay": (lambda x: bottom_segment_pct(x, 1.5), 0.0, 1.5),
    "layer": (lambda x: weathered_ends_pct(x, 1.5, 1), 0.0, None),
    "urea on a tag": (caps.urea_pct_from_tag, 0.0, 281.0),
    "gossypol": (caps.whole_seed_gossypol_pct, 0.0, 100.0),
    "sulfur of a diet": (lambda x: caps.most_feed_for_sulfur_pct(x, 0.9), 0.0, 0.4),
    "nutrient fraction": (
        lambda x: two_feeds_two_nutrients((x, 0.0), (0.0, 0.5), (0.0, 1.0)),
        None,
        1.0,
    ),
    "nutrient": (lambda x: supplied(1.0, x), 0.0, 100.0),
    "dry matter": (lambda x: need.as_fed_from_dm(1.0, x), 5.0, 98.0),
    "intake": (lambda x: need.herd_dm(1, 600.0, x, 1), 0.0, 6.0),
    "days of a delivery": (lambda x: feeding_loss_pct(next(iter(FEEDERS)), "cattle", x), 1.0, None),
    "interest": (lambda x: capital_recovery(1000.0, x, 10.0), 0.0, 100.0),
    "share of hot bales": (lambda x: chance_of_hot_bale(x, 3), 0.0, 1.0),
    "hot bales to find": (lambda x: bales_to_find_hot(x, 0.9), None, 1.0),
    "bales chosen": (lambda x: chance_of_hot_bale(0.1, x, 40), 1, 40),
    "cores in a composite": (lambda x: core_sd_from_pairs([0.5], [x], 0.25), 1, None),
    "samples": (lambda x: sampling_half_width(1.0, x, 0.9, 10), 2, 10),
    "cores of a lot": (lambda x: composite_se(0.8, 0.2, x, bales_in_lot=10.0), 1, 10),
    "what could be sampled": (lambda x: samples_required(1.0, 1.0, 0.9, x), 1, None),
    "bales to spread cores on": (cores.cores_per_bale, 1.0, None),
    "cores to spread": (lambda x: cores.cores_per_bale(8.0, x), 1.0, None),
    "bales with patches": (cores.cores_for_patches, 1.0, None),
    "probe tip": (lambda x: cores.core_mass_g(x, 0.4, 180.0), 0.3 * M_PER_IN, 1.3 * M_PER_IN),
    "core depth": (lambda x: cores.core_mass_g(0.015, x, 180.0), 6.0 * M_PER_IN, 30.0 * M_PER_IN),
    "density": (lambda x: cores.core_mass_g(0.015, 0.4, x), 6.0 * LB_FT3, 45.0 * LB_FT3),
    "weathered skin": (lambda x: cores.core_depth_m(1.5, x), 0.0, None),
    "harvest year": (lambda x: lots.lot_code(x, "Hill", 1), 1000, 9999),
    "cutting": (lambda x: lots.lot_code(2026, "Hill", x), 0, 99),
    "sample": (lambda x: lots.sample_code("A", x), 1, None),
    "bales to choose": (lambda x: choose_bales(9, x, seed=1), 1, None),
    "bales to choose from": (lambda x: choose_bales(x, 1, seed=1), 1, None),
    "bales of a protocol": (lambda x: protocol("", "", 12, x, spread_of("cp")), 1, None),
}


@each_row("name", TAKEN)
def test_an_input_is_taken_up_to_its_limits_and_not_beyond(name: str) -> None:
    """The limits are common practice where no file says otherwise."""
    call, least, most = TAKEN[name]
    for limit, away in ((least, -1), (most, 1)):
        if limit is None:
            continue
        call(limit)
        # Bales, years and cuttings are counted: the next is one away.
        step = 1 if isinstance(limit, int) else 1e-4 * max(1.0, limit)
        with pytest.raises((OutOfRange, TypeError)):
            call(limit + away * step)


def test_a_limit_met_but_for_rounding_is_met_and_the_first_value_beyond_is_named() -> None:
    for rounding in (-1e-9, 1e-9):
        require_between("share", rounding, 0.0, 0.0)
        require_between("share", 9.0 * (1.0 + rounding), 9.0, 9.0)
        with pytest.raises(OutOfRange):
            require_between("share", 1.05 * rounding, 0.0, 0.0)
        assert bottom_segment_pct(1.5 * (1.0 + max(0.0, rounding / 4.0)), 1.5) == pytest.approx(
            100.0
        )
    with pytest.raises(OutOfRange, match="moisture 150 "):
        require_between("moisture", np.array([12.0, 150.0, 13.0, 160.0]), 0.0, 100.0)
    for refuse in (require_positive, require_not_negative):
        with pytest.raises(OutOfRange):
            refuse("weight", math.inf)
    require_not_negative("weight", 0.0)


#: What is answered, and the answer; each line on one side of an edge or at it.
ANSWERED: Sequence[tuple[Callable[[], object], object]] = (
    # Half bales round up (common practice), and a hair above a whole bale is no bale more.
    (lambda: bales_this_feeding(1499.0, 1000.0, 0.0), 1.0),
    (lambda: bales_this_feeding(1500.0, 1000.0, 0.0), 2.0),
    (lambda: bales_this_feeding(1450.0, 1000.0, 0.0), 1.0),
    (lambda: bales_rounded_up(1200.0, 0.1), 12000.0),
    (lambda: inventory(200.0, 1000.0), 200_000.0),
    (lambda: need.group_dm(10.0, 12.0, 30.0), 3600.0),
    (lambda: need.herd_dm(10.0, 600.0, 2.0, 30.0), 3600.0),
    (lambda: caps.SULFUR_MOST_PCT, 0.4),
    (lambda: caps.most_feed_for_sulfur_pct(0.4, 0.9), 0.0),
    (lambda: caps.most_feed_for_sulfur_pct(0.35, 0.9), 100.0 * 0.05 / 0.55),
    (lambda: caps.most_feed_for_sulfur_pct(0.2, 0.4), 100.0),
    (lambda: caps.mean_less_margin(8.0, 0.8), 7.6),
    (lambda: weathered_pct(0.1, 1.0), 36.0),
    (lambda: weathered_ends_pct(0.1, 1.0, 0), 0.0),
    (lambda: weathered_ends_pct(0.1, 1.0, 1), 10.0),
    # Small squares up to 50 kg are fed by hand: common practice.
    (lambda: package_of_bales(50.0), Package.SMALL_SQUARE),
    (lambda: package_of_bales(50.1), Package.ROUND),
    # An annuity without interest is plain depreciation; two years at 100 % are 4/3 each.
    (lambda: capital_recovery(1000.0, 0.0, 10.0), 100.0),
    (lambda: capital_recovery(900.0, 100.0, 2.0), 1200.0),
    (lambda: chance_of_hot_bale(0.5, 6, 10), 1.0),
    (lambda: chance_of_hot_bale(0.5, 5, 10), 1.0 - 1.0 / 252.0),
    (lambda: bales_to_find_hot(1.0, 0.9), 1),
    (lambda: bales_to_find_hot(1.0, 0.9, 1), 1),
    (lambda: bales_to_find_hot(0.1, 0.9, 10), 9),
    (lambda: bales_to_find_hot(0.5, 0.75), 2),
    (lambda: core_sd_from_pairs([0.1], 10, 0.25), 0.0),
    (lambda: samples_required(0.1, 10.0, 0.9), 2),
    (lambda: samples_required(0.1, 10.0, 0.9, 1), 1),
    (lambda: samples_for_relative_error([10.0, 12.0], 0.2, 0.9), 4),
    (lambda: sampling_half_width(1.0, 10, 0.9, 10), 0.0),
    (lambda: cores.cores_per_bale(20.0), 1),
    (lambda: cores.cores_per_bale(19.9), 2),
    (lambda: cores.cores_for_patches(100.0), 20),
    (lambda: cores.cores_for_patches(105.0), 21),
    (lambda: cores.sample_remark(100.0), None),
    (lambda: cores.sample_remark(450.0), None),
    # One composite for each 200 tons begun.
    (lambda: lots.composites_for(0.0), 1),
    (lambda: lots.composites_for(200.0 * TON), 1),
    (lambda: lots.composites_for(200.1 * TON), 2),
    (lambda: choose_bales(10, 4, seed=1, unreachable=[1, 2]).remark, None),
    (lambda: choose_bales(10, 9, seed=1, unreachable=[1, 2]).coverage, 0.8),
    (lambda: lots.lot_code(2026, "Hill", None), "2026-HILL-C0-L01"),
    (lambda: lots.field_code("North bottom of hill"), "NBOH"),
    (lambda: lots.field_code("A B C D East"), "ABCE"),
)


@each_row("place", range(len(ANSWERED)))
def test_what_is_answered_at_an_edge(place: int) -> None:
    asked, wanted = ANSWERED[place]
    assert asked() == (pytest.approx(wanted, abs=1e-9) if isinstance(wanted, float) else wanted)


def test_what_no_mixture_or_storage_reaches_is_refused() -> None:
    for target in (10.0, 32.0):
        with pytest.raises(OutOfRange, match="between"):
            pearson_square(target, 10.0, 32.0)
    assert two_feeds_two_nutrients((0.1, 0.2), (0.1, 0.2 + 1e-6), (0.1, 0.2)) == (
        pytest.approx((1.0, 0.0), abs=1e-6)
    )
    with pytest.raises(OutOfRange, match="proportion"):
        two_feeds_two_nutrients((0.1, 0.2), (0.3, 0.6), (0.1, 0.2))
    with pytest.raises(OutOfRange, match="saves"):
        breakeven_price(1.0, 20.0, 20.0)
    assert breakeven_price(1.0, 20.0, 19.95) == pytest.approx(2000.0)
    with pytest.raises(OutOfRange, match="over the sulfur"):
        caps.most_feed_for_sulfur_pct(0.41, 0.9)
    with pytest.raises(OutOfRange, match="two values"):
        samples_for_relative_error([10.0], 0.1, 0.9)
    with pytest.raises(OutOfRange, match="ends"):
        weathered_ends_pct(0.1, 1.0, 3)


def test_a_chance_lies_between_none_and_sure() -> None:
    for asked in (normal_quantile, lambda p: t_quantile(p, 3)):
        for sure in (0.0, 1.0):
            with pytest.raises(OutOfRange):
                asked(sure)
        assert asked(0.95) == pytest.approx(-asked(0.05))
    for confidence in (0.5, 0.999):
        with pytest.raises(OutOfRange):
            two_sided_z(confidence)
    with pytest.raises(OutOfRange):
        t_probability(1.0, 0)
    # Of one degree of freedom, Cauchy's distribution.
    assert t_probability(1.0, 1) == pytest.approx(0.75)


def test_a_test_of_what_is_known_saves_nothing_and_small_spreads_count_like_large() -> None:
    assert value_of_test(0.0, 0.0, 1.0, 1.0).loss_tested == 0.0
    small, large = value_of_test(0.04, 0.03, 1.0, 4.0), value_of_test(4.0, 3.0, 1.0, 4.0)
    assert 100.0 * small.saved == pytest.approx(large.saved)


@each_row(
    ("moisture", "months", "levels"),
    [
        (65.1, 0.0, ["danger"]),
        (65.0, 0.0, ["note"]),
        (60.1, 0.0, ["note"]),
        (60.0, 9.0, []),
        (45.0, 9.1, ["note"]),
        (44.9, 0.0, ["note"]),
        (40.0, 0.0, ["note"]),
        (39.9, 0.0, ["warning"]),
        (50.0, 12.0, ["note"]),
        (50.0, 12.1, ["warning"]),
    ],
)
def test_baleage_is_cautioned_of_by_its_moisture_and_age(
    moisture: float, months: float, levels: list[str]
) -> None:
    """Georgia, Kentucky, Ohio State and Undersander; twelve months common practice."""
    found = baleage_cautions("A", moisture, months)
    assert [one.level for one in found] == levels
    off = [one.sentence for one in found if "off target" in one.sentence]
    assert all("50% is best" in one for one in off)


@pytest.mark.parametrize("moisture", [0.0, 100.0])
def test_baleage_is_neither_dry_nor_water(moisture: float) -> None:
    with pytest.raises(OutOfRange):
        baleage_cautions("A", moisture)


def test_hay_is_too_wet_to_tarp_above_18_percent() -> None:
    """University of Kentucky, alfalfa conference 2002."""
    said = [
        [
            one
            for one in site_advice(Storage.COVERED_GROUND, Package.ROUND, wet)
            if "tarp:" in one.sentence
        ]
        for wet in (18.0, 18.1)
    ]
    assert [len(one) for one in said] == [0, 1]


@pytest.mark.parametrize(
    ("tons", "level"), [(100.0, []), (100.1, ["note"]), (200.0, ["note"]), (200.1, ["warning"])]
)
def test_a_lot_is_large_above_100_tons_and_too_large_above_200(
    tons: float, level: list[str]
) -> None:
    lot = Lot(
        *("A", "Hill", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN, 60.0),
        *(date(2026, 6, 1), date(2026, 6, 1)),
    )
    said = lots.lot_size_cautions(lot, tons * TON)
    assert [one.level for one in said] == level


def test_hay_from_outside_is_picked_over_more_by_five_points() -> None:
    """Judgement: weathered hay is refused more."""
    for feeder in (Feeder.OPEN_RING, Feeder.BUNK):
        inside, outside = (
            planned_loss(AnimalClass.COW, feeder, Package.ROUND, storage).pct
            for storage in (Storage.ENCLOSED_BARN, Storage.EXPOSED_GROUND)
        )
        assert inside == planned_loss(AnimalClass.COW, feeder, Package.ROUND).pct
        assert outside == inside + 5.0
