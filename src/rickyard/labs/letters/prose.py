"""Values inside sentences: "protein 11.2 percent dry", "the ADF ran 38"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from rickyard.labs.common import Cell, Document, Page
from rickyard.labs.letters.called import names_in
from rickyard.labs.letters.told import LEAST_IN_ROW, NUMBER, values_in
from rickyard.labs.tables import IDENTITY, DraftSample, Found, Hint, in_text
from rickyard.labs.vocabulary import Comma, field_of, is_aside, label_of, written_in

_SENTENCE: Final = re.compile(
    r"(?<=[a-z%)\"])[.!?]\s+(?=[A-Z\d\"“(])|(?<=[A-Z]{2})\.\s+(?=[A-Z][a-z])|(?<=[a-z%)])[.;!?]\s*$|;\s+|(?<=\d)\.\s+(?=[A-Z])|\n"
)
#: A shorter line is not broken because it is full.
_LEAST_BROKEN: Final = 45
_BULLET: Final = re.compile(r"(?:[-*•·–>]|\d{1,2}[.)])\s")
#: A line that begins to tell of another sample: "Sample 2 - River bend:", "Hay B (lab 12):".
_NEW_SAMPLE: Final = re.compile(
    r"(?:Sample|Lot|Field|Stack|Test|No\.?|Hay|Lab) #?\w{1,12}\b|"
    r"(?:lot|field|stack|hay|barn|bale|sample|cutting|cut) #?(?:[A-Z]\b|\d)[\w-]{0,8}\s|"
    r"#?[A-Z]{0,4}[-/]?\d{3,}\s+[\"“A-Z]|"
    r"[A-Z#][\w#.' -]{1,40}\((?:(?:lab|our|no\.?|#|number)\b[^)]*|#?[A-Z]{0,4}[-/]?\d{2,}[\w-]*)\)|"
    r"(?:Our|Lab|Laboratory) (?:number|no\.|ref)|"
    r"(?:[Aa]nd )?[Tt]he [a-z][\w' -]{2,45}:\s+\S"
)
#: A line that begins to tell of every value over it.
_OF_ALL: Final = re.compile(r"(?:All|Everything|Results|Figures|Values|Numbers|Typical)\s")
_DAYS: Final = ("sampled_on", "received_on", "reported_on")
#: Sentences on hay in general, on last year, or on what to do.
_IN_GENERAL: Final = re.compile(
    r"\b(?:most|usual(?:ly)?|typical(?:ly)?|around here|last (?:year|season)|normal(?:ly)?|"
    r"l['’]an (?:pass[eé]|dernier)|l['’]ann[eé]e (?:pass[eé]e|derni[eè]re|pr[eé]c[eé]dente)|"
    r"(?:letztes|voriges) jahr|im vorjahr|el año pasado|l['’]anno scorso|vorig jaar|"
    r"(?:media|promedio) (?:de la (?:zona|regi[oó]n|comarca)|regional)|"
    r"moyenne (?:r[eé]gionale|de la r[eé]gion)|"
    r"remember (?:the|that|last)|back in (?:19|20)\d\d|"
    r"(?:the|that) (?:19|20)\d\d (?:one|hay|crop|sample|test|cutting)|"
    r"you (?:had|got|bought) .*\bin (?:19|20)\d\d (?:was|were|had|ran|tested)|"
    r"(?:a|one|two|three|some|several|\d) years? (?:ago|back|earlier|before)|back then|"
    r"would (?:be|have|want|like|need|look|aim)|"
    r"(?:cows?|heifers?|ewes?|steers?|mares?|calves|bulls?|horses?|she|they|you|we) "
    r"(?:needs?|eats?|wants?|ought|tell|like)|"
    r"in general|generally|anything|if (?:it|you|the)|should be|compare)\b|"
    r"\d\s*%?\s*(?:to|-)\s*\d[\d.]*\s*(?:%|percent)",
    re.IGNORECASE,
)
#: "Protein 10.7 percent on the same basis": as the sentence before it.
_SAME_BASIS: Final = re.compile(r"\b(?:on|in) (?:the|that) same basis\b", re.IGNORECASE)
_BASES_SAID: Final = {"dm": "on a dry matter basis", "ar": "as received"}
_WATER: Final = (("dm",), ("moisture",))
#: More numbers than these in one line are a list of values.
_MANY: Final = 3
#: Signs; no letter says more without a break, and what is longer is no letter.
_LONGEST_PARAGRAPH: Final = 3000
#: "West 40 - 12.2 CP, 35.1 ADF": a name that leads a line of values.
_LEADING: Final = re.compile(
    r"^(?!.*\b(?:hi|hello|dear|quick|answers?|here|your|our|the|by|thanks|results?|reports?|notes?|"
    r"all|lab|sample|on|dated?)\b.*(?:\s[-–]|:)\s)"
    r"(?P<name>[A-Z][\w#.']*(?: [\w#.'/-]+){0,4}?)\s*(?:\s[-–]|:)\s+(?=\S)",
    re.IGNORECASE,
)


def prose_samples(document: Document, comma: Comma) -> tuple[list[DraftSample], list[Cell]]:
    """Return the values that stand in sentences, and the sentences that hold none.

    There is one sample for each that is named; a sentence without a name goes on with the last.

    Parameters
    ----------
    document : Document
        What was read of a file.
    comma : Comma
        How the file writes its decimals.

    Returns
    -------
    tuple of (list of DraftSample, list of Cell)
        The samples with their values, and the text in which none stands.
    """
    telling = _Telling(comma)
    for page in document.pages:
        for whole in _paragraphs(page):
            telling.take(whole)
    return [one for one in telling.samples if one.found], telling.others


#: A row with so many cells, of which none is a sentence, is a row of a table.
_LEAST_CELLS: Final = 3
_LEAST_ROWS: Final = 2
_MARKS: Final = (";", "\t", "|")
_MANY_WORDS: Final = 6
_WORD: Final = re.compile(r"[^\W\d_]{2,}")
#: So many words of two letters, with a sign between, are no shorter than this.
_LEAST_SENTENCE: Final = 3 * _MANY_WORDS - 1


def is_tabular(document: Document) -> bool:
    """Return whether most of the numbers of a file stand in rows of cells and in no sentence.

    Parameters
    ----------
    document : Document
        What was read of a file.

    Returns
    -------
    bool
        Whether it is so; what a table does not tell, its rows do not tell as sentences either.
    """
    rows = [row for page in document.pages for row in page.rows if any(map(_has_number, row))]
    cells = sum(map(_is_of_cells, rows))
    return cells >= _LEAST_ROWS and 2 * cells > len(rows)


def _has_number(cell: Cell) -> bool:
    return cell.number is not None or bool(NUMBER.search(cell.text))


def _is_of_cells(row: Sequence[Cell]) -> bool:
    texts = [cell.text for cell in row]
    if len(row) == 1:
        texts = next((texts[0].split(m) for m in _MARKS if texts[0].count(m) >= 2), texts)
    if len(texts) < _LEAST_CELLS:
        return False
    long = [text for text in texts if len(text) >= _LEAST_SENTENCE]
    return not any(len(_WORD.findall(text)) >= _MANY_WORDS for text in long)


def _paragraphs(page: Page) -> list[Cell]:
    """Return the text of a page with its broken lines joined."""
    made: list[Cell] = []
    before = ""
    for row in page.rows:
        text = "  ".join(cell.text for cell in row)
        goes_on = len(before) >= _LEAST_BROKEN and not before.endswith((":", ".", "!"))
        goes_on |= bool(before) and text[:1].islower() and not before.endswith((".", ":", "!"))
        goes_on |= len(before) >= _LEAST_BROKEN and before.endswith(".") and len(text) > 20
        led = _LEADING.match(text)
        goes_on &= not (_is_listed(before) and not text[:1].islower())
        goes_on &= not (_OF_ALL.match(text) and before[-1:] not in ",-(")
        goes_on &= not (_BULLET.match(text) or _NEW_SAMPLE.match(text)) and not (
            led and len(NUMBER.findall(text)) > 1
        )
        if row and goes_on and len(made[-1].text) < _LONGEST_PARAGRAPH:
            made[-1] = replace(made[-1], text=f"{made[-1].text} {text}")
        elif row:
            made.append(Cell(text, row[0].row, row[0].x0, row[-1].x1, row[0].place))
        before = text if row else ""
    return made


def _is_listed(line: str) -> bool:
    """Return whether a line lists the values of one sample, and so is whole."""
    named = _NEW_SAMPLE.match(line) or _LEADING.match(line)
    return bool(named) and len(NUMBER.findall(line)) > _MANY and line[-1:] not in ",-"


class _Telling:
    """The work of reading sentences; lives for one document."""

    def __init__(self, comma: Comma) -> None:
        self.comma = comma
        self.current = DraftSample(place="the text")
        self.samples = [self.current]
        self.others: list[Cell] = []
        self.basis = ""

    def take(self, whole: Cell) -> None:
        """Take a paragraph."""
        fields = in_text(whole)
        named_here = any(names_in(one, whole) for one in _SENTENCE.split(whole.text))
        if not named_here:
            self._switch([one for one in fields if one[0] in IDENTITY], whole)
            self._fill(fields)
        for sentence in _SENTENCE.split(whole.text):
            if not sentence:
                continue
            named = names_in(sentence, whole)
            self._switch(named, whole)
            self._again(sentence)
            if named_here and (named or not self.current.found):
                days = [one for one in in_text(replace(whole, text=sentence)) if one[0] in _DAYS]
                self._fill([*named, *days])
            sentence = self._with_basis(sentence)
            if is_aside(sentence) or _IN_GENERAL.search(sentence):
                continue
            found = values_in(sentence, whole, self.comma)
            self._carry(found, sentence, whole, bool(named))
            self._lead(sentence, whole, found)
            self._note_basis(found)
            self.current.found.extend(found)
            if not found:
                self.others.append(replace(whole, text=sentence))

    def _carry(self, found: list[Found], sentence: str, whole: Cell, named: bool) -> None:
        """Give values behind a semicolon the basis told before it, where they have none."""
        behind = whole.text.partition(sentence)[0].rstrip().endswith(";")
        if not (behind and self.basis) or named:
            return
        if any(hint.word in _BASES_SAID for one in found for hint in one.bases):
            return
        for one in found:
            one.bases.append(Hint(self.basis, "the sentence before it"))

    def _with_basis(self, sentence: str) -> str:
        """Return a sentence that says "on the same basis" with the basis of the one before it."""
        said = _BASES_SAID.get(self.basis, "")
        return _SAME_BASIS.sub(said, sentence) if said else sentence

    def _note_basis(self, found: list[Found]) -> None:
        """Note the one basis that a sentence tells of its values; none where it tells several."""
        told = {
            next((hint.word for hint in one.bases if hint.word), "")
            for one in found
            if one.label.candidates not in _WATER
        }
        if told:
            self.basis = told.pop() if len(told) == 1 else ""

    def _switch(self, named: list[tuple[str, list[Cell]]], whole: Cell) -> None:
        if not named:
            return
        for sample in self.samples:
            if any(
                name in sample.fields and sample.fields[name].text == cells[0].text
                for name, cells in named
            ):
                self.current = sample
                return
        if self.current.found or any(name in self.current.fields for name in IDENTITY):
            self.current = DraftSample(place=whole.place)
            self.samples.append(self.current)

    def _lead(self, sentence: str, whole: Cell, found: list[Found]) -> None:
        """Take the name that leads a line of several values for that of their sample."""
        led = _LEADING.match(sentence)
        if led is None or len(found) < LEAST_IN_ROW or not led["name"][0].isupper():
            return
        if label_of(led["name"]) or field_of(led["name"]):
            return
        if written_in(led["name"]).basis or written_in(led["name"]).unit:
            return
        self._switch([("id", [replace(whole, text=led["name"])])], whole)
        self._fill([("id", [replace(whole, text=led["name"])])])

    def _again(self, sentence: str) -> None:
        """Go back to a sample whose name stands in a sentence."""
        for sample in self.samples:
            name = sample.fields.get("id")
            if name is not None and len(name.text) > 3 and name.text in sentence:
                self.current = sample

    def _fill(self, fields: list[tuple[str, list[Cell]]]) -> None:
        for name, cells in fields:
            self.current.fields.setdefault(name, cells[0])
