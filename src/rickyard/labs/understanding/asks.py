"""Questions on values: each names the value as printed, what it could be, and why it matters."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from rickyard.forage.values import word_of
from rickyard.labs.common import Question, Sample, Value
from rickyard.labs.science import ANALYTE_SPECS
from rickyard.labs.tables import Found
from rickyard.labs.vocabulary import fits, plain

UNIT_WORDS: Final = {
    "pct": "%",
    "g_per_kg": "g/kg",
    "ppm": "ppm (mg/kg)",
    "ppb": "ppb",
    "mcal_per_lb": "Mcal/lb",
    "mcal_per_kg": "Mcal/kg",
    "mj_per_kg": "MJ/kg",
    "cfu_per_g": "CFU/g",
}
_SLIPS: Final = ((0.1, "a tenth of it"), (10.0, "ten times it"), (100.0, "a hundred times it"))


def named(value: Value) -> str:
    """Return a value in words, as it is printed.

    Parameters
    ----------
    value : Value
        The value.

    Returns
    -------
    str
        What was printed, its unit, and the name of what was tested.
    """
    unit = UNIT_WORDS.get(value.unit, value.unit)
    return f"{value.printed} {unit} {word_of(value.analyte)}".replace("  ", " ")


def in_figures(number: float) -> str:
    """Return a number in three figures, and never with an exponent.

    Parameters
    ----------
    number : float
        The number.

    Returns
    -------
    str
        Its figures.

    Examples
    --------
    >>> in_figures(12.7551), in_figures(1993.2), in_figures(0.4)
    ('12.8', '1990', '0.4')
    """
    return f"{float(f'{number:.3g}'):g}" if abs(number) < 1e6 else f"{number:.0f}"


def unreadable(value: Value) -> Question:
    """Ask for the number where none can be read."""
    return Question(
        f'Where {word_of(value.analyte)} should stand, "{value.printed}" is printed '
        f"({value.place}). What is the number? {value.reasons[-1].capitalize()}.",
        f"number {value.place}",
        (value.analyte,),
        ("a number", "leave out"),
    )


def which_unit(value: Value, what: str, possible: Sequence[str] = ()) -> Question:
    """Ask for the unit of a value."""
    units = possible or ANALYTE_SPECS[value.analyte].units
    words = " or ".join(UNIT_WORDS[unit] for unit in units)
    return Question(
        f"{value.printed} {word_of(value.analyte)} {what}. Is it {words}?",
        f"unit {value.analyte}",
        (value.analyte,),
        tuple(units),
        units[0] if len(units) == 1 else "",
    )


def which_analyte(value: Value, one: Found, sample: Sample) -> None:
    """Ask which analyte a label names, and doubt the value until then."""
    value.doubt(f'"{one.label_text}" may be one of several analytes')
    names = " or ".join(word_of(name) for name in one.label.candidates)
    sample.questions.append(
        Question(
            f'"{one.label_text}" {value.printed}: is it {names}?',
            f"analyte {plain(one.label_text)}",
            one.label.candidates,
            one.label.candidates,
        )
    )


def hidden_column(value: Value) -> Question:
    """Ask whether a value counts that stands in a hidden column."""
    return Question(
        f"{named(value)} stands in a column that the workbook hides ({value.place}). Does it "
        f"count?",
        "hidden columns",
        (value.analyte,),
        ("as printed", "leave out"),
    )


def which_nitrate(value: Value) -> Question:
    """Ask for the form of nitrate."""
    return Question(
        f"{named(value)}: which form? As NO3-N the same figure means more than four times as "
        "much nitrate as NO3, and seven times as much as KNO3. Ask the laboratory; until then "
        "feed the lot to no pregnant stock.",
        "nitrate form",
        ("nitrate", "nitrate_no3n", "nitrate_no3", "nitrate_kno3"),
        ("nitrate_no3n", "nitrate_no3", "nitrate_kno3"),
    )


def where_it_stands(value: Value, doubt: str) -> Question:
    """Ask whether a value is of the analyte under whose name it was read."""
    return Question(
        f"{value.printed} was read as {word_of(value.analyte)} ({value.place}), but {doubt}. Is "
        "it so?",
        f"place {value.analyte} {value.place}",
        (value.analyte,),
        ("as printed", "leave out"),
    )


#: Parts by mass of the element in its oxide, by their formula weights.
_OF_OXIDE: Final = {"K2O": 0.8302, "P2O5": 0.4364, "CaO": 0.7147, "MgO": 0.6030}


def which_form(value: Value, form: str) -> Question:
    """Ask whether a mineral that is printed as its oxide is so."""
    part = _OF_OXIDE[form]
    number = in_figures(value.value * part) if value.value is not None else "less"
    return Question(
        f"{value.printed} {word_of(value.analyte)} is printed as {form}, as of fertilizer. As the "
        f"element it is {number}. Which of the two does the laboratory mean?",
        f"form {value.analyte}",
        (value.analyte,),
        (number, "as printed", "leave out"),
    )


def which_decimals(value: Value, one: Found) -> Question:
    """Ask what a sign in a number means."""
    other = f" or {one.printed.other:g}" if one.printed.other is not None else ""
    return Question(
        f'"{value.printed}" {word_of(value.analyte)}: {one.printed.doubt}. Is it '
        f"{one.printed.value:g}{other}?",
        "decimals",
        (value.analyte,),
        ("point", "comma"),
    )


def unfit(value: Value, frac: float) -> Question:
    """Ask about a number that no forage has in its unit."""
    assert value.value is not None
    could = [
        f"in {UNIT_WORDS[unit]} it would fit"
        for unit in ANALYTE_SPECS[value.analyte].units
        if unit != value.unit and fits(value.analyte, value.value, unit, frac)
    ]
    could += [
        f"{words} would fit"
        for factor, words in _SLIPS
        if fits(value.analyte, value.value * factor, value.unit, frac)
    ][:1]
    told = "; ".join(could[:2]) or "no other unit of it fits either"
    return Question(
        f"{named(value)} is more or less than any forage has: {told}. Ask the laboratory.",
        f"unfit {value.analyte}",
        (value.analyte,),
        ("a number", "leave out"),
    )
