"""The yard page: what stands, what it loses, and whether it lasts.

Brings bales, storage and feeding together for one farm and day.
"""

# fmt: off
from rickyard.hay.yard.outlook import Outlook
from rickyard.hay.yard.stack import REACH_SOURCE, Stack, bale_sides_m, stack_of
from rickyard.hay.yard.yard_page import YardLine, YardPage, book_cautions, yard_page

__all__ = [
    "Outlook", "REACH_SOURCE", "Stack", "YardLine", "YardPage", "bale_sides_m", "book_cautions",
    "stack_of", "yard_page",
]
