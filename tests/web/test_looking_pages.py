"""Looking back in the browser: what stock ate is taken and given back, years stand side by side."""

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from django.test import Client

from rickyard.book.acting import PERMISSIONS
from rickyard.book.base import BookPlace, opened_book
from rickyard.book.folders import farm_of, take_in
from rickyard.book.keeping import delete_farm
from rickyard.book.services import begin_season, read_things, write_thing
from rickyard.book.trails.words import done_text
from rickyard.web.drawn import by_year
from rickyard.web.drawn.by_year import MOST_YEARS
from support.farm_folders import GOOD, write_texts

ON = "?on=2026-01-01"
LOOK_BACK = f"/hill-farm/look-back/{ON}"


@pytest.fixture
def hill(new_book: BookPlace, tmp_path: Path) -> Any:
    """Keep a season in which the cows were given four bales every second day."""
    first = date(2025, 11, 16)
    rows = [f"{first + timedelta(days=2 * one)},A1,COWS,4,,\n" for one in range(1, 22)]
    texts = {**GOOD, "fed.csv": GOOD["fed.csv"] + "".join(rows)}
    with opened_book(new_book):
        yield take_in(write_texts(tmp_path / "good", texts)).season


def post(address: str, **what: str) -> Any:
    client = Client(SERVER_NAME="127.0.0.1", raise_request_exception=False)
    return client.post(address, what)


def offered(page: Any) -> dict[str, str]:
    """Return what the form of appetite would send."""
    fields = [said for tag, said in page.elements if tag == "input"]
    return {one["name"]: one["value"] for one in fields if one["name"] in ("day", "pct", "fact")}


def test_what_stock_ate_is_taken_by_a_button_and_given_back_by_another(
    open_pages: Any, new_book: BookPlace, hill: Any
) -> None:
    get = open_pages(new_book)
    page = get(LOOK_BACK)
    assert "Mature cows ate" in page.text
    # What the log says of appetite is drawn with its range, beside what was counted before.
    learned = page.text.partition("What the farm has learned")[2]
    assert "The stock eat" in learned
    assert "100% counted" in learned
    assert "was" in [said.get("class") for tag, said in page.elements if tag == "path"]
    said = offered(page)
    assert said["day"] == "2026-01-01"
    assert f"Count with {said['pct']}% from now on" in page.text
    assert "Give it back" not in page.text
    assert post("/hill-farm/look-back/intake", act="take", day="soon").status_code == 422
    done = post("/hill-farm/look-back/intake", act="take", **said)
    assert done["Location"] == f"{LOOK_BACK}#h-ate"
    # A button that is touched twice counts once.
    assert post("/hill-farm/look-back/intake", act="take", **said).status_code == 302
    assert farm_of(hill).season.intake_pct == float(said["pct"])
    page = get(LOOK_BACK)
    assert "from now on" not in page.text
    assert "Give it back: count with 100% again" in page.text
    post("/hill-farm/look-back/intake", act="give back", **offered(page))
    assert farm_of(hill).season.intake_pct == 100.0
    assert "Give it back" not in get(LOOK_BACK).text


def test_what_it_cost_stands_by_group_and_by_lot(
    open_pages: Any, new_book: BookPlace, hill: Any
) -> None:
    page = open_pages(new_book)(LOOK_BACK)
    rows = {row[0]: row[1:] for row in page.rows("h-cost")}
    # 120 lb of cubes at $390 a ton for twelve heifers on a day.
    assert rows["First-calf heifers"] == ["$23", "$1.95", "$1.95", "$390/ton"]
    assert rows["Barn orchardgrass"][2] == "$110/ton"
    assert rows["20 % cubes"] == ["120 lb", "$23", "$390/ton"]
    assert "No mineral is noted" in page.text


def test_years_stand_side_by_side(open_pages: Any, new_book: BookPlace, hill: Any) -> None:
    farm = farm_of(hill)
    prices = {one.feed_id: one.price_usd_per_kg for one in farm.feeds}
    days = (date(2026, 11, 15), date(2027, 4, 15), date(2026, 10, 1))
    begin_season(None, hill.id, *days, prices)
    get = open_pages(new_book)
    assert "/hill-farm/years/" in get("/hill-farm/look-back/").links
    page = get("/hill-farm/years/?on=2027-01-01")
    rows = [row[0] for row in page.rows("h-hay")]
    assert rows == ["Season", "2026-27so far", "2025-26"]
    tested = {row[2]: row[4] for row in page.rows("h-quality")[1:]}
    assert tested == {"Hill": "0 of 1", "North": "1 of 1", "River": "1 of 1"}


def test_a_drawing_of_years_has_a_dot_for_each_hay_and_a_line_of_means() -> None:
    """Values of 8 to 12 over two years: means of 10 and 12 of whole numbers 8 to 12."""
    drawn = by_year([(2025, 8.0), (2025, 12.0), (2026, 12.0)], "Protein")
    assert drawn.count('class="dot"') == 3
    # Years at a quarter and three quarters of 476 from 60; heights from 22 to 150.
    assert 'd="M179.0 86.0L417.0 22.0"' in drawn
    assert ">8%<" in drawn
    assert ">12%<" in drawn
    assert by_year([(2026, 9.5)], "Protein").count('class="dot"') == 1
    many = by_year([(2000 + one, 9.0) for one in range(20)], "Protein")
    assert many.count('class="dot"') == MOST_YEARS
    assert ">2019<" in many


def test_the_trail_is_read_in_words_page_by_page(
    open_pages: Any, new_book: BookPlace, hill: Any
) -> None:
    thing, _, cows = read_things(None, hill.id, "group")[0]
    for head in range(60, 112):
        item = replace(cows, head=head)
        write_thing(None, hill.id, "group", item, thing=thing, seen=head - 59)
    get = open_pages(new_book)
    page = get("/hill-farm/trail/")
    assert page.text.count("This computer wrote a group: COWS") == 50
    older = next(one for one in page.links if one.startswith("?before="))
    page = get(f"/hill-farm/trail/{older}")
    assert page.text.count("This computer wrote a group: COWS") == 2
    assert "brought in or began the farm: Hill farm" in page.text
    assert not [one for one in page.links if one.startswith("?before=")]
    assert get("/hill-farm/trail/?before=x").status == 422
    assert get("/hill-farm/trail/?before=1").status == 200


def test_farms_that_were_deleted_are_told(open_pages: Any, new_book: BookPlace, hill: Any) -> None:
    get = open_pages(new_book)
    assert "No farm was deleted." in get("/deleted").text
    delete_farm(None, hill.farm_id, "Hill farm")
    page = get("/deleted")
    assert "1 farm deleted." in page.text
    assert "Hill farm was deleted" in page.text


def test_every_service_that_writes_has_words_in_the_trail() -> None:
    silent = {"delete farm", "export", "read costs", "read farm", "read people", "read trail"}
    assert {one for one in PERMISSIONS if done_text(one) == one} == silent
