"""The reasons of a season program in the terminal, the ones that matter most first."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from typing import Final

from rich.console import Console
from rich.text import Text

from rickyard.cli.show import parts
from rickyard.display import Display, listed, money_text
from rickyard.farm import Farm
from rickyard.program.compare import facts_of
from rickyard.program.result import Coverage, FarmLimit, LotReason, SeasonProgram
from rickyard.sheets.wording import group_name, words

#: So many sentences of a kind are shown; the others stand in the JSON.
_MOST: Final = 8

#: Reasons are told in full by a command of their own.
_MOST_REASONS: Final = 4

#: A hay is worth a reason from so much on. [USD per tonne of dry matter]
_LEAST_USD_PER_T: Final = 1.0

#: Fewer hays that a steady ration alone speaks for are each told by themselves.
_SAID_ONCE: Final = 2

#: More changes of hay than this are counted and not listed.
_MOST_DAYS: Final = 6


def print_reasons(program: SeasonProgram, farm: Farm, display: Display, console: Console) -> None:
    """Print what was wished, what is short, what limits, why which hay, and what more is worth."""

    def show(title: str, lines: Iterable[str]) -> None:
        parts.sentences(console, title, _first_of(list(dict.fromkeys(lines))))

    parts.sentences(console, words.WISHES_TITLE, (one.sentence for one in program.wishes))
    show(
        words.FARM_LIMITS_TITLE,
        (_farm_limit(one, display) for one in program.farm_limits if one.shortage <= 0),
    )
    parts.sentences(console, words.SHORT_TITLE, (one.sentence for one in program.shortages))
    show(words.REMEDIES_TITLE, (one.sentence for one in program.remedies))
    show(words.LIMITS_TITLE, (one.sentence for one in program.limits))
    _print_why(program, console)
    show(words.WORTH_TITLE, words.worth_sentences(program))
    show(words.TESTS_TITLE, (one.sentence for one in program.test_worth))
    show(words.CHANGE_TITLE, (one.sentence for one in program.change_overs))


def _print_why(program: SeasonProgram, console: Console) -> None:
    telling = [one.sentence for one in _telling(program.reasons)][:_MOST_REASONS]
    if telling:
        telling.append("Every reason, and what leaving a hay out would cost: rickyard why FOLDER.")
    parts.sentences(console, words.REASONS_TITLE, telling)


def changes_sentence(program: SeasonProgram, group_id: str, display: Display) -> str:
    """Say when the hay of a group changes; nothing where that never happens."""
    days = facts_of("", program).change_days(group_id)
    if not days:
        return ""
    if len(days) > _MOST_DAYS:
        return f"Hay changes {len(days)} times, the first on {display.day_text(days[0])}."
    counts = ((day, days.count(day)) for day in dict.fromkeys(days))
    on = [
        f"{display.day_text(day)}{f' ({count} hays)' if count > 1 else ''}" for day, count in counts
    ]
    return f"Hay changes: {', '.join(on)}."


def _first_of(lines: list[str]) -> list[str]:
    if len(lines) <= _MOST:
        return lines
    return [*lines[:_MOST], words.more_in_json(len(lines) - _MOST)]


def _telling(reasons: Sequence[LotReason]) -> list[LotReason]:
    """Return the reasons worth reading, the dearest next best first."""
    some = [
        one for one in reasons if one.usd_per_t_dm is None or one.usd_per_t_dm >= _LEAST_USD_PER_T
    ]
    return sorted(
        some, key=lambda one: -float("inf") if one.usd_per_t_dm is None else -one.usd_per_t_dm
    )


def _farm_limit(one: FarmLimit, display: Display) -> str:
    """Say how far a limit of the whole farm is kept."""
    if one.sentence:
        return one.sentence
    if one.nutrient == "cash":
        return f"Feed costs {money_text(one.supplied)} of the {money_text(one.need)} available."
    left, wanted = (display.tons_text(tonnes) for tonnes in (one.supplied, one.need))
    return f"{left} of hay left on the last day, {wanted} needed in reserve."


def reason_lines(
    program: SeasonProgram, reasons: Sequence[LotReason], name: str, display: Display
) -> list[str]:
    """Return the reasons of a group as they are read aloud.

    Parameters
    ----------
    program : SeasonProgram
        Its sources are read for their names.
    reasons : sequence of LotReason
        Those of one group.
    name : str
        What the group is called.
    display : Display
        How days are written.

    Returns
    -------
    list of str
        Each reason, but those where only a steady ration speaks for the hay together.
    """
    steady = [one for one in reasons if one.decides == "steady" and one.usd_over_run is None]
    alike = [one for one in steady if one.sentence.endswith("the hays few.")]
    if len(alike) < _SAID_ONCE:
        return [one.sentence for one in reasons]
    names = {one.source_id: one.name for one in program.sources}
    in_place: dict[str, list[str]] = defaultdict(list)
    for one in alike:
        days = display.span_text(one.start, one.end)
        in_place[one.next_best_id].append(f"{names[one.source_id]} ({days})")
    cheaper = [
        f"a little of {names[other]} in place of {listed(hays)}" for other, hays in in_place.items()
    ]
    said = (
        f"A little of another hay would be cheaper for {name}, but it is left out to keep the "
        f"ration steady and the hays few: {'; '.join(cheaper)}."
    )
    return [*(one.sentence for one in reasons if one not in alike), said]


def print_coverage(program: SeasonProgram, farm: Farm, console: Console) -> None:
    """Print whether trace minerals and vitamins are covered; nothing without animals."""
    if not program.coverage:
        return
    parts.heading(console, words.TRACED_TITLE)
    table = parts.columns("group", *(f">{word}" for word in words.TRACED_HEADINGS.values()))
    by_group: dict[str, dict[str, Coverage]] = {}
    for one in program.coverage:
        by_group.setdefault(one.group_id, {})[one.nutrient] = one
    for group_id, found in by_group.items():
        cells = [Text(words.coverage_cell(found[name])) for name in words.TRACED_HEADINGS]
        table.add_row(group_name(farm, group_id), *cells)
    console.print(table)
    for one in program.coverage:
        if one.verdict == "too_much":
            parts.say(console, one.sentence, "bold red")
    parts.say(console, words.TRACED_BELOW)


def print_outcomes(program: SeasonProgram, console: Console) -> None:
    """Print what becomes of each group that is followed; nothing where none is."""
    if not program.outcomes:
        return
    parts.sentences(console, words.OUTCOMES_TITLE, map(words.outcome_words, program.outcomes))
    parts.say(console, words.OUTCOMES_BELOW)
