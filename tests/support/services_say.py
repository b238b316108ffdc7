"""What the services say of each page of a farm, told by ``display`` and laid under its labels."""

from __future__ import annotations

from datetime import date
from itertools import pairwise

from rickyard.display import count_text, display_for, localized, money_text
from rickyard.farm import Farm, Package
from rickyard.forage.reading import LotReading
from rickyard.forage.values import CLASS_TABLES
from rickyard.hay.storage import EXPOSED
from rickyard.hay.yard import YardLine, stack_of
from rickyard.quantities import KG_PER_TONNE, convert
from rickyard.service import Planned, read_lots, yard_on
from rickyard.service.sections import farm_tests, hay_list, lot_fits, stock_needs
from rickyard.sheets.charts import wall_parts
from rickyard.sheets.paper import day_list
from rickyard.sheets.wording import (
    answer_of,
    outlook_sentence,
    plain_test,
    stands_sentence,
)
from rickyard.web.shown import STANDS, cutting_text, put_up_text
from support.figures import Wanted, answer_parts, of_any_page

#: How many cautions are folded: counted by no service.
_COUNTS = [count_text(n, noun) for n in range(60) for noun in ("warning", "note")]

#: The first of these that a group has stands beside its name.
_DATES = (
    ("calving_on", "calving, the middle"),
    ("breeding_on", "breeding"),
    ("weaning_on", "weaning"),
    ("target_on", "target weight"),
    ("from_on", "here from"),
    ("to_on", "here until"),
)


#: How the wall calls hay that is left.
_LEFT = {"danger": "left, with a danger", "left": "left at the end"}


def yard(farm: Farm, day: date, planned: Planned | None) -> Wanted:
    """Return the figures of the yard's page."""
    display = display_for(farm.units)
    page, readings = localized(yard_on(farm, day), display), read_lots(farm).readings
    every = [*page.cautions, *(one for lot in readings for one in lot.cautions)]
    wanted = of_any_page(farm, day, every)
    wanted.said += [stands_sentence(page, display), *page.assumptions]
    tests = farm_tests(farm, day)
    wanted.may += [display.day_text(one.due_on) for one in (*tests.now, *tests.later)]
    wanted.may += [count_text(n, "danger") for n in range(60)]
    if planned is not None:
        answer = answer_of(planned.program, planned.farm, display)
        # What is counted beside the yard stands in parentheses, and small beside the answer.
        said = answer_parts(display.local(answer.sentence))
        wanted.said += [*said, display.local(answer.detail)]
        wanted.may += [f"{one[:1].upper()}{one[1:]}" for one in said]
        _today(farm, day, planned, wanted)
        parts = wall_parts(planned.program)
        wanted.said += [display.tons_text(one.tonnes) for one in parts]
        wanted.may += [f"{display.tons_text(one.tonnes)} {_LEFT[one.mark]}" for one in parts
                       if one.mark in _LEFT]  # fmt: skip
    elif page.outlook is not None:
        told = page.outlook
        tons = (told.standing_kg, told.need_kg, told.reserve_kg, told.over_kg, told.buy_kg)
        wanted.may += [display.tons_text(max(0.0, one) / KG_PER_TONNE) for one in tons]
        reserve = min(told.reserve_kg, max(0.0, told.standing_kg - told.need_kg))
        wanted.may.append(display.tons_text(reserve / KG_PER_TONNE))
        wanted.said += [outlook_sentence(told, display, "the season's program")]
        wanted.said += [display.day_text(told.out_on or told.until)]
    for one in page.lines:
        name, standing = one.name, one.standing
        tons = display.tons_text(standing.as_fed_kg / KG_PER_TONNE)
        wanted.said += [
            f"{name} {STANDS[farm.lot(one.lot_id).storage]} {_bales(one, farm)}, {tons}"
        ]
    wanted.may += [*_COUNTS, "(2,000 lb)", "(1,000 kg)", "20 small squares"]
    return wanted


def _bales(line: YardLine, farm: Farm) -> str:
    """Return how many bales of a line of the yard stand, in the words of their kind."""
    bales, lot = line.standing.bales, farm.lot(line.lot_id)
    return count_text(bales, "load" if lot.package is Package.LOOSE else "bale")


def hay(farm: Farm, day: date) -> Wanted:
    """Return the figures of the page of all hay."""
    display = display_for(farm.units)
    lines = hay_list(farm, day)
    wanted = of_any_page(farm, day, [one for line in lines for one in line.reading.cautions])
    standing = [one for one in lines if one.stands]
    bales = sum(one.yard.standing.bales for one in standing)
    wanted.said.append(f"{count_text(len(standing), 'lot')}, {count_text(bales, 'bale')}.")
    untested = sum(not one.is_tested for one in standing)
    risky = sum(one.is_dangerous for one in standing)
    wanted.may += [f"{n} {be} {word}" for n, word in ((untested, "untested"), (risky, "dangerous"))
                   for be in ("is", "are")]  # fmt: skip
    wanted.may += [*_COUNTS, "20 small squares"]
    for one in standing:
        values = {each.name: each.value for each in one.reading.numbers}
        about = "" if one.is_tested else "about "
        tdn, protein = (values.get(name) for name in ("tdn_pct", "crude_cp_pct"))
        tons = display.tons_text(one.yard.standing.as_fed_kg / KG_PER_TONNE)
        worth = one.worth_usd_per_kg
        wanted.row(
            "h-lots",
            f"{one.lot.name} {STANDS[one.lot.storage]}",
            Bales=f"{_bales(one.yard, farm)} {tons}",
            TDN="" if tdn is None else about + display.percent_text(tdn),
            Protein="" if protein is None else about + display.percent_text(protein),
            A_ton="" if worth is None else money_text(worth * display.kg_per_ton),
            Who_may_not_eat_it=one.kept_from[:1].upper() + one.kept_from[1:],
        )
    return wanted


def _today(farm: Farm, day: date, planned: Planned, wanted: Wanted) -> None:
    """Ask for what each group eats that day, when rations change, and what is left of each lot."""
    display, program = display_for(farm.units), planned.program
    stands = {one.lot_id: one.standing.bales for one in yard_on(farm, day).lines}
    for one in day_list(program, planned.farm, day):
        wanted.said += [part for part in (one.hay, one.feeds) if part]
    wanted.may += [display.day_text(one.start) for one in program.rations]
    for lot in program.lots:
        if lot.start_bales and lot.fed_bales is not None:
            sold = lot.start_bales * lot.sold_t / lot.start_t if lot.start_t else 0.0
            left = min(stands[lot.lot_id], max(0.0, lot.start_bales - sold - lot.fed_bales))
            noun = "bale" if f"{left:,.0f}" == "1" else "bales"
            wanted.may.append(f"{left:,.0f} {noun} left at the end")


def places(farm: Farm, day: date) -> Wanted:
    """Return the figures of the page of where hay stands."""
    display = display_for(farm.units)
    page = localized(yard_on(farm, day), display)
    wanted = of_any_page(farm, day)
    wanted.said.append(display.day_year_text(farm.season.end))
    standing = [one for one in page.lines if one.standing.bales > 0.0]
    wanted.said += [tip.sentence for one in standing for tip in one.advice]
    exposed = [one for one in standing if farm.lot(one.lot_id).storage in EXPOSED]
    if exposed:
        worth = money_text(sum(one.will_lose_usd or 0.0 for one in exposed))
        wanted.said.append(
            f"{count_text(len(exposed), 'lot')} in the open will lose hay worth {worth}."
        )
    for one in standing:
        for row in (row for row in farm.stacks if row.lot_id == one.lot_id):
            gone = max(0.0, farm.lot(one.lot_id).bales - one.standing.bales)
            stack = stack_of(farm.lot(one.lot_id), row, one.standing.bales, gone)
            wanted.said.append(f"{one.name}: {stack.reach} of {_bales(one, farm)} can be cored")
    unplaced = len(standing) - len({row.lot_id for row in farm.stacks})
    wanted.may.append(count_text(unplaced, "stack"))
    rows = sorted(standing, key=lambda one: -(one.will_lose_usd or 0.0))
    for one in rows:
        weigh = "" if one.weigh is None else f"Weigh {count_text(one.weigh, 'bale')}"
        wanted.row(
            "h-lose",
            one.name,
            Stands=STANDS[farm.lot(one.lot_id).storage].capitalize(),
            Bales=_bales(one, farm),
            Lost_so_far=display.percent_text(one.lost_pct),
            Will_lose=display.percent_text(one.will_lose_pct),
            Worth="" if one.will_lose_usd is None else money_text(one.will_lose_usd),
            To_do=weigh,
        )
    return wanted


def lot(farm: Farm, day: date, reading: LotReading) -> Wanted:
    """Return the figures of the page of a lot."""
    display = display_for(farm.units)
    page = localized(yard_on(farm, day), display)
    line = next(one for one in page.lines if one.lot_id == reading.lot_id)
    own = [one for one in page.cautions if one.about == reading.lot_id]
    wanted = of_any_page(farm, day, [*reading.cautions, *own])
    its, now = farm.lot(reading.lot_id), line.standing
    for one in (its.highest_temperature_c, its.latest_temperature_c):
        if one is not None:
            wanted.may.append(
                display.local(f"{convert(one, 'degC', 'degF'):.0f} °F ({one:.0f} °C)")
            )
    as_fed, dry = (display.tons_text(one / KG_PER_TONNE) for one in (now.as_fed_kg, now.dry_kg))
    loses = f"{display.percent_text(line.will_lose_pct)}, to the end of the season"
    if line.will_lose_usd is not None:
        loses += f". That is worth {money_text(line.will_lose_usd)}."
    for word, told in (
        ("Standing", f"{_bales(line, farm)}: {as_fed} as fed, {dry} dry"),
        ("A bale", f"{display.mass_text(now.bale_kg)}: {now.weight_is}"),
        ("Lost since baling", f"{display.percent_text(line.lost_pct)} of dry matter"),
        ("Will lose", loses),
        ("Worth", reading.value),
        ("Grade", reading.grade),
        ("Tests", reading.repeat),
    ):
        wanted.row("h-yard", word, **{"": told})
    for word, told in (
        ("May they?", reading.suits),
        ("Short of", reading.lacks),
        ("Sure?", reading.certainty),
        ("Other stock", reading.other_stock),
    ):
        wanted.row("h-who", word, **{"": told})
    _fits(farm, reading, wanted)
    for one in reading.numbers:
        scale = display.energy_density(1.0) if one.unit.startswith("Mcal/kg") else 1.0
        ends = [value for value in (one.low, one.high) if value is not None]
        unit = one.unit.replace("/kg", f"/{display.mass_unit}", 1) if scale != 1.0 else one.unit
        wanted.row(
            "h-test",
            f"{one.words[:1].upper()}{one.words[1:]} {unit}, {one.origin}",
            Is=f"{one.value * scale:,.{one.decimals}f}",
            **{"90% range": " to ".join(f"{end * scale:,.{one.decimals}f}" for end in ends)},
        )
        wanted.may += [one.origin, one.words[:1].upper() + one.words[1:]]
    counted = f"{count_text(its.bales, 'bale')}, {display.day_year_text(its.counted_on)}"
    wanted.may += [counted, its.note, its.field_name]
    wanted.may += [
        _capital(display.local(reading.headline), its.name),
        "90% range",
        "9 times out of 10",
        "30% under",
        "30% over",
    ]
    wanted.may += [tip.sentence for tip in line.advice]
    wanted.may += [cutting_text(its, display), put_up_text(its, display)]
    for one in farm.reports_of(reading.lot_id):
        wanted.may += [f"Report {one.report_id}", one.lab, f"{one.cores} cores"]
        wanted.may += [] if one.sampled_on is None else [display.day_year_text(one.sampled_on)]
    _limits(reading, wanted)
    if its.bale_weight_kg is not None:
        weighed = (
            f", by {count_text(its.bales_weighed, 'bale')} weighed" if its.bales_weighed else ""
        )
        wanted.may.append(f"A bale counts for {display.mass_text(its.bale_weight_kg)}{weighed}.")
    values = {one.name: one.value for one in reading.numbers}
    told = (("tdn_pct", "TDN"), ("crude_cp_pct", "protein"))
    wanted.may += [
        display.local(f"{values[name]:.1f}% {word}") for name, word in told if name in values
    ]
    return wanted


_WAITS = "None until what stands on this page is settled"


def _fits(farm: Farm, reading: LotReading, wanted: Wanted) -> None:
    """Ask for what each class of stock may have of a lot, and how sure it is enough."""
    fits = lot_fits(farm, reading)
    wanted.said.append(fits.groups[:1].upper() + fits.groups[1:])
    for one in fits.classes:
        kept = f"At most {100.0 * one.share:g}% of what they eat, weighed and mixed"
        kept = {"part": kept, "none": "None: its nitrate", "wait": _WAITS}.get(one.may, "")
        short = f"short of {one.lacks}" if one.lacks else ""
        wanted.may.append(one.name[:1].upper() + one.name[1:])
        may = f"{kept}; {short}" if kept and short else kept or short.capitalize()
        wanted.row(
            "h-who",
            one.name[:1].upper() + one.name[1:],
            **{"May they?": may.replace("tdn", "TDN"), "Enough alone?": one.sure.capitalize()},
        )


def _limits(reading: LotReading, wanted: Wanted) -> None:
    """Ask for the nitrate of a lot, and allow the published limits beside it."""
    for one in reading.numbers:
        if one.name == "nitrate_no3n_ppm" and one.low is not None and one.high is not None:
            spread = f" (90% range {one.low:,.0f} to {one.high:,.0f})" if one.high > one.low else ""
            wanted.said.append(f"Nitrate-nitrogen: {one.value:,.0f} ppm of dry matter{spread}.")
    edges = [f"{one:,.0f}" for one in CLASS_TABLES["nitrate_clemson"].limits]
    wanted.may += [f"up to {edges[0]}", f"over {edges[-1]}", "35 to 40%"]
    wanted.may += [f"{one} to {other}" for one, other in pairwise(edges)]


def _capital(headline: str, name: str) -> str:
    """Return a headline without the name of its lot."""
    said = headline.removeprefix(f"{name}: ")
    return said[:1].upper() + said[1:]


def tests(farm: Farm, day: date) -> Wanted:
    """Return the figures of the page of tests."""
    display = display_for(farm.units)
    found = farm_tests(farm, day)
    wanted = of_any_page(farm, day)
    for section, plans in (("h-now", found.now), ("h-later", found.later)):
        for one in plans:
            way, last = one.protocols[0], one.dates.latest
            each = "one core each" if way.cores_a_bale == 1 else f"{way.cores_a_bale} cores each"
            core = f"{count_text(way.bales, 'bale')}, {each}"
            when = "" if one.dates.sample_on is None else display.day_text(one.dates.sample_on)
            if section == "h-now":
                when = "" if last is None else f"now: late since {display.day_text(last)}"
            price = "" if one.order is None else f": {money_text(one.order.price_usd)}"
            names = [plain_test(each.test) for each in one.wanted]
            order = " and ".join(filter(None, [", ".join(names[:-1]), *names[-1:]])) + price
            wanted.row(
                section,
                one.name,
                Core=f"{way.cores} {one.probing.taken}s" if one.choice is None else core,
                When=when,
                Order=order,
                Why=display.local("; ".join(one.dates.reasons)),
            )
            wanted.may.append(when)
    for one in found.reports:
        on = one.reported_on or one.sampled_on
        wanted.row("h-came", one.report_id, Of="" if on is None else display.day_year_text(on))
        wanted.said.append(one.report_id)
        wanted.may.append(one.lab)
    return wanted


def stock(farm: Farm, day: date) -> Wanted:
    """Return the figures of the page of the stock."""
    display = display_for(farm.units)
    wanted = of_any_page(farm, day)
    wanted.said.append(f"{sum(one.head for one in farm.groups):,} head.")
    rises = [(0.0, day)]
    for one in stock_needs(farm):
        group, most = one.group, float(max(one.needs, default=0.0))
        dates = ((name, getattr(group, at)) for at, name in _DATES)
        dated = [f"{name} {display.day_year_text(on)}" for name, on in dates if on is not None]
        label = " ".join([group.name, *dated[:1]])
        rise = 0.0 if not one.days or one.word == "gain" else most / float(one.needs[0]) - 1.0
        needs = ""
        if one.days and one.word == "gain":
            needs = f"To grow {display.mass(most):.1f} {display.mass_unit} a day"
        elif rise >= 0.02:
            on = one.days[int(one.needs.argmax())]
            needs = f"{display.percent_text(100 * rise, 0)} more energy by {display.day_text(on)}"
            rises.append((rise, on))
        score = "" if group.condition_score is None else f"{group.condition_score:g}"
        wanted.may.append(label)
        wanted.row(
            "h-groups", label, Weight=display.mass_text(group.weight_kg), Score=score, Needs=needs
        )
    most, on = max(rises)
    wanted.may.append(
        f"{display.percent_text(100 * most, 0)} more energy by {display.day_text(on)}."
    )
    return wanted
