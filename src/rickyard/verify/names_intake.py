"""Names of the check files for how stock really eat and what becomes of them."""

from __future__ import annotations

from typing import Final

from rickyard.quantities import M_PER_FT, M_PER_IN
from rickyard.stock.fill import alone, shares, substitution
from rickyard.verify.quantity import Inputs, Quantity


def _dry_dairy_kg(q: Inputs) -> float:
    heifer = {"cow": False, "heifer": True}[q["parity"]]
    return float(alone.dry_dairy_intake_kg(q["bw_kg"], q["days_to_calving"], heifer=heifer))


INTAKE: Final[dict[str, Quantity]] = {
    "fill_share_total": lambda q: shares.fill_share(q["amounts_kg"], q["intakes_alone_kg"]),
    "mixed_forage_intake_kg": lambda q: shares.mixed_intake_kg(
        q["shares_pct"], q["intakes_alone_kg"]
    ),
    "forage_room_kg": lambda q: shares.room_left_kg(
        q["intake_alone_kg"], q["other_kg"], q["other_intake_alone_kg"]
    ),
    "dairy_heifer_dmi_kg": lambda q: alone.dairy_heifer_intake_kg(q["bw_kg"]),
    "dry_dairy_cow_dmi_kg": _dry_dairy_kg,
    "intake_from_metabolic_weight_kg": lambda q: alone.metabolic_intake_kg(
        q["bw_kg"], q["g_per_kg_w75"]
    ),
    "as_fed_from_pct_bw_lb": lambda q: shares.as_fed_kg(
        q["bw_lb"], q["dm_pct_bw"], q["dm_pct_of_feed"]
    ),
    "cp_intake_factor": lambda q: shares.protein_factor(q["cp_pct"]),
    "late_gestation_intake_factor": lambda q: alone.late_factor("cow_dry", q["days_to_calving"]),
    "access_intake_fraction": lambda q: shares.access_share(q["hours"]),
    "forage_after_concentrate_kg": lambda q: substitution.forage_beside_kg(
        q["forage_alone_kg"], q["concentrate_kg"], q["rate"]
    ),
    "substitution_rate_zebu_steers": lambda q: substitution.growing_zebu_rate(
        q["initial_bw_kg"], q["concentrate_pct_bw"]
    ),
    "rings_needed": lambda q: shares.places_needed(
        q["head"], q["in_per_head"] * M_PER_IN, q["ring_diameter_ft"] * M_PER_FT
    ),
}
