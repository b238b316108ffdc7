"""What a person wants of the program, as far as the farm's rules leave it.

A hazard, a bar, a date and a limit of feeds.csv always win over a wish. Among wishes the one that
stands first wins. What is left of a wish is kept whatever it costs: before money, and before the
needs of the stock, whose shortage is then named.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from typing import Final

import numpy as np

from rickyard.display import display_for, listed
from rickyard.farm import Farm, WishRow
from rickyard.program.problem.no_fall import descents_of
from rickyard.program.problem.problem import Problem
from rickyard.program.problem.wish_words import (
    EARLIER,
    TOO_MANY_HAYS,
    against_rules,
    counts_hays,
    unknown_words,
)
from rickyard.program.result import Wish
from rickyard.types import BoolArray, FloatArray

#: Some of a feed that is no hay: so much of the most that one head may be given. Common practice.
SOME_OF_THE_MOST: Final = 0.5

#: An amount below this is none. [kg DM per head and day]
NONE_KG: Final = 1e-6


@dataclass(frozen=True, slots=True)
class WishScope:
    """What is left of a wish.

    ``asked`` marks the groups and periods it speaks of in which the group is here, and ``left``
    those that no rule and no earlier wish takes away, both (groups, periods). ``source`` is -1
    where the farm has no such lot or feed. ``why_less`` says what took some of it away.
    """

    wish: Wish
    source: int
    asked: BoolArray
    left: BoolArray
    why_less: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Wished:
    """A season problem in which wishes are kept, and what is left of each."""

    problem: Problem
    claims: tuple[WishScope, ...]


def with_wishes(farm: Farm, problem: Problem, wishes: Sequence[Wish]) -> Wished:
    """Write wishes into a season problem.

    Parameters
    ----------
    farm : Farm
        The farm; its bars, dates and numbers of hays are read.
    problem : Problem
        Its season as plain arrays, without wishes.
    wishes : sequence of Wish
        What is wanted, the most wanted first.

    Returns
    -------
    Wished
        The problem with less that is allowed, what must be in use and what is wished at least;
        the same problem where nothing is wished.
    """
    if not wishes:
        return Wished(problem, ())
    book = _Book(farm, problem)
    claims = tuple(book.claim(wish) for wish in wishes)
    fixed = ~np.isnan(book.amount)
    # A hay that is kept off is not in the problem at all; of one with an amount there is no more.
    allowed = problem.sources.allowed & ~(book.amount <= NONE_KG)
    most = np.where(fixed, book.amount, problem.sources.most_kg_dm)
    must = (book.fed | (book.amount > NONE_KG)) & allowed
    least = np.where(fixed, book.amount, book.serving)
    sources = replace(problem.sources, allowed=allowed, most_kg_dm=most)
    descents = descents_of(problem.needs, sources)
    changed = replace(
        problem, sources=sources, must=must, wished_kg_dm=least * must, descents=descents
    )
    return Wished(changed, claims)


class _Book:
    """What has been promised so far: what is fed, and in which amount where one is set (g, i, t).

    ``amount`` is NaN where none is set and 0 where a hay is kept off.
    """

    def __init__(self, farm: Farm, problem: Problem) -> None:
        self.farm, self.problem, self.display = farm, problem, display_for(farm.units)
        self.fed = np.zeros(problem.shape, dtype=bool)
        self.amount = np.full(problem.shape, np.nan)
        self.source_at = {value.source_id: i for i, value in enumerate(problem.sources.values)}
        self.is_hay = problem.sources.is_hay
        self.serving = _some(farm, problem, self.is_hay)

    def claim(self, wish: Wish) -> WishScope:
        asked = _asked(self.problem, wish)
        source = self.source_at.get(wish.source_id, -1)
        if source < 0 or not asked.any():
            why = unknown_words(self.farm, wish, known=source >= 0)
            return WishScope(wish, source, asked, np.zeros_like(asked), (why,))
        left, why_less = asked.copy(), []
        for taken, why in self._taken(wish, source, asked):
            if (left & taken).any():
                why_less.append(why)
                left &= ~taken
        if wish.kind == "feed":
            self.fed[:, source, :] |= left
        else:
            self.amount[:, source, :][left] = _amount(wish)
        return WishScope(wish, source, asked, left, tuple(dict.fromkeys(why_less)))

    def _taken(self, wish: Wish, source: int, asked: BoolArray) -> Iterator[tuple[BoolArray, str]]:
        """Tell what takes a wish away where, the farm's own rules first."""
        fed, amount = self.fed[:, source, :], self.amount[:, source, :]
        serving = self.serving[:, source, :]
        if wish.kind == "feed":
            yield from against_rules(self.farm, self.problem, source, asked, serving)
            yield amount <= NONE_KG, EARLIER
            yield from self._too_many(source)
            return
        wanted = _amount(wish)
        name = self.problem.sources.values[source].name
        least = self.problem.sources.least_kg_dm[:, source, :]
        yield least > wanted + NONE_KG, f"feeds.csv has every head get some {name}"
        differs = ~np.isnan(amount) & (np.abs(amount - wanted) > NONE_KG)
        yield differs | (fed & (wanted <= NONE_KG)), EARLIER
        if wanted > NONE_KG:
            yield from against_rules(
                self.farm, self.problem, source, asked, np.full(asked.shape, wanted)
            )
            if self.is_hay[source] and counts_hays(self.farm):
                why = (
                    f"less than {self.display.mass_text(float(serving.max()))} of a hay is not fed"
                )
                yield wanted < serving - NONE_KG, why
            yield from self._too_many(source)

    def _too_many(self, source: int) -> Iterator[tuple[BoolArray, str]]:
        """Tell where a group has as many hays promised already as it may be fed at once."""
        if not self.is_hay[source]:
            return
        must = self.fed | (self.amount > NONE_KG)
        promised = (must & self.is_hay[None, :, None]).sum(axis=1)
        season = self.farm.season.hays_at_once
        most = [
            season if group.hays_at_once is None else group.hays_at_once
            for group in self.problem.needs.groups
        ]
        limit = np.array([np.inf if one is None else float(one) for one in most])
        yield (promised >= limit[:, None]) & ~must[:, source, :], TOO_MANY_HAYS


def _amount(wish: Wish) -> float:
    return (wish.kg_dm_per_head_day or 0.0) if wish.kind == "amount" else 0.0


def _some(farm: Farm, problem: Problem, is_hay: BoolArray) -> FloatArray:
    """Return how much of a source is some of it, (g, i, t). [kg DM per head and day]."""
    share = farm.season.least_serving_pct_bw / 100.0
    serving = np.repeat(share * problem.needs.full_weight_kg[:, None, :], len(is_hay), axis=1)
    other = ~is_hay[None, :, None]
    most = problem.sources.most_kg_dm
    return np.asarray(np.where(other, np.minimum(serving, SOME_OF_THE_MOST * most), serving))


def wishes_of(farm: Farm, problem: Problem) -> tuple[Wish, ...]:
    """Return the wishes that stand in a farm's folder.

    Parameters
    ----------
    farm : Farm
        Its wishes are read; their amounts are what is put out, water and waste included.
    problem : Problem
        The season; it knows what each group wastes.

    Returns
    -------
    tuple of Wish
        In the order of the rows. An amount for every group becomes a wish for each of them, as
        what they waste of it differs.
    """
    return tuple(wish for row in farm.wishes for wish in _wishes_of_row(problem, row))


def _wishes_of_row(problem: Problem, row: WishRow) -> Iterator[Wish]:
    plain = Wish(row.wish.value, row.source_id, row.group_id, row.start, row.end)
    at = [value.source_id for value in problem.sources.values]
    if row.as_fed_kg_per_head_day is None or row.source_id not in at:
        yield plain
        return
    i = at.index(row.source_id)
    dry = row.as_fed_kg_per_head_day * problem.sources.values[i].dm_pct / 100.0
    for g, group in enumerate(problem.needs.groups):
        if row.group_id in ("", group.group_id):
            eaten = dry * (1.0 - float(problem.sources.feeding_loss_frac[g, i]))
            yield replace(plain, group_id=group.group_id, kg_dm_per_head_day=eaten)


def _asked(problem: Problem, wish: Wish) -> BoolArray:
    """Return the groups and periods that a wish speaks of.

    Hay is kept off in every period that shares a day with the wish, and fed in those whose middle
    day lies in it, as a stated need holds; a wish too short for that speaks of what it touches.
    """
    needs = problem.needs
    touched, inside = [], []
    for period in needs.periods:
        end = period.start + timedelta(days=period.days)
        middle = period.start + timedelta(days=period.days // 2)
        starts = wish.start is None or wish.start < end
        touched.append(starts and (wish.end is None or wish.end > period.start))
        begun = wish.start is None or wish.start <= middle
        inside.append(begun and (wish.end is None or wish.end > middle))
    when = touched if wish.kind == "keep_off" or not any(inside) else inside
    who = [wish.group_id in ("", group.group_id) for group in needs.groups]
    both = np.array(who, dtype=bool)[:, None] & np.array(when, dtype=bool)[None, :]
    return np.asarray(both & needs.here)


def wish_notes(wishes: Sequence[Wish]) -> list[str]:
    """Say how wishes are taken, for the list of what is taken for granted.

    Parameters
    ----------
    wishes : sequence of Wish
        The wishes.

    Returns
    -------
    list of str
        Sentences; empty without a wish.

    Examples
    --------
    >>> wish_notes([])
    []
    """
    if not wishes:
        return []
    kinds = {wish.kind for wish in wishes}
    words = {"feed": "feeding", "keep_off": "keeping off", "amount": "setting an amount"}
    named = listed([words[kind] for kind in words if kind in kinds])
    return [
        f"Wishes ({named}) are kept before money and before needs, whose shortage is named; "
        "hazards, bars, dates and limits of feeds.csv go before them, and an earlier wish before "
        "a later one. What each costs is worked out as if hays could be mixed at will."
    ]
