"""Making a program of a farm as a person asks for it, and looking at it a second time."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from math import inf, isfinite
from pathlib import Path
from typing import Final

from rickyard.farm import Farm, Winter
from rickyard.folder.io import read_wishes
from rickyard.folder.tables import FolderFaults
from rickyard.program import planning, winters
from rickyard.program.ask import Question, with_remedies
from rickyard.program.audit import recheck
from rickyard.program.problem import farm_from
from rickyard.program.result import (
    USUAL_EFFORT,
    Made,
    MadeWith,
    NoWinters,
    PlanOptions,
    SeasonProgram,
    WinterPrograms,
)
from rickyard.service.errors import (
    CannotWorkOut,
    FolderFaulty,
    NoProgram,
    understood,
    worked_out,
)
from rickyard.service.opened import OpenedFarm, digest_of
from rickyard.version import __version__

#: Told of what is being done.
Progress = Callable[[str], None]

#: Asked whether a person wants the work to end.
Stop = Callable[[], bool]

#: How much is spent on what would help where something is short.
ASKED: Final = Question()

#: Every winter at once.
ALL_WINTERS: Final = "all"

#: So many things that do not add up are told of a program that fails its re-check.
MOST_BREACHES: Final = 20


@dataclass(frozen=True, slots=True)
class PlanRequest:
    """What a person asks of a program beside the farm folder.

    ``effort`` is in units of work, ``seconds`` ends the search by the clock. ``assure_pct`` and
    ``winter`` stand in place of what the folder says; ``pins`` is a file of further wishes, which
    go before those of the folder; from ``from_on`` the rest of the season is planned. ``weekly``
    asks for amounts that may change every week in place of rations.
    """

    effort: float = USUAL_EFFORT
    seconds: float = inf
    assure_pct: float | None = None
    winter: str | None = None
    pins: Path | None = None
    from_on: date | None = None
    weekly: bool = False

    def options(self, stop: Stop | None = None) -> PlanOptions:
        """Return how to plan."""
        return PlanOptions(
            effort=self.effort,
            seconds=self.seconds,
            from_on=self.from_on,
            stop=stop,
            weekly=self.weekly,
        )

    def made_with(self) -> MadeWith:
        """Return the same as a program keeps it."""
        return MadeWith(
            effort=self.effort,
            seed=self.options().seed,
            seconds=self.seconds if isfinite(self.seconds) else None,
            assure_pct=self.assure_pct,
            winter=self.winter,
            from_date=self.from_on,
            pins_sha256=None if self.pins is None else digest_of(self.pins),
            rations=not self.weekly,
        )


@dataclass(frozen=True, slots=True)
class Planned:
    """A program with the farm it is of.

    ``farm`` is the whole farm as asked for; ``planned_farm`` the farm from the day on from which
    it was planned. ``warnings`` are sentences to be shown beside the program.
    """

    program: SeasonProgram
    farm: Farm
    planned_farm: Farm
    warnings: tuple[str, ...] = ()


def farm_asked_for(opened: OpenedFarm, request: PlanRequest) -> Farm:
    """Return the farm with what was asked for in place of what its folder says.

    ``request``: chance, winter, wishes and the day to plan from. Raises ``FolderFaulty`` if the
    file of further wishes has faults. Raises ``NotUnderstood`` if the season cannot be planned from
    the day asked for.
    """
    season = opened.farm.season
    if request.assure_pct is not None:
        season = replace(season, assurance_pct=request.assure_pct)
    if request.winter not in (None, ALL_WINTERS):
        season = replace(season, winter=Winter(request.winter))
    farm = replace(opened.farm, season=season)
    if request.pins is not None:
        try:
            farm = replace(farm, wishes=(*read_wishes(request.pins, farm), *farm.wishes))
        except FolderFaults as faults:
            raise FolderFaulty(str(faults)) from faults
    with understood("--from-date"):
        farm_from(farm, request.from_on)
    return farm


def plan_farm(
    opened: OpenedFarm,
    request: PlanRequest,
    *,
    progress: Progress | None = None,
    stop: Stop | None = None,
    together: WinterPrograms | None = None,
) -> Planned:
    """Make a program of a farm and look at it a second time.

    ``progress``: told of what is being done. ``stop``: asked whether to end the search and take the
    best program so far. ``together``: every winter planned together: the program is then of the
    normal one, with hay held back. Raises ``FolderFaulty``, ``NotUnderstood`` as
    ``farm_asked_for``. Raises ``CannotWorkOut`` if an equation meets a value it was not made for.
    Raises ``NoProgram`` if there is none, or it does not pass its re-check.
    """
    farm = farm_asked_for(opened, request)
    if together is not None:
        farm = winters.farm_for_winter(farm, together, Winter.NORMAL)
    pinned = len(farm.wishes) - len(opened.farm.wishes)
    options = replace(request.options(stop), planned_without=pinned)
    program = sound_program(farm, options, progress)
    made = Made(__version__, opened.sha256, opened.files, request.made_with())
    began = farm_from(farm, request.from_on).farm
    if program.shortages and (stop is None or not stop()):
        if progress is not None:
            progress("Looking for what would help")
        with worked_out():
            program = planning.with_ladder(began, with_remedies(began, program, ASKED), ASKED)
    return Planned(replace(program, made=made), farm, began)


def plan_all_winters(
    opened: OpenedFarm,
    request: PlanRequest,
    *,
    progress: Progress | None = None,
    stop: Stop | None = None,
) -> WinterPrograms:
    """Plan mild, normal and severe winters together, and look at each program a second time.

    ``progress``: told of what is being done. ``stop``: asked whether to end the search. Raises
    ``CannotWorkOut`` if the folder tells of no winters, or an equation meets a value it was not
    made for. Raises ``NoProgram`` if there is none, or one does not pass its re-check.
    """
    farm = farm_asked_for(opened, request)
    try:
        with worked_out():
            found = winters.plan_winters(farm, request.options(stop), progress)
    except NoWinters as missing:
        raise CannotWorkOut(str(missing)) from missing
    for one in found.winters:
        hold_sound(one.program, one.farm)
    return found


def named_progress(progress: Progress | None, label: str) -> Progress | None:
    """Return what tells of work with the name of what it is for before it; nothing where none."""
    if progress is None:
        return None
    tell = progress
    return lambda says: tell(f"{label}: {says}")


def sound_program(
    farm: Farm, options: PlanOptions, progress: Progress | None = None
) -> SeasonProgram:
    """Return a program of a farm that has passed its re-check.

    Raises
    ------
    CannotWorkOut
        If an equation meets a value it was not made for.
    NoProgram
        If there is none, or it does not pass its re-check.
    """
    with worked_out():
        program = planning.plan_season(farm, progress, options=options)
    hold_sound(program, farm_from(farm, options.from_on).farm)
    return program


def hold_sound(program: SeasonProgram, farm: Farm) -> None:
    """Raise ``NoProgram`` where a program does not pass its re-check."""
    breaches = recheck(program, farm)
    if breaches:
        lines = "\n".join(f"  {breach}" for breach in breaches[:MOST_BREACHES])
        raise NoProgram(
            f"The program does not pass its own re-check in {len(breaches)} places and is not "
            f"shown. Please report this with the farm folder.\n{lines}"
        )
