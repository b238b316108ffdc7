"""Several farms with one call: the folders, the files for their answers, and faults of some."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Sequence
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

from rickyard.cli.shared.common import (
    EXIT_USAGE,
    STDOUT,
    aside,
    exit_code,
    fail,
    open_folder,
    say,
    to_file,
    write_stdout,
    write_text,
)

if TYPE_CHECKING:
    from rickyard.service import FarmPlace, OpenedFarm, PlanRequest
    from rickyard.sheets.paper import Event

JSON: Final = ".json"
PDF: Final = ".pdf"
_LABELS: Final = {JSON: "JSON", PDF: "PDF", ".svg": "Chart"}


def farm_folders_argument(function: click.decorators.FC) -> click.decorators.FC:
    """Add the FOLDER... argument: farm folders, and folders of farm folders."""
    return click.argument(
        "folders",
        metavar="FOLDER...",
        nargs=-1,
        required=True,
        type=click.Path(path_type=Path, file_okay=True),
    )(function)


class Farms:
    """The farms of one call.

    ``folders``: what was typed.
    """

    def __init__(self, folders: Sequence[Path]) -> None:
        from rickyard.service import find_farms

        self.places = find_farms(folders)
        self._left_out: list[str] = []
        self._worst = 0

    @property
    def several(self) -> bool:
        """Return whether there is more than one."""
        return len(self.places) > 1

    def only_one(self, **given: object) -> None:
        """Leave with code 2 where an option that is of one farm is given and there are several."""
        options = [name for name, value in given.items() if value]
        if self.several and options:
            fail(
                f"--{options[0].replace('_', '-')} is of one farm, and there are "
                f"{len(self.places)} here. Name one folder.",
                EXIT_USAGE,
            )

    def plan_of(self, place: FarmPlace, plans: Path | None) -> Path | None:
        """Return the adopted program of a farm, from the file or the folder that was named."""
        if plans is None or not (self.several or plans.is_dir()):
            return plans
        if not plans.is_dir():
            fail(
                "--plan is the program of one farm, and there are several here. Name a folder of "
                "programs, as rickyard plan FOLDER... --json FOLDER writes it.",
                EXIT_USAGE,
            )
        return plans / f"{place.label}{JSON}"

    def check(self, outputs: Iterable[AnswerFile | CalendarFile | Path | None]) -> None:
        """Refuse files that could not or should not be written, before any work is done."""
        from rickyard.service import check_outputs

        shared: list[Path | None] = []
        own: list[AnswerFile] = []
        for one in outputs:
            if isinstance(one, AnswerFile) and self.several:
                own.append(one)
            else:
                shared.append(one if one is None or isinstance(one, Path) else one.path)
        files = {place: [one.file_of(place) for one in own] for place in self.places}
        together = [one.path for one in own if one.is_shared]
        check_outputs([*shared, *together, *(one for some in files.values() for one in some)])
        for place, some in files.items():
            check_outputs([*shared, *together, *some], place.folder)

    def weigh(
        self,
        request: PlanRequest,
        *,
        yes: bool,
        programs: int = 1,
        levels: int = 0,
        answers: float = 0.0,
    ) -> None:
        """Ask before work that will take long is begun; leave with code 2 where nobody can answer.

        ``programs`` of each farm are planned, at so many ``levels`` of assurance beside that, and
        with so much work for ``answers``.
        """
        from rickyard.service import FolderFaulty, is_long, long_work_question, open_farm, work_of

        if yes:
            return
        farms = []
        for place in self.places:
            # What is wrong in a folder is told when its turn comes.
            with suppress(FolderFaulty):
                farms.append(open_farm(place.folder).farm)
        units = work_of(farms, request, programs=programs, levels=levels, answers=answers)
        if not is_long(units, request):
            return
        aside(long_work_question(units))
        if sys.stdin.isatty() and sys.stderr.isatty():
            if click.confirm("Begin?", err=True):
                return
            sys.exit(EXIT_USAGE)
        fail("Nothing was begun. Add --yes to begin.", EXIT_USAGE)

    def each(self, do: Callable[[FarmPlace, OpenedFarm], None], *, quiet: bool = False) -> None:
        """Do something with every farm; one that has faults does not keep the others from it.

        ``do``: told the place and the farm read from it. ``quiet``: whether standard output holds a
        document and nothing else.
        """
        from rickyard.service import ServiceError

        if not self.several:
            for place in self.places:
                do(place, open_folder(place.folder))
            return
        for number, place in enumerate(self.places):
            if not quiet:
                say(f"{'' if number == 0 else chr(10)}--- {place.folder} ---")
            try:
                do(place, open_folder(place.folder))
            except ServiceError as problem:
                self.leave_out(place, problem)

    def leave_out(self, place: FarmPlace, problem: Exception) -> None:
        """Say why a farm gets no answer, and remember it for the end."""
        aside(f"{place.folder}: {problem}")
        self._left_out.append(place.label)
        self._worst = max(self._worst, exit_code(problem))

    def finish(self) -> None:
        """Leave with the code of the gravest fault where a farm got no answer."""
        if self._left_out:
            names = ", ".join(self._left_out)
            aside(
                f"{len(self._left_out)} of {len(self.places)} folders gave no answer: {names}. "
                "The reason is above."
            )
            sys.exit(self._worst)


class AnswerFile:
    """A file for what is found: of one farm, of each farm in a folder, or of all in one.

    ``farms``: the farms of the call. ``name``: what was typed; ``-`` is standard output.
    ``suffix``: the kind of file.
    """

    def __init__(self, farms: Farms, name: str | Path | None, suffix: str = JSON) -> None:
        self._farms, self._suffix = farms, suffix
        self.path = to_file(name) if isinstance(name, str) else name
        self.on_stdout = name == STDOUT
        self._kept: list[tuple[FarmPlace, str | bytes]] = []

    @property
    def asked(self) -> bool:
        """Return whether anything is to be written."""
        return self.path is not None or self.on_stdout

    @property
    def is_shared(self) -> bool:
        """Return whether several farms have this one file."""
        return self._farms.several and self.path is not None and not self.path.is_dir()

    def file_of(self, place: FarmPlace) -> Path | None:
        """Return the file of one farm, ``None`` where it has none of its own."""
        from rickyard.service import file_of

        if self.path is None:
            return None
        return file_of(self.path, place, self._suffix, several=self._farms.several)

    def add(self, place: FarmPlace, content: Callable[[], str | bytes]) -> None:
        """Take what was found of a farm; it is written now where the file is the farm's own."""
        if not self.asked:
            return
        found, own = content(), self.file_of(place)
        if own is not None:
            write_text(_LABELS[self._suffix], own, found)
        elif self._farms.several:
            self._kept.append((place, found))
        elif isinstance(found, str):
            write_stdout(found)

    def write(self, content: Callable[[], str]) -> None:
        """Write what is of all farms together."""
        if self.path is not None:
            write_text(_LABELS[self._suffix], self.path, content())
        elif self.on_stdout:
            write_stdout(content())

    def finish(self) -> None:
        """Write what all farms share."""
        if not self._kept:
            return
        if self._suffix == PDF:
            from rickyard.sheets.paper import joined_pdf

            sheets = [one for _, one in self._kept if isinstance(one, bytes)]
            write_text(_LABELS[PDF], self.path, joined_pdf(sheets))
            return
        from rickyard.sheets.data_files import joined_documents

        texts = [(place.label, text) for place, text in self._kept if isinstance(text, str)]
        whole = joined_documents(texts)
        if self.on_stdout:
            write_stdout(whole)
        else:
            write_text(_LABELS[JSON], self.path, whole)


class CalendarFile:
    """One calendar for the days of all farms of a call."""

    def __init__(self, path: Path | None) -> None:
        self.path = path
        self._kept: list[tuple[str, Sequence[Event]]] = []

    def add(self, farm_name: str, events: Sequence[Event]) -> None:
        """Take the days of a farm."""
        self._kept.append((farm_name, events))

    def finish(self) -> None:
        """Write the calendar, and none where there is no day: RFC 5545 wants one."""
        from rickyard.sheets.paper import calendar_bytes

        if self.path is None:
            return
        if not any(events for _, events in self._kept):
            aside(f"Calendar: there is no day to write, so {self.path} was not written.")
            return
        write_text("Calendar", self.path, calendar_bytes(self._kept, datetime.now(UTC)))
