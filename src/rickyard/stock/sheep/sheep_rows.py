"""Rows of the table of sheep laid over mothers and days."""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.stock.common import RuminantNeed, find_row
from rickyard.stock.sheep.sheep import TWIN_ROWS, sheep_1985, with_triplets
from rickyard.types import BoolArray, FloatArray

COLUMNS: Final = ("dm_kg", "tdn_kg", "me_mcal", "cp_g", "ca_g", "p_g")
MORE: Final = ("vitamin_a_iu", "vitamin_e_iu")


class Rows:
    """Needs of N mothers on T days, gathered from rows of the table.

    ``weight`` is the weight at which rows are read. ``most_pct_bw`` is the highest published
    intake of the stage, in percent of weight.
    """

    def __init__(self, weight: FloatArray) -> None:
        self.weight = weight
        self.values = {name: np.zeros(weight.shape) for name in (*COLUMNS, *MORE)}
        self.most_pct_bw = np.zeros(weight.shape)
        self.evidence: list[str] = []
        self.flags: list[str] = []

    def put(self, where: BoolArray, need: RuminantNeed, share: float = 1.0) -> None:
        """Add a share of a need that was computed for the weights of some days."""
        for name, values in self.values.items():
            values[where] += share * np.asarray(getattr(need, name))
        self.evidence.append(need.evidence)
        self.flags.extend(need.flags)

    def row(self, where: BoolArray, sheep_class: str, share: float = 1.0) -> None:
        """Add a share of a row of the table on some days."""
        if share > 0.0 and np.any(where):
            self.put(where, sheep_1985(sheep_class, self.weight[where]), share)

    def litter(
        self, where: BoolArray, young: float, classes: tuple[str, str], share: float = 1.0
    ) -> None:
        """Add a mix of rows for singles, twins and triplets that means ``young`` per ewe."""
        twins, triplets = min(max(young - 1.0, 0.0), 1.0), min(max(young - 2.0, 0.0), 1.0)
        single, twin = classes
        self.row(where, single, share * (1.0 - twins))
        self.row(where, twin, share * (twins - triplets))
        if triplets > 0.0 and np.any(where):
            need = with_triplets(sheep_1985(twin, self.weight[where]))
            self.put(where, need, share * triplets)

    def late(self, where: BoolArray, sheep_class: str, young: float, share: float = 1.0) -> None:
        """Add the row of late pregnancy, raised for the share of triplets."""
        triplets = min(max(young - 2.0, 0.0), 1.0) if sheep_class in TWIN_ROWS else 0.0
        self.row(where, sheep_class, share * (1.0 - triplets))
        if triplets > 0.0 and np.any(where):
            need = with_triplets(sheep_1985(sheep_class, self.weight[where]))
            self.put(where, need, share * triplets)

    def cap(self, where: BoolArray, hay_rate: str) -> None:
        """Set the most that is eaten on some days by the published range of a class."""
        row = find_row("hay_rates", **{"class": hay_rate})
        self.most_pct_bw[where] = float(row["high_pct_bw"])
