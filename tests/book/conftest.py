"""A record book for every test, on each database that is here."""

import os
import shutil
from collections.abc import Iterator
from itertools import count
from pathlib import Path

import pytest

from rickyard.book.base import BOOK_FILE, BookPlace, make_ready, opened_book
from support.books import NO_SERVER, Server, running_server, server_programs

#: There are two files of this name, and neither holds examples to try.
collect_ignore = ["conftest.py"]

# Test modules name the connection, which can be looked at only after this.
make_ready()

_NUMBERS = count()


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Leave the second database to the runs that take more time, as continuous integration does.

    What can be tried on a server alone stays.
    """
    for item in items:
        case = getattr(item, "callspec", None)
        if case is not None and case.params.get("book") == "server":
            item.add_marker(pytest.mark.more)


@pytest.fixture(scope="session")
def server() -> Iterator[Server]:
    """Start a server of our own, with an empty book to copy."""
    programs = server_programs()
    if programs is None:
        # Where everything is to be tried, a test that is left out is no success.
        (pytest.fail if "RICKYARD_EVERY_TEST" in os.environ else pytest.skip)(NO_SERVER)
    with running_server(programs) as one:
        with opened_book(BookPlace(one.folder, one.make("empty"))):
            pass
        yield one


@pytest.fixture(params=["file", "server"])
def book(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[BookPlace]:
    """Open an empty book."""
    folder = tmp_path / "book"
    folder.mkdir()
    if request.param == "file":
        shutil.copy(request.getfixturevalue("empty_file"), folder / BOOK_FILE)
        with opened_book(BookPlace(folder)) as place:
            yield place
        return
    server: Server = request.getfixturevalue("server")
    name = f"book{next(_NUMBERS)}"
    with opened_book(BookPlace(folder, server.make(name, "empty"))) as place:
        yield place
    server.drop(name)
