"""The values of a sentence, with the unit and the basis that stand around them."""

from __future__ import annotations

import itertools
import re
from dataclasses import replace
from typing import Final

from rickyard.labs.common import Cell
from rickyard.labs.letters.forms import tell_form
from rickyard.labs.tables import Found, Hint
from rickyard.labs.vocabulary import (
    Comma,
    Label,
    Op,
    Printed,
    basis_in,
    is_only_basis,
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
        "stands|stood|sits|sat|hits|hit|reached|reaches|lands|landed|found|gave|gives|held|holds|contains|"
        "contained|averaged|reported|estimated|calculated|determined|given|put|we|i|you|your|it|its|our|"
        "results|result|value|values|level|content|reading|figure|number|went|goes|comes|"
        "approximately|roughly|close|near|nearly|exactly|even|still|also|then|"
        "now|this|on|one|year|works|work|comes|tested|out|being|just|right|good|nice|high|low|fairly|quite|here|or|and|which|that|equals|being|making|giving|i|e|"
        "below|under|less|than|above|over"
    )
)
#: Words with which no label begins or ends.
_NO_ENDS: Final = frozenset(
    phrases(
        "and|the|of|a|an|for|in|on|at|was|is|were|are|with|by|to|result|percent|pct|ppm|it|has|from"
    )
)
#: The same abroad, where in capitals they may be labels: "DE".
_LINKS: Final = frozenset(phrases("de|du|des|di|la|le|les|el|los|las|et|und|y|van|von|af|av|en"))
_ALL_OF_THEM: Final = re.compile(r"\b(?:also|both|all)\b(.{0,40})$", re.IGNORECASE)
#: How far behind a label its number may stand, and behind that its unit and basis, in signs.
_REACH: Final = 28
_AFTER: Final = 36
#: The same where words of a basis stand between.
_REACH_BASIS: Final = 48
_MOST_WORDS: Final = 5
#: A piece of a unit, and a number before it.
_OF_NUMBER: Final = re.compile(r"m?g|kg|mcal|mj|lb|µg|ug", re.IGNORECASE)
_FIGURE: Final = re.compile(r"\d\s*(?:[a-zµ]{1,4}\s?/\s?)?$", re.IGNORECASE)
#: Between values that are told in a row, and before a second number of one label.
_IN_A_ROW: Final = re.compile(r"[\s,)\]]*(?:and|&|,)?\s*", re.IGNORECASE)
_SECOND: Final = re.compile(
    r"^[\s,;(]*(?:or|and|which is|that is|i\.e\.|equals?|=|/|being|making|giving|,|;|\()",
    re.IGNORECASE,
)
_SECOND_BEGINS: Final = re.compile(
    r"\s*(?:\bor\b|\band\b|\bwhich\b|\bthat is\b|\bi\.e\.|=|/(?=\s*\d)|;|\()", re.IGNORECASE
)
#: "The minerals in dry matter were": what stands before a basis.
_AS_BASIS: Final = re.compile(
    r"\b(?:in|of|on|to|per|sur|auf|sobre|su|op|em|en|in der|auf die|von der|an der)\s+"
    r"(?:the\s+|its\s+|la\s+|die\s+|der\s+|de\s+)?$",
    re.IGNORECASE,
)
#: "% of", "MJ/kg of": what stands behind it belongs to the number before.
_OF_UNIT: Final = re.compile(r"(?:%|percent|pct|ppm|/kg|/lb)\s+of\s+(?:the\s+)?$", re.IGNORECASE)
_FIGURES: Final = r"[<>]?\s?(?:\d{1,3}(?:['’]\d{3})+|\d[\d.,]*|(?<!\d)\.\d+)(?<![.,])"
NUMBER: Final = re.compile(_FIGURES)
#: "15,7 % de protéines", "33,1 % d'ADF": what stands between a number and its label.
_OF: Final = (
    r"(?:of\s+|total\s+|(?:de|di|van|af|av)\s+(?:la\s+|las\s+|l['’]\s?)?|d['’]|du\s+|des\s+)"
)
_NUMBER_BEFORE: Final = re.compile(
    rf"(?<![\d.,\w])(?P<number>{_FIGURES})\s*"
    r"(?P<unit>%|percent|pct|ppm|mg/kg|g/kg|Mcal/lb|Mcal/kg|MJ/kg)\s+" + _OF + r"?"
)
#: The same without a unit.
_BARE_BEFORE: Final = re.compile(
    rf"(?<![\d.,\w])(?P<number>{_FIGURES})\s*"
    r"(?P<unit>(?:%|percent|pct|ppm|mg/kg|g/kg|Mcal/lb|Mcal/kg|MJ/kg)?)\s+" + _OF + r"?(?![^\s]*\d)"
)
#: What stands between a label and the number that is its own.
_OWNED: Final = re.compile(r"\s*(?:[:=]|is|was|at|of|ran|came in at)?\s*")
#: So many signs before and behind a label tell what it is.
_NEAR: Final = 80
#: ", and in the dry matter 12.2 percent protein": a basis for what follows it.
_FROM_HERE: Final = re.compile(
    r"(?:\b(?:and|et|und|y|e|en)\b|[;:.])\s*(?:(?:always|all|again|toujours|tout|alles|jeweils|"
    r"siempre|todo)\s+)?(?P<basis>(?:in|on|sur|auf|sobre|su|op)\b[^,;:]{2,30}?)\s*[,:]?\s*"
    r"(?:it has|there (?:is|are)|nous trouvons|finden wir)?\s*$",
    re.IGNORECASE,
)
LEAST_IN_ROW: Final = 2


def values_in(sentence: str, cell: Cell, comma: Comma) -> list[Found]:
    """Return the values of a sentence.

    Parameters
    ----------
    sentence : str
        The sentence.
    cell : Cell
        Where it stands.
    comma : Comma
        How the file writes decimals.
    """
    placed: list[tuple[Found, int, int]] = []
    marks = labels_in(sentence)
    used = 0
    numbers_first = _numbers_first(sentence, marks)
    pattern = _BARE_BEFORE if numbers_first else _NUMBER_BEFORE
    each_led = _each_led(sentence, marks)
    labels_first = bool(marks) and (each_led or _leads(sentence, *marks[0][:2]))
    for place, (start, end, label) in enumerate(marks):
        limit = marks[place + 1][0] if place + 1 < len(marks) else len(sentence)
        before = _just_before(pattern, sentence, used, start)
        owned = before is not None and bool(_OWNED.fullmatch(sentence[used : before.start()]))
        if each_led or (labels_first and owned):
            before = None  # "DM=88.1% CP=12.2%": it is that of the label before it
        if before is None and not numbers_first:
            before = _bare(sentence, used, start, end)
        if before is not None:
            one = _behind(sentence, start, end, limit, before, label, cell, comma)
            placed += [(one, start, end)] if one is not None else []
        elif not numbers_first:
            stop = _before_next(sentence, marks, place, end) or limit
            ahead = _ahead(sentence, start, end, stop, label, cell, comma)
            placed += ahead
            if ahead:  # no number is that of two labels
                text = ahead[-1][0].cell.text
                end = max(end, sentence.find(text, end) + len(text))
        used = end
    found = [one for one, _, _ in placed]
    for one, start, _ in placed:
        at = sentence.find(one.cell.text, start)
        tell_form(one, sentence[at + len(one.cell.text) :] if at >= 0 else "")
    if marks and found:
        lead = sentence[: marks[0][0]]
        first = NUMBER.search(lead)
        basis = basis_in(lead[: first.start()] if first else lead)
        basis = basis or _led_by(sentence[marks[0][0] : marks[0][1]])
        _from_here(sentence, placed)
        _shared(sentence, placed)
        for one in found:
            one.bases.append(Hint(basis, "the start of the sentence"))
    _of_all(sentence, found)
    return found


def _before_next(
    sentence: str, marks: list[tuple[int, int, Label]], place: int, end: int
) -> int | None:
    """Return where the number begins that stands before the next label and is that label's own."""
    if place + 1 >= len(marks) or _HAS_OWN.match(sentence, marks[place + 1][1]):
        return None
    told = _just_before(_NUMBER_BEFORE, sentence, end, marks[place + 1][0])
    return told.start() if told is not None and told.start() > end + 1 else None


def _led_by(label: str) -> str:
    """Return the basis that a first label begins with, for all that follow: "dry basis CP"."""
    told = re.match(r"(?P<basis>.*\bbasis)\b[\s:,]", label, re.IGNORECASE)
    return basis_in(told["basis"]) if told else ""


def _of_all(sentence: str, found: list[Found]) -> None:
    """Take what the end of a sentence says of all its values."""
    several = "the sentence tells of several samples at once"
    together = _ALL_OF_THEM.search(sentence.strip(" ."))
    basis = ""
    if together:
        basis = basis_in(together[1]) or basis_in(re.split("[,;]", together[1])[0])
    end = "" if basis else _at_end(sentence)
    for one in found:
        one.bases.append(Hint(basis or ("" if _basis_of(one) else end), "the sentence"))
        if re.search(r"\brespectively\b", sentence):
            one.printed = replace(one.printed, doubt=several)


#: ", dry basis again", "(as received, too)": what ends a sentence and is of all in it.
_END: Final = re.compile(r"[,;(–—]\s*(?P<end>[^,;()–—]{2,40}?)\s*\)?[\s.!]*$")
_FILLING: Final = re.compile(
    r"\b(?:again|too|as well|also|both|all|each|every(?:thing| one)|of (?:them|it|these)|"
    r"always|still|likewise|on an?|on the|of the|given|basis)\b",
    re.IGNORECASE,
)


def _at_end(sentence: str) -> str:
    """Return the basis with which a sentence ends behind a comma."""
    told = _END.search(sentence)
    end = _FILLING.sub(" ", told["end"]).strip() if told else ""
    return basis_in(end) if end and is_only_basis(end) else ""


#: A list goes on with the next number; and a label has its own number right behind it.
_GOES_ON: Final = re.compile(r"(?:[,;]|\band)\s*$")
_HAS_OWN: Final = re.compile(
    r"\s*[)\]]?\s*(?:\([^()\d]{1,18}\))?\s*(?:[:=]|is|was|at|of|ran|came in at)?\s*[<>]?\.?\d"
)


def _bare(sentence: str, used: int, start: int, end: int) -> re.Match[str] | None:
    """Return the number without a unit of a list that stands before its label: ", 36.1 ADF"."""
    if not used or _HAS_OWN.match(sentence, end):
        return None
    before = _just_before(_BARE_BEFORE, sentence, used, start)
    if before is None or not _GOES_ON.search(sentence[used : before.start()]):
        return None
    return before


def _leads(sentence: str, start: int, end: int) -> bool:
    """Return whether the first label of a sentence stands before its number."""
    if _just_before(_BARE_BEFORE, sentence, 0, start) is not None:
        return False
    number = NUMBER.search(sentence, end)
    return number is not None and bool(_OWNED.fullmatch(sentence[end : number.start()]))


def _each_led(sentence: str, marks: list[tuple[int, int, Label]]) -> bool:
    """Return whether the labels of a list stand before their numbers, whatever is before them.

    "Lab no 5658  Moisture: 15.8%  CP: 11.5%" begins with a number of another kind.
    """
    behind = [_HAS_OWN.match(sentence, end) for _, end, _ in marks]
    if len(marks) < LEAST_IN_ROW or not all(behind):
        return False
    signs = sum(bool(re.match(r"\s*[:=]", sentence[end:])) for _, end, _ in marks)
    return signs == len(marks) or len(NUMBER.findall(sentence[marks[0][0] :])) >= len(marks)


def _from_here(sentence: str, placed: list[tuple[Found, int, int]]) -> None:
    """Give values the basis that is told before the first of them, in the midst of a sentence."""
    basis, end = "", 0
    for one, start, last in placed:
        told = sentence.rfind(one.cell.text, end, max(start, last))
        before = _FROM_HERE.search(sentence[end : told if told > end else start])
        if before is not None:
            basis = basis_in(before["basis"]) or basis
        one.bases.append(Hint(basis, "the sentence before it"))
        end = max(end, last)


def _numbers_first(sentence: str, marks: list[tuple[int, int, Label]]) -> bool:
    """Return whether each number of a sentence stands before its label: "12.2 CP, 35.1 ADF"."""
    if len(marks) < LEAST_IN_ROW or NUMBER.search(sentence, marks[-1][1]):
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
        gap = _NUMBER_BEFORE.sub(" ", f"{sentence[end:start]} ", count=1)
        if not _IN_A_ROW.fullmatch(gap):
            continue
        for mine, others in ((one.units, after.units), (one.bases, after.bases)):
            if not any(hint.word for hint in mine):
                mine.extend(hint for hint in others if hint.where.startswith("the sentence"))


#: "below 50 ppm NO3-N": words before a number that make it a limit.
_UP_TO: Final = re.compile(
    r"\b(?:below|under|less than|fewer than|lower than|no more than|not more than|at most|up to|"
    r"not over|not above)(?: the)?\s*$",
    re.IGNORECASE,
)
_DOWN_TO: Final = re.compile(
    r"\b(?:above|over|more than|greater than|higher than|at least|no less than|not less than|"
    r"not under|not below|upwards of|in excess of|exceed\w*)(?: the)?\s*$",
    re.IGNORECASE,
)


def _limited(value: Printed, before: str) -> Printed:
    """Return a number with what the words before it say: that it is a limit, and no result."""
    if value.op is not Op.IS:
        return value
    if _UP_TO.search(before):
        return replace(value, op=Op.BELOW)
    return replace(value, op=Op.ABOVE) if _DOWN_TO.search(before) else value


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
    value = _limited(printed(before["number"], comma), sentence[: before.start()])
    if value.op in (Op.UNREADABLE, Op.ABSENT):
        return None
    one = Found(label, sentence[start:end], _at(before["number"], cell), value)
    one.units.append(Hint(written_in(before["unit"]).unit, "the sentence"))
    rest = written_in(re.split(r"\d|;|\band\b", sentence[end : min(limit, end + _AFTER)])[0])
    behind = re.search(r"\b(?:on|of|in)\b", sentence[start:end])  # "37.0 % ADF on dry matter"
    where = "the sentence" if behind else "the label"
    one.bases += [Hint(label.basis, where), Hint(rest.basis, "the sentence")]
    return one


def _ahead(
    sentence: str, start: int, end: int, limit: int, label: Label, cell: Cell, comma: Comma
) -> list[tuple[Found, int, int]]:
    """Return values whose numbers follow their label: "protein came in at 11.2 %, dry 12.7"."""
    made: list[tuple[Found, int, int]] = []
    at = end
    while number := NUMBER.search(sentence, at, limit):
        between = sentence[at : number.start()]
        hint = written_in(between)
        words = re.findall(r"[a-z]+", between.casefold())
        if len(between) > _REACH and (made or len(between) > _REACH_BASIS or not hint.basis):
            break
        if made and not (_SECOND.search(between) or hint.basis):
            break
        if any(word not in _BETWEEN for word in words) and not (hint.basis or hint.unit):
            break
        value = _limited(printed(number[0], comma), between)
        if value.op in (Op.UNREADABLE, Op.ABSENT):
            break
        follows = NUMBER.search(sentence, number.end(), limit)
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


def labels_in(sentence: str) -> list[tuple[int, int, Label]]:
    """Return the labels of a sentence with their places, the longest first where they overlap.

    Parameters
    ----------
    sentence : str
        What is told.

    Returns
    -------
    list of (int, int, Label)
        Where each begins and ends, and which it is.
    """
    words = list(_WORD.finditer(sentence))
    found: list[tuple[int, int, Label]] = []
    place = 0
    while place < len(words):
        for size in range(min(_MOST_WORDS, len(words) - place), 0, -1):
            first, last = words[place], words[place + size - 1]
            text = sentence[first.start() : last.end()]
            if _is_none(sentence, first, last):
                continue
            label = label_of(text)
            if (
                label is not None
                and label.basis
                and _OF_UNIT.search(_before(sentence, first.start()))
            ):
                continue  # "87.6 % of fresh weight, Crude protein": the basis of the value before
            if label is not None and _of_part(label, sentence, first.start()):
                continue  # "NDFD48 57 % of NDF": what it is a share of
            if label is None or not (
                _strong(text, label) or _listed(sentence, first.start(), last.end())
            ):
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
        or re.match(
            r"[\s:=)\]]*(?:\(?%\)?)?[\s:=]*(?:is|was|of|at)?\s*[<>]?\d", sentence[end : end + _NEAR]
        )
        or (
            # "88.1 percent dry matter." is the analyte, "59 percent of dry matter" a basis
            re.search(r"\d\s*(?:%|percent|pct)\s+(?:de |di |d')?$", _before(sentence, start))
            and re.match(r"\s*(?:$|[.,;)]|and\b|with\b)", sentence[end : end + _NEAR])
        )
        or (
            # "West 40 - 88.1 DM, 12.2 CP": no label stands before the number
            re.search(r"(?:^|[-–:,;(]\s*)\d[\d.]*\s*%?\s+$", _before(sentence, start))
            and re.match(r"\s*(?:$|[,;])", sentence[end : end + _NEAR])
        )
    ]


def _is_none(sentence: str, first: re.Match[str], last: re.Match[str]) -> bool:
    """Return whether words from one to another are no label, by the words at their ends."""
    text = sentence[first.start() : last.end()]
    if not text[0].isalpha() or any(sign in text for sign in ",:;%"):
        return True
    if last[0][-1].isdigit() and not re.search(r"\d\s*(?:h|hr)?$", text):
        return True
    if first[0] in _LINKS or last[0] in _LINKS or _OF_NUMBER.fullmatch(text):
        return True
    if {first[0].casefold(), last[0].casefold()} & _NO_ENDS:
        return True
    unit = first is not last and _OF_NUMBER.fullmatch(first[0])
    return bool(unit and _FIGURE.search(_before(sentence, first.start())))  # "109 mg/kg iron"


def _of_part(label: Label, sentence: str, start: int) -> bool:
    """Return whether a label is the part of which the value before it is a share."""
    if label.candidates in (("ndf",), ("ndfom",)):
        return bool(_OF_UNIT.search(_before(sentence, start)))
    if label.candidates not in (("cp",), ("n",)):
        return False
    before = _before(sentence, start)
    return bool(_OF_UNIT.search(before) and re.search(r"\bsol|\bbound|insol|degrad", before, re.I))


def _listed(sentence: str, start: int, end: int) -> bool:
    """Return whether one letter is a label among others: ", P 0.30%" behind "Ca 0.40%"."""
    return bool(
        sentence[start:end] in ("P", "K", "S")
        and re.search(r"\d\s*%?(?:\s*[,;/|]|,?\s+and|\s)\s*$", _before(sentence, start))
        and re.match(r"\s*[:=]?\s*[<>]?\d*\.\d", sentence[end : end + _NEAR])
    )


def _before(sentence: str, start: int) -> str:
    """Return what stands right before a place in a sentence."""
    return sentence[max(start - _NEAR, 0) : start]


def _strong(text: str, label: Label) -> bool:
    """Return whether a label is one in a sentence too: "p" and "me" are not."""
    bare = text.strip()
    if label.maybe_basis and bare.casefold() in ("dry matter", "dm"):
        return True
    return len(bare) >= 3 or bare in (
        "CP",
        "cp",
        "DM",
        "EE",
        "Ca",
        "pH",
        "Mg",
        "Zn",
        "Cu",
        "Fe",
        "Mn",
        "Na",
        "Cl",
    )
