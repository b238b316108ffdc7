"""A day and a quantity as options of a command."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from rickyard.farm import Farm


class DayOption(click.ParamType[date]):
    """A day, written year first."""

    name = "DATE"

    def convert(
        self, value: str | date, param: click.Parameter | None, ctx: click.Context | None
    ) -> date:
        """Return the day that a text names."""
        if isinstance(value, date):
            return value
        try:
            return date.fromisoformat(value.strip())
        except ValueError:
            self.fail(f'"{value}" is not a day; write it year first, as 2026-11-15.', param, ctx)


class QuantityOption(click.ParamType[float]):
    """A quantity with its unit, as ``5/8 in`` is not but ``0.625 in`` and ``120 $/ton`` are."""

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


def write_stdout(text: str) -> None:
    """Write a document to standard output as UTF-8, whatever the terminal speaks."""
    click.echo(text.encode("utf-8"), nl=False)


def dry_matter_of(farm: Farm) -> dict[str, float]:
    """Return the dry matter of every lot as it is counted, percent as fed."""
    from rickyard.forage.profile import lot_profile

    return {lot.lot_id: lot_profile(lot, farm.reports_of(lot.lot_id)).dm_pct for lot in farm.lots}
