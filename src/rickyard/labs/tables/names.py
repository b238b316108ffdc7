"""Names of samples that stand without a label: over their lines, or before each of them."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Container, Mapping, Sequence
from dataclasses import replace
from typing import Final

from rickyard.labs.columns import is_amended, is_now, is_run, is_yours
from rickyard.labs.common import Cell
from rickyard.labs.tables.blocks import Block, Line, lines_of
from rickyard.labs.tables.cells import Seen
from rickyard.labs.tables.draft import DraftSample
from rickyard.labs.tables.fields import (
    IDENTITY,
    NUMBER_ALONE,
    OF_SAMPLE,
    fields_of_row,
    in_text,
    is_heading,
)
from rickyard.labs.tables.headings import Heading
from rickyard.labs.vocabulary import (
    basis_of_title,
    both_bases,
    field_of,
    is_aside,
    is_only_basis,
    is_only_unit,
    label_of,
    printed_day,
)

LONGEST_NAME = 45
#: So many rows over its first line the name of a sample may stand.
_ROWS_OVER = 3
_LEAST_LISTED = 4
_LEAST_ROWS = 2
#: "EL37", "TZ/2", "25-142", "118a": a number in a cell of its own before a name.
_SHORT_NUMBER = re.compile(r"#?(?:[A-Z]{1,4}[-/. ]?\d{1,6}|\d\d[-/]\d{2,6}|\d{2,6}[a-z]?)")
#: "Lot 114" before other things of a sample, each in a cell of its own.
_PLACE_NUMBERED = re.compile(
    r"(?:lot|field|stack|barn|pile|bag|sample|rick|bay) #?[A-Z]{0,3}-?\d[\w-]*", re.IGNORECASE
)
_DAY_OF_YEAR = re.compile(
    r"(?:19|20)\d\d[-/.]\d{1,2}[-/.]\d{1,2}|\d{1,2}[-/.]\d{1,2}[-/.](?:19|20)\d\d"
)
_NUMBER_OF_LAB = re.compile(r"#?[A-Za-z]{0,4}[-/ ]?\d{3,}[\w/-]*")
#: "V4792 School flat": the laboratory's number before the name.
_NUMBER_AND_NAME = re.compile(
    r"^[\[(]?(?:#|no\.?\s)?(?P<number>(?:\d{2,4}[-/])?(?P<letters>[A-Z]{1,4})?[-/.]?\d{3,}[\w/-]*)"
    r"[\])]?\s*(?:[-–:,.]|--)?\s+(?P<name>[A-Za-z][^:]{1,40}|(?(letters)(?!\d*[.,]\d)\d[^:]{0,40}|-))$"
)
_NAME_AND_NUMBER = re.compile(
    r"^(?P<name>(?=[^:()]*[A-Za-z])[A-Za-z\d][^:()]{1,40}?)\s*"
    r"(?:[(\[](?:#|no\.?\s?)?|#|,\s*(?:#|no\.?\s?))"
    r"(?P<number>(?:\d{2,4}[-/])?(?:[A-Z]{0,4}[-/.]?|[A-Z]{1,4}\d\d[-/])\d{3,}[\w/-]*)[)\]]?$"
)
_FORAGE = re.compile(
    r"(?:(?:grass|legume|alfalfa|lucerne|clover|mixed|mostly|cool|warm|season|corn|maize|oat|"
    r"barley|wheat|rye|sorghum|sudan|triticale|bermuda\w*|fescue|brome\w*|timothy|orchardgrass|"
    r"bluestem|prairie|native|meadow|cereal|small|grain|hay|haylage|silage|baleage|straw|mix|"
    r"mixture|forage|stalks?|stover|dry|1st|2nd|3rd|first|second|third|cut|cutting|and)[-/ ,]*)+",
    re.IGNORECASE,
)
_NO_NAME = re.compile(
    r"\b(?:report|results?|analys[ei]s|laborator\w*|page|table|section(?! \d)|minerals?|energy|"
    r"proximates?|fibers?|certificate|basis|tested|forage test|thank|note|values)\b",
    re.IGNORECASE,
)


#: "9001 (Barn east)".
_NUMBER_BRACKET = re.compile(
    r"^(?P<number>#?[A-Z]{0,4}[-/.]?\d{2,}[\w/-]*)\s*[(\[](?P<name>[^()\[\]]{2,40})[)\]]$"
)


def forage_words(text: str) -> str | None:
    """Return a text that says nothing but what forage it is, else ``None``.

    Parameters
    ----------
    text : str
        The text.

    Returns
    -------
    str or None
        The text, ``None`` where it says anything else or more.

    Examples
    --------
    >>> forage_words("Alfalfa hay"), forage_words("Alfalfa 4")
    ('Alfalfa hay', None)
    """
    return text if _FORAGE.fullmatch(text.strip(" :")) else None


#: Where a name begins that is cut at the end of its line, and one that goes on, in letters.
_AS_FAR = 4.0


def goes_on(one: Seen, name: Cell) -> bool:
    """Return whether a text under a name is the rest of it, cut at the end of the line.

    Parameters
    ----------
    one : Seen
        What stands alone in the next row.
    name : Cell
        The name of the sample over it.

    Returns
    -------
    bool
        Whether it goes on: it begins with a small letter under the name, and heads nothing.
    """
    shown = one.text.strip()
    known = one.label or one.field or one.only_unit or forage_words(shown)
    under = abs(one.cell.x0 - name.x0) <= _AS_FAR and one.cell.row == name.row + 1
    return under and shown[:1].islower() and ":" not in shown and not known


def number_and_name(text: str) -> tuple[str, str] | None:
    """Return the laboratory's number and the name behind it, where a text holds both.

    Parameters
    ----------
    text : str
        The text.

    Returns
    -------
    tuple of str, or None
        Number and name, ``None`` where it is not both.

    Examples
    --------
    >>> number_and_name("V4792 School flat"), number_and_name("School flat")
    (('V4792', 'School flat'), None)
    """
    both = _NUMBER_AND_NAME.match(text.strip(" :")) or _NUMBER_BRACKET.match(text.strip(" :"))
    return (both["number"], both["name"].strip()) if both else None


def number_behind(text: str) -> tuple[str, str] | None:
    """Return the name and the laboratory's number in brackets behind it, where a text holds both.

    Parameters
    ----------
    text : str
        The text.

    Returns
    -------
    tuple of str, or None
        Name and number, ``None`` where it is not both.

    Examples
    --------
    >>> number_behind("West 40 (UG-5659)"), number_behind("West 40 (first)")
    (('West 40', 'UG-5659'), None)
    """
    both = _NAME_AND_NUMBER.match(text.strip(" :"))
    return (both["name"].strip(), both["number"]) if both else None


#: "Lab no. 3442": the label of a number, and the number behind it.
_NUMBER_TOLD: Final = re.compile(
    r"(?:(?:lab(?:oratory)?|our|sample|test)\s*)?(?:no\.?|number|#|nr\.?|n°|ref\.?)\s*:?\s*"
    r"(?P<number>[\w/.-]*\d[\w/.-]*)",
    re.IGNORECASE,
)


def name_over(
    side_x0: float, first: int, rows: list[list[Seen]], gridded: bool
) -> list[tuple[str, Cell]]:
    """Return the unlabelled name that stands over the lines of a side, and a number beside it."""
    near = 0.9 if gridded else 12.0
    found: list[tuple[str, Cell]] = []
    for place in range(first - 1, max(first - 1 - _ROWS_OVER, -1), -1):
        for one in rows[place]:
            if abs(one.cell.x0 - side_x0) > near:
                continue
            told = _NUMBER_TOLD.fullmatch(one.text.strip(" :"))
            if told is not None and not found:
                found.append(("lab_no", replace(one.cell, text=told["number"])))
            elif told is None and is_bare_name(one):
                return [*found, *name_and_number(one.cell)]
    return found


def name_and_number(cell: Cell) -> list[tuple[str, Cell]]:
    """Return the name in a cell, and the laboratory's number that stands behind it in brackets.

    Examples
    --------
    >>> [(name, one.text) for name, one in name_and_number(Cell("West 40 (771)", 0, 0, 1, ""))]
    [('id', 'West 40'), ('lab_no', '771')]
    """
    shown = cell.text.strip(" :")
    both = _NAME_AND_NUMBER.match(shown) or _NUMBER_BRACKET.match(shown)
    if both is None:
        return [("id", cell)]
    return [
        ("id", replace(cell, text=both["name"])),
        ("lab_no", replace(cell, text=both["number"])),
    ]


def is_bare_name(one: Seen) -> bool:
    """Return whether a cell can be the name of a sample: no label, value, field or sentence.

    Parameters
    ----------
    one : Seen
        The cell.

    Returns
    -------
    bool
        Whether it can.
    """
    text = one.text.strip(" :.-")
    plain_text = not (one.label or one.field or one.is_value or one.only_unit)
    return (
        plain_text
        and one.cell.day is None
        and 2 <= len(text) <= LONGEST_NAME
        and any(sign.isalpha() for sign in text)
        and not _NO_NAME.search(text)
        and not is_aside(text)
        and printed_day(text) is None
        and ":" not in text
        and not _is_said(one.text.strip())
    )


_MOST_OF_NAME = 3


def _is_said(text: str) -> bool:
    """Return whether a text is a sentence, or tells the basis of values, and is no name."""
    long = len(text.split()) > _MOST_OF_NAME
    return long and (text.endswith(".") or bool(basis_of_title(text)))


def named_above(samples: Sequence[DraftSample], rows: list[list[Seen]], top: int) -> None:
    """Name the one sample of a table without a column of names by the lines right over it.

    Parameters
    ----------
    samples : sequence of DraftSample
        The samples of the table; more than one are left as they are.
    rows : list of list of Seen
        The rows of the page.
    top : int
        The first row of the table.
    """
    if len(samples) != 1 or any(name in samples[0].fields for name in IDENTITY):
        return
    fields = samples[0].fields
    over = [row for row in rows[max(top - 2 * _ROWS_OVER, 0) : top] if row][-_ROWS_OVER:]
    for row in reversed(over):
        if any(one.is_value and one.label is None for one in row) or lines_of(row, 0):
            break
        for name, cells in fields_of_row(row, gridded=False):
            if len(cells) == 1 and name in OF_SAMPLE:
                fields.setdefault(name, cells[0])
    if len(over) and "id" not in fields and "weak_id" not in fields:
        every = [one for row in reversed(over) for one in row if is_bare_name(one)]
        named = next((one for one in every if not in_text(one.cell)), None)
        beside = named is not None and ("lab_no" in fields or len(over) == 1)
        if named is not None and beside:
            fields["id"] = named.cell


def name_blocks(blocks: Sequence[Block], rows: list[list[Seen]]) -> None:
    """Give blocks the names on the lines right over them, where each has one of its own.

    Parameters
    ----------
    blocks : sequence of Block
        The blocks; fields are added to them.
    rows : list of list of Seen
        The rows of the page.
    """
    there = {name for block in blocks for name, cells in block.fields if cells}
    every = [_lines_over(block, rows, there) for block in blocks]
    if len(blocks) == 1 and not there.intersection(IDENTITY):
        _give_both(blocks, every)
    if len(blocks) < _LEAST_ROWS:
        return
    if any("id" in fields for fields in every):
        for fields in every:  # "Oat hay" among names of fields is a name too
            if "kind" in fields:
                fields.setdefault("id", fields["kind"])
    if not there.intersection(IDENTITY) and _numbered_over(every):
        _give_both(blocks, every)
        return
    for field, others in (("id", ("id", "weak_id")), ("lab_no", ("lab_no", "number"))):
        found = [fields[field] for fields in every if field in fields]
        if len(found) == len({cell.text for cell in found}) and not there.intersection(others):
            _give(blocks, field, found)
    for field in _DAYS:
        _give(blocks, field, [fields[field] for fields in every if field in fields])


def _numbered_over(every: Sequence[Mapping[str, Cell]]) -> bool:
    """Return whether name and number stand over most blocks, no two alike, and not over all."""
    told = [one["lab_no"].text for one in every if "id" in one and "lab_no" in one]
    return len(every) / 2 <= len(told) == len(set(told)) < len(every) and len(told) > 1


def _give_both(blocks: Sequence[Block], every: Sequence[Mapping[str, Cell]]) -> None:
    """Give name and number to each block that has both over it."""
    for block, fields in zip(blocks, every, strict=True):
        if "id" in fields and "lab_no" in fields:
            block.fields.extend((name, [fields[name]]) for name in ("id", "lab_no"))


def _give(blocks: Sequence[Block], field: str, cells: Sequence[Cell]) -> None:
    """Give each block its own of some cells, if there is one for each."""
    if len(cells) == len(blocks):
        for block, cell in zip(blocks, cells, strict=True):
            block.fields.append((field, [cell]))


#: Days that stand beside the name of a sample.
_DAYS = ("sampled_on", "received_on", "reported_on")
#: "(MB 9007, sampled 19 September 2025)": what a cell behind a name tells.
_BESIDE_NAME = re.compile(r"[(\[](?P<first>[^,;()\[\]]{2,30})(?:[,;][^()\[\]]*)?[)\]]")


#: "Results for West 40": the words before a name.
_RESULTS_FOR = re.compile(
    r"^(?:(?:your |our |the )?(?:test |lab )?(?:results?|report|analysis) (?:for|of|on)"
    r"(?: (?:sample|your sample|the sample))?|sample)\s*:?\s+(?=[A-Z#\d\"“])",
    re.IGNORECASE,
)


def _without_lead(one: Seen) -> Cell:
    """Return the cell of a line without words such as "Results for" before a name."""
    return replace(one.cell, text=_RESULTS_FOR.sub("", one.text.strip()).strip(' "“”'))


def _is_of_sample(row: Sequence[Seen], there: Container[str]) -> bool:
    """Return whether a row tells a field of the block under it, and no name."""
    told = [name for name, cells in fields_of_row(row, gridded=False) if cells]
    return bool(told) and all(name in OF_SAMPLE and name in there for name in told)


def _lines_over(
    block: Block, rows: list[list[Seen]], there: Container[str] = ()
) -> dict[str, Cell]:
    """Return what the lines with one text each right over a block can be."""
    place = min(line.place for line in block.lines) - 1
    while place >= 0 and not rows[place]:
        place -= 1
    found: dict[str, Cell] = {}
    looked = 0
    for above in range(place, max(place - 2 * _ROWS_OVER - 1, -1), -1):
        row = rows[above]
        looked += bool(row)
        if looked > _ROWS_OVER:
            break
        if len(row) > 1 and _PLACE_NUMBERED.fullmatch(row[0].text.strip(" :")):
            found.setdefault("id", row[0].cell)
            continue
        if not row or is_heading(row) or _is_of_sample(row, there):
            continue
        if len(row) > 1 and row[0].cell.x0 > block.lines[0].seen.cell.x1:
            continue  # it stands over the columns, and not over the labels
        if not _take_line(found, row):
            break
    return found


def _take_line(found: dict[str, Cell], row: Sequence[Seen]) -> bool:
    """Take name and number from a line over a block; tell whether it can be one of theirs."""
    numbered = is_number(row[0]) or bool(_SHORT_NUMBER.fullmatch(row[0].text.strip(" :")))
    if len(row) == _LEAST_ROWS and numbered and is_bare_name(row[1]):
        found.setdefault("lab_no", row[0].cell)
        found.setdefault("id", row[1].cell)
        return True
    if len(row) == _LEAST_ROWS and _BESIDE_NAME.fullmatch(row[1].text):
        _take_beside(found, row[1])
    elif len(row) != 1:
        return False
    _take_name(found, row[0])
    return True


def _take_name(found: dict[str, Cell], one: Seen) -> None:
    """Take name, number or kind of hay from a cell that stands over a block."""
    text = one.text.strip(" :")
    both = _NUMBER_AND_NAME.match(text)
    if both and not (one.label or one.field or one.is_value):
        found.setdefault("lab_no", replace(one.cell, text=both["number"]))
        found.setdefault("id", replace(one.cell, text=both["name"]))
    elif is_number(one):
        found.setdefault("lab_no", one.cell)
    elif is_bare_name(one) and _FORAGE.fullmatch(text):
        found.setdefault("kind", one.cell)
    elif _RESULTS_FOR.match(one.text) and len(one.text) <= LONGEST_NAME:
        found.setdefault("id", _without_lead(one))
    elif is_bare_name(one):
        for field, cell in name_and_number(one.cell):
            found.setdefault(field, cell)


def _take_beside(found: dict[str, Cell], one: Seen) -> None:
    """Take number and days from the bracket that stands behind a name."""
    told = _BESIDE_NAME.fullmatch(one.text)
    if told is not None and NUMBER_ALONE.fullmatch(told["first"].strip()):
        found.setdefault("lab_no", replace(one.cell, text=told["first"].strip()))
    for field, cells in in_text(one.cell):
        if field in _DAYS:
            found.setdefault(field, cells[0])


def listed_blocks(rows: list[list[Seen]], taken: set[int]) -> list[Block]:
    """Return a block for each name that stands before its lines: "West 40: protein 12.2 %".

    The rows are added to ``taken``.

    Parameters
    ----------
    rows : list of list of Seen
        The rows of the page.
    taken : set of int
        Rows that are read already.

    Returns
    -------
    list of Block
        One for each name; empty where the page is not written so.
    """
    found: list[tuple[int, tuple[Seen, ...], Line]] = []
    for place, row in enumerate(rows):
        if place in taken or len(row) < 3:
            continue
        lines = lines_of(row, place)
        if not any(line.label.ours for line in lines):
            continue  # "Sampled  2025-08-02  Fee  35.00"
        before = tuple(row[: next(n for n, one in enumerate(row) if one is lines[0].seen)])
        if before and any(is_bare_name(one) or is_number(one) for one in before):
            found.extend((place, before, line) for line in lines)
    if len({place for place, _, _ in found}) < _LEAST_ROWS:
        return []
    names = Counter(_key(before) for _, before, _ in found)
    numbered = all(any(is_number(one) for one in before) for _, before, _ in found)
    if not numbered and (len(found) < _LEAST_LISTED or len(names) * 2 > len(found)):
        return []
    if len(names) == 1 and len(found) < sum(bool(row) for row in rows) / 2:
        return []
    blocks: dict[str, Block] = {}
    for place, before, line in found:
        taken.add(place)
        block = blocks.setdefault(_key(before), Block(first=place))
        if not block.lines:
            block.fields.extend(_fields(before))
        block.lines.append(line)
    return list(blocks.values())


def is_number(one: Seen) -> bool:
    """Return whether a cell can be a number of the laboratory.

    Parameters
    ----------
    one : Seen
        The cell.

    Returns
    -------
    bool
        Whether it can.
    """
    text = one.text.strip(" :")
    return bool(_NUMBER_OF_LAB.fullmatch(text)) and not _DAY_OF_YEAR.fullmatch(text)


def _key(before: Sequence[Seen]) -> str:
    return " | ".join(one.text.strip(" :-").casefold() for one in before if not one.cell.day)


def _fields(before: Sequence[Seen]) -> list[tuple[str, list[Cell]]]:
    fields: list[tuple[str, list[Cell]]] = []
    for one in before:
        told = dict(in_text(one.cell))
        if "id" in told and "lab_no" in told:
            return [("id", told["id"]), ("lab_no", told["lab_no"])]
        name = "lab_no" if is_number(one) else "id" if is_bare_name(one) else ""
        if name and not any(other == name for other, _ in fields):
            text = one.text.strip(" :-")
            text = re.sub(r"^lab(?:\s*(?:no\.?|#))?\s*:?\s+", "", text, flags=re.IGNORECASE)
            fields.append(
                (name, [Cell(text, one.cell.row, one.cell.x0, one.cell.x1, one.cell.place)])
            )
    return fields


def is_result(head: Heading) -> bool:
    """Return whether a column is headed as one of results, or by nothing.

    Parameters
    ----------
    head : Heading
        What stands over the column.

    Returns
    -------
    bool
        Whether it is: "Result", "This sample", "%".
    """
    return head.field == "result" or all(
        is_only_unit(text) or field_of(text) == "result" or is_yours(text) or is_now(text)
        for text in head.texts
    )


def name_over_column(head: Heading) -> tuple[str, str]:
    """Return the headings of a column that can be the name of a sample, and its number.

    Parameters
    ----------
    head : Heading
        What stands over the column.

    Returns
    -------
    tuple of str
        Name and number; empty where there is none.
    """
    texts = list(filter(may_name, head.texts))
    numbers = [text for text in texts if NUMBER_ALONE.fullmatch(_bare_number(text))]
    names = [text for text in texts if text not in numbers]
    if names and numbers:
        return names[0], _bare_number(numbers[0])
    if numbers and _bare_number(numbers[0]) != numbers[0].strip("()[] "):
        return "", _bare_number(numbers[0])
    if not texts:
        return "", ""
    texts = [text for text in texts if not is_yours(text)] or texts
    parts = dict(name_and_number(Cell(texts[0], 0, 0.0, 0.0, "")))
    return parts["id"].text, parts["lab_no"].text if "lab_no" in parts else ""


def may_name(text: str) -> bool:
    """Return whether a heading can be the name or the number of a sample.

    Parameters
    ----------
    text : str
        The heading.

    Returns
    -------
    bool
        Whether it can; no label, unit, basis, field or title.
    """
    return not (_is_known(text) or is_amended(text) or is_run(text) or _is_title(text))


def is_numbered_name(one: Seen, row: Sequence[Seen]) -> bool:
    """Return whether a whole number over a column is a name, as words over the others are.

    Parameters
    ----------
    one : Seen
        The number.
    row : sequence of Seen
        The cells of its row over the columns.

    Returns
    -------
    bool
        Whether it is.
    """
    names = [each for each in row if not each.is_value and may_call(each.text)]
    others = [each for each in row if each.is_value and not each.text.strip().isdigit()]
    return one.text.strip().isdigit() and len(names) >= _LEAST_ROWS and not others


def may_call(text: str) -> bool:
    """Return whether a heading can be the name of a sample, and is no number of the laboratory.

    Parameters
    ----------
    text : str
        The heading.

    Returns
    -------
    bool
        Whether it can.

    Examples
    --------
    >>> may_call("Fescue lot A"), may_call("Lab no. GC-18")
    (True, False)
    """
    return may_name(text) and not NUMBER_ALONE.fullmatch(_bare_number(text))


#: "Lab 771", "Lab no. 771": the word before the number of the laboratory.
_LAB_BEFORE = re.compile(
    r"^(?:our|lab(?:oratory)?\.?)\s*(?:sample|no\.?|number|nr\.?|#|id|ref\.?)?\s*[:#]?\s*(?=\S*\d)",
    re.IGNORECASE,
)


def _bare_number(text: str) -> str:
    """Return a number of a laboratory without brackets and the word before it."""
    return _LAB_BEFORE.sub("", text.strip("()[] "))


def _is_title(text: str) -> bool:
    """Return whether a heading is a day and no name: "Report of 19-08-2025", "12.06.2025"."""
    alone = not any(map(str.isalpha, text))
    return (alone or bool(_NO_NAME.search(text))) and bool(printed_day(text))


def _is_known(text: str) -> bool:
    """Return whether a heading is a label, a unit, a basis or the name of a field."""
    only = is_only_unit(text) or is_only_basis(text)
    return bool(only or field_of(text) or label_of(text) or both_bases(text))
