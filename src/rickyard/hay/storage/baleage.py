"""Baleage: how wet, how old, and what to mind when it is fed."""

from __future__ import annotations

from typing import Final

from rickyard.farm import Caution
from rickyard.hay.storage.storage import WRAPPED_KEEPS_MONTHS
from rickyard.quantities import OutOfRange

# Reviews and states differ (45-55, 40-60, 50-65 %): aim at 50, accept 45 to 60, flag outside 40
# to 65.
AIM_MOISTURE_PCT: Final = 50.0
GOOD_MOISTURE_PCT: Final = (45.0, 60.0)
WIDEST_MOISTURE_PCT: Final = (40.0, 65.0)
#: Film intact, twelve months at most (common practice).
MOST_MONTHS: Final = 12.0

_SOURCE: Final = "Univ. Georgia, Univ. Kentucky, Ohio State and Undersander"


def baleage_cautions(
    lot_id: str,
    moisture_pct: float,
    months: float = 0.0,
) -> tuple[Caution, ...]:
    """Say what may go wrong with a lot of baleage.

    Parameters
    ----------
    lot_id : str
        The lot.
    moisture_pct : float
        Moisture when it was wrapped, between 0 and 100. [%]
    months : float
        Age. [month]

    Returns
    -------
    tuple of Caution
        Gravest first.

    Examples
    --------
    >>> [one.level for one in baleage_cautions("A", 68.0, 10.0)]
    ['danger', 'note']
    """
    if not 0.0 < moisture_pct < 100.0:
        raise OutOfRange(f"moisture {moisture_pct:g}% is not between 0 and 100%.")
    found = list(_moisture(lot_id, moisture_pct))
    if months > WRAPPED_KEEPS_MONTHS:
        says = "Baleage is best fed within nine months, and within twelve with the film whole."
        source = "Univ. Georgia; twelve common practice"
        old = months > MOST_MONTHS
        found.append(Caution("warning" if old else "note", lot_id, says, source))
    return tuple(found)


def _moisture(lot_id: str, moisture_pct: float) -> list[Caution]:
    low, high = WIDEST_MOISTURE_PCT
    if moisture_pct > high:
        says = (
            f"At {moisture_pct:g}% moisture it is too wet: botulism and butyric acid bacteria can "
            "grow. Test it, feed none to horses, and ask a veterinarian."
        )
        return [Caution("danger", lot_id, says, _SOURCE)]
    if moisture_pct < low:
        says = (
            f"At {moisture_pct:g}% moisture it barely ferments and keeps only while air stays out. "
            "Feed it soon, and watch for mold and listeria."
        )
        return [Caution("warning", lot_id, says, _SOURCE)]
    if not GOOD_MOISTURE_PCT[0] <= moisture_pct <= GOOD_MOISTURE_PCT[1]:
        says = f"At {moisture_pct:g}% moisture it is off target: {AIM_MOISTURE_PCT:g}% is best."
        return [Caution("note", lot_id, says, _SOURCE)]
    return []
