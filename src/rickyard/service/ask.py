"""What a person asks of a program: why, what if, how it compares, what a surer supply costs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from math import inf
from pathlib import Path
from typing import Final

from rickyard.farm import Farm
from rickyard.program import planning
from rickyard.program.ask import (
    ANSWER_EFFORT,
    AssuranceCurve,
    Question,
    price_of_assurance,
    with_answers,
)
from rickyard.program.compare import (
    Comparison,
    Facts,
    FedAgainst,
    compare,
    compare_facts,
    facts_of,
    fed_against,
)
from rickyard.program.result import SeasonProgram
from rickyard.quantities import OutOfRange
from rickyard.service import plan
from rickyard.service.errors import NotUnderstood, worked_out
from rickyard.service.opened import OpenedFarm
from rickyard.service.pages import groups_named
from rickyard.sheets.data_files import NotAPlan, read_plan

#: What a program is called beside earlier ones, and beside ones with something changed.
NOW: Final = "this plan"
AS_IT_IS: Final = "as it is"


def explain(
    planned: plan.Planned,
    group_id: str | None = None,
    week: int | None = None,
    *,
    effort: float = ANSWER_EFFORT,
    seconds: float = inf,
    progress: plan.Progress | None = None,
) -> tuple[SeasonProgram, Question]:
    """Return a program with its longer answers, and what was asked.

    ``planned``: the program, just made or adopted. ``group_id``: ask of this group alone. ``week``:
    ask of this period alone, the first being 1. ``effort``: how much work each kind of answer may
    cost [units of work]. ``seconds``: how long each kind may take by the clock [s]. ``progress``:
    told of each kind of answer as it is begun. Raises ``NotUnderstood`` if the farm has no such
    group, or the season no such period. Raises ``NoProgram`` if the solver fails.
    """
    program = planned.program
    groups_named(planned.farm, group_id)
    if week is not None and not 1 <= week <= len(program.periods):
        raise NotUnderstood(
            f"The season has {len(program.periods)} weeks (or periods); there is no {week}.\n"
            "  Give --week a number among them."
        )
    on = None if week is None else program.periods[week - 1].start
    question = Question(group_id or "", on, effort, seconds)
    with worked_out():
        told = with_answers(planned.planned_farm, program, question, progress=progress)
        told = planning.with_ladder(planned.planned_farm, told, question)
    return told, question


def what_if(
    opened: OpenedFarm,
    changes: Sequence[planning.Change],
    request: plan.PlanRequest,
    *,
    together: bool = False,
    progress: plan.Progress | None = None,
    stop: plan.Stop | None = None,
) -> tuple[SeasonProgram, list[planning.WhatIfAnswer]]:
    """Return the program of a farm as it is, and what each change would make of it.

    ``changes``: what would be different, each alone. ``request``: how to plan every one of them.
    ``together``: whether all of it happens at once instead. ``progress``, ``stop``: as
    ``plan_farm`` takes them, for all programs. ``answers``: what each change makes of it, in their
    order. Raises ``NotUnderstood`` if a change cannot be made. Raises ``CannotWorkOut``,
    ``NoProgram`` as ``plan_farm``.
    """
    if not changes:
        raise NotUnderstood(
            "Nothing is asked. Say what would be different, as: rickyard what-if FOLDER "
            "--head cows=70 --price cubes=+20%."
        )
    farm = plan.farm_asked_for(opened, request)
    cases = [list(changes)] if together else [[change] for change in changes]
    try:
        farms = [planning.changed(farm, case) for case in cases]
    except OutOfRange as problem:
        raise NotUnderstood(str(problem)) from problem
    options = request.options(stop)
    base = plan.sound_program(farm, options, plan.named_progress(progress, AS_IT_IS))
    beginning = replace(options, begin_from=planning.using(base))
    found = []
    for case, other in zip(cases, farms, strict=True):
        program = plan.sound_program(
            other, beginning, plan.named_progress(progress, planning.labels_of(farm, case))
        )
        found.append(planning.answer(farm, base, case, program))
    return base, found


def side_by_side(base: SeasonProgram, answers: Sequence[planning.WhatIfAnswer]) -> Comparison:
    """Return the program as it is beside those with something changed.

    Returns all of them, the program as it is first.
    """
    return compare([(AS_IT_IS, base), *((one.label, one.program) for one in answers)])


def earlier_plans(paths: Sequence[Path]) -> list[Facts]:
    """Read programs written before, to compare with.

    Returns what each says of its season, in the same order. Raises ``NotUnderstood`` if one of them
    is no plan that can be read.
    """
    try:
        return [read_plan(path) for path in paths]
    except NotAPlan as problem:
        raise NotUnderstood(f"--compare: {problem}") from problem


def beside_earlier(program: SeasonProgram, earlier: Sequence[Facts]) -> Comparison:
    """Return a program beside ones written before.

    ``earlier``: what is compared of those before. Returns all of them, this one first.
    """
    return compare_facts([facts_of(NOW, program), *earlier])


def fed_until(farm: Farm, earlier: Sequence[Facts], day: date) -> tuple[FedAgainst, Facts | None]:
    """Return what was fed until a day beside the earlier program that was followed, if any.

    ``earlier``: the programs given; the first that began by the start of the season was followed.
    ``day``: the first day not counted. ``against``: planned and fed, lot by lot [kg DM].
    """
    start = farm.season.start
    followed = next((one for one in earlier if one.start <= start), None)
    return fed_against(farm, followed, start, day), followed


def assurance(
    opened: OpenedFarm, request: plan.PlanRequest, progress: plan.Progress | None = None
) -> AssuranceCurve:
    """Return what a surer supply of protein and energy would cost.

    ``request``: the day to plan from, and the wishes. ``progress``: told of each chance as it is
    begun. Returns the cost at each chance [US dollars]. Raises ``CannotWorkOut``, ``NoProgram`` as
    ``plan_farm``.
    """
    farm = plan.farm_asked_for(opened, request)
    with worked_out():
        return price_of_assurance(farm, options=request.options(), progress=progress)
