"""What became of each wish: whether the program keeps it, what it costs, and why not more."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rickyard.farm import Assumption, Farm
from rickyard.program.options import Wish
from rickyard.program.problem import Problem
from rickyard.program.result import Kept, SeasonProgram, WishOutcome
from rickyard.program.wishes import Claim, Wished, wish_notes, with_wishes
from rickyard.program.words import Words, day, dollars, span

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]

#: An amount may miss the wished one by this share and still be it.
AMOUNT_SHARE: Final = 1e-4

#: Below this many kilograms of dry matter per head and day nothing is fed.
NOTHING_KG: Final = 1e-6

#: Differences below this many US dollars are called nothing.
NOTHING_USD: Final = 0.5

#: More wishes than this are not priced one by one, which takes a solution each.
MOST_PRICED: Final = 20

#: So long wishes are priced at most; the rest is told without a price. [s]
PRICING_SECONDS: Final = 20.0

NO_ROOM: Final = "there is not enough of it, or the stock can eat no more"


@dataclass(frozen=True, slots=True)
class RelaxedCost:
    """Cost of a season when hays may be mixed at will: money, and the price of shortages. [USD]."""

    money: float
    short: float


def with_outcomes(
    program: SeasonProgram,
    farm: Farm,
    problem: Problem,
    wished: Wished,
    relaxed: Callable[[Problem], RelaxedCost],
    stop: Callable[[], bool] | None = None,
) -> SeasonProgram:
    """Add to a program what became of each wish.

    Parameters
    ----------
    program : SeasonProgram
        The program made with the wishes.
    farm : Farm
        The farm.
    problem : Problem
        Its season without wishes.
    wished : Wished
        The season with them, and what the rules left of each.
    relaxed : callable
        Solves a season as if hays could be mixed at will.
    stop : callable, optional
        Asked before each wish whether to leave the rest without a price.

    Returns
    -------
    SeasonProgram
        With ``wishes``, in the order of the wishes.
    """
    if not wished.claims:
        return program
    costs = _costs(farm, problem, wished, relaxed, stop)
    eaten = _eaten(program, problem)
    outcomes = tuple(
        _outcome(farm, problem, claim, eaten, cost)
        for claim, cost in zip(wished.claims, costs, strict=True)
    )
    wishes = [claim.wish for claim in wished.claims]
    notes = [
        Assumption(note, "common practice, no published source") for note in wish_notes(wishes)
    ]
    return replace(program, wishes=outcomes, assumptions=(*program.assumptions, *notes))


def _costs(
    farm: Farm,
    problem: Problem,
    wished: Wished,
    relaxed: Callable[[Problem], RelaxedCost],
    stop: Callable[[], bool] | None,
) -> list[RelaxedCost | None]:
    """Return for each wish what the season costs more with it than with the others alone."""
    wishes = [claim.wish for claim in wished.claims]
    if len(wishes) > MOST_PRICED:
        return [None] * len(wishes)
    until = time.monotonic() + PRICING_SECONDS
    whole = relaxed(wished.problem)
    found: list[RelaxedCost | None] = []
    for at, claim in enumerate(wished.claims):
        if not claim.left.any():
            found.append(RelaxedCost(0.0, 0.0))
        elif time.monotonic() > until or (stop is not None and stop()):
            found.append(None)
        else:
            others = [wish for other, wish in enumerate(wishes) if other != at]
            without = relaxed(with_wishes(farm, problem, others).problem)
            found.append(RelaxedCost(whole.money - without.money, whole.short - without.short))
    return found


def _eaten(program: SeasonProgram, problem: Problem) -> FloatArray:
    """Return what the program feeds, kg DM per head and day, (groups, sources, periods)."""
    group_at = {group.group_id: g for g, group in enumerate(problem.needs.groups)}
    source_at = {value.source_id: i for i, value in enumerate(problem.sources.values)}
    eaten = np.zeros(problem.shape)
    for row in program.feeding:
        cell = (group_at[row.group_id], source_at[row.source_id], row.period)
        eaten[cell] += row.eaten_kg_dm_per_head_day
    return eaten


def _outcome(
    farm: Farm, problem: Problem, claim: Claim, eaten: FloatArray, cost: RelaxedCost | None
) -> WishOutcome:
    met = _met(problem, claim, eaten)
    days = problem.needs.days
    asked_days, met_days = float(days[claim.asked].sum()), float(days[met].sum())
    kept: Kept = "part"
    if not met.any():
        kept = "not"
    elif bool(met[claim.asked].all()):
        kept = "kept"
    why = claim.why_less
    if bool((claim.left & ~met).any()):
        why = (*why, NO_ROOM)
    sentence = f"{_what(farm, problem, claim)}: {_how_far(claim, kept, met_days, asked_days, why)}"
    if kept != "not":
        sentence = f"{sentence} {_price(cost)}".rstrip()
    return WishOutcome(claim.wish, kept, None if cost is None else cost.money, sentence)


def _met(problem: Problem, claim: Claim, eaten: FloatArray) -> BoolArray:
    """Return where a wish is kept, (groups, periods)."""
    if claim.source < 0:
        return np.zeros_like(claim.asked)
    amount = eaten[:, claim.source, :]
    wish = claim.wish
    if wish.kind == "feed":
        return np.asarray(claim.asked & (amount > NOTHING_KG))
    if wish.kind == "keep_off":
        return np.asarray(claim.asked & (amount <= NOTHING_KG))
    wanted = wish.kg_dm_per_head_day or 0.0
    near = np.abs(amount - wanted) <= AMOUNT_SHARE * wanted + NOTHING_KG
    return np.asarray(claim.asked & near)


def _what(farm: Farm, problem: Problem, claim: Claim) -> str:
    wish = claim.wish
    names = {value.source_id: value.name for value in problem.sources.values}
    groups = {group.group_id: group.name for group in problem.needs.groups}
    source = names.get(wish.source_id, wish.source_id)
    group = groups.get(wish.group_id, wish.group_id) if wish.group_id else "every group"
    lead = {"feed": source, "keep_off": f"No {source}", "amount": source}[wish.kind]
    if wish.kind == "amount":
        lead = f"{_amount_of(farm, problem, claim)} of {source} a head and day"
    return f"{lead} to {group} {_when(wish)}"


def _amount_of(farm: Farm, problem: Problem, claim: Claim) -> str:
    """Write an amount as it is put out, or as dry matter eaten where groups waste differently."""
    wish, words = claim.wish, Words(farm.units)
    eaten = wish.kg_dm_per_head_day or 0.0
    ids = [group.group_id for group in problem.needs.groups]
    if claim.source < 0 or wish.group_id not in ids:
        return f"{words.mass(eaten)} dry matter"
    loss = float(problem.sources.feeding_loss_frac[ids.index(wish.group_id), claim.source])
    dm_frac = problem.sources.values[claim.source].dm_pct / 100.0
    return words.mass(eaten / (1.0 - loss) / dm_frac)


def _when(wish: Wish) -> str:
    if wish.start is None and wish.end is None:
        return "all season"
    if wish.start is None:
        return f"until the day before {day(wish.end)}" if wish.end else "all season"
    if wish.end is None:
        return f"from {day(wish.start)} on"
    return span(wish.start, wish.end)


def _how_far(
    claim: Claim, kept: Kept, met_days: float, asked_days: float, why: Sequence[str]
) -> str:
    because = f", because {'; '.join(why)}" if why else ""
    if kept == "kept":
        return "kept."
    if kept == "not":
        return f"not kept{because}."
    if claim.wish.group_id:
        return f"kept only in part, on {met_days:.0f} of {asked_days:.0f} days{because}."
    share = 100.0 * met_days / asked_days
    return f"kept only in part, {share:.0f} % of it{because}."


def _price(cost: RelaxedCost | None) -> str:
    if cost is None:
        return "What it costs was not worked out."
    more_short = cost.short > NOTHING_USD
    if cost.money > NOTHING_USD:
        said = f"It costs {dollars(cost.money)}"
    elif cost.money < -NOTHING_USD:
        said = f"It saves {dollars(-cost.money)}"
    else:
        said = "It costs nothing"
    return f"{said}{', and more is short with it than without' if more_short else ''}."
