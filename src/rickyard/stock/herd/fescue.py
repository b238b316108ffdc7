"""When mares get no fescue: its endophyte harms mare and foal in the last weeks."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Final

from rickyard.farm import AnimalClass, Farm, Group, Lot
from rickyard.stock.common import GESTATION_DAYS, YEAR_DAYS

#: Days before foaling in which mares get no fescue that may hold the endophyte; from memory.
FESCUE_DAYS: Final = 90
FESCUE_SOURCE: Final = "Oregon State Univ.; days from memory"


def before_foaling(group: Group, farm: Farm) -> tuple[tuple[date, date], ...]:
    """Return the days of the season on which a mare may be in the last weeks before foaling.

    ``group``: its day of foaling, or of breeding, and the spread of the foalings are read.

    >>> from rickyard.farm import Season
    >>> mares = Group("m", "Mares", AnimalClass.MARE, 2, 520.0, calving_on=date(2027, 4, 1))
    >>> farm = Farm("Home", Season(date(2026, 11, 1), date(2027, 5, 1)), groups=(mares,))
    >>> [(first.isoformat(), end.isoformat()) for first, end in before_foaling(mares, farm)]
    [('2026-12-31', '2027-04-02')]
    """
    if group.animal_class is not AnimalClass.MARE:
        return ()
    days = [] if group.calving_on is None else [group.calving_on]
    if group.breeding_on is not None:
        days.append(group.breeding_on + timedelta(days=GESTATION_DAYS["horse"]))
    half = timedelta(days=(group.calving_spread_days or 0) // 2 + 1)
    births = [day + timedelta(days=years * YEAR_DAYS) for day in days for years in (0, 1)]
    spans = [(day - timedelta(days=FESCUE_DAYS) - half, day + half) for day in births]
    season = farm.season
    return tuple(one for one in spans if one[0] < season.end and season.start < one[1])


def says_fescue(text: str) -> bool:
    """Say whether a name tells of fescue and not that it is free of the toxic endophyte.

    >>> says_fescue("Far field, tall fescue"), says_fescue("Endophyte-free fescue")
    (True, False)
    """
    lower = text.lower()
    free = "endophyte-free" in lower or "endophyte free" in lower or "novel endophyte" in lower
    return "fescue" in lower and not free


def is_risky_fescue(lot: Lot, farm: Farm) -> bool:
    """Say whether a lot is fescue of which no test or word says that it has no ergovaline."""
    if not says_fescue(f"{lot.species} {lot.name}"):
        return False
    found = [one for report in farm.reports_of(lot.lot_id) if (one := report.get("ergovaline"))]
    return not found or any(one.value is None or one.value > 0.0 for one in found)
