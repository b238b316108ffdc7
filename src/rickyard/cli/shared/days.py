"""What commands about days share: a day and a quantity as options."""

from __future__ import annotations

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
