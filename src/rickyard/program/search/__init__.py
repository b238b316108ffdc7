"""Finding a program: the relaxation for the bound, a first program, and better ones.

Stops when asked and keeps the best so far; says how far from the least cost it is.
"""

# fmt: off
from rickyard.program.search import first_solution, repair, search, smooth
from rickyard.program.search.column_pricing import narrowed
from rickyard.program.search.held_model import loads_of
from rickyard.program.search.relax import Relaxation, relax
from rickyard.program.search.repair import lack_usd
from rickyard.program.search.search import Search
from rickyard.program.search.smooth import can_be_simplified, simplify
from rickyard.program.search.subproblem import held

__all__ = [
    "Relaxation", "Search", "can_be_simplified", "first_solution", "held", "lack_usd", "loads_of",
    "narrowed", "relax", "repair", "search", "simplify", "smooth",
]
