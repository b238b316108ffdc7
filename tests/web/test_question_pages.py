"""What if, wishes, remedies and reasons on the season's page: the services' own words and sums."""

import re
import sys
import time
from collections.abc import Iterator
from concurrent.futures import Future
from dataclasses import replace
from html import unescape
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest
from django.test import Client

from rickyard.book.base import BookPlace, opened_book
from rickyard.book.folders import take_in
from rickyard.book.services import (
    ask_plan,
    programs,
    read_farm,
    read_lines,
    read_program,
    read_things,
    write_thing,
)
from rickyard.book.taking.taking import change_of
from rickyard.book.working.working import work_once
from rickyard.display import money_text
from rickyard.farm import Feeder, Offered, Wanted
from rickyard.program.result import Remedy, Shortage
from rickyard.service import Asked, Planned, PlanRequest, changes_of, open_farm, plan_farm, what_if
from rickyard.web.sections import (
    remedies_shown,
)
from support.farm_folders import GOOD, write_texts

SEASON = "/hill-farm/season/"
#: The farm with a short season and no wish.
SHORT = {
    **GOOD,
    "farm.toml": GOOD["farm.toml"].replace("2026-04-15", "2025-12-20"),
    "wishes.csv": GOOD["wishes.csv"].splitlines()[0] + "\n",
}


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Planned:
    folder = write_texts(tmp_path_factory.mktemp("made") / "good", SHORT)
    return plan_farm(open_farm(folder), PlanRequest(effort=0.01))


@pytest.fixture
def hill(
    new_book: BookPlace, open_pages: Any, made: Planned, tmp_path: Path, monkeypatch: Any
) -> Iterator[Any]:
    """Return the season of a farm in an open book, for which a program is found at once."""
    monkeypatch.setattr(programs, "plan_farm", lambda *_, **__: made)
    with opened_book(new_book):
        season = take_in(write_texts(tmp_path / "good", SHORT)).season
        open_pages(new_book)
        yield season


@pytest.fixture
def client() -> Client:
    return Client(SERVER_NAME="127.0.0.1", raise_request_exception=False)


def answered(client: Client, address: str) -> tuple[int, str]:
    """Return the page of a question once it is answered."""
    end = time.monotonic() + 60.0
    while time.monotonic() < end:
        answer = client.get(address)
        if b"data-again" not in answer.content:
            break
        assert "You may leave it and come back" in answer.content.decode()
        time.sleep(0.1)
    return answer.status_code, unescape(" ".join(answer.content.decode().split()))


def test_a_question_is_answered_as_the_service_does(
    hill: Any, client: Client, tmp_path: Path
) -> None:
    status, page = answered(client, f"{SEASON}what-if?of=head&group=COWS&head=70")
    assert status == 200
    opened = open_farm(write_texts(tmp_path / "again", SHORT))
    changes = changes_of(opened.farm, Asked(head=("COWS=70",)))
    base, (answer,) = what_if(opened, changes, PlanRequest(), together=True)
    assert answer.sentence in page
    for program in (base, answer.program):
        assert money_text(program.costs.total) in page
    assert read_farm(None, hill.id).group("COWS").head == 60


def test_a_question_that_is_asked_until_it_is_answered_reads_the_farm_once(
    hill: Any, client: Client, monkeypatch: Any
) -> None:
    room, read = sys.modules["rickyard.book.working.what_ifs"], []
    monkeypatch.setattr(room, "open_farm", lambda at: read.append(at) or open_farm(at))
    never: Future[Any] = Future()
    monkeypatch.setattr(room._Asking, "ask", lambda *_: never)
    asked = f"{SEASON}what-if?of=head&group=COWS&head=70"
    for _ in range(3):
        assert b"data-again" in client.get(asked).content
    assert len(read) == 1
    # What is written meanwhile is asked of the farm as it is then.
    things = read_things(None, hill.id, "group")
    thing, seen, cows = next(one for one in things if one[2].group_id == "COWS")
    write_thing(None, hill.id, "group", replace(cows, head=61), thing=thing, seen=seen)
    client.get(asked)
    assert len(read) == 2


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        ("of=head&group=COWS&head=many", '"many" is no number of head'),
        ("of=lost&lot=none&share=40", '"none" is no lot of this farm'),
        ("of=price&source=corn&more=much", "much"),
        ("of=grass&until=soon", '"soon" is no day'),
    ],
)
def test_a_question_that_is_not_understood(
    hill: Any, client: Client, asked: str, says: str
) -> None:
    status, page = answered(client, f"{SEASON}what-if?{asked}")
    assert status == 422
    assert says in page
    assert "--head" not in page.partition("<h2")[0]


def test_a_question_page_offers_every_name_of_the_farm(hill: Any, client: Client) -> None:
    _, page = answered(client, f"{SEASON}what-if")
    farm = read_farm(None, hill.id)
    for one in (*farm.lots, *farm.feeds, *farm.groups):
        assert one.name in page


def test_a_wish_is_written_once_and_taken_back(hill: Any, client: Client) -> None:
    said = {"wish": "keep_off", "source": "B2", "group": "STOCK", "fact": str(uuid4())}
    for _ in range(2):
        assert client.post(f"{SEASON}wish", said)["Location"] == SEASON
    ((line, row),) = read_lines(None, hill.id, "wishes")
    assert (row.wish, row.source_id, row.group_id) == (Wanted.KEEP_OFF, "B2", "STOCK")
    page = unescape(client.get(SEASON).content.decode())
    assert "None of Tarp fescue to Stockers" in page
    assert client.post(f"{SEASON}unwish", {"line": str(line)})["Location"] == SEASON
    assert read_lines(None, hill.id, "wishes") == []
    assert client.post(f"{SEASON}unwish", {"line": "x"}).status_code == 404


@pytest.mark.parametrize(
    ("said", "says"),
    [
        ({"wish": "much"}, "Choose what is wished"),
        ({"wish": "feed", "source": "none"}, "none"),
        ({"wish": "amount", "source": "corn", "as_fed_kg_per_head_day": "some"}, '"some"'),
    ],
)
def test_a_wish_that_breaks_a_rule_is_not_written(
    hill: Any, client: Client, said: dict[str, str], says: str
) -> None:
    answer = client.post(f"{SEASON}wish", said)
    assert answer.status_code == 422
    assert says in unescape(answer.content.decode())
    assert read_lines(None, hill.id, "wishes") == []


def test_reasons_of_a_program_stand_on_its_page(hill: Any, client: Client, made: Planned) -> None:
    ask_plan(None, hill.id)
    work_once("w")
    page = unescape(client.get(SEASON).content.decode())
    assert made.program.reasons
    for one in made.program.reasons:
        assert one.sentence in page
    assert "What if?" in page


def test_a_remedy_leads_to_what_it_would_do(made: Planned) -> None:
    start, end = made.program.start, made.program.end
    remedies = (
        Remedy("COWS", start, end, "tdn", "feed", "corn", 9071.85, None, 2400.0, "Buy corn."),
        Remedy("COWS", start, end, "tdn", "fewer_head", "", None, 5, -90.0, "Sell five cows."),
        Remedy("COWS", start, end, "tdn", "none", "", None, None, None, "Nothing helps."),
    )
    planned = replace(made, program=replace(made.program, remedies=remedies))
    found = remedies_shown(planned).each
    assert [one.effect for one in found] == [
        "of=buy&buy=corn&tons=10.0",
        "of=head&group=COWS&head=55",
        "",
    ]


def test_a_ladder_adds_up_to_the_hay_that_is_lacking(made: Planned) -> None:
    start, end = made.program.start, made.program.end

    def rung(place: int, title: str, off: float | None, left: float | None, **more: Any) -> Remedy:
        made_of = ("COWS", start, end, "", more.pop("kind", "other_feeder"), "", None, None)
        told = {"rung": place, "title": title, "removes_kg": off, "left_kg": left}
        return Remedy(*made_of, more.pop("usd", None), f"{title}, and how.", **told, **more)

    remedies = (
        rung(1, "Weigh", None, None, kind="weigh"),
        rung(2, "Waste less", 9071.85, 18143.7, usd=-500.0),
        rung(3, "Buy hay", 18143.7, 0.0, kind="better_hay", usd=3000.0),
        rung(4, "Sell some", 4535.92, None, kind="fewer_head", usd=-900.0),
        Remedy("COWS", start, end, "tdn", "none", "", None, None, None, "Nothing helps."),
    )
    found = remedies_shown(replace(made, program=replace(made.program, remedies=remedies)))
    assert found.lacking == "30 tons"
    assert [one.words for one in found.ladder] == ["1. Weigh", "2. Waste less", "3. Buy hay"]
    weigh, waste, buy = found.ladder
    assert (weigh.bar, weigh.figures, weigh.told) == ("", "", "Weigh, and how.")
    assert (waste.figures, waste.cost) == (
        "10 tons of 30 tons, 20 tons left",
        "the season costs $500 less",
    )
    assert (buy.figures, buy.cost) == ("20 tons of 30 tons", "$3,000")
    # What those above cover is gray: a third of the bar.
    assert 'class="unsure" x="1" y="1" width="79.3"' in buy.bar
    assert "unsure" not in waste.bar
    assert [one.words for one in found.instead] == ["4. Sell some"]
    assert found.instead[0].figures == "5 tons of 30 tons"
    # It stands in the place of the hay: on what is done before that is bought.
    assert 'class="unsure" x="1" y="1" width="79.3"' in found.instead[0].bar
    assert [one.words for one in found.each] == ["Nothing helps."]


@pytest.fixture
def lacking(hill: Any, made: Planned, monkeypatch: Any) -> str:
    """Return the id of a program that lacks something, with what would help."""
    start, end = made.program.start, made.program.end
    feeds = {one.feed_id: one for one in made.farm.feeds}
    limited = replace(feeds["corn"], most_kg=9071.85)
    farm = replace(made.farm, feeds=(*(limited if one == "corn" else feeds[one] for one in feeds),))
    remedies = (
        Remedy("COWS", start, end, "tdn", "feed", "corn", 9071.85, None, 2400.0, "Buy corn."),
        Remedy("COWS", start, end, "tdn", "fewer_head", "", None, 5, -90.0, "Sell five cows."),
        Remedy("COWS", start, end, "tdn", "leave_earlier", "", None, None, 1.0, "Go.", on=end),
        Remedy("COWS", start, end, "tdn", "cash", "", None, None, 500.0, "More money."),
    )
    short = Shortage("COWS", start, end, "tdn", "kg", 1.0, 2.0, "The cows lack energy.")
    program = replace(made.program, remedies=remedies, shortages=(short,))
    lacks = replace(made, program=program, farm=farm)
    monkeypatch.setattr(programs, "planned_of", lambda _: lacks)
    ask_plan(None, hill.id)
    assert work_once("w")
    kept = read_program(None, hill.id)
    assert kept is not None
    return str(kept.id)


def test_a_remedy_is_taken_seen_and_taken_back(client: Client, hill: Any, lacking: str) -> None:
    def head() -> int:
        return read_farm(None, hill.id).group("COWS").head

    def post(**said: str) -> int:
        said = {"program": lacking, "place": "1", "seen": "1", **said}
        return int(client.post(f"{SEASON}take", said).status_code)

    _, page = answered(client, SEASON)
    assert "Writes that 20 tons of Cracked corn can be bought this season, instead of" in page
    assert "Writes 55 head of Mature cows from today on, instead of 60." in page
    assert page.count("Take it") == 3
    assert page.count("This is not written here.") == 1
    assert post() == 302
    assert head() == 55
    _, page = answered(client, SEASON)
    assert "Taken. Work the program out again" in page
    assert page.count("Take it") == 2
    # Somebody else has counted since that page was made: nothing is written over them.
    assert post(seen="1", act="back") == 422
    assert head() == 55
    assert post(seen="2", act="back") == 302
    assert head() == 60
    assert post(seen="3", act="back") == 422
    assert [post(place="3"), post(place="9"), post(place="x")] == [404, 404, 404]
    assert post(program=str(hill.id), seen="3") == 422
    assert head() == 60


def test_a_remedy_that_writes_more_than_one_fact_is_not_taken(made: Planned) -> None:
    start, end = made.program.start, made.program.end
    where = ("COWS", start, end, "tdn")
    for kind, source in (("hay", made.farm.lots[0].lot_id), ("better_hay", ""), ("none", "")):
        remedy = Remedy(*where, kind, source, 9000.0, None, 10.0, "Hay.")  # type: ignore[arg-type]
        assert change_of(remedy, made.farm) is None
    all_of_them = Remedy(*where, "fewer_head", "", None, 60, None, "None left.")
    assert change_of(all_of_them, made.farm) is None
    assert change_of(replace(all_of_them, head=59), made.farm) is not None
    # A feeder, hay by the day and early weaning are each one fact of the group.
    cows = made.farm.group("COWS")
    ring = replace(cows, feeder=Feeder.OPEN_RING)
    farm = replace(made.farm, groups=(ring,))
    for kind, column, after in (
        ("other_feeder", "feeder", Feeder.CONE_RING),
        ("limit_hay", "offered", Offered.LIMITED),
        ("wean_early", "weaning_on", start),
    ):
        one = change_of(Remedy(*where, kind, "", None, None, 1.0, "So.", on=start), farm)  # type: ignore[arg-type]
        assert one is not None
        assert (one.column, one.after) == (column, after)
    # Of a feed without a limit more can be bought as it is.
    free = replace(made.farm.feeds[0], most_kg=None)
    farm = replace(made.farm, feeds=(free,))
    more = Remedy(*where, "feed", free.feed_id, 9000.0, None, 10.0, "More.")
    assert change_of(more, farm) is None


@pytest.mark.parametrize(
    ("asked", "what"),
    [
        ({"of": "head", "group": "COWS", "head": "70"}, lambda farm: farm.group("COWS").head),
        ({"of": "grass", "until": "2025-12-27"}, lambda farm: str(farm.season.end)),
        ({"of": "winter", "winter": "severe"}, lambda farm: farm.season.winter.value),
        ({"of": "price", "source": "B2", "more": "10"}, lambda farm: farm.lot("B2")),
    ],
)
def test_what_was_asked_is_taken_once_and_given_back(
    hill: Any, client: Client, asked: dict[str, str], what: Any
) -> None:
    before = what(read_farm(None, hill.id))
    take = f"{SEASON}what-if/take"
    taken = client.post(take, {**asked, "seen": "1"})
    assert taken.status_code == 302, taken.content.decode()
    now = what(read_farm(None, hill.id))
    assert now != before
    assert asked.get("head", asked.get("until", asked.get("winter", now))) in (now, f"{now}")
    page = client.get(taken["Location"]).content.decode()
    assert "It is written" in page
    # Who looked at what stood before has not seen what was taken.
    assert client.post(take, {**asked, "seen": "1"}).status_code == 422
    took = re.search(r'name="took" value="([^"]+)"', page)
    assert took is not None
    assert client.post(take, {"act": "back", "took": took[1]})["Location"] == SEASON
    assert what(read_farm(None, hill.id)) == before


def test_hay_that_is_lost_is_noted_and_not_taken(hill: Any, client: Client) -> None:
    said = {"of": "lost", "lot": "B2", "share": "40", "seen": "1"}
    answer = client.post(f"{SEASON}what-if/take", said)
    assert answer.status_code == 422
    assert "noted on its own page" in answer.content.decode()
