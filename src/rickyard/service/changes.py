"""What would be different, from what a person types to a change of the farm."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from rickyard.farm import Farm, Winter
from rickyard.program import planning
from rickyard.quantities import QuantityError, parse_quantity
from rickyard.service.errors import NotUnderstood

#: No farm has more head of a group, and no feed a higher price.
MOST_HEAD: Final = 1_000_000
MOST_USD_PER_KG: Final = 1_000.0

_PERCENT: Final = re.compile(r"([+-]?\d+(?:\.\d+)?)\s*%")
MOST_CASH_USD: Final = 1e9
MOST_BOUGHT_KG: Final = 1e8

#: What takes a limit or a price away.
_NONE: Final = "none"

_DOLLARS: Final = re.compile(r"([+-]?)(\d+(?:\.\d+)?)")
_NUMBER: Final = re.compile(r"([+-]?)(\d+)")


@dataclass(frozen=True, slots=True)
class Asked:
    """What was typed, option by option, in the order of the options."""

    head: Sequence[str] = ()
    price: Sequence[str] = ()
    without: Sequence[str] = ()
    until: Sequence[date] = ()
    intake: Sequence[str] = ()
    winter: Sequence[str] = ()
    cash: Sequence[str] = ()
    sale: Sequence[str] = ()
    buy: Sequence[str] = ()
    condition: Sequence[str] = ()


def changes_of(farm: Farm, asked: Asked) -> list[planning.Change]:
    """Return what is to be different.

    ``farm``: gives heads and prices that a change is counted from. ``asked``: what was typed.
    Returns the changes, in the order of the options. Raises ``NotUnderstood`` if any of it cannot
    be read, or speaks of what the farm has not.
    """
    winters = [one for word in asked.winter for one in (_EACH if word == "all" else (word,))]
    return [
        *(_head(farm, text) for text in asked.head),
        *(_lose(farm, text) for text in asked.without),
        *(_price(farm, text) for text in asked.price),
        *(planning.SeasonEnd(day) for day in asked.until),
        *(planning.WinterIs(Winter(word)) for word in dict.fromkeys(winters)),
        *(planning.Intake(_percent("--intake", text, "+10%")) for text in asked.intake),
        *(_cash(farm, text) for text in asked.cash),
        *(_sale(farm, text) for text in asked.sale),
        *(_buy(farm, text) for text in asked.buy),
        *(_condition(farm, text) for text in asked.condition),
    ]


_EACH: Final = ("mild", "normal", "severe")


def _head(farm: Farm, text: str) -> planning.Change:

    group_id, value = _pair("--head", text, "cows=70")
    groups = {group.group_id: group.head for group in farm.groups}
    if group_id not in groups:
        raise NotUnderstood(_unknown("--head", group_id, "group", list(groups)))
    if found := _PERCENT.fullmatch(value):
        head = round(groups[group_id] * (1.0 + float(found[1]) / 100.0))
        if 0 <= head <= MOST_HEAD:
            return planning.HeadCount(group_id, head)
    if found := _NUMBER.fullmatch(value):
        number = int(found[2])
        step = {"": number - groups[group_id], "+": number, "-": -number}[found[1]]
        if 0 <= groups[group_id] + step <= MOST_HEAD:
            return planning.HeadCount(group_id, groups[group_id] + step)
    raise NotUnderstood(
        f'--head {text}: "{value}" is no number of head; write {group_id}=70, {group_id}=+5 or '
        f"{group_id}=-10%, and no more than {MOST_HEAD:,}."
    )


def _lose(farm: Farm, text: str) -> planning.Change:
    lot_id, equals, value = text.partition("=")
    lots = [lot.lot_id for lot in farm.lots]
    if lot_id not in lots:
        raise NotUnderstood(_unknown("--without", lot_id, "lot", lots))
    if not equals:
        return planning.LotLoss(lot_id)
    share = _percent("--without", value, f"{lot_id}=40%")
    if not 0.0 < share <= 1.0:
        raise NotUnderstood(
            f"--without {text}: write how much of it is gone, more than 0 and up to 100%, as "
            f"{lot_id}=40%."
        )
    return planning.LotLoss(lot_id, share)


def prices_asked(farm: Farm, texts: Sequence[str]) -> dict[str, float]:
    """Return what lots and feeds cost, as typed: "cubes=390", "cubes=+5%".

    ``farm``: gives prices that a change is counted from. ``texts``: what was typed. Returns prices
    by short name, as fed [US dollars per kg]. Raises ``NotUnderstood`` if one cannot be read.
    """
    return {one.source_id: one.usd_per_kg for one in (_price(farm, text) for text in texts)}


def _price(farm: Farm, text: str) -> planning.Price:
    source_id, value = _pair("--price", text, "cubes=+20%")
    prices: dict[str, float | None] = {feed.feed_id: feed.price_usd_per_kg for feed in farm.feeds}
    prices |= {lot.lot_id: lot.value_usd_per_kg for lot in farm.lots}
    if source_id not in prices:
        raise NotUnderstood(_unknown("--price", source_id, "lot or feed", list(prices)))
    return planning.Price(source_id, _money_per_kg(farm, "--price", text, value, prices[source_id]))


def _sale(farm: Farm, text: str) -> planning.Change:
    lot_id, value = _pair("--sale", text, "A1=140")
    lots = {lot.lot_id: lot.sale_usd_per_kg for lot in farm.lots}
    if lot_id not in lots:
        raise NotUnderstood(_unknown("--sale", lot_id, "lot", list(lots)))
    if value == _NONE:
        return planning.SalePrice(lot_id, None)
    return planning.SalePrice(lot_id, _money_per_kg(farm, "--sale", text, value, lots[lot_id]))


def _money_per_kg(farm: Farm, option: str, text: str, value: str, now: float | None) -> float:
    """Return a price as fed, stated or counted from the one of now. [USD/kg]."""
    name = text.partition("=")[0].strip()
    if found := _PERCENT.fullmatch(value):
        if now is None:
            raise NotUnderstood(
                f"{option} {text}: no price is given for {name} now; write one, as "
                f'"{name}=120 $/ton".'
            )
        price = now * (1.0 + float(found[1]) / 100.0)
    else:
        try:
            price = parse_quantity(
                value, "price", "usd_per_ton" if farm.units == "us" else "usd_per_t"
            )
        except QuantityError as error:
            raise NotUnderstood(f"{option} {text}: {error}") from error
    if not 0.0 <= price <= MOST_USD_PER_KG:
        raise NotUnderstood(
            f"{option} {text}: a price is not below nothing, and not above "
            f"{MOST_USD_PER_KG:,.0f} dollars a kilogram."
        )
    return price


def _cash(farm: Farm, text: str) -> planning.Change:
    value = text.strip().replace(",", "").removeprefix("$")
    now = farm.season.cash_limit_usd
    if value == _NONE:
        return planning.Cash(None)
    found, share = _DOLLARS.fullmatch(value), _PERCENT.fullmatch(value)
    if (share or (found and found[1])) and now is None:
        raise NotUnderstood(
            f"--cash {text}: the farm has no limit on cash to count from; write one, as 20000."
        )
    if share and now is not None:
        return planning.Cash(_some_cash(text, now * (1.0 + float(share[1]) / 100.0)))
    if found:
        amount = float(found[2])
        step = {"": amount, "+": (now or 0.0) + amount, "-": (now or 0.0) - amount}[found[1]]
        return planning.Cash(_some_cash(text, step))
    raise NotUnderstood(
        f"--cash {text}: write dollars that may be spent on feed, as 20000, +5000, -10% or none."
    )


def _some_cash(text: str, usd: float) -> float:
    if not 0.0 <= usd <= MOST_CASH_USD:
        raise NotUnderstood(
            f"--cash {text}: that is {usd:,.0f} dollars; write 0 to {MOST_CASH_USD:,.0f}."
        )
    return usd


def _buy(farm: Farm, text: str) -> planning.Change:
    source_id, value = _pair("--buy", text, "A1=20 ton")
    known = [*(lot.lot_id for lot in farm.lots), *(feed.feed_id for feed in farm.feeds)]
    if source_id not in known:
        raise NotUnderstood(_unknown("--buy", source_id, "lot or feed", known))
    try:
        mass = parse_quantity(value, "mass", "ton" if farm.units == "us" else "t")
    except QuantityError as error:
        raise NotUnderstood(f"--buy {text}: {error}") from error
    if not 0.0 <= mass <= MOST_BOUGHT_KG:
        raise NotUnderstood(
            f"--buy {text}: write an amount from nothing to {MOST_BOUGHT_KG / 1000:,.0f} tonnes."
        )
    return planning.Bought(source_id, mass)


def _condition(farm: Farm, text: str) -> planning.Change:
    group_id, value = _pair("--condition", text, "cows=5.5")
    groups = [group.group_id for group in farm.groups]
    if group_id not in groups:
        raise NotUnderstood(_unknown("--condition", group_id, "group", groups))
    try:
        score = float(value)
    except ValueError as error:
        raise NotUnderstood(
            f'--condition {text}: "{value}" is no body condition; write one of 1 to 9, as 5.5.'
        ) from error
    return planning.Condition(group_id, score)


def _percent(option: str, text: str, example: str) -> float:
    found = _PERCENT.fullmatch(text.strip())
    if found is None:
        raise NotUnderstood(f'{option} {text}: write a percentage, as "{example}".')
    return float(found[1]) / 100.0


def _pair(option: str, text: str, example: str) -> tuple[str, str]:
    name, equals, value = text.partition("=")
    if not (name.strip() and equals and value.strip()):
        raise NotUnderstood(f"{option} {text}: write a name, =, and a value, as {example}.")
    return name.strip(), value.strip()


def _unknown(option: str, given: str, what: str, known: list[str]) -> str:
    there = ", ".join(known) if known else "none"
    return f'{option}: "{given}" is no {what} of this farm; it has: {there}.'
