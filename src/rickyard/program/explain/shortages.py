"""What the farm cannot supply, in sentences: needs, ceilings, hay to be left and money."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date, timedelta
from math import ceil
from statistics import NormalDist
from typing import Final

from rickyard.display import Display, listed, money_text
from rickyard.farm import Farm, FeedKind
from rickyard.nutrients import NUTRIENTS
from rickyard.program.model import change_words
from rickyard.program.problem import (
    BY_ORDER,
    FORAGE_FALL,
    LEFT_TO_MEANS,
    UNITS,
    asked_pct,
    standard_deviations,
)
from rickyard.program.result import (
    NEEDS_OF_HAY,
    NUTRIENT_WORDS,
    FarmLimit,
    GroupPeriod,
    NeedRow,
    Shortage,
)
from rickyard.quantities import KG_PER_TONNE, is_some
from rickyard.safety import ShortagePlace, amount_of, bindings, places_of


def chance_pct(row: NeedRow, promised_pct: float) -> float:
    """Return the chance with which what is supplied meets a need.

    ``promised_pct``: the chance with which the assured supply is there.

    The assured supply lies ``z`` standard deviations below the mean. For the energy of growing
    stock, whose error is not quite normal, this is near.
    """
    if row.assured is None or row.supplied <= row.assured:
        return 100.0 if row.supplied >= row.need else 0.0
    spread = (row.supplied - row.assured) / standard_deviations(promised_pct)
    return 100.0 * NormalDist().cdf((row.supplied - row.need) / spread)


def assured_shortage(
    farm: Farm, group_id: str, nutrient: str, run: Sequence[NeedRow], display: Display
) -> str:
    """Say what is short of a promise over neighbouring periods, and what the means say."""
    group = farm.group(group_id)
    promised = asked_pct(group, farm.season)
    if promised is None:
        raise KeyError(group_id)
    unit = UNITS[nutrient]
    most = display.nutrient_text(max(row.shortage for row in run), unit)
    when = display.during_text(run[0].start, run[-1].start + timedelta(days=run[-1].days))
    sentence = (
        f"At {promised:g}% assurance {group.name} are short of {NUTRIENT_WORDS[nutrient]} "
        f"{when}, by up to {most} per head and day"
    )
    on_means = max(row.need - row.supplied for row in run)
    if is_some(on_means - 1e-6 * max(row.need for row in run)):
        return f"{sentence}; on average values it is {display.nutrient_text(on_means, unit)}."
    chance = min(chance_pct(row, promised) for row in run)
    return (
        f"{sentence}. On average values there is enough, with a chance of about "
        f"{chance:.0f}% in the worst period."
    )


_CASH: Final = (
    "Feed costs {spent} and the cash limit is {most}: {missed} more is needed, though nothing is "
    "bought but what must always be on offer and what cannot be done without. Sell hay or stock, "
    "or ask for terms."
)

_RESERVE: Final = (
    "{left} of hay left on the last day; {wanted} needed in reserve for a late spring: "
    "{missed} short. Buy hay while there is some to buy, or plan for fewer head."
)


_ENERGY: Final = frozenset(one.key for one in NUTRIENTS.values() if one.kind == "energy")


def shortages_of(
    farm: Farm,
    needs: Sequence[NeedRow],
    groups: Sequence[GroupPeriod],
    limits: Sequence[FarmLimit],
    display: Display,
) -> tuple[Shortage, ...]:
    """Return every shortage by run of periods, those of the whole farm last."""
    heads = {(row.group_id, row.period): row for row in groups}
    short: dict[tuple[str, str], list[NeedRow]] = {}
    for row in needs:
        if is_some(row.shortage):
            short.setdefault((row.group_id, row.nutrient), []).append(row)
    found = [
        _shortage(farm, nutrient, run, heads, display)
        for (_, nutrient), rows in short.items()
        for run in _neighbours(rows)
    ]
    found.sort(key=lambda one: (one.start, one.group_id, one.nutrient))
    # Of what is short from one day on, energy says why it falls on them.
    energy_first = sorted(range(len(found)), key=lambda at: found[at].nutrient not in _ENERGY)
    for order, names, more in (
        (energy_first, BY_ORDER, _in_order),
        (range(len(found)), NEEDS_OF_HAY, _kept_from_them),
    ):
        told: set[str] = set()
        for at in order:
            one = found[at]
            if one.nutrient in names and one.group_id not in told:
                told.add(one.group_id)
                found[at] = replace(one, sentence=f"{one.sentence}{more(farm, one)}")
    return (*found, *(_of_the_farm(farm, one, display) for one in limits if is_some(one.shortage)))


def _shortage(
    farm: Farm,
    nutrient: str,
    run: list[NeedRow],
    heads: dict[tuple[str, int], GroupPeriod],
    display: Display,
) -> Shortage:
    cells = [heads[row.group_id, row.period] for row in run]
    total = sum(row.shortage * cell.head * cell.days for row, cell in zip(run, cells, strict=True))
    most = max(row.shortage for row in run)
    name = farm.group(run[0].group_id).name
    # Who leaves in the middle of a period is short to its last day and no longer.
    leaves = (run[0].group_id, run[-1].period + 1) not in heads
    end = run[-1].start + timedelta(days=cells[-1].days if leaves else run[-1].days)
    if nutrient == "forage_fall":
        before = [heads[row.group_id, row.period - 1] for row in run]
        sentence = _fall_words(name, run, before, display)
    elif run[0].assured is None:
        sentence = _sentence(name, nutrient, most, run, cells, end, display)
    else:
        sentence = assured_shortage(farm, run[0].group_id, nutrient, run, display)
    return Shortage(
        group_id=run[0].group_id,
        start=run[0].start,
        end=end,
        nutrient=nutrient,
        unit=run[0].unit,
        most_per_head_day=most,
        total=total,
        sentence=sentence,
    )


def _in_order(farm: Farm, short: Shortage) -> str:
    """Say why a group goes short before or after the others; nothing where it stands alone."""
    days = [(short.end - short.start).days]
    place: dict[str, ShortagePlace] = {}
    for group in farm.groups:
        gone = group.to_on is not None and group.to_on <= short.start
        if not gone and (group.from_on is None or group.from_on < short.end):
            (place[group.group_id],) = places_of(farm, group, [short.start], days)
    own = place.pop(short.group_id)
    earlier = [farm.group(one).name for one, at in place.items() if at.place < own.place]
    later = [farm.group(one).name for one, at in place.items() if at.place > own.place]
    if earlier:
        order = f"Feed these before {listed(earlier)}"
    elif later:
        order = f"They go short before {listed(later)}"
    else:
        return ""
    return f" {order}: {own.because} ({own.source})."


def _kept_from_them(farm: Farm, short: Shortage) -> str:
    """Say which hay is kept from a group that is short, and what would let them have some."""
    names = {lot.lot_id: lot.name for lot in farm.lots}
    names |= {one.feed_id: one.name for one in farm.feeds if one.kind is FeedKind.FORAGE}
    days = (short.end - short.start).days
    kept: dict[str, bool] = {}
    for one in bindings(farm):
        mine = one.group_id == short.group_id and one.source_id in names
        if mine and one.bars and one.holds(short.start, days):
            kept[one.source_id] = kept.get(one.source_id, True) and one.rule.known == "unknown"
    untested = [names[one] for one, unknown in kept.items() if unknown]
    harmful = [names[one] for one, unknown in kept.items() if not unknown]
    said = ""
    if untested:
        said += (
            f" {listed(untested)}: kept from them until a test says that it is safe; have it "
            "tested, or buy tested hay."
        )
    if harmful:
        said += f" {listed(harmful)}: kept from them, it can harm them; buy tested hay."
    return said


def _neighbours(rows: list[NeedRow]) -> Iterator[list[NeedRow]]:
    run: list[NeedRow] = []
    for row in sorted(rows, key=lambda row: row.period):
        if run and row.period != run[-1].period + 1:
            yield run
            run = []
        run.append(row)
    if run:
        yield run


#: What to do about what lacks, where more of the same is not all.
_WHAT_TO_GIVE: Final = {
    "mg": (
        "Give them a mineral with magnesium, which keeps cattle and sheep in milk from grass "
        "tetany, and ask your veterinarian."
    ),
    "ca_floor": (
        "Milk fever can kill them before birth: give them limestone or hay with more calcium, and "
        "call your veterinarian for one that staggers or lies down."
    ),
    "forage_share": (
        "More than half of what they eat is meal and grain, which can bring acidosis, bloat and "
        "founder: buy hay, and ask your veterinarian."
    ),
}


#: Hay comes down by the most of one night and stays there for so many days, as extension schedules
#: of two to four days for a quarter of the ration have it. Judgement, no published source. [d]
DAYS_OF_A_STEP: Final = 3


def _fall_words(
    name: str, run: Sequence[NeedRow], before: Sequence[GroupPeriod], display: Display
) -> str:
    """Say that a group's forage falls further in one night than it should, and what to do.

    ``before``: the group in the period before each.
    """
    most = amount_of(FORAGE_FALL) / 100.0
    # What is missed of the least comes on top of the fall that is free.
    fall = max(
        row.shortage / cell.intake_kg_dm_per_head_day + LEFT_TO_MEANS * most
        for row, cell in zip(run, before, strict=True)
    )
    days = DAYS_OF_A_STEP * ceil(fall / most)
    when = listed([display.day_text(row.start) for row in run])
    return (
        f"The forage of {name} falls by up to {100.0 * fall:.0f}% of the ration in one night, on "
        f"{when}: about a fifth at once is the most. Save some of the hay fed before, and change "
        f"over {days} days in even steps."
    )


def _sentence(
    name: str,
    nutrient: str,
    most: float,
    run: list[NeedRow],
    cells: list[GroupPeriod],
    end: date,
    display: Display,
) -> str:
    when = display.during_text(run[0].start, end)
    amount = display.nutrient_text(most, UNITS[nutrient])
    if nutrient == "change_over":
        return change_words(name, when, amount)
    if nutrient == "other_hay":
        return (
            f"{name} should get more hay of another kind beside what they get {when}, by up to "
            f"{amount} a head and day: the caution of that hay says why. None that they may have "
            "is left, or another need comes first. Buy some, or ask your veterinarian."
        )
    if nutrient == "tetany":
        return (
            f"{name} get more potassium {when} than calcium and magnesium balance, by up to "
            f"{amount} a head and day: grass tetany can kill those in milk. Give them a mineral "
            "with magnesium and calcium and hay lower in potassium, have the hay tested for K, Ca "
            "and Mg by wet chemistry, and ask your veterinarian."
        )
    if nutrient == "milk_fever":
        return (
            f"{name} get more potassium {when} than keeps milk fever away at calving, by up to "
            f"{amount} a head and day: give them hay lower in potassium, have the hay tested for "
            "K, Na, Cl and S by wet chemistry, and ask your veterinarian."
        )
    if run[0].bound == "at_most":
        return (
            f"{name} get too much {NUTRIENT_WORDS[nutrient]} {when}, by up to {amount} a head "
            "and day, and no feed here dilutes it enough: find other water or feed, and call a "
            "veterinarian before they eat it."
        )
    sentence = (
        f"{name} are short of {NUTRIENT_WORDS[nutrient]} {when}, by up to {amount} a head and day"
    )
    if nutrient in _WHAT_TO_GIVE:
        return f"{sentence}. {_WHAT_TO_GIVE[nutrient]}"
    if nutrient == "gain_energy":
        gains = [cell.expected_gain_kg_per_day or 0.0 for cell in cells]
        wanted = max(cell.wanted_gain_kg_per_day or 0.0 for cell in cells)
        expect = display.mass_text(min(gains))
        if display.mass_text(max(gains)) != expect:
            expect = f"between {expect} and {display.mass_text(max(gains))}"
        return f"{sentence}: expect {expect} of gain a day, not {display.mass_text(wanted)}."
    return f"{sentence}."


def _of_the_farm(farm: Farm, limit: FarmLimit, display: Display) -> Shortage:
    if limit.nutrient == "cash":
        start = farm.season.start
        sentence = _CASH.format(
            spent=money_text(limit.supplied),
            most=money_text(limit.need),
            missed=money_text(limit.shortage),
        )
    else:
        start = farm.season.end - timedelta(days=1)
        sentence = _RESERVE.format(
            left=display.amount_text(limit.supplied * KG_PER_TONNE),
            wanted=display.amount_text(limit.need * KG_PER_TONNE),
            missed=display.amount_text(limit.shortage * KG_PER_TONNE),
        )
    return Shortage(
        group_id="",
        start=start,
        end=farm.season.end,
        nutrient=limit.nutrient,
        unit=limit.unit,
        most_per_head_day=None,
        total=limit.shortage,
        sentence=sentence,
    )
