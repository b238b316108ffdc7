"""Units: what the program computes in, what people write, and the way between.

Canonical units are metric and appear in names: kg, m, m3, degC, day, Mcal, Mcal/kg,
percent where a name ends in ``_pct``, a fraction where it ends in ``_frac``, milligrams per
kilogram where it ends in ``_ppm``, and US dollars per kilogram where it ends in
``_usd_per_kg``. A conversion happens once, at the edge.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import Any, Final, TypeAlias, overload

import numpy as np
from numpy.typing import NDArray

#: A float or a float64 array of any shape. NumPy's operators give back what they are given, a
#: promise the type system cannot state for mixed arguments, hence the open alias.
Numeric: TypeAlias = Any

KG_PER_LB: Final = 0.45359237  # exact, international avoirdupois pound
KG_PER_SHORT_TON: Final = 2000.0 * KG_PER_LB
KG_PER_TONNE: Final = 1000.0
KG_PER_OZ: Final = KG_PER_LB / 16.0
DAYS_PER_WEEK: Final = 7
M_PER_IN: Final = 0.0254  # exact
M_PER_FT: Final = 12.0 * M_PER_IN
M3_PER_FT3: Final = M_PER_FT**3
KG_M3_PER_LB_FT3: Final = KG_PER_LB / M3_PER_FT3
KM_PER_MILE: Final = 1.609344  # exact
MJ_PER_MCAL: Final = 4.184  # thermochemical calorie
LITRE_PER_US_GALLON: Final = 3.785411784  # exact
LB_PER_SHORT_TON: Final = 2000.0


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit as it is written in a column header or after a number.

    ``canonical = written * factor + offset``; only temperature has an offset.
    """

    name: str
    dimension: str
    factor: float
    offset: float = 0.0
    written: tuple[str, ...] = ()

    def to_canonical(self, value: float) -> float:
        """Return ``value`` in the canonical unit of this dimension.

        >>> round(UNITS["lb"].to_canonical(100.0), 3)
        45.359
        """
        return value * self.factor + self.offset

    def from_canonical(self, value: float) -> float:
        """Return a canonical ``value`` in this unit.

        >>> round(UNITS["degF"].from_canonical(0.0), 6)
        32.0
        """
        return (value - self.offset) / self.factor


_ALL: Final = (
    Unit("kg", "mass", 1.0, written=("kg", "kgs", "kilogram", "kilograms")),
    Unit("g", "mass", 1e-3, written=("g", "gram", "grams")),
    Unit("lb", "mass", KG_PER_LB, written=("lb", "lbs", "pound", "pounds", "#")),
    Unit("oz", "mass", KG_PER_OZ, written=("oz", "ounce", "ounces")),
    Unit("cwt", "mass", 100.0 * KG_PER_LB, written=("cwt",)),
    Unit("ton", "mass", KG_PER_SHORT_TON, written=("ton", "tons", "short ton", "short tons")),
    Unit("t", "mass", KG_PER_TONNE, written=("t", "tonne", "tonnes", "metric ton", "metric tons")),
    Unit("m", "length", 1.0, written=("m", "metre", "metres", "meter", "meters")),
    Unit("cm", "length", 0.01, written=("cm",)),
    Unit("mm", "length", 0.001, written=("mm",)),
    Unit("in", "length", M_PER_IN, written=("in", "inch", "inches", '"')),
    Unit("ft", "length", M_PER_FT, written=("ft", "foot", "feet", "'")),
    Unit("degC", "temperature", 1.0, written=("degC", "°C", "C")),
    Unit("degF", "temperature", 1 / 1.8, -32 / 1.8, written=("degF", "°F", "F")),
    Unit("km_per_h", "speed", 1.0, written=("km/h", "kph")),
    Unit("mph", "speed", KM_PER_MILE, written=("mph",)),
    Unit("kg_per_m3", "density", 1.0, written=("kg/m3",)),
    Unit("lb_per_ft3", "density", KG_M3_PER_LB_FT3, written=("lb/ft3", "lb/cu ft")),
    Unit("pct", "percent", 1.0, written=("%", "pct", "percent")),
    Unit("g_per_kg", "percent", 0.1, written=("g/kg",)),
    Unit("frac", "percent", 100.0, written=("frac",)),
    Unit("ppm", "ppm", 1.0, written=("ppm", "mg/kg")),
    Unit("ppb", "ppm", 1e-3, written=("ppb", "ug/kg")),
    Unit("cfu_per_g", "count", 1.0, written=("CFU/g",)),
    Unit("mcal_per_kg", "energy_density", 1.0, written=("Mcal/kg",)),
    Unit("mcal_per_lb", "energy_density", 1.0 / KG_PER_LB, written=("Mcal/lb",)),
    Unit("mj_per_kg", "energy_density", 1.0 / MJ_PER_MCAL, written=("MJ/kg",)),
    Unit("mcal", "energy", 1.0, written=("Mcal",)),
    Unit("mj", "energy", 1.0 / MJ_PER_MCAL, written=("MJ",)),
    Unit("usd_per_kg", "price", 1.0, written=("$/kg",)),
    Unit("usd_per_t", "price", 1.0 / KG_PER_TONNE, written=("$/t",)),
    Unit("usd_per_ton", "price", 1.0 / KG_PER_SHORT_TON, written=("$/ton",)),
    Unit("usd_per_cwt", "price", 0.01 / KG_PER_LB, written=("$/cwt",)),
    Unit("usd_per_lb", "price", 1.0 / KG_PER_LB, written=("$/lb",)),
    Unit("kg_per_day", "mass_per_day", 1.0, written=("kg/d", "kg/day")),
    Unit("lb_per_day", "mass_per_day", KG_PER_LB, written=("lb/d", "lb/day")),
    Unit("g_per_day", "mass_per_day", 1e-3, written=("g/d", "g/day")),
    Unit("mcal_per_day", "energy_per_day", 1.0, written=("Mcal/d", "Mcal/day")),
)

#: Every unit by the name that a column header ends in.
UNITS: Final[dict[str, Unit]] = {unit.name: unit for unit in _ALL}

#: Canonical unit of each dimension (the one with factor 1 and no offset).
CANONICAL: Final[dict[str, Unit]] = {
    unit.dimension: unit for unit in _ALL if unit.factor == 1.0 and unit.offset == 0.0
}

_WRITTEN: Final[dict[str, Unit]] = {
    form.lower(): unit for unit in _ALL for form in (*unit.written, unit.name)
}

_NUMBER: Final = re.compile(
    r"""^\s*
    (?P<number>[+-]?(?:\d{1,3}(?:,\d{3})+|\d+)?(?:\.\d+)?(?:[eE][+-]?\d+)?)
    \s*(?P<unit>[^\d\s.,+-].*?)?\s*$""",
    re.VERBOSE,
)


class OutOfRange(ValueError):  # noqa: N818 - named for what happened, as a person says it
    """An input outside the range in which an equation means anything."""


def as_given(result: Numeric, *inputs: Numeric | None) -> Numeric:
    """Return a plain float when every input was one, else the array.

    >>> as_given(np.float64(2.0), 1.0, 3)
    2.0
    >>> as_given(np.array([2.0]), np.array([1.0]))
    array([2.])
    """
    if any(map(_axes, inputs)):
        return np.asarray(result, dtype=np.float64)
    return float(result)


def _axes(value: Numeric | None) -> int:
    """Return the number of axes; most values are plain or arrays, and tell it themselves."""
    if isinstance(value, np.ndarray):
        return value.ndim
    return 0 if value is None or isinstance(value, float | int) else int(np.ndim(value))


def unknown(value: Numeric) -> Any:
    """Return where an array holds what nobody knows, so that no range is held against it.

    A single number is asked for because it is known: NaN among single numbers is never unknown
    and falls out of every range.

    ``value``: numbers of any unit. Returns where an element of an array is NaN; ``False`` for a
    single number.

    >>> unknown(np.array([1.0, np.nan])).tolist(), bool(unknown(float("nan")))
    ([False, True], False)
    """
    values = np.asarray(value, dtype=np.float64)
    return np.isnan(values) if values.ndim else np.False_


@overload
def is_some(amount: float) -> bool: ...
@overload
def is_some(amount: NDArray[Any]) -> NDArray[np.bool_]: ...
def is_some(amount: Any) -> Any:
    """Say whether, or where, there is any of an amount: more than nothing, and known.

    Parameters
    ----------
    amount : float or array
        The amount, in any unit.

    Returns
    -------
    bool or array of bool
        Of the shape of ``amount``.

    Examples
    --------
    >>> is_some(1e-300), is_some(0.0), is_some(-1.0), is_some(float("nan"))
    (True, False, False, False)
    """
    return amount > 0


def within(
    value: Numeric,
    sentence: str,
    least: float = -math.inf,
    most: float = math.inf,
    *,
    positive: bool = False,
) -> NDArray[np.float64]:
    """Return numbers as an array, refusing with a sentence what lies outside a range.

    >>> within(3.0, "Weights are above zero.", positive=True)
    array(3.)
    """
    found = np.asarray(value, dtype=np.float64)
    if found.ndim == 0:
        inside = least <= float(found) <= most
    else:
        fits = np.isnan(found) | ((found >= least) & (found <= most))
        inside = bool(np.all(fits))
    if not inside or (positive and np.any(found <= 0.0)):
        raise OutOfRange(sentence)
    return found


def above_zero(sentence: str, *values: Numeric) -> None:
    """Refuse with a sentence what is zero or less; what is not known passes.

    >>> above_zero("Weights are above zero.", 0.05, np.array([np.nan, 600.0]))
    >>> above_zero("Weights are above zero.", 600.0, 0.0)
    Traceback (most recent call last):
    ...
    rickyard.quantities.OutOfRange: Weights are above zero.
    """
    if any(one <= 0.0 if type(one) is float else np.any(np.less_equal(one, 0.0)) for one in values):
        raise OutOfRange(sentence)


def not_negative(sentence: str, *values: Numeric) -> None:
    """Refuse with a sentence what is less than zero; what is not known passes.

    >>> not_negative("Milk is not negative.", 0.0, np.array([np.nan, 9.0]))
    >>> not_negative("Milk is not negative.", 9.0, -0.05)
    Traceback (most recent call last):
    ...
    rickyard.quantities.OutOfRange: Milk is not negative.
    """
    if any(one < 0.0 if type(one) is float else np.any(np.less(one, 0.0)) for one in values):
        raise OutOfRange(sentence)


def positive(values: Numeric) -> NDArray[np.float64]:
    """Return numbers by which others can be divided: not known where they are not above zero.

    >>> positive(np.array([2.0, 0.05, 0.0, -1.0]))
    array([2.  , 0.05,  nan,  nan])
    """
    found = np.asarray(values, dtype=np.float64)
    return np.where(found > 0.0, found, np.nan)


class QuantityError(ValueError):
    """A written quantity that cannot be read; the message says what to write instead."""


def units_of(dimension: str) -> tuple[str, ...]:
    """Return the names of the units of a dimension, canonical first.

    >>> units_of("temperature")
    ('degC', 'degF')
    """
    return tuple(unit.name for unit in _ALL if unit.dimension == dimension)


def convert(value: float, from_unit: str, to_unit: str) -> float:
    """Convert a value between two units of one dimension.

    Raises ``QuantityError`` if a unit is unknown or the two measure different things.

    >>> round(convert(1.0, "ton", "lb"), 6)
    2000.0
    >>> convert(1.0, "lb", "in")
    Traceback (most recent call last):
    ...
    rickyard.quantities.QuantityError: lb is a mass and in is a length: they do not convert.
    """
    try:
        source, target = UNITS[from_unit], UNITS[to_unit]
    except KeyError as missing:
        raise QuantityError(f"{missing.args[0]} is not a unit this program knows.") from None
    if source.dimension != target.dimension:
        raise QuantityError(
            f"{source.name} is a {source.dimension} and {target.name} is a "
            f"{target.dimension}: they do not convert."
        )
    return target.from_canonical(source.to_canonical(value))


def parse_quantity(text: str, dimension: str, default_unit: str) -> float:
    """Read a quantity with or without its unit and return it in the canonical unit.

    ``text``: what a person wrote: ``"1,150 lb"``, ``"52 in"``, ``"0.9 t"`` or a bare number.
    ``dimension``: what the quantity must measure, for example ``"mass"``. ``default_unit``: the
    unit of a bare number. Raises ``QuantityError`` if the text is not a number with a unit of that
    dimension.

    >>> round(parse_quantity("1,150 lb", "mass", "kg"), 2)
    521.63
    >>> round(parse_quantity("52 in", "length", "cm"), 4)
    1.3208
    >>> parse_quantity("0.9 t", "mass", "lb")
    900.0
    """
    value, unit = written_quantity(text)
    if unit is None:
        return UNITS[default_unit].to_canonical(value)
    if unit.dimension != dimension:
        raise QuantityError(
            f'"{text.strip()}" is a {unit.dimension}, and a {dimension} is expected; '
            f"use {', '.join(units_of(dimension))}."
        )
    return unit.to_canonical(value)


def written_quantity(text: str) -> tuple[float, Unit | None]:
    """Read a number and the unit written after it, converting nothing.

    Raises ``QuantityError`` if the text is not a number, or its unit is unknown.

    >>> value, unit = written_quantity("1,150 lb")
    >>> value, unit.name
    (1150.0, 'lb')
    >>> written_quantity("1150")
    (1150.0, None)
    """
    value, written = _split(text)
    if not written:
        return value, None
    unit = _WRITTEN.get(written.lower())
    if unit is None:
        raise QuantityError(f'"{written}" is not a unit this program knows.')
    return value, unit


def _split(text: str) -> tuple[float, str]:
    match = _NUMBER.match(text)
    digits = match.group("number") if match else ""
    if match is None or not any(character.isdigit() for character in digits):
        hint = (
            "a comma may only group thousands, write a point for decimals."
            if "," in text
            else "write it in figures."
        )
        raise QuantityError(f'"{text.strip()}" is not a number; {hint}')
    value = float(digits.replace(",", ""))
    if not math.isfinite(value):
        raise QuantityError(f'"{text.strip()}" is too large to be a number here.')
    return value, (match.group("unit") or "").strip()
