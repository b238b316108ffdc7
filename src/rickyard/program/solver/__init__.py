"""The one place that knows HiGHS: named rows and columns in, numbers and prices out.

Small linear programs and the mean and spread of a mix are solved here too.
"""

# fmt: off
from typing import TYPE_CHECKING

from rickyard.doors import at_first_use

if TYPE_CHECKING:
    from rickyard.program.solver import highs
    from rickyard.program.solver.blocks import Blocks
    from rickyard.program.solver.chance_mix import (
        ChanceNeed, cheapest_assured_mix, cheapest_mix_with_margin,
    )
    from rickyard.program.solver.highs import Session
    from rickyard.program.solver.points import (
        Basis, Entries, Meter, NOWHERE, Optimum, SearchLimits, SolveError, SparseRows, WholePoint,
        is_placed, nowhere, numbered, placed,
    )
    from rickyard.program.solver.settling import MOVING_ROUNDS, settle
    from rickyard.program.solver.small_solve import LinearOptimum, solve_linear_program

__getattr__ = at_first_use(__name__, {
    "": "highs",
    "blocks": "Blocks",
    "chance_mix": "ChanceNeed cheapest_assured_mix cheapest_mix_with_margin",
    "highs": "Session",
    "points": "Basis Entries Meter NOWHERE Optimum SearchLimits SolveError SparseRows WholePoint"
    " is_placed nowhere numbered placed",
    "settling": "MOVING_ROUNDS settle",
    "small_solve": "LinearOptimum solve_linear_program",
})

__all__ = [
    "Basis", "Blocks", "ChanceNeed", "Entries", "LinearOptimum", "MOVING_ROUNDS", "Meter",
    "NOWHERE", "Optimum", "SearchLimits", "Session", "SolveError", "SparseRows", "WholePoint",
    "cheapest_assured_mix", "cheapest_mix_with_margin", "highs", "is_placed", "nowhere", "numbered",
    "placed", "settle", "solve_linear_program",
]
