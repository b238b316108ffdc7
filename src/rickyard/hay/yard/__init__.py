"""The yard page: what stands, what it loses, and whether it lasts.

Brings bales, storage and feeding together for one farm and day.
"""

# fmt: off
from rickyard.hay.yard.outlook import Outlook
from rickyard.hay.yard.yard_page import YardLine, YardPage, book_cautions, yard_page

__all__ = ["Outlook", "YardLine", "YardPage", "book_cautions", "yard_page"]
