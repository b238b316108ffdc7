"""What in a hay can do harm, one hazard a file, from published limits.

Nitrate, prussic acid, molds, heat, minerals in excess, endophyte, botulism and the like.
"""

# fmt: off
from rickyard.forage.hazards import (
    baleage, endophyte, fermentation, hazard_tables, molds, poisons, soil, sulfur, trace_minerals,
)
from rickyard.forage.hazards.baleage import baleage_hazards
from rickyard.forage.hazards.endophyte import endophyte_hazards, ergovaline_threshold_text
from rickyard.forage.hazards.fermentation import fermentation_hazards, silage_ph_range
from rickyard.forage.hazards.hazard import ALL_STOCK, ASK_VET, Hazard, Level
from rickyard.forage.hazards.hazard_tables import (
    HAZARD_TABLES, HCN_WARD_WET, NITRATE_CLEMSON, PPB_PER_PPM, TETANY,
)
from rickyard.forage.hazards.heating import (
    DANGER_FROM_F, HEAT_DAMAGE_FROM_F, STRICTEST_SOURCE, WATCHED_FROM_F, has_reached,
    hay_temperature_action, hay_temperature_label, heating_degree_days_f,
)
from rickyard.forage.hazards.horse_hazards import horse_hazards
from rickyard.forage.hazards.molds import (
    aflatoxin_limit_ppb, fumonisin_diet_limit_ppm, mold_class, mold_hazards,
)
from rickyard.forage.hazards.nitrate_diet import diet_no3n_ppm
from rickyard.forage.hazards.poisons import (
    HCN_RISK_SOURCE, is_nitrate_suspect, is_sorghum_family, nitrate_hazards, prussic_acid_hazards,
    prussic_acid_reasons,
)
from rickyard.forage.hazards.soil import (
    external_ash_pct, internal_ash_pct, soil_hazards, tdn_lost_to_ash_pct,
)
from rickyard.forage.hazards.sulfur import (
    SULFUR_PER_SULFATE, WATER_PCT_BW_BEEF, WATER_PCT_BW_LACTATING, sulfur_hazards, total_sulfur_pct,
)
from rickyard.forage.hazards.trace_minerals import (
    SHEEP_MO_BELOW_PPM, selenium_class, trace_mineral_hazards,
)

__all__ = [
    "ALL_STOCK", "ASK_VET", "DANGER_FROM_F", "HAZARD_TABLES", "HCN_RISK_SOURCE", "HCN_WARD_WET",
    "HEAT_DAMAGE_FROM_F", "Hazard", "Level", "NITRATE_CLEMSON", "PPB_PER_PPM", "SHEEP_MO_BELOW_PPM",
    "STRICTEST_SOURCE", "SULFUR_PER_SULFATE", "TETANY", "WATCHED_FROM_F", "WATER_PCT_BW_BEEF",
    "WATER_PCT_BW_LACTATING", "aflatoxin_limit_ppb", "baleage", "baleage_hazards", "diet_no3n_ppm",
    "endophyte", "endophyte_hazards", "ergovaline_threshold_text", "external_ash_pct",
    "fermentation", "fermentation_hazards", "fumonisin_diet_limit_ppm", "has_reached",
    "hay_temperature_action", "hay_temperature_label", "hazard_tables", "heating_degree_days_f",
    "horse_hazards", "internal_ash_pct", "is_nitrate_suspect", "is_sorghum_family", "mold_class",
    "mold_hazards", "molds", "nitrate_hazards", "poisons", "prussic_acid_hazards",
    "prussic_acid_reasons", "selenium_class", "silage_ph_range", "soil", "soil_hazards", "sulfur",
    "sulfur_hazards", "tdn_lost_to_ash_pct", "total_sulfur_pct", "trace_mineral_hazards",
    "trace_minerals",
]
