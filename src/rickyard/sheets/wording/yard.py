"""Is there enough hay? The answer, the yard's stock week by week, and what is missing."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final, Literal

from rickyard.display import Display, count_text
from rickyard.farm import Caution, Farm, FeedKind
from rickyard.program.result import (
    EMPTY_FRAC,
    NUTRIENT_WORDS,
    Judgement,
    LotBalance,
    SeasonProgram,
    Shortage,
    judge,
)
from rickyard.quantities import KG_PER_TONNE
from rickyard.sheets.wording import words

#: Less than this of hay bought or of forage grazed is not told, in the reader's tons.
LEAST_TOLD_TONS: Final = 0.05


@dataclass(frozen=True, slots=True)
class YardPoint:
    """Hay standing in the yard on a morning, in metric tonnes of dry matter."""

    day: date
    left_t: float


@dataclass(frozen=True, slots=True)
class YardTotals:
    """Where the dry matter of all lots goes, in metric tonnes; ``missing_t`` is not there."""

    start_t: float
    eaten_t: float
    feeding_loss_t: float
    storage_loss_t: float
    left_t: float
    missing_t: float

    @property
    def lost_t(self) -> float:
        """Return what is lost at the feeder and in storage. [t]."""
        return self.feeding_loss_t + self.storage_loss_t


@dataclass(frozen=True, slots=True)
class Verdict:
    """The answer of the season in one sentence, with what it rests on."""

    kind: Literal["enough", "no_stock", "hay_short", "need_short", "unfinished"]
    sentence: str
    detail: str
    empty_on: date | None


def yard_totals(program: SeasonProgram) -> YardTotals:
    """Return the balance of all lots together.

    Parameters
    ----------
    program : SeasonProgram
        A program.

    Returns
    -------
    YardTotals
        The hay of the season, in and out. [t]
    """

    def total(name: str) -> float:
        return sum((float(getattr(lot, name)) for lot in program.lots), 0.0)

    return YardTotals(
        start_t=total("start_t"),
        eaten_t=total("eaten_t"),
        feeding_loss_t=total("feeding_loss_t"),
        storage_loss_t=total("storage_loss_t"),
        left_t=total("left_t"),
        missing_t=_missing_t(program) if hay_is_short(program) else 0.0,
    )


def yard_line(program: SeasonProgram) -> tuple[YardPoint, ...]:
    """Return the hay left in the yard on the first day of each period and on the last day.

    The program states storage loss for the whole season; here it is spread over the periods
    in proportion to the hay then standing, so that the line ends at what is left.

    Parameters
    ----------
    program : SeasonProgram
        A program.

    Returns
    -------
    tuple of YardPoint
        The hay on hand on the first day of each period and on the last day. [t]
    """
    days = [period.start for period in program.periods]
    if not days:
        return ()
    last = program.periods[-1]
    days.append(last.start + timedelta(days=last.days))
    totals = [0.0] * len(days)
    for lot in program.lots:
        for index, left in enumerate(_lot_line(program, lot)):
            totals[index] += left
    return tuple(YardPoint(day, left) for day, left in zip(days, totals, strict=True))


def hay_is_short(program: SeasonProgram) -> bool:
    """Say whether hay is what is lacking."""
    return judge(program).kind == "hay_short"


def empty_on(program: SeasonProgram) -> date | None:
    """Return the first day on which the yard is empty before the season ends, if there is one.

    Parameters
    ----------
    program : SeasonProgram
        A program.

    Returns
    -------
    date or None
        The first day on which no hay is left, if there is one.
    """
    line = yard_line(program)
    if not line or line[0].left_t <= 0:
        return None
    for point in line[:-1]:
        if point.left_t <= EMPTY_FRAC * line[0].left_t:
            return point.day
    return None


def answer_of(program: SeasonProgram, farm: Farm, display: Display) -> Verdict:
    """Answer "is there enough hay" for a program.

    Parameters
    ----------
    program : SeasonProgram
        The result to read.
    farm : Farm
        Gives the groups their names.
    display : Display
        The reader's units.

    Returns
    -------
    Verdict
        One sentence that stands alone, and one that says what it counts.
    """
    detail = _detail(program, yard_totals(program), display)
    found = judge(program)
    kind, sentence = _answer(found, program, farm, display)
    if found.barred_t > EMPTY_FRAC * sum(lot.start_t for lot in program.lots):
        sentence += words.barred(display.tons_text(found.barred_t))
    return Verdict(kind, sentence, detail, empty_on(program))


def _answer(
    found: Judgement, program: SeasonProgram, farm: Farm, display: Display
) -> tuple[Literal["enough", "no_stock", "hay_short", "need_short", "unfinished"], str]:
    day = display.day_text(program.end)
    left = display.tons_text(found.left_t + found.unfit_t)
    first = found.first
    if found.kind == "no_stock":
        return "no_stock", words.no_stock(left, day)
    if first is None:
        return "enough", words.enough(left, day, _beside_the_yard(program, farm, display))
    since = display.day_text(first.start)
    who = group_name(farm, first.group_id)
    if found.kind == "unfinished":
        return "unfinished", words.unfinished(_is_missed(who, first), since)
    if found.kind == "farm_short":
        return "need_short", words.farm_short(first.nutrient, left, day)
    if found.kind == "hay_short":
        return "hay_short", _hay_short(found, program, farm, display)
    unfit = words.unfit(display.tons_text(found.unfit_t)) if found.unfit_t > 0.0 else ""
    if found.kind == "hungry":
        what = words.nutrient_word(first.nutrient)
        return "need_short", words.hungry(who, what, since, left, day) + unfit
    return "need_short", words.need_short(who, first.nutrient, since, left, day) + unfit


def _hay_short(found: Judgement, program: SeasonProgram, farm: Farm, display: Display) -> str:
    """Say from when hay runs short, what to buy, and what of the yard does not help."""
    if found.first is None:
        return ""
    buy = program.hay_to_buy
    since, day = display.day_text(found.first.start), display.day_text(program.end)
    amount = "" if buy is None else _to_buy(buy.as_fed_kg, farm, display)
    checked, gives_all = buy is None or buy.checked, buy is None or buy.gives_all
    sentence = words.hay_short(since, amount, day, checked=checked, gives_all=gives_all)
    start = sum(lot.start_t for lot in program.lots)
    if found.unfit_t > EMPTY_FRAC * start:
        sentence += words.unfit(display.tons_text(found.unfit_t))
    elif found.left_t > EMPTY_FRAC * start and gives_all:
        sentence += words.left_beside(display.tons_text(found.left_t))
    return sentence


def _to_buy(kg: float, farm: Farm, display: Display) -> str:
    """Return an amount of hay as it can be bought: no less than a bale of those in the yard."""
    bales = [one.bale_weight_kg for one in farm.lots if one.bale_weight_kg]
    if bales and kg <= min(bales):
        return words.ONE_BALE
    return display.tons_text(kg / KG_PER_TONNE)


def _is_missed(who: str, one: Shortage) -> str:
    return words.missed(who, one.nutrient) if one.group_id else NUTRIENT_WORDS[one.nutrient]


def group_name(farm: Farm, group_id: str) -> str:
    """Return the name of a group, or its id when the farm has no such group.

    Parameters
    ----------
    farm : Farm
        The farm.
    group_id : str
        The group.

    Returns
    -------
    str
        The name.
    """
    return next((one.name for one in farm.groups if one.group_id == group_id), group_id)


def about_name(farm: Farm, about: str) -> str:
    """Return the name of the lot, feed or group a caution is about; empty for the whole farm.

    Parameters
    ----------
    farm : Farm
        The farm.
    about : str
        The short name of a lot, feed or group, or nothing.

    Returns
    -------
    str
        The name; ``about`` itself where the farm does not know it.
    """
    names = {lot.lot_id: lot.name for lot in farm.lots}
    names |= {feed.feed_id: feed.name for feed in farm.feeds}
    names |= {group.group_id: group.name for group in farm.groups}
    return names.get(about, about)


def _detail(program: SeasonProgram, totals: YardTotals, display: Display) -> str:
    sales = {one.lot_id: one.bales or 0.0 for one in program.sales}
    bales = sum(
        max(0.0, lot.start_bales - lot.fed_bales - sales.get(lot.lot_id, 0.0))
        for lot in program.lots
        if lot.start_bales is not None and lot.fed_bales is not None
    )
    sold = sum(lot.sold_t for lot in program.lots)
    parts = [
        f"{display.tons_text(totals.start_t)} in the yard on {display.day_text(program.start)}",
        f"{display.tons_text(totals.eaten_t)} eaten",
        f"{display.tons_text(totals.lost_t)} lost at the feeder and in storage",
        *((f"{display.tons_text(sold)} sold",) if sold > 0 else ()),
        f"{display.tons_text(totals.left_t)} left",
    ]
    about = f", {count_text(bales, 'bale')}" if bales >= 0.5 else ""
    dangerous = {one.about for one in program.cautions if one.level == "danger"}
    carry_t = sum(lot.left_t for lot in program.lots if lot.lot_id in dangerous)
    told = carry_t > EMPTY_FRAC * totals.start_t
    more = words.dangerous_left(display.tons_text(carry_t)) if told else ""
    return ", ".join(parts) + about + "." + more


def _lot_line(program: SeasonProgram, lot: LotBalance) -> list[float]:
    """Return one lot's stock on the first day of each period and on the last day. [t]."""
    count = len(program.periods)
    offered = [0.0] * count
    for row in program.feeding:
        if row.source_id == lot.lot_id:
            offered[row.period] += row.offered_kg
    total = sum(offered)
    fed_t = lot.eaten_t + lot.feeding_loss_t
    fed = [fed_t * share / total if total > 0 else fed_t / count for share in offered]
    left = lot.start_t - lot.sold_t
    standing = [max(left - sum(fed[:index]), 0.0) for index in range(count)]
    whole = sum(standing)
    line = [left]
    for index in range(count):
        share = standing[index] / whole if whole > 0 else 1.0 / count
        left -= fed[index] + lot.storage_loss_t * share
        line.append(max(left, 0.0))
    return line


def _missing_t(program: SeasonProgram) -> float:
    """Return the hay to buy. [t of dry matter]."""
    buy = program.hay_to_buy
    return 0.0 if buy is None else buy.as_fed_kg * buy.dm_pct / 100.0 / KG_PER_TONNE


def _beside_the_yard(program: SeasonProgram, farm: Farm, display: Display) -> str:
    """Return what hay is bought and what is grazed, in words; empty where it is nothing."""
    grazing = {feed.feed_id for feed in farm.feeds if feed.kind is FeedKind.GRAZING}
    hay = {one.source_id for one in program.sources if one.is_hay}
    parts = []
    for feeds, what in ((hay, "hay bought"), (grazing, "grazing")):
        used_t = sum(one.dm_kg for one in program.purchases if one.feed_id in feeds) / 1000.0
        if display.tons(used_t) >= LEAST_TOLD_TONS:
            parts.append(f"{display.tons_text(used_t)} of {what}")
    return " and ".join(parts)


def concerns(caution: Caution, farm: Farm, group_id: str) -> bool:
    """Say whether a caution is for a group: for that one among others, or for no group alone.

    Parameters
    ----------
    caution : Caution
        The caution.
    farm : Farm
        The farm.
    group_id : str
        The group.

    Returns
    -------
    bool
        Whether it is.
    """
    if caution.groups:
        return group_id in caution.groups
    return caution.about == group_id or all(one.group_id != caution.about for one in farm.groups)


def dangerous_to(program: SeasonProgram, farm: Farm, group_id: str) -> set[str]:
    """Return the lots and feeds a group is fed of which a danger is to be read first.

    Parameters
    ----------
    program : SeasonProgram
        The program.
    farm : Farm
        Its farm.
    group_id : str
        The group.

    Returns
    -------
    set of str
        Their short names.
    """
    told = {
        source_id
        for one in program.cautions
        if one.level == "danger" and concerns(one, farm, group_id)
        for source_id in subjects(one, program, farm)
    }
    return told & {row.source_id for row in program.feeding if row.group_id == group_id}


def subjects(caution: Caution, program: SeasonProgram, farm: Farm) -> frozenset[str]:
    """Return the lots and feeds a caution is about, where those it concerns are fed all of them.

    Parameters
    ----------
    caution : Caution
        The caution; one of several lots or feeds holds their ids.
    program : SeasonProgram
        Its feeding is read.
    farm : Farm
        Its groups are read.

    Returns
    -------
    frozenset of str
        Their short names; empty where it is about a group or the whole farm, or tells of a thing
        that nobody it concerns is fed.
    """
    known = {one.source_id for one in program.sources}
    if caution.about:
        return frozenset({caution.about} & known)
    named = set(caution.sources) & known
    if not named:
        return frozenset()
    groups = {one.group_id for one in farm.groups if concerns(caution, farm, one.group_id)}
    fed = {row.source_id for row in program.feeding if row.group_id in groups}
    return frozenset(named) if named <= fed else frozenset()
