"""Lots: what makes one, what to call it, and the parts it falls into.

A lot is sampled, stored, priced and fed as one thing. Uniformity is what counts; the limits of
size in print differ two to one and none of them gives data.
"""

from __future__ import annotations

import math
import re
from collections.abc import Collection
from dataclasses import dataclass, replace
from datetime import date
from typing import Final

from rickyard.farm import Caution, Lot, MoveKind, MoveRow, Storage
from rickyard.hay.common import require_between, require_not_negative
from rickyard.quantities import KG_PER_SHORT_TON, OutOfRange

#: Bales of one lot were harvested within this many days: 48 hours (Putnam & Orloff; Nebraska
#: G331; Iowa State PM 1098B).
MOST_DAYS_APART: Final = 2
#: Nebraska G331 and Kansas State: usually less than 100 tons.
LARGE_LOT_KG: Final = 100.0 * KG_PER_SHORT_TON
#: Putnam & Orloff: under 200 tons; Univ. Georgia: above 200 tons of dry matter two composites.
#: As fed is the stricter reading.
LARGEST_LOT_KG: Final = 200.0 * KG_PER_SHORT_TON

#: A code fits a laboratory's form.
_MOST_FIELD_LETTERS: Final = 4
_NO_FIELD: Final = "FARM"


def composites_for(as_fed_kg: float) -> int:
    """Return how many composite samples a lot takes at least: one for each 200 tons begun.

    From Univ. Georgia laboratory and Univ. Kentucky; read as fed, the stricter way.

    Examples
    --------
    >>> composites_for(150 * 907.18474), composites_for(210 * 907.18474)
    (1, 2)
    """
    require_not_negative("hay", as_fed_kg, "kg")
    return max(1, math.ceil(as_fed_kg / LARGEST_LOT_KG - 1e-9))


def lot_size_cautions(lot: Lot, as_fed_kg: float) -> tuple[Caution, ...]:
    """Say what makes a lot too large or too mixed to be one.

    Parameters
    ----------
    lot : Lot
        The lot.
    as_fed_kg : float
        Its hay as fed. [kg]

    Returns
    -------
    tuple of Caution
        Nothing up to 100 tons, a note above, a warning above 200 tons.

    Examples
    --------
    >>> from rickyard.farm import Forage, Package
    >>> lot = Lot("A", "Barn", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN, 400.0,
    ...           date(2026, 6, 1), date(2026, 6, 1))
    >>> [one.level for one in lot_size_cautions(lot, 210 * 907.18474)]
    ['warning']
    """
    if as_fed_kg <= LARGE_LOT_KG:
        return ()
    if as_fed_kg <= LARGEST_LOT_KG:
        return (
            Caution(
                "note",
                lot.lot_id,
                f"{lot.name} is over 100 tons. Is it one field, one cutting, baled within two "
                "days? If not, split it and test each part.",
                "Nebraska G331; Kansas State",
            ),
        )
    return (
        Caution(
            "warning",
            lot.lot_id,
            f"{lot.name} is over 200 tons: take {composites_for(as_fed_kg)} composite samples "
            "from different bales and average them.",
            "Putnam & Orloff, National Forage Testing Association; Univ. Georgia",
        ),
    )


def field_code(field_name: str) -> str:
    """Return the short form of a field's name that a lot's code holds.

    Examples
    --------
    >>> field_code("North bottom"), field_code("Hill"), field_code("")
    ('NBOT', 'HILL', 'FARM')
    """
    words: list[str] = re.findall(r"[A-Z0-9]+", field_name.upper())
    if not words:
        return _NO_FIELD
    initials = "".join(word[0] for word in words[:-1])[: _MOST_FIELD_LETTERS - 1]
    return initials + words[-1][: _MOST_FIELD_LETTERS - len(initials)]


def lot_code(
    harvest_year: int, field_name: str, cutting: int | None, taken: Collection[str] = ()
) -> str:
    """Return the next free code for a lot of a field and cutting.

    At most 20 letters. Common practice, no published source.

    Parameters
    ----------
    harvest_year : int
        The year it was cut.
    field_name : str
        The field; blank where it is not known.
    cutting : int or None
        The number of the cutting, written as 0 where it is not known.
    taken : collection of str
        Codes that were ever used; none is used again.

    Returns
    -------
    str
        Year, field, cutting and running number.

    Examples
    --------
    >>> lot_code(2025, "North bottom", 1, ["2025-NBOT-C1-L01"])
    '2025-NBOT-C1-L02'
    """
    require_between("harvest year", harvest_year, 1000, 9999, "")
    require_between("cutting", cutting or 0, 0, 99, "")
    used = {code.upper() for code in taken}
    for number in range(1, 1000):
        code = f"{harvest_year}-{field_code(field_name)}-C{cutting or 0}-L{number:02d}"
        if code not in used:
            return code
    raise OutOfRange(f"all codes of {field_name} in {harvest_year} are used.")


def sample_code(lot_id: str, number: int) -> str:
    """Return what is written on the bag: the lot and the number of the sample, from 1.

    Examples
    --------
    >>> sample_code("2025-NBOT-C1-L02", 1)
    '2025-NBOT-C1-L02-S1'
    """
    require_between("sample", number, 1, math.inf, "")
    return f"{lot_id}-S{number}"


@dataclass(frozen=True, slots=True)
class LotSplit:
    """A lot, the part that now stands in another way, and the line of the book that says so."""

    lot: Lot
    part: Lot
    move: MoveRow


def split_lot(
    lot: Lot,
    bales: float,
    storage: Storage,
    on: date,
    *,
    standing: float,
    bale_kg: float | None = None,
    taken: Collection[str] = (),
    name: str = "",
) -> LotSplit:
    """Make bales that are moved to different storage a lot of their own.

    Parameters
    ----------
    lot : Lot
        The lot.
    bales : float
        Bales that are moved. [-]
    storage : Storage
        Where they stand from now on.
    on : date
        The day.
    standing : float
        Bales of the lot that stand on that day, from `rickyard.hay.storage.ledger`. [-]
    bale_kg : float, optional
        Mean weight of a bale as fed on that day; left out when the lot's bales were not weighed.
        [kg]
    taken : collection of str
        Codes ever used.
    name : str
        What to call the part; left out, the lot's name and where it stands.

    Returns
    -------
    LotSplit
        The lot unchanged, its part counted on that day, and the move. The part keeps all that is
        known of the hay; from now on the two age differently and are tested apart.

    Raises
    ------
    OutOfRange
        If more bales are moved than stand, none is moved, or they would stand as before.

    Examples
    --------
    >>> from rickyard.farm import Forage, Package
    >>> lot = Lot("2026-HILL-C1-L01", "Hill", Forage.COOL_GRASS, Package.ROUND,
    ...           Storage.EXPOSED_GROUND, 60.0, date(2026, 6, 1), date(2026, 6, 2),
    ...           field_name="Hill", cutting=1)
    >>> parts = split_lot(lot, 20.0, Storage.ENCLOSED_BARN, date(2026, 9, 1), standing=60.0,
    ...                   taken=[lot.lot_id])
    >>> parts.part.lot_id, parts.part.bales, parts.move.to_lot_id
    ('2026-HILL-C1-L02', 20.0, '2026-HILL-C1-L02')
    """
    if not 0.0 < bales <= standing:
        raise OutOfRange(f"{bales:g} bales cannot be moved: {standing:g} are there.")
    if storage is lot.storage:
        raise OutOfRange("the bales would be stored as before: they stay in their lot.")
    code = lot_code(lot.baled_on.year, lot.field_name, lot.cutting, {*taken, lot.lot_id})
    part = replace(
        lot,
        lot_id=code,
        name=name or f"{lot.name}, {storage.value.replace('_', ' ')}",
        storage=storage,
        bales=bales,
        counted_on=on,
        bale_weight_kg=lot.bale_weight_kg if bale_kg is None else bale_kg,
    )
    move = MoveRow(on, lot.lot_id, MoveKind.MOVED, bales=bales, to_lot_id=code)
    return LotSplit(lot, part, move)
