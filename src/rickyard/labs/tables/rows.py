"""The rows of a wide table: which are samples, and what stands in their cells."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

from rickyard.labs.common import Cell
from rickyard.labs.tables.blocks import has_value, lines_of
from rickyard.labs.tables.cells import Seen
from rickyard.labs.tables.draft import DraftSample, Found, Hint, is_mean_of_run, runs_together
from rickyard.labs.tables.fields import NUMBER_ALONE
from rickyard.labs.tables.headings import Heading, head_runs, is_head_again, without_figures
from rickyard.labs.tables.names import forage_words, goes_on, is_bare_name
from rickyard.labs.tables.places import (
    begins_another,
    cells_before,
    is_of_another,
    out_of_place,
)
from rickyard.labs.tables.values import as_value, hints_of_text, stands_as, take_companions
from rickyard.labs.tables.wide import LEAST_LABELS, SAMPLE_FIELDS, Table
from rickyard.labs.vocabulary import (
    FOOTNOTE_MARKS,
    is_aside,
    is_only_basis,
    is_own_check,
    marks_of,
    plain,
    written_in,
    year_in,
)

_ROWS_LOOKED_AT = 20
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
    "same",
    "ditto",
    "prior",
    "loq",
    "lod",
    "ref",
    "target",
    "goal",
)
#: "Creek stack 84.6": a name that has run together with the value in the column behind it.
_NAME_AND_VALUE = re.compile(r"[A-Za-z].*\s\d{1,3}[.,]\d{1,3}$")
VALUE_IN_NAME = "its name ends in a number that may be of the column behind it"
_MORE_NUMBERS = "its row holds more numbers than the table has headings"
#: A word of the weather, of a state or of a method as much as of a basis.
_BARE_BASIS = re.compile(r"(?:dry|dried|wet|fresh)\.?", re.IGNORECASE)
#: Words that no field is named with.
_SUMMARY = re.compile(
    r"\b(?:avg|average|averages|typical|median|std|benchmark|"
    r"(?:19|20)\d\d(?:'s)? (?:winner|champion)s?)\b"
)


def rows_of(table: Table, rows: list[list[Seen]]) -> list[DraftSample]:
    """Read the rows of a wide table.

    Parameters
    ----------
    table : Table
        The table; the rows that are read are noted in it.
    rows : list of list of Seen
        The rows of the page.

    Returns
    -------
    list of DraftSample
        The samples; of rows of several years the last.
    """
    samples: list[DraftSample] = []
    head_runs(table.columns)
    blank, last = 0, -1
    has_basis = bool(table.of("basis"))
    over = {without_figures(row) for row in rows[: table.first] if row}
    for place in range(table.first, len(rows)):
        row = rows[place]
        if is_head_again(rows, place, over, table.rows[-1] if table.rows else table.first):
            blank = 0
            continue
        if not row:
            blank += 1
            if blank > 2:
                break
            continue
        blank = 0
        placed = _placed(table, row)
        values = [one for one, col in placed if col and col.label and one.is_value]
        another = samples and (begins_another(row) or is_of_another(rows, place, placed))
        if _ends_table(row, len(values)) or another:
            break
        if not values and _is_remark(placed, samples):
            continue
        if not values and not _may_be_sample(placed):
            if samples and place - 1 == last:
                _take_second_line(samples[-1], placed)
            continue
        table.rows.append(place)
        there = len(table.passed)
        _take_row(table, row, placed, samples, has_basis)
        last = place if len(table.passed) == there else last
    _leave_more_numbers(samples)
    _doubt_out_of_place(table, rows, samples)
    samples = runs_together(samples, table.passed)
    return _last_of_years(table, _with_numbers(table, samples))


def _leave_more_numbers(samples: Sequence[DraftSample]) -> None:
    """Doubt no row for one number more than there are headings, where each row has one."""
    if all(sample.doubts.count(_MORE_NUMBERS) == 1 for sample in samples):
        for sample in samples:
            sample.doubts.remove(_MORE_NUMBERS)  # a column without a heading, in every row


def _placed(table: Table, row: Sequence[Seen]) -> list[tuple[Seen, Heading | None]]:
    """Return the cells of a row with their columns; a name before the first heading has none."""
    placed = [(one, table.column_of(one.cell)) for one in row]
    columns = [column for _, column in placed[:2]]
    before = len(columns) > 1 and columns[0] is columns[1] is table.columns[0]
    if before and columns[0] is not None and columns[0].label is not None and not table.gridded:
        placed[0] = (row[0], None)
    return placed


def _doubt_out_of_place(
    table: Table, rows: Sequence[Sequence[Seen]], samples: Sequence[DraftSample]
) -> None:
    """Ask about values that stand in line with another column than theirs."""
    if table.gridded:
        return
    numbers = {id(one): number for number, one in enumerate(table.columns)}
    placed = [
        (one.cell, numbers[id(column)])
        for place in table.rows
        for one in rows[place]
        if one.is_value and (column := table.column_of(one.cell)) is not None
    ]
    shifted = out_of_place(table.columns, placed)
    where = {id(placed[at][0]): table.columns[column] for at, column in shifted.items()}
    for found in (one for sample in samples for one in sample.found):
        beside = where.get(id(found.cell))
        if beside is not None:
            named = beside.shown or "another column"
            found.doubt = found.doubt or f'it stands in line with "{named}"'


def _ends_table(row: Sequence[Seen], values: int) -> bool:
    """Return whether a row holds more labels than values: the headings of the next table."""
    labels = sum(bool(one.label and one.label.ours) for one in row)
    return labels >= LEAST_LABELS and labels > values


def take_line_over(
    samples: Sequence[DraftSample], rows: Sequence[Sequence[Seen]], top: int, taken: set[int]
) -> None:
    """Take number, name and values from the line right over a table of one sample.

    The line is added to ``taken``.

    Parameters
    ----------
    samples : sequence of DraftSample
        The samples of the table; more than one are left as they are.
    rows : sequence of rows
        The rows of the page.
    top : int
        The first row of the table.
    taken : set of int
        Rows that are read already.
    """
    row = rows[top - 1] if top else ()
    if len(samples) != 1 or not begins_another(row):
        return
    sample, lines = samples[0], lines_of(row, top - 1)
    if any(name in sample.fields for name in SAMPLE_FIELDS):
        return
    taken.add(top - 1)
    before = cells_before(row, lines[0])
    for one in before:
        number = len(before) > 1 and NUMBER_ALONE.fullmatch(one.text.strip())
        if number or is_bare_name(one):
            sample.fields.setdefault("lab_no" if number else "id", one.cell)
    for line in lines:
        value = next(one for one in line.after if has_value(one))
        found = Found(line.label, line.seen.text, value.cell, as_value(value))
        hints_of_text(found, found.printed.rest, "the cell")
        found.bases.append(Hint(line.label.basis, "the label"))
        found.units.append(Hint(line.label.unit, "the label"))
        sample.found.append(found)


def _with_numbers(table: Table, samples: list[DraftSample]) -> list[DraftSample]:
    """Return samples without rows of a year beneath those that the laboratory numbered."""
    bare = [one for one in samples if "lab_no" not in one.fields]
    named = [one.fields["id"].text for one in bare if "id" in one.fields]
    of_years = len(named) == len(bare) < len(samples) and all(map(year_in, named))
    if not named or not of_years:
        return samples
    table.passed.extend(named)
    return [one for one in samples if "lab_no" in one.fields]


def _take_second_line(sample: DraftSample, placed: Sequence[tuple[Seen, Heading | None]]) -> None:
    """Take a name that stands alone under the number in the row of its sample.

    A kind of hay there heads the rows below it.
    """
    one, column = placed[0]
    if len(placed) != 1 or column is None or one.text[:1] in FOOTNOTE_MARKS:
        return
    if any(written_in(part).basis for part in re.split("[:;=]", one.text)[1:]):
        return  # "A: as fed; D: dry basis" is the key of the table
    name = sample.fields.get(column.field) if column.field in ("id", "weak_id") else None
    if name is not None and goes_on(one, name):
        sample.fields[column.field] = replace(name, text=f"{name.text} {one.text.strip()}")
        return
    if "lab_no" in sample.fields:
        return
    if forage_words(one.text) or (column.field != "id" and "id" in sample.fields):
        return
    number = sample.fields.get(column.field)
    if column.field not in SAMPLE_FIELDS or number is None or not any(map(str.isalpha, one.text)):
        return
    if NUMBER_ALONE.fullmatch(number.text.strip()) and not NUMBER_ALONE.fullmatch(one.text.strip()):
        sample.fields.pop(column.field)
        sample.fields["id"], sample.fields["lab_no"] = one.cell, number


def _is_remark(
    placed: Sequence[tuple[Seen, Heading | None]], samples: Sequence[DraftSample]
) -> bool:
    """Return whether a row says something in words of a sample over it: "771: some soil"."""
    first = placed[0][0].text.strip()
    known = {
        one.fields[name].text for one in samples for name in SAMPLE_FIELDS if name in one.fields
    }
    return first.endswith(":") and first.rstrip(" :") in known


def _may_be_sample(placed: Sequence[tuple[Seen, Heading | None]]) -> bool:
    """Return whether a row without values names a sample, and holds texts in columns of values."""
    named = any(column and column.field in SAMPLE_FIELDS for _, column in placed)
    return named and any(column and column.label for _, column in placed)


def _last_of_years(table: Table, samples: list[DraftSample]) -> list[DraftSample]:
    """Return samples without the rows of earlier years of the same one."""
    if not table.of("year"):
        return samples
    last: dict[tuple[str, ...], int] = {}
    keyed = []
    for sample in samples:
        named = [name for name in ("id", "weak_id") if name in sample.fields] or SAMPLE_FIELDS
        key = tuple(sample.fields[name].text for name in named if name in sample.fields)
        year = year_in(sample.fields["year"].text) if "year" in sample.fields else None
        keyed.append((key, year, sample))
        last[key] = max(last.get(key, 0), year or 0)
    kept = [one for key, year, one in keyed if year is None or not key or year == last[key]]
    table.passed.extend(
        f"{' '.join(key)} {year}" for key, year, one in keyed if key and year and year != last[key]
    )
    return kept


def unread(table: Table, rows: list[list[Seen]]) -> list[str]:
    """Return the headings of columns with numbers that were not understood.

    Parameters
    ----------
    table : Table
        A table whose rows are read.
    rows : list of list of Seen
        The rows of the page.

    Returns
    -------
    list of str
        The headings as printed.
    """
    found = [
        column
        for column in table.columns
        if column.shown and not (column.label or column.field or column.aside or column.year)
        if not (table.is_long and is_only_basis(column.shown))
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
    fields, spare = _fields_of(placed, table.gridded)
    _name_from_spare(table, fields, spare, has_basis)
    has_basis |= "basis" in fields
    aside = _is_aside_row(row, fields) and not is_mean_of_run(fields, samples)
    if aside or (not has_basis and _at_foot(table, samples, fields)):
        table.passed.append(_left_out(row, fields))
        return
    if _is_taken_back(table, placed, samples, fields):
        return
    sample = DraftSample(fields, place=row[0].cell.place)
    if has_basis and samples and _same_sample(samples[-1].fields, fields):
        sample = samples.pop()
    for one, column in placed:
        if column is None or column.label is None or column.aside or one.only_unit:
            continue
        found = _found(one, column, fields.get("basis") or fields.get("unit"))
        if table.between(one.cell):
            found.doubt = "it stands between two columns"
        if column.companions:
            take_companions(
                found, [beside for beside, owner in placed if owner in column.companions]
            )
        sample.found.append(found)
    more = sum(column is None and _is_number(one) for one, column in placed)
    sample.doubts.extend([_MORE_NUMBERS] * more)
    if any(_NAME_AND_VALUE.search(fields[n].text) for n in SAMPLE_FIELDS if n in fields):
        sample.doubts.append(VALUE_IN_NAME)
    samples.append(sample)


def _left_out(row: Sequence[Seen], fields: dict[str, Cell]) -> str:
    """Return what a row that is no sample is called, with the number that it has all the same."""
    name = next((fields[n].text for n in ("id", "weak_id", "number") if n in fields), row[0].text)
    number = fields.get("lab_no")
    if number is not None and any(map(str.isdigit, number.text)):
        return f"{name} ({number.text})"
    return name


def _is_taken_back(
    table: Table,
    placed: Sequence[tuple[Seen, Heading | None]],
    samples: list[DraftSample],
    fields: dict[str, Cell],
) -> bool:
    """Return whether a row is taken back; one that stands for another takes that away."""
    standing = _standing(placed)
    if standing == "void":
        table.passed.append(" ".join(one.text for one, _ in placed if not _is_number(one)))
    elif standing == "instead":
        _leave_replaced(table, samples, fields)
    return standing == "void"


def _standing(placed: Sequence[tuple[Seen, Heading | None]]) -> str:
    """Return whether a word of a row takes it back, or says that it stands for another.

    "VOID" where one value is expected is of that value alone.
    """
    for one, column in placed:
        named = column is not None and column.field in SAMPLE_FIELDS
        told = stands_as(one.text, named=named)
        if not told or column is None:
            if told:
                return told
            continue
        shared = sum(other is column for _, other in placed) > 1
        if shared or column.label is None:
            return told
    return ""


def _leave_replaced(table: Table, samples: list[DraftSample], fields: dict[str, Cell]) -> None:
    """Take away the sample before it that a row with the same name and number stands for."""
    key = {name: fields[name].text for name in SAMPLE_FIELDS if name in fields}
    for one in list(samples):
        if key and {n: c.text for n, c in one.fields.items() if n in key} == key:
            samples.remove(one)
            table.passed.append(f"{' '.join(key.values())}, replaced by a later row")


def _is_number(one: Seen) -> bool:
    return one.is_value and one.value.value is not None


def _fields_of(
    placed: Sequence[tuple[Seen, Heading | None]], gridded: bool
) -> tuple[dict[str, Cell], list[Cell]]:
    """Return the fields of a row, and the cells of columns that are not known."""
    fields: dict[str, Cell] = {}
    spare: list[Cell] = []
    for one, column in placed:
        if one.cell.hidden:
            continue
        telling = one.only_unit and bool(written_in(one.text).basis)
        telling |= one.label is not None and one.label.maybe_basis
        if column is not None and column.field not in ("", "basis", "unit"):
            telling &= not _BARE_BASIS.fullmatch(one.text.strip())  # "wet" under "Method"
        free = column is None or not (
            (column.label and not _beside(one, column))
            or column.field in ("basis", "companion")
            or (column.field in SAMPLE_FIELDS and (gridded or not _beside(one, column)))
        )
        if telling and free and "basis" not in fields:
            fields["basis"] = one.cell
        elif _another_nearer(one, column, placed):
            continue
        elif column is None:
            named = gridded or one is placed[0][0]
            spare.extend([one.cell] if named and not one.is_value else ())
        elif column.label:
            continue
        elif column.field:
            fields.setdefault(column.field, one.cell)
        else:
            spare.append(one.cell)
    return fields, spare


def _another_nearer(
    one: Seen, column: Heading | None, placed: Sequence[tuple[Seen, Heading | None]]
) -> bool:
    """Return whether another cell of the row stands under a heading beside which this one is."""
    if column is None or not column.field or not _beside(one, column):
        return False
    return any(
        other is not one and of is column and not _beside(other, column) for other, of in placed
    )


def _beside(one: Seen, column: Heading) -> bool:
    """Return whether a cell stands beside a column and not under its heading."""
    return one.cell.x1 < column.cell.x0 or one.cell.x0 > column.cell.x1


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
    counted = "run" in fields and fields["run"] is row[0].cell
    first = row[0].text if not (row[0].is_value or counted) else ""
    number = fields.get("lab_no")
    numbered = number is not None and any(map(str.isdigit, number.text))
    return any(
        is_aside(text, numbered) for text in (*named[:3], first) if text and not is_name(text)
    )


def _at_foot(table: Table, samples: Sequence[DraftSample], fields: dict[str, Cell]) -> bool:
    """Return whether a row goes on with means and ranges: behind one, and without a number."""
    if not (table.passed and samples) or "lab_no" in fields:
        return False
    return all("lab_no" in one.fields for one in samples)


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
    summary = shown.startswith(_ASIDE_STARTS) or _SUMMARY.search(shown) or is_own_check(text)
    return any(sign.isdigit() for sign in text) and not summary


def _found(one: Seen, column: Heading, basis_cell: Cell | None) -> Found:
    assert column.label is not None
    found = Found(column.label, column.label_text, one.cell, as_value(one))
    hints_of_text(found, found.printed.rest, "the cell")
    if basis_cell is not None:
        known = written_in(basis_cell.text)
        found.bases.append(Hint(known.basis, "the column of the basis"))
        found.units.append(Hint(known.unit, "the column of the basis"))
    unit, basis, title = _hints_of(column.unit, column.basis, column.title_basis)
    found.units.append(unit)
    if column.units_apart:
        found.doubt = f'its heading "{column.shown}" tells two units'
    found.bases += (basis, title)
    found.method = column.method
    found.marks = marks_of(column.label_text)
    if one.cell.number is None:
        found.marks += marks_of(one.text)
    return found


@lru_cache(maxsize=1024)
def _hints_of(unit: str, basis: str, title: str) -> tuple[Hint, Hint, Hint]:
    """Return what a heading and its title tell; the same for every value of a column."""
    return Hint(unit, "the heading"), Hint(basis, "the heading"), Hint(title, "the title")
