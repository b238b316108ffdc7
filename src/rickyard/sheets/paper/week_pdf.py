"""What to put out this week, on letter paper: large figures, and room to write what was fed."""

from __future__ import annotations

import io
from collections.abc import Collection, Sequence
from dataclasses import replace
from datetime import date
from typing import Any, Final

from rickyard.display import clean, display_for, shorten
from rickyard.farm import Caution, Farm
from rickyard.program.result import STANDING_NOTE, SeasonProgram
from rickyard.sheets.paper import sheet_words
from rickyard.sheets.paper.season_pdf import set_sheet
from rickyard.sheets.paper.week import WeekGroup, WeekLine, WeekList, week_list
from rickyard.sheets.paper.week_days import week_starts
from rickyard.sheets.wording import about_name, words

_NAME: Final = 44


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
        A PDF file, letter pages.
    """
    return _set(program, farm, [week_list(program, farm, week_start)], printed_on)


def weeks_pdf(program: SeasonProgram, farm: Farm, printed_on: date | None = None) -> bytes:
    """Set the lists of every week of the season, each on pages of its own.

    Warnings and notes, which are the same week after week, stand once on the first pages; dangers
    and what is short stand in every week.

    Parameters
    ----------
    program : SeasonProgram
        The program.
    farm : Farm
        Its farm.
    printed_on : date, optional
        The day to print; today if left out.

    Returns
    -------
    bytes
        The PDF.
    """
    weeks = [week_list(program, farm, start) for start in week_starts(program)]
    short = {one.sentence for one in program.shortages}
    always: dict[Caution, None] = {}
    for week in weeks:
        for one in (*week.cautions, *(one for group in week.groups for one in group.cautions)):
            if one.level != "danger" and one.sentence not in short:
                always[one] = None
    kept = [_without(week, always) for week in weeks]
    return _set(program, farm, kept, printed_on, always)


def _without(week: WeekList, always: Collection[Caution]) -> WeekList:
    """Return a week without what stands on the first pages."""
    groups = tuple(
        replace(group, cautions=tuple(one for one in group.cautions if one not in always))
        for group in week.groups
    )
    mine = tuple(one for one in week.cautions if one not in always)
    return replace(week, groups=groups, cautions=mine)


def _set(
    program: SeasonProgram,
    farm: Farm,
    weeks: Sequence[WeekList],
    printed_on: date | None,
    always: Collection[Caution] | None = None,
) -> bytes:
    """Set some weeks; what is to be known in all of them stands first, where that is asked for."""
    printed = printed_on or date.today()
    gravest_first = sorted(always or (), key=lambda one: words.LEVEL_ORDER[one.level])
    sheet = {
        "farm": shorten(program.farm_name, _NAME),
        "foot": words.printed(display_for(farm.units).day_year_text(printed)),
        "planned": sheet_words.PLANNED,
        "fed": words.FED_COLUMN,
        "first": words.FOR_ALL,
        "write": words.WRITE_NOTE if always is None else words.WRITE_BOOK,
        "above": words.SEEN_ABOVE if always is None else words.SEEN_FIRST,
        "standing": STANDING_NOTE,
        "title": words.TITLE,
        "is_book": always is not None,
        "always_title": words.ALWAYS_TITLE,
        "always": [_caution(farm, one) for one in gravest_first],
        "weeks": [_week(farm, week) for week in weeks],
    }
    return set_sheet("week.typ", sheet, printed)


def _week(farm: Farm, week: WeekList) -> dict[str, Any]:
    gravest = sorted(week.cautions, key=lambda one: words.LEVEL_ORDER[one.level])
    return {
        "title": week.title,
        "days": list(week.days),
        "groups": [_group(farm, one) for one in week.groups],
        "cautions": [_caution(farm, one) for one in gravest],
        "never": clean(week.never),
    }


def _group(farm: Farm, group: WeekGroup) -> dict[str, Any]:
    return {
        "name": shorten(group.name, _NAME),
        "head": f"{group.head:,} head",
        "lines": [_line(one) for one in group.lines],
        "never": clean(group.never),
        "says": [clean(one) for one in group.says],
        "dangers": [_caution(farm, one) for one in group.cautions if one.level == "danger"],
        "cautions": [_caution(farm, one) for one in group.cautions if one.level != "danger"],
    }


def _line(line: WeekLine) -> dict[str, Any]:
    return {
        "name": shorten(line.name, _NAME),
        "flag": shorten(line.flag, 16),
        "mark": line.mark,
        "unit": line.unit,
        "cells": list(line.cells),
        "planned": line.planned,
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
        "text": says,
    }


def joined_pdf(sheets: Sequence[bytes]) -> bytes:
    """Return the pages of several PDF files, one after the other, in one.

    Parameters
    ----------
    sheets : sequence of bytes
        The files, at least one; each keeps its pages and their order.

    Returns
    -------
    bytes
        A PDF file.
    """
    import pypdfium2 as pdfium

    if len(sheets) == 1:
        return sheets[0]
    whole = pdfium.PdfDocument.new()
    try:
        for one in sheets:
            part = pdfium.PdfDocument(one)
            try:
                whole.import_pages(part)
            finally:
                part.close()
        out = io.BytesIO()
        whole.save(out)
    finally:
        whole.close()
    return out.getvalue()
