"""Programs side by side in the terminal, and what was fed beside what was planned."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Final

from rich.console import Console
from rich.text import Text

from rickyard.cli.show import parts
from rickyard.display import Display, display_for, money_text, shorten, tons_column
from rickyard.farm import Farm
from rickyard.program.compare import ComparedRow, Comparison, Facts, FedAgainst, differs_from_first
from rickyard.sheets.wording import group_name, words

TITLE: Final = "Beside earlier plans"
FED_TITLE: Final = "What was fed so far"

#: So many programs stand in a table beside the first; more get a table of their own.
_MOST_BESIDE: Final = 3
_LABEL: Final = 14
_NAME: Final = 26
_NOTHING: Final = "-"
_MOST_RUNS: Final = 12


def print_comparison(found: Comparison, farm: Farm, console: Console, title: str = TITLE) -> None:
    """Print programs side by side."""
    display = display_for(farm.units)
    parts.heading(console, title)
    for line in _answers(found, display):
        parts.say(console, line)
    for block in _blocks(len(found.labels)):
        _print_money(found, block, console)
        _print_rows(
            found,
            block,
            console,
            f"Hay put out by lot, {tons_word(display)} of dry matter",
            found.fed_t,
            lambda value: tons_column(display.tons(value)),
        )
        bought = ("Feed bought, as fed", found.bought_kg)
        if _apart(found):
            bought = ("Bought feed put out on those days, as fed", found.fed_kg)
        _print_rows(found, block, console, *bought, display.amount_text)
        _print_changes(found, farm, block, console)
    for at in range(1, len(found.labels)):
        _print_differs(found, farm, at, console)
    _print_lacks(found, console)


def print_fed(found: FedAgainst, plan: Facts | None, farm: Farm, console: Console) -> None:
    """Print what was fed up to a day, beside the plan where one is given."""
    lines = list(found.sentences)
    if not any(line.unweighed or line.fed_kg for line in found.lines):
        lines.append("The feeding log is empty for these days.")
    if plan is None:
        lines.append(
            "To see it beside the plan that was followed, give that plan's file with --compare."
        )
    parts.sentences(console, FED_TITLE, lines)


def _answers(found: Comparison, display: Display) -> Iterator[str]:
    first = found.total.values[0] or 0.0
    yield f"{found.labels[0].capitalize()} costs {money_text(first)}."
    for at in range(1, len(found.labels)):
        more = (found.total.values[at] or 0.0) - first
        if abs(more) < 0.5:
            said = "costs the same"
        else:
            said = f"costs {money_text(abs(more))} {'more' if more > 0 else 'less'}"
            if abs(more) <= max(found.distances_usd[0], found.distances_usd[at]):
                said += ", no clear change: the search is not that exact"
        short = ", and is short of something" if found.statuses[at] == "short" else ""
        yield f"{found.labels[at]} {said}{short}."
    others = _apart(found)
    if others:
        said = "; ".join(
            f"{found.labels[at]} {display.span_text(*found.spans[at])}" for at in [0, *others]
        )
        yield f"They cover different days, so their costs are not for the same feeding: {said}."
    if others and found.same_days:
        worth = "; ".join(
            f"{label} {money_text(value or 0.0)}"
            for label, value in zip(found.labels, found.put_out_usd.values, strict=True)
        )
        yield (
            f"From {display.span_text(*found.same_days)}, the days that all of them cover, hay and "
            f"feed put out are worth: {worth}. The tables of hay and feed below cover those days."
        )


def _apart(found: Comparison) -> list[int]:
    """Return which programs are of other days than the first."""
    return [at for at, span in enumerate(found.spans) if span != found.spans[0]]


def tons_word(display: Display) -> str:
    """Return the word over a column of tons."""
    return "tons" if display.system == "us" else "t"


def _blocks(count: int) -> list[tuple[int, ...]]:
    """Return which programs stand together in a table: the first, and three others."""
    others = list(range(1, count))
    cut = [others[at : at + _MOST_BESIDE] for at in range(0, len(others), _MOST_BESIDE)]
    return [(0, *some) for some in cut] or [(0,)]


def _heads(found: Comparison, block: Sequence[int]) -> list[str]:
    return [f">{shorten(found.labels[at], _LABEL)}" for at in block]


def _print_money(found: Comparison, block: Sequence[int], console: Console) -> None:
    console.print()
    table = parts.columns("", *_heads(found, block))
    said = dict((*words.COST_WORDS, *words.MORE_COST_WORDS))
    for row in found.cost:
        name = said.get(row.key, row.key.replace("_", " ").capitalize())
        table.add_row(name, *(_cell(row.values[at], money_text) for at in block))
    total = (Text(money_text(found.total.values[at] or 0.0), style="bold") for at in block)
    table.add_row(Text(words.TOTAL, style="bold"), *total)
    console.print(table)


def _print_rows(
    found: Comparison,
    block: Sequence[int],
    console: Console,
    title: str,
    rows: Sequence[ComparedRow],
    write: Callable[[float], str],
) -> None:
    there = [row for row in rows if any((row.values[at] or 0.0) > 0.0 for at in block)]
    if not there:
        return
    parts.heading(console, title)
    table = parts.columns("", *_heads(found, block))
    for row in there:
        name = parts.plain(shorten(found.names.get(row.key, row.key), _NAME))
        table.add_row(name, *(_cell(row.values[at], write) for at in block))
    console.print(table)


def _print_changes(found: Comparison, farm: Farm, block: Sequence[int], console: Console) -> None:
    if not found.changes:
        return
    parts.heading(console, "Hay changes")
    table = parts.columns("", *_heads(found, block))
    for row in found.changes:
        name = parts.plain(shorten(group_name(farm, row.key), _NAME))
        table.add_row(name, *(_cell(row.values[at], "{:.0f}".format) for at in block))
    console.print(table)


def _print_differs(found: Comparison, farm: Farm, at: int, console: Console) -> None:
    """Say where one program mostly feeds another hay than the first."""
    lines = []
    display = display_for(farm.units)
    for run in differs_from_first(found, at):
        was, now = (found.names.get(hay, hay) if hay else "no hay" for hay in run.hays)
        when = display.span_text(run.start, run.end)
        lines.append(f"{group_name(farm, run.group_id)}, {when}: {now} instead of {was}.")
    if len(lines) > _MOST_RUNS:
        more = len(lines) - _MOST_RUNS
        lines = [*lines[:_MOST_RUNS], f"{more} more in the comparison file (--comparison)."]
    title = f"Who gets a different hay in: {found.labels[at]}"
    parts.sentences(console, title, lines)


def _print_lacks(found: Comparison, console: Console) -> None:
    lines = []
    for lack in found.lacks:
        for label, sentence in zip(found.labels, lack.sentences, strict=True):
            if sentence:
                lines.append(f"{label}: {sentence}")
    parts.sentences(console, "What each is short of", lines)


def _cell(value: float | None, write: Callable[[float], str]) -> Text:
    return Text(_NOTHING if value is None else write(value))
