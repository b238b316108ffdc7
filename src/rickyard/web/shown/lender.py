"""What a link shows of a season to somebody outside, as to a lender: totals, and no ration."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from rickyard.display import clean, display_for
from rickyard.service import Planned
from rickyard.sheets.wording import group_name, group_order
from rickyard.web.shown.season import SeasonShown, season_shown


@dataclass(frozen=True, slots=True)
class LenderShown:
    """All that stands on the page of a season that is shown by a link.

    ``stock`` is who is fed with the head of each, ``hay`` where the hay of all lots goes.
    """

    farm: str
    place: str
    day: str
    span: str
    season: SeasonShown
    stock: tuple[tuple[str, str], ...]
    hay: tuple[tuple[str, str], ...]


def lender_shown(planned: Planned, day: date) -> LenderShown:
    """Return what a link shows of a season.

    Parameters
    ----------
    planned : Planned
        The program that is fed by, with its farm.
    day : date
        The day on the farm.

    Returns
    -------
    LenderShown
        Words.
    """
    program, farm = planned.program, planned.farm
    display = display_for(farm.units)
    heads = {one.group_id: one.head for one in reversed(program.groups)}
    stock = tuple(
        (clean(group_name(farm, one)), f"{heads[one]:,} head")
        for one in group_order(program)
        if one in heads
    )
    gone = (
        ("In the yard on the first day", [one.start_t for one in program.lots]),
        ("Eaten", [one.eaten_t for one in program.lots]),
        ("Lost at the feeder", [one.feeding_loss_t for one in program.lots]),
        ("Lost in storage", [one.storage_loss_t for one in program.lots]),
        ("Sold on the first day", [one.sold_t for one in program.lots]),
        ("Left on the last day", [one.left_t for one in program.lots]),
    )
    return LenderShown(
        clean(farm.name),
        clean(farm.place),
        display.day_year_text(day),
        f"{display.day_year_text(program.start)} to {display.day_year_text(program.end)}",
        season_shown(planned, day),
        stock,
        tuple((words, display.tons_text(sum(tons))) for words, tons in gone),
    )
