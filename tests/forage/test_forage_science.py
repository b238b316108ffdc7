"""Properties of the forage equations: round trips, arrays, order, and refusals."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rickyard.forage.energy.energy import (
    NEG_ZERO_AT_TDN_PCT,
    NEM_ZERO_AT_TDN_PCT,
    de_from_tdn,
    neg_from_me,
    neg_from_tdn,
    nel_from_tdn,
    nem_from_me,
    nem_from_tdn,
)
from rickyard.forage.energy.indices import (
    dry_matter_intake_pct_bw,
    nfc_pct,
    relative_feed_value,
    relative_forage_quality_grass,
    relative_forage_quality_legume,
)
from rickyard.forage.energy.summative import (
    de_nrc2001,
    digestible_parts_nrc2001,
    tdn_nrc2001,
    tdn_rfq_grass,
    tdn_rfq_legume,
)
from rickyard.forage.energy.tdn import (
    TdnMethod,
    tdn_midwest,
    tdn_midwest_corn_silage,
    tdn_oklahoma,
    tdn_penn_state_grass,
    tdn_penn_state_legume,
    tdn_southeast_warm_grass,
    tdn_western_alfalfa_90,
    tdn_western_alfalfa_100,
)
from rickyard.forage.values.basis import (
    as_received_to_dm,
    dm_to_as_received,
    dm_to_basis,
    is_rescaled,
)
from rickyard.forage.values.protein import adjusted_cp_pct, bound_share_pct_of_cp
from rickyard.quantities import OutOfRange

shares = st.floats(0.0, 100.0)
dry_matters = st.floats(5.0, 100.0)


@given(shares, dry_matters)
def test_basis_round_trip(value: float, dm: float) -> None:
    assert as_received_to_dm(dm_to_as_received(value, dm), dm) == pytest.approx(value)


@given(shares, dry_matters)
def test_as_received_is_never_above_dry_matter(value: float, dm: float) -> None:
    assert dm_to_as_received(value, dm) <= value
    assert dm_to_basis(value) == pytest.approx(0.9 * value)


@pytest.mark.parametrize("dm", [0.0, -3.0, 100.5])
def test_impossible_dry_matter_is_refused(dm: float) -> None:
    with pytest.raises(OutOfRange):
        as_received_to_dm(10.0, dm)
    with pytest.raises(OutOfRange):
        dm_to_as_received(10.0, dm)


def test_indices_are_never_rescaled() -> None:
    assert not any(is_rescaled(name) for name in ("rfv", "rfq", "ph", "ndfd48"))
    assert all(is_rescaled(name) for name in ("cp", "tdn", "nem", "nitrate_no3n", "adicp"))


def test_feed_value_from_as_received_fiber_is_another_hay() -> None:
    """A trap: 127 on dry matter, 152 from as-received values."""
    assert relative_feed_value(35.0, 45.0) == pytest.approx(127.4, abs=0.5)
    wrong = relative_feed_value(dm_to_as_received(35.0, 88.0), dm_to_as_received(45.0, 88.0))
    assert wrong == pytest.approx(152, abs=0.5)


ONE = (24.0, 45.0)
FUNCTIONS: list[tuple[Callable[..., Any], list[tuple[float, float]]]] = [
    (relative_feed_value, [(20.0, 45.0), (30.0, 75.0)]),
    (tdn_western_alfalfa_100, [ONE]),
    (tdn_western_alfalfa_90, [ONE]),
    (tdn_midwest, [ONE]),
    (tdn_midwest_corn_silage, [ONE]),
    (tdn_oklahoma, [ONE]),
    (tdn_penn_state_legume, [ONE]),
    (tdn_penn_state_grass, [ONE]),
    (tdn_southeast_warm_grass, [(6.0, 14.0), (30.0, 45.0), (60.0, 75.0)]),
    (tdn_nrc2001, [(6.0, 20.0), (40.0, 70.0), (4.0, 9.0), (4.0, 12.0)]),
    (de_nrc2001, [(6.0, 20.0), (40.0, 70.0), (4.0, 9.0), (4.0, 12.0)]),
    (tdn_rfq_legume, [(12.0, 24.0), (35.0, 60.0), (35.0, 60.0), (6.0, 12.0)]),
    (tdn_rfq_grass, [(5.0, 18.0), (45.0, 70.0), (35.0, 70.0), (5.0, 12.0)]),
    (relative_forage_quality_legume, [(12.0, 24.0), (35.0, 60.0), (35.0, 60.0), (6.0, 12.0)]),
    (
        relative_forage_quality_grass,
        [(5.0, 18.0), (26.0, 45.0), (45.0, 70.0), (35.0, 70.0), (5.0, 12.0)],
    ),
    (nfc_pct, [(6.0, 20.0), (40.0, 70.0), (1.0, 4.0), (4.0, 12.0)]),
    (adjusted_cp_pct, [(6.0, 20.0), (0.1, 5.0)]),
    (de_from_tdn, [(20.0, 90.0)]),
    (nem_from_tdn, [(20.0, 90.0)]),
    (neg_from_tdn, [(20.0, 90.0)]),
    (nel_from_tdn, [(20.0, 90.0)]),
    (nem_from_me, [(1.0, 3.4)]),
    (neg_from_me, [(1.0, 3.4)]),
    (as_received_to_dm, [(1.0, 30.0), (30.0, 95.0)]),
]


@pytest.mark.parametrize(
    ("function", "spans"), FUNCTIONS, ids=[getattr(f, "__name__", "line") for f, _ in FUNCTIONS]
)
def test_an_array_equals_its_scalars(
    function: Callable[..., Any], spans: list[tuple[float, float]]
) -> None:
    random = np.random.default_rng(7)
    columns = [random.uniform(low, high, 50) for low, high in spans]
    together = function(*columns)
    assert isinstance(together, np.ndarray)
    assert together.shape == (50,)
    one_by_one = [function(*(float(value) for value in row)) for row in zip(*columns, strict=True)]
    assert all(type(value) is float for value in one_by_one)
    np.testing.assert_allclose(together, one_by_one, rtol=1e-12)


@given(st.floats(25.0, 100.0), st.floats(0.01, 10.0))
def test_net_energy_rises_with_tdn(tdn: float, more: float) -> None:
    assert nem_from_tdn(tdn + more) > nem_from_tdn(tdn)
    assert neg_from_tdn(tdn + more) >= neg_from_tdn(tdn)
    assert neg_from_tdn(tdn) <= nem_from_tdn(tdn)


def test_net_energy_is_zero_where_the_cubics_turn_negative() -> None:
    assert nem_from_tdn(NEM_ZERO_AT_TDN_PCT - 0.1) == 0.0
    assert nem_from_tdn(NEM_ZERO_AT_TDN_PCT + 0.1) > 0.0
    assert neg_from_tdn(NEG_ZERO_AT_TDN_PCT - 0.1) == 0.0
    assert neg_from_tdn(NEG_ZERO_AT_TDN_PCT + 0.1) > 0.0
    assert nem_from_me(0.5) < 0.0


def test_what_no_feed_holds_is_refused() -> None:
    with pytest.raises(OutOfRange):
        nem_from_tdn(-1.0)
    with pytest.raises(OutOfRange):
        dry_matter_intake_pct_bw(0.0)
    with pytest.raises(OutOfRange):
        bound_share_pct_of_cp(0.0, 1.0)
    with pytest.raises(OutOfRange):
        digestible_parts_nrc2001(10.0, 50.0, 49.0, 8.0)


@given(st.floats(3.0, 25.0), st.floats(0.0, 1.0))
def test_adjusted_protein_lies_between_available_and_crude(cp: float, share: float) -> None:
    adicp = share * cp
    assert cp - adicp - 1e-9 <= adjusted_cp_pct(cp, adicp) <= cp


def test_the_step_of_the_protein_rule_is_kept_and_its_threshold_is_a_setting() -> None:
    assert adjusted_cp_pct(10.0, 1.39) == 10.0
    assert adjusted_cp_pct(10.0, 1.41) == pytest.approx(9.29)
    assert adjusted_cp_pct(10.0, 2.01) == pytest.approx(7.99)
    assert adjusted_cp_pct(10.0, 1.2, threshold_pct_of_cp=10.0) == pytest.approx(9.5)


def test_defaults_stand_in_for_what_a_report_leaves_out() -> None:
    given_all = tdn_nrc2001(10.0, 60.0, 6.0, 8.0, 2.0, 0.07 * 60.0, 0.06 * 10.0)
    assert tdn_nrc2001(10.0, 60.0, 6.0, 8.0) == pytest.approx(given_all)
    assert tdn_rfq_legume(20.0, 40.0, 45.0, 10.0) == pytest.approx(
        tdn_rfq_legume(20.0, 40.0, 45.0, 10.0, 2.05, 2.8)
    )


def test_the_methods_disagree_as_is_known() -> None:
    """ADF 30: western 59.8, Oklahoma and Midwest 65.5, Penn State legume 66.6."""
    assert tdn_western_alfalfa_100(30.0) == pytest.approx(59.8, abs=0.05)
    assert tdn_oklahoma(30.0) == pytest.approx(65.5, abs=0.05)
    assert tdn_midwest(30.0) == pytest.approx(65.5, abs=0.05)
    assert tdn_penn_state_legume(30.0) == pytest.approx(66.6, abs=0.05)


def test_grass_quality_far_outside_its_data_is_not_computed() -> None:
    assert np.isnan(relative_forage_quality_grass(60.0, 90.0, 95.0, 10.0, 3.0))


def test_every_method_has_a_plain_label() -> None:
    labels = [method.label for method in TdnMethod]
    assert len(set(labels)) == len(TdnMethod)
    assert all("_" not in label for label in labels)
