"""A season looked back at up to a day: feedings beside the program, and the hay."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any, Final
from uuid import UUID

from rickyard.book.acting import heard_of, held_or_read
from rickyard.book.looking.appetite import LearnedAppetite, learned_appetite
from rickyard.book.looking.costs import Costs, costs_of
from rickyard.book.looking.dated import dated
from rickyard.book.looking.eaten import Eaten, eaten_of
from rickyard.book.looking.hay import HayOfLot, hay_of
from rickyard.book.looking.moisture import LearnedDryMatter, learned_dry_matter
from rickyard.book.looking.weights import LearnedWeight, learned_weights, written_before_tickets
from rickyard.book.services import read_counts, read_farm, read_program
from rickyard.farm import Caution, Farm
from rickyard.program.compare import NOTHING_KG, FedAgainst, facts_of, fed_against
from rickyard.program.result import SeasonProgram
from rickyard.service import Held, read_lots, worked_out
from rickyard.service.sections import as_shown

#: What stands in a comparison for the program that is fed by.
_FED_BY: Final = "fed by"


@dataclass(frozen=True, slots=True)
class LookBack:
    """A season up to a day.

    ``against`` is ``None`` where no feeding is noted in the days of the program; it ends with the
    last day of which something is noted. ``noted`` is on how many of its days something is, by
    group; ``cautions`` are the dangers and warnings of what was fed and not by the program. ``ate``
    is what groups ate, and ``appetite`` what is learned of it, where anything is;
    ``costs`` what it cost, ``None`` for who may not see that.
    """

    farm: Farm
    day: date
    program: SeasonProgram | None
    against: FedAgainst | None
    noted: dict[str, int]
    hay: tuple[HayOfLot, ...]
    weights: tuple[LearnedWeight, ...]
    dry_matter: tuple[LearnedDryMatter, ...]
    cautions: tuple[Caution, ...]
    ate: tuple[Eaten, ...]
    appetite: LearnedAppetite | None
    costs: Costs | None


def look_back(person: Any, season_id: UUID, day: date) -> LookBack:
    """Look back at a season.

    Parameters
    ----------
    person : records.Person or None
        Who asks.
    season_id : UUID
        The season.
    day : date
        The last day that is looked at.

    Returns
    -------
    LookBack
        What was fed against the program that is fed by, and what became of each lot.

    Raises
    ------
    CannotWorkOut
        If neither weight nor size of a lot's bales is known.
    """
    heard = heard_of("read farm", person, season_id)
    priced = heard.may("read costs")
    return held_or_read(
        _held,
        (season_id, heard.line, day, priced),
        lambda: _looked_back(person, season_id, day, priced=priced),
    )


#: Looks back by the newest line of the trail and the day, with and without costs.
_held: Final = Held[tuple[UUID, UUID, date, bool], LookBack](32)


def _looked_back(person: Any, season_id: UUID, day: date, *, priced: bool) -> LookBack:
    farm = as_shown(read_farm(person, season_id)).farm
    heads = dated(season_id, "group")
    prices = {**dated(season_id, "lot"), **dated(season_id, "feed")} if priced else {}
    kept = read_program(person, season_id, only_adopted=True)
    program = None if kept is None else kept.planned.program
    counts = read_counts(person, season_id)
    before = written_before_tickets(person, season_id)
    with worked_out():
        against = _against(farm, program, day)
        hay = tuple(hay_of(farm, lot, counts[lot.lot_id], day) for lot in farm.lots)
        weights = learned_weights(farm, before)
        dry_matter = learned_dry_matter(farm)
        ate = eaten_of(farm, heads, day)
        costs = costs_of(farm, prices, heads, against, day) if priced else None
    return LookBack(
        farm,
        day,
        program,
        against,
        {} if against is None else _noted(farm, against),
        hay,
        weights,
        dry_matter,
        () if against is None else _cautions(farm, program, against),
        ate,
        learned_appetite(farm.season, ate),
        costs,
    )


def _against(farm: Farm, program: SeasonProgram | None, day: date) -> FedAgainst | None:
    """Set the log beside the program, to the last day of which something is noted."""
    begins = farm.season.start if program is None else program.start
    days = [row.day for row in farm.fed if begins <= row.day <= min(day, farm.season.end)]
    if not days:
        return None
    facts = None if program is None else facts_of(_FED_BY, program)
    return fed_against(farm, facts, begins, max(days) + timedelta(days=1))


def _noted(farm: Farm, against: FedAgainst) -> dict[str, int]:
    """Return on how many days something is noted for each group."""
    days: dict[str, set[date]] = {}
    for row in farm.fed:
        if against.start <= row.day < against.end:
            days.setdefault(row.group_id, set()).add(row.day)
    return {group: len(found) for group, found in days.items()}


def _cautions(
    farm: Farm, program: SeasonProgram | None, against: FedAgainst
) -> tuple[Caution, ...]:
    """Return dangers and warnings of what was fed and not planned: nobody weighed them."""
    other = {
        line.source_id
        for line in against.lines
        if (line.unweighed or (line.fed_kg or 0.0) > NOTHING_KG)
        and (line.planned_kg or 0.0) <= NOTHING_KG
    }
    lots = [lot.lot_id for lot in farm.lots if lot.lot_id in other]
    read = read_lots(farm, lot_ids=lots).readings if lots else ()
    found = [one for reading in read for one in reading.cautions]
    told = [] if program is None else [one for one in program.cautions if one.about in other]
    return tuple(dict.fromkeys(one for one in (*found, *told) if one.level != "note"))
