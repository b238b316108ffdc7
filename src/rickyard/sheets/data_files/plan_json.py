"""A season program as JSON, for other programs: stable keys, ISO dates, metric units."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from dataclasses import fields
from functools import cache
from typing import Any, Final, cast

from rickyard.program.result import (
    SCHEMA_VERSION,
    LotBalance,
    NeedRow,
    Outcome,
    Ration,
    SeasonProgram,
    WinterProgram,
    WinterPrograms,
    WishOutcome,
)
from rickyard.sheets.data_files.plain_json import document, plain, rows_on_lines

#: Fields whose key in the document is shorter than their name.
JSON_KEYS: Final = {
    "group_id": "group",
    "source_id": "source",
    "lot_id": "lot",
    "feed_id": "feed",
    "next_best_id": "next_best",
    "rule_id": "rule",
}


def plan_to_dict(program: SeasonProgram) -> dict[str, Any]:
    """Return a season program as plain dictionaries, lists, strings and numbers.

    Returns as ``plan_schema`` describes it: masses in kg or t, money in US dollars. Raises
    ``NotFinite`` if a number is infinite or not a number.
    """
    plan: dict[str, Any] = {
        "schema_version": SCHEMA_VERSION,
        "farm": program.farm_name,
        "season": {"start": program.start, "end": program.end},
    }
    for field in fields(program):
        value = getattr(program, field.name)
        if isinstance(value, tuple):
            row = _ROWS.get(field.name, _row)
            plan[field.name] = [row(one) for one in value]
        elif field.name not in NO_KEY:
            plan[field.name] = value
        if field.name == "needs":
            plan["supplied"] = [_supplied(one) for one in value]
    plan["costs"] = {**_row(program.costs), "total": program.costs.total}
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
    return rows_on_lines(plan_to_dict(program))


def _row(one: Any) -> dict[str, Any]:
    return {key: getattr(one, name) for name, key in _keys(cast(Hashable, type(one)))}


@cache
def _keys(kind: Any) -> tuple[tuple[str, str], ...]:
    return tuple((field.name, JSON_KEYS.get(field.name, field.name)) for field in fields(kind))


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


def _ration(one: Ration) -> dict[str, Any]:
    return {**_row(one), "things": [_row(thing) for thing in one.things]}


def _outcome(one: Outcome) -> dict[str, Any]:
    rows = {"path": one.path, "events": one.events, "goals": one.goals}
    return {**_row(one), **{name: [_row(each) for each in of] for name, of in rows.items()}}


def _lot(one: LotBalance) -> dict[str, Any]:
    return {**_row(one), "fed_t": one.eaten_t + one.feeding_loss_t}


#: How a row is put down where that is not by its fields.
_ROWS: Final[dict[str, Callable[[Any], dict[str, Any]]]] = {
    "needs": _need,
    "lots": _lot,
    "outcomes": _outcome,
    "rations": _ration,
    "wishes": _wish,
}

#: Fields of a program with no key of their own name: the first three stand otherwise, and the time
#: it took is no part of what a program is.
NO_KEY: Final = ("farm_name", "start", "end", "seconds")


def winters_json(found: WinterPrograms) -> str:
    """Return what planning several winters together says, as JSON text.

    Parameters
    ----------
    found : WinterPrograms
        The winters planned together: masses in kg, money in US dollars.

    Returns
    -------
    str
        A document ``winters``. Its keys are the names in ``WinterPrograms`` and
        ``WinterProgram``; farms are left out, and ``program`` is a plan as ``plan_schema``
        describes it.
    """
    whole = {
        field.name: getattr(found, field.name)
        for field in fields(found)
        if field.name not in ("farm", "winters")
    }
    winters = [_winter(one) for one in found.winters]
    return document("winters", farm=found.farm.name, **whole, winters=winters)


def _winter(one: WinterProgram) -> dict[str, Any]:
    row = {field.name: getattr(one, field.name) for field in fields(one) if field.name != "farm"}
    return {**row, "program": plan_to_dict(one.program)}
