"""The pages of a book: what stands on them is what the services say, and dangers come first."""

from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from rickyard.book.base import BookPlace, opened_book
from rickyard.book.folders import take_in
from rickyard.display import display_for
from rickyard.farm import Caution, Farm
from rickyard.service import open_farm, read_lots, yard_on
from rickyard.sheets.wording import outlook_sentence, stands_sentence
from rickyard.web.shown import care_of
from support.farm_folders import GOOD, write_texts

DAY = date(2026, 11, 28)
YARD = f"/larkmoor-farm/?on={DAY}"
DEMO = Path(__file__).resolve().parents[2] / "src" / "rickyard" / "demo_farm"

Get = Callable[..., Any]


@pytest.fixture(scope="module")
def farm() -> Farm:
    return open_farm(DEMO).farm


def test_a_book_with_one_farm_opens_at_its_yard(get: Get) -> None:
    answer = get("/")
    assert (answer.status, answer.headers["Location"]) == (302, "/larkmoor-farm/")


def test_the_yard_says_what_the_service_says(get: Get, farm: Farm) -> None:
    page = get(YARD)
    assert page.status == 200
    yard = yard_on(farm, DAY)
    assert stands_sentence(yard, display_for("us")) in page.text
    assert "Short of hay from Apr 17, by a rough count." in page.text
    ahead = yard.outlook
    assert ahead is not None
    assert outlook_sentence(ahead, display_for("us"), "the season's program") in page.text
    assert "rickyard plan" not in page.text.partition("What stands in the yard")[0]
    assert "54 tons in reserve" in page.text
    assert "26 tons of 54 tons to be kept in reserve" in page.text
    assert "/larkmoor-farm/season/" in page.links
    for line in yard.lines:
        assert f"{line.name} " in page.text
        assert f"{line.standing.bales:,.0f} bales" in page.text


def test_dangers_stand_before_all_that_could_be_fed(get: Get, farm: Farm) -> None:
    page = get(YARD)
    stands = page.text.index("What stands in the yard")
    dangers = [
        one.sentence
        for lot in read_lots(farm).readings
        for one in lot.cautions
        if one.level == "danger"
    ]
    assert len(dangers) == 2
    for sentence in dangers:
        assert page.text.index(sentence) < stands
    assert "Ask your extension office or veterinarian" in page.text


def test_warnings_of_one_lot_share_a_box_and_each_danger_has_its_own(farm: Farm) -> None:
    lot = farm.lots[0].lot_id
    told = [
        Caution(level, lot, f"{word}.", "a test")
        for level, word in (("danger", "A"), ("danger", "B"), ("warning", "C"), ("warning", "D"))
    ]
    care = care_of(told, farm)
    assert len({one.shares for one in care.dangers}) == 2
    assert len({one.shares for one in care.warnings}) == 1
    assert len({one.shares for one in care_of(told, farm, of_lot=True).warnings}) == 2


def test_every_link_of_the_yard_leads_somewhere(get: Get, farm: Farm) -> None:
    leads = {one for one in get(YARD).links if one.startswith("/")}
    assert len(leads) >= 5 + len(farm.lots)
    assert {get(one).status for one in leads} == {200}


def test_a_lot_says_who_may_eat_it_and_what_its_test_says(get: Get, farm: Farm) -> None:
    page = get(f"/larkmoor-farm/hay/26-FLAT-1?on={DAY}")
    reading = read_lots(farm, lot_ids=["26-FLAT-1"]).readings[0]
    assert "Drought sorghum-sudan: none to stock in calf." in page.text
    assert page.text.index(reading.cautions[0].sentence) < page.text.index("Who may eat it")
    for sentence in (reading.suits, reading.lacks, reading.value):
        assert sentence in page.text
    for one in reading.numbers:
        if not one.unit.startswith("Mcal/kg"):
            assert f"{one.value:,.{one.decimals}f}" in page.text
    assert "Report R-1045, Ashlow forage desk, sampled Oct 6, 2026, 24 cores." in page.text


def test_a_lot_stands_among_the_limits_of_its_nitrate(get: Get) -> None:
    """Clemson University Agricultural Service Laboratory, nitrate levels."""
    page = get(f"/larkmoor-farm/hay/26-FLAT-1?on={DAY}")
    assert "2,508 ppm of dry matter (90% range 1,846 to 3,169)" in page.text
    told = "At most 35 to 40% of what they eat; none to pregnant stock , this lot 3,500 to 4,000"
    assert told in page.text
    assert page.text.count(", this lot") == 1
    assert "Nitrate, and what it allows" not in get("/larkmoor-farm/hay/26-BUY-1").text


def test_a_lot_without_a_test_says_so_first(get: Get) -> None:
    page = get(f"/larkmoor-farm/hay/26-BUY-1?on={DAY}")
    assert "Bought grass hay: no test yet." in page.text
    assert "values of a book" in page.text


@pytest.mark.parametrize(
    ("address", "status", "says"),
    [
        ("/no-such-farm/", 404, "not yours to see"),
        ("/larkmoor-farm/hay/26-NONE-1", 404, "not yours to see"),
        ("/larkmoor-farm/no/such", 404, "no such page"),
        ("/larkmoor-farm/?on=tomorrow", 422, '"tomorrow" is no day'),
    ],
)
def test_what_is_not_there_is_told_with_the_way_back(
    get: Get, address: str, status: int, says: str
) -> None:
    page = get(address)
    assert page.status == status
    assert says in page.text
    assert "/" in page.links


def test_another_name_of_the_server_is_refused(get: Get) -> None:
    assert get(YARD, headers={"host": "evil.example"}).status == 400


def test_no_page_holds_script_or_style_or_anything_from_elsewhere(get: Get) -> None:
    for address in ("/", YARD, f"/larkmoor-farm/hay/26-FLAT-1?on={DAY}", "/none/"):
        page = get(address)
        scripts = [one for tag, one in page.elements if tag == "script"]
        assert {str(one["src"]).split("/")[-1] for one in scripts} <= {"htmx.js", "parts.js"}
        assert all(str(one["src"]).startswith("/static/") for one in scripts)
        assert "'unsafe" not in page.headers["Content-Security-Policy"]
        assert "style" not in {tag for tag, _ in page.elements}
        assert not [one for _, one in page.elements if "style" in one]
        for _, one in page.elements:
            for name in ("src", "href"):
                assert (one.get(name) or "/").startswith(("/", "#"))
        assert "default-src 'none'" in page.headers["Content-Security-Policy"]
        assert page.headers["X-Content-Type-Options"] == "nosniff"
        assert page.headers["Referrer-Policy"] == "same-origin"
        assert page.headers["Cache-Control"] == "no-store"


def test_a_name_is_text_and_never_markup(
    open_pages: Any, new_book: BookPlace, tmp_path: Path
) -> None:
    named = GOOD["farm.toml"].replace("Hill farm", "Hill <b>& 'farm'</b>")
    with opened_book(new_book):
        take_in(write_texts(tmp_path / "good", {**GOOD, "farm.toml": named}))
        page = open_pages(new_book)("/hill-b-farm-b/?on=2025-12-04")
    assert "Hill <b>& 'farm'</b>" in page.text
    assert page.status == 200


def test_a_list_of_farms_asks_no_more_of_the_database_than_one_farm(
    open_pages: Any, new_book: BookPlace, tmp_path: Path
) -> None:
    counts = []
    with opened_book(new_book):
        get = open_pages(new_book)
        assert "No farm stands in this book yet." in get("/").text
        for number in range(3):
            name = GOOD["farm.toml"].replace("Hill farm", f"Farm {number % 2}")
            start = name.replace("2025-11-15", f"2025-11-{15 - number}")
            take_in(write_texts(tmp_path / str(number), {**GOOD, "farm.toml": start}))
            if number:
                with CaptureQueriesContext(connection) as asked:
                    page = get("/")
                counts.append(len(asked))
        assert "3 farms," in page.text
        assert counts[0] == counts[1]
        assert len({one for one in page.links if one.startswith("/farm-0-")}) == 2
        assert get("/farm-1/?on=2025-12-04").status == 200
