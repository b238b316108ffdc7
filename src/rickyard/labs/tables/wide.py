"""Tables with one row for a sample."""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from rickyard.labs.common import Cell
from rickyard.labs.tables.cells import Seen, is_year
from rickyard.labs.tables.fields import NUMBER_ALONE, in_text
from rickyard.labs.tables.headings import (
    UNIT_FIRST,
    Heading,
    find_companions,
    is_sentence,
    is_years,
    over,
    take_units,
    takes_unit,
    tells_bases,
    understood,
)
from rickyard.labs.tables.places import MOST_ROWS, is_between, nearest, value_edges, widened
from rickyard.labs.tables.values import of_water_alone
from rickyard.labs.vocabulary import (
    FOOTNOTE_MARKS,
    Op,
    basis_of_title,
    is_only_basis,
    is_only_unit,
    label_of,
    written_in,
)

#: So many rows of headings are looked at over the first row of values.
MOST_HEADING_ROWS = 5
LEAST_LABELS = 2
#: How far a value may stand beside its heading, in points or signs.
REACH = 14.0
LONGEST_TITLE = 120
#: What stands between an analyte and the unit in which a title says that it is printed.
_NAMED_IN = re.compile(r"\s(?:en|in|as)\s")
#: A title that speaks of the samples and not of the values.
_ABOUT_SAMPLES = re.compile(
    r"(?<!% of )(?<!percent of )sample|relat|appl[iy]|condition|divide|multiply|\d{4}|"
    r"\b(?:die|der) proben\b|échantillons|muestras|amostras|monsters|pr[øo]verne?|"
    r"proverna|campioni|próbek",
    re.IGNORECASE,
)
#: "all on the sample as received", "sampled 2025-09-08": of the values, and of all of them.
_OF_SAMPLE = re.compile(r"\b(?:on|of|in) (?:the )?samples? (?=as\b)", re.IGNORECASE)
_DAY = re.compile(
    r"\b(?:(?:sampled|received|reported|report|dated|of) )?"
    r"(?:\d{4}-\d\d-\d\d|\d{1,2}\.? [a-z]{3,9} \d{4}|[a-z]{3,9} \d{1,2}, \d{4})\b",
    re.IGNORECASE,
)
#: Units in which a title may say that every value is printed.
_OF_ALL = ("pct", "g_per_kg")
#: "Units: CP, dry matter in %" names analytes, and tells no basis.
_LISTS_UNITS = re.compile(r"\s*units?\b.*\bin\b", re.IGNORECASE)
_LINE_CELLS = (2, 3)
_LEAST_COUNTED = 2
#: Under a column of numbers may stand a footnote.
_MOSTLY_NUMBERS = 0.75
#: In a row that names one sample stand no more cells than these.
_MOST_NAMES = 3
_WORDS_FOR_NUMBERS = (Op.NOT_DETECTED, Op.TOO_MANY)
SAMPLE_FIELDS = ("id", "lab_no", "number", "weak_id")


@dataclass(slots=True)
class Table:
    """The columns of a table and the rows in which its values stand.

    ``passed`` are the first texts of rows that were taken for no samples, ``title`` is the line
    over the table and ``told`` whether it gave columns their basis.
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
    title: Cell | None = None
    told: bool = False

    def column_of(self, cell: Cell) -> Heading | None:
        """Return the column in which a cell stands."""
        if self.gridded:
            if not self.places:
                self.places = {int(one.cell.x0): one for one in reversed(self.columns)}
            return self.places.get(int(cell.x0))
        return nearest(self.columns, self.edges, cell, REACH)

    def between(self, cell: Cell) -> bool:
        """Return whether a cell stands between two columns and under neither."""
        return not self.gridded and is_between(self.columns, self.edges, cell)

    def of(self, name: str) -> list[Heading]:
        """Return the columns of a field."""
        return [one for one in self.columns if one.field == name]


def table_at(rows: list[list[Seen]], first: int, gridded: bool) -> Table | None:
    """Return the table whose first row of values is ``first``, if headings over it tell one.

    Parameters
    ----------
    rows : list of list of Seen
        The rows of the page.
    first : int
        Which row may be the first with values.
    gridded : bool
        Whether cells stand in columns of their own.

    Returns
    -------
    Table or None
        The table with its columns named.
    """
    values = [one for one in rows[first] if one.is_value]
    numbers = sum(one.value.value is not None and not one.only_unit for one in values)
    if (
        not values
        or is_years(rows[first])
        or (sum(one.only_unit for one in rows[first]) > 1 and not numbers)
    ):
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
        if not band and is_sentence(row) and tells_bases(row[-1].text):
            continue  # "(moisture as received, others on dry matter)" under the headings
        numbers = sum(one.is_value and one.value.value is not None for one in row)
        heads = sum(one.only_unit or bool(one.label) or bool(one.field) for one in row)
        if numbers and numbers >= heads and not (is_years(row) or _counts(row)):
            break
        if len(row) in _LINE_CELLS and row[0].label and row[1].is_value and not is_years(row):
            break
        if row[0].label and any(one.value.op in _WORDS_FOR_NUMBERS for one in row[1:]):
            break  # "Yeast | TNTC" is a line, and heads no column
        if _is_over_heads(row, rows[band[0]] if band else ()):
            break
        band.insert(0, place)
        if len(band) == MOST_HEADING_ROWS:
            break
    return band


def _is_over_heads(row: Sequence[Seen], heads: Sequence[Seen]) -> bool:
    """Return whether a row stands over the headings of a table and is none of them."""
    if is_sentence(row) or _names_sample(row) or _holds_values(row):
        return True
    return bool(heads) and _is_title(row, heads)


#: So many words over the first column of headings are a title.
_LEAST_IN_TITLE = 2


def _is_title(row: Sequence[Seen], heads: Sequence[Seen]) -> bool:
    """Return whether a row is one text over a column that has a heading of its own below."""
    if len(row) != 1 or row[0].only_unit or row[0].label or row[0].field:
        return False
    words = len(row[0].text.split()) > _LEAST_IN_TITLE
    known = [one for one in heads if one.field or one.label]
    return words and len(known) > _LEAST_IN_TITLE and bool(heads[0].field)


def _counts(row: Sequence[Seen]) -> bool:
    """Return whether the numbers of a row count its columns: 01, 02, 03 behind names."""
    numbers = [one.value.value for one in row if one.is_value]
    return (
        len(numbers) > _LEAST_COUNTED
        and numbers == list(range(1, len(numbers) + 1))
        and any(one.field in SAMPLE_FIELDS for one in row)
    )


def _holds_values(row: Sequence[Seen]) -> bool:
    """Return whether a label of a row has its value right behind it: "Dry basis: Ca 0.45"."""
    return any(
        one.label is not None
        and one.label.ours
        and not one.is_value
        and after.is_value
        and not is_year(after)
        and any(sign in after.text for sign in ".,%<")
        for one, after in itertools.pairwise(row)
    )


def _names_sample(row: Sequence[Seen]) -> bool:
    """Return whether a row names one sample and heads no columns: "Lab 771   West 40"."""
    told = [name for one in row for name, _ in in_text(one.cell)]
    return len(row) <= _MOST_NAMES and any(name in SAMPLE_FIELDS for name in told)


def _wide(rows: list[list[Seen]], band: list[int], first: int, gridded: bool) -> Table | None:
    main = max(band, key=lambda place: sum(_names(one) for one in rows[place]))
    band = [one for one in band if one <= main or not _spans(rows[one], rows[main])]
    band = [one for one in band if one >= main or gridded or not _is_name_of(rows[one], rows[main])]
    anchors = _anchors(rows, band, main, gridded)
    columns = []
    for anchor in anchors:
        texts: list[str] = []
        cells: list[Cell] = []
        for place in band:
            one = over(anchor, rows[place], gridded, 0.0 if gridded else 4.0, anchors)
            if one is None and place < main:
                one = _spread(anchor, rows[place], gridded)
                one = None if one is not None and _begins_name(one, rows, band) else one
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
    bases = [one for one in labels if one.maybe_basis_label()]
    if len(bases) > 1:  # "Dry matter" over each of several columns is a basis
        labels = [one for one in labels if not one.maybe_basis_label()]
    fields = [one for one in columns if one.field]
    if sum(1 for one in labels if one.label and one.label.ours) < LEAST_LABELS and not (
        labels and (len(fields) >= 2 or _one_value_each(columns, rows, first))
    ):
        return None
    title = _title(columns, rows, band[0])
    edges = {} if gridded else value_edges(columns, rows[first:])
    table = Table(columns, first, gridded, top=band[0], edges=edges, title=title)
    table.told = any(one.title_basis for one in columns)
    part_names(columns, rows[first : first + MOST_ROWS], table)
    return table


def _is_name_of(row: Sequence[Seen], main: Sequence[Seen]) -> bool:
    """Return whether a row is the title of a print, at its left edge: "Forage analysis"."""
    one = row[0]
    known = one.label or one.field or one.only_basis or one.only_unit or one.is_value
    words = len(one.text.split()) >= _LEAST_IN_TITLE
    left = one.cell.x0 <= main[0].cell.x0
    return len(row) == 1 and words and left and not known and len(main) > _MOST_NAMES


def _one_value_each(columns: Sequence[Heading], rows: Sequence[Sequence[Seen]], first: int) -> bool:
    """Return whether a table has names and one value of each: "Lab no." and "NO3-N, mg/kg DM"."""
    if len(columns) != 2 or columns[0].field not in SAMPLE_FIELDS:
        return False
    label, below = columns[1].label, rows[first : first + 2]
    return (
        label is not None
        and label.ours
        and bool(columns[1].unit)
        and len(below) == 2
        and all(len(row) == 2 and row[1].is_value for row in below)
    )


def part_names(columns: Sequence[Heading], rows: Sequence[Sequence[Seen]], table: Table) -> None:
    """Tell which of two columns of names holds the laboratory's numbers.

    Parameters
    ----------
    columns : sequence of Heading
        The columns of the table.
    rows : sequence of rows
        The rows under them.
    table : Table
        The table, which knows in which column a cell stands.
    """
    _leave_ordinals(columns, rows, table)
    _mark_bases(columns, rows, table)
    names = [one for one in columns if one.field == "id"]
    if len(names) != 2 or any(one.field in ("lab_no", "number") for one in columns):
        return
    numbered = []
    for name in names:
        filled = [row for row in rows if len(row) > 1]  # no footnotes
        cells = [one.cell for row in filled for one in row if table.column_of(one.cell) is name]
        texts = [text for cell in cells if (text := cell.text.strip()) and "=" not in text]
        hits = sum(bool(NUMBER_ALONE.fullmatch(text)) for text in texts)
        numbered.append(bool(texts) and hits >= _MOSTLY_NUMBERS * len(texts))
    if numbered[0] != numbered[1]:
        names[0 if numbered[0] else 1].field = "lab_no"


def _mark_bases(columns: Sequence[Heading], rows: Sequence[Sequence[Seen]], table: Table) -> None:
    """Take "Reported on" over "as received" and "dry" for the basis, and for no day."""
    for column in columns:
        if not column.field.endswith("_on"):
            continue
        below = [one for row in rows for one in row if table.column_of(one.cell) is column]
        told = [
            one.only_basis or (one.label is not None and one.label.maybe_basis) for one in below
        ]
        if told and all(told):
            column.field = "basis"


def _leave_ordinals(
    columns: Sequence[Heading], rows: Sequence[Sequence[Seen]], table: Table
) -> None:
    """Take no column that counts its rows for names or numbers where there is another."""
    called = [one for one in columns if one.field in ("id", "weak_id", "number")]
    for column in called:
        cells = [one.cell for row in rows for one in row if table.column_of(one.cell) is column]
        counts = [cell.text.strip(" .#") for cell in cells]
        if len(counts) > 1 and len(called) > 1 and counts == [*map(str, range(1, len(counts) + 1))]:
            column.field = "ordinal"
            return


def _shared_labels(columns: list[Heading], gridded: bool) -> None:
    """Give a column that is headed by its basis alone the label of the column before it.

    "Crude protein" stands once over "as received" and "dry".
    """
    for before, column in itertools.pairwise(columns):
        near = not gridded or int(column.cell.x0) - int(before.cell.x1) <= 1
        bare = column.label is None or column.maybe_basis_label() or _is_unit_of_dry(column)
        bare = bare or _stands_beside(before, column)
        basis = column.basis or ("dm" if column.label is not None and bare else "")
        years = column.year and before.year and column.label is None
        if near and years and len(column.texts) == 1:
            column.label, column.label_text = before.label, before.label_text
            column.basis, column.unit = before.basis, before.unit
            column.field = ""
            continue
        if not (near and bare and basis and before.label and before.label.ours):
            continue
        if column.field or before.basis in ("", basis) or not _only_basis(column):
            continue
        if any(_is_same(one, before) and one.basis == basis for one in columns):
            continue  # it has its value on that basis already
        if before.label.candidates == ("moisture",):
            continue  # moisture and the dry matter that it leaves stand side by side
        column.label, column.label_text = before.label, before.label_text
        column.basis, column.unit = basis, column.unit or before.unit


def _is_same(one: Heading, other: Heading) -> bool:
    """Return whether two columns are of one analyte."""
    labels = one.label, other.label
    return all(labels) and len({label.candidates for label in labels if label}) == 1


def _is_unit_of_dry(column: Heading) -> bool:
    """Return whether a column is headed "% DM" alone, which is the unit of a name before it."""
    dry = column.label is not None and column.label.candidates == ("dm",)
    return dry and len(column.texts) == 1 and bool(UNIT_FIRST.match(column.texts[0]))


def _stands_beside(before: Heading, column: Heading) -> bool:
    """Return whether "DM" stands under a unit beside the "AR" of the column before it."""
    dry = column.label is not None and column.label.candidates == ("dm",)
    received = [text for text in before.texts if is_only_basis(text)]
    return dry and any(written_in(text).basis == "ar" for text in received)


def _title(columns: list[Heading], rows: list[list[Seen]], top: int) -> Cell | None:
    """Give columns without a basis the one that the title over the table tells; return that."""
    place = top - 1
    if place >= 0 and not rows[place]:
        place -= 1
    row = rows[place] if place >= 0 else []
    if len(row) != 1 or len(row[0].text) > LONGEST_TITLE or row[0].field or row[0].is_value:
        return None
    text = _OF_SAMPLE.sub("", _DAY.sub(" ", row[0].text))
    if _ABOUT_SAMPLES.search(text) or text[:1] in FOOTNOTE_MARKS:
        return row[0].cell  # "* as received" speaks of what is marked
    if _LISTS_UNITS.match(text):
        return row[0].cell
    basis, unit = _told_by_title(text)
    bare = not any(column.unit for column in columns if column.label)
    for column in columns:
        if bare and unit in _OF_ALL and column.label is not None and column.label.ours:
            column.unit = unit if takes_unit(column.label, unit) else ""
    for column in columns:
        if basis in ("dm", "ar") and column.label is not None and not column.basis:
            column.title_basis = basis
    take_units(columns, row[0].text)
    return row[0].cell


def _told_by_title(text: str) -> tuple[str, str]:
    """Return the basis and the unit that the clauses of a title tell."""
    basis = unit = ""
    for clause in re.split(r"[,;()]|\bbut\b|\bexcept\b", text):
        label = label_of(clause.strip()) if clause.strip() else None
        if (label is None or label.maybe_basis) and not of_water_alone(clause):
            basis = basis or basis_of_title(clause)
            unit = unit or (written_in(clause).unit if is_only_unit(clause) else "")
    return basis, unit


def _only_basis(column: Heading) -> bool:
    told = [is_only_basis(one) or bool(written_in(one).basis) for one in column.texts]
    each = (is_only_basis(one) or is_only_unit(one) for one in column.texts)
    return any(told) and all(each)


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
        _fill_groups(columns, repeated, bases)


def _fill_groups(
    columns: Sequence[Heading], repeated: Sequence[Sequence[Heading]], bases: Sequence[str]
) -> None:
    """Give columns without a basis that of the group between whose first and last they stand.

    The last group goes on to the right as far as there are columns.
    """
    for number, basis in enumerate(bases):
        own = [same[number].cell.x0 for same in repeated]
        own += [one.cell.x0 for one in columns if one.label and one.basis == basis]
        right = max(own) if number + 1 < len(bases) else float("inf")
        for column in columns:
            if column.label and not column.basis and min(own) <= column.cell.x0 <= right:
                column.basis = basis


def _is_group(one: Seen) -> bool:
    maybe = one.label is not None and one.label.maybe_basis
    return one.only_basis or maybe or (one.only_unit and bool(written_in(one.text).basis))


def _names(one: Seen) -> int:
    if one.only_unit and not one.text[:1].isupper():
        return 0  # "% DM" under a name is its unit
    return 3 if one.label and one.label.ours else 1 if one.field or one.label else 0


def _spans(row: Sequence[Seen], main: Sequence[Seen]) -> bool:
    """Return whether a row is one title over the columns: "First cutting" over merged cells."""
    cells = [one.cell for one in main]
    return len(row) == 1 and all(
        row[0].cell.x0 <= cell.x0 and cell.x1 <= row[0].cell.x1 for cell in cells
    )


def _anchors(rows: list[list[Seen]], band: list[int], main: int, gridded: bool) -> list[Cell]:
    """Return one cell for each column: those of the main row, and others that none covers."""
    anchors = [one.cell for one in rows[main]]
    taken = {int(cell.x0) for cell in anchors}

    def free(cell: Cell) -> bool:
        if gridded:
            return int(cell.x0) not in taken
        return not any(_overlap(cell, other) for other in anchors)

    for place in sorted(band, key=lambda one: abs(one - main)):
        if place == main or place < main:
            continue
        for one in rows[place]:
            if free(one.cell):
                anchors.append(one.cell)
                taken.add(int(one.cell.x0))
    for place in band:
        for one in rows[place]:
            if place < main and (one.label or one.field) and free(one.cell):
                anchors.append(one.cell)
                taken.add(int(one.cell.x0))
    return sorted(anchors, key=lambda cell: cell.x0)


def _overlap(first: Cell, second: Cell) -> bool:
    return min(first.x1, second.x1) - max(first.x0, second.x0) > -2.0


def _begins_name(one: Seen, rows: Sequence[Sequence[Seen]], band: Sequence[int]) -> bool:
    """Return whether a heading is a piece of a name: "Dry" over "Matter" over "(DM)"."""
    texts = [each.text for place in band for each in rows[place] if each.cell.x0 == one.cell.x0]
    if len(texts) < _LEAST_IN_TITLE:
        return False
    label = understood(one.cell, texts).label
    alone = label_of(one.text)
    named = label is not None and label.ours
    return named and (alone is None or (label is not None and alone.candidates == label.candidates))


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
    label = last.label
    group = label is None or label.maybe_basis or len(label.candidates) > 1
    named = label_of(_NAMED_IN.split(last.text)[0])  # "ME in Mcal/kg" speaks of ME alone
    telling = bool(known.basis or known.unit) and group
    telling &= not (named and named.ours and not named.maybe_basis)
    return last if gridded and telling else None
