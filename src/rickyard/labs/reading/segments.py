"""Transfers between programs: lines that begin with their kind, a sample and then its results.

``S|2604|North field`` over ``R|021|Crude protein|12.2|%|D``: what stands where is told by a line
that explains the kinds, else by what the fields of all lines of a kind can be.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from rickyard.labs.common import Cell, Document, Page
from rickyard.labs.parsing import MOST_CELLS, MOST_TEXT
from rickyard.labs.vocabulary import (
    Op,
    basis_in,
    field_of,
    is_only_basis,
    is_only_unit,
    label_of,
    printed,
    printed_day,
)

_MARKS: Final = ("|", "^", "~", ";", "\t", ",")
_KIND: Final = re.compile(r"[A-Z][A-Z0-9_]{0,9}")
#: So many lines of results make a transfer, and so great a part of them must name an analyte.
_LEAST: Final = 3
_MOSTLY: Final = 0.6
#: A line of a transfer has so many fields at least; one of results has a name and a number.
_LEAST_FIELDS: Final = 2
_LEAST_RESULT: Final = 3
#: "R=RESULT(code,name,result,unit,basis)": the fields of a kind, in order.
_FIELDS_TOLD: Final = re.compile(
    r"\b(?P<kind>[A-Z][A-Z0-9_]{0,9})\s*[=:]\s*[\w ]{0,30}\((?P<fields>[^()]{4,200})\)"
)
#: "A=as received": a code and its basis.
_CODE_TOLD: Final = re.compile(
    r"(?<![\w])(?P<code>[A-Z0-9]{1,3})\s*[=:]\s*(?P<means>[A-Za-z][A-Za-z -]{2,24}?)"
    r"(?=\s+[A-Z0-9]{1,3}\s*[=:]|\s*[()\[\],;|.]|\s*$)"
)
#: Codes of a basis that need no explaining.
_PLAIN_BASES: Final = {
    "DM": "dm", "DB": "dm", "DMB": "dm", "DRY": "dm", "AR": "ar", "AF": "ar", "ASIS": "ar",
    "ASFED": "ar", "WET": "ar", "FRESH": "ar",
}  # fmt: skip
_LETTERS: Final = re.compile(r"[A-Z]{1,2}")
_BASIS_WORDS: Final = {"dm": "dry matter", "ar": "as received"}
#: "20260525": a day as programs write it.
_DAY: Final = re.compile(r"((?:19|20)\d\d)(\d\d)(\d\d)(?:\d{4,6})?")
_NUMBER: Final = re.compile(r"#?[A-Za-z]{0,5}[-/]?\d[\w/.-]*")
_LABELS: Final = {
    "id": "Sample", "weak_id": "Sample", "lab_no": "Lab no", "number": "Lab no",
    "sampled_on": "Date sampled", "received_on": "Date received", "reported_on": "Date reported",
    "method": "Method", "forage": "Forage type",
}  # fmt: skip
_WORDS: Final = (Op.NOT_DETECTED, Op.TOO_MANY, Op.ABSENT)


@dataclass(frozen=True, slots=True)
class _Line:
    place: int
    kind: str
    fields: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Columns:
    """Which fields of a line of results hold what; -1 where there is none."""

    name: int
    value: int
    unit: int
    basis: int
    sign: int


def segment_document(lines: Sequence[str]) -> Document | None:
    """Return the samples of a transfer, or ``None`` where a text is none.

    Parameters
    ----------
    lines : sequence of str
        The lines of the text.

    Returns
    -------
    Document or None
        A page for each sample, with a line for each result.

    Examples
    --------
    >>> text = ["S|771|East", "R|CP|12.2|%|DM", "R|ADF|35.1|%|DM", "R|NDF|55.0|%|DM"]
    >>> [[cell.text for cell in row] for row in segment_document(text).pages[0].rows][:3]
    [['Lab no', '771'], ['Sample', 'East'], ['CP', '12.2', '%', 'dry matter']]
    """
    for mark in _MARKS:
        parted = _parted(lines, mark)
        kind = _kind_of_results(parted) if parted else ""
        if kind:
            return _document(parted, kind)
    return None


def _parted(lines: Sequence[str], mark: str) -> list[_Line]:
    """Return the lines with their kinds, or nothing where some have none."""
    found = []
    filled = 0
    for place, line in enumerate(lines):
        if not line.strip():
            continue
        filled += 1
        fields = [one.strip().strip('"') for one in line.rstrip("\r\n").split(mark)]
        if len(fields) < _LEAST_FIELDS or not _KIND.fullmatch(fields[0]):
            continue
        found.append(_Line(place, fields[0], tuple(map(_plainest, fields[1:]))))
    return found if len(found) > _LEAST and len(found) >= 0.9 * filled else []


def _plainest(field: str) -> str:
    """Return of a field with parts the one that says most: "CP^Crude protein^L"."""
    if "^" not in field and "~" not in field:
        return field.strip()
    parts = [one.strip() for one in re.split(r"[\^~]", field) if one.strip()]
    named = [one for one in parts if (label := label_of(one)) is not None and label.ours]
    return max(named or parts[:1] or [""], key=len)


def _kind_of_results(lines: Sequence[_Line]) -> str:
    """Return the kind of line that names an analyte with its number, if there is one."""
    counts = Counter(one.kind for one in lines)
    for kind, often in counts.most_common():
        if often < _LEAST or len(counts) < 2:
            return ""  # the rest come no oftener; a table has another first cell in every row
        if label_of(kind) is not None:
            continue
        mine = [one for one in lines if one.kind == kind]
        told = sum(
            len(one.fields) + 1 >= _LEAST_RESULT
            and any(_names(field) for field in one.fields)
            and any(_is_value(field) for field in one.fields)
            for one in mine
        )
        if told >= max(_LEAST, _MOSTLY * often):
            return kind
    return ""


def _names(field: str) -> bool:
    label = label_of(field) if any(map(str.isalpha, field)) else None
    return label is not None and label.ours


def _is_value(field: str) -> bool:
    read = printed(field) if field else None
    return read is not None and (
        (read.value is not None and not read.rest) or (read.op in _WORDS and len(field) > 1)
    )


def _document(lines: Sequence[_Line], kind: str) -> Document | None:
    told = _fields_told(lines)
    results = [one for one in lines if one.kind == kind]
    columns = _columns(results, told.get(kind, ()))
    if columns is None or len(lines) * 4 > MOST_CELLS:
        return None
    codes = _codes(lines, results, columns)
    pages: list[Page] = []
    rows: list[tuple[int, list[str]]] = []
    before: list[_Line] = []
    for one in [*lines, _Line(-1, "", ())]:
        if one.kind != kind:
            if rows and any(len(texts) > 2 for _, texts in rows):
                pages.append(_page(rows, len(pages)))
                rows, before = [], []
            before.append(one)
            continue
        if before:
            rows = [each for line in before for each in _head(line, told)]
            before = []
        rows.append((one.place, _result(one, columns, codes)))
    return Document("records", pages) if pages else None


def _page(rows: Sequence[tuple[int, list[str]]], number: int) -> Page:
    made = [
        [
            Cell(text[:MOST_TEXT], n, at, at + 0.9, f"line {place + 1}, {texts[0][:40]}")
            for at, text in enumerate(texts)
            if text
        ]
        for n, (place, texts) in enumerate(rows)
    ]
    return Page(f"sample {number + 1}", made, True)


def _fields_told(lines: Sequence[_Line]) -> dict[str, tuple[str, ...]]:
    """Return the names of the fields of each kind that a line explains."""
    found: dict[str, tuple[str, ...]] = {}
    for one in lines:
        for told in _FIELDS_TOLD.finditer("|".join(one.fields)):
            names = [re.sub(r"\b[A-Z0-9]{1,3}=.*", "", each) for each in told["fields"].split(",")]
            found[told["kind"]] = tuple(each.strip() for each in names)
    return found


def _columns(results: Sequence[_Line], told: Sequence[str]) -> _Columns | None:
    """Return which fields of results hold what: as it is explained, else as they look."""
    width = max(len(one.fields) for one in results)
    columns = [[one.fields[n] for one in results if n < len(one.fields)] for n in range(width)]

    def best(hits: Sequence[float], but: Sequence[int] = ()) -> int:
        ranked = sorted(
            (n for n in range(width) if n not in but and hits[n] > 0), key=lambda n: -hits[n]
        )
        return ranked[0] if ranked else -1

    kinds = [field_of(one) for one in told]
    names = [sum(map(_names, each)) + 0.001 * len("".join(each)) / len(each) for each in columns]
    name = best([hit if hit >= 1.0 else 0.0 for hit in names])
    units = [sum(is_only_unit(one) and not is_only_basis(one) for one in each) for each in columns]
    unit = best(units, (name,))
    values = [sum(map(_is_value, each)) * (0.1 if _counts(each) else 1.0) for each in columns]
    value = kinds.index("result") if "result" in kinds else best(values, (name, unit))
    if name < 0 or value < 0 or value >= width:
        return None
    bases = [_like_bases(each) for each in columns]
    basis = kinds.index("basis") if "basis" in kinds else best(bases, (name, unit, value))
    signs = [sum(one in ("<", ">") for one in each) for each in columns]
    return _Columns(name, value, unit, basis if basis < width else -1, best(signs, (value,)))


def _counts(texts: Sequence[str]) -> bool:
    """Return whether numbers count lines or are codes: "1", "2", "3", "010"."""
    whole = all(one.isdigit() for one in texts if one)
    numbers = [int(one) for one in texts if one.isdigit()]
    return whole and (
        any(one.startswith("0") and len(one) > 1 for one in texts)
        or numbers[:3] == list(range(numbers[0], numbers[0] + 3))
        if numbers
        else False
    )


def _like_bases(texts: Sequence[str]) -> float:
    """Return how much a column looks like one of bases: words or a few short codes."""
    filled = [one for one in texts if one not in ("", "-")]
    words = sum(is_only_basis(one) or one.upper() in _PLAIN_BASES for one in filled)
    short = bool(filled) and all(map(_LETTERS.fullmatch, filled)) and len(set(filled)) <= 3
    return words + (0.5 if short else 0.0)


def _codes(lines: Sequence[_Line], results: Sequence[_Line], columns: _Columns) -> dict[str, str]:
    """Return the basis that each code stands for.

    A letter that no line explains is the sample as received where it stands with the dry matter
    or the moisture itself.
    """
    if columns.basis < 0:
        return {}
    used = {one.fields[columns.basis] for one in results if columns.basis < len(one.fields)}
    found = {code: basis for code in used if (basis := _PLAIN_BASES.get(code.upper(), ""))}
    others = " | ".join("|".join(one.fields) for one in lines if one not in results)
    for told in _CODE_TOLD.finditer(others):
        basis = basis_in(told["means"])
        if told["code"] in used and basis in _BASIS_WORDS:
            found[told["code"]] = basis
    if found:
        return found
    water = {
        one.fields[columns.basis]
        for one in results
        if columns.basis < len(one.fields)
        if (label := label_of(one.fields[columns.name])) is not None
        and label.candidates in (("dm",), ("moisture",))
    }
    if len(water) == 1 and used - water <= {"D"}:
        return {water.pop(): "ar", "D": "dm"}
    return {}


def _result(line: _Line, columns: _Columns, codes: dict[str, str]) -> list[str]:
    def field(at: int) -> str:
        return line.fields[at] if 0 <= at < len(line.fields) else ""

    sign = field(columns.sign) if field(columns.sign) in ("<", ">") else ""
    code = field(columns.basis)
    basis = _BASIS_WORDS.get(codes.get(code, ""), code if is_only_basis(code) else "")
    return [
        field(columns.name),
        sign + field(columns.value),
        *(one for one in (field(columns.unit), basis) if one),
    ]


def _head(line: _Line, told: dict[str, tuple[str, ...]]) -> list[tuple[int, list[str]]]:
    """Return the fields of a line over results, by what is explained or what they look like."""
    names = told.get(line.kind)
    if names is not None:
        pairs = [
            (_LABELS.get(field_of(name), ""), text)
            for name, text in zip(names, line.fields, strict=False)
        ]
    elif len(line.fields) == 1 and field_of(line.kind) in _LABELS:
        pairs = [(_LABELS[field_of(line.kind)], line.fields[0])]
    elif line.kind in ("H", "HDR", "HEAD", "MSH", "C", "T", "L", "E", "END"):
        return []
    else:
        pairs = _guessed(line.fields)
    return [(line.place, [label, _day(text)]) for label, text in pairs if label and text]


def _guessed(fields: Sequence[str]) -> list[tuple[str, str]]:
    """Return number and name among fields that nothing explains; days are not guessed."""
    texts = [one for one in fields if len(one) > 1 and printed_day(_day(one)) is None]
    numbers = [one for one in texts if _NUMBER.fullmatch(one)]
    words = [
        one
        for one in texts
        if one not in numbers and any(map(str.isalpha, one)) and not (field_of(one))
    ]
    found = [("Lab no", numbers[0])] if numbers else []
    return [*found, *([("Sample", words[0])] if words else [])]


def _day(text: str) -> str:
    told = _DAY.fullmatch(text)
    return f"{told[1]}-{told[2]}-{told[3]}" if told else text
