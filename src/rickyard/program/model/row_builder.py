"""Rows of a linear program, collected family by family."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from rickyard.program.solver import Entries, SparseRows, nowhere, placed
from rickyard.types import BoolArray, FloatArray, IntArray


@dataclass(slots=True)
class RowBuilder:
    """Collects rows; ``model_cells`` is the group-period cell of each ``x``."""

    model_cells: IntArray
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
        bounds = np.broadcast_arrays(lower, upper, np.zeros(count))[:2]
        self.lower.append(bounds[0])
        self.upper.append(bounds[1])
        self.count += len(bounds[0])
        return np.arange(self.count - len(bounds[0]), self.count, dtype=np.int64)

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

    def finish(self) -> SparseRows:
        """Return all rows."""
        return SparseRows.of(np.concatenate(self.lower), np.concatenate(self.upper), *self.blocks)
