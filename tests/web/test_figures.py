"""Figures of a group are those of the services, on three farms; and no page asks row by row.

``test_figures_by_place.py`` looks at the other pages.
"""

import re
from datetime import timedelta
from html import unescape
from pathlib import Path
from typing import Any

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from rickyard.book.base import BookPlace, opened_book
from rickyard.book.folders import take_in
from rickyard.display import display_for
from rickyard.service import open_farm
from rickyard.service.sections import stock_needs
from rickyard.web.shown.farms import address_of
from support.farm_folders import GOOD, write_texts
from support.rows import few

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


@pytest.fixture(params=few(["good", "metric", "demo"], 1))
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


def test_every_figure_of_a_group_is_the_services(farm_shown: Any) -> None:
    farm, _, text = farm_shown
    display = display_for(farm.units)
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
