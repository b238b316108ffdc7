"""What any forage can hold, widely: to tell a unit from a number, and a number in another unit.

The limits are common practice with no published source, wider than those of the forage rules,
which judge a value against its own forage.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from rickyard.labs.science import ANALYTE_SPECS
from rickyard.labs.vocabulary.texts import phrases
from rickyard.labs.vocabulary.units import in_vocabulary
from rickyard.quantities import UNITS

#: Least and most on dry matter: percent, ppm or Mcal/kg, by the first unit of the analyte.
ENVELOPE: Final[Mapping[str, tuple[float, float]]] = {
    "dm": (8.0, 98.0),
    "moisture": (2.0, 92.0),
    "cp": (2.0, 40.0),
    "n": (0.2, 6.5),
    "adicp": (0.05, 12.0),
    "ndicp": (0.05, 18.0),
    "adf": (8.0, 70.0),
    "ndf": (12.0, 92.0),
    "ndfom": (12.0, 90.0),
    "lignin": (0.9, 25.0),
    "ee": (0.3, 12.0),
    "tfa": (0.2, 10.0),
    "ash": (1.5, 40.0),
    "starch": (0.0, 60.0),
    "wsc": (0.0, 45.0),
    "esc": (0.0, 40.0),
    "nfc": (1.0, 75.0),
    "nsc": (0.0, 65.0),
    "tdn": (25.0, 92.0),
    "nem": (0.55, 2.4),
    "neg": (-0.1, 1.75),
    "nel": (0.55, 2.3),
    "me": (1.1, 3.7),
    "de": (1.4, 4.5),
    "rfv": (30.0, 420.0),
    "rfq": (25.0, 450.0),
    "ca": (0.1, 4.0),
    "p": (0.05, 1.0),
    "mg": (0.05, 1.3),
    "k": (0.35, 5.2),
    "s": (0.04, 1.3),
    "na": (0.001, 3.0),
    "cl": (0.01, 4.0),
    "fe": (8.0, 20000.0),
    "mn": (3.0, 2000.0),
    "zn": (3.0, 500.0),
    "cu": (0.8, 100.0),
    "mo": (0.01, 40.0),
    "co": (0.005, 20.0),
    "se": (0.004, 15.0),
    "nitrate_no3n": (3.0, 20_000.0),
    "nitrate_no3": (3.0, 90_000.0),
    "nitrate_kno3": (3.0, 150_000.0),
    "nitrate": (3.0, 90_000.0),
    "hcn": (0.0, 5000.0),
    "ph": (3.0, 9.5),
    "soluble_cp": (0.8, 90.0),
    "rdp": (20.0, 95.0),
    "rup": (5.0, 80.0),
    "ndfd24": (8.0, 90.0),
    "ndfd30": (10.0, 92.0),
    "ndfd48": (12.0, 95.0),
    "ndfd240": (15.0, 98.0),
    "undf240": (2.0, 60.0),
    "lactic": (0.0, 15.0),
    "acetic": (0.0, 10.0),
    "propionic": (0.0, 5.0),
    "butyric": (0.0, 8.0),
}
_TRACE: Final = frozenset(
    phrases("fe|mn|zn|cu|mo|co|se|nitrate_no3n|nitrate_no3|nitrate_kno3|nitrate|hcn")
)
_ENERGY: Final = frozenset(["nem", "neg", "nel", "me", "de"])


def canonical_unit(analyte: str) -> str:
    """Return the unit in which the envelope of an analyte is given.

    Examples
    --------
    >>> canonical_unit("cp"), canonical_unit("zn"), canonical_unit("nem"), canonical_unit("rfv")
    ('pct', 'ppm', 'mcal_per_kg', '')
    """
    if not ANALYTE_SPECS[analyte].units:
        return ""
    if analyte in _ENERGY:
        return "mcal_per_kg"
    return "ppm" if analyte in _TRACE else ANALYTE_SPECS[analyte].units[0]


_TO_PCT: Final = {"pct": 1.0, "g_per_kg": 0.1, "ppm": 1e-4, "ppb": 1e-7}


def in_canonical(analyte: str, value: float, unit: str) -> float | None:
    """Return a value in the unit of the envelope, or ``None`` if it measures something else.

    Parameters
    ----------
    analyte : str
        The key of the analyte.
    value : float
        The value. [the unit]
    unit : str
        The name of its unit.

    Returns
    -------
    float or None
        The value. [canonical unit of the analyte]

    Examples
    --------
    >>> round(in_canonical("nem", 0.63, "mcal_per_lb"), 3), in_canonical("zn", 0.002, "pct")
    (1.389, 20.0)
    """
    to = canonical_unit(analyte)
    if unit == to:
        return value
    if unit in _TO_PCT and to in _TO_PCT:
        return value * _TO_PCT[unit] / _TO_PCT[to]
    known = in_vocabulary(analyte, unit)
    if known is None or known[0] not in UNITS or to not in UNITS:
        return None
    if UNITS[known[0]].dimension != UNITS[to].dimension:
        return None
    return UNITS[to].from_canonical(UNITS[known[0]].to_canonical(value * known[1]))


def fits(analyte: str, value: float, unit: str, dm_frac: float = 1.0, op: str = "=") -> bool:
    """Return whether a forage can hold a value, given that ``dm_frac`` of it is dry matter.

    Parameters
    ----------
    analyte : str
        The key of the analyte.
    value : float
        The value. [the unit]
    unit : str
        The name of its unit.
    dm_frac : float
        Dry matter of the sample, for a value as received; 1 for one of dry matter. [fraction, 0-1]
    op : str
        ``<`` where the value is a limit of detection.

    Returns
    -------
    bool
        Whether it can; not where the unit measures something else.

    Examples
    --------
    >>> fits("nem", 6.42, "mcal_per_kg"), fits("nem", 6.42, "mj_per_kg")
    (False, True)
    """
    limits = ENVELOPE.get(analyte)
    number = in_canonical(analyte, value, unit)
    if number is None:
        return False
    if limits is None:
        return number >= 0.0
    if op == "<" or (number == 0.0 and canonical_unit(analyte) == "ppm"):
        return 0.0 <= number <= limits[1]
    return limits[0] <= number / max(dm_frac, 0.05) <= limits[1]


def units_that_fit(analyte: str, value: float, dm_frac: float = 1.0) -> tuple[str, ...]:
    """Return the units in which a value would be one of a forage.

    Parameters
    ----------
    analyte : str
        The key of the analyte.
    value : float
        The value as printed. [not known]
    dm_frac : float
        Dry matter of the sample, for a value as received. [fraction, 0-1]

    Returns
    -------
    tuple of str
        The names of the units; empty where none fits.

    Examples
    --------
    >>> units_that_fit("ca", 0.5), units_that_fit("zn", 30.0), units_that_fit("nem", 0.63)
    (('pct',), ('ppm',), ('mcal_per_lb', 'mcal_per_kg'))
    """
    return tuple(
        unit for unit in ANALYTE_SPECS[analyte].units if fits(analyte, value, unit, dm_frac)
    )
