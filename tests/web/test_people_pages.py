"""Pages of a shared book: nobody sees a farm but who is signed in and is let in there."""

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from uuid import UUID, uuid4

import pytest
from django.conf import settings
from django.core.checks import run_checks
from django.test import Client
from django.urls import get_resolver

from rickyard.book import records
from rickyard.book.accounts import add_account, code_of, new_secret
from rickyard.book.accounts.two_step import STEP
from rickyard.book.acting import PERMISSIONS, Role
from rickyard.book.base import BookPlace, BookProblem, opened_book
from rickyard.book.folders import take_in
from rickyard.book.services import ask_plan, invite, let_in, programs
from rickyard.book.working.working import work_once
from rickyard.service import PlanRequest, open_farm, plan_farm
from rickyard.web import outside
from rickyard.web.languages import choose
from rickyard.web.pages import paper
from rickyard.web.pages.people import invitation, sign_in
from rickyard.web.pages.persons import COOKIE
from rickyard.web.serving import Access, make_application
from rickyard.web.serving.server import serve
from support.books import quick_passwords
from support.farm_folders import GOOD, SHORT, write_texts

HOST = "hay.example.org"
PASSWORD = "four dry bales of hay"
DAY = "?on=2025-12-04"
WEEK = "/feeding/week/2025-12-04"


@pytest.fixture(autouse=True)
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    quick_passwords(monkeypatch)


@pytest.fixture
def season(new_book: BookPlace, tmp_path: Path) -> Iterator[Any]:
    """Return the season of a farm in an open book that an office shares."""
    with opened_book(new_book):
        make_application(new_book, "x" * 50 + "abcdefgh", Access(HOST, Path("c"), Path("k")))
        yield take_in(write_texts(tmp_path / "good", dict(GOOD))).season


def browser(**how: Any) -> Client:
    return Client(SERVER_NAME=HOST, raise_request_exception=False, **how)


def ask(client: Client, address: str, **posted: str) -> Any:
    if posted:
        return client.post(address, posted, secure=True)
    return client.get(address, secure=True)


def text_of(answer: Any) -> str:
    return str(answer.content.decode())


def plain(answer: Any) -> str:
    """Return a page without the seals of its forms, which differ each time."""
    return re.sub('value="[^"]{60,}"', "", text_of(answer))


def person_on(season: Any, role: Role | None, name: str = "Kim Lee") -> Client:
    """Return the browser of somebody who is signed in."""
    email = f"{uuid4().hex[:8]}@example.org"
    person = add_account(name, email, PASSWORD)
    if role is not None:
        let_in(None, season.farm_id, person, role)
    client = browser()
    done = ask(client, "/sign-in", email=email, password=PASSWORD)
    assert done.status_code == 302
    return client


def addresses() -> list[tuple[str, Any]]:
    """Return every address with its view."""
    words = {"address": "hill-farm", "lot_id": "A1", "group_id": "COWS", "code": "guessed"}
    return [
        (
            "/"
            + entry.pattern._route.replace("<slug:address>", words["address"])
            .replace("<path:lot_id>", words["lot_id"])
            .replace("<path:group_id>", words["group_id"])
            .replace("<str:code>", words["code"])
            .replace("<int:number>", "1")
            .replace("<day:day>", "2025-12-04")
            .replace("<uuid:file>", str(UUID(int=7))),
            entry.callback,
        )
        for entry in get_resolver().url_patterns
    ]


def test_the_deployment_check_leaves_nothing_over(season: Any) -> None:
    told = run_checks(include_deployment_checks=True)
    assert [str(one) for one in told if not one.is_silenced()] == []


def test_no_page_is_shown_to_who_is_not_signed_in(season: Any) -> None:
    shown = set()
    for address, view in addresses():
        for answer in (ask(browser(), address), ask(browser(), address, name="x")):
            if getattr(view, "is_open", False):
                shown.add(view)
            else:
                assert answer.status_code == 302, address
                assert answer["Location"].startswith("/sign-in?next=/"), address
            assert "Hill farm" not in text_of(answer)
    assert shown == {sign_in, invitation, outside.shown, choose, paper.sign}


@pytest.mark.parametrize("role", list(Role))
def test_every_page_holds_to_the_table_of_permissions(season: Any, role: Role) -> None:
    client = person_on(season, role)
    services = {
        "/hill-farm/season/plan": "plan",
        "/hill-farm/season/stop": "stop plan",
        "/hill-farm/people/invite": "invite",
        "/hill-farm/people/close": "end invitation",
        "/hill-farm/tests/bring-in": "bring in report",
        f"/hill-farm/tests/report/{UUID(int=7)}/use": "use report",
        "/hill-farm/tests/A1/cored": "add moves",
        "/hill-farm/tests/A1/core": "take core",
        "/hill-farm/tests/A1/core-back": "undo core",
        "/hill-farm/tests/A1/sent": "send sample",
        "/hill-farm/hay/A1/note": "count lot",
        "/hill-farm/hay/A1/weigh": "weigh lot",
        "/hill-farm/hay/A1/probe": "probe lot",
        "/hill-farm/season/share": "share season",
        "/hill-farm/season/share/end": "end share",
        "/hill-farm/hay/A1/share": "share lot",
        "/hill-farm/hay/A1/share/end": "end share",
        "/hill-farm/season/take": "write feed",
        "/hill-farm/season/what-if/take": "plan",
        "/hill-farm/season/wish": "add wishes",
        "/hill-farm/season/unwish": "undo wishes",
        "/hill-farm/feeding/2025-12-04/undo": "undo fed",
        "/hill-farm/look-back/intake": "take intake",
        "/hill-farm/yard-map/place": "add stacks",
        "/hill-farm/yard-map/back": "undo stacks",
    }
    offers = text_of(ask(client, "/hill-farm/season/"))
    assert ("Work out a program" in offers) == (role in PERMISSIONS["plan"])
    posted = {"name": "Lee", "role": "helper", "invitation": str(uuid4())}
    posted |= {"what": "count", "bales": "7", "counted_on": "2025-12-04"}
    posted |= {"bale1": "1100", "bale1_unit": "lb"}
    posted |= {"wish": "feed", "source": "A1", "line": str(uuid4()), "day": "2025-12-04"}
    posted |= {"program": str(uuid4()), "place": "0", "seen": "1", "link": str(uuid4())}
    for address, _ in addresses():
        if not address.startswith("/hill-farm/"):
            continue
        if address in services:
            refused = ask(client, address, **posted).status_code == 403
            assert refused == (role not in PERMISSIONS[services[address]]), address
        # Without a program there is no list of a week to show, and none to feed by.
        elif not address.endswith(("feed-by", ".pdf", str(UUID(int=7)), "/fed", WEEK)):
            assert ask(client, address + DAY).status_code == 200, address
    program = {"program": str(uuid4())}
    refused = ask(client, "/hill-farm/season/feed-by", **program).status_code == 403
    assert refused == (role not in PERMISSIONS["adopt"])
    for one in ("/labs", "/prices"):
        seen = ask(client, one).status_code == 200
        assert seen == (role in PERMISSIONS["read costs"]), one
    assert (">Prices<" in text_of(ask(client, "/due"))) == (role in PERMISSIONS["read costs"])
    told = text_of(ask(client, "/hill-farm/people/"))
    assert ("Let someone in" in told) == (role in PERMISSIONS["invite"])


def test_a_helper_sees_no_money(
    new_book: BookPlace, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Of hay at a price, feeds to buy and a season that costs, a helper is told no dollar."""
    folder = write_texts(tmp_path / "short", SHORT)
    made = plan_farm(open_farm(folder), PlanRequest(effort=0.01, weekly=True))
    monkeypatch.setattr(programs, "plan_farm", lambda *_, **__: made)
    told: dict[Role, dict[str, str]] = {}
    with opened_book(new_book):
        make_application(new_book, "x" * 50 + "abcdefgh", Access(HOST, Path("c"), Path("k")))
        season = take_in(folder).season
        ask_plan(None, season.id)
        work_once("w")
        for role in Role:
            client = person_on(season, role)
            told[role] = {
                address: text_of(ask(client, address + DAY))
                for address, _ in addresses()
                if address.startswith("/hill-farm/") and not address.endswith(".pdf")
            }
            # Sheets that name prices are not given out to who may not see them.
            for sheet in ("season/season.pdf", f"hay/A1/sheet.pdf{DAY}"):
                given = ask(client, f"/hill-farm/{sheet}").status_code
                assert (given == 200) == (role in PERMISSIONS["read costs"]), sheet
    for role, pages in told.items():
        assert not [one for one, text in pages.items() if re.search(r"\bnan\b", text)], role
        dear = {address for address, text in pages.items() if "$" in text}
        assert bool(dear) == (role in PERMISSIONS["read costs"]), dear
    page = "/hill-farm/season/"
    assert "What to buy" in told[Role.HELPER][page]
    for word in ("The season costs", "What it costs", ">Price<"):
        seen = {role for role in Role if word in told[role][page]}
        assert seen == PERMISSIONS["read costs"], word


def test_another_farm_answers_like_one_that_is_not_there(season: Any) -> None:
    client = person_on(season, None)
    assert "No farm stands in this book yet." in text_of(ask(client, "/"))
    for address, _ in addresses():
        if not address.startswith("/hill-farm/"):
            continue
        other = address.replace("hill-farm", "dale-farm")
        for what in ({}, {"name": "x", "role": "helper", "program": str(uuid4())}):
            here, there = ask(client, address, **what), ask(client, other, **what)
            assert here.status_code == there.status_code
            assert here.status_code in (404, 405), address
            assert plain(here) == plain(there)


def test_signing_in_out_and_where(season: Any) -> None:
    client = person_on(season, Role.HELPER)
    cookie = client.cookies[COOKIE]
    assert (cookie["secure"], cookie["httponly"], cookie["samesite"]) == (True, True, "Lax")
    assert "You are signed in with 1 browser." in text_of(ask(client, "/account"))
    email = records.Account.objects.get().email
    other = browser(headers={"user-agent": "Mozilla Firefox Android"})
    ask(other, "/sign-in", email=email, password=PASSWORD, keep="yes")
    assert other.cookies[COOKIE]["max-age"] == 30 * 86_400
    assert "Firefox on Android" in text_of(ask(client, "/account"))
    ask(client, "/account/sign-out", place=str(records.SignedIn.objects.latest("since").id))
    assert ask(other, "/hill-farm/").status_code == 302
    assert ask(client, "/account/sign-out", place=str(uuid4())).status_code == 404
    ask(client, "/sign-out", now="yes")
    assert ask(client, "/hill-farm/").status_code == 302
    assert not records.SignedIn.objects.exists()


def test_what_does_not_fit_is_told_and_too_often_is_refused(season: Any) -> None:
    email = "kim@example.org"
    add_account("Kim Lee", email, PASSWORD)
    client = browser()
    for _ in range(5):
        wrong = ask(client, "/sign-in", email=email, password="no")
        assert wrong.status_code == 403
        assert "do not fit together" in text_of(wrong)
        assert COOKIE not in client.cookies
    assert "too often" in text_of(ask(client, "/sign-in", email=email, password=PASSWORD))


@pytest.mark.parametrize("onward", ["https://evil.example/", "//evil.example", "javascript:x"])
def test_signing_in_leads_nowhere_else(season: Any, onward: str) -> None:
    add_account("Kim Lee", "kim@example.org", PASSWORD)
    said = {"email": "kim@example.org", "password": PASSWORD, "next": onward}
    assert ask(browser(), "/sign-in", **said)["Location"] == "/"
    said["next"] = "/hill-farm/season/"
    assert ask(browser(), "/sign-in", **said)["Location"] == "/hill-farm/season/"


def test_a_link_lets_in_once(season: Any) -> None:
    owner = person_on(season, Role.PRODUCER, "Owner")
    assert ask(owner, "/hill-farm/people/invite", name="Kim", role="king").status_code == 422
    made = text_of(ask(owner, "/hill-farm/people/invite", name="Kim", role="helper"))
    link = made.partition(f"https://{HOST}")[2].partition("<")[0]
    assert link.startswith("/invitation/")
    new = browser()
    for _ in range(2):  # Looking does not use it.
        assert "Hill farm lets you in." in text_of(ask(new, link))
    said = {"name": "Kim", "email": "kim@example.org"}
    weak = ask(new, link, **said, password="short")
    assert weak.status_code == 422
    assert 'value="kim@example.org"' in text_of(weak)
    assert ask(new, link, **said, password=PASSWORD)["Location"] == "/"
    assert ask(new, "/hill-farm/").status_code == 200
    assert ask(browser(), link, **said, password=PASSWORD).status_code == 404
    assert records.Account.objects.count() == 2
    whom = records.Person.objects.get(name="Kim").id
    assert ask(owner, "/hill-farm/people/close", person=str(whom)).status_code == 302
    assert ask(new, "/hill-farm/").status_code == 404
    assert ask(owner, "/hill-farm/people/close", person=str(whom)).status_code == 404


def test_who_is_signed_in_takes_a_link_and_an_open_one_is_taken_back(season: Any) -> None:
    kim = person_on(season, None)
    first = invite(None, season.farm_id, "Kim", Role.SPECIALIST)
    assert "Take it as Kim Lee" in text_of(ask(kim, f"/invitation/{first.code}"))
    ask(kim, f"/invitation/{first.code}", take="yes")
    assert ask(kim, "/hill-farm/").status_code == 200
    owner = person_on(season, Role.PRODUCER, "Owner")
    second = invite(None, season.farm_id, "Lee", Role.HELPER)
    assert "Take it back" in text_of(ask(owner, "/hill-farm/people/"))
    ask(owner, "/hill-farm/people/close", invitation=str(second.id))
    assert ask(browser(), f"/invitation/{second.code}").status_code == 404


def test_the_last_producer_stays(season: Any) -> None:
    owner = person_on(season, Role.PRODUCER, "Owner")
    mine = str(records.Person.objects.get().id)
    refused = ask(owner, "/hill-farm/people/close", person=mine)
    assert "Nobody would be left" in text_of(refused)
    person_on(season, Role.PRODUCER, "Second")
    assert ask(owner, "/hill-farm/people/close", person=mine)["Location"] == "/"
    assert ask(owner, "/hill-farm/people/").status_code == 404


def test_a_password_is_changed_by_who_knows_it(season: Any) -> None:
    client = person_on(season, Role.HELPER)
    new = "another dry stack of hay"
    for old, said, why in (("no", new, "old password"), (PASSWORD, "short", "too short")):
        answer = ask(client, "/account/password", old=old, password=said)
        assert answer.status_code == 422
        assert why in text_of(answer)
    assert ask(client, "/account/password", old=PASSWORD, password=new).status_code == 302
    assert ask(client, "/account").status_code == 302


def test_codes_are_asked_for_once_a_phone_shows_them(season: Any) -> None:
    client = person_on(season, Role.SPECIALIST)
    account = records.Account.objects.get()
    secret = new_secret()
    mine = {"password": PASSWORD}
    assert ask(client, "/account/codes", secret=secret, code="12", **mine).status_code == 422
    assert ask(client, "/account/codes", secret="no secret", code="12", **mine).status_code == 422
    now = int(records.SignedIn.objects.get().since.timestamp()) // STEP
    right = {"secret": secret, "code": code_of(secret, now)}
    # Nobody turns them on who found a browser open, and no secret that could be guessed is taken.
    assert ask(client, "/account/codes", **right, password="no").status_code == 422
    weak = {"secret": "A" * 8, "code": code_of("A" * 8, now)}
    assert ask(client, "/account/codes", **weak, **mine).status_code == 422
    assert ask(client, "/account/codes", **right, **mine).status_code == 302
    said = {"email": account.email, "password": PASSWORD}
    assert ask(browser(), "/sign-in", **said).status_code == 403
    later = {**said, "code": code_of(secret, now + 1)}
    assert ask(browser(), "/sign-in", **later).status_code == 302


def test_forms_from_elsewhere_and_plain_http_write_nothing(season: Any) -> None:
    strict = browser(enforce_csrf_checks=True)
    said = {"email": "kim@example.org", "password": PASSWORD}
    assert strict.post("/sign-in", said, secure=True).status_code == 403
    plain = strict.get("/sign-in")
    assert (plain.status_code, plain["Location"]) == (301, f"https://{HOST}/sign-in")
    assert strict.get("/sign-in", secure=True)["Strict-Transport-Security"]


def test_one_person_of_a_computer_signs_in_nowhere(
    open_pages: Any, new_book: BookPlace, tmp_path: Path
) -> None:
    with opened_book(new_book):
        take_in(write_texts(tmp_path / "good", dict(GOOD)))
        get = open_pages(new_book)
        assert not settings.RICKYARD_SHARED
        for address in ("/sign-in", "/account", "/invitation/x"):
            assert get(address).status == 404
        page = get("/hill-farm/people/")
        assert "Nobody is in on this farm by an account." in page.text
        assert "Let someone in" not in page.text


@pytest.mark.parametrize(
    ("access", "why"),
    [
        (Access(HOST), "over HTTPS alone"),
        (Access(HOST, Path("no"), Path("no")), "no such file"),
        (Access(HOST, Path(__file__), Path(__file__)), "no certificate and its key"),
        *(
            (Access(name, behind_proxy=True), "no name that a browser can reach")
            for name in (
                "hay barn",
                "https://hay.example.org",
                "hay.example.org:443",
                "hay.例",
                "-",
            )
        ),
    ],
)
def test_a_book_is_not_shared_without_https(access: Access, why: str, new_book: BookPlace) -> None:
    with pytest.raises(BookProblem, match=why):
        serve(new_book, 0, print, access)
