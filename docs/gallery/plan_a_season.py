"""Plan a season and look at it as columns.

The program comes re-checked. ``table`` gives any part of it as NumPy arrays; ``to_pandas`` makes a
frame of them where pandas is installed.
"""

import rickyard as ry
from small_farm import FARM, QUICK

program = ry.plan(FARM, options=QUICK)
print(program)
feeding = ry.table(program, "feeding")
for group in ("cows", "heifers"):
    for source in ("GOOD", "POOR", "cubes"):
        mine = (feeding["group_id"] == group) & (feeding["source_id"] == source)
        print(f"{group:8} {source:6} {feeding['offered_kg'][mine].sum() / 1000.0:6.1f} t as fed")
