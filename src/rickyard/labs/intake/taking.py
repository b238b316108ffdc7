"""The service behind ``rickyard intake``: a file in, samples, questions and reports out.

Nothing here asks or prints; commands and pages show what it returns.
"""

from __future__ import annotations

import gc
import hashlib
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from pathlib import Path

from rickyard.farm import Farm, LabPackage, Report
from rickyard.labs.checking import check
from rickyard.labs.common import Document, FileReading, Question, Refused
from rickyard.labs.intake.accept import accept, accept_prices, report_from, seen_before
from rickyard.labs.intake.others import forage_alone, is_feed_tag, other_test
from rickyard.labs.intake.withdrawn import ask_of_withdrawn
from rickyard.labs.layouts import (
    Answer,
    LayoutFile,
    apply_answers,
    is_lasting,
    structure_of,
)
from rickyard.labs.matching import Match, history_questions, match_samples
from rickyard.labs.prices import price_list
from rickyard.labs.reading import documents_of
from rickyard.labs.science import read_farm_folder
from rickyard.labs.understanding import Understood, understood

_NO_REPORT = (
    "No result of a forage test was found in the file. If it is a report, ask the laboratory for "
    "a CSV or a spreadsheet, or type the values in."
)
_TAG = (
    "The file is the tag of a bought feed: its guarantee tells the least or the most, and no "
    "result of a sample. Enter the feed by its tag among the feeds, and send the report on the hay."
)
#: A file with fewer sure values may be a price list.
_LEAST_OF_REPORT = 3


@dataclass
class Intake:
    """A file taken in: what was read, to which lots it belongs, and what was written.

    ``packages`` are those of a price list. ``written`` stays empty where nothing was accepted.
    """

    name: str
    data: bytes
    reading: FileReading
    matches: list[Match] = field(default_factory=list)
    packages: list[LabPackage] = field(default_factory=list)
    written: list[Report] = field(default_factory=list)
    waiting: list[Match] = field(default_factory=list)
    layout: LayoutFile | None = None

    def open_questions(self) -> list[Question]:
        """Return what must be answered before everything of the file is written."""
        more = [one for match in self.matches for one in match.questions]
        return [*self.reading.open_questions(), *more]


def read_file(
    name: str,
    data: bytes,
    answers: Mapping[str, Answer] | None = None,
    layouts: Sequence[LayoutFile] = (),
) -> FileReading:
    r"""Read a laboratory's report.

    Parameters
    ----------
    name : str
        Its name, for the person; what it is, is told by its content.
    data : bytes
        Its content.
    answers : mapping of str to Answer, optional
        Answers by the key of their question.
    layouts : sequence of LayoutFile, optional
        Layouts whose answers are applied where the headings of the file are theirs.

    Returns
    -------
    FileReading
        Samples with their values, and what is to be asked; or why it was refused.

    Examples
    --------
    >>> data = b"Sample,CP % DM,ADF % DM,NDF % DM\nEast,11.2,36.1,58.4\n"
    >>> [(v.analyte, v.value, v.basis) for v in read_file("a.csv", data).samples[0].values]
    [('cp', 11.2, 'dm'), ('adf', 36.1, 'dm'), ('ndf', 58.4, 'dm')]
    """
    return take_in(name, data, answers, layouts).reading


def take_in(
    name: str,
    data: bytes,
    answers: Mapping[str, Answer] | None = None,
    layouts: Sequence[LayoutFile] = (),
    progress: Callable[[str], None] | None = None,
) -> Intake:
    """Read a laboratory's report or price list; see ``read_file``.

    ``progress`` is told what is being done, for files that take a while.

    Parameters
    ----------
    name : str
        Its name, for the person.
    data : bytes
        Its content.
    answers : mapping of str to Answer, optional
        Answers by the key of their question.
    layouts : sequence of LayoutFile, optional
        Layouts whose answers are applied where the headings of the file are theirs.
    progress : callable, optional
        Told what is being done, for files that take a while.

    Returns
    -------
    Intake
        The reading, with the file and the layout that it was read by.
    """
    told = progress or _say_nothing
    reading = FileReading(name, hashlib.sha256(data).hexdigest())
    intake = Intake(name, data, reading)
    given = dict(answers or {})
    with _without_collecting():
        _read(intake, data, given, layouts, told)
    if not reading.refused:
        apply_answers(reading, given)
    return intake


@contextmanager
def _without_collecting() -> Iterator[None]:
    """Let no garbage be looked for meanwhile: all that a reading makes it keeps to its end.

    With thousands of samples each search goes through millions of objects and finds none.
    """
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def _read(
    intake: Intake,
    data: bytes,
    given: dict[str, Answer],
    layouts: Sequence[LayoutFile],
    told: Callable[[str], None],
) -> None:
    """Read the file of an intake into it; answers of its layout are added to those given."""
    reading = intake.reading
    try:
        told("opening the file")
        documents = [forage_alone(one) for one in documents_of(data)]
        told("reading its tables")
        result = understood(documents, {key: one.text for key, one in given.items()})
        reading.structure = structure_of(result.draft.structure)
        intake.layout = next((one for one in layouts if one.serves(reading.structure)), None)
        if intake.layout is not None:
            given.update({**intake.layout.answers, **given})
            result = understood(documents, {key: one.text for key, one in given.items()})
            kept = ", ".join(f"{key}: {one.text}" for key, one in intake.layout.answers.items())
            reading.notes.append(f'Layout "{intake.layout.name}" was applied ({kept}).')
        told("checking its values")
        _fill(intake, documents, result, given["lab"].text if "lab" in given else "")
    except Refused as why:
        reading.refused = str(why)


def _say_nothing(what: str) -> None:
    """Take what is being done, and tell nobody."""


def _fill(intake: Intake, documents: Sequence[Document], result: Understood, lab: str = "") -> None:
    reading = intake.reading
    reading.lab = result.draft.lab
    reading.notes.extend(documents[0].notes)
    if result.draft.unread:
        names = ", ".join(f'"{one}"' for one in dict.fromkeys(result.draft.unread))
        reading.notes.append(f"Columns that were not understood, and not read: {names}.")
    if result.draft.passed:
        names = ", ".join(f'"{one}"' for one in dict.fromkeys(result.draft.passed))
        reading.notes.append(f"Rows that are no samples were passed over: {names}.")
    if is_feed_tag(documents):
        raise Refused(_TAG)
    sure = sum(value.status == "sure" for sample in result.samples for value in sample.values)
    if sure < _LEAST_OF_REPORT and not _many_open(result):
        for document in documents:
            intake.packages, reading.questions = price_list(document, lab or reading.lab)
            if intake.packages:
                reading.lab = intake.packages[0].lab
                return
    if not result.samples:
        raise Refused(_NO_REPORT)
    other = other_test(documents, result.samples)
    if other:
        raise Refused(
            f"The file is a test of {other} and not of forage. Send the report on the hay; what "
            f"{other} holds says nothing of a ration."
        )
    reading.samples, more = check(result.samples, reading.notes)
    ask_of_withdrawn(documents, reading.samples)
    reading.questions = [*result.questions, *more]


def _many_open(result: Understood) -> bool:
    """Return whether several samples have values, if none that is sure: no list of prices."""
    valued = [one for one in result.samples if len(one.values) >= _LEAST_OF_REPORT]
    return len(valued) > 1


def match(intake: Intake, farm: Farm, answers: Mapping[str, Answer] | None = None) -> None:
    """Match the samples of a file to the lots of a farm, and hold them against what is known.

    Parameters
    ----------
    intake : Intake
        A file that was read; its matches are filled in.
    farm : Farm
        The farm.
    answers : mapping of str to Answer, optional
        Answers, also to which lot a sample is of.
    """
    said = {key: one.text for key, one in (answers or {}).items()}
    intake.matches = match_samples(intake.reading.samples, farm, said)
    for one in intake.matches:
        one.questions = [each for each in one.questions if said.get(each.key) not in each.choices]
        if one.lot is None or one.how == "waits":
            continue
        one.sample.asked.discard("id")
        report = report_from(intake.reading, one, farm)
        one.sample.questions.extend(
            each for each in history_questions(one, report) if each.key not in said
        )


def take_to_farm(
    intake: Intake,
    folder: Path,
    answers: Mapping[str, Answer] | None = None,
    *,
    write: bool = False,
) -> None:
    """Match a file to the farm in a folder and, if asked to, write what is not open.

    Parameters
    ----------
    intake : Intake
        A file that was read.
    folder : Path
        The farm folder.
    answers : mapping of str to Answer, optional
        Answers, also to which lot a sample is of.
    write : bool
        Whether reports that are not open are written into the folder.
    """
    if intake.reading.refused:
        return
    before = seen_before(folder, intake.reading.sha256)
    if before:
        intake.reading.notes.append(f"This very file came before and is kept as {before}.")
    if intake.packages:
        if write and not intake.open_questions():
            accept_prices(folder, [replace(one) for one in intake.packages])
        return
    match(intake, read_farm_folder(folder).farm, answers)
    if write:
        intake.written, intake.waiting = accept(folder, intake.data, intake.reading, intake.matches)


def layout_of(intake: Intake, name: str, answers: Mapping[str, Answer]) -> LayoutFile:
    """Return the layout of a file with the answers that hold for every file of it.

    Parameters
    ----------
    intake : Intake
        A file that was read.
    name : str
        What the layout is to be called.
    answers : mapping of str to Answer
        Answers by the key of their question.

    Returns
    -------
    LayoutFile
        The headings of the file with the answers that are not of this file alone.
    """
    lasting = {key: one for key, one in answers.items() if is_lasting(key)}
    return LayoutFile(name, intake.reading.structure, lasting)
