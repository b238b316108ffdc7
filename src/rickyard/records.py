"""What a person or a laboratory states row by row: needs, weather, feeding, moves, wishes.

They are frozen and hold canonical units, like everything of ``farm``, where they are taken from.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from rickyard.kinds import MoveKind, Wanted


@dataclass(frozen=True, slots=True)
class StatedNeed:
    """A need that a specialist states himself, per head and day, in place of the computed one.

    What is ``None`` is not constrained.
    """

    group_id: str
    start: date
    end: date
    nem_mcal: float | None = None
    tdn_kg: float | None = None
    cp_kg: float | None = None
    ca_kg: float | None = None
    p_kg: float | None = None
    least_dm_kg: float | None = None
    most_dm_kg: float | None = None


@dataclass(frozen=True, slots=True)
class WeatherRow:
    """A day, or a month's normal when ``day`` is its first day and ``monthly`` is set."""

    day: date
    monthly: bool
    mean_temperature_c: float | None = None
    wind_km_per_h: float | None = None
    precipitation_mm: float | None = None


@dataclass(frozen=True, slots=True)
class FedRow:
    """What was really fed: bales or a mass, as fed, of a lot or feed, to a group."""

    day: date
    source_id: str
    group_id: str
    bales: float | None = None
    mass_kg: float | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class MoveRow:
    """A line of the yard's book: what happened to bales of a lot on a day.

    ``bales`` or ``mass_kg`` as fed, or both, say how much. ``to_lot_id`` is the lot that bales
    are moved into. ``named`` is who answers for a correction, which alone may be negative.
    """

    day: date
    lot_id: str
    kind: MoveKind
    bales: float | None = None
    mass_kg: float | None = None
    to_lot_id: str = ""
    named: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class LabPackage:
    """What a laboratory sells for one price: its tests, by the names of analytes."""

    lab: str
    package: str
    price_usd: float
    tests: str
    chemistry: str = ""
    working_days: int | None = None
    note: str = ""

    @property
    def names(self) -> tuple[str, ...]:
        """Return the tests, one name each."""
        return tuple(self.tests.replace(",", " ").replace(";", " ").casefold().split())


@dataclass(frozen=True, slots=True)
class WishRow:
    """What a person wants of a season program, as a row says it.

    Of a lot or feed the group is to be fed some (``feed``), none (``keep_off``), or just
    ``as_fed_kg_per_head_day`` with its water (``amount``). It holds from ``start`` until the day
    before ``end``; ``None`` means the season's own day, an empty ``group_id`` every group.
    """

    wish: Wanted
    source_id: str
    group_id: str = ""
    start: date | None = None
    end: date | None = None
    as_fed_kg_per_head_day: float | None = None
    note: str = ""
