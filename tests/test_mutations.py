"""Small changes of the science and the program do not go unnoticed."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from tools import mutate

ROOT = Path(__file__).resolve().parents[1]


def test_all_tests_of_the_area_of_a_change_are_tried_and_of_other_rooms_the_quickest() -> None:
    change = mutate.Change("src/rickyard/hay/money/money.py", 1, 0, 1, "1", "2")
    near = [f"tests/hay/test_many.py::test_of[{i}]" for i in range(2 * mutate.MOST_TESTS)]
    recorded, example = "tests/test_as_recorded.py::test_of", f"{change.file}::doctest"
    other = [f"tests/web/test_page_{i}.py::test_of" for i in range(mutate.MOST_TESTS + 5)]
    long = "tests/web/test_long.py::test_of"
    everything = {*near, recorded, example, *other, long}
    seconds = dict.fromkeys(everything, 0.1) | {long: mutate.MOST_SECONDS + 1.0, recorded: 300.0}
    reached = mutate.Reached({change.file: {1: everything}}, seconds)
    assert set(mutate.tests_for(change, reached)) - set(other) == {*near, recorded, example}
    assert len(set(other).intersection(mutate.tests_for(change, reached))) == mutate.MOST_TESTS


@pytest.mark.long
def test_nine_of_ten_small_changes_are_noticed() -> None:
    done = subprocess.run(
        [sys.executable, "tools/mutate.py", "--changes", "60", "--seed", "7"],
        cwd=ROOT,
        check=False,
        capture_output=True,
        text=True,
        encoding="utf-8",
    )
    assert done.returncode == 0, done.stdout[-4000:] + done.stderr[-2000:]
