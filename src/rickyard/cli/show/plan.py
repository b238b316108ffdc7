"""A season program in the terminal: the answer first, the reasons after it, the numbers last."""

from __future__ import annotations

from typing import Final

from rich.console import Console
from rich.text import Text

from rickyard.cli.show import parts
from rickyard.cli.show import reasons as more
from rickyard.display import (
    Display,
    daily_range_text,
    daily_text,
    display_for,
    listed,
    money_text,
    number_text,
    tons_column,
)
from rickyard.farm import Farm
from rickyard.program.problem import promises
from rickyard.program.result import STANDING_NOTE, SeasonProgram, WinterPrograms
from rickyard.program.winters import winter_sentences
from rickyard.sheets.wording import (
    MOST_RUNS,
    Run,
    RunAmount,
    YardTotals,
    answer_of,
    bales_text,
    dangerous_to,
    group_name,
    group_order,
    offered_in,
    proof_of,
    ration_lines,
    short_story,
    without_traces,
    words,
    yard_totals,
)

_BAR: Final = 64
_MOST_ASSUMPTIONS: Final = 12
#: Less bought feed than this left over is not worth a sentence. [kg as fed]
_SCRAPS_KG: Final = 1.0
_ANSWER_STYLES: Final = {
    "enough": "bold",
    "no_stock": "bold",
    "hay_short": "bold red",
    "need_short": "bold yellow",
    "unfinished": "bold yellow",
}


def print_program(program: SeasonProgram, farm: Farm, console: Console) -> None:
    """Print a season program."""
    display = display_for(farm.units)
    period_days = max((period.days for period in program.periods), default=7)
    _print_answer(program, farm, display, console)
    shown, left_out = without_traces(program)
    for group_id in group_order(program):
        _print_group(shown, farm, display, console, group_id, period_days)
        if left_out.get(group_id):
            names = {one.source_id: one.name for one in program.sources}
            traces = words.left_out([names[one] for one in left_out[group_id]])
            parts.say(console, traces)
    _print_purchases(program, display, console)
    _print_sales(program, display, console)
    _print_costs(program, console)
    _print_lots(program, display, console)
    more.print_reasons(program, farm, display, console)
    more.print_outcomes(program, console)
    more.print_coverage(program, farm, console)
    parts.cautions(console, program.cautions, farm, words.CAUTIONS_TITLE)
    _print_assumptions(program, console)
    console.print()
    parts.say(console, STANDING_NOTE)


def print_short_program(program: SeasonProgram, farm: Farm, console: Console) -> None:
    """Print of a program among many its answer, what is short, its dangers and how good it is.

    Parameters
    ----------
    program, farm, console
        As ``print_program`` takes them.
    """
    _print_answer(program, farm, display_for(farm.units), console)
    parts.sentences(console, words.SHORT_TITLE, (one.sentence for one in program.shortages))
    dangers = [one for one in program.cautions if one.level == "danger"]
    parts.cautions(console, dangers, farm, words.CAUTIONS_TITLE)
    console.print()
    parts.say(console, f"{money_text(program.costs.total)}. {proof_of(program)}")
    parts.say(console, STANDING_NOTE)


def _print_answer(program: SeasonProgram, farm: Farm, display: Display, console: Console) -> None:
    answer = answer_of(program, farm, display)
    span = f"{display.day_year_text(program.start)} to {display.day_year_text(program.end)}"
    parts.say(console, f"{program.farm_name}, {span}")
    console.print()
    parts.say(console, answer.sentence, _ANSWER_STYLES[answer.kind])
    console.print(Text(_bar(yard_totals(program), parts.blocks(console))), no_wrap=True)
    parts.say(console, answer.detail)
    parts.say(console, words.tons_basis(display))
    for promise in promises(farm)[:1]:
        parts.say(console, promise.sentence)
    dangers = sum(1 for one in program.cautions if one.level == "danger")
    if dangers:
        parts.say(console, words.dangers_below(dangers), "bold red")


def _bar(totals: YardTotals, letters: tuple[str, str, str, str]) -> str:
    """Return the yard as one bar: eaten, lost, left, missing."""
    masses = (totals.eaten_t, totals.lost_t, max(totals.left_t, 0.0), totals.missing_t)
    whole = sum(masses)
    if whole <= 0:
        return ""
    done, bar, before = 0.0, "", 0
    for letter, mass in zip(letters, masses, strict=True):
        done += mass
        upto = round(_BAR * done / whole)
        bar += letter * (upto - before)
        before = upto
    names = ("eaten", "lost", "left", "missing")
    key = "  ".join(
        f"{letter} {name}"
        for letter, name, mass in zip(letters, names, masses, strict=True)
        if mass > 0
    )
    return f"{bar}\n{key}"


def _print_group(
    program: SeasonProgram,
    farm: Farm,
    display: Display,
    console: Console,
    group_id: str,
    period_days: int,
) -> None:
    head = next((one.head for one in program.groups if one.group_id == group_id), 0)
    parts.heading(console, words.group_title(group_name(farm, group_id), head))
    if offer := offered_in(program, farm, group_id):
        parts.say(console, offer)
    if program.rations:
        _print_rations(program, farm, display, console, group_id)
        _print_dangers(program, farm, console, group_id)
        return
    table = parts.columns("when", "feed", f">{display.mass_unit} a head", "the whole group")
    runs = short_story(program, group_id, MOST_RUNS)
    if not runs:
        parts.say(console, words.NOTHING_FED)
        return
    for run in runs:
        for index, amount in enumerate(run.amounts):
            table.add_row(
                display.span_text(run.start, run.end) if index == 0 else "",
                amount.name,
                _each(amount, display),
                _whole_group(run, amount, display, period_days),
            )
    console.print(table)
    _print_dangers(program, farm, console, group_id)
    changes = more.changes_sentence(program, group_id, display)
    if changes:
        parts.say(console, changes)


def _print_dangers(program: SeasonProgram, farm: Farm, console: Console, group_id: str) -> None:
    """Print which of what a group is fed can harm it."""
    dangerous = dangerous_to(program, farm, group_id)
    fed = {row.source_id for row in program.feeding if row.group_id == group_id}
    risky = [one.name for one in program.sources if one.source_id in fed & dangerous]
    if risky:
        parts.say(console, words.dangers_of(risky), "bold red")


def _print_rations(
    program: SeasonProgram, farm: Farm, display: Display, console: Console, group_id: str
) -> None:
    """Print a group's rations, one below another: from, until, hay, feeds, and why."""
    table = parts.columns(*words.RATION_HEADS)
    for row in ration_lines(program, farm, group_id, display):
        table.add_row(row.span, row.hay, row.feeds, row.why)
    console.print(table)


def _whole_group(run: Run, amount: RunAmount, display: Display, period_days: int) -> str:
    if amount.bales is not None:
        return bales_text(amount.bales, period_days)
    if amount.is_steady:
        figures = number_text(display.mass(amount.put_out_kg_per_head_day * run.head))
    else:
        masses = (amount.least_kg_per_head_day, amount.most_kg_per_head_day)
        figures = daily_range_text(*(display.mass(one * run.head) for one in masses))
    return f"{figures} {display.mass_unit} a day"


def _each(amount: RunAmount, display: Display) -> str:
    if amount.is_steady:
        return daily_text(display.mass(amount.put_out_kg_per_head_day))
    masses = (amount.least_kg_per_head_day, amount.most_kg_per_head_day)
    return daily_range_text(*(display.mass(one) for one in masses))


def _print_purchases(program: SeasonProgram, display: Display, console: Console) -> None:
    parts.heading(console, words.PURCHASES_TITLE)
    if not program.purchases:
        parts.say(console, words.NOTHING_BOUGHT)
        return
    buy, as_fed, price, cost = words.PURCHASE_HEADS
    in_loads = any(one.loads is not None for one in program.purchases)
    loads = (">loads",) if in_loads else ()
    table = parts.columns(buy, *loads, f">{as_fed}", f">{price}", f">{cost}")
    for one in sorted(program.purchases, key=lambda one: -one.cost_usd):
        each = one.cost_usd / one.as_fed_kg if one.as_fed_kg > 0 else 0.0
        count = (Text("" if one.loads is None else f"{one.loads:,}"),) if in_loads else ()
        table.add_row(
            one.name,
            *count,
            display.amount_text(one.as_fed_kg),
            display.price_per_ton_text(each),
            money_text(one.cost_usd),
        )
    console.print(table)
    over = [
        f"{display.amount_text(one.left_kg)} of {one.name}, "
        f"{money_text(one.cost_usd * one.left_kg / one.as_fed_kg)} of what it cost"
        for one in program.purchases
        if one.left_kg > _SCRAPS_KG
    ]
    if over:
        # Feed is bought in whole loads or for what is eaten: only loads leave some over.
        parts.say(console, f"Left over on the last day: {listed(over)}. Ask for a part load.")


def _print_sales(program: SeasonProgram, display: Display, console: Console) -> None:
    if not program.sales:
        return
    parts.heading(console, words.SALES_TITLE)
    name, as_fed, bales, brings = words.SALE_HEADS
    table = parts.columns(name, f">{as_fed}", f">{bales}", f">{brings}")
    for one in sorted(program.sales, key=lambda one: -one.revenue_usd):
        table.add_row(
            one.name,
            display.amount_text(one.as_fed_kg),
            "" if one.bales is None else f"{one.bales:,.0f}",
            money_text(one.revenue_usd),
        )
    console.print(table)


def _print_costs(program: SeasonProgram, console: Console) -> None:
    parts.heading(console, words.COSTS_TITLE)
    table = parts.columns("", ">")
    table.show_header = False
    for label, usd in words.cost_rows(program.costs):
        table.add_row(label, money_text(usd))
    total = Text(money_text(program.costs.total), style="bold")
    table.add_row(Text(words.TOTAL, style="bold"), total)
    console.print(table)
    parts.say(console, proof_of(program))


def _print_lots(program: SeasonProgram, display: Display, console: Console) -> None:
    unit = "tons" if display.system == "us" else "t"
    parts.heading(console, words.lots_title(unit))
    sold = any(lot.sold_t > 0 for lot in program.lots)
    heads = ("in yard", "eaten", "lost", *(("sold",) if sold else ()), "left", "bales fed")
    table = parts.columns("lot", *(f">{head}" for head in heads))
    for lot in program.lots:
        lost = lot.feeding_loss_t + lot.storage_loss_t
        masses = (lot.start_t, lot.eaten_t, lost, *((lot.sold_t,) if sold else ()), lot.left_t)
        bales = "" if lot.fed_bales is None else f"{lot.fed_bales:,.0f}"
        if lot.fed_bales is not None and lot.start_bales is not None:
            bales = f"{bales} of {lot.start_bales:,.0f}"
        figures = (Text(tons_column(display.tons(one))) for one in masses)
        table.add_row(lot.name, *figures, bales)
    totals = yard_totals(program)
    sold_t = (sum(lot.sold_t for lot in program.lots),) if sold else ()
    masses = (totals.start_t, totals.eaten_t, totals.lost_t, *sold_t, totals.left_t)
    figures = (Text(tons_column(display.tons(one)), style="bold") for one in masses)
    table.add_row(Text(words.TOTAL, style="bold"), *figures, "")
    console.print(table)


def _print_assumptions(program: SeasonProgram, console: Console) -> None:
    lines = list(dict.fromkeys(one.sentence for one in program.assumptions))
    shown = lines[:_MOST_ASSUMPTIONS]
    if len(lines) > len(shown):
        shown.append(words.more_in_json(len(lines) - len(shown)))
    parts.sentences(console, words.ASSUMPTIONS_TITLE, shown)


TITLE: Final = "One fall plan for every winter"
BELOW: Final = (
    "The program below feeds for a normal winter and holds back what a severe one would take. Plan "
    "again with --from-date when the winter shows what it is."
)


def print_winters(programs: WinterPrograms, console: Console) -> None:
    """Print what planning several winters together says."""
    parts.sentences(console, TITLE, winter_sentences(programs))
    parts.sentences(
        console, "Assumptions about the winters", (one.sentence for one in programs.assumptions)
    )
    console.print()
    parts.say(console, BELOW)
    console.print()
