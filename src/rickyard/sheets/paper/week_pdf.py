"""What to put out this week, on letter paper: large figures, and room to write what was fed."""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import UTC, date, datetime, time
from importlib.resources import files
from typing import Any, Final

from rickyard.display import clean, display_for, shorten
from rickyard.farm import Caution, Farm
from rickyard.program.result import STANDING_NOTE, SeasonProgram
from rickyard.sheets.paper.week import WeekGroup, WeekLine, week_list, week_starts
from rickyard.sheets.wording import about_name, words, words_week

_NAME: Final = 44

#: A danger is never cut; what else is said is, where it is very long.
_SENTENCE: Final = 600


def week_pdf(
    program: SeasonProgram, farm: Farm, week_start: date, printed_on: date | None = None
) -> bytes:
    """Set the list of one week.

    Parameters
    ----------
    program : SeasonProgram
        The program, with its deliveries.
    farm : Farm
        Gives names and display units.
    week_start : date
        The first of its seven days.
    printed_on : date, optional
        The date at the foot; today when left out. The same date gives the same bytes.

    Returns
    -------
    bytes
        A PDF file, letter pages on their side.
    """
    return _set(program, farm, (week_start,), printed_on)


def weeks_pdf(program: SeasonProgram, farm: Farm, printed_on: date | None = None) -> bytes:
    """Set the lists of every week of the season, each on pages of its own."""
    return _set(program, farm, week_starts(program), printed_on)


def _set(
    program: SeasonProgram, farm: Farm, starts: Sequence[date], printed_on: date | None
) -> bytes:
    import typst

    printed = printed_on or date.today()
    sheet = {
        "farm": shorten(program.farm_name, _NAME),
        "foot": words.printed(display_for(farm.units).day_year_text(printed)),
        "fed": words_week.FED_COLUMN,
        "write": words_week.WRITE_NOTE,
        "above": words_week.SEEN_ABOVE,
        "more": words_week.MORE_GROUPS,
        "standing": STANDING_NOTE,
        "title": words_week.TITLE,
        "weeks": [_week(program, farm, start) for start in starts],
    }
    return typst.compile(
        (files("rickyard.sheets") / "data" / "week.typ").read_bytes(),
        format="pdf",
        sys_inputs={"sheet": json.dumps(sheet, ensure_ascii=False)},
        font_paths=typst.Fonts(include_system_fonts=False),
        timestamp=datetime.combine(printed, time(), tzinfo=UTC),
    )


def _week(program: SeasonProgram, farm: Farm, start: date) -> dict[str, Any]:
    week = week_list(program, farm, start)
    return {
        "title": week.title,
        "days": list(week.days),
        "groups": [_group(farm, one) for one in week.groups],
        "cautions": [_caution(farm, one) for one in week.cautions],
    }


def _group(farm: Farm, group: WeekGroup) -> dict[str, Any]:
    return {
        "name": shorten(group.name, _NAME),
        "head": f"{group.head:,} head",
        "lines": [_line(one) for one in group.lines],
        "says": [shorten(one, _SENTENCE) for one in group.says],
        "cautions": [_caution(farm, one) for one in group.cautions],
    }


def _line(line: WeekLine) -> dict[str, Any]:
    return {
        "name": shorten(line.name, _NAME),
        "flag": shorten(line.flag, 16),
        "mark": line.mark,
        "unit": line.unit,
        "cells": list(line.cells),
        "bought": line.is_bought,
        "share": line.is_share,
    }


def _caution(farm: Farm, caution: Caution) -> dict[str, str]:
    says = clean(caution.sentence)
    name = about_name(farm, caution.about)
    return {
        "mark": words.LEVEL_MARKS[caution.level],
        "word": words.LEVEL_WORDS[caution.level],
        "about": "" if name in says else shorten(name, _NAME),
        "text": says if caution.level == "danger" else shorten(says, _SENTENCE),
    }
