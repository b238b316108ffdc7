"""Every limit of a hazard table is the printed one, and stands for one lot as for many."""

from __future__ import annotations

import math

import pytest

from rickyard.forage.hazards import (
    endophyte,
    hazard_tables,
    molds,
    poisons,
    sulfur,
    trace_minerals,
)
from rickyard.forage.hazards.horse_hazards import NSC_LAMINITIS_LIMIT_PCT
from rickyard.forage.values import minerals
from rickyard.forage.values.classes import ClassTable, above

#: As their sources print them; limits that belong to the class above them
#: only from the next number on are marked by a plus sign.
PRINTED = {
    # 7.1 Clemson; ServiTech; Dairyland; Wyoming; water guide from memory. [ppm; mg/L]
    "NITRATE_CLEMSON": "1000 1500 2000 3500 4000",
    "NITRATE_SERVITECH": "700 1400 2100 2800 3500",
    "NITRATE_DAIRYLAND": "1000 2000 4000+",
    "NITRATE_WYOMING": "6000 9000",
    "NITRATE_WATER": "10 20 40 100+",
    # 7.2 Ward, wet; extension table on dry matter, from memory. [ppm]
    "HCN_WARD_WET": "200 600+",
    "HCN_DM": "500 1000+",
    # Oregon State; cattle joined with Missouri. [ppb]
    "ERGOVALINE_CATTLE": "200 400",
    "ERGOVALINE_SHEEP": "500 800",
    "ERGOVALINE_HORSE": "300 500",
    "ERGOVALINE_BROOD_MARE": "0",
    "LOLITREM_B": "1800 2000",
    # 7.4 Colorado State; Today's Farmer. [% DM]
    "SULFUR_DIET": "0.30 0.40 0.50",
    # 7.5 [ppm; ratio]
    "SELENIUM": "0.10 0.20 5+",
    "COPPER_TO_MOLYBDENUM": "2 4 6",
    # 7.6 Adams et al. 1993; horses by common practice. [CFU/g]
    "MOLD_PENN_STATE": "500000 1000000 2000000 3000000 5000000",
    "MOLD_HORSE": "500000 1000000",
    # 7.11 Equi-Analytical as quoted [% DM]; 5.9 Oetzel 1993 [ratio of charges]
    "NSC_HORSE": "10 12 20",
    "TETANY": "2.2",
}
TABLES = {
    name: table for name, table in vars(hazard_tables).items() if isinstance(table, ClassTable)
}


def test_every_table_is_held_to_its_print() -> None:
    assert set(PRINTED) == set(TABLES)


@pytest.mark.parametrize("name", PRINTED)
def test_limits_are_those_printed(name: str) -> None:
    printed = tuple(
        above(float(one.removesuffix("+"))) if one.endswith("+") else float(one)
        for one in PRINTED[name].split()
    )
    assert TABLES[name].limits == printed


@pytest.mark.parametrize(
    ("limit", "table", "place"),
    [
        (poisons.HCN_TOXIC_FROM_PPM, hazard_tables.HCN_DM, 0),
        (poisons.HCN_DANGER_ABOVE_PPM, hazard_tables.HCN_DM, 1),
        (endophyte.CATTLE_WATCH_FROM_PPB, hazard_tables.ERGOVALINE_CATTLE, 0),
        (endophyte.CATTLE_TOXIC_FROM_PPB, hazard_tables.ERGOVALINE_CATTLE, 1),
        (endophyte.ORST_THRESHOLDS_PPB["sheep"][0], hazard_tables.ERGOVALINE_SHEEP, 0),
        (endophyte.ORST_THRESHOLDS_PPB["sheep"][1], hazard_tables.ERGOVALINE_SHEEP, 1),
        (endophyte.ORST_THRESHOLDS_PPB["horse"][0], hazard_tables.ERGOVALINE_HORSE, 0),
        (endophyte.ORST_THRESHOLDS_PPB["horse"][1], hazard_tables.ERGOVALINE_HORSE, 1),
        (endophyte.LOLITREM_WATCH_FROM_PPB, hazard_tables.LOLITREM_B, 0),
        (sulfur.WATCH_ABOVE_PCT, hazard_tables.SULFUR_DIET, 1),
        (sulfur.TOO_MUCH_ABOVE_PCT, hazard_tables.SULFUR_DIET, 2),
        (trace_minerals.SE_TOXIC_ABOVE_PPM, hazard_tables.SELENIUM, 2),
        (trace_minerals.TOXIC_CU_TO_MO_BELOW, hazard_tables.COPPER_TO_MOLYBDENUM, 0),
        (trace_minerals.LOW_CU_TO_MO_BELOW, hazard_tables.COPPER_TO_MOLYBDENUM, 1),
        (molds.HORSE_MOLD_TOLD_ABOVE, hazard_tables.MOLD_HORSE, 0),
        (molds.MOLD_TOLD_ABOVE, hazard_tables.MOLD_PENN_STATE, 1),
        (molds.MOLD_DANGER_ABOVE, hazard_tables.MOLD_PENN_STATE, 4),
        (NSC_LAMINITIS_LIMIT_PCT, hazard_tables.NSC_HORSE, 1),
        (minerals.TETANY_RISK_ABOVE, hazard_tables.TETANY, 0),
    ],
)
def test_one_lot_and_many_are_judged_by_the_same_limit(
    limit: float, table: ClassTable, place: int
) -> None:
    assert math.isclose(table.limits[place], limit, rel_tol=1e-12)
