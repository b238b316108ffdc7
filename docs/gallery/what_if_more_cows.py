"""Ask what ten more cows would cost, and a lot that burns.

Each answer is a program of its own, set beside the one that stands.
"""

import rickyard as ry
from small_farm import FARM, QUICK

base = ry.plan(FARM, options=QUICK)
for change in (ry.HeadCount("cows", 45), ry.LotLoss("GOOD", 0.5), ry.Intake(0.05)):
    print(ry.what_if(FARM, change, base=base, options=QUICK).sentence)
