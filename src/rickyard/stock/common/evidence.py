"""How each requirement of beef cattle is known; `rickyard.evidence` says what the flags mean."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from rickyard.evidence import Flag
from rickyard.stock.common.tables import read_rows


@dataclass(frozen=True, slots=True)
class Evidence:
    """How one requirement is known, and where it comes from."""

    what: str
    flag: Flag
    source: str


#: Every requirement of beef cattle by its name in the output.
BEEF: Final[Mapping[str, Evidence]] = MappingProxyType(
    {
        row["name"]: Evidence(row["what"], Flag(row["flag"]), row["source"])
        for row in read_rows("beef_evidence")
    }
)

#: Flag of each constituent, as a series of needs carries it.
BEEF_EVIDENCE: Final[Mapping[str, str]] = MappingProxyType(
    {name: f"{one.flag.value}: {one.source}".rstrip(": ") for name, one in BEEF.items()}
)
