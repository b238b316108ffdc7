"""Nitrate: forms, classes on their limits, and shares of the ration."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rickyard.forage.values.nitrate import (
    DIET_NO3N_CEILING_OTHER_PPM,
    DIET_NO3N_CEILING_PREGNANT_PPM,
    kno3_pct_from_no3_ppm,
    nitrate_class_clemson,
    nitrate_class_servitech,
    nitrate_share_limit,
    no3_from_no3n,
    no3n_from_kno3,
    no3n_from_no3,
)
from rickyard.quantities import OutOfRange
from support.rows import each_row

# NO3-N ppm, NO3 ppm, KNO3 %: derived by molar masses.
FORMS = [
    (350, 1549, 0.25),
    (700, 3099, 0.51),
    (1000, 4427, 0.72),
    (1400, 6197, 1.01),
    (1500, 6640, 1.08),
    (2000, 8853, 1.44),
    (2100, 9296, 1.52),
    (2800, 12395, 2.02),
    (3500, 15494, 2.53),
    (4000, 17707, 2.89),
]


@each_row(("no3n", "no3", "kno3_pct"), FORMS)
def test_forms(no3n: float, no3: float, kno3_pct: float) -> None:
    assert no3_from_no3n(no3n) == pytest.approx(no3, abs=1.0)
    assert kno3_pct_from_no3_ppm(no3_from_no3n(no3n)) == pytest.approx(kno3_pct, abs=0.006)
    assert no3n_from_no3(no3_from_no3n(no3n)) == pytest.approx(no3n)
    assert no3n_from_kno3(10_000 * kno3_pct_from_no3_ppm(no3_from_no3n(no3n))) == pytest.approx(
        no3n
    )


def test_printed_pairs() -> None:
    """Wyoming Livestock Roundup 2013: 6,000 ppm NO3 is 1 % KNO3, 9,000 ppm 1.5 %."""
    assert kno3_pct_from_no3_ppm(6000.0) == pytest.approx(1.0, abs=0.03)
    assert kno3_pct_from_no3_ppm(9000.0) == pytest.approx(1.5, abs=0.04)


def test_a_value_on_a_limit() -> None:
    """Clemson: the lower class; ServiTech: the class that starts there."""
    assert nitrate_class_clemson(1000.0) == "safe all classes"
    assert nitrate_class_clemson(1000.1).startswith("safe nonpregnant")
    assert nitrate_class_clemson(2000.0) == "max 50% of ration DM"
    assert nitrate_class_clemson(4000.0).startswith("max 25%")
    assert nitrate_class_clemson(4000.1) == "do not feed"
    assert nitrate_class_servitech(699.9) == "Very low"
    assert nitrate_class_servitech(700.0) == "Low"
    assert nitrate_class_servitech(2100.0) == "High"
    assert nitrate_class_servitech(3500.0) == "Extremely high"


@each_row(
    ("ppm", "pregnant", "other"),
    [
        (0.0, 1.0, 1.0),
        (699.0, 1.0, 1.0),
        (700.0, 0.5, 1.0),  # ServiTech: pregnant at most half from here
        (1000.0, 0.5, 1.0),
        (1399.0, 0.5, 1.0),
        (1400.0, 0.25, 1.0),
        (1500.0, 0.25, 1.0),
        (1600.0, 0.25, 0.5),
        (1999.0, 0.25, 0.5),
        (2000.0, 0.0, 0.5),
        (2500.0, 0.0, 0.35),
        (3500.0, 0.0, 0.35),
        (3600.0, 0.0, 0.25),
        (4000.0, 0.0, 0.25),
        (4001.0, 0.0, 0.0),
    ],
)
def test_shares(ppm: float, pregnant: float, other: float) -> None:
    assert nitrate_share_limit(ppm, pregnant=True) == pregnant
    assert nitrate_share_limit(ppm, pregnant=False) == other


@given(st.floats(0.0, 10_000.0), st.floats(0.0, 1000.0), st.booleans())
def test_more_nitrate_never_allows_more(ppm: float, more: float, pregnant: bool) -> None:
    assert nitrate_share_limit(ppm + more, pregnant) <= nitrate_share_limit(ppm, pregnant)
    assert nitrate_share_limit(ppm, True) <= nitrate_share_limit(ppm, False)


@given(st.floats(0.0, 4000.0))
def test_the_share_alone_keeps_the_rest_of_the_diet_inside_the_table(ppm: float) -> None:
    """With nitrate-free feed beside it, a forage at its limit stays inside the ceilings."""
    assert nitrate_share_limit(ppm, True) * ppm <= DIET_NO3N_CEILING_PREGNANT_PPM
    assert nitrate_share_limit(ppm, False) * ppm <= DIET_NO3N_CEILING_OTHER_PPM


@pytest.mark.parametrize("wrong", [-1.0, float("nan")])
def test_what_is_no_amount_is_refused(wrong: float) -> None:
    with pytest.raises(OutOfRange):
        nitrate_class_clemson(wrong)
    with pytest.raises(OutOfRange):
        nitrate_share_limit(wrong, pregnant=True)
