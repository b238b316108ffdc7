"""Which classes of beef stock a forage suits as it is, by the density their diet needs.

The densities are those at which a class meets its need with what it eats. They are a first
sorting; a season program works from the farm's own groups.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from rickyard.forage.nitrate import nitrate_share_limit

COW_SOURCE: Final = (
    "Diet density derived from NRC 2000 and NASEM 2016: cows of 545 kg (1,200 lb), calf of 40 kg, "
    "9 kg (20 lb) of milk at the peak, without cold"
)
GROWING_SOURCE: Final = (
    "Diet density derived from NRC 2000 and NASEM 2016: cattle finishing at 545 kg (1,200 lb), "
    "without cold"
)
#: No class is planned under this. New Mexico State University CR583.
CP_FLOOR_PCT: Final = 7.0


@dataclass(frozen=True, slots=True)
class DensityNeed:
    """What the diet of one class must hold, percent of dry matter."""

    name: str
    tdn_pct: float
    cp_pct: float
    pregnant: bool
    source: str


#: From the least to the most demanding by TDN.
DENSITY_NEEDS: Final = (
    DensityNeed("mature bulls", 47.0, CP_FLOOR_PCT, False, COW_SOURCE),
    DensityNeed("dry cows in mid-gestation", 48.9, CP_FLOOR_PCT, True, COW_SOURCE),
    DensityNeed("cows two months before calving", 54.0, 7.9, True, COW_SOURCE),
    DensityNeed("yearlings gaining 0.7 kg (1.5 lb) a day", 57.0, 8.1, False, GROWING_SOURCE),
    DensityNeed("cows nursing older calves", 57.5, 9.0, True, COW_SOURCE),
    DensityNeed("weaned calves gaining 0.45 kg (1 lb) a day", 57.7, 9.8, False, GROWING_SOURCE),
    DensityNeed("cows in the last month before calving", 58.3, 9.0, True, COW_SOURCE),
    DensityNeed("cows nursing young calves", 61.0, 10.7, True, COW_SOURCE),
    DensityNeed(
        "heifers and calves gaining 0.7 kg (1.5 lb) a day", 62.0, 11.3, False, GROWING_SOURCE
    ),
)
#: Cows nursing young calves, the class that asks for most minerals. [% DM]
NURSING_CA_PCT: Final = 0.31
NURSING_P_PCT: Final = 0.20
_LEAST_SAID: Final = 0.05  # a gap that rounds to nothing is not told


def suited(tdn_pct: float, cp_pct: float, no3n_ppm: float | None) -> tuple[DensityNeed, ...]:
    """Return the classes whose density need a forage meets by itself.

    Parameters
    ----------
    tdn_pct, cp_pct : float
        TDN and heat-adjusted protein of the forage. [% DM]
    no3n_ppm : float, optional
        Nitrate-nitrogen; where it limits the share of the ration the forage does not suit as
        it is. [ppm DM]

    Returns
    -------
    tuple of DensityNeed
        From the least to the most demanding.

    References
    ----------
    .. [1] Density tables of the beef chapter, derived from NRC 2000 and NASEM 2016.

    Examples
    --------
    >>> [need.name for need in suited(54.5, 8.2, None)][-1]
    'cows two months before calving'
    """
    return tuple(
        need
        for need in DENSITY_NEEDS
        if tdn_pct >= need.tdn_pct
        and cp_pct >= need.cp_pct
        and (no3n_ppm is None or nitrate_share_limit(no3n_ppm, need.pregnant) >= 1.0)
    )


def gap_words(need: DensityNeed, tdn_pct: float, cp_pct: float) -> str:
    """Say how far a forage falls short of a need, in points of dry matter.

    Examples
    --------
    >>> gap_words(DENSITY_NEEDS[-1], 60.0, 10.0)
    '2.0 points of TDN and 1.3 points of protein'
    """
    gaps = (
        (need.tdn_pct - tdn_pct, "points of TDN"),
        (need.cp_pct - cp_pct, "points of protein"),
    )
    return " and ".join(f"{gap:.1f} {word}" for gap, word in gaps if gap >= _LEAST_SAID)


def first_unmet(tdn_pct: float, cp_pct: float) -> DensityNeed | None:
    """Return the least demanding class whose density need a forage does not meet.

    Examples
    --------
    >>> first_unmet(54.5, 8.2).name
    'yearlings gaining 0.7 kg (1.5 lb) a day'
    """
    return next(
        (need for need in DENSITY_NEEDS if gap_words(need, tdn_pct, cp_pct)),
        None,
    )
