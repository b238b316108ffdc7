"""Small changes of the science and the program do not go unnoticed."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]


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
