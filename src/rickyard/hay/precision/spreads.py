"""How much results of one lot differ: by analyte, to stand in until a farm has its own pairs."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rickyard.analysis_error import ERROR_SIZES, OUTSIDE_DM_FACTOR, UNEVEN_LOT_FACTOR
from rickyard.hay.common import require_not_negative
from rickyard.quantities import OutOfRange


@dataclass(frozen=True, slots=True)
class Spread:
    """Standard deviations of one analyte, in the unit of its result.

    ``observed`` is that of single cores, each analysed on its own; ``repeat`` that of repeated
    determinations, which is within it; ``one_lab`` that of results of one laboratory; ``bias``
    that of laboratories' means.
    """

    observed: float
    repeat: float
    one_lab: float
    bias: float
    source: str


def spread_of(
    analyte: str, value: float | None = None, *, outside: bool = False, uneven: bool = False
) -> Spread:
    """Return how much single cores and laboratories differ in an analyte.

    The source of each is in `rickyard.analysis_error`; replace by your own pairs, see
    `rickyard.hay.precision.farm_variance.core_sd_from_pairs`.

    Parameters
    ----------
    analyte : str
        Name of the analyte, such as ``cp``, ``ndf``, ``nitrate_no3n``. One without a known spread
        raises ``OutOfRange``.
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

    Examples
    --------
    >>> spread_of("cp").observed, round(spread_of("cp", uneven=True).observed, 1)
    (0.8, 1.2)
    >>> round(spread_of("nitrate_no3n", 1000.0).observed)
    440
    """
    size = ERROR_SIZES.get(analyte)
    if size is None:
        raise OutOfRange(f"no spread from core to core is known for {analyte}.")
    cores, lab = (
        _unit(analyte, value) if relative else 1.0
        for relative in (size.cores_relative, size.lab_relative)
    )
    observed = size.single_core * (OUTSIDE_DM_FACTOR if analyte == "dm" and outside else 1.0)
    if uneven:  # the bales differ more, and the laboratory's part stays as it is
        core = math.sqrt(observed**2 - size.repeat**2)
        observed = math.hypot(UNEVEN_LOT_FACTOR * core, size.repeat)
    return Spread(
        observed * cores,
        size.repeat * cores,
        size.one_lab * lab,
        size.bias * lab,
        size.source,
    )


def _unit(analyte: str, value: float | None) -> float:
    """Return one percent of a value, in which a spread that is a share of it is given."""
    if value is None:
        raise OutOfRange(f"the spread of {analyte} is a share of its value: give the value.")
    require_not_negative(analyte, value, "")
    return value / 100.0
