"""A season program as JSON, for other programs: stable keys, ISO dates, metric units."""

from __future__ import annotations

import json
from dataclasses import fields
from typing import Any, Final

from rickyard.program.result import (
    SCHEMA_VERSION,
    ChangeOver,
    NeedRow,
    SeasonProgram,
    WishOutcome,
)
from rickyard.sheets.data_files.plain_json import plain

#: Fields whose key in the document is shorter than their name.
JSON_KEYS: Final = {
    "group_id": "group",
    "source_id": "source",
    "lot_id": "lot",
    "feed_id": "feed",
    "next_best_id": "next_best",
}


def plan_to_dict(program: SeasonProgram) -> dict[str, Any]:
    """Return a season program as plain dictionaries, lists, strings and numbers.

    Parameters
    ----------
    program : SeasonProgram
        The program to write.

    Returns
    -------
    dict
        As ``plan_schema`` describes it: masses in kg or t, money in US dollars.

    Raises
    ------
    NotFinite
        If a number is infinite or not a number.
    """
    costs = program.costs
    plan = {
        "schema_version": SCHEMA_VERSION,
        "farm": program.farm_name,
        "season": {"start": program.start, "end": program.end},
        "status": program.status,
        "cost": program.cost,
        "penalty": program.penalty,
        "bound": program.bound,
        "gap": program.gap,
        "costs": {**_row(costs), "total": costs.total},
        "periods": [_row(one) for one in program.periods],
        "sources": [_row(one) for one in program.sources],
        "groups": [_row(one) for one in program.groups],
        "feeding": [_row(one) for one in program.feeding],
        "needs": [_need(one) for one in program.needs],
        "supplied": [_supplied(one) for one in program.needs],
        "shortages": [_row(one) for one in program.shortages],
        "purchases": [_row(one) for one in program.purchases],
        "lots": [{**_row(one), "fed_t": one.eaten_t + one.feeding_loss_t} for one in program.lots],
        "limits": [_row(one) for one in program.limits],
        "lot_worth": [_row(one) for one in program.lot_worth],
        "feed_worth": [_row(one) for one in program.feed_worth],
        "cautions": [_row(one) for one in program.cautions],
        "assumptions": [_row(one) for one in program.assumptions],
        "wishes": [_wish(one) for one in program.wishes],
        "held_by": [{**_row(one), "nutrients": list(one.nutrients)} for one in program.held_by],
        "reasons": [_row(one) for one in program.reasons],
        "unit_worth": [_row(one) for one in program.unit_worth],
        "test_worth": [_row(one) for one in program.test_worth],
        "remedies": [_row(one) for one in program.remedies],
        "sales": [_row(one) for one in program.sales],
        "farm_limits": [_row(one) for one in program.farm_limits],
        "deliveries": [_row(one) for one in program.deliveries],
        "delivery_totals": [_row(one) for one in program.delivery_totals],
        "change_overs": [_change_over(one) for one in program.change_overs],
        "made": program.made,
    }
    document: dict[str, Any] = plain(plan, "plan")
    return document


def plan_json(program: SeasonProgram) -> str:
    """Return a season program as JSON text, keys always in the same order.

    Parameters
    ----------
    program : SeasonProgram
        The program.

    Returns
    -------
    str
        One object; units stand in its keys, or in a key ``unit`` beside the value.

    Raises
    ------
    NotFinite
        If a number is infinite or not a number.
    """
    return json.dumps(plan_to_dict(program), ensure_ascii=False, indent=1, allow_nan=False) + "\n"


def _row(one: Any) -> dict[str, Any]:
    return {
        JSON_KEYS.get(field.name, field.name): getattr(one, field.name) for field in fields(one)
    }


def _need(one: NeedRow) -> dict[str, Any]:
    row = _row(one)
    del row["supplied"], row["assured"]
    return row


def _supplied(one: NeedRow) -> dict[str, Any]:
    row = _row(one)
    supplied, assured = row.pop("supplied"), row.pop("assured")
    del row["need"], row["shortage"]
    return {**row, "supplied": supplied, "assured": assured}


def _wish(one: WishOutcome) -> dict[str, Any]:
    row = _row(one)
    return {**_row(row.pop("wish")), **row}


def _change_over(one: ChangeOver) -> dict[str, Any]:
    lists = {"from_sources": list(one.from_sources), "shares": list(one.shares)}
    return {**_row(one), **lists}
