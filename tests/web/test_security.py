"""What an attacker tries on a shared book, and what the pages answer."""

import logging
import re
from collections.abc import Iterator
from datetime import timedelta
from io import BytesIO
from pathlib import Path
from types import SimpleNamespace
from typing import Any
from uuid import UUID

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db.utils import OperationalError
from django.test import Client, RequestFactory
from django.urls import get_resolver

from rickyard.book import records
from rickyard.book.accounts import add_account
from rickyard.book.acting import Role
from rickyard.book.base import BookPlace, opened_book
from rickyard.book.folders import take_in
from rickyard.book.services import invite, let_in
from rickyard.draft import END
from rickyard.labs.reading.records import record_document
from rickyard.web.pages.persons import COOKIE
from rickyard.web.serving import Access, make_application
from rickyard.web.serving.application import STATIC, static_prefix
from support.books import quick_passwords
from support.farm_folders import GOOD, write_texts

HOST = "hay.example.org"
PASSWORD = "four dry bales of hay"
EMAIL = "kim@example.org"
FARM = "/hill-farm/"
#: Breaks out of text and of attributes; and a script of far away comes through whole.
NASTY = "ねこ\"'><b id=x onload=y>"


@pytest.fixture
def application(
    new_book: BookPlace, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> Iterator[Any]:
    """Return the application of an open book that an office shares."""
    quick_passwords(monkeypatch)
    with opened_book(new_book):
        yield make_application(new_book, "x" * 50 + "abcdefgh", Access(HOST, Path("c"), Path("k")))


@pytest.fixture
def season(application: Any, tmp_path: Path) -> Any:
    return take_in(write_texts(tmp_path / "good", dict(GOOD))).season


@pytest.fixture
def kim(season: Any) -> Client:
    """Return the browser of the farm's producer."""
    let_in(None, season.farm_id, add_account("Kim Lee", EMAIL, PASSWORD), Role.PRODUCER)
    client = browser()
    assert post(client, "/sign-in", email=EMAIL, password=PASSWORD).status_code == 302
    return client


def browser(**how: Any) -> Client:
    return Client(SERVER_NAME=HOST, raise_request_exception=False, **how)


def get(client: Client, address: str) -> Any:
    return client.get(address, secure=True)


def post(client: Client, address: str, **said: Any) -> Any:
    return client.post(address, said, secure=True)


def text_of(answer: Any) -> str:
    return str(answer.content.decode())


@pytest.mark.usefixtures("season")
def test_every_answer_has_its_headers(application: Any) -> None:
    """A page, a fault, a way elsewhere, another name, and a file of style."""
    client, told = browser(), {}
    told["page"] = get(client, "/sign-in").headers
    told["fault"] = get(client, "/invitation/guessed").headers
    told["elsewhere"] = get(client, FARM).headers
    told["other name"] = client.get("/", secure=True, headers={"host": "evil.example"}).headers
    environ = RequestFactory(SERVER_NAME=HOST).get(f"{static_prefix()}pages.css").environ
    style = application(environ, lambda _, said, *rest: told.update(style=dict(said)))
    style.close()
    for where, headers in told.items():
        assert headers["X-Content-Type-Options"] == "nosniff", where
        assert headers["Referrer-Policy"] == "same-origin", where
        assert headers["Strict-Transport-Security"].startswith("max-age=31536000"), where
        policy = headers["Content-Security-Policy"]
        assert "default-src 'none'" in policy, where
        assert "frame-ancestors 'none'" in policy, where
        assert "unsafe" not in policy, where
        assert "Access-Control-Allow-Origin" not in headers, where
        if where != "style":
            assert headers["Cache-Control"] == "no-store", where


def test_another_name_is_refused_and_stands_in_no_link(season: Any, kim: Client) -> None:
    answer = kim.get(FARM, secure=True, headers={"host": "evil.example"})
    assert (answer.status_code, "evil.example" in text_of(answer)) == (400, False)
    forwarded = {"x-forwarded-host": "evil.example"}
    said = {"name": "Lee", "role": "helper"}
    made = kim.post(f"{FARM}people/invite", said, secure=True, headers=forwarded)
    assert f"https://{HOST}/invitation/" in text_of(made)
    assert "evil.example" not in text_of(made)


def test_large_things_are_refused_before_they_are_read(season: Any, kim: Client) -> None:
    class Unread(BytesIO):
        def read(self, *_: Any) -> bytes:
            raise AssertionError("It was read.")

    for client, size in (
        (browser(), 20_001),
        (kim, 64_000_001),
    ):
        answer = client.generic(
            "POST",
            f"{FARM}tests/bring-in",
            secure=True,
            content_type="multipart/form-data; boundary=b",
            CONTENT_LENGTH=str(size),
            **{"wsgi.input": Unread()},
        )
        assert (answer.status_code, "more than is taken" in text_of(answer)) == (413, True)


def test_who_asks_too_often_waits(season: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("rickyard.web.guarding.limits.MOST_A_MINUTE", 2)
    monkeypatch.setattr("rickyard.web.guarding.limits.time.monotonic", lambda: 61.0)
    client = browser()
    assert [get(client, "/sign-in").status_code for _ in range(3)] == [200, 200, 429]
    assert client.get("/sign-in", secure=True, REMOTE_ADDR="10.0.0.2").status_code == 200


@pytest.mark.parametrize("address", ["/sign-in", f"{FARM}hay/A1/note"])
def test_what_is_no_text_is_refused(season: Any, kim: Client, address: str) -> None:
    assert post(kim, address, email="a\x00b", bales="\x1b[31m").status_code == 400
    assert get(kim, f"{address}%00").status_code in (400, 404)


def test_names_are_words_on_every_page(application: Any, tmp_path: Path) -> None:
    texts = dict(GOOD)
    texts["lots.csv"] = texts["lots.csv"].replace(
        "Barn orchardgrass", '"' + NASTY.replace('"', '""') + '"'
    )
    farm = take_in(write_texts(tmp_path / "nasty", texts)).season
    let_in(None, farm.farm_id, add_account(NASTY, EMAIL, PASSWORD), Role.PRODUCER)
    client = browser(headers={"user-agent": NASTY})
    post(client, "/sign-in", email=EMAIL, password=PASSWORD)
    pages = ("", "hay/", "hay/A1", "tests/", "stock/", "season/", "trail/", "people/", "yard-map")
    seen = "".join(text_of(get(client, f"{FARM}{one}")) for one in pages)
    seen += text_of(get(client, "/account"))
    assert "<b id=x" not in seen
    assert "ねこ&quot;&#x27;&gt;&lt;b id=x" in seen


def test_the_journal_tells_tries_and_no_secret(
    season: Any, caplog: pytest.LogCaptureFixture
) -> None:
    caplog.set_level(logging.INFO, "rickyard.journal")
    add_account("Kim Lee", EMAIL, PASSWORD)
    made, client = invite(None, season.farm_id, "Lee", Role.HELPER), browser()
    post(client, "/sign-in", email=EMAIL, password="wrong hay of dry bales")
    post(client, f"/invitation/{made.code}", name="Lee", email="l@example.org", password="short")
    get(client, f"/s/{made.code}")
    client.get("/none\n1 2 3", secure=True, REMOTE_ADDR="1.2.3.4\nfake")
    post(client, "/sign-in", email=EMAIL, password=PASSWORD)
    get(client, "/other-farm/")
    told = [re.sub("[0-9a-f-]{36}|(?<==)[0-9a-f]{12}", "ID", one) for one in caplog.messages]
    assert [one.partition(" ")[2] for one in told] == [
        "403 POST sign-in account=ID from=127.0.0.1",
        "422 POST invitation from=127.0.0.1",
        "404 GET shared from=127.0.0.1",
        "404 GET none from=unknown",
        "302 POST sign-in account=ID from=127.0.0.1",
        "404 GET yard farm=other-farm person=ID from=127.0.0.1",
    ]
    assert all(re.match(r"20\d\d-\d\d-\d\dT\d\d:\d\d:\d\dZ ", one) for one in told)
    for secret in (made.code, PASSWORD, EMAIL, "wrong", client.cookies[COOKIE].value):
        assert secret not in caplog.text


def test_a_fault_of_the_program_tells_nothing_outside_and_no_secret_inside(
    season: Any, caplog: pytest.LogCaptureFixture, monkeypatch: pytest.MonkeyPatch
) -> None:
    made = invite(None, season.farm_id, "Lee", Role.HELPER)

    def broken(*_: Any) -> None:
        raise RuntimeError("the password of the server is hay")

    monkeypatch.setattr("rickyard.web.pages.people.invitation_of", broken)
    answer = get(browser(), f"/invitation/{made.code}")
    assert (answer.status_code, "RuntimeError" in text_of(answer)) == (500, False)
    assert "password of the server" not in text_of(answer)
    assert "Internal Server Error: /invitation/..." in caplog.text
    assert made.code not in caplog.text


def test_what_the_database_says_is_for_who_keeps_the_book(
    season: Any, kim: Client, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def away(*_: Any) -> None:
        raise OperationalError('connection to "10.0.0.5" failed for user "desk"')

    monkeypatch.setattr("rickyard.web.pages.views.read_farm", away)
    answer = get(kim, FARM)
    assert (answer.status_code, "10.0.0.5" in text_of(answer)) == (503, False)
    assert "10.0.0.5" in caplog.text


def test_a_new_sign_in_ends_the_one_before(season: Any, kim: Client) -> None:
    former = kim.cookies[COOKIE].value
    post(kim, "/sign-in", email=EMAIL, password=PASSWORD)
    assert kim.cookies[COOKIE].value != former
    assert records.SignedIn.objects.count() == 1
    # A token that somebody else put into a browser is taken for nothing.
    other = browser()
    other.cookies[COOKIE] = "planted"
    post(other, "/sign-in", email=EMAIL, password=PASSWORD)
    assert other.cookies[COOKIE].value != "planted"


def test_who_stays_signed_in_lets_nobody_in_without_a_password(season: Any, kim: Client) -> None:
    said = {"name": "Lee", "role": "helper"}
    for row in records.SignedIn.objects.all():
        row.since -= timedelta(hours=13)
        row.save()
    assert get(kim, FARM).status_code == 200
    referer = {"referer": f"https://{HOST}{FARM}people/"}
    answer = kim.post(f"{FARM}people/invite", said, secure=True, headers=referer)
    assert answer["Location"] == f"/sign-in?next={FARM}people/"
    assert get(kim, f"{FARM}hay/A1/share")["Location"] == f"/sign-in?next={FARM}hay/A1/share"
    assert not records.Invitation.objects.exists()
    post(kim, "/sign-in", email=EMAIL, password=PASSWORD)
    assert post(kim, f"{FARM}people/invite", **said).status_code == 200


def test_links_that_are_none_are_tried_so_often(season: Any) -> None:
    client = browser()
    found = [get(client, f"/invitation/{number}").status_code for number in range(21)]
    assert found == [404] * 20 + [429]
    made = invite(None, season.farm_id, "Lee", Role.HELPER)
    there = client.get(f"/invitation/{made.code}", secure=True, REMOTE_ADDR="10.0.0.2")
    assert there.status_code == 200
    # Who comes in is told what is kept of them, and their password keeper knows the field.
    assert "Your name and email are kept in this book" in text_of(there)
    assert 'type="password" autocomplete="new-password"' in text_of(there)


def test_new_farms_and_files_have_limits(
    season: Any, kim: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    starting = "rickyard.web.pages.starting"
    monkeypatch.setattr("rickyard.book.accounts.tries.MOST", {"files": 1, "farm": 1})
    monkeypatch.setattr(f"{starting}.hear", lambda *_: SimpleNamespace(number=END))
    monkeypatch.setattr(f"{starting}.start_farm", lambda *_: SimpleNamespace(farm=season.farm_id))
    for address, said in (("/start/keep", {"a": "x"}), (f"{FARM}tests/bring-in", {"pasted": "x"})):
        assert [post(kim, address, **said).status_code for _ in range(2)] == [302, 429]


def test_what_no_page_asks_for_changes_nothing(season: Any, kim: Client) -> None:
    """Another method, no seal, a field twice, a field of no form, a file that is a path."""
    for method in ("PUT", "DELETE", "TRACE", "OPTIONS", "PATCH"):
        assert kim.generic(method, FARM, secure=True).status_code == 405
    strict = browser(enforce_csrf_checks=True)
    strict.cookies = kim.cookies
    for entry in get_resolver().url_patterns:
        address = re.sub("<slug:[^>]*>", "hill-farm", entry.pattern._route)
        address = re.sub("<(path|str):[^>]*>", "A1", address).replace("<int:number>", "1")
        address = address.replace("<day:day>", "2025-12-04").replace(
            "<uuid:file>", str(UUID(int=7))
        )
        for kind in ("application/x-www-form-urlencoded", "application/json", "text/plain"):
            sent = strict.post(f"/{address}", "a=b", content_type=kind, secure=True)
            assert sent.status_code == 403, address
    wish = {"wish": ["feed", "keep_off"], "source": "A1", "farm_id": "7", "person_id": "7"}
    assert post(kim, f"{FARM}season/wish", **wish).status_code == 302
    line = records.Wish.objects.latest("written_by__number")
    assert (line.wish, line.written_by.farm_id) == ("keep_off", season.farm_id)
    file = SimpleUploadedFile("../../etc/x<b>.csv", b"Sample,CP\nA,12\n")
    assert post(kim, f"{FARM}tests/bring-in", files=file).status_code == 302
    kept = records.SourceFile.objects.latest("written_by__number").name
    assert re.fullmatch(r"sources/[0-9a-f]{12}-[\w.-]+", kept)
    assert "/" not in kept.removeprefix("sources/")


@pytest.mark.parametrize("said", ["\u00b2", "9" * 400, "-1", "1e400", "nan", "A", ""])
def test_a_number_that_the_program_did_not_write_is_refused(
    season: Any, kim: Client, said: str
) -> None:
    """Signs that look like figures, and more of them than a database takes."""
    before = records.Move.objects.count()
    assert post(kim, f"{FARM}tests/A1/cored", bales=said).status_code == 422
    assert records.Move.objects.count() == before
    asked = {"program": str(UUID(int=7)), "place": said, "seen": said, "act": "take"}
    assert post(kim, f"{FARM}season/take", **asked).status_code == 404
    assert get(kim, f"/due?from={said}").status_code == 200


def test_nothing_but_style_is_given_out(season: Any, kim: Client, application: Any) -> None:
    for address in ("pages.css/..", "../__init__.py", "..%2f__init__.py", ""):
        assert get(kim, f"{static_prefix()}{address}").status_code == 404
    for address in (".git/config", "book.sqlite3", "sources/", "admin/", "static/"):
        assert get(kim, f"/{address}").status_code == 404
    assert {path.suffix for path in STATIC.iterdir()} <= {".css", ".woff2", ".txt", ".js", ".svg"}
    # Whatever shows a sheet asks for a sign, whoever is signed in.
    sign = get(Client(SERVER_NAME=HOST), "/favicon.ico")
    assert sign.headers["Location"] == f"{static_prefix()}rick.svg"


def test_entities_of_xml_are_not_followed() -> None:
    text = '<!DOCTYPE r [<!ENTITY e SYSTEM "file:///etc/passwd">]><r><cp>&e;</cp></r>'
    assert record_document(text) is None


def test_a_new_book_has_no_account(application: Any) -> None:
    assert not records.Account.objects.exists()
    assert not records.Person.objects.exists()


#: What runs data as code, brings back objects, starts a shell, or speaks to another computer. The
#: one that asks whether the server itself is there, and the one that opens files apart, are known.
DANGEROUS = re.compile(
    r"(?<![\w.])(eval|exec|__import__)\(|\b(pickle|marshal|shelve|yaml|telnetlib|ftplib|smtplib)\b"
    r"|shell=True|os\.(system|popen)|urllib\.request|\b(requests|httpx|aiohttp)\b\.|mark_safe"
    r"|csrf_exempt|import subprocess|http\.client"
)
KNOWN = {("labs/parsing/apart.py", "import subprocess"), ("web/serving/server.py", "http.client")}


def test_no_code_is_made_of_data() -> None:
    package = STATIC.parents[1]
    found = {
        (path.relative_to(package).as_posix(), hit[0])
        for path in package.rglob("*.py")
        for hit in DANGEROUS.finditer(path.read_text("utf-8"))
    }
    assert found == KNOWN
