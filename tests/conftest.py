"""What every test shares."""

import gc
import signal
from datetime import timedelta
from pathlib import Path

import pytest
from hypothesis import settings
from hypothesis.internal.conjecture import providers

from support import rechecked
from support.slow_tests import BEGUN_FIRST

#: There are two files of this name, and neither holds examples to try.
collect_ignore = ["conftest.py"]

# A machine that does several things at once stalls now and then: that is no failure.
settings.register_profile("more", deadline=timedelta(seconds=5), max_examples=40)
settings.register_profile("long", settings.get_profile("more"), max_examples=400)
# The same examples in every run: other ones are for the runs that take more time.
settings.register_profile(
    "usual", settings.get_profile("more"), max_examples=20, derandomize=True, database=None
)

# Numbers that stand in the source are tried as examples by the runs that take more time: to look
# for them in every module takes seconds, and what is tried would hang on what is imported.
_LOCAL_NUMBERS = providers._get_local_constants

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
    """Add the options that run more than the usual, and everything however long it takes."""
    parser.addoption("--more", action="store_true", help="try more farms and more databases")
    parser.addoption("--long", action="store_true", help="run the long tests too, and --more")
    parser.addoption("--record", action="store_true", help="write the recorded answers anew")


def pytest_configure(config: pytest.Config) -> None:
    """Choose how many examples are tried, and hear interrupts even where they are ignored."""
    asked = [one for one in ("long", "more") if config.getoption(f"--{one}")]
    settings.load_profile(asked[0] if asked else "usual")
    providers._get_local_constants = _LOCAL_NUMBERS if asked else lambda: providers._local_constants
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
    """Leave tests out that are not asked for, the long ones and more of a kind: not skipped.

    Of those that are left the slow ones are begun first, each file in its own order.
    """
    items.sort(key=lambda item: not item.nodeid.startswith(BEGUN_FIRST))
    if config.getoption("--long"):
        return
    # What is written anew is written whole, or the next run with --more finds the old answers.
    more = config.getoption("--more") or config.getoption("--record")
    out = {"long"} if more else {"long", "more"}
    left = [item for item in items if any(item.get_closest_marker(one) for one in out)]
    if left:
        config.hook.pytest_deselected(items=left)
        kept = {*items} - {*left}
        items[:] = [item for item in items if item in kept]
