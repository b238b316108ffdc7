"""The ten questions of a first farm folder, in the order in which a person tells of a farm."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Final

from rickyard.draft.asking import Asking
from rickyard.draft.assumptions import RAIN_IN, is_southern, usual_season
from rickyard.draft.feed_questions import ask_feed
from rickyard.draft.hay_questions import ask_lot
from rickyard.draft.stock_questions import ask_group, usual_group
from rickyard.draft.told import Told, is_enough, is_unknown
from rickyard.folder.tables import FARM_KEYS, SEASON_KEYS

#: A row of a table, by header.
Row = Mapping[str, Told]

INTRODUCTION: Final = (
    "Ten questions. Enter alone, or ?, means I do not know: then something usual is assumed, said "
    "here and marked in the folder. Nothing is written before the last answer."
)

#: What is asked once one group, lot or feed is told: is there another?
ANOTHER: Final = ("   Any other animals?", "   Any other hay?", "    Anything else?")


@dataclass(slots=True)
class Answers:
    """All that was told of a farm, as the cells of its folder."""

    today: date
    units: str = "us"
    farm: dict[str, Told] = field(default_factory=dict)
    season: dict[str, Told] = field(default_factory=dict)
    groups: list[Row] = field(default_factory=list)
    lots: list[Row] = field(default_factory=list)
    reports: list[Row] = field(default_factory=list)
    feeds: list[Row] = field(default_factory=list)


def interview(asking: Asking, name: str, today: date) -> Answers:
    """Ask the ten questions.

    Parameters
    ----------
    asking : Asking
        The way to ask and to say; what was assumed is added to it.
    name : str
        What the farm is called where that is not known: the name of its folder.
    today : date
        The day that counts as today.

    Returns
    -------
    Answers
        The answers. What stands in them is read by the folder cell by cell.
    """
    answers = Answers(today)
    asking.say(INTRODUCTION)
    _ask_place(asking, answers, name)
    start = _ask_season(asking, answers)
    _ask_rain(asking, answers)
    _ask_groups(asking, answers, start)
    _ask_lots(asking, answers, start)
    _ask_feeds(asking, answers)
    return answers


def _ask_place(asking: Asking, answers: Answers, name: str) -> None:
    farm = answers.farm
    farm["name"] = asking.text("1. What is the farm called?", name, f'it is called "{name}"')
    farm["place"] = asking.text("2. Where is it: county or district?", "", "no place is written")
    country = next(one for one in FARM_KEYS if one.name == "country")
    farm["country"] = asking.cell(
        "3. Which country, with its state: US-KY, CA-AB, NZ?",
        country,
        "",
        "US",
        "it is in the United States",
    )
    american = farm["country"].text.strip().upper().split("-")[0] == "US"
    answers.units = asking.units = "us" if american else "metric"
    asking.american = american
    farm["units"] = Told(answers.units)
    asking.say(
        "  Weights are in pounds and tons of 2,000 lb."
        if american
        else "  Weights are in kilograms and tonnes, prices in dollars."
    )


def _ask_season(asking: Asking, answers: Answers) -> date:
    start, end = usual_season(answers.today, answers.farm["country"].text)
    told, first = asking.day(
        "4. On which day does feeding begin?", answers.today, start, f"feeding begins on {start}"
    )
    answers.season["start"] = told
    start = first or start
    if end <= start + timedelta(days=28):
        end = start + timedelta(days=150)
    while True:
        told, last = asking.day(
            "5. On which day will grass feed them again?", start, end, f"feeding ends on {end}"
        )
        found = last or end
        if 7 <= (found - start).days <= 400:
            break
        asking.say(
            f"  {found} is {(found - start).days} days after the start; a season has 7 to 400."
        )
    answers.season["end"] = told
    return start


def _ask_rain(asking: Asking, answers: Answers) -> None:
    column = next(one for one in SEASON_KEYS if one.name == "rainfall")
    unit = "in" if answers.units == "us" else "mm"
    usual = f"{RAIN_IN}" if unit == "in" else f"{RAIN_IN * 25}"
    answers.season[column.header(unit)] = asking.cell(
        f"6. How much rain and snow falls in a usual year, in {'inches' if unit == 'in' else unit}?"
        " It decides what hay outside loses.",
        column,
        unit,
        usual,
        f"{usual} {unit} of rain and snow in a year",
    )


def _ask_groups(asking: Asking, answers: Answers, start: date) -> None:
    southern = is_southern(answers.farm["country"].text)
    question = "7. Which animals eat together: cows, heifers, steers, ewes, goats, horses?"
    while True:
        line = asking.ask(f"{question} [Enter: {_enough(answers.groups)}]")
        if is_enough(line) or is_unknown(line):
            break
        group = ask_group(asking, line, answers.groups, start, southern=southern)
        if group is not None:
            answers.groups.append(group)
            question = ANOTHER[0]
    if not answers.groups:
        answers.groups.append(usual_group(asking, start, southern=southern))


def _ask_lots(asking: Asking, answers: Answers, start: date) -> None:
    question = "8. What hay do you have: fescue, alfalfa, bermuda, wheat hay, one lot at a time?"
    while True:
        line = asking.ask(f"{question} [Enter: {_enough(answers.lots)}]")
        if is_enough(line) or is_unknown(line):
            break
        told = ask_lot(asking, line, answers.lots, answers.today)
        if told is not None:
            lot, report = told
            answers.lots.append(lot)
            answers.reports += [] if report is None else [report]
            question = ANOTHER[1]
    if not answers.lots:
        asking.assume("there is no hay, so the program says what is missing")


def _ask_feeds(asking: Asking, answers: Answers) -> None:
    question = "10. What else can you buy: corn, hulls, cubes, DDG, mineral, straw?"
    while True:
        line = asking.ask(f"{question} [Enter: {_enough(answers.feeds)}]")
        if is_enough(line) or is_unknown(line):
            break
        feed = ask_feed(asking, line, answers.feeds)
        if feed is not None:
            answers.feeds.append(feed)
            question = ANOTHER[2]
    if not answers.feeds:
        asking.assume("nothing is bought: the hay alone must do")


def _enough(rows: list[Row]) -> str:
    return "no more" if rows else "I do not know"
