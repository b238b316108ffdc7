"""What may be different in a season, and the farm on which it is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Final, TypeAlias

from rickyard.farm import AnimalClass, Farm, Group, MoveKind, MoveRow, Winter
from rickyard.forage.plausibility import lot_profile
from rickyard.hay.storage import book_of, mean_bale_kg
from rickyard.quantities import OutOfRange, is_some

#: Body condition of cows is told between these.
CONDITIONS: Final = (1.0, 9.0)


@dataclass(frozen=True, slots=True)
class HeadCount:
    """A group of another number of head."""

    group_id: str
    head: int


@dataclass(frozen=True, slots=True)
class Price:
    """Another price of a feed, or value of a lot, as fed. [USD/kg]."""

    source_id: str
    usd_per_kg: float


@dataclass(frozen=True, slots=True)
class LotLoss:
    """A lot, or a share of it, that is not there: burnt, flooded, sold, or spoiled."""

    lot_id: str
    share: float = 1.0


@dataclass(frozen=True, slots=True)
class SeasonEnd:
    """A season that ends on another day: grass comes late, or early."""

    end: date


@dataclass(frozen=True, slots=True)
class Intake:
    """Stock that eat a share more or less of dry matter than is expected. [-]."""

    share: float


@dataclass(frozen=True, slots=True)
class WinterIs:
    """A mild, normal or severe winter, or the weather as it is given."""

    winter: Winter


@dataclass(frozen=True, slots=True)
class Cash:
    """No more than this to spend on feed, or no limit. [US dollars]."""

    limit_usd: float | None


@dataclass(frozen=True, slots=True)
class SalePrice:
    """What a buyer pays for a lot as fed, or ``None`` where it is not for sale. [USD/kg]."""

    lot_id: str
    usd_per_kg: float | None


@dataclass(frozen=True, slots=True)
class Bought:
    """So much of a feed that can be bought in all, or hay like a lot bought beside it.

    ``as_fed_kg`` is as fed. Hay comes on the first day and costs what the lot is worth.
    """

    source_id: str
    as_fed_kg: float


@dataclass(frozen=True, slots=True)
class Condition:
    """Another body condition that is wanted of cows, by the day in the folder or by calving."""

    group_id: str
    score: float


Change: TypeAlias = (
    HeadCount
    | Price
    | LotLoss
    | SeasonEnd
    | Intake
    | WinterIs
    | Cash
    | SalePrice
    | Bought
    | Condition
)


def changed(farm: Farm, changes: Sequence[Change]) -> Farm:
    """Return a farm with changes made.

    Raises ``OutOfRange`` if a change speaks of what the farm has not, or makes no sense.

    Parameters
    ----------
    farm : Farm
        The farm.
    changes : sequence of Change
        What is to be different, made one after the other.

    Returns
    -------
    Farm
        Another farm; the given one stays as it is.

    Examples
    --------
    >>> from rickyard.farm import Season
    >>> season = Season(date(2026, 11, 1), date(2027, 4, 1))
    >>> changed(Farm("Home", season), [SeasonEnd(date(2027, 5, 1))]).season.end
    datetime.date(2027, 5, 1)
    """
    for change in changes:
        farm = _with(farm, change)
    return farm


def _with(farm: Farm, change: Change) -> Farm:
    """Return a farm with one change made, by the function for its kind."""
    if isinstance(change, Cash | WinterIs | SeasonEnd | Intake):
        return _other_season(farm, change)
    if isinstance(change, HeadCount):
        return _with_head(farm, change)
    if isinstance(change, Price):
        return _priced(farm, change)
    if isinstance(change, LotLoss):
        return _without(farm, change)
    if isinstance(change, SalePrice):
        return _sold_at(farm, change)
    if isinstance(change, Bought):
        return _with_bought(farm, change)
    return _in_condition(farm, change)


def _other_season(farm: Farm, change: Cash | WinterIs | SeasonEnd | Intake) -> Farm:
    if isinstance(change, Cash):
        return _with_cash(farm, change)
    if isinstance(change, WinterIs):
        return replace(farm, season=replace(farm.season, winter=change.winter))
    if isinstance(change, SeasonEnd):
        if change.end <= farm.season.start:
            raise OutOfRange(
                f"{change.end} is not after the first day of the season, {farm.season.start}."
            )
        return replace(farm, season=replace(farm.season, end=change.end))
    if not -0.5 <= change.share <= 0.5:
        raise OutOfRange(
            f"{change.share:+.0%} of what stock eat is more than half: check the number."
        )
    share = farm.season.intake_pct * (1.0 + change.share)
    return replace(farm, season=replace(farm.season, intake_pct=share))


def _with_cash(farm: Farm, change: Cash) -> Farm:
    if change.limit_usd is not None and change.limit_usd < 0.0:
        raise OutOfRange(f"{change.limit_usd:,.0f} dollars to spend: write 0 or more.")
    return replace(farm, season=replace(farm.season, cash_limit_usd=change.limit_usd))


def _sold_at(farm: Farm, change: SalePrice) -> Farm:
    _one_of(change.lot_id, [lot.lot_id for lot in farm.lots], "lot")
    if change.usd_per_kg is not None and change.usd_per_kg < 0.0:
        raise OutOfRange(f"The price of {change.lot_id} is below zero: check the number.")
    return replace(
        farm,
        lots=tuple(
            replace(one, sale_usd_per_kg=change.usd_per_kg) if one.lot_id == change.lot_id else one
            for one in farm.lots
        ),
    )


def _with_bought(farm: Farm, change: Bought) -> Farm:
    lots = [lot.lot_id for lot in farm.lots]
    _one_of(change.source_id, [*lots, *(feed.feed_id for feed in farm.feeds)], "lot or feed")
    if change.as_fed_kg < 0.0:
        raise OutOfRange(f"Less than nothing of {change.source_id} cannot be bought.")
    if change.source_id not in lots:
        return replace(
            farm,
            feeds=tuple(
                replace(one, most_kg=change.as_fed_kg) if one.feed_id == change.source_id else one
                for one in farm.feeds
            ),
        )
    lot, start = farm.lot(change.source_id), farm.season.start
    dm_pct = lot_profile(lot, farm.reports_of(lot.lot_id)).dm_pct
    bales = change.as_fed_kg / mean_bale_kg(lot, dm_pct)
    if lot.counted_on >= start:
        more = replace(lot, bales=lot.bales + bales)
        lots_then = tuple(more if one.lot_id == lot.lot_id else one for one in farm.lots)
        return replace(farm, lots=lots_then)
    row = MoveRow(start - timedelta(days=1), lot.lot_id, MoveKind.BOUGHT, bales=bales)
    return replace(farm, moves=(*farm.moves, row))


def _in_condition(farm: Farm, change: Condition) -> Farm:
    _one_of(change.group_id, [group.group_id for group in farm.groups], "group")
    group = farm.group(change.group_id)
    low, high = CONDITIONS
    if not low <= change.score <= high:
        raise OutOfRange(f"A body condition is {low:g} to {high:g}; {change.score:g} is not.")
    if group.animal_class is not AnimalClass.COW or group.condition_score is None:
        raise OutOfRange(
            f"{group.name}: a target condition is for class cow with its condition_score of today "
            "in groups.csv."
        )
    wanted = replace(
        group, target_condition_score=change.score, target_on=_condition_day(farm, group)
    )
    groups = tuple(wanted if one.group_id == group.group_id else one for one in farm.groups)
    return replace(farm, groups=groups)


def _condition_day(farm: Farm, group: Group) -> date:
    """Return the day of the folder, or calving where it falls in the season, or its end."""
    if group.target_on is not None:
        return group.target_on
    calving, season = group.calving_on, farm.season
    if calving is not None and season.start < calving < season.end:
        return calving
    return season.end


def _with_head(farm: Farm, change: HeadCount) -> Farm:
    _one_of(change.group_id, [group.group_id for group in farm.groups], "group")
    if change.head < 0:
        raise OutOfRange(f"{change.head} head of {change.group_id}: write 0 or more.")
    groups = tuple(
        replace(one, head=change.head) if one.group_id == change.group_id else one
        for one in farm.groups
    )
    if is_some(change.head):
        return replace(farm, groups=groups)
    # A group without animals is no group, and nothing can be wished for it.
    return replace(
        farm,
        groups=tuple(one for one in groups if one.group_id != change.group_id),
        wishes=tuple(row for row in farm.wishes if row.group_id != change.group_id),
    )


def _priced(farm: Farm, change: Price) -> Farm:
    if change.usd_per_kg < 0.0:
        raise OutOfRange(f"The price of {change.source_id} is below zero: check the number.")
    lots = [lot.lot_id for lot in farm.lots]
    _one_of(change.source_id, [*lots, *(feed.feed_id for feed in farm.feeds)], "lot or feed")
    price = change.usd_per_kg
    return replace(
        farm,
        lots=tuple(
            replace(one, value_usd_per_kg=price) if one.lot_id == change.source_id else one
            for one in farm.lots
        ),
        feeds=tuple(
            replace(one, price_usd_per_kg=price) if one.feed_id == change.source_id else one
            for one in farm.feeds
        ),
    )


def _without(farm: Farm, change: LotLoss) -> Farm:
    """Take a share of what stands of a lot on the first day away, as a line of the yard's book."""
    _one_of(change.lot_id, [lot.lot_id for lot in farm.lots], "lot")
    if not 0.0 < change.share <= 1.0:
        raise OutOfRange(f"{change.share:.0%} of {change.lot_id}: write more than 0 and up to 100.")
    lot, start = farm.lot(change.lot_id), farm.season.start
    if lot.counted_on >= start:
        fewer = replace(lot, bales=lot.bales * (1.0 - change.share))
        lots = tuple(fewer if one.lot_id == lot.lot_id else one for one in farm.lots)
        return replace(farm, lots=lots)
    dm_pct = lot_profile(lot, farm.reports_of(lot.lot_id)).dm_pct
    # Bales alone are asked for, and rain changes only what a bale holds.
    book = book_of(lot, farm.moves, farm.fed, dm_pct, farm.season.rainfall_mm_per_year or 0.0)
    stands = lot.bales + book.since_count(start)
    gone = MoveRow(
        start - timedelta(days=1), lot.lot_id, MoveKind.LOST, bales=max(0.0, stands) * change.share
    )
    return replace(farm, moves=(*farm.moves, gone))


def _one_of(given: str, known: Sequence[str], what: str) -> None:
    if given not in known:
        listed = ", ".join(known) if known else "none"
        raise OutOfRange(f'"{given}" is no {what} of this farm; it has: {listed}.')
