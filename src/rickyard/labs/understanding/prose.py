"""Values inside sentences: "protein 11.2 percent dry", "the ADF ran 38"."""

from __future__ import annotations

import itertools
import re
from dataclasses import replace
from typing import Final

from rickyard.labs.common import Cell, Document, Page
from rickyard.labs.tables import IDENTITY, DraftSample, Found, Hint, in_text
from rickyard.labs.vocabulary import (
    Comma,
    Label,
    Op,
    basis_in,
    field_of,
    is_aside,
    label_of,
    phrases,
    plain,
    printed,
    written_in,
)

_WORD: Final = re.compile(r"[A-Za-z][A-Za-z0-9-]*|[<>]?\s?-?\d[\d.,]*\d|[<>]?\s?\d|%|[A-Za-z]")
_BETWEEN: Final = frozenset(
    phrases(
        "is|was|are|were|of|at|ran|runs|run|came|in|to|out|about|only|the|a|an|tested|tests|"
        "reads|shows|showed|has|had|came|up|around|back|measured|checked|coming|reads|tests|"
        "stands|stood|sits|sat|hits|hit|reached|reaches|lands|landed|found|gave|gives|held|holds|contains|"
        "contained|averaged|reported|estimated|calculated|determined|given|put|we|i|you|your|it|its|our|"
        "results|result|value|values|level|content|reading|figure|number|went|goes|comes|"
        "approximately|roughly|close|near|nearly|exactly|even|still|also|then|"
        "now|this|year|works|work|comes|tested|out|being|just|right|good|nice|high|low|fairly|quite|here|or|and|which|that|equals|being|making|giving|i|e"
    )
)
#: Words with which no label begins or ends.
_NO_ENDS: Final = frozenset(
    phrases("and|the|of|a|an|for|in|on|at|was|is|were|are|with|by|to|result|percent|pct|ppm|it|has")
)
_ALL_OF_THEM: Final = re.compile(r"\b(?:also|both|all)\b(.{0,40})$", re.IGNORECASE)
_SENTENCE: Final = re.compile(
    r"(?<=[a-z%)\"])[.!?]\s+(?=[A-Z\d\"“(])|(?<=[a-z%)])[.;!?]\s*$|;\s+|(?<=\d)\.\s+(?=[A-Z])|\n"
)
#: How far behind a label its number may stand, and behind that its unit and basis, in signs.
_REACH: Final = 28
_AFTER: Final = 36
#: The same where words of a basis stand between.
_REACH_BASIS: Final = 48
_MOST_WORDS: Final = 5
#: Between values that are told in a row, and before a second number of one label.
_IN_A_ROW: Final = re.compile(r"[\s,]*(?:and|&|,)?\s*", re.IGNORECASE)
_SECOND: Final = re.compile(
    r"^[\s,;(]*(?:or|and|which is|that is|i\.e\.|equals?|=|/|being|making|giving|,|;|\()",
    re.IGNORECASE,
)
_SECOND_BEGINS: Final = re.compile(
    r"\s*(?:\bor\b|\band\b|\bwhich\b|\bthat is\b|\bi\.e\.|=|/(?=\s*\d)|;|\()", re.IGNORECASE
)
#: A shorter line is not broken because it is full.
_LEAST_BROKEN: Final = 45
_BULLET: Final = re.compile(r"(?:[-*•·–>]|\d{1,2}[.)])\s")
#: A line that begins to tell of another sample: "Sample 2 - River bend:", "Hay B (lab 12):".
_NEW_SAMPLE: Final = re.compile(r"(?:Sample|Lot|Field|Stack|Test|No\.?|Hay|Lab) #?\w{1,12}\b")
_DAYS: Final = ("sampled_on", "received_on", "reported_on")
#: Sentences on hay in general, on last year, or on what to do.
_IN_GENERAL: Final = re.compile(
    r"\b(?:most|usual(?:ly)?|typical(?:ly)?|around here|last (?:year|season)|normal(?:ly)?|"
    r"would (?:be|have)|in general|generally|anything|if (?:it|you|the)|should be|compare)\b|"
    r"\d\s*%?\s*(?:to|-)\s*\d[\d.]*\s*(?:%|percent)",
    re.IGNORECASE,
)
_OF_LAB: Final = (
    r"(?:(?:our|lab(?:oratory)?)\s*(?:sample|test)?\s*(?:no\.?|number|#|id|ref\.?|reference)?|"
    r"(?:test |sample )?(?:number|no\.?|#))\s*:?\s*"
    r"(?P<number>[A-Z]{0,4}[-/]?\d{3,}[\w/-]*)"
)
#: "the hay you call "West 40" (our number 771)", "from West 40 (lab 771)".
_NAMED: Final = re.compile(
    r"(?:[\"“](?P<quoted>[^\"“”]{2,45})[\"”]|"
    r"\b(?:from|for|sample|called|marked|of|on|lot|field)\s+(?:the\s+)?"
    r"(?P<plain>[A-Z#][\w#.'-]*(?:\s(?:[A-Z#\d][\w#.'-]*|[a-z]{2,9})){0,4})\s*(?=[(,]\s*(?:our|"
    r"lab|number|no\.|#|test n|sample n))|"
    r"\b(?:about|on|of|for|from|is|re:?)\s+(?:the\s+)?"
    r"(?P<place>(?:Lot|Field|Stack|Barn|Pile|Rick|Bay) (?:no\. ?|#)?[A-Z-]{0,4}\d[\w-]*))"
    rf"(?:\s*[(,]\s*{_OF_LAB})?"
)
#: "The minerals in dry matter were": what stands before a basis.
_AS_BASIS: Final = re.compile(r"\b(?:in|of|on|to|per)\s+(?:the\s+|its\s+)?$", re.IGNORECASE)
#: "Pond field (clover, sampled July 8, 2025) came in at", "Hill field had 13.4 percent moisture".
_LED: Final = re.compile(
    r"^\s*(?:[-*•·–>]\s*|\(?\d{1,2}[.)]\s+)?(?:(?:and|the|your|our|for|on|in|as for|next|first|"
    r"second|then|sample|lot|field)[,:]?\s+){0,3}"
    r"(?P<name>[A-Z#][\w#.'/&-]*(?:\s[\w#.'/&-]+){0,5}?)"
    r"(?:\s*\((?P<inside>[^()]{2,90})\))?[,:]?\s+(?:hay |sample |lot )?"
    r"(?:(?:came|comes|had|has|tested|tests|ran|runs|shows?|showed|was|is|measured|contained|"
    r"contains|held|holds|gave|analy[sz]ed|averaged|went|checked|read|reads)\b|(?P<colon>(?<=:\s)))"
)
_NOT_A_NAME: Final = frozenset(
    phrases(
        "it|its|this|that|they|these|those|there|we|you|i|he|she|hay|result|results|test|tests|"
        "sample|samples|analysis|report|both|all|each|everything|which|what|your|our|my|moisture|"
        "energy|lab|laboratory|method|price|cost|date|subject|to|from|re|sent|values|figures|"
        "numbers|quality|forage|note|bale|bales|field|lot|feed|one|first|second|third|last|next|"
        "grass|alfalfa|content|level|nothing|none|most|some|other|fiber|fibre|protein|minerals|"
        "nitrate|mineral|good|average|typical|guide|limit|dry|basis|as|on|in"
    )
)
_PLACES: Final = frozenset(phrases("lot|field|stack|sample|barn|pile|bale|cutting|rick|bay|row"))
_NUMBER: Final = re.compile(r"[<>]?\s?\d[\d.,]*(?<![.,])")
_NUMBER_BEFORE: Final = re.compile(
    r"(?<![\d.,\w])(?P<number>[<>]?\s?\d[\d.,]*(?<![.,]))\s*"
    r"(?P<unit>%|percent|pct|ppm|mg/kg|g/kg|Mcal/lb|Mcal/kg|MJ/kg)\s+(?:of\s+|total\s+)?"
)


#: The same without a unit.
_BARE_BEFORE: Final = re.compile(
    r"(?<![\d.,\w])(?P<number>[<>]?\s?\d[\d.,]*(?<![.,]))\s*"
    r"(?P<unit>(?:%|percent|pct|ppm|mg/kg|g/kg|Mcal/lb|Mcal/kg|MJ/kg)?)\s+(?:of\s+|total\s+)?(?![^\s]*\d)"
)
_LEAST_IN_ROW: Final = 2
#: Signs; no letter says more without a break, and what is longer is no letter.
_LONGEST_PARAGRAPH: Final = 3000
#: So many signs before and behind a label tell what it is.
_NEAR: Final = 80
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
    """
    telling = _Telling(comma)
    for page in document.pages:
        for whole in _paragraphs(page):
            telling.take(whole)
    return [one for one in telling.samples if one.found], telling.others


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
        goes_on &= not (_BULLET.match(text) or _NEW_SAMPLE.match(text)) and not (
            led and len(_NUMBER.findall(text)) > 1
        )
        if row and goes_on and len(made[-1].text) < _LONGEST_PARAGRAPH:
            made[-1] = replace(made[-1], text=f"{made[-1].text} {text}")
        elif row:
            made.append(Cell(text, row[0].row, row[0].x0, row[-1].x1, row[0].place))
        before = text if row else ""
    return made


class _Telling:
    """The work of reading sentences; lives for one document."""

    def __init__(self, comma: Comma) -> None:
        self.comma = comma
        self.current = DraftSample(place="the text")
        self.samples = [self.current]
        self.others: list[Cell] = []

    def take(self, whole: Cell) -> None:
        """Take a paragraph."""
        fields = in_text(whole)
        named_here = any(_names(one, whole) for one in _SENTENCE.split(whole.text))
        if not named_here:
            self._switch([one for one in fields if one[0] in IDENTITY], whole)
            self._fill(fields)
        for sentence in _SENTENCE.split(whole.text):
            if not sentence:
                continue
            named = _names(sentence, whole)
            self._switch(named, whole)
            self._again(sentence)
            if named_here and (named or not self.current.found):
                days = [one for one in in_text(replace(whole, text=sentence)) if one[0] in _DAYS]
                self._fill([*named, *days])
            if is_aside(sentence) or _IN_GENERAL.search(sentence):
                continue
            found = _values(sentence, whole, self.comma)
            self._lead(sentence, whole, found)
            self.current.found.extend(found)
            if not found:
                self.others.append(replace(whole, text=sentence))

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
        if led is None or len(found) < _LEAST_IN_ROW or not led["name"][0].isupper():
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


def _names(sentence: str, whole: Cell) -> list[tuple[str, list[Cell]]]:
    """Return the name and the number of the sample that a sentence begins to speak of."""
    found: list[tuple[str, list[Cell]]] = []
    one = _NAMED.search(sentence)
    if one is None:
        return _led(sentence, whole)
    name = next((text for text in (one["quoted"], one["plain"], one["place"]) if text), "")
    if name:
        found.append(("id", [replace(whole, text=name.strip(" ,"))]))
    if one["number"]:
        found.append(("lab_no", [replace(whole, text=one["number"])]))
    return found


#: "Sample north end: dry matter 88.8 percent".
_CALLED: Final = re.compile(
    r"^\s*(?:[-*•·–>]\s*)?(?:and\s+|the\s+)*(?:sample|lot|field|stack|hay|bale|barn|paddock)\s+"
    r"(?:(?:called|named|marked)\s+)?(?P<name>[\w#.'/&-]+(?:\s[\w#.'/&-]+){0,4}?)\s*:\s",
    re.IGNORECASE,
)


def _called(sentence: str, whole: Cell) -> list[tuple[str, list[Cell]]]:
    """Return the name that stands behind the word for a sample and before its values."""
    one = _CALLED.match(sentence)
    if one is None or not _labels(sentence[one.end() :]):
        return []
    name = one["name"]
    if field_of(sentence[: one.end()].strip()) or label_of(name) or field_of(name):
        return []
    return [("id", [replace(whole, text=name)])]


def _led(sentence: str, whole: Cell) -> list[tuple[str, list[Cell]]]:
    """Return the name with which a sentence begins that goes on to tell values of it."""
    called = _called(sentence, whole)
    if called:
        return called
    one = _LED.match(sentence)
    if one is None or not _labels(sentence[one.end("name") :]):
        return []
    name = re.sub(r"^sample #?\w{1,4}\s*[-–:]\s+", "", one["name"].strip(" ,."), flags=re.I)
    words = plain(name).split()
    numbered = words[0] in _PLACES and any(sign.isdigit() for sign in name)
    if (words[0] in _NOT_A_NAME and not numbered) or label_of(name) or field_of(name):
        return []
    if any(label_of(word) for word in name.split() if len(word) > 3) or is_aside(name):
        return []
    if len(words) < 2 and not one["inside"] and not any(sign.isdigit() for sign in name):
        return []
    if not _NUMBER.search(sentence[one.end() :]):
        return []
    return [("id", [replace(whole, text=name)])]


def _values(sentence: str, cell: Cell, comma: Comma) -> list[Found]:
    placed: list[tuple[Found, int, int]] = []
    marks = _labels(sentence)
    used = 0
    numbers_first = _numbers_first(sentence, marks)
    pattern = _BARE_BEFORE if numbers_first else _NUMBER_BEFORE
    for place, (start, end, label) in enumerate(marks):
        limit = marks[place + 1][0] if place + 1 < len(marks) else len(sentence)
        before = _just_before(pattern, sentence, used, start)
        if before is not None:
            one = _behind(sentence, start, end, limit, before, label, cell, comma)
            placed += [(one, start, end)] if one is not None else []
        elif not numbers_first:
            placed += _ahead(sentence, start, end, limit, label, cell, comma)
        used = end
    found = [one for one, _, _ in placed]
    if marks and found:
        lead = sentence[: marks[0][0]]
        first = _NUMBER.search(lead)
        basis = basis_in(lead[: first.start()] if first else lead)
        _shared(sentence, placed)
        for one in found:
            one.bases.append(Hint(basis, "the start of the sentence"))
    together = _ALL_OF_THEM.search(sentence.strip(" ."))
    if together:
        for one in found:
            one.bases.append(Hint(basis_in(together[1]), "the sentence"))
    return found


def _numbers_first(sentence: str, marks: list[tuple[int, int, Label]]) -> bool:
    """Return whether each number of a sentence stands before its label: "12.2 CP, 35.1 ADF"."""
    if len(marks) < _LEAST_IN_ROW or _NUMBER.search(sentence, marks[-1][1]):
        return False
    used = 0
    for start, end, _ in marks:
        if _just_before(_BARE_BEFORE, sentence, used, start) is None:
            return False
        used = end
    return True


def _just_before(
    pattern: re.Pattern[str], sentence: str, used: int, start: int
) -> re.Match[str] | None:
    """Return the number that stands right before a label."""
    found = (one for one in pattern.finditer(sentence, used, start) if one.end() == start)
    return next(found, None)


def _shared(sentence: str, placed: list[tuple[Found, int, int]]) -> None:
    """Let values in a row have the unit and the basis behind the last of them."""
    for (one, _, end), (after, start, _) in reversed(list(itertools.pairwise(placed))):
        if not _IN_A_ROW.fullmatch(sentence[end:start]):
            continue
        for mine, others in ((one.units, after.units), (one.bases, after.bases)):
            if not any(hint.word for hint in mine):
                mine.extend(hint for hint in others if hint.where.startswith("the sentence"))


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
) -> list[tuple[Found, int, int]]:
    """Return values whose numbers follow their label: "protein came in at 11.2 %, dry 12.7"."""
    made: list[tuple[Found, int, int]] = []
    at = end
    while number := _NUMBER.search(sentence, at, limit):
        between = sentence[at : number.start()]
        hint = written_in(between)
        words = re.findall(r"[a-z]+", between.casefold())
        if len(between) > _REACH and (made or len(between) > _REACH_BASIS or not hint.basis):
            break
        if made and not (_SECOND.search(between) or hint.basis):
            break
        if any(word not in _BETWEEN for word in words) and not (hint.basis or hint.unit):
            break
        value = printed(number[0], comma)
        if value.op in (Op.UNREADABLE, Op.ABSENT):
            break
        follows = _NUMBER.search(sentence, number.end(), limit)
        stop = sentence.find(",", number.end(), limit)
        stop = min(stop if stop > 0 else limit, follows.start() if follows else limit)
        rest = sentence[number.end() : min(stop, number.end() + _AFTER)]
        rest = rest if follows is None else _SECOND_BEGINS.split(rest)[0]
        known = written_in(rest)
        one = Found(label, sentence[start:end], _at(number[0], cell), value)
        one.units += [
            Hint(known.unit, "the sentence"),
            Hint(label.unit, "the label"),
            Hint(hint.unit, "the sentence"),
        ]
        first, second = (hint, known) if made and not known.basis else (known, hint)
        one.bases += [
            Hint(first.basis, "the sentence"),
            Hint(label.basis, "the label"),
            Hint(second.basis, "the sentence"),
        ]
        at = number.end() + len(rest)
        made.append((one, start if not made else number.start(), at))
    if len(made) > 1 and len({_basis_of(one) for one, _, _ in made}) < len(made):
        return made[:1]
    return made


def _basis_of(one: Found) -> str:
    return next((hint.word for hint in one.bases if hint.word), "")


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
        if not (label.maybe_basis and _AS_BASIS.search(_before(sentence, start)))
        if not label.maybe_basis
        or re.match(r"[\s:=]*(?:is|was|of|at)?\s*[<>]?\d", sentence[end : end + _NEAR])
        or (
            # "88.1 percent dry matter." is the analyte, "59 percent of dry matter" a basis
            re.search(r"\d\s*(?:%|percent|pct)\s+$", _before(sentence, start))
            and re.match(r"\s*(?:$|[.,;)]|and\b|with\b)", sentence[end : end + _NEAR])
        )
        or (
            # "West 40 - 88.1 DM, 12.2 CP": no label stands before the number
            re.search(r"(?:^|[-–:,;(]\s*)\d[\d.]*\s*%?\s+$", _before(sentence, start))
            and re.match(r"\s*(?:$|[,;])", sentence[end : end + _NEAR])
        )
    ]


def _before(sentence: str, start: int) -> str:
    """Return what stands right before a place in a sentence."""
    return sentence[max(start - _NEAR, 0) : start]


def _strong(text: str, label: Label) -> bool:
    """Return whether a label is one in a sentence too: "p" and "me" are not."""
    bare = text.strip()
    if label.maybe_basis and bare.casefold() in ("dry matter", "dm"):
        return True
    return len(bare) >= 3 or bare in ("CP", "DM", "EE", "Ca", "pH", "Mg", "Zn", "Cu", "Fe", "Mn")
