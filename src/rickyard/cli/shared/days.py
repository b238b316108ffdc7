"""What commands about days share: a day and a quantity as options, documents, calendars."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from rickyard.cli.shared.common import aside, write_text

if TYPE_CHECKING:
    from rickyard.farm import Farm
    from rickyard.sheets.paper import Event


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


def write_calendar(farm: Farm, events: Sequence[Event], file: Path) -> None:
    """Write days as an iCalendar file, and none where there is no day: RFC 5545 wants one."""
    from rickyard.sheets.paper import calendar_bytes

    if not events:
        aside(f"Calendar: there is no day to write, so {file} was not written.")
        return
    write_text("Calendar", file, calendar_bytes(farm, events, datetime.now(UTC)))
