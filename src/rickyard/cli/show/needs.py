"""What one head of each group needs, in the terminal, month by month and stage by stage."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby
from typing import Final

from rich.console import Console
from rich.text import Text

from rickyard.cli.show import parts
from rickyard.display import Display, display_for
from rickyard.farm import Farm

_COUNT: Final = re.compile(r"\d+")


@dataclass(frozen=True, slots=True)
class NeedsRow:
    """What one head of a group needs a day, from ``start`` to the day before ``end``.

    NaN stands where nothing is asked for. Stock that counts in TDN has it in place of net energy,
    and its ``appetite_kg`` is the most it can eat.
    """

    group_name: str
    start: date
    end: date
    stage: str
    head: int
    full_weight_kg: float
    nem_mcal: float
    gain_kg: float
    cp_kg: float
    ca_kg: float
    p_kg: float
    appetite_kg: float
    tdn_kg: float = math.nan

    @property
    def in_tdn(self) -> bool:
        """Return whether energy is told as TDN."""
        return math.isnan(self.nem_mcal) and not math.isnan(self.tdn_kg)


def print_needs(rows: Sequence[NeedsRow], farm: Farm, console: Console) -> None:
    """Print needs per head and day, a table for each group.

    Rows of one stage that begin in one month are told as their mean.
    """
    display = display_for(farm.units)
    basis = _basis(display, in_tdn=any(row.in_tdn for row in rows))
    parts.say(console, f"What one head needs a day. {basis}")
    for name, mine in groupby(rows, key=lambda row: row.group_name):
        _print_group(name, merged(mine), display, console)


def merged(rows: Iterable[NeedsRow]) -> tuple[NeedsRow, ...]:
    """Return rows with those of one group, stage and month told as one, as means over days.

    Stages that differ only in a count of days or weeks are one stage.
    """

    def alike(row: NeedsRow) -> tuple[str, str, int, int, int]:
        stage = _COUNT.sub("", row.stage).replace("days", "day").replace("weeks", "week")
        return (row.group_name, stage, row.head, row.start.year, row.start.month)

    return tuple(_mean(list(block)) for _, block in groupby(rows, key=alike))


def _mean(rows: list[NeedsRow]) -> NeedsRow:
    days = [(row.end - row.start).days for row in rows]

    def mean(name: str) -> float:
        values = [float(getattr(row, name)) for row in rows]
        asked = [(v, d) for v, d in zip(values, days, strict=True) if not math.isnan(v)]
        weight = sum(d for _, d in asked)
        return sum(v * d for v, d in asked) / weight if weight > 0 else math.nan

    first = rows[0]
    return NeedsRow(
        group_name=first.group_name,
        start=first.start,
        end=rows[-1].end,
        stage=_span_of_stages(first.stage, rows[-1].stage),
        head=first.head,
        full_weight_kg=mean("full_weight_kg"),
        nem_mcal=mean("nem_mcal"),
        gain_kg=mean("gain_kg"),
        cp_kg=mean("cp_kg"),
        ca_kg=mean("ca_kg"),
        p_kg=mean("p_kg"),
        appetite_kg=mean("appetite_kg"),
        tdn_kg=mean("tdn_kg"),
    )


def _span_of_stages(first: str, last: str) -> str:
    """Return two stages as one, each count from its first to its last value.

    >>> _span_of_stages("nursing, week 1", "nursing, week 4")
    'nursing, week 1–4'
    """
    ends = iter(_COUNT.findall(last))

    def joined(count: re.Match[str]) -> str:
        end = next(ends, count.group())
        return count.group() if end == count.group() else f"{count.group()}–{end}"

    return _COUNT.sub(joined, first)


def _print_group(name: str, rows: Sequence[NeedsRow], display: Display, console: Console) -> None:
    heads = " or ".join(dict.fromkeys(f"{row.head:,}" for row in rows))
    parts.heading(console, f"{name}, {heads} head")
    unit = display.mass_unit
    in_tdn = any(row.in_tdn for row in rows)
    table = parts.columns(
        "when",
        "stage",
        f">weight\n{unit}",
        ">" + (f"TDN\n{unit}" if in_tdn else "NEm\nMcal"),
        f">gain\n{unit}",
        f">CP\n{unit}",
        ">Ca\ng",
        ">P\ng",
        f">intake\n{unit}",
    )
    table.padding = (0, 1, 0, 0)
    for row in rows:
        table.add_row(
            display.span_text(row.start, row.end),
            row.stage,
            _mass(row.full_weight_kg, display, 0),
            _mass(row.tdn_kg, display, 2) if in_tdn else _figures(row.nem_mcal, 1),
            _mass(row.gain_kg, display, 2),
            _mass(row.cp_kg, display, 2),
            _figures(row.ca_kg * 1000.0, 0),
            _figures(row.p_kg * 1000.0, 0),
            _mass(row.appetite_kg, display, 1),
        )
    console.print(table)


def _mass(kg: float, display: Display, decimals: int) -> Text:
    return _figures(display.mass(kg), decimals)


def _figures(value: float, decimals: int) -> Text:
    if math.isnan(value):
        return Text("-")
    return Text(f"{value:,.{decimals}f}")


def _basis(display: Display, *, in_tdn: bool) -> str:
    said = (
        f"Weight is full weight; NEm is net energy, CP protein, Ca and P are in grams; "
        f"intake is dry matter, in {display.mass_unit_words}."
    )
    if not in_tdn:
        return said
    return f"{said} TDN is total digestible nutrients; intake is the dry matter they can eat."
