"""Every figure of every page of a farm is the service's, at the labels that lead to it.

And none stands there that no service gave. Left out are pages without figures of a farm (forms,
people, links) and the trail, which tells when something was done.
"""

import shutil
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any
from urllib.parse import quote

import pytest
from django.test import Client

from rickyard.book.base import BookPlace, opened_book
from rickyard.book.folders import take_in
from rickyard.book.looking import look_back
from rickyard.book.services import (
    adopt,
    ask_plan,
    programs,
    read_farm,
    read_program,
    standing_dangers,
)
from rickyard.book.working.working import work_once
from rickyard.book.years import years_of
from rickyard.display import display_for
from rickyard.service import PlanRequest, open_farm, plan_farm, read_lots
from rickyard.sheets.paper import week_start_of
from rickyard.web.shown.farms import address_of
from support import season_says, services_say
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
