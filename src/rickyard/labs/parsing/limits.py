"""How much is read: sizes, seconds, memory. Larger files are refused at once, with the limit."""

from __future__ import annotations

from typing import Final

MOST_BYTES: Final = 25_000_000
MOST_TEXT_BYTES: Final = 10_000_000
MOST_UNPACKED_BYTES: Final = 200_000_000
#: An honest workbook of repeated numbers packs well, but not a thousand to one.
MOST_PACKED_RATIO: Final = 400.0
MOST_PARTS: Final = 2000
MOST_PAGES: Final = 400
MOST_CELLS: Final = 1_000_000
MOST_TEXT: Final = 1000
MOST_COLUMNS: Final = 1000
#: No printed line has so many columns; one that seems to is a text with gaps.
MOST_ACROSS: Final = 200
#: Of the processor, which a busy machine takes longer to give.
SECONDS: Final = 8.0
#: By the clock, before a process is ended that the system itself did not end.
WAITED_SECONDS: Final = 60.0
MEMORY_BYTES: Final = 900_000_000
