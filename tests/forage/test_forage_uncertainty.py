"""Errors of analyses and of what is computed from them."""

import inspect
from importlib import import_module
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rickyard.analysis_error import ERROR_SIZES, UNEVEN_LOT_FACTOR
from rickyard.forage.energy.derived import DERIVED
from rickyard.forage.uncertainty.derived_error import (
    _normal_strata,
    _slope,
    by_draws,
    by_slopes,
    first_order_sd,
    measured_derived,
    rfv_sd_independent,
)
from rickyard.forage.uncertainty.uncertainty import (
    BETWEEN_LABS,
    Z_90,
    Labs,
    Measured,
    analyte_sd,
    lab_sd,
    sampling_sd,
)
from rickyard.quantities import OutOfRange
from support.rows import each_row

#: An ordinary hay of cool-season grass with some legume. [% DM; NDFD % of NDF]
VALUES = {
    "cp": 13.0,
    "adf": 36.0,
    "ndf": 57.0,
    "lignin": 5.8,
    "ash": 8.0,
    "ee": 2.4,
    "ndicp": 3.4,
    "adicp": 1.0,
    "ndfd48": 52.0,
    "starch": 1.8,
    "wsc": 9.9,
    "ca": 0.55,
    "p": 0.25,
    "tdn": 58.0,
    "mg": 0.2,
    "k": 2.0,
    "na": 0.05,
    "cl": 0.5,
    "s": 0.2,
    "tfa": 1.5,
}
MEASURED = {
    name: Measured.normal(value, float(analyte_sd(name, value, 20)), "", "")
    for name, value in VALUES.items()
}
SMOOTH = [name for name, one in DERIVED.items() if one.smooth]


@pytest.mark.parametrize(
    ("cores", "cp", "ndf"),
    # Derived, standard error and 95 % half width in one laboratory, which
    # takes 0.25 and 0.75 for the repeat.
    [(1, 0.80, 3.92), (5, 0.42, 2.19), (10, 0.35, 1.87), (20, 0.30, 1.68), (30, 0.29, 1.61)],
)
def test_a_composite_has_the_printed_error(cores: int, cp: float, ndf: float) -> None:
    cp_size, ndf_size = ERROR_SIZES["cp"], ERROR_SIZES["ndf"]
    assert np.hypot(sampling_sd("cp", 12.0, cores), cp_size.repeat) == pytest.approx(cp, abs=0.006)
    whole = 1.96 * np.hypot(sampling_sd("ndf", 60.0, cores), ndf_size.repeat)
    assert whole == pytest.approx(ndf, abs=0.012)


def test_absolute_error_of_protein_as_printed() -> None:
    """Derived: 20 cores, total laboratory SD 0.5: 0.528, +-1.04."""
    assert analyte_sd("cp", 12.0, 20, labs=Labs.ONE) == pytest.approx(0.528, abs=0.0005)


def test_coring_every_bale_leaves_the_laboratory_alone() -> None:
    assert sampling_sd("cp", 12.0, 20, bales=20) == 0.0
    assert analyte_sd("cp", 12.0, 20, bales=20) == lab_sd("cp", 12.0)


def test_no_core_is_no_sample() -> None:
    with pytest.raises(OutOfRange):
        sampling_sd("cp", 12.0, 0)


@given(
    name=st.sampled_from(sorted(ERROR_SIZES)),
    value=st.floats(0.01, 90.0),
    cores=st.integers(1, 60),
    labs=st.sampled_from(Labs),
)
def test_error_falls_with_cores_and_never_below_the_laboratory(
    name: str, value: float, cores: int, labs: Labs
) -> None:
    here, more = (analyte_sd(name, value, n, labs=labs) for n in (cores, cores + 1))
    assert here >= more >= lab_sd(name, value, labs)
    assert analyte_sd(name, value, cores, labs=Labs.ANY) >= analyte_sd(
        name, value, cores, labs=Labs.ONE
    )
    assert analyte_sd(name, value, cores, labs=labs, factor=UNEVEN_LOT_FACTOR) >= here


@given(st.lists(st.floats(0.1, 80.0), min_size=1, max_size=5), st.integers(1, 40))
def test_arrays_equal_scalars(values: list[float], cores: int) -> None:
    for name in ("cp", "ca", "ash", "lignin"):
        together = analyte_sd(name, np.array(values), cores)
        assert isinstance(together, np.ndarray)
        assert together.tolist() == [analyte_sd(name, value, cores) for value in values]


def test_relative_feed_value_as_printed() -> None:
    """Slopes -1.81 and -3.81 at ADF 30, NDF 40; 5.6, and 6.7/1.96, by either spread."""
    assert rfv_sd_independent(30.0, 40.0, 1.0, 0.0) == pytest.approx(1.81, abs=0.005)
    assert rfv_sd_independent(30.0, 40.0, 0.0, 1.0) == pytest.approx(3.81, abs=0.005)
    assert rfv_sd_independent(30.0, 40.0, 1.0, 1.4) == pytest.approx(5.63, abs=0.01)
    one_lab = (1.16 / 1.96, 1.68 / 1.96)
    assert 1.96 * rfv_sd_independent(30.0, 40.0, *one_lab) == pytest.approx(6.7, abs=0.05)


def test_our_error_of_relative_feed_value_lies_within_the_laboratory_trial() -> None:
    """Severe & Young 2017: 13.6-13.9 between twelve labs, some of them not certified."""
    ours = rfv_sd_independent(33.0, 42.0, lab_sd("adf", 33.0), lab_sd("ndf", 42.0))
    assert 5.6 < ours < BETWEEN_LABS["pre-bloom alfalfa"]["RFV"]


@each_row("name", SMOOTH)
@each_row(("share", "sd_off", "ends_off"), [(1.0, 0.04, 0.2), (0.2, 0.02, 0.06)])
def test_slopes_and_draws_agree(name: str, share: float, sd_off: float, ends_off: float) -> None:
    """Ordinary errors bend a ratio a little; a fifth of them leaves it straight."""
    values = {
        key: Measured.normal(one.value, share * one.sd, "", "") for key, one in MEASURED.items()
    }
    one = DERIVED[name]
    slopes, draws = by_slopes(one, values), by_draws(one, values, draws=20_000)
    assert draws.value == slopes.value
    assert draws.sd == pytest.approx(slopes.sd, rel=sd_off)
    assert draws.low == pytest.approx(slopes.low, abs=ends_off * slopes.sd)
    assert draws.high == pytest.approx(slopes.high, abs=ends_off * slopes.sd)


@each_row("name", [name for name, one in DERIVED.items() if not one.smooth])
def test_draws_give_the_error_of_a_numeric_slope_where_the_equation_is_smooth(name: str) -> None:
    one = DERIVED[name]
    center = [VALUES[key] for key in one.inputs]
    slopes = []
    for place, value in enumerate(center):
        moved = list(center)
        moved[place] = value * 1.0001
        slopes.append(
            (float(one.equation(*moved)) - float(one.equation(*center))) / (0.0001 * value)
        )
    near = first_order_sd(slopes, [MEASURED[key].sd for key in one.inputs])
    assert by_draws(one, MEASURED, draws=20_000).sd == pytest.approx(near, rel=0.05)


def test_a_step_in_an_equation_is_seen_by_draws_alone() -> None:
    """The protein rule drops 7 % of the protein where 14 % of it is bound."""
    protein = {
        "cp": Measured.normal(18.0, 0.5, "", ""),
        "adicp": Measured.normal(2.4, 0.3, "", ""),
    }
    found = measured_derived(DERIVED["adjusted_cp"], protein)
    assert found.value == 18.0
    assert found.high - found.value < Z_90 * 0.5 + 0.05
    assert found.value - found.low > 1.5 * (found.high - found.value)


#: Functions that are no number of a report: conversions, steps of a longer way that is listed,
#: inverses, grain, or values of a whole diet.
NOT_OF_A_REPORT = {
    "nfc_g_per_kg",  # the same sum in other units
    "me_from_de",
    "paf_of",  # a setting
    "me_hales2019",  # listed from TDN
    "me_hales2022",
    "nem_from_me",
    "neg_from_me",
    "digestible_parts_nrc2001",
    "tdn_of_parts",
    "de_of_parts",
    "me_nrc2001",  # listed up to net energy
    "nel_nrc2001",
    "pct_to_meq_per_kg",
    "gross_energy_nasem2021",  # of a diet
}


def test_every_computed_number_of_a_report_carries_its_error() -> None:
    """A new index has to be added to the table, or to the list above with its reason."""
    covered = {getattr(one.equation, "__name__", key) for key, one in DERIVED.items()}
    for name in (
        "energy.indices",
        "energy.energy",
        "energy.tdn",
        "energy.summative",
        "energy.dairy_energy",
        "values.minerals",
        "values.protein",
        "energy.horse_energy",
    ):
        module = import_module(f"rickyard.forage.{name}")
        public = {
            key
            for key, value in vars(module).items()
            if inspect.isfunction(value) and value.__module__ == module.__name__ and key[0] != "_"
        }
        assert public - covered - NOT_OF_A_REPORT == set(), name


def test_the_same_report_always_reads_the_same() -> None:
    one = DERIVED["rfq_grass"]
    assert by_draws(one, MEASURED) == by_draws(one, MEASURED)


def test_what_has_no_slopes_refuses_them() -> None:
    with pytest.raises(OutOfRange, match="drawing"):
        by_slopes(DERIVED["rfq_grass"], MEASURED)


def test_everything_derived_is_finite_and_carries_its_reason() -> None:
    given_reason = {
        name: Measured.normal(one.value, one.sd, "", "20 cores") for name, one in MEASURED.items()
    }
    for one in DERIVED.values():
        found = measured_derived(one, given_reason)
        assert np.isfinite([found.value, found.sd, found.low, found.high]).all()
        assert found.low < found.value < found.high
        assert "20 cores" in found.reason


@pytest.mark.parametrize("sd", [-1.0, float("nan")])
def test_a_negative_error_is_refused(sd: float) -> None:
    with pytest.raises(OutOfRange):
        Measured.normal(1.0, sd, "", "")


@given(st.floats(1.0, 90.0), st.floats(0.01, 5.0), st.floats(-20.0, 120.0))
def test_chance_of_reaching_a_limit_falls_with_the_limit(
    value: float, sd: float, limit: float
) -> None:
    one = Measured.normal(value, sd, "", "")
    assert one.chance_at_least(limit) >= one.chance_at_least(limit + 1.0)
    assert one.chance_at_least(one.low) == pytest.approx(0.95)


def test_a_value_without_error_reaches_a_limit_or_not() -> None:
    exact = Measured.normal(12.0, 0.0, "", "")
    assert (exact.chance_at_least(12.0), exact.chance_at_least(12.1)) == (1.0, 0.0)


def test_errors_are_drawn_from_the_middle_of_equal_parts() -> None:
    """Of four draws each stands for a quarter: at 12.5, 37.5, 62.5 and 87.5 percent."""
    parts = _normal_strata(4)
    assert parts == pytest.approx([-1.15035, -0.31864, 0.31864, 1.15035], abs=1e-5)


def test_a_slope_is_the_rise_for_one_more_of_an_input() -> None:
    line: Any = SimpleNamespace(equation=lambda one, other: 3.0 * one - 2.0 * other)
    for center in ((1.0, 4.0), (0.0, 0.0), (-2.0, 5.0)):
        assert _slope(line, center, 0) == pytest.approx(3.0)
        assert _slope(line, center, 1) == pytest.approx(-2.0)
