"""Heat: what panting costs."""

from __future__ import annotations

from types import MappingProxyType
from typing import Final

from rickyard.farm import Panting

#: Factor on maintenance. NRC 1981, Effect of Environment, p.65: 7 % for rapid shallow breathing,
#: 11 to 25 % for open mouth; 1.18 is the value of NRC 2000, from memory.
PANTING_FACTOR: Final = MappingProxyType(
    {Panting.NONE: 1.0, Panting.RAPID: 1.07, Panting.OPEN_MOUTH: 1.18}
)


def heat_factor(panting: Panting) -> float:
    """Return what panting makes of maintenance.

    Parameters
    ----------
    panting : Panting
        How the animals breathe.

    Returns
    -------
    float
        Factor on the net energy for maintenance. [-]

    Notes
    -----
    Appetite falls at the same time, see ``appetite_factors.temperature_factor``. Animals that
    pant with open mouths need shade, water and a veterinarian's advice before more feed.

    References
    ----------
    .. [1] NRC (1981), Effect of Environment on Nutrient Requirements of Domestic Animals, p.65.
    .. [2] NRC (2000), Nutrient Requirements of Beef Cattle; 1.18 from memory.

    Examples
    --------
    >>> heat_factor(Panting.OPEN_MOUTH)
    1.18
    """
    return PANTING_FACTOR[panting]
