"""What a laboratory value is: kinds of analyte, basis, columns, book values and conversions.

The ground on which energy, hazards and plausibility stand.
What lies outside the range that is said of it raises ``OutOfRange``.
"""

# fmt: off
from rickyard.forage.values.analyte_kinds import KINDS, PROTEIN_PER_NITROGEN, kind_of, word_of
from rickyard.forage.values.basis import as_received_to_dm, dm_to_basis, is_rescaled
from rickyard.forage.values.book_values import (
    BookValue, ENERGY_SPREAD_PCT, FORAGE_WORDS, MINERAL_SPREAD_PCT, ORGANIC_SPREAD_PCT,
    SPREAD_SOURCE, book_dm, book_value,
)
from rickyard.forage.values.classes import CLASSED, CLASS_TABLES, ClassTable, NOT_GIVEN
from rickyard.forage.values.columns import (
    FORAGES, FORAGE_CODE, ReportColumns, columns_of_rows, is_wet, report_columns,
)
from rickyard.forage.values.feed_names import FeedFound, find_feeds
from rickyard.forage.values.feed_table import FeedTableRow, cell, feed_ids, feed_row
from rickyard.forage.values.minerals import dcad_meq_per_kg, pct_to_meq_per_kg, tetany_ratio
from rickyard.forage.values.nitrate import (
    CLEMSON, DIET_NO3N_CEILING_OTHER_PPM, DIET_NO3N_CEILING_PREGNANT_PPM, LAB_SPREAD_NO3N_PPM,
    NITRATE_FORMS, NO3_PER_NO3N, kno3_pct_from_no3_ppm, nitrate_class_clemson,
    nitrate_class_servitech, nitrate_mix_share_pct, nitrate_share_limit, no3_from_no3n,
    no3n_from_kno3, no3n_from_no3,
)
from rickyard.forage.values.protein import adjusted_cp_pct, available_cp_pct, bound_share_pct_of_cp
from rickyard.forage.values.samples import (
    DRIED_SAMPLE_ABOVE_DM_PCT, FRACTION_UP_TO, PPM_PER_PCT, SampleValues, column_values,
    sample_values,
)
from rickyard.forage.values.screens import (
    LEAST_REPORTS, Limits, ScreenTableError, Screens, read_screen_rows, screened_values,
    screens_from_results, shipped_screens, write_screen_rows,
)

__all__ = [
    "BookValue", "CLASSED", "CLASS_TABLES", "CLEMSON", "ClassTable", "DIET_NO3N_CEILING_OTHER_PPM",
    "DIET_NO3N_CEILING_PREGNANT_PPM", "DRIED_SAMPLE_ABOVE_DM_PCT", "ENERGY_SPREAD_PCT", "FORAGES",
    "FORAGE_CODE", "FORAGE_WORDS", "FRACTION_UP_TO", "FeedFound", "FeedTableRow", "KINDS",
    "LAB_SPREAD_NO3N_PPM", "LEAST_REPORTS", "Limits", "MINERAL_SPREAD_PCT", "NITRATE_FORMS",
    "NO3_PER_NO3N", "NOT_GIVEN", "ORGANIC_SPREAD_PCT", "PPM_PER_PCT", "PROTEIN_PER_NITROGEN",
    "ReportColumns", "SPREAD_SOURCE", "SampleValues", "ScreenTableError", "Screens",
    "adjusted_cp_pct", "as_received_to_dm", "available_cp_pct", "book_dm", "book_value",
    "bound_share_pct_of_cp", "cell", "column_values", "columns_of_rows", "dcad_meq_per_kg",
    "dm_to_basis", "feed_ids", "feed_row", "find_feeds", "is_rescaled", "is_wet", "kind_of",
    "kno3_pct_from_no3_ppm", "nitrate_class_clemson", "nitrate_class_servitech",
    "nitrate_mix_share_pct", "nitrate_share_limit", "no3_from_no3n", "no3n_from_kno3",
    "no3n_from_no3", "pct_to_meq_per_kg", "read_screen_rows", "report_columns", "sample_values",
    "screened_values", "screens_from_results", "shipped_screens", "tetany_ratio", "word_of",
    "write_screen_rows",
]
