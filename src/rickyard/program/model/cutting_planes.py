"""The tangents laid to the curved rows of one season, from the first to the last."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import Final, Protocol

import numpy as np

from rickyard.program.model.chance_rows import LINEAR, AssuredRows
from rickyard.program.model.nonlinear_rows import (
    FIRST_RATIOS,
    NOTHING_KG,
    AppetiteRows,
    growth_breach,
    growth_cuts,
)
from rickyard.program.model.rows import Model
from rickyard.program.problem import Assurance
from rickyard.program.solver import Optimum, SparseRows, placed
from rickyard.types import BoolArray, FloatArray, IntArray

#: A curved row may be missed by this much, relatively, before a tangent is added.
CURVED_TOLERANCE: Final = 1e-8

#: How tangents of the assured energy of growing stock are kept apart from those of its means.
ASSURED_GAIN: Final = "assured gain_energy"


@dataclass(frozen=True, slots=True)
class _Laid:
    """One tangent for each cell: where they stand, and where they touch.

    ``touch`` is the ratio of each cell, or the diet of every cell; ``None`` for a promise.
    """

    cells: IntArray
    rows: IntArray
    touch: FloatArray | None = None


@dataclass(frozen=True, slots=True)
class CutState:
    """Where the tangents stood: how many were laid, which may move, at which diets they touch."""

    laid: dict[str, int]
    free: BoolArray
    diet: FloatArray


class Growing(Protocol):
    """A linear program that takes more rows: a session, or a part of one."""

    def add_rows(self, rows: SparseRows) -> int:
        """Append rows and return where the first of them stands."""
        ...

    def change(self, row: IntArray, column: IntArray, value: FloatArray) -> None:
        """Replace single coefficients."""
        ...


class Tangents:
    """The tangents laid so far to the curved rows, and where they stand in the program.

    Parameters
    ----------
    model : Model
        The linear program the rows are for.
    session : Growing
        Where they are laid.

    Attributes
    ----------
    doubtful : int
        How many of the tangents laid last were for promises.
    """

    def __init__(self, model: Model, session: Growing) -> None:
        self._model, self._session = model, session
        self._laid: dict[str, list[_Laid]] = defaultdict(list)
        self.doubtful = 0
        assurance = model.problem.assurance
        self._assured = None if assurance is None else AssuredRows(model, assurance)
        self._appetite = AppetiteRows.of(model)
        self._free = np.ones(model.problem.needs.head_days.size, dtype=bool)
        self._diet = self._appetite.first_diet()
        self._first_appetite_row = self._lay_curved("appetite", self._appetite.cells, self._diet)
        growing = np.flatnonzero(placed(model.columns.shortage["gain_energy"]))
        for ratio in FIRST_RATIOS:
            self._lay_curved("gain_energy", growing, np.full(len(growing), ratio))

    def lay_in(self, session: Growing) -> None:
        """Lay what follows in another program of the same rows and variables."""
        self._session = session

    def moved_to(self, model: Model, session: Growing) -> Tangents:
        """Return the same tangents over a program of the same rows and fewer variables."""
        other = Tangents.__new__(Tangents)
        other._model, other._session, other.doubtful = model, session, 0
        other._laid = defaultdict(list, {name: list(laid) for name, laid in self._laid.items()})
        assurance = model.problem.assurance
        other._assured = None if assurance is None else AssuredRows(model, assurance)
        other._appetite = AppetiteRows.of(model)
        other._free, other._diet = self._free.copy(), self._diet.copy()
        other._first_appetite_row = self._first_appetite_row
        return other

    def improve(self, x: FloatArray, *, move: bool) -> int:
        """Add tangents where a curve is broken, move the others, and return how many changed."""
        broken, ratio = growth_breach(self._model, x)
        short = np.flatnonzero(broken > CURVED_TOLERANCE)
        self._lay_curved("gain_energy", short, ratio[short])
        over, diet = self._appetite.breach(x)
        full = self._appetite.cells[over[self._appetite.cells] > CURVED_TOLERANCE]
        self._lay_curved("appetite", full, diet)
        self._free[full] = False
        self.doubtful = self._assure(x)
        return len(short) + len(full) + self.doubtful + (self._move(diet) if move else 0)

    def over(self, model: Model) -> None:
        """Lay the tangents of the curves, where they touch now, to a model of the same amounts.

        Needs are the same too: a coefficient is another only where a source gives other energy.
        """
        other = _of_other_energy(self._model, model)
        self._model, self._appetite = model, self._appetite.over(model)
        if not other.any():
            return
        touched = np.zeros(model.problem.needs.head_days.size, dtype=bool)
        touched[model.cells()[other]] = True
        for name, blocks in self._laid.items():
            for at, one in enumerate(blocks):
                mine = touched[one.cells]
                if one.touch is None or not mine.any():
                    continue
                touch = one.touch[mine] if name == "gain_energy" else one.touch
                if at == 0 and name == "appetite":
                    touch = self._diet
                new = self._curved(name, one.cells[mine], touch)
                amounts = new.column < len(other)
                here = np.flatnonzero(amounts)[other[new.column[amounts]]]
                row = one.rows[mine][new.row[here]]
                self._session.change(row, new.column[here], new.value[here])

    def start_at(self, x: FloatArray) -> None:
        """Move the appetite tangents to the diets of a program made before."""
        _, diet = self._appetite.breach(x)
        self._move(diet)

    def breach(self, x: FloatArray) -> tuple[float, float]:
        """Return by how much growth and appetite are missed most, relatively.

        A promise that is missed counts as growth missed in full.
        """
        broken, _ = growth_breach(self._model, x)
        over, _ = self._appetite.breach(x)
        growth = float(broken.max(initial=0.0))
        if self._assured is not None and any(len(cut.cells) for cut in self._assured.broken(x)):
            growth = 1.0
        return growth, float(over[self._appetite.cells].max(initial=0.0))

    def again(self) -> None:
        """Begin rounds anew: the program is held in another way than before."""
        if self._assured is not None:
            self._assured.again()

    def assure(self, assurance: Assurance) -> None:
        """Promise more than before. The tangents laid hold for every higher chance too."""
        self._assured = AssuredRows(self._model, assurance)

    def mark(self) -> CutState:
        """Return where the tangents stand, to come back to."""
        laid = {name: len(blocks) for name, blocks in self._laid.items()}
        return CutState(laid, self._free.copy(), self._diet.copy())

    def back_to(self, mark: CutState) -> None:
        """Forget the tangents laid since a mark, and move the others back.

        The session must have come back to its own mark, without the rows of those tangents.
        """
        for name, blocks in self._laid.items():
            del blocks[mark.laid.get(name, 0) :]
        moved = self._diet != mark.diet
        self._diet = mark.diet.copy()
        self._write_first(moved)
        self._free = mark.free.copy()

    def prices(self, optimum: Optimum) -> dict[str, FloatArray]:
        """Return what a unit of need or room costs by cell, from the prices of the tangents."""
        eaten = np.maximum(self._model.totals(optimum.x, "dm"), NOTHING_KG)
        nem = np.maximum(self._model.totals(optimum.x, "nem"), NOTHING_KG)
        # A tangent of the energy row reads R M/M0^2 + E G/G0^2 >= 1: one more Mcal of R asks for
        # 1/M0 more. One of appetite reads X/a <= 1: one more kilogram of a gives 1/a.
        prices = {
            "gain_energy": self._dual("gain_energy", optimum) / nem,
            "appetite": self._dual("appetite", optimum) / eaten,
        }
        if self._assured is not None:
            sure = np.maximum(self._assured.nem(optimum.x), NOTHING_KG)
            prices["gain_energy"] += self._dual(ASSURED_GAIN, optimum) / sure
            # Those of a sum ask for the need itself.
            prices |= {need: self._dual(need, optimum) for need in LINEAR}
        return prices

    def rows(self) -> dict[str, IntArray]:
        """Return by nutrient where its tangents stand among the rows."""
        found: dict[str, list[IntArray]] = defaultdict(list)
        for name, laid in self._laid.items():
            need = "gain_energy" if name == ASSURED_GAIN else name
            found[need].extend(one.rows for one in laid)
        return {need: np.concatenate(rows) for need, rows in found.items()}

    def _dual(self, name: str, optimum: Optimum) -> FloatArray:
        total = np.zeros(self._model.problem.needs.head_days.size)
        for one in self._laid.get(name, []):
            total[one.cells] += optimum.row_dual[one.rows]
        return total

    def _assure(self, x: FloatArray) -> int:
        """Lay tangents where the assured supply falls short, and return how many."""
        if self._assured is None:
            return 0
        count = 0
        for cut in self._assured.broken(x):
            name = ASSURED_GAIN if cut.need == "gain_energy" else cut.need
            self._lay(name, cut.cells, cut.rows)
            count += len(cut.cells)
        return count

    def _lay_curved(self, name: str, cells: IntArray, touch: FloatArray) -> int:
        """Lay tangents of a curve that touch it there, and return where the first stands."""
        if not len(cells):
            return -1
        return self._lay(name, cells, self._curved(name, cells, touch), touch)

    def _curved(self, name: str, cells: IntArray, touch: FloatArray) -> SparseRows:
        if name == "appetite":
            return self._appetite.rows(cells, touch)
        return growth_cuts(self._model, touch, cells)

    def _lay(
        self, name: str, cells: IntArray, rows: SparseRows, touch: FloatArray | None = None
    ) -> int:
        """Lay one tangent for each cell, and return where the first of them stands."""
        first = self._session.add_rows(rows)
        laid = _Laid(cells, np.arange(first, first + len(cells)), touch)
        self._laid[name].append(laid)
        return first

    def _move(self, diet: FloatArray) -> int:
        """Move the first appetite tangents of cells that needed no second one."""
        cells = self._appetite.cells
        self._diet = np.where(self._free, diet, self._diet)
        self._write_first(self._free)
        return int(self._free[cells].sum())

    def _write_first(self, wanted: BoolArray) -> None:
        """Write the first appetite tangents of the wanted cells at their diets."""
        at = np.flatnonzero(wanted[self._appetite.cells])
        if not len(at):
            return
        rows = self._appetite.rows(self._appetite.cells[at], self._diet)
        self._session.change(at[rows.row] + self._first_appetite_row, rows.column, rows.value)


def _of_other_energy(old: Model, new: Model) -> BoolArray:
    """Say of each amount whether its source gives other energy in another model."""
    before, after = old.problem.per_kg, new.problem.per_kg
    source = (before["nem"] != after["nem"]) | (before["neg"] != after["neg"])
    return np.asarray(source[old.columns.source])
