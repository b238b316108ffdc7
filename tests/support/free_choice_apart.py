"""What stock with free access eat, worked out apart from a plan's JSON and published equations.

NRC (2000), Nutrient Requirements of Beef Cattle, intake of calves, yearlings and cows; Gross
(2024), Oklahoma State Univ., what cows ate above that; 1.2 % of weight of fiber (Missouri); what
concentrate puts aside of hay, rules of thumb inside the bounds of Moore et al. (1999). Nothing is
taken from the program: groups are told by what a folder says of them.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise
from typing import Any, Final

#: A supplement of so much protein is a protein feed. [% DM]
PROTEIN_PCT: Final = 34.0

#: Knots of what a feed puts aside, both percent of weight: poor, middling and good forage.
_ASIDE: Final[dict[str, tuple[tuple[tuple[float, float], ...], ...]]] = {
    "starch": (
        ((0, 0), (0.25, 0.05), (0.5, 0.4), (1.0, 1.2)),
        ((0, 0), (0.25, 0.075), (0.5, 0.35), (1.0, 1.0)),
        ((0, 0), (0.25, 0.125), (0.5, 0.35), (1.0, 0.9)),
    ),
    "fibre": (
        ((0, 0), (0.5, 0.0), (1.0, 0.4)),
        ((0, 0), (0.5, 0.15), (1.0, 0.5)),
        ((0, 0), (0.5, 0.25), (1.0, 0.7)),
    ),
    # Above 0.3 % of weight a protein feed counts as a by-product does: common practice.
    "protein": (
        ((0, 0), (0.3, 0.0), (1.0, 0.4)),
        ((0, 0), (0.3, 0.0), (1.0, 0.5)),
        ((0, 0), (0.3, 0.09), (1.0, 0.7)),
    ),
}


@dataclass(frozen=True)
class Told:
    """What a folder says of a group: cow, or growing with its age on the season's first day."""

    cow: bool
    calving: date | None = None
    peak_milk_kg: float | None = None
    age_months: float = 0.0


def eats_alone_kg(told: Told, full_kg: float, on: date, first: date, nem: float,
                  ndf_pct: float) -> float | None:  # fmt: skip
    """Return what one eats of a forage alone, ``None`` where the folder does not say enough."""
    size = (0.96 * full_kg) ** 0.75
    held = min(max(nem, 0.8), 2.2)
    if told.cow:
        milk, since = 0.0, -1
        pregnant = False
        if told.calving is not None:
            since = (on - told.calving).days
            pregnant = -187 <= since < 0
        if since >= 0:
            if told.peak_milk_kg is None:
                return None
            weeks = since / 7.0
            milk = told.peak_milk_kg * weeks / 8.5 * math.exp(1.0 - weeks / 8.5)
        most = size * (0.04997 * held**2 + (0.04631 if pregnant else 0.0384)) / max(held, 0.95)
        most = (most + 0.2 * milk) * (1.2 if since >= 0 else 1.06)
    else:
        age = told.age_months + (on - first).days / 30.4
        most = size * (0.2435 * held - 0.0466 * held**2 - (0.1128 if age < 12 else 0.0869)) / held
    return min(most, 1.2 * full_kg / ndf_pct) if ndf_pct > 0.0 else most


def put_aside_kg(kind: str, kg: float, full_kg: float, tdn_pct: float) -> float:
    """Return the forage that a concentrate puts aside."""
    knots = _ASIDE[kind][0 if tdn_pct < 52.0 else 1 if tdn_pct <= 58.0 else 2]
    pct = 100.0 * kg / full_kg
    for (x, y), (x2, y2) in pairwise(knots):
        if pct <= x2:
            return full_kg / 100.0 * (y + (y2 - y) * (pct - x) / (x2 - x))
    (x, y), (x2, y2) = knots[-2:]
    return full_kg / 100.0 * (y2 + (y2 - y) * (pct - x2) / (x2 - x))


def shares_eaten(
    plan: dict[str, Any], told: dict[str, Told], kinds: dict[str, str]
) -> Iterator[tuple[str, int, float, bool]]:
    """Yield group, number and share of free choice of each ration, and whether it is short.

    ``kinds``: what each feed that is no forage is: starch, fibre, protein.
    """
    sources = {one["source"]: one for one in plan["sources"]}
    weights = {(one["group"], one["period"]): one["full_weight_kg"] for one in plan["groups"]}
    short = {(one["group"], one["period"]) for one in plan["needs"] if one["shortage"] > 0.0}
    first = date.fromisoformat(plan["season"]["start"])
    for ration in plan["rations"]:
        name = ration["group"]
        if ration["offered"] != "free_choice" or name not in told:
            continue
        found = []
        hungry = False
        for period in plan["periods"]:
            start = date.fromisoformat(period["start"])
            end = start + timedelta(days=period["days"])
            if not (start < date.fromisoformat(ration["end"])
                    and end > date.fromisoformat(ration["start"])):  # fmt: skip
                continue
            hungry |= (name, period["index"]) in short
            full, middle = weights[name, period["index"]], start + timedelta(period["days"] // 2)
            things = [
                (one["eaten_kg_dm_per_head_day"], sources[one["source"]])
                for one in ration["things"]
            ]
            forage = [(kg, one) for kg, one in things if one["is_forage"]]
            alone = [eats_alone_kg(told[name], full, middle, first, one["nem_mcal_per_kg"],
                                   one["ndf_pct"]) for _, one in forage]  # fmt: skip
            if not forage or any(one is None for one in alone):
                continue
            whole = sum(kg for kg, _ in forage)
            share = sum(kg / most for (kg, _), most in zip(forage, alone, strict=True) if most)
            eats = sum(kg * (most or 0.0) for (kg, _), most in zip(forage, alone, strict=True))
            tdn = sum(kg * one["tdn_pct"] for kg, one in forage) / whole
            for kg, one in things:
                kind = kinds.get(one["source"])
                if kind is not None:
                    share += put_aside_kg(kind, kg, full, tdn) * whole / eats
            found.append(share)
        if found:
            yield name, ration["number"], sum(found) / len(found), hungry
