"""What holds each group's ration where it is, with an answer for every week."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta
from math import isnan
from typing import Final

import numpy as np

from rickyard.display import Display, listed, money_text
from rickyard.program.explain.costly_needs import PRICE_DUST
from rickyard.program.model import KG_PER_ROW_UNIT, USD_PER_ROW_UNIT, Model, Prices
from rickyard.program.problem import UNITS, Problem
from rickyard.program.result import (
    NUTRIENT_WORDS,
    BindingLimits,
    FarmLimit,
    GroupPeriod,
    LotBalance,
    NeedRow,
    Purchase,
    Sale,
)
from rickyard.quantities import KG_PER_TONNE, is_some
from rickyard.types import FloatArray

#: A need met, or a ceiling left, by less than this share counts as just so.
JUST: Final = 1e-5

#: Ceilings of what an animal can eat, named by what it means for the animal.
_FULL: Final = {
    "appetite": "they are at full appetite",
    "most_dm": "they are at the most they may eat",
    "ndf": "they are full: no room for more fiber",
}


@dataclass(frozen=True, slots=True)
class _Answer:
    """What is short or too much, what is just met or reached, and else what is nearest to it."""

    short: tuple[str, ...]
    too_much: tuple[str, ...]
    tight: tuple[str, ...]
    nearest: str
    spare_pct: float


def held_by(
    problem: Problem,
    needs: Sequence[NeedRow],
    groups: Sequence[GroupPeriod],
    prices: Mapping[str, FloatArray],
    display: Display,
) -> tuple[BindingLimits, ...]:
    """Say for every group and period what holds its ration, in runs of the same answer."""
    rows: dict[tuple[str, int], list[NeedRow]] = {}
    for row in needs:
        rows.setdefault((row.group_id, row.period), []).append(row)
    number = {group.group_id: g for g, group in enumerate(problem.needs.groups)}
    name = {group.group_id: group.name for group in problem.needs.groups}
    known = {one: np.abs(np.nan_to_num(price)) for one, price in prices.items()}
    found: list[tuple[GroupPeriod, GroupPeriod, _Answer]] = []
    for cell in groups:
        paid = {
            one: float(price[number[cell.group_id], cell.period]) / (cell.head * cell.days)
            for one, price in known.items()
        }
        answer = _answer(rows.get((cell.group_id, cell.period), []), paid)
        if found and _goes_on(found[-1], cell, answer):
            first, _, said = found[-1]
            found[-1] = (first, cell, min(said, answer, key=lambda one: one.spare_pct))
        else:
            found.append((cell, cell, answer))
    return tuple(_told(first, last, answer, name, display) for first, last, answer in found)


def _answer(rows: Sequence[NeedRow], paid: Mapping[str, float]) -> _Answer:
    missed = [row for row in rows if is_some(row.shortage)]
    short = tuple(row.nutrient for row in missed if row.bound == "at_least")
    too_much = tuple(row.nutrient for row in missed if row.bound == "at_most")
    tight = [row.nutrient for row in rows if row not in missed and _spare(row) <= JUST]
    priced = [row.nutrient for row in rows if paid.get(row.nutrient, 0.0) > PRICE_DUST]
    if missed:
        full = tuple(one for one in tight if one in _FULL)
        return _Answer(short, too_much, full, "", 0.0)
    if priced or tight:
        size = {row.nutrient: abs(row.need) for row in rows}
        order = sorted(priced or tight, key=lambda one: -paid.get(one, 0.0) * size[one])
        return _Answer((), (), tuple(order), "", 0.0)
    if not rows:
        return _Answer((), (), (), "", 0.0)
    nearest = min(rows, key=_spare)
    return _Answer((), (), (), nearest.nutrient, 100.0 * _spare(nearest))


def _spare(row: NeedRow) -> float:
    """Return how far a need is exceeded or a ceiling is off, as a share of it."""
    size = max(abs(row.need), 1e-9)
    over = row.supplied - row.need if row.bound == "at_least" else row.need - row.supplied
    return over / size


def _goes_on(
    before: tuple[GroupPeriod, GroupPeriod, _Answer], cell: GroupPeriod, answer: _Answer
) -> bool:
    _, last, said = before
    return (
        last.group_id == cell.group_id
        and cell.period == last.period + 1
        and (said.short, said.too_much, set(said.tight), said.nearest)
        == (answer.short, answer.too_much, set(answer.tight), answer.nearest)
    )


def _told(
    first: GroupPeriod,
    last: GroupPeriod,
    answer: _Answer,
    names: Mapping[str, str],
    display: Display,
) -> BindingLimits:
    end = last.start + timedelta(days=last.days)
    when = display.during_text(first.start, end)
    sentence = _sentence(names[first.group_id], when, answer)
    return BindingLimits(
        first.group_id, first.start, end, (*answer.short, *answer.too_much, *answer.tight), sentence
    )


def _sentence(group: str, when: str, answer: _Answer) -> str:
    if answer.too_much and not answer.short:
        words = listed([_word(one) for one in answer.too_much])
        return f"{group} get too much {words} {when}: no feed here dilutes it enough."
    if answer.short:
        missing = listed([_word(one) for one in answer.short])
        full = [_FULL[one] for one in answer.tight]
        why = listed(full[:1]) or "every feed they may have is used up"
        return f"{group} are short of {missing} {when}: {why}."
    if answer.tight:
        if set(answer.tight) <= set(_FULL):
            return f"{group}, {when}: {_FULL[answer.tight[0]]}."
        words = listed([_word(one) for one in answer.tight])
        limits = "is the limit" if len(answer.tight) == 1 else "are the limits"
        return f"{words[:1].upper()}{words[1:]} {limits} on the ration of {group} {when}."
    if answer.nearest:
        spare = f"{answer.spare_pct:.0f}" if answer.spare_pct >= 2.0 else f"{answer.spare_pct:.1f}"
        return (
            f"Nothing is at its limit for {group} {when}; closest is "
            f"{_word(answer.nearest)}, with {spare}% to spare."
        )
    return f"No limit applies to {group} {when}."


def _word(nutrient: str) -> str:
    return NUTRIENT_WORDS.get(nutrient, nutrient.replace("_", " "))


#: A limit of the whole farm missed by less than this share counts as kept.
MISSED_SHARE: Final = 1e-6

#: A limit that costs less than this, US dollars for a unit, costs nothing.
COST_DUST: Final = 1e-4

#: How many more dollars to spend are spoken of.
HUNDRED: Final = 100.0


def farm_limits(
    problem: Problem,
    model: Model,
    prices: Prices,
    lots: tuple[LotBalance, ...],
    bought: tuple[Purchase, ...],
    sold: tuple[Sale, ...],
    display: Display,
) -> tuple[FarmLimit, ...]:
    """Return the limits that hold for the whole farm, by how much each is missed and its price."""
    rows = []
    if problem.cash_limit_usd is not None:
        spent = sum(one.cost_usd for one in bought) - sum(one.revenue_usd for one in sold)
        most = problem.cash_limit_usd
        over = spent - most
        missed = over if is_some(over - MISSED_SHARE * max(abs(most), 1.0)) else 0.0
        price = _price(model, prices, "cash", USD_PER_ROW_UNIT)
        sentence = _cash(most, spent, missed, price)
        rows.append(
            FarmLimit("cash", UNITS["cash"], "at_most", most, spent, missed, price, sentence)
        )
    if is_some(problem.reserve_kg_dm):
        wanted = problem.reserve_kg_dm / KG_PER_TONNE
        left = sum(lot.left_t for lot in lots)
        lacks = wanted - left
        missed = lacks if is_some(lacks - MISSED_SHARE * wanted) else 0.0
        price = _price(model, prices, "reserve", KG_PER_ROW_UNIT / KG_PER_TONNE)
        sentence = _reserve(wanted, left, missed, price, display)
        rows.append(
            FarmLimit(
                "reserve", UNITS["reserve"], "at_least", wanted, left, missed, price, sentence
            )
        )
    return tuple(rows)


def _price(model: Model, prices: Prices, name: str, unit: float) -> float | None:
    """Return what one unit of room more in the row of a limit saves, ``None`` if a shortage."""
    saved = -float(prices.row[model.farm_row[name]]) / unit
    if isnan(saved):
        return None
    return saved if is_some(saved - COST_DUST) else 0.0


def _cash(most: float, spent: float, missed: float, price: float | None) -> str:
    opening = f"Feed costs {money_text(spent)} of the {money_text(most)} available"
    if is_some(missed):
        return f"{opening}: over the limit."
    if price is None:
        return f"{opening}; more money would make up part of what is short."
    if not price:
        return f"{opening}."
    saves = money_text(HUNDRED * price)
    return f"{opening}; {money_text(HUNDRED)} more to spend would save {saves}."


def _reserve(
    wanted: float, left: float, missed: float, price: float | None, display: Display
) -> str:
    tons = (display.amount_text(one * KG_PER_TONNE) for one in (left, wanted))
    opening = "{} of hay left on the last day, {} needed in reserve".format(*tons)
    if is_some(missed):
        return f"{opening}: the reserve falls short."
    if price is None:
        return f"{opening}; hay fed instead would make up part of what is short."
    if not price:
        return f"{opening}."
    a_ton = money_text(price * display.kg_per_ton / KG_PER_TONNE)
    return f"{opening}; a reserve one {display.ton_word} of dry matter smaller would save {a_ton}."
