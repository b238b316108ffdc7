"""Cold by the rule of one or two percent per degree, what can be fed in a storm, and panting."""

from __future__ import annotations

from types import MappingProxyType
from typing import Final

import numpy as np

from rickyard.farm import Coat, Panting
from rickyard.quantities import Numeric, above_zero, as_given
from rickyard.stock.equations import BASE_MCAL_PER_KG075, acclimatisation_mcal_per_kg075
from rickyard.types import FloatArray

#: Lower critical temperature by coat, degF: D. R. Ames, Kansas State University. South Dakota
#: State prints 60 and 19 for the first and last.
CRITICAL_F: Final = MappingProxyType(
    {Coat.SUMMER: 59.0, Coat.FALL: 45.0, Coat.WINTER: 32.0, Coat.HEAVY_WINTER: 18.0}
)
WET_CRITICAL_F: Final = 59.0  # the same table: summer coat, or wet
PCT_PER_F_DRY: Final = 1.0  # Oklahoma State Univ. (Selk)
PCT_PER_F_WET: Final = 2.0

#: What can be fed above the daily energy inside one cold spell, the rest carried over the days
#: after: common practice; Oklahoma State Univ. gives the reason and an example.
STORM_CAP: Final = 0.25

#: Mud under the percent rule, on maintenance: common practice, no published source. Ohio State
#: measured 3.9 Mcal a day in gestating cows, Iowa State speaks of up to 30 %.
MUD_ADDS: Final = 0.20

#: Share of a late-pregnant cow's need that is maintenance, chosen to fit the cold-weather table
#: of South Dakota State Univ.; the equations give 0.82 to 0.64 over the last three months.
MAINTENANCE_SHARE: Final = 0.72

#: Factor on maintenance. NRC 1981, Effect of Environment, p.65: 7 % for rapid shallow breathing,
#: 11 to 25 % for open mouth; 1.18 is the value of NRC 2000, from memory.
PANTING_FACTOR: Final = MappingProxyType(
    {Panting.NONE: 1.0, Panting.RAPID: 1.07, Panting.OPEN_MOUTH: 1.18}
)


def critical_temperature_c(coat: Coat, wet: Numeric = False) -> Numeric:
    """Return the lower critical temperature that goes with a coat.

    Source: D. R. Ames, Kansas State University, table of critical temperatures.

    Parameters
    ----------
    coat : Coat
        The coat, dry.
    wet : bool or array
        Whether it is wet, when every coat counts as a summer coat.

    Returns
    -------
    float or array
        Temperature. [degC]

    Examples
    --------
    >>> critical_temperature_c(Coat.WINTER), critical_temperature_c(Coat.WINTER, wet=True)
    (0.0, 15.0)
    """
    limit_f = np.where(wet, WET_CRITICAL_F, CRITICAL_F[coat])
    return as_given((limit_f - 32.0) / 1.8, wet)


def cold_pct(
    effective_c: Numeric, critical_c: Numeric, pct_per_f: Numeric = PCT_PER_F_DRY
) -> Numeric:
    """Return how much more energy cold takes, in percent.

    Some apply it to the whole ration; the mechanism raises maintenance only. Never on top of
    acclimatisation to last month's temperature, which would count the cold twice.

    Held at 0 where it is not colder than the critical temperature.

    Source: Selk, Oklahoma State Univ., cold weather and the energy requirement of cows.

    Parameters
    ----------
    effective_c : float or array
        Temperature with wind chill; air temperature behind a windbreak. [degC]
    critical_c : float or array
        Lower critical temperature, see ``critical_temperature_c``. [degC]
    pct_per_f : float or array
        Percent for each degree Fahrenheit below it: 1 dry, 2 wet. [%/degF]

    Returns
    -------
    float or array
        Percent to add to the maintenance of the animal. [%]

    Examples
    --------
    >>> round(cold_pct((4.0 - 32.0) / 1.8, 0.0))
    28
    >>> round(cold_pct((4.0 - 32.0) / 1.8, 15.0, 2.0))
    110
    """
    below_f = 1.8 * np.maximum(np.asarray(critical_c) - effective_c, 0.0)
    return as_given(pct_per_f * below_f, effective_c, critical_c, pct_per_f)


def feed_in_cold_kg(feed_kg: Numeric, pct: Numeric) -> Numeric:
    """Return the feed of a cold day where the rule is applied to the whole ration.

    Source: Selk, Oklahoma State Univ., cold weather and the energy requirement of cows.

    Parameters
    ----------
    feed_kg : float or array
        Feed of a mild day. [kg/d]
    pct : float or array
        Percent more, see ``cold_pct``. [%]

    Returns
    -------
    float or array
        Feed. [kg/d]

    Examples
    --------
    >>> round(feed_in_cold_kg(16.0, 28.0), 1)
    20.5
    """
    return as_given(np.asarray(feed_kg) * (1.0 + np.asarray(pct) / 100.0), feed_kg, pct)


def acclimatised_tdn_kg(
    tdn_kg: Numeric,
    temperature_c: Numeric,
    reference_c: Numeric = 0.0,
    maintenance_share: Numeric = MAINTENANCE_SHARE,
) -> Numeric:
    """Return the digestible nutrients of a month by how cold the month before was.

    A printed table that states one percent per degree follows this instead, 0.3 % per degree:
    months of cold and days of cold are different numbers.

    Temperatures are held at the ends of the span of the equation, -20 and 35 degC.

    Source: South Dakota State Univ. Extension, cold temperatures and forage intake, Table 2.

    Parameters
    ----------
    tdn_kg : float or array
        Need at the reference temperature. [kg/d]
    temperature_c, reference_c : float or array
        Mean temperature of the previous month, and that of the reference. [degC]
    maintenance_share : float or array
        Share of the need that is maintenance. [fraction]

    Returns
    -------
    float or array
        Total digestible nutrients. [kg/d]

    Examples
    --------
    >>> round(acclimatised_tdn_kg(15.5, -17.78), 1)
    17.0
    """

    def idle(celsius: Numeric) -> Numeric:
        return BASE_MCAL_PER_KG075 + np.asarray(acclimatisation_mcal_per_kg075(celsius))

    more = idle(temperature_c) / idle(reference_c) - 1.0
    need = np.asarray(tdn_kg) * (1.0 + np.asarray(maintenance_share) * more)
    return as_given(need, tdn_kg, temperature_c, reference_c, maintenance_share)


def storm_schedule(
    extra_mcal: FloatArray, daily_mcal: FloatArray, cap: float = STORM_CAP
) -> tuple[FloatArray, FloatArray]:
    """Spread the energy of cold over the days on which it can be fed.

    What is fed and what is owed at the end add up to what the cold took.

    Source: common practice; reason and example from Oklahoma State Univ. (Selk).

    Parameters
    ----------
    extra_mcal : array, shape (..., T)
        Energy that cold takes on each of T days in a row. [Mcal/d]
    daily_mcal : array, shape (..., T)
        Energy of a mild day. [Mcal/d]
    cap : float
        Most that is fed above it on one day, above 0. [fraction]

    Returns
    -------
    fed : array, shape (..., T)
        Energy to feed for the cold on each day. [Mcal/d]
    owed : array, shape (..., T)
        Energy still owed after each day, which the animal draws from its body. [Mcal]

    Examples
    --------
    >>> fed, owed = storm_schedule(np.array([6.0, 0.0, 0.0, 0.0]), np.full(4, 10.0))
    >>> fed.tolist(), owed.tolist()
    ([2.5, 2.5, 1.0, 0.0], [3.5, 1.0, 0.0, 0.0])
    """
    above_zero("The most to feed for a storm must be above zero.", cap)
    extra, most = np.broadcast_arrays(extra_mcal, cap * np.asarray(daily_mcal))
    by_day, most_by_day = (np.ascontiguousarray(np.moveaxis(one, -1, 0)) for one in (extra, most))
    fed, owed = np.empty(by_day.shape), np.empty(by_day.shape)
    backlog = np.zeros(by_day.shape[1:])
    for day in range(len(by_day)):
        asked = by_day[day] + backlog
        np.minimum(asked, most_by_day[day], out=fed[day, ...])
        np.subtract(asked, fed[day], out=owed[day, ...])
        backlog = owed[day]
    return np.moveaxis(fed, 0, -1), np.moveaxis(owed, 0, -1)


def heat_factor(panting: Panting) -> float:
    """Return what panting makes of maintenance.

    Appetite falls at the same time, see ``appetite_factors.temperature_factor``. Animals that
    pant with open mouths need shade, water and a veterinarian's advice before more feed.

    Source: NRC (1981), Effect of Environment on Nutrient Requirements of Domestic Animals, p.65;
    NRC (2000), Nutrient Requirements of Beef Cattle; 1.18 from memory.

    Parameters
    ----------
    panting : Panting
        How the animals breathe.

    Returns
    -------
    float
        Factor on the net energy for maintenance. [-]

    Examples
    --------
    >>> heat_factor(Panting.OPEN_MOUTH)
    1.18
    """
    return PANTING_FACTOR[panting]
