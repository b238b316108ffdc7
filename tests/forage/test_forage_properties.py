"""What holds for every forage equation: arrays as scalars, finite out of finite, direction."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rickyard.forage.energy import (
    ca_to_p_ratio,
    de_from_tdn,
    de_nrc2001,
    digestible_dry_matter_pct,
    dry_matter_intake_pct_bw,
    fiber_digestibility_nasem2021,
    grades,
    gross_energy_nasem2021,
    horse_de_from_tdn,
    horse_de_nrc,
    horse_de_pagan,
    me_from_de,
    me_from_tdn,
    me_hales2019,
    me_hales2022,
    me_nrc2001,
    neg_from_tdn,
    nel_from_tdn,
    nel_nrc2001,
    nem_from_tdn,
    nfc_g_per_kg,
    nfc_pct,
    nsc_pct,
    relative_feed_value,
    relative_forage_quality_grass,
    relative_forage_quality_legume,
    residual_organic_matter_pct,
    tdn_midwest,
    tdn_midwest_corn_silage,
    tdn_nrc2001,
    tdn_oklahoma,
    tdn_penn_state_corn_silage,
    tdn_penn_state_grass,
    tdn_penn_state_legume,
    tdn_rfq_grass,
    tdn_rfq_legume,
    tdn_southeast_warm_grass,
    tdn_western_alfalfa_90,
    tdn_western_alfalfa_100,
)
from rickyard.forage.hazards.minerals import total_sulfur_pct, water_sulfur_pct
from rickyard.forage.hazards.soil import external_ash_pct, tdn_lost_to_ash_pct
from rickyard.forage.values.basis import as_received_to_dm, dm_to_as_received, dm_to_basis
from rickyard.forage.values.classes import CLASS_TABLES
from rickyard.forage.values.minerals import dcad_meq_per_kg, tetany_ratio
from rickyard.forage.values.nitrate import (
    kno3_pct_from_no3_ppm,
    nitrate_share_limit,
    no3_from_no3n,
    no3n_from_kno3,
    no3n_from_no3,
)
from rickyard.forage.values.protein import adjusted_cp_pct, available_cp_pct, bound_share_pct_of_cp
from support.rows import each_row

# Ranges in which the equations mean something.
CP, ADF, NDF, LIGNIN, ASH, EE = (6.0, 26.0), (22, 50), (52, 80), (2, 12), (3, 18), (1, 5.5)
NDICP, ADICP, NDFD, TDN, DM, PCT = (0.5, 5), (0.2, 4), (30, 75), (40, 75), (20, 100), (0.05, 4)
NO3N = (0.0, 9000.0)

EQUATIONS: list[tuple[Callable[..., Any], list[tuple[float, float]]]] = [
    (as_received_to_dm, [CP, DM]),
    (dm_to_as_received, [CP, DM]),
    (dm_to_basis, [CP]),
    (digestible_dry_matter_pct, [ADF]),
    (dry_matter_intake_pct_bw, [NDF]),
    (relative_feed_value, [ADF, NDF]),
    (relative_forage_quality_legume, [CP, NDF, NDFD, ASH, EE, NDICP]),
    (relative_forage_quality_grass, [(8, 14), (30, 40), (55, 68), (45, 60), (6, 9), EE, NDICP]),
    (nfc_pct, [CP, NDF, EE, ASH, NDICP]),
    (nfc_g_per_kg, [(60, 200), (400, 700), (10, 50), (40, 150), (5, 50)]),
    (nsc_pct, [PCT, PCT]),
    (ca_to_p_ratio, [PCT, PCT]),
    (tdn_western_alfalfa_100, [ADF]),
    (tdn_western_alfalfa_90, [ADF]),
    (tdn_midwest, [ADF]),
    (tdn_midwest_corn_silage, [ADF]),
    (tdn_oklahoma, [ADF]),
    (tdn_penn_state_legume, [ADF]),
    (tdn_penn_state_grass, [ADF]),
    (tdn_penn_state_corn_silage, [ADF]),
    (tdn_southeast_warm_grass, [CP, ADF, NDF]),
    (tdn_nrc2001, [CP, NDF, LIGNIN, ASH, EE, NDICP, ADICP]),
    (de_nrc2001, [CP, NDF, LIGNIN, ASH, EE, NDICP, ADICP]),
    (tdn_rfq_legume, [CP, NDF, NDFD, ASH, EE, NDICP]),
    (tdn_rfq_grass, [CP, NDF, NDFD, ASH, EE, NDICP]),
    (me_nrc2001, [(1.5, 3.4), EE]),
    (nel_nrc2001, [(1.2, 3.0), EE]),
    (de_from_tdn, [TDN]),
    (me_from_de, [(1.5, 3.4)]),
    (me_from_tdn, [TDN]),
    (me_hales2019, [(1.5, 3.4)]),
    (me_hales2022, [(1.5, 3.4)]),
    (nem_from_tdn, [TDN]),
    (neg_from_tdn, [TDN]),
    (nel_from_tdn, [TDN]),
    (horse_de_pagan, [CP, ADF, NDF, (1, 8), ASH]),
    (horse_de_nrc, [ADF, CP]),
    (horse_de_from_tdn, [TDN]),
    (residual_organic_matter_pct, [ASH, NDF, PCT, PCT, CP]),
    (gross_energy_nasem2021, [CP, PCT, NDF, (5, 30), PCT, PCT]),
    (fiber_digestibility_nasem2021, [NDF, LIGNIN]),
    (dcad_meq_per_kg, [PCT, PCT, PCT, PCT]),
    (tetany_ratio, [PCT, PCT, PCT]),
    (available_cp_pct, [CP, ADICP]),
    (adjusted_cp_pct, [CP, ADICP]),
    (bound_share_pct_of_cp, [CP, ADICP]),
    (no3_from_no3n, [NO3N]),
    (no3n_from_no3, [NO3N]),
    (no3n_from_kno3, [NO3N]),
    (kno3_pct_from_no3_ppm, [NO3N]),
    (lambda x: nitrate_share_limit(x, pregnant=True), [NO3N]),
    (lambda x: nitrate_share_limit(x, pregnant=False), [NO3N]),
    (external_ash_pct, [ASH, (6, 8)]),
    (tdn_lost_to_ash_pct, [PCT]),
    (water_sulfur_pct, [(20, 100), (0, 3000), (8, 16)]),
    (total_sulfur_pct, [(0.1, 0.6), (300, 700), (2, 3), (8, 18), (0, 3000)]),
]


@each_row(("equation", "ranges"), EQUATIONS, ids=lambda one: getattr(one, "__name__", ""))
def test_finite_in_finite_out_and_arrays_equal_scalars(
    equation: Callable[..., Any], ranges: list[tuple[float, float]]
) -> None:
    rng = np.random.default_rng(11)
    arrays = [rng.uniform(low, high, 60) for low, high in ranges]
    together = equation(*arrays)
    assert isinstance(together, np.ndarray)
    assert together.dtype == np.float64
    assert np.isfinite(together).all()
    for row in range(60):
        alone = equation(*(float(values[row]) for values in arrays))
        assert type(alone) is float
        assert alone == pytest.approx(together[row], rel=1e-12, abs=1e-12)
    broadcast = equation(arrays[0], *(float(values[0]) for values in arrays[1:]))
    assert broadcast.shape == (60,)


# Which way a result goes when one input rises; the rest stay in the middle of their range.
DIRECTIONS = [
    (relative_feed_value, [ADF, NDF], 0, -1),
    (relative_feed_value, [ADF, NDF], 1, -1),
    (tdn_western_alfalfa_100, [ADF], 0, -1),
    (tdn_midwest, [ADF], 0, -1),
    (tdn_penn_state_grass, [ADF], 0, -1),
    (tdn_southeast_warm_grass, [CP, ADF, NDF], 0, 1),
    (tdn_nrc2001, [CP, NDF, LIGNIN, ASH, EE, NDICP, ADICP], 2, -1),
    (tdn_nrc2001, [CP, NDF, LIGNIN, ASH, EE, NDICP, ADICP], 3, -1),
    (tdn_nrc2001, [CP, NDF, LIGNIN, ASH, EE, NDICP, ADICP], 6, -1),
    (tdn_rfq_legume, [CP, NDF, NDFD, ASH, EE, NDICP], 2, 1),
    (relative_forage_quality_legume, [CP, NDF, NDFD, ASH, EE, NDICP], 2, 1),
    (nfc_pct, [CP, NDF, EE, ASH, NDICP], 1, -1),
    (nem_from_tdn, [TDN], 0, 1),
    (neg_from_tdn, [TDN], 0, 1),
    (me_hales2019, [(1.5, 3.4)], 0, 1),
    (horse_de_pagan, [CP, ADF, NDF, (1, 8), ASH], 4, -1),
    (fiber_digestibility_nasem2021, [NDF, LIGNIN], 1, -1),
    (total_sulfur_pct, [(0.1, 0.6), (300, 700), (2, 3), (8, 18), (0, 3000)], 4, 1),
    (tetany_ratio, [PCT, PCT, PCT], 0, 1),
]


@pytest.mark.parametrize(
    ("equation", "ranges", "place", "sign"),
    DIRECTIONS,
    ids=[f"{getattr(one[0], '__name__', 'line')}-{one[2]}" for one in DIRECTIONS],
)
def test_direction(
    equation: Callable[..., Any], ranges: list[tuple[float, float]], place: int, sign: int
) -> None:
    inputs: list[Any] = [(low + high) / 2.0 for low, high in ranges]
    inputs[place] = np.linspace(*ranges[place], 200)
    assert (sign * np.diff(equation(*inputs)) > 0.0).all()


def test_protein_steps_down_at_the_threshold_and_is_not_smoothed() -> None:
    """At 14 % bound the rule takes 7 % of the protein off at once (three-step rule)."""
    below, at = adjusted_cp_pct(20.0, 20.0 * 0.13999), adjusted_cp_pct(20.0, 20.0 * 0.14)
    assert below == 20.0
    assert at == pytest.approx(18.6)


# Class tables -----------------------------------------------------------------------------------


@each_row("name", sorted(CLASS_TABLES))
def test_a_class_table_rises_and_knows_its_limits(name: str) -> None:
    table = CLASS_TABLES[name]
    top = table.limits[-1] * 1.5 + 1.0
    values = np.linspace(0.0, top, 4001)
    places = table.places(values)
    assert (np.diff(places) >= 0).all()
    assert places.max() == len(table.labels) - 1
    assert table.places(np.nan) == -1
    assert table.places(np.inf) == len(table.labels) - 1
    assert table.source
    assert table.unit
    for number, limit in enumerate(table.limits):
        on = table.place(limit)
        assert on == (number if table.limit_goes == "down" else number + 1)
        just_over, just_under = math.nextafter(limit, math.inf), math.nextafter(limit, -math.inf)
        assert table.place(just_over) == number + 1
        assert table.place(just_under) == number
    for value in values[::500]:
        assert table.labels_of(np.array([value]))[0] == table.label(float(value))


@settings(max_examples=60)
@given(st.floats(40.0, 320.0))
def test_a_grade_of_one_is_a_grade_of_many(rfv: float) -> None:
    many = grades.USDA_ALFALFA_RFV.labels_of(np.array([rfv, np.nan]))
    assert many.tolist() == [grades.usda_alfalfa_grade(rfv), ""]


def test_columns_of_the_alfalfa_table_that_disagree_are_told() -> None:
    agreed = grades.alfalfa_grade_2003(28.0, 35.0, 20.5)
    assert set(agreed.by_column.values()) == {"Premium"}
    assert not agreed.mixed
    apart = grades.alfalfa_grade_2003(26.0, 45.0, 15.0)
    assert apart.by_column["ADF"] == "Supreme"
    assert apart.by_column["NDF"] == apart.by_column["protein"] == "Utility"
    assert apart.mixed


def test_nitrate_allows_less_as_it_rises() -> None:
    rising = np.linspace(0.0, 6000.0, 2001)
    for allowed in (
        nitrate_share_limit(rising, pregnant=True),
        nitrate_share_limit(rising, pregnant=False),
    ):
        assert (np.diff(allowed) <= 0.0).all()
        assert allowed[0] == 1.0
    pregnant = nitrate_share_limit(rising, pregnant=True)
    assert (pregnant <= nitrate_share_limit(rising, pregnant=False)).all()


@each_row(
    ("rfv", "grade"),
    [
        (190.0, "Supreme"),
        (185.0, "Premium"),
        (170.0, "Premium"),
        (150.0, "Good"),
        (130.0, "Fair"),
        (125.0, "Utility"),
        (103.0, "Utility"),
        (87.0, "Utility"),
        (75.0, "Utility"),
        (60.0, "Utility"),
    ],
)
def test_grades_on_their_limits(rfv: float, grade: str) -> None:
    assert grades.usda_alfalfa_grade(rfv) == grade
