"""The published tables of what can harm: one class table for each hazard and source.

Two tables on one hazard are never averaged; the one that is used is named. ``HAZARD_TABLES``
says which column of a report each belongs to, for classing many reports at once.
"""

from __future__ import annotations

from typing import Final

from rickyard.forage.values import (
    CLEMSON_CLASSES,
    CLEMSON_SOURCE,
    SERVITECH_CLASSES,
    SERVITECH_SOURCE,
    ClassTable,
    above,
)

PPB_PER_PPM: Final = 1000.0  # by definition
_NO3N: Final = "ppm NO3-N in the dry matter"


NITRATE_CLEMSON: Final = ClassTable(
    "nitrate by Clemson",
    _NO3N,
    tuple(top for top, _ in CLEMSON_CLASSES[:-1]),
    tuple(label for _, label in CLEMSON_CLASSES),
    "down",
    CLEMSON_SOURCE,
)
NITRATE_SERVITECH: Final = ClassTable(
    "nitrate by ServiTech",
    _NO3N,
    tuple(top for top, _ in SERVITECH_CLASSES[:-1]),
    tuple(label for _, label in SERVITECH_CLASSES),
    "up",
    SERVITECH_SOURCE,
)
# Dairyland Laboratories, from New Mexico State, South Dakota State and Wisconsin.
NITRATE_DAIRYLAND: Final = ClassTable(
    "nitrate by Dairyland",
    _NO3N,
    (1000.0, 2000.0, above(4000.0)),
    (
        "safe",
        "generally safe; pregnant max 50% of ration DM",
        "less than 50% of ration DM",
        "do not feed",
    ),
    "up",
    "Dairyland Laboratories, nitrates (New Mexico State, South Dakota State, Wisconsin)",
)
# Wyoming Livestock Roundup 2013; the print ends at 9,000, where 1.5 % potassium nitrate begins.
NITRATE_WYOMING: Final = ClassTable(
    "nitrate by Wyoming",
    "ppm NO3 in the dry matter",
    (6000.0, 9000.0),
    ("safe", "caution", "above the table"),
    "up",
    "Wyoming Livestock Roundup 2013, feeding and managing high nitrate feeds",
)
# Nitrate-nitrogen in drinking water, milligrams per litre; from memory.
NITRATE_WATER: Final = ClassTable(
    "nitrate in water",
    "mg NO3-N per litre",
    (10.0, 20.0, 40.0, above(100.0)),
    ("safe", "safe with low-nitrate feed", "caution", "risk", "do not use"),
    "up",
    "Water guide for livestock, from memory",
)
# Ward Laboratories, prussic acid sheet; on fresh weight.
HCN_WARD_WET: Final = ClassTable(
    "prussic acid by Ward",
    "ppm as received (fresh)",
    (200.0, above(600.0)),
    (
        "should not cause poisoning",
        "potentially toxic: restricted rate",
        "very toxic: very restricted or none",
    ),
    "up",
    "Ward Laboratories, prussic acid poisoning (wet basis)",
)
# Extension table on dry matter, from memory; Purdue and Penn State agree on 1,000 ppm.
HCN_DM: Final = ClassTable(
    "prussic acid in dry matter",
    "ppm in the dry matter",
    (500.0, above(1000.0)),
    ("low", "potentially toxic", "dangerous"),
    "up",
    "Extension table of prussic acid on dry matter, from memory; Purdue and Penn State at 1,000",
)
# Recommendation of the handbook for cattle (7.3): the Missouri and Oregon State figures joined.
ERGOVALINE_CATTLE: Final = ClassTable(
    "ergovaline, cattle",
    "ppb in the dry matter",
    (200.0, 400.0),
    ("low", "watch", "toxic"),
    "up",
    "Kenyon, University of Missouri (over 250 toxic); Oregon State Endophyte Laboratory (400-750)",
)
# Oregon State Endophyte Laboratory: sheep 500-800, horses 300-500.
ERGOVALINE_SHEEP: Final = ClassTable(
    "ergovaline, sheep",
    "ppb in the dry matter",
    (500.0, 800.0),
    ("low", "watch", "toxic"),
    "up",
    "Oregon State University Endophyte Service Laboratory (500-800)",
)
ERGOVALINE_HORSE: Final = ClassTable(
    "ergovaline, horses other than brood mares",
    "ppb in the dry matter",
    (300.0, 500.0),
    ("low", "watch", "toxic"),
    "up",
    "Oregon State University Endophyte Service Laboratory (300-500)",
)
# No ergovaline is tolerated by mares late in pregnancy (Oregon State).
ERGOVALINE_BROOD_MARE: Final = ClassTable(
    "ergovaline, brood mares",
    "ppb in the dry matter",
    (0.0,),
    ("none", "not tolerated"),
    "down",
    "Oregon State University Endophyte Service Laboratory (0 tolerated)",
)
LOLITREM_B: Final = ClassTable(
    "lolitrem B, cattle and sheep",
    "ppb in the dry matter",
    (1800.0, 2000.0),
    ("low", "watch", "toxic"),
    "up",
    "Oregon State University Endophyte Service Laboratory (1800-2000)",
)
# Colorado State University: 0.30 % with little forage, 0.40 % older general limit; Today's
# Farmer: 0.50 % with more than 40 % forage, the last figure from memory.
SULFUR_DIET: Final = ClassTable(
    "sulfur in the whole diet, water included",
    "% of dry matter",
    (0.30, 0.40, 0.50),
    (
        "within every limit",
        "too much below 15% forage",
        "above the older general limit",
        "too much for any ruminant",
    ),
    "down",
    "Colorado State University, sulfur intake by hand; Today's Farmer (last limit from memory)",
)
SELENIUM: Final = ClassTable(
    "selenium",
    "ppm in the dry matter",
    (0.10, 0.20, above(5.0)),
    ("deficient", "marginal", "adequate", "above the maximum tolerable"),
    "up",
    "Int. J. Appl. Agric. Sci. 2016;2(6):112-125",
)
# Weak source for 2:1; 4 and 6 from memory.
COPPER_TO_MOLYBDENUM: Final = ClassTable(
    "copper to molybdenum",
    "ratio of masses",
    (2.0, 4.0, 6.0),
    ("toxic antagonism", "low", "acceptable", "desired"),
    "up",
    "Trace-mineral summary (222health.com, weak) for 2 to 1; 4 and 6 to 1 from memory",
)
# Adams et al. 1993, colonies per gram as received; the upper limit belongs to the class.
MOLD_PENN_STATE: Final = ClassTable(
    "mold count by Penn State",
    "colonies per gram as received",
    (500_000.0, 1_000_000.0, 2_000_000.0, 3_000_000.0, 5_000_000.0),
    (
        "relatively low risk",
        "relatively safe",
        "feed with caution",
        "closely observe animals and performance",
        "dilute with other feeds",
        "discontinue feeding",
    ),
    "down",
    "Adams et al. 1993, Penn State, mold and mycotoxin problems in livestock feeding",
)
# Common practice; University of Wisconsin: no moldy hay to horses.
MOLD_HORSE: Final = ClassTable(
    "mold count for horses",
    "colonies per gram as received",
    (500_000.0, 1_000_000.0),
    ("low", "doubtful", "do not feed"),
    "down",
    "Common practice; University of Wisconsin: do not feed moldy hay to horses",
)
# Horses prone to laminitis: at most 10 % preferred, 12 % the usual limit; normal ones bear 20.
NSC_HORSE: Final = ClassTable(
    "sugar and starch for horses",
    "% of dry matter (starch + WSC)",
    (10.0, 12.0, 20.0),
    (
        "fit for horses prone to laminitis",
        "near the limit for horses prone to laminitis",
        "too rich for horses prone to laminitis",
        "above what normal horses are said to tolerate",
    ),
    "down",
    "kppusa.com 2018, quoting Equi-Analytical; trade leaflet on NSC",
)
TETANY: Final = ClassTable(
    "grass tetany ratio",
    "K / (Ca + Mg), charges",
    (2.2,),
    ("low", "tetany risk"),
    "down",
    "Oetzel 1993: 0.77% of cows below, 6.66% above",
)

#: The tables by name, each with the column or index that it classes and its factor on it.
HAZARD_TABLES: Final[dict[str, tuple[str, float, ClassTable]]] = {
    "nitrate_clemson": ("nitrate_no3n", 1.0, NITRATE_CLEMSON),
    "nitrate_servitech": ("nitrate_no3n", 1.0, NITRATE_SERVITECH),
    "nitrate_dairyland": ("nitrate_no3n", 1.0, NITRATE_DAIRYLAND),
    "hcn": ("hcn", 1.0, HCN_DM),
    "ergovaline_cattle": ("ergovaline", PPB_PER_PPM, ERGOVALINE_CATTLE),
    "ergovaline_sheep": ("ergovaline", PPB_PER_PPM, ERGOVALINE_SHEEP),
    "ergovaline_horse": ("ergovaline", PPB_PER_PPM, ERGOVALINE_HORSE),
    "ergovaline_brood_mare": ("ergovaline", PPB_PER_PPM, ERGOVALINE_BROOD_MARE),
    "lolitrem_b": ("lolitrem_b", PPB_PER_PPM, LOLITREM_B),
    "sulfur": ("s", 1.0, SULFUR_DIET),
    "selenium": ("se", 1.0, SELENIUM),
    "copper_to_molybdenum": ("cu/mo", 1.0, COPPER_TO_MOLYBDENUM),
    "mold": ("mold", 1.0, MOLD_PENN_STATE),
    "mold_horse": ("mold", 1.0, MOLD_HORSE),
    "nsc_horse": ("nsc", 1.0, NSC_HORSE),
    "tetany": ("tetany", 1.0, TETANY),
}
