"""Needs of ewes, does and mares for a district in one call, beside the bare NumPy arithmetic.

10,000 groups on 210 days: every constituent that the edition tells. Run it with
``python benchmarks/needs_small_stock.py``; it prints seconds (best of several), the ratio to the
bare arithmetic measured in the same run, and the peak memory of a call.
"""

from __future__ import annotations

import time
import tracemalloc
from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from rickyard.stock.common.tables import column, find_rows, read_rows
from rickyard.stock.goats.goat import goat_1981
from rickyard.stock.horses.horse import MILK_PER_KG, mare_in_milk
from rickyard.stock.sheep.sheep import sheep_1985

GROUPS, DAYS, ROUNDS = 10_000, 210, 5
FloatArray = NDArray[np.float64]
NAMES = (
    "dm_kg", "tdn_kg", "de_mcal", "me_mcal", "cp_g", "ca_g", "p_g", "vitamin_a_iu", "vitamin_e_iu",
)  # fmt: skip


FIELDS = {
    "ewes": NAMES,
    "does": (
        "me_mcal", "de_mcal", "tdn_kg", "dm_kg", "cp_g", "ca_g", "p_g", "vitamin_a_iu",
        "vitamin_d_iu",
    ),
    "mares": (
        "dm_kg", "de_mcal", "cp_g", "lysine_g", "ca_g", "p_g", "mg_g", "k_g", "na_g", "cl_g",
        "cu_mg", "zn_mg", "vitamin_a_iu", "vitamin_d_iu", "vitamin_e_iu", "s_g", "mn_mg", "fe_mg",
        "se_mg", "i_mg", "co_mg",
    ),
}  # fmt: skip


def bare_ewes(weight: FloatArray) -> list[FloatArray]:
    rows = find_rows("sheep_1985", **{"class": "ewe_lact_twin"})
    at = column(rows, "bw_kg")
    return [np.interp(weight, at, column(rows, name)) for name in NAMES]


def bare_does(weight: FloatArray, milk: FloatArray) -> list[FloatArray]:
    rows = read_rows("goat_1981_maintenance")
    kept = 0.10138 * weight**0.75 * 1.25
    me = kept + milk * 1.24612
    de = me * 76.0 / 62.0
    protein = 32.0 * kept * 76.0 / 62.0 + 72.0 * milk
    at = column(rows, "bw_kg")
    told = [me, de, de / 4.409, me / 2.0, protein]
    per_milk = {"ca_g": 3.0, "p_g": 2.1, "vitamin_a_1000iu": 3.8, "vitamin_d_iu": 760.0}
    for name, more in per_milk.items():
        told.append(1.25 * np.interp(weight, at, column(rows, name)) + more * milk)
    return told


def bare_mares(weight: FloatArray, month: FloatArray) -> list[FloatArray]:
    milk = np.asarray(MILK_PER_KG)[month.astype(np.int64) - 1] * weight
    early = month <= 3.0
    dm = 0.025 * weight
    protein = 1.44 * weight + 50.0 * milk
    told = [dm, 0.0363 * weight + 0.8333 * milk, protein, 0.043 * 1.44 * weight + 3.3 * milk]
    told.append(0.040 * weight + np.where(early, 2.4, 1.6) * milk)
    told.append((0.010 * weight + np.where(early, 0.75, 0.50) * milk) / 0.45)
    told.append(0.015 * weight + np.where(early, 0.225, 0.1125) * milk)
    told.append(0.050 * weight + np.where(early, 1.4, 0.8) * milk)
    told.append(0.020 * weight + np.where(early, 0.17, 0.14) * milk)
    told += [share * weight for share in (0.091, 0.25, 1.0, 60.0, 6.6, 2.0)]
    told += [share * dm for share in (1.5, 40.0, 50.0, 0.1, 0.35, 0.05)]
    return told


def best(call: Callable[[], object]) -> float:
    seconds = []
    for _ in range(ROUNDS):
        started = time.perf_counter()
        call()
        seconds.append(time.perf_counter() - started)
    return min(seconds)


def peak_mb(call: Callable[[], object]) -> float:
    tracemalloc.start()
    call()
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return peak / 1e6


def _agree(name: str, need: object, bare: list[FloatArray]) -> None:
    """Stop when the bare arithmetic does not give the numbers of the program."""
    ours = [getattr(need, field) for field in FIELDS[name]]
    for field, one, other in zip(FIELDS[name], ours, bare, strict=True):
        scale = 1000.0 if name == "does" and field == "vitamin_a_iu" else 1.0
        if not np.allclose(one, scale * other, rtol=1e-9):
            raise SystemExit(f"{name}: {field} differs from the bare arithmetic.")


def main() -> None:
    chance = np.random.default_rng(1)
    shape = (GROUPS, DAYS)
    ewe = chance.uniform(50.0, 90.0, shape)
    doe, milk = chance.uniform(40.0, 90.0, shape), chance.uniform(0.5, 4.0, shape)
    mare = chance.uniform(400.0, 650.0, shape)
    month = np.broadcast_to(np.minimum(np.arange(DAYS) // 30 + 1.0, 6.0), shape).copy()
    print(f"{GROUPS:,} groups x {DAYS} days, best of {ROUNDS}")
    for name, ours, bare in (
        ("ewes", lambda: sheep_1985("ewe_lact_twin", ewe), lambda: bare_ewes(ewe)),
        (
            "does",
            lambda: goat_1981(doe, activity_factor=1.25, milk_kg=milk),
            lambda: bare_does(doe, milk),
        ),
        ("mares", lambda: mare_in_milk(mare, month), lambda: bare_mares(mare, month)),
    ):
        _agree(name, ours(), bare())
        mine, theirs = best(ours), best(bare)
        print(
            f"{name}: {mine:.2f} s, bare {theirs:.2f} s, ratio {mine / theirs:.2f}, "
            f"peak {peak_mb(ours):.0f} MB against {peak_mb(bare):.0f} MB"
        )


if __name__ == "__main__":
    main()
