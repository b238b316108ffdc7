"""What to put out on one day: the column of the week's list, in words, for every group."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from rickyard.display import Display, count_text, display_for, listed
from rickyard.farm import Farm
from rickyard.program.days import weighed_out
from rickyard.program.result import Delivery, SeasonProgram
from rickyard.sheets.paper.on_farm import grazed_by, is_here
from rickyard.sheets.wording import group_name, least_load_kg, words

_WHEN_NONE: Final = "nothing today"


@dataclass(frozen=True, slots=True)
class DayGroup:
    """What one group gets on a day, as fed, for the whole group; ``sources`` is what that is of."""

    group_id: str
    name: str
    hay: str
    feeds: str
    sources: frozenset[str]


def day_list(program: SeasonProgram, farm: Farm, day: date) -> tuple[DayGroup, ...]:
    """Return what to put out on a day: no mean of a week, but the amount of that day.

    A hay with nitrate is begun by thirds and grain by steps, so that the mean of a week is more
    than may be fed on its first day.

    Parameters
    ----------
    program : SeasonProgram
        The program, with its deliveries.
    farm : Farm
        Gives names and display units.
    day : date
        The day.

    Returns
    -------
    tuple of DayGroup
        The groups that are there, in the order of the farm.
    """
    display = display_for(farm.units)
    return tuple(
        _told(program, farm, group.group_id, day, display)
        for group in farm.groups
        if is_here(program, group.group_id, [day])
    )


def _told(
    program: SeasonProgram, farm: Farm, group_id: str, day: date, display: Display
) -> DayGroup:
    forage = {one.source_id for one in program.sources if one.is_forage}
    names = {one.source_id: one.name for one in program.sources}
    mine = [one for one in program.deliveries if one.group_id == group_id]
    today = [one for one in mine if one.day == day]
    mixed = weighed_out(program, farm.group(group_id))
    grazed = grazed_by(program, farm, group_id, [day])

    def of(*, is_forage: bool) -> list[str]:
        found = [one.source_id for one in today if (one.source_id in forage) is is_forage]
        return [
            part
            for source_id in dict.fromkeys(found)
            for part in _part(
                names[source_id], [one for one in today if one.source_id == source_id], display
            )
        ]

    weighed = any(one.source_id in mixed for one in today)
    hay = [*of(is_forage=True), *(f"{names[one]} (grazed)" for one in grazed)]
    if not hay:
        later = [one.day for one in mine if one.source_id in forage and one.day > day]
        hay = [words.no_hay_today(display.weekday_text(min(later)))] if later else []
    return DayGroup(
        group_id,
        group_name(farm, group_id),
        (listed(hay) + (words.MIXED_TOGETHER if weighed else "")) if hay else _WHEN_NONE,
        listed(of(is_forage=False)),
        frozenset({one.source_id for one in today} | set(grazed)),
    )


def _part(name: str, loads: Sequence[Delivery], display: Display) -> list[str]:
    """Say the whole bales and what is weighed out of one source; traces are left off."""
    whole = sum(one.bales or 0 for one in loads)
    loose = sum(one.mass_kg for one in loads if one.bales is None)
    amounts = [count_text(whole, "bale")] if whole else []
    least = least_load_kg(max((one.for_days for one in loads if one.bales is None), default=1))
    amounts += [display.mass_text(loose)] if loose >= least else []
    return [f"{' and '.join(amounts)} of {name}"] if amounts else []
