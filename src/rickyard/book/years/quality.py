"""What the hay of a farm tested, by forage, field, cutting and year."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final
from uuid import UUID

from rickyard.farm import Farm, Forage, Lot
from rickyard.forage.plausibility import LotProfile, lot_profile
from rickyard.hay.storage import mean_bale_kg

#: What is told of quality, by the names of a profile. [% DM]
TOLD: Final = ("cp_pct", "tdn_pct", "ndf_pct")

#: How a value is known that a laboratory printed, or that is computed from what one printed.
_TESTED: Final = ("lab", "computed")


@dataclass(frozen=True, slots=True)
class HayTested:
    """Hay of one forage, field, cutting and year: its lots, how many are tested, and the means.

    Means are of the lots of which a laboratory told the value, by their dry matter. ``None`` is not
    known. [% DM]
    """

    forage: Forage
    field: str
    cutting: int | None
    year: int
    lots: int
    tested: int
    dry_kg: float
    cp_pct: float | None
    tdn_pct: float | None
    ndf_pct: float | None


def values_tested(profile: LotProfile) -> dict[str, float]:
    """Return what a laboratory told of a lot; what stands in from a book is left out. [% DM].

    Parameters
    ----------
    profile : LotProfile
        The lot as it is counted.

    Returns
    -------
    dict of str to float
        By the names of `TOLD`.
    """
    if not profile.tested:
        return {}
    return {
        name: float(getattr(profile, name)) for name in TOLD if profile.origins.get(name) in _TESTED
    }


def mean_by_mass(values: Iterable[tuple[float, float]]) -> float | None:
    """Return the mean of values by their mass; ``None`` of none.

    Examples
    --------
    >>> mean_by_mass([(10.0, 30.0), (14.0, 10.0)])
    11.0
    """
    known = [(value, mass) for value, mass in values if mass > 0.0]
    whole = math.fsum(mass for _, mass in known)
    return math.fsum(value * mass for value, mass in known) / whole if known else None


def quality_of(lots: Mapping[UUID, tuple[Farm, Lot]]) -> tuple[HayTested, ...]:
    """Return what hay tested, by forage, field, cutting and year.

    Parameters
    ----------
    lots : mapping of UUID to tuple of Farm and Lot
        Every lot once, however many seasons it was fed in, with the farm that has its tests.

    Returns
    -------
    tuple of HayTested
        By forage, the newest year first.
    """
    found: dict[tuple[Forage, str, int | None, int], list[tuple[float, dict[str, float]]]]
    found = defaultdict(list)
    for farm, lot in lots.values():
        profile = lot_profile(lot, farm.reports_of(lot.lot_id))
        dry = lot.bales * mean_bale_kg(lot, profile.dm_pct) * profile.dm_pct / 100.0
        key = (lot.forage, " ".join(lot.field_name.split()), lot.cutting, lot.baled_on.year)
        found[key].append((dry, values_tested(profile)))
    rows = [_row(key, its) for key, its in found.items()]
    return tuple(
        sorted(rows, key=lambda one: (one.forage.value, -one.year, one.field, one.cutting or 0))
    )


def _row(
    key: tuple[Forage, str, int | None, int], lots: Sequence[tuple[float, dict[str, float]]]
) -> HayTested:
    means = {
        name: mean_by_mass((values[name], dry) for dry, values in lots if name in values)
        for name in TOLD
    }
    return HayTested(
        *key,
        lots=len(lots),
        tested=sum(bool(values) for _, values in lots),
        dry_kg=math.fsum(dry for dry, _ in lots),
        cp_pct=means["cp_pct"],
        tdn_pct=means["tdn_pct"],
        ndf_pct=means["ndf_pct"],
    )
