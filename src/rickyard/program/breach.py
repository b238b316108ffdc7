"""What a second look finds: one thing a program claims that does not add up."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Breach:
    """One thing a program claims that does not add up."""

    what: str
    claimed: float
    found: float

    def __str__(self) -> str:
        return f"{self.what}: the program says {self.claimed:.9g}, the re-check {self.found:.9g}."
