"""Minerals and vitamins of horses, and the whole need put together from its parts."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from rickyard.evidence import MEMORY, SEEN
from rickyard.quantities import Numeric, OutOfRange, as_given
from rickyard.stock.common import HorseNeed, find_row, read_rows
from rickyard.types import FloatArray

EDITION: Final = "NRC 2007 horses"

# Per kg of weight and per kg of sweat; NRC 2007, maintenance seen, the rest from memory.
K_PER_KG, K_PER_SWEAT = 0.050, 2.8
NA_PER_KG, NA_PER_SWEAT = 0.020, 3.1
CL_PER_KG, CL_PER_SWEAT = 0.080, 5.3


@dataclass(frozen=True, slots=True)
class DietPart:
    """What differs between classes of horses; ``None`` stands for the usual amount."""

    dm_pct_bw: float
    de_mcal: FloatArray
    cp_g: FloatArray
    lysine_g: FloatArray
    ca_g: FloatArray
    p_g: FloatArray
    mg_g: FloatArray
    vitamins: tuple[float | FloatArray, ...]
    k_g: FloatArray | None = None
    na_g: FloatArray | None = None
    cl_g: FloatArray | None = None
    cu_mg: FloatArray | None = None
    zn_mg: FloatArray | None = None
    fe_ppm: float | None = None
    sweat_kg: FloatArray | float = 0.0


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
    part: DietPart,
    *given: Numeric,
    remembered: bool = True,
    flags: tuple[str, ...] = (),
) -> HorseNeed:
    """Put a whole need together from what differs between classes and what does not.

    ``*given``: the inputs of the caller: all floats give floats. ``remembered``: whether a
    coefficient is from memory with no printed row that confirms it.
    """
    if len(part.vitamins) != 3:
        raise OutOfRange("Vitamins A, D and E are told together.")
    dm = part.dm_pct_bw / 100.0 * weight
    trace = trace_ppm()

    shape = np.broadcast_shapes(weight.shape, np.shape(part.de_mcal))

    def told(value: Numeric) -> Numeric:
        whole = np.asarray(value, dtype=np.float64)
        if whole.shape != shape:
            whole = np.broadcast_to(whole, shape).copy()
        return as_given(whole, *given)

    def usual(own: FloatArray | None, per_kg: float, per_sweat: float) -> Numeric:
        return told(per_kg * weight + per_sweat * part.sweat_kg if own is None else own)

    iron = trace["fe"] if part.fe_ppm is None else part.fe_ppm
    vitamin_a, vitamin_d, vitamin_e = (told(one * weight) for one in part.vitamins)
    return HorseNeed(
        edition=EDITION,
        basis="equation",
        evidence=MEMORY if remembered else SEEN,
        dm_kg=told(dm),
        de_mcal=told(part.de_mcal),
        cp_g=told(part.cp_g),
        lysine_g=told(part.lysine_g),
        ca_g=told(part.ca_g),
        p_g=told(part.p_g),
        mg_g=told(part.mg_g),
        k_g=usual(part.k_g, K_PER_KG, K_PER_SWEAT),
        na_g=usual(part.na_g, NA_PER_KG, NA_PER_SWEAT),
        cl_g=usual(part.cl_g, CL_PER_KG, CL_PER_SWEAT),
        s_g=told(trace["s"] * dm),
        cu_mg=told(trace["cu"] * dm if part.cu_mg is None else part.cu_mg),
        zn_mg=told(trace["zn"] * dm if part.zn_mg is None else part.zn_mg),
        mn_mg=told(trace["mn"] * dm),
        fe_mg=told(iron * dm),
        se_mg=told(trace["se"] * dm),
        i_mg=told(trace["i"] * dm),
        co_mg=told(trace["co"] * dm),
        vitamin_a_iu=vitamin_a,
        vitamin_d_iu=vitamin_d,
        vitamin_e_iu=vitamin_e,
        flags=flags,
    )
