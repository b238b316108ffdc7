"""How much results of one lot differ: by analyte, to stand in until a farm has its own pairs."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from rickyard.hay.common import require_not_negative
from rickyard.quantities import OutOfRange

#: First cuttings, weedy or rained-on fields: multiply the spread of cores (common practice;
#: Crop File 6.01.002 says that a first cutting usually shows the greatest variability).
UNEVEN_FACTOR: Final = 1.5
#: Between-laboratory differences are about twice those within (Meyer), so the bias alone is
#: the square root of three times the repeat error.
BIAS_PER_REPEAT: Final = math.sqrt(3.0)

_COLLINS: Final = "Collins 2000 in Undersander 2007; Shewmaker & Putnam; Meyer"
_PRACTICE: Final = "common practice, no published source"


@dataclass(frozen=True, slots=True)
class Spread:
    """Standard deviations of one analyte, in the unit of its result.

    ``observed`` is that of single cores, each analysed on its own; ``repeat`` that within a
    laboratory; ``bias`` that of laboratories' means.
    """

    observed: float
    repeat: float
    bias: float
    source: str


_POINTS: Final[Mapping[str, Spread]] = MappingProxyType(
    {
        "cp": Spread(0.8, 0.25, 0.25 * BIAS_PER_REPEAT, _COLLINS),
        "ndf": Spread(2.0, 0.75, 0.75 * BIAS_PER_REPEAT, _COLLINS),
        "adf": Spread(1.5, 0.5, 0.5 * BIAS_PER_REPEAT, f"laboratory {_COLLINS}; cores {_PRACTICE}"),
        "tdn": Spread(1.2, 0.4, 0.7, _PRACTICE),
        "dm": Spread(1.0, 0.3, 0.3, _PRACTICE),
    }
)
#: Spread of dry matter from core to core of hay that stood outside (common practice).
_DM_OUTSIDE: Final = 3.0
# Shares of the value: minerals common practice; nitrate from the Kansas State range.
_MINERALS: Final = ("ca", "p", "mg", "k")
_TRACE: Final = ("cu", "zn", "mn", "fe", "se", "mo", "na", "s")
_NITRATE: Final = ("nitrate", "nitrate_no3n", "nitrate_no3", "nitrate_kno3")
_SHARES: Final[Mapping[str, Spread]] = MappingProxyType(
    {
        **dict.fromkeys(_MINERALS, Spread(0.12, 0.04, 0.06, _PRACTICE)),
        **dict.fromkeys(_TRACE, Spread(0.20, 0.08, 0.10, _PRACTICE)),
        **dict.fromkeys(
            _NITRATE,
            Spread(0.44, 0.07, 0.10, "Kansas State, 23 bales of one field; a lower bound"),
        ),
    }
)


def spread_of(
    analyte: str, value: float | None = None, *, outside: bool = False, uneven: bool = False
) -> Spread:
    """Return how much single cores and laboratories differ in an analyte.

    Parameters
    ----------
    analyte : str
        Name of the analyte, such as ``cp``, ``ndf``, ``nitrate_no3n``.
    value : float, optional
        The result; needed where the spread is a share of it, in the unit of the result.
    outside : bool
        Whether the hay stood outside; changes dry matter.
    uneven : bool
        Whether it is a first cutting, weedy or rained on.

    Returns
    -------
    Spread
        Standard deviations, in the unit of the result.

    Raises
    ------
    OutOfRange
        If no spread is known, or a value is needed and not given.

    References
    ----------
    .. [1] Handbook, section 3.3; replace by your own pairs, see
       `rickyard.hay.precision.farm_variance.core_sd_from_pairs`.

    Examples
    --------
    >>> spread_of("cp").observed, round(spread_of("cp", uneven=True).observed, 1)
    (0.8, 1.2)
    >>> round(spread_of("nitrate_no3n", 1000.0).observed)
    440
    """
    scale = 1.0
    if analyte in _POINTS:
        known = _POINTS[analyte]
    elif analyte in _SHARES:
        if value is None:
            raise OutOfRange(f"the spread of {analyte} is a share of its value: give the value.")
        require_not_negative(analyte, value, "")
        known, scale = _SHARES[analyte], value
    else:
        raise OutOfRange(f"no spread from core to core is known for {analyte}.")
    observed = _DM_OUTSIDE if analyte == "dm" and outside else known.observed
    factor = UNEVEN_FACTOR if uneven else 1.0
    return Spread(observed * scale * factor, known.repeat * scale, known.bias * scale, known.source)
