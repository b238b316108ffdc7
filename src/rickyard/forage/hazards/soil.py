"""Ash beyond what the plant holds: soil, what it costs in energy, and what it brings."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np

from rickyard.farm import Forage
from rickyard.forage.energy import LEGUMES
from rickyard.forage.hazards.hazard import Hazard, told
from rickyard.forage.values import CLASS_TABLES
from rickyard.quantities import Numeric, as_given

# Undersander, University of Wisconsin Extension, Ash in Forage: ash within the plant, the upper
# end for alfalfa; each further percent costs 0.98 % TDN. [% DM]
INTERNAL_ASH_LEGUME_PCT: Final = 8.0
INTERNAL_ASH_GRASS_PCT: Final = 6.0
TDN_LOSS_PER_ASH_PCT: Final = 0.98


def external_ash_pct(total_ash_pct: Numeric, internal_ash_pct: Numeric) -> Numeric:
    """Return the ash that came from soil.

    Held at 0 where the ash is less than that of the clean plant.

    Source: Undersander, University of Wisconsin Extension, Ash in Forage.

    Parameters
    ----------
    total_ash_pct : float or array
        Ash of the sample. [% DM]
    internal_ash_pct : float or array
        Ash of the clean plant: 8 for alfalfa, 6 for grass. [% DM]

    Returns
    -------
    float or array
        Ash from outside, not below 0. [% DM]

    Examples
    --------
    >>> round(external_ash_pct(12.3, 8.0), 1)
    4.3
    """
    outside = np.asarray(total_ash_pct, dtype=np.float64) - np.asarray(internal_ash_pct)
    return as_given(np.maximum(0.0, outside), total_ash_pct, internal_ash_pct)


def tdn_lost_to_ash_pct(extra_ash_pct: Numeric) -> Numeric:
    """Return the TDN that ash from soil costs.

    Source: Undersander, University of Wisconsin Extension, Ash in Forage.

    Parameters
    ----------
    extra_ash_pct : float or array
        Ash from outside. [% DM]

    Returns
    -------
    float or array
        TDN lost. [% DM]

    Examples
    --------
    >>> tdn_lost_to_ash_pct(1.0)
    0.98
    """
    return as_given(TDN_LOSS_PER_ASH_PCT * np.asarray(extra_ash_pct), extra_ash_pct)


def internal_ash_pct(forage: Forage) -> float:
    """Return the ash of the clean plant.

    Parameters
    ----------
    forage : Forage
        The kind of forage; alfalfa and clover count as legumes.

    Returns
    -------
    float
        Ash of the clean plant. [% DM]

    Examples
    --------
    >>> internal_ash_pct(Forage.ALFALFA), internal_ash_pct(Forage.COOL_GRASS)
    (8.0, 6.0)
    """
    return INTERNAL_ASH_LEGUME_PCT if forage in LEGUMES else INTERNAL_ASH_GRASS_PCT


def soil_hazards(name: str, forage: Forage, ash_pct: float | None, wet: bool) -> Iterator[Hazard]:
    """Yield what the ash of a hay calls for; in wet bales soil brings clostridia."""
    if ash_pct is None:
        return
    clean = internal_ash_pct(forage)
    soil = ash_pct - clean
    if not CLASS_TABLES["ash_from_soil"].place(soil):
        return
    grave = CLASS_TABLES["ash"].place(ash_pct) == 1
    yield told(
        "soil",
        name,
        level="warning" if grave or wet else "note",
        ash_pct=ash_pct,
        soil=soil,
        tdn=tdn_lost_to_ash_pct(soil),
        limit=clean + CLASS_TABLES["ash_from_soil"].limits[0],
        wet_bales=" In wet bales soil carries clostridia: smell every bale." if wet else "",
        whom="Ask the lab to test ash again." if grave else "",
    )
