"""Headings that are codes, with a legend elsewhere that says what each of them is."""

from __future__ import annotations

import itertools
import re
from collections.abc import Container, Iterable, Mapping
from dataclasses import replace
from typing import Final

from rickyard.labs.common import Cell, Document, Page
from rickyard.labs.legends import with_codes_apart
from rickyard.labs.understanding.bases_told import (
    ends_of,
    with_bases,
    with_columns_keyed,
    with_marks_told,
)
from rickyard.labs.understanding.keys_in_prose import with_keys_spoken
from rickyard.labs.understanding.numbered import with_heads_told
from rickyard.labs.vocabulary import (
    Op,
    basis_in,
    field_of,
    is_only_basis,
    is_only_unit,
    label_of,
    method_in,
    plain,
    printed,
    written_in,
)

#: So many codes must be explained and used before a legend is believed.
_LEAST: Final = 2
#: A key stands among so many rows at the top of a page.
_MOST_ROWS: Final = 200
_CODE: Final = re.compile(r"[A-Za-z]{0,4}[-.]?\d{0,4}[A-Za-z]?")
_DEFINED: Final = re.compile(
    r"(?:^|[;,|]\s*|\.\s+|:\s+|\s{2,})(?P<code>[A-Za-z]{0,4}[-.]?\d{0,4}[A-Za-z]?)"
    r"\s*(?:=|:|-|–|\bis\b|\bmeans\b)\s*(?P<means>[^;|=]{2,60}?)"
    r"(?=$|[;|]|\.\s|\.$|,\s*[A-Za-z]{0,4}[-.]?\d{0,4}[A-Za-z]?\s*(?:=|:\s))"
)


def with_names(document: Document) -> Document:
    """Return a document with the names of its legend in place of coded headings.

    Parameters
    ----------
    document : Document
        One way of reading a file.
    """
    explained = {code for code, means in _pairs(document) if label_of(means) is not None}
    document = with_codes_apart(document, explained) if explained else document
    document = with_columns_keyed(document)
    document = with_keys_spoken(with_marks_told(with_heads_told(document)))
    document = _with_units_coded(_with_numbers(document))
    document = with_bases(_with_suffixes(_with_columns(_with_units(document))))
    pages = [_with_bases_headed(page) if page.gridded else page for page in document.pages]
    document = replace(document, pages=pages)
    known = _codes(document)
    if not known:
        return document
    used = {
        cell.text
        for page in document.pages
        for row in page.rows
        if (len(row) > _LEAST or _is_line(row)) and not _defines(row, known)
        for cell in row
        if cell.text in known
    }
    if not used:
        return document
    pages = [_named(page, {code: known[code] for code in used}) for page in document.pages]
    return replace(document, pages=pages)


def _is_line(row: list[Cell]) -> bool:
    """Return whether a row is a code with its value and nothing else."""
    return len(row) == _LEAST and (
        row[1].number is not None or printed(row[1].text).op not in (Op.UNREADABLE, Op.ABSENT)
    )


def _columns_of(page: Page) -> dict[int, list[str]]:
    """Return the texts of each column of a page, of rows that may be those of a table."""
    columns: dict[int, list[str]] = {}
    for row in page.rows:
        for cell in row if len(row) > _LEAST_FIELDS else ():
            columns.setdefault(int(cell.x0), []).append(cell.text)
    return columns


def _spoken_in(page: Page, places: Container[int], known: Mapping[str, str]) -> Page:
    """Return a page with what some texts stand for in their place, in some of its columns."""
    rows = [
        [
            replace(cell, text=known[cell.text], number=None)
            if int(cell.x0) in places and cell.text in known and len(row) > _LEAST_FIELDS
            else cell
            for cell in row
        ]
        for row in page.rows
    ]
    return replace(page, rows=rows)


def _with_bases_headed(page: Page) -> Page:
    """Return a page in which a column of nothing but bases is headed so, if it was "state"."""
    heads = {
        place: texts[0]
        for place, texts in _columns_of(page).items()
        if len(texts) > _LEAST_FIELDS
        and all(is_only_basis(text) for text in texts[1:])
        and field_of(texts[0]) in ("", "order")
        and not (label_of(texts[0]) or is_only_unit(texts[0]))
    }
    if len(heads) != 1:
        return page
    return _spoken_in(page, heads, dict.fromkeys(heads.values(), "basis"))


def _with_units_coded(document: Document) -> Document:
    """Return a document with units for their codes, where a key lists them: "U  Unit", "1  %"."""
    head, codes, within = "", dict[str, str](), False
    for row in (row for page in document.pages for row in ends_of(page)):
        texts = [cell.text.strip() for cell in row]
        if len(texts) != _LEAST or not _CODE.fullmatch(texts[0]):
            within = False
        elif field_of(texts[1]) == "unit" and not head:
            head, within = texts[0], True
        elif within and is_only_unit(texts[1]):
            codes[texts[0]] = texts[1]
    if len(codes) < _LEAST:
        return document

    def spoken(page: Page) -> Page:
        places = {
            place
            for place, texts in _columns_of(page).items()
            if texts[0] == head and len(texts) > _LEAST and set(texts[1:]) <= set(codes)
        }
        return _spoken_in(page, places, {**codes, head: "unit"}) if places else page

    return replace(
        document, pages=[spoken(page) if page.gridded else page for page in document.pages]
    )


#: "14 crude protein, %": one of a list of numbers of tests, parted by semicolons.
_OF_LIST: Final = re.compile(r"(?:[a-z ]{3,20}:)?\s*(?P<code>\d{1,3})\s+(?P<means>[A-Za-z].{2,60})")


def _with_numbers(document: Document) -> Document:
    """Return a document with names in place of the numbers of tests that a list explains.

    A number counts only in a column that holds nothing but such numbers under its heading.
    """
    known: dict[str, str] = {}
    for page in document.pages:
        for row in ends_of(page):
            parts = row[0].text.lstrip("#/* ").split(";") if len(row) == 1 else []
            told = [_OF_LIST.fullmatch(part.strip(" .")) for part in parts if part.strip(" .")]
            for one in told if all(told) else ():
                if one is not None and _is_analyte(one["means"]):
                    known.setdefault(one["code"], one["means"])
    if len(known) < _LEAST:
        return document
    pages = [_numbers_spoken(page, known) if page.gridded else page for page in document.pages]
    return replace(document, pages=pages)


def _numbers_spoken(page: Page, known: dict[str, str]) -> Page:
    """Return a page with names for numbers in the columns that hold these numbers alone."""
    coded = {
        place
        for place, texts in _columns_of(page).items()
        if len(texts) > _LEAST_FIELDS and texts[0] not in known and set(texts[1:]) <= set(known)
    }
    if len(coded) != 1:
        return page
    return _spoken_in(page, coded, known)


#: "M/LB = MCAL PER POUND, DRY MATTER BASIS": a unit as only this report writes it.
_UNIT_CODE: Final = re.compile(
    r"(?:^|[\s(;,])(?P<code>[A-Za-z]{1,5}/[A-Za-z]{1,5}|[A-Z]{3,6})\s*=\s*(?P<means>[^.;=]{3,48})"
)


def _with_units(document: Document) -> Document:
    """Return a document with units in place of short ones that it explains itself."""
    known: dict[str, str] = {}
    for page in document.pages:
        for row in ends_of(page):
            pairs = [
                f"{one.text} = {after.text}"
                for one, after in itertools.pairwise(row)
                if "/" in one.text
            ]
            for one in _UNIT_CODE.finditer("  ".join([*(cell.text for cell in row), *pairs])):
                means = one["means"].strip(" ,")
                told = written_in(means).unit and is_only_unit(means)
                told = told and printed(one["code"]).op is Op.UNREADABLE  # "TNTC"
                if told and not written_in(one["code"]).unit and label_of(one["code"]) is None:
                    known.setdefault(one["code"], means)
    if not known:
        return document

    def spoken(cell: Cell) -> Cell:
        means = known.get(cell.text.strip(" ()[]"))
        return replace(cell, text=means) if means else cell

    pages = [
        replace(page, rows=[list(map(spoken, row)) for row in page.rows]) for page in document.pages
    ]
    return replace(document, pages=pages)


#: A row with so many names of fields heads a table.
_LEAST_FIELDS: Final = 3


#: "Unit A", "Basis code 2": a code with the column in which it stands.
_CODE_OF: Final = re.compile(
    r"(?P<field>unit|basis|method)s?(?: code)?\s*(?P<code>[A-Za-z0-9]{1,3})", re.IGNORECASE
)


def _with_columns(document: Document) -> Document:
    """Return a document with bases and methods in place of their codes, in columns headed so."""
    known: dict[str, dict[str, str]] = {"basis": {}, "method": {}, "unit": {}}
    for page in document.pages:
        for row in page.rows[:_MOST_ROWS]:
            for code, means in _defined_in(row) if 0 < len(row) <= _MOST_CELLS else ():
                label = label_of(means)
                if label is not None and label.ours and not label.maybe_basis:
                    continue  # "Crude protein, % dry matter" is no basis
                told = _CODE_OF.fullmatch(code)
                if told is not None:
                    known[field_of(told["field"])].setdefault(told["code"], means)
                    continue
                if basis_in(means):
                    known["basis"].setdefault(code, means)
                elif method_in(means):
                    known["method"].setdefault(code, means)
    known = {field: codes for field, codes in known.items() if len(codes) >= _LEAST}
    if not known:
        return document
    pages = [_uncoded(page, known) if page.gridded else page for page in document.pages]
    return replace(document, pages=pages)


#: "suffix _A = as received, _D = dry matter basis": an end of headings and its basis.
_SUFFIX: Final = re.compile(
    r"(?<![A-Za-z0-9])_(?P<end>[A-Za-z]{1,3}|\d{1,2})\s*(?:=|:)\s*(?P<means>[^,;|=]{2,40})"
)
_ENDS_ALONE: Final = re.compile(r"_(?:[A-Za-z]{1,3}|\d{1,2})")


def _with_suffixes(document: Document) -> Document:
    """Return a document with bases in place of the ends of headings that a sentence explains."""
    ends = {
        found["end"]: basis
        for page in document.pages
        for row in page.rows[:_MOST_ROWS]
        for found in _SUFFIX.finditer(_as_told(row))
        if (basis := {"dm": "dry basis", "ar": "as received"}.get(basis_in(found["means"]), ""))
    }
    if not ends:
        return document

    def spoken(cell: Cell) -> Cell:
        name, _, end = cell.text.rpartition("_")
        known = name and end in ends and label_of(name) is not None
        return replace(cell, text=f"{name} ({ends[end]})") if known else cell

    # where columns are told by where they stand, a longer heading would reach into the next
    pages = [
        replace(page, rows=[list(map(spoken, row)) for row in page.rows]) if page.gridded else page
        for page in document.pages
    ]
    return replace(document, pages=pages)


def _as_told(row: list[Cell]) -> str:
    """Return a row as one text; "_1" in one cell is explained by the next."""
    texts = [cell.text for cell in row]
    if len(texts) == _LEAST and _ENDS_ALONE.fullmatch(texts[0].strip()):
        return " = ".join(texts)
    return ", ".join(texts)


def _is_analyte(text: str) -> bool:
    label = label_of(text)
    return label is not None and label.ours


def _coded_column(page: Page, known: dict[str, dict[str, str]]) -> dict[int, dict[str, str]]:
    """Return the column without a known heading that holds nothing but codes of bases."""
    codes = known.get("basis", {})
    if {basis_in(means) for means in codes.values()} != {"dm", "ar"}:
        return {}
    columns: dict[int, list[str]] = {}
    for row in page.rows:
        for cell in row if len(row) > _LEAST_FIELDS else ():
            columns.setdefault(int(cell.x0), []).append(cell.text)
    return {
        place: codes
        for place, texts in columns.items()
        if len(texts) > _LEAST_FIELDS
        and field_of(texts[0]) in ("", "number", "basis")
        and not (_is_analyte(texts[0]) or texts[0] in codes)
        and set(texts[1:]) <= set(codes)
    }


def _uncoded(page: Page, known: dict[str, dict[str, str]]) -> Page:
    heads = _coded_column(page, known)
    unnamed = set(heads)
    rows = []
    for row in page.rows:
        fields = [field_of(cell.text) for cell in row]
        if sum(map(bool, fields)) >= _LEAST_FIELDS:
            heads |= {
                int(cell.x0): known[field]
                for cell, field in zip(row, fields, strict=True)
                if field in known
            }
            row = [replace(cell, text="basis") if int(cell.x0) in unnamed else cell for cell in row]
            unnamed = set()
        rows.append(
            [
                replace(cell, text=means, number=None)
                if (means := heads.get(int(cell.x0), {}).get(cell.text))
                else cell
                for cell in row
            ]
        )
    return replace(page, rows=rows)


def _defines(row: list[Cell], known: dict[str, str]) -> bool:
    texts = [cell.text for cell in row]
    told = [known[text] for text in texts if text in known]
    return any(one == two or one.startswith(f"{two},") for one in told for two in texts)


def _named(page: Page, known: dict[str, str]) -> Page:
    rows = [
        []
        if _explains(row, known) and not (len(row) == 1 and basis_in(row[0].text))
        else [replace(cell, text=known.get(cell.text, cell.text)) for cell in row]
        for row in page.rows
    ]
    return replace(page, rows=rows)


def _explains(row: list[Cell], known: dict[str, str]) -> bool:
    """Return whether a row is part of the legend."""
    text = "  ".join(cell.text for cell in row)
    if any(found["code"] in known for found in _DEFINED.finditer(text)) and not any(
        cell.text in known for cell in row[1:]
    ):
        return True
    if len(row) not in (2, 3, 4, 5):
        return False
    if len(row) <= _MOST_OF_KEY and plain(row[0].text) in (
        "code",
        "codes",
        "column",
        "heading",
        "abbreviation",
        "key",
    ):
        return True
    return row[0].text in known and known[row[0].text].startswith(row[1].text)


def _codes(document: Document) -> dict[str, str]:
    found: dict[str, str] = {}
    explained: set[str] = set()
    for code, means in _pairs(document):
        label, own = label_of(means), label_of(code)
        if field_of(means) and not field_of(code).endswith("_on"):
            found.setdefault(code, means)
        if label is None:
            continue
        explained.add(code)
        same = own is not None and own.candidates == label.candidates
        if label.ours and not (same and not (label.basis or label.unit)):
            found.setdefault(code, means)
    if len(explained | set(found)) < _LEAST:
        return {}
    _take_spans(document, found)
    return found


def _pairs(document: Document) -> Iterable[tuple[str, str]]:
    """Return each code that a document explains, with what it stands for."""
    for page in document.pages:
        for row in ends_of(page):
            if 0 < len(row) <= _MOST_CELLS:
                yield from (one for one in _defined_in(row) if _CODE.fullmatch(one[0]))


#: A key has no more columns than these: code, what it means, unit, basis and a remark.
_MOST_OF_KEY: Final = 5
#: "V2 to V7 on a dry matter basis": what holds for several codes.
_SPAN: Final = re.compile(
    r"\b(?P<first>[A-Za-z]{1,4}[-.]?\d{1,3})\s*(?:to|through|thru|until|-|–|\.\.)\s*"
    r"(?P<last>[A-Za-z]{0,4}[-.]?\d{1,3})\b(?P<means>[^;]{4,80})"
)


def _take_spans(document: Document, found: dict[str, str]) -> None:
    """Let codes that a sentence names from one to another have the basis that it tells."""
    for page in document.pages:
        for row in page.rows:
            for one in _SPAN.finditer(" ".join(cell.text for cell in row)):
                first, last = (int(re.sub(r"\D", "", one[name])) for name in ("first", "last"))
                basis = basis_in(one["means"])
                if not basis:
                    continue
                stem = re.sub(r"\d+$", "", one["first"])
                for code in (
                    f"{stem}{number}" for number in range(first, min(last, first + 99) + 1)
                ):
                    if code in found and not basis_in(found[code]):
                        words = "dry matter basis" if basis == "dm" else "as received basis"
                        found[code] = f"{found[code]}, {words}"


_MOST_CELLS: Final = 30


def _defined_in(row: list[Cell]) -> Iterable[tuple[str, str]]:
    text = ", ".join(cell.text for cell in row)
    for one in _DEFINED.finditer(text):
        if one["code"]:
            yield one["code"], one["means"].strip(" ,.")
    if len(row) in (4, 5) and row[0].text and row[1].number is None:
        told = [cell.text for cell in row[2:] if is_only_unit(cell.text)]
        words = not any(sign.isdigit() for cell in row[2:] for sign in cell.text)
        if words and label_of(row[1].text) is not None and _CODE.fullmatch(row[0].text.strip()):
            yield row[0].text.strip(" =:"), ", ".join((row[1].text, *told))
    if len(row) in (2, 3) and row[0].text and row[1].number is None:
        unit = f", {row[2].text}" if len(row) > 2 and is_only_unit(row[2].text) else ""
        yield row[0].text.strip(" =:"), row[1].text + unit
        yield from _several(row[0].text, row[1].text, unit)


def _several(codes: str, means: str, unit: str) -> Iterable[tuple[str, str]]:
    """Give each code that a line of a legend explains with others: "NEL / NEM / NEG"."""
    each = [one.strip() for one in re.split(r"\s*[,;/&]\s*", codes)]
    parts = [one.strip() for one in re.split(r"\s*[,;/&]\s*", means)]
    if len(each) < _LEAST or len(each) != len(parts) or not all(map(_CODE.fullmatch, each)):
        return
    for code, part in zip(each, parts, strict=True):
        own = label_of(code)
        if own is not None and own.ours and unit:
            yield code, f"{code} {unit.strip(' ,')}"
        elif own is None:
            yield code, part + unit
