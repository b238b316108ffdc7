"""What every test shares."""

import gc
import signal
from datetime import timedelta
from pathlib import Path

import pytest
from hypothesis import settings

from support import rechecked
from support.slow_tests import BEGUN_FIRST

#: There are two files of this name, and neither holds examples to try.
collect_ignore = ["conftest.py"]

# A machine that does several things at once stalls now and then: that is no failure.
settings.register_profile("rickyard", deadline=timedelta(seconds=5), max_examples=40)
settings.register_profile("long", settings.get_profile("rickyard"), max_examples=400)

# Test modules are imported after this file: whatever they plan is looked at twice.
rechecked.install()


@pytest.fixture(scope="session")
def empty_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a record book on a file with nothing in it, of which a test gets a copy.

    The steps of its tables take more than a second: they are taken once.
    """
    # Few tests need the database: the rest run without it.
    from rickyard.book.base import BOOK_FILE, BookPlace, opened_book

    folder = tmp_path_factory.mktemp("empty")
    with opened_book(BookPlace(folder)):
        pass
    return folder / BOOK_FILE


def pytest_addoption(parser: pytest.Parser) -> None:
    """Add the option that runs everything there is, however long it takes."""
    parser.addoption("--long", action="store_true", help="run the long tests too")
    parser.addoption("--record", action="store_true", help="write the recorded answers anew")


def pytest_configure(config: pytest.Config) -> None:
    """Choose how many examples are tried, and hear interrupts even where they are ignored."""
    settings.load_profile("long" if config.getoption("--long") else "rickyard")
    if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
        signal.signal(signal.SIGINT, signal.default_int_handler)


@pytest.hookimpl(tryfirst=True)
def pytest_runtest_setup(item: pytest.Item) -> None:
    """Say which test runs, and whether it puts anything in the place of something else."""
    changes = "monkeypatch" in getattr(item, "fixturenames", ())
    rechecked.begin(item.nodeid, as_shipped=not changes)


def pytest_collection_finish() -> None:
    """Let the collector of garbage pass over what stays: thousands of tests and all modules."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(200_000, 50, 1000)


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave the long tests out unless they are asked for: left out, not skipped.

    Of those that are left the slow ones are begun first, each file in its own order.
    """
    items.sort(key=lambda item: not item.nodeid.startswith(BEGUN_FIRST))
    if config.getoption("--long"):
        return
    long = [item for item in items if item.get_closest_marker("long")]
    if long:
        config.hook.pytest_deselected(items=long)
        items[:] = [item for item in items if not item.get_closest_marker("long")]
