"""Rows that are put into another order to be read: tiles, and headings printed as one."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from rickyard.labs.common import Cell
from rickyard.labs.tables.blocks import has_value
from rickyard.labs.tables.cells import Seen, beside, seen
from rickyard.labs.tables.fields import OF_SAMPLE
from rickyard.labs.vocabulary import Comma, field_of, label_of

#: So many values over their labels make tiles.
_LEAST_TILES: Final = 3
#: So many labels in a row head a table.
_LEAST_HEADS: Final = 3
#: So many rows under a heading are looked at.
_ROWS_UNDER: Final = 4
#: Where labels and values of tiles are put, in points or signs.
_AT: Final = (0.0, 300.0, 400.0, 440.0)


def tiles_in_lines(rows: list[list[Seen]], gridded: bool) -> list[list[Seen]]:
    """Put values that stand over their labels into lines of a label with its value.

    Rows of values and rows of labels take turns, beginning with values and ending with labels,
    and no heading stands over the first.
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
        for above, below in run:
            made.extend(
                _line(label, value, gridded)
                for value, label in zip(rows[above], rows[below], strict=True)
            )
        place = run[-1][1] + 1
    return made


def fields_in_lines(rows: list[list[Seen]], gridded: bool) -> list[list[Seen]]:
    """Put fields of one sample that stand under their names into lines of a name with its text.

    "Sample   Received   Reported" over "Stack B   Oct 1   Oct 3" with no second row under it.
    """
    made: list[list[Seen]] = []
    place = 0
    while place < len(rows):
        names = rows[place]
        texts = rows[place + 1] if place + 1 < len(rows) else []
        after = rows[place + 2] if place + 2 < len(rows) else []
        if _names_fields(names) and _fills(texts, names, gridded) and not _fills(
            after, names, gridded
        ):  # fmt: skip
            made.extend(_line(*pair, gridded) for pair in zip(names, texts, strict=True))
            place += 2
            continue
        made.append(names)
        place += 1
    return made


def _names_fields(row: Sequence[Seen]) -> bool:
    return len(row) > 1 and all(
        one.field in OF_SAMPLE and not one.text.rstrip().endswith(":") for one in row
    )


def _fills(texts: Sequence[Seen], names: Sequence[Seen], gridded: bool) -> bool:
    """Return whether a row has one text under each name, and no names itself."""
    return _aligned(texts, names, gridded) and not any(one.field or one.label for one in texts)


def _kind(row: Sequence[Seen]) -> str:
    """Return whether a row holds only values, only labels, or something else."""
    if row and all(has_value(one) for one in row):
        return "values"
    named = sum(one.label is not None for one in row)
    plain_text = all(
        not one.is_value and not one.field and (one.label or not one.only_unit) for one in row
    )
    return "labels" if row and plain_text and 2 * named > len(row) else ""


def _run(
    rows: list[list[Seen]], kinds: list[str], first: int, gridded: bool
) -> list[tuple[int, int]]:
    """Return the pairs of rows of tiles that begin at a row, if there are any."""
    before = next((kinds[n] for n in range(first - 1, -1, -1) if rows[n]), "")
    if kinds[first] != "values" or before == "labels":
        return []
    places = []
    for place in range(first, len(rows)):
        if rows[place] and not kinds[place]:
            break
        if rows[place]:
            places.append(place)
    pairs = list(zip(places[::2], places[1::2], strict=False))
    fit = [
        (a, b) for a, b in pairs if kinds[a] == "values" and kinds[b] == "labels"
        and _aligned(rows[a], rows[b], gridded)
    ]  # fmt: skip
    if len(places) % 2 or len(fit) < len(pairs):
        return []
    return fit if sum(len(rows[a]) for a, _ in fit) >= _LEAST_TILES else []


def _aligned(values: Sequence[Seen], labels: Sequence[Seen], gridded: bool) -> bool:
    return len(values) == len(labels) and all(
        beside(one.cell, other.cell, gridded) <= 0.0
        for one, other in zip(values, labels, strict=True)
    )


def _line(label: Seen, value: Seen, gridded: bool) -> list[Seen]:
    at = (0.0, 0.5, 1.0, 1.5) if gridded else _AT
    return [
        replace(label, cell=replace(label.cell, x0=at[0], x1=at[1])),
        replace(value, cell=replace(value.cell, x0=at[2], x1=at[3])),
    ]


def headings_apart(rows: list[list[Seen]], comma: Comma) -> list[list[Seen]]:
    """Part headings of two columns that are printed so near that they are one text.

    "TDN % NEm Mcal/lb" is parted where two values stand under it and both parts are headings.
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
    if (one.label is not None and one.label.ours) or one.field or one.only_unit:
        return None
    if " " not in one.text or not any(_values_under(one.cell, row) > 1 for row in under):
        return None
    for space in re.finditer(r"\s+(?=[A-Za-z#])", one.text):
        parts = (one.text[: space.start()], one.text[space.end() :])
        if all(_heads(part) for part in parts):
            scale = (one.cell.x1 - one.cell.x0) / len(one.text)
            cut = one.cell.x0 + space.end() * scale
            before = replace(one.cell, text=parts[0], x1=cut - scale)
            return [
                seen(before, comma),
                seen(replace(one.cell, text=parts[1], x0=cut), comma),
            ]
    return None


def _heads(text: str) -> bool:
    label = label_of(text)
    return (label is not None and label.ours and not label.misspelled) or bool(field_of(text))


def _values_under(cell: Cell, row: Sequence[Seen]) -> int:
    return sum(
        one.cell.x0 < cell.x1 and one.cell.x1 > cell.x0
        for one in row
        if has_value(one) or one.cell.day
    )
