"""Protein: what the animal needs, and what the rumen makes of a diet."""

from __future__ import annotations

from types import MappingProxyType
from typing import Final, Literal

import numpy as np

from rickyard.quantities import Numeric, OutOfRange, as_given
from rickyard.stock.common import metabolic_weight

MAINTENANCE_G_PER_KG075: Final = 3.8  # NRC 2000; reproduces a printed bull table
MP_PER_CP: Final = 0.67  # Univ. of Arkansas MP391
CP_FLOOR_PCT: Final = 7.0  # New Mexico State Univ. Circular 583; Univ. of Missouri

# Microbial crude protein per total digestible nutrients.
MICROBIAL_1996: Final = 0.13  # NRC 2000
FIBRE_FULL_PCT: Final = 20.0  # NRC 2000: effective fibre below this costs microbial protein
FIBRE_LOSS_PER_PCT: Final = 0.022
MICROBIAL_2016: Final = (0.087, 42.73)  # NASEM 2016, from memory; fat up to 3.9 %
MICROBIAL_2016_FAT: Final = (0.096, 53.33)  # NASEM 2016, from memory; on fat-free TDN
FAT_LIMIT_PCT: Final = 3.9  # NASEM 2016, from memory
TDN_PER_FAT: Final = 2.25
MICROBIAL_TEN_PERCENT: Final = 0.10  # Galyean & Tedeschi 2024

Level = Literal["1996", "2016", "ten_percent"]
LEVELS: Final = MappingProxyType(
    {
        "1996": "NRC 1996: 13 g of microbial protein per 100 g TDN; overstates poor hay",
        "2016": "NASEM 2016, from memory",
        "ten_percent": "Galyean & Tedeschi 2024: 10 g of microbial protein per 100 g TDN",
    }
)


def mp_maintenance_g(shrunk_weight_kg: Numeric) -> Numeric:
    """Return the metabolizable protein for maintenance.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, 7th rev. ed., Update.

    Parameters
    ----------
    shrunk_weight_kg : float or array
        Shrunk weight, 50 to 1100. [kg]

    Returns
    -------
    float or array
        Metabolizable protein. [g/d]

    Examples
    --------
    >>> round(mp_maintenance_g(533.0), 1)
    421.5
    """
    need = MAINTENANCE_G_PER_KG075 * np.asarray(metabolic_weight(shrunk_weight_kg))
    return as_given(need, shrunk_weight_kg)


def cp_kg_from_mp(mp_g: Numeric) -> Numeric:
    """Return the crude protein that covers a need for metabolizable protein.

    Real diets lie between 0.64 and 0.80 of crude protein. The result may fall below 7 % of the
    dry matter, which is right arithmetic and no real diet: see ``cp_with_floor_kg``.

    Source: Univ. of Arkansas, MP391 Beef Cattle Nutrition (1996-based edition).

    Parameters
    ----------
    mp_g : float or array
        Metabolizable protein. [g/d]

    Returns
    -------
    float or array
        Crude protein. [kg/d]

    Examples
    --------
    >>> round(cp_kg_from_mp(670.0), 6)
    1.0
    """
    return as_given(np.asarray(mp_g) / MP_PER_CP / 1000.0, mp_g)


def cp_with_floor_kg(cp_need_kg: Numeric, intake_kg: Numeric) -> Numeric:
    """Return the crude protein to feed: the need, but not under 7 % of the dry matter.

    Under 7 % the rumen slows, and with it intake and digestion.

    Held at 7 % of the diet where the need is less.

    Source: New Mexico State Univ., Circular 583.

    Parameters
    ----------
    cp_need_kg : float or array
        Crude protein needed. [kg/d]
    intake_kg : float or array
        Dry matter eaten. [kg/d]

    Returns
    -------
    float or array
        Crude protein to feed. [kg/d]

    Examples
    --------
    >>> round(cp_with_floor_kg(0.65, 10.0), 2)
    0.7
    """
    floor = CP_FLOOR_PCT / 100.0 * np.asarray(intake_kg)
    return as_given(np.maximum(cp_need_kg, floor), cp_need_kg, intake_kg)


def microbial_cp_g(
    tdn_g: Numeric,
    level: Level = "2016",
    *,
    fat_pct: Numeric = 0.0,
    tdn_pct: Numeric | None = None,
    effective_fibre_pct: Numeric = FIBRE_FULL_PCT,
) -> Numeric:
    """Return the microbial protein that the energy of a diet allows.

    The spread is wide: a root mean square error of 155 g/d on a mean of 541 g/d.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, p.17; NASEM (2016), Nutrient
    Requirements of Beef Cattle; from memory; Galyean & Tedeschi (2024).

    Parameters
    ----------
    tdn_g : float or array
        Total digestible nutrients eaten. [g/d]
    level : {"1996", "2016", "ten_percent"}
        Which published relation.
    fat_pct : float or array
        Ether extract of the diet, used at level 2016. [% DM]
    tdn_pct : float or array, optional
        TDN of the diet, needed at level 2016 above 3.9 % fat. Without it there, ``OutOfRange``.
        [% DM]
    effective_fibre_pct : float or array
        Physically effective fibre, used at level 1996. [% DM]

    Returns
    -------
    float or array
        Microbial crude protein, when degradable protein does not limit it. [g/d]

    Examples
    --------
    >>> [round(microbial_cp_g(5876.0, level)) for level in ("1996", "2016", "ten_percent")]
    [764, 554, 588]
    """
    eaten = np.asarray(tdn_g, dtype=np.float64)
    if level == "1996":
        missing_fibre = np.maximum(FIBRE_FULL_PCT - np.asarray(effective_fibre_pct), 0.0)
        made = MICROBIAL_1996 * eaten * (1.0 - FIBRE_LOSS_PER_PCT * missing_fibre)
    elif level == "2016":
        made = _microbial_2016_g(eaten, fat_pct, tdn_pct)
    elif level == "ten_percent":
        made = MICROBIAL_TEN_PERCENT * eaten
    else:
        raise OutOfRange(f'"{level}" is no level of protein supply; use {", ".join(LEVELS)}.')
    return as_given(made, tdn_g, fat_pct, tdn_pct, effective_fibre_pct)


def _microbial_2016_g(tdn_g: Numeric, fat_pct: Numeric, tdn_pct: Numeric | None) -> Numeric:
    fat = np.asarray(fat_pct, dtype=np.float64)
    slope, base = MICROBIAL_2016
    lean = slope * tdn_g + base
    if not np.any(fat > FAT_LIMIT_PCT):
        return lean
    if tdn_pct is None:
        raise OutOfRange("Above 3.9% fat, microbial protein needs the TDN of the diet.")
    slope, base = MICROBIAL_2016_FAT
    fat_free = tdn_g * (np.asarray(tdn_pct) - TDN_PER_FAT * fat) / tdn_pct
    return np.where(fat > FAT_LIMIT_PCT, slope * fat_free + base, lean)


def rdp_balance_g(rdp_g: Numeric, microbial_g: Numeric, recycled_g: Numeric = 0.0) -> Numeric:
    """Return what is left of degradable protein once the rumen's microbes are fed [g/d].

    Negative when degradable protein limits the rumen.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, 7th rev. ed., Update.

    Parameters
    ----------
    rdp_g : Numeric
        Degradable protein eaten [g/d].
    microbial_g : Numeric
        Microbial protein that the energy allows [g/d], see ``microbial_cp_g``.
    recycled_g : Numeric
        Recycled urea credited, as crude protein [g/d]; none by default, the cautious choice.

    Returns
    -------
    Numeric
        Degradable protein over what the microbes can use [g/d].

    Examples
    --------
    >>> rdp_balance_g(480.0, 554.0)
    -74.0
    """
    balance = np.asarray(rdp_g) + np.asarray(recycled_g) - np.asarray(microbial_g)
    return as_given(balance, rdp_g, microbial_g, recycled_g)
