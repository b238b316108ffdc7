"""Many small linear programs with the same variables, side by side in one."""

from __future__ import annotations

import numpy as np

from rickyard.program.solver.highs import Session
from rickyard.program.solver.points import Meter, SolveError, SparseRows, placed
from rickyard.types import FloatArray, IntArray


class Blocks:
    """Blocks of a linear program with the same variables and nothing in common.

    A row is one of a few templates, columns of a block with their coefficients, and its bounds.
    """

    def __init__(self, width: int) -> None:
        self.width = width
        self._lower: list[FloatArray] = []
        self._upper: list[FloatArray] = []
        self._column: list[IntArray] = []
        self._value: list[FloatArray] = []
        self._rows: list[tuple[int, int, float, float]] = []

    def template(self, column: IntArray, value: FloatArray) -> int:
        """Return the number of a new row; variables that are not there count for nothing."""
        there = placed(column) & (value != 0.0)
        self._column.append(column[there])
        self._value.append(value[there])
        return len(self._column) - 1

    def begin(self, lower: FloatArray, upper: FloatArray) -> None:
        """Open a block with the bounds of its variables."""
        self._lower.append(lower)
        self._upper.append(upper)

    def row(self, template: int, low: float, high: float) -> None:
        """Write a row of the open block."""
        self._rows.append((template, len(self._lower) - 1, low, high))

    def session(self, cost: FloatArray, meter: Meter) -> Session:
        """Return a session on all blocks."""
        template = [one[0] for one in self._rows]
        block = np.array([one[1] for one in self._rows], dtype=np.int64)
        low, high = np.array([one[2:] for one in self._rows]).T
        length = np.array([len(self._column[one]) for one in template], dtype=np.int64)
        rows = SparseRows(
            np.repeat(np.arange(len(template)), length),
            np.concatenate([self._column[one] for one in template])
            + np.repeat(block * self.width, length),
            np.concatenate([self._value[one] for one in template]),
            low,
            high,
        )
        lower, upper = np.concatenate(self._lower), np.concatenate(self._upper)
        return Session(cost, lower, upper, rows, meter)

    def only(self, kept: list[bool]) -> Blocks:
        """Return some of the blocks."""
        found = Blocks(self.width)
        found._column, found._value = self._column, self._value
        number = np.cumsum(kept) - 1
        found._lower = [one for one, there in zip(self._lower, kept, strict=True) if there]
        found._upper = [one for one, there in zip(self._upper, kept, strict=True) if there]
        found._rows = [
            (template, int(number[block]), low, high)
            for template, block, low, high in self._rows
            if kept[block]
        ]
        return found

    def possible(self, meter: Meter) -> list[bool]:
        """Return which blocks have an answer."""
        found = []
        for block in range(len(self._lower)):
            alone = self.only([number == block for number in range(len(self._lower))])
            try:
                alone.session(np.zeros(self.width), meter).minimise()
            except SolveError:
                found.append(False)
            else:
                found.append(True)
        return found
