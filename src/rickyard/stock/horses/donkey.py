"""Donkeys and mules: planning figures on the horse's, as no full table exists."""

from __future__ import annotations

from typing import Final, Literal

import numpy as np

from rickyard.quantities import Numeric, OutOfRange, as_given, within
from rickyard.stock.horses.horse import DE_MAINTENANCE

EDITION: Final = "rules for donkeys"

#: Of a horse's energy per kg. Donkeys: the usual planning figure (seen), which still makes them
#: fat; mules: common practice.
ENERGY_OF_HORSE: Final = {"donkey": 0.75, "mule": 0.90}

#: Dry matter eaten, of body weight: The Donkey Sanctuary, in WikiVet (seen).
DM_PCT_BW: Final = (1.3, 1.8)

#: Crude protein that can be enough, of dry matter (from memory).
CP_PCT: Final = (4.0, 6.0)


def donkey_de_mcal(weight_kg: Numeric, kind: Literal["donkey", "mule"] = "donkey") -> Numeric:
    """Return the energy that keeps a donkey or mule [Mcal/d].

    Raises ``OutOfRange`` if there is no such kind or a weight is not positive.

    Never starve a fat donkey: too little feed can kill it (hyperlipemia).

    Source: 0.75 of the horse per kg is the usual planning figure; mules common practice.

    >>> round(donkey_de_mcal(180.0), 2)
    4.5
    """
    if kind not in ENERGY_OF_HORSE:
        raise OutOfRange(f"Say donkey or mule, not {kind}.")
    weight = within(weight_kg, "The weight of a donkey is above zero.", positive=True)
    return as_given(ENERGY_OF_HORSE[kind] * DE_MAINTENANCE["average"] * weight, weight_kg)


def donkey_cp_g(weight_kg: Numeric) -> Numeric:
    """Return the protein of an idle donkey: 6 % of the dry matter in the middle of its range [g/d].

    Source: 4 to 6 % crude protein can be enough; from memory, the high end taken.

    >>> round(donkey_cp_g(180.0))
    167
    """
    middle = sum(DM_PCT_BW) / 2.0
    protein = 1000.0 * np.asarray(weight_kg) * middle / 100.0 * CP_PCT[1] / 100.0
    return as_given(protein, weight_kg)
