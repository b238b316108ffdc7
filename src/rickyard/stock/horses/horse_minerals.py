"""Minerals and vitamins of horses, and the whole need put together from its parts."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Final

import numpy as np

from rickyard.evidence import MEMORY, SEEN
from rickyard.quantities import Numeric, as_given
from rickyard.stock.common import HorseNeed, find_row, read_rows
from rickyard.types import FloatArray

#: Per kg of weight and per kg of sweat; NRC 2007, maintenance seen, the rest from memory.
SALTS: Final = {"k_g": (0.050, 2.8), "na_g": (0.020, 3.1), "cl_g": (0.080, 5.3)}


@lru_cache(maxsize=64)
def per_kg_bw(constituent: str, work: str) -> float:
    """Return a mineral or vitamin of adult horses per kg of weight, by work [g/kg or IU/kg].

    >>> per_kg_bw("ca", "none"), per_kg_bw("ca", "light")
    (0.04, 0.06)
    """
    wanted = "maintenance" if work == "none" else work
    row = find_row("horse_2007_per_kg", constituent=constituent, work=wanted)
    return float(row["per_kg_bw"])


@lru_cache(maxsize=1)
def trace_ppm() -> dict[str, float]:
    """Return the trace elements of adult horses [mg/kg DM], and sulfur [g/kg DM], by element.

    >>> trace_ppm()["zn"]
    40.0
    """
    return {row["element"]: float(row["per_kg_dm"]) for row in read_rows("horse_2007_trace")}


def horse_need(
    weight: FloatArray,
    dm_pct_bw: float,
    vitamins: Sequence[Numeric],
    *given: Numeric,
    remembered: bool = True,
    flags: tuple[str, ...] = (),
    sweat_kg: Numeric = 0.0,
    fe_ppm: float | None = None,
    **amounts: Numeric,
) -> HorseNeed:
    """Put a whole need together from what a class of horses sets and what is the usual amount.

    ``vitamins`` A, D and E are per kg of weight, ``amounts`` by the names of a ``HorseNeed``.
    ``*given`` are the inputs of the caller: all floats give floats. ``remembered`` says that a
    coefficient is from memory with no printed row that confirms it.
    """
    dm, trace = dm_pct_bw / 100.0 * weight, trace_ppm()
    if fe_ppm is not None:
        amounts["fe_mg"] = fe_ppm * dm
    for name, (per_kg, per_sweat) in SALTS.items():
        if name not in amounts:
            amounts[name] = per_kg * weight + per_sweat * sweat_kg
    for element, per_kg_dm in trace.items():
        name = "s_g" if element == "s" else f"{element}_mg"
        if name not in amounts:
            amounts[name] = per_kg_dm * dm
    for vitamin, per_kg in zip("ade", vitamins, strict=True):
        amounts[f"vitamin_{vitamin}_iu"] = per_kg * weight
    shape = np.broadcast_shapes(weight.shape, np.shape(amounts["de_mcal"]))

    def told(value: Numeric) -> Numeric:
        whole = np.asarray(value, dtype=np.float64)
        if whole.shape != shape:
            whole = np.broadcast_to(whole, shape).copy()
        return as_given(whole, *given)

    return HorseNeed(
        evidence=MEMORY if remembered else SEEN,
        flags=flags,
        dm_kg=told(dm),
        **{name: told(value) for name, value in amounts.items()},
    )
