"""How many bales to core.

Twenty is the usual answer. What is asked here is how near the mean of the cores is to the mean of
the lot, and how many cores a given nearness takes. Probes hurt: cap the drill stop, keep hands
behind the point, and never core a stack that leans.
"""

import rickyard as ry

SD_PCT = 1.6  # crude protein of single cores, points of dry matter: an invented lot
REPEAT_SD_PCT = 0.3  # repeats in one laboratory, invented as well

for cores in (5, 10, 20, 40):
    se_pct = ry.composite_se(SD_PCT, REPEAT_SD_PCT, cores)
    print(f"{cores:2d} cores: the mean is known to about +/- {2.0 * se_pct:.1f} points of protein")
within_pct = 0.8
enough = ry.samples_required(SD_PCT, within_pct, 0.90)
print(f"within {within_pct} points nine times in ten: {enough} cores")
