"""What an option may hold beside words: a day, a quantity, a number of a range."""

from __future__ import annotations

import math
from datetime import date

import click


class DayOption(click.ParamType[date]):
    """A day, written year first."""

    name = "DAY"

    def convert(
        self, value: str | date, param: click.Parameter | None, ctx: click.Context | None
    ) -> date:
        """Return the day that a text names."""
        if isinstance(value, date):
            return value
        from rickyard.folder.tables import FIRST_YEAR, LAST_YEAR

        try:
            day = date.fromisoformat(value.strip())
        except ValueError:
            self.fail(f'"{value}" is not a day; write it year first, as 2026-11-15.', param, ctx)
        if not FIRST_YEAR <= day.year <= LAST_YEAR:
            self.fail(f'"{value}" is outside the years {FIRST_YEAR} to {LAST_YEAR}.', param, ctx)
        return day


class QuantityOption(click.ParamType[float]):
    """A quantity with its unit, as ``0.625 in`` or ``120 $/ton``; no fraction such as 5/8."""

    def __init__(self, dimension: str, default_unit: str) -> None:
        self.dimension = dimension
        self.default_unit = default_unit
        self.name = dimension.upper()

    def convert(
        self, value: str | float, param: click.Parameter | None, ctx: click.Context | None
    ) -> float:
        """Return the quantity in the canonical unit."""
        from rickyard.quantities import QuantityError, parse_quantity

        if isinstance(value, float):
            return value
        try:
            return parse_quantity(value, self.dimension, self.default_unit)
        except QuantityError as error:
            self.fail(str(error), param, ctx)


class Number(click.ParamType[float]):
    """A number of a range; never NaN, which keeps no limit, and never without end.

    ``least``, ``most``: the range, both ends included. ``example``: what a person may write.
    """

    def __init__(self, least: float, most: float, example: str) -> None:
        self.least, self.most, self.example = least, most, example
        self.name = "NUMBER"

    def convert(
        self, value: str | float, param: click.Parameter | None, ctx: click.Context | None
    ) -> float:
        """Return the number that a text names."""
        try:
            number = float(value)
        except ValueError:
            number = math.nan
        if math.isnan(number):
            self.fail(f'"{value}" is not a number; write one such as {self.example}.', param, ctx)
        if not self.least <= number <= self.most:
            self.fail(
                f"{value} is outside the range that makes sense here, {self.least:g} to "
                f"{self.most:g}; write a number such as {self.example}.",
                param,
                ctx,
            )
        return number
