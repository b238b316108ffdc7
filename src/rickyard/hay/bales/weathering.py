"""Weathered hay: how much of a round bale lies in its spoiled skin, ends or bottom.

A measure that is not above zero, and a skin or bottom deeper than the bale, raise `OutOfRange`.
"""

from __future__ import annotations

import numpy as np

from rickyard.hay.common import equation, require_between, require_not_negative, require_positive
from rickyard.quantities import Numeric, OutOfRange


@equation(
    layer_m=(require_not_negative, "weathered layer", "m"),
    diameter_m=(require_positive, "bale diameter", "m"),
)
def weathered_pct(
    layer_m: Numeric, diameter_m: Numeric, width_m: Numeric | None = None, ends: int = 0
) -> Numeric:
    """Share [%] of a round bale that lies in a weathered skin of even depth [m].

    Exact geometry for a bale of even density; 100 once the skin meets in the middle. As many
    ``ends`` are weathered to the same depth: 0 for rows butted tight, 2 for bales that stand apart;
    they need the width. Schultheis (2013), Univ. Missouri, prints 31 % for 4 in of a 4-ft bale.
    Where only the ground side spoiled use `bottom_segment_pct`. If the animals refuse the skin,
    count it as feeding waste and keep the inner analysis; if they eat it, lower the analysis; never
    both.

    Examples
    --------
    >>> round(weathered_pct(4 * 0.0254, 60 * 0.0254), 1)
    24.9
    >>> round(weathered_pct(4 * 0.0254, 60 * 0.0254, 60 * 0.0254, ends=2), 1)
    34.9
    """
    sound = np.square(np.maximum(0.0, 1.0 - 2.0 * np.divide(layer_m, diameter_m)))
    if ends:
        if width_m is None:
            raise OutOfRange("the width of the bale is needed when an end is weathered.")
        sound = sound * (1.0 - np.asarray(weathered_ends_pct(layer_m, width_m, ends)) / 100.0)
    return 100.0 * (1.0 - sound)


@equation()
def weathered_ends_pct(layer_m: Numeric, width_m: Numeric, ends: int) -> Numeric:
    """Share [%] of a round bale that lies in weathered ends alone, each of one depth [m].

    100 once the ends meet. Geometry; Humphrey, MU Extension, prints 280 lb of 1,400 lb for 6 in of
    both ends.

    Examples
    --------
    >>> weathered_ends_pct(6.0, 60.0, 2)
    20.0
    """
    if ends not in (0, 1, 2):
        raise OutOfRange(f"a bale has 0, 1 or 2 weathered ends, not {ends}.")
    require_not_negative("weathered layer", layer_m, "m")
    require_positive("bale width", width_m, "m")
    return 100.0 * np.minimum(1.0, ends * np.divide(layer_m, width_m))


@equation(diameter_m=(require_positive, "bale diameter", "m"))
def bottom_segment_pct(depth_m: Numeric, diameter_m: Numeric) -> Numeric:
    """Share [%] of a round bale below a height above the ground [m]: a segment of a circle.

    Examples
    --------
    >>> round(bottom_segment_pct(12.0, 60.0), 1)
    14.2
    """
    require_between("depth over diameter", np.divide(depth_m, diameter_m), 0.0, 1.0, "(ratio)")
    # In units of the radius; the bounds only absorb rounding at an exactly full segment.
    height = 2.0 * np.clip(np.divide(depth_m, diameter_m), 0.0, 1.0)
    area = np.arccos(1.0 - height) - (1.0 - height) * np.sqrt(height * (2.0 - height))
    return 100.0 * area / np.pi
