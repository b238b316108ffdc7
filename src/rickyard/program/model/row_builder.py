"""Rows of a linear program, collected family by family."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Final

import numpy as np

from rickyard.program.solver import Entries, SparseRows, nowhere, placed
from rickyard.types import BoolArray, FloatArray, IntArray

#: What a source gives of these may be written anew into a model that stands.
WRITTEN_ANEW: Final = ("cp", "tdn", "nem", "neg")


@dataclass(frozen=True, slots=True)
class GivenRows:
    """Coefficients of amounts by what a kilogram of their source gives of something.

    Each is ``value`` now and moves by ``part`` of what the source gives more of ``supply``; those
    that are zero stand here too.
    """

    supply: str
    row: IntArray
    column: IntArray
    value: FloatArray
    part: FloatArray

    def of(self, columns: BoolArray) -> GivenRows:
        """Return those of some of the amounts."""
        here = columns[self.column]
        return GivenRows(
            self.supply, self.row[here], self.column[here], self.value[here], self.part[here]
        )

    def at(self, place: IntArray) -> GivenRows:
        """Return those of the amounts that have a place in another program."""
        left = self.of(placed(place))
        return replace(left, column=place[left.column])


@dataclass(slots=True)
class RowBuilder:
    """Collects rows; ``model_cells`` is the group-period cell of each ``x``."""

    model_cells: IntArray
    given: list[GivenRows] = field(default_factory=list)
    blocks: list[Entries] = field(default_factory=list)
    lower: list[FloatArray] = field(default_factory=list)
    upper: list[FloatArray] = field(default_factory=list)
    count: int = 0

    def entries(
        self, row: IntArray | int, column: IntArray | int, value: FloatArray | float
    ) -> None:
        """Write coefficients."""
        self.blocks.append((row, column, value))

    def new_rows(
        self, lower: FloatArray | float, upper: FloatArray | float, count: int = 1
    ) -> IntArray:
        """Open rows with bounds, ``count`` of them where no bound says how many; number them."""
        low, high, _ = np.broadcast_arrays(lower, upper, np.zeros(count))
        self.lower.append(low)
        self.upper.append(high)
        self.count += len(low)
        return np.arange(self.count - len(low), self.count, dtype=np.int64)

    def by_cell(
        self,
        active: BoolArray,
        value: FloatArray,
        lower: FloatArray | float = -np.inf,
        upper: FloatArray | float = np.inf,
    ) -> IntArray:
        """Open one row per active cell with a coefficient for every ``x`` of the cell."""
        row_of = nowhere(len(active))
        low, high = (np.broadcast_to(one, active.shape)[active] for one in (lower, upper))
        row_of[active] = self.new_rows(low, high, len(low))
        rows = row_of[self.model_cells]
        wanted = placed(rows) & (value != 0.0)
        self.entries(rows[wanted], np.flatnonzero(wanted), value[wanted])
        return row_of

    def by_supply(
        self, supply: str, row: IntArray, column: IntArray, value: FloatArray, part: FloatArray
    ) -> None:
        """Remember coefficients, written already, that what sources give of something decides."""
        if supply in WRITTEN_ANEW:
            self.given.append(GivenRows(supply, row, column, value, part))

    def by_source(self) -> tuple[GivenRows, ...]:
        """Return the coefficients that what sources give decides, together for each of what."""
        found = []
        for supply in WRITTEN_ANEW:
            blocks = [one for one in self.given if one.supply == supply]
            if blocks:
                each = ([b.row, b.column, b.value, b.part] for b in blocks)
                found.append(
                    GivenRows(supply, *(np.concatenate(p) for p in zip(*each, strict=True)))
                )
        return tuple(found)

    def finish(self) -> SparseRows:
        """Return all rows."""
        return SparseRows.of(np.concatenate(self.lower), np.concatenate(self.upper), *self.blocks)
