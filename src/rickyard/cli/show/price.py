"""Prices in the terminal: the answer first, then every way to count it."""

from __future__ import annotations

from collections.abc import Sequence

from rich.console import Console
from rich.text import Text

from rickyard.cli.show import parts
from rickyard.display import Display, display_for
from rickyard.hay.money import HayPrice, Offer, StoragePrice
from rickyard.quantities import KG_PER_LB


def print_hay_price(offer: Offer, found: HayPrice, units: str, console: Console) -> None:
    """Print what an offer of hay comes to."""
    display = display_for(units)
    eaten = display.price_per_ton_text(found.eaten_usd_per_kg)
    price = display.price_per_ton_text(found.usd_per_kg)
    bale = f"${found.usd_per_bale:,.2f} a bale of {display.mass_text(offer.bale_kg)}"
    parts.say(console, f"{bale} is {price}, and {eaten} after storage and feeding loss.", "bold")
    console.print()
    table = parts.columns("", ">as fed", ">dry matter")
    dry = found.usd_per_kg * 100.0 / offer.dm_pct
    for name, as_fed, of_dry in (
        ("at the stack", found.usd_per_kg, dry),
        ("delivered", found.delivered_usd_per_kg, found.delivered_usd_per_kg_dm),
        ("after storage and feeding loss", found.eaten_usd_per_kg, found.eaten_usd_per_kg_dm),
    ):
        table.add_row(name, _per_ton(as_fed, display), _per_ton(of_dry, display))
    console.print(table)
    console.print()
    for name, cost in (("protein", found.cp_usd_per_kg), ("TDN", found.tdn_usd_per_kg)):
        if cost is not None:
            each = cost * KG_PER_LB if display.system == "us" else cost
            parts.say(console, f"A {_pound(display)} of {name} in it costs ${each:.3f}.")
    parts.say(console, _worth(found, display))


def _worth(found: HayPrice, display: Display) -> str:
    if found.worth_usd_per_kg is None:
        return found.worth_remark
    worth = display.price_per_ton_text(found.worth_usd_per_kg)
    cheap = found.worth_usd_per_kg > found.delivered_usd_per_kg
    verdict = "more than it costs delivered" if cheap else "less than it costs delivered"
    return (
        f"Priced against corn and soybean meal, it is worth {worth}, {verdict}. That assumes the "
        "market pays for energy and protein alone (Petersen method, St-Pierre 2001)."
    )


def _pound(display: Display) -> str:
    return "pound" if display.system == "us" else "kilogram"


def _per_ton(usd_per_kg: float, display: Display) -> Text:
    return Text(display.price_per_ton_text(usd_per_kg))


def print_storage_prices(
    found: Sequence[StoragePrice], price: float, units: str, console: Console
) -> None:
    """Print ways of storing side by side, against the first. ``price`` is of the hay. [$/kg]."""
    display = display_for(units)
    best = min(found, key=lambda one: one.fed_usd_per_kg)
    fed = display.price_per_ton_text(best.fed_usd_per_kg)
    stored = display.price_per_ton_text(price)
    answer = (
        f"Cheapest: {best.way.name}. Hay of {stored} costs {fed} when it is fed."
        if len(found) > 1
        else f"With {best.way.name} hay of {stored} costs {fed} when it is fed. Say what another "
        "way costs to set it beside this: --net, --pad, --tarp or --barn."
    )
    parts.say(console, answer, "bold")
    console.print()
    table = parts.columns(
        "way", ">loss", ">lost", ">costs", ">a ton fed", ">pays from", ">worth up to"
    )
    for one in found:
        table.add_row(
            one.way.name,
            f"{one.loss_pct:.1f}%",
            _per_ton(one.lost_usd_per_kg, display),
            _per_ton(one.way.usd_per_kg_year, display),
            _per_ton(one.fed_usd_per_kg, display),
            _maybe(one.pays_from_usd_per_kg, display),
            _maybe(one.worth_up_to_usd_per_kg, display),
        )
    console.print(table)
    console.print()
    parts.say(
        console,
        "Pays from is the price of hay from which it pays, worth up to the most it may cost "
        "at this price, both against the first way. Losses are Huhnke's (Oklahoma State "
        "BAE-1716) by rainfall and months; published losses differ widely.",
    )
    for remark in dict.fromkeys(one.remark for one in found if one.remark):
        parts.say(console, remark)


def _maybe(usd_per_kg: float | None, display: Display) -> Text:
    return Text("-") if usd_per_kg is None else _per_ton(usd_per_kg, display)
