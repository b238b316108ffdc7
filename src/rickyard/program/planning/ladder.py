"""What to do where hay is lacking, in an adviser's order, each with what it takes off the lack.

Weigh and test; waste less; wean early; buy a listed feed that spares hay; give hay by the day; buy
the rest. In place of buying: fewer head, grass elsewhere, a class sold early. Each is measured
behind those before it, so that what they take off adds up to what is lacking.

Source of the order: University of Georgia Extension, Bulletin 1323; University of Nebraska-Lincoln,
Beef, management plan for drought.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial
from typing import Final

import numpy as np

from rickyard.display import Display, display_for, money_text
from rickyard.farm import Farm, FeedKind
from rickyard.program.ask import (
    DEARER,
    LACKING_DM_PCT,
    Allowance,
    Inquiry,
    Question,
    hay_like,
    hay_usd,
    season_asked,
    short_of_hay,
    with_hay,
)
from rickyard.program.planning import ladder_steps as steps
from rickyard.program.planning.ladder_steps import Step
from rickyard.program.result import Remedy, RemedyKind, SeasonProgram
from rickyard.program.solver import Meter
from rickyard.quantities import KG_PER_TONNE
from rickyard.types import FloatArray, IntArray

#: What takes off less than this share of what is lacking is not told. [-]
LEAST_SHARE: Final = 0.02

#: The least hay is looked for: to what it costs so many times its price is added, and what is
#: missing of the needs of hay counts so many times its own: all is bought that helps, and no more.
HAY_COUNTS: Final = 50.0
SHORT_COUNTS: Final = 100.0

#: It may cost so many times the work of any other kind of answer: each step is a season by itself.
EFFORT_COUNTS: Final = 5.0

#: Feeds of which more may spare hay.
SPARING: Final = (FeedKind.SUPPLEMENT, FeedKind.GRAIN, FeedKind.FORAGE)


@dataclass(frozen=True, slots=True)
class _Stands:
    """A farm, the least hay that it lacks, and the season's cost with that bought. [kg; USD]."""

    farm: Farm
    lacks_kg: float
    usd: float


def with_ladder(farm: Farm, program: SeasonProgram, question: Question) -> SeasonProgram:
    """Return a program with what to do about hay that is lacking, in an adviser's order.

    Raises ``SolveError`` if the solver fails.

    Parameters
    ----------
    farm : Farm
        The farm.
    program : SeasonProgram
        Its program, with its other remedies.
    question : Question
        How much work it may cost. Nothing is added where one group or one day is asked about.

    Returns
    -------
    SeasonProgram
        With further ``remedies`` at their head, those that have a ``rung``.
    """
    if program.hay_to_buy is None or question.group_id or question.on:
        return program
    rungs = tuple(_Ladder(farm, program, question).rungs())
    told = {(one.kind, one.group_id) for one in rungs}
    twice = ("other_feeder", "limit_hay")
    others = [
        one
        for one in program.remedies
        if one.kind not in twice or (one.kind, one.group_id) not in told
    ]
    return replace(program, remedies=(*rungs, *others))


class _Ladder:
    """The rungs of a farm: each stands on what those before it have made of the farm."""

    def __init__(self, farm: Farm, program: SeasonProgram, question: Question) -> None:
        self._farm, self._program = farm, program
        self._display: Display = display_for(farm.units)
        self._hay, self._usd_per_kg = hay_like(farm, program), hay_usd(program)
        self._meter = Meter()
        self._allowance = Allowance(self._meter, EFFORT_COUNTS * question.effort, question.seconds)
        self._place = 0
        self._first = self._stands(farm)

    def rungs(self) -> Iterator[Remedy]:
        """Yield what adds up to what is lacking, then what would do in place of buying hay."""
        now, display = self._first, self._display
        if now.lacks_kg <= 0.0:
            return
        yield from self._weighing()
        for tried in (
            steps.wasting_less,
            partial(steps.weaning_early, display=display),
            self._feeds,
            partial(steps.limiting_hay, display=display),
        ):
            for step in tried(now.farm):
                then = self._after(step, now)
                if then is not None:
                    yield self._rung(step, now, then, left_kg=then.lacks_kg)
                    now = then
        yield from self._buying(now)
        for step in (
            *steps.fewer_mothers(now.farm),
            *steps.grass_elsewhere(now.farm, display),
            *steps.selling_a_class(now.farm, display),
        ):
            then = self._after(step, now)
            if then is not None:
                yield self._rung(step, now, then, left_kg=None)

    def _after(self, step: Step, now: _Stands) -> _Stands | None:
        """Return how the farm stands with something done; ``None`` where it hardly helps."""
        least = LEAST_SHARE * self._first.lacks_kg
        if now.lacks_kg < least or self._allowance.spent():
            return None
        then = self._stands(step.done(now.farm))
        return then if now.lacks_kg - then.lacks_kg >= least else None

    def _stands(self, farm: Farm) -> _Stands:
        """Return the least hay that a farm lacks, and what its season costs with that bought."""
        inquiry = self._asking(farm)
        hay = int(inquiry.extra[len(farm.lots)])
        x = self._least(inquiry, np.array([hay]))
        money = np.delete(inquiry.cost * x, inquiry.penalties)
        usd = float(money.sum()) + inquiry.problem.fixed_usd
        return _Stands(farm, self._as_fed_kg(float(x[hay])), usd)

    def _asking(self, farm: Farm) -> Inquiry:
        """Return an inquiry into a season that could have hay like that here, as its last lot."""
        season = season_asked(with_hay(farm, self._hay, 0.0), self._program)
        return Inquiry(season, meter=self._meter)

    def _least(self, inquiry: Inquiry, more: IntArray, counts: float = HAY_COUNTS) -> FloatArray:
        """Return the season with hay bought; ``more``: columns of what can be had, hay first.

        ``counts``: so many times its price the hay counts; the least is bought where it is dear.
        """
        counted = inquiry.cost.copy()
        counted[short_of_hay(inquiry.problem, inquiry.model.columns.shortage)] *= SHORT_COUNTS
        # What is fed costs its price as it is fed, bought hay too: the least hay costs more.
        counted[more[0]] = counts * self._usd_per_kg * KG_PER_TONNE
        with (
            inquiry.at_most(more, np.full(len(more), np.inf)),
            inquiry.costing(counted),
        ):
            return inquiry.ask().optimum.x

    def _feeds(self, farm: Farm) -> Iterator[Step]:
        """Yield more of each listed feed that runs out, as the cheapest season buys it."""
        for feed in farm.feeds:
            if feed.most_kg is None or feed.kind not in SPARING or self._allowance.spent():
                continue
            inquiry = self._asking(farm)
            at = [one.source_id for one in inquiry.problem.sources.values].index(feed.feed_id)
            more = inquiry.extra[[len(farm.lots), at]]
            tonnes = float(self._least(inquiry, more, DEARER)[more[1]])
            value = inquiry.problem.sources.values[at]
            kg = tonnes * KG_PER_TONNE / (value.dm_pct / 100.0)
            if kg < LEAST_SHARE * self._first.lacks_kg:
                continue
            amount = self._display.amount_text(kg)
            price = self._display.price_a_ton(feed.price_usd_per_kg)
            told = (
                f"{amount} more of {feed.name}, at {price}: so much the cheapest season buys of it "
                "where hay can be had too. Ask the seller first whether there is so much."
            )
            yield Step(
                "feed",
                f"Buy {amount} more of {feed.name}",
                told,
                {"most_kg": feed.most_kg + kg},
                source_id=feed.feed_id,
                amount_kg=kg,
            )

    def _weighing(self) -> Iterator[Remedy]:
        words = steps.weighing_words(self._farm)
        if words is not None:
            yield self._remedy("weigh", *words)

    def _buying(self, now: _Stands) -> Iterator[Remedy]:
        """Yield the hay that is still lacking, at what hay is worth here."""
        if now.lacks_kg < LEAST_SHARE * self._first.lacks_kg:
            return
        display = self._display
        amount = display.amount_text(now.lacks_kg)
        usd_per_kg = self._usd_per_kg * LACKING_DM_PCT / 100.0
        usd = usd_per_kg * now.lacks_kg
        told = (
            f"Buy {amount} of hay at the least, of about {self._hay['tdn']:.0f}% TDN and "
            f"{self._hay['cp']:.0f}% protein: {money_text(usd)} at "
            f"{display.price_a_ton(usd_per_kg)}, what hay is worth here; a short year may ask "
            "more. Ask for its test, and have it tested for nitrate, before you pay."
        )
        yield replace(
            self._remedy("better_hay", f"Buy {amount} of hay, tested", told),
            amount_kg=now.lacks_kg,
            usd=round(usd, 2),
            tdn_pct=self._hay["tdn"],
            cp_pct=self._hay["cp"],
            removes_kg=now.lacks_kg,
            left_kg=0.0,
        )

    def _rung(self, step: Step, now: _Stands, then: _Stands, left_kg: float | None) -> Remedy:
        display, usd = self._display, round(then.usd - now.usd, 2) + 0.0
        off = now.lacks_kg - then.lacks_kg
        lacking = display.amount_text(now.lacks_kg)
        money = f"costs {money_text(abs(usd))} {'less' if usd < 0.0 else 'more'}"
        place = "In place of buying. " if left_kg is None else ""
        told = (
            f"{place}{step.told} That takes {display.amount_text(off)} off the {lacking} of hay "
            f"still lacking; the season then {money}{step.apart}."
        )
        return replace(
            self._remedy(step.kind, step.title, told),
            group_id=step.group_id,
            source_id=step.source_id,
            amount_kg=step.amount_kg,
            head=step.head,
            on=step.on,
            usd=usd,
            removes_kg=off,
            left_kg=left_kg,
        )

    def _remedy(self, kind: RemedyKind, title: str, sentence: str) -> Remedy:
        """Return the next rung, of the whole farm and the whole season."""
        self._place += 1
        season = self._farm.season
        return Remedy(
            "", season.start, season.end, "", kind, "", None, None, None, sentence,
            rung=self._place, title=title,
        )  # fmt: skip

    def _as_fed_kg(self, tonnes: float) -> float:
        return tonnes * KG_PER_TONNE / (LACKING_DM_PCT / 100.0)
