"""Display: the one place where canonical numbers become the words a reader is used to.

Sentences are written once, in American English: ``6.8%``, ``mold``, ``158 °F (70 °C)``. A farm
in metric units reads international English, which :meth:`Display.local` makes of a finished
sentence and :func:`localized` of every sentence in a result. No setting of the process is asked.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields, is_dataclass, replace
from datetime import date, time, timedelta
from typing import Any, Final, Literal, TypeVar, cast

from rickyard.nutrients import UNIT_WORDS
from rickyard.quantities import KG_PER_LB, KG_PER_OZ, KG_PER_SHORT_TON, KG_PER_TONNE

System = Literal["us", "metric"]

MONTHS: Final = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")

#: From here on a whole number says enough; below, a tenth matters to the person who weighs out.
WHOLE_FROM: Final = 10.0

#: Less than this many tons is said in pounds or kilograms.
LEAST_TONS: Final = 0.3

WEEKDAYS: Final = (
    "Monday",
    "Tuesday",
    "Wednesday",
    "Thursday",
    "Friday",
    "Saturday",
    "Sunday",
)

#: American words and how international English writes them; plurals and endings follow.
INTERNATIONAL: Final = {
    "acclimatize": "acclimatise",
    "color": "colour",
    "favor": "favour",
    "fiber": "fibre",
    "flavor": "flavour",
    "gray": "grey",
    "harbor": "harbour",
    "labor": "labour",
    "liter": "litre",
    "meter": "metre",
    "mold": "mould",
    "neighbor": "neighbour",
    "odor": "odour",
    "plow": "plough",
    "fire department": "fire service",
}

#: Fields of results that hold a sentence, or a tuple of them.
SENTENCE_FIELDS: Final = frozenset(
    [
        "sentence",
        "sentences",
        "headline",
        "reasons",
        "reason",
        "suits",
        "lacks",
        "certainty",
        "other_stock",
        "grade",
        "repeat",
        "value",
        "remarks",
        "remark",
        "worth_remark",
        "handling",
        "assumptions",
        "action",
        "notes",
        "label",
        "finding",
        "do",
    ]
)

#: Units of the United States whose metric twin may stand behind them in parentheses.
_TWIN: Final = re.compile(
    r"(?P<us>-?[\d.,]+(?: to -?[\d.,]+)? (?:°F|lb|pounds?|inch(?:es)?|in|feet|foot|ft|oz))"
    r" \((?P<metric>-?[\d.,]+(?: to -?[\d.,]+)? (?:°C|kg|g|cm|mm|m))\)"
)
_PERCENT: Final = re.compile(r"(?<=\d)%")

#: A day as it is written in American English.
_DATE: Final = re.compile(
    rf"\b(?P<month>{'|'.join(MONTHS)}) (?P<day>\d{{1,2}})\b(?!,\d)(?:,(?P<year> \d{{4}}\b))?"
)

_Value = TypeVar("_Value")


@dataclass(frozen=True, slots=True)
class Display:
    """How numbers are written for one farm.

    ``system``: US customary (pounds, short tons) or metric (kilograms, metric tonnes).
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

        >>> round(Display("us").mass(45.359237), 6)
        100.0
        """
        return kg / KG_PER_LB if self.system == "us" else kg

    def mass_text(self, kg: float) -> str:
        """Return a mass with its unit.

        >>> Display("us").mass_text(1000.0), Display("metric").mass_text(2.46)
        ('2,205 lb', '2.5 kg')
        """
        return f"{number_text(self.mass(kg))} {self.mass_unit}"

    def scale(self, kg: float) -> tuple[float, str]:
        """Return what a kilogram is in the unit that a mass is weighed out in, and that unit.

        Less than half a pound is told in ounces: no barn scale shows hundredths of a pound.

        >>> [Display(one).scale(kg)[1] for one in ("us", "metric") for kg in (0.01, 0.5)]
        ['oz', 'lb', 'kg', 'kg']
        """
        if self.system == "us" and kg < 0.5 * KG_PER_LB:
            return 1.0 / KG_PER_OZ, "oz"
        return self.mass(1.0), self.mass_unit

    def tons(self, tonnes: float) -> float:
        """Return metric tonnes as the tons of this display.

        >>> round(Display("us").tons(0.90718474), 6)
        1.0
        """
        return tonnes * KG_PER_TONNE / KG_PER_SHORT_TON if self.system == "us" else tonnes

    def tons_text(self, tonnes: float) -> str:
        """Return metric tonnes as a person says them.

        >>> Display("us").tons_text(37.3), Display("us").tons_text(0.90718474)
        ('41 tons', '1 ton')
        >>> Display("metric").tons_text(4.25)
        '4.2 t'
        """
        figures = tons_figures(self.tons(tonnes))
        if self.system == "metric":
            return f"{figures} t"
        return f"{figures} ton" if figures == "1" else f"{figures} tons"

    def amount_text(self, kg: float) -> str:
        """Return what is bought, used or left: tons, or pounds and kilograms of a little.

        >>> Display("us").amount_text(18_000.0), Display("us").amount_text(20.0)
        ('20 tons', '44 lb')
        >>> Display("us").amount_text(150.0), Display("us").amount_text(0.0)
        ('331 lb', '0 tons')
        """
        if 0.0 < self.tons(kg / KG_PER_TONNE) < LEAST_TONS:
            return self.mass_text(kg)
        return self.tons_text(kg / KG_PER_TONNE)

    @property
    def kg_per_ton(self) -> float:
        """Return the kilograms in a ton of this display."""
        return KG_PER_SHORT_TON if self.system == "us" else KG_PER_TONNE

    @property
    def ton_word(self) -> str:
        """Return the word for a ton: ``ton`` or ``tonne``."""
        return "ton" if self.system == "us" else "tonne"

    def price_per_ton_text(self, usd_per_kg: float) -> str:
        """Return a price per kilogram as a price per ton, for a column.

        >>> Display("us").price_per_ton_text(0.22), Display("metric").price_per_ton_text(0.22)
        ('$200/ton', '$220/t')
        """
        return f"{money_text(usd_per_kg * self.kg_per_ton)}/{self.ton_unit}"

    def price_a_ton(self, usd_per_kg: float) -> str:
        """Return a price per kilogram as a price per ton, for a sentence.

        >>> Display("us").price_a_ton(0.22), Display("metric").price_a_ton(0.22)
        ('$200 a ton', '$220 a tonne')
        """
        return f"{money_text(usd_per_kg * self.kg_per_ton)} a {self.ton_word}"

    def energy_density(self, mcal_per_kg: float) -> float:
        """Return an energy density per unit of what is weighed out.

        >>> round(Display("us").energy_density(1.2), 3)
        0.544
        """
        return mcal_per_kg * KG_PER_LB if self.system == "us" else mcal_per_kg

    def nutrient_text(self, value: float, unit: str) -> str:
        """Return an amount of a constrained nutrient.

        ``value``: the amount, in ``unit``. ``unit``: the unit of the season program: ``"kg CP"``,
        ``"Mcal NEm"``, ``"USD"``.

        >>> Display("us").nutrient_text(0.9, "kg CP"), Display("us").nutrient_text(0.9, "USD")
        ('2 lb of crude protein', '$0.90')
        >>> Display("us").nutrient_text(11.24, "Mcal NEm")
        '11 Mcal of net energy'
        """
        if unit == "USD":
            return money_text(value)
        if unit == "Mcal NEm":
            return f"{number_text(value)} Mcal of net energy"
        if unit.startswith("g "):
            return f"{number_text(value)} g of {UNIT_WORDS[unit]}"
        if unit == "t DM":
            return f"{self.amount_text(value * KG_PER_TONNE)} of dry matter"
        if unit == "mg NO3-N":
            return f"{number_text(value / 1000.0)} g of nitrate nitrogen"
        if unit.startswith("mg "):
            return f"{number_text(value)} mg of {UNIT_WORDS[unit]}"
        return f"{self.mass_text(value)} of {UNIT_WORDS[unit]}"

    def price_of_one_more(self, usd: float, unit: str) -> str:
        """Return what one more unit of a need costs, in the unit a person would use.

        >>> Display("us").price_of_one_more(1.0, "kg CP")
        '45 cents a pound'
        """
        if unit == "Mcal NEm":
            return f"{cents_text(usd)} a megacalorie"
        if unit.startswith("g "):
            if self.system == "us":
                return f"{cents_text(usd * 1000.0 * KG_PER_OZ)} an ounce"
            return f"{cents_text(usd * 10.0)} for ten grams"
        if unit == "mg NO3-N":
            return f"{cents_text(usd * 1000.0)} a gram"
        if self.system == "us":
            return f"{cents_text(usd * KG_PER_LB)} a pound"
        return f"{cents_text(usd)} a kilogram"

    def day_text(self, day: date) -> str:
        """Return a day without its year.

        >>> Display("us").day_text(date(2027, 1, 12)), Display("metric").day_text(date(2027, 1, 12))
        ('Jan 12', '12 Jan')
        """
        month = MONTHS[day.month - 1]
        return f"{month} {day.day}" if self.system == "us" else f"{day.day} {month}"

    def day_year_text(self, day: date) -> str:
        """Return a day with its year.

        >>> Display("us").day_year_text(date(2027, 1, 12))
        'Jan 12, 2027'
        >>> Display("metric").day_year_text(date(2027, 1, 12))
        '12 Jan 2027'
        """
        return f"{self.day_text(day)}{',' if self.system == 'us' else ''} {day.year}"

    def clock_text(self, at: time) -> str:
        """Return a time of the day as a kitchen clock is read, to the minute.

        >>> Display("us").clock_text(time(0, 36)), Display("us").clock_text(time(13, 5))
        ('12:36 a.m.', '1:05 p.m.')
        >>> Display("metric").clock_text(time(13, 5))
        '13:05'
        """
        if self.system != "us":
            return f"{at:%H:%M}"
        return f"{(at.hour - 1) % 12 + 1}:{at:%M} {'a.m.' if at.hour < 12 else 'p.m.'}"

    def weekday_text(self, day: date) -> str:
        """Return a day with the day of the week, as it heads a column or a list.

        >>> Display("us").weekday_text(date(2026, 11, 30))
        'Mon, Nov 30'
        >>> Display("metric").weekday_text(date(2026, 11, 30))
        'Mon 30 Nov'
        """
        comma = "," if self.system == "us" else ""
        return f"{WEEKDAYS[day.weekday()][:3]}{comma} {self.day_text(day)}"

    def span_text(self, start: date, end: date) -> str:
        """Return the days from ``start`` to the day before ``end``, as they are fed.

        >>> Display("us").span_text(date(2026, 11, 7), date(2026, 11, 21))
        'Nov 7 to Nov 20'
        >>> Display("metric").span_text(date(2026, 11, 7), date(2026, 11, 8))
        '7 Nov'
        """
        last = end - timedelta(days=1)
        if last <= start:
            return self.day_text(start)
        return f"{self.day_text(start)} to {self.day_text(last)}"

    def during_text(self, start: date, end: date) -> str:
        """Return when something holds, for the middle of a sentence; ``end`` is the day after it.

        >>> Display("us").during_text(date(2026, 11, 7), date(2026, 11, 21))
        'from Nov 7 to Nov 20'
        >>> Display("us").during_text(date(2026, 11, 7), date(2026, 11, 8))
        'on Nov 7'
        """
        preposition = "on" if end - start <= timedelta(days=1) else "from"
        return f"{preposition} {self.span_text(start, end)}"

    def percent_text(self, pct: float, places: int = 1) -> str:
        """Return a percentage.

        >>> Display("us").percent_text(6.83), Display("metric").percent_text(7.0, 0)
        ('6.8%', '7 %')
        """
        return self.local(f"{pct:.{places}f}%")

    def local(self, sentence: str) -> str:
        """Return a sentence, written in American English, in the English of this farm.

        >>> Display("us").local("Mold grows above 95 °F (35 °C) and 18% moisture.")
        'Mold grows above 95 °F (35 °C) and 18% moisture.'
        >>> Display("metric").local("Mold grows above 95 °F (35 °C) and 18% moisture.")
        'Mould grows above 35 °C (95 °F) and 18 % moisture.'
        >>> Display("metric").local("Probe it until Nov 2, 2026; feed it from Nov 9 on.")
        'Probe it until 2 Nov 2026; feed it from 9 Nov on.'
        """
        if self.system == "us":
            return sentence
        turned = _TWIN.sub(r"\g<metric> (\g<us>)", _PERCENT.sub(" %", sentence))
        turned = _DATE.sub(r"\g<day> \g<month>\g<year>", turned)
        return _AMERICAN.sub(_international, turned)


def localized(result: _Value, display: Display) -> _Value:
    """Return a result with each of its sentences in the English of the farm.

    Names, ids and figures stay as they are: only fields that hold sentences are touched
    (:data:`SENTENCE_FIELDS`), however deep in data classes, tuples, lists and mappings.

    ``result``: frozen data classes, or containers of them. ``display``: how the farm reads numbers;
    for a US farm the result comes back as it is. Returns the same kind of object.

    >>> from rickyard.farm import Caution
    >>> localized((Caution("note", "color", "Mold, 5%.", "here"),), Display("metric"))[0].sentence
    'Mould, 5 %.'
    """
    if display.system == "us":
        return result
    return cast(_Value, _localized(result, display))


def _localized(value: Any, display: Display) -> Any:
    if isinstance(value, tuple) and type(value) is tuple:
        return tuple(_localized(one, display) for one in value)
    if isinstance(value, list):
        return [_localized(one, display) for one in value]
    if isinstance(value, Mapping):
        return {key: _localized(one, display) for key, one in value.items()}
    if not is_dataclass(value) or isinstance(value, type):
        return value
    changed = {}
    for field in fields(value):
        now = getattr(value, field.name)
        then = _sentences(now, display) if field.name in SENTENCE_FIELDS else None
        then = _localized(now, display) if then is None else then
        if then is not now and then != now:
            changed[field.name] = then
    return replace(value, **changed) if changed else value


def _sentences(value: Any, display: Display) -> Any:
    if isinstance(value, str):
        return display.local(value)
    if isinstance(value, tuple) and all(isinstance(one, str) for one in value):
        return tuple(display.local(one) for one in value)
    return None


def _international(found: re.Match[str]) -> str:
    word = found.group("word")
    said = INTERNATIONAL[word.lower()]
    return (said[0].upper() + said[1:] if word[0].isupper() else said) + found.group("ending")


_AMERICAN: Final = re.compile(
    r"\b(?P<word>" + "|".join(INTERNATIONAL) + r")(?P<ending>s|ed|ing|ful|less|y|ier|)\b",
    re.IGNORECASE,
)


def display_for(units: str) -> Display:
    """Return the display that a farm asks for; anything but ``metric`` reads as US.

    >>> display_for("metric").mass_unit
    'kg'
    """
    return Display("metric" if units == "metric" else "us")


def number_text(value: float) -> str:
    """Return a number with as many figures as a person can use.

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

    >>> daily_text(22.43), daily_text(5.0), daily_text(0.253), daily_text(0.0018)
    ('22.4', '5.0', '0.25', '0.002')
    """
    if 0.0005 <= value < 0.005:
        return f"{value:.3f}"
    return f"{value:.1f}" if value >= 0.995 else f"{value:.2f}"


def daily_range_text(least: float, most: float) -> str:
    """Return amounts from least to most: whole ones from ten on, tenths below.

    Two amounts that would read alike when whole keep their tenths.

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

    >>> short_daily_text(22.43), short_daily_text(5.04), short_daily_text(0.253)
    ('22', '5', '0.25')
    """
    if value >= WHOLE_FROM - 0.05:
        return f"{value:,.0f}"
    if value >= 0.95:
        return _trim(f"{value:.1f}")
    return _trim(f"{value:.2f}")


def tons_figures(value: float) -> str:
    """Return tons as figures: whole from ten on, tenths below.

    >>> tons_figures(41.3), tons_figures(4.04), tons_figures(0.02)
    ('41', '4', '0')
    """
    if abs(value) >= WHOLE_FROM - 0.05:
        return f"{value:,.0f}"
    text = _trim(f"{value:.1f}")
    return "0" if text == "-0" else text


def tons_column(value: float) -> str:
    """Return tons for a column of figures, where tenths stand below tenths.

    >>> tons_column(41.3), tons_column(4.04), tons_column(-0.01)
    ('41', '4.0', '0.0')
    """
    return f"{value:,.0f}" if abs(value) >= WHOLE_FROM - 0.05 else f"{abs(value):.1f}"


def money_text(usd: float) -> str:
    """Return an amount of money: whole dollars from ten on, cents below.

    >>> money_text(4120.4), money_text(-12.0), money_text(0.0), money_text(3.5)
    ('$4,120', '-$12', '$0', '$3.50')
    """
    size = abs(usd)
    figures = f"{size:,.0f}" if size >= WHOLE_FROM - 0.005 or size < 0.005 else f"{size:,.2f}"
    return f"-${figures}" if usd < 0 and size >= 0.005 else f"${figures}"


def cents_text(usd: float) -> str:
    """Return a small price: cents below a dollar.

    >>> cents_text(0.124), cents_text(0.012), cents_text(2.5)
    ('12 cents', '1.2 cents', '$2.50')
    """
    if abs(usd) >= 1.0:
        return f"${usd:.2f}"
    cents = usd * 100.0
    return f"{cents:.0f} cents" if abs(cents) >= 1.5 else f"{cents:.1f} cents"


def listed(names: Sequence[str], joined_by: str = "and") -> str:
    """Join names as a sentence does.

    >>> listed(["cows", "bulls", "heifers"]), listed(["hay", "corn"], "or")
    ('cows, bulls and heifers', 'hay or corn')
    """
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} {joined_by} {names[-1]}"


#: So many names and more are not listed one by one where they are all there are.
MANY_NAMES: Final = 5


def listed_or_all(names: Sequence[str], of_all: int) -> str:
    """Join names of groups as a sentence does, or say that it is all of them where they are many.

    >>> listed_or_all(["a", "b"], 2), listed_or_all(list("abcde"), 5)
    ('a and b', 'all groups')
    >>> listed_or_all(list("abcde"), 6)
    'a, b, c, d and e'
    """
    return "all groups" if MANY_NAMES <= len(names) == of_all else listed(names)


def with_unit(figures: str, unit: str) -> str:
    """Return figures with their unit; a percent sign follows without a space.

    >>> with_unit("9.4", "% of dry matter"), with_unit("120", "mm"), with_unit("109", "")
    ('9.4% of dry matter', '120 mm', '109')
    """
    return f"{figures}{unit}" if unit.startswith("%") else f"{figures} {unit}".rstrip()


def count_text(count: float, noun: str) -> str:
    """Return a count with its noun in the right number.

    >>> count_text(1, "week"), count_text(26, "week"), count_text(1234, "bale")
    ('1 week', '26 weeks', '1,234 bales')
    """
    figures = f"{count:,.0f}"
    return f"{figures} {noun}" if figures == "1" else f"{figures} {noun}s"


def clean(text: str) -> str:
    """Return text as one line of letters that can be printed.

    >>> clean("Tarp" + chr(10) + " fescue" + chr(7))
    'Tarp fescue'
    """
    if not text.isprintable():
        text = "".join(one if one.isprintable() else " " for one in text)
    return " ".join(text.split())


def shorten(text: str, most: int) -> str:
    """Return a text cut to ``most`` characters, with an ellipsis where it was cut.

    >>> shorten("Barn orchardgrass", 10), shorten("Tarp", 10)
    ('Barn orch…', 'Tarp')
    """
    one_line = clean(text)
    return one_line if len(one_line) <= most else one_line[: most - 1].rstrip() + "…"


def _trim(text: str) -> str:
    trimmed = text.rstrip("0").rstrip(".") if "." in text and "e" not in text else text
    return "0" if trimmed in {"-0", ""} else trimmed
