"""A function takes every number of its range, the ends as its brackets say, and refuses others.

The ranges are those of the docstrings and of the sentences by which a number is refused: most are
what is possible at all, some what the printed tables cover. A round bracket leaves an end out,
and between braces stand whole numbers.
"""

from __future__ import annotations

import inspect
import math
from collections.abc import Callable
from typing import Any

import numpy as np

from rickyard.quantities import OutOfRange
from support.rows import each_row
from support.science import formulas, needed

#: Each function with the ranges of its parameters, the others at their typical values.
RANGES = """
de_from_tdn                     tdn_pct [0, inf)
nem_from_tdn                    tdn_pct [0, inf)
alfalfa_grade_2003              ndf_pct (0, inf)
dry_matter_intake_pct_bw        ndf_pct (0, inf)
relative_feed_value             ndf_pct (0, inf)
relative_forage_quality_legume  ndf_pct (0, inf)
ca_to_p_ratio                   p_pct (0, inf)
fiber_digestibility_nasem2021   ndf_pct [6, inf); lignin_pct (-inf, 60]
digestible_parts_nrc2001        cp_pct (0, inf); lignin_pct (-inf, 55.8]
total_sulfur_pct                weight_kg (0, inf); intake_pct_bw (0, inf)
rfv_sd_independent              ndf_pct (0, inf)
suited                          no3n_ppm [0, inf)
sampling_sd                     cores [1, inf)
analyte_sd                      cores [1, inf)
as_received_to_dm               dm_pct (0, 100]
dm_to_as_received               dm_pct (0, 100]
dm_to_basis                     basis_dm_pct (0, 100]
nitrate_class_clemson           no3n_ppm_dm [0, inf)
nitrate_class_servitech         no3n_ppm_dm [0, inf)
nitrate_share_limit             no3n_ppm_dm [0, inf)
nitrate_mix_share_pct           hay_ppm [0, inf); other_ppm [0, 1000); limit_ppm (200, inf)
adjusted_cp_pct                 cp_pct (0, inf)
bound_share_pct_of_cp           cp_pct (0, inf)
round_volume_m3                 diameter_m [0.9144, 1.9812]; width_m [0.9144, 1.9812]
square_volume_m3                length_m (0, inf); width_m (0, inf); height_m (0, inf)
bale_weight_kg                  volume_m3 (0, inf); density_as_fed_kg_m3 (0, 720.830829]
new_hay_share_frac              day [0, inf); over_days (0, inf)
require_not_negative            value [0, inf)
require_positive                value (0, inf)
require_loss                    loss_pct [0, 100)
require_dm                      dm_pct [5, 98]
supplied                        amount [0, inf); nutrient_pct [0, 100]; dm_pct [5, 98]
feed_for                        amount [0, inf); nutrient_pct (0, inf)
herd_dm                         head [0, inf); weight [0, inf); intake_pct_bw [0, 6]
herd_dm                         days [0, inf); cold_factor [0, inf)
before_loss                     amount [0, inf); loss_pct [0, 100)
lost                            amount [0, inf); loss_pct [0, 100)
reserve                         total [0, inf); days (0, inf)
days_until_out                  stock [0, inf); reserved [0, inf); daily (0, inf)
capital_recovery                capital [0, inf); rate_pct [0, 100]; years (0, inf)
capital_recovery                upkeep [0, inf)
basket_cost                     amounts [0, inf); prices [0, inf)
core_sd                         observed_sd [0, inf); repeat_sd [0, inf)
composite_variance              bale_sd [0, inf); within_sd [0, inf); repeat_sd [0, inf)
composite_variance              bales [1, inf); cores_a_bale [1, inf); repeats [1, inf)
composite_variance              lab_bias_sd [0, inf)
composite_se                    observed_sd [0, inf); repeat_sd [0, inf); cores [1, inf)
composite_se                    repeats [1, inf); lab_bias_sd [0, inf)
critical_difference             first_variance [0, inf); second_variance [0, inf)
core_depth_m                    diameter_m (0, inf); weathered_m [0, 0.75)
storage_loss_pct                months [0, inf); rain_mm_per_year [0, inf)
remaining_fraction              months_from [0, 6]; months_to [1, inf); rain_mm_per_year [0, inf)
camelid_me_maintenance_mcal     weight_kg (0, inf)
camelid                         weight_kg (0, inf)
surface_area_m2                 shrunk_weight_kg [50, inf)
tissue_insulation               condition_score [1, 9]
coat_insulation                 hair_cm [0, inf); wind_km_per_h [0, inf)
lower_critical_temperature_c    shrunk_weight_kg [50, inf)
nem_cold_mcal                   shrunk_weight_kg [50, inf)
effective_temperature_c         wind_km_per_h [0, inf)
size_scaled_weight_kg           final_shrunk_weight_kg (0, inf)
metabolic_weight                shrunk_weight_kg [50, 1100]
heifer_class                    age_months [3, inf)
dry_cow_by_day                  weight_kg (0, inf); days_to_calving [0, inf)
dry_cow_2001                    day_pregnant [240, 279]
heifer_2001                     mature_kg (0, inf); diet_me_mcal_per_kg [1.5, 3.5]
predicted_dm_kg                 diet_me_mcal_per_kg [1.5, 3.5]
mud_factor                      depth_cm [0, inf)
cow_month                       month [1, 12]; peak_milk_kg_per_day [0, inf)
checked_score                   condition_score [1, 9]
energy_between_scores_mcal      from_score [1, 9]; to_score [1, 9]
days_to_gain_condition          surplus_nem_mcal_per_day (0, inf)
gain_to_target_kg               days (0, inf)
appetite_kg                     shrunk_weight_kg [50, 1100]
ndf_cap_kg                      ndf_pct (0, 100]
milk_kg                         week [0, inf); peak_milk_kg_per_day [0, inf)
milk_kg                         peak_week (0, inf)
nem_maintenance_mcal            shrunk_weight_kg [50, 1100]; condition_score [1, 9]
microbial_cp_g                  fat_pct (-inf, 3.9]
dry_dairy_intake_kg             days_to_calving [0, inf)
forage_put_aside_kg             supplement_kg [0, inf); full_weight_kg (0, inf)
forage_put_aside_kg             forage_tdn_pct [0, 100]
put_aside_rate                  supplement_pct_bw [0, inf); forage_tdn_pct [0, 100]
goat_me_maintenance_mcal        weight_kg (0, inf)
goat_1981                       weight_kg (0, inf); gain_g [0, inf); milk_kg [0, inf)
goat_1981                       fleece_kg_per_year [0, inf); density_mcal_per_kg (0, inf)
me_goat_kj                      weight_kg (0, inf); milk_kg [0, inf)
angora_me_kj                    weight_kg (0, inf)
horse_de_for_condition_mcal     days (0, inf)
donkey_de_mcal                  weight_kg (0, inf)
horse_work                      weight_kg (0, inf)
stallion                        weight_kg (0, inf)
gestation_month                 day_pregnant [1, inf)
mare_pregnant                   weight_kg (0, inf); month {1, 11}
mare_milk_kg                    weight_kg (0, inf); month {1, 6}
horse_1989_de_mcal              weight_kg [200, 600]
horse_weight_at_kg              age_months [0, 24]
young_horse                     age_months [4, 24]
water_litres                    full_weight_kg [498.951607, 680.388555]
water_litres                    mean_temperature_c (-inf, 32.2222222]; milk_kg [0, 11.339809]
drinking_water_litres           temperature_c (-inf, 32.2222222]
hay_per_head_kg                 dm_pct (0, 100]; waste_pct [0, 100)
sheep_1985                      weight_kg [40, 100]
me_maintenance_mj               weight_kg (0, inf); diet_me_mj_per_kg (0, inf)
me_pregnancy_mj                 day_pregnant [63, 147]
feed_for_maintenance_kg         diet_nem_mcal_per_kg (0, inf)
gain_from_intake                diet_nem_mcal_per_kg (0, inf)
feed_for_need_kg                diet_nem_mcal_per_kg (0, inf); diet_neg_mcal_per_kg (0, inf)
diet_cp_pct                     intake_kg (0, inf)
extra_feed_kg                   feed_tdn_pct (0, inf)
"""

FUNCTIONS = {one.__name__: one for one in formulas()}
ROWS = [(line.split(None, 1)[0], line.split(None, 1)[1]) for line in RANGES.strip().splitlines()]


def takes(function: Callable[..., Any], given: dict[str, Any]) -> bool:
    """Say whether a function takes numbers; another error than a refusal is an error."""
    try:
        with np.errstate(all="ignore"):
            function(**given)
    except OutOfRange:
        return False
    return True


@each_row(("name", "ranges"), ROWS, ids=lambda one: one.split("  ")[0])
def test_a_function_takes_what_lies_in_its_range_and_nothing_else(name: str, ranges: str) -> None:
    function = FUNCTIONS[name]
    usual = needed(function)
    for one in ranges.split("; "):
        parameter, low, high = one.replace(",", "").split()
        assert parameter in inspect.signature(function).parameters
        found, wanted = dict[float, bool](), dict[float, bool]()
        for end, inward, closed in (
            (float(low[1:]), 1.0, low[0] in "[{"),
            (float(high[:-1]), -1.0, high[-1] in "]}"),
        ):
            if math.isinf(end):
                continue
            step = inward * (1.0 if low[0] == "{" else max(1e-6, 1e-6 * abs(end)))
            for value, inside in ((end, closed), (end + step, True), (end - step, False)):
                found[value] = takes(function, {**usual, parameter: value})
                wanted[value] = inside
        assert found == wanted, f"{name}: {parameter}"
