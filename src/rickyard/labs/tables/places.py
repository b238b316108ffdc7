"""Where the columns of a printed table stand: by their headings, and by the rows under them."""

from __future__ import annotations

import re
import statistics
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Final

from rickyard.labs.common import Cell
from rickyard.labs.tables.blocks import Block, Line, has_value, lines_of
from rickyard.labs.tables.cells import Seen
from rickyard.labs.tables.fields import IDENTITY, in_text
from rickyard.labs.tables.headings import Heading
from rickyard.labs.tables.names import is_bare_name, is_result, may_call
from rickyard.labs.vocabulary import is_aside, label_of

#: Values of one column that is not straight stand no more letters apart than these.
_LETTERS_APART = 4.0
#: So many rows tell where columns stand; more say nothing new.
MOST_ROWS = 60


def widened(heading: Heading, cells: Sequence[Cell]) -> None:
    """Let a column reach as far as all its headings do."""
    heading.cell = replace(
        heading.cell,
        x0=min(heading.cell.x0, *(cell.x0 for cell in cells)),
        x1=max(heading.cell.x1, *(cell.x1 for cell in cells)),
    )


def value_edges(
    columns: Sequence[Heading], rows: Sequence[Sequence[Seen]]
) -> dict[int, tuple[float, float]]:
    """Return the edges of the values of each column, from rows in which none is missing.

    A number at the right of a wide column may stand nearer to the next heading than to its own;
    a row that has a cell for each column tells which is which.

    Parameters
    ----------
    columns : sequence of Heading
        The columns from left to right.
    rows : sequence of sequence of Seen
        The rows under the headings.
    """
    edges: dict[int, tuple[float, float]] = {}
    known = any(one.field == "basis" for one in columns)
    for row in rows[:MOST_ROWS]:
        if len(row) != len(columns) or not _in_order(columns, row):
            continue
        if not known and any(one.only_basis for one in row):
            continue  # "D" before a row stands in a column of its own
        for place, one in enumerate(row):
            low, high = edges.get(place, (one.cell.x0, one.cell.x1))
            edges[place] = (min(low, one.cell.x0), max(high, one.cell.x1))
    if any(_cross(edges, place) for place in range(len(columns) - 1)):
        return {}
    return edges


def _cross(edges: dict[int, tuple[float, float]], place: int) -> bool:
    return place in edges and edges[place][1] > edges[place + 1][0]


def _in_order(columns: Sequence[Heading], row: Sequence[Seen]) -> bool:
    """Return whether no cell stands under another heading and not under its own."""
    for place, one in enumerate(row):
        if _shared(one.cell, columns[place].cell) > 0.0:
            continue
        if any(_shared(one.cell, other.cell) > 0.0 for other in columns):
            return False
    return True


def _shared(first: Cell, second: Cell) -> float:
    return min(first.x1, second.x1) - max(first.x0, second.x0)


def nearest(
    columns: Sequence[Heading],
    edges: dict[int, tuple[float, float]],
    cell: Cell,
    reach: float,
) -> Heading | None:
    """Return the column in which a cell stands, or ``None`` if none is near.

    Where the values of the columns have been seen, they count; else the headings do.
    """
    best, found = reach + 1.0, None
    for place, one in enumerate(columns):
        low, high = edges.get(place, (one.cell.x0, one.cell.x1))
        apart = max(low - cell.x1, cell.x0 - high, 0.0)
        far = abs((low + high) / 2.0 - cell.middle) / 1000.0
        if apart + far < best:
            best, found = apart + far, one
    return found


#: A cell that stands beside two columns is of the nearer one only where the other is so much
#: farther away.
_SO_MUCH_FARTHER = 1.7


def is_between(
    columns: Sequence[Heading], edges: dict[int, tuple[float, float]], cell: Cell
) -> bool:
    """Return whether a cell stands between two columns and under neither.

    Parameters
    ----------
    columns : sequence of Heading
        The columns from left to right.
    edges : dict of int to tuple of float
        The edges of the values of columns that are known.
    cell : Cell
        The cell.

    Returns
    -------
    bool
        Whether the two nearest columns are about as far from it.
    """
    far = sorted(
        max(low - cell.x1, cell.x0 - high, 0.0)
        for low, high in (
            edges.get(place, (one.cell.x0, one.cell.x1)) for place, one in enumerate(columns)
        )
    )
    return len(far) > 1 and far[0] > 0.0 and far[1] < _SO_MUCH_FARTHER * far[0]


#: So many values of a column tell by themselves where it stands; of fewer its heading does.
_LEAST_BELOW = 3
#: A value is out of place only where another column is nearer by more than this, in points or
#: signs. Judgement, no published source.
_NEARER_BY = 1.0


def out_of_place(columns: Sequence[Heading], placed: Sequence[tuple[Cell, int]]) -> dict[int, int]:
    """Return which values stand in line with another column than the one they were taken for.

    This looks at the values alone where it can, and so is a second opinion on the headings. A
    column is in line at its left edge, its right edge or its middle.

    Parameters
    ----------
    columns : sequence of Heading
        The columns of the table.
    placed : sequence of (Cell, int)
        Each value with the number of its column.

    Returns
    -------
    dict of int to int
        By the number of the value, the number of the column with which it is in line.
    """
    by_column: dict[int, list[Cell]] = {}
    for cell, column in placed:
        by_column.setdefault(column, []).append(cell)
    lines = [
        _line_of(below if len(below := by_column.get(n, [])) >= _LEAST_BELOW else [one.cell])
        for n, one in enumerate(columns)
    ]
    found: dict[int, int] = {}
    for number, (cell, column) in enumerate(placed):
        own = _off(cell, lines[column])
        if own <= _NEARER_BY:
            continue
        best = min(range(len(lines)), key=lambda n: _off(cell, lines[n]))
        if _off(cell, lines[best]) + _NEARER_BY < own:
            found[number] = best
    return found


def _line_of(cells: Sequence[Cell]) -> tuple[float, float, float]:
    return (
        statistics.median(cell.x0 for cell in cells),
        statistics.median(cell.middle for cell in cells),
        statistics.median(cell.x1 for cell in cells),
    )


def _off(cell: Cell, line: tuple[float, float, float]) -> float:
    """Return how far a cell is out of line with a column, at the edge that fits best."""
    return min(abs(cell.x0 - line[0]), abs(cell.middle - line[1]), abs(cell.x1 - line[2]))


def value_columns(lines: Sequence[Line], gridded: bool) -> list[list[tuple[Line, Seen]]]:
    """Return the columns of values: for each, the lines with the cells that stand in it."""
    counts = Counter(sum(1 for one in line.after if has_value(one)) for line in lines)
    moved = [] if gridded else _moved(lines, counts)
    columns = _with_moved(lines, moved) if moved else []
    if columns:
        return columns
    if not gridded and len(counts) == 1:
        columns = [[] for _ in range(next(iter(counts)))]
        for line in lines:
            for place, one in enumerate(one for one in line.after if has_value(one)):
                columns[place].append((line, one))
        if len(columns) != 1 or not _stands_apart(columns[0]):
            return columns
    columns = []
    edges: list[list[float]] = []
    cells = [(line, one) for line in lines for one in line.after if has_value(one)]
    for line, one in sorted(cells, key=lambda pair: pair[1].cell.x0):
        for place, (low, high) in enumerate(edges):
            over = same_column(one.cell, low, high, gridded, 0.0)
            if over and all(other is not line for other, _ in columns[place]):
                columns[place].append((line, one))
                edges[place] = [min(low, one.cell.x0), max(high, one.cell.x1)]
                break
        else:
            columns.append([(line, one)])
            edges.append([one.cell.x0, one.cell.x1])
    return columns if gridded else _near_together(columns)


def _moved(lines: Sequence[Line], counts: Counter[int]) -> list[Line]:
    """Return lines whose label is so long that their values are moved out of their columns.

    Each has as many values as most lines, and the last stands behind those of all others.
    """
    usual = max(counts, key=lambda count: (counts[count], count))
    whole = {
        n: values[-1].cell
        for n, line in enumerate(lines)
        if len(values := [one for one in line.after if has_value(one)]) == usual > 1
    }
    return [
        lines[n]
        for n, cell in whole.items()
        if len(whole) > _LEAST_WHOLE
        and cell.x0 >= max(other.x1 for m, other in whole.items() if m != n)
    ]


def _with_moved(lines: Sequence[Line], moved: Sequence[Line]) -> list[list[tuple[Line, Seen]]]:
    """Return the columns of other lines with the values of moved ones, in their order."""
    columns = value_columns([line for line in lines if line not in moved], gridded=False)
    for line in moved:
        cells = [one for one in line.after if has_value(one)]
        if len(cells) != len(columns):
            return []
        for column, one in zip(columns, cells, strict=True):
            under = span_of(column)
            cell = replace(one.cell, x0=under.x0, x1=under.x1)
            column.append((line, replace(one, cell=cell)))
    return columns


#: So many lines with a value in each column tell where the columns stand.
_LEAST_WHOLE: Final = 2


def _near_together(columns: list[list[tuple[Line, Seen]]]) -> list[list[tuple[Line, Seen]]]:
    """Return columns, those put together that stand near and share no line.

    A value that stands alone in its line is of the column under which it stands, not of its
    neighbor.
    """
    made: list[list[tuple[Line, Seen]]] = []
    for column in columns:
        last = made[-1] if made else []
        span = span_of(last) if last else None
        near = span is not None and same_column(span_of(column), span.x0, span.x1, gridded=False)
        if near and not {id(line) for line, _ in last} & {id(line) for line, _ in column}:
            last.extend(column)
        else:
            made.append(column)
    return made


def _stands_apart(column: Sequence[tuple[Line, Seen]]) -> bool:
    """Return whether values stand so far apart that they are of several columns.

    The one value of each line may stand under "as received" in one and under "dry" in another.
    """
    cells = [one.cell for _, one in column]
    letter = max((cell.x1 - cell.x0) / max(len(cell.text), 1) for cell in cells)
    apart = max(cell.x0 for cell in cells) - min(cell.x1 for cell in cells)
    return apart > _LETTERS_APART * letter


#: So far beside a column its cells may stand, in points or signs.
_NEAR: Final = 3.0


def same_column(cell: Cell, low: float, high: float, gridded: bool, near: float = _NEAR) -> bool:
    """Return whether a cell stands in a column that reaches from ``low`` to ``high``."""
    if gridded:
        return int(cell.x0) == int(low)
    return min(cell.x1, high) - max(cell.x0, low) > -near


def span_of(column: list[tuple[Line, Seen]]) -> Cell:
    """Return a cell as wide as all the values of a column."""
    cells = [one.cell for _, one in column]
    return Cell(
        "", cells[0].row, min(cell.x0 for cell in cells), max(cell.x1 for cell in cells), ""
    )


def other_spans(lines: Sequence[Line]) -> list[Cell]:
    """Return where columns stand that hold no values: units, bases, methods."""
    spans: list[Cell] = []
    for line in lines:
        for one in line.after:
            if has_value(one):
                continue
            for span in spans:
                if min(span.x1, one.cell.x1) > max(span.x0, one.cell.x0):
                    span.x0, span.x1 = min(span.x0, one.cell.x0), max(span.x1, one.cell.x1)
                    break
            else:
                spans.append(replace(one.cell))
    return spans


def of_side(
    cells: Sequence[Cell], starts: Sequence[float], number: int, reach: tuple[float, float]
) -> list[Cell]:
    """Return the cells of a field that belong to one side: one each in order, else by place.

    Parameters
    ----------
    cells : sequence of Cell
        The cells that hold the field, of all sides.
    starts : sequence of float
        Where the labels of each side begin.
    number : int
        Which side it is, from the left.
    reach : tuple of float
        From where to where cells belong to the side.

    Returns
    -------
    list of Cell
        The cells of the side.

    Examples
    --------
    >>> cells = [Cell("771", 0, 34, 37, ""), Cell("772", 0, 74, 77, "")]
    >>> [one.text for one in of_side(cells, [0, 40], 0, (-15, 25))]
    ['771']
    """
    ordered = sorted(cells, key=lambda cell: cell.x0)
    if len(cells) == len(starts) and all(
        cell.x1 <= after for cell, after in zip(ordered, starts[1:], strict=False)
    ):
        return [ordered[number]]
    return [cell for cell in cells if reach[0] <= cell.x0 < reach[1]]


def over_group(cells: Sequence[Cell], head: Cell, place: int, columns: int) -> Cell | None:
    """Return the cell that begins over a group of columns, of as many columns as every other.

    "West 40" begins over "as received" and "dry" and need not reach over either.

    Parameters
    ----------
    cells : sequence of Cell
        The cells of a field from left to right.
    head : Cell
        Where the column stands.
    place, columns : int
        Which column it is from the left, and of how many.

    Returns
    -------
    Cell or None
        The cell; ``None`` where they stand otherwise.

    Examples
    --------
    >>> cells = [Cell("West", 0, 10, 14, ""), Cell("East", 0, 40, 44, "")]
    >>> over_group(cells, Cell("", 1, 30, 33, ""), 1, 4).text
    'West'
    """
    if not 1 < len(cells) < columns or columns % len(cells):
        return None
    at = place // (columns // len(cells))
    behind = at + 1 == len(cells) or head.x1 <= cells[at + 1].x0
    return cells[at] if cells[at].x0 <= head.x0 and behind else None


def over_groups(cells: Sequence[Cell], heads: Sequence[Heading]) -> bool:
    """Return whether each cell begins over a group of columns with the bases of the others."""
    columns = len(heads)
    if any(over_group(cells, one.cell, n, columns) is None for n, one in enumerate(heads)):
        return False
    each = columns // len(cells)
    bases = [one.basis for one in heads]
    return all(bases) and bases == bases[:each] * len(cells)


def own_fields(
    block: Block, head: Heading, place: int, columns: int, gridded: bool, *, alone: bool = False
) -> dict[str, Cell]:
    """Return the fields that stand in the column of a sample, or in a merged cell over it.

    With ``alone``, one name is that of the column over which it stands and of no other.

    Parameters
    ----------
    block : Block
        The block, with its fields.
    head : Heading
        The heading of the column.
    place, columns : int
        Which column it is from the left, and of how many.
    gridded : bool
        Whether cells stand in columns of their own.
    alone : bool
        Whether a name holds for its own column only.

    Returns
    -------
    dict of str to Cell
        The cell of each field.
    """
    own: dict[str, Cell] = {}
    last: dict[str, Cell] = {}
    most = max((len(cells) for name, cells in block.fields if name in IDENTITY), default=0)
    for name, cells in block.fields:
        if len(cells) == columns and not gridded:
            own.setdefault(name, cells[place])
            continue
        apart = gridded or (name in IDENTITY and len(cells) < most)  # a goal has a name alone
        of_group = None if apart else over_group(cells, head.cell, place, columns)
        if of_group is not None:
            own.setdefault(name, of_group)
            continue
        over_it = [
            cell
            for cell in cells
            if same_column(cell, head.cell.x0, head.cell.x1, gridded)
            or cell.x0 <= head.cell.x0 <= cell.x1
        ]
        before = [cell for cell in cells if cell.x0 <= head.cell.x0]
        if over_it and (len(cells) > 1 or name in IDENTITY):
            best = max(over_it, key=lambda c: min(c.x1, head.cell.x1) - max(c.x0, head.cell.x0))
            own.setdefault(name, best)
        elif before and name in IDENTITY and (len(cells) > 1 or not alone):
            last.setdefault(name, before[-1])
    if own.keys().isdisjoint(IDENTITY) or all(_of_one(block, head, cell) for cell in last.values()):
        own.update({name: cell for name, cell in last.items() if name not in own})
    return own


def _of_one(block: Block, head: Heading, before: Cell) -> bool:
    """Return whether all names over a column are those over the column of a cell before it.

    "Guide value" behind "West 40" has not its number, though none stands over it.
    """
    for name, cells in block.fields:
        over_it = [cell.text for cell in cells if cell.x0 == head.cell.x0]
        there = [cell.text for cell in cells if cell.x0 == before.x0]
        if name in IDENTITY and over_it and there and over_it != there:
            return False
    return True


def own_days(
    block: Block, head: Heading, own: Mapping[str, Cell]
) -> tuple[dict[str, Cell], set[str]]:
    """Return the days of the sample in one column, and the days that are told of each apart.

    A day stands over its column, or is one of as many as there are names or numbers. One that is
    told several times and not alike is of no sample where nothing tells of which.

    Parameters
    ----------
    block : Block
        The block, with its fields.
    head : Heading
        The heading of the column.
    own : mapping of str to Cell
        Name and number of the sample.

    Returns
    -------
    tuple of (dict of str to Cell, set of str)
        The days by their field, and the fields that hold not for all samples.
    """
    over = [Cell(text, 0, head.cell.x0, head.cell.x1, "the heading") for text in head.texts]
    days = {name: c[0] for one in over for name, c in in_text(one) if name.endswith("_on")}
    told = [(name, cells) for name, cells in block.fields if name.endswith("_on")]
    for name, cells in block.fields:
        if len(cells) > 1 and name in IDENTITY and own.get(name) in cells:
            place = cells.index(own[name])
            for day, each in told:
                if len(each) == len(cells):
                    days.setdefault(day, each[place])
    texts = {day: {cell.text for other, c in told if other == day for cell in c} for day, _ in told}
    return days, {day for day, found in texts.items() if len(found) > 1}


def spread_over(cells: Sequence[Cell], heads: Sequence[Heading], gridded: bool) -> bool:
    """Return whether the cells of a field stand over more than one column.

    Parameters
    ----------
    cells : sequence of Cell
        The cells.
    heads : sequence of Heading
        The headings of the columns.
    gridded : bool
        Whether cells stand in columns of their own.

    Returns
    -------
    bool
        Whether they do.
    """
    hits = {
        place
        for place, head in enumerate(heads)
        for cell in cells
        if same_column(cell, head.cell.x0, head.cell.x1, gridded)
        or (gridded and cell.x0 <= head.cell.x0 <= cell.x1)
    }
    return len(hits) > 1


#: "West 40 (2024)": a name with a year behind it.
_YEAR: Final = re.compile(r"\b(?:19|20)\d\d\b")
_YEAR_BEHIND: Final = re.compile(r"[\s,-]*[(\[](?:19|20)\d\d[)\]]$")


def _in_a_name(head: Heading, heads: Sequence[Heading]) -> bool:
    """Return whether the year over a column is a word of a name: "Old barn 2024 hay"."""
    rests = [[_YEAR.sub(" ", text).strip(" ()-") for text in each.texts] for each in heads]
    told = [text for text in head.texts if _YEAR.search(text)]
    rest = _YEAR.sub(" ", told[-1]).strip(" ()-") if told else ""
    alone = sum(rest in each for each in rests) == 1
    return len(rest.split()) > 1 and alone and not is_aside(rest) and may_call(rest)


def _stands_over(block: Block, head: Heading, gridded: bool) -> bool:
    """Return whether the one name or number of a block stands in a column beside those of years."""
    return any(
        len(cells) == 1 and same_column(cells[0], head.cell.x0, head.cell.x1, gridded)
        for name, cells in block.fields
        if name in IDENTITY
    )


def without_years(
    block: Block, kept: list[tuple[list[tuple[Line, Seen]], Heading]], gridded: bool
) -> list[tuple[list[tuple[Line, Seen]], Heading]]:
    """Return columns without those of another year than the last, or than one without a year.

    Where samples stand side by side, each has years of its own.

    Parameters
    ----------
    block : Block
        The block, with its fields.
    kept : list of tuple
        Columns with what stands over each.
    gridded : bool
        Whether cells stand in columns of their own.

    Returns
    -------
    list of tuple
        Those of this year.
    """
    several = Block(block.lines, [one for one in block.fields if len(one[1]) > 1], block.first)
    owners = []
    for place, (_, head) in enumerate(kept):
        own = own_fields(several, head, place, len(kept), gridded)
        names = [own[name].text for name in ("id", "weak_id") if name in own]
        owners.append(tuple(names or sorted(c.text for n, c in own.items() if n in IDENTITY)))
    found = []
    single = any(len(cells) == 1 for name, cells in block.fields if name in IDENTITY)
    named = {text for _, head in kept for text in head.texts}
    for place, one in enumerate(kept):
        if any(_YEAR_BEHIND.sub("", text) in named - {text} for text in one[1].texts):
            continue  # "West 40 (2024)" beside "West 40"
        others = [
            head.year
            for owner, (_, head) in zip(owners, kept, strict=True)
            if owner == owners[place]
        ]
        year = None if _in_a_name(one[1], [head for _, head in kept]) else one[1].year
        last = max((other for other in others if other), default=None)
        this = any(
            head.year is None
            and owner == owners[place]
            and (is_result(head) or not single or _stands_over(block, head, gridded))
            for owner, (_, head) in zip(owners, kept, strict=True)
        )
        if year is None or (year == last and not this):
            found.append(one)
    return found


#: So many cells head columns at least.
_LEAST_IN_HEADS: Final = 2


def _has_number(one: Seen) -> bool:
    return one.is_value and one.value.value is not None


def begins_another(row: Sequence[Seen]) -> bool:
    """Return whether a row names the next sample, with its label and value behind the name."""
    lines = lines_of(row, 0)
    if not lines:
        return False
    before = cells_before(row, lines[0])
    if sum(has_value(one) for one in before) > 1:
        return False  # "ni" among the values of a row is a note and no nickel
    after = [one for line in lines for one in line.after if has_value(one)]
    values = [one for one in row[len(before) :] if one.is_value]
    return any(map(is_bare_name, before)) and len(values) == len(after) == len(lines)


def is_of_another(
    rows: Sequence[Sequence[Seen]], place: int, placed: Sequence[tuple[Seen, Heading | None]]
) -> bool:
    """Return whether a row heads other columns, or lists analytes where the samples are named.

    "Item  Qty  Price", and "Crude protein  12.2" over "ADF  34.1".
    """
    row = rows[place]
    if not any(map(_has_number, row)):
        heads = sum(bool(one.field and not one.label) or is_aside(one.text) for one in row)
        first = row[0].field
        told = 2 * heads >= len(row) or first in ("analyte", "order", "client")
        return len(row) >= _LEAST_IN_HEADS and told and (bool(first) or heads > 1)
    column = placed[0][1]
    below = next((one for one in rows[place + 1 : place + 3] if one), ())
    named = column is not None and column.field in IDENTITY
    return named and _lists_analyte(row) and _lists_analyte(below)


def _lists_analyte(row: Sequence[Seen]) -> bool:
    """Return whether a row begins with the name of an analyte, and numbers follow."""
    first = label_of(row[0].text) if row else None
    told = first is not None and first.ours and not first.misspelled and not row[0].is_value
    return told and len(row) > 1 and all(map(_has_number, row[1:]))


def cells_before(row: Sequence[Seen], line: Line) -> Sequence[Seen]:
    """Return the cells of a row that stand before its first label."""
    return row[: next(n for n, one in enumerate(row) if one is line.seen)]


def is_headed_aside(block: Block, head: Heading, gridded: bool) -> bool:
    """Return whether "last year" stands over a column where names or days stand over others."""
    return any(
        is_aside(cell.text) and cell.x0 <= head.cell.x1 and head.cell.x0 <= cell.x1
        for name, cells in block.fields
        for cell in cells[1:]
        if name not in IDENTITY and same_column(cell, head.cell.x0, head.cell.x1, gridded)
    )
