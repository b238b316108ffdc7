"""How near programs of rations come to the bound of rations, and what steadiness costs.

Run with ``python benchmarks/rations.py`` on a quiet machine; ``--quick`` plans three farms of each
kind, ``--size 40x8x26 --effort 5`` ordinary farms of so many lots, groups and weeks. For each farm
stand the distance of its rations from their bound, the seconds of one processor, whether the second
look found anything, the weekly program in the same effort, and the same weekly model handed
straight to the MIP solver for the same seconds. Farms are ordinary ones with every rule of hay in
use and loads, and others of which one in five has too little hay; what is short is counted at its
price.
"""

from __future__ import annotations

import argparse
import resource
import sys
import time
from collections import defaultdict
from pathlib import Path

from season_direct import solve_directly
from season_farms import season_farm

from rickyard.farm import Farm
from rickyard.program.audit.audit import recheck
from rickyard.program.planning.season import plan_season
from rickyard.program.problem.problem import problem_of
from rickyard.program.problem.use_rules import use_rules_of
from rickyard.program.result import PlanOptions, SeasonProgram
from rickyard.program.search.relax import relax

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "tests"))

from support.farms import random_farm
from support.hazard_farms import hazard_farm

#: Lots, groups and weeks of ordinary and random farms, and work after the first program.
SHAPE = (10, 4, 24)
EFFORT = 0.2

#: So many farms of each kind, and of any other size than the usual one.
KINDS = {"ordinary": 20, "random": 20, "hazards": 20}
OF_SIZE = 5


def farm_of(kind: str, seed: int, shape: tuple[int, int, int] = SHAPE) -> Farm:
    """Return a farm of a kind."""
    if kind == "ordinary":
        return season_farm(seed, *shape)
    if kind == "hazards":
        return hazard_farm(seed, weeks=SHAPE[2])
    return random_farm(seed, lots=SHAPE[0], groups=SHAPE[1], weeks=SHAPE[2])


def distance_pct(program: SeasonProgram) -> float:
    """Return how far a program with what it lacks is from its bound. [%]."""
    lack = program.cost + program.penalty - program.bound
    return 100.0 * lack / max(1.0, abs(program.cost + program.penalty))


def direct_pct(farm: Farm, seconds: float) -> float:
    """Return the gap that the MIP solver proves of the weekly model by itself. [%]."""
    problem = problem_of(farm)
    relaxation = relax(problem, str)
    rows, rules = relaxation.session.all_rows(), use_rules_of(farm, problem)
    direct = solve_directly(relaxation.model, rows, rules, seconds, threads=1)
    if direct.x is None:
        return float("inf")
    return 100.0 * (direct.cost - direct.bound) / (direct.cost + problem.fixed_usd)


def shape_of(text: str) -> tuple[int, int, int]:
    """Return lots, groups and weeks, as in "40x8x26"."""
    lots, groups, weeks = map(int, text.split("x"))
    return lots, groups, weeks


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quick", action="store_true")
    parser.add_argument("--size", type=shape_of, default=SHAPE)
    parser.add_argument("--effort", type=float, default=EFFORT)
    parser.add_argument("--farms", type=int, default=OF_SIZE)
    asked = parser.parse_args()
    print(
        "kind      seed  status    rations %  seconds  re-check  weekly %  handed over %  dearer %"
    )
    found: dict[tuple[str, str], list[float]] = defaultdict(list)
    kinds = KINDS if asked.size == SHAPE else {"ordinary": asked.farms}
    for kind, count in kinds.items():
        for seed in range(3 if asked.quick else count):
            farm = farm_of(kind, seed, asked.size)
            started = time.process_time()
            program = plan_season(farm, options=PlanOptions(effort=asked.effort))
            seconds = time.process_time() - started
            weekly = plan_season(farm, options=PlanOptions(effort=asked.effort, weekly=True))
            sound = "sound" if recheck(program, farm) == () else "FOUND"
            dearer = program.cost + program.penalty - weekly.cost - weekly.penalty
            dearer *= 100.0 / max(1.0, abs(weekly.cost + weekly.penalty))
            far = distance_pct(program)
            found[kind, program.status].append(far)
            print(
                f"{kind:9} {seed:4}  {program.status:8} {far:10.2f} {seconds:8.1f}  {sound:8}"
                f" {distance_pct(weekly):9.2f} {direct_pct(farm, seconds):14.2f} {dearer:9.2f}",
                flush=True,
            )
    for (kind, status), far in found.items():
        mean = sum(far) / len(far)
        print(f"{kind}, {status}: {len(far)} farms, mean {mean:.2f} %, most {max(far):.2f} %")
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0**2
    print(f"{most:.2f} GB at most")


if __name__ == "__main__":
    main()
