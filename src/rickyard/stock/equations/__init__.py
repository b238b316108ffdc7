"""Published equations for cattle: maintenance, growth, milk, pregnancy, protein, intake.

One function an equation, each with its source and range.
What lies outside the range that is said of it raises ``OutOfRange``.
"""

# fmt: off
from rickyard.stock.equations import appetite_factors, condition, growth, intake, protein
from rickyard.stock.equations.appetite_factors import mud_factor, temperature_factor
from rickyard.stock.equations.by_month import (
    CowMonth, DAYS_PER_MONTH, DAY_PREGNANT_AT_MONTH_12, LAST_MILKING_MONTH, cow_month,
)
from rickyard.stock.equations.condition import (
    LEAST_SCORE, MOST_SCORE, TISSUE_EFFICIENCY, body_energy_mcal, checked_score,
    days_to_gain_condition, energy_between_scores_mcal, relative_weight_frac,
    weight_after_scores_kg,
)
from rickyard.stock.equations.growth import (
    FIRST_CALVING_SHARE, LEAST_FITTED_GAIN_KG, MOST_FITTED_GAIN_KG, PROTEIN_G_PER_KG_GAIN,
    PROTEIN_G_PER_MCAL, SECOND_CALVING_SHARE, gain_kg, gain_to_target_kg, mp_efficiency, mp_gain_g,
    protein_of_gain_g, retained_energy_mcal, target_weight_kg,
)
from rickyard.stock.equations.intake import (
    CALIBRATION_DRY_PREGNANT, CALIBRATION_LACTATING, INTAKE_PER_MILK, NDF_CAP_PCT_BW, RULES, Rule,
    appetite_kg, appetite_per_kg075, appetite_slope, forage_intake_pct_bw, growing_constants,
    growing_state, ndf_cap_kg,
)
from rickyard.stock.equations.lactation import (
    FIRST_CALF_PEAK_FACTOR, LEAST_PEAK_MILK_KG, MILK_FAT_PCT, MILK_PROTEIN_PCT,
    MILK_SOLIDS_NOT_FAT_PCT, MOST_PEAK_MILK_KG, PEAK_MILK_KG, PEAK_WEEK, SECOND_CALF_PEAK_FACTOR,
    milk_kg, mp_lactation_g, nem_lactation_mcal,
)
from rickyard.stock.equations.maintenance import (
    ACTIVITY_HAY_OUTDOORS, BASE_MCAL_PER_KG075, LACTATION_FACTOR, LEAST_TEMPERATURE_C,
    MOST_TEMPERATURE_C, THERMONEUTRAL_C, acclimatisation_mcal_per_kg075, compensation_factor,
    cross_of, maintenance_mcal_per_kg075, nem_maintenance_mcal,
)
from rickyard.stock.equations.pregnancy import (
    BIRTH_WEIGHT_KG, HEIFER_BIRTH_WEIGHT_FACTOR, KM_HAY, conceptus_kg, mp_pregnancy_g,
    nem_pregnancy_mcal,
)
from rickyard.stock.equations.protein import (
    CP_FLOOR_PCT, MAINTENANCE_G_PER_KG075, MP_PER_CP, cp_kg_from_mp, cp_with_floor_kg,
    microbial_cp_g, mp_maintenance_g, rdp_balance_g,
)

__all__ = [
    "ACTIVITY_HAY_OUTDOORS", "BASE_MCAL_PER_KG075", "BIRTH_WEIGHT_KG", "CALIBRATION_DRY_PREGNANT",
    "CALIBRATION_LACTATING", "CP_FLOOR_PCT", "CowMonth", "DAYS_PER_MONTH",
    "DAY_PREGNANT_AT_MONTH_12", "FIRST_CALF_PEAK_FACTOR", "FIRST_CALVING_SHARE",
    "HEIFER_BIRTH_WEIGHT_FACTOR", "INTAKE_PER_MILK", "KM_HAY", "LACTATION_FACTOR",
    "LAST_MILKING_MONTH", "LEAST_FITTED_GAIN_KG", "LEAST_PEAK_MILK_KG", "LEAST_SCORE",
    "LEAST_TEMPERATURE_C", "MAINTENANCE_G_PER_KG075", "MILK_FAT_PCT", "MILK_PROTEIN_PCT",
    "MILK_SOLIDS_NOT_FAT_PCT", "MOST_FITTED_GAIN_KG", "MOST_PEAK_MILK_KG", "MOST_SCORE",
    "MOST_TEMPERATURE_C", "MP_PER_CP", "NDF_CAP_PCT_BW", "PEAK_MILK_KG", "PEAK_WEEK",
    "PROTEIN_G_PER_KG_GAIN", "PROTEIN_G_PER_MCAL", "RULES", "Rule", "SECOND_CALF_PEAK_FACTOR",
    "SECOND_CALVING_SHARE", "THERMONEUTRAL_C", "TISSUE_EFFICIENCY",
    "acclimatisation_mcal_per_kg075", "appetite_factors", "appetite_kg", "appetite_per_kg075",
    "appetite_slope", "body_energy_mcal", "checked_score", "compensation_factor", "conceptus_kg",
    "condition", "cow_month", "cp_kg_from_mp", "cp_with_floor_kg", "cross_of",
    "days_to_gain_condition", "energy_between_scores_mcal", "forage_intake_pct_bw", "gain_kg",
    "gain_to_target_kg", "growing_constants", "growing_state", "growth", "intake",
    "maintenance_mcal_per_kg075", "microbial_cp_g", "milk_kg", "mp_efficiency", "mp_gain_g",
    "mp_lactation_g", "mp_maintenance_g", "mp_pregnancy_g", "mud_factor", "ndf_cap_kg",
    "nem_lactation_mcal", "nem_maintenance_mcal", "nem_pregnancy_mcal", "protein",
    "protein_of_gain_g", "rdp_balance_g", "relative_weight_frac", "retained_energy_mcal",
    "target_weight_kg", "temperature_factor", "weight_after_scores_kg",
]
