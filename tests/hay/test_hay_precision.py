"""Sampling theory: printed quantiles, derived tables, and lots simulated by the thousand."""

import math
from datetime import date

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rickyard.analysis_error import UNEVEN_LOT_FACTOR
from rickyard.farm import Analyte, Basis, Forage, Lot, Package, Report, Storage
from rickyard.forage.uncertainty import uncertainty
from rickyard.forage.uncertainty.uncertainty import Labs
from rickyard.hay.precision import (
    farm_variance as own_spread,
)
from rickyard.hay.precision import (
    precision,
    quantiles,
    testing,
)
from rickyard.hay.precision.farm_variance import spread_of
from rickyard.hay.sampling import protocols
from rickyard.hay.sampling.sampling_plan import lot_spread
from rickyard.quantities import OutOfRange
from support.rows import each_row

SD = st.floats(0.0, 50.0)

# Two-sided 95 % and 90 % points of Student's t as every printed table has them.
PRINTED_T = {
    (0.975, 1): 12.706,
    (0.975, 2): 4.303,
    (0.975, 4): 2.776,
    (0.975, 9): 2.262,
    (0.975, 10): 2.228,
    (0.975, 19): 2.093,
    (0.975, 30): 2.042,
    (0.95, 4): 2.132,
    (0.95, 9): 1.833,
    (0.90, 9): 1.383,
    (0.9995, 1): 636.619,
    (0.995, 120): 2.617,
}


@each_row(("where", "printed"), PRINTED_T.items())
def test_quantiles_of_t_are_the_printed_ones(where: tuple[float, int], printed: float) -> None:
    assert quantiles.t_quantile(*where) == pytest.approx(printed, abs=5e-4)


@given(st.floats(0.001, 0.999), st.integers(1, 400))
def test_a_quantile_of_t_is_the_inverse_of_the_probability(p: float, df: int) -> None:
    assert quantiles.t_probability(quantiles.t_quantile(p, df), df) == pytest.approx(p, abs=1e-9)


# Derived: SD, E, then 80, 90, 95 %, and 95 % for lots of 20, 50 and 100.
SAMPLE_SIZES = [
    (0.8, 0.25, (19, 30, 42), (15, 24, 30)),
    (0.8, 0.50, (6, 9, 13), (9, 11, 12)),
    (0.8, 1.00, (3, 4, 5), (5, 5, 5)),
    (2.0, 0.5, (28, 46, 64), (16, 29, 40)),
    (2.0, 1.0, (9, 13, 18), (11, 14, 16)),
    (2.0, 2.0, (4, 5, 7), (6, 6, 7)),
]


@each_row(("sd", "error", "endless", "finite"), SAMPLE_SIZES)
def test_sample_sizes_are_those_of_the_table(
    sd: float, error: float, endless: tuple[int, ...], finite: tuple[int, ...]
) -> None:
    found = tuple(precision.samples_required(sd, error, c) for c in (0.80, 0.90, 0.95))
    assert found == endless
    lots = tuple(precision.samples_required(sd, error, 0.95, n) for n in (20, 50, 100))
    assert lots == finite


@each_row(
    ("cv", "confidence", "lot", "bales"),
    [(8, 0.95, None, 13), (8, 0.90, None, 9), (8, 0.95, 60, 11), (5, 0.95, None, 7),
     (10, 0.95, None, 18), (15, 0.95, None, 38)],
)  # fmt: skip
def test_bales_to_weigh_are_those_of_section_4_4(
    cv: float, confidence: float, lot: int | None, bales: int
) -> None:
    assert precision.samples_required(cv, 5.0, confidence, lot) == bales


# Derived: cores, then CP SE, CP +- same lab, CP +- absolute, NDF +- same, absolute.
COMPOSITES = [
    (1, 0.80, 1.57, 1.78, 3.92, 4.67),
    (5, 0.42, 0.83, 1.18, 2.19, 3.36),
    (10, 0.35, 0.68, 1.09, 1.87, 3.16),
    (12, 0.33, 0.65, 1.07, 1.81, 3.12),
    (20, 0.30, 0.59, 1.04, 1.68, 3.05),
    (30, 0.29, 0.56, 1.02, 1.61, 3.01),
]


@each_row(("n", "se", "same", "absolute", "ndf", "ndf_absolute"), COMPOSITES)
def test_errors_of_composites_are_those_of_the_table(
    n: int, se: float, same: float, absolute: float, ndf: float, ndf_absolute: float
) -> None:
    cp = precision.composite_se(0.8, 0.25, n)
    assert cp == pytest.approx(se, abs=0.006)
    assert 1.96 * cp == pytest.approx(same, abs=0.011)
    bias = math.sqrt(3) * 0.25
    assert 1.96 * precision.composite_se(0.8, 0.25, n, lab_bias_sd=bias) == pytest.approx(
        absolute, abs=0.006
    )
    assert 1.96 * precision.composite_se(2.0, 0.75, n) == pytest.approx(ndf, abs=0.006)
    fiber = precision.composite_se(2.0, 0.75, n, lab_bias_sd=math.sqrt(3) * 0.75)
    assert 1.96 * fiber == pytest.approx(ndf_absolute, abs=0.006)


@pytest.mark.parametrize(
    ("n", "bias", "cp", "adf", "ndf"),
    [(20, 0.0, 0.84, 1.64, 2.38), (20, 3.0, 1.46, 2.91, 4.31), (5, 0.0, 1.17, 2.23, 3.10)],
)
def test_differences_that_matter_are_those_of_the_table(
    n: int, bias: float, cp: float, adf: float, ndf: float
) -> None:
    for observed, repeat, printed in ((0.8, 0.25, cp), (1.5, 0.5, adf), (2.0, 0.75, ndf)):
        se = precision.composite_se(observed, repeat, n, lab_bias_sd=math.sqrt(bias) * repeat)
        assert precision.critical_difference(se**2, se**2, 1.96) == pytest.approx(
            printed, abs=0.011
        )


LOTS = 10_000
CONFIDENCE, ALLOWED = 0.90, 0.015
BALE, WITHIN, REPEAT, BIAS = 0.6, 0.5, 0.25, 0.43


@each_row(
    ("cored", "in_lot", "cores_a_bale"),
    [(1, None, 1), (5, None, 1), (10, None, 1), (20, None, 1), (10, None, 2),
     (1, 30, 1), (5, 12, 1), (10, 12, 2), (10, 25, 1), (20, 20, 1), (20, 40, 1), (8, 8, 3)],
)  # fmt: skip
@each_row("other_lab", [False, True])
def test_stated_intervals_cover_the_truth_as_often_as_they_say(
    cored: int, in_lot: int | None, cores_a_bale: int, other_lab: bool
) -> None:
    """10,000 lots: draw the lot, its bales, cores and the laboratory, and count the hits."""
    rng = np.random.default_rng([cored, in_lot or 0, cores_a_bale, other_lab])
    truth = 10.0 + rng.normal(0.0, 2.0, LOTS)
    if in_lot is None:
        bales = truth[:, None] + rng.normal(0.0, BALE, (LOTS, cored))
    else:
        standing = truth[:, None] + rng.normal(0.0, BALE, (LOTS, in_lot))
        truth = standing.mean(axis=1)  # the lot is its bales, and no more
        bales = rng.permuted(standing, axis=1)[:, :cored]
    cores = bales[:, :, None] + rng.normal(0.0, WITHIN, (LOTS, cored, cores_a_bale))
    bias = rng.normal(0.0, BIAS, LOTS)
    result = cores.mean(axis=(1, 2)) + bias + rng.normal(0.0, REPEAT, LOTS)
    variance = precision.composite_variance(
        BALE, WITHIN, REPEAT, cored, cores_a_bale=cores_a_bale, bales_in_lot=in_lot,
        lab_bias_sd=BIAS if other_lab else 0.0,
    )  # fmt: skip
    aim = truth if other_lab else truth + bias
    reach = quantiles.two_sided_z(CONFIDENCE) * math.sqrt(variance)
    covered = float(np.mean(np.abs(result - aim) <= reach))
    assert abs(covered - CONFIDENCE) <= ALLOWED


def test_an_interval_that_forgets_the_laboratory_does_not_cover() -> None:
    """The simulation can fail: the bias left out, nine in ten is not reached."""
    rng = np.random.default_rng(1)
    error = rng.normal(0.0, math.hypot(BALE / math.sqrt(20), BIAS), LOTS)
    reach = 1.645 * math.sqrt(precision.composite_variance(BALE, 0.0, 0.0, 20))
    assert np.mean(np.abs(error) <= reach) < CONFIDENCE - 10 * ALLOWED


def test_an_interval_of_samples_alone_covers_with_few_of_them() -> None:
    """The t interval of n samples of one lot, finite lots included."""
    rng = np.random.default_rng(7)
    for samples, in_lot in ((3, 1000), (5, 12), (10, 20)):
        lots = rng.normal(0.0, 1.0, (LOTS, in_lot))
        drawn = rng.permuted(lots, axis=1)[:, :samples]
        scale = precision.sampling_half_width(1.0, samples, 0.90, in_lot)
        hit = np.abs(drawn.mean(axis=1) - lots.mean(axis=1)) <= scale * drawn.std(axis=1, ddof=1)
        assert abs(float(hit.mean()) - 0.90) <= ALLOWED


@given(SD, SD, SD, st.integers(1, 60), st.integers(1, 4))
def test_more_work_never_makes_a_result_worse(
    bale: float, within: float, repeat: float, n: int, m: int
) -> None:
    here = precision.composite_variance(bale, within, repeat, n, cores_a_bale=m)
    assert precision.composite_variance(bale, within, repeat, n + 1, cores_a_bale=m) <= here
    assert precision.composite_variance(bale, within, repeat, n, cores_a_bale=m + 1) <= here
    finite = precision.composite_variance(bale, within, repeat, n, bales_in_lot=n)
    assert finite == pytest.approx(within**2 / n + repeat**2)


def test_arrays_go_through() -> None:
    many = precision.composite_se(np.array([0.8, 2.0]), np.array([0.25, 0.75]), 20)
    assert many == pytest.approx([0.3023, 0.8570], abs=1e-3)


@pytest.mark.parametrize("confidence", [0.5, 0.999, 95.0, 0.0])
def test_a_confidence_that_no_sample_gives_is_refused(confidence: float) -> None:
    with pytest.raises(OutOfRange, match="confidence"):
        precision.samples_required(1.0, 1.0, confidence)


def test_the_jumping_iteration_is_not_what_is_done() -> None:
    """(t s / E)^2 put into itself returned 7, 26, 4 here; the right answers are 3, 4, 5."""
    assert [precision.samples_required(0.8, 1.0, c) for c in (0.80, 0.90, 0.95)] == [3, 4, 5]


def test_a_farms_pairs_give_back_the_spread_they_came_from() -> None:
    rng = np.random.default_rng(3)
    pairs = rng.normal(0.0, 0.9 / math.sqrt(10), (40_000, 2)) + rng.normal(0, 0.25, (40_000, 2))
    found = own_spread.core_sd_from_pairs((pairs[:, 0] - pairs[:, 1]).tolist(), 10, 0.25)
    assert found == pytest.approx(0.9, rel=0.02)
    assert own_spread.core_sd_from_pairs([0.01, -0.02], 10, 0.25) == 0.0


def report(number: int, lot: str, cp: float, cores: int | None = 10) -> Report:
    value = Analyte("cp", cp, "pct", Basis.DRY_MATTER)
    return Report(f"R{number}", lot, (value,), sampled_on=date(2026, 9, 1), cores=cores)


def test_a_farms_own_pairs_go_before_the_default() -> None:
    lot = Lot(
        "A", "Hill", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN, 40.0,
        date(2026, 6, 1), date(2026, 6, 1),
    )  # fmt: skip
    pairs = [report(2 * k + side, f"L{k}", 10.0 + 0.5 * side) for k in range(6) for side in (0, 1)]
    own = lot_spread(lot, pairs)
    assert own.observed == pytest.approx(math.hypot(0.79, 0.25), abs=0.005)
    assert "6 pairs" in own.source
    few = lot_spread(lot, pairs[:10])
    assert (few.observed, "pairs" in few.source) == (0.8, False)
    # Neither a third composite nor one without its cores makes a pair.
    odd = [report(1, "A", 9.0), report(2, "A", 9.5), report(3, "A", 9.9)]
    assert own_spread.pairs_of(odd, "cp").differences == ()
    assert own_spread.pairs_of([report(1, "A", 9.0, None)] * 2, "cp").differences == ()


def test_pairs_of_different_sizes_count_each_by_its_cores() -> None:
    assert own_spread.core_sd_from_pairs([0.5, 1.0], [20, 5], 0.0) == pytest.approx(math.sqrt(2.5))
    with pytest.raises(OutOfRange, match="pairs"):
        own_spread.core_sd_from_pairs([0.5], [20, 5], 0.0)


def test_a_wish_beyond_all_reason_is_answered_at_once() -> None:
    with pytest.raises(OutOfRange, match="more than"):
        precision.samples_required(1.0, 1e-6, 0.95)
    assert precision.samples_required(1.0, 1e-6, 0.95, 9_000) == 9_000
    assert precision.samples_required(1.0, 0.03, 0.95) == 4_271


@given(st.floats(0.02, 0.9), st.integers(10, 200))
def test_the_count_of_bales_finds_a_hot_one_and_one_fewer_does_not(share: float, lot: int) -> None:
    bales = own_spread.bales_to_find_hot(share, 0.95, lot)
    assert own_spread.chance_of_hot_bale(share, bales, lot) >= 0.95
    if bales > 1:
        assert own_spread.chance_of_hot_bale(share, bales - 1, lot) < 0.95


@given(st.floats(0.01, 10.0), st.floats(0.0, 10.0), st.floats(0.1, 9.0), st.floats(0.1, 9.0))
def test_a_test_never_costs_knowledge(
    prior: float, error: float, over: float, under: float
) -> None:
    value = testing.value_of_test(prior, error, over, under)
    assert -1e-12 <= value.saved <= value.loss_untested + 1e-12
    exact = testing.value_of_test(prior, 0.0, over, under)
    assert exact.saved == pytest.approx(exact.loss_untested)


def test_a_fifth_of_a_huge_lot_is_shared_among_its_samples() -> None:
    """Kansas State: a fifth of the bales; 800 cores of 4,000 bales are no one sample."""
    (whole, *_) = protocols.protocols_for(4000, spread_of("cp"), patchy=True)
    (shared, *_) = protocols.protocols_for(4000, spread_of("cp"), patchy=True, composites=14)
    (least, *_) = protocols.protocols_for(60, spread_of("cp"), patchy=True, composites=2)
    assert (whole.cores, shared.cores, least.cores) == (800, 58, 20)


@each_row("name", ["cp", "adf", "ndf", "tdn"])
@each_row("uneven", [False, True])
@each_row("cores", [5, 12, 20])
def test_a_test_is_planned_with_the_error_that_it_is_read_with(
    name: str, uneven: bool, cores: int
) -> None:
    way = protocols.protocol("", "", cores, 1_000_000, spread_of(name, uneven=uneven))
    factor = UNEVEN_LOT_FACTOR if uneven else 1.0
    for planned, labs in ((way.same_lab, Labs.ONE), (way.any_lab, Labs.ANY)):
        read = uncertainty.Z_90 * uncertainty.analyte_sd(
            name, 50.0, cores, labs=labs, factor=factor
        )
        assert planned == pytest.approx(read, rel=1e-4)


def test_protein_of_twenty_cores_is_known_within_1_7() -> None:
    """1.645 sqrt(0.5775/20 + 1.0^2)."""
    way = protocols.protocol("", "", 20, 1_000_000, spread_of("cp"))
    assert way.any_lab == pytest.approx(1.67, abs=0.005)
