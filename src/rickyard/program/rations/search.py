"""The search for rations: first cuts and things, then one group changed at a time.

A program of rations is its cuts, the things in use in each ration, and amounts. Given the first
two, the amounts are a linear program over all groups. The search begins with cuts read off a
steady weekly program, chooses the things of one group after another, and then changes one group at
a time: a border moved, taken away or added, or its things chosen anew. It keeps what is better,
ends when its effort is spent or when it is asked to, and has a program and its distance from a
proven bound at any time.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from rickyard.display import money_text
from rickyard.program.model import LotUse, Model
from rickyard.program.rations.few_things import dear_things, few_things
from rickyard.program.rations.held import HeldRations, Limits, Program
from rickyard.program.rations.other_things import Exchange, Reopening, choose_things, looked_at
from rickyard.program.rations.practical import NOTHING_SHORT_USD, eaters
from rickyard.program.result import PlanOptions
from rickyard.program.runs import (
    RATION_USD,
    SpanRules,
    Spans,
    eaten_before,
    other_cuts,
    spans_like,
)
from rickyard.program.solver import Meter, SearchLimits, SolveError
from rickyard.quantities import is_some
from rickyard.types import BoolArray, FloatArray

#: So many times the effort may be spent while something is short that need not be, and no more than
#: so much beyond it. [-, units of work]
REPAIR_TIMES: Final = 10.0
REPAIR_WORK: Final = 5.0

#: A program must be better by this share of its cost to count as better.
BETTER: Final = 1e-6

#: So many exchanges of one thing for another are tried before anything is searched: fewer where
#: something is short that need not be, as a search of what is short does more there.
EXCHANGES: Final = 200
EXCHANGES_WHEN_SHORT: Final = 60

#: All rations choose together from so many things at most. That search ends this near to its best,
#: and spends no more than this share of the effort.
TOGETHER: Final = 400
TOGETHER_GAP: Final = 3.5e-3
TOGETHER_SHARE: Final = 0.5

#: A search for the things of one group ends this near to its best, and takes no more steps.
CHOICE_GAP: Final = 1e-3
CHOICE_STEPS: Final = 60


@dataclass(slots=True)
class Best:
    """The best program so far, and the held rations that stand at it."""

    program: Program
    held: HeldRations


class RationSearch:
    """A search for the best program of rations.

    Parameters
    ----------
    weekly : Model
        The weekly program.
    uses : LotUse
        Its hays.
    limits : Limits
        What a ration may hold.
    rules : SpanRules
        How weeks may be cut.
    options : PlanOptions
        Effort, and whom to ask whether to stop.
    say : callable
        Told of each better program.
    """

    def __init__(
        self,
        weekly: Model,
        uses: LotUse,
        limits: Limits,
        rules: SpanRules,
        options: PlanOptions,
        say: Callable[[str], None],
    ) -> None:
        self._weekly, self._uses, self._limits, self._rules = weekly, uses, limits, rules
        self._options, self._say = options, say
        self._meter = Meter()
        self._end = time.perf_counter() + options.seconds
        self._first_work = self._least_short = 0.0

    def run(self, *cuts: Spans, near: FloatArray | None = None) -> tuple[Program, HeldRations]:
        """Return the best program found, and the held rations that stand at it.

        Parameters
        ----------
        cuts : Spans
            Where to begin: those that few things suit best of these.
        near : array, optional
            A weekly program, for the diets to begin with.
        """
        self._say("Putting together the first rations")
        best = self._first(cuts, near)
        self._from_another(best)
        self._first_work = self._meter.work
        self._tell(best, "First rations")
        return self._searched(best)

    def _from_another(self, best: Best) -> None:
        """Take the rations of another program, where one is given and they are better here."""
        problem = self._weekly.problem
        eaten = eaten_before(problem, self._options.begin_from)
        spans = spans_like(self._rules, eaten)
        if spans is None or not self._options.begin_from:
            return
        with suppress(SolveError):
            held = self._held(spans, best.program.x)
            used = held.used_of(is_some(eaten)) & held.counts
            self._take(best, held, used, held.whole_loads(used))

    def run_from(self, program: Program) -> tuple[Program, HeldRations]:
        """Go on from a program, as ``run`` goes on from its first."""
        return self._searched(self._again(program))

    def anew(self, program: Program, *, dear: bool) -> Program:
        """Choose few things anew in the rations of a program, and exchange them.

        ``dear``: whether among those that are left when others are made dear. Nothing is told of
        it, as it may be no better than what there is.
        """
        self._say = _silent
        held = self._held(program.spans, program.x)
        among = dear_things(held) if dear else None
        best = Best(held.program(few_things(held, among), moving=8), held)
        self._exchange(best)
        return best.program

    def mended(self, program: Program) -> tuple[Program, HeldRations]:
        """Give other things to rations that are short of what they need not be, and no more."""
        return self._without_margin(self._again(program))

    def _again(self, program: Program) -> Best:
        """Return the best with the cuts of a program, its things to begin with."""
        held = self._held(program.spans, program.x)
        free = np.ones(len(held.at), dtype=bool)
        held.hold(~free, free)
        least = held.settled(moving=8).x
        self._least_short = held.short_usd(least)
        allowed = held.short_by_ration(least)
        try:
            best = Best(held.program(held.used_of(program.used) & held.counts), held)
        except SolveError:
            best = Best(held.program(few_things(held), moving=8), held)
        self._exchange(best)
        self._mend(best, allowed)
        return best

    def _mend(self, best: Best, allowed: dict[tuple[int, int], float]) -> None:
        """Give other things to rations that are short of what they need not be, those most first.

        What has been exchanged before is not counted as searched.
        """
        self._first_work = self._meter.work
        short_of = best.held.short_by_ration(best.program.x)
        beyond = {ration: short - allowed[ration] for ration, short in short_of.items()}
        for ration, short in sorted(beyond.items(), key=lambda one: -one[1]):
            if short > NOTHING_SHORT_USD and not self._over(best):
                self._other_things(best, *ration)

    def _searched(self, best: Best) -> tuple[Program, HeldRations]:
        if not self._over(best):
            self._together(best)
        if not self._over(best):
            self._reopen(best)
        while not self._over(best) and self._sweep(best):
            pass
        return self._without_margin(best)

    def _without_margin(self, best: Best) -> tuple[Program, HeldRations]:
        """Let the program have what was kept free of the money and of the reserve."""
        limits = replace(self._limits, margin=0.0)
        now = best.program
        held = HeldRations(self._weekly, self._uses, limits, now.spans, self._meter, now.x)
        return held.program(held.used_of(now.used)), held

    def _held(self, spans: Spans, near: FloatArray | None) -> HeldRations:
        return HeldRations(self._weekly, self._uses, self._limits, spans, self._meter, near)

    def _first(self, cuts: tuple[Spans, ...], near: FloatArray | None) -> Best:
        """Leave out what is too many; a ration that is then short is given other things.

        Cuts that are cheapest with anything in use may starve somebody with few: where they do,
        the next are looked at, and the cheapest of all goes on.
        """
        found: list[tuple[Best, FloatArray]] = []
        for one in dict.fromkeys(cuts):
            held = self._held(one, near)
            free = np.ones(len(held.at), dtype=bool)
            held.hold(~free, free)
            least = held.settled(moving=8).x
            self._least_short = held.short_usd(least)
            best = Best(held.program(few_things(held), moving=8), held)
            self._exchange(best)
            found.append((best, least))
            if not self._needlessly_short(best):
                break
        best, least = min(found, key=lambda one: one[0].program.cost)
        self._least_short = best.held.short_usd(least)
        self._mend(best, best.held.short_by_ration(least))
        return best

    def _together(self, best: Best) -> None:
        """Choose the things of all rations at once, where those are not too many to."""
        held = best.held
        candidates = held.counts & (held.most >= held.least)
        if int(candidates.sum()) > TOGETHER:
            return
        work = TOGETHER_SHARE * self._options.effort
        steps = held.session.inner.steps_for(work)
        limits = replace(
            self._choice_limits(), gap=TOGETHER_GAP, nodes=steps, steps=steps, as_given=True
        )
        with suppress(SolveError):
            nothing = np.zeros_like(candidates)
            chosen = choose_things(held, candidates, limits, nothing, changes=False)
            if chosen is not None:
                self._take(best, held, chosen.used, chosen.loads)

    def _exchange(self, best: Best) -> None:
        """Exchange things of all rations one for another while that helps."""
        held, now = best.held, best.program
        used = held.used_of(now.used) & held.counts
        most = EXCHANGES_WHEN_SHORT if self._needlessly_short(best) else EXCHANGES
        other = Exchange(held, used, now.loads, most).run()
        if (other != used).any():
            with suppress(SolveError):
                self._take(best, held, other, now.loads)

    def _reopen(self, best: Best) -> None:
        """Open rations two at a time while that helps."""
        held, now = best.held, best.program
        used = held.used_of(now.used) & held.counts
        other = Reopening(held, used, now.loads, self._options.seed).run(lambda: self._over(best))
        if (other != used).any():
            with suppress(SolveError):
                self._take(best, held, other, now.loads)

    def _choice_limits(self) -> SearchLimits:
        return SearchLimits(
            gap=CHOICE_GAP,
            nodes=200,
            steps=CHOICE_STEPS,
            seconds=self._seconds(),
            stop=self._stop(),
        )

    def _sweep(self, best: Best) -> bool:
        """Try to change every group once, and return whether anything became better."""
        gained = False
        for group in eaters(self._weekly.problem):
            if self._over(best):
                return gained
            for number in range(len(best.program.spans.starts[group])):
                if not self._over(best):
                    gained |= self._other_things(best, group, number)
            gained |= self._other_borders(best, group)
        return gained

    def _other_things(self, best: Best, group: int, number: int) -> bool:
        """Choose the things of one ration anew."""
        held = best.held
        now = held.used_of(best.program.used) & held.counts
        with suppress(SolveError):
            held.program(now, best.program.loads)
            prices = held.session.last
            assert prices is not None
            mine = (held.group == group) & (held.span == number)
            candidates = mine & looked_at(held, group, now, prices)
            limits = self._choice_limits()
            chosen = choose_things(held, candidates, limits, now & ~mine)
            if chosen is not None:
                used = chosen.used | (now & ~mine)
                other = (used != now).any() or (chosen.loads != best.program.loads).any()
                return bool(other) and self._take(best, held, used, chosen.loads)
        return False

    def _other_borders(self, best: Best, group: int) -> bool:
        gained, looking = False, True
        while looking and not self._over(best):
            looking = False
            for starts in other_cuts(self._rules, best.program.spans, group):
                if self._over(best):
                    break
                spans = best.program.spans.with_group(group, starts)
                with suppress(SolveError):
                    held = self._held(spans, best.program.x)
                    loads = best.program.loads
                    for used in _carried(best.program, spans, group):
                        if self._take(best, held, held.used_of(used) & held.counts, loads):
                            gained = looking = True
                            break
                if looking:
                    break
        return gained

    def _take(self, best: Best, held: HeldRations, used: BoolArray, loads: FloatArray) -> bool:
        """Keep a program if it is better by more than what its rations are worth to be spared."""
        program = held.program(used, loads)
        now = best.program
        more = _rations(program.spans) - _rations(now.spans)
        if program.cost + RATION_USD * more >= now.cost - BETTER * max(1.0, abs(now.cost)):
            return False
        best.program, best.held = program, held
        self._tell(best, "Better rations")
        return True

    def _tell(self, best: Best, what: str) -> None:
        self._say(f"{what}: {money_text(best.program.cost + self._weekly.problem.fixed_usd)}")

    def _over(self, best: Best) -> bool:
        """Say whether to end; what is short and need not be is worth more than the effort."""
        effort = self._options.effort
        if self._needlessly_short(best):
            effort = min(REPAIR_TIMES * effort, effort + REPAIR_WORK)
        return self._meter.work - self._first_work >= effort or self._seconds() <= 0.0

    def _needlessly_short(self, best: Best) -> bool:
        return best.held.short_usd(best.program.x) > self._least_short + NOTHING_SHORT_USD

    def _seconds(self) -> float:
        if self._options.stop is not None and self._options.stop():
            return 0.0
        return self._end - time.perf_counter()

    def _stop(self) -> Callable[[], bool] | None:
        return self._options.stop


def _silent(_: str) -> None:
    return None


def _rations(spans: Spans) -> int:
    return sum(len(one) for one in spans.starts)


def _carried(program: Program, spans: Spans, group: int) -> list[BoolArray]:
    """Return use by week under other cuts: each ration keeps the things of most of its weeks.

    Where that differs, the things of its first and of its last weeks are tried too.
    """
    found: list[BoolArray] = []
    for pick in ("middle", "first", "last"):
        used = program.used.copy()
        for span in spans.of_group(group):
            at = {"first": span.start, "last": span.stop - 1}.get(
                pick, (span.start + span.stop - 1) // 2
            )
            used[group][:, span.start : span.stop] = program.used[group][:, at : at + 1]
        if not any((used == one).all() for one in found):
            found.append(used)
    return found
