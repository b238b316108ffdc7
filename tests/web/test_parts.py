"""Each page that swaps a part gives it alone to who asks by script, and the whole to all others."""

import re
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from rickyard.book.base import BookPlace, opened_book
from rickyard.book.folders import take_in
from rickyard.book.services import adopt, ask_plan, programs, read_lines, read_program
from rickyard.book.working.working import work_once
from rickyard.service import Planned, PlanRequest, open_farm, plan_farm
from support.farm_folders import SHORT, write_texts
from web.test_tests_pages import DOUBTFUL

FARM = "/hill-farm/"
ON = "?on=2025-12-04"
#: Parts that only look again, or hold a form only where there is something to decide.
MAYBE = ("list", "working", "chart")


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Planned:
    folder = write_texts(tmp_path_factory.mktemp("made") / "good", SHORT)
    return plan_farm(open_farm(folder), PlanRequest(effort=0.01))


@pytest.fixture
def season(
    new_book: BookPlace, made: Planned, tmp_path: Path, monkeypatch: Any, open_pages: Any
) -> Iterator[Any]:
    """Return the season of one of two farms, fed by a program."""
    monkeypatch.setattr(programs, "plan_farm", lambda *_, **__: made)
    other = {**SHORT, "farm.toml": SHORT["farm.toml"].replace("Hill farm", "Dale farm")}
    with opened_book(new_book):
        open_pages(new_book)
        season = take_in(write_texts(tmp_path / "good", SHORT)).season
        take_in(write_texts(tmp_path / "other", other))
        ask_plan(None, season.id)
        work_once("w")
        kept = read_program(None, season.id)
        assert kept is not None
        adopt(None, season.id, kept.id)
        yield season


@pytest.fixture
def client() -> Client:
    return Client(SERVER_NAME="127.0.0.1", raise_request_exception=False)


def by_script(part: str) -> dict[str, str]:
    """Return the headers of who asks for a part."""
    return {"HX-Request": "true", "HX-Target": part}


def told(client: Client, address: str, part: str, **posted: Any) -> str:
    """Return a part of a page, asked for or of the page that a form leads to."""
    how: dict[str, Any] = {"headers": by_script(part), "follow": True}
    answer = client.post(address, posted, **how) if posted else client.get(address, **how)
    return str(answer.content.decode())


def swapped(client: Client, season: Any, made: Planned) -> list[tuple[str, str]]:
    """Return the pages that swap a part, and which."""
    day = min(one.day for one in made.program.deliveries if one.group_id == "COWS")
    feeding = f"{FARM}feeding/{day}"
    anchor = re.search(r'<section class="group" id="([^"]+)"', plain(client, feeding))
    file = SimpleUploadedFile("hay report.csv", DOUBTFUL)
    report = client.post(f"{FARM}tests/bring-in", {"files": file})["Location"]
    feed = re.search(r'href="(/prices/feed[^"]+)"', plain(client, "/prices"))
    assert anchor
    assert feed
    return [
        (f"/{ON}", "table"),
        (f"/due{ON}", "list"),
        (f"/short{ON}", "list"),
        ("/labs/package", "row"),
        (feed[1].replace("&amp;", "&"), "row"),
        (f"{FARM}yard-map{ON}", "drawing"),
        (f"{FARM}hay/{ON}", "list"),
        (f"{FARM}hay/put-up", "flag"),
        (f"{FARM}hay/B2", "parts"),
        (f"{FARM}tests/{ON}", "list"),
        (f"{FARM}tests/A1/cores", "coring"),
        (report, "doubts"),
        (f"{FARM}stock/COWS", "row"),
        (f"{FARM}season/", "working"),
        (f"{FARM}season/", "wishes"),
        (f"{FARM}season/what-if", "working"),
        (feeding, anchor[1]),
        (f"{FARM}look-back/{ON}", "chart"),
        (f"{FARM}people/", "row"),
        ("/start/ask/2?a=farm%3DHill", "asking"),
    ]


def plain(client: Client, address: str) -> str:
    return str(client.get(address).content.decode())


def test_who_asks_by_script_gets_the_named_part_alone(
    season: Any, client: Client, made: Planned
) -> None:
    for address, name in swapped(client, season, made):
        whole, part = plain(client, address), told(client, address, name)
        assert whole.startswith("<!doctype html>"), address
        assert f'hx-target="#{name}"' in whole or name in MAYBE or "people" in address, address
        assert "<!--" not in whole + part, address
        assert "hx-swap-oob" not in whole, address
        assert part.startswith("<title>"), (address, part[:200])
        assert part.count(f'id="{name}"') == 1, address
        assert '<header class="board"' not in part, address
        ids = re.findall(r' id="([^"]+)"', part)
        assert len(ids) == len(set(ids)), address
        # All that is swapped out of band stands on the page, so that nothing is put nowhere.
        for along in re.findall(r'hx-swap-oob="true"[^>]*? id="([^"]+)"', part):
            assert f'id="{along}"' in whole, (address, along)


def test_a_part_says_what_the_page_says(season: Any, client: Client) -> None:
    address = f"{FARM}hay/{ON}"
    whole, part = plain(client, address), told(client, address, "list")
    begins = part.index('<section class="part" id="list"')
    ends = part.index("</section>", begins)
    assert part[begins:ends] in whole


def test_what_leads_to_another_page_is_gone_to_once(season: Any, client: Client) -> None:
    answer = client.get(f"{FARM}stock/", headers=by_script("flag"))
    assert answer.headers["HX-Redirect"] == f"{FARM}stock/"
    assert answer.content == b""


def test_a_fault_is_told_in_the_form_that_asked(season: Any, client: Client) -> None:
    bad = {"what": "sold", "bales": "many", "counted_on": "2025-12-04"}
    answer = client.post(f"{FARM}hay/B2/note", bad, headers=by_script("parts"))
    assert answer.status_code == 422
    assert (answer.headers["HX-Retarget"], answer.headers["HX-Reswap"]) == ("this", "afterbegin")
    said = answer.content.decode()
    assert said.startswith('<div class="fault" role="alert"')
    assert "many" in said


def test_faults_of_a_form_stand_in_it_with_what_was_typed(season: Any, client: Client) -> None:
    part = told(client, f"{FARM}hay/put-up", "flag", act="look", bales="few", field_name="Creek")
    assert 'aria-invalid="true"' in part
    assert 'value="Creek"' in part
    assert 'value="few"' in part


def test_an_act_by_script_is_done_once_and_answered_with_the_part(
    season: Any, client: Client, made: Planned
) -> None:
    wish = {"group": "COWS", "wish": "keep_off", "source": "B2"}
    before = len(read_lines(None, season.id, "wishes"))
    part = told(client, f"{FARM}season/wish", "wishes", **wish)
    assert "what became of" in part
    assert len(read_lines(None, season.id, "wishes")) == before + 1


def test_the_district_is_narrowed_to_some_of_its_farms(season: Any, client: Client) -> None:
    every = told(client, f"/{ON}", "table")
    assert every.count('<th scope="row"><span class="withmark">') == 2
    for only in ("short", "danger", "due"):
        some = told(client, f"/{ON}&only={only}", "table")
        assert some.count('<th scope="row"><span class="withmark">') <= 2
        assert f'value="{only}" selected' in some


def test_a_part_is_read_in_the_language_of_its_page(season: Any, client: Client) -> None:
    client.cookies["language"] = "es"
    day = date(2025, 12, 4)
    whole = plain(client, f"{FARM}feeding/{day}")
    anchor = re.search(r'<section class="group" id="([^"]+)"', whole)
    assert anchor
    part = told(client, f"{FARM}feeding/{day}", anchor[1])
    begins = part.index('<section class="group"')
    assert re.search(r"<h2[^>]*>.*?</h2>", part[begins:], re.S)[0] in whole  # type: ignore[index]
