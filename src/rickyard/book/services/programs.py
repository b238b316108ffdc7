"""Season programs of the book: asked for, kept as they were made, adopted, and read again."""

from __future__ import annotations

import io
import tempfile
import zipfile
from collections.abc import Collection
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import Any, Final
from uuid import UUID

from django.db import IntegrityError, transaction
from django_tasks import task

from rickyard.book import records
from rickyard.book.acting import NotTaken, NotThere, acting, allow, heard_of, held_or_read
from rickyard.book.folders import write_out
from rickyard.book.services.dangers import refuse_unread, standing_dangers
from rickyard.book.services.done import Done, planned_without_costs, season_there
from rickyard.book.services.reading import whole_farm
from rickyard.book.tasks import NotDone
from rickyard.display import count_text
from rickyard.farm import Farm
from rickyard.folder import as_written
from rickyard.folder.io import SETTINGS_FILE
from rickyard.folder.tables import STACKS, TABLES
from rickyard.service import (
    FARM_FILES,
    Held,
    OpenedFarm,
    Planned,
    PlanRequest,
    ServiceError,
    adopted_plan,
    open_farm,
    plan_farm,
)
from rickyard.sheets.data_files import plan_json
from rickyard.version import __version__

#: So many programs are held read, so that a page need not read one again at each visit. What is
#: held can be dropped at any time.
_HELD: Final = 64

#: Which program is the newest of a season or fed by, by the newest line of the trail.
_named: Final = Held[tuple[UUID, UUID, bool], tuple[UUID, datetime, bool, bool] | None](1_024)

#: What is asked of a program where nobody says otherwise, here and in the terminal.
USUAL: Final = PlanRequest()

_UNDER_WAY: Final = (records.WAITING, records.RUNNING)


@dataclass(frozen=True, slots=True)
class WorkTold:
    """How far the making of a program is. ``told`` is what is being done, or why it failed."""

    id: UUID
    state: str
    asked_at: datetime
    told: str
    stopping: bool

    @property
    def is_under_way(self) -> bool:
        """Return whether it waits or is worked on."""
        return self.state in _UNDER_WAY


@dataclass(frozen=True, slots=True)
class KeptProgram:
    """A program of the book, with the farm it was made for.

    ``changed`` names the files of the farm folder that say something else by now. ``is_first``
    says that no other was made before it.
    """

    id: UUID
    made_at: datetime
    planned: Planned
    is_adopted: bool
    changed: tuple[str, ...]
    is_first: bool = False


def ask_plan(
    person: Any,
    season_id: UUID,
    effort: float = USUAL.effort,
    *,
    weekly: bool = USUAL.weekly,
) -> Done:
    """Ask for a program of a season; whoever works for the book makes it.

    Parameters
    ----------
    person : records.Person or None
        Who asks.
    season_id : UUID
        The season.
    effort : float
        How much work is spent on a better one. [units of work]
    weekly : bool
        Whether amounts may change every week.

    Returns
    -------
    Done
        The work; ``is_new`` is false where this season is being planned already.
    """
    season = season_there(person, season_id)
    with acting("plan", person, season.farm_id, "") as act:
        there = _under_way(season)
        if there is not None:
            return Done(there.id, season.id, is_new=False)
        by = None if person is None else str(person.id)
        try:
            with transaction.atomic():
                asked = make_program.enqueue(
                    season=str(season.id), person=by, effort=effort, weekly=weekly
                )
        except IntegrityError:
            return Done(_under_way(season).id, season.id, is_new=False)
        act.write_line()
    return Done(UUID(asked.id), season.id)


@task(takes_context=True)
def make_program(
    context: Any, *, season: str, person: str | None, effort: float, weekly: bool
) -> None:
    """Make a program that was asked for, and keep it.

    Parameters
    ----------
    context : WorkContext
        The work and who took it; it is told how far the program is, and says when to stop.
    season : str
        The season.
    person : str or None
        Who asked, as the work says too.
    effort : float
        How much work is spent on a better one. [units of work]
    weekly : bool
        Whether amounts may change every week.

    Raises
    ------
    NotDone
        If the farm cannot be planned; the sentence says what is missing.
    NotTaken
        If another has taken the work up meanwhile; nothing is kept then.
    """
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / "farm"
        try:
            write_out(context.work.season, folder)
            opened = open_farm(folder)
            request = PlanRequest(effort=effort, weekly=weekly)
            planned = plan_farm(opened, request, progress=context.say, stop=context.stops)
        except ServiceError as problem:
            raise NotDone(str(problem).replace(f"{folder}", "the farm")) from problem
        keep_program(context.work, context.worker, opened, planned)


def stop_plan(person: Any, season_id: UUID) -> bool:
    """Ask that the search for a better program ends; the best so far is kept.

    Parameters
    ----------
    person : records.Person or None
        Who asks.
    season_id : UUID
        The season.

    Returns
    -------
    bool
        Whether something was under way.
    """
    season = season_there(person, season_id)
    with acting("stop plan", person, season.farm_id, "") as act:
        rows = records.Work.objects.filter(season=season, state__in=_UNDER_WAY)
        if not rows.update(stop=True):
            return False
        act.write_line()
    return True


def plan_work(person: Any, season_id: UUID) -> WorkTold | None:
    """Return how far the newest work on a program of a season is.

    Parameters
    ----------
    person : records.Person or None
        Who asks.
    season_id : UUID
        The season.

    Returns
    -------
    WorkTold or None
        How far it is; ``None`` where none was asked for.
    """
    heard_of("read farm", person, season_id)
    row = records.Work.objects.filter(season=season_id).order_by("-asked_at").first()
    if row is None:
        return None
    return WorkTold(row.id, row.state, row.asked_at, row.told, row.stop)


def adopt(person: Any, season_id: UUID, program_id: UUID, read: Collection[str] = ()) -> Done:
    """Feed by a program from now on.

    Parameters
    ----------
    person : records.Person or None
        Who says so.
    season_id : UUID
        The season.
    program_id : UUID
        The program.
    read : collection of str
        Keys of its dangers that the person ticked, as `standing_dangers` gives them.

    Returns
    -------
    Done
        What happened; ``is_new`` is false where it was fed by already.

    Raises
    ------
    NotThere
        If the season has no such program.
    NotTaken
        If a danger that stands in it was not ticked.
    """
    season = season_there(person, season_id)
    allow("adopt", person, season.farm_id)
    program = records.Program.objects.filter(id=program_id, season=season).first()
    if program is None:
        raise NotThere
    planned = planned_of(program.id)
    about = f"{count_text(len(standing_dangers(planned)), 'danger')} ticked"
    with acting("adopt", person, season.farm_id, about) as act:
        now = _adopted(season)
        if now is not None and now.program_id == program_id:
            return Done(now.id, program_id, is_new=False)
        refuse_unread(planned, read)
        row = records.Adoption.objects.create(
            season=season,
            program=program,
            revision=1 if now is None else now.revision + 1,
            written_by=act.line,
        )
    return Done(row.id, program_id)


def read_program(person: Any, season_id: UUID, *, only_adopted: bool = False) -> KeptProgram | None:
    """Return the newest program of a season, or the one that is fed by.

    Parameters
    ----------
    person : records.Person or None
        Who reads.
    season_id : UUID
        The season.
    only_adopted : bool
        Whether the one that is fed by is wanted.

    Returns
    -------
    KeptProgram or None
        The program; ``None`` where there is none.
    """
    heard = heard_of("read farm", person, season_id)
    found = held_or_read(
        _named, (season_id, heard.line, only_adopted), lambda: _name(season_id, only_adopted)
    )
    if found is None:
        return None
    program, made_at, is_adopted, is_first = found
    changed = changed_since(program, season_id, heard.line)
    planned = planned_of(program)
    if not heard.may("read costs"):
        planned = planned_without_costs(planned)
    return KeptProgram(program, made_at, planned, is_adopted, changed, is_first)


def read_program_before(person: Any, season_id: UUID) -> KeptProgram | None:
    """Return what the newest program is set beside: the one fed by, else the one before.

    Parameters
    ----------
    person : records.Person or None
        Who reads.
    season_id : UUID
        The season.

    Returns
    -------
    KeptProgram or None
        The program, of which it is not asked what has changed since; ``None`` where there is no
        other than the newest.
    """
    heard = heard_of("read farm", person, season_id)
    rows, adopted = _newest_two(season_id), _adopted(season_id)
    other = rows[1] if len(rows) > 1 else None
    if adopted is not None and adopted.program_id != rows[0].id:
        other = adopted.program
    if other is None:
        return None
    planned = planned_of(other.id)
    if not heard.may("read costs"):
        planned = planned_without_costs(planned)
    is_adopted = adopted is not None and adopted.program_id == other.id
    return KeptProgram(other.id, other.written_by.at, planned, is_adopted, ())


def _name(season_id: UUID, only_adopted: bool) -> tuple[UUID, datetime, bool, bool] | None:
    """Return which program is meant, when it was made, if it is fed by, and if it is the first."""
    adopted = _adopted(season_id)
    if only_adopted:
        rows = [] if adopted is None else [adopted.program]
    else:
        rows = _newest_two(season_id)
    if not rows:
        return None
    row, first = rows[0], len(rows) == 1
    return row.id, row.written_by.at, adopted is not None and adopted.program_id == row.id, first


def _newest_two(season_id: UUID) -> list[Any]:
    """Return the newest program of a season and the one before, the newest first."""
    rows = records.Program.objects.filter(season=season_id).select_related("written_by")
    return list(rows.defer("inputs", "result").order_by("-written_by__number")[:2])


def keep_program(work: Any, worker: str, opened: OpenedFarm, planned: Planned) -> None:
    """Keep a program that was worked out, and say that the work is done.

    Parameters
    ----------
    work : records.Work
        The work.
    worker : str
        Who worked on it.
    opened : OpenedFarm
        The farm folder that it was made from.
    planned : Planned
        The program.

    Raises
    ------
    NotTaken
        If another has taken the work up meanwhile; nothing is kept then.
    """
    with acting("plan", work.person, work.season.farm_id, "") as act:
        program = records.Program.objects.create(
            season=work.season,
            inputs=_zipped(opened.folder),
            sha256=opened.sha256,
            result=plan_json(planned.program),
            made_by_version=__version__,
            written_by=act.line,
        )
        mine = records.Work.objects.filter(id=work.id, worker=worker, state=records.RUNNING)
        if not mine.update(state=records.DONE, program=program, told=""):
            raise NotTaken("Another has taken this work up meanwhile. What it finds will be kept.")


def _under_way(season: Any) -> Any:
    return records.Work.objects.filter(season=season, state__in=_UNDER_WAY).first()


def _adopted(season: Any) -> Any:
    rows = records.Adoption.objects.filter(season=season).order_by("-revision")
    rows = rows.select_related("program__written_by")
    return rows.defer("program__inputs", "program__result").first()


def _zipped(folder: Path) -> bytes:
    """Return the tables of a farm folder as a zip; the same folder gives the same bytes."""
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as archive:
        for name in FARM_FILES:
            if (folder / name).is_file():
                archive.writestr(zipfile.ZipInfo(name), (folder / name).read_bytes())
    return held.getvalue()


def planned_of(program_id: UUID) -> Planned:
    """Return a program with the farm that it was made for.

    Parameters
    ----------
    program_id : UUID
        The program, which never changes.

    Returns
    -------
    Planned
        Both.
    """
    return _kept_of(program_id)[0]


#: Programs as they were read, each with the farm of its folder.
_programs: Final = Held[UUID, tuple[Planned, Farm]](_HELD)


def _kept_of(program_id: UUID) -> tuple[Planned, Farm]:
    return held_or_read(
        _programs, program_id, lambda: _read_in(records.Program.objects.get(id=program_id))
    )


def planned_in(row: Any) -> Planned:
    """Return the program of a row with the farm that it was made for.

    Parameters
    ----------
    row : records.Program
        The row.

    Returns
    -------
    Planned
        Both.
    """
    return _read_in(row)[0]


def _read_in(row: Any) -> tuple[Planned, Farm]:
    """Return the program of a row, and the farm of the folder that it was made from."""
    with tempfile.TemporaryDirectory() as place:
        folder, file = Path(place) / "then", Path(place) / "program.json"
        folder.mkdir()
        with zipfile.ZipFile(io.BytesIO(bytes(row.inputs))) as archive:
            archive.extractall(folder)
        file.write_text(row.result, encoding="utf-8")
        opened = open_farm(folder)
        planned = adopted_plan(opened, file)
    told = tuple(one.replace(str(file), "The program") for one in planned.warnings)
    return Planned(planned.program, planned.farm, planned.planned_farm, told), opened.farm


def changed_since(program_id: UUID, season_id: UUID, line: UUID) -> tuple[str, ...]:
    """Return the files of a season that say something else than when a program was made.

    Rows are compared, for a folder reads back as what is written into it. Where a stack is drawn
    changes no program.

    Parameters
    ----------
    program_id : UUID
        The program.
    season_id : UUID
        The season.
    line : UUID
        The newest line of the farm's trail: whatever is written leaves one.

    Returns
    -------
    tuple of str
        Names of files of the farm folder.
    """
    key = (program_id, season_id, line)
    return held_or_read(_changed, key, lambda: _changes(program_id, whole_farm(season_id, line)))


#: What changed since programs were made, by program, season and the newest line of the trail.
_changed: Final = Held[tuple[UUID, UUID, UUID], tuple[str, ...]](1_024)


def _changes(program_id: UUID, now: Farm) -> tuple[str, ...]:
    planned, then = _kept_of(program_id)
    if planned.program.made is None:
        return ()
    settled = as_written(_without_parts(now)) == _without_parts(then)
    found = [] if settled else [SETTINGS_FILE]
    for table in TABLES:
        old, new = getattr(then, table.part), getattr(now, table.part)
        if table is not STACKS and (len(old) != len(new) or not _is_same(now, table.part, old)):
            found.append(table.file)
    return tuple(found)


#: Whether rows say the same as others, by both: those of a table in which nothing was written are
#: the same object before and after a write elsewhere.
_same: Final = Held[tuple[int, int], tuple[object, object, bool]](8 * _HELD)


def _is_same(now: Farm, part: str, old: tuple[Any, ...]) -> bool:
    """Return whether rows of a farm are those of a folder once they are written and read."""
    new = getattr(now, part)
    key = (id(old), id(new))
    found = _same.of([key])
    if key not in found:
        # What was written by a program may have spaces that a folder loses.
        alone: dict[str, Any] = {part: new}
        same = old == new or getattr(as_written(_without_parts(now, **alone)), part) == old
        # Both are kept beside, so that their numbers are no others'.
        found = {key: (old, new, same)}
        _same.hold(found)
    return found[key][2]


def _without_parts(farm: Farm, **but: Any) -> Farm:
    none: dict[str, Any] = {table.part: () for table in TABLES}
    return replace(farm, **{**none, **but})
