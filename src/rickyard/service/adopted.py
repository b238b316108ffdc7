"""The program that was adopted, read from its JSON: what hangs on the wall is what is fed from."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path
from typing import Final

from rickyard.display import display_for
from rickyard.farm import Farm
from rickyard.program.problem import farm_from
from rickyard.program.result import SeasonProgram
from rickyard.service.errors import NotUnderstood
from rickyard.service.opened import OpenedFarm, digest_of
from rickyard.service.plan import Planned, PlanRequest, farm_asked_for
from rickyard.sheets.data_files import program_from_json
from rickyard.sheets.paper import last_day, week_start_of
from rickyard.sheets.wording import words
from rickyard.version import __version__

_WRITE_ONE: Final = "Write one with rickyard plan FOLDER --json FILE."


def adopted_plan(opened: OpenedFarm, path: Path, pins: Path | None = None) -> Planned:
    """Return the program of a file, for the farm of a folder. Nothing is planned anew.

    ``path``: the JSON that ``plan`` wrote. ``pins``: the file of further wishes that the program
    was made with. With a warning where the folder, the version or the wishes are not those of the
    program. Raises ``NotUnderstood`` if the file holds no program of this farm.
    """
    program = _read(path)
    request = request_of(program, pins)
    farm = farm_asked_for(opened, request)
    began = farm_from(farm, request.from_on).farm
    _hold_of_farm(program, began, path)
    return Planned(program, farm, began, _warnings(opened, program, path, pins))


def request_of(program: SeasonProgram, pins: Path | None = None) -> PlanRequest:
    """Return what was asked when a program was made."""
    if program.made is None:
        return PlanRequest(pins=pins)
    asked = program.made.options
    return PlanRequest(
        effort=asked.effort,
        assure_pct=asked.assure_pct,
        winter=asked.winter,
        pins=pins,
        from_on=asked.from_date,
        weekly=not asked.rations,
    )


def _read(path: Path) -> SeasonProgram:
    try:
        text = path.read_text(encoding="utf-8-sig")
    except OSError as error:
        raise NotUnderstood(f"--plan: {path}: cannot be read ({error.strerror}).") from error
    except UnicodeDecodeError as error:
        raise NotUnderstood(f"--plan: {path}: is not a plan. {_WRITE_ONE}") from error
    try:
        return program_from_json(text)
    except (json.JSONDecodeError, RecursionError, KeyError, TypeError, ValueError) as error:
        raise NotUnderstood(
            f"--plan: {path}: is not a whole plan of this version of the format "
            f"({type(error).__name__}). {_WRITE_ONE}"
        ) from error


def _hold_of_farm(program: SeasonProgram, farm: Farm, path: Path) -> None:
    """Refuse a program that speaks of what the farm has not, or of other days."""
    known = {lot.lot_id for lot in farm.lots} | {feed.feed_id for feed in farm.feeds}
    groups = {group.group_id for group in farm.groups}
    strange = {row.source_id for row in program.feeding} - known
    strange |= {row.group_id for row in program.feeding} - groups
    again = "Plan again with rickyard plan FOLDER --json FILE."
    if strange:
        names = ", ".join(sorted(strange))
        raise NotUnderstood(
            f"--plan: {path}: this program feeds {names}, which the farm folder has not. {again}"
        )
    season = farm.season
    if (program.start, program.end) != (season.start, season.end):
        raise NotUnderstood(
            f"--plan: {path}: this program is of the season {program.start} to {program.end}, and "
            f"the farm folder's is {season.start} to {season.end}. {again}"
        )


def _warnings(
    opened: OpenedFarm, program: SeasonProgram, path: Path, pins: Path | None
) -> tuple[str, ...]:
    made = program.made
    if made is None:
        return (
            f"{path} does not say which folder it was made from, so it is not known whether the "
            "farm has changed since.",
        )
    found = []
    if changed := opened.changed_since(made):
        found.append(
            f"The farm folder has changed since {path} was made: {', '.join(changed)}. What "
            "follows is the program as it was made; plan again if the change matters."
        )
    if made.version != __version__:
        found.append(
            f"{path} was made by version {made.version}, and this is version {__version__}."
        )
    if made.options.pins_sha256 != (None if pins is None else digest_of(pins)):
        found.append(f"{path} was made with other wishes: give the same file with --pin.")
    return tuple(found)


def week_start(program: SeasonProgram, farm: Farm, day: date | None, today: date) -> date:
    """Return the first day of the week asked for.

    ``farm``: gives the style of dates. ``day``: a day of the week; without it the week of today, or
    the nearest one in the season. Raises ``NotUnderstood`` if the day asked for is not in the
    season.
    """
    asked = day or max(today, program.start)
    start = week_start_of(program, asked)
    if start is None and day is None:
        start = week_start_of(program, last_day(program))
    if start is None:
        said = display_for(farm.units).day_year_text
        first, last = said(program.start), said(last_day(program))
        raise NotUnderstood(words.outside(said(asked), first, last))
    return start
