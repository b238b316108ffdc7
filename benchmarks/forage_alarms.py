"""How often planted faults are found with the right cause, and how often sound reports alarm.

Run from the top of the repository::

    python benchmarks/forage_alarms.py
"""

from __future__ import annotations

import sys
from collections import Counter
from pathlib import Path
from time import perf_counter

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "tests"))

from rickyard.forage.plausibility.plausibility import RULES, broken_rules
from support.forage_reports import alarm_rates, hit_rates, plausible_columns

ROWS, SEED = 10_000, 20_260_601


def main() -> None:
    hits = hit_rates()
    print(f"{hits.reports} reports with one planted fault")
    print(f"  right cause named       {hits.named:4d}  {100 * hits.named / hits.reports:.1f} %")
    print(f"  right cause named first {hits.first:4d}  {100 * hits.first / hits.reports:.1f} %")
    print(f"  flagged at all          {hits.flagged:4d}  {100 * hits.flagged / hits.reports:.1f} %")
    print(f"  reading proposed right  {hits.proposed:4d}  of {hits.to_propose}")
    for name in hits.missed:
        print(f"  missed: {name}")
    start = perf_counter()
    alarms = alarm_rates(ROWS, SEED)
    seconds = perf_counter() - start
    print(f"{ROWS} plausible synthetic reports, {seconds:.2f} s with the drawing")
    print(f"  with an error           {100 * alarms.errors:.2f} %")
    print(f"  with an error or warning {100 * alarms.warnings:.1f} %")
    columns = plausible_columns(ROWS, SEED)
    counts: Counter[str] = Counter()
    for place, rows in broken_rules(columns).items():
        counts[f"{RULES[place].rule} {RULES[place].level}"] += int(np.count_nonzero(rows))
    for name, count in counts.most_common(10):
        print(f"  {count:5d}  {name}")


if __name__ == "__main__":
    main()
