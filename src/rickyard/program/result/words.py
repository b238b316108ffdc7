"""Numbers in the words of a sentence, in the units the farm reads."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from rickyard.nutrients import NUTRIENTS, UNIT_WORDS
from rickyard.quantities import KG_PER_LB, KG_PER_SHORT_TON, KG_PER_TONNE

STANDING_NOTE: Final = (
    "This program is worked out from the numbers in the farm folder and published equations. "
    "It does not replace a look at the animals: score condition, watch intake, and ask the local "
    "extension office or a veterinarian before acting on anything marked danger or warning."
)

#: How a constrained nutrient is named in a sentence.
NUTRIENT_WORDS: Final = {one.key: one.word for one in NUTRIENTS.values()}

#: What there is too much of where a program misses it; of all else there is too little.
TOO_MUCH: Final = frozenset(one.key for one in NUTRIENTS.values() if one.too_much)

#: Less than this share of a ton is told in pounds or kilograms.
LEAST_IN_TONS: Final = 0.1


@dataclass(frozen=True, slots=True)
class Words:
    """Writes amounts for a farm that reads ``"us"`` or ``"metric"`` units."""

    units: str

    @property
    def is_us(self) -> bool:
        """Return whether pounds and short tons are wanted."""
        return self.units == "us"

    @property
    def mass_unit(self) -> str:
        """Return the unit of daily amounts."""
        return "lb" if self.is_us else "kg"

    @property
    def ton(self) -> str:
        """Return the word for a ton."""
        return "ton" if self.is_us else "tonne"

    @property
    def kg_per_ton(self) -> float:
        """Return the kilograms in a ton of the farm's units."""
        return KG_PER_SHORT_TON if self.is_us else KG_PER_TONNE

    def mass(self, kg: float) -> str:
        """Write a daily amount, with enough figures to act on.

        Examples
        --------
        >>> Words("us").mass(1.0)
        '2.2 lb'
        """
        return f"{_figures(kg / KG_PER_LB if self.is_us else kg)} {self.mass_unit}"

    def tons(self, kg: float) -> str:
        """Write a stock in tons.

        Examples
        --------
        >>> Words("us").tons(4535.9237)
        '5.0 tons'
        """
        tons = kg / self.kg_per_ton
        number = f"{tons:,.0f}" if tons >= 100 else f"{tons:.1f}"
        return f"{number} {self.ton}{'' if number == '1' else 's'}"

    def amount_as_fed(self, kg: float) -> str:
        """Write an amount to buy or use: in tons, and small ones in pounds or kilograms.

        Examples
        --------
        >>> Words("us").amount_as_fed(4535.9237), Words("us").amount_as_fed(22.7)
        ('5.0 tons', '50 lb')
        """
        return self.mass(kg) if kg < LEAST_IN_TONS * self.kg_per_ton else self.tons(kg)

    def usd_per_ton(self, usd_per_kg: float) -> str:
        """Write a price per ton.

        Examples
        --------
        >>> Words("us").usd_per_ton(0.11)
        '$100 a ton'
        """
        return f"{dollars(usd_per_kg * self.kg_per_ton)} a {self.ton}"

    def amount(self, value: float, unit: str) -> str:
        """Write an amount of a constrained nutrient, per head and day.

        Examples
        --------
        >>> Words("us").amount(0.4536, "kg CP")
        '1.00 lb of crude protein'
        """
        if unit == "Mcal NEm":
            return f"{_figures(value)} Mcal of net energy"
        if unit.startswith("g "):
            return f"{_figures(value)} g of {UNIT_WORDS[unit]}"
        if unit == "USD":
            return dollars(value)
        if unit == "t DM":
            return f"{self.tons(value * KG_PER_TONNE)} of dry matter"
        if unit == "mg NO3-N":
            return f"{value / 1000.0:.1f} g of nitrate nitrogen"
        if unit.startswith("mg "):
            return f"{_figures(value)} mg of {UNIT_WORDS[unit]}"
        return f"{self.mass(value)} of {UNIT_WORDS[unit]}"

    def usd_per_unit(self, usd: float, unit: str) -> str:
        """Write what one more unit of a need costs, in the unit a person would use.

        Examples
        --------
        >>> Words("us").usd_per_unit(1.0, "kg CP")
        '45 cents a pound'
        """
        if unit == "Mcal NEm":
            return f"{_cents(usd)} a megacalorie"
        if unit.startswith("g "):
            return f"{_cents(usd * 10.0)} for ten grams"
        if unit == "mg NO3-N":
            return f"{_cents(usd * 1000.0)} a gram"
        if self.is_us:
            return f"{_cents(usd * KG_PER_LB)} a pound"
        return f"{_cents(usd)} a kilogram"


def dollars(value: float) -> str:
    """Write money: cents below ten dollars, whole dollars above.

    Examples
    --------
    >>> dollars(1234.5), dollars(6.817), dollars(-3.0)
    ('$1,234', '$6.82', '-$3.00')
    """
    sign = "-" if value < 0 else ""
    size = abs(value)
    return f"{sign}${size:,.0f}" if size >= 10 else f"{sign}${size:.2f}"


def day(when: date) -> str:
    """Write a date as it stands on a barn door.

    Examples
    --------
    >>> day(date(2026, 11, 3))
    '3 Nov 2026'
    """
    return f"{when.day} {when:%b %Y}"


def span(start: date, end: date) -> str:
    """Write a span whose ``end`` is the first day no longer in it.

    Examples
    --------
    >>> span(date(2026, 11, 3), date(2026, 11, 10))
    'from 3 Nov 2026 to 9 Nov 2026'
    """
    return f"from {day(start)} to {day(end - timedelta(days=1))}"


def listed(names: list[str]) -> str:
    """Join names as a sentence does.

    Examples
    --------
    >>> listed(["cows", "bulls", "heifers"])
    'cows, bulls and heifers'
    """
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


def _figures(value: float) -> str:
    size = abs(value)
    if size >= 10:
        return f"{value:.0f}"
    return f"{value:.1f}" if size >= 2 else f"{value:.2f}"


def _cents(usd: float) -> str:
    if abs(usd) >= 1.0:
        return f"${usd:.2f}"
    cents = usd * 100.0
    return f"{cents:.0f} cents" if abs(cents) >= 1.5 else f"{cents:.1f} cents"
