"""Interpret a million laboratory reports, and compare with the bare arithmetic of the same rules.

Run: ``python benchmarks/forage_batch.py [rows] [rounds]``. Prints seconds, the ratio and the
peak of memory, after checking that both give the same numbers. NumPy runs such
arithmetic on one core.
"""

from __future__ import annotations

import resource
import sys
import time

import numpy as np
from forage_bare import bare_classes, bare_indices, bare_rules

from rickyard.forage.batch.batch import read_batch
from rickyard.forage.plausibility.plausibility import RULES
from rickyard.forage.values.classes import CLASSED
from rickyard.forage.values.columns import FORAGE_CODE, FORAGES, ReportColumns
from rickyard.forage.values.screens import shipped_screens

ROWS = 1_000_000
ROUNDS = 5
#: Rows of a block in which the bare arithmetic is measured too: it may profit from the cache.
BARE_BLOCKS = (1 << 62, 262_144, 65_536, 16_384)

#: Mean and spread of legumes and of grasses, and the share of reports without the value.
LEGUME = {
    "dm": (88.0, 2.0), "cp": (18.5, 2.5), "adf": (33.0, 3.0), "ndf": (43.0, 4.0),
    "lignin": (7.2, 0.7), "ash": (9.5, 1.0), "ee": (2.2, 0.3), "ndicp": (3.2, 0.4),
    "adicp": (1.3, 0.25), "ndfd48": (46.0, 4.0), "starch": (2.0, 0.5), "wsc": (8.5, 1.5),
    "tdn": (58.5, 2.5), "ca": (1.35, 0.18), "p": (0.25, 0.03), "mg": (0.3, 0.04),
    "k": (2.2, 0.35), "s": (0.27, 0.04), "na": (0.06, 0.02), "cl": (0.5, 0.12),
    "fe": (220.0, 60.0), "cu": (9.0, 1.5), "zn": (25.0, 4.0), "mn": (38.0, 8.0),
    "mo": (1.5, 0.4), "se": (0.15, 0.04), "nitrate_no3n": (350.0, 120.0), "hcn": (150.0, 60.0),
    "ergovaline": (0.2, 0.08), "lolitrem_b": (0.6, 0.3), "mold": (3e5, 1e5), "ph": (4.8, 0.3),
    "lactic": (4.0, 1.0), "butyric": (0.2, 0.1), "aflatoxin": (0.005, 0.002), "don": (0.5, 0.2),
    "fumonisin": (0.3, 0.1),
}  # fmt: skip
GRASS = {
    **LEGUME, "cp": (11.0, 2.0), "adf": (37.5, 2.5), "ndf": (62.0, 4.0), "lignin": (5.6, 0.6),
    "ash": (7.6, 0.9), "adicp": (0.9, 0.2), "ndfd48": (52.0, 5.0), "tdn": (56.0, 2.5),
    "ca": (0.5, 0.08), "p": (0.23, 0.03), "mg": (0.2, 0.03), "k": (1.9, 0.3),
}  # fmt: skip
MISSING = 0.08
#: Tests that few reports hold.
RARE = {"hcn": 0.95, "ergovaline": 0.95, "lolitrem_b": 0.98, "mold": 0.9, "ph": 0.9, "lactic": 0.95,
    "butyric": 0.95, "aflatoxin": 0.98, "don": 0.98, "fumonisin": 0.98,
}  # fmt: skip


def district(rows: int, seed: int = 20_261_101) -> ReportColumns:
    """Make plausible reports on every forage, some values not given, in no order."""
    rng = np.random.default_rng(seed)
    codes = rng.integers(0, len(FORAGES), rows)
    legume = codes <= FORAGE_CODE[FORAGES[2]]
    values = {}
    for name in LEGUME:
        (m1, s1), (m2, s2) = LEGUME[name], GRASS[name]
        normal = rng.standard_normal(rows)
        values[name] = np.where(legume, m1 + s1 * normal, m2 + s2 * normal)
    me = 0.82 * 0.04409 * values["tdn"]
    values["nem"] = -1.12 + me * (1.37 + me * (-0.138 + me * 0.0105))
    values["neg"] = -1.65 + me * (1.42 + me * (-0.174 + me * 0.0122))
    values["rfv"] = (88.9 - 0.779 * values["adf"]) * 120.0 / values["ndf"] / 1.29
    for name, column in values.items():
        if name not in ("dm", "cp"):
            column[rng.random(rows) < RARE.get(name, MISSING)] = np.nan
    wet = rng.random(rows) < 0.1
    values["dm"] = np.where(wet, values["dm"] - 36.0, values["dm"])
    return ReportColumns(codes.astype(np.intp), wet, values)


def bare(columns: ReportColumns, block: int, tables, limits):
    """Run the bare arithmetic in blocks and return the results of each."""
    results = []
    rows = len(columns)
    with np.errstate(invalid="ignore", divide="ignore", over="ignore"):
        for start in range(0, rows, min(block, rows)):
            part = slice(start, min(start + block, rows))
            v = {name: column[part] for name, column in columns.values.items()}
            f, wet = columns.forage[part], columns.wet[part]
            indices = bare_indices(v, f)
            classes = bare_classes(v, f, wet, indices, tables)
            results.append((start, indices, classes, *bare_rules(v, f, wet, limits)))
    return results


def tables_and_limits(columns: ReportColumns):
    tables = {}
    for name, one in CLASSED.items():
        mine = np.array([forage in one.forages for forage in FORAGES])
        up = one.table.limit_goes == "up"
        tables[name] = (one.what, one.factor, one.table.limits, up, mine, one.wet_only)
    limits = {}
    for name, one in shipped_screens().limits.items():
        needs = ("dm",) if name == "dm_wet" else name.split("/")
        if columns.has(*needs):
            limits[name] = (one.low, one.high, one.hard_low, one.hard_high)
    return tables, limits


def check(columns: ReportColumns, tables, limits) -> int:
    """Stop unless the package and the bare arithmetic agree on every number; count them."""
    package = read_batch(columns)
    (_, indices, classes, rules, level) = bare(columns, 1 << 62, tables, limits)[0]
    for name, values in indices.items():
        same = np.isclose(package.indices[name], values, rtol=1e-9, atol=1e-9, equal_nan=True)
        assert same.all(), (name, np.flatnonzero(~same)[:3])
    assert set(indices) == set(package.indices)
    for name, values in classes.items():
        assert np.array_equal(package.classes[name], values), name
    assert set(classes) == set(package.classes)
    assert np.array_equal(package.level, level)
    mine, theirs = {}, {}
    for place, rows in package.broken.items():
        mine.setdefault(RULES[place].rule, set()).update(rows.tolist())
    for rule, flags in rules:
        theirs.setdefault(rule, set()).update(np.flatnonzero(flags).tolist())
    for rule in sorted({*mine, *theirs}):  # causes of one rule are told apart by the package alone
        assert mine.get(rule, set()) == theirs.get(rule, set()), f"rule {rule} marks other rows"
    return sum(columns.has(*rule.needs) for rule in RULES)


def best(run, rounds: int) -> float:
    times = []
    for _ in range(rounds):
        began = time.perf_counter()
        run()
        times.append(time.perf_counter() - began)
    return min(times)


def main() -> None:
    rows = int(sys.argv[1]) if len(sys.argv) > 1 else ROWS
    rounds = int(sys.argv[2]) if len(sys.argv) > 2 else ROUNDS
    columns = district(rows)
    read_batch(columns)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    tables, limits = tables_and_limits(columns)
    small = district(60_000, seed=7)
    active = check(small, tables, limits)
    print(f"{rows:,} reports, {len(columns.values)} columns, {active} rules, one thread")
    package, bares = [], {block: [] for block in BARE_BLOCKS}
    for _ in range(rounds):  # in turn, so that a busy machine slows both
        package.append(best(lambda: read_batch(columns), 1))
        for block in BARE_BLOCKS:
            bares[block].append(best(lambda b=block: bare(columns, b, tables, limits), 1))
    for block, times in bares.items():
        words = "whole columns" if block >= rows else f"blocks of {block:,}"
        print(f"bare arithmetic, {words}: {min(times):.2f} s")
    fastest = min(min(times) for times in bares.values())
    print(f"read_batch: {min(package):.2f} s, {1e6 * min(package) / rows:.2f} us a report")
    print(f"ratio to the fastest bare arithmetic: {min(package) / fastest:.2f}")
    print(f"ratio to whole columns: {min(package) / min(bares[BARE_BLOCKS[0]]):.2f}")
    print(f"peak memory with input and results: {peak:,.0f} MB")


if __name__ == "__main__":
    main()
