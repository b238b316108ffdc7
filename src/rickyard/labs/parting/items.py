"""Lines that list the values of a sample: "West 40 (lab 771): CP 12.2 %, ADF 35.1 %"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from rickyard.labs.common import Cell, Document, Page
from rickyard.labs.parting.told import sample_led
from rickyard.labs.tables import number_behind
from rickyard.labs.vocabulary import Label, field_of, is_only_basis, is_only_unit, label_of

_NUMBER: Final = r"[<>]?\s?\d[\d.,]*"
#: One of a list of values in a line: "neutral detergent fibre 38.7 (43.7) %".
_ITEM: Final = re.compile(
    rf"(?P<label>[^\W\d_][^:=;]*?)\s*[:=]?\s+(?P<value>{_NUMBER}(?P<unit>\s*[^\d\s,;()][^\d,;()]{{0,24}})?"
    rf"(?:\s*[(\[/]\s*{_NUMBER}[^,;]{{0,24}})?)"
)
#: Where an item of such a list begins.
_ITEMS: Final = re.compile(r"\s*[,;|]\s+(?=[^\W\d_])|\s{2,}(?=[^\W\d_])")
#: So many values make a list, and so many lists with pairs in brackets a page of them.
_LEAST: Final = 3
_LEAST_ON_PAGE: Final = 4
#: How far behind its label a value is put, in signs.
_BEHIND: Final = 100.0
_LONGEST: Final = 600
#: "West 40 (lab 771): ": what stands before a list.
_LED: Final = re.compile(r"(?P<name>[^:]{2,110}?)\s*:\s+(?=[^\W\d_])")
#: "Lab no: UG-5658": a field before the first value of a list.
_FIELD: Final = re.compile(r"(?P<label>[^\W\d_][\w .#'/]{1,24}?)\s*[:=]\s*\S.*")
#: "The creek field, same day, is better": what stands before a list is spoken.
_SPOKEN: Final = re.compile(
    r"(?:now|then|next|and|the|your|our)\b.*\b(?:is|was|are|ran|came|comes|tested|looks?|shows?)\b.*",
    re.IGNORECASE,
)
#: So many analytes are listed again for the next sample.
_LEAST_AGAIN: Final = 2
#: An item that goes on behind its comma: "NDF digestibility, 48 h 53 % of NDF".
_MOST_JOINED: Final = 2


def with_items_apart(document: Document) -> Document:
    """Return a document in which a list of values in a line has a line for each of them.

    A line counts only where each of its parts is a label with its value.

    Parameters
    ----------
    document : Document
        One way of reading a file.

    Returns
    -------
    Document
        The document; other lines are as they were.
    """
    return replace(document, pages=[_apart(page) for page in document.pages])


def _apart(page: Page) -> Page:
    if page.gridded:
        return page
    found: dict[int, _List] = {}
    for n, row in enumerate(page.rows):
        if row and (told := _listed(row)) is not None:
            found[n] = told
    if sum(len(one.items) for one in found.values()) < _LEAST_ON_PAGE:
        return page
    if not any(len(one.items) >= _LEAST for one in found.values()):
        return page
    _tell_names(list(found.values()))
    rows: list[list[Cell]] = []
    for n, row in enumerate(page.rows):
        if n not in found:
            rows.append(row)
            continue
        items, left = found[n].items, row[0].x0
        if found[n].over:
            over = [
                replace(row[0], text=text, x0=left + _BEHIND * at, x1=left + _BEHIND * at + 40.0)
                for at, text in enumerate(found[n].over)
            ]
            rows += [[], over, []]
        rows += [
            [
                replace(row[0], text=label, x0=left, x1=left + _BEHIND / 2),
                replace(row[0], text=value, x0=left + _BEHIND, x1=left + _BEHIND + 40.0),
            ]
            for label, value in items
        ]
    return replace(
        page, rows=[[replace(cell, row=n) for cell in row] for n, row in enumerate(rows)]
    )


@dataclass(slots=True)
class _List:
    """What stands before a list, and its labels with their values."""

    over: list[str]
    items: list[tuple[str, str]]
    named: bool = False


#: "Q4133  Upper lane": number and name, each in a cell of its own.
_NUMBER_THEN_NAME: Final = re.compile(
    r"(?P<number>#?(?:\d\d[-/])?[A-Z]{0,5}[-/.]?\d[\w/.-]*)\s{2,}(?P<name>[^\W\d_].*)"
)


def _tell_names(lists: Sequence[_List]) -> None:
    """Say that what stands before lists of the same analytes names a sample each."""
    named = [one for one in lists if one.named]
    labels = [{label for label, _ in one.items} for one in lists]
    for one in named:
        own = {label for label, _ in one.items}
        again = sum(len(own & other) >= _LEAST_AGAIN for other in labels) > 1
        pair = _NUMBER_THEN_NAME.fullmatch(one.over[0])
        both = (pair["name"], pair["number"]) if pair else number_behind(one.over[0])
        led = sample_led(one.over[0])
        if led is not None and len(one.items) >= _LEAST:
            rest = led["rest"].strip(" ,;")
            one.over = [
                f"Sample: {led['name']}",
                f"Lab no: {led['number']}",
                *([rest] if rest else []),
            ]
        elif both is not None and len(one.items) >= _LEAST:
            one.over = [f"Sample: {both[0]}", f"Lab no: {both[1]}"]
        elif again and len({each.over[0] for each in named}) == len(named):
            one.over = [f"Sample: {one.over[0]}"]


def _led_by_fields(text: str) -> tuple[list[str], str]:
    """Return the fields that a line begins with, and what is left of it."""
    parts = _ITEMS.split(text)
    seps = [one.group() for one in _ITEMS.finditer(text)]
    fields: list[str] = []
    at = 0
    for part, sep in zip(parts, seps, strict=False):
        told = _FIELD.fullmatch(part)
        if told is not None and field_of(told["label"]):
            fields.append(part)
        elif fields and ":" not in part and sep.isspace() and _item(part) is None:
            fields[-1] += f", {part}"  # "Sample: Grass, east"
        else:
            break
        at += len(part) + len(sep)
    return fields, text[at:]


def _listed(row: list[Cell]) -> _List | None:
    """Return what stands before a list, and its labels with their values; ``None`` if it is none.

    A line with one value is a list only where it has two numbers: "protein 18.8 (21.2) %".
    """
    joined = "".join(cell.text + (" " if cell.text.endswith(":") else "  ") for cell in row)
    text = joined.strip(" -*•·")
    bulleted = joined.lstrip()[:1] in ("-", "*", "•", "·") and not text.startswith("the ")
    if len(text) > _LONGEST or any(cell.number is not None for cell in row):
        return None
    fields, text = _led_by_fields(text)
    led = _LED.match(text) if not fields else None
    of_basis = led is not None and is_only_basis(led["name"])
    name = led["name"] if led is not None and (of_basis or _may_lead(led["name"], bulleted)) else ""
    items = _items(text[led.end() :] if led is not None and name else text)
    if not items or _stand_side_by_side(row, items):
        return None
    many = len(items) >= _LEAST or (not (name or fields) and (len(items) > 1 or "(" in items[0][1]))
    over = fields or ([name] if name else [])
    return _List(over, items, named=bool(name) and not of_basis) if many else None


def _stand_side_by_side(row: Sequence[Cell], items: Sequence[tuple[str, str]]) -> bool:
    """Return whether one label stands again before the value of each of several samples."""
    again = len(items) > 1 and len({label for label, _ in items}) == 1
    return again and len(row) >= 2 * len(items)


def _may_lead(text: str, bulleted: bool) -> bool:
    """Return whether what stands before a colon can be a sample, and no label or field."""
    spoken = text[0].islower() and not bulleted and number_behind(text) is None
    if spoken or _SPOKEN.fullmatch(text) or not any(map(str.isalpha, text)):
        return False  # "the clover mix in the shed:" is spoken, and read as a sentence
    return label_of(text) is None and not field_of(text)


def _items(text: str) -> list[tuple[str, str]]:
    parts = _ITEMS.split(text.strip(" .;,"))
    made: list[tuple[str, str]] = []
    at = 0
    while at < len(parts):
        for size in range(1, _MOST_JOINED + 1):
            item = _item(", ".join(parts[at : at + size]))
            if item is not None and at + size <= len(parts):
                made.append(item)
                at += size
                break
        else:
            return []
    return made


def _item(text: str) -> tuple[str, str] | None:
    text = text.strip(" .")
    # "NDFD 48 h 53 %": the number behind the longest label is its value
    ends = [one.start() for one in re.finditer(rf"\s(?={_NUMBER})|(?<=[:=])(?={_NUMBER})", text)]
    for end in reversed(ends):
        item = _ITEM.fullmatch(text[:end].rstrip(" :=") + " " + text[end:].lstrip())
        if item is None or item["label"] != text[:end].rstrip(" :="):
            continue
        label: Label | None = label_of(item["label"])
        unit = (item["unit"] or "").strip()
        if label is not None and not label.misspelled and (not unit or is_only_unit(unit)):
            return item["label"], item["value"]
    return None
