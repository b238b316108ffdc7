"""How near to the least cost a season program comes, and in what time.

Run with ``python benchmarks/season.py`` on a quiet machine with two cores; it takes about ten
minutes. Every farm has all rules of hay in use, loads, sales, cash, a reserve, storage losses,
hazard ceilings and dated forage switched on. Beside each stands the same model handed straight to
the MIP solver for the same seconds, written down apart in ``season_direct``. ``--quick`` leaves
out the largest farms and most of the seeds.
"""

from __future__ import annotations

import argparse
import multiprocessing
import resource
import time
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass

from season_direct import solve_directly
from season_farms import season_farm

from rickyard.program.audit.audit import recheck
from rickyard.program.model.rows import build_model
from rickyard.program.planning.season import plan_season
from rickyard.program.problem.problem import problem_of
from rickyard.program.problem.use_rules import use_rules_of
from rickyard.program.result.options import PlanOptions
from rickyard.program.search.relax import relax

#: Lots, groups and weeks; the seconds allowed in all; seconds of search; the gap to reach, %.
CASES = (
    ((10, 4, 24), 2.0, 1.4, 0.5),
    ((40, 8, 26), 5.0, 3.6, 1.0),
    ((40, 8, 26), 30.0, 28.0, 0.5),
    ((150, 20, 40), 90.0, 55.0, 2.0),
)
SEEDS = {(10, 4, 24): (0, 1, 2, 3, 4), (40, 8, 26): (0, 1, 2), (150, 20, 40): (0,)}

BATCH, BATCH_SHAPE = 200, (10, 4, 24)


@dataclass(frozen=True)
class Figures:
    """What one farm took and how near its program is. Seconds, and percent of the cost."""

    build: float
    relaxation: float
    total: float
    gap: float
    megabytes: float
    sound: bool


def our_program(seed: int, shape: tuple[int, int, int], seconds: float) -> Figures:
    """Plan one farm and measure it, alone in its process."""
    farm = season_farm(seed, *shape)
    started = time.perf_counter()
    program = plan_season(farm, options=PlanOptions(effort=seconds))
    total = time.perf_counter() - started
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0
    sound = recheck(program, farm) == ()
    started = time.perf_counter()
    problem = problem_of(farm)
    build_model(problem)
    build = time.perf_counter() - started
    started = time.perf_counter()
    relax(problem, str)
    relaxation = time.perf_counter() - started
    return Figures(build, relaxation, total, 100.0 * program.gap, memory, sound)


def handed_over(seed: int, shape: tuple[int, int, int], seconds: float) -> float:
    """Return the gap in percent that the MIP solver proves of the same model by itself."""
    farm = season_farm(seed, *shape)
    problem = problem_of(farm)
    relaxation = relax(problem, str)
    rules = use_rules_of(farm, problem)
    rows = relaxation.session.all_rows()
    direct = solve_directly(relaxation.model, rows, rules, seconds, threads=2)
    if direct.x is None:
        return float("inf")
    return 100.0 * (direct.cost - direct.bound) / (direct.cost + problem.fixed_usd)


def apart(function, *arguments):
    """Run a function in a process of its own, for its memory and a clean solver."""
    context = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(1, mp_context=context) as pool:
        return pool.submit(function, *arguments).result()


def quick_program(seed: int) -> float:
    """Return the gap in percent of an ordinary farm's first program, made on one core."""
    farm = season_farm(seed, *BATCH_SHAPE)
    return 100.0 * plan_season(farm, options=PlanOptions(effort=0.0, threads=1)).gap


def batch(cores: int, count: int) -> tuple[float, float, float]:
    """Return farms a second, and the mean and the largest gap in percent."""
    context = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(cores, mp_context=context) as pool:
        list(pool.map(quick_program, range(cores)))  # the interpreters are up before time runs
        started = time.perf_counter()
        gaps = list(pool.map(quick_program, range(count), chunksize=5))
        seconds = time.perf_counter() - started
    return count / seconds, sum(gaps) / count, max(gaps)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quick", action="store_true")
    quick = parser.parse_args().quick
    print(
        "lots x groups x weeks  seed   build  relax  total s   gap %  (wanted)  handed over %"
        "   memory MB  build share  re-check"
    )
    for shape, allowed, seconds, wanted in CASES:
        if quick and shape[0] > 40:
            continue
        for seed in SEEDS[shape][: 1 if quick else None]:
            ours = apart(our_program, seed, shape, seconds)
            theirs = apart(handed_over, seed, shape, allowed)
            good = ours.gap <= wanted and ours.total <= allowed
            print(
                f"{shape[0]:>4} x {shape[1]:>2} x {shape[2]:>2} {seed:>11}"
                f"  {ours.build:6.2f} {ours.relaxation:6.2f} {ours.total:8.2f}  {ours.gap:6.3f}"
                f"  (<= {wanted:.1f})   {theirs:12.3f}   {ours.megabytes:9.0f}"
                f"  {100.0 * ours.build / ours.total:9.1f} %"
                f"  {'sound' if ours.sound else 'BROKEN'}  {'met' if good else 'MISSED'}",
                flush=True,
            )
    count = 40 if quick else BATCH
    one, mean, worst = batch(1, count)
    two, _, _ = batch(2, count)
    print(
        f"{count} farms of {BATCH_SHAPE[0]} x {BATCH_SHAPE[1]} x {BATCH_SHAPE[2]}, first programs: "
        f"{one:.2f} farms a second on one core, {two:.2f} on two (ratio {two / one:.2f}); "
        f"gap {mean:.2f} % in the mean, {worst:.2f} % at most"
    )


if __name__ == "__main__":
    main()
