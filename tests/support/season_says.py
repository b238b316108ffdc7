"""What a program and the book say of a season's pages, laid under the labels of each page."""

from __future__ import annotations

from datetime import date, timedelta

from rickyard.book.looking import LookBack, told_of_look
from rickyard.book.years import Years, told_of_years
from rickyard.display import Display, count_text, display_for, money_text, number_text
from rickyard.farm import Farm
from rickyard.program.result import Delivery, SeasonProgram
from rickyard.service import Planned
from rickyard.sheets.paper import day_list, week_list, week_start_of
from rickyard.sheets.wording import (
    LEAST_LOAD_KG,
    answer_of,
    dangerous_to,
    feeding_lines,
    group_name,
    offered_in,
    proof_of,
    without_traces,
    words,
    yard_totals,
)
from rickyard.web.sections import remedies_shown
from support.figures import Wanted, answer_parts, of_any_page


def _beside_rations(planned: Planned) -> list[str]:
    """Return how hay is offered, whether goals are met, and what would help."""
    farm, display = planned.farm, display_for(planned.farm.units)
    goals = [one for outcome in planned.program.outcomes for one in outcome.goals]
    said = [display.local(offered_in(planned.program, farm, one.group_id)) for one in farm.groups]
    said += [f"{display.local(one.sentence)} {one.source}".strip() for one in goals]
    helps = remedies_shown(planned)
    for one in (*helps.ladder, *helps.instead, *helps.each):
        said += [one.words, one.told, one.figures, one.cost]
    return [*said, helps.lacking]


def season(planned: Planned, day: date) -> Wanted:
    """Return the figures of the season's page."""
    program, farm = planned.program, planned.farm
    display = display_for(farm.units)
    wanted = of_any_page(farm, day, program.cautions)
    answer = answer_of(program, farm, display)
    said = answer_parts(display.local(answer.sentence))
    wanted.said += [*said, display.local(answer.detail)]
    wanted.may += [f"{one[:1].upper()}{one[1:]}" for one in said]
    wanted.said += [display.local(one.sentence) for one in program.shortages]
    wanted.may += [display.day_text(one.start) for one in program.shortages]
    wanted.said += [display.local(one.sentence) for one in program.assumptions]
    wanted.said += [display.local(one.sentence) for one in program.outcomes]
    totals = yard_totals(program)
    for tons, on in ((totals.start_t, program.start), (totals.left_t, program.end)):
        wanted.said.append(f"{display.tons_text(tons)} on {display.day_text(on)}")
    if totals.missing_t > 0.0:
        _wall(program, display, wanted)
    wanted.said += [proof_of(program), *planned.warnings]
    for told in day_list(program, farm, max(day, program.start)):
        wanted.said += [told.hay, told.feeds]
    _rations(planned, day, wanted)
    for one in program.purchases:
        each = one.cost_usd / one.as_fed_kg if one.as_fed_kg > 0.0 else 0.0
        wanted.row(
            "h-buy",
            one.name,
            Amount=display.amount_text(one.as_fed_kg),
            Price=display.price_per_ton_text(each),
            Cost=money_text(one.cost_usd),
        )
    for label, usd in words.cost_rows(program.costs):
        wanted.row("h-cost", label, **{"1": money_text(usd).replace("-", "\u2212")})
    wanted.row("h-cost", "Total", **{"1": money_text(program.costs.total)})
    wanted.said.append(money_text(program.costs.total))
    for one in (*program.reasons, *program.remedies, *program.wishes):
        wanted.said.append(display.local(one.sentence))
    for wish in farm.wishes:
        amount = wish.as_fed_kg_per_head_day
        on = [one for one in (wish.start, wish.end) if one is not None]
        wanted.may += [display.day_text(one) for one in on]
        if amount is not None:
            wanted.may.append(f"{display.mass(amount):.1f} {display.mass_unit} of ")
    wanted.may += _beside_rations(planned)
    wanted.may += [count_text(n, noun) for n in range(60) for noun in ("warning", "note")]
    wanted.may += [f"{len(farm.wishes)} wish"]
    _enough(planned, wanted)
    return wanted


def _rations(planned: Planned, day: date, wanted: Wanted) -> None:
    """Ask for what each group is fed, and where a danger is to be read first."""
    program, farm = planned.program, planned.farm
    display = display_for(farm.units)
    kept, _ = without_traces(program)
    for group_id in {one.group_id for one in program.groups}:
        head = next(one.head for one in program.groups if one.group_id == group_id)
        wanted.said.append(words.group_title(group_name(farm, group_id), head))
        for one in feeding_lines(kept, farm, group_id, display):
            why = display.local(one.why)
            now = " now" if one.start <= day < one.end else ""
            harm = one.sources & dangerous_to(program, farm, group_id)
            hay = f"Danger, read above: {one.hay}" if harm else one.hay
            wanted.row("h-who", one.span + now, Hay=hay, Feeds_a_day=one.feeds, Why=why)
            wanted.may.append(one.span)


def _wall(program: SeasonProgram, display: Display, wanted: Wanted) -> None:
    """Ask where the hay of a season goes that is short of it, and for what is not there."""
    totals, sold = yard_totals(program), sum(one.sold_t for one in program.lots)
    for tons, goes in (
        (totals.eaten_t, "eaten over the season"),
        (totals.lost_t, "lost to weather and feeders"),
        (sold, "sold"),
        (totals.left_t, "left at the end"),
        (totals.missing_t, "more to buy"),
    ):
        if tons > 0.0:
            wanted.said.append(f"{display.tons_text(tons)} {goes}")
    wanted.may += ["(2,000 lb)", "(1,000 kg)"]


#: The needs of which the one that is met least stands in a column.
_NEEDS = {
    "Energy": ("nem", "gain_energy", "tdn", "me", "de"),
    "Protein": ("cp", "cp_floor"),
    "Calcium and phosphorus": ("ca", "p"),
}


def _enough(planned: Planned, wanted: Wanted) -> None:
    """Ask how far each need of each group is met in its worst week, and what a head eats."""
    for group_id in {one.group_id for one in planned.program.groups}:
        _enough_for(planned, group_id, wanted)


def _enough_for(planned: Planned, group_id: str, wanted: Wanted) -> None:
    program, display = planned.program, display_for(planned.farm.units)
    name = group_name(planned.farm, group_id)
    for column, nutrients in _NEEDS.items():
        met = [
            (one.supplied / one.need, one.period, one)
            for one in program.needs
            if one.group_id == group_id and one.nutrient in nutrients
            if one.bound == "at_least" and one.need > 0.0
        ]
        if not met:
            continue
        share, _, worst = min(met, key=lambda one: one[:2])
        percent = display.percent_text(abs(share - 1.0) * 100.0, 0)
        week = f"in the week of {display.day_text(worst.start)}"
        if worst.shortage > 0.0:
            told = f"{percent} short {week}"
        elif share < 0.994:
            told = f"{percent} under {week}"
        else:
            told = "met in every week" if share < 1.012 else f"{percent} to spare or more"
        wanted.row("h-met", name, **{column: told})
    eaten = [
        round(display.mass(one.intake_kg_dm_per_head_day))
        for one in program.groups
        if one.group_id == group_id
    ]
    least, most = min(eaten), max(eaten)
    span = f"{least}" if least == most else f"{least} to {most}"
    wanted.row("h-met", name, Eaten=f"{span} {display.mass_unit} a day")


def day(planned: Planned, on: date) -> Wanted:
    """Return the figures of the page of a day, from the deliveries of that day."""
    program, farm = planned.program, planned.farm
    display = display_for(farm.units)
    week = week_list(program, farm, week_start_of(program, on) or on)
    every_day = [*week.cautions, *(one for group in week.groups for one in group.cautions)]
    wanted = of_any_page(farm, on, [one for one in every_day if one.level != "note"])
    wanted.may += [display.local(one.sentence) for one in every_day]
    today = [one for one in program.deliveries if one.day == on]
    names = {one.source_id: one.name for one in program.sources}
    every: list[tuple[str, list[Delivery]]] = [("h-load", today)]
    there = [one for one in farm.groups if one.name in {each.name for each in week.groups}]
    for number, group in enumerate(there, start=1):
        wanted.may.append(f"{group.name} {group.head:,} head")
        every.append((f"h-g{number}", [one for one in today if one.group_id == group.group_id]))
    for section, loads in every:
        for source in dict.fromkeys(one.source_id for one in loads):
            mine = [one for one in loads if one.source_id == source]
            wanted.row(section, names[source], put_out=_amount(mine, display))
    wanted.said += _hauled(program, today, display)
    wanted.may += [display.weekday_text(on + timedelta(days=n)) for n in range(-1, 30)]
    wanted.may += [says for group in week.groups for says in (*group.says, group.never)]
    wanted.may += [cell for group in week.groups for line in group.lines for cell in line.cells]
    units = [line.unit for group in week.groups for line in group.lines]
    wanted.may += [*units, *(one.partition(", ")[2] for one in units)]
    wanted.may.append(week.never)
    return wanted


def _hauled(program: SeasonProgram, loads: list[Delivery], display: Display) -> list[str]:
    """Return what is hauled and weighed, as the answer of a day or a week says it."""
    forage = {one.source_id for one in program.sources if one.is_forage}
    whole = sum(one.bales or 0 for one in loads)
    loose = [one for one in loads if one.bales is None]
    hay = sum(one.mass_kg for one in loose if one.source_id in forage)
    feed = sum(one.mass_kg for one in loose if one.source_id not in forage)
    said = [f"Haul {whole:,} bale"] if whole else []
    weighed = [(hay, "hay"), (feed, "feed")]
    return said + [f"{display.mass_text(kg)} of {of}" for kg, of in weighed if kg >= LEAST_LOAD_KG]


def _amount(loads: list[Delivery], display: Display) -> str:
    """Return what of one source is put out together: whole bales, or what is weighed."""
    whole = sum(one.bales or 0 for one in loads)
    loose = sum(one.mass_kg for one in loads if one.bales is None)
    if not whole:
        return f"{number_text(display.mass(loose))} {display.mass_unit}"
    beside = f" and {display.mass_text(loose)}" if loose >= LEAST_LOAD_KG else ""
    return f"{whole:,} bale{'' if whole == 1 else 's'}{beside}"


def week(planned: Planned, start: date) -> Wanted:
    """Return the figures of the page of a week, of its printed list."""
    program, farm = planned.program, planned.farm
    listed = week_list(program, farm, start)
    every = [*listed.cautions, *(one for group in listed.groups for one in group.cautions)]
    wanted = of_any_page(farm, start, every)
    wanted.said.append(listed.title)
    end = start + timedelta(days=len(listed.days))
    week_of = [one for one in program.deliveries if start <= one.day < end]
    wanted.said += _hauled(program, week_of, display_for(farm.units))
    wanted.may += [*listed.days, listed.never]
    for number, group in enumerate(listed.groups, start=1):
        wanted.said += [f"{group.name}, {group.head} head"]
        wanted.may += [*group.says, group.never]
        for line in group.lines:
            label = f"{line.mark} {line.name} {line.unit}"
            wanted.may.append(label)
            for heading, cell in zip(listed.days, line.cells, strict=True):
                wanted.row(f"h-g{number}", label, **{heading: cell})
            wanted.row(f"h-g{number}", label, Planned=line.planned)
    return wanted


def look_back(look: LookBack) -> Wanted:
    """Return the figures of the page that looks back."""
    told, farm = told_of_look(look), look.farm
    wanted = of_any_page(farm, farm.season.start, look.cautions)
    wanted.may.append("Dec 4 cows 2 hill")
    wanted.said += [told.answer, told.lede, *told.groups, *told.odd, *told.weights]
    wanted.said += [*told.dry_matter, *told.ate, *told.appetite]
    display, ate = display_for(farm.units), look.appetite
    for its in look.weights:
        row = f"{its.lot.name}: a bale weighs {count_text(its.bales, 'bale')} on tickets"
        value, low, high = (display.mass_text(kg) for kg in (its.kg, its.low_kg, its.high_kg))
        was = display.mass_text(its.said_kg if its.known_kg is None else its.known_kg)
        words = {"written": "written", "size": "by its size", "package": "usual"}[its.origin]
        learned = f"{value} (90% range {low} to {high})"
        wanted.row("h-learned", row, Learned=learned, Was=f"{was} {words}")
        wanted.may.append(row)
    if ate is not None:
        row = f"The stock eat {count_text(len(ate.groups), 'group')}, of what the equations give"
        pct = [display.percent_text(one, 0) for one in (ate.pct, ate.low_pct, ate.high_pct)]
        was = f"{display.percent_text(ate.counted_pct, 0)} counted"
        learned = f"{pct[0]} (90% range {pct[1]} to {pct[2]})"
        wanted.row("h-learned", row, Learned=learned, Was=was)
        wanted.may.append(row)
    wanted.may += ["90% range", "9 times out of 10"]
    for one in told.fed:
        cells = {"Planned": one.planned, "Fed": one.fed, "Difference": one.differs}
        wanted.row("h-fed", one.group, **cells)
    for one in told.hay:
        wanted.row(
            "h-hay",
            one.lot,
            Came=one.came,
            Fed=one.fed,
            Sold=one.sold,
            Not_explained=one.odd.replace("-", "\u2212"),
            Left=one.left,
            Storage_took=one.storage,
            **{"Moved, lost, corrected": one.other.replace("-", "\u2212")},
        )
    if told.costs is not None:
        wanted.said += [told.costs.answer, *told.costs.remarks]
        for group in told.costs.groups:
            wanted.row(
                "h-cost",
                group.group,
                Cost=group.cost,
                A_head=group.a_head,
                A_head_and_day=group.a_day,
                A_ton_as_fed=group.a_ton,
            )
        for source in told.costs.sources:
            wanted.row(
                "h-cost",
                source.what,
                Put_out=source.put_out,
                Cost=source.cost,
                A_ton_as_fed=source.a_ton,
            )
    return wanted


def years(farm: Farm, found: Years) -> Wanted:
    """Return the figures of the page of the years."""
    told = told_of_years(found)
    wanted = of_any_page(farm, farm.season.start)
    wanted.said += [told.answer, told.lede]
    for one in told.seasons:
        name = f"{one.season} so far" if one.is_open else one.season
        wanted.may += [name, one.season]
        wanted.row(
            "h-hay",
            name,
            Left_over=one.over,
            Put_up=one.put_up,
            Bought=one.bought,
            Fed=one.fed,
            Sold=one.sold,
            Lost_or_found=one.odd.replace("-", "\u2212"),
            Storage_took=one.storage,
            Left=one.left,
        )
        wanted.row(
            "h-feed",
            one.season,
            Feed_noted=one.feed,
            Cost=one.cost,
            A_ton_as_fed=one.a_ton,
            Protein=one.protein,
            TDN=one.tdn,
            Of_it_tested=one.tested,
        )
    for each in told.quality:
        wanted.row(
            "h-quality",
            each.forage,
            Year=each.year,
            Field=each.field,
            Cutting=each.cutting,
            Lots_tested=each.lots,
            Dry_matter=each.dry,
            Protein=each.protein,
            TDN=each.tdn,
            **{"Fiber (NDF)": each.ndf},
        )
    return wanted
