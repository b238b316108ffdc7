"""Cores: tables worked by hand, and what must hold for any probe."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rickyard.hay.sampling import cores
from rickyard.quantities import OutOfRange, convert

IN = 0.0254
LB_FT3 = convert(1.0, "lb_per_ft3", "kg_per_m3")

# Derived: grams per core at 10 lb/ft3, tip by depth 12, 15, 18, 24 in.
CORES = {
    0.375: (3.5, 4.3, 5.2, 7.0),
    0.5: (6.2, 7.7, 9.3, 12.4),
    0.625: (9.7, 12.1, 14.5, 19.3),
    0.75: (13.9, 17.4, 20.9, 27.8),
    1.0: (24.7, 30.9, 37.1, 49.5),
}


@pytest.mark.parametrize(("tip", "row"), CORES.items())
def test_cores_weigh_what_the_table_says(tip: float, row: tuple[float, ...]) -> None:
    depths = np.array([12.0, 15.0, 18.0, 24.0]) * IN
    assert cores.core_mass_g(tip * IN, depths, 10 * LB_FT3) == pytest.approx(row, abs=0.051)


@pytest.mark.parametrize(("diameter", "depth"), [(48, 13.1), (60, 16.1), (72, 19.1)])
def test_depths_are_those_of_the_rule(diameter: float, depth: float) -> None:
    assert cores.core_depth_m(diameter * IN, 4 * IN) / IN == pytest.approx(depth, abs=0.05)


@given(st.floats(0.9, 2.0), st.floats(0.0, 0.4))
def test_a_core_of_that_depth_holds_the_skin_in_its_fair_share(d: float, share: float) -> None:
    skin = share * d
    in_core = skin / cores.core_depth_m(d, skin)
    assert in_core == pytest.approx(1.0 - (1.0 - 2.0 * share) ** 2, abs=1e-9)


@given(st.integers(1, 400), st.integers(1, 40))
def test_enough_cores_come_from_the_bales_there_are(bales: int, wanted: int) -> None:
    each = cores.cores_per_bale(bales, wanted)
    assert each * min(bales, wanted) >= wanted > (each - 1) * min(bales, wanted)


def test_a_bag_holds_what_cores_weigh() -> None:
    assert cores.bag_volume_ml(94.6) == pytest.approx(cores.QUART_ML)
    assert cores.bag_volume_ml(378.5) == pytest.approx(cores.GALLON_ML)


@pytest.mark.parametrize("grams", [cores.SMALL_SAMPLE_G, 290.0, cores.LARGE_SAMPLE_G])
def test_an_ordinary_sample_needs_no_remark(grams: float) -> None:
    assert cores.sample_remark(grams) is None


def test_a_wide_probe_is_told_to_be_narrower_and_not_to_take_fewer_bales() -> None:
    remark = cores.sample_remark(742.0)
    assert remark is not None
    assert "narrower probe on as many bales" in remark


@pytest.mark.parametrize(("tip", "depth", "density"), [(0.2, 18, 10), (0.5, 40, 10), (0.5, 18, 50)])
def test_a_probe_outside_the_equation_is_refused(tip: float, depth: float, density: float) -> None:
    with pytest.raises(OutOfRange):
        cores.core_mass_g(tip * IN, depth * IN, density * LB_FT3)
