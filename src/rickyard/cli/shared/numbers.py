"""Numbers as options: what is no number, or beyond all sense, is refused in plain words."""

from __future__ import annotations

import math

import click


class Number(click.ParamType[float]):
    """A number of a range; never NaN, which keeps no limit, and never without end.

    Parameters
    ----------
    least, most : float
        The range, both ends included.
    example : str
        What a person may write.
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
