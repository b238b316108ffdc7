"""Which classes of stock a forage suits as it is, by the density their diet needs.

The densities are those at which a class meets its need with what it eats. They are a first
sorting; a season program works from the farm's own groups.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import Final

from rickyard.forage import shipped_rows
from rickyard.forage.uncertainty.uncertainty import Measured
from rickyard.forage.values import nitrate_share_limit


@dataclass(frozen=True, slots=True)
class DensityNeed:
    """What the diet of one class must hold, percent of dry matter."""

    name: str
    tdn_pct: float
    cp_pct: float
    pregnant: bool
    source: str
    stock: str = "beef"


_NEEDS: Final = tuple(
    DensityNeed(
        row["name"],
        float(row["tdn_pct"]),
        float(row["cp_pct"]),
        bool(row["pregnant"]),
        row["source"],
        row["stock"],
    )
    for row in shipped_rows("density_needs.csv")
)
#: From the least to the most demanding by TDN. No class is planned under 7 % protein (New Mexico
#: State University CR583).
DENSITY_NEEDS: Final = tuple(need for need in _NEEDS if need.stock == "beef")
#: Stock that is not beef, from the least to the most demanding of each kind. Horses: 1.67, 2.00,
#: 2.14 and 2.54 Mcal of digestible energy in a kilogram, over 0.9 * 0.044.
OTHER_NEEDS: Final = tuple(need for need in _NEEDS if need.stock != "beef")
#: Cows nursing young calves, the class that asks for most minerals, derived as their density.
#: [% DM]
NURSING_CA_PCT: Final = 0.31
NURSING_P_PCT: Final = 0.20
#: From here a chance is told as almost sure, and below the rest as hardly any; the end of the
#: 90 % interval to one side, by convention.
ALMOST_SURE: Final = 0.95
_TENTHS: Final = 10  # of one, by definition
_LEAST_SAID: Final = 0.05  # a gap that rounds to nothing is not told


def needs_of_stock(stock: Collection[str]) -> tuple[DensityNeed, ...]:
    """Return the classes of some kinds of stock, from the least to the most demanding of each.

    Parameters
    ----------
    stock : collection of str
        Kinds as the table of needs calls them; where none is named, beef cattle.

    Returns
    -------
    tuple of DensityNeed
        None for kinds that the table does not have.

    Examples
    --------
    >>> [one.name for one in needs_of_stock({"goats"})]
    ['dry does', 'does in late gestation']
    """
    return tuple(one for one in _NEEDS if one.stock in (stock or ("beef",)))


def suited(
    tdn_pct: float,
    cp_pct: float,
    no3n_ppm: float | None,
    needs: tuple[DensityNeed, ...] = DENSITY_NEEDS,
) -> tuple[DensityNeed, ...]:
    """Return the classes whose density need a forage meets by itself.

    Source: Densities derived from NRC 2000 and NASEM 2016.

    Parameters
    ----------
    tdn_pct, cp_pct : float
        TDN and heat-adjusted protein of the forage. [% DM]
    no3n_ppm : float, optional
        Nitrate-nitrogen; where it limits the share of the ration the forage does not suit as
        it is. [ppm DM]
    needs : tuple of DensityNeed
        The classes to compare with; beef cattle when not given.

    Returns
    -------
    tuple of DensityNeed
        From the least to the most demanding.

    Examples
    --------
    >>> [need.name for need in suited(54.5, 8.2, None)][-1]
    'cows two months before calving'
    """
    return tuple(
        need
        for need in needs
        if tdn_pct >= need.tdn_pct
        and cp_pct >= need.cp_pct
        and (no3n_ppm is None or nitrate_share_limit(no3n_ppm, need.pregnant) >= 1.0)
    )


def chance_suited(need: DensityNeed, tdn: Measured, cp: Measured) -> float:
    """Return the chance that a forage meets a density need, given the error of its test.

    Parameters
    ----------
    need : DensityNeed
        The class.
    tdn, cp : Measured
        TDN and heat-adjusted protein. [% DM]

    Returns
    -------
    float
        Chance that both are reached, their errors taken as independent. [-]

    Examples
    --------
    >>> tdn = Measured.normal(54.0, 1.0, "% of dry matter", "")
    >>> cp = Measured.normal(12.0, 1.0, "% of dry matter", "")
    >>> round(chance_suited(DENSITY_NEEDS[2], tdn, cp), 2)
    0.5
    """
    return tdn.chance_at_least(need.tdn_pct) * cp.chance_at_least(need.cp_pct)


def sure_words(chance: float) -> str:
    """Say a chance as so many times in ten.

    Parameters
    ----------
    chance : float
        A probability, 0 to 1. [-]

    Returns
    -------
    str
        Words for it.

    Examples
    --------
    >>> sure_words(0.97), sure_words(0.62), sure_words(0.02)
    ('almost certainly', 'about 6 times in 10', 'rarely')
    """
    if chance >= ALMOST_SURE:
        return "almost certainly"
    if chance < 1.0 - ALMOST_SURE:
        return "rarely"
    tenths = min(_TENTHS - 1, max(1, round(_TENTHS * chance)))
    return f"about {tenths} time{'s' if tenths > 1 else ''} in 10"


def gap_words(need: DensityNeed, tdn_pct: float, cp_pct: float) -> str:
    """Say how far a forage falls short of a need, in points of dry matter.

    Parameters
    ----------
    need : DensityNeed
        What a class of stock needs.
    tdn_pct, cp_pct : float
        TDN and crude protein of the forage. [% DM]

    Returns
    -------
    str
        What is lacking, empty where nothing is. [points of DM]

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


def first_unmet(
    tdn_pct: float, cp_pct: float, needs: Sequence[DensityNeed] = DENSITY_NEEDS
) -> DensityNeed | None:
    """Return the least demanding class whose density need a forage does not meet.

    Parameters
    ----------
    tdn_pct, cp_pct : float
        TDN and crude protein. [% DM]
    needs : sequence of DensityNeed
        The classes from the least to the most demanding; those of beef cattle when not given.

    Returns
    -------
    DensityNeed or None
        The class, or ``None`` where all are met.

    Examples
    --------
    >>> first_unmet(54.5, 8.2).name
    'yearlings gaining 1.5 lb (0.7 kg) a day'
    """
    return next(
        (need for need in needs if gap_words(need, tdn_pct, cp_pct)),
        None,
    )
