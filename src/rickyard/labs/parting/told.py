"""Fields of a sample that are printed with their labels in one cell, put in cells of their own."""

from __future__ import annotations

import itertools
import re
from collections.abc import Mapping
from dataclasses import replace
from typing import Final

from rickyard.labs.common import Cell, Document
from rickyard.labs.tables import OF_SAMPLE
from rickyard.labs.vocabulary import field_of

#: Where the label of another field begins: "Sample: West 40     Lab no: 771 | Sampled: Oct 1".
_NEXT: Final = re.compile(
    r"(?:\s{2,}|\s*[;|,]\s+|\s+[-–]\s+|\s+(?=(?i:(?:our|lab|laboratory) (?:no|number|ref|id)\b)))"
    r"(?=(?P<label>[^\W\d_][\w .#'/]{1,24}?)\s*:\s*\S)"
)
_LABEL: Final = re.compile(r"\s*(?P<label>[^\W\d_][\w .#'/]{1,24}?)\s*:\s*\S")
#: A longer text is a sentence.
_LONGEST: Final = 240
#: How far apart the parts of one cell stand in a column of a table.
_STEP: Final = 0.001
_LABEL_AND_TEXT: Final = 2


def with_fields_apart(document: Document) -> Document:
    """Return a document in which a cell with several fields is a cell for each of them.

    Parameters
    ----------
    document : Document
        One way of reading a file.

    Returns
    -------
    Document
        The document; cells with one field or none are as they were.
    """
    pages = [replace(page, rows=list(map(_apart, page.rows))) for page in document.pages]
    return replace(document, pages=pages)


#: "Sample 7781-A | P7 windrow": number and name over the lines of a sample.
_NUMBER_BAR_NAME: Final = re.compile(
    r"(?:sample|specimen|lab(?:oratory)? ?(?:sample|no\.?|number|#|id)?)\s*[:#]?\s*"
    r"(?P<number>(?!\d+(?:st|nd|rd|th)\b)[A-Za-z]{0,5}[-/.]?\d[\w/.-]*)\s*[|/]\s*"
    r"(?P<name>\D{0,3}[^\W\d_].{0,40}?)",
    re.IGNORECASE,
)
#: "(continued)" behind the name of a sample that goes on over the page.
_CONTINUED: Final = re.compile(
    r"\s*[-–(\[]\s*(?:continued|cont\.?|cont'd)\s*[)\]]?\s*$", re.IGNORECASE
)
#: "## LX4 / Clover mix", "=== West lab ===": marks that set a heading apart from its lines.
_HEADED: Final = re.compile(r"^\s*(?:#{2,}|={3,}|\*{3,})\s*(?=\w)|\s*(?:={3,}|\*{3,}|#{2,})\s*$")
_NUMBER_HEADS: Final = re.compile(
    r"(?P<number>(?:\d\d[-/])?[A-Z]{0,5}[-/.]?\d[\w./-]*)\s+[|/]\s+(?P<name>[^\W\d_].{1,40}?)"
)
#: "échantillon V-3090 « Foin des Esserts »": a number, and a name in quotes behind it.
_QUOTED: Final = re.compile(
    r"(?:(?:sample|specimen|bag|[eé]chantillon|probe|muestra|amostra|campione|pr[øo]ve|prov|"
    r"pr[óo]bka|monster|vzorek|n[äa]yte)\b\s*(?:no\.?|nr\.?|n[°º]|#)?\s*)?"
    r"(?P<number>(?:\d\d[-/])?[A-Z]{0,5}[-/.]?\d[\w/.-]*)[\s,:]*[\"«“„»]\s*(?P<name>[^\"«»“”„]{2,45}?)\s*[\"»”“«]",
    re.IGNORECASE,
)


#: "Monster Achterste kamp (labnummer 77120), bemonsterd op 17-06-2025:": a word for a sample, its
#: name, and its number behind the label of one.
_NAME_AND_NUMBER: Final = re.compile(
    r"(?P<words>(?:[^\W\d_]+\.? ){1,3}?)(?P<name>[^():,«»\"“”]{2,40}?)\s*[(,]\s*"
    r"(?P<label>[^\d():]{2,26}?)\s*[:#]?\s*"
    r"(?P<number>(?:\d\d[-/])?[A-Z]{0,5}[-/.]?\d[\w/.-]*)\s*\)?"
    r"(?P<rest>(?:[,;][^:]*)?)\s*:?"
)
_MOST_WORDS: Final = 3
_OF_LAB: Final = re.compile(r"(?:.*\b)?lab", re.IGNORECASE)


#: "EG 2026-118, Erlenwiese, 1. Schnitt, Probenahme 4. Juni 2026": number, name and day.
_NUMBER_NAME_DAY: Final = re.compile(
    r"(?P<number>[A-Z]{0,5}[-/. ]?\d[\w/.-]*)\s*[,;]\s+(?P<name>[^\W\d_][^:]{1,44}?)\s*[,;]\s+"
    r"(?P<rest>(?P<day>[^\W\d_][^\d:,;]{2,24}?)\s+\d[^:,]*(?:, \d{4})?)"
)


def _numbered_and_dated(text: str) -> dict[str, str] | None:
    """Return number, name and day of a line that holds them one behind the other."""
    told = _NUMBER_NAME_DAY.fullmatch(text)
    if told is None or not field_of(
        re.sub(r"\s+(?:am|on|le|el|den|op)$", "", told["day"])
    ).endswith("_on"):
        return None
    return {"name": told["name"], "number": told["number"], "rest": told["rest"]}


def sample_led(text: str) -> dict[str, str] | None:
    """Return name, number and the rest of a line that begins with a word for a sample.

    Parameters
    ----------
    text : str
        The line, in any language.

    Returns
    -------
    dict of str to str, or None
        ``name``, ``number`` and ``rest``; ``None`` where it is no such line.

    Examples
    --------
    >>> sample_led("Minta neve Willow barn (Laborszám 26/4098), Mintavétel 2025-09-03")
    {'name': 'Willow barn', 'number': '26/4098', 'rest': ', Mintavétel 2025-09-03'}
    """
    told = _NAME_AND_NUMBER.fullmatch(text)
    if told is None:
        return None
    if field_of(told["label"]) not in ("lab_no", "number") and not _OF_LAB.match(told["label"]):
        return None
    words = f"{told['words']}{told['name']}".split()
    for size in range(min(_MOST_WORDS, len(words) - 1), 0, -1):
        if field_of(" ".join(words[:size])) == "id":
            name = " ".join(words[size:])
            return {"name": name, "number": told["number"], "rest": told["rest"]}
    return None


def _apart(row: list[Cell]) -> list[Cell]:
    """Return the cells of a row, each with one field at most."""
    if row and (quoted := _QUOTED.fullmatch(row[-1].text.strip(" :"))) is not None:
        lead = row[0].text.rstrip(" ") if len(row) > 1 else ":"
        if len(row) <= _LABEL_AND_TEXT and lead.endswith(":") and not field_of(lead):
            return _number_and_name(row[-1], quoted.groupdict())
    if len(row) == 1 and row[0].number is None:
        text = _CONTINUED.sub("", row[0].text)
        headed = _HEADED.sub("", text)
        row = [replace(row[0], text=headed)]
        both = _NUMBER_BAR_NAME.fullmatch(headed.strip())
        if both is None and headed != text:
            both = _NUMBER_HEADS.fullmatch(headed.strip())
        if both is not None:
            return _number_and_name(row[0], both.groupdict())
        abroad = sample_led(headed.strip(" :"))
        if abroad is None and headed.rstrip().endswith(":"):
            abroad = _numbered_and_dated(headed.strip(" :"))
        if abroad is not None:
            return _number_and_name(row[0], abroad)
    made: list[Cell] = []
    for before, cell in itertools.pairwise([None, *row]):
        if cell is not None:
            named = before is not None and before.text.rstrip().endswith(":")
            made.extend(_parts(cell, led=named and _is_of_sample(before.text if before else "")))
    return made


def _number_and_name(cell: Cell, both: Mapping[str, str]) -> list[Cell]:
    """Return the number and the name of a sample in cells of their own, each with its label."""
    middle = cell.middle
    name = replace(cell, text=f"Sample: {both['name']}", x0=middle, x1=middle + _STEP)
    rest = both.get("rest", "").strip(" ,;:")
    more = [replace(cell, text=rest, x0=cell.x1 - _STEP)] if rest else []
    # narrow, so that no column of a table further down parts it
    number = replace(cell, text=f"Lab no: {both['number']}", x1=cell.x0 + _STEP)
    return [number, name, *more]


def _is_of_sample(label: str) -> bool:
    return field_of(label) in OF_SAMPLE


def _parts(cell: Cell, *, led: bool) -> list[Cell]:
    """Return the fields of a cell, each with its label; the cell where it holds one at most.

    Where the label stands in the cell before it, the first is ``led`` by that.
    """
    text = cell.text
    if ":" not in text or len(text) > _LONGEST:
        return [cell]
    first = _LABEL.match(text)
    if not (led or (first is not None and _is_of_sample(first["label"]))):
        return [cell]
    cuts = [one for one in _NEXT.finditer(text) if field_of(one["label"])]
    starts = [0, *(one.end() for one in cuts)]
    ends = [*(one.start() for one in cuts), len(text)]
    return [
        replace(cell, text=text[start:end].strip(), x0=cell.x0 + number * _STEP)
        for number, (start, end) in enumerate(zip(starts, ends, strict=True))
    ]
