"""Read one report: hazards first, then what the hay is for.

A lot and its report are plain objects; ``read_lot`` turns them into sentences and numbers with
their errors.
"""

from datetime import date

import rickyard as ry

lot = ry.Lot(
    "L1",
    "Creek field",
    ry.Forage.COOL_GRASS,
    ry.Package.ROUND,
    ry.Storage.COVERED_GROUND,
    bales=80,
    baled_on=date(2026, 6, 20),
    counted_on=date(2026, 9, 1),
    bale_weight_kg=540.0,
)
dry = ry.Basis.DRY_MATTER
report = ry.Report(
    "R1",
    "L1",
    (
        ry.Analyte("cp", 8.1, "pct", dry),
        ry.Analyte("adf", 39.0, "pct", dry),
        ry.Analyte("ndf", 63.0, "pct", dry),
        ry.Analyte("nitrate_no3n", 2300.0, "ppm", dry),
    ),
)
reading = ry.read_lot(lot, [report])
for caution in reading.cautions:
    print(f"{caution.level.upper()}: {caution.sentence}")
print(reading.headline)
print(reading.lacks)
