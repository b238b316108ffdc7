"""A farm of two hays and two groups, made in Python.

A farm need not be a folder. This one has a good hay, a poor hay, dry cows that calve in March and
heifers that are to grow; the examples that plan a season use it. ``write_folder`` writes it as a
folder that any spreadsheet opens.
"""

from datetime import date

import rickyard as ry

DRY = ry.Basis.DRY_MATTER


def hay(lot_id: str, name: str, bales: float, tdn_pct: float, cp_pct: float) -> ry.Lot:
    """Return a lot of round bales under a roof."""
    return ry.Lot(
        lot_id,
        name,
        ry.Forage.COOL_GRASS,
        ry.Package.ROUND,
        ry.Storage.ENCLOSED_BARN,
        bales=bales,
        baled_on=date(2026, 6, 20),
        counted_on=date(2026, 10, 1),
        bale_weight_kg=540.0,
        dm_pct=86.0,
        value_usd_per_kg=0.09 if cp_pct > 9.0 else 0.06,
    )


def test_of(lot_id: str, tdn_pct: float, cp_pct: float) -> ry.Report:
    """Return a laboratory report on a lot."""
    values = {"tdn": tdn_pct, "cp": cp_pct, "ndf": 68.0 - cp_pct, "ca": 0.45, "p": 0.24}
    analytes = tuple(ry.Analyte(name, value, "pct", DRY) for name, value in values.items())
    nitrate = ry.Analyte("nitrate_no3n", 150.0, "ppm", DRY)
    return ry.Report(f"T-{lot_id}", lot_id, (*analytes, nitrate))


FARM = ry.Farm(
    "Two hays",
    ry.Season(date(2026, 11, 2), date(2027, 4, 5), rainfall_mm_per_year=900.0),
    lots=(
        hay("GOOD", "Second cutting", 90, 58.0, 12.0),
        hay("POOR", "Late first cutting", 190, 51.0, 7.2),
    ),
    reports=(test_of("GOOD", 58.0, 12.0), test_of("POOR", 51.0, 7.2)),
    groups=(
        ry.Group("cows", "Cows", ry.AnimalClass.COW, 35, 580.0, calving_on=date(2027, 3, 10)),
        ry.Group(
            "heifers",
            "Heifers",
            ry.AnimalClass.REPLACEMENT_HEIFER,
            12,
            270.0,
            mature_weight_kg=580.0,
            age_months=8.0,
            gain_kg_per_day=0.55,
        ),
    ),
    feeds=(
        ry.Feed("cubes", "Range cubes", ry.FeedKind.SUPPLEMENT, 0.42, dm_pct=90.0, tdn_pct=78.0,
                cp_pct=22.0, ndf_pct=25.0, ca_pct=0.6, p_pct=0.8),
        ry.Feed("mineral", "Mineral", ry.FeedKind.MINERAL, 0.9, dm_pct=98.0, tdn_pct=0.0,
                cp_pct=0.0, ndf_pct=0.0, ca_pct=14.0, p_pct=7.0),
    ),
)  # fmt: skip

#: The first program that is found will do for an example.
QUICK = ry.PlanOptions(seconds=0.0)

if __name__ == "__main__":
    print(FARM)
    print(ry.table(FARM, "lots"))
