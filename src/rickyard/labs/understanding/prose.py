"""Values inside sentences: "protein 11.2 percent dry", "the ADF ran 38"."""

from __future__ import annotations

import re
from typing import Final

from rickyard.labs.common import Cell, Document
from rickyard.labs.tables import DraftSample, Found, Hint, in_text
from rickyard.labs.vocabulary import (
    Comma,
    Label,
    Op,
    basis_in,
    is_aside,
    label_of,
    phrases,
    printed,
    written_in,
)

_WORD: Final = re.compile(r"[A-Za-z][A-Za-z0-9-]*|[<>]?\s?-?\d[\d.,]*\d|[<>]?\s?\d|%|[A-Za-z]")
_BETWEEN: Final = frozenset(
    phrases(
        "is|was|are|were|of|at|ran|runs|run|came|in|to|out|about|only|the|a|an|tested|tests|"
        "reads|shows|showed|has|had|came|up|around|back|measured|checked|coming|reads|tests|"
        "now|this|year"
    )
)
#: Words with which no label begins or ends.
_NO_ENDS: Final = frozenset(
    phrases("and|the|of|a|an|for|in|on|at|was|is|were|are|with|by|to|result")
)
_ALL_OF_THEM: Final = re.compile(r"\b(?:also|both|all)\b(.{0,40})$", re.IGNORECASE)
_SENTENCE: Final = re.compile(r"(?<=[a-z%)])[.;!?]\s+|(?<=\d)[.;]\s+(?=[A-Z])|\n")
#: How far behind a label its number may stand, and behind that its unit and basis, in signs.
_REACH: Final = 28
_AFTER: Final = 36
_MOST_WORDS: Final = 5
_NUMBER: Final = re.compile(r"[<>]?\s?\d[\d.,]*(?<![.,])")
_NUMBER_BEFORE: Final = re.compile(
    r"(?<![\d.,\w])(?P<number>[<>]?\s?\d[\d.,]*(?<![.,]))\s*"
    r"(?P<unit>%|percent|pct|ppm|mg/kg|g/kg|Mcal/lb|Mcal/kg|MJ/kg)\s+(?:of\s+|total\s+)?"
)


def prose_samples(document: Document, comma: Comma) -> list[DraftSample]:
    """Return the values that stand in sentences, as one sample for each that is named."""
    current = DraftSample(place="the text")
    samples = [current]
    for page in document.pages:
        for row in page.rows:
            if not row:
                continue
            text = "  ".join(cell.text for cell in row)
            whole = Cell(text, row[0].row, row[0].x0, row[-1].x1, row[0].place)
            fields = in_text(whole)
            if any(name == "id" for name, _ in fields) and current.found:
                current = DraftSample(place=whole.place)
                samples.append(current)
            for name, cells in fields:
                current.fields.setdefault(name, cells[0])
            for sentence in _SENTENCE.split(text):
                if sentence and not is_aside(sentence):
                    current.found.extend(_values(sentence, whole, comma))
    return [one for one in samples if one.found]


def _values(sentence: str, cell: Cell, comma: Comma) -> list[Found]:
    found = []
    marks = _labels(sentence)
    used = 0
    for place, (start, end, label) in enumerate(marks):
        limit = marks[place + 1][0] if place + 1 < len(marks) else len(sentence)
        before = _NUMBER_BEFORE.search(sentence, used, start)
        one = None
        if before and before.end() == start:
            one = _behind(sentence, start, end, limit, before, label, cell, comma)
        else:
            one = _ahead(sentence, start, end, limit, label, cell, comma)
        if one is not None:
            found.append(one)
        used = end
    together = _ALL_OF_THEM.search(sentence.strip(" ."))
    if together:
        for one in found:
            one.bases.append(Hint(basis_in(together[1]), "the sentence"))
    return found


def _behind(
    sentence: str,
    start: int,
    end: int,
    limit: int,
    before: re.Match[str],
    label: Label,
    cell: Cell,
    comma: Comma,
) -> Found | None:
    """Return a value whose number stands before its label: "11.2 % protein, dry"."""
    value = printed(before["number"], comma)
    if value.op in (Op.UNREADABLE, Op.ABSENT):
        return None
    one = Found(label, sentence[start:end], _at(before["number"], cell), value)
    one.units.append(Hint(written_in(before["unit"]).unit, "the sentence"))
    rest = written_in(re.split(r"\d|;|\band\b", sentence[end : min(limit, end + _AFTER)])[0])
    one.bases += [Hint(label.basis, "the label"), Hint(rest.basis, "the sentence")]
    return one


def _ahead(
    sentence: str, start: int, end: int, limit: int, label: Label, cell: Cell, comma: Comma
) -> Found | None:
    """Return a value whose number follows its label: "protein came in at 11.2 %"."""
    number = _NUMBER.search(sentence, end, limit)
    if number is None or number.start() - end > _REACH:
        return None
    between = re.findall(r"[a-z]+", sentence[end : number.start()].casefold())
    hint = written_in(sentence[end : number.start()])
    if any(word not in _BETWEEN for word in between) and not (hint.basis or hint.unit):
        return None
    value = printed(number[0], comma)
    if value.op in (Op.UNREADABLE, Op.ABSENT):
        return None
    stop = sentence.find(",", number.end(), limit)
    rest = sentence[number.end() : min(stop if stop > 0 else limit, number.end() + _AFTER)]
    known = written_in(rest)
    one = Found(label, sentence[start:end], _at(number[0], cell), value)
    one.units += [
        Hint(known.unit, "the sentence"),
        Hint(label.unit, "the label"),
        Hint(hint.unit, "the sentence"),
    ]
    one.bases += [
        Hint(known.basis, "the sentence"),
        Hint(label.basis, "the label"),
        Hint(hint.basis, "the sentence"),
    ]
    return one


def _at(text: str, cell: Cell) -> Cell:
    return Cell(text.strip(), cell.row, cell.x0, cell.x1, cell.place)


def _labels(sentence: str) -> list[tuple[int, int, Label]]:
    """Return the labels of a sentence with their places, the longest first where they overlap."""
    words = list(_WORD.finditer(sentence))
    found: list[tuple[int, int, Label]] = []
    place = 0
    while place < len(words):
        for size in range(min(_MOST_WORDS, len(words) - place), 0, -1):
            first, last = words[place], words[place + size - 1]
            text = sentence[first.start() : last.end()]
            if not text[0].isalpha() or any(sign in text for sign in ",:;%"):
                continue
            if last[0][-1].isdigit() and not re.search(r"\d\s*(?:h|hr)?$", text):
                continue
            if {first[0].casefold(), last[0].casefold()} & _NO_ENDS:
                continue
            label = label_of(text)
            if label is None or not _strong(text, label):
                continue
            found.append((first.start(), last.end(), label))
            place += size - 1
            break
        place += 1
    return [
        (start, end, label)
        for start, end, label in found
        if not label.maybe_basis or re.match(r"[\s:=]*(?:is|was|of|at)?\s*[<>]?\d", sentence[end:])
    ]


def _strong(text: str, label: Label) -> bool:
    """Return whether a label is one in a sentence too: "p" and "me" are not."""
    bare = text.strip()
    if label.maybe_basis and bare.casefold() in ("dry matter", "dm"):
        return True
    return len(bare) >= 3 or bare in ("CP", "DM", "EE", "Ca", "pH", "Mg", "Zn", "Cu", "Fe", "Mn")
