"""Numbers as laboratories print them: limits, words in place of numbers, commas and points."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from typing import Final

from rickyard.labs.vocabulary.texts import FOOTNOTE_MARKS, phrases, plain
from rickyard.labs.vocabulary.units import is_only_unit

NOT_DETECTED: Final = frozenset(
    phrases(
        "nd|n.d.|n.d|bdl|b.d.l.|not detected|none detected|trace|tr|tr.|<lod|< lod|<loq|< loq|"
        "<mdl|< mdl|<dl|< dl|<rl|< rl|below detection|below detection limit|below limit|"
        "negative|neg.|not found|<lq|undetected|non detect|non-detect|below loq|below lod|"
        "no growth|lod|bql|udl|<mrl|< mrl|below reporting limit|less than detection limit|"
        "nil detected|"
        "n.n.|n. n.|nicht nachweisbar|nicht nachgewiesen|u.d.n.|u.d.l.|unter nwg|unter bg|"
        "unter der nachweisgrenze|unter der bestimmungsgrenze|spuren|non détecté|non detecte|"
        "non détectable|non décelé|traces|no detectado|no detectable|no se detecta|trazas|"
        "não detetado|não detectado|vestígios|niet aantoonbaar|niet aangetoond|n.a.t.|"
        "ikke påvist|spor|ej påvisad|ej påvisat|spår|nie wykryto|n.w.|poniżej lod|poniżej loq|"
        "ślady|non rilevato|non rilevabile|tracce"
    )
)
#: "<LQ", "< BG": under the limit that a laboratory names in its own language.
_UNDER_LIMIT: Final = re.compile(r"<\s*(?:lo[dq]|m[dqr]l|[drb]l|[bnrd]g|l[qdc]|nwg|rg|gw)\.?")
TOO_MANY: Final = frozenset(
    phrases("tntc|too numerous to count|too many to count|t.n.t.c.|uncountable")
)
ABSENT: Final = frozenset(
    phrases(
        "n/a|na|n.a.|-|--|---|----|.|..|...|not tested|not requested|nt|n.t.|nr|n.r.|"
        "not reported|none|not applicable|not analyzed|not analysed|n/t|n/r|*|**|x|blank|null|"
        "nan|not run|pending|not determined|no data|missing|/|void|not done|n.a|not ordered|"
        "not available|?|tba|tbd|not calculated|nc|_|not measured|not reqd|not req'd|"
        "n.b.|n. b.|k.a.|k. a.|nicht bestimmt|nicht untersucht|nicht beauftragt|entf.|entfällt|"
        "keine angabe|n.u.|non déterminé|non determine|non dosé|non dose|non demandé|non mesuré|"
        "non analysé|s.o.|n.c.|s/d|sin dato|sin datos|no determinado|no solicitado|no analizado|"
        "não determinado|não solicitado|não analisado|niet bepaald|niet gevraagd|nvt|n.v.t.|"
        "i.b.|i.a.|ikke bestemt|ikke målt|ikke analyseret|e.b.|ej bestämt|ej analyserat|e.a.|"
        "ej begärt|n.o.|nie oznaczono|brak danych|nie badano|non determinato|non richiesto|"
        "non analizzato"
    )
)


class Op(StrEnum):
    """What a printed value says about its number."""

    IS = "="
    BELOW = "<"
    ABOVE = ">"
    NOT_DETECTED = "nd"
    TOO_MANY = "tntc"
    ABSENT = "none"
    UNREADABLE = "?"


class Comma(StrEnum):
    """How a file writes decimals: with a point, with a comma, or nothing tells."""

    POINT = "point"
    COMMA = "comma"
    BOTH = "both"
    OPEN = "open"


@dataclass(frozen=True, slots=True)
class Printed:
    """A printed value read: its number, one unit of its last place, and what follows it.

    ``doubt`` says in words why the number may be another, and ``other`` what it would be.
    """

    op: Op
    value: float | None = None
    step: float = 0.0
    rest: str = ""
    doubt: str = ""
    other: float | None = None


_FIGURES: Final = r"[-+]?(?:\d{1,3}(?:[ '\u2009\u202f]\d{3})+(?:[.,]\d+)?|\d[\d.,']*|[.,]\d+)"
_EXPONENT: Final = r"(?:\s?(?:e|x\s?10\s?\^?)\s?\(?([+-]?\d{1,2})\)?)"
_VALUE: Final = re.compile(
    rf"(?P<op><\s*=?|>\s*=?|less than|under|below|more than|greater than|over|above|~|=)?\s*"
    rf"(?P<figures>{_FIGURES}){_EXPONENT}?(?P<rest>.*)$"
)
_BELOW: Final = ("<", "less", "under", "below")
_ABOVE: Final = (">", "more", "greater", "over", "above")
# Letters that a poor copy puts for figures.
_LIKE_FIGURES: Final = re.compile(r"^[<>]?\s*[\dloisbzg|?]*[.,]?[\dloisbzg|?]+$")
_PLUS_MINUS: Final = re.compile(
    r"^(?P<unit>\s*%?)\s*\(?\s*(?:\+/-|\+-|±)\s*\d[\d.,]*\s*(?P<after>%?)\s*\)?"
)
#: "8.4 [6.9-9.4]": what is usual, behind the number.
_USUAL: Final = re.compile(r"^[\[(]\s*\d[\d.,]*\s*%?\s*(?:-|to|\.\.)\s*\d[\d.,]*\s*%?\s*[\])]\s*")
_RANGE: Final = re.compile(r"^\s*(?:-|to|\.\.)\s*\d[\d.,]*")


#: "(88.1)": a number that is no pair's second.
_IN_BRACKETS: Final = re.compile(r"\(\s*[<>]?\s*\d+(?:[.,]\d+\s*%?|\s*%)\s*\)")
#: "ND mg/kg", "n/a %": a word in place of a number, and its unit.
_WORD_AND_UNIT: Final = re.compile(
    r"(?P<word>n\.?d\.?|bdl|tntc|trace|n/a|not detected|<\s*(?:lo[dq]|mdl|dl|rl))\s+(?P<unit>\S.*)"
)
#: What a spreadsheet shows in place of a number, or the text of a formula.
_SHEET_ERROR: Final = re.compile(
    r"[=@]|err:|#(?:n/a|ref|div|value|name|num\b|null|spill|calc|error|#)"
)


@lru_cache(maxsize=65536)
def printed(text: str, comma: Comma = Comma.OPEN) -> Printed:
    """Read what stands where a number is expected.

    Parameters
    ----------
    text : str
        The text of a cell, or the part of a line behind a label.
    comma : Comma
        How the file writes decimals.

    Returns
    -------
    Printed
        The number with what follows it, a word in place of it, or unreadable.

    Examples
    --------
    >>> printed("<0.05").op, printed("<0.05").value
    (<Op.BELOW: '<'>, 0.05)
    >>> printed("3.364", Comma.COMMA).value, printed("75,6", Comma.COMMA).value
    (3364.0, 75.6)
    >>> printed("n/a").op, printed("l2.4").op
    (<Op.ABSENT: 'none'>, <Op.UNREADABLE: '?'>)
    """
    shown = plain(text).strip()
    word = shown.strip(FOOTNOTE_MARKS + " ") or shown
    united = _WORD_AND_UNIT.fullmatch(word)
    if united is not None and is_only_unit(united["unit"]):
        of_word = printed(united["word"], comma)
        return Printed(of_word.op, rest=united["unit"])
    if word[:1] == "(" and _IN_BRACKETS.fullmatch(word):
        word = word[1:-1].strip()
    if not shown or word in ABSENT:
        return Printed(Op.ABSENT)
    if word in NOT_DETECTED or _UNDER_LIMIT.fullmatch(word):
        return Printed(Op.NOT_DETECTED)
    if word in TOO_MANY:
        return Printed(Op.TOO_MANY)
    if _SHEET_ERROR.match(shown):
        return Printed(Op.UNREADABLE, doubt="the cell holds an error of a spreadsheet")
    found = _VALUE.match(word)
    if found is None:
        return Printed(Op.UNREADABLE, rest=word)
    return _number(found, word, comma)


def _number(found: re.Match[str], word: str, comma: Comma) -> Printed:
    rest = found["rest"].strip()
    tight = bool(found["rest"]) and not found["rest"][0].isspace()
    if _RANGE.match(rest) and not rest.startswith("--"):
        return Printed(Op.UNREADABLE, rest=word, doubt="two numbers are printed, as a range")
    if tight and re.match(r"[a-z?|]", rest) and _LIKE_FIGURES.match(word):
        return Printed(Op.UNREADABLE, rest=word, doubt="a letter stands among the figures")
    if tight and re.match(r"\d|[/:]\s*\d", rest):
        return Printed(Op.UNREADABLE, rest=word)
    rest = _USUAL.sub("", rest)
    rest = _PLUS_MINUS.sub(lambda one: one["unit"].strip() or one["after"], rest).strip()
    if "�" in rest or rest.startswith("?"):
        return Printed(Op.UNREADABLE, rest=word, doubt="a sign behind the number was lost")
    read = _figures(found["figures"], comma)
    if read is None:
        return Printed(Op.UNREADABLE, rest=word, doubt="the figures are not one number")
    value, step, doubt, other = read
    if found[3]:
        power = 10.0 ** int(found[3])
        value, step, other = value * power, step * power, None
    if not math.isfinite(value):
        return Printed(Op.UNREADABLE, rest=word)
    sign = (found["op"] or "").strip()
    if sign == "~":
        doubt = doubt or "the laboratory printed about"
    return Printed(_op_of(sign), value, step, rest, doubt, other)


def _op_of(sign: str) -> Op:
    if sign.startswith(_BELOW):
        return Op.BELOW
    return Op.ABOVE if sign.startswith(_ABOVE) else Op.IS


def _figures(figures: str, comma: Comma) -> tuple[float, float, str, float | None] | None:
    """Return number, last place, doubt, and what else it could be."""
    text = re.sub(r"[ '\u2009\u202f]", "", figures).rstrip(".,")
    points, commas = text.count("."), text.count(",")
    if points and commas:
        last = max(text.rfind("."), text.rfind(","))
        whole, places = re.sub(r"[.,]", "", text[:last]), text[last + 1 :]
        if text[last] in text[:last] or not _grouped(text[:last]):
            return None
        return _made(whole, places)
    if not points and not commas:
        return _made(text, "")
    mark = "." if points else ","
    if points + commas > 1:
        return _made(text.replace(mark, ""), "") if _grouped(text) else None
    whole, places = text.split(mark)
    as_decimal, as_whole = _made(whole, places), _made(whole + places, "")
    may_group = len(places) == 3 and whole.lstrip("+-") not in ("", "0") and _grouped(text)
    decimal_mark = {Comma.POINT: ".", Comma.COMMA: ","}.get(comma)
    if not may_group or decimal_mark == mark:
        return as_decimal
    if decimal_mark is not None:
        return as_whole
    if comma is Comma.BOTH:
        return (*as_whole[:2], f'"{figures}" may have a decimal sign or a thousands mark',
                as_decimal[0])  # fmt: skip
    return as_decimal if mark == "." else as_whole


def _grouped(text: str) -> bool:
    return bool(re.fullmatch(r"[-+]?\d{1,3}([.,']\d{3})+|[-+]?\d{1,3}", text))


def _made(whole: str, places: str) -> tuple[float, float, str, float | None]:
    text = (whole or "0") + ("." + places if places else "")
    try:
        return float(text), 10.0 ** -len(places), "", None
    except ValueError:
        return float("nan"), 1.0, "", None


_COMMA_TELLS: Final = re.compile(
    r"(?<![\d.,])(?:\d{1,3}(?:\.\d{3})+,\d+|0,\d+|\d+,(?:\d{1,2}|\d{4,}))(?![\d,.])"
)
_POINT_TELLS: Final = re.compile(
    r"(?<![\d.,])(?:\d{1,3}(?:,\d{3})+\.\d+|0\.\d+|\d*\.(?:\d{1,2}|\d{4,}))(?![\d,.])"
)
_DATE_LIKE: Final = re.compile(r"^\d{1,4}[./-]\d{1,2}[./-]\d{1,4}")


def comma_of(texts: Iterable[str]) -> Comma:
    """Return how a file writes its decimals, from everything that is a number in it.

    Parameters
    ----------
    texts : iterable of str
        Numbers as printed.

    Returns
    -------
    Comma
        Comma, point, both in one file, or not to be told.

    Examples
    --------
    >>> comma_of(["75,6", "3.364"]), comma_of(["1,150", "12.5"]), comma_of(["1,150"])
    (<Comma.COMMA: 'comma'>, <Comma.POINT: 'point'>, <Comma.OPEN: 'open'>)
    """
    commas = points = 0
    for text in texts:
        shown = text.strip().lstrip("<>~= ")
        if not shown or not (shown[0].isdigit() or shown[0] in ".,-") or _DATE_LIKE.match(shown):
            continue
        figures = re.match(r"-?[\d.,]+", shown)
        if figures is None:
            continue
        commas += bool(_COMMA_TELLS.fullmatch(figures[0]))
        points += bool(_POINT_TELLS.fullmatch(figures[0]))
    if commas and points:
        return Comma.BOTH
    return Comma.COMMA if commas else Comma.POINT if points else Comma.OPEN
