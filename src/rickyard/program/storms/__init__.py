"""A cold spell that is forecast: which days, which groups, what to add and when to begin.

Asks the farm folder alone, no season program.
"""

# fmt: off
from rickyard.program.storms import cold_spells
from rickyard.program.storms.cold_spells import ColdPage, ColdSpell, GroupCold, cold_page

__all__ = ["ColdPage", "ColdSpell", "GroupCold", "cold_page", "cold_spells"]
