"""A district's reports read at once: indices, grades, hazards and plausibility of each.

The work goes through the rows in blocks that stay in the processor's cache, and within a block
forage by forage, so that an equation or a limit that depends on the forage is chosen once for
many rows and not once for each.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final, TypeAlias

import numpy as np
from numpy.typing import DTypeLike, NDArray

from rickyard.farm import Forage
from rickyard.forage.batch.batch_indices import batch_indices
from rickyard.forage.plausibility import RULES
from rickyard.forage.values import (
    CLASSED,
    FORAGES,
    NOT_GIVEN,
    ReportColumns,
    Screens,
    shipped_screens,
)
from rickyard.types import FloatArray

Rows: TypeAlias = NDArray[np.intp]

#: Rows worked on at once, measured to be fastest: some ten thousand of each forage, a few columns
#: of which fit the cache.
ROWS_AT_ONCE: Final = 262_144
LEVELS: Final = ("", "note", "warning", "error")
_LEVEL_PLACE: Final = {name: np.int8(place) for place, name in enumerate(LEVELS)}


@dataclass(frozen=True, slots=True)
class BatchReading:
    """What a batch of reports means, row by row in the order given.

    ``indices`` holds one array for each index, NaN where it cannot be computed. ``classes``
    holds the grades and hazard classes by the names of ``classes.CLASSED``, as
    places in the labels of their tables, -1 where nothing is classed. ``level`` is
    the place in ``LEVELS`` of the gravest rule that a report breaks. ``broken`` holds, by place
    in ``plausibility.RULES``, the rows that break the rule; rules that no report breaks are not
    in it.
    """

    indices: Mapping[str, FloatArray]
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
    >>> from rickyard.forage.values.columns import plain_columns
    >>> fiber = {"adf": np.array([38.0, 62.0]), "ndf": np.array([62.0, 38.0])}
    >>> batch = read_batch(plain_columns(Forage.COOL_GRASS, fiber))
    >>> [LEVELS[place] for place in batch.level], batch.indices["rfv"].round().tolist()
    (['', 'error'], [89.0, 99.0])
    """
    work = _Work(columns, shipped_screens() if screens is None else screens)
    with np.errstate(invalid="ignore", divide="ignore", over="ignore"):
        for start in range(0, len(columns), rows_at_once):
            work.read(start, min(start + rows_at_once, len(columns)))
    broken = {rule: np.sort(np.concatenate(found)) for rule, found in sorted(work.broken.items())}
    return BatchReading(
        {name: one.whole for name, one in work.indices.items()},
        {name: one.whole for name, one in work.classes.items()},
        work.level,
        broken,
    )


@dataclass(slots=True)
class _Result:
    """One result: of all rows in their order, and of one block in the order of forages."""

    whole: NDArray[Any]
    sorted: NDArray[Any]
    absent: float


class _Work:
    """The results of a batch as they grow, block by block."""

    def __init__(self, columns: ReportColumns, limits: Screens) -> None:
        self.columns = columns
        self.limits = limits
        self.rules = [
            (number, rule.broken, _LEVEL_PLACE[rule.level])
            for number, rule in enumerate(RULES)
            if columns.has(*rule.needs)
        ]
        self.given: dict[str, FloatArray] = {}
        self.indices: dict[str, _Result] = {}
        self.classes: dict[str, _Result] = {}
        self.level = np.zeros(len(columns), dtype=np.int8)
        self.broken: dict[int, list[Rows]] = {}

    def read(self, start: int, stop: int) -> None:
        """Interpret a block of rows, forage by forage."""
        codes = self.columns.forage[start:stop].astype(np.int8)
        order = np.argsort(codes, kind="stable")
        rank = np.empty_like(order)
        rank[order] = np.arange(len(order))
        edges = np.searchsorted(codes[order], np.arange(len(FORAGES) + 1)).tolist()
        for name, column in self.columns.values.items():
            if len(self.given.get(name, ())) != len(order):
                self.given[name] = np.empty(len(order))
            self.given[name][rank] = column[start:stop]
        wet = self.columns.wet[start:stop].take(order)
        for one in (*self.indices.values(), *self.classes.values()):
            one.sorted.fill(one.absent)
        for code, forage in enumerate(FORAGES):
            part = slice(edges[code], edges[code + 1])
            if part.start < part.stop:
                values = {name: column[part] for name, column in self.given.items()}
                # The forage of a group is one code that is broadcast against its rows.
                group = ReportColumns(np.full(1, code, dtype=np.intp), wet[part], values)
                self._group(forage, group, part, start + order[part], len(order))
        for one in (*self.indices.values(), *self.classes.values()):
            np.take(one.sorted[: len(rank)], rank, out=one.whole[start:stop], mode="clip")

    def _group(
        self, forage: Forage, group: ReportColumns, part: slice, rows: Rows, block: int
    ) -> None:
        indices = batch_indices(forage, group)
        for name, values in indices.items():
            self._keep(self.indices, name, np.nan, np.float64, block)[part] = values
        for name, places in _classes(forage, group, indices).items():
            self._keep(self.classes, name, NOT_GIVEN, np.int8, block)[part] = places
        for number, broken, level in self.rules:
            found = np.flatnonzero(broken(group, self.limits))
            if found.size:
                hit = rows[found]
                self.broken.setdefault(number, []).append(hit)
                self.level[hit] = np.maximum(self.level[hit], level)

    def _keep(
        self,
        kept: dict[str, _Result],
        name: str,
        absent: float,
        kind: DTypeLike,
        block: int,
    ) -> NDArray[Any]:
        if name not in kept:
            whole = np.full(len(self.columns), absent, dtype=kind)
            kept[name] = _Result(whole, np.full(block, absent, dtype=kind), absent)
        return kept[name].sorted


def _classes(
    forage: Forage, block: ReportColumns, indices: Mapping[str, FloatArray]
) -> dict[str, NDArray[np.int8]]:
    """Grade and class the reports of a forage; -1 where a value is not given."""
    found = {}
    for name, one in CLASSED.items():
        values = indices.get(one.what)
        if values is None and block.has(one.what):
            values = block[one.what]
        if values is None or forage not in one.forages:
            continue
        places = one.table.places(one.factor * values)
        found[name] = np.where(block.wet, places, np.int8(NOT_GIVEN)) if one.wet_only else places
    return found
