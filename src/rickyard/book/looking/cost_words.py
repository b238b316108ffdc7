"""What was fed, in money, in words: a row for each group and each lot or feed."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rickyard.book.looking.costs import CostLine, Costs, GroupCost
from rickyard.display import Display, clean, count_text, listed, money_text
from rickyard.farm import Farm

_NOT_KNOWN = "not known"


@dataclass(frozen=True, slots=True)
class CostTold:
    """A row: what it is of, how much was put out, what it cost, and what that is a ton."""

    who: str
    what: str
    put_out: str
    cost: str
    a_ton: str


@dataclass(frozen=True, slots=True)
class HeadTold:
    """What a group cost: in all, a head, a head and day, a ton put out."""

    group: str
    cost: str
    a_head: str
    a_day: str
    a_ton: str


@dataclass(frozen=True, slots=True)
class CostsTold:
    """All that is said of money."""

    answer: str
    groups: tuple[HeadTold, ...]
    lines: tuple[CostTold, ...]
    sources: tuple[CostTold, ...]
    remarks: tuple[str, ...]


def costs_told(found: Costs, farm: Farm, display: Display) -> CostsTold:
    """Return what was fed in money, in words.

    Parameters
    ----------
    found : Costs
        What it cost.
    farm : Farm
        Gives the names.
    display : Display
        Its units.

    Returns
    -------
    CostsTold
        What is not known says so and is in no sum.
    """
    names = {one.group_id: one.name for one in farm.groups}
    names |= {one.lot_id: one.name for one in farm.lots}
    names |= {one.feed_id: one.name for one in farm.feeds}
    names = {key: clean(name) for key, name in names.items()}
    answer = (
        f"What was put out cost {money_text(found.usd)}"
        f"{'' if found.is_whole else ' and more'}, {_a_ton(found.usd, found.kg, display)} as fed."
    )
    remarks = list(_remarks(found, names, display))
    return CostsTold(
        display.local(answer),
        tuple(_head(one, names, display) for one in found.groups),
        tuple(_row(one, names, display) for one in found.lines),
        tuple(_row(one, names, display) for one in found.of_sources()),
        tuple(display.local(one) for one in remarks),
    )


def _head(one: GroupCost, names: dict[str, str], display: Display) -> HeadTold:
    more = "" if one.is_whole else " and more"
    return HeadTold(
        names.get(one.group_id, one.group_id),
        money_text(one.usd) + more,
        money_text(one.usd_a_head) + more,
        f"${one.usd_a_day:.2f}{more}",
        display.price_per_ton_text(one.usd / one.kg) if one.is_whole and one.kg else _NOT_KNOWN,
    )


def _row(one: CostLine, names: dict[str, str], display: Display) -> CostTold:
    what = names.get(one.source_id, one.source_id)
    amount = display.amount_text(one.kg)
    if one.unweighed:
        amount += f" and {count_text(one.unweighed, 'line')} without a weight"
    priced = one.kg - one.unpriced_kg
    known = priced > 0.0
    return CostTold(
        names.get(one.group_id, one.group_id),
        f"{what}, by the program" if one.by_program else what,
        amount,
        (money_text(one.usd) + ("" if one.is_whole else " and more")) if known else _NOT_KNOWN,
        display.price_per_ton_text(one.usd / priced) if known else _NOT_KNOWN,
    )


def _remarks(found: Costs, names: dict[str, str], display: Display) -> list[str]:
    said = []
    bare = sorted({names.get(one.source_id, one.source_id) for one in found.lines
                   if one.unpriced_kg > 0.0})  # fmt: skip
    if bare:
        kg = math.fsum(one.unpriced_kg for one in found.lines)
        said.append(
            f"{display.amount_text(kg)} of {listed(bare)} has no price and is in no sum: write "
            "what the hay would bring, or what the feed cost."
        )
    lines = sum(one.unweighed for one in found.lines)
    if lines:
        what = "has" if lines == 1 else "have"
        said.append(f"{count_text(lines, 'line')} {what} no weight and {what} no cost here.")
    if any(one.by_program for one in found.lines):
        said.append("Mineral that nobody noted counts as the program feeds it.")
    elif not found.has_mineral:
        said.append("No mineral is noted, and no program feeds one: it is in no sum.")
    return said


def _a_ton(usd: float, kg: float, display: Display) -> str:
    return display.price_a_ton(usd / kg) if kg else _NOT_KNOWN
