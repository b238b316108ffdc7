"""From the relaxation to a program that a person can follow, and then to a better one.

The relaxation is a bound: no program that keeps the rules can cost less. A first program is read
off it. Then small searches with whole numbers free a few groups at a time and keep what they
find, while a second processor works on the whole season at once to raise the bound. It can be
stopped at any time, and has then a program and what is proven about it.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import suppress
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from rickyard.display import money_text
from rickyard.program.model import LotUse, Model
from rickyard.program.result import PlanOptions
from rickyard.program.search import first_solution, repair
from rickyard.program.search.held_model import HeldModel, loads_of
from rickyard.program.search.relax import Relaxation
from rickyard.program.search.subproblem import FreeSet, HayChoice, Subproblem
from rickyard.program.solver import Optimum, SearchLimits, SolveError, WholePoint
from rickyard.quantities import is_some
from rickyard.types import BoolArray, FloatArray

#: A program this near to the bound is not worth more time.
NEAR_ENOUGH: Final = 5e-4

#: A program this near to the bound is as good as proven to be the best.
PROVEN: Final = 1e-5

#: A program must be better by this share of its cost to count as better.
BETTER: Final = 1e-7

#: A bound further away than this tells a person nothing, and is not said. [%]
TELLING_PCT: Final = 50.0

#: Whole seasons with more hay amounts than this are not searched at once for a better bound.
MOST_AT_ONCE: Final = 15_000

#: Others may move while a few groups are searched, in seasons of no more hay amounts in use.
MOST_MOVING: Final = 1_500

#: A season with no more hay amounts than this is searched whole first.
SMALL: Final = 400

#: Loads are made whole for every program that is looked at, however little effort is left: so many
#: ways to round them are tried, unless none left can be cheaper by more than this share.
LOAD_TRIES: Final = 40
LOAD_GAP: Final = 1e-6

#: So often a small season is searched anew because its best program broke a curved row.
WHOLE_ROUNDS: Final = 6

#: The share of the effort that a small season is searched whole with before its parts are; what
#: the parts leave is spent on the whole again.
WHOLE_SHARE: Final = 0.5

#: What a small search looks at: hays for each group and period, nodes and its own gap.
HAYS_IN_PARTS: Final = (4, 6, 10)
PART_NODES: Final = 1
PART_GAP: Final = 3e-4

#: How many groups a sweep frees together and how many steps it takes: when a sweep gained nothing
#: the next frees more, and then takes more.
SWEEPS: Final = ((1, 12), (2, 12), (2, 60))

#: The share of the effort with which the second processor raises the bound, and how many parts
#: are searched meanwhile.
BOUND_SHARE: Final = 0.3
PARTS_BESIDE: Final = 1

#: So many parts are searched from one program before the best of them is taken.
PARTS_AT_ONCE: Final = 2

#: When no more than this share of the effort is left, another search would end before it began.
TRIFLE_SHARE: Final = 0.08


#: So often hays are left out until a first program can be had, and each time a little more than the
#: least must be left of one, as leaving one out takes from what another may fall to.
FIRST_TRIES: Final = 12
MORE_EACH_TRY: Final = 0.1

#: Seasons of more hay amounts than this are read again from the best program.
LARGE: Final = 4_000


@dataclass(frozen=True, slots=True)
class Found:
    """What a search ended with: a program, its optimum with prices, and the proven bound."""

    choice: HayChoice
    optimum: Optimum
    bound: float


class Search:
    """A search for the best program that keeps the rules."""

    def __init__(
        self,
        relaxation: Relaxation,
        uses: LotUse,
        options: PlanOptions,
        say: Callable[[str], None],
        fixed_usd: float,
    ) -> None:
        self._optimum, self._uses = relaxation.optimum, uses
        self._standing = HeldModel(relaxation.model, relaxation.session, relaxation.tangents, uses)
        self._options, self._say, self._fixed = options, say, fixed_usd
        self._groups = relaxation.model.problem.shape[0]
        self._narrow = relaxation.narrow
        self._end = time.perf_counter() + options.seconds
        self._spent = 0.0
        self._first_work = 0.0
        self._repaired = self._repair_end = 0.0
        self.bound = relaxation.optimum.bound
        self.best = self._first(first_solution.READINGS[0])
        self._begin_from_another(relaxation.model)
        self._first_work = self._standing.session.work
        self._tell("A first program")

    def _begin_from_another(self, model: Model) -> None:
        """Take the hays in use of another program where they are better than the first ones."""
        if not (self._options.begin_from and self._uses.rules.any):
            return
        used = first_solution.uses_like(self._uses, model, self._options.begin_from, self._optimum)
        # It may be that a lot that is smaller now cannot give all of them their least.
        with suppress(SolveError):
            choice = self._settle(used)
            if self._is_better(choice):
                self.best = choice

    def run(self) -> Found:
        """Look for better programs until the effort is spent, and return the best."""
        if not is_some(self._time_left()) or not self._groups:
            return self._found()
        if not self._uses.rules.any:
            if not self._ended():
                self._search_whole()
            return self._found()
        self._repair(searching=False)
        if not self._ended():
            with ThreadPoolExecutor(max_workers=max(1, self._options.threads)) as pool:
                self._improve(pool)
        self._repair(searching=True)
        return self._found()

    def _repair(self, *, searching: bool) -> None:
        """Take away what is short and is not in the season without whole numbers.

        What that takes is no part of the effort for a better program: a shortage is worse than any
        cost.
        """
        session, model = self._standing.session, self._standing.model
        before, spent = session.work, self._spent
        least = repair.lack_usd(model, self._optimum.x)
        in_any_case = float(least.sum()) > repair.NOTHING_SHORT_USD
        most = repair.SHORT_REPAIR_EFFORT
        if not in_any_case:
            most = max(most, repair.REPAIR_TIMES * self._options.effort)
        self._repair_end = before + spent + most - self._repaired
        gained = True
        while gained and not self._repaired_enough():
            gaps = repair.gaps_of(repair.lack_usd(model, self.best.x), least)
            gained = any(self._fill(gap) for gap in gaps[: repair.GAPS_TRIED])
            if searching and not gained and gaps and not in_any_case:
                gained = self._search_for(gaps[0])
        self._repaired += session.work - before + self._spent - spent
        self._first_work += session.work - before
        self._spent = spent

    def _repaired_enough(self) -> bool:
        done = self._standing.session.work + self._spent
        return done >= self._repair_end or self._time_left() <= 0.0

    def _fill(self, gap: repair.Gap) -> bool:
        """Put hays in use where a group is short, and return whether that made it better."""
        with suppress(SolveError):
            for used in repair.choices_for(self._standing, self.best, self._optimum, gap):
                with suppress(SolveError):
                    if self._may_be_better(used) and self._take(self._settle(used)):
                        return True
                if self._repaired_enough():
                    return False
        return False

    def _may_be_better(self, used: BoolArray) -> bool:
        """Return whether hays in use would be better if loads could be split."""
        self._standing.hold(used)
        cost = self._standing.settled().objective + self._uses.changes_usd(used)
        return cost < self.best.cost - BETTER * self._money()

    def _search_for(self, gap: repair.Gap) -> bool:
        """Search a few weeks of a group that is short, wider as long as nothing is found."""
        for part in repair.PARTS:
            if self._repaired_enough():
                return False
            freedom = repair.freedom_for(self._standing, self.best, self._optimum, gap, part)
            small = self._part(self.best, freedom)
            point, choice = small.search(self._limits(PART_GAP, PART_NODES, part[2]))
            self._spent += point.work
            if choice is not None and self._take(choice):
                return True
        return False

    def _first(self, reading: first_solution.RunReading) -> HayChoice:
        """Return a first program; where a lot cannot give all their least, one with fewer hays."""
        uses = self._uses
        if not uses.rules.any:
            return self._settle(uses.possible)
        used = first_solution.first_uses(self._standing, self._optimum, reading)
        for tried in range(FIRST_TRIES):
            try:
                return self._settle(used)
            except SolveError:
                used = self._with_enough(used, reading, 1.0 + MORE_EACH_TRY * tried)
        return self._settle(uses.must)

    def _with_enough(
        self, used: BoolArray, reading: first_solution.RunReading, part: float
    ) -> BoolArray:
        """Return the hays in use without those that fall under the least when nothing holds them.

        They fall under it where they are less than a part of it. What is left of them is read off
        in runs again.
        """
        uses, standing = self._uses, self._standing
        upper = np.where(used, standing.model.upper[uses.column], 0.0)
        standing.bound(np.zeros(len(upper)), upper)
        x = standing.minimise().x[uses.column]
        kept = used & (x >= part * uses.least_kg)
        return first_solution.read_off(uses, kept | uses.must, x, reading.run)

    def _settle(self, used: BoolArray) -> HayChoice:
        """Return the least-cost program with these hays in use, its loads whole."""
        standing = self._standing
        standing.hold(used)
        x = standing.settled().x
        if not _whole(x[loads_of(standing.model)]):
            x = self._in_whole_loads(used, x)
        cost = float(standing.model.cost @ x) + self._uses.changes_usd(used)
        return HayChoice(used, x, cost)

    def _in_whole_loads(self, used: BoolArray, x: FloatArray) -> FloatArray:
        """Return amounts with whole loads: the best of a few ways to round them, each settled.

        The load furthest from whole is held from below and from above in turn, the nearer way
        first, until all are whole or it cannot become better.
        """
        standing, loads = self._standing, loads_of(self._standing.model)
        best, cost = x, np.inf
        ways = [(standing.model.lower[loads], standing.model.upper[loads])]
        for _ in range(LOAD_TRIES):
            if not ways:
                break
            lower, upper = ways.pop()
            standing.bound_loads(lower, upper)
            with suppress(SolveError):
                optimum = standing.settled()
                broken = np.abs(optimum.x[loads] - np.round(optimum.x[loads]))
                if optimum.objective >= cost - LOAD_GAP * abs(cost):
                    continue
                if _whole(optimum.x[loads]):
                    best, cost = optimum.x, optimum.objective
                    continue
                ways += _both_ways(lower, upper, int(np.argmax(broken)), optimum.x[loads])
        if best is not x:
            return best
        standing.hold(used, np.ceil(x - 1e-6))
        return standing.settled().x

    def _part(self, now: HayChoice, freedom: FreeSet) -> Subproblem:
        standing = self._standing
        return Subproblem(standing.model, standing.rows, self._uses, now, freedom)

    def _limits(self, gap: float, nodes: int, steps: int) -> SearchLimits:
        """Return the limits of a search, with the clock and a wish to stop beside them."""
        return SearchLimits(gap, nodes, steps, self._time_left(), self._options.stop)

    def _bound_beside(self, pool: ThreadPoolExecutor) -> Future[WholePoint] | None:
        """Begin to search the whole season at once, for its bound alone."""
        size = len(self._uses.column)
        if self._narrow or size > MOST_AT_ONCE:
            return None
        self._whole = self._part(self.best, self._everything())
        work = BOUND_SHARE * self._left()
        if work < self._whole.work_to_begin():
            return None
        steps = self._whole.steps_for(work)
        return pool.submit(self._whole.minimise, self._limits(NEAR_ENOUGH, 1, steps))

    def _everything(self) -> FreeSet:
        everybody = np.ones(self._groups, dtype=bool)
        return FreeSet(everybody, np.ones(len(self._uses.column), dtype=bool), others_move=True)

    def _improve(self, pool: ThreadPoolExecutor) -> None:
        """Search part after part, the groups taken in turn, as long as there is effort and gain."""
        if len(self._uses.column) <= SMALL and not self._narrow:
            self._search_whole(WHOLE_SHARE)
            if not self._over():
                self._read_again()
                self._in_parts(pool)
            if not self._over():
                self._search_whole()
            return
        self._read_again()
        self._in_parts(pool, bound_beside=True)

    def _in_parts(self, pool: ThreadPoolExecutor, *, bound_beside: bool = False) -> None:
        """Search part after part, more hays each time nothing more is gained."""
        chance = np.random.default_rng(self._options.seed)
        raised = self._bound_beside(pool) if bound_beside else None
        if raised is not None:
            hays = first_solution.cheapest_hays(self._uses, self._optimum, HAYS_IN_PARTS[0])
            together, steps = SWEEPS[0]
            for groups in self._neighbours(chance, together)[:PARTS_BESIDE]:
                self._try([groups], hays, steps, None)
            point = raised.result()
            self._spent += point.work
            self.bound = max(self.bound, self._whole.bound(point))
        for count in HAYS_IN_PARTS:
            hays = first_solution.cheapest_hays(self._uses, self._optimum, count)
            idle = 0
            while idle < len(SWEEPS) and not self._over():
                together, steps = SWEEPS[idle]
                gained = self._sweep(hays, steps, self._neighbours(chance, together), pool)
                idle = 0 if gained else idle + 1

    def _read_again(self) -> None:
        """Read first programs off in other ways, where that takes a moment only."""
        size = len(self._uses.column)
        if size > MOST_AT_ONCE:
            return
        large = size > LARGE
        for reading in first_solution.READINGS[1 : 2 if large else None]:
            if self._over():
                return
            self._take(self._first(reading))
        for reading in first_solution.NEARER if large else ():
            if self._over():
                return
            begin = self.best.x
            used = first_solution.first_uses(self._standing, self._optimum, reading, begin)
            with suppress(SolveError):
                self._take(self._settle(used))

    def _sweep(
        self, hays: BoolArray, steps: int, freed: Sequence[BoolArray], pool: ThreadPoolExecutor
    ) -> bool:
        """Free some groups after others, and return whether that made the program better."""
        gain = False
        for at in range(0, len(freed), PARTS_AT_ONCE):
            gain |= self._try(freed[at : at + PARTS_AT_ONCE], hays, steps, pool)
        return gain

    def _search_whole(self, share: float = 1.0) -> None:
        """Search the season in one piece, again while its best breaks a curved row.

        It takes no more than a share of the effort left.
        """
        everything = self._everything()
        if not self._uses.rules.any:
            everything = replace(everything, groups=np.zeros(self._groups, dtype=bool))
        for _ in range(WHOLE_ROUNDS):
            part = self._part(self.best, everything)
            steps = part.steps_for(share * self._left())
            point, choice = part.search(self._limits(0.0, 10**6, steps))
            self._spent += point.work
            if not self._narrow:
                self.bound = max(self.bound, part.bound(point))
            if choice is None:
                return
            # What was found until the effort was spent is a program too.
            self._take(choice)
            cut_short = choice.cost - part.bound(point) > PROVEN * self._money()
            if cut_short or self._gap() <= PROVEN or self._ended():
                return

    def _neighbours(self, chance: np.random.Generator, together: int) -> list[BoolArray]:
        """Return which groups to free together: those that meet by chance, every group once."""
        order = chance.permutation(self._groups)
        sets = []
        for at in range(0, self._groups, together):
            freed = np.zeros(self._groups, dtype=bool)
            freed[order[at : at + together]] = True
            sets.append(freed)
        return sets

    def _try(
        self,
        apart: Sequence[BoolArray],
        hays: BoolArray,
        steps: int,
        pool: ThreadPoolExecutor | None,
    ) -> bool:
        """Search with some groups free, and beside it with others, and take what is better."""
        if self._over():
            return False
        moving = int(self.best.used.sum()) <= MOST_MOVING
        wanted = hays | self.best.used
        parts = [self._part(self.best, FreeSet(groups, wanted, moving)) for groups in apart]
        each = self._left() / PARTS_AT_ONCE
        limits = [
            self._limits(PART_GAP, PART_NODES, min(steps, part.steps_for(each))) for part in parts
        ]
        if pool is None:
            found = [part.search(one) for part, one in zip(parts, limits, strict=True)]
        else:
            tasks = [pool.submit(part.search, one) for part, one in zip(parts, limits, strict=True)]
            found = [task.result() for task in tasks]
        self._spent += sum(point.work for point, _ in found)
        better = [
            (choice, groups)
            for (_, choice), groups in zip(found, apart, strict=True)
            if choice is not None and self._is_better(choice)
        ]
        return self._take_together(better)

    def _take_together(self, better: Sequence[tuple[HayChoice, BoolArray]]) -> bool:
        """Take the hays of all at once where that is better still, or else the best of them."""
        before = self.best.cost
        for choice, _ in sorted(better, key=lambda one: one[0].cost)[:1]:
            self._take(choice)
        if len(better) > 1:
            used = self.best.used.copy()
            for choice, groups in better:
                mine = groups[self._uses.group]
                used[mine] = choice.used[mine]
            # It may be that a lot cannot give all of them their least.
            with suppress(SolveError):
                self._take(self._settle(used))
        return self.best.cost < before

    def _take(self, choice: HayChoice) -> bool:
        """Keep a program if it is better when its curved rows hold, and say so."""
        if not self._is_better(choice):
            return False
        if self._standing.tangents.improve(choice.x, move=False):
            try:
                choice = self._settle(choice.used)
            except SolveError:
                return False
        if not self._is_better(choice):
            return False
        self.best = choice
        self._tell("A better program")
        return True

    def _is_better(self, choice: HayChoice) -> bool:
        return choice.cost < self.best.cost - BETTER * self._money()

    def _tell(self, what: str) -> None:
        gap = 100.0 * self._gap()
        far = f"at most {gap:.2g}% above the least possible"
        if gap > TELLING_PCT:
            far = "how far from the least possible is not yet known"
        self._say(f"{what}: {money_text(self._money())}, {far}")

    def _money(self) -> float:
        """Return what the best program costs, without the prices of what is missing."""
        columns, x = self._standing.model.columns, self.best.x
        paid = float(
            self._standing.model.cost[: columns.first_shortage] @ x[: columns.first_shortage]
        )
        return paid + self._uses.changes_usd(self.best.used) + self._fixed

    def _gap(self) -> float:
        """Return how far the best program is from the bound, as a share of its money.

        Shortages that cannot be helped are in both, and would hide the distance.
        """
        return max(0.0, self.best.cost - self.bound) / max(1.0, abs(self._money()))

    def _found(self) -> Found:
        """Settle the best program once more, for amounts to the last digit and for prices."""
        self._standing.hold(self.best.used, self.best.x, whole=True)
        optimum = self._standing.settled()
        cost = optimum.objective + self._uses.changes_usd(self.best.used)
        choice = replace(self.best, x=optimum.x, cost=cost)
        return Found(choice, optimum, min(self.bound, cost))

    def _over(self) -> bool:
        return self._gap() <= NEAR_ENOUGH or self._ended()

    def _ended(self) -> bool:
        trifle = TRIFLE_SHARE * self._options.effort
        return self._left() <= trifle or self._time_left() <= 0.0

    def _left(self) -> float:
        """Return the effort that is left since the first program, in units of work."""
        settling = self._standing.session.work - self._first_work
        return self._options.effort - self._spent - settling

    def _time_left(self) -> float:
        if self._options.stop is not None and self._options.stop():
            return 0.0
        return self._end - time.perf_counter()


def _both_ways(
    lower: FloatArray, upper: FloatArray, at: int, wanted: FloatArray
) -> list[tuple[FloatArray, FloatArray]]:
    """Return the bounds of loads with one of them held to whole loads, the nearer way last."""
    most, least = upper.copy(), lower.copy()
    most[at] = np.floor(wanted[at])
    least[at] = most[at] + 1.0
    fewer, more = (lower, most), (least, upper)
    return [fewer, more] if wanted[at] - most[at] > 0.5 else [more, fewer]


def _whole(values: FloatArray) -> bool:
    return bool(np.all(np.abs(values - np.round(values)) < 1e-7))
