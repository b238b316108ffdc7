"""What a person carries out: rations, each the same from its first day to its last."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from rickyard.kinds import Offered


@dataclass(frozen=True, slots=True)
class RationThing:
    """One hay or feed of a ration.

    ``eaten_kg_dm_per_head_day`` is dry matter; ``put_out_kg_per_head_day`` and
    ``put_out_kg_per_day``, for the whole group, are as fed with what is wasted.
    ``bales_per_feeding`` is how many bales a feeding of it takes in the mean, ``None`` where it
    is not put out by the bale. ``measure`` is what a feed is measured out with where the farm says
    so, and ``measures_per_day`` how many of them the group gets.
    """

    source_id: str
    eaten_kg_dm_per_head_day: float
    put_out_kg_per_head_day: float
    put_out_kg_per_day: float
    bales_per_feeding: float | None
    measure: str = ""
    measures_per_day: float | None = None


@dataclass(frozen=True, slots=True)
class Ration:
    """The same feeding from ``start`` until the day before ``end``.

    ``number`` counts the rations of the group from 1. ``why`` says in a sentence why it begins.
    ``appetite_pct`` is how much of what they would eat free choice they get, and ``None`` where
    that is not known.
    """

    group_id: str
    number: int
    start: date
    end: date
    offered: Offered
    things: tuple[RationThing, ...]
    why: str
    appetite_pct: float | None = None
