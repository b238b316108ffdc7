"""A stack seen from above: where its bales stand, which are gone, which a probe can reach."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from rickyard.evidence import COMMON_PRACTICE, JUDGEMENT
from rickyard.farm import Lot, Package, StackRow
from rickyard.quantities import M_PER_FT

#: Sides of a bale that nobody measured: across its row, along it, and high. [ft]
USUAL_SIDES_FT: Final[Mapping[Package, tuple[float, float, float]]] = {
    Package.ROUND: (5.0, 5.0, 5.0),
    Package.BALEAGE: (4.0, 4.0, 4.0),
    Package.LARGE_SQUARE: (8.0, 4.0, 3.0),
    Package.SMALL_SQUARE: (3.0, 1.5, 1.2),
    Package.LOOSE: (20.0, 20.0, 10.0),
}
USUAL_SIDES_SOURCE: Final = COMMON_PRACTICE
#: A bale is cored from the ground where its middle stands no higher: nobody climbs. [m]
REACH_UP_M: Final = 1.5
#: So wide must a gap between rows be for somebody with a probe. [m]
REACH_IN_M: Final = 0.75
REACH_SOURCE: Final = JUDGEMENT


@dataclass(frozen=True, slots=True)
class Spot:
    """A place of a stack for bales on each other: its corner nearest to the start of its row.

    ``across_m`` and ``along_m`` run from the middle of the stack, along the rows and at right
    angles to them; ``bales`` stood here, ``gone`` of them are there no more, and ``reach`` of what
    stands can be cored from the ground.
    """

    across_m: float
    along_m: float
    bales: int
    gone: int
    reach: int


@dataclass(frozen=True, slots=True)
class Stack:
    """A stack from above: one spot for each pile of bales, all of one size. [m]."""

    spots: tuple[Spot, ...]
    bale_across_m: float
    bale_along_m: float
    across_m: float
    along_m: float

    @property
    def reach(self) -> int:
        """Return how many of the bales that stand a probe can reach."""
        return sum(one.reach for one in self.spots)


def bale_sides_m(lot: Lot) -> tuple[float, float, float]:
    """Return the sides of a bale as it lies in its row: across it, along it, and high.

    A round bale lies with its flat ends to its neighbors, a square one with its length across.

    Parameters
    ----------
    lot : Lot
        The lot.

    Returns
    -------
    tuple of float
        Three sides; what was not measured is that of a usual bale. [m]

    Examples
    --------
    >>> from rickyard.calls import demo_farm
    >>> [round(side, 2) for side in bale_sides_m(demo_farm().lot("26-HILL-1"))]
    [1.52, 1.52, 1.52]
    """
    usual = tuple(side * M_PER_FT for side in USUAL_SIDES_FT[lot.package])
    if lot.package in (Package.ROUND, Package.BALEAGE) and lot.bale_length_m is None:
        said = (lot.bale_diameter_m, lot.bale_width_m, lot.bale_diameter_m)
    else:
        said = (lot.bale_length_m, lot.bale_width_m, lot.bale_height_m)
    across, along, high = (
        there if known is None else known for known, there in zip(said, usual, strict=True)
    )
    return across, along, high


def stack_of(lot: Lot, row: StackRow, standing: float, gone: float) -> Stack:
    """Lay the bales of a lot out in their stack.

    Rows are filled from their start, and what was taken is taken from there. A bale can be cored
    where its row is the outer one or has a gap beside it: round bales are cored on the curved side
    and square ones on the butt, and both lie to the side of the row.

    Parameters
    ----------
    lot : Lot
        The lot; loose hay is a heap to each load.
    row : StackRow
        How it stands.
    standing, gone : float
        Bales that stand, and that stood there and are gone.

    Returns
    -------
    Stack
        Spots in the order in which they are filled: all of the first bales of the rows, then all of
        the second.

    Examples
    --------
    >>> from rickyard.calls import demo_farm
    >>> lot = demo_farm().lot("26-HILL-1")
    >>> made = stack_of(lot, StackRow(lot.lot_id, 0, 0, 0, wide=3, high=2), 18, 0)
    >>> len(made.spots), made.reach, round(made.across_m, 2), round(made.along_m, 2)
    (9, 6, 4.57, 4.57)
    """
    across, along, tall = bale_sides_m(lot)
    gap = row.gap_m or 0.0
    total, left = math.ceil(standing + gone), round(gone)
    piles = math.ceil(total / row.high)
    wide = max(1, min(row.wide, piles))
    long = math.ceil(piles / wide)
    whole_across, whole_along = wide * across + (wide - 1) * gap, long * along
    layers = sum((level + 0.5) * tall <= REACH_UP_M for level in range(row.high))
    spots = []
    for number in range(piles):
        at, side = divmod(number, wide)
        here = min(row.high, total - number * row.high)
        taken = min(here, left)
        left -= taken
        is_open = side in (0, wide - 1) or gap >= REACH_IN_M
        # What is taken is taken from above.
        reach = min(layers, here - taken) if is_open else 0
        start = side * (across + gap) - whole_across / 2.0
        spots.append(Spot(start, at * along - whole_along / 2.0, here, taken, reach))
    return Stack(tuple(spots), across, along, whole_across, whole_along)
