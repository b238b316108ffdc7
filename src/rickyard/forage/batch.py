"""A district's reports read at once: indices, grades, hazards and plausibility of each.

The work goes through the rows in blocks that stay in the processor's cache, and within a block
forage by forage, so that an equation or a limit that depends on the forage is chosen once for
many rows and not once for each.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import NDArray

from rickyard.farm import Forage
from rickyard.forage.batch_classes import batch_classes
from rickyard.forage.batch_indices import batch_indices
from rickyard.forage.classes import NOT_GIVEN
from rickyard.forage.columns import FORAGES, Column, ReportColumns
from rickyard.forage.plausibility import RULES
from rickyard.forage.screens import Screens, shipped_screens

Rows: TypeAlias = NDArray[np.intp]

#: Rows worked on at once: some ten thousand of each forage, a few columns of which fit the cache.
ROWS_AT_ONCE: Final = 524_288
LEVELS: Final = ("", "note", "warning", "error")
_LEVEL_PLACE: Final = {name: np.int8(place) for place, name in enumerate(LEVELS)}


@dataclass(frozen=True, slots=True)
class BatchReading:
    """What a batch of reports means, row by row in the order given.

    ``indices`` holds one array for each index, NaN where it cannot be computed. ``classes``
    holds the grades and hazard classes by the names of ``batch_classes.BATCH_CLASSES``, as
    places in the labels of their tables, -1 where nothing is classed. ``level`` is
    the place in ``LEVELS`` of the gravest rule that a report breaks. ``broken`` holds, by place
    in ``plausibility.RULES``, the rows that break the rule; rules that no report breaks are not
    in it.
    """

    indices: Mapping[str, Column]
    classes: Mapping[str, NDArray[np.int8]]
    level: NDArray[np.int8]
    broken: Mapping[int, NDArray[np.intp]]

    def __len__(self) -> int:
        return len(self.level)


def read_batch(
    columns: ReportColumns, screens: Screens | None = None, rows_at_once: int = ROWS_AT_ONCE
) -> BatchReading:
    """Interpret many reports at once.

    Parameters
    ----------
    columns : ReportColumns
        The reports, one row each, NaN where a value is not given.
    screens : Screens, optional
        A district's own screening limits; those shipped when not given.
    rows_at_once : int
        Rows in a block; decides speed and memory, never the result.

    Returns
    -------
    BatchReading
        Every index, grade, hazard class and broken rule of every report.

    Examples
    --------
    >>> from rickyard.forage.columns import plain_columns
    >>> fiber = {"adf": np.array([38.0, 62.0]), "ndf": np.array([62.0, 38.0])}
    >>> batch = read_batch(plain_columns(Forage.COOL_GRASS, fiber))
    >>> [LEVELS[place] for place in batch.level], batch.indices["rfv"].round().tolist()
    (['', 'error'], [89.0, 99.0])
    """
    limits = shipped_screens() if screens is None else screens
    work = _Work(columns, limits)
    with np.errstate(invalid="ignore", divide="ignore", over="ignore"):
        for place, forage, block in _groups(columns, rows_at_once):
            work.add(place, forage, block)
    broken = {rule: np.sort(np.concatenate(found)) for rule, found in sorted(work.broken.items())}
    return BatchReading(work.indices, work.classes, work.level, broken)


class _Work:
    """The results of a batch as they grow, group by group."""

    def __init__(self, columns: ReportColumns, limits: Screens) -> None:
        self.rows = len(columns)
        self.limits = limits
        self.rules = [
            (number, rule.broken, _LEVEL_PLACE[rule.level])
            for number, rule in enumerate(RULES)
            if columns.has(*rule.needs)
        ]
        self.indices: dict[str, Column] = {}
        self.classes: dict[str, NDArray[np.int8]] = {}
        self.level = np.zeros(self.rows, dtype=np.int8)
        self.broken: dict[int, list[NDArray[np.intp]]] = {}

    def add(self, place: Rows, forage: Forage, block: ReportColumns) -> None:
        """Interpret the rows of one group and put them where they stand."""
        indices = batch_indices(forage, block)
        for name, values in indices.items():
            if name not in self.indices:
                self.indices[name] = np.full(self.rows, np.nan)
            self.indices[name][place] = values
        for name, classes in batch_classes(forage, block, indices).items():
            if name not in self.classes:
                self.classes[name] = np.full(self.rows, NOT_GIVEN, dtype=np.int8)
            self.classes[name][place] = classes
        for number, broken, level in self.rules:
            found = np.flatnonzero(broken(block, self.limits))
            if found.size:
                rows = place[found]
                self.broken.setdefault(number, []).append(rows)
                self.level[rows] = np.maximum(self.level[rows], level)


def _groups(
    columns: ReportColumns, rows_at_once: int
) -> Iterator[tuple[Rows, Forage, ReportColumns]]:
    """Yield rows of one forage from each block, with where they stand.

    The forage of a group is one code that is broadcast against its rows.
    """
    for start in range(0, len(columns), rows_at_once):
        stop = min(start + rows_at_once, len(columns))
        codes = columns.forage[start:stop]
        order = np.argsort(codes.astype(np.int8), kind="stable")
        edges = np.searchsorted(codes[order], np.arange(len(FORAGES) + 1))
        for code, forage in enumerate(FORAGES):
            mine = order[edges[code] : edges[code + 1]]
            if mine.size:
                place = mine + start
                values = {name: column.take(place) for name, column in columns.values.items()}
                one = np.full(1, code, dtype=np.intp)
                yield place, forage, ReportColumns(one, columns.wet.take(place), values)
