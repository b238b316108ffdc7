"""What hay can do to horses above other stock: sugar and blister beetles."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

import numpy as np

from rickyard.farm import Forage, Lot
from rickyard.forage.hazards.hazard import Hazard
from rickyard.forage.hazards.hazard_tables import NSC_HORSE
from rickyard.quantities import KG_PER_LB, Numeric, OutOfRange, as_given

# kppusa.com 2018, quoting Equi-Analytical: usual limit for horses prone to laminitis. [% DM]
NSC_LAMINITIS_LIMIT_PCT: Final = 12.0
#: For horses that must not gain weight (trade leaflet on NSC). [Mcal/kg DM]
DE_WEIGHT_CONTROL_MCAL_PER_KG: Final = 0.88 / KG_PER_LB
# Lethal cantharidin per kilogram of horse (Equine Disease Quarterly via thehorse.com 2016).
CANTHARIDIN_LETHAL_MG_PER_KG: Final = (0.45, 1.0)
#: Cantharidin in one beetle: the striped species (about 5 mg; Colorado lists 0.2-4.8 for others).
CANTHARIDIN_MG_PER_BEETLE: Final = 5.0
#: Months of the cuttings in which beetles swarm in alfalfa of the south and center of the United
#: States; the handbook says midsummer, the months are the author's.
BEETLE_MONTHS: Final = (7, 8)
BEETLE_SOURCE: Final = (
    "Equine Disease Quarterly via thehorse.com 2016; Merck Veterinary Manual; Cantharidin in "
    "blister beetles, Colorado"
)


def lethal_beetles(
    weight_kg: Numeric,
    dose_mg_per_kg: Numeric = CANTHARIDIN_LETHAL_MG_PER_KG[0],
    mg_per_beetle: Numeric = CANTHARIDIN_MG_PER_BEETLE,
) -> Numeric:
    """Return how many blister beetles can kill a horse.

    Parameters
    ----------
    weight_kg : float or array
        Weight of the horse. [kg]
    dose_mg_per_kg : float or array
        Lethal cantharidin; published 0.45-1.0. [mg/kg body weight]
    mg_per_beetle : float or array
        Cantharidin in one beetle. [mg]

    Returns
    -------
    float or array
        Number of beetles. [-]

    Raises
    ------
    OutOfRange
        If a beetle holds none.

    Notes
    -----
    Not a safe number: any beetle found means that the bale is thrown out. The poison lasts in
    stored hay.

    References
    ----------
    .. [1] Equine Disease Quarterly via thehorse.com (2016); Colorado list of beetle species.

    Examples
    --------
    >>> lethal_beetles(450.0, 0.5)
    45.0
    """
    if np.any(np.asarray(mg_per_beetle) <= 0.0):
        raise OutOfRange("A beetle must hold more than no cantharidin.")
    dose = np.asarray(dose_mg_per_kg) * np.asarray(weight_kg)
    return as_given(dose / mg_per_beetle, weight_kg, dose_mg_per_kg, mg_per_beetle)


def horse_hazards(lot: Lot, values: Mapping[str, float]) -> Iterator[Hazard]:
    """Yield what concerns horses alone.

    Parameters
    ----------
    lot : Lot
        The lot; forage and day of baling are read.
    values : mapping of str to float
        ``starch`` and ``wsc``, or ``nsc``, in percent of dry matter, where measured.

    Yields
    ------
    Hazard
        Notes, so that they do not drown what concerns cattle.

    Examples
    --------
    >>> from datetime import date
    >>> from rickyard.farm import Package, Storage
    >>> lot = Lot("L1", "Barn", Forage.ALFALFA, Package.SMALL_SQUARE, Storage.ENCLOSED_BARN, 40,
    ...           date(2026, 7, 20), date(2026, 10, 1))
    >>> [one.name for one in horse_hazards(lot, {"starch": 2.0, "wsc": 12.0})]
    ['sugar for horses', 'blister beetle']
    """
    yield from _sugar(lot.name, values)
    if lot.forage is Forage.ALFALFA and lot.baled_on.month in BEETLE_MONTHS:
        yield Hazard(
            "blister beetle",
            "note",
            f"{lot.name} is alfalfa cut in midsummer, when blister beetles swarm in the southern "
            "and central states",
            "any beetle found",
            BEETLE_SOURCE,
            "horses; other stock bear more",
            "for horses shake open every flake, and throw out any bale with a beetle in it, dead "
            "or in pieces; the poison lasts.",
            "Ask the seller which cutting it is, and call the veterinarian at the first colic.",
        )


def _sugar(name: str, values: Mapping[str, float]) -> Iterator[Hazard]:
    nsc = values.get("nsc")
    if "starch" in values and "wsc" in values:
        nsc = values["starch"] + values["wsc"]
    if nsc is None or nsc <= NSC_LAMINITIS_LIMIT_PCT:
        return
    yield Hazard(
        "sugar for horses",
        "note",
        f"Starch and sugar (NSC) of {name} are {nsc:.1f}% of the dry matter, above the "
        f"{NSC_LAMINITIS_LIMIT_PCT:.0f}% limit usual for horses prone to founder",
        f"{NSC_HORSE.name}, {NSC_HORSE.unit}",
        NSC_HORSE.source,
        "horses and ponies prone to laminitis; it does not harm cattle",
        "give such horses other hay; soaking for 30 to 60 minutes removes a third of the sugar at "
        "best.",
        "Ask the lab for wet chemistry, and the veterinarian about the horse.",
    )
