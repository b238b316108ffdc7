"""Look whether the hay lasts, before anything is planned.

The yard page counts what stands on a day, what storage took, and whether it is enough for the
season.
"""

import rickyard as ry
from small_farm import FARM

page = ry.yard_page(FARM, FARM.season.start)
lines = ry.table(page, "lines")
print(page)
for name, dry_kg in zip(lines["name"], lines["standing_dry_kg"], strict=True):
    print(f"{name:20} {dry_kg / 1000.0:5.1f} t of dry matter")
outlook = page.outlook
if outlook is not None:
    stands_t, need_t = outlook.standing_kg / 1000.0, outlook.need_kg / 1000.0
    print(f"{stands_t:.0f} t stand, {need_t:.0f} t are needed")
    print(f"the reserve is reached on: {outlook.out_on or 'no day of the season'}")
