"""Hay kept for the first days of what is raised by degrees, so that stock stay full meanwhile."""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.program.problem.problem import Problem
from rickyard.types import BoolArray, FloatArray

#: A hay with nitrate that begins by thirds is held back so many days' worth in all. [d]
#: Arithmetic: two thirds, then one third, of three days each.
THIRDS_HELD_DAYS: Final = 3.0

#: Which parts of it are held back, over so many days each.
HELD_PARTS: Final = (2.0 / 3.0, 1.0 / 3.0)
DAYS_OF_A_THIRD: Final = 3

#: What begins waits so long after another danger. [d] Common practice, no published source.
APART_DAYS: Final = 7

#: So much more is kept, for amounts that are rounded. [-] Common practice, no published source.
HELD_SPARE: Final = 1.05

#: Less than this is not fed, kg DM per head and day.
NOTHING_KG: Final = 1e-6


def set_aside_kg_dm(problem: Problem, eaten: FloatArray) -> FloatArray:
    """Return the hay that makes up for what is held back at the beginning of constant amounts.

    Parameters
    ----------
    problem : Problem
        The season with its rules of steps and of hay begun by thirds.
    eaten : array, shape (groups, sources, periods)
        Amounts that are constant over the weeks of a ration. [kg DM per head and day]

    Returns
    -------
    array, shape (sources,)
        Of hay with nitrate that ends as other begins as far as it is fed, else by the parts of the
        hays beside it; on the first day of the season for hay in the yard. [kg DM]
    """
    found = np.zeros(len(problem.sources.values))
    offered = eaten / (1.0 - problem.sources.feeding_loss_frac[:, :, None])
    limited = np.zeros(eaten.shape[:2], dtype=bool)
    for begin in problem.begins:
        limited[begin.group, list(begin.sources)] = True
    limited |= only_mixed(problem)
    hay = problem.sources.is_hay[None, :] & ~limited
    keep = np.ones(offered.shape[1:])
    keep[: problem.sources.lot_count] = problem.keep
    for g in range(len(offered)):
        spared = np.zeros(offered.shape[2])
        for t, by_old in _carried_on(problem, offered[g], g):
            spared[t] += float(by_old.sum())
            found += HELD_SPARE * problem.needs.groups[g].head * by_old / keep[:, t]
        for t, held in _held(problem, offered[g], g):
            held_kg = max(0.0, held - float(spared[t]))
            beside = np.where(hay[g], offered[g, :, t], 0.0)
            whole = float(beside.sum())
            if whole > NOTHING_KG:
                head = problem.needs.groups[g].head
                found += HELD_SPARE * head * held_kg * beside / whole / keep[:, t]
    return found


def only_mixed(problem: Problem) -> BoolArray:
    """Return what each group may have only as part of a mix, so that it never makes up.

    Parameters
    ----------
    problem : Problem
        The season with its rules of safety.

    Returns
    -------
    array of bool, shape (groups, sources)
        Whether a rule says so.
    """
    groups, sources = problem.needs.groups, problem.sources
    found = np.zeros((len(groups), len(sources.is_hay)), dtype=bool)
    for one in (one for one in sources.bound if one.rule.mixed):
        g = [group.group_id for group in groups].index(one.group_id)
        found[g, [value.source_id for value in sources.values].index(one.source_id)] = True
    return found


def _carried_on(problem: Problem, offered: FloatArray, g: int) -> list[tuple[int, FloatArray]]:
    """Return where hay with nitrate that a group knows stands in for other that begins as it ends.

    With each period, by how much a head, (sources,). [kg DM]
    """
    begins = [one for one in problem.begins if one.group == g]
    mine = [i for one in begins for i in one.sources]
    found = []
    for begin in begins:
        line = offered[list(begin.sources)].sum(axis=0)
        for t in np.flatnonzero((line[1:] > NOTHING_KG) & (line[:-1] <= NOTHING_KG)) + 1:
            by_old = np.zeros(len(offered))
            held = [float(line[t]) * part for part in HELD_PARTS]
            for i in mine:
                ends = offered[i, t] <= NOTHING_KG < offered[i, t - 1]
                if ends and problem.sources.allowed[g, i, t]:
                    each = [min(one, float(offered[i, t - 1])) for one in held]
                    held = [one - kg for one, kg in zip(held, each, strict=True)]
                    by_old[i] += sum(each) * DAYS_OF_A_THIRD
            if by_old.any():
                found.append((int(t), by_old))
    return found


def _held(problem: Problem, offered: FloatArray, g: int) -> list[tuple[int, float]]:
    """Return where a group begins on something, and what it is held back a head. [kg DM]."""
    begun: list[tuple[int, int, float, float]] = []
    for begin in problem.begins:
        if begin.group == g:
            line = offered[list(begin.sources)].sum(axis=0)
            rises = np.flatnonzero((line > NOTHING_KG) & (np.append(0.0, line[:-1]) <= NOTHING_KG))
            begun += [(int(t), 0, THIRDS_HELD_DAYS, float(line[t])) for t in rises]
    for step in problem.steps:
        if step.group == g and step.days > 1:
            line = offered[list(step.sources)].sum(axis=0)
            rise = np.diff(line, prepend=step.before_kg)
            over = np.flatnonzero(rise > step.free + NOTHING_KG)
            days = (step.days - 1) / 2.0
            begun += [(int(t), step.days, days, float(rise[t])) for t in over]
    found = []
    for t in sorted({one[0] for one in begun}):
        kinds = sorted({one[1] for one in begun if one[0] == t})
        held = sum(
            (days + APART_DAYS * kinds.index(kind)) * kg for at, kind, days, kg in begun if at == t
        )
        found.append((t, held))
    return found
