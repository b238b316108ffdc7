"""What stands where a value is expected, and the unit and basis behind it."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from rickyard.labs.tables.blocks import Line
from rickyard.labs.tables.cells import Seen
from rickyard.labs.tables.draft import Found, Hint
from rickyard.labs.tables.headings import Heading
from rickyard.labs.vocabulary import (
    Op,
    Printed,
    is_only_unit,
    label_of,
    marks_of,
    method_in,
    plain,
    written_in,
)

#: Beside results that the laboratory takes back, and beside those that stand for others.
_TAKEN_BACK = re.compile(
    r"(?:void(?:ed)?|withdrawn|superseded|replaced|cancel+ed|annul+ed|revoked|retracted|rejected|"
    r"invalid|in error|do not use|not valid|storniert|ung[uü]ltig|annul[eé]e?|remplac[eé]e?|"
    r"anulad[oa]|vervallen|annullat[oa]|ongeldig|unieważnion[oy]|ogiltig|ugyldig|anulado)"
    r"(?P<more>\s*(?:[-–—:;,(/]|\b(?:see|by|due|because|and|on)\b).*)?",
    re.IGNORECASE,
)
#: The same among other words: "result void, see the next line", "was withdrawn in July".
_SPEAKS_OF_VOID = re.compile(
    r"(?<![.@])\b(?:void(?:ed)?|withdrawn|superseded|cancel+ed|annul+ed|revoked|retracted|rejected|"
    r"invalid|in error|do not use|not valid|disregard|ignore|wrong sample|mix-?up|"
    r"replaced by|being repeated|to be repeated|storniert|ung[uü]ltig|anulad[oa]|vervallen)\b",
    re.IGNORECASE,
)
_IN_PLACE = re.compile(
    r"(?:re-?run|re-?tested|re-?test|recheck(?:ed)?|corrected|amended|revised|repeat(?:ed)?|"
    r"correction|corrig[eé]e?|corregid[oa]|korrigiert)(?: (?:result|value|line))?",
    re.IGNORECASE,
)
_BELOW = frozenset(("<", "lt", "less than", "<="))
_ABOVE = frozenset((">", "gt", "greater than", ">="))
#: Letters with which laboratories mark what they did not detect, or only about.
_DOUBTFUL = frozenset(("u", "nd", "bdl", "bql", "blq", "j", "uj", "no", "not detected", "n"))


def qualified(found: Found, text: str) -> None:
    """Take the sign or the letter of a column beside the result that says how far it holds.

    Examples
    --------
    >>> from rickyard.labs.common import Cell
    >>> from rickyard.labs.vocabulary import Label
    >>> value = Printed(Op.IS, 50.0, 1.0)
    >>> one = Found(Label(("zn",)), "Zn", Cell("50", 0, 0, 1, ""), value)
    >>> qualified(one, "<")
    >>> one.printed.op
    <Op.BELOW: '<'>
    """
    word = plain(text).strip(" .")
    if found.printed.op is not Op.IS:
        return
    if word in _BELOW:
        found.printed = replace(found.printed, op=Op.BELOW)
    elif word in _ABOVE:
        found.printed = replace(found.printed, op=Op.ABOVE)
    elif word in _DOUBTFUL:
        found.printed = replace(
            found.printed, doubt=f'"{text}" beside it may say that it was not detected'
        )


def as_value(one: Seen) -> Printed:
    """Return what stands where a value is expected: "NA" is sodium only in a heading."""
    told = one.value.op in (Op.ABSENT, Op.NOT_DETECTED, Op.TOO_MANY)
    return one.value if one.is_value or told else Printed(Op.UNREADABLE, rest=one.text)


def hints_of_text(found: Found, rest: str, where: str) -> None:
    """Take the unit and the basis that stand behind a number."""
    if not rest:
        return
    known = written_in(rest)
    if known.unit:
        found.units.append(Hint(known.unit, where))
    if known.basis:
        found.bases.append(Hint(known.basis, where))
    found.method = found.method or method_in(known.rest)


def is_range(column: Sequence[Seen]) -> bool:
    """Return whether a column holds no results: ranges of what is usual, or changes with a sign.

    Parameters
    ----------
    column : sequence of Seen
        Its cells.

    Returns
    -------
    bool
        Whether it holds none.

    Examples
    --------
    >>> from rickyard.labs.common import Cell
    >>> from rickyard.labs.tables.cells import seen
    >>> from rickyard.labs.vocabulary import Comma
    >>> is_range([seen(Cell(text, 0, 0, 1, ""), Comma.POINT) for text in ("+1.2", "-0.3", "+0.1")])
    True
    """
    ranges = sum(one.value.op is Op.UNREADABLE and "range" in one.value.doubt for one in column)
    limits = sum(one.value.op in (Op.BELOW, Op.ABOVE) for one in column)
    guide = ranges > 0 and limits > 0 and ranges + limits == len(column)
    signs = [one.text.strip()[:1] for one in column]
    change = len(signs) > 1 and "+" in signs and set(signs) <= set("+-−±0")
    return guide or change or (ranges > 1 and 2 * ranges > len(column))


def stands_as(text: str, *, named: bool = False) -> str:
    """Return whether a word says that its row is taken back, or stands for another.

    Parameters
    ----------
    text : str
        The text of a cell.
    named : bool
        Whether it stands where names do, and more words may be of a name.

    Returns
    -------
    str
        ``void``, ``instead``, or empty.

    Examples
    --------
    >>> stands_as("VOID"), stands_as("(re-run)"), stands_as("Void creek")
    ('void', 'instead', '')
    >>> stands_as("VOID - see next line"), stands_as("Void, creek side", named=True)
    ('void', '')
    """
    word = text.strip(" ()[]*:.")
    told = _TAKEN_BACK.fullmatch(word)
    if told and not (named and told["more"]):
        return "void"
    return "instead" if _IN_PLACE.fullmatch(word) else ""


def speaks_of_void(text: str) -> bool:
    """Return whether a text speaks of results that do not hold, whichever they are.

    Parameters
    ----------
    text : str
        The text of a cell.

    Returns
    -------
    bool
        Whether it does.

    Examples
    --------
    >>> speaks_of_void("first run was in error"), speaks_of_void("final")
    (True, False)
    """
    return bool(_SPEAKS_OF_VOID.search(text))


#: A mark of a footnote in a cell of its own.
_MARK_ALONE = re.compile(r"[(\[]?(?:[A-Za-z]|\d|[*†‡§¶]+)[)\]]?")


def found_in_line(line: Line, one: Seen, head: Heading) -> Found:
    """Return a value of a line with all that its label, its cell and its column tell of it."""
    printed = one.value if one.is_value else Printed(Op.UNREADABLE, rest=one.text)
    found = Found(line.label, line.seen.text, one.cell, printed)
    hints_of_text(found, printed.rest, "the cell")
    if line.label.basis:
        found.bases.append(Hint(line.label.basis, "the label"))
    found.units.append(Hint(line.label.unit, "the label"))
    beside = ""
    several = sum(bool(written_in(each.text).basis) for each in line.after if not each.is_value)
    several += bool(written_in(printed.rest).basis)
    for other in line.after:
        if other is one or (other.is_value and other.value.value is not None):
            continue
        if several > 1 and other.text.strip().casefold() == "wet":
            found.method = found.method or "wet chemistry"  # beside the basis it is a method
        elif is_only_unit(other.text):
            known = written_in(other.text)
            found.units.append(Hint(known.unit, "the cell beside it"))
            found.bases.append(Hint(known.basis, "the cell beside it"))
        elif _MARK_ALONE.fullmatch(other.text):
            beside += marks_of(other.text)
        elif len(other.text) < 24:
            found.method = found.method or method_in(other.text)
    found.bases.append(Hint(head.basis, "the heading"))
    found.units.append(Hint(head.unit, "the heading"))
    found.bases.append(Hint(line.basis, "the section"))
    found.units.append(Hint(line.unit, "the section"))
    found.method = found.method or head.method
    found.marks = marks_of(line.seen.text) + marks_of(one.text) + beside
    return found


def take_companions(found: Found, cells: Sequence[Seen]) -> None:
    """Take unit, basis and method from the columns that belong to the one of a value.

    Parameters
    ----------
    found : Found
        The value.
    cells : sequence of Seen
        What stands in these columns in its row.
    """
    for one in cells:
        known = written_in(one.text)
        found.units.insert(0, Hint(known.unit, "the column beside it"))
        found.bases.insert(0, Hint(known.basis, "the column beside it"))
        found.method = found.method or method_in(one.text)
        qualified(found, one.text)


#: "MS em % da matéria natural": what is said of the water, and of nothing else.
_SAID_OF = re.compile(r"\s*(?P<of>[^\W\d_][\w. ]*?)\s+(?:in|as|em|en|im|i|als|come)\s+\S")


def of_water_alone(clause: str) -> bool:
    """Return whether a clause of a title says in what dry matter or moisture is printed.

    Parameters
    ----------
    clause : str
        The clause.

    Returns
    -------
    bool
        Whether it says it of the water, and of nothing else.

    Examples
    --------
    >>> of_water_alone("MS em % da matéria natural"), of_water_alone("Results in % of DM")
    (True, False)
    """
    told = _SAID_OF.match(clause)
    label = label_of(told["of"]) if told else None
    return label is not None and label.candidates in (("dm",), ("moisture",))
