"""The rest of a season: planned anew from a day in it, with the hay that is there then."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from typing import Final

from rickyard.display import count_text, display_for, listed, money_text
from rickyard.farm import Assumption, Caution, Farm, FedRow, Feed
from rickyard.program.inputs import cautioned
from rickyard.program.result import SeasonProgram
from rickyard.quantities import OutOfRange, is_some

FOLDER: Final = "counts, moves.csv and fed.csv of the farm folder"

#: The gravest caution comes first.
RANK: Final = {"danger": 0, "warning": 1, "note": 2}


@dataclass(frozen=True, slots=True)
class MidSeason:
    """A farm whose season starts on a later day, and what was taken for granted in that."""

    farm: Farm
    assumptions: tuple[Assumption, ...]
    cautions: tuple[Caution, ...]


def farm_from(farm: Farm, first: date | None) -> MidSeason:
    """Return a farm as it is on a day of its season.

    Parameters
    ----------
    farm : Farm
        The farm. Counts, yard's book and feeding log say what stands on that day.
    first : date or None
        The first day to plan; ``None`` or the first day of the season leaves the farm as it is.

    Returns
    -------
    MidSeason
        The farm with a season that starts on that day. Weights and ages stay those of the day
        on which they were taken, and needs follow on from there. What was bought of a feed by
        then is taken off the most that can be bought, and its price off the cash.

    Raises
    ------
    OutOfRange
        If the day is not in the season.

    Notes
    -----
    The bookkeeping of hay is that of every season: bales counted, less those that the log and the
    book took since, each with the dry matter that storage leaves in it on that day.
    """
    season = farm.season
    if first is None or first == season.start:
        return MidSeason(farm, (), ())
    if not season.start < first < season.end:
        raise OutOfRange(
            f"{first} is not in the season, which runs from {season.start} to the day before "
            f"{season.end}; choose a day in it."
        )
    used = {feed.feed_id: _used_kg(farm, feed, first) for feed in farm.feeds}
    spent = sum(used[feed.feed_id] * feed.price_usd_per_kg for feed in farm.feeds)
    cash = season.cash_limit_usd
    later = replace(
        farm,
        season=replace(
            season,
            start=first,
            weighed_on=season.weighed_on or season.start,
            cash_limit_usd=None if cash is None else max(0.0, cash - spent),
        ),
        feeds=tuple(_still_to_buy(feed, used[feed.feed_id]) for feed in farm.feeds),
        lots=tuple(replace(lot, sale_usd_per_kg=None) for lot in farm.lots),
        wishes=tuple(row for row in farm.wishes if row.end is None or row.end > first),
    )
    notes = [Assumption(line, FOLDER) for line in _assumed(farm, first, used, spent)]
    return MidSeason(later, tuple(notes), tuple(_doubts(farm, first)))


def fed_kg(row: FedRow, bale_kg: float | None) -> float | None:
    """Return what an entry of the feeding log weighs as fed; ``None`` where nobody knows. [kg].

    Parameters
    ----------
    row : FedRow
        The entry.
    bale_kg : float or None
        What a bale of that source weighs as fed. [kg]

    Returns
    -------
    float or None
        Mass as fed. [kg]
    """
    if row.mass_kg is not None:
        return row.mass_kg
    if row.bales is None or bale_kg is None:
        return None
    return row.bales * bale_kg


def _fed_lines(farm: Farm, feed: Feed, first: date) -> list[float | None]:
    """Return what each line of the log says was fed of a feed in the season. [kg as fed]."""
    rows = (row for row in farm.fed if row.source_id == feed.feed_id)
    within = (row for row in rows if farm.season.start <= row.day < first)
    return [fed_kg(row, feed.bale_weight_kg) for row in within]


def _used_kg(farm: Farm, feed: Feed, first: date) -> float:
    """Return what was weighed of a feed from the start of the season on. [kg as fed]."""
    return sum(kg for kg in _fed_lines(farm, feed, first) if kg is not None)


def _still_to_buy(feed: Feed, used: float) -> Feed:
    if feed.most_kg is None:
        return feed
    return replace(feed, most_kg=max(0.0, feed.most_kg - used))


def _assumed(farm: Farm, first: date, used: dict[str, float], spent: float) -> Iterator[str]:
    season, display = farm.season, display_for(farm.units)
    yield (
        f"The rest of the season is planned from {display.day_year_text(first)}, with the hay "
        "that counts, moves and the feeding log leave in the yard that morning."
    )
    yield (
        "Weights and ages are those of "
        f"{display.day_year_text(season.weighed_on or season.start)}, moved on as the equations "
        f"expect; to go on from what they weigh now, write {first} as start and as weighed_on in "
        "a copy of the folder, and the weights there."
    )
    limited = [
        feed for feed in farm.feeds if feed.most_kg is not None and is_some(used[feed.feed_id])
    ]
    if limited:
        named = listed(
            [f"{display.amount_text(used[feed.feed_id])} of {feed.name}" for feed in limited]
        )
        yield f"{named} had been fed by then, so that much less can still be bought."
    if season.cash_limit_usd is not None and is_some(spent):
        yield f"Feed already fed is counted as bought: {money_text(spent)} of the cash is spent."
    if any(lot.sale_usd_per_kg is not None for lot in farm.lots):
        yield "Hay is sold on the first day of the season only: none is sold from here on."
    for lot in farm.lots:
        if lot.counted_on > first:
            yield (
                f"{lot.name} was counted on {display.day_year_text(lot.counted_on)}, after that "
                "day: the count is used as it is."
            )


def _doubts(farm: Farm, first: date) -> Iterator[Caution]:
    """Tell of a season of which nothing, or not all, is known by then."""
    start = farm.season.start
    fed = any(start <= row.day < first for row in farm.fed)
    old = [lot.name for lot in farm.lots if lot.counted_on < start]
    if farm.lots and not fed and old:
        yield cautioned(
            "not_counted_since",
            "",
            day=display_for(farm.units).day_year_text(first),
            lots=listed(old[:5]),
            others=" and others" if len(old) > 5 else "",
        )
    for feed in farm.feeds:
        unweighed = _fed_lines(farm, feed, first).count(None)
        counts = feed.most_kg is not None or farm.season.cash_limit_usd is not None
        if unweighed and counts:
            yield cautioned(
                "fed_without_weight",
                feed.feed_id,
                lines=count_text(unweighed, "line"),
                feed=feed.name,
                of_sources=[feed.feed_id],
            )


def with_notes(program: SeasonProgram, mid: MidSeason) -> SeasonProgram:
    """Return a program that says what planning from a later day assumed.

    Parameters
    ----------
    program : SeasonProgram
        The season program.
    mid : MidSeason
        What the farm is taken for on that day.

    Returns
    -------
    SeasonProgram
        The program with the assumptions and cautions of the day it was planned from.
    """
    if not mid.assumptions and not mid.cautions:
        return program
    cautions = sorted([*mid.cautions, *program.cautions], key=lambda one: RANK[one.level])
    return replace(
        program,
        assumptions=(*mid.assumptions, *program.assumptions),
        cautions=tuple(dict.fromkeys(cautions)),
    )
