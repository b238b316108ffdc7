"""Keys of coded headings that are written as sentences: "XP crude protein, XA ash: all dry"."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Final

from rickyard.labs.common import Cell, Document, Page
from rickyard.labs.vocabulary import Label, field_of, label_of, printed, written_in

#: A code is short and begins with a capital letter.
_SHORT: Final = re.compile(r"[A-Z][A-Za-z0-9.-]{0,5}")
#: A row with so many cells may head a table; so many codes must be explained.
_LEAST_CELLS: Final = 3
_LEAST: Final = 2
_SENTENCES: Final = re.compile(
    r"(?<=[^\W\d_]{2})[.;](?:\s+|$)|(?<=\))[.;]\s+|(?<=%)[.;](?:\s+(?=[A-Z])|$)"
)
#: "All following on the dry matter": what holds for every code behind it.
_FOLLOWING: Final = re.compile(
    r"\b(?:all|every\w*|the)\b.{0,24}\b(?:follow\w*|below|rest|others?|after (?:this|it))\b",
    re.IGNORECASE,
)
#: What stands before a key that is one cell.
_KEY: Final = re.compile(r"(?:key|legend|codes?|abbreviations?|tests?|analytes?)\W*", re.IGNORECASE)
_BETWEEN: Final = re.compile(r"^\s*(?:=|:|[-–]|is|means|stands for|for)?\s*")
_BEFORE: Final = re.compile(r"(?:^|[,;:(/]|\band|\bwith|\bund|\bet|\by|\be|\ben|\boch|\bog)\s*$")
_MEANS: Final = re.compile(r"(?P<means>[^,:;()]{2,60})(?P<tail>.*)", re.DOTALL)
_UNITS: Final = {"pct": "%", "g_per_kg": "g/kg", "ppm": "mg/kg", "mcal_per_lb": "Mcal/lb",
                 "mcal_per_kg": "Mcal/kg", "mj_per_kg": "MJ/kg"}  # fmt: skip
_BASES: Final = {"dm": "dry basis", "ar": "as received"}


def with_keys_spoken(document: Document) -> Document:
    """Return a document with names for the codes over its columns that its sentences explain.

    The sentences that explain them are left out; fewer than two explained codes are none.

    Parameters
    ----------
    document : Document
        One way of reading a file.

    Returns
    -------
    Document
        The document; as it was where no sentence explains its headings.

    Examples
    --------
    >>> from rickyard.labs.common import Cell
    >>> texts = ("Bag", "XP", "AF")
    >>> key = "XP crude protein, AF acid detergent fibre: per cent of dry matter."
    >>> rows = [
    ...     [Cell(text, 0, 10.0 * n, 10.0 * n + 5, "") for n, text in enumerate(texts)],
    ...     [Cell(key, 1, 0, 9, "")],
    ... ]
    >>> made = with_keys_spoken(Document("text", [Page("", rows, False)]))
    >>> [cell.text for cell in made.pages[0].cells()]
    ['Bag', 'crude protein (% dry basis)', 'acid detergent fibre (% dry basis)']
    """
    heads = {text for page in document.pages for text in _heads(page)}
    if len(heads) < _LEAST:
        return document
    every = "|".join(sorted(map(re.escape, heads), key=len, reverse=True))
    code = re.compile(rf"(?<![\w.-])(?:{every})(?![\w-])")
    known: dict[str, str] = {}
    left: list[dict[int, str]] = []
    for page in document.pages:
        left.append({})
        for places, text in _running(page, code):
            carried, parts = "", list[tuple[str, dict[str, str]]]()
            for part in _sentences(text, code):
                carried = _following(part) or carried
                parts.append((part, _told(part, code, carried)))
            if any(told for _, told in parts):
                left[-1].update(dict.fromkeys(places, ""))
                left[-1][places[0]] = ". ".join(part for part, told in parts if not told)
            for _, told in parts:
                known.update(told)
    if len(known) < _LEAST:
        return document
    pages = [_spoken(page, known, own) for page, own in zip(document.pages, left, strict=True)]
    return replace(document, pages=pages)


def _spoken(page: Page, known: Mapping[str, str], left: Mapping[int, str]) -> Page:
    rows: list[list[Cell]] = []
    for n, row in enumerate(page.rows):
        if n in left:
            rows.append([replace(row[0], text=left[n])] if left[n] else [])
        else:
            rows.append([replace(cell, text=known.get(cell.text, cell.text)) for cell in row])
    return replace(page, rows=rows)


def _heads(page: Page) -> Iterator[str]:
    """Return what may be codes: short texts over columns, or before the values of a row."""
    for row in page.rows:
        if len(row) < _LEAST_CELLS:
            continue
        values = any(
            cell.number is not None or printed(cell.text).value is not None for cell in row[1:]
        )
        yield from (
            cell.text for cell in row[: 1 if values else None] if _SHORT.fullmatch(cell.text)
        )


def _running(page: Page, code: re.Pattern[str]) -> Iterator[tuple[list[int], str]]:
    """Return the texts of lines of one cell, with those one under the other as one, and where.

    A line that begins with a code or goes on may be parted at its colon.
    """
    lines: list[str] = []
    places: list[int] = []
    for n, row in enumerate([*page.rows, []]):
        goes_on = bool(lines) or bool(row and code.match(row[0].text))
        alone = len(row) == 1 or (goes_on and 0 < len(row) < _LEAST_CELLS)
        if len(row) == _LEAST and _KEY.fullmatch(row[0].text) and code.match(row[1].text):
            yield [n], row[1].text
        elif alone and all(cell.number is None for cell in row):
            lines.append(" ".join(cell.text.strip() for cell in row))
            places.append(n)
        elif lines:
            yield places, " ".join(lines)
            lines, places = [], []


def _sentences(text: str, code: re.Pattern[str]) -> list[str]:
    """Return the sentences of a text; a point behind a word cut short ends none: "Acid Det."."""
    parts = [part for part in _SENTENCES.split(text) if part]
    made = parts[:1]
    for part in parts[1:]:
        whole = f"{made[-1]}. {part}"
        if not code.match(part) and len(_told(whole, code)) > len(_told(made[-1], code)):
            made[-1] = whole
        else:
            made.append(part)
    return made


def _following(sentence: str) -> str:
    """Return the basis that a sentence gives to all that follow it; most often nothing."""
    found = _FOLLOWING.search(sentence)
    return written_in(sentence[found.start() :].partition(":")[0]).basis if found else ""


def _told(sentence: str, code: re.Pattern[str], carried: str = "") -> dict[str, str]:
    """Return the codes that a sentence explains, with what it says behind the last for all."""
    places = [one for one in code.finditer(sentence) if _BEFORE.search(sentence[: one.start()])]
    told: dict[str, tuple[str, str]] = {}
    for n, one in enumerate(places):
        end = places[n + 1].start() if n + 1 < len(places) else len(sentence)
        if sentence[one.end() : one.end() + 1] in (",", ";", ".", ")"):
            continue  # one of a list, and not what follows it
        segment = _BETWEEN.sub("", sentence[one.end() : end])
        whole = label_of(segment.strip(" ,;:"))
        own = label_of(one[0])
        if _is_known(one[0]) and not (carried and _is_alike(own, segment)):
            continue  # it says itself what it is, and what follows is said of it
        sure = whole is not None and whole.ours and not whole.misspelled and not carried
        if sure and ":" not in segment:
            told[one[0]] = (segment.strip(" ,;:"), "")  # "Dry Matter (DM) (%)"
            continue
        parts = _MEANS.match(segment)
        means = re.sub(r"\s+(?:and|with)$", "", parts["means"].strip()) if parts else ""
        label = label_of(means)
        if parts is None or label is None or not label.ours or label.misspelled:
            continue
        told[one[0]] = (means, parts["tail"])
    shared = next(reversed(told.values()))[1] if told else ""
    return {name: _named(means, tail, shared, carried) for name, (means, tail) in told.items()}


def _is_alike(own: Label | None, segment: str) -> bool:
    """Return whether a heading is explained by the longer name of the same: "ADF acid ..."."""
    parts = _MEANS.match(segment)
    label = label_of(parts["means"].strip()) if parts else None
    return own is not None and label is not None and own.candidates == label.candidates


def _is_known(code: str) -> bool:
    """Return whether a heading says itself what it is; then what follows it is said of it."""
    own = label_of(code)
    return bool(field_of(code)) or (own is not None and own.ours and len(code) > _LEAST)


def _named(means: str, tail: str, shared: str, carried: str = "") -> str:
    own, last = written_in(tail), written_in(shared)
    unit = _UNITS.get(own.unit or last.unit, "")
    basis = _BASES.get(own.basis or last.basis or carried, "")
    words = " ".join(part for part in (unit, basis) if part)
    return f"{means} ({words})" if words else means
