"""What to core, and a report from the lab's file to a barred lot, with its doubts asked first."""

import json
import re
from collections.abc import Iterator
from datetime import date
from html import unescape
from pathlib import Path
from typing import Any
from urllib.parse import urlencode
from uuid import uuid4

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from rickyard.book import records
from rickyard.book.base import BookPlace, opened_book
from rickyard.book.folders import take_in, write_out
from rickyard.book.services import LARGEST_REPORT, read_farm, reports_kept
from rickyard.farm import MoveKind
from rickyard.folder import read_folder
from rickyard.hay.sampling import Options
from rickyard.service import sampling_plan
from support.farm_folders import GOOD, write_texts

TESTS = "/hill-farm/tests/"
ON = "?on=2025-12-04"
#: Protein without a basis, nitrate without a form.
DOUBTFUL = (
    b"Sample,Crude protein,ADF % DM,NDF % DM,Nitrates % DM,Dry matter %\n"
    b"C3,18.3,33.1,42.4,1.11,86\n"
)
PLAIN = b"Sample,CP % DM,ADF % DM,NDF % DM\nC3,18.2,33.1,42.4\n"
ANSWERS = {"q:basis": "dm", "q:nitrate form": "nitrate_no3"}


@pytest.fixture
def hill(new_book: BookPlace, open_pages: Any, tmp_path: Path) -> Iterator[Any]:
    """Return the season of a farm in a book of the test's own, whose pages can be asked for."""
    with opened_book(new_book):
        season = take_in(write_texts(tmp_path / "good", GOOD)).season
        open_pages(new_book)
        yield season


@pytest.fixture
def client() -> Client:
    return Client(SERVER_NAME="127.0.0.1", raise_request_exception=False)


def bring(client: Client, content: bytes, name: str = "hay report.csv") -> str:
    """Bring in a file and return the address of its page."""
    answer = client.post(f"{TESTS}bring-in", {"files": SimpleUploadedFile(name, content)})
    assert answer.status_code == 302, answer.content.decode()
    return str(answer["Location"])


def text_of(answer: Any) -> str:
    return unescape(" ".join(re.sub("<[^>]+>", " ", answer.content.decode()).split()))


def test_what_to_core_is_what_the_service_says(hill: Any, client: Client) -> None:
    farm = read_farm(None, hill.id)
    page = text_of(client.get(TESTS + ON))
    (due,) = [
        one
        for one in sampling_plan(farm, date(2025, 12, 4), Options())
        if one.dates.status != "tested"
    ]
    assert f"Core {due.name} now." in page
    assert "20 bales, one core each" in page
    assert "; ".join(due.dates.reasons) in page
    sheet = text_of(client.get(f"{TESTS}C3/cores{ON}"))
    assert due.choice is not None
    assert " ".join(map(str, due.choice.bales)) in sheet
    assert "Never core under a leaning or undercut face" in sheet
    assert due.sample_id in sheet


def test_a_lot_that_was_cored_is_under_way_until_its_report_comes(
    hill: Any, client: Client
) -> None:
    fact = str(uuid4())
    for _ in range(2):
        assert client.post(f"{TESTS}C3/cored", {"bales": "20", "fact": fact})["Location"] == TESTS
    cored = [one for one in read_farm(None, hill.id).moves if one.kind is MoveKind.CORED]
    assert [(one.lot_id, one.bales) for one in cored] == [("C3", 20.0)]
    page = text_of(client.get(f"{TESTS}?on={cored[0].day}"))
    assert "Under way" in page
    assert "Core Hill alfalfa" not in page
    later = cored[0].day.replace(year=cored[0].day.year + 1)
    assert "late since" in text_of(client.get(f"{TESTS}?on={later}"))


def test_a_report_with_two_doubts_bars_its_lot_once_they_are_answered(
    hill: Any, client: Client, tmp_path: Path
) -> None:
    address = bring(client, DOUBTFUL)
    raw = client.get(address)
    page = text_of(raw)
    assert "2 things need your word." in page
    assert "checked" not in raw.content.decode()
    assert "Use this report" not in page
    danger = page.index("until then feed the lot to no pregnant stock")
    assert danger < page.index("protein: dry or as received?")
    assert client.post(f"{address}/use").status_code == 422
    assert len(read_farm(None, hill.id).reports) == 2
    page = text_of(client.get(f"{address}?{urlencode(ANSWERS)}"))
    assert "Nothing is in doubt." in page
    assert "Use this report" in page
    first, again = (client.post(f"{address}/use", ANSWERS) for _ in range(2))
    assert first["Location"] == "/hill-farm/hay/C3"
    assert again.status_code == 302
    farm = read_farm(None, hill.id)
    report = farm.reports_of("C3")[0]
    assert len(farm.reports) == 3
    assert {one.name: one.value for one in report.analytes}["nitrate_no3"] == 1.11
    assert "none to stock in calf" in text_of(client.get(f"/hill-farm/hay/C3{ON}"))
    assert not [one for one in reports_kept(None, hill.id) if not one.is_used]
    assert text_of(client.get(TESTS + ON)).count(report.report_id) == 1
    # What was read then is kept with what was answered, and shown so.
    used = text_of(client.get(address))
    assert "Nothing is in doubt." in used
    assert "Used on " in used
    (kept_as,) = records.Reading.objects.all()
    told = json.loads(kept_as.told)
    assert {one["value"] for one in told["samples"][0]["values"]} >= {1.11, 18.3}
    assert '"1.11"' in kept_as.told
    # The folder that goes out holds the report, and the file as it came.
    write_out(hill, tmp_path / "out")
    assert read_folder(tmp_path / "out").farm.reports_of("C3") == (report,)
    kept = [one.read_bytes() for one in (tmp_path / "out" / "sources").iterdir()]
    assert DOUBTFUL in kept


def test_what_is_written_in_place_of_a_value_is_kept_beside_what_was_printed(
    hill: Any, client: Client
) -> None:
    odd = PLAIN.replace(b"18.2", b"182")
    address = bring(client, odd)
    page = unescape(client.get(address).content.decode())
    (key,) = set(re.findall(r'name="w:([^"]+)"', page))
    done = client.post(f"{address}/use", {f"w:{key}": "18.2"})
    assert done.status_code == 302, text_of(done)
    report = read_farm(None, hill.id).reports_of("C3")[0]
    assert {one.name: one.value for one in report.analytes}["cp"] == 18.2
    kept = records.SourceFile.objects.get(name__startswith="sources/corrections-")
    assert b"182" in bytes(kept.content)
    assert b"this computer" in bytes(kept.content)


def test_a_sample_without_a_lot_is_given_one_by_a_person(hill: Any, client: Client) -> None:
    address = bring(client, PLAIN.replace(b"C3", b"bag seven"))
    page = text_of(client.get(address))
    assert "nothing on the bag or the report names a lot. Of which lot is it?" in page
    said = {"q:lot bag seven": "C3"}
    assert client.post(f"{address}/use", said)["Location"] == "/hill-farm/hay/C3"
    assert read_farm(None, hill.id).reports_of("C3")


def test_pasted_text_is_read_and_waits_until_it_is_used(hill: Any, client: Client) -> None:
    answer = client.post(f"{TESTS}bring-in", {"pasted": PLAIN.decode()})
    assert "Nothing is in doubt." in text_of(client.get(answer["Location"]))
    page = text_of(client.get(TESTS + ON))
    assert "1 file that came waits for your word." in page
    assert "pasted.txt" in page


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"%PDF-1.4 nothing", "This file is not read."),
        (b"Dear Sir, the hay is fine.\n", "This file is not read."),
    ],
)
def test_what_is_no_report_says_so(hill: Any, client: Client, content: bytes, says: str) -> None:
    page = text_of(client.get(bring(client, content)))
    assert says in page
    assert "Use this report" not in page


def test_nothing_brought_in_is_asked_for_again(hill: Any, client: Client) -> None:
    answer = client.post(f"{TESTS}bring-in", {"pasted": " "})
    assert answer.status_code == 422
    assert "Choose a file, or paste the text" in text_of(answer)
    answer = client.post(f"{TESTS}bring-in", {"files": SimpleUploadedFile("a.csv", b"")})
    assert "the file is empty" in text_of(answer)
    large = SimpleUploadedFile("a.csv", b"x" * (LARGEST_REPORT + 1))
    answer = client.post(f"{TESTS}bring-in", {"files": large})
    assert "larger than 10 MB" in text_of(answer)
    assert reports_kept(None, hill.id) == ()
