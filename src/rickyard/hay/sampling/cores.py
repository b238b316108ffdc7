"""Cores: how much hay one gives, how many make a sample, how deep to go and what holds them.

A lot without a bale, a weight that is not above zero and a size outside the span of the core
equation raise `OutOfRange`.
"""

from __future__ import annotations

import math
from typing import Final

import numpy as np

from rickyard.hay.common import equation, require_between, require_positive
from rickyard.quantities import KG_M3_PER_LB_FT3, M_PER_IN, Numeric, OutOfRange

# The span in which the core equation means anything; common practice, no published source.
TIP_M: Final = (0.3 * M_PER_IN, 1.3 * M_PER_IN)
DEPTH_M: Final = (6.0 * M_PER_IN, 30.0 * M_PER_IN)
DENSITY_KG_M3: Final = (6.0 * KG_M3_PER_LB_FT3, 45.0 * KG_M3_PER_LB_FT3)

#: Cores in a composite: the stricter published protocol (Putnam & Orloff, National Forage
#: Testing Association), one core a bale.
PROTOCOL_CORES: Final = 20
#: The common field practice of 10 to 12 bales (equine nutrition; Missouri at least 10).
PRACTICE_CORES: Final = 12
#: A patchy hazard such as nitrate: at least a fifth of the bales (Kansas State).
PATCHY_SHARE: Final = 0.20

#: Under this a sample is too small for minerals and nitrate, and over a gallon bag the
#: laboratory may divide it unground: common practice, the gallon from memory.
SMALL_SAMPLE_G: Final = 100.0
LARGE_SAMPLE_G: Final = 450.0

#: Loose cores in a bag, g/mL; common practice, calibrate by weighing one bag.
LOOSE_G_PER_ML: Final = 0.10
QUART_ML: Final = 946.0
GALLON_ML: Final = 3785.0

#: Share of the diameter to which a core goes when no weathered skin is known.
DEPTH_PER_DIAMETER: Final = 0.25


@equation(
    tip_m=(require_between, "probe tip", *TIP_M, "m"),
    depth_m=(require_between, "core depth", *DEPTH_M, "m"),
    density_kg_m3=(require_between, "bale density", *DENSITY_KG_M3, "kg/m3"),
)
def core_mass_g(tip_m: Numeric, depth_m: Numeric, density_kg_m3: Numeric) -> Numeric:
    """Hay in one core, as fed [g].

    Inner diameter of the cutting tip 0.3 to 1.3 in, depth 6 to 30 in, density of the bale 6 to 45
    lb/ft3. Real cores are 5 to 20 % lighter, for a dull tip packs hay ahead of it (common
    practice): weigh the first five. Derived from geometry; agrees with 20 cores of about half a
    pound (Univ. Kentucky).

    Examples
    --------
    >>> round(core_mass_g(0.625 * 0.0254, 18 * 0.0254, 160.185), 2)
    14.5
    """
    volume = math.pi / 4.0 * np.square(tip_m) * depth_m
    return volume * density_kg_m3 * 1000.0


def cores_per_bale(bales_in_lot: float, cores: int = PROTOCOL_CORES) -> int:
    """Cores to take from each bale: more than 1 when the lot has fewer bales than cores are wanted.

    A laboratory's rule that under 20 bales every bale is probed; the division is common practice.

    Examples
    --------
    >>> cores_per_bale(8), cores_per_bale(60)
    (3, 1)
    """
    require_between("bales in the lot", bales_in_lot, 1.0, math.inf, "")
    require_between("cores", cores, 1, math.inf, "")
    return math.ceil(cores / min(math.floor(bales_in_lot), cores))


def cores_for_patches(bales_in_lot: float) -> int:
    """Cores to take when a hazard lies in patches, such as nitrate: 20, or a fifth of the bales.

    From Kansas State, Testing methods for nitrates in forages: at least 20 %, up to 40 %.

    Examples
    --------
    >>> cores_for_patches(60), cores_for_patches(150)
    (20, 30)
    """
    require_between("bales in the lot", bales_in_lot, 1.0, math.inf, "")
    return max(PROTOCOL_CORES, math.ceil(PATCHY_SHARE * bales_in_lot - 1e-9))


@equation(diameter_m=(require_positive, "bale diameter", "m"))
def core_depth_m(diameter_m: Numeric, weathered_m: Numeric = 0.0) -> Numeric:
    """Depth at which a core from the round side holds its fair share of the weathered skin [m].

    A core counts every inch of radius alike, but most of a bale's mass lies near the outside. A
    shallower core makes too much of the skin, a deeper one too little: about one quarter of the
    diameter is right (derived).

    Examples
    --------
    >>> round(core_depth_m(60 * 0.0254, 4 * 0.0254) / 0.0254, 2)
    16.07
    """
    share = np.divide(weathered_m, diameter_m)
    if np.any((share < 0.0) | (share >= 0.5)):
        raise OutOfRange("the weathered skin must be thinner than half the diameter of the bale.")
    return diameter_m / (4.0 * (1.0 - share))


@equation(sample_g=(require_positive, "sample", "g"))
def bag_volume_ml(sample_g: Numeric) -> Numeric:
    """Room that loose cores take in a bag [mL], from their weight [g].

    Common practice, no published source: 6 lb/ft3. Weigh one bag to calibrate.

    Examples
    --------
    >>> bag_volume_ml(95.0)
    950.0
    """
    return np.divide(sample_g, LOOSE_G_PER_ML)


def sample_remark(sample_g: float) -> str | None:
    """Say what is wrong with the weight of a dry sample, or ``None`` when it is right.

    Examples
    --------
    >>> sample_remark(180.0)
    >>> sample_remark(70.0)
    'about 70 g is too little for minerals and nitrate: core deeper or use a wider probe, and weigh it.'
    """  # noqa: E501 - as it is printed
    require_positive("sample", sample_g, "g")
    if sample_g < SMALL_SAMPLE_G:
        return (
            f"about {sample_g:.0f} g is too little for minerals and nitrate: core deeper or use a "
            "wider probe, and weigh it."
        )
    if sample_g > LARGE_SAMPLE_G:
        return (
            f"about {sample_g:.0f} g is more than most labs grind whole: use a narrower probe on "
            "as many bales, or ask the lab to grind all of it before subsampling."
        )
    return None
