"""What in a hay can do harm, one hazard a file, from published limits.

Nitrate, prussic acid, molds, heat, minerals in excess, endophyte, botulism and the like.
What lies outside the range that is said of it raises ``OutOfRange``.
"""

# fmt: off
from rickyard.forage.hazards import molds
from rickyard.forage.hazards.baleage import silage_ph_range
from rickyard.forage.hazards.every_hazard import lot_hazards
from rickyard.forage.hazards.hazard import ALL_STOCK, ASK_VET, Hazard, Level
from rickyard.forage.hazards.heating import (
    HEAT_DAMAGE_FROM_F, has_cooled, has_reached, hay_temperature_action, hay_temperature_label,
    heating_degree_days_f,
)
from rickyard.forage.hazards.minerals import (
    SHEEP_MO_BELOW_PPM, SULFUR_PER_SULFATE, WATER_PCT_BW_BEEF, WATER_PCT_BW_LACTATING,
    selenium_class, total_sulfur_pct,
)
from rickyard.forage.hazards.molds import (
    AFLATOXIN_LIMIT_PPB, FUMONISIN_DIET_LIMIT_PPM, ergovaline_threshold_text, mold_class,
)
from rickyard.forage.hazards.poisons import (
    HCN_RISK_SOURCE, counts_as_deadly, diet_no3n_ppm, is_known_cured, is_nitrate_suspect,
    nitrate_past, prussic_acid_reasons, water_no3n_mg_per_l,
)
from rickyard.forage.hazards.soil import external_ash_pct, internal_ash_pct, tdn_lost_to_ash_pct

__all__ = [
    "AFLATOXIN_LIMIT_PPB", "ALL_STOCK", "ASK_VET", "FUMONISIN_DIET_LIMIT_PPM", "HCN_RISK_SOURCE",
    "HEAT_DAMAGE_FROM_F", "Hazard", "Level", "SHEEP_MO_BELOW_PPM", "SULFUR_PER_SULFATE",
    "WATER_PCT_BW_BEEF", "WATER_PCT_BW_LACTATING", "counts_as_deadly", "diet_no3n_ppm",
    "ergovaline_threshold_text", "external_ash_pct", "has_cooled", "has_reached",
    "hay_temperature_action", "hay_temperature_label", "heating_degree_days_f", "internal_ash_pct",
    "is_known_cured", "is_nitrate_suspect", "lot_hazards", "mold_class", "molds", "nitrate_past",
    "prussic_acid_reasons", "selenium_class", "silage_ph_range", "tdn_lost_to_ash_pct",
    "total_sulfur_pct", "water_no3n_mg_per_l",
]
