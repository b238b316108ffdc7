"""What would have to change so that nothing is short: solved for, never guessed.

For each shortage and each thing that could be had more of, the least amount is found with which
the shortage is gone and no other is worse. Head are taken away until nothing of the group's own is
short.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from typing import Final

import numpy as np

from rickyard.display import Display, money_text
from rickyard.nutrients import NUTRIENTS
from rickyard.program.ask.allowance import Allowance
from rickyard.program.ask.hay_to_buy import NDF_PCT, better_hay
from rickyard.program.ask.less_waste import OtherFeeder, removed_by
from rickyard.program.ask.sensitivity import Inquiry, Sensitivity
from rickyard.program.model import USD_PER_ROW_UNIT
from rickyard.program.problem import Problem
from rickyard.program.result import NUTRIENT_WORDS, TOO_MUCH, Remedy, RemedyKind, Shortage
from rickyard.program.solver import placed
from rickyard.quantities import is_some
from rickyard.types import IntArray

#: Nothing is short that is less, in its unit per head and day.
GONE: Final = 1e-5

#: Money is said in whole dollars.
HALF_A_DOLLAR: Final = 0.5

#: Who is here for so short a time eats nothing to speak of. [days]
NO_TIME_DAYS: Final = 1e-6


def fewer_head(inquiry: Inquiry, group_id: str) -> tuple[int, float] | None:
    """Return how many head fewer of a group would leave none of it short, and what that changes.

    ``inquiry``: the solved season; the hays that it may feed are kept. Returns head, and US dollars
    more than the season costs now (less, as a rule, and so negative); ``None`` where even one head
    alone would be short, or no season could be solved.
    """
    groups = inquiry.problem.needs.groups
    group = next(g for g, one in enumerate(groups) if one.group_id == group_id)
    now = round(float(inquiry.problem.needs.head[group].max()))
    season = inquiry.problem
    too_few, enough = 0, now - 1
    with inquiry.other_seasons() as ask:
        if enough < 1:
            return None
        answer = ask(_with_head(season, group, now - enough))
        if inquiry.short_of_group(answer, group) > GONE:
            return None
        usd = _more_usd(inquiry, answer)
        while enough - too_few > 1:
            fewer = (too_few + enough) // 2
            answer = ask(_with_head(season, group, now - fewer))
            if inquiry.short_of_group(answer, group) > GONE:
                too_few = fewer
            else:
                enough, usd = fewer, _more_usd(inquiry, answer)
    return enough, usd


def leave_earlier(inquiry: Inquiry, group_id: str) -> tuple[int, float] | None:
    """Return from which period on a group would have to be gone so that none of it is short.

    ``inquiry``: the solved season; the hays that it may feed are kept. Returns the first period
    without it, the latest that will do, and US dollars more than the season costs now; ``None``
    where it would have to leave before half of its time is over.
    """
    groups = inquiry.problem.needs.groups
    group = next(g for g, one in enumerate(groups) if one.group_id == group_id)
    season = inquiry.problem
    here = np.flatnonzero(season.needs.here[group])
    if len(here) < 2:
        return None
    gone, late = int(here[len(here) // 2]), int(here[-1]) + 1
    with inquiry.other_seasons() as ask:
        answer = ask(_gone_from(season, group, gone))
        if inquiry.short_of_group(answer, group, before=gone) > GONE:
            return None
        usd = _more_usd(inquiry, answer)
        while late - gone > 1:
            middle = (gone + late) // 2
            answer = ask(_gone_from(season, group, middle))
            if inquiry.short_of_group(answer, group, before=middle) > GONE:
                late = middle
            else:
                gone, usd = middle, _more_usd(inquiry, answer)
    return gone, usd


def _more_usd(inquiry: Inquiry, answer: Sensitivity) -> float:
    """Return how much more a season costs than the one solved, in whole cents. [US dollars]."""
    return round(answer.usd - inquiry.base.usd, 2) + 0.0


def _gone_from(problem: Problem, group: int, period: int) -> Problem:
    """Let a group be here for next to no time from a period on, so that the rows stay."""
    days = problem.needs.days.copy()
    days[group, period:] = np.minimum(days[group, period:], NO_TIME_DAYS)
    return replace(problem, needs=replace(problem.needs, days=days))


def _with_head(problem: Problem, group: int, head: int) -> Problem:
    heads = problem.needs.head.copy()
    heads[group] = np.minimum(heads[group], head)
    return replace(problem, needs=replace(problem.needs, head=heads))


#: So many shortages are looked into, the dearest first.
MOST_SHORTAGES: Final = 10

#: So many lots and feeds are tried, those of which a tonne more would help most.
MOST_LOTS: Final = 2
MOST_FEEDS: Final = 3

#: A shortage is gone when less than this share of it is left.
GONE_SHARE: Final = 1e-5

#: No other shortage may grow by more, in its unit per head and day.
NO_WORSE: Final = 1e-6

#: What no hay is bought for.
MINERALS: Final = {one.key for one in NUTRIENTS.values() if one.kind == "minerals"} | {"sulfur"}

#: What is missing counts so much against a tonne that is bought more that all of it is bought
#: that helps; in tonnes for a US dollar of the price set for shortages.
SHORT_AGAINST_TONNE: Final = 1e2

#: Less than this is no more of it: what is short is then a matter of how it is fed. [t DM]
LEAST_T: Final = 1e-3

#: An amount bought more is rounded up by this share, so that solving again finds nothing short.
ROUND_UP: Final = 1e-6


@dataclass(frozen=True, slots=True)
class _Short:
    """A shortage: its variables, and how much of it there is in US dollars of its price."""

    shortage: Shortage
    columns: IntArray
    usd: float


def remedies(
    inquiry: Inquiry,
    shortages: Sequence[Shortage],
    display: Display,
    allowance: Allowance,
    with_hay: Callable[[], Problem] | None = None,
    feeders: Mapping[str, OtherFeeder] | None = None,
) -> tuple[Remedy, ...]:
    """Say what would remove each shortage: less waste first, then the cheapest first.

    ``inquiry``: the solved season. ``shortages``: what is short; at most ten are looked into, the
    largest first. ``display``: units of the sentences. ``allowance``: nothing further is tried when
    it is spent; what was found by then is told. ``with_hay``: gives the season with the hay to look
    for as its last source, where nothing else helps. ``feeders``: another feeder that wastes less,
    by group. Returns first what would remove all of them at once, for the whole farm, then in the
    order of the shortages.
    """
    known = [_found(inquiry, one) for one in shortages if one.group_id]
    real = sorted((one for one in known if is_some(one.usd)), key=lambda one: -one.usd)
    head: dict[str, tuple[int, float] | None] = {}
    leave: dict[str, tuple[int, float] | None] = {}
    found: dict[int, list[Remedy]] = {}
    together = _all_together(inquiry, real, display, allowance)
    for short in real[:MOST_SHORTAGES]:
        if allowance.spent():
            break
        mine = sorted(_bought(inquiry, short, display, allowance), key=_by_cost)
        mine.extend(_more_money(inquiry, short, display))
        if allowance.spent():
            found[id(short.shortage)] = mine
            break
        group_id = short.shortage.group_id
        if group_id not in head:
            head[group_id] = fewer_head(inquiry, group_id)
            leave[group_id] = leave_earlier(inquiry, group_id)
        mine.extend(_fewer(inquiry, short.shortage, display, head[group_id]))
        mine.extend(_earlier(inquiry, short.shortage, display, leave[group_id]))
        if not mine and with_hay is not None and short.shortage.nutrient not in MINERALS:
            mine = list(_looked_for(inquiry, short.shortage, with_hay(), display))
        wasted = _less_wasted(inquiry, short, display, (feeders or {}).get(group_id))
        mine = mine or [_nothing(inquiry, short.shortage, display)]
        found[id(short.shortage)] = [*wasted, *mine]
    each = [one for shortage in shortages for one in found.get(id(shortage), ())]
    return (*together, *each)


def _all_together(
    inquiry: Inquiry, real: Sequence[_Short], display: Display, allowance: Allowance
) -> list[Remedy]:
    """Try more of one source against everything that is short."""
    if len(real) < 2:
        return []
    needs = inquiry.problem.needs
    last = needs.periods[-1]
    end = last.start + timedelta(days=last.days)
    farm = replace(
        real[0].shortage, group_id="", start=needs.periods[0].start, end=end, nutrient=""
    )
    every = np.concatenate([one.columns for one in real])
    whole = _Short(farm, every, sum(one.usd for one in real))
    return sorted(_bought(inquiry, whole, display, allowance), key=_by_cost)


def _by_cost(remedy: Remedy) -> float:
    return np.inf if remedy.usd is None else remedy.usd


def _found(inquiry: Inquiry, shortage: Shortage) -> _Short:
    needs = inquiry.problem.needs
    group = next(g for g, one in enumerate(needs.groups) if one.group_id == shortage.group_id)
    inside = [one.index for one in needs.periods if shortage.start <= one.start < shortage.end]
    cells = group * len(needs.periods) + np.array(inside, dtype=np.int64)
    index = inquiry.model.columns.shortage.get(shortage.nutrient)
    columns = np.zeros(0, dtype=np.int64) if index is None else index[cells]
    columns = columns[placed(columns)]
    x = inquiry.base.optimum.x
    return _Short(shortage, columns, float(inquiry.model.cost[columns] @ x[columns]))


def _bought(
    inquiry: Inquiry, short: _Short, display: Display, allowance: Allowance
) -> Iterator[Remedy]:
    """Try more of the sources of which more would help most, as long as that is allowed."""
    for source in _helpful(inquiry):
        if allowance.spent():
            return
        more_t = least_more(inquiry, short.columns, source)
        if more_t is None or more_t < LEAST_T:
            continue
        value = inquiry.problem.sources.values[source]
        kg = 1000.0 * more_t / (value.dm_pct / 100.0)
        is_lot = source < inquiry.problem.sources.lot_count
        usd = 1000.0 * more_t * value.usd_per_kg_dm
        sentence = (
            f"{_opening(inquiry, short.shortage, display)} {display.amount_text(kg)} more of "
            f"{'hay like ' if is_lot else ''}{value.name} would remove it, {money_text(usd)} at "
            f"{display.price_a_ton(usd / kg)}."
        )
        yield _remedy(
            short.shortage, "hay" if is_lot else "feed", sentence, value.source_id, kg, usd
        )


def _more_money(inquiry: Inquiry, short: _Short, display: Display) -> Iterator[Remedy]:
    """Lift the cash limit, where there is one, and see whether money removes the shortage."""
    row = inquiry.model.farm_row.get("cash")
    if row is None:
        return
    most = float(inquiry.model.rows.upper[row])
    with inquiry.unlimited(row):
        answer = inquiry.ask()
    x = answer.optimum.x
    if float(inquiry.cost[short.columns] @ x[short.columns]) > GONE_SHARE * short.usd:
        return
    rows = inquiry.model.rows
    spent = float(rows.value[rows.row == row] @ x[rows.column[rows.row == row]])
    usd = USD_PER_ROW_UNIT * (spent - most)
    if not is_some(usd):
        return
    sentence = (
        f"{_opening(inquiry, short.shortage, display)} {money_text(usd)} more to spend on feed "
        "than the cash limit allows would remove it; the cheapest season without that limit "
        "spends it."
    )
    yield _remedy(short.shortage, "cash", sentence, usd=usd)


def _looked_for(
    inquiry: Inquiry, shortage: Shortage, problem: Problem, display: Display
) -> Iterator[Remedy]:
    """Try better hay than there is."""

    def enough(asked: Inquiry, source: int) -> float | None:
        short = _found(asked, shortage)
        return least_more(asked, short.columns, source) if is_some(short.usd) else None

    hay = better_hay(inquiry, problem, enough)
    if hay is None:
        return
    sentence = (
        f"{_opening(inquiry, shortage, display)} no feed listed would remove it, but "
        f"{display.amount_text(hay.as_fed_kg)} of hay with {hay.tdn_pct}% TDN and {hay.cp_pct}% "
        f"protein would, at about {NDF_PCT:g}% fiber (NDF). Test it before you buy."
    )
    one = _remedy(shortage, "better_hay", sentence, kg=hay.as_fed_kg)
    yield replace(one, tdn_pct=float(hay.tdn_pct), cp_pct=float(hay.cp_pct))


def _remedy(
    shortage: Shortage,
    kind: RemedyKind,
    sentence: str,
    source_id: str = "",
    kg: float | None = None,
    usd: float | None = None,
    head: int | None = None,
) -> Remedy:
    where = shortage.group_id, shortage.start, shortage.end, shortage.nutrient
    return Remedy(*where, kind, source_id, kg, head, usd, sentence)


def _helpful(inquiry: Inquiry) -> list[int]:
    """Return sources that run out, those whose next tonne would help most first."""
    lots = inquiry.problem.sources.lot_count
    row = np.concatenate([inquiry.model.stock_row, inquiry.model.buy_row])
    dual = inquiry.base.optimum.row_dual
    helps = np.where(placed(row), -dual[np.maximum(row, 0)], 0.0)
    order = [i for i in np.argsort(-helps, kind="stable").tolist() if is_some(helps[i])]
    hay = [i for i in order if i < lots][:MOST_LOTS]
    return hay + [i for i in order if i >= lots][:MOST_FEEDS]


def _opening(inquiry: Inquiry, shortage: Shortage, display: Display) -> str:
    if not shortage.group_id:
        return "Everything that is short:"
    groups = inquiry.problem.needs.groups
    name = next(one.name for one in groups if one.group_id == shortage.group_id)
    what = NUTRIENT_WORDS.get(shortage.nutrient, shortage.nutrient.replace("_", " "))
    state = "with too much" if shortage.nutrient in TOO_MUCH else "short of"
    return f"{name}, {state} {what} {display.during_text(shortage.start, shortage.end)}:"


def _change(usd: float) -> str:
    if abs(usd) < HALF_A_DOLLAR:
        return "about the same"
    return f"{money_text(usd)} more" if usd >= 0.0 else f"{money_text(-usd)} less"


def least_more(inquiry: Inquiry, short: IntArray, source: int) -> float | None:
    """Return the least more of a source that removes a shortage.

    ``inquiry``: the solved season. ``source``: what there could be more of. Returns tonnes of dry
    matter; ``None`` where no amount of it removes the shortage. Nothing else that is short becomes
    worse.
    """
    base, extra = inquiry.base.optimum.x, int(inquiry.extra[source])
    others = np.setdiff1d(inquiry.penalties, short)
    counted = np.zeros_like(inquiry.cost)
    counted[short] = SHORT_AGAINST_TONNE * inquiry.cost[short]
    counted[extra] = 1.0
    missing = float(inquiry.cost[short] @ base[short])
    bounded = np.append(others, extra)
    with (
        inquiry.at_most(bounded, np.append(base[others] + NO_WORSE, np.inf)),
        inquiry.costing(counted),
    ):
        x = inquiry.ask().optimum.x
    if float(inquiry.cost[short] @ x[short]) > GONE_SHARE * missing:
        return None
    return float(x[extra]) * (1.0 + ROUND_UP)


def _fewer(
    inquiry: Inquiry, shortage: Shortage, display: Display, answer: tuple[int, float] | None
) -> Iterator[Remedy]:
    if answer is None:
        return
    head, usd = answer
    groups = inquiry.problem.needs.groups
    now = next(one.head for one in groups if one.group_id == shortage.group_id)
    cost = f"; the season then costs {_change(usd)}"
    sentence = (
        f"{_opening(inquiry, shortage, display)} with {head:,} fewer head, {now - head:,} instead "
        f"of {now:,}, none of the group would be short{cost}."
    )
    yield _remedy(shortage, "fewer_head", sentence, usd=usd, head=head)


def _earlier(
    inquiry: Inquiry, shortage: Shortage, display: Display, answer: tuple[int, float] | None
) -> Iterator[Remedy]:
    if answer is None:
        return
    period, usd = answer
    on = inquiry.problem.needs.periods[period].start
    sentence = (
        f"{_opening(inquiry, shortage, display)} if they left, or found grass, on "
        f"{display.day_text(on)}, none of the group would be short; the season then costs "
        f"{_change(usd)}."
    )
    yield replace(_remedy(shortage, "leave_earlier", sentence, usd=usd), on=on)


def _less_wasted(
    inquiry: Inquiry, short: _Short, display: Display, other: OtherFeeder | None
) -> Iterator[Remedy]:
    """Say what another feeder removes, and what the season then costs without the feeder."""
    shortage = short.shortage
    if other is None or shortage.nutrient in MINERALS | TOO_MUCH:
        return
    found = removed_by(inquiry, shortage.group_id, other, short.usd)
    if found is None:
        return
    removed, usd = found
    rings = f"{other.rings} of 8 feet for all of them, " if other.rings else ""
    does = "would remove it" if removed > 1.0 - GONE_SHARE else f"would remove {removed:.0%} of it"
    then, now = other.words
    sentence = (
        f"{_opening(inquiry, shortage, display)} a {then} in place of {now} wastes about "
        f"{other.then_pct:.0f}% in place of {other.now_pct:.0f}% and {does}; {rings}the season "
        f"then costs {_change(usd)}, without the price of the feeder."
    )
    yield _remedy(shortage, "other_feeder", sentence, usd=usd)


def _nothing(inquiry: Inquiry, shortage: Shortage, display: Display) -> Remedy:
    if shortage.nutrient in TOO_MUCH:
        sentence = (
            f"{_opening(inquiry, shortage, display)} no feed listed dilutes it enough. Look for "
            "another feed or other water, and call a veterinarian before they eat it."
        )
        return _remedy(shortage, "none", sentence)
    if shortage.nutrient in MINERALS:
        sentence = (
            f"{_opening(inquiry, shortage, display)} no feed listed has enough of it in what "
            "they could eat. List a mineral that does in feeds.csv."
        )
        return _remedy(shortage, "none", sentence)
    sentence = (
        f"{_opening(inquiry, shortage, display)} no feed listed can remove it alone in any "
        "amount, nor can fewer head. Look for a feed that is not in feeds.csv, or ask less of "
        "the group."
    )
    return _remedy(shortage, "none", sentence)
