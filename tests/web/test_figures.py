"""Figures on pages are those of the services, on three farms; and no page asks row by row."""

import re
from collections.abc import Callable
from datetime import date, timedelta
from html import unescape
from pathlib import Path
from typing import Any
from urllib.parse import quote

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from rickyard.book.base import BookPlace, opened_book
from rickyard.book.folders import take_in
from rickyard.display import display_for, localized, money_text
from rickyard.farm import Farm
from rickyard.service import open_farm, read_lots, yard_on
from rickyard.service.sections import farm_tests, hay_list, stock_needs
from rickyard.web.shown.farms import address_of
from support.farm_folders import GOOD, write_texts

DEMO = Path(__file__).resolve().parents[2] / "src" / "rickyard" / "demo_farm"
#: The same farm where weights are kilograms.
METRIC = {
    **GOOD,
    "farm.toml": GOOD["farm.toml"]
    .replace("Hill farm", "Metric farm")
    .replace('units = "us"', 'units = "metric"\ncountry = "CA-AB"'),
}


def text_of(answer: Any) -> str:
    """Return a page as it is read, drawings left out."""
    assert answer.status_code == 200, answer.content.decode()[:400]
    page = re.sub(r"<svg.*?</svg>", " ", answer.content.decode(), flags=re.S)
    return unescape(" ".join(re.sub("<[^>]+>", " ", page).split()))


@pytest.fixture(params=["demo", "good", "metric"])
def farm_shown(request: Any, new_book: BookPlace, open_pages: Any, tmp_path: Path) -> Any:
    """Return a farm, a day in its season, and what gets the text of its pages."""
    folder = DEMO
    if request.param != "demo":
        folder = write_texts(tmp_path / "farm", GOOD if request.param == "good" else METRIC)
    with opened_book(new_book):
        take_in(folder)
        open_pages(new_book)
        farm = open_farm(folder).farm
        day = farm.season.start + timedelta(days=26)
        client = Client(SERVER_NAME="127.0.0.1", raise_request_exception=False)
        start = f"/{address_of(farm.name)}/"
        yield farm, day, lambda path: text_of(client.get(f"{start}{path}?on={day}"))


def hay_figures(farm: Farm, day: date) -> list[str]:
    display = display_for(farm.units)
    found = []
    for one in hay_list(farm, day):
        found += [f"{one.yard.standing.bales:,.0f}", one.lot.name, one.kept_from[1:]]
        found += [
            display.percent_text(value.value)
            for value in one.reading.numbers
            if value.name in ("tdn_pct", "crude_cp_pct")
        ]
        if one.worth_usd_per_kg is not None:
            found.append(money_text(one.worth_usd_per_kg * display.kg_per_ton))
    return found


def place_figures(farm: Farm, day: date) -> list[str]:
    display = display_for(farm.units)
    found = []
    for one in localized(yard_on(farm, day), display).lines:
        found += [display.percent_text(one.lost_pct), display.percent_text(one.will_lose_pct)]
        found += [tip.sentence for tip in one.advice]
    return found


def figures_of_tests(farm: Farm, day: date) -> list[str]:
    display = display_for(farm.units)
    tests = farm_tests(farm, day)
    found = [one.report_id for one in tests.reports]
    for one in (*tests.now, *tests.later):
        found += [one.name, f"{one.protocols[0].bales} bales"]
        found += [] if one.order is None else [money_text(one.order.price_usd)]
        found.append(display.local("; ".join(one.dates.reasons)))
    return found


def stock_figures(farm: Farm, day: date) -> list[str]:
    display = display_for(farm.units)
    found = [f"{sum(one.head for one in farm.groups):,} head."]
    for one in stock_needs(farm):
        found += [one.group.name, display.mass_text(one.group.weight_kg)]
    return found


FIGURES: dict[str, Callable[[Farm, date], list[str]]] = {
    "hay/": hay_figures,
    "yard-map": place_figures,
    "tests/": figures_of_tests,
    "stock/": stock_figures,
}


def test_every_figure_of_a_list_is_the_services(farm_shown: Any) -> None:
    farm, day, text = farm_shown
    for path, figures in FIGURES.items():
        page = text(path)
        wanted = [one for one in figures(farm, day) if one]
        assert len(wanted) > 3
        assert [one for one in wanted if one not in page] == [], path


def test_every_figure_of_a_lot_and_a_group_is_the_services(farm_shown: Any) -> None:
    farm, _, text = farm_shown
    display = display_for(farm.units)
    for reading in read_lots(farm).readings:
        page = text(f"hay/{quote(reading.lot_id)}")
        for one in reading.numbers:
            if not one.unit.startswith("Mcal/kg"):
                assert f"{one.value:,.{one.decimals}f} {one.low:,.{one.decimals}f} to" in page or (
                    one.low is None and f"{one.value:,.{one.decimals}f}" in page
                )
    for needs in stock_needs(farm):
        page = text(f"stock/{needs.group.group_id}")
        if needs.word == "net energy" and needs.days:
            assert f"{needs.needs[0]:.1f} Mcal a day on {display.day_text(needs.days[0])}" in page
            for hay in needs.hays:
                if hay.enough_until is not None and hay.worst > 0.0:
                    worst = display.day_text(hay.worst_on)
                    assert f"by {hay.worst:.1f} Mcal on {worst}" in page


PAGES = ("", "hay/", "hay/A0", "yard-map", "season/", "feeding/", "tests/", "tests/A0/cores")
MORE_PAGES = ("stock/", "stock/COWS", "look-back/", "people/")


def test_no_page_asks_more_of_the_database_for_thirty_lots_than_for_three(
    new_book: BookPlace, open_pages: Any, tmp_path: Path
) -> None:
    head, row = GOOD["lots.csv"].splitlines()[:2]
    empty = {
        name: GOOD[name].splitlines()[0] + "\n"
        for name in ("reports.csv", "wishes.csv", "moves.csv", "fed.csv")
        if name in GOOD
    }
    counts: dict[str, list[int]] = {}
    with opened_book(new_book):
        open_pages(new_book)
        client = Client(SERVER_NAME="127.0.0.1", raise_request_exception=False)
        for many in (3, 30):
            named = {
                "farm.toml": GOOD["farm.toml"].replace("Hill farm", f"Farm of {many}"),
                "lots.csv": "\n".join([head, *(row.replace("A1", f"A{n}") for n in range(many))]),
            }
            take_in(write_texts(tmp_path / str(many), {**GOOD, **empty, **named}))
            for path in (*PAGES, *MORE_PAGES):
                with CaptureQueriesContext(connection) as asked:
                    answer = client.get(f"/farm-of-{many}/{path}?on=2025-12-04")
                assert answer.status_code == 200, path
                counts.setdefault(path, []).append(len(asked))
    assert {path: both for path, both in counts.items() if both[0] != both[1]} == {}
    assert max(one for both in counts.values() for one in both) < 60
