"""The energy of walking and grazing, by equation; the plain factors are in ``maintenance``."""

from __future__ import annotations

from types import MappingProxyType
from typing import Final, Literal

import numpy as np

from rickyard.quantities import MJ_PER_MCAL, Numeric, OutOfRange, as_given

Terrain = Literal["level", "rolling", "hilly"]

# NRC 2000 after CSIRO 1990, from memory.
GRAZING_PER_KG: Final = 0.006
GRAZING_TDN: Final = 0.9
WALKING: Final = 0.05
SPARSE_T_PER_HA: Final = 3.0
TERRAIN: Final = MappingProxyType({"level": 1.0, "rolling": 1.5, "hilly": 2.0})

# NASEM 2016, from memory, calories per kilogram of weight and metre. On a treadmill 0.48 and
# 6.2 were measured (Ribeiro et al. 1977).
FLAT_CAL_PER_KG_M: Final = 0.621
CLIMB_CAL_PER_KG_M: Final = 6.69
CAL_PER_MCAL: Final = 1e6


def nem_grazing_mcal(
    weight_kg: Numeric,
    pasture_kg: Numeric,
    tdn_pct: Numeric,
    pasture_t_per_ha: Numeric,
    terrain: Terrain = "level",
) -> Numeric:
    """Return the net energy of grazing.

    Parameters
    ----------
    weight_kg : float or array
        Weight. [kg]
    pasture_kg : float or array
        Pasture eaten, dry matter. [kg/d]
    tdn_pct : float or array
        Total digestible nutrients of the pasture. [% DM]
    pasture_t_per_ha : float or array
        Pasture on offer, dry matter. [t/ha]
    terrain : {"level", "rolling", "hilly"}
        The land.

    Returns
    -------
    float or array
        Net energy, added to maintenance; 0 for stock that is confined. [Mcal/d]

    Raises
    ------
    OutOfRange
        If the terrain is unknown or the pasture on offer is negative.

    References
    ----------
    .. [1] NRC (2000), Nutrient Requirements of Beef Cattle, after CSIRO (1990); from memory.

    Examples
    --------
    >>> round(nem_grazing_mcal(500.0, 10.0, 60.0, 2.0, "rolling"), 2)
    3.94
    """
    if terrain not in TERRAIN:
        raise OutOfRange(f'"{terrain}" is no terrain; use {", ".join(TERRAIN)}.')
    offered = np.asarray(pasture_t_per_ha, dtype=np.float64)
    if np.any(offered < 0.0):
        raise OutOfRange("The pasture on offer cannot be less than none.")
    eating = GRAZING_PER_KG * np.asarray(pasture_kg) * (GRAZING_TDN - np.asarray(tdn_pct) / 100.0)
    walking = WALKING * TERRAIN[terrain] / (offered + SPARSE_T_PER_HA)
    need = (eating + walking) * np.asarray(weight_kg) / MJ_PER_MCAL
    return as_given(need, weight_kg, pasture_kg, tdn_pct, pasture_t_per_ha)


def nem_walking_mcal(weight_kg: Numeric, flat_km: Numeric, climb_m: Numeric = 0.0) -> Numeric:
    """Return the net energy of a distance walked.

    Parameters
    ----------
    weight_kg : float or array
        Weight. [kg]
    flat_km : float or array
        Distance on the flat. [km/d]
    climb_m : float or array
        Height climbed. [m/d]

    Returns
    -------
    float or array
        Net energy, added to maintenance. [Mcal/d]

    Raises
    ------
    OutOfRange
        If a distance is negative.

    References
    ----------
    .. [1] NASEM (2016), Nutrient Requirements of Beef Cattle; from memory.

    Examples
    --------
    >>> round(nem_walking_mcal(500.0, 4.0, 100.0), 2)
    1.58
    """
    if np.any(np.asarray(flat_km) < 0.0) or np.any(np.asarray(climb_m) < 0.0):
        raise OutOfRange("A distance walked cannot be less than none.")
    per_kg = FLAT_CAL_PER_KG_M * np.asarray(flat_km) * 1000.0 + CLIMB_CAL_PER_KG_M * np.asarray(
        climb_m
    )
    return as_given(per_kg * np.asarray(weight_kg) / CAL_PER_MCAL, weight_kg, flat_km, climb_m)
