"""Rows that are put into another order to be read: tiles, and headings printed as one."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from rickyard.labs.common import Cell
from rickyard.labs.tables import IDENTITY, OF_SAMPLE, Seen, beside, has_value, seen
from rickyard.labs.vocabulary import Comma, field_of, label_of

#: So many values over their labels make tiles.
_LEAST_TILES: Final = 3
_NUMBERS: Final = re.compile(r"\d{1,5}[.,]\d{1,4}(?: \d{1,5}(?:[.,]\d{1,4})?)+")
#: "0.30 0.15-0.35": a value, and what is usual behind it.
_WITH_RANGE: Final = re.compile(r"[<>]?\d*[.,]?\d+ \d*[.,]?\d+ ?[-–] ?\d*[.,]?\d+")
_THOUSANDS: Final = re.compile(r"\d{1,3}(?: \d{3})+(?:[.,]\d+)?")
_UNIT: Final = re.compile(r"\W*(?:%|percent|pct|of|m?g/|mcal|mj|pp[mb])", re.IGNORECASE)
#: So many labels in a row head a table.
_LEAST_HEADS: Final = 3
#: So many rows under a heading are looked at.
_ROWS_UNDER: Final = 4
#: Signs; what is longer is no title of a group.
_LONGEST_GROUP: Final = 30
_ENERGIES: Final = re.compile(r"\benerg(?:y|ies)\b|\bfib(?:er|re)s?\b", re.IGNORECASE)
#: Fields that head columns of values.
_OF_VALUES: Final = ("analyte", "result", "unit", "basis", "qualifier")
#: Where labels and values of tiles are put, in points or signs.
_AT: Final = ((0.0, 300.0), (400.0, 440.0), (500.0, 560.0))
_GRID: Final = ((0.0, 0.5), (1.0, 1.5), (2.0, 2.5))
#: From top to bottom, what stands in a tile.
_ORDERS: Final = (
    ("values", "labels"),
    ("values", "labels", "units"),
    ("values", "units", "labels"),
    ("labels", "values", "units"),
    ("labels", "units", "values"),
)


def tiles_in_lines(rows: list[list[Seen]], gridded: bool) -> list[list[Seen]]:
    """Put values that stand over their labels or units into lines of a label with its value.

    Rows of values, of labels and perhaps of units take turns, and no heading stands over the
    first; labels over their values with no units under these are left to be read as a table.

    Parameters
    ----------
    rows : list of list of Seen
        The rows of a page.
    gridded : bool
        Whether cells stand in columns of their own.

    Returns
    -------
    list of list of Seen
        The rows, each value behind its label.
    """
    kinds = [_kind(row) for row in rows]
    made: list[list[Seen]] = []
    place = 0
    while place < len(rows):
        run = _run(rows, kinds, place, gridded)
        if not run:
            made.append(rows[place])
            place += 1
            continue
        for tile in run:
            by_kind = {kinds[n]: rows[n] for n in tile}
            parts = [by_kind[kind] for kind in ("labels", "values", "units") if kind in by_kind]
            made.extend(_line(cells, gridded) for cells in zip(*parts, strict=True))
        place = run[-1][-1] + 1
    return made


def fields_in_lines(rows: list[list[Seen]], gridded: bool) -> list[list[Seen]]:
    """Put fields of one sample that stand under their names into lines of a name with its text.

    "Sample   Received   Reported" over "Stack B   Oct 1   Oct 3" with no second row under it, or
    under it.

    Parameters
    ----------
    rows : list of list of Seen
        The rows of a page.
    gridded : bool
        Whether cells stand in columns of their own.

    Returns
    -------
    list of list of Seen
        The rows, those fields in lines.
    """
    made: list[list[Seen]] = []
    place = 0
    while place < len(rows):
        here, below, after = (rows[n] if n < len(rows) else [] for n in range(place, place + 3))
        names, texts = (here, below) if _names_fields(here) else (below, here)
        if _names_fields(names) and _fills(texts, names, gridded) and not _fills(
            after, names, gridded
        ):  # fmt: skip
            made.extend(_line(pair, gridded) for pair in zip(names, texts, strict=True))
            place += 2
            continue
        made.append(here)
        place += 1
    return made


def _names_fields(row: Sequence[Seen]) -> bool:
    own = sum(one.field in OF_SAMPLE for one in row)
    return own > 1 and all(
        one.field and one.field not in _OF_VALUES and not one.text.rstrip().endswith(":")
        for one in row
    )


def _fills(texts: Sequence[Seen], names: Sequence[Seen], gridded: bool) -> bool:
    """Return whether a row has one text under each name, and no names itself."""
    return _aligned(texts, names, gridded) and not any(one.field or one.label for one in texts)


def _kind(row: Sequence[Seen]) -> str:
    """Return whether a row holds only values, only labels, only units, or something else."""
    if row and all(has_value(one) for one in row):
        return "values"
    if row and all(one.only_unit and (not one.label or _UNIT.match(one.text)) for one in row):
        return "units" if not all(one.only_basis for one in row) else ""
    named = sum(one.label is not None for one in row)
    plain_text = all(
        not one.is_value and not one.field and (one.label or not one.only_unit) for one in row
    )
    return "labels" if row and plain_text and 2 * named > len(row) else ""


def _run(
    rows: list[list[Seen]], kinds: list[str], first: int, gridded: bool
) -> list[tuple[int, ...]]:
    """Return the rows of each tile of those that begin at a row, if there are any."""
    if not kinds[first]:
        return []
    before = next((kinds[n] for n in range(first - 1, -1, -1) if rows[n]), "")
    if before in ("labels", "units"):
        return []
    places = []
    for place in range(first, len(rows)):
        if rows[place] and not kinds[place]:
            break
        if rows[place]:
            places.append(place)
    order = tuple(kinds[n] for n in places[:3])
    if order[:2] == ("values", "labels") and order[2:] != ("units",):
        order = order[:2]
    if order not in _ORDERS:
        return []
    tiles = [tuple(places[n : n + len(order)]) for n in range(0, len(places), len(order))]
    fit = all(
        tuple(kinds[n] for n in tile) == order
        and all(_aligned(rows[tile[0]], rows[n], gridded) for n in tile[1:])
        for tile in tiles
    )
    return tiles if fit and sum(len(rows[tile[0]]) for tile in tiles) >= _LEAST_TILES else []


def _aligned(values: Sequence[Seen], labels: Sequence[Seen], gridded: bool) -> bool:
    return len(values) == len(labels) and all(
        beside(one.cell, other.cell, gridded) <= 0.0
        for one, other in zip(values, labels, strict=True)
    )


def _line(cells: Sequence[Seen], gridded: bool) -> list[Seen]:
    return [
        replace(one, cell=replace(one.cell, x0=start, x1=end))
        for one, (start, end) in zip(cells, _GRID if gridded else _AT, strict=False)
    ]


def numbers_apart(rows: list[list[Seen]], comma: Comma) -> list[list[Seen]]:
    """Part numbers of two columns that are printed so near that they are one text.

    Parameters
    ----------
    rows : list of list of Seen
        The rows of a page.
    comma : Comma
        What a comma is between digits.

    Returns
    -------
    list of list of Seen
        The rows, each number in a cell of its own.
    """
    return [
        [part for one in row for part in _numbers(one, comma)] if len(row) > 2 else row
        for row in rows
    ]


def _numbers(one: Seen, comma: Comma) -> list[Seen]:
    ranged = _WITH_RANGE.fullmatch(one.text)
    if not ranged and (not _NUMBERS.fullmatch(one.text) or _THOUSANDS.fullmatch(one.text)):
        return [one]
    scale = (one.cell.x1 - one.cell.x0) / len(one.text)
    return [
        seen(
            replace(
                one.cell,
                text=found[0],
                x0=one.cell.x0 + found.start() * scale,
                x1=one.cell.x0 + found.end() * scale,
            ),
            comma,
        )
        for found in re.finditer(r"\S+(?: ?[-–] ?\S+)?" if ranged else r"\S+", one.text)
    ]


def with_groups(rows: list[list[Seen]], comma: Comma) -> list[list[Seen]]:
    """Put the title of a group before labels under it that name nothing alone.

    "PROTEIN" over "Crude, %", "Net energy" over "Maintenance, Mcal/lb".

    Parameters
    ----------
    rows : list of list of Seen
        The rows of a page.
    comma : Comma
        What a comma is between digits.

    Returns
    -------
    list of list of Seen
        The rows, with the title before each label of its group.
    """
    made: list[list[Seen]] = []
    group = ""
    for row in rows:
        if len(row) == 1 and not row[0].is_value and len(row[0].text) <= _LONGEST_GROUP:
            group = row[0].text if row[0].label or label_of(f"crude {row[0].text}") else ""
            group = group or (row[0].text if _ENERGIES.search(row[0].text) else "")
            if row[0].only_basis or (row[0].label is not None and row[0].label.maybe_basis):
                group = ""  # "(DM basis)" tells of all that follows, and begins no name
        elif group and len(row) > 1 and not row[0].label and not row[0].is_value:
            row = [_in_group(row, group, comma), *row[1:]]
        made.append(row)
    return made


def _in_group(row: Sequence[Seen], group: str, comma: Comma) -> Seen:
    """Return the first cell of a row, with the title of its group where that makes a label."""
    first = row[0]
    if not any(has_value(one) for one in row[1:]) or first.field in ("id", "lab_no"):
        return first
    text = f"{group.strip(' :')} {first.text}"
    label = label_of(text)
    if label is None or not label.ours or label.misspelled:
        return first
    return seen(replace(first.cell, text=text), comma)


def tables_apart(rows: list[list[Seen]]) -> list[list[Seen]]:
    """Put the right of two tables that stand side by side under the left one.

    Where names or numbers of samples head a column again behind columns of values, another table
    begins, whose rows need not be those of the first.

    Parameters
    ----------
    rows : list of list of Seen
        The rows of a page.

    Returns
    -------
    list of list of Seen
        The rows, one table under the other.
    """
    for place, row in enumerate(rows):
        cut = _second_table(row)
        if cut is None:
            continue
        first = place
        while first and rows[first - 1] and not any(has_value(one) for one in rows[first - 1]):
            first -= 1
        last = place + 1
        while last < len(rows) and rows[last] and (last == place + 1 or not _second(rows[last])):
            last += 1
        left = [[one for one in each if one.cell.x0 < cut] for each in rows[first:last]]
        right = [[one for one in each if one.cell.x0 >= cut] for each in rows[first:last]]
        below = tables_apart(rows[last:])
        return [*rows[:first], *left, [], [], *right, [], [], *below]
    return rows


def _second(row: Sequence[Seen]) -> bool:
    return _second_table(row) is not None


#: Whose hay it is, in a column of any place: no other table begins with it.
_OF_CLIENT: Final = re.compile(r"\W*(?:client|customer|account|owner|grower|producer|farm)", re.I)


def _second_table(row: Sequence[Seen]) -> float | None:
    """Return where the second of two tables begins whose headings are one row."""
    if len(row) < 2 * _LEAST_HEADS or any(has_value(one) for one in row):
        return None
    names = [
        n for n, one in enumerate(row) if one.field in IDENTITY and not _OF_CLIENT.match(one.text)
    ]
    first = {row[n].field for n in names if n <= _LEAST_HEADS}
    for n in names:
        before, behind = row[:n], row[n + 1 :]
        heads = [
            sum(bool(one.label and one.label.ours) for one in part) for part in (before, behind)
        ]
        if row[n].field in first and min(heads) > 1 and before[0].field in IDENTITY:
            return row[n].cell.x0
    return None


#: Arrows that tell how far a heading between them reaches: "<-- dry basis -->".
_FROM: Final = re.compile(r"(?:<|\|)?[-–—=]+|<[-–—=]*|[←⟵]")
_TO: Final = re.compile(r"[-–—=]+(?:>|\|)?|[-–—=]*>|[→⟶]")


def reaching(row: list[Cell]) -> list[Cell]:
    """Return a row with the texts between two arrows as one cell that reaches as far as they do.

    Parameters
    ----------
    row : list of Cell
        The cells of a row.

    Returns
    -------
    list of Cell
        The row.
    """
    texts = [cell.text.strip() for cell in row]
    starts = [n for n, text in enumerate(texts) if _FROM.fullmatch(text) and text[0] in "<|←⟵"]
    if not starts:
        return row
    first = starts[0]
    ends = [n for n, text in enumerate(texts) if _TO.fullmatch(text) and text[-1] in ">|→⟶"]
    last = next((n for n in ends if n > first), None)
    between = texts[first + 1 : last] if last is not None else []
    if last is None or not between or any(cell.number is not None for cell in row):
        return row
    whole = replace(row[first], text=" ".join(between), x1=row[last].x1)
    return [*row[:first], whole, *reaching(row[last + 1 :])]


def headings_apart(rows: list[list[Seen]], comma: Comma) -> list[list[Seen]]:
    """Part headings of two columns that are printed so near that they are one text.

    "TDN % NEm Mcal/lb" is parted where two values stand under it and both parts are headings.

    Parameters
    ----------
    rows : list of list of Seen
        The rows of a page.
    comma : Comma
        What a comma is between digits.

    Returns
    -------
    list of list of Seen
        The rows, each heading in a cell of its own.
    """
    made = []
    for place, row in enumerate(rows):
        heads = sum(bool(one.label or one.field) for one in row)
        if heads < _LEAST_HEADS or any(has_value(one) for one in row):
            made.append(row)
            continue
        parted: list[Seen] = []
        for one in row:
            parted.extend(_apart(one, rows[place + 1 : place + 1 + _ROWS_UNDER], comma) or [one])
        made.append(parted)
    return made


def _apart(one: Seen, under: Sequence[Sequence[Seen]], comma: Comma) -> list[Seen] | None:
    if one.field or one.only_unit:
        return None
    if not any(_values_under(one.cell, row) > 1 for row in under):
        return None
    if one.label is None:
        close = _printed_as_one(one, comma)
        if close is not None:
            return close
    for space in re.finditer(r"\s+(?=[A-Za-z#])", one.text):
        parts = (one.text[: space.start()], one.text[space.end() :])
        if _heads(parts[0]) and _heads(parts[1], first=False):
            scale = (one.cell.x1 - one.cell.x0) / len(one.text)
            cut = one.cell.x0 + space.end() * scale
            before = replace(one.cell, text=parts[0], x1=cut - scale)
            return [
                seen(before, comma),
                seen(replace(one.cell, text=parts[1], x0=cut), comma),
            ]
    return None


def _printed_as_one(one: Seen, comma: Comma) -> list[Seen] | None:
    """Return the two headings that are printed without a space: "NDFNDFD30 % NDF"."""
    for at in range(len(one.text) - 2, 1, -1):
        if not (one.text[at - 1].isalnum() and one.text[at].isalpha()):
            continue
        labels = [label_of(one.text[:at]), label_of(one.text[at:])]
        both = [label for label in labels if label is not None and label.ours]
        if len(both) == 2 and not any(label.misspelled for label in both):
            cut = one.cell.x0 + at * (one.cell.x1 - one.cell.x0) / len(one.text)
            return [
                seen(replace(one.cell, text=one.text[:at], x1=cut - 0.1), comma),
                seen(replace(one.cell, text=one.text[at:], x0=cut), comma),
            ]
    return None


def _heads(text: str, first: bool = True) -> bool:
    label = label_of(text)
    if label is not None and label.maybe_basis and not first:
        return False
    return (label is not None and label.ours and not label.misspelled) or bool(field_of(text))


def _values_under(cell: Cell, row: Sequence[Seen]) -> int:
    return sum(
        one.cell.x0 < cell.x1 and one.cell.x1 > cell.x0
        for one in row
        if has_value(one) or one.cell.day
    )
