"""Many clients that read and write pages of a record book at once, through its server.

Run with ``python benchmarks/book_clients.py`` on a quiet machine: 8 clients on a file, then 64 on a
PostgreSQL server that it starts for itself, a minute each. ``--seconds 10`` is a quick look.
A client is a person or a phone: it asks for a page, looks at it for 3 to 8 seconds, 5 in the mean,
and asks for the next; one request in five writes, bales sold from a lot, each with its own id. Then
the same clients ask without a break. What they are told at most is what the computer can do, for
they run on it too. At the end every write that was acknowledged is looked for.
"""

from __future__ import annotations

import argparse
import http.client
import os
import random
import re
import signal
import subprocess
import sys
import tempfile
import threading
import time
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import urlencode, urlsplit
from uuid import UUID, uuid4

from rickyard.book.base import BookPlace, make_ready, opened_book

make_ready()
sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "tests"))

from django.db import connection  # noqa: E402 - tables are defined after the book is made ready
from django.test import Client as Browser  # noqa: E402
from django.test.utils import CaptureQueriesContext  # noqa: E402
from office import make_office  # noqa: E402

from rickyard.book import records  # noqa: E402
from rickyard.book.district import AT_ONCE  # noqa: E402
from rickyard.web.serving import make_application  # noqa: E402
from support.books import running_server, server_programs  # noqa: E402

#: Farms of the book, and feedings.
FARMS, FED = 12, 12_000

PAGES = ("/", "/due", "{}/", "{}/hay/", "{}/feeding/2026-02-15", "{}/stock/", "{}/hay/lot-1")

WRITES = 0.2

#: How long a person looks at a page: least, most, and most often. Their mean is 5. [s]
PAUSE = (3.0, 8.0, 4.0)

#: So long clients ask without a pause. [s]
WITHOUT_PAUSE = 20.0

#: The slowest one in twenty reads takes no longer, where it is good. [s]
GOOD_P95 = 0.15


@dataclass
class Found:
    """What a client found: seconds of each read and write, what was acknowledged, and faults."""

    reads: list[float] = field(default_factory=list)
    writes: list[float] = field(default_factory=list)
    stands: list[UUID] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)


def farm(chance: random.Random) -> str:
    """Return the address of one of the farms."""
    return f"/farm-{chance.randint(1, FARMS):03}"


def client(address: str, seed: int, end: float, pauses: bool, found: Found) -> None:
    """Read and write until a time."""
    chance, at = random.Random(seed), urlsplit(address)
    one = http.client.HTTPConnection(str(at.hostname), at.port, timeout=60)
    if pauses:
        # Nobody begins at the same moment.
        time.sleep(chance.uniform(0.0, sum(PAUSE) / 3.0))
    while time.monotonic() < end:
        path = chance.choice(PAGES).format(farm(chance)) + "?on=2026-02-15"
        began = time.perf_counter()
        status, _, _ = answer(one, "GET", path)
        found.reads.append(time.perf_counter() - began)
        if status != 200:
            found.faults.append(f"GET {path}: {status}")
        if chance.random() < WRITES:
            write(one, chance, found)
        if pauses:
            time.sleep(max(0.0, min(chance.triangular(*PAUSE), end - time.monotonic())))
    one.close()


def write(one: http.client.HTTPConnection, chance: random.Random, found: Found) -> None:
    """Note bales that were sold on the page of a lot."""
    path, fact = f"{farm(chance)}/hay/lot-{chance.randint(0, 9)}", uuid4()
    _, body, cookie = answer(one, "GET", f"{path}?on=2026-02-15")
    sealed = re.search(r'name="csrfmiddlewaretoken" value="(\w+)"', body)
    said = {
        "csrfmiddlewaretoken": sealed[1] if sealed else "",
        "fact": str(fact),
        "what": "sold",
        "bales": "1",
        "counted_on": "2026-02-15",
    }
    began = time.perf_counter()
    status, body, _ = answer(one, "POST", f"{path}/note", urlencode(said), cookie)
    found.writes.append(time.perf_counter() - began)
    if status == 302:
        found.stands.append(fact)
    else:
        found.faults.append(f"POST {path}: {status} {' '.join(body.split())[-200:]}")


def answer(
    one: http.client.HTTPConnection, how: str, path: str, body: str = "", cookie: str = ""
) -> tuple[int, str, str]:
    """Return the number, the text and the cookie of an answer."""
    headers = {"Cookie": cookie, "Content-Type": "application/x-www-form-urlencoded"}
    one.request(how, path, body or None, headers if body else {})
    got = one.getresponse()
    return got.status, got.read().decode(), (got.getheader("Set-Cookie") or "").split(";")[0]


def measure(place: BookPlace, clients: int, seconds: float) -> bool:
    """Let clients read and write; print what they found; return whether all of it is good."""
    with opened_book(place):
        make_office(FARMS, FED, planned=True)
        before = records.Move.objects.count()
    command = [sys.executable, "-m", "rickyard", "serve", "--no-browser", "--port", "0"]
    environment = {**os.environ, "PYTHONUNBUFFERED": "1", "DATABASE_URL": place.url}
    if not place.is_server:
        command += ["--data", str(place.folder)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=environment) as server:
        assert server.stdout is not None
        address = server.stdout.readline().strip()
        worked = time.process_time()
        people = together(address, clients, seconds, pauses=True)
        share = (time.process_time() - worked) / seconds
        most = together(address, clients, min(seconds, WITHOUT_PAUSE), pauses=False)
        server.send_signal(signal.SIGINT)
    print(f"{'PostgreSQL' if place.is_server else 'SQLite'}, {clients} clients:")
    print(f" who look at each page {PAUSE[0]:.0f} to {PAUSE[1]:.0f} s:")
    reads = times_told(people, seconds)
    print(f"  the clients themselves took {100.0 * share:.0f}% of a processor")
    print(" without any pause, what the machine can do at most:")
    times_told(most, min(seconds, WITHOUT_PAUSE))
    return whole(place, people + most, before) and reads < GOOD_P95


def together(address: str, clients: int, seconds: float, *, pauses: bool) -> list[Found]:
    """Let clients read and write at once for some seconds."""
    found = [Found() for _ in range(clients)]
    end = time.monotonic() + seconds
    threads = [
        threading.Thread(target=client, args=(address, seed, end, pauses, one))
        for seed, one in enumerate(found)
    ]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    return found


def times_told(found: list[Found], seconds: float) -> float:
    """Print how long clients waited; return the slowest read of one in twenty. [s]"""
    reads = sorted(one for client in found for one in client.reads)
    writes = sorted(one for client in found for one in client.writes)
    for name, times in (("reads", reads), ("writes", writes)):
        if not times:
            continue
        ends = [1e3 * times[int(share * (len(times) - 1))] for share in (0.5, 0.95, 1.0)]
        print(
            f"  {len(times)} {name}, {len(times) / seconds:.1f} a second: median "
            f"{ends[0]:.0f} ms, p95 {ends[1]:.0f} ms, most {ends[2]:.0f} ms"
        )
    return reads[int(0.95 * (len(reads) - 1))]


def whole(place: BookPlace, found: list[Found], before: int) -> bool:
    """Look for every write that was acknowledged; return whether nothing lacks or went wrong."""
    stands = [one for client in found for one in client.stands]
    faults = [one for client in found for one in client.faults]
    with opened_book(place):
        there = set(records.Move.objects.values_list("id", flat=True))
        lost, more = set(stands) - there, len(there) - before - len(stands)
        print(f"  {len(faults)} errors, {len(lost)} writes lost, {more} written and not told")
        for one in faults[:5]:
            print(f"    {one}")
        queries(place)
    return not faults and not lost


def queries(place: BookPlace) -> None:
    """Print how often the database is asked for each page, read once before."""
    make_application(place, "x" * 60)
    browser = Browser(SERVER_NAME="127.0.0.1")
    for page in PAGES:
        path = page.format("/farm-001") + "?on=2026-02-15"
        for _ in range(-(-FARMS // AT_ONCE)):
            browser.get(path)
        with CaptureQueriesContext(connection) as asked:
            browser.get(path)
        print(f"  {len(asked):3} queries for {path}")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seconds", type=float, default=60.0)
    parser.add_argument("--clients", type=int, default=64)
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        good = measure(BookPlace(Path(folder)), 8, asked.seconds)
    programs = server_programs()
    if programs is None:
        sys.exit("no PostgreSQL here")
    with running_server(programs) as server, tempfile.TemporaryDirectory() as folder:
        place = BookPlace(Path(folder), server.make("clients"))
        good = measure(place, asked.clients, asked.seconds) and good
    sys.exit(0 if good else 1)


if __name__ == "__main__":
    main()
