"""Mixes that meet a need with a chance: the published problem, and random draws of its feeds."""

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from rickyard.program.solver.chance_mix import (
    ChanceNeed,
    cheapest_assured_mix,
    cheapest_mix_with_margin,
)
from rickyard.program.solver.points import SolveError
from rickyard.quantities import OutOfRange

# van de Panne & Popp 1963; Bracken & McCormick 1968 ch. 9; Hock-Schittkowski 73.
COST = np.array([24.55, 26.75, 39.0, 40.5])
MEAN = np.array([12.0, 11.9, 41.8, 52.1])
SD = np.sqrt([0.28, 0.19, 20.5, 0.62])
OTHERS = ([[-2.3, -5.6, -11.1, -1.3]], [-5.0], [[1.0, 1.0, 1.0, 1.0]], [1.0])


def test_the_published_optimum_is_reached() -> None:
    best = cheapest_assured_mix(COST, ChanceNeed(MEAN, SD, 21.0, 1.645), *OTHERS)
    assert best.objective == pytest.approx(29.894378, abs=1e-5)
    assert best.x == pytest.approx([0.6355216, 0.0, 0.3127019, 0.05177655], abs=1e-5)
    assert len(best.dual_ub) == 1


def test_margins_are_the_published_ones() -> None:
    """z = 1.645 linear 30.1249, half a standard deviation 29.2832, means 28.9426."""
    for z, cost in ((1.645, 30.12492), (0.5, 29.2832)):
        best = cheapest_mix_with_margin(COST, ChanceNeed(MEAN, SD, 21.0, z), *OTHERS)
        assert best.objective == pytest.approx(cost, abs=1e-4)
    best = cheapest_assured_mix(COST, ChanceNeed(MEAN, SD, 21.0, 0.0), *OTHERS)
    assert best.objective == pytest.approx(28.942648, abs=1e-5)


def test_the_mix_meets_the_need_as_often_as_it_says() -> None:
    best = cheapest_assured_mix(COST, ChanceNeed(MEAN, SD, 21.0, 1.645), *OTHERS)
    rng = np.random.default_rng(5)
    draws = rng.normal(MEAN, SD, (200_000, 4)) @ best.x
    assert np.mean(draws >= 21.0) == pytest.approx(0.95, abs=0.003)


@settings(max_examples=40, deadline=None)
@example([(1.0, 0.0, 1.0), (2.0, 2.0, 1.0), (4.0, 1.0, 2.0)], 1.0, 0.5)
@given(
    st.lists(
        st.tuples(st.floats(1, 60), st.floats(0, 4), st.floats(1, 50)), min_size=2, max_size=5
    ),
    st.floats(0.0, 2.0),
    st.floats(0.2, 0.9),
)  # fmt: skip
def test_between_the_means_and_the_margin(
    feeds: list[tuple[float, float, float]], z: float, part: float
) -> None:
    """The exact cost lies between that of the means and that of the safe-sided margin."""
    mean, sd, cost = (np.array(column) for column in zip(*feeds, strict=True))
    need = float(part * np.max(mean - z * sd))
    if need <= 0.1:
        return
    rows = (None, None, np.ones((1, len(mean))), np.ones(1))
    exact = cheapest_assured_mix(cost, ChanceNeed(mean, sd, need, z), *rows)
    means = cheapest_assured_mix(cost, ChanceNeed(mean, sd, need, 0.0), *rows)
    safe = cheapest_mix_with_margin(cost, ChanceNeed(mean, sd, need, z), *rows)
    assert means.objective - 1e-6 <= exact.objective <= safe.objective + 1e-6
    assert ChanceNeed(mean, sd, need, z).assured(exact.x) >= need - 1e-6


def test_no_mix_is_said_so() -> None:
    with pytest.raises(SolveError):
        cheapest_assured_mix([1.0], ChanceNeed([5.0], [1.0], 9.0, 1.0), None, None, [[1.0]], [1.0])


@pytest.mark.parametrize("method", [cheapest_assured_mix, cheapest_mix_with_margin])
def test_less_than_an_even_chance_is_refused(method: object) -> None:
    with pytest.raises(OutOfRange):
        method([1.0], ChanceNeed([5.0], [1.0], 3.0, -1.0))  # type: ignore[operator]
