"""What if: other numbers of head, other prices, a lot lost, late grass, another winter."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Final, TypeAlias

from rickyard.display import display_for, money_text
from rickyard.farm import Farm, MoveKind, MoveRow, Winter
from rickyard.forage.plausibility import lot_profile
from rickyard.hay.storage import book_of
from rickyard.program.planning.season import plan_season
from rickyard.program.result import NUTRIENT_WORDS, TOO_MUCH, PlanOptions, SeasonProgram, Shortage
from rickyard.quantities import OutOfRange
from rickyard.tables import Tabular

#: Differences below this many US dollars are called nothing.
NOTHING_USD: Final = 0.5

#: Words of the caution about a winter that nothing is counted of.
IDLE_WINTER: Final = "winter changes nothing here"

#: First words of a change that are written small inside a sentence.
_OPENINGS: Final = ("A", "Feeding", "Stock", "The", "Without")

#: A shortage must grow by this share of itself to be called worse.
WORSE_SHARE: Final = 0.01


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


Change: TypeAlias = HeadCount | Price | LotLoss | SeasonEnd | Intake | WinterIs


@dataclass(frozen=True, slots=True, repr=False)
class WhatIfAnswer(Tabular):
    """What a change does to a season, beside the program without it.

    ``cost_usd`` is how much dearer the season is; ``sentence`` is the answer in plain words.
    """

    label: str
    program: SeasonProgram
    cost_usd: float
    sentence: str

    def _facts(self) -> tuple[tuple[str, str], ...]:
        return (("", self.sentence),)


def changed(farm: Farm, changes: Sequence[Change]) -> Farm:
    """Return a farm with changes made.

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

    Raises
    ------
    OutOfRange
        If a change speaks of what the farm has not, or makes no sense.

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


def what_if(
    farm: Farm,
    *changes: Change,
    options: PlanOptions = PlanOptions(),  # noqa: B008 - frozen
) -> SeasonProgram:
    """Return the season program of a farm on which something is different.

    Parameters
    ----------
    farm : Farm
        The farm as it is.
    *changes : Change
        What is to be different.
    options : PlanOptions
        How to make the program.

    Raises
    ------
    OutOfRange
        If a change speaks of what the farm has not, or makes no sense.
    SolveError
        If the solver fails.
    """
    return plan_season(changed(farm, changes), options=options)


def answer(
    farm: Farm, base: SeasonProgram, changes: Sequence[Change], program: SeasonProgram
) -> WhatIfAnswer:
    """Say what changes do to a season.

    Parameters
    ----------
    farm : Farm
        The farm as it is.
    base : SeasonProgram
        Its program as it is.
    changes : sequence of Change
        What is different.
    program : SeasonProgram
        The program with that.

    Returns
    -------
    WhatIfAnswer
        With one sentence that stands alone.
    """
    label = labels_of(farm, changes)
    more = program.cost - base.cost
    if more > NOTHING_USD:
        cost = f"costs {money_text(more)} more"
    elif more < -NOTHING_USD:
        cost = f"costs {money_text(-more)} less"
    else:
        cost = "costs the same"
    sentence = f"{label}: the season {cost}{_shortages(farm, base, program)}."
    gone = _value_lost(farm, base, changes)
    if gone > NOTHING_USD:
        sentence = f"{sentence} Plus the lost hay, worth {money_text(gone)}."
    idle = [one.sentence for one in program.cautions if IDLE_WINTER in one.sentence]
    if idle and any(isinstance(one, WinterIs) for one in changes):
        sentence = f"{sentence} {idle[0]}"
    return WhatIfAnswer(label, program, more, sentence)


def labels_of(farm: Farm, changes: Sequence[Change]) -> str:
    """Name several changes that happen together in a few words.

    Parameters
    ----------
    farm : Farm
        The farm.
    changes : sequence of Change
        At least one.

    Returns
    -------
    str
        Words that can begin a sentence.

    Examples
    --------
    >>> from rickyard.farm import Season
    >>> farm = Farm("Home", Season(date(2026, 11, 1), date(2027, 4, 1)))
    >>> labels_of(farm, [Intake(0.1), SeasonEnd(date(2027, 5, 20))])
    'Stock eating 10% more and feeding until May 20, 2027'
    """
    first, *others = (label_of(farm, one) for one in changes)
    within = [
        f"{one[0].lower()}{one[1:]}" if one.split()[0] in _OPENINGS else one for one in others
    ]
    return " and ".join([first, *within])


def label_of(farm: Farm, change: Change) -> str:
    """Name a change in a few words.

    Examples
    --------
    >>> from rickyard.farm import Season
    >>> season = Season(date(2026, 11, 1), date(2027, 4, 1))
    >>> label_of(Farm("Home", season), SeasonEnd(date(2027, 5, 20)))
    'Feeding until May 20, 2027'
    """
    display = display_for(farm.units)
    if isinstance(change, HeadCount):
        group = farm.group(change.group_id)
        same = " as now" if group.head == change.head else ""
        return f"{group.name} at {change.head:,} head{same}"
    if isinstance(change, Price):
        price = display.price_a_ton(change.usd_per_kg)
        return f"{_name(farm, change.source_id)} at {price}"
    if isinstance(change, LotLoss):
        name = farm.lot(change.lot_id).name
        return (
            f"Without {name}" if change.share >= 1.0 else f"{_percent(change.share)} of {name} lost"
        )
    if isinstance(change, SeasonEnd):
        return f"Feeding until {display.day_year_text(change.end)}"
    if isinstance(change, Intake):
        return f"Stock eating {_percent(change.share)} {'more' if change.share >= 0 else 'less'}"
    given = change.winter is Winter.AS_GIVEN
    return "The weather as given" if given else f"A {change.winter.value} winter"


def _with(farm: Farm, change: Change) -> Farm:
    if isinstance(change, HeadCount):
        _one_of(change.group_id, [group.group_id for group in farm.groups], "group")
        if change.head < 0:
            raise OutOfRange(f"{change.head} head of {change.group_id}: write 0 or more.")
        return _with_head(farm, change)
    if isinstance(change, Price):
        return _priced(farm, change)
    if isinstance(change, LotLoss):
        return _without(farm, change)
    if isinstance(change, SeasonEnd):
        if change.end <= farm.season.start:
            raise OutOfRange(
                f"{change.end} is not after the first day of the season, {farm.season.start}."
            )
        return replace(farm, season=replace(farm.season, end=change.end))
    if isinstance(change, Intake):
        if not -0.5 <= change.share <= 0.5:
            raise OutOfRange(
                f"{change.share:+.0%} of what stock eat is more than half: check the number."
            )
        share = farm.season.intake_pct * (1.0 + change.share)
        return replace(farm, season=replace(farm.season, intake_pct=share))
    return replace(farm, season=replace(farm.season, winter=change.winter))


def _with_head(farm: Farm, change: HeadCount) -> Farm:
    groups = tuple(
        replace(one, head=change.head) if one.group_id == change.group_id else one
        for one in farm.groups
    )
    if change.head > 0:
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


def _name(farm: Farm, source_id: str) -> str:
    names = {lot.lot_id: lot.name for lot in farm.lots}
    names |= {feed.feed_id: feed.name for feed in farm.feeds}
    return names[source_id]


def _value_lost(farm: Farm, base: SeasonProgram, changes: Sequence[Change]) -> float:
    """Return what hay that is gone was worth on the first day. [USD]."""
    price = {one.source_id: one.usd_per_kg_dm for one in base.sources}
    stood = {lot.lot_id: 1000.0 * lot.start_t for lot in base.lots}
    lost = [change for change in changes if isinstance(change, LotLoss)]
    return sum(price[one.lot_id] * stood[one.lot_id] * one.share for one in lost)


def _shortages(farm: Farm, base: SeasonProgram, program: SeasonProgram) -> str:
    """Say what is short that was not, or no longer is."""
    before, now = _totals(base), _totals(program)
    worse = [
        key for key, total in now.items() if total > (1.0 + WORSE_SHARE) * before.get(key, 0.0)
    ]
    if not worse:
        if before and not now:
            return " and nothing is short anymore"
        better = any(now.get(key, 0.0) < (1.0 - WORSE_SHARE) * before[key] for key in before)
        return " and less is short than before" if better else ""
    first = min(worse, key=lambda key: (key[0] == "", _worst(program, key).start))
    told = _told(farm, _worst(program, first), again=first in before)
    more = len(worse) - 1
    rest = f", and {more} other need{'s are' if more > 1 else ' is'} met less well" if more else ""
    return f" and {told}{rest}"


def _told(farm: Farm, short: Shortage, *, again: bool) -> str:
    display = display_for(farm.units)
    when = display.during_text(short.start, short.end)
    what = NUTRIENT_WORDS.get(short.nutrient, short.nutrient.replace("_", " "))
    if short.most_per_head_day is None:
        return f"misses {what}"
    name = next(one.name for one in farm.groups if one.group_id == short.group_id)
    amount = display.nutrient_text(short.most_per_head_day, short.unit)
    if short.nutrient in TOO_MUCH:
        return f"gives {name} too much {what} by up to {amount} a head and day {when}"
    shorter = "shorter than before" if again else "short"
    return f"leaves {name} {shorter} of {what} by up to {amount} a head and day {when}"


def _totals(program: SeasonProgram) -> Mapping[tuple[str, str], float]:
    totals: dict[tuple[str, str], float] = defaultdict(float)
    for one in program.shortages:
        totals[one.group_id, one.nutrient] += one.total
    return totals


def _worst(program: SeasonProgram, key: tuple[str, str]) -> Shortage:
    """Return the largest shortage of a group and nutrient."""
    mine = [one for one in program.shortages if (one.group_id, one.nutrient) == key]
    return max(mine, key=lambda one: one.most_per_head_day or 0.0)


def _percent(share: float) -> str:
    return f"{100.0 * abs(share):.0f}%"
