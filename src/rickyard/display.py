"""Display: the one place where canonical numbers become the words a reader is used to."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final, Literal

from rickyard.quantities import KG_PER_LB, KG_PER_SHORT_TON, KG_PER_TONNE

System = Literal["us", "metric"]

MONTHS: Final = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")

#: From here on a whole number says enough; below, a tenth matters to the person who weighs out.
WHOLE_FROM: Final = 10.0


#: Less than this many tons is said in pounds or kilograms.
LEAST_TONS: Final = 0.3


@dataclass(frozen=True, slots=True)
class Display:
    """How numbers are written for one farm.

    Parameters
    ----------
    system : {"us", "metric"}
        US customary (pounds, short tons) or metric (kilograms, metric tonnes).
    """

    system: System = "us"

    @property
    def mass_unit(self) -> str:
        """Return the unit of what is weighed out: ``lb`` or ``kg``."""
        return "lb" if self.system == "us" else "kg"

    @property
    def mass_unit_words(self) -> str:
        """Return that unit as a word: ``pounds`` or ``kilograms``."""
        return "pounds" if self.system == "us" else "kilograms"

    @property
    def ton_unit(self) -> str:
        """Return the unit of a stack: ``ton`` (short) or ``t``."""
        return "ton" if self.system == "us" else "t"

    def mass(self, kg: float) -> float:
        """Return a mass in the unit of what is weighed out.

        Parameters
        ----------
        kg : float
            Mass. [kg]

        Examples
        --------
        >>> round(Display("us").mass(45.359237), 6)
        100.0
        """
        return kg / KG_PER_LB if self.system == "us" else kg

    def mass_text(self, kg: float) -> str:
        """Return a mass with its unit.

        Examples
        --------
        >>> Display("us").mass_text(1000.0), Display("metric").mass_text(2.46)
        ('2,205 lb', '2.5 kg')
        """
        return f"{number_text(self.mass(kg))} {self.mass_unit}"

    def tons(self, tonnes: float) -> float:
        """Return metric tonnes as the tons of this display.

        Parameters
        ----------
        tonnes : float
            Mass. [t]

        Examples
        --------
        >>> round(Display("us").tons(0.90718474), 6)
        1.0
        """
        return tonnes * KG_PER_TONNE / KG_PER_SHORT_TON if self.system == "us" else tonnes

    def tons_text(self, tonnes: float) -> str:
        """Return metric tonnes as a person says them.

        Examples
        --------
        >>> Display("us").tons_text(37.3), Display("us").tons_text(0.90718474)
        ('41 tons', '1 ton')
        >>> Display("metric").tons_text(4.25)
        '4.2 t'
        """
        figures = tons_figures(self.tons(tonnes))
        if self.system == "metric":
            return f"{figures} t"
        return f"{figures} ton" if figures == "1" else f"{figures} tons"

    def bought_text(self, kg: float) -> str:
        """Return what is bought of a feed: tons, or pounds and kilograms of a little.

        Examples
        --------
        >>> Display("us").bought_text(18_000.0), Display("us").bought_text(20.0)
        ('20 tons', '44 lb')
        """
        if self.tons(kg / 1000.0) < LEAST_TONS:
            return f"{number_text(self.mass(kg))} {self.mass_unit}"
        return self.tons_text(kg / 1000.0)

    def price_per_ton_text(self, usd_per_kg: float) -> str:
        """Return a price per kilogram as a price per ton.

        Examples
        --------
        >>> Display("us").price_per_ton_text(0.22), Display("metric").price_per_ton_text(0.22)
        ('$200/ton', '$220/t')
        """
        per_ton = KG_PER_SHORT_TON if self.system == "us" else KG_PER_TONNE
        return f"{money_text(usd_per_kg * per_ton)}/{self.ton_unit}"

    def energy_density(self, mcal_per_kg: float) -> float:
        """Return an energy density per unit of what is weighed out.

        Parameters
        ----------
        mcal_per_kg : float
            Energy density. [Mcal/kg]

        Examples
        --------
        >>> round(Display("us").energy_density(1.2), 3)
        0.544
        """
        return mcal_per_kg * KG_PER_LB if self.system == "us" else mcal_per_kg

    def nutrient_text(self, value: float, unit: str) -> str:
        """Return a nutrient amount; masses are shown in the reader's unit, the rest as given.

        Parameters
        ----------
        value : float
            The amount, in ``unit``.
        unit : str
            A unit, or a unit and what it measures: ``"kg CP"``, ``"Mcal NEm"``.

        Examples
        --------
        >>> Display("us").nutrient_text(0.9, "kg CP")
        '2 lb CP'
        >>> Display("us").nutrient_text(11.24, "Mcal NEm"), Display("us").nutrient_text(7.0, "%")
        ('11 Mcal NEm', '7 %')
        """
        first, _, rest = unit.partition(" ")
        if first != "kg":
            return f"{number_text(value)} {unit}".strip()
        return f"{self.mass_text(value)} {rest}".strip()


def display_for(units: str) -> Display:
    """Return the display that a farm asks for; anything but ``metric`` reads as US.

    Examples
    --------
    >>> display_for("metric").mass_unit
    'kg'
    """
    return Display("metric" if units == "metric" else "us")


def number_text(value: float) -> str:
    """Return a number with as many figures as a person can use.

    Examples
    --------
    >>> number_text(22.4), number_text(5.44), number_text(0.253), number_text(0.0041)
    ('22', '5.4', '0.25', '0.0041')
    >>> number_text(12345.6), number_text(-0.0), number_text(5.0)
    ('12,346', '0', '5')
    """
    size = abs(value)
    if size >= WHOLE_FROM - 0.05:
        return f"{value:,.0f}"
    if size >= 1.0:
        return _trim(f"{value:.1f}")
    if size >= 0.1:
        return _trim(f"{value:.2f}")
    return _trim(f"{value:.2g}") if size >= 1e-4 else "0"


def daily_text(value: float) -> str:
    """Return a daily amount per head: a tenth matters up to a hundred, a hundredth below one.

    Examples
    --------
    >>> daily_text(22.43), daily_text(5.0), daily_text(0.253), daily_text(0.0018)
    ('22.4', '5.0', '0.25', '0.002')
    """
    if 0.0005 <= value < 0.005:
        return f"{value:.3f}"
    return f"{value:.1f}" if value >= 0.995 else f"{value:.2f}"


def daily_range_text(least: float, most: float) -> str:
    """Return amounts from least to most: whole ones from ten on, tenths below.

    Two amounts that would read alike when whole keep their tenths.

    Examples
    --------
    >>> daily_range_text(12.4, 31.2), daily_range_text(0.44, 2.34), daily_range_text(5.6, 191.5)
    ('12–31', '0.4–2.3', '5.6–192')
    >>> daily_range_text(9.97, 10.4), daily_range_text(0.08, 0.48), daily_range_text(980.0, 1709.0)
    ('10.0–10.4', '0.08–0.48', '980–1,709')
    >>> daily_range_text(0.002, 0.52), daily_range_text(0.0, 12.2)
    ('up to 0.52', 'up to 12')
    """
    if least < 0.005 and most >= 0.005:
        return f"up to {most:,.{0 if most >= WHOLE_FROM - 0.05 else 1 if most >= 0.995 else 2}f}"
    if most < 1.0:
        return f"{least:.2f}–{most:.2f}"
    tell_apart = round(most) - least >= 1.0
    low = 0 if least >= WHOLE_FROM - 0.05 and tell_apart else 1
    high = 0 if most >= WHOLE_FROM - 0.05 and tell_apart else 1
    return f"{least:,.{low}f}–{most:,.{high}f}"


def short_daily_text(value: float) -> str:
    """Return a daily amount in the few figures that fit into a week of a picture.

    Examples
    --------
    >>> short_daily_text(22.43), short_daily_text(5.04), short_daily_text(0.253)
    ('22', '5', '.25')
    """
    if value >= WHOLE_FROM - 0.05:
        return f"{value:,.0f}"
    if value >= 0.95:
        return _trim(f"{value:.1f}")
    return _trim(f"{value:.2f}").removeprefix("0")


def short_range_text(least: float, most: float) -> str:
    """Return daily amounts from least to most in the fewest figures.

    Examples
    --------
    >>> short_range_text(7.14, 14.9), short_range_text(0.08, 3.1)
    ('7.1–15', '0.08–3.1')
    """
    low, high = (short_daily_text(one) for one in (least, most))
    return "–".join(f"0{one}" if one.startswith(".") else one for one in (low, high))


def tons_figures(value: float) -> str:
    """Return tons as figures: whole from ten on, tenths below.

    Examples
    --------
    >>> tons_figures(41.3), tons_figures(4.04), tons_figures(0.02)
    ('41', '4', '0')
    """
    if abs(value) >= WHOLE_FROM - 0.05:
        return f"{value:,.0f}"
    text = _trim(f"{value:.1f}")
    return "0" if text == "-0" else text


def tons_column(value: float) -> str:
    """Return tons for a column of figures, where tenths stand below tenths.

    Examples
    --------
    >>> tons_column(41.3), tons_column(4.04), tons_column(-0.01)
    ('41', '4.0', '0.0')
    """
    return f"{value:,.0f}" if abs(value) >= WHOLE_FROM - 0.05 else f"{abs(value):.1f}"


def money_text(usd: float) -> str:
    """Return an amount of money: whole dollars from ten on, cents below.

    Examples
    --------
    >>> money_text(4120.4), money_text(-12.0), money_text(0.0), money_text(3.5)
    ('$4,120', '-$12', '$0', '$3.50')
    """
    size = abs(usd)
    figures = f"{size:,.0f}" if size >= WHOLE_FROM - 0.005 or size < 0.005 else f"{size:,.2f}"
    return f"-${figures}" if usd < 0 and size >= 0.005 else f"${figures}"


def day_text(day: date) -> str:
    """Return a day without its year.

    Examples
    --------
    >>> day_text(date(2027, 1, 12))
    '12 Jan'
    """
    return f"{day.day} {MONTHS[day.month - 1]}"


def day_year_text(day: date) -> str:
    """Return a day with its year.

    Examples
    --------
    >>> day_year_text(date(2027, 1, 12))
    '12 Jan 2027'
    """
    return f"{day_text(day)} {day.year}"


def span_text(start: date, end: date) -> str:
    """Return the days from ``start`` to the day before ``end``, as they are fed.

    Examples
    --------
    >>> span_text(date(2026, 11, 7), date(2026, 11, 21))
    '7 Nov to 20 Nov'
    >>> span_text(date(2026, 11, 7), date(2026, 11, 8))
    '7 Nov'
    """
    last = end - timedelta(days=1)
    return day_text(start) if last <= start else f"{day_text(start)} to {day_text(last)}"


def count_text(count: float, noun: str) -> str:
    """Return a count with its noun in the right number.

    Examples
    --------
    >>> count_text(1, "week"), count_text(26, "week"), count_text(1234, "bale")
    ('1 week', '26 weeks', '1,234 bales')
    """
    figures = f"{count:,.0f}"
    return f"{figures} {noun}" if figures == "1" else f"{figures} {noun}s"


def clean(text: str) -> str:
    """Return text as one line of letters that can be printed.

    Examples
    --------
    >>> clean("Tarp" + chr(10) + " fescue" + chr(7))
    'Tarp fescue'
    """
    return " ".join("".join(one if one.isprintable() else " " for one in text).split())


def shorten(text: str, most: int) -> str:
    """Return a text cut to ``most`` characters, with an ellipsis where it was cut.

    Examples
    --------
    >>> shorten("Barn orchardgrass", 10), shorten("Tarp", 10)
    ('Barn orch…', 'Tarp')
    """
    one_line = clean(text)
    return one_line if len(one_line) <= most else one_line[: most - 1].rstrip() + "…"


def _trim(text: str) -> str:
    trimmed = text.rstrip("0").rstrip(".") if "." in text and "e" not in text else text
    return "0" if trimmed in {"-0", ""} else trimmed
