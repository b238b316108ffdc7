"""Energy, digestibility, indices and grades from published equations.

One function a model, the equation and its valid range in the docstring.
What lies outside the range that is said of it raises ``OutOfRange``.
"""

# fmt: off
from rickyard.forage.energy import grades
from rickyard.forage.energy.dairy_energy import (
    fiber_digestibility_nasem2021, gross_energy_nasem2021, me_nrc2001, nel_nrc2001,
    residual_organic_matter_pct,
)
from rickyard.forage.energy.derived import DERIVED, Derived, DerivedValue, derived_values
from rickyard.forage.energy.energy import (
    DE_PER_TDN_PCT, ME_PER_DE, de_from_tdn, me_from_de, me_from_tdn, me_hales2019, me_hales2022,
    neg_from_me, neg_from_tdn, nel_from_tdn, nem_from_me, nem_from_tdn,
)
from rickyard.forage.energy.grades import (
    TASK_FORCE_RFV, USDA_ALFALFA_RFV, USDA_GRASS_CP, alfalfa_grade_2003, usda_alfalfa_grade,
    usda_grass_grade,
)
from rickyard.forage.energy.horse_energy import horse_de_from_tdn, horse_de_nrc, horse_de_pagan
from rickyard.forage.energy.indices import (
    DDM_INTERCEPT_PCT, DDM_PER_ADF, FULL_BLOOM_ALFALFA, NDF_FILL_PCT_BW, NOT_FOR_RFV, ca_to_p_ratio,
    digestible_dry_matter_pct, dry_matter_intake_pct_bw, nfc_g_per_kg, nfc_pct, nsc_pct,
    relative_feed_value, relative_forage_quality_grass, relative_forage_quality_legume,
)
from rickyard.forage.energy.lot_energy import REGRESSION_OF, lot_energy
from rickyard.forage.energy.summative import (
    ADICP_PER_CP, EE_DEFAULT_PCT, NDICP_PER_NDF, PAF_CORN_SILAGE, RFQ_EE_DEFAULT_PCT, de_nrc2001,
    de_of_parts, digestible_parts_nrc2001, paf_of, tdn_nrc2001, tdn_of_parts, tdn_rfq_grass,
    tdn_rfq_legume,
)
from rickyard.forage.energy.tdn import (
    TdnMethod, tdn_midwest, tdn_midwest_corn_silage, tdn_oklahoma, tdn_penn_state_corn_silage,
    tdn_penn_state_grass, tdn_penn_state_legume, tdn_southeast_warm_grass, tdn_western_alfalfa_100,
    tdn_western_alfalfa_90,
)
from rickyard.forage.energy.tdn_compare import LEGUMES, REGRESSIONS, rank_by_tdn

__all__ = [
    "ADICP_PER_CP", "DDM_INTERCEPT_PCT", "DDM_PER_ADF", "DERIVED", "DE_PER_TDN_PCT", "Derived",
    "DerivedValue", "EE_DEFAULT_PCT", "FULL_BLOOM_ALFALFA", "LEGUMES", "ME_PER_DE",
    "NDF_FILL_PCT_BW", "NDICP_PER_NDF", "NOT_FOR_RFV", "PAF_CORN_SILAGE", "REGRESSIONS",
    "REGRESSION_OF", "RFQ_EE_DEFAULT_PCT", "TASK_FORCE_RFV", "TdnMethod", "USDA_ALFALFA_RFV",
    "USDA_GRASS_CP", "alfalfa_grade_2003", "ca_to_p_ratio", "de_from_tdn", "de_nrc2001",
    "de_of_parts", "derived_values", "digestible_dry_matter_pct", "digestible_parts_nrc2001",
    "dry_matter_intake_pct_bw", "fiber_digestibility_nasem2021", "grades", "gross_energy_nasem2021",
    "horse_de_from_tdn", "horse_de_nrc", "horse_de_pagan", "lot_energy", "me_from_de",
    "me_from_tdn", "me_hales2019", "me_hales2022", "me_nrc2001", "neg_from_me", "neg_from_tdn",
    "nel_from_tdn", "nel_nrc2001", "nem_from_me", "nem_from_tdn", "nfc_g_per_kg", "nfc_pct",
    "nsc_pct", "paf_of", "rank_by_tdn", "relative_feed_value", "relative_forage_quality_grass",
    "relative_forage_quality_legume", "residual_organic_matter_pct", "tdn_midwest",
    "tdn_midwest_corn_silage", "tdn_nrc2001", "tdn_of_parts", "tdn_oklahoma",
    "tdn_penn_state_corn_silage", "tdn_penn_state_grass", "tdn_penn_state_legume", "tdn_rfq_grass",
    "tdn_rfq_legume", "tdn_southeast_warm_grass", "tdn_western_alfalfa_100",
    "tdn_western_alfalfa_90", "usda_alfalfa_grade", "usda_grass_grade",
]
