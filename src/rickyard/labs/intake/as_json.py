"""A reading as JSON: what was read, its places and printed texts, and what is asked."""

from __future__ import annotations

from datetime import date
from typing import Any

from rickyard.labs.common import FileReading, Question, Sample, Value


def reading_as_json(reading: FileReading) -> dict[str, Any]:
    """Return a reading as plain values for JSON.

    Parameters
    ----------
    reading : FileReading
        What was read.

    Returns
    -------
    dict
        Plain values: text, numbers in the units they were printed in, lists; ``None`` where blank.

    Examples
    --------
    >>> reading_as_json(FileReading("a.csv", "0" * 64, refused="It is empty."))["refused"]
    'It is empty.'
    """
    return {
        "file": reading.file,
        "sha256": reading.sha256,
        "refused": reading.refused or None,
        "lab": reading.lab or None,
        "questions": [_question(one) for one in reading.questions],
        "notes": list(reading.notes),
        "samples": [_sample(one) for one in reading.samples],
    }


def _day(day: date | None) -> str | None:
    return day.isoformat() if day else None


def _sample(sample: Sample) -> dict[str, Any]:
    return {
        "id": sample.id or None,
        "lab_no": sample.lab_no or None,
        "sampled_on": _day(sample.sampled_on),
        "received_on": _day(sample.received_on),
        "reported_on": _day(sample.reported_on),
        "method": sample.method or None,
        "forage": sample.forage_words or None,
        "place": sample.place,
        "asked": sorted(sample.asked),
        "questions": [_question(one) for one in sample.questions],
        "values": [_value(one) for one in sample.values],
    }


def _question(one: Question) -> dict[str, Any]:
    return {
        "text": one.text,
        "key": one.key,
        "analytes": list(one.analytes),
        "choices": list(one.choices),
        "default": one.default or None,
        "level": one.level,
    }


def _value(value: Value) -> dict[str, Any]:
    return {
        "analyte": value.analyte,
        "value": value.value,
        "op": value.op,
        "unit": value.unit or None,
        "basis": value.basis or None,
        "status": value.status,
        "score": round(value.score, 2),
        "printed": value.printed,
        "place": value.place,
        "method": value.method or None,
        "reasons": list(value.reasons),
    }
