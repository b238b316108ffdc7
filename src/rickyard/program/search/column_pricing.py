"""A large season with only the hays that may matter: which they are, and the program of them.

Where many groups could be fed any of many lots, nearly all of those amounts are zero in every
good program. A season of a few sampled weeks is solved first; at its prices each group and period
keeps its cheapest hays, and any other that turns out to be worth its price is let in later.
"""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any, Final

import numpy as np

from rickyard.program.model import Columns, Model, Tangents, build_model
from rickyard.program.problem import Beside, Ceiling, Problem
from rickyard.program.solver import NOWHERE, Session, numbered, placed
from rickyard.quantities import is_some
from rickyard.types import BoolArray, IntArray

#: Seasons with more amounts than this are narrowed.
WIDE: Final = 30_000

#: One period in so many is sampled, and each group keeps so many hays in a period.
SAMPLED: Final = 5
KEPT: Final = 10

#: So many periods before and after one in which a hay is kept, it is kept too.
BESIDE: Final = 2

#: Tables by group and source: their last axis is none of periods, however many there are.
BY_SOURCE: Final = ("feeding_loss_frac", "open_before")

#: Rounds of the sampled season: its prices need not be exact.
ROUNDS: Final = 3


def promising(problem: Problem, model: Model) -> BoolArray:
    """Return the amounts that are worth looking at, by a season of sampled periods.

    Everything that is no hay, and what a person wishes, is among them.
    """
    groups, sources, periods = problem.shape
    sample = np.arange(SAMPLED // 2, periods, SAMPLED)
    few = build_model(sampled(problem, sample))
    session = Session(few.cost, few.lower, few.upper, few.rows)
    tangents = Tangents(few, session)
    for _ in range(ROUNDS):
        optimum = session.minimise()
        tangents.improve(optimum.x, move=True)
    drop = np.full((groups, sources, len(sample)), np.inf)
    columns = few.columns
    head_days = few.problem.needs.head_days[columns.group, columns.period]
    drop[columns.group, columns.source, columns.period] = (
        optimum.reduced_cost[: columns.amounts] / head_days
    )
    near = np.abs(np.arange(periods)[:, None] - sample[None, :]).argmin(axis=1)
    hays = np.flatnonzero(problem.sources.is_hay)
    rank = np.zeros(problem.shape, dtype=np.int64)
    rank[:, hays, :] = drop[:, hays, :][:, :, near].argsort(axis=1).argsort(axis=1)
    wanted = (rank < KEPT) | is_some(problem.wished_kg_dm) | problem.must
    wanted = _in_runs(wanted)
    at = model.columns
    return np.asarray(wanted[at.group, at.source, at.period])


def _in_runs(wanted: BoolArray) -> BoolArray:
    """Return what is wanted with the periods beside it, so that hays can be fed in runs."""
    wider = wanted.copy()
    for shift in range(1, BESIDE + 1):
        wider[:, :, shift:] |= wanted[:, :, :-shift]
        wider[:, :, :-shift] |= wanted[:, :, shift:]
    return wider


def sampled(problem: Problem, sample: IntArray) -> Problem:
    """Return the season of some of its periods, each as long as all that it stands for."""
    needs = problem.needs
    periods = len(needs.periods)
    each = periods / len(sample)
    changes = _cut(needs, periods, sample)
    changes["days"] = changes["days"] * each
    changes["periods"] = tuple(needs.periods[t] for t in sample.tolist())
    for name in ("stage", "intake_rule"):
        rows = getattr(needs, name)
        changes[name] = tuple(tuple(row[t] for t in sample.tolist()) for row in rows)
    ceilings: tuple[Ceiling, ...] = tuple(
        replace(one, **_cut(one, periods, sample)) for one in problem.ceilings
    )
    fill = problem.fill
    return replace(
        problem,
        needs=replace(needs, **changes),
        fill=None if fill is None else replace(fill, **_cut(fill, periods, sample)),
        sources=replace(problem.sources, **_cut(problem.sources, periods, sample)),
        ceilings=ceilings,
        steps=(),  # periods apart are not tied to each other
        begins=(),
        besides=tuple(_sampled_beside(one, sample) for one in problem.besides),
        holds=(),
        descents=(),
        **_cut(problem, periods, sample),
    )


def _sampled_beside(one: Beside, sample: IntArray) -> Beside:
    on = None if one.on is None else one.on[sample]
    free_kg = None if one.free_kg is None else one.free_kg[sample]
    return replace(one, on=on, free_kg=free_kg)


def _cut(one: Any, periods: int, sample: IntArray) -> dict[str, Any]:
    """Return the arrays of a table that have a column for each period, cut to the sample."""

    def cut(value: Any) -> Any:
        if isinstance(value, dict):
            return {key: cut(inner) for key, inner in value.items()}
        is_by_period = isinstance(value, np.ndarray) and value.ndim >= 2
        return value[..., sample] if is_by_period and value.shape[-1] == periods else value

    before = {field.name: getattr(one, field.name) for field in fields(one)}
    after = {name: cut(value) for name, value in before.items()}
    return {
        name: value
        for name, value in after.items()
        if value is not before[name] and name not in BY_SOURCE
    }


def narrowed(model: Model, keep: BoolArray) -> tuple[Model, IntArray]:
    """Return a model without some of its amounts, and which of its variables are left.

    Parameters
    ----------
    model : Model
        The model.
    keep : array of bool, shape (amounts,)
        Which amounts stay.

    Returns
    -------
    tuple of Model and array of int
        The smaller model, and the places in the larger one of its variables.
    """
    columns = model.columns
    chosen = np.flatnonzero(keep)
    stays = np.ones(columns.count, dtype=bool)
    stays[: columns.amounts] = keep
    for index in (columns.rise, columns.unkept):
        gone = index[~keep]
        stays[gone[placed(gone)]] = False
    left = np.flatnonzero(stays)
    place = np.append(numbered(left, columns.count), NOWHERE)
    narrow = Columns(
        group=columns.group[chosen],
        source=columns.source[chosen],
        period=columns.period[chosen],
        loads=place[columns.loads],
        sold=place[columns.sold],
        total=place[columns.total],
        rise=place[columns.rise[chosen]],
        first_shortage=int(np.searchsorted(left, columns.first_shortage)),
        shortage={name: place[index] for name, index in columns.shortage.items()},
        farm_short={name: int(place[at]) for name, at in columns.farm_short.items()},
        unkept=place[columns.unkept[chosen]],
        count=len(left),
    )
    return (
        replace(
            model,
            columns=narrow,
            cost=model.cost[left],
            lower=model.lower[left],
            upper=model.upper[left],
            rows=model.rows.at(place),
            given=tuple(one.at(place) for one in model.given),
        ),
        left,
    )
