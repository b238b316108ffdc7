"""What a page is asked for: which farm, on what day; and a page made of a template.

Every view stands on this; it knows no view.
"""

# fmt: off
from rickyard.web.asked.asked import (
    address_of_asker, asked_again, day_asked, fact_asked, fact_or_new, farm_asked, frame, made_text,
    page, part_asked, whole_asked,
)

__all__ = [
    "address_of_asker", "asked_again", "day_asked", "fact_asked", "fact_or_new", "farm_asked",
    "frame", "made_text", "page", "part_asked", "whole_asked",
]
