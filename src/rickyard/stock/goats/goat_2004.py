"""Energy and protein of goats on the basis of NRC 2007, from the papers behind it.

Constants were seen in the abstracts of Sahlu et al. 2004, Luo et al. 2004 and Nsahlai et al.
2004 (Small Ruminant Research 53), except where the table says that they are from memory.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.quantities import Numeric, OutOfRange, above_zero, as_given, not_negative
from rickyard.stock.common import find_row

ENTIRE_MALE_FACTOR: Final = 1.15  # NRC 2007, from memory
FCM_BASE, FCM_FAT, FCM_REFERENCE = 1.4694, 0.4025, 3.0794
MILK_KJ_PER_KG_FCM: Final = 5195.0
LOSS_KJ_PER_G: Final = 23.9
LOSS_EFFICIENCY: Final = 0.84
ANGORA_FIBER_KJ_PER_G: Final = 157.0

MP_GROWING_G: Final = 3.07
MP_ANGORA_G: Final = 3.35
MP_GAIN_G_PER_G: Final = {"dairy": 0.290, "indigenous": 0.290, "meat": 0.404, "angora": 0.281}

#: Grams of metabolizable protein per gram of milk protein, by the efficiency that maintenance
#: is counted with: the two belong together.
MP_PER_MILK_PROTEIN: Final = {1.0: 1.45, 0.67: 1.30}


def me_maintenance_kj_per_kg075(goat_class: str, *, entire_male: bool = False) -> float:
    """Return the energy that keeps a goat, per kilogram of metabolic weight [kJ/(kg^0.75 d)].

    ``goat_class``: A class of the table ``goat_2004_energy``, such as ``growing_dairy`` or
    ``mature``. ``entire_male``: bucks need 15 % more than does and wethers.

    >>> me_maintenance_kj_per_kg075("growing_dairy")
    580.0
    """
    value = float(find_row("goat_2004_energy", **{"class": goat_class})["maintenance_kj_per_kg075"])
    return value * ENTIRE_MALE_FACTOR if entire_male else value


def me_goat_kj(
    goat_class: str,
    weight_kg: Numeric,
    gain_g: Numeric = 0.0,
    milk_kg: Numeric = 0.0,
    fat_pct: Numeric = 4.0,
    *,
    entire_male: bool = False,
) -> Numeric:
    """Return the metabolizable energy of a goat: maintenance, gain and actual milk [kJ/d].

    ``goat_class``: of the table ``goat_2004_energy``. A loss of weight, negative gain, supplies
    energy. A weight that is not positive or negative milk raises ``OutOfRange``.

    Source: Sahlu et al. (2004), Small Rumin. Res. 53:191-219; Nsahlai et al. (2004), 53:253-274.

    Examples
    --------
    >>> round(me_goat_kj("mature", 60.0, milk_kg=3.0, fat_pct=3.5) / 1000.0, 1)
    24.5
    """
    weight, milk = np.asarray(weight_kg, float), np.asarray(milk_kg, float)
    said = "The weight of a goat is above zero and its milk not below it."
    above_zero(said, weight)
    not_negative(said, milk)
    gain = np.asarray(gain_g, float)
    per_gram = float(find_row("goat_2004_energy", **{"class": goat_class})["gain_kj_per_g"])
    kept = me_maintenance_kj_per_kg075(goat_class, entire_male=entire_male) * weight**0.75
    grown = per_gram * np.maximum(gain, 0.0) + LOSS_KJ_PER_G * LOSS_EFFICIENCY * np.minimum(
        gain, 0.0
    )
    corrected = np.asarray(fat_corrected_milk_kg(milk, fat_pct))
    return as_given(
        kept + grown + MILK_KJ_PER_KG_FCM * corrected, weight_kg, gain_g, milk_kg, fat_pct
    )


def fat_corrected_milk_kg(milk_kg: Numeric, fat_pct: Numeric) -> Numeric:
    """Return goats' milk as milk of 4 % fat [kg].

    >>> round(fat_corrected_milk_kg(3.0, 4.0), 6)
    3.0
    """
    energy = FCM_BASE + FCM_FAT * np.asarray(fat_pct)
    return as_given(np.asarray(milk_kg) * energy / FCM_REFERENCE, milk_kg, fat_pct)


def mp_growing_g(weight_kg: Numeric, gain_g: Numeric = 0.0, kind: str = "dairy") -> Numeric:
    """Return the metabolizable protein of a growing goat [g/d].

    ``gain_g``: of an Angora, gain of tissue without fiber. ``kind``: ``dairy``, ``indigenous``,
    ``meat`` or ``angora``, else ``OutOfRange``.

    >>> round(mp_growing_g(25.0), 1)
    34.3
    """
    if kind not in MP_GAIN_G_PER_G:
        raise OutOfRange(f"Goats are {', '.join(MP_GAIN_G_PER_G)} here, not {kind}.")
    kept = MP_ANGORA_G if kind == "angora" else MP_GROWING_G
    protein = kept * np.asarray(weight_kg, float) ** 0.75
    return as_given(protein + MP_GAIN_G_PER_G[kind] * np.asarray(gain_g), weight_kg, gain_g)


def mp_milk_g(milk_protein_g: Numeric, maintenance_efficiency: float = 1.0) -> Numeric:
    """Return the metabolizable protein for goats' milk [g/d].

    ``maintenance_efficiency``: the efficiency that maintenance is counted with: 1.0 or 0.67. Raises
    ``OutOfRange`` if no factor was published for that efficiency.

    >>> round(mp_milk_g(100.0, 0.67))
    130
    """
    if maintenance_efficiency not in MP_PER_MILK_PROTEIN:
        raise OutOfRange(
            "Milk protein is counted with an efficiency for maintenance of 1.0 or 0.67."
        )
    factor = MP_PER_MILK_PROTEIN[maintenance_efficiency]
    return as_given(factor * np.asarray(milk_protein_g), milk_protein_g)


def angora_me_kj(weight_kg: Numeric, gain_g: Numeric = 0.0, fiber_g: Numeric = 0.0) -> Numeric:
    """Return the energy of an Angora goat [kJ/d].

    Source: Luo et al. (2004), Small Rumin. Res., doi 10.1016/j.smallrumres.2004.01.003.

    >>> round(angora_me_kj(1.0) / 4.184)
    113
    """
    body = np.asarray(me_goat_kj("mature_angora", weight_kg, gain_g))
    return as_given(body + ANGORA_FIBER_KJ_PER_G * np.asarray(fiber_g), weight_kg, gain_g, fiber_g)
