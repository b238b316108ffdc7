"""What if: the answer to a change, beside the program of the farm as it is."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from rickyard.display import display_for, listed, money_text
from rickyard.farm import Farm
from rickyard.program.planning.change_words import labels_of
from rickyard.program.planning.changes import (
    Bought,
    Change,
    LotLoss,
    Price,
    SalePrice,
    WinterIs,
    changed,
)
from rickyard.program.planning.season import plan_season
from rickyard.program.result import (
    NUTRIENT_WORDS,
    TOO_MUCH,
    NeedRow,
    PlanOptions,
    SeasonProgram,
    Shortage,
)
from rickyard.quantities import is_some
from rickyard.tables import Tabular

#: Differences below this many US dollars are called nothing.
NOTHING_USD: Final = 0.5

#: Words of the caution about a winter that nothing is counted of.
IDLE_WINTER: Final = "winter changes nothing here"

#: A shortage must grow by this share of itself to be called worse.
WORSE_SHARE: Final = 0.01

#: So many groups are named that are better supplied than before.
MOST_RELIEVED: Final = 3


@dataclass(frozen=True, slots=True, repr=False)
class WhatIfAnswer(Tabular):
    """What a change does to a season, beside the program without it.

    ``cost_usd`` is how much dearer the season is; ``sentence`` is the answer in plain words.
    ``unclear`` says that the difference is smaller than what the searches leave open.
    """

    label: str
    program: SeasonProgram
    cost_usd: float
    sentence: str
    unclear: bool = False

    def _facts(self) -> tuple[tuple[str, str], ...]:
        return (("", self.sentence),)


def what_if(
    farm: Farm,
    *changes: Change,
    options: PlanOptions = PlanOptions(),  # noqa: B008 - frozen
) -> SeasonProgram:
    """Return the season program of a farm on which something is different.

    Raises ``OutOfRange`` if a change speaks of what the farm has not, or makes no sense. Raises
    ``SolveError`` if the solver fails.

    Parameters
    ----------
    farm : Farm
        The farm as it is.
    *changes : Change
        What is to be different.
    options : PlanOptions
        How to make the program.
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
    unclear = is_unclear(base, program)
    sentence = f"{label}: {_money(base, program)}{_shortages(farm, base, program)}."
    if any(isinstance(one, Price | SalePrice | Bought) for one in changes):
        sentence = f"{sentence} {_cash(base, program)}"
    gone = _value_lost(farm, base, changes)
    if gone > NOTHING_USD:
        sentence = f"{sentence} Plus the lost hay, worth {money_text(gone)}."
    paid = _value_bought(farm, base, changes)
    if paid > NOTHING_USD:
        sentence = f"{sentence} The hay bought is worth {money_text(paid)} at the value of its lot."
    idle = [one.sentence for one in program.cautions if IDLE_WINTER in one.sentence]
    if idle and any(isinstance(one, WinterIs) for one in changes):
        sentence = f"{sentence} {idle[0]}"
    return WhatIfAnswer(label, program, more, sentence, unclear)


def is_unclear(base: SeasonProgram, program: SeasonProgram) -> bool:
    """Say whether a difference of cost is smaller than what the searches leave open.

    A program that is dearer may be so only because a cheaper one was not found, and one that is
    cheaper because none as cheap was found for the farm as it is.
    """
    dearer = max(base, program, key=lambda one: one.cost)
    return NOTHING_USD < abs(program.cost - base.cost) <= _open_usd(dearer)


def short_weeks(program: SeasonProgram) -> tuple[NeedRow, ...]:
    """Return how short each group is of what, week by week, in the order of the weeks.

    Parameters
    ----------
    program : SeasonProgram
        A program.

    Returns
    -------
    tuple of NeedRow
        One row a group, week and nutrient that is short.
    """
    found = [one for one in program.needs if is_some(one.shortage)]
    told = {(one.group_id, one.nutrient) for one in program.shortages}
    mine = [one for one in found if (one.group_id, one.nutrient) in told]
    return tuple(sorted(mine, key=lambda one: (one.start, one.group_id, one.nutrient)))


def _open_usd(program: SeasonProgram) -> float:
    """Return how much cheaper a program might be than the one that was found. [US dollars]."""
    return program.gap * abs(program.cost)


def _money(base: SeasonProgram, program: SeasonProgram) -> str:
    more = _more_or_less(program.cost - base.cost)
    if is_unclear(base, program):
        room = money_text(_open_usd(max(base, program, key=lambda one: one.cost)))
        return f"no clear change in cost ({more}, but the search is only exact to {room})"
    return f"the season costs {more}"


def _more_or_less(usd: float) -> str:
    if abs(usd) <= NOTHING_USD:
        return "the same"
    return f"{money_text(abs(usd))} {'more' if is_some(usd) else 'less'}"


def _cash(base: SeasonProgram, program: SeasonProgram) -> str:
    """Say what of a difference is money that changes hands; the rest is what hay is valued at."""
    more = _more_or_less(_paid(program) - _paid(base))
    return f"Money paid for feed, less what sales bring: {more}."


def _paid(program: SeasonProgram) -> float:
    return program.costs.purchases - sum(one.revenue_usd for one in program.sales)


def _value_lost(farm: Farm, base: SeasonProgram, changes: Sequence[Change]) -> float:
    """Return what hay that is gone was worth on the first day. [USD]."""
    price = {one.source_id: one.usd_per_kg_dm for one in base.sources}
    stood = {lot.lot_id: 1000.0 * lot.start_t for lot in base.lots}
    lost = [change for change in changes if isinstance(change, LotLoss)]
    return sum(price[one.lot_id] * stood[one.lot_id] * one.share for one in lost)


def _value_bought(farm: Farm, base: SeasonProgram, changes: Sequence[Change]) -> float:
    """Return what hay that is bought beside a lot costs, at what the program counts. [USD]."""
    lots = {lot.lot_id for lot in farm.lots}
    value = {
        one.source_id: one.usd_per_kg_dm * one.dm_pct / 100.0
        for one in base.sources
        if one.source_id in lots
    }
    bought = [change for change in changes if isinstance(change, Bought)]
    return sum(value.get(one.source_id, 0.0) * one.as_fed_kg for one in bought)


def _shortages(farm: Farm, base: SeasonProgram, program: SeasonProgram) -> str:
    """Say what is short that was not, or no longer is."""
    before, now = _totals(base), _totals(program)
    worse = [
        key for key, total in now.items() if total > (1.0 + WORSE_SHARE) * before.get(key, 0.0)
    ]
    better = [
        key for key, total in before.items() if now.get(key, 0.0) < (1.0 - WORSE_SHARE) * total
    ]
    if not worse:
        if before and not now:
            return " and nothing is short anymore"
        return f"; less is short than before{_relief(farm, better)}" if better else ""
    first = min(worse, key=lambda key: (key[0] == "", _worst(program, key).start))
    told = _told(farm, _worst(program, first), again=first in before)
    more = len(worse) - 1
    rest = f", and {more} other need{'s are' if more > 1 else ' is'} met less well" if more else ""
    doubt = ""
    if program.penalty - base.penalty <= _open_usd(program):
        doubt = " (a longer search may remove it: more --effort)"
    relief = f", while less is short{_relief(farm, better)}" if better else ""
    return f" and {told}{rest}{doubt}{relief}"


def _relief(farm: Farm, better: Sequence[tuple[str, str]]) -> str:
    """Say for whom less is short than before."""
    names = {group.group_id: group.name for group in farm.groups}
    mine = list(dict.fromkeys(names[group] for group, _ in better if group in names))
    if not mine:
        return ""
    shown = mine[:MOST_RELIEVED]
    return f" for {listed(shown)}{' and others' if len(mine) > len(shown) else ''}"


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
