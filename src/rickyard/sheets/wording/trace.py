"""Amounts too little to weigh out in a barn: left off the sheets, and told to be."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from rickyard.program.result import SeasonProgram

#: Less than this in one load is not put on a list: half a pound is lost in the bottom of a
#: bucket. Common practice, no published source. [kg]
LEAST_LOAD_KG: Final = 0.25


def without_traces(program: SeasonProgram) -> tuple[SeasonProgram, dict[str, tuple[str, ...]]]:
    """Return a program without feeding too little to weigh, and what that is.

    A feed that comes once a week is a trace only where the week's load is.

    Parameters
    ----------
    program : SeasonProgram
        The program.

    Returns
    -------
    tuple
        The program to show, and for each group the ids of what is left out all season.
    """
    spacing: dict[tuple[str, str], int] = {}
    for one in program.deliveries:
        key = (one.group_id, one.source_id)
        spacing[key] = max(spacing.get(key, 1), one.for_days)
    days = {(one.group_id, one.period): max(one.days, 1) for one in program.groups}
    kept = tuple(
        row
        for row in program.feeding
        if row.bales is not None
        or row.offered_kg
        / days[row.group_id, row.period]
        * spacing.get((row.group_id, row.source_id), 1)
        >= LEAST_LOAD_KG
    )
    fed = {(row.group_id, row.source_id): None for row in program.feeding if row.offered_kg > 0.0}
    shown = {(row.group_id, row.source_id) for row in kept}
    left_out: dict[str, tuple[str, ...]] = {}
    for group_id, source_id in fed:
        if (group_id, source_id) not in shown:
            left_out[group_id] = (*left_out.get(group_id, ()), source_id)
    return replace(program, feeding=kept), left_out
