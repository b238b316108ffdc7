"""Titles that each tell the basis of what stands under them, down to the next."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from rickyard.labs.common import Cell
from rickyard.labs.legends.legend import Legend, legend_of
from rickyard.labs.tables import Draft, Found, Hint

_BOTH: Final = frozenset(("dm", "ar"))
_LONGEST_TITLE: Final = 120


def tell_sections(draft: Draft, legend: Legend) -> None:
    """Give values the basis of the title over them, where titles tell different ones in turn.

    "Results of the first lab, all on dry matter" over two samples, and "Results of the second
    lab, as received" over two others. The first title stands over every value, and values stand
    under each; otherwise the basis is left open.

    Parameters
    ----------
    draft : Draft
        What was found of a file; bases are added to its values.
    legend : Legend
        What its sentences say.
    """
    if set(legend.bases) != _BOTH or len({sample.page for sample in draft.samples}) != 1:
        return
    titles = [(cell.row, basis) for cell in _lines(draft.texts) if (basis := _basis_of(cell))]
    if {basis for _, basis in titles} != _BOTH or len(titles) != len({row for row, _ in titles}):
        return
    titles.sort()
    under: dict[int, list[Found]] = {row: [] for row, _ in titles}
    for sample in draft.samples:
        rows = {_over(one, titles) for one in sample.found}
        if len(rows) != 1 or None in rows:
            return  # a sample under two titles, or over every one
        under[next(row for row in rows if row is not None)].extend(sample.found)
    if not all(under.values()):
        return
    words = dict(titles)
    for row, values in under.items():
        for one in values:
            one.bases.append(Hint(words[row], "the section"))


def _lines(texts: Sequence[Cell]) -> list[Cell]:
    return [one for one in texts if len(one.text) <= _LONGEST_TITLE]


def _basis_of(cell: Cell) -> str:
    return legend_of([cell.text]).basis


def _over(one: Found, titles: Sequence[tuple[int, str]]) -> int | None:
    """Return the row of the last title over a value; ``None`` where none is over it."""
    return max((row for row, _ in titles if row < one.cell.row), default=None)
