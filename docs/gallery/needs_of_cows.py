"""What one cow needs, from autumn to grass.

Needs follow the calving date. Every column of the table has the unit in its name.
"""

from datetime import date, timedelta

import rickyard as ry

cows = ry.Group(
    "cows",
    "Spring cows",
    ry.AnimalClass.COW,
    head=40,
    weight_kg=580.0,
    calving_on=date(2027, 3, 10),
)
days = [date(2026, 11, 15) + timedelta(days=45 * step) for step in range(5)]
needs = ry.group_needs(cows, days)
print(needs)
for day, nem, cp, stage in zip(days, needs.nem_mcal, needs.cp_kg, needs.stage, strict=True):
    print(f"{day}  NEm {nem:4.1f} Mcal  crude protein {cp:4.2f} kg  {stage}")
