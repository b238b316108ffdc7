"""The season on three letter pages, to be pinned to the barn door."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Sequence
from datetime import UTC, date, datetime, time
from importlib.resources import files
from typing import Any, Final

from rickyard.display import (
    Display,
    daily_range_text,
    daily_text,
    display_for,
    money_text,
    number_text,
    short_range_text,
    shorten,
)
from rickyard.farm import Caution, Farm
from rickyard.program.result import STANDING_NOTE, TOO_MUCH, SeasonProgram
from rickyard.sheets.charts import enough_hay_height, enough_hay_svg, ribbon_svg
from rickyard.sheets.wording import (
    Run,
    RunAmount,
    about_name,
    answer_of,
    bales_short_text,
    dangerous_to,
    group_name,
    group_order,
    phases_of,
    range_text,
    runs_of,
    words,
)

#: What is left of a letter page for the two pictures under the answer. [pt]
_PICTURES_HEIGHT: Final = 580.0

#: So many shortages are shown before any warning or note.
_LEAST_SHORTAGES: Final = 8

_NAME: Final = 44
_SENTENCE: Final = 420

_MARKS: Final = {"enough": "✓", "hay_short": "✗", "need_short": "!"}


def season_pdf(program: SeasonProgram, farm: Farm, printed_on: date | None = None) -> bytes:
    """Set a season program on three letter pages, more only where dangers take them.

    The first page answers whether there is enough hay and shows which hay goes to whom, the
    second holds the daily amounts, the third money, limits, cautions and assumptions. Lists
    that do not fit are cut, with a sentence that says how many more the JSON file holds. Dangers
    are never cut: where they do not fit the third page goes on on another.

    Parameters
    ----------
    program : SeasonProgram
        The program.
    farm : Farm
        Gives names, place and display units.
    printed_on : date, optional
        The date at the foot; today when left out. The same date gives the same bytes.

    Returns
    -------
    bytes
        A PDF file.
    """
    import typst

    printed = printed_on or date.today()
    source = (files("rickyard.sheets") / "data" / "season.typ").read_bytes()
    page = json.dumps(_sheet(program, farm, display_for(farm.units), printed), ensure_ascii=False)
    return typst.compile(
        source,
        format="pdf",
        sys_inputs={"sheet": page},
        font_paths=typst.Fonts(include_system_fonts=False),
        timestamp=datetime.combine(printed, time(), tzinfo=UTC),
    )


def _sheet(program: SeasonProgram, farm: Farm, display: Display, printed: date) -> dict[str, Any]:
    """Return everything the sheet says, as plain text: nothing in it is read as markup."""
    answer = answer_of(program, farm, display)
    room = _PICTURES_HEIGHT - enough_hay_height(program)
    dangers = sum(1 for caution in program.cautions if caution.level == "danger")
    marked = (
        f" {words.MARKED}"
        if any(dangerous_to(program, farm, one) for one in group_order(program))
        else ""
    )
    return {
        "title": words.SHEET_TITLE,
        "farm": _name(program.farm_name),
        "place": _name(farm.place),
        "season": f"{display.day_year_text(program.start)} to {display.day_year_text(program.end)}",
        "mark": _MARKS[answer.kind],
        "answer": shorten(answer.sentence, 200),
        "detail": f"{answer.detail} {words.tons_basis(display)}",
        "dangers": words.dangers_ahead(dangers) if dangers else "",
        "enough_svg": enough_hay_svg(program, display),
        "ribbon_title": words.RIBBON_TITLE,
        "ribbon_svg": ribbon_svg(program, farm, display, room),
        "amounts_title": words.AMOUNTS_TITLE,
        "amounts_note": words.amounts_note(display) + marked,
        "groups": [
            _group(program, farm, display, one, runs_of(program, one))
            for one in group_order(program)
        ],
        "phases": [
            _group(program, farm, display, one, phases_of(program, one))
            for one in group_order(program)
        ],
        "runs_note": words.RUNS_NOTE,
        "phases_note": words.PHASES_NOTE,
        "money_title": words.MONEY_TITLE,
        "purchase_heads": list(words.PURCHASE_HEADS),
        "purchases": _purchases(program, display),
        "nothing_bought": words.NOTHING_BOUGHT,
        "costs": _costs(program),
        "proof": words.proof(program.gap, short=program.status == "short"),
        "sections": _sections(program, farm),
        "standing": STANDING_NOTE,
        "foot": f"{_name(program.farm_name)} · {words.printed(display.day_year_text(printed))}",
        "tight_note": words.tight_note(display) + marked,
        "more": words.MORE_IN_JSON,
        "more_runs": words.LATER_RUNS_IN_JSON,
        "more_groups": words.GROUPS_IN_JSON,
    }


def _name(text: str) -> str:
    return shorten(text, _NAME)


def _breakable(name: str) -> str:
    """Let long names of grasses break where their two words meet."""
    return re.sub(r"(?<=[a-z]{3})(?=grass\b)", "\u00ad", name)


def _group(
    program: SeasonProgram, farm: Farm, display: Display, group_id: str, runs: Sequence[Run]
) -> dict[str, Any]:
    head = next((one.head for one in program.groups if one.group_id == group_id), 0)
    seen: dict[str, RunAmount] = {}
    for run in runs:
        for amount in run.amounts:
            seen.setdefault(amount.source_id, amount)
    forage = {one.source_id for one in program.sources if one.is_forage}
    order = sorted(seen, key=lambda one: one not in forage)
    period_days = max((one.days for one in program.periods), default=7)
    sources = [seen[one] for one in order]
    marks = dict.fromkeys(dangerous_to(program, farm, group_id), " ▲")
    by_bale = {
        amount.source_id for run in runs for amount in run.amounts if amount.bales is not None
    }
    return {
        "name": _name(group_name(farm, group_id)),
        "head": f"{head:,} head",
        "tight_name": f"{_name(group_name(farm, group_id))}, {head:,}",
        "unit": words.first_column(display),
        "columns": [
            {
                "name": _breakable(_name(source.name)) + marks.get(source.source_id, ""),
                "bought": source.kind == "feed",
                "second": words.second_column(display, source.source_id in by_bale, period_days),
            }
            for source in sources
        ],
        "rows": [
            {
                "when": display.span_text(run.start, run.end),
                "periods": str(run.periods),
                "cells": [
                    _cell(run, one.source_id, display, one.source_id in by_bale, period_days)
                    for one in sources
                ],
            }
            for run in runs
        ],
    }


def _cell(
    run: Run, source_id: str, display: Display, by_bale: bool, period_days: int
) -> dict[str, str]:
    """Return what a cell says: per head and for the group, in full and for a narrow column."""
    amount = next((one for one in run.amounts if one.source_id == source_id), None)
    if amount is None:
        return {"each": "", "group": "", "narrow_each": "", "narrow_group": ""}
    least, most = (
        display.mass(one) for one in (amount.least_kg_per_head_day, amount.most_kg_per_head_day)
    )
    mean = display.mass(amount.put_out_kg_per_head_day)
    if amount.is_steady:
        each, narrow = daily_text(mean), daily_text(mean)
        together = narrow_together = number_text(mean * run.head)
    else:
        each, narrow = daily_range_text(least, most), short_range_text(least, most)
        together = daily_range_text(least * run.head, most * run.head)
        narrow_together = short_range_text(least * run.head, most * run.head)
    if amount.bales is not None:
        together = bales_short_text(amount.bales, period_days)
        narrow_together = range_text(min(amount.bales), max(amount.bales))
    elif by_bale:
        together = f"{together} {display.mass_unit}/day"
        narrow_together = f"{narrow_together} {display.mass_unit}"
    return {
        "each": each,
        "group": together,
        "narrow_each": narrow,
        "narrow_group": narrow_together,
    }


def _purchases(program: SeasonProgram, display: Display) -> list[list[str]]:
    return [
        [
            _name(one.name),
            display.amount_text(one.as_fed_kg),
            display.price_per_ton_text(one.cost_usd / one.as_fed_kg) if one.as_fed_kg > 0 else "",
            money_text(one.cost_usd),
        ]
        for one in sorted(program.purchases, key=lambda one: -one.cost_usd)
    ]


def _costs(program: SeasonProgram) -> list[list[str]]:
    rows = [[label, money_text(usd)] for label, usd in words.cost_rows(program.costs)]
    return [*rows, [words.TOTAL, money_text(program.costs.total)]]


def _sections(program: SeasonProgram, farm: Farm) -> list[dict[str, Any]]:
    """Return the lists of the last page; ``keep`` entries of each are never cut."""
    cautions = sorted(program.cautions, key=lambda one: words.LEVEL_ORDER[one.level])
    # What there is too much of can kill, and stands before what there is too little of.
    short = sorted(program.shortages, key=lambda one: one.nutrient not in TOO_MUCH)
    return [
        _section(words.SHORT_TITLE, (one.sentence for one in short), _LEAST_SHORTAGES),
        _section(words.LIMITS_TITLE, (one.sentence for one in program.limits), 2),
        _section(
            words.WORTH_TITLE,
            words.worth_sentences(program),
            2,
        ),
        {
            "title": words.CAUTIONS_TITLE,
            "keep": max(4, sum(1 for one in cautions if one.level == "danger")),
            "items": [
                {
                    "mark": words.LEVEL_MARKS[one.level],
                    "word": words.LEVEL_WORDS[one.level],
                    "about": _about(farm, one),
                    "text": shorten(one.sentence, _SENTENCE),
                }
                for one in cautions
            ],
        },
        _section(
            words.ASSUMPTIONS_TITLE,
            (f"{one.sentence} ({one.source})" for one in program.assumptions),
            1,
        ),
    ]


def _about(farm: Farm, caution: Caution) -> str:
    """Return what a caution is about, unless its sentence names it."""
    name = about_name(farm, caution.about)
    return "" if name in caution.sentence else _name(name)


def _section(title: str, sentences: Iterable[str], keep: int) -> dict[str, Any]:
    items = [
        {"mark": "", "word": "", "about": "", "text": shorten(one, _SENTENCE)}
        for one in dict.fromkeys(sentences)
    ]
    return {"title": title, "keep": keep, "items": items}
