"""The published tables of what can harm: one class table for each hazard and source.

Two tables on one hazard are never averaged; the one that is used is named. ``HAZARD_TABLES``
says which column of a report each belongs to, for classing many reports at once.
"""

from __future__ import annotations

import csv
from importlib.resources import files
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


def _read() -> dict[str, ClassTable]:
    """Read the tables of the package; ``>`` marks a class that begins above its limit only."""
    text = files("rickyard.forage").joinpath("data", "hazard_classes.csv").read_text("utf-8")
    return {
        row["key"]: ClassTable(
            row["name"],
            row["unit"],
            tuple(
                above(float(limit[1:])) if limit.startswith(">") else float(limit)
                for limit in row["limits"].split("|")
            ),
            tuple(row["labels"].split("|")),
            "up" if row["limit_goes"] == "up" else "down",
            row["source"],
        )
        for row in csv.DictReader(text.splitlines())
    }


_TABLES: Final = _read()
NITRATE_DAIRYLAND: Final = _TABLES["nitrate_dairyland"]
NITRATE_WYOMING: Final = _TABLES["nitrate_wyoming"]
NITRATE_WATER: Final = _TABLES["nitrate_water"]
HCN_WARD_WET: Final = _TABLES["hcn_ward_wet"]
HCN_DM: Final = _TABLES["hcn_dm"]
ERGOVALINE_CATTLE: Final = _TABLES["ergovaline_cattle"]
ERGOVALINE_SHEEP: Final = _TABLES["ergovaline_sheep"]
ERGOVALINE_HORSE: Final = _TABLES["ergovaline_horse"]
ERGOVALINE_BROOD_MARE: Final = _TABLES["ergovaline_brood_mare"]
LOLITREM_B: Final = _TABLES["lolitrem_b"]
SULFUR_DIET: Final = _TABLES["sulfur_diet"]
SELENIUM: Final = _TABLES["selenium"]
COPPER_TO_MOLYBDENUM: Final = _TABLES["copper_to_molybdenum"]
MOLD_PENN_STATE: Final = _TABLES["mold_penn_state"]
MOLD_HORSE: Final = _TABLES["mold_horse"]
NSC_HORSE: Final = _TABLES["nsc_horse"]
TETANY: Final = _TABLES["tetany"]

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
