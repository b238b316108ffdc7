"""What was really fed beside what a program had said, group by group."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from rickyard.display import Display, count_text, display_for, listed
from rickyard.farm import Farm
from rickyard.forage.plausibility import lot_profile
from rickyard.hay.storage import mean_bale_kg
from rickyard.program.compare.summary import Facts
from rickyard.program.problem import fed_kg
from rickyard.quantities import is_some

#: Fed within this share of what was planned is as planned. Common practice: a bale is no scale.
AS_PLANNED: Final = 0.1

#: From twice as much on a percentage says little.
TWICE: Final = 2.0

#: Less than this is nothing. [kg as fed]
NOTHING_KG: Final = 1.0


@dataclass(frozen=True, slots=True)
class FedLine:
    """A source and a group: what was planned and what the log has, kg as fed.

    ``planned_kg`` is ``None`` where no plan was given, ``fed_kg`` where nothing noted has a mass.
    ``unweighed`` counts lines of the log whose mass nobody knows: what was fed is more by them.
    """

    group_id: str
    source_id: str
    planned_kg: float | None
    fed_kg: float | None
    unweighed: int = 0


@dataclass(frozen=True, slots=True)
class FedAgainst:
    """Feeding from ``start`` to the day before ``end``, with a sentence for each group."""

    start: date
    end: date
    lines: tuple[FedLine, ...]
    sentences: tuple[str, ...]


def fed_against(farm: Farm, plan: Facts | None, start: date, end: date) -> FedAgainst:
    """Set the feeding log beside a program.

    Parameters
    ----------
    farm : Farm
        Its feeding log, groups, lots and feeds are read.
    plan : Facts or None
        The program that was followed, or none to tell the log alone.
    start, end : date
        First day and first day no longer looked at.

    Returns
    -------
    FedAgainst
        A line for each group and source that was planned or fed. Days of a period that reach
        beyond the span count by their share.
    """
    fed = _logged(farm, start, end)
    planned = {} if plan is None else _planned(plan, start, end)
    keys = sorted({*fed, *planned}, key=lambda key: (_order(farm, key[0]), key[1]))
    lines = tuple(
        FedLine(
            group,
            source,
            None if plan is None else planned.get((group, source), 0.0),
            *_weighed(fed.get((group, source), ())),
        )
        for group, source in keys
    )
    return FedAgainst(start, end, lines, _sentences(farm, lines, start, end))


def _order(farm: Farm, group_id: str) -> int:
    ids = [group.group_id for group in farm.groups]
    return ids.index(group_id) if group_id in ids else len(ids)


def _weighed(masses: Sequence[float | None]) -> tuple[float | None, int]:
    """Return what is known to have been fed, and of how many lines nobody knows the mass."""
    known = [one for one in masses if one is not None]
    unweighed = len(masses) - len(known)
    return (sum(known) if known or not unweighed else None), unweighed


def _logged(farm: Farm, start: date, end: date) -> dict[tuple[str, str], list[float | None]]:
    bale_kg: dict[str, float | None] = {feed.feed_id: feed.bale_weight_kg for feed in farm.feeds}
    for lot in farm.lots:
        dm_pct = lot_profile(lot, farm.reports_of(lot.lot_id)).dm_pct
        bale_kg[lot.lot_id] = mean_bale_kg(lot, dm_pct)
    fed: dict[tuple[str, str], list[float | None]] = defaultdict(list)
    for row in farm.fed:
        if start <= row.day < end:
            mass = fed_kg(row, bale_kg.get(row.source_id))
            fed[row.group_id, row.source_id].append(mass)
    return dict(fed)


def _planned(plan: Facts, start: date, end: date) -> dict[tuple[str, str], float]:
    planned: dict[tuple[str, str], float] = defaultdict(float)
    for row in plan.feeding:
        last = row.start + timedelta(days=row.days)
        days = (min(end, last) - max(start, row.start)).days
        if is_some(days):
            planned[row.group_id, row.source_id] += row.offered_kg * days / row.days
    return dict(planned)


def _sentences(farm: Farm, lines: Sequence[FedLine], start: date, end: date) -> tuple[str, ...]:
    display = display_for(farm.units)
    names = {lot.lot_id: lot.name for lot in farm.lots}
    names |= {feed.feed_id: feed.name for feed in farm.feeds}
    groups = {group.group_id: group.name for group in farm.groups}
    found = []
    for group_id in dict.fromkeys(line.group_id for line in lines):
        mine = [line for line in lines if line.group_id == group_id]
        name = groups.get(group_id) or "No group named"
        if not any(_was_fed(line) for line in mine):
            if any(_was_fed(line) for line in lines):
                found.append(f"{name}, {display.during_text(start, end)}: the log has nothing.")
            continue
        parts = [part for line in mine if (part := _part(line, names, display)) is not None]
        if parts:
            found.append(f"{name}, {display.during_text(start, end)}: {listed(parts)}.")
        elif any(line.planned_kg is not None for line in mine):
            found.append(
                f"{name}, {display.during_text(start, end)}: fed as planned, within a tenth."
            )
    return tuple(found)


def _was_fed(line: FedLine) -> bool:
    return line.unweighed > 0 or (line.fed_kg or 0.0) > NOTHING_KG


def _part(line: FedLine, names: dict[str, str], display: Display) -> str | None:
    """Say what of one source differs from the plan, or what was fed where there is no plan."""
    name = names.get(line.source_id, line.source_id)
    if line.unweighed:
        return _unweighed(line, name, display)
    fed = line.fed_kg or 0.0
    if line.planned_kg is None:
        return f"{_mass(display, fed)} of {name} fed"
    differs = fed - line.planned_kg
    if abs(differs) <= max(NOTHING_KG, AS_PLANNED * line.planned_kg):
        return None
    if line.planned_kg <= NOTHING_KG:
        return f"{_mass(display, fed)} of {name} fed that was not planned"
    if fed <= NOTHING_KG:
        return f"none of the {_mass(display, line.planned_kg)} of {name} planned"
    if fed > TWICE * line.planned_kg:
        planned = _mass(display, line.planned_kg)
        return f"{_mass(display, fed)} of {name} where {planned} was planned"
    more = "more" if is_some(differs) else "less"
    share = 100.0 * abs(differs) / line.planned_kg
    return (
        f"{_mass(display, fed)} of {name}, {share:.0f}% {more} than the "
        f"{_mass(display, line.planned_kg)} planned"
    )


def _unweighed(line: FedLine, name: str, display: Display) -> str:
    """Say what of a source was fed where lines of the log tell no mass: that is not nothing."""
    lines = count_text(line.unweighed, "line")
    known = "" if line.fed_kg is None else f"{_mass(display, line.fed_kg)} and "
    planned = line.planned_kg
    if planned is None:
        beside = ""
    elif planned <= NOTHING_KG:
        beside = ", which was not planned"
    else:
        beside = f" where {_mass(display, planned)} was planned"
    return (
        f"{known}{lines} without a weight of {name}{beside} (write the pounds, or the weight of a "
        "bale)"
    )


def _mass(display: Display, kg: float) -> str:
    return display.amount_text(kg) if is_some(kg) else display.mass_text(kg)
