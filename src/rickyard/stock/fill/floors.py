"""What a diet must hold at least whatever the sum of needs says: protein, calcium, long forage."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Final

from rickyard.farm import AnimalClass, Group, Sex
from rickyard.stock.common import read_rows

#: Calcium to phosphorus of females whose males need more of it: stones are of males.
FEMALE_CA_TO_P: Final = 1.0


@dataclass(frozen=True, slots=True)
class Floors:
    """What the diet of a class must hold at least.

    Attributes
    ----------
    cp_pct : float
        Crude protein, below which the rumen slows; NaN where there is no rumen. [% DM]
    ca_to_p : float
        Calcium to phosphorus by mass. [-]
    forage_pct_bw : float
        Long forage. [% of body weight]
    """

    cp_pct: float
    ca_to_p: float
    forage_pct_bw: float


def floors_of(group: Group) -> Floors:
    """Return what the diet of a group must hold at least, by its class.

    Parameters
    ----------
    group : Group
        The group; young males, and young whose sex is not known, count as males.

    Returns
    -------
    Floors
        By the table ``diet_floors``, which names the sources.

    Examples
    --------
    >>> floors_of(Group("r", "Rams", AnimalClass.RAM, 2, 90.0))
    Floors(cp_pct=7.0, ca_to_p=2.0, forage_pct_bw=1.0)
    """
    floors = _floors()[group.animal_class]
    if group.sex is Sex.FEMALE and group.animal_class in (AnimalClass.KID, AnimalClass.FEEDER_LAMB):
        return Floors(floors.cp_pct, FEMALE_CA_TO_P, floors.forage_pct_bw)
    return floors


@cache
def _floors() -> dict[AnimalClass, Floors]:
    return {
        AnimalClass(name): Floors(
            float(row["least_cp_pct"] or "nan"),
            float(row["least_ca_to_p"]),
            float(row["least_forage_pct_bw"]),
        )
        for row in read_rows("diet_floors")
        for name in row["classes"].split()
    }
