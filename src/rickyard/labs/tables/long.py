"""Tables with one row for each value of a sample."""

from __future__ import annotations

import re

from rickyard.labs.common import Cell
from rickyard.labs.tables.cells import Seen
from rickyard.labs.tables.draft import DraftSample, Found, Hint
from rickyard.labs.tables.fields import NUMBER_ALONE
from rickyard.labs.tables.headings import Heading, understood
from rickyard.labs.tables.places import MOST_ROWS, value_edges
from rickyard.labs.tables.rows import is_name
from rickyard.labs.tables.values import as_value, hints_of_text, qualified, stands_as
from rickyard.labs.tables.wide import SAMPLE_FIELDS, Table, part_names
from rickyard.labs.vocabulary import (
    Label,
    is_aside,
    is_only_basis,
    is_only_unit,
    label_of,
    marks_of,
    method_in,
    written_in,
)

#: Names of samples stand so many rows over the headings at most.
_MOST_OVER = 4
#: So many cells tell what a column holds.
_LOOKED_AT = 4
#: A name under the number of its sample stands before the third value.
_MOST_BEFORE_NAME = 2


def long_table(rows: list[list[Seen]], place: int, gridded: bool) -> Table | None:
    """Return the table with one row for each value, if row ``place`` is its heading.

    Parameters
    ----------
    rows : list of list of Seen
        The rows of the page.
    place : int
        Which row may be the heading.
    gridded : bool
        Whether cells stand in columns of their own.

    Returns
    -------
    Table or None
        The table with its columns named.
    """
    row = rows[place]
    if sum(1 for one in row if one.field or one.only_basis) < 3:
        return None
    columns = [understood(one.cell, [one.text]) for one in row]
    edges = {} if gridded else value_edges(columns, rows[place + 1 :])
    table = Table(columns, place + 1, gridded, is_long=True, edges=edges)
    for column in table.of("number"):
        if _are_numbers(table, column, rows[place + 1 : place + 1 + MOST_ROWS]):
            column.field, column.aside = "", True  # "Reference": what is usual, and no number
    _head_by_contents(table, rows[place + 1 : place + 1 + MOST_ROWS])
    samples = [
        one
        for name in SAMPLE_FIELDS
        for one in table.of(name)
        if not _names_fields(table, one, rows[place + 1 :])
    ]
    below = [one for one in rows[place + 1 : place + 6] if one]
    results = table.of("result") or [one for one in columns if _is_of_basis(one)]
    results = results or _only_numbers(table, below)
    again = len({one.shown for one in results}) < len(results)  # samples stand side by side
    if not samples or not results or not below or again:
        return None
    if all(one.field == "number" for one in samples) and _names_over(rows, place):
        return None  # "Code" of each test, under the names of samples side by side
    named = _analyte_column(table, below)
    if named is None or not _has_result(table, below, named, results):
        return None
    for column in table.of("analyte"):
        column.field = ""  # the panel to which each analyte belongs
    named.field, named.label = "analyte", None
    part_names(columns, rows[place + 1 : place + 1 + MOST_ROWS], table)
    return table


def _only_numbers(table: Table, below: list[list[Seen]]) -> list[Heading]:
    """Return the one column under an unknown word that holds numbers with points, as results do.

    None where another holds such numbers too: names of samples are no figures, so those stand side
    by side.
    """
    found = []
    for column in table.columns:
        own = [one for row in below for one in row if table.column_of(one.cell) is column]
        numbers = [one for one in own if one.is_value and one.value.value is not None]
        whole = len(numbers) == len(own) == len(below) > 1
        if whole and any("." in one.text for one in numbers):
            found.append(column)
    one = found[0] if len(found) == 1 else None
    if one is None or one.field or one.label or one.aside:
        return []
    one.field = "result"
    return [one]


def _names_over(rows: list[list[Seen]], place: int) -> bool:
    """Return whether a row over the headings names samples: "Sample | | | Ranch hay"."""
    over = [row for row in rows[max(place - _MOST_OVER, 0) : place] if len(row) > 1]
    return any(row[0].field in ("id", "lab_no", "weak_id") for row in over)


def _head_by_contents(table: Table, below: list[list[Seen]]) -> None:
    """Head columns under unknown words that hold nothing but bases, or nothing but units."""
    for column in table.columns:
        if column.field or column.label or column.aside or _is_of_basis(column):
            continue
        own = [one for row in below for one in row if table.column_of(one.cell) is column]
        if own and all(one.only_unit or _may_be_basis(one) for one in own):
            bases = sum(one.only_basis or _may_be_basis(one) for one in own)
            column.field = "basis" if bases == len(own) else "unit"


def _may_be_basis(one: Seen) -> bool:
    return one.label is not None and one.label.maybe_basis


#: Columns in which a word takes nothing back: those of names, of tests and of results.
_HELD = (*SAMPLE_FIELDS, "analyte", "result", "unit", "basis")


def _names_fields(table: Table, column: Heading, below: list[list[Seen]]) -> bool:
    """Return whether fields or tests stand under a heading: "Lab no." over "Sampled", "Method"."""
    cells = [one for row in below[:MOST_ROWS] for one in row if table.column_of(one.cell) is column]
    own = cells[:_LOOKED_AT]
    return 2 * sum(bool(one.field or one.label) for one in own) > len(own)


def _are_numbers(table: Table, column: Heading, below: list[list[Seen]]) -> bool:
    """Return whether the cells of a column are values: "57.5" is no number of a sample."""
    own = [one for row in below for one in row if table.column_of(one.cell) is column]
    return any(one.is_value and "." in one.text for one in own) or any(
        one.is_value and re.fullmatch(r"\d+,\d{1,2}", one.text.strip()) for one in own
    )


def _has_result(
    table: Table, below: list[list[Seen]], named: Heading, results: list[Heading]
) -> bool:
    """Return whether a row has its analyte and its value: second lines of headings have none."""
    for row in below:
        placed = [(one, table.column_of(one.cell)) for one in row]
        told = any(column is named and one.label for one, column in placed)
        if told and any(
            one.is_value and any(column is result for result in results) for one, column in placed
        ):
            return True
    return False


def _analyte_column(table: Table, below: list[list[Seen]]) -> Heading | None:
    """Return the column of analytes: of several that name some, the one that names most.

    Beside "Component" may stand the panel of each: "PROT", "FIBER".
    """
    best: tuple[int, Heading] | None = None
    for column in table.of("analyte") or table.columns:
        own = [one for row in below for one in row if table.column_of(one.cell) is column]
        hits = sum(bool(one.label) for one in own)
        if not (hits >= max(2, len(below) - 1) or (hits and hits == len(below))):
            continue
        sure = len({one.label.candidates for one in own if one.label and _is_sure(one.label)})
        if best is None or sure > best[0]:
            best = sure, column
    return best[1] if best is not None else None


def _is_sure(label: Label) -> bool:
    return len(label.candidates) == 1 and not label.misspelled


def long_rows(table: Table, rows: list[list[Seen]]) -> list[DraftSample]:
    """Read a table with one row for each value.

    Parameters
    ----------
    table : Table
        The table; the rows that are read are noted in it.
    rows : list of list of Seen
        The rows of the page.

    Returns
    -------
    list of DraftSample
        The samples, in the order of the page.
    """
    samples: dict[tuple[str, ...], DraftSample] = {}
    last: dict[str, Cell] = {}
    for place in range(table.first, len(rows)):
        by_field: dict[str, Seen] = {}
        bases: list[tuple[Seen, Heading]] = []
        others: list[tuple[Seen, Heading]] = []
        for one in rows[place]:
            column = table.column_of(one.cell)
            if column is None:
                continue
            if column.field:
                by_field.setdefault(column.field, one)
            elif _is_of_basis(column) or column.maybe_basis_label():
                bases.append((one, column))
            elif column.label is not None and column.label.ours and not column.aside:
                others.append((one, column))
        named = by_field.get("analyte")
        if named is None:
            _take_second_line(samples, last, by_field)
            continue
        here = {name: by_field[name].cell for name in SAMPLE_FIELDS if name in by_field}
        last = here or last
        numbered = "lab_no" in last
        table.rows.append(place)
        if _is_left_out(table, rows[place], last, numbered=numbered):
            continue
        key = tuple(cell.text for cell in last.values())
        sample = samples.setdefault(key, DraftSample(dict(last), place=rows[place][0].cell.place))
        for name, one in by_field.items():
            sample.fields.setdefault(name, one.cell)
        _take_long(sample, by_field, bases)
        _take_others(sample, others)
    return list(samples.values())


def _is_left_out(table: Table, row: list[Seen], names: dict[str, Cell], *, numbered: bool) -> bool:
    """Return whether a row is of no sample, or a word of it takes its one value back; note it."""
    if any(is_aside(cell.text, numbered) and not is_name(cell.text) for cell in names.values()):
        table.passed.append(next(iter(names.values())).text)
        return True
    free = [one for one in row if getattr(table.column_of(one.cell), "field", "") not in _HELD]
    void = any(stands_as(one.text) == "void" for one in free)
    table.passed.extend([" ".join(one.text for one in row)] if void else ())
    return void


def _take_second_line(
    samples: dict[tuple[str, ...], DraftSample], last: dict[str, Cell], by_field: dict[str, Seen]
) -> None:
    """Take a name that stands alone under the number of its sample: "7/2201" over "East oats"."""
    own = [(name, one) for name, one in by_field.items() if name in SAMPLE_FIELDS]
    if len(by_field) != 1 or len(own) != 1:
        return
    name, one = own[0]
    sample = samples.get(tuple(cell.text for cell in last.values()))
    number = sample.fields.get(name) if sample is not None else None
    if sample is None or number is None or "lab_no" in sample.fields:
        return
    if len(sample.found) > _MOST_BEFORE_NAME or "=" in one.text or ":" in one.text:
        return
    if NUMBER_ALONE.fullmatch(number.text.strip()) and not NUMBER_ALONE.fullmatch(one.text.strip()):
        sample.fields[name], sample.fields["lab_no"] = one.cell, number


def _is_of_basis(column: Heading) -> bool:
    """Return whether a column is headed by a basis and perhaps a unit: "ppm dry"."""
    shown = column.shown
    of_unit = column.label is None and is_only_unit(shown)
    return is_only_basis(shown) or (of_unit and bool(written_in(shown).basis))


def _take_others(sample: DraftSample, others: list[tuple[Seen, Heading]]) -> None:
    """Take values that stand in columns of their own in every row: the dry matter, most often."""
    there = {one.label.candidates for one in sample.found}
    for one, column in others:
        if not one.is_value or column.label is None or column.label.candidates in there:
            continue
        found = Found(column.label, column.label_text, one.cell, as_value(one))
        hints_of_text(found, found.printed.rest, "the cell")
        found.units.append(Hint(column.unit, "the heading"))
        found.bases.append(Hint(column.basis, "the heading"))
        sample.found.append(found)


def _take_long(
    sample: DraftSample, by_field: dict[str, Seen], bases: list[tuple[Seen, Heading]]
) -> None:
    named = by_field["analyte"]
    label = named.label or label_of(named.text)
    if label is None:
        return
    results = [(one, one.cell, "") for name, one in by_field.items() if name == "result"]
    results += [(one, one.cell, column.shown) for one, column in bases]
    for one, cell, heading in results:
        found = Found(label, named.text, cell, as_value(one))
        hints_of_text(found, found.printed.rest, "the cell")
        for name, hints in (("unit", found.units), ("basis", found.bases)):
            beside = by_field.get(name)
            if beside is not None:
                known = written_in(beside.text)
                word = known.unit if name == "unit" else known.basis
                hints.append(Hint(word, f"the column of the {name}"))
                if name == "unit" and known.basis:
                    found.bases.append(Hint(known.basis, "the column of the unit"))
                if name == "basis" and known.unit:
                    found.units.append(Hint(known.unit, "the column of the basis"))
        over = written_in(heading)
        found.bases.append(Hint(over.basis, "the heading"))
        found.units.append(Hint(over.unit, "the heading"))
        found.units.append(Hint(label.unit, "the label"))
        found.bases.append(Hint(label.basis, "the label"))
        if "qualifier" in by_field:
            qualified(found, by_field["qualifier"].text)
        method = by_field.get("method") or None
        found.method = found.method or (method_in(method.text) if method else "")
        found.marks = marks_of(named.text) + marks_of(one.text)
        sample.found.append(found)
