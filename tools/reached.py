"""Tell coverage which test runs, and write how long each took and whether it passed.

Given to pytest with ``-p reached`` by ``tools/mutate.py``, under ``coverage run``.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from coverage import Coverage

#: The variable of the environment that says where the outcomes go, as ``mutate.py`` names it.
WRITTEN_TO = "RICKYARD_TESTS_RUN"

_seconds: dict[str, float] = {}
_failed: set[str] = set()


@pytest.hookimpl(wrapper=True)
def pytest_runtest_protocol(item: pytest.Item) -> Iterator[None]:
    """Book the lines that run from here on to one test."""
    running = Coverage.current()
    if running is not None:
        running.switch_context(item.nodeid)
    return (yield)


def pytest_runtest_logreport(report: pytest.TestReport) -> None:
    """Keep how long a test took, and whether anything about it failed."""
    _seconds[report.nodeid] = _seconds.get(report.nodeid, 0.0) + report.duration
    if not report.passed:
        _failed.add(report.nodeid)


def pytest_sessionfinish() -> None:
    """Write the seconds of every test that passed."""
    passed = {one: s for one, s in _seconds.items() if one not in _failed}
    Path(os.environ[WRITTEN_TO]).write_text(json.dumps(passed), "utf-8")
