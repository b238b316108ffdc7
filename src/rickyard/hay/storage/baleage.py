"""Baleage: how wet, how wrapped, how soon, and what to mind when it is fed."""

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
#: Undersander: at least six layers of film of one mil, wrapped within 24 hours; Ohio State
#: within two.
LEAST_LAYERS: Final = 6
BEST_HOURS: Final = 2.0
MOST_HOURS: Final = 24.0
#: Film intact, twelve months at most (common practice).
MOST_MONTHS: Final = 12.0

_SOURCE: Final = "Univ. Georgia, Univ. Kentucky, Ohio State and Undersander"


def baleage_cautions(
    lot_id: str,
    moisture_pct: float,
    *,
    film_layers: int | None = None,
    hours_to_wrap: float | None = None,
    months: float = 0.0,
) -> tuple[Caution, ...]:
    """Say what may go wrong with a lot of baleage.

    Parameters
    ----------
    lot_id : str
        The lot.
    moisture_pct : float
        Moisture when it was wrapped. [%]
    film_layers : int, optional
        Layers of film. [-]
    hours_to_wrap : float, optional
        Hours from baling to wrapping. [h]
    months : float
        Age. [month]

    Returns
    -------
    tuple of Caution
        Gravest first.

    Raises
    ------
    OutOfRange
        If the moisture is not between 0 and 100 %.

    Examples
    --------
    >>> [one.level for one in baleage_cautions("A", 68.0, film_layers=4)]
    ['danger', 'warning']
    """
    if not 0.0 < moisture_pct < 100.0:
        raise OutOfRange(f"moisture {moisture_pct:g} % is not between 0 and 100 %.")
    found = list(_moisture(lot_id, moisture_pct))
    if film_layers is not None and film_layers < LEAST_LAYERS:
        says = f"{film_layers} layers of film keep it for a short time only: six are the least."
        found.append(Caution("warning", lot_id, says, "Undersander"))
    if hours_to_wrap is not None and hours_to_wrap > MOST_HOURS:
        says = "It was wrapped later than a day after baling: look for heat damage and mold."
        found.append(Caution("warning", lot_id, says, "Undersander"))
    elif hours_to_wrap is not None and hours_to_wrap > BEST_HOURS:
        says = "It was wrapped later than two hours after baling; sooner keeps more."
        found.append(Caution("note", lot_id, says, "Ohio State"))
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
            f"At {moisture_pct:g} % moisture it is too wet: bacteria of botulism and butyric acid "
            "may grow. Have it tested, feed none to horses, and ask a veterinarian."
        )
        return [Caution("danger", lot_id, says, _SOURCE)]
    if moisture_pct < low:
        says = (
            f"At {moisture_pct:g} % moisture it barely ferments: it keeps only while no air comes "
            "in. Feed it soon, and look for mold and listeria."
        )
        return [Caution("warning", lot_id, says, _SOURCE)]
    if not GOOD_MOISTURE_PCT[0] <= moisture_pct <= GOOD_MOISTURE_PCT[1]:
        says = f"At {moisture_pct:g} % moisture it is off the mark: {AIM_MOISTURE_PCT:g} % is best."
        return [Caution("note", lot_id, says, _SOURCE)]
    return []
