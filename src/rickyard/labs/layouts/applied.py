"""Answers applied to a reading: what was asked is settled, what was corrected is kept beside."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace

from rickyard.labs.common import Correction, FileReading, Question, Sample, Value
from rickyard.labs.layouts.files import Answer
from rickyard.labs.vocabulary import Comma, Op, printed

_AS_PRINTED = ("as printed", "two samples", "the last counts", "the first counts")
_NUMBER = re.compile(r"[<>]?\s*-?\d[\d.,]*")


def apply_answers(reading: FileReading, answers: Mapping[str, Answer]) -> None:
    """Settle the questions of a reading that have an answer.

    A question that was answered while the file was understood (basis, units, order of dates) is
    not asked any more and so not among these.

    Parameters
    ----------
    reading : FileReading
        What was read; its values and questions are changed.
    answers : mapping of str to Answer
        Answers by the key of their question.
    """
    reading.questions = [
        one for one in reading.questions if not _file_question(reading, one, answers)
    ]
    for sample in reading.samples:
        sample.questions = [
            one
            for one in sample.questions
            if one.key not in answers or not _settle(reading, sample, one, answers[one.key])
        ]


def _file_question(reading: FileReading, one: Question, answers: Mapping[str, Answer]) -> bool:
    answer = answers.get(one.key)
    if answer is None or answer.text not in one.choices:
        return False
    reading.notes.append(f'"{one.key}" was answered: {answer.text}.')
    return True


def _settle(reading: FileReading, sample: Sample, one: Question, answer: Answer) -> bool:
    said = answer.text.strip()
    about = [value for value in sample.values if value.analyte in one.analytes]
    if not _take(reading, sample, one, answer, about):
        return False
    reading.notes.append(f'{sample.name}: "{one.key}" was answered: {said}{_by(answer)}.')
    return True


def _take(
    reading: FileReading, sample: Sample, one: Question, answer: Answer, about: list[Value]
) -> bool:
    """Do what an answer says; return whether it was understood."""
    said = answer.text.strip()
    if said == "leave out":
        doubted = [value for value in about if value.status != "sure"] or about
        sample.values = [value for value in sample.values if value not in doubted]
        return True
    if said in _AS_PRINTED:
        for value in about:
            if value.status == "ask" and (value.value is not None or value.op in ("nd", "tntc")):
                value.status = "sure"
                value.reasons.append("confirmed as printed" + _by(answer))
        return True
    if said == "exchange the two":
        _exchange(reading, sample, one, answer)
        return True
    if _NUMBER.fullmatch(said):
        return _correct(reading, sample, about, said, answer)
    return _keep(sample, about, said)


def _keep(sample: Sample, about: list[Value], said: str) -> bool:
    """Keep of several values the one on the basis, or of the name, that was answered."""
    kept = [value for value in about if said in (value.basis, value.analyte)]
    if not kept:
        return False
    sample.values = [value for value in sample.values if value not in about or value in kept]
    for value in kept:
        value.status = "sure"
    return True


def _by(answer: Answer) -> str:
    parts = [part for part in (answer.who, answer.when, answer.why) if part]
    return f" ({', '.join(parts)})" if parts else ""


def _note(reading: FileReading, sample: Sample, value: Value, to: str, answer: Answer) -> None:
    reading.corrections.append(
        Correction(
            sample.name,
            value.analyte,
            value.printed,
            to,
            answer.who,
            answer.when,
            answer.why,
            value.place,
        )
    )


def _correct(
    reading: FileReading, sample: Sample, about: list[Value], said: str, answer: Answer
) -> bool:
    """Take the number that a person gives for the one value that is in doubt."""
    doubted = [value for value in about if value.status != "sure"]
    if not doubted and len({value.analyte for value in about}) == 1:
        doubted = about  # only unusual, and sure as printed
    read = printed(said, Comma.POINT)
    if len(doubted) > 1 and len({value.analyte for value in doubted}) == 1:
        doubted = [value for value in doubted if value.basis == "dm"] or doubted[:1]
    if len(doubted) != 1 or read.value is None:
        return False
    value = doubted[0]
    _note(reading, sample, value, said, answer)
    value.value, value.step = read.value, read.step
    value.op = str(read.op) if read.op in (Op.IS, Op.BELOW, Op.ABOVE) else "="
    value.status = "sure"
    value.reasons.append(f"corrected from {value.printed}{_by(answer)}")
    return True


def _exchange(reading: FileReading, sample: Sample, one: Question, answer: Answer) -> None:
    """Exchange the two bases of values, or dry matter and moisture, as a correction."""
    if set(one.analytes) == {"dm", "moisture"}:
        pairs = [(sample.of("dm"), sample.of("moisture"))]
    else:
        pairs = [(sample.of(name, "dm"), sample.of(name, "ar")) for name in one.analytes]
    for first, second in pairs:
        if first is None:
            continue
        if second is None:
            if first.value is not None and first.analyte == "dm":
                _note(reading, sample, first, f"{100.0 - first.value:g}", answer)
                first.value = round(100.0 - first.value, 6)
            continue
        _note(reading, sample, first, second.printed, answer)
        _note(reading, sample, second, first.printed, answer)
        old = replace(first)
        first.value, first.step = second.value, second.step
        second.value, second.step = old.value, old.step
    for value in sample.values:
        if value.analyte in one.analytes and value.value is not None:
            value.status = "sure"
            value.reasons.append("exchanged" + _by(answer))
