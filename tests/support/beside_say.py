"""What services say of groups, coring sheets, questions, prices, letters and links: their figures.

Told by ``display`` and laid under the labels of each page, as ``services_say`` does the others.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from statistics import median

import numpy as np

from rickyard.book.pricing import LabsTold, PriceThere
from rickyard.book.services import GroupFact
from rickyard.display import Display, count_text, display_for, listed, money_text
from rickyard.farm import Caution, Farm
from rickyard.forage.values import word_of
from rickyard.hay.sampling import SamplePlan
from rickyard.program.planning import WhatIfAnswer
from rickyard.program.result import SeasonProgram
from rickyard.quantities import M_PER_IN
from rickyard.service import Planned, yard_on
from rickyard.service.sections import GroupNeeds, HayAlone, drawn_for, farm_tests
from rickyard.sheets.paper.for_buyers import LotSheet
from rickyard.sheets.wording import (
    answer_of,
    group_name,
    outlook_sentence,
    plain_test,
    proof_of,
    words,
)
from support.figures import Wanted, answer_parts, of_any_page

_DAY = timedelta(days=1)
_COUNTS = [count_text(n, noun) for n in range(60) for noun in ("danger", "warning", "note")]


def group(
    farm: Farm, day: date, needs: GroupNeeds, planned: Planned | None, facts: Sequence[GroupFact]
) -> Wanted:
    """Return the figures of the page of a group."""
    display, its = display_for(farm.units), needs.group
    wanted = of_any_page(farm, day)
    wanted.may += [f"{its.name}, {its.head}", "Score, 1 to 9"]
    wanted.said.append(display.day_year_text(farm.season.weighed_on or farm.season.start))
    good = [one for one in needs.hays if not one.short.any() and not one.is_dangerous]
    if len(good) > 2:
        wanted.said.append(f"{len(good)} hays alone would carry {its.name}.")
    if needs.days:
        worst = int(needs.needs.argmax())
        wanted.said.append(
            f"A head needs {_needed(needs, float(needs.needs[0]), display)} a day on "
            f"{display.day_text(needs.days[0])} and "
            f"{_needed(needs, float(needs.needs[worst]), display)} on "
            f"{display.day_text(needs.days[worst])}."
        )
    for one in needs.hays:
        wanted.said.append(_alone(needs, one, display))
    outcomes = () if planned is None else planned.program.outcomes
    wanted.said += [display.local(one.sentence) for one in outcomes if one.group_id == its.group_id]
    for fact in facts:
        on = "at the start" if fact.day is None else display.day_year_text(fact.day)
        score = "" if fact.condition_score is None else f"{fact.condition_score:g}"
        wanted.may.append(on)
        wanted.row(
            "h-facts",
            on,
            Head=f"{fact.head:,} head",
            Weight=display.mass_text(fact.weight_kg),
            Score=score,
        )
    for name, word in (
        ("calving_on", "Calving, the middle"),
        ("breeding_on", "Breeding"),
        ("weaning_on", "Weaning"),
        ("target_on", "Target weight"),
        ("from_on", "Here from"),
        ("to_on", "Here until"),
    ):
        if getattr(its, name) is not None:
            wanted.row("h-dates", word, **{"": display.day_year_text(getattr(its, name))})
    return wanted


def _needed(needs: GroupNeeds, amount: float, display: Display) -> str:
    if needs.word == "net energy":
        return f"{amount:.1f} Mcal"
    return f"{display.mass(amount):.1f} {display.mass_unit} of {needs.word}"


def _alone(needs: GroupNeeds, one: HayAlone, display: Display) -> str:
    """Return until when a hay alone is enough, and by how much it falls short at most."""
    if one.enough_until is None:
        return "Enough all season."
    lack = ""
    if one.worst > 0.0:
        lack = f", by {_needed(needs, one.worst, display)} on {display.day_text(one.worst_on)}"
    if one.enough_until == needs.days[0]:
        return f"hort from the first day{lack}"
    return f"nough to {display.day_text(one.enough_until)}, then short{lack}"


def cores(farm: Farm, day: date, plan: SamplePlan) -> Wanted:
    """Return the figures of the sheet by which a lot is cored, where no core was taken yet."""
    display, dates, way = display_for(farm.units), plan.dates, plan.protocols[0]
    wanted = of_any_page(farm, day)
    hot = dates.status == "hot"
    reasons = [display.local(one[:1].upper() + one[1:]) for one in dates.reasons]
    wanted.said += [plan.sample_id, *(display.local(one) for one in plan.probing.cautions)]
    wanted.said += [display.local(" ".join(dates.reasons))] if hot else reasons
    wanted.may += [display.local(one) for one in (*plan.handling, *plan.probing.notes)]
    wanted.may += [display.local(one) for one in plan.remarks]
    if plan.choice is not None and plan.choice.remark is not None:
        wanted.may.append(display.local(plan.choice.remark))
    if plan.probing.depth_m is not None:
        metric = farm.units == "metric"
        depth = plan.probing.depth_m * 100 if metric else plan.probing.depth_m / M_PER_IN
        told = f"{depth:.0f} {'cm' if metric else 'in'} deep"
        wanted.may.append(told)
    for at in (dates.sample_on, dates.ship_on, dates.result_on):
        if at is not None:
            wanted.may.append(display.day_text(at))
    wanted.may.append(listed([plain_test(one.test) for one in plan.wanted]))
    if hot:
        return wanted
    if plan.order is not None:
        wanted.may += [f"{plan.order.lab}, {money_text(plan.order.price_usd)}"]
    drawn, spares, each = drawn_for(plan)
    noun, taken = plan.probing.taken, len(drawn) * each
    wanted.may += [f"{noun.capitalize()} 1 of {taken}: bale {drawn[0]}" if drawn else ""]
    wanted.may += [f"{noun.capitalize()} 1 of {way.cores}", "Numbered from 1 along the stack"]
    if plan.choice is not None:
        # The numbers stand as a list, in the order in which the bales can be reached.
        wanted.may += [str(one) for one in sorted({*drawn, *spares})]
        wanted.said += [str(one) for one in drawn]
        wanted.may.append(", ".join(map(str, spares[: len(drawn) // 2])))
        wanted.may += [f"It won’t go in: take bale {one}" for one in spares]
    wanted.may += [plan.bags, f"{plan.bags[:1].upper()}{plan.bags[1:]}"]
    return wanted


def what_if(farm: Farm, day: date, base: SeasonProgram, found: WhatIfAnswer) -> Wanted:
    """Return the figures of a question's page that is answered."""
    display = display_for(farm.units)
    dangers = [one for one in found.program.cautions if one.level == "danger"]
    wanted = of_any_page(farm, day, dangers)
    way = "cheaper" if found.cost_usd < 0.0 else "dearer"
    wanted.said += [f"The season is {money_text(abs(found.cost_usd))} {way}."]
    wanted.said.append(display.local(found.sentence))
    for column, one in (("As it is", base), ("As you ask", found.program)):
        short = dict.fromkeys(display.local(each.sentence) for each in one.shortages)
        enough = display.local(answer_of(one, farm, display).sentence)
        wanted.row("h-beside", "Cost", **{column: money_text(one.costs.total)})
        wanted.row("h-beside", "Is there enough?", **{column: enough})
        wanted.row("h-beside", "What is short", **{column: " ".join(short)})
    return wanted


def prices(every: Sequence[PriceThere], day: date) -> Wanted:
    """Return the figures of the page of what feeds cost, on one farm, where none was changed."""
    display = display_for(every[0].there.units)
    wanted = Wanted(may=["1 farm", f"1 farm, {display.day_year_text(day)}"])
    wanted.may += [one.name for one in every]
    wanted.said.append(f"{count_text(len(every), 'feed')} on 1 farm.")
    old = [one.name for one in sorted(every, key=lambda one: one.name.casefold())
           if (day - one.since).days > 45]  # fmt: skip
    if old:
        few = listed(old) if len(old) < 4 else f"{listed(old[:2])} and {len(old) - 2} more"
        wanted.said.append(f"Not seen for 45 days: {few}.")
    for one in every:
        mark = "Old " if one.name in old else ""
        wanted.row(
            "h-prices",
            one.name,
            Usual=money_text(one.usd_per_kg * display.kg_per_ton),
            Seen=f"{mark}{display.day_year_text(one.since)}",
        )
    return wanted


def price(one: PriceThere) -> Wanted:
    """Return the figures of the page on which a feed's price is written, on one farm."""
    display = display_for(one.there.units)
    told = display.price_a_ton(one.usd_per_kg)
    wanted = Wanted(said=[f"{one.name}: {told}."], may=["On 1 farm", "at 10% more", "at 10% less"])
    wanted.said.append(f"{one.there.name} {told}, since {display.day_year_text(one.since)}")
    return wanted


def labs(told: LabsTold) -> Wanted:
    """Return the figures of the page of laboratories, of one farm whose list is short."""
    wanted = Wanted(may=["1 farm"])
    for one in told.packages:
        its = one.package
        names = [word_of(each) for each in its.names]
        tests = listed(names)
        if len(names) > 9:
            tests = f"{', '.join(names[:9])} and {len(names) - 9} more"
        wanted.row(
            "h-order",
            f"{its.package} {its.lab}",
            Tests=tests,
            A_sample=money_text(its.price_usd),
            Days_said="" if its.working_days is None else f"{its.working_days}",
            Farms="1",
        )
        wanted.may += [f"{its.package} {money_text(its.price_usd)}", f"{its.package} {its.lab}"]
        if its.working_days is not None:
            wanted.may.append(f"{its.working_days} working days")
    for lab in {one.lab for one in told.turns}:
        # Weekdays after the day of the core, as a calendar without holidays counts them.
        took = [
            int(np.busday_count(one.sampled_on + _DAY, one.reported_on + _DAY))
            for one in told.turns
            if one.lab == lab
        ]
        every = [one.package.working_days for one in told.packages if one.package.lab == lab]
        days = sorted({one for one in every if one is not None})
        middle, span = (
            f"{median(took):g}",
            " to ".join(f"{one}" for one in dict.fromkeys([*days[:1], *days[-1:]])),
        )
        wanted.row(
            "h-turn", lab, Reports=f"{len(took)}", Said=span, Middle=middle, Longest=f"{max(took)}"
        )
        least, name = min(
            (one.package.price_usd, one.package.package)
            for one in told.packages
            if one.package.lab == lab
        )
        wanted.may.append(f"{lab}: {middle} working days from core to report, {name} ")
        wanted.may += [money_text(least), f"{lab} says {span} working days and takes {middle}."]
    return wanted


def package(told: LabsTold, at: int) -> Wanted:
    """Return the figures of the page of a package of tests."""
    its = told.packages[at]
    price_told = money_text(its.package.price_usd)
    return Wanted(
        said=[
            f"{its.package.package}: {price_told} at {its.package.lab}.",
            f"{its.there.name} {price_told}",
        ],
        may=["as dm cp adf ndf ca p nitrate_no3n", its.package.package],
    )


def letter(farm: Farm, day: date, planned: Planned | None) -> Wanted:
    """Return the figures of a letter to a farm."""
    display, page = display_for(farm.units), yard_on(farm, day)
    program = None if planned is None else planned.program
    cautions: list[Caution] = [*page.cautions, *(() if program is None else program.cautions)]
    every = of_any_page(farm, day, cautions)
    wanted = of_any_page(farm, day, [one for one in cautions if one.level == "danger"])
    # What is no danger stands on its own page, and may be named here.
    wanted.may += [*every.may, *every.said, *_COUNTS, display.day_year_text(day)]
    if planned is not None:
        answer = answer_of(planned.program, planned.farm, display)
        wanted.said += [display.local(answer.sentence), display.local(answer.detail)]
        wanted.said += [display.local(one.sentence) for one in planned.program.shortages]
        helps = dict.fromkeys(display.local(one.sentence) for one in planned.program.remedies)
        wanted.said += list(helps)[:6]
    elif page.outlook is not None:
        wanted.said.append(
            display.local(outlook_sentence(page.outlook, display, "a season program"))
        )
    later = farm_tests(farm, day).later
    if later:
        wanted.said.append(
            f"Core {later[0].name} by {display.day_text(max(later[0].due_on, day))}."
        )
    return wanted


def buyer(farm: Farm, sheet: LotSheet, last: date) -> Wanted:
    """Return the figures of a lot as a link shows it."""
    display = display_for(farm.units)
    wanted = of_any_page(farm, last, sheet.cautions)
    wanted.said += [sheet.answer, sheet.day, display.day_year_text(last)]
    wanted.said += [*sheet.sample, *sheet.unknown, *sheet.good_for, *sheet.buyers, sheet.ranges]
    wanted.said += [sheet.standing, *([f"Grade: {sheet.grade}"] if sheet.grade else [])]
    wanted.said += [f"{figure} {word}" for figure, word in sheet.figures]
    wanted.may += [count_text(len(sheet.more), "more value"), "90% range"]
    for section, told in (("h-what", sheet.facts), ("h-price", sheet.basis)):
        for word, words_told in told:
            wanted.row(section, word, **{"": words_told})
            wanted.may.append(word)
    for one in sheet.values:
        wanted.may += [one.words, one.origin]
        row = f"{one.words} {one.origin}"
        wanted.row("h-test", row, **{"Is": one.value, "90% range": one.between, "From": one.origin})
    return wanted


def lender(planned: Planned, day: date, last: date) -> Wanted:
    """Return the figures of a season as a link shows it."""
    program, farm = planned.program, planned.farm
    display = display_for(farm.units)
    dangers = [one for one in program.cautions if one.level == "danger"]
    wanted = of_any_page(farm, day, dangers)
    answer = answer_of(program, farm, display)
    wanted.said += [*answer_parts(display.local(answer.sentence)), display.local(answer.detail)]
    wanted.may += [f"{one[:1].upper()}{one[1:]}" for one in wanted.said if one]
    ends = (display.day_year_text(program.start), display.day_year_text(program.end))
    total = money_text(program.costs.total)
    wanted.said += [f"The season, {ends[0]} to {ends[1]}, costs {total}.", proof_of(program)]
    wanted.said += [display.local(one.sentence) for one in program.shortages]
    wanted.said += [display.day_year_text(day), display.day_year_text(last)]
    heads = {one.group_id: one.head for one in reversed(program.groups)}
    for group_id, head in heads.items():
        wanted.row("h-stock", group_name(farm, group_id), **{"": f"{head:,} head"})
    for word, name in (
        ("In the yard on the first day", "start_t"),
        ("Eaten", "eaten_t"),
        ("Lost at the feeder", "feeding_loss_t"),
        ("Lost in storage", "storage_loss_t"),
        ("Sold on the first day", "sold_t"),
        ("Left on the last day", "left_t"),
    ):
        tons = sum(getattr(one, name) for one in program.lots)
        wanted.row("h-hay", word, **{"": display.tons_text(tons)})
    for bought in program.purchases:
        each = bought.cost_usd / bought.as_fed_kg if bought.as_fed_kg > 0.0 else 0.0
        wanted.row(
            "h-buy",
            bought.name,
            Amount=display.amount_text(bought.as_fed_kg),
            Price=display.price_per_ton_text(each),
            Cost=money_text(bought.cost_usd),
        )
    for label, usd in (*words.cost_rows(program.costs), ("Total", program.costs.total)):
        wanted.row("h-cost", label, **{"1": money_text(usd).replace("-", "\u2212")})
    return wanted
