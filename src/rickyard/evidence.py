"""How a number or a rule is known: the words that stand beside every source, each said once.

The flags say how the program knows a number, not how true it is.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType
from typing import Final

#: What stands in the place of a source where there is none: a habit of the trade, or the judgement
#: of those who wrote the program.
COMMON_PRACTICE: Final = "common practice, no published source"
JUDGEMENT: Final = "judgement, no published source"
#: A publication is named and was not at hand.
FROM_MEMORY: Final = "from memory"

#: The words of the column ``evidence`` of the data tables.
SEEN: Final = "seen"
MEMORY: Final = "memory"
DERIVED: Final = "derived"
PRACTICE: Final = "common practice"


class Flag(StrEnum):
    """How a number is known."""

    REPRODUCED = "reproduced"
    SEEN = SEEN
    CROSS_CHECKED = "cross-checked"
    MEMORY = FROM_MEMORY
    PRACTICE = PRACTICE


#: What each flag means, for the reader.
MEANING: Final[Mapping[Flag, str]] = MappingProxyType(
    {
        Flag.REPRODUCED: "the program reproduces published numbers to their rounding",
        Flag.SEEN: "the number was seen in the source that is named",
        Flag.CROSS_CHECKED: "from memory, and held against an independent published result",
        Flag.MEMORY: "from memory of the publication that is named",
        Flag.PRACTICE: COMMON_PRACTICE,
    }
)

#: The flag of a number by the word of the data tables.
FLAG_OF: Final[Mapping[str, Flag]] = MappingProxyType(
    {SEEN: Flag.SEEN, DERIVED: Flag.REPRODUCED, MEMORY: Flag.MEMORY, PRACTICE: Flag.PRACTICE}
)
