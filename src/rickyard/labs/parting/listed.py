"""Lists with a line for each sample whose number stands before its analyte."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import Final

from rickyard.labs.common import Cell, Document, Page
from rickyard.labs.tables import number_and_name
from rickyard.labs.vocabulary import is_only_unit, label_of, written_in

#: So many lines make a list.
_LEAST: Final = 2
#: So many lines with a value before its label make a page of them.
_LEAST_FIRST: Final = 4
_KEY: Final = re.compile(r"#?[A-Za-z]{0,4}[-/]?\d{2,}[\w/-]*")
#: "1165 ppm NO3-N": a number, its unit and what it is of.
_VALUE_FIRST: Final = re.compile(r"(?P<number>[<>]?\s?\d[\d.,]*)\s*(?P<rest>\S.*)")
#: The value alone, with or without its unit.
_VALUE_ALONE: Final = re.compile(r"[<>]?\s?\d[\d.,]*\s*(?:%|[a-zA-Z]{1,4}/[a-zA-Z]{1,4}|pp[mb])?")
#: "Dry matter: N-201 87.4 %, N-202 89.8 %": one analyte of several samples.
_SHARED: Final = re.compile(r"(?P<label>[A-Za-z][^:\d]{0,40}?)\s*[:=]\s*(?P<list>\S.*)")


def with_lists_apart(document: Document) -> Document:
    """Return a document in which lines of a list hold the label before its value.

    Parameters
    ----------
    document : Document
        One way of reading a file.

    Returns
    -------
    Document
        The document, label and value in cells of their own.
    """
    return replace(document, pages=[_apart(page) for page in document.pages])


def _apart(page: Page) -> Page:
    page = _labels_first(page)
    listed = {n: line for n, row in enumerate(page.rows) if (line := _line(row)) is not None}
    keys = {line[0].text: line[:2] for line in listed.values()}
    if len(listed) < _LEAST or len(keys) < len(listed):
        return page
    rows: list[list[Cell]] = []
    for n, row in enumerate(page.rows):
        rows.extend([listed[n]] if n in listed else _shared(row, keys) or [row])
    return replace(page, rows=rows)


def _labels_first(page: Page) -> Page:
    """Return a page with the label before its value where lines begin with the value.

    "16.3 % crude protein" over "35.4 % acid detergent fiber".
    """
    told = {n: one for n, row in enumerate(page.rows) if (one := _value_first(row)) is not None}
    sure = [one for one in told.values() if not _may_be_basis(one[0].text)]
    if len(sure) < _LEAST_FIRST:
        return page
    left = min(label.x0 for label, _ in told.values())
    rows = [
        [replace(told[n][0], x0=left, x1=left + 1.0), replace(told[n][1], x0=left + 2.0)]
        if n in told
        else row
        for n, row in enumerate(page.rows)
    ]
    return replace(page, rows=rows)


def _may_be_basis(text: str) -> bool:
    label = label_of(text)
    return label is None or label.maybe_basis


def _value_first(row: list[Cell]) -> tuple[Cell, Cell] | None:
    """Return label and value of a line that is a value, its unit and what it is of."""
    if len(row) == 2:
        return _value_then_label(row[0], row[1])
    if len(row) != 1 or row[0].number is not None:
        return None
    told = _VALUE_FIRST.fullmatch(row[0].text.lstrip("-*•· "))
    if told is None:
        return None
    unit, _, name = told["rest"].strip().partition(" ")
    whole = label_of(told["rest"])
    if not is_only_unit(unit) or (whole is not None and whole.ours and not written_in(unit).unit):
        unit, name = "", told["rest"]
    label = label_of(name)
    if label is None or label.misspelled or not (unit or label.ours):
        return None
    value = f"{told['number']} {unit}".strip()
    return replace(row[0], text=name), replace(row[0], text=value)


def _value_then_label(value: Cell, name: Cell) -> tuple[Cell, Cell] | None:
    """Return label and value of a line of two cells, where the value is the first."""
    if name.number is not None or not _VALUE_ALONE.fullmatch(value.text.strip()):
        return None
    label = label_of(name.text)
    if label is None or label.misspelled or not label.ours:
        return None
    return name, value


def _line(row: list[Cell]) -> list[Cell] | None:
    """Return number, name, label and value of a line of a list."""
    if len(row) == 2:
        both = number_and_name(row[0].text)
        if both is None:
            return None
        row = [replace(row[0], text=both[0]), replace(row[0], text=both[1]), row[1]]
    if len(row) != 3 or not _KEY.fullmatch(row[0].text):
        return None
    told = _VALUE_FIRST.fullmatch(row[2].text)
    known = written_in(told["rest"]) if told else None
    if told is None or known is None or not known.unit:
        return None
    label = label_of(known.rest)
    if label is None or not label.ours or label.misspelled:
        return None
    name, value = known.rest, row[2].text[: told.end("number")]
    unit = told["rest"].split()[0]
    if not written_in(unit).unit:
        return None
    return [
        row[0],
        row[1],
        replace(row[2], text=name, x1=row[2].x0 + 1.0),
        replace(row[2], text=f"{value} {unit}", x0=row[2].x0 + 2.0),
    ]


def _shared(row: list[Cell], keys: Mapping[str, list[Cell]]) -> list[list[Cell]]:
    """Return a line for each sample that a sentence gives a value of one analyte for."""
    text = "  ".join(cell.text for cell in row)
    told = _SHARED.fullmatch(text.strip(" ."))
    label = label_of(told["label"]) if told else None
    if told is None or label is None or not label.ours:
        return []
    parts = [part.split(None, 1) for part in re.split(r"[,;]\s+(?:and\s+)?", told["list"])]
    if len(parts) < _LEAST or any(len(one) < 2 or one[0] not in keys for one in parts):
        return []
    end = row[0]
    return [
        [
            *keys[key],
            replace(end, text=told["label"], x0=end.x0 + 100.0, x1=end.x0 + 101.0),
            replace(end, text=value, x0=end.x0 + 102.0, x1=end.x0 + 110.0),
        ]
        for key, value in parts
    ]
