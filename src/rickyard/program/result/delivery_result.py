"""What a helper is told: dated deliveries, their totals, and how one feed follows another."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class Delivery:
    """One load put out for a group: whole bales of hay, or a mass of what is not baled.

    ``mass_kg`` is as fed: of bales, at what a bale then weighs. It is meant for ``for_days``.
    """

    day: date
    group_id: str
    source_id: str
    bales: int | None
    mass_kg: float
    for_days: int


@dataclass(frozen=True, slots=True)
class DeliveryTotal:
    """All that is put out of one source, for one group or, where ``group_id`` is empty, for all.

    ``planned_bales`` and ``planned_kg`` are what the program asks for, in bales of what they then
    weigh and as fed; ``greatest_deviation_bales`` is the most by which the bales put out were
    ever before or behind it.
    """

    group_id: str
    source_id: str
    bales: int | None
    mass_kg: float
    planned_bales: float | None
    planned_kg: float
    greatest_deviation_bales: float | None


@dataclass(frozen=True, slots=True)
class ChangeOver:
    """A group's way from what it ate to something else, day by day.

    ``shares`` holds for each day the share of the new hay in the day's hay, or of the full amount
    in a feed that is raised; ``in_program`` whether the amounts put out already follow it.
    """

    group_id: str
    from_sources: tuple[str, ...]
    to_source: str
    start: date
    days: int
    shares: tuple[float, ...]
    in_program: bool
    sentence: str
    source: str
