"""What to put out each day, as the season sheet tells it: a table for each group, and step-ups."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import timedelta
from typing import Any, Final

from rickyard.display import (
    Display,
    daily_text,
    number_text,
    shorten,
)
from rickyard.farm import Farm, FeedKind
from rickyard.program.result import ChangeOver, SeasonProgram
from rickyard.sheets.charts import span_words
from rickyard.sheets.paper import sheet_words
from rickyard.sheets.wording import (
    Run,
    RunAmount,
    daily_by_period,
    dangerous_to,
    group_name,
    group_order,
    short_story,
    words,
)

NAME: Final = 44

#: A group with more changes than this is told by its feeds, and its amounts from least to most.
_MOST_RUNS: Final = 9

_NO_FORAGE: Final = {"name": sheet_words.NO_FORAGE, "each": "", "group": ""}

#: Days of a step-up that stand side by side on a letter page.
_DAYS_ACROSS: Final = 14


def ration_tables(
    program: SeasonProgram, farm: Farm, display: Display, left_out: dict[str, tuple[str, ...]]
) -> list[dict[str, Any]]:
    """Return the daily amounts of every group as plain text, ready to be set.

    ``program``: the program, without traces. ``farm``: gives names and kinds of feed. ``display``:
    the reader's units. ``left_out``: what each group is given too little of to be weighed.
    """
    return [
        _table(program, farm, display, group_id, left_out.get(group_id, ()))
        for group_id in group_order(program)
    ]


def _table(
    program: SeasonProgram,
    farm: Farm,
    display: Display,
    group_id: str,
    left_out: Sequence[str],
) -> dict[str, Any]:
    runs = short_story(program, group_id, _MOST_RUNS)
    head = next((one.head for one in program.groups if one.group_id == group_id), 0)
    forage = {one.source_id for one in program.sources if one.is_forage}
    names = {one.source_id: one.name for one in program.sources}
    marks = dict.fromkeys(dangerous_to(program, farm, group_id), "\u00a0▲")
    grazed = {one.feed_id for one in farm.feeds if one.kind is FeedKind.GRAZING}
    period_days = max((one.days for one in program.periods), default=7)
    feeds = list(
        dict.fromkeys(
            one.source_id for run in runs for one in run.amounts if one.source_id not in forage
        )
    )

    steady = _all_season(runs, feeds, display)
    feeds = [one for one in feeds if one not in steady]

    def name(source_id: str) -> str:
        return shorten(names.get(source_id, source_id), NAME) + marks.get(source_id, "")

    def forage_cell(run: Run, one: RunAmount) -> dict[str, Any]:
        each, whole = _figures(run, one, display)
        together = f"{whole} {display.mass_unit} a day"
        if one.bales is not None:
            together = sheet_words.bales_a_week(one.bales, period_days)
        elif one.source_id in grazed:
            together = sheet_words.GRAZED
        return {"name": name(one.source_id), "each": each, "group": together}

    rows = []
    for run in runs:
        mine = {one.source_id: one for one in run.amounts}
        fed = [_figures(run, mine[one], display) if one in mine else ("", "") for one in feeds]
        hay = [forage_cell(run, one) for one in run.amounts if one.source_id in forage]
        rows.append(
            {
                "when": span_words(run.start, run.end, display),
                "forages": hay or [_NO_FORAGE],
                "feeds": [{"each": each, "group": whole} for each, whole in fed],
            }
        )
    left = [shorten(names.get(one, one), NAME) for one in left_out]
    by_week = "bales a week" if period_days == 7 else f"bales, {period_days} days"
    return {
        "name": shorten(group_name(farm, group_id), NAME),
        "head": f"{head:,} head",
        "feeds": [name(one) for one in feeds],
        "rows": rows,
        "each": f"{display.mass_unit} a head",
        "bales": by_week,
        "total": f"{display.mass_unit} total",
        "notes": [
            sheet_words.all_season(name(one), *figures, display.mass_unit)
            for one, figures in steady.items()
        ]
        + _why_it_changes(program, group_id, display),
        "left_out": words.left_out(left) if left else "",
    }


def _why_it_changes(program: SeasonProgram, group_id: str, display: Display) -> list[str]:
    """Return why each ration of a group after its first begins."""
    mine = [one for one in program.rations if one.group_id == group_id]
    return [sheet_words.changes_on(display.day_text(one.start), one.why) for one in mine[1:]]


def _all_season(
    runs: Sequence[Run], feeds: Sequence[str], display: Display
) -> dict[str, tuple[str, str]]:
    """Return the feeds given alike in every run, a mineral for one, with their figures."""
    found = {}
    for source_id in feeds if len(runs) > 1 else ():
        told = {
            _figures(run, one, display) if one is not None else None
            for run in runs
            for one in [next((x for x in run.amounts if x.source_id == source_id), None)]
        }
        if len(told) == 1 and (figures := told.pop()) is not None:
            found[source_id] = figures
    return found


def _figures(run: Run, one: RunAmount, display: Display) -> tuple[str, str]:
    """Return what is put out a head and day, and for the whole group."""
    if one.is_steady:
        mean = display.mass(one.put_out_kg_per_head_day)
        return daily_text(mean), number_text(mean * run.head)
    least, most = (display.mass(x) for x in (one.least_kg_per_head_day, one.most_kg_per_head_day))
    return _range_text(least, most), _range_text(least * run.head, most * run.head)


def _range_text(least: float, most: float) -> str:
    """Return amounts from least to most; what moves every week needs no more figures than these.

    >>> _range_text(0.16, 0.62), _range_text(0.03, 2.94), _range_text(0.95, 11.2)
    ('0.2–0.6', '0–2.9', '1–11')
    >>> _range_text(0.04, 0.12), _range_text(10.2, 10.4)
    ('to 0.12', '10.2–10.4')
    """
    if most < 0.15:
        return f"to {daily_text(most)}"
    places = 0 if most >= 9.95 and most - least >= 1.0 else 1
    low = f"{least:,.{places}f}"
    return f"{'0' if float(low.replace(',', '')) == 0.0 else low}–{most:,.{places}f}"


def step_ups(program: SeasonProgram, farm: Farm, display: Display) -> list[dict[str, Any]]:
    """Return what is raised slowly, with the amount of each day, ready to be set."""
    found = []
    for change in program.change_overs:
        if change.from_sources:
            continue
        head = _head(program, change)
        days = list(_day_by_day(program, change, head, display))
        names = {one.source_id: one.name for one in program.sources}
        source = shorten(names.get(change.to_source, change.to_source), NAME)
        group = shorten(group_name(farm, change.group_id), NAME)
        found.append(
            {
                "title": f"{source}, {group} ({head:,} head)",
                "parts": [days[at : at + _DAYS_ACROSS] for at in range(0, len(days), _DAYS_ACROSS)],
            }
        )
    return found


def _head(program: SeasonProgram, change: ChangeOver) -> int:
    mine = [one for one in program.groups if one.group_id == change.group_id]
    now = [one for one in mine if one.start <= change.start]
    return max((now or mine)[-1].head, 1) if mine else 1


def _day_by_day(
    program: SeasonProgram, change: ChangeOver, head: int, display: Display
) -> Iterator[dict[str, str]]:
    """Yield what is put out on each day: the loads where they are daily, else shares of a day."""
    loads = {
        one.day: one.mass_kg
        for one in program.deliveries
        if (one.group_id, one.source_id) == (change.group_id, change.to_source)
    }
    daily = daily_by_period(program, change.group_id).get(change.to_source, {})
    starts = {one.index: one.start for one in program.periods}
    for number, share in enumerate(change.shares):
        day = change.start + timedelta(days=number)
        begun = [index for index in daily if starts[index] <= day]
        whole = head * (daily[max(begun)] if begun else 0.0)
        kg = loads.get(day, share * whole)
        yield {
            "day": display.day_text(day),
            "group": number_text(display.mass(kg)),
            "each": daily_text(display.mass(kg / head)),
        }


def changes_of_hay(program: SeasonProgram, farm: Farm, display: Display) -> list[str]:
    """Return how one hay follows another, a sentence each."""
    names = {one.source_id: shorten(one.name, NAME) for one in program.sources}
    found = [one for one in program.change_overs if one.from_sources]
    told = [
        sheet_words.change_of_hay(
            shorten(group_name(farm, one.group_id), NAME),
            span_words(one.start, one.start + timedelta(days=one.days), display),
            [names.get(source, source) for source in one.from_sources],
            names.get(one.to_source, one.to_source),
            [round(100.0 * share) for share in one.shares],
        )
        for one in found
    ]
    by_hand = any(not one.in_program for one in found)
    told = [display.local(one) for one in told]
    return [*told, sheet_words.KEEP_BACK] if by_hand else told
