"""Say which lots to sample, when and how.

The plan of each lot gives the day, the bales, the depth and the tests. A drill and a probe hurt:
read the cautions of the plan before going out.
"""

import rickyard as ry
from small_farm import FARM

untested = ry.Farm(FARM.name, FARM.season, lots=FARM.lots, groups=FARM.groups)
for plan in ry.sampling_plan(untested, FARM.season.start):
    way, depth_m = plan.protocols[0], plan.probing.depth_m
    print(plan)
    print(f"  {way.cores} cores, {depth_m} m deep, {plan.probing.face}")
