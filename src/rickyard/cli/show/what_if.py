"""Answers to what-if in the terminal: a sentence each, then one table."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta
from typing import Final

from rich.console import Console
from rich.text import Text

from rickyard.cli.show import parts
from rickyard.cli.show.compare import tons_word
from rickyard.display import Display, display_for, money_text, shorten, tons_column
from rickyard.farm import Farm
from rickyard.program.planning import WhatIfAnswer, short_weeks
from rickyard.program.result import NUTRIENT_WORDS, STANDING_NOTE, SeasonProgram
from rickyard.sheets.wording import group_name

_LABEL: Final = 34
_UNCLEAR: Final = "unclear"

#: So many weeks of a program are told; the others stand in the JSON.
_MOST_WEEKS: Final = 30

#: Less than this share of a need is no shortage that anybody sees. Judgement of display.
_LEAST_SHARE: Final = 0.01


def print_answers(
    base: SeasonProgram, answers: Sequence[WhatIfAnswer], farm: Farm, console: Console
) -> None:
    """Print what each change would do."""
    display = display_for(farm.units)
    parts.say(console, f"{farm.name}: what would change")
    parts.sentences(console, "In short", (one.sentence for one in answers))
    parts.heading(console, f"Side by side, hay in {tons_word(display)} of dry matter")
    table = parts.columns("", ">cost", ">more than now", ">bought", ">hay left", ">short")
    table.add_row("As it is", *map(Text, table_row(base, None, display)))
    for one in answers:
        label = parts.plain(shorten(one.label, _LABEL))
        row = table_row(one.program, one.cost_usd, display)
        table.add_row(label, *map(Text, (row[0], _UNCLEAR if one.unclear else row[1], *row[2:])))
    console.print(table)
    print_short_weeks(base, farm, console, "As it is")
    for one in answers:
        print_short_weeks(one.program, farm, console, one.label)
    dangers = sum(1 for one in base.cautions if one.level == "danger")
    console.print()
    if dangers:
        parts.say(console, "The program has dangers: read them in rickyard plan before feeding.")
    parts.say(console, STANDING_NOTE)


def print_short_weeks(program: SeasonProgram, farm: Farm, console: Console, label: str) -> None:
    """Print how short each group is of what in which week; nothing where nothing is short.

    ``farm``: gives names and display units. ``label``: what the program is called.
    """
    every = short_weeks(program)
    rows = [one for one in every if one.shortage >= _LEAST_SHARE * abs(one.need)]
    if not rows:
        return
    display = display_for(farm.units)
    parts.heading(console, f"How short, week by week: {label}")
    table = parts.columns("when", "group", "what", ">need a head and day", ">short")
    for one in rows[:_MOST_WEEKS]:
        table.add_row(
            display.span_text(one.start, one.start + timedelta(days=one.days)),
            group_name(farm, one.group_id),
            NUTRIENT_WORDS.get(one.nutrient, one.nutrient.replace("_", " ")),
            display.nutrient_text(one.need, one.unit),
            display.nutrient_text(one.shortage, one.unit),
        )
    console.print(table)
    if len(rows) > _MOST_WEEKS:
        parts.say(console, f"And {len(rows) - _MOST_WEEKS} more, in the JSON.")
    if len(every) > len(rows):
        parts.say(console, "What is under 1% of a need is left out here; the JSON has it.")


def table_row(
    program: SeasonProgram, more: float | None, display: Display
) -> tuple[str, str, str, str, str]:
    """Return the figures of a program for the table."""
    left = sum(lot.left_t for lot in program.lots)
    short = len({(one.group_id, one.nutrient) for one in program.shortages})
    return (
        money_text(program.cost),
        "" if more is None else signed_money(more),
        money_text(program.costs.purchases),
        tons_column(display.tons(left)),
        "nothing" if not short else f"{short} need{'s' if short > 1 else ''}",
    )


def signed_money(usd: float) -> str:
    """Write a difference of money with its sign; half a dollar is none.

    >>> signed_money(1234.0), signed_money(-80.2), signed_money(0.2)
    ('+$1,234', '-$80', '$0')
    """
    if abs(usd) < 0.5:
        return "$0"
    return f"{'+' if usd > 0 else '-'}{money_text(abs(usd))}"
