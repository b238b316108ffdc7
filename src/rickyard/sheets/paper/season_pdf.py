"""The season on letter pages, to be pinned to the barn door."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import asdict, replace
from datetime import UTC, date, datetime, time
from importlib.resources import as_file, files
from typing import Any, Final

from rickyard.display import Display, clean, display_for, money_text, shorten
from rickyard.farm import Caution, Farm
from rickyard.program.result import STANDING_NOTE, TOO_MUCH, SeasonProgram
from rickyard.sheets.charts import (
    enough_hay_svg,
    outcome_svg,
    ribbon_svgs,
    verdict_svg,
)
from rickyard.sheets.paper import sheet_words
from rickyard.sheets.paper.ration import NAME, changes_of_hay, ration_tables, step_ups
from rickyard.sheets.wording import (
    about_name,
    answer_of,
    dangerous_to,
    group_name,
    group_order,
    proof_of,
    said_once,
    without_traces,
    words,
)

#: Lists that harm nobody when they are cut are cut after so many entries.
_MOST_TOLD: Final = 8

#: So many names stand beside the count of dangers.
_MOST_LEAD_NAMES: Final = 4

#: Longer sentences about money are cut; what is said of dangers, warnings and wants never is.
_SENTENCE: Final = 420


def season_pdf(program: SeasonProgram, farm: Farm, printed_on: date | None = None) -> bytes:
    """Set a season program on letter pages.

    The first page answers whether there is enough hay and tells every danger and all that is
    short. Then come which hay goes to whom, what to buy and sell, the daily amounts and step-ups,
    every warning and note, and last wishes, what drives the cost and assumptions. Nothing that
    can harm is ever left out: the sheet takes another page. Lists about money and assumptions
    are cut, and say so.

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
    printed = printed_on or date.today()
    return set_sheet("season.typ", _sheet(program, farm, display_for(farm.units), printed), printed)


def set_sheet(template: str, sheet: dict[str, Any], printed: date) -> bytes:
    """Set a sheet with one of the templates, in the fonts that ship with them."""
    import typst

    data = files("rickyard.sheets") / "data"
    with as_file(data / "fonts") as fonts:
        return typst.compile(
            (data / template).read_bytes(),
            format="pdf",
            sys_inputs={"sheet": json.dumps(sheet, ensure_ascii=False)},
            font_paths=typst.Fonts(include_system_fonts=False, font_paths=[fonts]),
            timestamp=datetime.combine(printed, time(), tzinfo=UTC),
        )


def _sheet(whole: SeasonProgram, farm: Farm, display: Display, printed: date) -> dict[str, Any]:
    """Return everything the sheet says, as plain text: nothing in it is read as markup."""
    program, left_out = without_traces(whole)
    answer = answer_of(whole, farm, display)
    dangers = _distinct(one for one in program.cautions if one.level == "danger")
    marked = any(dangerous_to(program, farm, one) for one in group_order(program))
    season = (display.day_year_text(one) for one in (program.start, program.end))
    return {
        "title": words.SHEET_TITLE,
        "farm": _name(program.farm_name),
        "place": _name(farm.place),
        "season": " to ".join(season),
        "mark_svg": verdict_svg("danger" if dangers else answer.kind),
        "lead": sheet_words.dangers_lead(len(dangers)) if dangers else "",
        "lead_names": _of_what(farm, dangers),
        "answer": shorten(answer.sentence, 200),
        "detail": f"{answer.detail} {words.tons_basis(display)}",
        "enough_svg": enough_hay_svg(program, display),
        "ribbon_title": words.RIBBON_TITLE,
        "ribbon": asdict(ribbon_svgs(program, farm, display)),
        "amounts_title": words.AMOUNTS_TITLE,
        "amounts_note": sheet_words.amounts_note(display),
        "marked": sheet_words.MARKED if marked else "",
        "forage": sheet_words.FORAGE,
        "groups": ration_tables(program, farm, display, left_out),
        "step_ups_title": sheet_words.STEP_UPS_TITLE,
        "step_ups_note": sheet_words.step_up_note(display),
        "step_ups": step_ups(program, farm, display),
        "changes": _section(
            sheet_words.CHANGES_TITLE, changes_of_hay(program, farm, display), None
        ),
        "outcomes": _outcomes(program, farm, display),
        "coverage": _coverage(program, farm),
        "short": _section(words.SHORT_TITLE, _shortages(program), None),
        "dangers": {"title": sheet_words.DANGERS_TITLE, "items": _cautions(program, farm, True)},
        "care": {"title": words.CAUTIONS_TITLE, "items": _cautions(program, farm, False)},
        **_money(program, display),
        "sections": _sections(program),
        "standing": STANDING_NOTE,
        "foot": f"{_name(program.farm_name)} · {words.printed(display.day_year_text(printed))}",
        "more": words.MORE_IN_JSON,
    }


def _name(text: str) -> str:
    return shorten(text, NAME)


def _of_what(farm: Farm, dangers: Sequence[Caution]) -> str:
    """Return the first names of what is dangerous; all of it is told further down."""
    names = dict.fromkeys(_name(about_name(farm, one.about)) for one in dangers if one.about)
    shown = list(names)[:_MOST_LEAD_NAMES]
    more = [f"{len(names) - len(shown)} more"] if len(names) > len(shown) else []
    return ", ".join([*shown, *more])


def _money(program: SeasonProgram, display: Display) -> dict[str, Any]:
    purchases = sorted(program.purchases, key=lambda one: -one.cost_usd)
    in_loads = any(one.loads for one in purchases)
    bought = [
        [
            _name(one.name),
            display.amount_text(one.as_fed_kg),
            *([f"{one.loads:,}" if one.loads else ""] if in_loads else []),
            display.price_per_ton_text(one.cost_usd / one.as_fed_kg) if one.as_fed_kg > 0 else "",
            money_text(one.cost_usd),
        ]
        for one in purchases
    ]
    heads = [one for one in sheet_words.BUY_HEADS if in_loads or one != "loads"]
    sold = [
        [
            _name(one.name),
            display.tons_text(one.as_fed_kg / 1000.0),
            "" if one.bales is None else f"{one.bales:,.0f}",
            money_text(one.revenue_usd),
        ]
        for one in program.sales
    ]
    costs = [[label, money_text(usd)] for label, usd in words.cost_rows(program.costs)]
    return {
        "money_title": words.MONEY_TITLE,
        "buy_heads": heads,
        "purchases": bought,
        "nothing_bought": words.NOTHING_BOUGHT,
        "sell_heads": list(sheet_words.SELL_HEADS),
        "sales": sold,
        "costs": [*costs, [words.TOTAL, money_text(program.costs.total)]],
        "proof": proof_of(program),
    }


def _outcomes(program: SeasonProgram, farm: Farm, display: Display) -> dict[str, Any]:
    """Return what becomes of each group: a drawing of those that are followed, and all in words."""
    return {
        "title": words.OUTCOMES_TITLE,
        "groups": [
            {
                "svg": outcome_svg(one, name, display) if len(one.path) > 1 else "",
                "text": clean(words.outcome_words(one)),
            }
            for one in program.outcomes
            for name in [_name(group_name(farm, one.group_id))]
        ],
        "note": words.OUTCOMES_BELOW,
    }


def _coverage(program: SeasonProgram, farm: Farm) -> dict[str, Any]:
    """Return by group what is covered of trace minerals and vitamins, and what is too much."""
    found = {(one.group_id, one.nutrient): one for one in program.coverage}
    groups = dict.fromkeys(one.group_id for one in program.coverage)
    return {
        "title": words.TRACED_TITLE,
        "heads": list(words.TRACED_HEADINGS.values()),
        "rows": [
            [
                _name(group_name(farm, one)),
                *(words.coverage_cell(found[one, name]) for name in words.TRACED_HEADINGS),
            ]
            for one in groups
        ],
        "items": [clean(one.sentence) for one in program.coverage if one.verdict == "too_much"],
        "note": words.TRACED_BELOW,
    }


def _shortages(program: SeasonProgram) -> list[str]:
    """Return what is short; what there is too much of can kill, and stands first."""
    order = sorted(program.shortages, key=lambda one: one.nutrient not in TOO_MUCH)
    return [one.sentence for one in order]


def _cautions(program: SeasonProgram, farm: Farm, dangers: bool) -> list[dict[str, str]]:
    """Return the dangers, or all else to watch for, warnings first; the same is said once."""
    told = said_once(program.cautions, farm)
    mine = _distinct(one for one in told if (one.level == "danger") is dangers)
    return [
        {
            "mark": words.LEVEL_MARKS[one.level],
            "word": words.LEVEL_WORDS[one.level],
            "about": _about(farm, one),
            "text": one.sentence,
        }
        for one in sorted(mine, key=lambda one: words.LEVEL_ORDER[one.level])
    ]


def _distinct(cautions: Iterable[Caution]) -> list[Caution]:
    plain = (replace(one, sentence=clean(one.sentence), source="") for one in cautions)
    return list(dict.fromkeys(plain))


def _about(farm: Farm, caution: Caution) -> str:
    """Return what a caution is about, unless its sentence names it."""
    name = about_name(farm, caution.about)
    return "" if name in caution.sentence else _name(name)


def _sections(program: SeasonProgram) -> list[dict[str, Any]]:
    """Return the lists that close the sheet; wishes are never cut."""
    return [
        _section(words.WISHES_TITLE, (one.sentence for one in program.wishes), None),
        _section(words.LIMITS_TITLE, (one.sentence for one in program.limits), _MOST_TOLD),
        _section(words.WORTH_TITLE, words.worth_sentences(program), _MOST_TOLD),
        _section(
            words.ASSUMPTIONS_TITLE,
            (f"{one.sentence} ({one.source})" for one in program.assumptions),
            _MOST_TOLD,
        ),
    ]


def _section(title: str, sentences: Iterable[str], most: int | None) -> dict[str, Any]:
    """Return a list of sentences; with ``most`` it is cut there, and very long ones are too."""
    found = list(dict.fromkeys(sentences))
    shown = (
        [clean(one) for one in found]
        if most is None
        else [shorten(one, _SENTENCE) for one in found[:most]]
    )
    return {"title": title, "items": shown, "unseen": len(found) - len(shown)}
