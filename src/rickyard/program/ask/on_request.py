"""The longer answers about a program, for one who asks: each is found by solving again."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass, replace
from datetime import date
from functools import partial
from math import inf
from typing import Final, TypeVar

from rickyard.display import Display, display_for
from rickyard.farm import Assumption, Farm
from rickyard.program.ask.allowance import Allowance
from rickyard.program.ask.avoid_shortage import remedies
from rickyard.program.ask.hay_to_buy import with_hay_to_look_for
from rickyard.program.ask.less_waste import limiting, other_feeders
from rickyard.program.ask.price_ranges import with_leaving_price, with_sale_prices
from rickyard.program.ask.sensitivity import Inquiry, eaten_in
from rickyard.program.ask.without_hay import weeks_of, with_swap
from rickyard.program.ask.worth_by_planning import with_planned_worth
from rickyard.program.inputs import assumed
from rickyard.program.problem import Problem, problem_of, wishes_of, with_wishes
from rickyard.program.rations import with_free_choice
from rickyard.program.result import (
    FeedWorth,
    LotReason,
    LotTestWorth,
    LotWorth,
    Remedy,
    SeasonProgram,
)
from rickyard.program.solver import Meter

#: How much each kind of answer may cost when nobody says; what is begun is finished. [units of
#: work, of which one takes about a second]
ANSWER_EFFORT: Final = 1.0

#: So many kinds of answers are worked on at once.
ANSWERED_AT_ONCE: Final = 2

#: Remedies, hay done without, prices of feeds, prices of lots, tests.
KINDS_OF_ANSWERS: Final = 5


#: What one kind of answer is.
Answer = TypeVar("Answer")


@dataclass(frozen=True, slots=True)
class Question:
    """What is asked: of one group or all, on one day or all.

    ``effort`` is how much work each kind of answer may cost before no more of it is begun, and
    ``seconds`` how long it may take by the clock.
    """

    group_id: str = ""
    on: date | None = None
    effort: float = ANSWER_EFFORT
    seconds: float = inf

    def is_about(self, group_id: str, start: date, end: date) -> bool:
        """Return whether something of a group on some days is asked about."""
        mine = not self.group_id or self.group_id == group_id
        return mine and (self.on is None or start <= self.on < end)

    def is_about_run(self, reason: LotReason) -> bool:
        """Return whether the run of a hay is asked about."""
        return self.is_about(reason.group_id, reason.start, reason.end)

    def allowance(self, inquiry: Inquiry) -> Allowance:
        """Return what one kind of answer may spend from now on."""
        return Allowance(inquiry.meter, self.effort, self.seconds)


def with_answers(
    farm: Farm,
    program: SeasonProgram,
    question: Question = Question(),
    problem: Problem | None = None,
    progress: Callable[[str], None] | None = None,
) -> SeasonProgram:
    """Return a program with what doing without each hay would cost, and more of that kind.

    Raises ``SolveError`` if the solver fails.

    Parameters
    ----------
    farm : Farm
        The farm.
    program : SeasonProgram
        Its program.
    question : Question
        Whom and when is asked about; prices of feeds and lots are always answered.
    problem : Problem, optional
        The season the program was made from, where that is not the farm's with its own wishes.
    progress : callable, optional
        Told of each kind of answer as it is begun.

    Returns
    -------
    SeasonProgram
        With ``usd_over_run`` of its reasons, ``remedies``, the prices at which feeds leave and
        lots are better sold, how far the worth of a lot holds, and tests weighed by planning for
        better and poorer hay.
    """
    say = progress or _silent
    say("Solving the season again")
    display = display_for(farm.units)
    problem = season_asked(farm, program, problem)
    whole = Inquiry.of(farm, problem, program)

    def removing(inquiry: Inquiry) -> tuple[Remedy, ...]:
        return _removing(farm, program, question, inquiry, display)

    # Each kind has an inquiry of its own, so that what it finds does not depend on which of two
    # processors is free first.
    with ThreadPoolExecutor(max_workers=ANSWERED_AT_ONCE) as pool:

        def begun(answer: Callable[[Inquiry], Answer]) -> Future[Answer]:
            return pool.submit(lambda: answer(whole.beside(meter=Meter())))

        # What may take longest is begun first, so that it does not go on alone at the end.
        feeds = begun(lambda inquiry: _feeds(inquiry, program, question, display))
        removed = begun(removing)
        reasons = begun(lambda inquiry: _reasons(whole, inquiry, program, question, display))
        tests = begun(lambda inquiry: _tests(farm, inquiry, program, question))
        lots = begun(lambda inquiry: _lots(farm, inquiry, program, question, display))
        say("What would remove each shortage")
        removed.result()
        say("What each test is worth")
        tests.result()
        say("What doing without each hay would cost, and at which prices feeds leave")
        return replace(
            program,
            remedies=removed.result(),
            reasons=reasons.result(),
            feed_worth=feeds.result(),
            lot_worth=lots.result(),
            test_worth=tests.result(),
            assumptions=(*program.assumptions, *_by_weeks(program)),
        )


def with_remedies(farm: Farm, program: SeasonProgram, question: Question) -> SeasonProgram:
    """Return a program with what would remove each shortage, and no other answer.

    Raises ``SolveError`` if the solver fails.

    Parameters
    ----------
    farm : Farm
        The farm.
    program : SeasonProgram
        Its program.
    question : Question
        Whom and when is asked about, and how much work it may cost.

    Returns
    -------
    SeasonProgram
        With ``remedies``.
    """
    inquiry = Inquiry.of(farm, season_asked(farm, program), program)
    return replace(
        program, remedies=_removing(farm, program, question, inquiry, display_for(farm.units))
    )


def _removing(
    farm: Farm, program: SeasonProgram, question: Question, inquiry: Inquiry, display: Display
) -> tuple[Remedy, ...]:
    shortages = [
        one for one in program.shortages if question.is_about(one.group_id, one.start, one.end)
    ]
    allowed = question.allowance(inquiry)
    bought = partial(_wished, with_hay_to_look_for(farm))
    found = remedies(inquiry, shortages, display, allowed, bought, other_feeders(farm))
    if question.group_id or question.on or not program.rations:
        return found
    return (*found, *limiting(inquiry, farm))


def _silent(_: str) -> None:
    return None


def _wished(farm: Farm) -> Problem:
    free = problem_of(farm)
    return with_wishes(farm, free, wishes_of(farm, free)).problem


def season_asked(farm: Farm, program: SeasonProgram, problem: Problem | None = None) -> Problem:
    """Return the season in which what a program is asked is solved again.

    Parameters
    ----------
    farm : Farm
        The farm, or one with something changed.
    program : SeasonProgram
        The program that is asked about.
    problem : Problem, optional
        The season it was made from, where that is not the farm's with its own wishes.

    Returns
    -------
    Problem
        Wishes included; beside rations free choice fills, and what is raised is held back by days.
    """
    season = _wished(farm) if problem is None else problem
    if not program.rations:
        return season
    eaten = eaten_in(program, season)
    return with_free_choice(farm, replace(season, steps=(), begins=()), eaten)


def _by_weeks(program: SeasonProgram) -> list[Assumption]:
    """Say that the answers beside rations are by weeks."""
    what = "What other hay, other prices and a test would change"
    return [assumed("by_weeks", what=what)] if program.rations else []


def _reasons(
    whole: Inquiry, inquiry: Inquiry, program: SeasonProgram, question: Question, display: Display
) -> tuple[LotReason, ...]:
    """Answer of each hay in an inquiry that can let in others in the weeks that it is fed."""
    allowance = question.allowance(inquiry)
    found = []
    for one in program.reasons:
        asked = question.is_about_run(one)
        if asked and not allowance.spent():
            opening = weeks_of(inquiry.problem, one)
            one = with_swap(whole.beside(opening, inquiry.meter), one, display)
        found.append(one)
    return tuple(found)


def _feeds(
    inquiry: Inquiry, program: SeasonProgram, question: Question, display: Display
) -> tuple[FeedWorth, ...]:
    allowance = question.allowance(inquiry)
    first = inquiry.problem.sources.lot_count
    return tuple(
        with_leaving_price(inquiry, first + number, one, display) if not allowance.spent() else one
        for number, one in enumerate(program.feed_worth)
    )


def _lots(
    farm: Farm, inquiry: Inquiry, program: SeasonProgram, question: Question, display: Display
) -> tuple[LotWorth, ...]:
    allowance = question.allowance(inquiry)
    return tuple(
        with_sale_prices(farm, inquiry, number, one, display) if not allowance.spent() else one
        for number, one in enumerate(program.lot_worth)
    )


def _tests(
    farm: Farm, inquiry: Inquiry, program: SeasonProgram, question: Question
) -> tuple[LotTestWorth, ...]:
    allowance = question.allowance(inquiry)
    return tuple(
        with_planned_worth(farm, inquiry, program, one) if not allowance.spent() else one
        for one in program.test_worth
    )
