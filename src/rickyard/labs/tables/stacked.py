"""Labels with their values right under them, in rows of boxes: one sample a page."""

from __future__ import annotations

from collections.abc import Sequence

from rickyard.labs.common import Cell
from rickyard.labs.tables.cells import Seen, beside
from rickyard.labs.tables.draft import DraftSample, Found, Hint
from rickyard.labs.tables.fields import OF_SAMPLE, fields_of_row
from rickyard.labs.tables.values import as_value, hints_of_text
from rickyard.labs.vocabulary import marks_of, written_in

_LEAST_ROWS = 2
_LEAST_LABELS = 4
#: A value stands not further beside its label than this, in points or signs.
_REACH = 6.0


def stacked_sample(rows: list[list[Seen]], taken: set[int], gridded: bool) -> DraftSample | None:
    """Return the sample of a page of labels over their values, or ``None``.

    The rows are added to ``taken``. A page on which a label comes again is another kind.

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
    DraftSample or None
        The sample.
    """
    pairs = _pairs(rows, taken, gridded)
    labelled = [
        (label, value)
        for _, _, pair in pairs
        for label, value in pair
        if label.label is not None and label.label.ours
    ]
    bases = {id(label): _section_over(rows, place) for place, _, pair in pairs for label, _ in pair}
    names = [(label.label.candidates, bases[id(label)]) for label, _ in labelled if label.label]
    with_values = sum(any(label.label for label, _ in pair) for _, _, pair in pairs)
    if with_values < _LEAST_ROWS or len(names) < _LEAST_LABELS or len(set(names)) < len(names):
        return None
    sample = DraftSample(place=labelled[0][1].cell.place)
    for place, below, pair in pairs:
        taken.update((place, below))
        for label, value in pair:
            if label.label is None:
                sample.fields.setdefault(label.field, value.cell)
    for place, row in enumerate(rows):
        if place not in taken:
            for name, cells in fields_of_row(row, gridded):
                if name in OF_SAMPLE and len(cells) == 1:
                    sample.fields.setdefault(name, _first(cells))
    sample.found = [_found(label, value, bases[id(label)]) for label, value in labelled]
    return sample


def _section_over(rows: list[list[Seen]], place: int) -> str:
    """Return the basis that stands alone on the nearest line over a row."""
    for above in range(place - 1, -1, -1):
        row = rows[above]
        if len(row) == 1 and (row[0].only_basis or (row[0].label and row[0].label.maybe_basis)):
            return written_in(row[0].text).basis
    return ""


def _pairs(
    rows: list[list[Seen]], taken: set[int], gridded: bool
) -> list[tuple[int, int, list[tuple[Seen, Seen]]]]:
    """Return the rows of labels with one row of values under each, and what belongs together."""
    pairs = []
    filled = [place for place, row in enumerate(rows) if row and place not in taken]
    for number, place in enumerate(filled[:-1]):
        below = filled[number + 1]
        paired = _paired(rows[place], rows[below], gridded)
        after = rows[filled[number + 2]] if number + 2 < len(filled) else []
        if paired and not _paired(rows[place], after, gridded):
            pairs.append((place, below, paired))
    return pairs


def _first(cells: Sequence[Cell]) -> Cell:
    return cells[0]


def _paired(
    row: Sequence[Seen], below: Sequence[Seen], gridded: bool
) -> list[tuple[Seen, Seen]] | None:
    """Return each label of a row with the value under it, if the rows are such a pair."""
    if not below or len(below) > len(row):
        return None
    if not all((one.label or one.field) and not one.text.endswith(":") for one in row):
        return None
    made = []
    for one in below:
        over = [label for label in row if beside(label.cell, one.cell, gridded) <= _REACH]
        if len(over) != 1 or (over[0].label is not None) != one.is_value:
            return None
        if one.label or one.field:
            return None
        made.append((over[0], one))
    return made if len({id(label) for label, _ in made}) == len(made) else None


def _found(label: Seen, value: Seen, section: str) -> Found:
    assert label.label is not None
    found = Found(label.label, label.text, value.cell, as_value(value))
    hints_of_text(found, found.printed.rest, "the cell")
    found.units.append(Hint(label.label.unit, "the label"))
    found.bases += [Hint(label.label.basis, "the label"), Hint(section, "the section")]
    found.marks = marks_of(label.text) + marks_of(value.text)
    return found
