"""What a whole file says: its samples, and what is open about them."""

from __future__ import annotations

import itertools
import re
from collections.abc import Mapping, Sequence
from typing import Final

from rickyard.labs.common import Document, Question, Sample, Value
from rickyard.labs.legends import Legend, legend_of, tell_sections
from rickyard.labs.naming import doubt_strangers, number_by_order
from rickyard.labs.tables import Draft
from rickyard.labs.understanding.among import (
    DOUBLE,
    NO_BASIS,
    UNFIT,
    basis_questions,
    doubt_unfit,
)
from rickyard.labs.understanding.asks import named
from rickyard.labs.understanding.guard import (
    ask_unread,
    doubt_against_sentences,
    doubt_codes,
    doubt_contradicted,
    doubt_numbers,
    doubt_odd_units,
    doubt_shifted,
    doubt_traces,
    doubt_unprinted,
    leave_names,
    page_of,
    questions_of_columns,
    questions_of_names,
    settle_nd,
)
from rickyard.labs.understanding.pages import found_in
from rickyard.labs.understanding.settle import APART, settled_values
from rickyard.labs.understanding.whole import samples_of
from rickyard.labs.vocabulary import Comma, DayOrder, day_order

#: A value of a row that is one of several runs, and no mean of them.
OF_RUNS: Final = "it is one of several runs, and their mean is not printed"
_NUMBER: Final = re.compile(r"[<>]?[-+]?\d[\d.]*")
_LOOKED_AT: Final = 200
#: A sign and what it means, parted at the colon between them.
_PAIR: Final = 2
_COMMA_WITHIN: Final = re.compile(r"\d,\d")
#: A value beside which two things are printed was found where it stands.
_WORTH_APART: Final = 0.8
#: A table of more values than these is not read in yet another way.
_CLEARLY: Final = 400


class Understood:
    """Samples with their values, questions of the whole file, and the draft behind them."""

    def __init__(
        self, samples: list[Sample], questions: list[Question], draft: Draft, worth: float
    ) -> None:
        self.samples = samples
        self.questions = questions
        self.draft = draft
        self.worth = worth

    @property
    def is_plain_table(self) -> bool:
        """Return whether it is so clearly a table that no other way need be tried."""
        values = [value for sample in self.samples for value in sample.values]
        sure = sum(value.status == "sure" for value in values)
        tables = all(one.startswith(("wide", "long")) for one in self.draft.structure)
        return tables and len(values) > _CLEARLY and sure > 0.9 * len(values)


def _worth_of(samples: Sequence[Sample]) -> float:
    """Return how much was understood, to choose between ways of reading.

    What contradicts a report as a whole does not count against the way in which it is read.
    """
    once = _once(samples)
    worth = sum(_worth(value) for sample in once for value in sample.values)
    worth -= len(samples) - len(once)
    most = max((len(s.values) for s in samples), default=0)
    # a name over a few values beside samples with many rather tells of a broken one
    named = sum(bool(s.id or s.lab_no) for s in samples if 2 * len(s.values) >= most)
    days = sum(bool(day) for s in samples for day in (s.sampled_on, s.received_on, s.reported_on))
    both = sum(bool(s.id and s.lab_no) for s in samples)
    return worth + 0.05 * (days + both) + 0.2 * named - 0.3 * (len(samples) - named)


def _once(samples: Sequence[Sample]) -> list[Sample]:
    """Return samples without those that bear the name or number of one before them.

    A name over two columns rather tells that names and values were not put together rightly.
    """
    names: set[str] = set()
    numbers: set[str] = set()
    once = []
    for sample in samples:
        if sample.id not in names and sample.lab_no not in numbers:
            once.append(sample)
        names |= {sample.id} - {""}
        numbers |= {sample.lab_no} - {""}
    return once


def _worth(value: Value) -> float:
    """Return what a value tells for a way of reading, or against it.

    A value of which only the unit or the basis is open was found where it stands; one that no
    forage has, or that stands there twice, rather tells of a wrong place.
    """
    if value.status == "sure":
        return 1.0
    if value.status == "refused":
        return -0.5
    if any(reason.endswith(APART) for reason in value.reasons):
        return _WORTH_APART
    if OF_RUNS in value.reasons:
        return 0.4
    if UNFIT in value.reasons or DOUBLE in value.reasons:
        return -0.3
    return 0.4 if NO_BASIS in value.reasons else 0.05


def understood(
    documents: Sequence[Document], answers: Mapping[str, str] | None = None
) -> Understood:
    """Understand a file, by the way of reading it that tells most.

    Parameters
    ----------
    documents : sequence of Document
        The ways in which it may be read.
    answers : mapping of str to str, optional
        Answers by the key of their question: basis, order of dates, decimals, units.

    Returns
    -------
    Understood
        The samples, and what is to be asked of the whole file.
    """
    ways: list[Understood] = []
    running = any(document.kind == "text" for document in documents)
    for document in documents:
        parted = running and document.kind == "table"  # "1,850 ppm" parted at its comma
        ways.append(_one(document, answers or {}, letters=not parted))
        if document.kind == "text" and any(map(_by_commas, documents)):
            _doubt_commas(ways[-1].samples)
        if ways[-1].is_plain_table:
            break
    best = max(ways, key=lambda one: one.worth)
    by_places = documents[ways.index(best)].kind == "text"
    marked = [
        way
        for way, document in zip(ways, documents, strict=False)
        if by_places and document.mark in _UNALIGNED and way.worth >= _AS_GOOD * best.worth
        if _names_in(way) >= _names_in(best)
    ]
    return max(marked, key=lambda one: one.worth, default=best)


def _names_in(way: Understood) -> int:
    """Return how many names and numbers of samples a reading found."""
    return sum(bool(one.id) + bool(one.lab_no) for one in way.samples)


#: Signs between cells that need not stand under one another, so that their places tell nothing.
_UNALIGNED: Final = ("|", "\t")
#: A reading by such signs counts before one by places that found no more than twice as much.
_AS_GOOD: Final = 0.5


def _by_commas(document: Document) -> bool:
    """Return whether the commas of a text part numbers, and stand within none."""
    if document.mark != ",":
        return False
    pairs = [
        bool(_NUMBER.fullmatch(one.text.strip()))
        for page in document.pages
        for row in page.rows[:_LOOKED_AT]
        for one, after in itertools.pairwise(row)
        if one.text[-1:].isdigit() and after.text[:1].isdigit()
    ]
    return 2 * sum(pairs) > len(pairs)


def _doubt_commas(samples: Sequence[Sample]) -> None:
    """Ask about "713,682" in running text that may be two cells of a table parted by commas."""
    for sample in samples:
        for value in sample.values:
            if value.status == "sure" and _COMMA_WITHIN.search(value.printed):
                value.doubt("its comma may part two numbers")
                sample.questions.append(
                    Question(
                        f"{named(value)}: is {value.printed} one number, or are they two, parted "
                        "by the comma as other things in this file are?",
                        f"comma {value.analyte}",
                        (value.analyte,),
                        ("a number", "leave out"),
                    )
                )


def _without_means(samples: list[Sample]) -> list[str]:
    """Take out samples without a name whose values are the means of the others; tell of them."""
    named = [one for one in samples if one.id or one.lab_no]
    told = []
    for sample in [one for one in samples if not (one.id or one.lab_no)]:
        if len(named) > 1 and len(sample.values) > 1 and _are_means(sample.values, named):
            samples.remove(sample)
            told.append(f"means without a name ({sample.place})")
    return told


def _are_means(values: Sequence[Value], named: Sequence[Sample]) -> bool:
    """Return whether each of some values is the mean of the same value of all samples."""
    for value in values:
        others = [one.of(value.analyte, value.basis) for one in named]
        numbers = [one.value for one in others if one is not None and one.value is not None]
        if value.value is None or len(numbers) < len(named):
            return False
        if abs(sum(numbers) / len(numbers) - value.value) > value.step:
            return False
    return True


#: A bill tells of the tests that it charges for, and of their prices.
_BILL: Final = re.compile(r"\b(?:invoice|payable|amount due|receipt|price list|quotation)\b", re.I)
_FEW: Final = 2


def _tells_of_none(samples: Sequence[Sample], draft: Draft, document: Document) -> bool:
    """Return whether a few values without a name were found in what is no report.

    They stand in cells of a workbook that make no table, or in a bill.
    """
    if draft.structure != ["prose"] or any(one.id or one.lab_no for one in samples):
        return False
    if sum(value.status == "sure" for one in samples for value in one.values) > _FEW:
        return False
    texts = (cell.text for page in document.pages for cell in page.cells())
    return document.kind == "workbook" or any(map(_BILL.search, texts))


def _doubt_nameless(samples: Sequence[Sample]) -> None:
    """Ask of which sample values are that stand without a name, where there are several samples."""
    for sample in samples:
        several = len(samples) > 1 or any(DOUBLE in one.reasons for one in sample.values)
        if sample.id or sample.lab_no or not several:
            continue
        for value in sample.values:
            value.doubt("nothing tells of which sample it is")
        told = (
            f"{len(sample.values)} values stand without a name ({sample.place}): of which sample "
            "are they, or are they of none?"
            if len(sample.values) != 1
            else f"One value stands without a name ({sample.place}): of which sample is it, or "
            "is it of none?"
        )
        sample.questions.append(
            Question(
                told,
                f"nameless {sample.place}",
                tuple(dict.fromkeys(value.analyte for value in sample.values)),
                ("leave out",),
            )
        )


def _legends(draft: Draft, whole: Legend) -> dict[str, Legend]:
    """Return what the sentences of each page say; under nothing, those of pages without values.

    Where all stand on one page it is what the ``whole`` file says.
    """
    valued = {page_of(one.cell.place) for sample in draft.samples for one in sample.found}
    texts: dict[str, list[str]] = {}
    for cell in draft.texts:
        page = page_of(cell.place)
        texts.setdefault(page if page in valued else "", []).append(cell.text)
    if len(texts) == 1:
        return dict.fromkeys(texts, whole)
    return {page: legend_of(told) for page, told in texts.items()}


def _one(document: Document, answers: Mapping[str, str], *, letters: bool) -> Understood:
    comma = {"point": Comma.POINT, "comma": Comma.COMMA}.get(answers.get("decimals", ""))
    draft = found_in(document, comma, letters=letters)
    legend = legend_of(cell.text for cell in draft.texts)
    legend.answers = dict(answers)
    tell_sections(draft, legend)
    order = {"month first": DayOrder.MONTH, "day first": DayOrder.DAY}.get(
        answers.get("order of dates", "")
    ) or day_order(cell.text for page in document.pages for cell in page.cells())
    samples = []
    every = samples_of(draft.samples, legend, order)
    leave_names(every)
    number_by_order(every, (cell.text for page in document.pages for cell in page.cells()))
    doubt_numbers(every, answers.get("name or number", ""))
    for found, sample in zip(draft.samples, every, strict=True):
        settled_values(found, legend, sample)
        if not sample.values:
            continue
        for value in sample.values if found.of_runs else ():
            value.reasons.extend([OF_RUNS] if DOUBLE in value.reasons else ())
        doubt_unfit(sample)
        doubt_shifted(found, sample)
        ask_unread(found, sample)
        samples.append(sample)
    samples = [] if _tells_of_none(samples, draft, document) else samples
    doubt_odd_units(samples)
    doubt_unprinted(samples)
    doubt_codes(samples)
    doubt_traces(samples, (cell.text for page in document.pages for cell in page.cells()))
    worth = _worth_of(samples)
    doubt_strangers(draft.samples, every)
    _doubt_nameless(samples)
    contradicted = doubt_contradicted(samples, legend.stated, answers.get("basis", ""))
    rows = [row for page in document.pages for row in page.rows if row]
    texts = [": ".join(cell.text for cell in row) for row in rows if len(row) == _PAIR]
    settle_nd(samples, [*texts, *(cell.text for row in rows for cell in row)])
    if legend.basis_of:
        doubt_against_sentences(samples, _legends(draft, legend), answers.get("basis", ""))
    draft.passed.extend(_without_means(samples))
    questions = [*basis_questions(samples), *contradicted, *questions_of_columns(draft)]
    questions.extend(questions_of_names(draft))
    return Understood(samples, questions, draft, worth)
