"""A second look at the wishes a program says it keeps, from its feeding alone."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from typing import Final

from rickyard.program.result import GroupPeriod, SeasonProgram, Wish

#: A wished amount holds to this share.
SHARE: Final = 2e-4

#: Less than this is not fed. [kg DM per head and day]
NOTHING_KG: Final = 2e-6


def unkept_wishes(program: SeasonProgram) -> Iterator[tuple[str, float, float]]:
    """Look for wishes that a program calls kept and does not keep.

    Parameters
    ----------
    program : SeasonProgram
        The program.

    Yields
    ------
    tuple of (str, float, float)
        What is wrong, the amount wished and the amount fed. [kg DM per head and day]
    """
    fed: dict[tuple[str, str, int], float] = {}
    for row in program.feeding:
        key = (row.group_id, row.source_id, row.period)
        fed[key] = fed.get(key, 0.0) + row.eaten_kg_dm_per_head_day
    for outcome in program.wishes:
        if outcome.kept != "kept":
            continue
        wish = outcome.wish
        for cell in _cells(program, wish):
            amount = fed.get((cell.group_id, wish.source_id, cell.period), 0.0)
            wanted = wish.kg_dm_per_head_day or 0.0
            wrong = {
                "feed": amount <= 0.0,
                "keep_off": amount > NOTHING_KG,
                "amount": abs(amount - wanted) > SHARE * wanted + NOTHING_KG,
            }[wish.kind]
            if wrong:
                where = f"{wish.source_id} to {cell.group_id} from {cell.start}"
                yield f"{where}, wish {wish.kind.replace('_', ' ')}", wanted, amount


def _cells(program: SeasonProgram, wish: Wish) -> list[GroupPeriod]:
    """Return the groups and periods of which a wish speaks."""
    mine = [cell for cell in program.groups if wish.group_id in ("", cell.group_id)]
    touched = [cell for cell in mine if _touches(program, cell, wish)]
    if wish.kind == "keep_off":
        return touched
    inside = [cell for cell in mine if _middle_within(program, cell, wish)]
    return inside or touched


def _touches(program: SeasonProgram, cell: GroupPeriod, wish: Wish) -> bool:
    period = program.periods[cell.period]
    last = period.start + timedelta(days=period.days - 1)
    too_late = wish.start is not None and last < wish.start
    too_early = wish.end is not None and period.start >= wish.end
    return not (too_late or too_early)


def _middle_within(program: SeasonProgram, cell: GroupPeriod, wish: Wish) -> bool:
    period = program.periods[cell.period]
    middle = period.start + timedelta(days=period.days // 2)
    begun = wish.start is None or middle >= wish.start
    return begun and (wish.end is None or middle < wish.end)
