"""What became of each wish: whether the program keeps it, what it costs, and why not more."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from math import inf
from typing import Final

import numpy as np

from rickyard.display import Display, display_for, money_text
from rickyard.evidence import COMMON_PRACTICE
from rickyard.farm import Assumption, Farm
from rickyard.program.ask.sensitivity import eaten_in
from rickyard.program.ask.wish_prices import WishCost, wish_costs
from rickyard.program.problem import Problem, Wished, WishScope, counts_hays, wish_notes
from rickyard.program.result import Kept, SeasonProgram, Wish, WishOutcome, is_clear
from rickyard.program.solver import is_placed
from rickyard.quantities import is_some
from rickyard.types import BoolArray, FloatArray

#: An amount may miss the wished one by this share and still be it.
AMOUNT_SHARE: Final = 1e-4

#: Below this many kilograms of dry matter per head and day nothing is fed.
NOTHING_KG: Final = 1e-6

#: Differences below this many US dollars are called nothing.
NOTHING_USD: Final = 0.5

#: A shortage priced at less than this, about a megacalorie in the season, is nothing. [USD]
NOTHING_SHORT_USD: Final = 10.0

NO_ROOM: Final = "there is not enough of it, or the stock are at full appetite"
NO_ROOM_IN_USE: Final = (
    "there is not enough of it, the stock are at full appetite, or the rules about hays in use "
    "leave no room for it"
)
#: Said before the rest of a feed that is only raised slowly.
RAISED_SLOWLY: Final = "it is raised little by little from what they are used to"


def with_outcomes(
    program: SeasonProgram,
    farm: Farm,
    problem: Problem,
    wished: Wished,
    planned: Sequence[WishCost] = (),
    stop: Callable[[], bool] | None = None,
    effort: float = 0.0,
    seconds: float = inf,
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
    planned : sequence of WishCost
        What the first of them cost against a program planned without each.
    stop : callable, optional
        Asked again and again whether to leave the rest without a price.
    effort : float
        How much a search was allowed. [units of work]
    seconds : float
        How long it was asked to take by the clock. [s]

    Returns
    -------
    SeasonProgram
        With ``wishes``, in the order of the wishes.
    """
    if not wished.claims:
        return program
    costs = wish_costs(farm, problem, wished, stop, effort, seconds)
    costs[: len(planned)] = planned
    eaten = eaten_in(program, problem)
    outcomes = tuple(
        _outcome(farm, problem, claim, eaten, cost, program)
        for claim, cost in zip(wished.claims, costs, strict=True)
    )
    wishes = [claim.wish for claim in wished.claims]
    notes = [Assumption(note, COMMON_PRACTICE) for note in wish_notes(wishes)]
    return replace(program, wishes=outcomes, assumptions=(*program.assumptions, *notes))


def _outcome(
    farm: Farm,
    problem: Problem,
    claim: WishScope,
    eaten: FloatArray,
    cost: WishCost | None,
    program: SeasonProgram,
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
        if _is_raised_slowly(problem, claim):
            why = (*why, RAISED_SLOWLY)
        why = (*why, NO_ROOM_IN_USE if counts_hays(farm) else NO_ROOM)
    sentence = f"{_what(farm, problem, claim)}: {_how_far(claim, kept, met_days, asked_days, why)}"
    if kept != "not":
        sentence = f"{sentence} {_price(cost, program, mixed=counts_hays(farm))}".rstrip()
    return WishOutcome(claim.wish, kept, None if cost is None else cost.money, sentence)


def _is_raised_slowly(problem: Problem, claim: WishScope) -> bool:
    groups = {g for g in range(len(problem.needs.groups)) if bool(claim.asked[g].any())}
    return claim.wish.kind == "amount" and any(
        claim.source in one.sources and one.group in groups for one in problem.steps
    )


def _met(problem: Problem, claim: WishScope, eaten: FloatArray) -> BoolArray:
    """Return where a wish is kept, (groups, periods)."""
    if not is_placed(claim.source):
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


def _what(farm: Farm, problem: Problem, claim: WishScope) -> str:
    wish = claim.wish
    names = {value.source_id: value.name for value in problem.sources.values}
    groups = {group.group_id: group.name for group in problem.needs.groups}
    source = names.get(wish.source_id, wish.source_id)
    group = groups.get(wish.group_id, wish.group_id) if wish.group_id else "every group"
    lead = {"feed": source, "keep_off": f"No {source}", "amount": source}[wish.kind]
    if wish.kind == "amount":
        lead = f"{_amount_of(farm, problem, claim)} of {source} a head and day"
    return f"{lead} to {group} {_when(wish, display_for(farm.units))}"


def _amount_of(farm: Farm, problem: Problem, claim: WishScope) -> str:
    """Write an amount as it is put out, or as dry matter eaten where groups waste differently."""
    wish, display = claim.wish, display_for(farm.units)
    eaten = wish.kg_dm_per_head_day or 0.0
    ids = [group.group_id for group in problem.needs.groups]
    if not is_placed(claim.source) or wish.group_id not in ids:
        return f"{display.mass_text(eaten)} dry matter"
    loss = float(problem.sources.feeding_loss_frac[ids.index(wish.group_id), claim.source])
    dm_frac = problem.sources.values[claim.source].dm_pct / 100.0
    return display.mass_text(eaten / (1.0 - loss) / dm_frac)


def _when(wish: Wish, display: Display) -> str:
    if wish.start is None and wish.end is None:
        return "all season"
    if wish.start is None:
        return f"until the day before {display.day_text(wish.end)}" if wish.end else "all season"
    if wish.end is None:
        return f"from {display.day_text(wish.start)} on"
    return display.during_text(wish.start, wish.end)


def _how_far(
    claim: WishScope, kept: Kept, met_days: float, asked_days: float, why: Sequence[str]
) -> str:
    because = f", because {'; '.join(why)}" if why else ""
    if kept == "kept":
        return "kept."
    if kept == "not":
        return f"not kept{because}."
    if claim.wish.group_id:
        return f"kept on {met_days:.0f} of {asked_days:.0f} days only{because}."
    share = 100.0 * met_days / asked_days
    return f"kept only in part, {share:.0f}% of it{because}."


def _price(cost: WishCost | None, program: SeasonProgram, *, mixed: bool) -> str:
    if cost is None:
        return "Its cost was not worked out."
    said = "It costs nothing"
    if abs(cost.money) > NOTHING_USD:
        said = f"It {'costs' if is_some(cost.money) else 'saves'} {money_text(abs(cost.money))}"
        clear = is_clear(cost.money, program)
        if cost.by_planning:
            open_yet = "" if clear else "; a longer search (--effort) may change that"
            said = f"{said} against the plan without it{open_yet}"
        else:
            freely = ", counted with hays mixed freely" if mixed else ""
            unclear = "" if clear else " (no clear change: the search is not that exact)"
            said = f"{said}{freely}{unclear}"
    more_short = cost.short > NOTHING_SHORT_USD
    return f"{said}{', and more is short with it than without' if more_short else ''}."
