"""Tables with one row for a sample."""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from rickyard.labs.common import Cell
from rickyard.labs.tables.cells import Seen
from rickyard.labs.tables.draft import DraftSample, Found, Hint
from rickyard.labs.tables.headings import Heading, find_companions, is_sentence, over, understood
from rickyard.labs.tables.places import nearest, value_edges, widened
from rickyard.labs.vocabulary import (
    Op,
    Printed,
    basis_in,
    is_aside,
    is_only_basis,
    label_of,
    marks_of,
    method_in,
    plain,
    written_in,
)

#: So many rows of headings are looked at over the first row of values.
MOST_HEADING_ROWS = 5
LEAST_LABELS = 2
#: How far a value may stand beside its heading, in points or signs.
REACH = 14.0
_ROWS_LOOKED_AT = 20
LONGEST_TITLE = 90
#: A title that speaks of the samples and not of the values.
_ABOUT_SAMPLES = re.compile(r"sample|relat|appl[iy]|condition|divide|multiply|\d{4}", re.IGNORECASE)
_ASIDE_STARTS = (
    "av",
    "mean",
    "min",
    "max",
    "std",
    "sd",
    "median",
    "range",
    "n =",
    "n=",
    "total",
    "typical",
    "last",
    "prev",
    "prior",
    "loq",
    "lod",
    "ref",
    "target",
    "goal",
)
_LINE_CELLS = (2, 3)
_WORDS_FOR_NUMBERS = (Op.NOT_DETECTED, Op.TOO_MANY)
#: Words that no field is named with.
_SUMMARY = re.compile(r"\b(?:avg|average|averages|typical|median|std|benchmark)\b")
SAMPLE_FIELDS = ("id", "lab_no", "number", "weak_id")


@dataclass(slots=True)
class Table:
    """The columns of a table and the rows in which its values stand.

    ``passed`` are the first texts of rows that were taken for no samples.
    """

    columns: list[Heading]
    first: int
    gridded: bool
    is_long: bool = False
    top: int = 0
    rows: list[int] = field(default_factory=list)
    places: dict[int, Heading] = field(default_factory=dict)
    edges: dict[int, tuple[float, float]] = field(default_factory=dict)
    passed: list[str] = field(default_factory=list)

    def column_of(self, cell: Cell) -> Heading | None:
        """Return the column in which a cell stands."""
        if self.gridded:
            if not self.places:
                self.places = {int(one.cell.x0): one for one in reversed(self.columns)}
            return self.places.get(int(cell.x0))
        return nearest(self.columns, self.edges, cell, REACH)

    def of(self, name: str) -> list[Heading]:
        """Return the columns of a field."""
        return [one for one in self.columns if one.field == name]


def table_at(rows: list[list[Seen]], first: int, gridded: bool) -> Table | None:
    """Return the table whose first row of values is ``first``, if headings over it tell one."""
    values = [one for one in rows[first] if one.is_value]
    numbers = sum(one.value.value is not None and not one.only_unit for one in values)
    if not values or (sum(one.only_unit for one in rows[first]) > 1 and not numbers):
        return None  # a row of units is a heading still
    band = _band(rows, first)
    if not band:
        return None
    return _wide(rows, band, first, gridded)


def _band(rows: list[list[Seen]], first: int) -> list[int]:
    """Return the rows of headings over a row of values, from top to bottom."""
    band: list[int] = []
    blank = 0
    for place in range(first - 1, -1, -1):
        row = rows[place]
        if not row:
            blank += 1
            if blank > 1 or band:
                break
            continue
        numbers = sum(one.is_value and one.value.value is not None for one in row)
        heads = sum(one.only_unit or bool(one.label) or bool(one.field) for one in row)
        if numbers and numbers >= heads and not _is_years(row):
            break
        if len(row) in _LINE_CELLS and row[0].label and row[1].is_value and not _is_years(row):
            break
        if row[0].label and any(one.value.op in _WORDS_FOR_NUMBERS for one in row[1:]):
            break  # "Yeast | TNTC" is a line, and heads no column
        if is_sentence(row):
            break
        band.insert(0, place)
        if len(band) == MOST_HEADING_ROWS:
            break
    return band


def _is_years(row: Sequence[Seen]) -> bool:
    numbers = [one for one in row if one.is_value]
    return all(1990 <= (one.value.value or 0) <= 2079 for one in numbers) and len(row) > len(
        numbers
    )


def _wide(rows: list[list[Seen]], band: list[int], first: int, gridded: bool) -> Table | None:
    main = max(band, key=lambda place: sum(_names(one) for one in rows[place]))
    anchors = _anchors(rows, band, main, gridded)
    columns = []
    for anchor in anchors:
        texts: list[str] = []
        cells: list[Cell] = []
        for place in band:
            one = over(anchor, rows[place], gridded, 0.0 if gridded else 4.0, anchors)
            if one is None and place < main:
                one = _spread(anchor, rows[place], gridded)
            if one is not None and (not texts or texts[-1] != one.text):
                texts.append(one.text)
                if place >= main:
                    cells.append(one.cell)
        columns.append(understood(anchor, texts))
        if cells and not gridded:
            widened(columns[-1], cells)
    _shared_labels(columns, gridded)
    find_companions(columns)
    _last_years(columns)
    _groups(columns, rows, band, main)
    labels = [one for one in columns if one.label and not one.aside]
    fields = [one for one in columns if one.field]
    if sum(1 for one in labels if one.label and one.label.ours) < LEAST_LABELS and not (
        labels and len(fields) >= 2
    ):
        return None
    _title(columns, rows, band[0])
    edges = {} if gridded else value_edges(columns, rows[first:])
    return Table(columns, first, gridded, top=band[0], edges=edges)


def _shared_labels(columns: list[Heading], gridded: bool) -> None:
    """Give a column that is headed by its basis alone the label of the column before it.

    "Crude protein" stands once over "as received" and "dry".
    """
    for before, column in itertools.pairwise(columns):
        near = not gridded or int(column.cell.x0) - int(before.cell.x1) <= 1
        bare = column.label is None or column.maybe_basis_label()
        basis = column.basis or ("dm" if column.label is not None and bare else "")
        if not (near and bare and basis and before.label and before.label.ours):
            continue
        if column.field or before.basis in ("", basis) or not _only_basis(column):
            continue
        column.label, column.label_text = before.label, before.label_text
        column.basis, column.unit = basis, column.unit or before.unit


def _title(columns: list[Heading], rows: list[list[Seen]], top: int) -> None:
    """Give columns without a basis the one that the title over the table tells."""
    place = top - 1
    if place >= 0 and not rows[place]:
        place -= 1
    row = rows[place] if place >= 0 else []
    if len(row) != 1 or len(row[0].text) > LONGEST_TITLE or row[0].field or row[0].is_value:
        return
    if _ABOUT_SAMPLES.search(row[0].text):
        return
    basis = ""
    for clause in re.split(r"[,;()]|\bbut\b|\bexcept\b", row[0].text):
        label = label_of(clause.strip()) if clause.strip() else None
        if label is not None and not label.maybe_basis:
            continue
        basis = basis or basis_in(clause)
    for column in columns:
        if basis in ("dm", "ar") and column.label is not None and not column.basis:
            column.title_basis = basis


def _only_basis(column: Heading) -> bool:
    return bool(column.texts) and all(is_only_basis(text) for text in column.texts)


def _last_years(columns: list[Heading]) -> None:
    """Set aside columns of another year where the same label stands without one too."""
    for column in columns:
        if column.year is None or column.label is None:
            continue
        twins = [
            one
            for one in columns
            if one is not column and one.label and one.label.candidates == column.label.candidates
        ]
        if any(one.year is None or one.year > column.year for one in twins):
            column.aside = True


def _groups(columns: list[Heading], rows: list[list[Seen]], band: list[int], main: int) -> None:
    """Give columns the basis of their group where each label stands once in every group.

    Which columns a heading reaches over cannot be seen where it is centered over them; but the
    first protein belongs to the first group and the second to the second.
    """
    for place in band:
        bases = [written_in(one.text).basis for one in rows[place] if _is_group(one)]
        if place >= main or len(bases) < 2 or len(set(bases)) != len(bases):
            continue
        seen: dict[tuple[str, ...], list[Heading]] = {}
        for column in columns:
            if column.label and column.label.ours and column.label.candidates != ("dm",):
                seen.setdefault(column.label.candidates, []).append(column)
        repeated = [same for same in seen.values() if len(same) == len(bases)]
        if any(len(same) not in (1, len(bases)) for same in seen.values()) or not repeated:
            continue
        for same in repeated:
            for column, basis in zip(same, bases, strict=True):
                column.basis = basis


def _is_group(one: Seen) -> bool:
    maybe = one.label is not None and one.label.maybe_basis
    return one.only_basis or maybe or (one.only_unit and bool(written_in(one.text).basis))


def _names(one: Seen) -> int:
    if one.only_unit and not one.text[:1].isupper():
        return 0  # "% DM" under a name is its unit
    return 3 if one.label and one.label.ours else 1 if one.field or one.label else 0


def _anchors(rows: list[list[Seen]], band: list[int], main: int, gridded: bool) -> list[Cell]:
    """Return one cell for each column: those of the main row, and others that none covers."""
    anchors = [one.cell for one in rows[main]]
    for place in sorted(band, key=lambda one: abs(one - main)):
        if place == main or place < main:
            continue
        for one in rows[place]:
            if all(not _overlap(one.cell, other, gridded) for other in anchors):
                anchors.append(one.cell)
    for place in band:
        for one in rows[place]:
            free = all(not _overlap(one.cell, other, gridded) for other in anchors)
            if free and place < main and (one.label or one.field):
                anchors.append(one.cell)
    return sorted(anchors, key=lambda cell: cell.x0)


def _overlap(first: Cell, second: Cell, gridded: bool) -> bool:
    if gridded:
        return int(first.x0) == int(second.x0)
    return min(first.x1, second.x1) - max(first.x0, second.x0) > -2.0


def _spread(anchor: Cell, row: Sequence[Seen], gridded: bool) -> Seen | None:
    """Return the heading of a group that stands to the left over an empty place.

    Only words of a basis or a unit reach over the columns that follow.
    """
    if len(row) == 1 and row[0].only_basis:
        return row[0]
    before = [one for one in row if one.cell.x0 <= anchor.x0]
    if not before:
        return None
    last = before[-1]
    known = written_in(last.text)
    telling = bool(known.basis or known.unit) and (last.label is None or last.label.maybe_basis)
    return last if gridded and telling else None


def rows_of(table: Table, rows: list[list[Seen]]) -> list[DraftSample]:
    """Read the rows of a wide table."""
    samples: list[DraftSample] = []
    blank = 0
    has_basis = bool(table.of("basis"))
    for place in range(table.first, len(rows)):
        row = rows[place]
        if not row:
            blank += 1
            if blank > 2:
                break
            continue
        blank = 0
        labels = [one for one in row if one.label and one.label.ours]
        placed = [(one, table.column_of(one.cell)) for one in row]
        values = [(one, col) for one, col in placed if col and col.label and one.is_value]
        if len(labels) >= LEAST_LABELS and len(labels) > len(values):
            break
        if not values and (len(row) == 1 or not any(col and col.label for _, col in placed)):
            continue
        table.rows.append(place)
        _take_row(table, row, placed, samples, has_basis)
    return samples


def unread(table: Table, rows: list[list[Seen]]) -> list[str]:
    """Return the headings of columns with numbers that were not understood."""
    found = [
        column
        for column in table.columns
        if column.shown and not (column.label or column.field or column.aside or column.year)
    ]
    numbers = {
        id(table.column_of(one.cell))
        for place in table.rows[:_ROWS_LOOKED_AT]
        for one in rows[place]
        if one.is_value and one.value.value is not None
    }
    return [column.shown for column in found if id(column) in numbers]


def _take_row(
    table: Table,
    row: Sequence[Seen],
    placed: list[tuple[Seen, Heading | None]],
    samples: list[DraftSample],
    has_basis: bool,
) -> None:
    fields, spare = _fields_of(placed)
    _name_from_spare(table, fields, spare, has_basis)
    has_basis |= "basis" in fields
    if _is_aside_row(row, fields):
        table.passed.append(row[0].text)
        return
    sample = DraftSample(fields, place=row[0].cell.place)
    if has_basis and samples and _same_sample(samples[-1].fields, fields):
        sample = samples.pop()
    for one, column in placed:
        if column is None or column.label is None or column.aside or one.only_unit:
            continue
        found = _found(one, column, fields.get("basis"))
        if column.companions:
            _take_companions(
                found, [beside for beside, owner in placed if owner in column.companions]
            )
        sample.found.append(found)
    samples.append(sample)


def _take_companions(found: Found, cells: Sequence[Seen]) -> None:
    """Take unit, basis and method from the columns that belong to the one of a value."""
    for one in cells:
        known = written_in(one.text)
        found.units.insert(0, Hint(known.unit, "the column beside it"))
        found.bases.insert(0, Hint(known.basis, "the column beside it"))
        found.method = found.method or method_in(one.text)


def _fields_of(
    placed: Sequence[tuple[Seen, Heading | None]],
) -> tuple[dict[str, Cell], list[Cell]]:
    """Return the fields of a row, and the cells of columns that are not known."""
    fields: dict[str, Cell] = {}
    spare: list[Cell] = []
    for one, column in placed:
        if one.cell.hidden:
            continue
        telling = one.only_unit and bool(written_in(one.text).basis)
        free = column is None or not (
            column.label or column.field in (*SAMPLE_FIELDS, "basis", "companion")
        )
        if telling and free and "basis" not in fields:
            fields["basis"] = one.cell
        elif column is None or column.label:
            continue
        elif column.field:
            fields.setdefault(column.field, one.cell)
        else:
            spare.append(one.cell)
    return fields, spare


def _name_from_spare(
    table: Table, fields: dict[str, Cell], spare: Sequence[Cell], has_basis: bool
) -> None:
    """Take the one text of a column without a known heading for the name of the sample."""
    if any(table.of(name) for name in ("id", "weak_id")):
        return
    left = min((one.cell.x0 for one in table.columns if one.label), default=0.0)
    words = [
        cell
        for cell in spare
        if cell.number is None and cell.x0 < left and any(sign.isalpha() for sign in cell.text)
    ]
    numbered = table.of("lab_no") or table.of("number")
    if len(words) == 1 or (words and not numbered):
        fields["id"] = words[0]


def _is_aside_row(row: Sequence[Seen], fields: dict[str, Cell]) -> bool:
    """Return whether a row is a mean, a range or another thing that is no sample."""
    named = [cell.text for name, cell in fields.items() if name in (*SAMPLE_FIELDS, "forage")]
    first = row[0].text if not row[0].is_value else ""
    return any(is_aside(text) for text in (*named[:3], first) if text and not is_name(text))


def _same_sample(before: dict[str, Cell], fields: dict[str, Cell]) -> bool:
    """Return whether a row is the other basis of the sample in the row before it."""
    nothing = Cell("", 0, 0.0, 0.0, "")
    if before.get("basis", nothing).text == fields.get("basis", nothing).text:
        return False
    named = [name for name in SAMPLE_FIELDS if name in fields]
    return all(name in before and before[name].text == fields[name].text for name in named)


def is_name(text: str) -> bool:
    """Return whether a text with a word such as "mean" is a name all the same: "Min Creek 4"."""
    shown = plain(text)
    summary = shown.startswith(_ASIDE_STARTS) or _SUMMARY.search(shown)
    return any(sign.isdigit() for sign in text) and not summary


def _found(one: Seen, column: Heading, basis_cell: Cell | None) -> Found:
    assert column.label is not None
    found = Found(column.label, column.label_text, one.cell, as_value(one))
    hints_of_text(found, found.printed.rest, "the cell")
    if basis_cell is not None:
        known = written_in(basis_cell.text)
        found.bases.append(Hint(known.basis, "the column of the basis"))
    found.units.append(Hint(column.unit, "the heading"))
    found.bases.append(Hint(column.basis, "the heading"))
    found.bases.append(Hint(column.title_basis, "the title"))
    found.method = column.method
    found.marks = marks_of(column.label_text) + marks_of(one.text)
    return found


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
