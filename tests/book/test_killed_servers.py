"""Two servers on one file, and one that is killed in the middle of what it is asked."""

import http.client
import os
import re
import signal
import subprocess
import sys
import threading
from contextlib import closing
from pathlib import Path
from urllib.parse import urlencode, urlsplit
from uuid import UUID, uuid4

import pytest

from rickyard.book import records
from rickyard.book.base import BookPlace, opened_book
from rickyard.book.folders import take_in
from rickyard.book.keeping import examine
from support.farm_folders import GOOD, write_texts

LOT = "/hill-farm/hay/A1"


def server(folder: Path) -> tuple["subprocess.Popen[str]", str]:
    words = [sys.executable, "-m", "rickyard", "serve", "--no-browser", "--port", "0"]
    one = subprocess.Popen(
        [*words, "--data", str(folder)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONUNBUFFERED": "1"},
    )
    assert one.stdout is not None
    return one, one.stdout.readline().strip()


def sell(address: str, stands: list[UUID], ended: threading.Event) -> None:
    """Note one bale after another as sold; keep the ids of those that were acknowledged."""
    at = urlsplit(address)
    while not ended.is_set():
        one = http.client.HTTPConnection(str(at.hostname), at.port, timeout=30)
        try:
            with closing(one):
                stands.append(sell_once(one))
        except (OSError, http.client.HTTPException):
            ended.wait(0.05)


def sell_once(one: http.client.HTTPConnection) -> UUID:
    one.request("GET", f"{LOT}?on=2025-12-04")
    got = one.getresponse()
    sealed = re.search(r'name="csrfmiddlewaretoken" value="(\w+)"', got.read().decode())
    assert sealed is not None
    cookie = (got.getheader("Set-Cookie") or "").partition(";")[0]
    fact = uuid4()
    said = {"what": "sold", "bales": "0.1", "counted_on": "2025-12-04", "fact": str(fact)}
    how = {"Cookie": cookie, "Content-Type": "application/x-www-form-urlencoded"}
    told = urlencode({**said, "csrfmiddlewaretoken": sealed[1]})
    one.request("POST", f"{LOT}/note", told, how)
    with one.getresponse() as answer:
        assert answer.status == 302
    return fact


def sell_at(
    addresses: list[str], seconds: float, then: "subprocess.Popen[str] | None"
) -> list[UUID]:
    """Sell at servers for a while, and kill one of them at the end of it."""
    stands: list[UUID] = []
    ended = threading.Event()
    threads = [
        threading.Thread(target=sell, args=(one, stands, ended)) for one in addresses for _ in "ab"
    ]
    for one in threads:
        one.start()
    ended.wait(seconds)
    if then is not None:
        then.kill()
    ended.set()
    for one in threads:
        one.join()
    return stands


@pytest.mark.skipif(sys.platform == "win32", reason="signals of a terminal are sent otherwise")
@pytest.mark.long
def test_servers_of_one_file_lose_nothing_and_one_that_is_killed_neither(tmp_path: Path) -> None:
    folder = tmp_path / "desk"
    with opened_book(BookPlace(folder)):
        take_in(write_texts(tmp_path / "good", dict(GOOD)))
        before = records.Move.objects.count()
    first, one = server(folder)
    second, two = server(folder)
    stands = sell_at([one, two], 3.0, first)
    first.communicate(timeout=60)
    second.send_signal(signal.SIGINT)
    _, told = second.communicate(timeout=60)
    assert second.returncode == 0
    assert not told or "has it open still. All that it said was written is there" in told
    third, three = server(folder)
    stands += sell_at([three], 1.0, None)
    third.send_signal(signal.SIGINT)
    assert third.communicate(timeout=60)[0] == ""
    assert third.returncode == 0
    with opened_book(BookPlace(folder), create=False):
        there = set(records.Move.objects.values_list("id", flat=True))
        assert set(stands) <= there
        # What was under way when the server was killed stands or does not, and never twice.
        assert len(stands) > 3
        assert len(there) - before - len(stands) <= 2
        assert all(finding.is_good for finding in examine())
