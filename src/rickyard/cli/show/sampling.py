"""The sampling pages in the terminal: what is due first, then a page for each lot."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Final

from rich.console import Console
from rich.table import Table
from rich.text import Text

from rickyard.cli.show import parts
from rickyard.display import WEEKDAYS, Display, count_text, display_for, money_text
from rickyard.evidence import COMMON_PRACTICE
from rickyard.farm import Farm
from rickyard.hay.sampling import CAUTIONS, Protocol, SamplePlan
from rickyard.program.explain import WorthOfTest
from rickyard.quantities import KG_PER_OZ, M_PER_IN
from rickyard.sheets.wording import STATUS, plain_test

_NOW: Final = ("due", "late", "unsettled")
_LATE: Final = ("late", "unsettled", "hot")
_PRACTICE: Final = (
    "What a core costs in time (3 minutes at $20 an hour) is common practice. Precision is for "
    "crude protein, half the width of its 90% range."
)


def print_sampling(
    plans: Sequence[SamplePlan],
    farm: Farm,
    today: date,
    console: Console,
    worths: Sequence[WorthOfTest] = (),
) -> None:
    """Print which lots to sample, when and how."""
    display = display_for(farm.units)
    parts.say(console, f"{farm.name}, sampling on {display.day_year_text(today)}")
    console.print()
    parts.say(console, _answer(plans, today, display), "bold")
    if not plans:
        return
    console.print()
    parts.say(console, _overview(plans, today, display))
    worth = {one.lot_id: one for one in worths}
    for plan in plans:
        if plan.dates.status != "tested":
            _print_page(plan, farm, console, worth.get(plan.lot_id))
    if any(plan.dates.status != "tested" for plan in plans):
        parts.sentences(console, "Take care", map(display.local, CAUTIONS))
        assumed = map(display.local, _assumptions(farm, plans))
        parts.sentences(console, "Assumptions", assumed)


def _answer(plans: Sequence[SamplePlan], today: date, display: Display) -> str:
    now = [plan for plan in plans if plan.dates.status in _NOW and plan.due_on <= today]
    hot = [plan for plan in plans if plan.dates.status == "hot"]
    ahead = [plan for plan in plans if plan.dates.sample_on is not None and plan not in now]
    if not plans:
        return "The farm has no hay to sample."
    said = []
    if hot:
        said.append(f"Do not touch or core {_names(hot)}: it may burn.")
    if now:
        said.append(f"Sample {_names(now)} now.")
    if ahead:
        said.append(f"Next: {ahead[0].name} on {display.day_text(ahead[0].due_on)}.")
    return " ".join(said) or "Nothing to sample: every lot has a test that is still good."


def _names(plans: Sequence[SamplePlan]) -> str:
    names = [plan.name for plan in plans]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _overview(plans: Sequence[SamplePlan], today: date, display: Display) -> Table:
    table = parts.columns("lot", ">sample", ">no later than", ">result", "")
    for plan in plans:
        dates = plan.dates
        until = dates.good_until
        table.add_row(
            plan.name,
            _day(dates.sample_on, display),
            _day(dates.latest, display),
            _day(dates.result_on, display),
            parts.plain(
                _holds(until, today, display)
                if dates.status == "tested" and until is not None
                else STATUS[dates.status],
                "bold" if dates.status in _LATE else "",
            ),
        )
    return table


def _holds(until: date, today: date, display: Display) -> str:
    """Say how long a test is good; a day that is past carries its year and says so."""
    if until < today:
        return f"test was good to {display.day_year_text(until)}"
    return f"test good to {display.day_year_text(until)}"


def _day(day: date | None, display: Display) -> Text:
    return Text("-" if day is None else display.day_text(day))


def _print_page(plan: SamplePlan, farm: Farm, console: Console, worth: WorthOfTest | None) -> None:
    parts.heading(console, f"{plan.name}: {plan.sample_id}")
    local = display_for(farm.units).local
    grid = parts.labelled()
    for label, sentence in _lines(plan, farm):
        grid.add_row(Text(label, style="bold"), parts.plain(local(sentence)))
    if worth is not None:
        grid.add_row(Text("Worth", style="bold"), parts.plain(worth.sentence))
    parts.say(console, grid)
    if plan.dates.status != "hot":
        parts.say(console, _protocols(plan))


def _lines(plan: SamplePlan, farm: Farm) -> list[tuple[str, str]]:
    dates, way, probing = plan.dates, plan.protocols[0], plan.probing
    lines = [
        ("When", _when(plan, display_for(farm.units))),
        ("Why", _sentence("; ".join(dates.reasons))),
    ]
    if dates.status == "hot":
        return lines
    bales = "" if plan.choice is None else f" {_drawn(plan)}"
    how = f"{_cores(plan, way)}: {probing.face}, {probing.angle}{_depth(probing.depth_m, farm)}"
    lines.append(("How", f"{how}.{bales}"))
    lines.append(("Bag", _bag(plan, display_for(farm.units))))
    lines.append(("Test", _tests(plan)))
    lines.extend(("Order", one) for one in _order(plan))
    if plan.composites > 1:
        lines.append(
            (
                "Note",
                f"Over 200 tons: take {plan.composites} such samples, each drawn with a "
                "different --seed, and average them.",
            )
        )
    if any(one.test == "cp" for one in plan.wanted):
        same, other = way.act_on
        lines.append(
            (
                "Act",
                "Change a ration or a price only when tests differ by more than "
                f"{same:.1f} points of protein within one lab, or {other:.1f} between two labs.",
            )
        )
    notes = [*probing.notes, *plan.remarks]
    if plan.choice is not None and plan.choice.remark is not None:
        notes.append(plan.choice.remark)
    lines.extend(("Note", note) for note in notes)
    return lines


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}."


def _cores(plan: SamplePlan, way: Protocol) -> str:
    if plan.choice is None:
        return f"{way.cores} {plan.probing.taken}s"
    each = "one core each" if way.cores_a_bale == 1 else f"{way.cores_a_bale} cores each"
    return f"{count_text(way.bales, 'bale')}, {each}"


def _depth(depth_m: float | None, farm: Farm) -> str:
    if depth_m is None:
        return ""
    if display_for(farm.units).system == "metric":
        return f", {depth_m * 100:.0f} cm deep"
    return f", {depth_m / M_PER_IN:.0f} in deep"


def _when(plan: SamplePlan, display: Display) -> str:
    dates = plan.dates
    if dates.sample_on is None or dates.ship_on is None:
        return STATUS[dates.status]
    day = f"{WEEKDAYS[dates.sample_on.weekday()]}, {display.day_year_text(dates.sample_on)}"
    ship = (
        "ship it the same day"
        if dates.ship_on == dates.sample_on
        else f"ship it {display.weekday_text(dates.ship_on)}"
    )
    result = (
        "" if dates.result_on is None else f"; result about {display.day_text(dates.result_on)}"
    )
    return f"{day}, {ship}{result}. {_sentence(STATUS[dates.status])}"


def _drawn(plan: SamplePlan) -> str:
    choice = plan.choice
    if choice is None:
        return ""
    numbers = ", ".join(str(number) for number in choice.bales)
    spares = ", ".join(str(number) for number in choice.spares[:5])
    how = "at random" if choice.how == "random" else "at even steps from a random start"
    spare = f" Spares in order: {spares}." if spares else ""
    return (
        f"Number the bales along the stack; core bales {numbers}.{spare} Drawn {how}, "
        f"seed {choice.seed}."
    )


def _bag(plan: SamplePlan, display: Display) -> str:
    grams = plan.sample_g
    ounces = "" if grams is None else f"{grams / (1000.0 * KG_PER_OZ):.0f} oz ({grams:.0f} g)"
    metric = display.system == "metric"
    weight = "" if grams is None else f"About {f'{grams:.0f} g' if metric else ounces}: "
    return _sentence(f"{weight}{plan.bags}") + f" {' '.join(plan.handling)}"


def _tests(plan: SamplePlan) -> str:
    by_reason: dict[str, list[str]] = {}
    for one in plan.wanted:
        name = plain_test(one.test) + (" (wet chemistry)" if one.wet else "")
        by_reason.setdefault(one.reason, []).append(name)
    return "; ".join(f"{', '.join(names)}, because {why}" for why, names in by_reason.items()) + "."


def _order(plan: SamplePlan) -> list[str]:
    order = plan.order
    if order is None:
        return ["No lab in labs.csv offers these: list its packages and prices there."]
    names = " and ".join(one.package for one in order.packages)
    said = [f"{names} package, {order.lab}, {money_text(order.price_usd)}."]
    if order.missing:
        left = ", ".join(plain_test(one.test) for one in order.missing)
        said.append(f"It does not offer {left}: ask, or send a second sample elsewhere.")
    return said


def _protocols(plan: SamplePlan) -> Table:
    table = parts.columns(
        "way",
        ">" + ("places" if plan.choice is None else "bales"),
        f">{plan.probing.taken}s",
        ">same lab ±",
        ">any lab ±",
        ">price",
    )
    for way in plan.protocols:
        table.add_row(
            way.name,
            f"{way.bales}",
            f"{way.cores}",
            f"{way.same_lab:.2f}",
            f"{way.any_lab:.2f}",
            money_text(way.price_usd),
        )
    return table


def _assumptions(farm: Farm, plans: Sequence[SamplePlan]) -> list[str]:
    sources = dict.fromkeys(plan.spread_source for plan in plans)
    said = [
        _PRACTICE,
        f"The spread of protein between cores of one lot is from {'; '.join(sources)}.",
    ]
    if not farm.country:
        said.append(
            "No country is given in farm.toml, so weekends count and holidays do not: write "
            'country = "US" or, with the state, "US-KY".'
        )
    if any(plan.order is None or plan.order.working_days is None for plan in plans):
        said.append(
            "Where labs.csv gives no working days, a result takes 15 days, the mail 4 (2 for wet "
            f"forage) and planning 5 ({COMMON_PRACTICE})."
        )
    said.append(
        "A lot is needed from the start of the season, or from its feed_from date if that is later."
    )
    return said
