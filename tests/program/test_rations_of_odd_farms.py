"""Rations of farms with numbers from the edges: hay without fiber, feed that goes with no hay."""

from __future__ import annotations

import numpy as np
import pytest

from rickyard.farm import AnimalClass
from rickyard.program.audit.audit import recheck
from rickyard.program.planning.season import plan_season
from rickyard.program.result.options import PlanOptions
from rickyard.program.solver.blocks import Blocks
from rickyard.program.solver.points import Meter
from support.farms import random_farm
from support.odd_farms import odd_farm
from support.rows import few

SHORT = PlanOptions(effort=0.0)


@pytest.mark.parametrize(
    ("seed", "kinds"),
    few(
        [
            (107, (AnimalClass.FIRST_CALF_HEIFER, AnimalClass.REPLACEMENT_HEIFER)),
            (103, (AnimalClass.DOE, AnimalClass.COW)),
            (104, (AnimalClass.EWE, AnimalClass.BULL)),
        ],
        1,
    ),
)
def test_hay_without_fiber_fills_by_its_energy(seed: int, kinds: tuple[AnimalClass, ...]) -> None:
    farm = odd_farm(seed, kinds)
    program = plan_season(farm, options=SHORT)
    assert program.rations
    assert recheck(program, farm) == ()


def test_blocks_that_have_no_answer_are_left_out() -> None:
    # Feed, at least one kilogram of it, goes only with twice as much hay.
    blocks = Blocks(2)
    enough = blocks.template(np.array([0, 1]), np.array([-0.5, 1.0]))
    for hay in (3.0, 1.0, 2.0):
        blocks.begin(np.array([0.0, 1.0]), np.array([hay, 4.0]))
        blocks.row(enough, -np.inf, 0.0)
    possible = blocks.possible(Meter())
    assert possible == [True, False, True]
    left = blocks.only(possible).session(np.array([1.0, 5.0, 1.0, 5.0]), Meter())
    assert left.minimise().x == pytest.approx([2.0, 1.0, 2.0, 1.0])


def test_nobody_is_short_for_what_grain_puts_aside() -> None:
    # Things chosen while grain puts little forage aside may not feed stock at what it then does.
    farm = random_farm(2, lots=6, groups=2, weeks=12)
    program = plan_season(farm, options=SHORT)
    assert program.status == "complete"
    assert recheck(program, farm) == ()
