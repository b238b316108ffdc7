"""What a bale weighs, learned from weigh tickets: the written weight drawn toward what was weighed.

Nothing is put in the place of what is written: who keeps the book is told, and decides.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, Final, Literal
from uuid import UUID

from rickyard.book import records
from rickyard.book.acting import heard_of
from rickyard.farm import Farm, Lot, MoveKind, MoveRow
from rickyard.folder.rules import WEIGHT_OF_PACKAGE
from rickyard.forage.plausibility import lot_profile
from rickyard.hay.sampling import UNKNOWN_RAIN_MM
from rickyard.hay.storage import BALE_CV_PCT, bale_weight_error_frac, dry_per_bale, mean_bale_kg

#: Nine times in ten a normal value lies within so many standard errors of its mean.
WITHIN_90: Final = 1.645

#: What somebody corrects, or cores, is no weigh ticket.
_NO_TICKET: Final = (MoveKind.CORRECTION, MoveKind.CORED)

#: A written weight this near to a ticket is taken to come from it: scales are read, and weights
#: written, to about ten pounds of a round bale. Judgement, no published source. [%]
SAME_PCT: Final = 0.5

#: Where what was known of a bale before its tickets comes from.
Origin = Literal["written", "size", "package"]


@dataclass(frozen=True, slots=True)
class LearnedWeight:
    """What a bale of a lot weighs as fed on the day of its count. [kg].

    ``said_kg`` is what the book says, written or by size; ``bales`` were weighed since, on tickets
    that say ``ticket_kg`` a bale. ``known_kg`` is what was known without the tickets and ``origin``
    how: the written weight, unless a ticket says the same, else the size of a bale, else what bales
    of the package usually weigh; ``None`` where nothing was. ``kg`` is what both come to, nine
    times in ten between ``low_kg`` and ``high_kg``.
    """

    lot: Lot
    said_kg: float
    known_kg: float | None
    origin: Origin
    bales: float
    ticket_kg: float
    kg: float
    low_kg: float
    high_kg: float

    @property
    def differs(self) -> bool:
        """Return whether what the book says lies outside the range."""
        return not self.low_kg <= self.said_kg <= self.high_kg


def drawn_together(said: float, said_se: float, seen: float, seen_se: float) -> tuple[float, float]:
    """Return the mean and standard error of a value that is known in two ways.

    Source: the normal mean with a normal prior, each weighted by one over its variance: Gelman,
    Carlin, Stern, Dunson, Vehtari and Rubin 2013, Bayesian Data Analysis, 3rd ed., section 2.5;
    from memory.

    Parameters
    ----------
    said, said_se : float
        What was known before, and its standard error, above 0. [any unit]
    seen, seen_se : float
        What was measured, and its standard error, above 0. [the same]

    Returns
    -------
    tuple of float
        Mean and standard error. [the same]

    Examples
    --------
    >>> mean, error = drawn_together(500.0, 50.0, 540.0, 25.0)
    >>> round(mean, 1), round(error, 2)
    (532.0, 22.36)
    """
    before, now = said_se**-2, seen_se**-2
    return (said * before + seen * now) / (before + now), (before + now) ** -0.5


def written_before_tickets(person: Any, season_id: UUID) -> dict[str, float | None]:
    """Return the bale weight that stood in the book when the first ticket of a lot was written.

    What was written later may come from the tickets, and is no second witness.

    Parameters
    ----------
    person : records.Person or None
        Who reads.
    season_id : UUID
        The season.

    Returns
    -------
    dict of str to float or None
        By the short name of each lot that has a ticket. [kg as fed]
    """
    heard_of("read farm", person, season_id)
    moves = records.Move.objects.filter(
        season=season_id, bales__isnull=False, mass_kg__isnull=False
    )
    first: dict[UUID, int] = {}
    for lot, number in moves.exclude(kind__in=_NO_TICKET).values_list(
        "lot_id", "written_by__number"
    ):
        first[lot] = min(number, first.get(lot, number))
    names: dict[UUID, str] = {}
    found: dict[UUID, float | None] = {}
    states = records.LotState.objects.filter(season=season_id, thing_id__in=first).order_by(
        "revision"
    )
    for lot, name, kg, number in states.values_list(
        "thing_id", "lot_id", "bale_weight_kg", "written_by__number"
    ):
        names[lot] = name
        if number <= first[lot]:
            found[lot] = kg
    return {names[lot]: kg for lot, kg in found.items()}


def learned_weights(
    farm: Farm, before: Mapping[str, float | None] | None = None
) -> tuple[LearnedWeight, ...]:
    """Return what weigh tickets say of the bales of each lot that has any.

    A ticket is a line of the yard's book with bales and their mass. Its weight is taken back to the
    day of the count by what storage took between. Bales differ by the spread that was measured, or
    8 % (common practice), and tickets of one lot count as one sample of all their bales.

    Parameters
    ----------
    farm : Farm
        The farm.
    before : mapping of str to float or None, optional
        What stood in the book of a bale's weight before its first ticket, by lot; what is
        written now where a lot is not in it. [kg as fed]

    Returns
    -------
    tuple of LearnedWeight
        Lots in the order of the farm; none where every bale was weighed before.
    """
    known = before or {}
    found = (
        _learned(farm, lot, _tickets(farm, lot), known.get(lot.lot_id, lot.bale_weight_kg))
        for lot in farm.lots
    )
    return tuple(one for one in found if one is not None)


def _tickets(farm: Farm, lot: Lot) -> list[MoveRow]:
    return [
        row
        for row in farm.moves
        if row.lot_id == lot.lot_id and row.kind not in _NO_TICKET and row.bales and row.mass_kg
    ]


def _learned(
    farm: Farm, lot: Lot, tickets: list[MoveRow], written_kg: float | None
) -> LearnedWeight | None:
    if not tickets or bale_weight_error_frac(lot)[0] <= 0.0:
        return None
    dm_pct = lot_profile(lot, farm.reports_of(lot.lot_id)).dm_pct
    rain = farm.season.rainfall_mm_per_year
    dry = dry_per_bale(lot, dm_pct, UNKNOWN_RAIN_MM if rain is None else rain)
    bales = math.fsum(row.bales or 0.0 for row in tickets)
    then = dry(lot.counted_on)
    mass = math.fsum((row.mass_kg or 0.0) * then / dry(row.day) for row in tickets)
    seen = mass / bales
    spread = lot.bale_weight_sd_kg or BALE_CV_PCT / 100.0 * seen
    mean, error = seen, spread / math.sqrt(bales)
    if written_kg is not None and _of_a_ticket(written_kg, seen, tickets):
        written_kg = None
    known, known_se, origin = _known(lot, dm_pct, written_kg)
    if known is not None:
        mean, error = drawn_together(known, known_se, seen, error)
    within = WITHIN_90 * error
    said = mean_bale_kg(lot, dm_pct)
    return LearnedWeight(lot, said, known, origin, bales, seen, mean, mean - within, mean + within)


def _of_a_ticket(written_kg: float, seen_kg: float, tickets: list[MoveRow]) -> bool:
    """Return whether a weight is that of a ticket, or of all of them, as written or as counted."""
    rows = [(row.mass_kg or 0.0, row.bales or 1.0) for row in tickets]
    whole = math.fsum(mass for mass, _ in rows) / math.fsum(bales for _, bales in rows)
    said = (seen_kg, whole, *(mass / bales for mass, bales in rows))
    return any(abs(one - written_kg) <= SAME_PCT / 100.0 * written_kg for one in said)


def _known(lot: Lot, dm_pct: float, written_kg: float | None) -> tuple[float | None, float, Origin]:
    """Return what is known of a bale without its tickets, its standard error and its origin.

    Without weight and size the usual weights of the package (common practice, no published source)
    are read as a 90 % range; judgement, no published source.
    """
    one = replace(lot, bale_weight_kg=written_kg)
    if written_kg is not None:
        return written_kg, bale_weight_error_frac(one)[0] * written_kg, "written"
    sides = (lot.bale_length_m, lot.bale_width_m, lot.bale_height_m)
    if None not in sides or None not in (lot.bale_diameter_m, lot.bale_width_m):
        by_size = mean_bale_kg(one, dm_pct)
        return by_size, bale_weight_error_frac(one)[0] * by_size, "size"
    usual = WEIGHT_OF_PACKAGE[lot.package].usual
    if usual is None:
        return None, 0.0, "package"
    least, most = usual
    return (least + most) / 2.0, (most - least) / 2.0 / WITHIN_90, "package"
