"""Names and numbers with which a sentence begins to tell of a sample."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Final

from rickyard.labs.common import Cell
from rickyard.labs.letters.told import NUMBER, labels_in
from rickyard.labs.vocabulary import (
    Label,
    field_of,
    is_aside,
    label_of,
    phrases,
    plain,
    written_in,
)

#: "26/4462", "EL90", "TZ/2": numbers as laboratories give them.
_ANY_NUMBER: Final = r"(?:(?:\d\d[-/])?[A-Z]{0,4}[-/]?\d{2,}[\w/-]*|[A-Z]{1,4}[-/]\d[\w/-]*)"
_OF_LAB: Final = (
    r"(?:(?:our|lab(?:oratory)?)\s*(?:sample|test)?\s*(?:no\.?|number|#|id|ref\.?|reference)?|"
    r"(?:test |sample )?(?:number|no\.?|#|n[°ºo]|nr\.?|num[eé]ro|n[uú]mero|"
    r"labor-?(?:nr\.?|nummer)))\s*:?\s*"
    r"(?P<number>[A-Z]{0,4}[-/]?\d{3,}[\w/-]*|[A-Z]{1,4}[ -]?\d\d[-/]\d{2,4}|[A-Z]{1,3} \d{2,})"
)
#: "the hay you call "West 40" (our number 771)", "from West 40 (lab 771)".
_NAMED: Final = re.compile(
    r"(?:(?P<ahead>(?<![\w/-])(?:(?:\d\d[-/])?[A-Z]{0,4}[-/]?\d{2,}[a-z]?\s+|"
    r"(?:(?i:no|nr|number|test|sample)\.?|#|n°)\s?[A-Z]{0,4}[-/]?\d{2,}[\w/-]*\s+\(?))?"
    r"[\"“„«]\s?(?P<quoted>[^\"“”„«»]{2,45}?|\d)\s?[\"”“»]|"
    r"\b(?:from|for|sample|called|marked|of|on|lot|field)\s+(?:the\s+)?"
    r"(?P<plain>[A-Z#][\w#.'-]*(?:\s(?:[A-Z#\d][\w#.'-]*|[a-z]{2,9})){0,4})\s*(?=[(,]\s*(?:our|"
    r"lab|number|no\.|#|test n|sample n))|"
    r"\b(?:about|on|of|for|from|is|re:?)\s+(?:the\s+)?"
    r"(?P<place>(?:Lot|Field|Stack|Barn|Pile|Rick|Bay) (?:no\. ?|#)?[A-Z-]{0,4}\d[\w-]*))"
    rf"(?:\s*[(,]\s*{_OF_LAB})?"
)
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
#: "The lot marked Kimball", "The hay you had from me": what stands before a name, or before none.
_SPOKEN_OF: Final = re.compile(
    r"^(?:The|Your|Our|That|This) (?:lot|field|stack|hay|pile|sample|bales?)"
    r"(?: (?:marked|called|named|labell?ed))? (?=\w)"
)
#: "A year ago that field gave you": when, and no name.
_AGO: Final = re.compile(r"\b(?:ago|back then|(?:year|season)s? (?:back|before|earlier))\b", re.I)
_PLACES: Final = frozenset(phrases("lot|field|stack|sample|barn|pile|bale|cutting|rick|bay|row"))
#: "Sample north end: dry matter 88.8 percent".
_CALLED: Final = re.compile(
    r"^\s*(?:[-*•·–>]\s*)?(?:and\s+|the\s+)*(?:sample|lot|field|stack|hay|bale|barn|paddock)\s+"
    r"(?:(?:called|named|marked)\s+)?(?P<name>[\w#.'/&-]+(?:\s[\w#.'/&-]+){0,4}?)\s*:\s",
    re.IGNORECASE,
)
#: "the orchardgrass from the west lot: moisture 12.7 percent".
_THE: Final = re.compile(
    r"^\s*(?:[-*•·–>]\s*)?(?:and\s+)?the\s+(?P<name>[a-z][\w'-]+(?:\s[\w'-]+){0,6}?)\s*:\s",
    re.IGNORECASE,
)
#: "Now the sudan rounds, pulled August 23: moisture 10.2", "The creek field, same day, is better:
#: moisture 13.8", "Your barn hay (pulled August 21) came back 14.2 moisture".
_TURNS: Final = re.compile(
    r"^\s*(?:[-*•·–>]\s*)?(?:(?:now|then|next|and|but|also|lastly|finally|as for|on to)[,:]?\s+)?"
    r"(?:the|your|our)\s+(?-i:(?P<name>[a-z][\w'-]+(?:\s[\w'-]+){1,6}?))"
    r"(?:\s*\([^()]{2,60}\)|,[^:;.()]{2,50})?,?\s*"
    r"(?::\s|(?<=[\s,])(?:came|comes|had|has|tested|tests|ran|runs|showed|shows|was|is|went|gave|"
    r"measured|checked|averaged)\b)",
    re.IGNORECASE,
)
#: "Now Willow bench": what turns to the next sample, before its name.
_TURNING: Final = re.compile(
    r"^(?:now|then|next|and|also|lastly|finally|as for|on to)[,:]?\s+(?:(?:the|your|our)\s+)?"
    r"(?=[A-Z#])",
    re.IGNORECASE,
)
_NO_TURN: Final = frozenset(
    phrases("same|other|others|one|ones|next|first|second|third|whole|two|three|both|first one")
)
#: "First cutting", "second crop": the cut of a field names hay, where "the first one" does not.
_CUT: Final = re.compile(r"\w+ (?:cut|cutting|crop)s?\b")
#: "Second cutting is better": what is said of a name and is no part of it.
_SAID_OF: Final = re.compile(r"\s(?:is|was|are|were|looks?|looked|seems?|came|comes|did|does)\s.*")
#: "Sobre materia seca:", "On dry matter:": the basis of what follows.
_ON: Final = re.compile(
    r"(?:on|in|sobre|sur|auf|im|en|em|su|sulla|op|på|na|of|all)\b", re.IGNORECASE
)
#: Behind the name, where it is.
_WHERE: Final = re.compile(r"\s(?:from|in|on|at|by|out of|behind|near|under|i|we|you|that)\s.*")
_NO_LOT: Final = frozenset(
    phrases(
        "result|results|number|numbers|figure|figures|value|values|test|tests|report|reports|"
        "analysis|analyses|lab|laboratory|sheet|paper|slip|minerals|mineral|energies|basis|note|"
        "rest|others|other|same|following|summary|limits|guide|average|averages|goal|cost|price|"
        "bill|invoice|date|dates|says|question|answer|news|ones|both"
    )
)
#: "West 40 (771):", "Our number 771 is your West 40:".
_NUMBERED: Final = (
    re.compile(
        r"^\s*(?:[-*•·–>]\s*)?(?:Sample|Lab|Test|Our|Number|No\.?)\s*(?:no\.?|number|#)?\s*"
        rf"(?P<number>{_ANY_NUMBER})\s*[(,]\s*[\"“]?(?P<name>[A-Z][^():,\"“”]{{2,45}})"
        r"[\"”]?\s*[),]"
    ),
    re.compile(
        r"^\s*(?:[-*•·–>]\s*)?(?P<name>[A-Z#][\w#.' -]{1,40}?)\s*\((?:#|no\.?\s*)?"
        rf"(?P<number>{_ANY_NUMBER})\)\s*(?::|[-–]\s)"
    ),
    re.compile(
        r"\b(?:our|lab(?:oratory)?)\s+(?:number|no\.?|ref\.?|sample)\s+"
        rf"(?P<number>{_ANY_NUMBER})\s+(?:is|was)\s+(?:your|the)?\s*"
        r"[\"“]?(?P<name>[A-Z#][\w#.' -]{1,40}?)[\"”]?\s*[:,(]",
        re.IGNORECASE,
    ),
    re.compile(
        r"^\s*(?:[-*•·–>]\s*)?(?:The|Your|Our|And|Sample)?\s*"
        r"(?P<name>[A-Z#][\w#.']*(?: [\w#.']+){0,4}?)\s+(?:(?:sample|hay|lot|stack)\s+)?"
        r"\((?:our\s+)?(?:lab(?:oratory)?\s*)?(?:sample\s*)?(?:no\.?|number|#|ref\.?|id)?\s*"
        rf"(?P<number>{_ANY_NUMBER})\)\s+(?=[a-z])"
    ),
    re.compile(
        r"^\s*(?P<name>[A-Z#][\w#.']*(?: [\w#.']+){0,4}?)\s+[-–]\s+"
        r"(?P<number>#?[A-Z]{0,4}[-/]?\d{3,}[\w-]*)\s+[-–:]\s"
    ),
)


#: "No. 771": what stands before a number.
_SAID_BEFORE: Final = re.compile(r"^(?:no|nr|number|test|sample|#|n°)\.?\s?", re.IGNORECASE)


def names_in(sentence: str, whole: Cell) -> list[tuple[str, list[Cell]]]:
    """Return the name and the number of the sample that a sentence begins to speak of."""
    found: list[tuple[str, list[Cell]]] = []
    both = _numbered(sentence, whole)
    if both:
        return both
    one = _NAMED.search(sentence)
    if one is None:
        return _led(sentence, whole)
    name = next((text for text in (one["quoted"], one["plain"], one["place"]) if text), "")
    if name:
        found.append(("id", [replace(whole, text=name.strip(" ,"))]))
    number = one["number"] or _SAID_BEFORE.sub("", one["ahead"] or "").strip(" (")
    if number:
        found.append(("lab_no", [replace(whole, text=number)]))
    return found


def _called(sentence: str, whole: Cell) -> list[tuple[str, list[Cell]]]:
    """Return the name that stands behind the word for a sample and before its values."""
    one = _CALLED.match(sentence)
    if one is None or not labels_in(sentence[one.end() :]):
        return []
    name = one["name"]
    if field_of(sentence[: one.end()].strip()) or label_of(name) or field_of(name):
        return []
    return [("id", [replace(whole, text=name)])]


def _the(sentence: str, whole: Cell) -> list[tuple[str, list[Cell]]]:
    """Return the name that stands before a colon and its values: "the clover mix in the shed:"."""
    one = _THE.match(sentence)
    if one is None or not labels_in(sentence[one.end() :]):
        return []
    whole_name = _SAID_OF.sub("", one["name"])
    name = _WHERE.sub("", whole_name)
    name = whole_name if name in ("hay", "lot", "stack", "sample", "bales", "field") else name
    if {*plain(one["name"]).split()} & _NO_LOT or label_of(name) or is_aside(one["name"]):
        return []
    return [("id", [replace(whole, text=name)])]


def _turned_to(sentence: str, whole: Cell) -> list[tuple[str, list[Cell]]]:
    """Return the name to which a letter turns with an article: "the creek field is better:"."""
    one = _TURNS.match(sentence)
    if one is None or not labels_in(sentence[one.end("name") :]):
        return []
    name = one["name"]
    words = plain(name).split()
    begins = words[0] in _NO_TURN and not _CUT.match(name)
    known = {*words} & _NO_LOT or begins or words[-1] in _NO_TURN
    if known or any(label_of(word) for word in words if len(word) > 3) or is_aside(name):
        return []
    if _AGO.search(name) or field_of(name) or not NUMBER.search(sentence[one.end("name") :]):
        return []
    return [("id", [replace(whole, text=name)])]


def _numbered(sentence: str, whole: Cell) -> list[tuple[str, list[Cell]]]:
    """Return the name and the laboratory's number that stand together before values."""
    for pattern in _NUMBERED:
        one = pattern.search(sentence)
        if one is not None and labels_in(sentence[one.end() :]) and not label_of(one["name"]):
            return [
                ("id", [replace(whole, text=one["name"].strip())]),
                ("lab_no", [replace(whole, text=one["number"].lstrip("#"))]),
            ]
    return []


#: "lot A moist 13.2% CP 13.5%", "West 40 CP 12.2 ADF 35": a name right before its values.
_BEFORE: Final = re.compile(
    r"^\s*(?:[-*•·–>]\s*)?(?P<name>(?:(?:lot|field|stack|barn|bale|hay|sample|cutting)\s+#?(?=\S*[A-Z\d])"
    r"|(?=[A-Z#]))[\w#.'/&-]+(?:\s[\w#.'/&-]+){0,3}?)[,\s]+$"
)
#: So many labels with a number each make a line a list of values.
_LEAST_VALUES: Final = 3


#: "10/4 creek hay: DM 83.8, CP 10.3": a day of a notebook, and a name without capitals.
_NOTED: Final = re.compile(
    r"^\s*(?:[-*•·–>]\s*)?(?:\d{1,2}[/.-]\d{1,2}(?:[/.-]\d{2,4})?[,:]?\s+)?"
    r"(?P<name>(?:[a-z]|\d+(?:st|nd|rd|th)\b)[\w'#-]*(?:,?\s[\w'#-]+){1,5}?)\s*:\s+$"
)


def _noted(sentence: str, whole: Cell) -> list[tuple[str, list[Cell]]]:
    """Return the name before the colon of a line that lists values, as in a notebook."""
    marks = labels_in(sentence)
    if not _lists_values(sentence, marks):
        return []
    one = _NOTED.match(sentence[: marks[0][0]])
    name = one["name"] if one is not None else ""
    words = plain(name).split()
    if not words or {*words} & _NO_LOT or label_of(name) or field_of(name) or is_aside(name):
        return []
    return [("id", [replace(whole, text=name)])]


def _lists_values(sentence: str, marks: list[tuple[int, int, Label]]) -> bool:
    """Return whether a sentence has several labels, each with a number behind it."""
    if len(marks) < _LEAST_VALUES:
        return False
    ends = [*(start for start, _, _ in marks[1:]), len(sentence)]
    told = sum(
        bool(NUMBER.search(sentence[end:last]))
        for (_, end, _), last in zip(marks, ends, strict=True)
    )
    return told >= _LEAST_VALUES


def _before(sentence: str, whole: Cell) -> list[tuple[str, list[Cell]]]:
    """Return the name that stands right before a list of values, without a sign between."""
    marks = labels_in(sentence)
    if not _lists_values(sentence, marks):
        return []
    one = _BEFORE.match(sentence[: marks[0][0]])
    name = one["name"] if one is not None else ""
    words = plain(name).split()
    if not words or label_of(name) or field_of(name) or is_aside(name):
        return []
    numbered = words[0] in _PLACES and len(words) > 1
    single = len(words) == 1 and not words[0][-1:].isdigit()
    if not numbered and (single or set(words) & _NOT_A_NAME):
        return []
    return [("id", [replace(whole, text=name)])]


def _led(sentence: str, whole: Cell) -> list[tuple[str, list[Cell]]]:
    """Return the name with which a sentence begins that goes on to tell values of it."""
    called = _called(sentence, whole) or _the(sentence, whole) or _before(sentence, whole)
    called = called or _turned_to(sentence, whole) or _noted(sentence, whole)
    if called:
        return called
    sentence = _TURNING.sub("", sentence)
    one = _LED.match(sentence)
    if one is None or not labels_in(sentence[one.end("name") :]):
        return []
    name = re.sub(r"^sample #?\w{1,4}\s*[-–:]\s+", "", one["name"].strip(" ,."), flags=re.I)
    name = _SPOKEN_OF.sub("", name)
    if _AGO.search(name):
        return []
    words = plain(name).split()
    if not words or name[0].islower() or (_ON.match(name) and written_in(name).basis):
        return []
    numbered = words[0] in _PLACES and any(sign.isdigit() for sign in name)
    if (words[0] in _NOT_A_NAME and not numbered) or label_of(name) or field_of(name):
        return []
    if any(label_of(word) for word in name.split() if len(word) > 3) or is_aside(name):
        return []
    if len(words) < 2 and not one["inside"] and not any(sign.isdigit() for sign in name):
        return []
    if not NUMBER.search(sentence[one.end() :]):
        return []
    return [("id", [replace(whole, text=name)])]
