"""Laboratory reports of the book: files kept as they came, read with answers, and used."""

from __future__ import annotations

import hashlib
import json
import tempfile
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, Final
from uuid import UUID, uuid4

from rickyard.book import records
from rickyard.book.accounts import count_tries
from rickyard.book.acting import Act, NotTaken, NotThere, acting, allow
from rickyard.book.folders import SOURCES, current_states, farm_of, keep_file
from rickyard.book.services.done import season_there
from rickyard.book.services.rules import look_at
from rickyard.farm import Farm, Report
from rickyard.labs.intake import (
    Intake,
    is_open,
    keep_corrections,
    match,
    reading_as_json,
    report_from,
    take_in,
)
from rickyard.labs.layouts import Answer
from rickyard.version import __version__

#: Larger files are no reports. [bytes]
LARGEST_REPORT: Final = 10_000_000
_SHORT: Final = 12


@dataclass(frozen=True, slots=True)
class FileKept:
    """A file that came, and whether a report of the season was made of it."""

    id: UUID
    name: str
    came_at: datetime
    is_used: bool


@dataclass(frozen=True, slots=True)
class Used:
    """What became of a file: the reports written now, and how many samples still wait."""

    reports: tuple[Report, ...]
    waiting: int


@dataclass(frozen=True, slots=True)
class ReadingKept:
    """A file that was used: the answers that were given, when, and by whom it was used."""

    answers: Mapping[str, Answer]
    used_at: datetime
    used_by: str


def keep_report(person: Any, season_id: UUID, name: str, content: bytes) -> UUID:
    """Keep a laboratory's file as it came; the same one twice stands once.

    Parameters
    ----------
    person : records.Person or None
        Who brings it.
    season_id : UUID
        The season.
    name : str
        What the file is called.
    content : bytes
        Its bytes.

    Returns
    -------
    UUID
        The file in the book.

    Raises
    ------
    NotTaken
        If it is empty, or larger than any report.
    TooOften
        If the person brought in very many just now.
    """
    season = season_there(person, season_id)
    if person is not None:
        count_tries({"files": str(person.id)}, datetime.now(UTC))
    with acting("bring in report", person, season.farm_id, name) as act:
        if not content or len(content) > LARGEST_REPORT:
            raise NotTaken(
                f"{name}: the file is {'empty' if not content else 'larger than 10 MB'}. "
                "Choose the report itself: a PDF with text, a spreadsheet or a CSV file."
            )
        sha256 = hashlib.sha256(content).hexdigest()
        rows = records.SourceFile.objects.filter(farm_id=season.farm_id, sha256=sha256)
        there = rows.filter(name__startswith=f"{SOURCES}/").first()
        if there is None:
            safe = "".join(one if one.isalnum() or one in "._" else "-" for one in name)[-80:]
            there = keep_file(season.farm, f"{SOURCES}/{sha256[:_SHORT]}-{safe}", content, act.line)
    return UUID(str(there.id))


def reports_kept(person: Any, season_id: UUID) -> tuple[FileKept, ...]:
    """Return the files of laboratories that came, the last first.

    Parameters
    ----------
    person : records.Person or None
        Who reads.
    season_id : UUID
        The season.

    Returns
    -------
    tuple of FileKept
        Files of the farm.
    """
    season = season_there(person, season_id)
    allow("read farm", person, season.farm_id)
    rows = records.SourceFile.objects.filter(
        farm_id=season.farm_id, name__startswith=f"{SOURCES}/"
    ).exclude(name__startswith=f"{SOURCES}/corrections")
    sources = records.ReportState.objects.filter(season=season).values_list("source", flat=True)
    used = " ".join(sources)
    found = rows.order_by("-written_by__number").values_list(
        "id", "name", "sha256", "written_by__at"
    )
    return tuple(FileKept(one, _plain_name(name), at, sha in used) for one, name, sha, at in found)


def read_report(person: Any, season_id: UUID, file: UUID, answers: Mapping[str, Answer]) -> Intake:
    """Return what a file says, to which lots its samples belong, and what is not certain.

    Parameters
    ----------
    person : records.Person or None
        Who reads.
    season_id : UUID
        The season.
    file : UUID
        The file in the book.
    answers : mapping of str to Answer
        Answers by the key of their question.

    Returns
    -------
    Intake
        The reading; nothing is written.
    """
    season = season_there(person, season_id)
    allow("read farm", person, season.farm_id)
    return _read(season, file, answers, farm_of(season))


def use_report(person: Any, season_id: UUID, file: UUID, answers: Mapping[str, Answer]) -> Used:
    """Write the samples of a file about which nothing is open as reports of their lots.

    Parameters
    ----------
    person : records.Person or None
        Who takes the file's word.
    season_id : UUID
        The season.
    file : UUID
        The file in the book.
    answers : mapping of str to Answer
        Answers by the key of their question.

    Returns
    -------
    Used
        What was written. A sample whose report stands already is not written again.

    Raises
    ------
    NotTaken
        If something about every sample is open, or a rule of the farm folder is broken.
    """
    season = season_there(person, season_id)
    with acting("use report", person, season.farm_id, "") as act:
        before = farm_of(season)
        intake = _read(season, file, answers, before)
        grown, waiting, again = before, 0, False
        for one in intake.matches:
            if _stands(before, intake, one.lot):
                again = True
            elif is_open(intake.reading, one):
                waiting += 1
            else:
                report = report_from(intake.reading, one, grown)
                grown = replace(grown, reports=(*grown.reports, report))
        many = len(grown.reports) - len(before.reports)
        if not many and not again:
            raise NotTaken(intake.reading.refused or "Nothing was written: answer what is open.")
        reports = look_at(grown, "reports").farm.reports[len(before.reports) :] if many else ()
        _store(act, season, reports, len(before.reports))
        if reports:
            _keep_reading(act, season, file, intake, answers)
        _keep_corrected(act, season, intake)
    return Used(reports, waiting)


def reading_kept(person: Any, season_id: UUID, file: UUID) -> ReadingKept | None:
    """Return how a file was read when it was last used.

    Parameters
    ----------
    person : records.Person or None
        Who asks.
    season_id : UUID
        The season.
    file : UUID
        The file in the book.

    Returns
    -------
    ReadingKept or None
        ``None`` where no report of the season was made of it.
    """
    season = season_there(person, season_id)
    allow("read farm", person, season.farm_id)
    rows = records.Reading.objects.filter(season=season, source_id=file)
    row = rows.select_related("written_by__person").order_by("-written_by__number").first()
    if row is None:
        return None
    answers = {key: Answer(*said) for key, said in json.loads(row.answers).items()}
    by = row.written_by.person
    return ReadingKept(answers, row.written_by.at, "" if by is None else by.name)


def _keep_reading(
    act: Act, season: Any, file: UUID, intake: Intake, answers: Mapping[str, Answer]
) -> None:
    """Keep what was read, and the answers: another version of the program may read it otherwise."""
    said = {key: (one.text, one.who, one.when, one.why) for key, one in answers.items()}
    records.Reading.objects.create(
        id=uuid4(),
        season=season,
        source_id=file,
        made_by_version=__version__,
        answers=json.dumps(said, ensure_ascii=False),
        told=json.dumps(reading_as_json(intake.reading), ensure_ascii=False),
        written_by=act.line,
    )


def _read(season: Any, file: UUID, answers: Mapping[str, Answer], farm: Farm) -> Intake:
    row = records.SourceFile.objects.filter(
        id=file, farm_id=season.farm_id, name__startswith=f"{SOURCES}/"
    ).first()
    if row is None:
        raise NotThere
    intake = take_in(_plain_name(row.name), bytes(row.content), answers)
    if not intake.reading.refused and not intake.packages:
        match(intake, farm, answers)
    return intake


def _plain_name(name: str) -> str:
    """Return what a file was called when it came.

    Examples
    --------
    >>> _plain_name("sources/abababababab-hay.csv"), _plain_name("sources/hay.csv")
    ('hay.csv', 'hay.csv')
    """
    bare = name.removeprefix(f"{SOURCES}/")
    digest, _, rest = bare.partition("-")
    is_digest = len(digest) == _SHORT and not set(digest) - set("0123456789abcdef")
    return rest if is_digest and rest else bare


def _stands(farm: Farm, intake: Intake, lot: Any) -> bool:
    """Return whether a report on a lot was made of this very file before."""
    return lot is not None and any(
        intake.reading.sha256 in one.source for one in farm.reports_of(lot.lot_id)
    )


def _store(act: Act, season: Any, reports: tuple[Report, ...], place: int) -> None:
    lots = {row["lot_id"]: row["thing_id"] for row in current_states(records.LotState, season)}
    for at, one in enumerate(reports, start=place):
        thing = records.Report.objects.create(
            id=uuid4(), farm_id=season.farm_id, written_by=act.line
        )
        state = records.ReportState.objects.create(
            id=uuid4(),
            thing=thing,
            season=season,
            revision=1,
            place=at,
            day=one.reported_on or one.sampled_on,
            lot_id=lots[one.lot_id],
            written_by=act.line,
            **records.plain_values(one, but=("lot_id", "analytes")),
        )
        for spot, analyte in enumerate(one.analytes):
            records.ReportValue.objects.create(
                report=state,
                place=spot,
                written_by=act.line,
                **records.plain_values(analyte),
            )


def _keep_corrected(act: Act, season: Any, intake: Intake) -> None:
    """Keep what was printed beside what a person said instead: who, when and why."""
    if not intake.reading.corrections:
        return
    with tempfile.TemporaryDirectory() as place:
        path = Path(place) / "corrections.csv"
        keep_corrections(path, intake.reading)
        name = f"{SOURCES}/corrections-{intake.reading.sha256[:_SHORT]}.csv"
        keep_file(season.farm, name, path.read_bytes(), act.line)
