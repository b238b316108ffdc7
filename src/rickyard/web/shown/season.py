"""The season's page: the answer of a program, what is short, who gets what, what it costs."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from rickyard.display import (
    MONTHS,
    Display,
    clean,
    display_for,
    listed,
    money_text,
    number_text,
    short_daily_text,
)
from rickyard.farm import Farm, FeedKind
from rickyard.program.days import weighed_out
from rickyard.program.result import STANDING_NOTE, Ration, RationThing, SeasonProgram
from rickyard.service import Planned, held_by_object
from rickyard.sheets.paper import day_list
from rickyard.sheets.wording import (
    answer_of,
    dangerous_to,
    feeding_lines,
    group_name,
    group_order,
    offered_in,
    proof_of,
    without_traces,
    words,
    yard_line,
    yard_totals,
)
from rickyard.web.drawn import (
    Band,
    Step,
    Strip,
    cost_bar,
    flag,
    flags_of,
    hay_curve,
    mark,
    ration_ribbon,
)
from rickyard.web.shown.care import VERDICTS, Care, care_of
from rickyard.web.shown.words import in_lines, signed_money, without_aside
from rickyard.web.shown.yard import Wall, program_wall

#: What is put out, a thing a line, in pieces of which some are figures to be seen from afar.
Lines = tuple[tuple[tuple[str, bool], ...], ...]


@dataclass(frozen=True, slots=True)
class RationShown:
    """What a group is fed for a while, and why it begins.

    Hay and feeds come in pieces, amounts to be seen from afar among them. ``flags`` are those
    of its lots, ``mark`` that of danger where one is to be read first.
    """

    span: str
    hay: Lines
    feeds: Lines
    why: str
    flags: tuple[str, ...]
    mark: str
    is_now: bool


@dataclass(frozen=True, slots=True)
class Now:
    """What a group is fed on a day; ``mark`` is that of danger where one is to be read first."""

    name: str
    mark: str
    hay: str
    feeds: str


@dataclass(frozen=True, slots=True)
class GroupShown:
    """A group and its rations, ``offer``: how; ``left_out`` says what is too little to be told."""

    title: str
    rations: tuple[RationShown, ...]
    left_out: str
    offer: str = ""


@dataclass(frozen=True, slots=True)
class ShortOf:
    """What a group is short of: in a line, and each in its own sentence."""

    words: str
    told: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Bought:
    """A feed to buy."""

    name: str
    amount: str
    price: str
    cost: str


@dataclass(frozen=True, slots=True)
class SeasonShown:
    """All that stands on the page of a season that has a program."""

    answer: str
    verdict: str
    lede: str
    cost: str
    now_title: str
    now: tuple[Now, ...]
    care: Care
    short: tuple[str, ...]
    short_of: tuple[ShortOf, ...]
    wall: Wall | None
    groups: tuple[GroupShown, ...]
    buy: tuple[Bought, ...]
    costs: tuple[tuple[str, str, str], ...]
    ribbon: str
    mass_unit: str
    curve: str
    curve_words: str
    proof: str
    assumptions: tuple[str, ...]
    warnings: tuple[str, ...]
    note: str


@held_by_object(64)
def season_shown(planned: Planned, day: date) -> SeasonShown:
    """Return what stands on the page of a season.

    Parameters
    ----------
    planned : Planned
        The program with its farm.
    day : date
        The day on the farm.

    Returns
    -------
    SeasonShown
        Words.
    """
    program, farm = planned.program, planned.farm
    display = display_for(farm.units)
    told = answer_of(program, farm, display)
    care = care_of(program.cautions, farm)
    # Enough hay is no green roof where some of it may kill: the danger is the answer's mark then.
    verdict = "danger" if care.dangers else VERDICTS.get(told.kind, "")
    now_title, now = _now(program, farm, display, day)
    answer, aside = without_aside(display.local(told.sentence))
    return SeasonShown(
        answer,
        mark(verdict) if verdict else "",
        f"{display.local(told.detail)} {aside}".rstrip(),
        money_text(program.costs.total),
        now_title,
        now,
        care,
        tuple(dict.fromkeys(display.local(one.sentence) for one in program.shortages)),
        _short_of(program, farm, display),
        program_wall(program, display) if yard_totals(program).missing_t > 0.0 else None,
        _groups(program, farm, display, day),
        _bought(program, display),
        _costs(program),
        _ribbon(program, farm, display, day),
        display.mass_unit,
        *_curve(program, display),
        proof_of(program),
        tuple(dict.fromkeys(display.local(one.sentence) for one in program.assumptions)),
        planned.warnings,
        display.local(STANDING_NOTE),
    )


def _costs(program: SeasonProgram) -> tuple[tuple[str, str, str], ...]:
    """Return each kind of cost: what for, how much, and its bar beside those of the others."""
    rows = words.cost_rows(program.costs)
    most = max((abs(usd) for _, usd in rows), default=0.0)
    return tuple(
        (label, signed_money(usd), cost_bar(usd, most) if most else "") for label, usd in rows
    )


def _curve(program: SeasonProgram, display: Display) -> tuple[str, str]:
    """Return how the hay of the yard goes through the season, drawn and said."""
    points, totals = yard_line(program), yard_totals(program)
    if len(points) < 2 or not totals.start_t > 0.0:
        return "", ""
    first, last = points[0].day, points[-1].day
    marks = ((totals.start_t, first), (totals.left_t, last))
    ends = [(display.tons_text(tons), display.day_text(day)) for tons, day in marks]
    told = "; ".join(f"{tons} on {day}" for tons, day in ends)
    words = f"Dry matter in the yard: {told}."
    # What is sold goes on the first day: the line begins with all that stood that morning.
    along = [(0.0, totals.start_t)]
    along += [((one.day - first).days / (last - first).days, one.left_t) for one in points]
    season = max((program.end - program.start).days, 1)
    firsts = [date(when // 12, when % 12 + 1, 1) for when in _months(program)]
    months = [((one - program.start).days / season, MONTHS[one.month - 1]) for one in firsts]
    return hay_curve(along, ends, words, months), words


#: How far along the season a day is, from 0 to 1.
Along = Callable[[date], float]


def _ribbon(program: SeasonProgram, farm: Farm, display: Display, day: date) -> str:
    """Draw which hay and feed goes to which group, and when; nothing of a program by weeks."""
    if not program.rations:
        return ""
    days = max((program.end - program.start).days, 1)

    def along(when: date) -> float:
        return min(max((when - program.start).days / days, 0.0), 1.0)

    strips = [_strip(program, farm, display, group_id, along) for group_id in group_order(program)]
    firsts = [date(when // 12, when % 12 + 1, 1) for when in _months(program)]
    months = [(along(one), MONTHS[one.month - 1]) for one in firsts]
    now = (along(day), "today") if program.start < day < program.end else None
    label = "Rations across the season, one band a hay; the tables below say the same in words"
    return ration_ribbon(strips, months, now, label)


def _months(program: SeasonProgram) -> range:
    """Return the months that begin in a season, counted from year nought."""
    first, last = program.start, program.end - timedelta(days=1)
    begins = 12 * first.year + first.month - 1 + (first.day > 1)
    return range(begins, 12 * last.year + last.month)


def _strip(
    program: SeasonProgram, farm: Farm, display: Display, group_id: str, along: Along
) -> Strip:
    """Return the bands and steps of a group: a hay keeps its lane while it is fed."""
    mine = [one for one in program.rations if one.group_id == group_id]
    dangerous, flags = dangerous_to(program, farm, group_id), flags_of(farm.lots)
    mixed = weighed_out(program, farm.group(group_id))
    names = {one.source_id: clean(one.name) for one in program.sources}
    forage = {one.source_id for one in program.sources if one.is_forage}
    kinds = {one.feed_id: one.kind for one in farm.feeds}
    every = farm.group(group_id).feed_every_days or 1
    head = next((one.head for one in program.groups if one.group_id == group_id), 0)

    def band(ration: Ration, thing: RationThing, lane: int) -> Band:
        grazed = kinds.get(thing.source_id) is FeedKind.GRAZING
        return Band(
            along(ration.start),
            along(ration.end),
            names[thing.source_id],
            "grazed" if grazed else _amount(thing, every, display, mixed=thing.source_id in mixed),
            display.day_text(ration.start) if lane == 0 and ration is not mine[0] else "",
            flags.get(thing.source_id),
            grazed,
            thing.source_id in dangerous,
        )

    lanes: list[list[Band]] = []
    held: dict[str, int] = {}
    for ration in mine:
        things = [one for one in ration.things if one.source_id in forage]
        held = _lanes(held, [one.source_id for one in things])
        for thing in things:
            lane = held[thing.source_id]
            lanes += [[] for _ in range(lane + 1 - len(lanes))]
            lanes[lane].append(band(ration, thing, lane))
    weighed = dict.fromkeys(
        one.source_id
        for ration in mine
        for one in ration.things
        if one.source_id not in forage and kinds.get(one.source_id) is not FeedKind.MINERAL
    )
    return Strip(
        clean(group_name(farm, group_id)),
        f"{head:,} head",
        tuple(tuple(one) for one in lanes),
        tuple((names[one], _feed_steps(program, mine, one, along, display)) for one in weighed),
    )


def _lanes(before: Mapping[str, int], sources: Sequence[str]) -> dict[str, int]:
    """Return the lane of each hay of a ration: that of the ration before, or the first free one."""
    kept = {one: before[one] for one in sources if one in before and before[one] < len(sources)}
    free = iter(at for at in range(len(sources)) if at not in kept.values())
    return {one: kept[one] if one in kept else next(free) for one in sources}


def _amount(thing: RationThing, every: int, display: Display, *, mixed: bool) -> str:
    """Return in few letters how much of a hay the group gets."""
    if thing.bales_per_feeding is not None and not mixed:
        return f"{number_text(7.0 * thing.bales_per_feeding / every)} a week"
    told = f"{number_text(display.mass(thing.put_out_kg_per_day))} {display.mass_unit} a day"
    return f"{told}, mixed" if mixed else told


def _feed_steps(
    program: SeasonProgram,
    mine: Sequence[Ration],
    source_id: str,
    along: Along,
    display: Display,
) -> tuple[Step, ...]:
    """Return the steps of a feed, to one scale for all groups of the program."""
    forage = {one.source_id for one in program.sources if one.is_forage}
    every = [one for ration in program.rations for one in ration.things]
    most = max(one.put_out_kg_per_head_day for one in every if one.source_id not in forage)
    return tuple(
        Step(
            along(ration.start),
            along(ration.end),
            one.put_out_kg_per_head_day / most,
            short_daily_text(display.mass(one.put_out_kg_per_head_day)),
        )
        for ration in mine
        for one in ration.things
        if one.source_id == source_id
    )


def _now(
    program: SeasonProgram, farm: Farm, display: Display, day: date
) -> tuple[str, tuple[Now, ...]]:
    """Return what to put out for each group: before the season on its first day, after it nothing.

    Of that day, as the week's list has it: hay with nitrate begins with less than its week's mean.
    """
    when = max(day, program.start)
    title = "What to put out today" if when == day else f"To begin on {display.weekday_text(when)}"
    order = group_order(program)
    found = []
    for one in sorted(day_list(program, farm, when), key=lambda one: order.index(one.group_id)):
        dangerous = dangerous_to(program, farm, one.group_id)
        sign = mark("danger") if one.sources & dangerous else ""
        found.append(Now(clean(one.name), sign, one.hay, one.feeds))
    return title, tuple(found)


def _short_of(program: SeasonProgram, farm: Farm, display: Display) -> tuple[ShortOf, ...]:
    """Return what is short, group by group; last what the whole farm lacks."""
    found = []
    for group_id in (*group_order(program), ""):
        mine = [one for one in program.shortages if one.group_id == group_id]
        if not mine:
            continue
        who = clean(group_name(farm, group_id)) if group_id else "The farm"
        what = listed(list(dict.fromkeys(words.nutrient_word(one.nutrient) for one in mine)))
        since = display.day_text(min(one.start for one in mine))
        told = dict.fromkeys(display.local(one.sentence) for one in mine)
        found.append(ShortOf(f"{who}: short of {what}, first on {since}", tuple(told)))
    return tuple(found)


def _groups(
    program: SeasonProgram, farm: Farm, display: Display, day: date
) -> tuple[GroupShown, ...]:
    shown, left_out = without_traces(program)
    flags = flags_of(farm.lots)
    names = {one.source_id: one.name for one in program.sources}
    found = []
    for group_id in group_order(program):
        head = next((one.head for one in program.groups if one.group_id == group_id), 0)
        dangerous = dangerous_to(program, farm, group_id)
        rations = tuple(
            RationShown(
                row.span,
                in_lines(row.hay or "none"),
                in_lines(row.feeds or "none"),
                display.local(row.why),
                tuple(flag(flags[one]) for one in sorted(row.sources) if one in flags),
                mark("danger") if row.sources & dangerous else "",
                row.start <= day < row.end,
            )
            for row in feeding_lines(shown, farm, group_id, display)
        )
        traces = [names[one] for one in left_out.get(group_id, ())]
        found.append(
            GroupShown(
                words.group_title(clean(group_name(farm, group_id)), head),
                rations,
                words.left_out(traces) if traces else "",
                display.local(offered_in(program, farm, group_id)),
            )
        )
    return tuple(found)


def _bought(program: SeasonProgram, display: Display) -> tuple[Bought, ...]:
    rows = []
    for one in sorted(program.purchases, key=lambda one: -one.cost_usd):
        each = one.cost_usd / one.as_fed_kg if one.as_fed_kg > 0.0 else 0.0
        rows.append(
            Bought(
                clean(one.name),
                display.amount_text(one.as_fed_kg),
                display.price_per_ton_text(each),
                money_text(one.cost_usd),
            )
        )
    return tuple(rows)
