"""A reading as JSON: what was read, its places and printed texts, and what is asked."""

from __future__ import annotations

import json
from collections.abc import Sequence
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


def readings_text(readings: Sequence[FileReading]) -> str:
    """Return readings as JSON text: one as itself, several as a list.

    Each question and each sample stands on a line of its own: thousands of them are written in a
    moment that way, and two files compare line by line.

    Parameters
    ----------
    readings : sequence of FileReading
        What was read, a file each.

    Returns
    -------
    str
        The text, with a line end.

    Examples
    --------
    >>> print(readings_text([FileReading("a.csv", "0", refused="It is empty.")]))
    {
     "file": "a.csv",
     "sha256": "0",
     "refused": "It is empty.",
     "lab": null,
     "questions": [],
     "notes": [],
     "samples": []
    }
    <BLANKLINE>
    """
    told = [_object(reading_as_json(one)) for one in readings]
    return (told[0] if len(told) == 1 else "[\n" + ",\n".join(told) + "\n]") + "\n"


def _object(whole: dict[str, Any]) -> str:
    rows = [f" {json.dumps(name)}: {_lines(value)}" for name, value in whole.items()]
    return "{\n" + ",\n".join(rows) + "\n}"


def _lines(value: object) -> str:
    if not (isinstance(value, list) and value):
        return json.dumps(value, ensure_ascii=False)
    return "[\n" + ",\n".join(f"  {json.dumps(one, ensure_ascii=False)}" for one in value) + "\n ]"


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
