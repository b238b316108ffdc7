"""The reasons of a season program in the terminal: shortages first, then groups, then prices."""

from __future__ import annotations

from typing import Final

from rich.console import Console

from rickyard.cli.show import parts
from rickyard.cli.show.reasons import reason_lines
from rickyard.display import display_for
from rickyard.farm import Farm
from rickyard.program.ask import Question
from rickyard.program.result import STANDING_NOTE, Remedy, SeasonProgram
from rickyard.sheets.wording import group_name, group_order, words

#: So many purchases that remove one shortage are printed, the cheapest first; all are in the JSON.
_MOST_REMEDIES: Final = 2

_FEWER: Final = ("fewer_head", "leave_earlier", "limit_hay")
_WASTED: Final = "other_feeder"


def print_why(program: SeasonProgram, farm: Farm, question: Question, console: Console) -> None:
    """Print why a season program is as it is."""
    display = display_for(farm.units)
    span = f"{display.day_year_text(program.start)} to {display.day_year_text(program.end)}"
    parts.say(console, f"{program.farm_name}, {span}")
    _print_shortages(program, question, console)
    for group_id in group_order(program):
        _print_group(program, farm, question, console, group_id)
    if not question.group_id:
        parts.sentences(console, words.LIMITS_TITLE, (one.sentence for one in program.limits))
        farm_units = (one.sentence for one in program.unit_worth if not one.group_id)
        parts.sentences(console, words.UNIT_WORTH_TITLE, farm_units)
        parts.sentences(console, words.WORTH_TITLE, (one.sentence for one in program.lot_worth))
        parts.sentences(console, words.FEEDS_TITLE, (one.sentence for one in program.feed_worth))
        tests = (one.sentence for one in program.test_worth)
        parts.sentences(console, words.TESTS_TITLE, tests)
    parts.cautions(console, program.cautions, farm, words.CAUTIONS_TITLE)
    console.print()
    parts.say(console, STANDING_NOTE)


def _print_shortages(program: SeasonProgram, question: Question, console: Console) -> None:
    asked = [
        one for one in program.shortages if question.is_about(one.group_id, one.start, one.end)
    ]
    parts.sentences(console, words.SHORT_TITLE, (one.sentence for one in asked))
    shown: dict[tuple[object, ...], list[Remedy]] = {}
    for one in program.remedies:
        shown.setdefault((one.group_id, one.nutrient, one.start), []).append(one)
    lines = [one.sentence for each in shown.values() for one in _cheapest(each)]
    parts.sentences(console, words.REMEDIES_TITLE, lines)


def _cheapest(remedies: list[Remedy]) -> list[Remedy]:
    """Return less waste, the cheapest purchases, and fewer animals whatever that costs."""
    wasted = [one for one in remedies if one.kind == _WASTED]
    bought = [one for one in remedies if one.kind not in (*_FEWER, _WASTED)]
    fewer = [one for one in remedies if one.kind in _FEWER]
    return wasted + bought[:_MOST_REMEDIES] + fewer


def _print_group(
    program: SeasonProgram, farm: Farm, question: Question, console: Console, group_id: str
) -> None:
    if question.group_id and question.group_id != group_id:
        return
    held = [
        one.sentence
        for one in program.held_by
        if one.group_id == group_id and question.is_about(group_id, one.start, one.end)
    ]
    asked = [
        one
        for one in program.reasons
        if one.group_id == group_id and question.is_about(group_id, one.start, one.end)
    ]
    name = group_name(farm, group_id)
    reasons = reason_lines(program, asked, name, display_for(farm.units))
    units = [one.sentence for one in program.unit_worth if one.group_id == group_id]
    parts.sentences(console, name, [*held, *reasons, *units])
