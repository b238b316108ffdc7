"""Compare a program that mixes hays with one that feeds one at a time.

A simpler program costs more; the comparison says how much, and what it uses instead.
"""

import rickyard as ry
from small_farm import FARM, QUICK

mixed = ry.plan(FARM, options=QUICK)
single = ry.plan(ry.with_season(FARM, hays_at_once=1), options=QUICK)
both = ry.compare({"mixed": mixed, "one at a time": single})
print(both)
fed = ry.table(both, "fed_t")
for at, lot in enumerate(fed["key"]):
    print(f"{lot}: {fed['mixed'][at]:.0f} t or {fed['one at a time'][at]:.0f} t of dry matter")
