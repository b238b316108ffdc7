"""What would be different, from what a person types to a change of the farm."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from rickyard.farm import Farm, Winter
from rickyard.program.planning import (
    Change,
    HeadCount,
    Intake,
    LotLoss,
    Price,
    SeasonEnd,
    WinterIs,
)
from rickyard.quantities import QuantityError, parse_quantity
from rickyard.service.errors import NotUnderstood

#: No farm has more head of a group, and no feed a higher price.
MOST_HEAD: Final = 1_000_000
MOST_USD_PER_KG: Final = 1_000.0

_PERCENT: Final = re.compile(r"([+-]?\d+(?:\.\d+)?)\s*%")
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


def changes_of(farm: Farm, asked: Asked) -> list[Change]:
    """Return what is to be different.

    Parameters
    ----------
    farm : Farm
        Gives heads and prices that a change is counted from.
    asked : Asked
        What was typed.

    Raises
    ------
    NotUnderstood
        If any of it cannot be read, or speaks of what the farm has not.
    """
    winters = [one for word in asked.winter for one in (_EACH if word == "all" else (word,))]
    return [
        *(_head(farm, text) for text in asked.head),
        *(_lose(farm, text) for text in asked.without),
        *(_price(farm, text) for text in asked.price),
        *(SeasonEnd(day) for day in asked.until),
        *(WinterIs(Winter(word)) for word in dict.fromkeys(winters)),
        *(Intake(_percent("--intake", text, "+10%")) for text in asked.intake),
    ]


_EACH: Final = ("mild", "normal", "severe")


def _head(farm: Farm, text: str) -> Change:

    group_id, value = _pair("--head", text, "cows=70")
    groups = {group.group_id: group.head for group in farm.groups}
    if group_id not in groups:
        raise NotUnderstood(_unknown("--head", group_id, "group", list(groups)))
    if found := _PERCENT.fullmatch(value):
        head = round(groups[group_id] * (1.0 + float(found[1]) / 100.0))
        if 0 <= head <= MOST_HEAD:
            return HeadCount(group_id, head)
    if found := _NUMBER.fullmatch(value):
        number = int(found[2])
        step = {"": number - groups[group_id], "+": number, "-": -number}[found[1]]
        if 0 <= groups[group_id] + step <= MOST_HEAD:
            return HeadCount(group_id, groups[group_id] + step)
    raise NotUnderstood(
        f'--head {text}: "{value}" is no number of head; write {group_id}=70, {group_id}=+5 or '
        f"{group_id}=-10%, and no more than {MOST_HEAD:,}."
    )


def _lose(farm: Farm, text: str) -> Change:
    lot_id, equals, value = text.partition("=")
    lots = [lot.lot_id for lot in farm.lots]
    if lot_id not in lots:
        raise NotUnderstood(_unknown("--without", lot_id, "lot", lots))
    if not equals:
        return LotLoss(lot_id)
    share = _percent("--without", value, f"{lot_id}=40%")
    if not 0.0 < share <= 1.0:
        raise NotUnderstood(
            f"--without {text}: write how much of it is gone, more than 0 and up to 100%, as "
            f"{lot_id}=40%."
        )
    return LotLoss(lot_id, share)


def _price(farm: Farm, text: str) -> Change:

    source_id, value = _pair("--price", text, "cubes=+20%")
    prices: dict[str, float | None] = {feed.feed_id: feed.price_usd_per_kg for feed in farm.feeds}
    prices |= {lot.lot_id: lot.value_usd_per_kg for lot in farm.lots}
    if source_id not in prices:
        raise NotUnderstood(_unknown("--price", source_id, "lot or feed", list(prices)))
    if found := _PERCENT.fullmatch(value):
        now = prices[source_id]
        if now is None:
            raise NotUnderstood(
                f"--price {text}: no value is given for {source_id}; write a price, as "
                f'"{source_id}=120 $/ton".'
            )
        price = now * (1.0 + float(found[1]) / 100.0)
    else:
        try:
            price = parse_quantity(
                value, "price", "usd_per_ton" if farm.units == "us" else "usd_per_t"
            )
        except QuantityError as error:
            raise NotUnderstood(f"--price {text}: {error}") from error
    if not 0.0 <= price <= MOST_USD_PER_KG:
        raise NotUnderstood(
            f"--price {text}: a price is not below nothing, and not above "
            f"{MOST_USD_PER_KG:,.0f} dollars a kilogram."
        )
    return Price(source_id, price)


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
