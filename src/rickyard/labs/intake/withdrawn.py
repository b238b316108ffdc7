"""Numbers that the writer of a report takes back in a sentence beside it."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from rickyard.labs.common import Cell, Document, Page, Question, Sample, Value
from rickyard.labs.letters import labels_in
from rickyard.labs.tables import speaks_of_void, stands_as
from rickyard.labs.understanding import named

#: "it is 11.8%, not 18.1%", "should read 11.8 instead of 18.1".
_CORRECTED: Final = re.compile(
    r"(?P<right>\d+(?:[.,]\d+)?)\s*(?:%|percent|ppm)?,?\s+"
    r"(?:and\s+)?(?:not|instead of|rather than)\s+"
    r"(?P<wrong>\d+(?:[.,]\d+)?)(?![\d.,]*\d)"
)


_NOT: Final = re.compile(r"\s(?:not|instead of|rather than)\s")


def ask_of_withdrawn(documents: Sequence[Document], samples: Sequence[Sample]) -> None:
    """Ask about each value whose number a sentence of the file takes back.

    Parameters
    ----------
    documents : sequence of Document
        The ways in which the file may be read.
    samples : sequence of Sample
        What was read of it; values are doubted and questions added in place.
    """
    lines = [
        " ".join(cell.text for cell in row) for page in documents[0].pages for row in page.rows
    ]
    text = " ".join(lines)
    _ask_of_corrected(lines, samples)
    _ask_of_void(documents, samples)
    for found in _CORRECTED.finditer(text) if _NOT.search(text) else ():
        for sample in samples:
            for value in sample.values:
                if value.printed.strip(" %") != found["wrong"] or value.status != "sure":
                    continue
                value.doubt(f"a sentence of the file says {found['right']}, not {found['wrong']}")
                sample.questions.append(
                    Question(
                        f"A sentence of the file says {found['right']}, not {found['wrong']}. "
                        f"Does it speak of {named(value)}, printed for this sample?",
                        f"withdrawn {value.analyte} {value.printed}",
                        (value.analyte,),
                        (found["right"], "as printed"),
                    )
                )


#: "The right NDF is 57.7 %", "ADF should have read 36.5".
_SETS_RIGHT: Final = re.compile(
    r"\b(?:the (?:right|correct|true|actual|real)|correct(?:ed|ion)|should (?:be|read|have)|"
    r"(?:was|were|is|are) wrong|wrong line|misprint\w*|mistyped|misread|typo|amended|erratum|"
    r"please change|replace it)\b",
    re.IGNORECASE,
)
_SENTENCE: Final = re.compile(r"(?<=[a-z%)\d])[.!?]\s+(?=[A-Z])|\s{2,}")
_FIGURES: Final = re.compile(r"(?<![\w.,-])\d+(?:[.,]\d+)?(?![\w-])")


def _ask_of_corrected(lines: Sequence[str], samples: Sequence[Sample]) -> None:
    """Ask about values to which a sentence gives another number, and says that it is the right."""
    text = " ".join(line or "  " for line in lines)
    if not _SETS_RIGHT.search(text):
        return
    before = ""
    for sentence in _SENTENCE.split(text):
        told = _SETS_RIGHT.search(sentence)
        numbers = {one[0].replace(",", ".") for one in _FIGURES.finditer(sentence)}
        for _, _, label in labels_in(sentence) if told and numbers else ():
            held = [
                (sample, value)
                for sample in _spoken_of(f"{before} {sentence}", samples)
                for value in sample.values
                if value.analyte in label.candidates and value.basis != "ndf"
            ]
            if any(value.printed.replace(",", ".") in numbers for _, value in held):
                continue  # the sentence has the number that was read
            for sample, value in held:
                _ask(sample, value, f'a sentence of the file sets it right: "{sentence[:80]}"')
        before = sentence


def _spoken_of(text: str, samples: Sequence[Sample]) -> Sequence[Sample]:
    """Return the samples that a text names, or all where it names none."""
    named_here = [
        one
        for one in samples
        if any(each and len(each) > 1 and each in text for each in (one.id, one.lab_no))
    ]
    return named_here or samples


def _ask(sample: Sample, value: Value, why: str) -> None:
    if value.status != "sure":
        return
    value.doubt(why)
    key = f"withdrawn {value.analyte} {value.printed}"
    sample.questions.append(
        Question(
            f"{sample.name}: {named(value)} was read, but {why}. Does what was read hold?",
            key,
            (value.analyte,),
            ("as printed", "leave out"),
        )
    )


#: A row of results has so many cells at least, numbers among them.
_LEAST_CELLS: Final = 3
#: So many rows over the values of a sample stands what is said of it, and in so many words.
_NEAR: Final = 6
_MOST_WORDS: Final = 6
_Held = Sequence[tuple[Sample, list[Cell]]]


def _ask_of_void(documents: Sequence[Document], samples: Sequence[Sample]) -> None:
    """Ask about samples near a word that takes results back, which took none away."""
    for page in (page for document in documents for page in document.pages):
        placed = {cell.place: cell for cell in page.cells()}
        held = [
            (sample, [placed[one.place] for one in sample.values if one.place in placed])
            for sample in samples
        ]
        held = [(sample, cells) for sample, cells in held if cells]
        told = [(cell, row) for row in page.rows if held for cell in row if _takes_back(cell)]
        left = any(_is_left_out(row, held) for _, row in told)
        for cell, row in told:
            if _is_left_out(row, held):
                continue
            found = _called_in(cell, held) or _in_line_with(cell, held, page)
            if found is None:
                # "The line marked VOID is withdrawn" may stand over that very line
                found = [] if left else _near(cell, held, page)
            _ask_whether(cell.text, found)


def _takes_back(cell: Cell) -> bool:
    text = cell.text.strip()
    return cell.number is None and (stands_as(text) == "void" or speaks_of_void(text))


def _is_left_out(row: Sequence[Cell], held: _Held) -> bool:
    """Return whether a row holds results that were left out for the word that stands in it."""
    numbers = [one for one in row if one.number is not None or _FIGURES.fullmatch(one.text.strip())]
    return (
        len(row) >= _LEAST_CELLS
        and bool(numbers)
        and not any(cell.row == row[0].row for _, cells in held for cell in cells)
    )


def _called_in(cell: Cell, held: _Held) -> list[Sample]:
    """Return the samples whose name or number stands in a text."""
    return [
        sample
        for sample, _ in held
        if any(each and len(each) > 1 and each in cell.text for each in (sample.id, sample.lab_no))
    ]


def _in_line_with(cell: Cell, held: _Held, page: Page) -> list[Sample] | None:
    """Return the samples with values in the row or the column of a cell; none where no one has."""
    beside = [sample for sample, cells in held if any(one.row == cell.row for one in cells)]
    if beside:
        every = [one for _, cells in held for one in cells]
        alone = any(one.x0 <= cell.x1 and cell.x0 <= one.x1 for one in every)
        return [] if alone else beside  # where a value is expected it is of that value
    under = [
        sample
        for sample, cells in held
        if page.gridded and all(one.x0 <= cell.x1 and cell.x0 <= one.x1 for one in cells)
    ]
    return under or None


def _near(cell: Cell, held: _Held, page: Page) -> list[Sample]:
    """Return the sample right over a few words, or the next one under them."""
    if len(cell.text.split()) > _MOST_WORDS:
        return []
    filled = {row[0].row for row in page.rows if row}
    over = [
        (last, sample)
        for sample, cells in held
        if (last := max(one.row for one in cells)) < cell.row
        and all(row in filled for row in range(last, cell.row))
    ]
    if over:
        return [max(over, key=lambda one: one[0])[1]]
    under = [
        (first, sample)
        for sample, cells in held
        if cell.row < (first := min(one.row for one in cells)) <= cell.row + _NEAR
    ]
    return [min(under, key=lambda one: one[0])[1]] if under else []


def _ask_whether(text: str, samples: Sequence[Sample]) -> None:
    """Ask whether values hold: those of the analytes that the words name, or all."""
    names = {name for _, _, label in labels_in(text) for name in label.candidates}
    for sample in samples:
        sure = [one for one in sample.values if one.status == "sure"]
        sure = [one for one in sure if one.analyte in names] if names else sure
        if not sure:
            continue
        for value in sure:
            value.doubt("words beside it may take it back")
        sample.questions.append(
            Question(
                f'{sample.name}: beside it stands "{text[:80]}". Do its results hold, or were '
                "they taken back? Ask the laboratory.",
                f"void {sample.name}",
                tuple(dict.fromkeys(one.analyte for one in sure)),
                ("as printed", "leave out"),
            )
        )
