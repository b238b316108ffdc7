"""One cell of a farm folder: from its text to a value, and back."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date
from enum import StrEnum
from typing import Any, Final

from rickyard.display import with_unit
from rickyard.folder.tables.columns import MEASURES, Column
from rickyard.folder.tables.dates import parse_date, parse_day_or_month
from rickyard.folder.tables.faults import CellError
from rickyard.folder.tables.limits import HAY_VALUE, ColumnLimit
from rickyard.folder.tables.words import (
    is_scientific,
    parse_flag,
    parse_id,
    parse_word,
    refuse_formula,
    refuse_spreadsheet_error,
    spreadsheet_date,
)
from rickyard.quantities import CANONICAL, UNITS, QuantityError, written_quantity

LONGEST_NUMBER: Final = 60  # characters; longer than any number with its unit
MOST_DIGITS: Final = 17  # enough to tell any two floats apart

_DOLLARS: Final = re.compile(
    r"(?P<sign>-?)\$\s*(?P<number>[\d.,]+)\s*(?:(?:/|per)\s*(?P<per>\w+))?"
)
_DECIMAL_COMMA: Final = re.compile(r"([+-]?\d+(?:\.\d{3})*),(\d+)(?:\s*[^\d\s].*)?")
_SPAN: Final = re.compile(r"[\d.]+\s*(?:-|–|to)\s*[\d.]+.*")
_NUMBER_AND_WORD: Final = re.compile(r"[+-]?[\d.,]+\s*([^\d\s.,+-].*)")
_GUESS_FACTORS: Final = (10.0, 100.0, 1000.0, 0.1, 0.01, 0.001)


def parse_cell(
    column: Column,
    unit: str,
    text: str,
    bale_weight_kg: float | None = None,
    *,
    american: bool = False,
) -> Any:
    """Read a filled cell.

    Raises ``CellError`` if the cell cannot be that.

    Parameters
    ----------
    column : Column
        The column it stands under.
    unit : str
        The unit of the column's header; a unit in the cell takes its place.
    text : str
        The cell, not blank.
    bale_weight_kg : float, optional
        Weight of one bale of the row, for a price per bale. [kg]
    american : bool
        Whether 11/30/2026 is read where it can be no other day.

    Returns
    -------
    object
        The value of the field.

    Examples
    --------
    >>> from rickyard.folder.tables.files import GROUPS
    >>> weight = GROUPS.column_of("weight_kg")
    >>> parse_cell(weight, "lb", "0.5 t")
    500.0
    """
    text = text.strip()
    refuse_spreadsheet_error(text)
    if column.kind == "text":
        return _parse_text(column, text)
    refuse_formula(text)
    match column.kind:
        case "id":
            return parse_id(text)
        case "word":
            assert column.words is not None  # a column of words names its list
            return parse_word(text, column.words)
        case "flag":
            return parse_flag(text)
        case "date":
            return parse_date(text, american=american)
        case "day":
            return parse_day_or_month(text, american=american)
        case "whole":
            return _parse_whole(column, text)
        case _:
            return _parse_measure(column, unit, text, bale_weight_kg)


def _parse_text(column: Column, text: str) -> str:
    if column.name == "lab_no" and is_scientific(text):
        raise CellError(
            f'"{text}" is a long number that a spreadsheet shortened.',
            "Format the column as text and type the number from the report again.",
            "the laboratory's number",
        )
    return text


def _parse_whole(column: Column, text: str) -> int:
    value, _ = read_number(column, "", text)
    if value != int(value):
        raise CellError(
            f'"{text}" is not a whole number.',
            f"Did you mean {value:.0f}? Write a number without decimals.",
            "a whole number",
        )
    check_limit(column, column.limit, value, value, "", text)
    return int(value)


def _parse_measure(column: Column, unit: str, text: str, bale_weight_kg: float | None) -> float:
    number, used = read_number(column, unit, text)
    if column.counts == "per_bale":
        return _value_of_bale(column, number, used, text, bale_weight_kg)
    value = to_field(column, number, used)
    check_limit(column, column.limit, value, number, used, text)
    return 100.0 - value if column.counts == "rest_of_100" else value


def _value_of_bale(
    column: Column, number: float, used: str, text: str, bale_weight_kg: float | None
) -> float:
    if used:
        value = UNITS[used].to_canonical(number)
        check_limit(column, HAY_VALUE, value, number, used, text)
        return value
    check_limit(column, column.limit, number, number, "", text)
    if bale_weight_kg is None or bale_weight_kg <= 0.0:
        raise CellError(
            f'"{text}" is a price per bale, and the weight of the bale is not known.',
            "Write the bale weight too, or the price per ton under "
            f"{column.name.replace('_per_bale', '_per_ton')}.",
        )
    return number / bale_weight_kg


def read_number(column: Column, unit: str, text: str) -> tuple[float, str]:
    """Read the number of a cell and the unit that counts for it.

    Raises ``CellError`` if the cell is no number, or its unit measures something else.

    Parameters
    ----------
    column : Column
        What the cell holds, and which units it takes.
    unit : str
        The unit that the heading or the farm gives, where the cell names none.
    text : str
        The cell as written.

    Returns
    -------
    number : float
        The number as written, in ``unit``. [that unit]
    unit : str
        The unit that counts: the cell's own, else the one given.
    """
    dimension = "price" if column.counts == "per_bale" else column.dimension
    plain = _without_dollars(text) if dimension == "price" else text
    try:
        if len(plain) > LONGEST_NUMBER:
            raise QuantityError("too long")
        number, written = written_quantity(plain)
    except QuantityError:
        raise _not_a_number(column, text) from None
    if written is None:
        return number, unit
    if not dimension:
        raise CellError(
            f'"{text}" holds more than a number.',
            f"Did you mean {plain_number(number)}?",
            "a number",
        )
    if written.dimension != dimension:
        raise CellError(
            f'"{text}" is {MEASURES[written.dimension]}, and {MEASURES[dimension]} is expected.',
            f"Use {_unit_choices(column)}.",
            MEASURES[dimension],
        )
    return number, written.name


def _without_dollars(text: str) -> str:
    match = _DOLLARS.fullmatch(text)
    if match is None:
        return text
    per = f" $/{match['per']}" if match["per"] else ""
    return f"{match['sign']}{match['number']}{per}"


def _unit_choices(column: Column) -> str:
    if not column.dimension:
        return "a number"
    return " or ".join(UNITS[unit].written[0] for unit in column.common_units())


def _not_a_number(column: Column, text: str) -> CellError:
    expected = "a number"
    if match := _DECIMAL_COMMA.fullmatch(text):
        whole = match[1].replace(".", "")
        return CellError(
            f'"{text}" has a decimal comma.',
            f"Did you mean {whole}.{match[2]}? Write a point for decimals.",
            expected,
        )
    if typed := spreadsheet_date(text):
        return CellError(
            f'"{text}" looks like a date that a spreadsheet made of a number.',
            f"Did you mean {typed.replace('-', '.')}? Format the column as a number.",
            expected,
        )
    if _SPAN.fullmatch(text):
        return CellError(
            f'"{text}" is a span, not a number.', "Write one number, the mean.", expected
        )
    if _NUMBER_AND_WORD.fullmatch(text):
        if not column.dimension and column.counts != "per_bale":
            return CellError(f'"{text}" holds more than a number.', "Write the number alone.")
        return CellError(
            f'"{text}" has a unit this program does not know.',
            f"Use {_unit_choices(column)}.",
            expected,
        )
    return CellError(
        f'"{text}" is not a number.',
        "Write it in figures."
        if column.required
        else "Write it in figures, or leave the cell empty if it is not known.",
        expected,
    )


def to_field(column: Column, number: float, unit: str) -> float:
    """Return a number in the unit of the column's field."""
    if not column.dimension or unit == column.field_unit:
        return number
    return UNITS[column.field_unit].from_canonical(UNITS[unit].to_canonical(number))


#: Parts per million in one percent.
PPM_PER_PCT: Final = 1e4


def check_limit(
    column: Column, limit: ColumnLimit | None, value: float, number: float, unit: str, text: str
) -> None:
    """Refuse a value that a field cannot hold, and guess what was meant.

    Raises ``CellError`` if the value lies outside.

    Parameters
    ----------
    column : Column
        The column of the cell.
    limit : ColumnLimit or None
        What the field may hold; may be narrower than the column's own.
    value : float
        The value. [field unit]
    number : float
        The value as written. [unit]
    unit : str
        The unit that counts for the cell, or an empty string.
    text : str
        The cell.
    """
    if limit is None:
        return
    expected = f"{_shown(column, limit.least, unit)} to {_shown(column, limit.most, unit)}"
    if value < 0.0 <= limit.least:
        problem, guesses = f'"{text}" is negative.', [-number]
    elif limit.fraction_trap and 0.0 < value < 1.0:
        problem, guesses = f'"{text}" is a fraction, and percent is expected.', [number * 100.0]
    elif 0.0 < value < limit.least_of_some:
        least = _shown(column, limit.least_of_some, unit)
        problem = f'"{text}" is under {least}, less than laboratories find; a percentage is likely.'
        guesses = [_rounded(number * PPM_PER_PCT)]
    elif value < limit.least:
        why = f", {limit.too_low}" if limit.too_low else ""
        problem, guesses = f'"{text}" is under {_shown(column, limit.least, unit)}{why}.', []
    elif value > limit.most:
        why = f", {limit.too_high}" if limit.too_high else ""
        problem, guesses = f'"{text}" is over {_shown(column, limit.most, unit)}{why}.', []
    else:
        return
    advice = limit.advice_high or limit.advice if value > limit.most else limit.advice
    guess = ""
    if not (value > limit.most and limit.advice_high):
        guess = _guess(column, limit, number, unit, guesses)
    raise CellError(problem, " ".join(part for part in (guess, advice) if part), expected)


#: A limit that was turned into the unit of its cell is told to the whole number from here on.
_WHOLE_FROM: Final = 20.0


def _shown(column: Column, value: float, unit: str) -> str:
    if not unit:
        return f"{value:,.6g}"
    if unit != column.field_unit:
        field = UNITS[column.field_unit or CANONICAL[UNITS[unit].dimension].name]
        value = UNITS[unit].from_canonical(field.to_canonical(value))
        if abs(value) >= _WHOLE_FROM:
            return with_unit(f"{value:,.0f}", UNITS[unit].written[0])
    return with_unit(f"{value:,.4g}", UNITS[unit].written[0])


def _guess(
    column: Column, limit: ColumnLimit, number: float, unit: str, certain: list[float]
) -> str:
    for candidate in certain:
        if limit.least <= to_field(column, candidate, unit) <= limit.most:
            return f"Did you mean {plain_number(_rounded(candidate))}?"
    if limit.usual is None or column.counts == "per_bale":
        return ""
    low, high = limit.usual
    for other in column.common_units() if column.dimension else ():
        if other != unit and low <= to_field(column, number, other) <= high:
            return f"Did you mean {plain_number(number)} {UNITS[other].written[0]}?"
    if column.dimension == "temperature":
        return ""  # a decimal point slips, but tenfold is no temperature's mistake
    for factor in _GUESS_FACTORS:
        candidate = _rounded(number * factor)
        if low <= to_field(column, candidate, unit) <= high:
            return f"Did you mean {plain_number(candidate)}?"
    return ""


def _rounded(number: float) -> float:
    return float(f"{number:.10g}")


def plain_number(number: float) -> str:
    """Return the shortest text that reads back as exactly this number.

    Parameters
    ----------
    number : float
        Any number.

    Returns
    -------
    str
        With as many digits as it takes to read it back, and no exponent.

    Examples
    --------
    >>> plain_number(900.0), plain_number(0.1)
    ('900', '0.1')
    """
    text = repr(float(number))
    return text.removesuffix(".0")


def format_cell(
    column: Column, unit: str, value: Any, bale_weight_kg: float | None = None
) -> str | None:
    """Write a value so that reading the cell gives exactly it.

    Parameters
    ----------
    column : Column
        The column it will stand under.
    unit : str
        The unit of the column's header.
    value : object
        The value of the field, not blank.
    bale_weight_kg : float, optional
        Weight of one bale of the row, for a price per bale. [kg]

    Returns
    -------
    str or None
        The cell; ``None`` if no text under this header reads back as the value.

    Examples
    --------
    >>> from rickyard.folder.tables.files import GROUPS
    >>> weight = GROUPS.column_of("weight_kg")
    >>> format_cell(weight, "lb", 521.6312255)
    '1150'
    """
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, StrEnum):
        return value.value
    if isinstance(value, date):
        return value.isoformat()
    if column.kind == "day":
        day, monthly = value
        return f"{day:%Y-%m}" if monthly else str(day.isoformat())
    if isinstance(value, str):
        return value
    return _format_number(column, unit, float(value), bale_weight_kg)


def _format_number(
    column: Column, unit: str, value: float, bale_weight_kg: float | None
) -> str | None:
    match column.counts:
        case "rest_of_100":
            return next(
                (
                    text
                    for text in _spellings(_from_field(column, 100.0 - value, unit))
                    if 100.0 - to_field(column, float(text), unit) == value
                ),
                None,
            )
        case "per_bale":
            if not bale_weight_kg:
                return f"{plain_number(value)} $/kg"
            spellings = _spellings(value * bale_weight_kg)
            exact = (text for text in spellings if float(text) / bale_weight_kg == value)
            return next(exact, f"{plain_number(value)} $/kg")
    if not column.dimension or unit == column.field_unit:
        return plain_number(value)
    spellings = _spellings(_from_field(column, value, unit))
    exact = (text for text in spellings if to_field(column, float(text), unit) == value)
    return next(exact, f"{plain_number(value)} {UNITS[column.field_unit].written[0]}")


def _from_field(column: Column, value: float, unit: str) -> float:
    if unit == column.field_unit:
        return value
    return UNITS[unit].from_canonical(UNITS[column.field_unit].to_canonical(value))


def _spellings(number: float) -> Iterator[str]:
    for digits in range(1, MOST_DIGITS + 1):
        yield plain_number(float(f"{number:.{digits}g}"))
