"""The yard in the terminal: what stands first, then lot by lot, the book last."""

from __future__ import annotations

from collections.abc import Sequence

from rich.console import Console
from rich.text import Text

from rickyard.cli.show import parts
from rickyard.display import (
    Display,
    count_text,
    display_for,
    localized,
    money_text,
    number_text,
    tons_column,
)
from rickyard.farm import Farm, Package
from rickyard.hay.precision import two_sided_z
from rickyard.hay.yard import YardLine, YardPage
from rickyard.quantities import KG_PER_TONNE
from rickyard.sheets.wording import CONFIDENCE, LINES, outlook_sentence, stands_sentence


def print_yard(page: YardPage, farm: Farm, console: Console, *, with_book: bool = False) -> None:
    """Print what stands in the yard."""
    display = display_for(farm.units)
    page = localized(page, display)
    parts.say(console, f"{farm.name}, the yard on {display.day_year_text(page.day)}")
    console.print()
    parts.say(console, stands_sentence(page, display), "bold")
    if page.outlook is not None:
        parts.say(console, outlook_sentence(page.outlook, display))
    _print_lots(page.lines, display, console)
    parts.cautions(console, page.cautions, farm, "Take care")
    parts.sentences(console, "Sell or keep", _sales(page, display))
    weighing = map(display.local, _weighing(page.lines, farm))
    parts.sentences(console, "What to weigh", weighing)
    parts.sentences(console, "Ways to cut storage loss", _advice(page.lines))
    _print_accounts(page.lines, display, console)
    if with_book:
        _print_books(page.lines, console)
    parts.sentences(console, "Assumptions", page.assumptions)


def _print_lots(lines: Sequence[YardLine], display: Display, console: Console) -> None:
    parts.heading(console, f"On hand, {_unit(display)}")
    table = parts.columns(
        "lot", ">bales", ">as fed", ">dry", ">±", ">lost", ">will lose", ">in dollars"
    )
    z = two_sided_z(CONFIDENCE)
    for line in lines:
        now = line.standing
        table.add_row(
            line.name,
            number_text(now.bales),
            _tons(now.as_fed_kg, display),
            _tons(now.dry_kg, display),
            _tons(z * now.dry_se_kg, display),
            display.percent_text(line.lost_pct),
            display.percent_text(line.will_lose_pct),
            "-" if line.will_lose_usd is None else money_text(line.will_lose_usd),
        )
    console.print(table)
    parts.say(
        console,
        display.local(
            "Lost is dry matter since baling; will lose is to the end of the season, and what "
            "that is in dollars. Give or take, and ±, is half the 90% range: the true weight "
            "is within it 9 times out of 10."
        ),
    )


def _unit(display: Display) -> str:
    return "in short tons" if display.system == "us" else "in tonnes"


def _tons(kg: float, display: Display) -> Text:
    return Text(tons_column(display.tons(kg / KG_PER_TONNE)))


def _sales(page: YardPage, display: Display) -> list[str]:
    told = page.outlook
    if told is None or told.over_kg <= 0.0:
        return []
    priced = [line for line in page.lines if line.sell is not None and line.standing.bales > 0.0]
    if not priced:
        return []
    over = display.tons_text(told.over_kg / KG_PER_TONNE)
    said = [f"{over} of dry matter over need and reserve. Sell first what would lose most:"]
    for line in sorted(priced, key=lambda one: -one.will_lose_pct)[:3]:
        if line.sell is None:
            continue
        now = display.price_per_ton_text(line.sell.now)
        must = display.price_per_ton_text(line.sell.later_must_be)
        said.append(
            f"{line.name} brings {now} now and would have to bring {must} at the end of the season."
        )
    return said


def _weighing(lines: Sequence[YardLine], farm: Farm) -> list[str]:
    """Say how many bales to weigh, lots that want as many told together."""
    by_count: dict[tuple[int, str], list[str]] = {}
    for line in lines:
        if line.weigh is not None and line.standing.bales > 0.0:
            what = "load" if farm.lot(line.lot_id).package is Package.LOOSE else "bale"
            by_count.setdefault((line.weigh, what), []).append(line.name)
    return [
        f"{', '.join(names)}: weigh {count_text(count, what)} of each lot, to know the "
        "average within 5% (90% range); put bales_weighed in lots.csv."
        for (count, what), names in sorted(by_count.items())
    ]


def _advice(lines: Sequence[YardLine]) -> list[str]:
    by_sentence: dict[str, list[str]] = {}
    for line in lines:
        if line.standing.bales > 0.0:
            for one in line.advice:
                by_sentence.setdefault(one.sentence, []).append(line.name)
    return [f"{', '.join(names)}: {says}" for says, names in by_sentence.items()]


def _print_accounts(lines: Sequence[YardLine], display: Display, console: Console) -> None:
    """Print what became of lots that the book tells something of."""
    told = [line for line in lines if set(line.account.bales) - {"opening"}]
    if not told:
        return
    parts.heading(console, f"Since baling, dry matter {_unit(display)}")
    table = parts.columns("lot", "", ">bales", ">dry")
    for line in told:
        name = line.name
        for kind, bales in line.account.bales.items():
            table.add_row(
                name, LINES[kind], f"{bales:+,.5g}", _signed(line.account.dry_kg[kind], display)
            )
            name = ""
        table.add_row("", "lost in storage", "", _signed(-line.account.storage_loss_kg, display))
        table.add_row(
            "",
            Text("on hand", style="bold"),
            Text(f"{line.account.closing_bales:,.5g}", style="bold"),
            _tons(line.account.closing_dry_kg, display),
        )
    console.print(table)


def _signed(kg: float, display: Display) -> Text:
    tons = round(display.tons(kg / KG_PER_TONNE), 1)
    return Text(f"{tons:+,.1f}" if tons else "0.0")


def _print_books(lines: Sequence[YardLine], console: Console) -> None:
    parts.heading(console, "The book")
    table = parts.columns("day", "lot", "", ">bales")
    for line in lines:
        for one in line.book:
            about = f" ({one.about})" if one.about else ""
            table.add_row(
                one.day.isoformat(), line.lot_id, f"{LINES[one.kind]}{about}", f"{one.bales:+,.5g}"
            )
    console.print(table)
