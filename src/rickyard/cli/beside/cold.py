"""``rickyard cold``: what to feed in cold that is forecast, and when to begin."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

from rickyard.cli import shared

if TYPE_CHECKING:
    from rickyard.farm import Farm
    from rickyard.program.storms import ColdPage, ColdSpell, GroupCold
    from rickyard.service import FarmPlace, OpenedFarm

_EXPECTED: Final = "day,mean_temperature_degF,wind_mph,precipitation_in"
_NOTES: Final = (
    "Feed does not stand in for shelter: out of the wind, on dry bedding and with open water "
    "they need less. Call a veterinarian if stock shiver long, go down or stop eating.",
    "More of the hay that they eat, and grain only where the log says that they eat it already, "
    "raised slowly and split over the day: a sudden feed of it founders and kills. Let all of them "
    "reach the hay.",
    "Cattle by 1% of maintenance a °F under the critical temperature of the coat, 2% where "
    "wet (Selk, Oklahoma State Univ.; Ames, Kansas State University), at most a quarter of a "
    "day's energy more on one day (common practice). Heat made and lost by NRC 2000: where it is "
    "more than the percent, feed more than stands here and watch condition. Horses in winter "
    "coat by NRC 2007, from memory.",
)


@click.command()
@shared.farm_folders_argument
@click.option(
    "--on", "day", type=shared.DayOption(), help="The first day looked at; today if left out."
)
@click.option("--json", "as_json", is_flag=True, help="Write what was found as JSON.")
@shared.answering
def cold(folders: tuple[Path, ...], day: date | None, as_json: bool) -> None:
    """Show what to feed in a cold spell that weather.csv of the farm in FOLDER forecasts.

    A forecast is a row for each day to come, with its mean temperature, wind and rain. For each
    group it shows how cold it will be against what the coat can take, what to add a head, and
    when to start. FOLDER may be several farms, or a folder of farms.
    """
    from rickyard.program.storms import cold_page
    from rickyard.service import worked_out
    from rickyard.sheets.data_files import document

    farms = shared.Farms(folders)
    answer = shared.AnswerFile(farms, shared.STDOUT if as_json else None)

    def show(place: FarmPlace, opened: OpenedFarm) -> None:
        with worked_out():
            page = cold_page(opened.farm, day or date.today())
        answer.add(place, lambda: document("cold", farm=opened.farm.name, cold=page))
        if not as_json:
            for line in _lines(opened.farm, page):
                _print(line)

    farms.each(show, quiet=as_json)
    answer.finish()
    farms.finish()


def _print(line: str) -> None:
    from rich.text import Text

    shared.terminal().print(Text(line))


def _lines(farm: Farm, page: ColdPage) -> list[str]:
    from rickyard.display import display_for

    head = f"{farm.name}, cold from {display_for(farm.units).day_year_text(page.first)}"
    if not page.days:
        return [
            head,
            "",
            "There is no forecast to go by: weather.csv has no temperature for that day or later. "
            "Add the forecast, a row for each day:",
            f"  {_EXPECTED}",
            f"  {page.first.isoformat()},12,20,0",
        ]
    until = (
        f"{len(page.days)} days are listed, to {display_for(farm.units).day_text(page.days[-1])}."
    )
    hit = [one for one in page.groups if one.spells]
    lines = [head, "", _answer(farm, hit, page), until]
    for one in hit:
        lines += ["", *_group(farm, one)]
    silent = [one.name for one in page.groups if not one.counted]
    if silent:
        lines += [
            "",
            f"Not counted: {', '.join(silent)}. No rule of cold is held for their kind: keep hay "
            "before them, wind off them, and watch the thin, the shorn and the young.",
        ]
    return [*lines, "", *(f"- {note}" for note in _NOTES)] if hit else [*lines]


def _answer(farm: Farm, hit: list[GroupCold], page: ColdPage) -> str:
    from rickyard.display import display_for, listed

    if not hit:
        return "No day listed is too cold for any group that is counted."
    begin = min(spell.begin for one in hit for spell in one.spells)
    names = listed([one.name for one in hit])
    when = "today" if begin <= page.first else f"on {display_for(farm.units).day_text(begin)}"
    return f"Begin {when}: cold is coming in which {names} need more feed."


def _group(farm: Farm, one: GroupCold) -> list[str]:
    from rickyard.display import clean

    state = [
        "behind a windbreak" if one.windbreak else "open to the wind",
        *(["muddy, which takes a fifth more on every day"] if one.muddy else []),
    ]
    lines = [f"{clean(one.name)}, {one.head:,} head, {' and '.join(state)}"]
    for spell in one.spells:
        lines += _spell(farm, one, spell)
    return lines


def _spell(farm: Farm, one: GroupCold, spell: ColdSpell) -> list[str]:
    from rickyard.display import display_for

    shown = display_for(farm.units)
    lines = []
    for day in spell.days:
        wet = ", wet" if day.wet else ""
        lines.append(
            f"  {shown.day_text(day.day)}: {_degrees(farm, day.air_c)}, feels like "
            f"{_degrees(farm, day.felt_c)}{wet}; they bear {_degrees(farm, day.critical_c)}."
        )
    lines += _feeding(farm, one, spell)
    if spell.feeding[0].day < spell.days[0].day:
        lines.append("  Begin the day before: so they meet the storm fed.")
    if spell.by_energy_mcal is not None:
        lines.append(
            f"  That is {spell.by_percent_mcal:.1f} Mcal {one.energy} a head in all. By the heat "
            f"that they make and lose, condition and mud counted: {spell.by_energy_mcal:.1f}."
        )
    if spell.owed_mcal > 0.0:
        lines.append(
            f"  {spell.owed_mcal:.0f} Mcal {one.energy} a head cannot be fed in time and come off "
            "their backs: shelter is worth more than feed here."
        )
    return lines


def _feeding(farm: Farm, one: GroupCold, spell: ColdSpell) -> list[str]:
    """Tell what is added, days of the same amount together."""
    from itertools import groupby

    from rickyard.display import display_for

    told = [(feed.day, _amounts(farm, one, feed.hay_kg, feed.grain_kg)) for feed in spell.feeding]
    lines = []
    for amount, same in groupby(told, key=lambda entry: entry[1]):
        days = [day for day, _ in same]
        span = display_for(farm.units).span_text(days[0], days[-1] + timedelta(days=1))
        lines.append(f"  {span}: add {amount}")
    return lines


def _amounts(farm: Farm, one: GroupCold, hay_kg: float | None, grain_kg: float | None) -> str:
    from rickyard.display import clean, display_for

    shown = display_for(farm.units)
    parts = [
        f"{shown.mass_text(kg)} of {clean(feed.name)}"
        for kg, feed in ((hay_kg, one.hay), (grain_kg, one.grain))
        if kg is not None and feed is not None
    ]
    if not parts:
        return "more hay; no lot without a danger is written, so settle that first."
    return f"{', or '.join(parts)} a head, as fed."


def _degrees(farm: Farm, celsius: float) -> str:
    if farm.units == "us":
        return f"{celsius * 1.8 + 32.0:.0f} °F"
    return f"{celsius:.0f} °C"
