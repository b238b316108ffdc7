"""The office's page in the terminal: the answer, who is short, what is due, what is dangerous."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Final

from rich.console import Console

from rickyard.cli.show import parts
from rickyard.display import Display, count_text, money_text
from rickyard.service import BY_YARD, ROUGH_NOTE, DangerLine, FarmLine, OfficePage
from rickyard.sheets.wording import opening

#: So many dangers of one farm are listed; the others are counted.
_MOST_DANGERS: Final = 3

_WHOLE: Final = (
    "rickyard plan FOLDER says what to do about each; before feeding any of it ask the local "
    "extension office or a veterinarian."
)

#: So many days at farms of what is due are told; the others stand in the calendar and the JSON.
_MOST_DUE: Final = 40


def print_office(page: OfficePage, console: Console, display: Display) -> None:
    """Print the page.

    Parameters
    ----------
    page : OfficePage
        The page.
    console : rich.console.Console
        Where to print; 80 columns are enough.
    display : Display
        The reader's units and style of dates.
    """
    parts.say(console, headline(page, display), "bold")
    _print_short(page.short, console, display)
    _print_due(page, console, display)
    _print_dangers(page.dangers, console)
    if page.supplied:
        parts.heading(console, "Enough hay, the least left first")
        for one in page.supplied:
            parts.say(console, _farm(one))
    notes = list(dict.fromkeys(f"{one.farm_name}: {w}" for one in page.farms for w in one.warnings))
    parts.sentences(console, "Please note", notes)
    if page.not_read:
        names = ", ".join(one.folder for one in page.not_read)
        parts.heading(console, "Without an answer")
        parts.say(console, f"{names}: their errors are listed separately.")
    console.print()
    if any(one.by == BY_YARD for one in page.farms):
        parts.say(console, ROUGH_NOTE)
    parts.say(console, page.note)


def headline(page: OfficePage, display: Display) -> str:
    """Return the answer of the page in one line."""
    in_danger = len({one.folder for one in page.dangers})
    due = len({one.folder for one in page.due})
    of_hay = sum(1 for one in page.short if one.of_hay)
    others = len(page.short) - of_hay
    said = [
        f"{of_hay} short of hay",
        *([f"{others} of something else"] if others else []),
        f"{due} with something due by {display.day_text(page.until)}",
        f"{in_danger} with dangers",
    ]
    if page.not_read:
        said.append(f"{len(page.not_read)} without an answer")
    count = len(page.farms) + len(page.not_read)
    return f"{count_text(count, 'farm')} on {display.day_year_text(page.day)}: {', '.join(said)}"


def _print_short(short: Sequence[FarmLine], console: Console, display: Display) -> None:
    of_hay = [one for one in short if one.of_hay]
    others = [one for one in short if not one.of_hay]
    _print_farms("Short of hay, the soonest first", of_hay, console, display)
    if others:
        _print_farms("Short of something else", others, console, display)


def _print_farms(title: str, farms: Sequence[FarmLine], console: Console, display: Display) -> None:
    parts.heading(console, title)
    if not farms:
        parts.say(console, "None.")
        return
    table = parts.columns("from", "farm", "")
    for one in farms:
        on = "" if one.short_on is None else display.day_text(one.short_on)
        table.add_row(on, one.farm_name, one.sentence)
    parts.say(console, table)


def _print_due(page: OfficePage, console: Console, display: Display) -> None:
    parts.heading(console, f"Due by {display.day_text(page.until)}")
    if not page.due:
        later = f" The next is on {display.day_text(page.later[0].day)}." if page.later else ""
        parts.say(console, f"Nothing.{later}")
        return
    visits: dict[tuple[date, str, str], list[str]] = {}
    for one in page.due:
        visits.setdefault((one.day, one.folder, one.farm_name), []).append(one.what)
    table = parts.columns("day", "farm", "what")
    for (day, _, farm), what in list(visits.items())[:_MOST_DUE]:
        table.add_row(display.day_text(day), farm, "; ".join(what))
    parts.say(console, table)
    if len(visits) > _MOST_DUE:
        more = len(visits) - _MOST_DUE
        parts.say(console, f"And {more} more: --ics writes all of them into a calendar.")


def _print_dangers(dangers: Sequence[DangerLine], console: Console) -> None:
    parts.heading(console, "Dangers")
    if not dangers:
        parts.say(console, "No known dangers; each farm's own page lists what has not been tested.")
        return
    folders = list(dict.fromkeys(one.folder for one in dangers))
    for folder in folders:
        mine = [one for one in dangers if one.folder == folder]
        parts.say(console, mine[0].farm_name, "bold red")
        for one in mine[:_MOST_DANGERS]:
            says = opening(one.sentence)
            about = f"{one.about}: " if one.about and one.about not in says else ""
            parts.say(console, f"- {about}{says}")
        if len(mine) > _MOST_DANGERS:
            more = count_text(len(mine) - _MOST_DANGERS, "more danger")
            parts.say(console, f"- and {more}.")
    parts.say(console, _WHOLE)


def _farm(one: FarmLine) -> str:
    cost = "" if one.cost_usd is None else f" {money_text(one.cost_usd)}."
    return f"{one.farm_name}: {one.sentence}{cost}"
