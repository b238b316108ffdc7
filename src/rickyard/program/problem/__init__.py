"""The season as plain arrays: needs, sources, ceilings, rules of use, wishes and promises.

What must hold, in numbers and without a solver; the model above writes it as rows.
"""

# fmt: off
from rickyard.program.problem import diet_ceilings, problem, wish_words
from rickyard.program.problem.assurance import (
    Assurance, EVEN_CHANCE_PCT, MISSED_POINTS, UNTESTED_CP_FRAC, UNTESTED_TDN_FRAC, asked_pct,
    points_below, promises, spreads, standard_deviations,
)
from rickyard.program.problem.diet_ceilings import Ceiling
from rickyard.program.problem.mid_season import farm_from, fed_kg, with_notes
from rickyard.program.problem.nitrate_by_day import NitrateByDay, held_to_shares
from rickyard.program.problem.no_fall import FORAGE_FALL, LEFT_TO_MEANS, stage_begins
from rickyard.program.problem.one_feed import OneFeed
from rickyard.program.problem.problem import (
    BY_ORDER, Problem, RESERVE_PCT_BW, UNITS, feed_left_share, problem_of,
)
from rickyard.program.problem.set_aside import (
    APART_DAYS, HELD_SPARE, THIRDS_HELD_DAYS, only_mixed, set_aside_kg_dm,
)
from rickyard.program.problem.step_schedule import (
    Beside, FREE_KG, FREE_PCT_BW, KEPT, KINDS, begin_parts,
)
from rickyard.program.problem.transition_schedule import (
    day_shares, days_of_change, freely_given, new_hay_by_day, swapped_by_day,
)
from rickyard.program.problem.use_rules import UseRules, use_rules_of
from rickyard.program.problem.wish_words import counts_hays
from rickyard.program.problem.wishes import WishScope, Wished, wish_notes, wishes_of, with_wishes

__all__ = [
    "APART_DAYS", "Assurance", "BY_ORDER", "Beside", "Ceiling", "EVEN_CHANCE_PCT", "FORAGE_FALL",
    "FREE_KG", "FREE_PCT_BW", "HELD_SPARE", "KEPT", "KINDS", "LEFT_TO_MEANS", "MISSED_POINTS",
    "NitrateByDay", "OneFeed", "Problem", "RESERVE_PCT_BW", "THIRDS_HELD_DAYS", "UNITS",
    "UNTESTED_CP_FRAC", "UNTESTED_TDN_FRAC", "UseRules", "WishScope", "Wished", "asked_pct",
    "begin_parts", "counts_hays", "day_shares", "days_of_change", "diet_ceilings", "farm_from",
    "fed_kg", "feed_left_share", "freely_given", "held_to_shares", "new_hay_by_day", "only_mixed",
    "points_below", "problem", "problem_of", "promises", "set_aside_kg_dm", "spreads",
    "stage_begins", "standard_deviations", "swapped_by_day", "use_rules_of", "wish_notes",
    "wish_words", "wishes_of", "with_notes", "with_wishes",
]
