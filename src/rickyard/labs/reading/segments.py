"""Transfers between programs: lines that begin with their kind, a sample and then its results.

``S|2604|North field`` over ``R|021|Crude protein|12.2|%|D``: what stands where is told by a line
that explains the kinds, else by what the fields of all lines of a kind can be.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Container, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
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
_KIND: Final = re.compile(r"[A-Z][A-Z0-9_]{0,9}|\d{1,2}")
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
#: "202510211430": a day with its time.
_TIME: Final = re.compile(r"(?:19|20)\d\d[01]\d[0-3]\d\d{4,6}")
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
    """Return the lines with their kinds, or nothing where some have none.

    A field with parts, as "CP^Crude protein^dry", is as many fields in every line of its kind.
    """
    found = []
    filled = 0
    for place, line in enumerate(lines):
        if not line.strip():
            continue
        filled += 1
        fields = [one.strip().strip('"') for one in line.rstrip("\r\n").split(mark)]
        if len(fields) < _LEAST_FIELDS or not _KIND.fullmatch(fields[0]):
            continue
        found.append(_Line(place, fields[0], tuple(fields[1:])))
    whole = len(found) > _LEAST and len(found) >= 0.9 * filled
    return _with_parts(found) if whole else []


_PARTS: Final = re.compile(r"[\^~]")


def _with_parts(lines: Sequence[_Line]) -> list[_Line]:
    """Return lines whose fields are parted, each as often as any of its kind at its place."""
    parts: dict[tuple[str, int], int] = {}
    for one in lines:
        for at, field in enumerate(one.fields):
            parts[one.kind, at] = max(parts.get((one.kind, at), 1), len(_PARTS.split(field)))
    return [replace(one, fields=tuple(_apart(one, parts))) for one in lines]


def _apart(line: _Line, parts: Mapping[tuple[str, int], int]) -> Iterator[str]:
    """Yield the parts of the fields of a line, with empty ones where it has fewer than others."""
    for at, field in enumerate(line.fields):
        told = [one.strip() for one in _PARTS.split(field)]
        yield from told
        yield from [""] * (parts[line.kind, at] - len(told))


def _kind_of_results(lines: Sequence[_Line]) -> str:
    """Return the kind of line that names an analyte with its number, if there is one."""
    counts = Counter(one.kind for one in lines)
    for kind, often in counts.most_common():
        if often < _LEAST or len(counts) < 2:
            return ""  # the rest come no oftener; a table has another first cell in every row
        if label_of(kind) is not None:
            continue
        telling = [one.kind == kind for one in lines if _tells_result(one)]
        if kind.isdigit() and not all(telling):
            continue  # a number before each result is of its sample, and no kind
        if sum(telling) >= max(_LEAST, _MOSTLY * often):
            return kind
    return ""


def _tells_result(line: _Line) -> bool:
    """Return whether a line names an analyte and holds a number."""
    return (
        len(line.fields) + 1 >= _LEAST_RESULT
        and any(map(_names, line.fields))
        and any(map(_is_value, line.fields))
    )


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
    blocks = _blocks(lines, kind)
    guessed = _guessed(blocks, {*told})
    for heads, own in blocks:
        rows = [each for line in heads for each in _head(line, told)]
        rows += [(line.place, pair) for line in heads for pair in guessed.get(line.place, ())]
        rows += [(line.place, _result(line, columns, codes)) for line in own]
        pages.append(_page(rows, len(pages)))
    return Document("records", pages) if pages else None


def _blocks(lines: Sequence[_Line], kind: str) -> list[tuple[list[_Line], list[_Line]]]:
    """Return of each sample the lines over its results, and its results.

    A kind that stands over the first results stands over those of every sample; another one ends
    what was before it.
    """
    first = next(n for n, one in enumerate(lines) if one.kind == kind)
    over = {one.kind for one in lines[:first]}
    blocks: list[tuple[list[_Line], list[_Line]]] = []
    heads: list[_Line] = []
    for one in lines:
        if one.kind != kind:
            heads.extend([one] if one.kind in over else ())
        elif heads or not blocks:
            blocks.append((heads, [one]))
            heads = []
        else:
            blocks[-1][1].append(one)
    return blocks


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
    if len(water) == 1 and used - water == {"D"}:
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
    """Return the fields of a line over results, as they are explained."""
    names = told.get(line.kind, ())
    pairs = [
        (_LABELS.get(field_of(name), ""), text)
        for name, text in zip(names, line.fields, strict=False)
    ]
    if len(line.fields) == 1 and field_of(line.kind) in _LABELS:
        pairs = [(_LABELS[field_of(line.kind)], line.fields[0])]
    return [(line.place, [label, _day(text)]) for label, text in pairs if label and text]


#: Kinds that are of the transfer, and of none of its samples.
_OF_TRANSFER: Final = ("H", "HDR", "HEAD", "MSH", "C", "T", "L", "E", "END")


def _guessed(
    blocks: Sequence[tuple[list[_Line], list[_Line]]], explained: Container[str]
) -> dict[int, list[list[str]]]:
    """Return number and name of each sample by the place of their line, where nothing explains it.

    What is the same over every sample is of the customer; what counts is no number. Days are not
    guessed, nor a name where several may be it.
    """
    found: dict[int, list[list[str]]] = {}
    every: dict[tuple[str, int], list[tuple[int, str]]] = {}
    for heads, _ in blocks:
        mine = {
            (one.kind, at): (one.place, field)
            for one in heads
            if one.kind not in explained and one.kind not in _OF_TRANSFER
            for at, field in enumerate(one.fields)
            if not (len(one.fields) == 1 and field_of(one.kind) in _LABELS)
        }
        for key, told in mine.items():
            every.setdefault(key, []).append(told)
    columns = [told for told in every.values() if _may_call([text for _, text in told], blocks)]
    numbers = [told for told in columns if all(_NUMBER.fullmatch(text) for _, text in told)]
    words = [told for told in columns if told not in numbers]
    for label, kinds in (("Lab no", numbers), ("Sample", words)):
        if len(kinds) > 1 and len(blocks) == 1 and label == "Sample":
            continue
        for place, text in kinds[0] if kinds else ():
            found.setdefault(place, []).append([label, text])
    return found


def _may_call(texts: Sequence[str], blocks: Sequence[object]) -> bool:
    """Return whether the fields at one place, over each sample, can be their names or numbers."""
    if len(texts) < len(blocks) or len({*texts}) < len(blocks):
        return False
    numbers = [int(one) for one in texts if one.isdigit()]
    if numbers in ([*range(1, len(texts) + 1)], [*range(len(texts))]):
        return False
    return not any(
        len(one) < 2 or printed_day(_day(one)) or field_of(one) or _TIME.fullmatch(one)
        for one in texts
    )


def _day(text: str) -> str:
    told = _DAY.fullmatch(text)
    return f"{told[1]}-{told[2]}-{told[3]}" if told else text
