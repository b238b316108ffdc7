"""Lines with a label and its values, gathered into the blocks of one sample each."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final

from rickyard.labs.common import Cell
from rickyard.labs.tables.cells import Seen, is_year
from rickyard.labs.tables.fields import IDENTITY, fields_of_row, is_heading
from rickyard.labs.vocabulary import Label, basis_of_title, printed_day, written_in

LONGEST_SECTION = 60
_LEAST_CELLS = 2
#: So many values in a row may share the basis behind the last.
_LEAST_IN_ROW = 3
_STARTS_AS_UNIT = re.compile(r"\s*(?:%|pct\b|percent\b)", re.IGNORECASE)


@dataclass(slots=True)
class Line:
    """A label with the cells that follow it, and the section in which it stands.

    ``head`` is the row that heads the columns in which its values stand.
    """

    place: int
    seen: Seen
    label: Label
    after: list[Seen]
    basis: str = ""
    unit: str = ""
    head: int = -1


@dataclass(slots=True)
class Block:
    """The lines of one sample, or of several that stand side by side.

    ``passed`` are the names of columns that were taken for no samples.
    """

    lines: list[Line] = field(default_factory=list)
    fields: list[tuple[str, list[Cell]]] = field(default_factory=list)
    first: int = 0
    page_fields: list[tuple[str, list[Cell]]] = field(default_factory=list)
    passed: list[str] = field(default_factory=list)


def lines_of(row: Sequence[Seen], row_place: int) -> list[Line]:
    """Return the labels of a row that have values after them.

    Parameters
    ----------
    row : sequence of Seen
        The cells of the row.
    row_place : int
        Where the row stands on the page.

    Returns
    -------
    list of Line
        Each label with what stands after it.
    """
    lines: list[Line] = []
    current: Line | None = None
    for place, one in enumerate(row):
        beside = one.label is not None and one.label.maybe_basis and current is not None
        beside = beside and current is not None and current.label.candidates != ("moisture",)
        if beside and not one.text.lstrip().startswith("%"):
            followed = place + 1 < len(row) and row[place + 1].value.value is not None
            beside = not followed or not current or not current.after
        if current is not None and _STARTS_AS_UNIT.match(one.text):
            beside = beside or one.only_unit or any(has_value(other) for other in current.after)
        if current is None and place and one.only_unit and written_in(one.text).unit:
            continue  # "g/kg TM" behind a label that is not known
        if one.label is not None and not beside:
            current = Line(row_place, one, one.label, [])
            lines.append(current)
        elif current is not None:
            current.after.append(one)
    return [line for line in lines if any(has_value(one) for one in line.after) and _tells(line)]


def _tells(line: Line) -> bool:
    """Return whether a line is no heading of columns: "DM basis   2024   SD   Unit"."""
    values = [one for one in line.after if has_value(one)]
    told = [one for one in values if one.value.value is not None and not is_year(one)]
    heads = all(one.text.strip().casefold() in ("lod", "loq", "mdl") for one in values)
    return not heads and (bool(told) or not line.label.maybe_basis)


def has_value(one: Seen) -> bool:
    """Return whether a cell holds a value and no unit.

    Parameters
    ----------
    one : Seen
        The cell.

    Returns
    -------
    bool
        Whether it does.
    """
    return one.is_value and not one.only_unit


def blocks_of(rows: list[list[Seen]], taken: set[int], gridded: bool) -> list[Block]:
    """Gather the lines of a page into blocks, each with the fields over it.

    Parameters
    ----------
    rows : list of list of Seen
        The rows of the page.
    taken : set of int
        Rows that are read already.
    gridded : bool
        Whether cells stand in columns of their own.

    Returns
    -------
    list of Block
        The blocks, from the top.
    """
    gathering = _Gathering(rows, gridded)
    for place, row in enumerate(rows):
        if place in taken or not row:
            continue
        lines = lines_of(row, place)
        if lines:
            gathering.take_before(row, lines[0])
            gathering.take_lines(place, lines, _basis_before(row, lines[0]))
        else:
            gathering.take_text(place, row)
    return gathering.finished()


class _Gathering:
    """The work of gathering blocks; lives for one page."""

    def __init__(self, rows: list[list[Seen]], gridded: bool) -> None:
        self.rows = rows
        self.gridded = gridded
        self.blocks: list[Block] = []
        self.current = Block()
        self.pending: list[tuple[str, list[Cell]]] = []
        self.basis = self.unit = ""
        self.head = -1
        self.closed: str | None = None
        self._tops = [("", "")]

    def take_text(self, place: int, row: Sequence[Seen]) -> None:
        """Take a row without values: fields, a section, or headings of columns."""
        here = [] if is_heading(row) else fields_of_row(row, self.gridded)
        self.basis, self.unit = _section(row, self.basis, self.unit)
        self.basis = self._over_labels(place, row) or self.basis
        self.pending.extend(here)
        if _heads_columns(row):
            self.head = place

    def _over_labels(self, place: int, row: Sequence[Seen]) -> str:
        """Return the basis that heads the column of labels: "Dry matter basis   result   usual"."""
        first, others = (row[0], row[1:]) if row else (None, ())
        if first is None or not others or not _is_basis(first) or any(map(_is_basis, others)):
            return ""
        below = next((lines for n in range(place + 1, min(place + 4, len(self.rows)))
                      if (lines := lines_of(self.rows[n], n))), [])  # fmt: skip
        near = 0.9 if self.gridded else 2.0
        if not below or abs(below[0].seen.cell.x0 - first.cell.x0) > near:
            return ""
        return written_in(first.text).basis or "dm"

    def take_before(self, row: Sequence[Seen], first: Line) -> None:
        """Take what names the sample before the first value of a row: "Sample: East; CP: 12.2"."""
        before = row[: next(n for n, one in enumerate(row) if one is first.seen)]
        if len(before) and any(":" in one.text or one.field for one in before):
            told = fields_of_row(before, self.gridded)
            self.pending.extend(
                one for one in told if one[1] and (one[0] in IDENTITY or one[0].endswith("_on"))
            )

    def take_lines(self, place: int, lines: list[Line], before: str = "") -> None:
        """Take the lines of a row, into the block so far or a new one.

        ``before`` is the basis that stands in the row before its first label.
        """
        first = self.current.lines[0].label if self.current.lines else None
        if self.closed is not None and first and first.candidates == lines[0].label.candidates:
            self.basis, self.closed = self.closed, None  # the next sample, before its own basis
        named = self._called_over(place)
        if _starts_new(self.current, self.pending, lines, before or self.basis, named=named):
            if any(name in (*IDENTITY, "ordinal") for name, _ in self.pending):
                self.basis, self.unit = self._section_between(place)
            self.blocks.append(self.current)
            self.current = Block(first=place)
        if not self.current.lines:
            self.current.first = place
        self.current.fields.extend(self.pending)
        self.pending = []
        opened = self._opens(lines)
        together = before or _basis_of_row(lines)
        unit = _unit_of_row(lines) or self.unit
        for line in lines:
            line.basis, line.unit, line.head = together or self.basis, unit, self.head
        self.current.lines.extend(lines)
        if opened:
            self.basis, self.closed = opened, self.basis if self.closed is None else self.closed

    def _called_over(self, place: int) -> bool:
        """Return whether a name may stand right over a row, and over the first of the block."""
        first = self.current.lines[0].place if self.current.lines else place
        return all(_may_be_called(_over(self.rows, at)) for at in (place, first))

    def _opens(self, lines: Sequence[Line]) -> str:
        """Take a basis from the end of a row that holds for the next ones: "On dry matter:"."""
        after = lines[-1].after
        last = after[-1]
        if len(after) < _LEAST_CELLS or not (last.text.endswith(":") and last.only_basis):
            return ""
        after.pop()
        return written_in(last.text).basis

    def _section_between(self, place: int) -> tuple[str, str]:
        """Return the section of a new sample: only what was said since the last one's end."""
        lines = self.current.lines
        last = max((line.place for line in lines), default=0)
        new_basis = new_unit = ""
        for at in range(last + 1, place):
            new_basis, new_unit = _section(self.rows[at], new_basis, new_unit)
            new_basis = self._over_labels(at, self.rows[at]) or new_basis
        top_basis, top_unit = self._top(min((line.place for line in lines), default=0))
        only_top = not any(line.basis not in ("", top_basis) for line in lines)
        return (
            new_basis or (top_basis if only_top else ""),
            new_unit or (top_unit if only_top else ""),
        )

    def _top(self, place: int) -> tuple[str, str]:
        """Return the section that the rows over a place tell by themselves."""
        for row in self.rows[len(self._tops) - 1 : place]:
            self._tops.append(_section(row, *self._tops[-1]))
        return self._tops[place]

    def finished(self) -> list[Block]:
        """Return the blocks, once every row is taken."""
        if self.current.lines:
            if not self.blocks or not _has_identity(self.pending):
                self.current.fields.extend(self.pending)
            self.blocks.append(self.current)
        return self.blocks


def _is_basis(one: Seen) -> bool:
    return one.only_basis or (one.label is not None and one.label.maybe_basis)


def _basis_before(row: Sequence[Seen], first: Line) -> str:
    """Return the basis that stands before the first label of a row, as over a merged place."""
    for one in row:
        if one is first.seen:
            return ""
        if one.only_basis:
            return written_in(one.text).basis
    return ""


def _basis_of_row(lines: Sequence[Line]) -> str:
    """Return the basis that stands in brackets behind the last of several values in a row."""
    if len(lines) < _LEAST_IN_ROW:
        return ""
    bases = [
        written_in(line.seen.text).basis
        or next((b for b in (written_in(one.text).basis for one in line.after) if b), "")
        for line in lines
    ]
    last = lines[-1].after[-1].text
    return bases[-1] if last.endswith((")", "]")) and not any(bases[:-1]) else ""


def _unit_of_row(lines: Sequence[Line]) -> str:
    """Return the unit that stands in brackets behind the last of several values in a row."""
    last = lines[-1].after[-1]
    if len(lines) == 1 or not last.only_unit or not last.text.endswith((")", "]")):
        return ""
    own = [line.label.unit or any(one.only_unit for one in line.after) for line in lines[:-1]]
    return "" if any(own) else written_in(last.text).unit


def _heads_columns(row: Sequence[Seen]) -> bool:
    """Return whether a row stands over columns of values, so that what follows is read by it."""
    bases = sum(one.only_basis or (one.label is not None and one.label.maybe_basis) for one in row)
    units = sum(one.only_unit and not one.only_basis and not one.label for one in row)
    return bases > 1 or units > 1 or is_heading(row)


def _has_identity(pending: list[tuple[str, list[Cell]]]) -> bool:
    return any(
        name in (*IDENTITY, "ordinal") and (cells or name == "ordinal") for name, cells in pending
    )


_LONGEST_CALLED = 45
_NUMBER_AND_NAME = 2


def _over(rows: Sequence[Sequence[Seen]], place: int) -> Sequence[Seen]:
    """Return the next row over a place that holds anything."""
    return next((rows[n] for n in range(place - 1, -1, -1) if rows[n]), [])


def _may_be_called(row: Sequence[Seen]) -> bool:
    """Return whether a row may hold the name of a sample alone, or with its number."""
    if not 0 < len(row) <= _NUMBER_AND_NAME:
        return False
    text = " ".join(one.text for one in row)
    named = row[1:] if len(row) > 1 else row  # "25-176" before a name is a number, and no range
    known = any(one.label or one.field or one.is_value or one.only_unit for one in named)
    sentence = text.endswith((".", "!", "?")) or len(text) > _LONGEST_CALLED
    return not (known or sentence or basis_of_title(text))


def _starts_new(
    current: Block,
    pending: list[tuple[str, list[Cell]]],
    lines: list[Line],
    basis: str,
    *,
    named: bool,
) -> bool:
    if not current.lines:
        return False
    if _has_identity(pending):
        return True
    first = current.lines[0]
    again = lines[0].label.candidates == first.label.candidates and lines[0].label.candidates
    same_side = abs(lines[0].seen.cell.x0 - first.seen.cell.x0) < 1.0
    if lines[0].label.candidates in _WATER and _values_of(first) == _values_of(lines[0]):
        return False  # the water of the same samples, over their values on the other basis
    told = [_basis_beside(one) for one in (first, lines[0])]
    other = all(told) and told[0] != told[1]  # "NDF   %   dry" once more as "NDF   %   wet"
    return (
        bool(again)
        and same_side
        and len(current.lines) > 1
        and (basis == first.basis or named)
        and not other
    )


_WATER = (("dm",), ("moisture",))


def _values_of(line: Line) -> list[str]:
    return [one.text for one in line.after if has_value(one)]


def _basis_beside(line: Line) -> str:
    """Return the basis that a line tells in its label or beside its values."""
    return line.label.basis or next(
        (written_in(one.text).basis for one in line.after if one.only_basis), ""
    )


#: "Trace minerals, mg/kg", "Proximates (%)", "Nutrients in g/kg": the unit of what follows.
_UNIT_OF_SECTION: Final = re.compile(
    r"[^\W\d_][^\d,;:()\[\]]{2,30}(?:,| in|:| [-–])? ?[(\[]?(?P<unit>%|pct|percent|g ?/ ?kg|g kg-1|"
    r"g per kg|mg ?/ ?kg|ppm|m?cal ?/ ?(?:lb|kg)|mj ?/ ?kg)(?: (?:of )?[^\d()\[\]]{2,20})?[)\]]?",
    re.IGNORECASE,
)


def _section(row: Sequence[Seen], basis: str, unit: str) -> tuple[str, str]:
    """Return the basis and the unit of the section that a row begins, if it begins one."""
    if len(row) != 1 or len(row[0].text) > LONGEST_SECTION or row[0].is_value:
        return basis, unit
    one = row[0]
    if one.label is not None and one.label.maybe_basis:
        return "dm", unit
    known = written_in(one.text)
    if _UNIT_OF_SECTION.fullmatch(one.text.strip(" :")) and known.unit and one.label is None:
        return known.basis or basis, known.unit
    if one.field:
        return basis, unit
    if known.basis and not basis_of_title(one.text):
        return basis, unit
    words = one.text.casefold()
    telling = one.only_unit or "basis" in words or one.text.isupper() or (
        known.basis and len(one.text) <= 40 and "sample" not in words
    )  # fmt: skip
    if not telling:
        # Another section begins; what held as received for the last one holds no longer.
        ends = basis == "ar" and one.label is None
        ends = ends and not any(name in IDENTITY for name, _ in fields_of_row(row, gridded=False))
        return ("" if ends else basis), unit
    return known.basis or ("" if basis == "ar" else basis), known.unit or (
        "" if known.basis else unit
    )


#: So many rows over and under its lines are looked at for more of a block.
_ROWS_BESIDE = 8


#: A line that is one cell: "Lignin, second washing .... 6.1 %".
_LABEL_AND_NUMBER = re.compile(
    r"(?P<label>[A-Za-z][^:=]{3,60}?)(?:\s{2,}|\s?\.{3,}\s?|:\s)(?P<number>[<>]?\d[\d.,]*)\s*\S{0,12}"
)


def unread_lines(
    block: Block, rows: Sequence[Sequence[Seen]], taken: set[int]
) -> list[tuple[str, str]]:
    """Return what stands before numbers among the lines of a block, and was not understood.

    Parameters
    ----------
    block : Block
        The block.
    rows : sequence of rows
        The rows of the page.
    taken : set of int
        Rows that are read already.

    Returns
    -------
    list of tuple of str
        The text of each such line, and its first number.
    """
    own = {line.place for line in block.lines}
    first, last = min(own), max(own)
    found = []
    for step, places in (
        (-1, range(first - 1, max(first - 1 - _ROWS_BESIDE, -1), -1)),
        (0, range(first, last + 1)),
        (1, range(last + 1, min(last + 1 + _ROWS_BESIDE, len(rows)))),
    ):
        for place in places:
            row = rows[place]
            told = None if place in taken or place in own else _unread(row)
            if told is not None:
                found.append(told)
            elif step and place not in own:
                break
    return found


def _unread(row: Sequence[Seen]) -> tuple[str, str] | None:
    """Return the text and the number of a line whose label or value is not understood."""
    if not row or row[0].field or row[0].is_value:
        return None
    if row[0].label is not None:
        return _strange_value(row)
    whole = _LABEL_AND_NUMBER.fullmatch(row[0].text) if len(row) < _LEAST_CELLS else None
    if whole is not None:
        return whole["label"], whole["number"]
    number = next((one for one in row[1:] if one.is_value and one.value.value is not None), None)
    telling = any(sign.isalpha() for sign in row[0].text) and not row[0].only_unit
    return (row[0].text, number.text) if number is not None and telling else None


#: "84,8 % as never heard of": a number, and behind it what no vocabulary knows.
_NUMBER_FIRST = re.compile(r"(?P<number>[<>]?\d[\d.,]*)\s*\D.*")
_LABEL_AND_VALUE = 2


def _strange_value(row: Sequence[Seen]) -> tuple[str, str] | None:
    """Return label and number of a line behind whose number stands what is not understood."""
    if len(row) != _LABEL_AND_VALUE or row[1].is_value or row[0].label is None:
        return None
    told = _NUMBER_FIRST.fullmatch(row[1].text)
    known = row[0].label.ours and not row[0].label.misspelled and printed_day(row[1].text) is None
    return (f"{row[0].text} {row[1].text}", told["number"]) if told and known else None
