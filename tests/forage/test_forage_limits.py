"""Every limit of a class table is the printed one, and the levels of molds are those classed."""

from __future__ import annotations

import math

import pytest

from rickyard.forage.hazards import molds
from rickyard.forage.values.classes import CLASS_TABLES, above
from support.rows import each_row

#: As their sources print them; limits that belong to the class above them only from the next
#: number on are marked by a plus sign, those that end just below by a minus sign.
PRINTED = {
    # USDA-AMS 2003; Illinois, before 2003; Hay Marketing Task Force, from memory. [index; % DM]
    "usda_alfalfa_rfv": "130 150 170 185+",
    "usda_alfalfa_adf": "27 29 32 35",
    "usda_alfalfa_ndf": "34 36 40 44",
    "usda_alfalfa_tdn": "56 58 60.5 62+",
    "usda_alfalfa_cp": "16 18 20 22+",
    "usda_grass_cp": "5 9 13+",
    "older_alfalfa_rfv": "100 125 150 180+",
    "task_force_rfv": "75 87 103 125 151+",
    # Clemson; ServiTech; Dairyland; Wyoming; water guide from memory. [ppm; mg/L]
    "nitrate_clemson": "1000 1500 2000 3500 4000",
    "nitrate_servitech": "700 1400 2100 2800 3500",
    "nitrate_dairyland": "1000 2000 4000+",
    "nitrate_wyoming": "6000 9000",
    "nitrate_water": "10 20 40 100+",
    # Ward, wet; extension table on dry matter, from memory. [ppm]
    "hcn_ward_wet": "200 600+",
    "hcn": "500 1000+",
    # Oregon State; cattle joined with Missouri. [ppb]
    "ergovaline_cattle": "200 400",
    "ergovaline_sheep": "500 800",
    "ergovaline_horse": "300 500",
    "ergovaline_brood_mare": "0",
    "lolitrem_b": "1800 2000",
    # Colorado State; Today's Farmer. [% DM]
    "sulfur": "0.30 0.40 0.50",
    # [ppm; ratio]
    "selenium": "0.10 0.20 5+",
    "copper_to_molybdenum": "2 4 6",
    # Adams et al. 1993; horses by common practice. [CFU/g]
    "mold": "500000 1000000 2000000 3000000 5000000",
    "mold_horse": "500000 1000000",
    # Equi-Analytical as quoted [% DM]; Oetzel 1993 [ratio of charges]
    "nsc_horse": "10 12 20",
    "tetany": "2.2",
    # Undersander and Ohio State. [% DM]
    "ash_from_soil": "3",
    "ash": "18",
    # Kentucky; Ohio State. [% as received; pH]
    "baleage_moisture": "40- 65 70",
    "baleage_ph": "4.5 5.0 5.5-",
    # Kentucky 2020; Kung & Shaver. [% DM]
    "lactic_acid": "3",
    "butyric_acid": "0.5",
    # Anderson; three-step rule, from memory [% of CP]; New Mexico State [% DM]
    "heat_damage": "10 14",
    "little_protein": "7",
    # From memory; molybdenum NRC 1996. [ratio; % DM; ppm]
    "calcium_to_phosphorus": "1 7",
    "magnesium": "0.20",
    "molybdenum": "5",
    "copper": "10",
    "copper_for_sheep": "15",
    # FDA, as tabulated by Kansas State University and Missouri. [ppb; ppm]
    "aflatoxin": "20 100 300",
    "fumonisin": "1 15 30",
    "don": "2 5 10",
}


def read(text: str) -> float:
    if text.endswith("-"):
        return math.nextafter(float(text[:-1]), -math.inf)
    return above(float(text[:-1])) if text.endswith("+") else float(text)


def test_every_table_is_held_to_its_print() -> None:
    assert set(PRINTED) == set(CLASS_TABLES)


@each_row("name", PRINTED)
def test_limits_are_those_printed(name: str) -> None:
    assert CLASS_TABLES[name].limits == tuple(read(one) for one in PRINTED[name].split())


@pytest.mark.parametrize(
    ("name", "levels"),
    [
        ("aflatoxin", molds.AFLATOXIN_LIMIT_PPB),
        ("fumonisin", molds.FUMONISIN_DIET_LIMIT_PPM),
        ("don", molds.DON_TOTAL_RATION_PPM),
    ],
)
def test_the_levels_of_each_stock_are_those_classed(name: str, levels: dict[str, float]) -> None:
    assert CLASS_TABLES[name].limits == tuple(sorted(set(levels.values())))
