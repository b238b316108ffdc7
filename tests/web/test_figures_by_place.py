"""Every figure of every page of a farm is the service's, at the labels that lead to it.

And none stands there that no service gave. Left out are pages without figures of a farm (forms,
people, links) and the trail, which tells when something was done.
"""

import shutil
import sys
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any
from urllib.parse import quote, urlencode

import pytest
from django.conf import settings
from django.test import Client

from rickyard.book.acting import day_at
from rickyard.book.base import BookPlace, opened_book
from rickyard.book.folders import take_in
from rickyard.book.looking import look_back
from rickyard.book.pricing import read_labs, read_prices
from rickyard.book.services import (
    adopt,
    ask_plan,
    programs,
    read_farm,
    read_group_facts,
    read_program,
    read_things,
    standing_dangers,
)
from rickyard.book.sharing import share_lot, share_season
from rickyard.book.working.working import work_once
from rickyard.book.years import years_of
from rickyard.display import display_for
from rickyard.program.planning import WhatIfAnswer
from rickyard.service import Planned, PlanRequest, lot_sheets, open_farm, plan_farm, read_lots
from rickyard.service.sections import coring_sheet, stock_needs
from rickyard.sheets.paper import week_start_of
from rickyard.web.shown.farms import address_of
from support import beside_say, season_says, services_say
from support.farm_folders import GOOD, SHORT, write_texts
from support.figures import Wanted, differs
from support.rows import few

DEMO = Path(__file__).resolve().parents[2] / "src" / "rickyard" / "demo_farm"
METRIC = {
    **GOOD,
    "farm.toml": GOOD["farm.toml"]
    .replace("Hill farm", "Metric farm")
    .replace('units = "us"', 'units = "metric"\ncountry = "CA-AB"'),
}
FARMS = {"short": SHORT, "metric": METRIC, "demo": None}


@pytest.mark.parametrize("named", few(list(FARMS), 1))
def test_every_figure_of_every_page_is_the_services(
    named: str,
    new_book: BookPlace,
    open_pages: Any,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    texts = FARMS[named]
    folder = (
        write_texts(tmp_path / "farm", texts) if texts else shutil.copytree(DEMO, tmp_path / "farm")
    )
    opened = open_farm(folder)
    made = plan_farm(opened, PlanRequest(effort=0.01))
    monkeypatch.setattr(programs, "plan_farm", lambda *_, **__: made)
    with opened_book(new_book):
        there = take_in(folder)
        open_pages(new_book)
        wrong = dict(_wrong(there.season, opened.farm.season.start + timedelta(days=26)))
        wrong |= dict(_wrong_beside(there.season, made, monkeypatch))
    assert wrong == {}


def _wrong(season: Any, day: date) -> Iterator[tuple[str, list[str]]]:
    """Yield what is wrong on each page, by its address."""
    farm = read_farm(None, season.id)
    made = display_for(farm.units).day_year_text(datetime.now(UTC).date())
    client = Client(SERVER_NAME="127.0.0.1", raise_request_exception=False)

    def look(path: str, wanted: Wanted) -> Iterator[tuple[str, list[str]]]:
        wanted.may.append(made)
        answer = client.get(f"/{address_of(farm.name)}/{path}?on={day}")
        assert answer.status_code == 200, path
        found = differs(answer.content.decode(), wanted)
        if found:
            yield path, found

    yield from look("", services_say.yard(farm, day, None))
    ask_plan(None, season.id)
    work_once("w")
    kept = read_program(None, season.id)
    assert kept is not None
    adopt(None, season.id, kept.id, list(standing_dangers(kept.planned)))
    planned = kept.planned
    monday = week_start_of(planned.program, day) or day
    yield from look("", services_say.yard(farm, day, planned))
    yield from look("hay/", services_say.hay(farm, day))
    yield from look("yard-map", services_say.places(farm, day))
    yield from look("tests/", services_say.tests(farm, day))
    yield from look("stock/", services_say.stock(farm, day))
    yield from look("season/", season_says.season(planned, day))
    yield from look(f"feeding/{day}", season_says.day(planned, day))
    yield from look(f"feeding/week/{monday}", season_says.week(planned, monday))
    yield from look("look-back/", season_says.look_back(look_back(None, season.id, day)))
    yield from look("years/", season_says.years(farm, years_of(None, season.farm_id, day)))
    for reading in read_lots(farm).readings:
        path = f"hay/{quote(reading.lot_id)}"
        yield from look(path, services_say.lot(farm, day, reading))


def _wrong_beside(
    season: Any, made: Planned, monkeypatch: pytest.MonkeyPatch
) -> Iterator[tuple[str, list[str]]]:
    """Yield what is wrong on pages of groups, sheets, questions, prices, letters and links."""
    farm = read_farm(None, season.id)
    day = farm.season.start + timedelta(days=26)
    display = display_for(farm.units)
    at, client = address_of(farm.name), Client(SERVER_NAME="127.0.0.1")
    today = day_at("", datetime.now(UTC))

    def look(path: str, wanted: Wanted) -> Iterator[tuple[str, list[str]]]:
        wanted.may.append(display.day_year_text(today))
        sign = "&" if "?" in path else "?"
        answer = client.get(f"/{path}{sign}on={day}")
        assert answer.status_code == 200, path
        found = differs(answer.content.decode(), wanted)
        if found:
            yield path, found

    kept = read_program(None, season.id)
    assert kept is not None
    for thing, _, one in read_things(None, season.id, "group"):
        (needs,) = stock_needs(farm, one.group_id)
        facts = read_group_facts(None, season.id, thing)
        path = f"{at}/stock/{quote(one.group_id)}"
        yield from look(path, beside_say.group(farm, day, needs, kept.planned, facts))
    for lot in farm.lots:
        plan = coring_sheet(farm, lot.lot_id, day)
        yield from look(f"{at}/tests/{quote(lot.lot_id)}/cores", beside_say.cores(farm, day, plan))
    yield from look(f"letter/{at}", beside_say.letter(farm, day, kept.planned))
    every, told = read_prices(None, day), read_labs(None)
    if every:
        yield from look("prices", beside_say.prices(every, day))
    for price in every:
        yield from look(f"prices/feed?{urlencode({'feed': price.name})}", beside_say.price(price))
    yield from look("labs", beside_say.labs(told))
    for number, one in enumerate(told.packages):
        named = urlencode({"lab": one.package.lab, "package": one.package.package})
        yield from look(f"labs/package?{named}", beside_say.package(told, number))
    dearer = replace(made.program.costs, purchases=made.program.costs.purchases + 900.0)
    then = replace(made.program, costs=dearer)
    answer = WhatIfAnswer("70 cows", then, 900.0, "With 70 head it would cost $900 more.")
    room = sys.modules["rickyard.book.working.what_ifs"]
    monkeypatch.setattr(room, "what_if", lambda *_, **__: (made.program, [answer]))
    monkeypatch.setattr("rickyard.web.pages.questions._WAITS", 60.0)
    asked = urlencode({"of": "head", "group": farm.groups[0].group_id, "head": 70})
    wanted = beside_say.what_if(farm, day, made.program, answer)
    yield from look(f"{at}/season/what-if?{asked}", wanted)
    # Links are of a book that is shared alone.
    monkeypatch.setattr(settings, "RICKYARD_SHARED", True)
    last = today + timedelta(days=3)
    for lot in farm.lots:
        code = share_lot(None, season.id, lot.lot_id, last).code
        (sheet,) = lot_sheets(farm, [lot.lot_id], today)
        yield from look(f"s/{code}", beside_say.buyer(farm, sheet, last))
    code = share_season(None, season.id, last).code
    yield from look(f"s/{code}", beside_say.lender(kept.planned, today, last))


def test_a_figure_that_is_other_missing_or_from_nowhere_is_named() -> None:
    page = """<main><section aria-labelledby="h-buy"><table><thead><tr><th>Feed</th><th>Cost</th>
    </tr></thead><tr><th>Corn</th><td>$12</td></tr><tr><th>Oats</th><td>$13</td></tr></table>
    <p>Enough to <b>May 3</b>.</p></section></main>"""
    wanted = Wanted(said=["May 3"])
    wanted.row("h-buy", "Corn", Cost="$12")
    wanted.row("h-buy", "Oats", Cost="$13")
    assert differs(page, wanted) == []
    swapped = page.replace("$12", "$1").replace("$13", "$12").replace("$1<", "$13<")
    assert len(differs(swapped, wanted)) == 2
    assert differs(page.replace("May 3", "May 4"), wanted) == [
        "from no service: p ('h-buy', '', '') 'Enough to May 4.'",
        "not said: 'May 3'",
    ]
    assert differs(page.replace("$13", ""), wanted) == [
        "('h-buy', 'Oats', 'Cost'): page [], service ['$13']"
    ]
